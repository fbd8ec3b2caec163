//! The rule by which a print is checked: 100 mm long, with a tick at every 10.

use super::shapes;
use super::sheet::{Ink, Sheet, SheetMark, Stroke};
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::setting::glyphs::PlainType;
use crate::units::{Length, Point};

/// The length of the rule, in millimetres.
const RULE: f64 = 100.0;
/// The width of the words behind the rule, in millimetres.
const WORDS: f64 = 50.0;
/// The width of the rule with its words, in millimetres.
pub(super) const WIDTH: f64 = RULE + WORDS;

/// The type of labels.
pub(super) fn label() -> PlainType {
    PlainType { font: Font::Sans, emphasis: Emphasis::default(), size: Length::pt(6.5) }
}

/// Draws the rule with its left end at a place.
pub(super) fn put(sheet: &mut Sheet<'_>, start: Point) {
    let thin = Stroke { ink: Ink::Black, width: Length::pt(0.4), dash: None };
    let end = Point { x: start.x + Length::mm(RULE), y: start.y };
    sheet.marks.push(SheetMark::Drawn(shapes::rule(start, end), thin));
    for tick in 0..=10 {
        let x = start.x + Length::mm(RULE / 10.0) * tick;
        let height = Length::mm(if tick % 5 == 0 { 3.0 } else { 1.5 });
        let tick = shapes::rule(Point { x, y: start.y - height }, Point { x, y: start.y });
        sheet.marks.push(SheetMark::Drawn(tick, thin));
    }
    let words = sheet.lines("100 mm when it is printed at true size", &label(), Length::mm(WORDS));
    for line in words.into_iter().take(1) {
        sheet.put(line, Point { x: end.x + Length::mm(2.0), y: end.y }, Ink::Black);
    }
}
