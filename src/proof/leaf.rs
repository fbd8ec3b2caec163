//! Drafts side by side on one sheet of paper: panels to scale, and below them the table and its remarks.

use super::page::Compared;
use super::shapes;
use super::sheet::{Ink, Sheet, SheetMark, SheetScale, Stroke};
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::print::compare::{art_by_change, beaten, label, limit, signed, signs, turns};
use crate::setting::Faces;
use crate::setting::glyphs::PlainType;
use crate::units::{Length, Point, Rect, Size, trimmed};

/// The width of a leaf in millimetres: A4 on its side (ISO 216).
const WIDTH: f64 = 297.0;
/// The least height of a leaf, in millimetres; a longer comparison has a higher leaf.
const HEIGHT: f64 = 210.0;
/// The margin at the edges, in millimetres.
const SIDE: f64 = 12.0;
/// The gap between panels, in millimetres.
const GAP: f64 = 6.0;
/// The most panels in a row.
const IN_A_ROW: usize = 4;
/// The widest panel on the leaf, in millimetres.
const WIDEST: f64 = 100.0;
/// The widths of the two columns that name a measure and its limit, in millimetres.
const NAMES: [f64; 2] = [42.0, 24.0];
/// The narrowest column of a draft, in millimetres.
const NARROWEST: f64 = 18.0;
/// The widest column of a draft, in millimetres.
const WIDEST_COLUMN: f64 = 34.0;
/// The distance from one line to the next, in points.
const LEADING: f64 = 11.0;

/// Lays out the leaf.
pub fn sheet<'a>(compared: &Compared<'_>, faces: &'a Faces) -> Sheet<'a> {
    let page = compared.page;
    let title = if page.title.is_empty() {
        "Drafts side by side".to_owned()
    } else {
        format!("{}: drafts side by side", page.title)
    };
    let whole = Rect { width: Length::mm(WIDTH), height: Length::mm(HEIGHT), ..Rect::default() };
    let sheet = Sheet {
        size: Size { width: whole.width, height: whole.height },
        trim: whole,
        bleed: whole,
        description: page.names.join(", "),
        title,
        marks: Vec::new(),
        faces,
    };
    let mut leaf = Leaf { sheet, y: Length::mm(SIDE) };
    let heading = leaf.sheet.title.clone();
    leaf.words(&heading, &PlainType { font: Font::Serif, size: Length::pt(14.0), ..text() }, Ink::Black);
    leaf.panels(compared);
    leaf.table(compared);
    for sign in signs(page.comparison) {
        leaf.words(&sign, &text(), Ink::Grey);
    }
    for sentence in beaten(page.comparison) {
        leaf.words(&sentence, &text(), Ink::Black);
    }
    for sentence in page.between.iter().flat_map(|between| turns(between.effects)) {
        leaf.words(&sentence, &text(), Ink::Black);
    }
    for sentence in page.between.iter().flat_map(|between| art_by_change(between.effects)) {
        leaf.words(&sentence, &text(), Ink::Black);
    }
    for caution in compared.cautions {
        leaf.words(caution, &text(), Ink::Grey);
    }
    leaf.sheet.size.height = whole.height.max(leaf.y + Length::mm(SIDE));
    let all = Rect { width: leaf.sheet.size.width, height: leaf.sheet.size.height, ..Rect::default() };
    (leaf.sheet.trim, leaf.sheet.bleed) = (all, all);
    leaf.sheet
}

/// The leaf while it is laid out.
struct Leaf<'a> {
    sheet: Sheet<'a>,
    /// The depth down to which the leaf is filled.
    y: Length,
}

impl Leaf<'_> {
    fn panels(&mut self, compared: &Compared<'_>) {
        let widest = compared.panels.iter().map(|panel| panel.size.width).max().unwrap_or(Length::ZERO);
        if widest <= Length::ZERO {
            return;
        }
        let columns = compared.panels.len().clamp(1, IN_A_ROW) as i64;
        let column = (Length::mm(WIDTH - 2.0 * SIDE) - Length::mm(GAP) * (columns - 1)) / columns;
        let scale = SheetScale { part: column.min(Length::mm(WIDEST)).min(widest), whole: widest };
        let percent = scale.part.to_pt() / scale.whole.to_pt() * 100.0;
        self.words(
            &format!("All {} at one scale, {} % of their size.", compared.faces(), trimmed(percent, 0)),
            &text(),
            Ink::Grey,
        );
        self.y += Length::mm(2.0);
        for (row, panels) in compared.panels.chunks(IN_A_ROW).enumerate() {
            let mut foot = self.y;
            for (at, panel) in panels.iter().enumerate() {
                let place = Point { x: Length::mm(SIDE) + (scale.part + Length::mm(GAP)) * at as i64, y: self.y };
                self.sheet.marks.extend(panel.marks.iter().map(|mark| mark.clone().placed(scale, place)));
                let below = self.y + scale.of(panel.size.height) + Length::pt(LEADING);
                let caption = &compared.captions[row * IN_A_ROW + at];
                self.cut(caption, Point { x: place.x, y: below }, scale.part);
                foot = foot.max(below);
            }
            self.y = foot + Length::mm(GAP);
        }
    }

    /// Draws the table, split into several tables one below another where the leaf is too narrow for all drafts at
    /// once.
    fn table(&mut self, compared: &Compared<'_>) {
        let page = compared.page;
        let room = Length::mm(WIDTH - 2.0 * SIDE - NAMES[0] - NAMES[1]);
        let at_once = room.count_of(Length::mm(NARROWEST)).max(1);
        let numbers: Vec<usize> = (0..page.names.len()).collect();
        for group in numbers.chunks(at_once) {
            let width = (room / group.len() as i64).min(Length::mm(WIDEST_COLUMN));
            let heads: Vec<String> = group.iter().map(|draft| format!("draft {}", draft + 1)).collect();
            self.row(["", "limit"], &heads, width);
            self.rule(width * group.len() as i64 + Length::mm(NAMES[0] + NAMES[1]));
            for row in &page.comparison.rows {
                let cells = signed(row);
                let cells: Vec<String> = group.iter().map(|draft| cells[*draft].clone()).collect();
                self.row([&label(row), &limit(row)], &cells, width);
            }
            self.y += Length::mm(GAP);
        }
    }

    fn row(&mut self, names: [&str; 2], cells: &[String], width: Length) {
        self.y += Length::pt(LEADING);
        let mut at = Point { x: Length::mm(SIDE), y: self.y };
        for (name, room) in names.into_iter().zip(NAMES) {
            self.cut(name, at, Length::mm(room));
            at.x += Length::mm(room);
        }
        for cell in cells {
            self.cut(cell, at, width);
            at.x += width;
        }
    }

    fn rule(&mut self, length: Length) {
        self.y += Length::pt(3.0);
        let (from, y) = (Length::mm(SIDE), self.y);
        let rule = shapes::rule(Point { x: from, y }, Point { x: from + length, y });
        self.sheet.marks.push(SheetMark::Drawn(rule, Stroke { ink: Ink::Black, width: Length::pt(0.6), dash: None }));
    }

    /// Draws the first line of some words, as much as fits into a measure.
    fn cut(&mut self, words: &str, at: Point, measure: Length) {
        let room = measure - Length::pt(4.0);
        if let Some(line) = self.sheet.lines(words, &text(), room).into_iter().next() {
            self.sheet.put(line, at, Ink::Black);
        }
    }

    /// Draws a paragraph across the leaf.
    fn words(&mut self, words: &str, form: &PlainType, ink: Ink) {
        for line in self.sheet.lines(words, form, Length::mm(WIDTH - 2.0 * SIDE)) {
            self.y += form.size.max(Length::pt(LEADING));
            self.sheet.put(line, Point { x: Length::mm(SIDE), y: self.y }, ink);
        }
        self.y += Length::pt(3.0);
    }
}

fn text() -> PlainType {
    PlainType { font: Font::Sans, emphasis: Emphasis::default(), size: Length::pt(8.0) }
}
