//! The sheet: marks on paper, which PDF, SVG and PNG each put down in their own way.

use crate::setting::Faces;
use crate::setting::glyphs::{GlyphRun, PlainLine, PlainType, plain};
use crate::setting::outline::Step;
use crate::units::{Length, Point, Rect, Size};

/// A sheet of paper with everything that is on it.
pub struct Sheet<'a> {
    /// The paper.
    pub size: Size,
    /// Where the panel is cut; nothing on the sheet is where there is no panel.
    pub trim: Rect,
    /// How far art goes.
    pub bleed: Rect,
    /// What the sheet shows, in words.
    pub title: String,
    /// What is on it, in words, for those who do not see it.
    pub description: String,
    /// From the undermost to the topmost.
    pub marks: Vec<Mark>,
    /// What its letters are drawn from.
    pub faces: &'a Faces,
}

/// A mark on the sheet, places from its head left corner.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A filled shape.
    Tint(Vec<Step>, Ink),
    /// A drawn line.
    Drawn(Vec<Step>, Stroke),
    /// Letters.
    Glyphs(GlyphRun, Ink),
}

/// A line's look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub ink: Ink,
    /// Its width.
    pub width: Length,
    /// The length of its dashes and of the gaps between them; none where it is whole.
    pub dash: Option<Length>,
}

/// The few colours of a proof.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// The copy and what is said of it.
    Black,
    /// Edges and labels.
    Grey,
    /// The edges of places that copy stands against.
    Light,
    /// The ground of a keep-out.
    Pale,
    /// What is over.
    Accent,
}

impl Ink {
    /// Red, green and blue. The accent is the colour of brick.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Black => [17, 17, 17],
            Self::Grey => [112, 112, 112],
            Self::Light => [176, 176, 176],
            Self::Pale => [240, 240, 240],
            Self::Accent => [168, 58, 28],
        }
    }
}

impl Sheet<'_> {
    /// Sets a line of words with its left end at a place on the baseline.
    pub fn put(&mut self, line: PlainLine, at: Point, ink: Ink) {
        self.marks.extend(line.runs.into_iter().map(|run| Mark::Glyphs(run.moved(at), ink)));
    }

    /// Words in lines of at most `measure`.
    pub fn lines(&self, words: &str, form: &PlainType, measure: Length) -> Vec<PlainLine> {
        plain(words, form, measure, self.faces)
    }
}

/// Where sheets stand that are put side by side: the paper for all of them, and the left edge of each.
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
