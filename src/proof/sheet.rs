//! The sheet: marks on paper, which PDF, SVG and PNG each draw in their own way.

use super::sheet_art::SheetArt;
use crate::brief::colour::Colour;
use crate::setting::Faces;
use crate::setting::glyphs::{GlyphRun, PlainLine, PlainType, plain};
use crate::setting::outline::PathStep;
use crate::units::{Length, Point, Rect, Size};

/// A sheet of paper with everything that is on it.
pub struct Sheet<'a> {
    /// The paper.
    pub size: Size,
    /// Where the panel is cut; the whole sheet where it shows no single panel.
    pub trim: Rect,
    /// How far art reaches, past the cut.
    pub bleed: Rect,
    /// What the sheet shows, in words.
    pub title: String,
    /// A description of the sheet in words, for readers who cannot see it.
    pub description: String,
    /// The marks, from the lowest to the topmost.
    pub marks: Vec<SheetMark>,
    /// The fonts that the letters are drawn from.
    pub faces: &'a Faces,
}

/// A mark on the sheet; its coordinates count from the sheet's upper left corner.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetMark {
    /// A filled shape.
    Tint(Vec<PathStep>, Ink),
    /// A drawn line.
    Drawn(Vec<PathStep>, Stroke),
    /// Letters.
    Glyphs(GlyphRun, Ink),
    /// A picture.
    Art(SheetArt),
    /// A shape that hides a part of what lies below it, from 0, nothing, to 1, all.
    Veil(Vec<PathStep>, Ink, f64),
}

impl SheetMark {
    /// The mark scaled and then moved to a place.
    pub fn placed(self, scale: SheetScale, at: Point) -> Self {
        let shape = |shape: Vec<PathStep>| shape.into_iter().map(|step| scale.step(step, at)).collect();
        match self {
            Self::Tint(steps, ink) => Self::Tint(shape(steps), ink),
            Self::Drawn(steps, stroke) => {
                let dash = stroke.dash.map(|dash| scale.of(dash));
                Self::Drawn(shape(steps), Stroke { width: scale.of(stroke.width), dash, ..stroke })
            }
            Self::Glyphs(mut run, ink) => {
                run.size = scale.of(run.size);
                for glyph in &mut run.glyphs {
                    glyph.at = Point { x: scale.of(glyph.at.x), y: scale.of(glyph.at.y) };
                }
                Self::Glyphs(run.moved(at), ink)
            }
            Self::Art(art) => {
                let (x, y) = (scale.of(art.rect.x) + at.x, scale.of(art.rect.y) + at.y);
                let (width, height) = (scale.of(art.rect.width), scale.of(art.rect.height));
                let form = art.form.map(shape);
                Self::Art(SheetArt { rect: Rect { x, y, width, height }, form, ..art })
            }
            Self::Veil(steps, ink, opacity) => Self::Veil(shape(steps), ink, opacity),
        }
    }
}

/// A scale: `whole` becomes `part`.
#[derive(Debug, Clone, Copy)]
pub struct SheetScale {
    /// The length after scaling.
    pub part: Length,
    /// The length before scaling.
    pub whole: Length,
}

impl SheetScale {
    /// A length at this scale.
    pub fn of(self, length: Length) -> Length {
        length.scaled(self.part, self.whole)
    }

    fn step(self, step: PathStep, at: Point) -> PathStep {
        let factor = self.part.to_pt() / self.whole.to_pt();
        let place = |[x, y]: [f32; 2]| {
            let moved = |value: f32, by: Length| (f64::from(value) * factor + by.to_pt()) as f32;
            [moved(x, at.x), moved(y, at.y)]
        };
        match step {
            PathStep::Move(to) => PathStep::Move(place(to)),
            PathStep::Line(to) => PathStep::Line(place(to)),
            PathStep::Quad(by, to) => PathStep::Quad(place(by), place(to)),
            PathStep::Curve(from, by, to) => PathStep::Curve(place(from), place(by), place(to)),
            PathStep::Close => PathStep::Close,
        }
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// The colour of the line.
    pub ink: Ink,
    /// The width of the line.
    pub width: Length,
    /// The length of the dashes and of the gaps between them; none for a solid line.
    pub dash: Option<Length>,
}

/// The colours of a proof, which are few, and the author's inks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// The copy and the words about it.
    Black,
    /// Edges and labels.
    Grey,
    /// The edges up to which copy may be set: of the live area, of clearances and of rounded corners.
    Light,
    /// The fill of a keep-out.
    Pale,
    /// What is over.
    Accent,
    /// A colour that the brief gives, red, green and blue: of copy, or of a tint.
    Given([u8; 3]),
}

impl Ink {
    /// The colour of a brief as it is shown: black as the words about the copy are.
    pub fn of(colour: Colour) -> Self {
        match colour {
            Colour::Black => Self::Black,
            Colour::White | Colour::Screen(_) => Self::Given(colour.srgb()),
        }
    }

    /// Red, green and blue. The accent is red here and at the desk.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Black => [17, 17, 17],
            Self::Grey => [112, 112, 112],
            Self::Light => [176, 176, 176],
            Self::Pale => [240, 240, 240],
            Self::Accent => [192, 0, 0],
            Self::Given(colour) => colour,
        }
    }
}

impl Sheet<'_> {
    /// Draws a line of words with its left end at a place on the baseline.
    pub fn put(&mut self, line: PlainLine, at: Point, ink: Ink) {
        self.marks.extend(line.runs.into_iter().map(|run| SheetMark::Glyphs(run.moved(at), ink)));
    }

    /// Words broken into lines of at most `measure`.
    pub fn lines(&self, words: &str, form: &PlainType, measure: Length) -> Vec<PlainLine> {
        plain(words, form, measure, self.faces)
    }
}

/// The layout of sheets side by side: the size of the paper for all, and the left edge of each.
pub fn side_by_side(sheets: &[Sheet<'_>]) -> (Size, Vec<Length>) {
    let mut whole = Size::default();
    let mut places = Vec::with_capacity(sheets.len());
    for sheet in sheets {
        places.push(whole.width);
        whole.width += sheet.size.width;
        whole.height = whole.height.max(sheet.size.height);
    }
    (whole, places)
}
