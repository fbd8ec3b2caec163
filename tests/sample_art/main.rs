//! Draws the art of the sample book `drafts/night-sea`: a night sea with gulls and the beam of a lamp, as a scene that
//! runs on to the front cover, and gulls alone as drawings on plain paper.
//!
//! `cargo run --release -p workshop -- sample_art` writes the three pictures anew. They are the project's own.

#![expect(clippy::expect_used, reason = "a drawing that cannot be made or written ends the program")]

use std::error::Error;
use std::fs;
use std::path::Path;

use jpeg_encoder::{ColorType as JpegColour, Encoder, SamplingFactor};
use tiny_skia::{
    Color, FillRule, GradientStop, LinearGradient, Paint, PathBuilder, Pixmap, Point, Shader, SpreadMode, Stroke,
    Transform,
};

/// The panel's trim and bleed in inches, and the pixels to the inch.
const TRIM: f32 = 8.5;
const BLEED: f32 = 0.125;
const PPI: f32 = 300.0;
/// How well the scene is kept: it is smooth, and so that a middling quality shows no blocks.
const QUALITY: u8 = 40;

/// The horizon, and the lamp, in inches from the head and from the back's fore-edge.
const HORIZON: f32 = 6.1;
const LAMP: (f32, f32) = (7.75, 4.05);

/// Draws the three pictures into their folder.
pub(crate) fn run(_: &[String]) -> Result<(), Box<dyn Error>> {
    let folder = Path::new("drafts/night-sea/art");
    fs::create_dir_all(folder).expect("the folder can be made");
    for (name, from) in [("back.jpg", 0.0), ("front.jpg", TRIM)] {
        let picture = scene(from);
        let rgb: Vec<u8> = picture.pixels().iter().flat_map(|it| [it.red(), it.green(), it.blue()]).collect();
        let (width, height) = (picture.width() as u16, picture.height() as u16);
        let mut bytes = Vec::new();
        let mut encoder = Encoder::new(&mut bytes, QUALITY);
        encoder.set_sampling_factor(SamplingFactor::R_4_2_0);
        encoder.set_progressive(true);
        encoder.set_optimized_huffman_tables(true);
        encoder.encode(&rgb, width, height, JpegColour::Rgb).expect("a JPEG");
        fs::write(folder.join(name), bytes).expect("the file can be written");
    }
    fs::write(folder.join("gulls.png"), spots()).expect("the file can be written");
    Ok(())
}

/// Numbers that are the same in every run: xorshift, by Marsaglia 2003.
struct Random(u64);

impl Random {
    /// The next number from 0 to 1.
    fn next(&mut self) -> f32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 40) as f32 / (1_u64 << 24) as f32
    }
}

fn paint(red: u8, green: u8, blue: u8, alpha: u8) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color_rgba8(red, green, blue, alpha);
    paint
}

/// A canvas of the panel and its bleed, and the way from inches on the cover to its pixels.
fn canvas(from: f32) -> (Pixmap, Transform) {
    let side = ((TRIM + BLEED * 2.0) * PPI).round() as u32;
    let pixmap = Pixmap::new(side, side).expect("a canvas");
    (pixmap, Transform::from_translate(BLEED - from, BLEED).post_scale(PPI, PPI))
}

/// The part of the scene that begins so many inches from the back's fore-edge.
fn scene(from: f32) -> Pixmap {
    let (mut pixmap, inches) = canvas(from);
    sky(&mut pixmap, inches);
    beam(&mut pixmap, inches);
    lighthouse(&mut pixmap, inches);
    sea(&mut pixmap, inches);
    for (x, y, size) in [(6.1, 2.0, 0.62), (5.2, 4.7, 0.4), (6.6, 5.2, 0.34), (10.2, 1.9, 0.8), (12.1, 3.2, 0.5)] {
        gull(&mut pixmap, inches, (x, y, size), paint(226, 232, 236, 255));
    }
    pixmap
}

fn sky(pixmap: &mut Pixmap, inches: Transform) {
    let stops = [(0.0, [16, 24, 54]), (0.55, [22, 38, 78]), (1.0, [52, 84, 122])];
    let stops = stops.map(|(at, [red, green, blue])| GradientStop::new(at, Color::from_rgba8(red, green, blue, 255)));
    let (head, foot) = (Point::from_xy(0.0, -BLEED), Point::from_xy(0.0, HORIZON));
    let shader = LinearGradient::new(head, foot, stops.to_vec(), SpreadMode::Pad, Transform::identity());
    fill(pixmap, inches, &Paint { shader: shader.expect("a gradient"), ..Paint::default() }, |path| {
        path.push_rect(tiny_skia::Rect::from_xywh(-1.0, -1.0, 20.0, 12.0).expect("a box"));
    });
    let mut random = Random(0x5eed_0f57);
    for _ in 0..26 {
        let (x, y) = (random.next() * 18.0 - 0.5, random.next() * random.next() * 5.2);
        // The stars stand at the sides of each panel, so that its middle stays quiet.
        let across = x.rem_euclid(TRIM);
        if !(1.0..5.5).contains(&across) {
            let radius = 0.012 + random.next() * 0.016;
            fill(pixmap, inches, &paint(214, 222, 236, 255), |path| path.push_circle(x, y, radius));
        }
    }
}

/// The beam of the lamp: a wedge of light that fades away from it, low over the sea to the left and to the right.
fn beam(pixmap: &mut Pixmap, inches: Transform) {
    for (reach, rise, width) in [(-5.2, 1.1, 0.75), (6.0, -0.7, 0.9)] {
        let stops = vec![
            GradientStop::new(0.0, Color::from_rgba8(250, 226, 150, 210)),
            GradientStop::new(0.5, Color::from_rgba8(226, 214, 170, 70)),
            GradientStop::new(1.0, Color::from_rgba8(200, 204, 190, 0)),
        ];
        let (x, y) = LAMP;
        let end = Point::from_xy(x + reach, y + rise);
        let shader = LinearGradient::new(Point::from_xy(x, y), end, stops, SpreadMode::Pad, Transform::identity());
        fill(pixmap, inches, &light(shader.expect("a gradient")), |path| {
            path.move_to(x, y - 0.05);
            path.line_to(x + reach, y + rise - width);
            path.line_to(x + reach, y + rise + width);
            path.line_to(x, y + 0.05);
            path.close();
        });
    }
}

fn light(shader: Shader<'_>) -> Paint<'_> {
    Paint { shader, anti_alias: true, ..Paint::default() }
}

fn lighthouse(pixmap: &mut Pixmap, inches: Transform) {
    let (x, y) = LAMP;
    let rock = |path: &mut PathBuilder| {
        path.move_to(x - 1.25, HORIZON + 0.25);
        path.cubic_to(x - 0.8, HORIZON - 0.35, x - 0.5, HORIZON - 0.5, x - 0.3, HORIZON - 0.55);
        path.line_to(x + 0.35, HORIZON - 0.5);
        path.cubic_to(x + 0.7, HORIZON - 0.4, x + 1.1, HORIZON - 0.1, x + 1.6, HORIZON + 0.25);
        path.close();
    };
    fill(pixmap, inches, &paint(20, 26, 40, 255), rock);
    fill(pixmap, inches, &paint(212, 210, 204, 255), |path| {
        path.move_to(x - 0.17, y + 0.2);
        path.line_to(x + 0.17, y + 0.2);
        path.line_to(x + 0.3, HORIZON - 0.45);
        path.line_to(x - 0.3, HORIZON - 0.45);
        path.close();
    });
    for band in 0..3 {
        let top = y + 0.5 + band as f32 * 0.4;
        let half = 0.17 + (top - y - 0.2) * 0.092;
        fill(pixmap, inches, &paint(168, 62, 52, 255), |path| {
            path.move_to(x - half, top);
            path.line_to(x + half, top);
            path.line_to(x + half + 0.018, top + 0.2);
            path.line_to(x - half - 0.018, top + 0.2);
            path.close();
        });
    }
    let boxes =
        [(0.24, 0.14, 0.06, [24, 30, 44]), (0.13, -0.12, 0.26, [255, 240, 190]), (0.2, -0.2, 0.08, [24, 30, 44])];
    for (half, top, high, [red, green, blue]) in boxes {
        fill(pixmap, inches, &paint(red, green, blue, 255), |path| {
            path.push_rect(tiny_skia::Rect::from_xywh(x - half, y + top, half * 2.0, high).expect("a box"));
        });
    }
}

/// The sea: dark water with many short waves, which no copy can stand on.
fn sea(pixmap: &mut Pixmap, inches: Transform) {
    fill(pixmap, inches, &paint(18, 42, 66, 255), |path| {
        path.push_rect(tiny_skia::Rect::from_xywh(-1.0, HORIZON, 20.0, 4.0).expect("a box"));
    });
    let mut random = Random(0xa11_5ea5);
    for row in 0..15 {
        let near = row as f32 / 14.0;
        let y = HORIZON + 0.06 + near * near * 2.6;
        let long = 0.16 + near * 0.5;
        let mut x = -0.6 - random.next() * long;
        while x < 17.8 {
            let shade = random.next();
            let paint =
                paint((60.0 + shade * 150.0) as u8, (110.0 + shade * 110.0) as u8, (140.0 + shade * 90.0) as u8, 255);
            let stroke = Stroke { width: 0.015 + near * 0.035, ..Stroke::default() };
            let mut path = PathBuilder::new();
            path.move_to(x, y);
            path.quad_to(x + long * 0.3, y - long * 0.22, x + long * 0.6, y - 0.01);
            path.quad_to(x + long * 0.75, y + long * 0.1, x + long, y);
            pixmap.stroke_path(&path.finish().expect("a wave"), &paint, &stroke, inches, None);
            x += long * (1.5 + random.next() * 2.2);
        }
    }
}

/// A gull from the front, as wide as its size says, with its body at a place.
fn gull(pixmap: &mut Pixmap, inches: Transform, (x, y, size): (f32, f32, f32), paint: Paint<'_>) {
    fill(pixmap, inches, &paint, |path| {
        path.move_to(x - size / 2.0, y - size * 0.12);
        path.quad_to(x - size * 0.26, y - size * 0.3, x, y);
        path.quad_to(x + size * 0.26, y - size * 0.3, x + size / 2.0, y - size * 0.12);
        path.quad_to(x + size * 0.24, y - size * 0.18, x + size * 0.05, y + size * 0.09);
        path.quad_to(x, y + size * 0.13, x - size * 0.05, y + size * 0.09);
        path.quad_to(x - size * 0.24, y - size * 0.18, x - size / 2.0, y - size * 0.12);
        path.close();
    });
}

fn fill(pixmap: &mut Pixmap, inches: Transform, paint: &Paint<'_>, draw: impl FnOnce(&mut PathBuilder)) {
    let mut path = PathBuilder::new();
    draw(&mut path);
    pixmap.fill_path(&path.finish().expect("a form"), paint, FillRule::Winding, inches, None);
}

/// Gulls on plain paper, and a strip of waves that runs into the bleed, in shades of one blue: a PNG with a palette.
fn spots() -> Vec<u8> {
    let (mut pixmap, inches) = canvas(0.0);
    pixmap.fill(Color::WHITE);
    for (x, y, size) in [(1.4, 1.1, 1.3), (6.9, 0.95, 0.9), (4.3, 0.8, 0.6), (7.3, 5.6, 0.8)] {
        gull(&mut pixmap, inches, (x, y, size), paint(31, 58, 95, 255));
    }
    // Two lines of waves, and water below them that runs into the bleed.
    for (row, is_water) in [(0, false), (1, false), (2, true)] {
        let y = 7.95 + row as f32 * 0.2;
        let mut path = PathBuilder::new();
        path.move_to(-0.3, y);
        for wave in 0..24 {
            let x = -0.3 + wave as f32 * 0.4;
            path.quad_to(x + 0.2, y - 0.18, x + 0.4, y);
        }
        let blue = paint(31, 58, 95, 255);
        if is_water {
            path.line_to(9.3, 9.0);
            path.line_to(-0.3, 9.0);
            path.close();
            let water = path.finish().expect("water");
            pixmap.fill_path(&water, &blue, FillRule::Winding, inches, None);
        } else {
            let stroke = Stroke { width: 0.05, ..Stroke::default() };
            pixmap.stroke_path(&path.finish().expect("waves"), &blue, &stroke, inches, None);
        }
    }
    let shade = |green: u8| u8::try_from((u16::from(green) - 58) * 15 / 197).unwrap_or(15);
    let side = pixmap.width() as usize;
    let numbers: Vec<u8> = pixmap.pixels().iter().map(|pixel| shade(pixel.green().max(58))).collect();
    let packed: Vec<u8> = numbers
        .chunks(side)
        .flat_map(|row| row.chunks(2).map(|pair| pair[0] << 4 | pair.get(1).copied().unwrap_or(0)))
        .collect();
    let palette: Vec<u8> =
        (0..16_u16).flat_map(|step| [31, 58, 95].map(|dark: u16| (dark + (255 - dark) * step / 15) as u8)).collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixmap.width(), pixmap.height());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Four);
    encoder.set_palette(palette);
    encoder.set_compression(png::Compression::High);
    let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(&packed));
    written.expect("a PNG");
    bytes
}
