//! Sheets as pixels: as a PNG, side by side on one picture that carries its resolution, or a part of one for a screen.

use std::ops::Range;

use tiny_skia::{Color, ColorU8, FillRule, FilterQuality, Paint, Path, Pattern, Pixmap, SpreadMode, Transform};

use super::pixel_path::{PixelPlace, drawn, filled};
use super::seal;
use super::shapes::letters;
use super::sheet::{Ink, Sheet, SheetMark, side_by_side};
use super::sheet_art::SheetArt;
use crate::artwork::picture::PixelRect;
use crate::packing::checksum;
use crate::pictures::Raster;
use crate::setting::outline::PathStep;
use crate::units::{Length, Rect};

/// Pixels per inch, unless another resolution is asked for.
pub const USUAL_RESOLUTION: u32 = 150;

/// The most pixels of one picture: a page of 20 x 30 in at 600 per inch.
const MOST_PIXELS: u64 = 216_000_000;

/// The bytes of the chunk that ends a PNG: its length, its name and its sum.
const END_CHUNK: usize = 12;

const INCHES_IN_METRE: f64 = 1.0 / 0.0254;

/// The width and height, in pixels, of the sheets side by side at a resolution in pixels per inch.
pub fn size(sheets: &[Sheet<'_>], resolution: u32) -> (u32, u32) {
    let (whole, _) = side_by_side(sheets);
    let pixels = |inches: f64| (inches * f64::from(resolution)).round().max(1.0) as u32;
    (pixels(whole.width.to_inches()), pixels(whole.height.to_inches()))
}

/// The sheets as the bytes of a PNG; equal sheets give equal bytes. None where the picture would have more than
/// `MOST_PIXELS`.
pub fn written(sheets: &[Sheet<'_>], resolution: u32) -> Option<Vec<u8>> {
    let (width, height) = size(sheets, resolution);
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return None;
    }
    let mut pixels = Pixmap::new(width, height)?;
    pixels.fill(Color::WHITE);
    for (sheet, left) in sheets.iter().zip(side_by_side(sheets).1) {
        put_all(&mut pixels, sheet, PixelPlace::at(resolution, left));
    }
    encoded(&pixels, resolution).ok()
}

/// A part of a sheet on white paper, stretched to a number of pixels across and down.
pub fn raster(sheet: &Sheet<'_>, part: &Rect, (width, height): (usize, usize)) -> Raster {
    let blank = Raster { width, height, pixels: vec![[u8::MAX; 3]; width * height] };
    let is_seen = part.width > Length::ZERO && part.height > Length::ZERO;
    let (Ok(across), Ok(down), true) = (u32::try_from(width), u32::try_from(height), is_seen) else { return blank };
    let Some(mut pixels) = Pixmap::new(across, down) else { return blank };
    pixels.fill(Color::WHITE);
    put_all(&mut pixels, sheet, PixelPlace::of_part(part, (width, height)));
    Raster { pixels: colours(&pixels).collect(), ..blank }
}

fn put_all(pixels: &mut Pixmap, sheet: &Sheet<'_>, place: PixelPlace) {
    for mark in &sheet.marks {
        put(pixels, mark, sheet, place);
    }
}

/// The pixels without their transparency, of which paper has none.
fn colours(pixels: &Pixmap) -> impl Iterator<Item = [u8; 3]> {
    pixels.data().chunks_exact(4).map(|pixel| [pixel[0], pixel[1], pixel[2]])
}

fn put(pixels: &mut Pixmap, mark: &SheetMark, sheet: &Sheet<'_>, place: PixelPlace) {
    match mark {
        SheetMark::Tint(shape, ink) => fill(pixels, shape, (*ink, 1.0), place),
        SheetMark::Veil(shape, ink, opacity) => fill(pixels, shape, (*ink, *opacity), place),
        SheetMark::Glyphs(run, ink) => fill(pixels, &letters(run, sheet.faces), (*ink, 1.0), place),
        SheetMark::Art(art) => put_art(pixels, art, place),
        SheetMark::Drawn(shape, stroke) => put_path(pixels, drawn(shape, stroke, place), (stroke.ink, 1.0)),
    }
}

fn fill(pixels: &mut Pixmap, shape: &[PathStep], ink: (Ink, f64), place: PixelPlace) {
    put_path(pixels, filled(shape, place), ink);
}

fn put_path(pixels: &mut Pixmap, path: Option<Path>, (ink, opacity): (Ink, f64)) {
    if let Some(path) = path {
        pixels.fill_path(&path, &paint(ink, opacity), FillRule::Winding, Transform::identity(), None);
    }
}

/// Puts those pixels of a picture that lie on the canvas.
fn put_art(pixels: &mut Pixmap, art: &SheetArt, place: PixelPlace) {
    let corner = |x: Length, y: Length| place.pixel([x.to_pt(), y.to_pt()]);
    let ([left, top], [right, foot]) = (corner(art.rect.x, art.rect.y), corner(art.rect.right(), art.rect.foot()));
    let edges = [left, top, right, foot];
    let seen = |from: f64, to: f64, canvas: u32| {
        let end = |place: f64| place.round().clamp(0.0, f64::from(canvas)) as usize;
        end(from)..end(to)
    };
    let (columns, rows) = (seen(edges[0], edges[2], pixels.width()), seen(edges[1], edges[3], pixels.height()));
    if columns.is_empty() || rows.is_empty() {
        return;
    }
    let PixelRect { x, y, width, height } = art.source;
    let (wide, high) = (width / (edges[2] - edges[0]), height / (edges[3] - edges[1]));
    let source = PixelRect {
        x: x + (columns.start as f64 - edges[0]) * wide,
        y: y + (rows.start as f64 - edges[1]) * high,
        width: columns.len() as f64 * wide,
        height: rows.len() as f64 * high,
    };
    let shown = SheetArt { source, ..art.clone() }.pixels(columns.len(), rows.len());
    if let Some(form) = &art.form {
        put_formed(pixels, form, (&shown, columns, rows), place);
        return;
    }
    let stride = pixels.width() as usize;
    for (row, shown) in rows.zip(shown.chunks_exact(columns.len())) {
        let canvas = &mut pixels.pixels_mut()[row * stride..][columns.clone()];
        for (pixel, [red, green, blue]) in canvas.iter_mut().zip(shown) {
            *pixel = ColorU8::from_rgba(*red, *green, *blue, u8::MAX).premultiply();
        }
    }
}

/// Puts pixels that lie in some columns and rows of the canvas as far as a form goes, with a smooth edge.
fn put_formed(
    pixels: &mut Pixmap,
    form: &[PathStep],
    (shown, columns, rows): (&[[u8; 3]], Range<usize>, Range<usize>),
    place: PixelPlace,
) {
    let map = u32::try_from(columns.len()).ok().zip(u32::try_from(rows.len()).ok());
    let (Some(mut map), Some(form)) = (map.and_then(|(width, height)| Pixmap::new(width, height)), filled(form, place))
    else {
        return;
    };
    for (pixel, [red, green, blue]) in map.pixels_mut().iter_mut().zip(shown) {
        *pixel = ColorU8::from_rgba(*red, *green, *blue, u8::MAX).premultiply();
    }
    let at = Transform::from_translate(columns.start as f32, rows.start as f32);
    let shader = Pattern::new(map.as_ref(), SpreadMode::Pad, FilterQuality::Nearest, 1.0, at);
    let paint = Paint { shader, ..Paint::default() };
    pixels.fill_path(&form, &paint, FillRule::Winding, Transform::identity(), None);
}

fn paint(ink: Ink, opacity: f64) -> Paint<'static> {
    let [red, green, blue] = ink.rgb();
    let mut paint = Paint::default();
    paint.set_color_rgba8(red, green, blue, (opacity * f64::from(u8::MAX)).round() as u8);
    paint
}

/// The bytes of a PNG with a seal before the chunk that ends it.
///
/// Source: Portable Network Graphics (third edition), 5.3 (chunks) and 11.3.3.2 (tEXt).
fn with_seal(bytes: &[u8], seal: &str) -> Vec<u8> {
    let (before, end) = bytes.split_at(bytes.len().saturating_sub(END_CHUNK));
    let chunk = [b"tEXtSoftware\0", seal.as_bytes()].concat();
    // The length of a chunk is that of its data, without its name.
    let length = ((chunk.len() - 4) as u32).to_be_bytes();
    [before, &length, &chunk, &checksum::of(&chunk).to_be_bytes(), end].concat()
}

/// Encodes colour without transparency, and the resolution, so that programs show and print the picture at true size.
fn encoded(pixels: &Pixmap, resolution: u32) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixels.width(), pixels.height());
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    let per_metre = (f64::from(resolution) * INCHES_IN_METRE).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&colours(pixels).flatten().collect::<Vec<u8>>())?;
    writer.finish()?;
    Ok(with_seal(&bytes, &seal::of(&with_seal(&bytes, seal::BLANK))))
}
