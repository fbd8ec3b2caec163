//! Art under the copy in every form of a proof: where its pixels lie, and that the copy is what it was.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;
use std::sync::Arc;

use blurbwright::art::decoded;
use blurbwright::art::picture::Picture;
use blurbwright::brief::Brief;
use blurbwright::brief::place::CoverFace;
use blurbwright::draft::Draft;
use blurbwright::proof::sheet::{Sheet, SheetMark};
use blurbwright::proof::{Proof, panel_alone, pdf, png, shapes, svg};
use blurbwright::report::drawing::{ArtStrength, Drawing};
use blurbwright::report::{self};
use blurbwright::setting::Faces;
use blurbwright::units::Length;
use jpeg_encoder::{ColorType, Encoder};

use crate::pdf_letters;

/// Pixels to the inch of the art, and of the proofs that are looked at.
const RESOLUTION: u32 = 40;
/// The panel with its bleed has 2.5 inches each way.
const SIDE: usize = 100;

const PANEL: &str = "panel:\n  trim: 2.25 x 2.25 in\n  bleed: 0.125 in\n  margins: 0.25 in\n";
const COPY: &str = "# Oona\n\nThe *lamp* is out.\n";

/// A colour for every pixel, of which no two are near to one another in both directions.
fn colour(x: usize, y: usize) -> [u8; 3] {
    [(x * 2) as u8, (y * 2) as u8, ((x + y) % 7 * 30) as u8]
}

fn pixels(colour: impl Fn(usize, usize) -> [u8; 3]) -> Vec<u8> {
    (0..SIDE * SIDE).flat_map(|number| colour(number % SIDE, number / SIDE)).collect()
}

fn png_file(colour: impl Fn(usize, usize) -> [u8; 3]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, SIDE as u32, SIDE as u32);
    encoder.set_color(::png::ColorType::Rgb);
    let mut writer = encoder.write_header().expect("a head");
    writer.write_image_data(&pixels(colour)).expect("pixels");
    writer.finish().expect("a PNG");
    bytes
}

fn jpeg_file() -> Vec<u8> {
    let mut bytes = Vec::new();
    let side = u16::try_from(SIDE).expect("a side");
    Encoder::new(&mut bytes, 90).encode(&pixels(colour), side, side, ColorType::Rgb).expect("a JPEG");
    bytes
}

/// What a sheet is made from.
struct Book {
    brief: Brief,
    draft: Draft,
    faces: Faces,
}

impl Book {
    /// A panel with some keys more, a draft, and the bytes of the file of its art.
    fn new(keys: &str, copy: &str, art: Option<&[u8]>) -> Self {
        let mut brief = Brief::read(&format!("{PANEL}{keys}"), Path::new("")).expect("a brief");
        let file = art.map(|bytes| Arc::new(decoded(bytes).expect("a picture")));
        for art in brief.arts_mut() {
            art.pictures_mut().for_each(|picture| picture.read = file.clone());
        }
        Self { brief, draft: Draft::read(copy), faces: Faces::built_in() }
    }

    fn sheet(&self, strength: ArtStrength) -> Sheet<'_> {
        let report = report::assess(&self.draft, &self.brief, &self.faces);
        let drawing = Drawing::of(&report, &self.draft, &self.brief, &self.faces).with_art(strength);
        let (around, drawing) = (CoverFace::Panel.around(), &drawing);
        let proof = Proof { around, drawing, title: "", subject: "", facts: &[], cautions: &[] };
        panel_alone(&proof, &self.faces)
    }
}

/// The pixels of a sheet as PNG, and where its bleed begins in them.
fn seen(sheet: &Sheet<'_>) -> (Picture, usize, usize) {
    let written = png::written(std::slice::from_ref(sheet), RESOLUTION).expect("a PNG");
    let dots = |points: f32| (points * RESOLUTION as f32 / 72.0).round() as usize;
    let (left, top) = (dots(shapes::points(sheet.bleed.x)), dots(shapes::points(sheet.bleed.y)));
    (decoded(&written).expect("a picture").picture, left, top)
}

/// The pixels of the panel on which no line or letter of the proof lies: a little way in from the trim, and less than
/// where the live area begins.
fn bare() -> impl Iterator<Item = (usize, usize)> {
    let (from, to) = (8, SIDE - 8);
    (from..to).flat_map(move |along| [(along, to - 1), (to - 1, along)])
}

fn near(one: [u8; 3], other: [u8; 3], steps: u8) -> bool {
    one.iter().zip(other).all(|(one, other)| one.abs_diff(other) <= steps)
}

#[test]
fn the_pixels_of_art_lie_where_they_are_printed() {
    let book = Book::new("  art: sea.png\n", "", Some(&png_file(colour)));
    let (found, left, top) = seen(&book.sheet(ArtStrength::Full));
    for (x, y) in bare() {
        let (is, wanted) = (found.at(left + x, top + y), colour(x, y));
        // The sheet's edge need not fall on the edge of a pixel: up to half of the next one comes in.
        let beside = [colour(x - 1, y), colour(x + 1, y), colour(x, y - 1), colour(x, y + 1)];
        let fits = near(is, wanted, 2) || beside.into_iter().any(|beside| mixed(is, wanted, beside));
        assert!(fits, "{x}, {y}: {is:?} is not {wanted:?}");
    }
}

/// Whether a colour lies between two others.
fn mixed(is: [u8; 3], one: [u8; 3], other: [u8; 3]) -> bool {
    (0..3).all(|at| {
        let (low, high) = (one[at].min(other[at]), one[at].max(other[at]));
        (low.saturating_sub(3)..=high.saturating_add(3)).contains(&is[at])
    })
}

#[test]
fn mirrored_art_gives_a_mirrored_proof() {
    // Smooth colours: the sheet's edge need not fall on the edge of a pixel.
    let sky = |x: usize, y: usize| [(x * 2) as u8, (y * 2) as u8, 100];
    let plain = Book::new("  art: sea.png\n", "", Some(&png_file(sky)));
    let turned = Book::new("  art: sea.png\n", "", Some(&png_file(|x, y| sky(SIDE - 1 - x, y))));
    let ((one, left, top), (other, ..)) =
        (seen(&plain.sheet(ArtStrength::Full)), seen(&turned.sheet(ArtStrength::Full)));
    for (x, y) in (30..SIDE - 30).map(|x| (x, SIDE - 9)) {
        let (is, mirrored) = (one.at(left + x, top + y), other.at(left + SIDE - 1 - x, top + y));
        assert!(near(is, mirrored, 3), "{x}, {y}: {is:?} {mirrored:?}");
    }
}

#[test]
fn copy_on_art_is_the_copy_that_it_was() {
    let letters = |sheet: Sheet<'_>| {
        let is_copy = |mark: &SheetMark| matches!(mark, SheetMark::Glyphs(run, _) if run.size.to_pt() > 7.0);
        sheet.marks.into_iter().filter(is_copy).collect::<Vec<_>>()
    };
    let (without, with) = (Book::new("", COPY, None), Book::new("  art: sea.png\n", COPY, Some(&png_file(colour))));
    let bare = letters(without.sheet(ArtStrength::Full));
    assert!(bare.len() >= 3);
    assert_eq!(bare, letters(with.sheet(ArtStrength::Full)));
    assert_eq!(bare, letters(with.sheet(ArtStrength::Faded)));
    let pages = |book: &Book| pdf_letters::pages(&pdf::written(&[book.sheet(ArtStrength::Full)]));
    assert_eq!(pages(&without), pages(&with), "words are found where they were");
}

#[test]
fn faded_art_is_a_third_as_strong() {
    let book = Book::new("  art: sea.png\n", "", Some(&png_file(|_, _| [30, 90, 210])));
    let (full, left, top) = seen(&book.sheet(ArtStrength::Full));
    let (faded, ..) = seen(&book.sheet(ArtStrength::Faded));
    let (x, y) = (left + SIDE / 2, top + SIDE / 2);
    assert_eq!(full.at(x, y), [30, 90, 210]);
    assert!(near(faded.at(x, y), [180, 200, 240], 1), "{:?}", faded.at(x, y));
    let keys = "  art: sea.png\ntype: { ink: white }\n";
    let book = Book::new(keys, "Oona.\n", Some(&png_file(|_, _| [30, 90, 210])));
    let (dark, ..) = seen(&book.sheet(ArtStrength::Faded));
    assert!(near(dark.at(x, y), [21, 41, 81], 1), "away from white letters, into black: {:?}", dark.at(x, y));
}

#[test]
fn a_tint_lies_behind_the_lines_and_no_further_than_it_is_told() {
    let keys = "  art: sea.png\n  tint: { colour: white, opacity: 50%, pad: 0 pt }\n";
    let book = Book::new(keys, "Oona.\n", Some(&png_file(|_, _| [0, 0, 200])));
    let (found, left, top) = seen(&book.sheet(ArtStrength::Full));
    let at = |x: usize, y: usize| found.at(left + x, top + y);
    // The first line begins at the live area, 0.375 inches from the bleed's edges, and is nearly as long as it is high.
    assert!(near(at(17, 16), [128, 128, 228], 2), "{:?}", at(17, 16));
    assert_eq!(at(60, 60), [0, 0, 200]);
}

#[test]
fn a_keep_out_for_a_barcode_is_white_and_any_other_shows_the_art() {
    let mark = "- { name: mark, size: 0.5 x 0.5 in, at: { head: 0.3 in, fore-edge: 0.3 in } }";
    let keys = &format!("  art: sea.png\n  keep_out:\n    {mark}\n");
    let book = Book::new(keys, "", Some(&png_file(|_, _| [0, 0, 200])));
    let (found, left, top) = seen(&book.sheet(ArtStrength::Full));
    assert_eq!(found.at(left + 20, top + 20), [0, 0, 200], "beside the name of the mark");
    let wide =
        "panel: { trim: 4 x 4 in, art: sea.png, keep_out: [{ barcode: EAN-13, scale: 80%, corner: foot-spine }] }";
    let mut brief = Brief::read(wide, Path::new("")).expect("a brief");
    let file = Arc::new(decoded(&png_file(|_, _| [0, 0, 200])).expect("a picture"));
    brief.arts_mut().for_each(|art| art.picture.read = Some(Arc::clone(&file)));
    let barcode = brief.panel.keep_outs[0].rect;
    let sheet = Book { brief, draft: Draft::read(""), faces: Faces::built_in() };
    let sheet = sheet.sheet(ArtStrength::Full);
    let written = png::written(std::slice::from_ref(&sheet), RESOLUTION).expect("a PNG");
    let picture = decoded(&written).expect("a picture").picture;
    let dots = |points: f64| (points * f64::from(RESOLUTION) / 72.0).round() as usize;
    let (x, y) = (dots((sheet.trim.x + barcode.x).to_pt()) + 4, dots((sheet.trim.y + barcode.y).to_pt()) + 4);
    assert_eq!(picture.at(x, y), [255; 3]);
}

/// Source: ISO 32000-1:2008, 7.4.8: DCTDecode takes the bytes of a JPEG as they are.
#[test]
fn a_jpeg_goes_into_the_pdf_as_it_is_and_once() {
    let jpeg = jpeg_file();
    let book = Book::new("  art: sea.jpg\n", COPY, Some(&jpeg));
    let sheets = [book.sheet(ArtStrength::Full), book.sheet(ArtStrength::Full)];
    let written = pdf::written(&sheets);
    let pictures: Vec<(String, Vec<u8>)> =
        pdf_letters::objects(&written).into_values().filter(|(dict, _)| dict.contains("/Subtype/Image")).collect();
    assert!(matches!(&pictures[..], [(dict, bytes)] if dict.contains("/DCTDecode") && *bytes == jpeg));
    assert_eq!(written, pdf::written(&sheets));
    assert!(svg::written(&sheets).contains("href=\"data:image/jpeg;base64,/9j/"));
}

#[test]
fn pixels_go_into_the_pdf_as_they_are() {
    let book = Book::new("  art: sea.png\n", COPY, Some(&png_file(colour)));
    let written = pdf::written(&[book.sheet(ArtStrength::Full)]);
    let picture = pdf_letters::objects(&written).into_values().find(|(dict, _)| dict.contains("/Subtype/Image"));
    let (dict, bytes) = picture.expect("a picture");
    assert!(dict.contains(&format!("/Width {SIDE}/Height {SIDE}")) && dict.contains("/Predictor 15"), "{dict}");
    assert_eq!(bytes.len(), SIDE * (SIDE * 3 + 1), "each row has the number of its filter before it");
    let drawn = svg::written(&[book.sheet(ArtStrength::Faded)]);
    let document = roxmltree::Document::parse(&drawn).expect("XML");
    assert_eq!(document.descendants().filter(|node| node.has_tag_name("image")).count(), 1);
}

/// The art of a place lies over the face's, cut to the place's form, in every form of a proof.
#[test]
fn art_of_a_place_is_cut_to_its_form() {
    let keys = "  art: sea.png\n  places: [{ name: moon, holds: headline, size: 20 x 20 mm, at: { head: 15 mm, \
                fore-edge: 15 mm }, shape: ellipse, art: moon.png }]\n";
    let mut book = Book::new(keys, "", Some(&png_file(|_, _| [0, 0, 200])));
    let moon = Arc::new(decoded(&png_file(|_, _| [200, 200, 0])).expect("a picture"));
    for art in book.brief.arts_mut().filter(|art| art.picture.file == Path::new("moon.png")) {
        art.picture.read = Some(Arc::clone(&moon));
    }
    let sheet = book.sheet(ArtStrength::Full);
    let (found, left, top) = seen(&sheet);
    let at = |across: f64, down: f64| {
        let dots = |mm: f64| (Length::mm(mm).to_inches() * f64::from(RESOLUTION)).round() as usize;
        let origin = (sheet.trim.x - sheet.bleed.x, sheet.trim.y - sheet.bleed.y);
        let moved = (across + origin.0.to_mm(), down + origin.1.to_mm());
        found.at(left + dots(moved.0), top + dots(moved.1))
    };
    assert_eq!((at(25.0, 25.0), at(25.0, 18.0)), ([200, 200, 0], [200, 200, 0]), "in the form");
    assert_eq!((at(16.0, 16.0), at(38.0, 25.0)), ([0, 0, 200], [0, 0, 200]), "in the corner of its box, and beside it");
    let drawing = svg::written(std::slice::from_ref(&sheet));
    let tree = roxmltree::Document::parse(&drawing).expect("XML");
    let clip = tree.descendants().find(|node| node.has_tag_name("clipPath")).and_then(|clip| clip.attribute("id"));
    let used = tree.descendants().filter_map(|node| node.attribute("clip-path")).collect::<Vec<_>>();
    assert_eq!(used, [format!("url(#{})", clip.expect("a form"))]);
    let pdf = pdf::written(std::slice::from_ref(&sheet));
    assert_eq!(String::from_utf8_lossy(&pdf).matches("/Subtype/Image").count(), 2);
}
