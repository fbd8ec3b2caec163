//! Lays the drawing list out on a sheet: the panel in the middle, its heading above, facts and cautions below.

use std::sync::Arc;

use super::rule::{self, label};
use super::shapes;
use super::sheet::{Ink, Sheet, SheetMark, Stroke};
use super::sheet_art::SheetArt;
use crate::brief::place::Shape;
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::report::Drawing;
use crate::report::drawing::{FaceArt, Frame, FramePart, Line};
use crate::setting::Faces;
use crate::setting::glyphs::PlainType;
use crate::units::nouns::{agrees, counted};
use crate::units::{Length, Point, Rect, Size, trimmed};

/// What a sheet shows.
pub struct Proof<'a> {
    /// What lies at the left, above and at the right of the face.
    pub around: [String; 3],
    /// The face and the copy on it.
    pub drawing: &'a Drawing,
    /// The book, as the sheet's heading.
    pub title: &'a str,
    /// The name of the draft, or words that say that the panel stands alone.
    pub subject: &'a str,
    /// The facts about the draft, one paragraph each.
    pub facts: &'a [String],
    /// Cautions for the reader, one paragraph each.
    pub cautions: &'a [&'a str],
}

/// The room at either side of the panel, in millimetres.
const SIDE: f64 = 12.0;
/// The room above the panel, in millimetres.
const HEAD: f64 = 22.0;
/// The least width between the sides, in millimetres: that of the rule with its words.
const NARROWEST: f64 = rule::WIDTH;
/// How many times as wide edges are, and as long their dashes, where the panel is drawn many times smaller.
const STRONGER: i64 = 3;
/// The room round a panel that is drawn alone, in points.
const ALONE: f64 = 10.0;
/// The distance from the panel to what stands below it, in millimetres.
const GAP: f64 = 9.0;
/// Copy further below the panel than this, in millimetres, is counted and not drawn.
const DEEPEST: f64 = 150.0;

/// The distance from an edge to a label inside it, in points.
const PADDING: f64 = 3.0;

/// The least margin at the top, in points, that has room for the labels of two edges.
const LABELLED: f64 = 13.0;

/// The least width of a panel, in millimetres, with which its edges can be named side by side.
const NAMED: f64 = 60.0;

/// The paper where it shows on art.
const PAPER: Ink = Ink::Given([255; 3]);
/// How much of the art is hidden behind a label.
const PLATE: f64 = 0.9;

const BOLD: Emphasis = Emphasis { bold: true, italic: false };

/// Lays out one sheet.
pub fn sheet<'a>(proof: &Proof<'_>, faces: &'a Faces) -> Sheet<'a> {
    let outer = outer(proof.drawing);
    let width = outer.width.max(Length::mm(NARROWEST)) + Length::mm(SIDE) * 2;
    let origin = Point { x: (width - outer.width) / 2 - outer.x, y: Length::mm(HEAD) - outer.y };
    let mut layout = ProofLayout::new(proof, faces, width, origin);
    layout.places();
    let foot = layout.copy().max(layout.title());
    layout.labels();
    layout.heading();
    let foot = layout.slug(foot + Length::mm(GAP));
    layout.sheet.size.height = foot + Length::mm(SIDE);
    layout.sheet
}

/// Lays out only the panel and its copy, with room at the sides for the marks on copy that is over.
pub fn panel_alone<'a>(proof: &Proof<'_>, faces: &'a Faces) -> Sheet<'a> {
    let outer = outer(proof.drawing);
    let side = Length::pt(ALONE);
    let origin = Point { x: side - outer.x, y: side - outer.y };
    let mut layout = ProofLayout::new(proof, faces, outer.width + side * 2, origin);
    layout.places();
    let foot = layout.copy().max(layout.title());
    layout.labels();
    layout.sheet.size.height = foot + side;
    layout.sheet
}

/// Lays out the panel alone as it is drawn many times smaller, where words cannot be read: none stand in it, each line
/// of the copy is a bar, and edges are as much stronger as they need to be seen.
pub fn sketch<'a>(proof: &Proof<'_>, faces: &'a Faces) -> Sheet<'a> {
    let outer = outer(proof.drawing);
    let side = Length::pt(ALONE);
    let origin = Point { x: side - outer.x, y: side - outer.y };
    let mut layout = ProofLayout { is_sketch: true, ..ProofLayout::new(proof, faces, outer.width + side * 2, origin) };
    layout.places();
    layout.sheet.size.height = layout.copy() + side;
    layout.sheet
}

fn outer(drawing: &Drawing) -> Rect {
    drawing.rect_of(FramePart::Bleed).or_else(|| drawing.rect_of(FramePart::Face)).unwrap_or_default()
}

/// The sheet while it is laid out.
struct ProofLayout<'a, 'p> {
    sheet: Sheet<'a>,
    proof: &'p Proof<'p>,
    /// The upper left corner of the panel on the sheet.
    origin: Point,
    /// Whether nothing on it is to be read.
    is_sketch: bool,
}

/// Where words stand in a rectangle.
#[derive(Clone, Copy)]
enum WordsSide {
    Left,
    Middle,
    Right,
}

impl<'a, 'p> ProofLayout<'a, 'p> {
    fn new(proof: &'p Proof<'p>, faces: &'a Faces, width: Length, origin: Point) -> Self {
        let face = proof.drawing.rect_of(FramePart::Face).unwrap_or_default();
        let sheet = Sheet {
            size: Size { width, height: Length::ZERO },
            trim: moved(&face, origin),
            bleed: moved(&outer(proof.drawing), origin),
            title: format!("{}: {}", proof.title, proof.subject),
            description: proof.facts.join(" "),
            marks: Vec::new(),
            faces,
        };
        Self { sheet, proof, origin, is_sketch: false }
    }

    /// Draws the panel's edges and keep-outs. Their labels come later, after the copy, so that a reader of the file
    /// meets the copy first. Edges are painted over keep-outs, which reach up to them.
    fn places(&mut self) {
        let proof = self.proof;
        self.ground();
        let (edges, places): (Vec<&Frame>, Vec<&Frame>) =
            proof.drawing.frames().partition(|frame| matches!(frame.part, FramePart::Face | FramePart::Quiet));
        for frame in places.into_iter().chain(edges) {
            self.frame(frame);
        }
    }

    /// Draws the art and what lies over it, below all else.
    fn ground(&mut self) {
        let proof = self.proof;
        for FaceArt { file, placed, form } in proof.drawing.arts() {
            let (file, rect) = (Arc::clone(file), moved(&placed.rect, self.origin));
            let form = form.as_ref().filter(|form| **form != Shape::Box).map(|form| shapes::form(&rect, form));
            self.sheet.marks.push(SheetMark::Art(SheetArt { file, source: placed.source, rect, form }));
        }
        for tint in proof.drawing.tints_over() {
            let shape = shapes::form(&moved(&tint.rect, self.origin), &tint.shape);
            self.sheet.marks.push(SheetMark::Veil(shape, Ink::of(tint.colour), tint.opacity));
        }
    }

    fn labels(&mut self) {
        let proof = self.proof;
        proof.drawing.frames().for_each(|frame| self.label(frame));
    }

    fn frame(&mut self, frame: &Frame) {
        let area = moved(&frame.rect, self.origin);
        let shape = match frame.shape {
            Shape::Box => shapes::frame(&area, frame.round),
            ref shape => shapes::form(&area, shape),
        };
        let stroke = match frame.part {
            FramePart::Bleed => stroke(Ink::Grey, 0.3, Some(1.5)),
            FramePart::Face => stroke(Ink::Black, 0.6, None),
            FramePart::Fold => stroke(Ink::Grey, 0.4, Some(3.0)),
            FramePart::LiveArea => stroke(Ink::Light, 0.4, Some(4.0)),
            FramePart::Place => stroke(Ink::Light, 0.4, Some(2.0)),
            FramePart::Clearance => stroke(Ink::Light, 0.4, Some(1.0)),
            FramePart::KeepOut => stroke(Ink::Grey, 0.4, None),
            FramePart::Quiet => stroke(Ink::Accent, 0.8, None),
        };
        let stronger = if self.is_sketch { STRONGER } else { 1 };
        let stroke = Stroke { width: stroke.width * stronger, dash: stroke.dash.map(|dash| dash * stronger), ..stroke };
        let on_art = self.proof.drawing.arts().any(|art| art.placed.rect.overlaps(&frame.rect));
        let filled = match (frame.part, on_art) {
            (FramePart::KeepOut, false) => Some(Ink::Pale),
            (FramePart::KeepOut, true) if frame.is_white => Some(PAPER),
            _ => None,
        };
        self.sheet.marks.extend(filled.map(|ink| SheetMark::Tint(shape.clone(), ink)));
        if on_art {
            // A line of paper below it shows the edge on a ground of any colour.
            let below = Stroke { ink: PAPER, width: stroke.width + Length::pt(0.6), dash: None };
            self.sheet.marks.push(SheetMark::Drawn(shape.clone(), below));
        }
        self.sheet.marks.push(SheetMark::Drawn(shape, stroke));
    }

    fn label(&mut self, frame: &Frame) {
        let margin = self.proof.drawing.rect_of(FramePart::LiveArea).map_or(Length::ZERO, |live| live.y);
        if matches!(frame.part, FramePart::Face | FramePart::LiveArea) && margin < Length::pt(LABELLED) {
            return;
        }
        let area = moved(&frame.rect, self.origin);
        let words = format!("{} {}", frame.name, size_in_mm(&frame.rect));
        let below_head = area.y + Length::pt(9.0);
        let above_head = area.y - Length::pt(3.0);
        match frame.part {
            FramePart::Face => {
                let beside_corner = Rect { x: area.x + frame.round, width: area.width - frame.round, ..area };
                self.words_in(&beside_corner, &words, WordsSide::Left, below_head, Ink::Grey);
            }
            FramePart::LiveArea => self.words_in(&area, &words, WordsSide::Right, above_head, Ink::Grey),
            FramePart::Place => self.words_in(&area, &words, WordsSide::Left, above_head, Ink::Light),
            FramePart::Bleed => self.words_in(&area, &words, WordsSide::Left, above_head, Ink::Grey),
            FramePart::Quiet => self.words_in(&area, &words, WordsSide::Middle, below_head, Ink::Accent),
            FramePart::KeepOut => self.name_in(&area, frame),
            FramePart::Clearance | FramePart::Fold => {}
        }
    }

    /// Draws a keep-out's name and size in its middle, as many lines as fit in.
    fn name_in(&mut self, area: &Rect, frame: &Frame) {
        let mut lines = self.sheet.lines(&frame.name, &label(), area.width);
        lines.extend(self.sheet.lines(&size_in_mm(&frame.rect), &label(), area.width));
        let leading = Length::pt(8.0);
        lines.truncate(area.height.count_of(leading));
        lines.retain(|line| line.width.fits(area.width));
        let mut baseline = area.y + (area.height - leading * lines.len() as i64) / 2 + Length::pt(6.0);
        for line in lines {
            let x = area.x + (area.width - line.width) / 2;
            self.plate(Point { x, y: baseline }, line.width);
            self.sheet.put(line, Point { x, y: baseline }, Ink::Grey);
            baseline += leading;
        }
    }

    /// Draws a label at a side of a rectangle; nothing where the rectangle is too narrow.
    fn words_in(&mut self, area: &Rect, words: &str, side: WordsSide, baseline: Length, ink: Ink) {
        let room = area.width - Length::pt(PADDING) * 2;
        let Some(line) = self.sheet.lines(words, &label(), endless()).into_iter().next() else { return };
        if !line.width.fits(room) {
            return;
        }
        let spare = room - line.width;
        let shift = match side {
            WordsSide::Left => Length::ZERO,
            WordsSide::Middle => spare / 2,
            WordsSide::Right => spare,
        };
        let at = Point { x: area.x + Length::pt(PADDING) + shift, y: baseline };
        self.plate(at, line.width);
        self.sheet.put(line, at, ink);
    }

    /// Puts paper behind a label that lies on art, so that it can be read.
    fn plate(&mut self, at: Point, width: Length) {
        let (above, below, beside) = (Length::pt(5.5), Length::pt(1.8), Length::pt(1.0));
        let plate = Rect { x: at.x - beside, y: at.y - above, width: width + beside * 2, height: above + below };
        let mut art = self.proof.drawing.arts().map(|art| moved(&art.placed.rect, self.origin));
        if art.any(|art| art.overlaps(&plate)) {
            self.sheet.marks.push(SheetMark::Veil(shapes::frame(&plate, Length::ZERO), PAPER, PLATE));
        }
    }

    /// Draws the title on a spine; where it does not fit, in the ink of what is over, and without what would stand
    /// beside the sheet. Returns the depth at which the title ends.
    fn title(&mut self) -> Length {
        let Some(title) = self.proof.drawing.title() else { return Length::ZERO };
        let ink = if title.over { Ink::Accent } else { Ink::of(title.ink) };
        for run in &title.runs {
            let mut run = run.clone().moved(self.origin);
            // Hardly any glyph is wider than its size.
            run.glyphs.retain(|glyph| (glyph.at.x + run.size).fits(self.sheet.size.width));
            self.sheet.marks.push(SheetMark::Glyphs(run, ink));
        }
        self.origin.y + title.rect.foot()
    }

    /// Draws the lines of the copy, and marks the lines that are over. Returns the depth at which panel and copy end.
    fn copy(&mut self) -> Length {
        let deepest = self.sheet.bleed.foot() + Length::mm(DEEPEST);
        let mut foot = self.sheet.bleed.foot();
        let lines: Vec<&Line> = self.proof.drawing.lines().collect();
        let is_drawn = |line: &&&Line| (self.origin.y + line.rect.foot()).fits(deepest);
        let drawn: Vec<&Line> = lines.iter().filter(is_drawn).copied().collect();
        for line in &drawn {
            let ink = if line.over { Ink::Accent } else { Ink::of(line.ink) };
            if self.is_sketch {
                self.sheet.marks.push(SheetMark::Tint(shapes::frame(&self.bar(line), Length::ZERO), ink));
            } else {
                let runs = line.runs.iter().map(|run| SheetMark::Glyphs(run.clone().moved(self.origin), ink));
                self.sheet.marks.extend(runs);
            }
            foot = foot.max(self.origin.y + line.rect.foot());
        }
        // Each place has a foot of its own.
        let mut told: Vec<Rect> = Vec::new();
        for first in lines.iter().filter(|line| line.over) {
            if told.contains(&first.place) {
                continue;
            }
            told.push(first.place);
            let last = drawn.iter().rfind(|line| line.place == first.place);
            let foot = last.map_or(first.rect.foot(), |line| line.rect.foot());
            self.mark_over(first.place, self.origin.y + first.rect.y, self.origin.y + foot);
        }
        if drawn.len() < lines.len() && !self.is_sketch {
            let more = lines.len() - drawn.len();
            let words = format!("and {} that {} over", counted(more, "more line"), agrees(more, "is", "are"));
            foot += Length::pt(12.0);
            let whole = Rect { width: self.sheet.size.width, ..Rect::default() };
            self.words_in(&whole, &words, WordsSide::Middle, foot, Ink::Accent);
        }
        foot
    }

    /// A bar where the small letters of a line stand.
    fn bar(&self, line: &Line) -> Rect {
        let height = line.rect.height * 2 / 5;
        let rect = moved(&line.rect, self.origin);
        Rect { y: self.origin.y + line.baseline - height, height, ..rect }
    }

    /// Draws a rule at the foot of a place, and a bar beside the lines that are over.
    fn mark_over(&mut self, place: Rect, top: Length, foot: Length) {
        let live = moved(&place, self.origin);
        let (left, right) = (live.x - Length::pt(7.0), live.right() + Length::pt(7.0));
        let rule = shapes::rule(Point { x: left, y: live.foot() }, Point { x: right, y: live.foot() });
        self.sheet.marks.push(SheetMark::Drawn(rule, stroke(Ink::Accent, 0.8, None)));
        let bar = Rect { x: left, y: top, width: Length::pt(2.0), height: (foot - top).or_zero() };
        self.sheet.marks.push(SheetMark::Tint(shapes::frame(&bar, Length::ZERO), Ink::Accent));
        if self.is_sketch {
            return;
        }
        let words = self.sheet.lines("over", &PlainType { emphasis: BOLD, ..label() }, Length::mm(SIDE));
        for line in words {
            self.sheet.put(line, Point { x: right + Length::pt(2.0), y: live.foot() + Length::pt(2.0) }, Ink::Accent);
        }
    }

    fn heading(&mut self) {
        let left = Length::mm(SIDE);
        let whole = Rect { x: left, y: Length::ZERO, width: self.sheet.size.width - left * 2, height: Length::ZERO };
        let title = PlainType { font: Font::Serif, emphasis: Emphasis::default(), size: Length::pt(13.0) };
        self.one_line(self.proof.title, title, &whole, Length::mm(7.0), Ink::Black);
        self.one_line(self.proof.subject, slug(), &whole, Length::mm(11.0), Ink::Grey);
        let edges = Rect { x: self.sheet.bleed.x, width: self.sheet.bleed.width, ..whole };
        if edges.width < Length::mm(NAMED) {
            return;
        }
        for (words, side) in self.proof.around.iter().zip([WordsSide::Left, WordsSide::Middle, WordsSide::Right]) {
            self.words_in(&edges, words, side, Length::mm(17.5), Ink::Grey);
        }
    }

    /// Draws words on one line, made smaller where they would be too wide.
    fn one_line(&mut self, words: &str, form: PlainType, area: &Rect, baseline: Length, ink: Ink) {
        let endless = endless();
        let width: Length = self.sheet.lines(words, &form, endless).iter().map(|line| line.width).sum();
        let size = if width.fits(area.width) { form.size } else { form.size.scaled(area.width, width) };
        for line in self.sheet.lines(words, &PlainType { size, ..form }, endless) {
            self.sheet.put(line, Point { x: area.x, y: baseline }, ink);
        }
    }

    /// Draws the rule, the facts, the cautions and the place to sign. Returns the depth at which they end.
    fn slug(&mut self, top: Length) -> Length {
        let left = Length::mm(SIDE);
        rule::put(&mut self.sheet, Point { x: left, y: top });
        let top = top + Length::mm(9.0);
        let whole = self.sheet.size.width - left * 2;
        let column = (whole - Length::mm(8.0)) / 2;
        let facts: Vec<&str> = self.proof.facts.iter().map(String::as_str).collect();
        let (facts, cautions) = (facts.as_slice(), self.proof.cautions);
        let first = self.column(facts, Point { x: left, y: top }, column, Ink::Black);
        let second = self.column(cautions, Point { x: left + column + Length::mm(8.0), y: top }, column, Ink::Grey);
        let foot = first.max(second) + Length::mm(7.0);
        let line = self.sheet.lines("Agreed ______________________________   Date ____________", &slug(), whole);
        for line in line {
            self.sheet.put(line, Point { x: left, y: foot }, Ink::Black);
        }
        foot
    }

    fn column(&mut self, paragraphs: &[&str], start: Point, width: Length, ink: Ink) -> Length {
        let mut y = start.y;
        for paragraph in paragraphs {
            for line in self.sheet.lines(paragraph, &slug(), width) {
                y += Length::pt(10.0);
                self.sheet.put(line, Point { x: start.x, y }, ink);
            }
            y += Length::pt(3.0);
        }
        y
    }
}

fn slug() -> PlainType {
    PlainType { size: Length::pt(7.5), ..label() }
}

/// A measure wider than any line of a sheet.
fn endless() -> Length {
    Length::inches(1000.0)
}

/// A stroke with a width and, if given, a length of dash, both in points.
fn stroke(ink: Ink, width: f64, dash: Option<f64>) -> Stroke {
    Stroke { ink, width: Length::pt(width), dash: dash.map(Length::pt) }
}

fn size_in_mm(rect: &Rect) -> String {
    format!("{}\u{a0}x\u{a0}{}\u{a0}mm", trimmed(rect.width.to_mm(), 1), trimmed(rect.height.to_mm(), 1))
}

fn moved(rect: &Rect, by: Point) -> Rect {
    Rect { x: rect.x + by.x, y: rect.y + by.y, ..*rect }
}
