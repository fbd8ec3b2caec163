//! A line of letters in a font, for testing whether a proof can be drawn with it.

use std::iter;

use super::sheet::{Ink, Sheet, SheetMark};
use super::{pdf, svg};
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::setting::Faces;
use crate::setting::faces::STYLES;
use crate::setting::glyphs::PlainType;
use crate::setting::outline::Outline;
use crate::units::{Length, Point, Rect, Size};

/// The letters, digits and marks of most copy.
const SPECIMEN: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefghijklmnopqrstuvwxyz 0123456789 .,;:!?'\"-()&@ \
                        \u{2018}\u{2019} \u{201c}\u{201d} \u{2013} \u{2014} \u{2026} \u{e4} \u{e9} \u{f1} \u{f8} \
                        \u{df} fi fl ffi AV To";

/// Whether a font can be drawn: in each style every letter of the specimen has a sound outline, and not all of them are
/// empty. The specimen is drawn as SVG and as PDF too, so that a library that falls over the font does so here.
pub fn specimen(font: &Font, faces: &Faces) -> bool {
    let side = Length::inches(30.0);
    let size = Size { width: side, height: side };
    let page = Rect { width: side, height: side, ..Rect::default() };
    let (title, description) = (String::new(), String::new());
    let mut sheet = Sheet { size, trim: page, bleed: page, title, description, marks: Vec::new(), faces };
    for emphasis in iter::once(Emphasis::default()).chain(STYLES) {
        let form = PlainType { font: font.clone(), emphasis, size: Length::pt(12.0) };
        for line in sheet.lines(SPECIMEN, &form, side) {
            sheet.put(line, Point { x: Length::ZERO, y: side / 2 }, Ink::Black);
        }
    }
    drop(svg::inline(&sheet, 100.0, &mut svg::SharedPictures::default()));
    drop(pdf::written(std::slice::from_ref(&sheet)));
    // Letters that the font lacks are set in another, in runs of their own.
    let own = sheet.marks.iter().filter_map(|mark| match mark {
        SheetMark::Glyphs(run, _) => Some(run).filter(|run| run.font == *font),
        _ => None,
    });
    let glyphs = own.flat_map(|run| run.glyphs.iter().map(|glyph| (faces.family(font).face(run.emphasis), glyph.id)));
    let outlines: Option<Vec<Outline>> = glyphs.map(|(face, id)| face.outline(id)).collect();
    outlines.is_some_and(|outlines| outlines.iter().any(|outline| !outline.steps.is_empty()))
}
