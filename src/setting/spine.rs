//! The book's title on the spine: one line, held against the room between head and foot and between the folds.

use super::built_in::BuiltIn;
use super::faces::{Faces, Family};
use super::glyphs::{GlyphRun, PlainType, plain};
use super::shaped::{Run, Shaped, shape_runs};
use super::shaping::Glyph;
use crate::brief::Brief;
use crate::brief::cover::{Spine, SpineDirection};
use crate::brief::lengths::Unit;
use crate::units::{Em, Length, Point, Rect};

/// The sizes that are tried, in tenths of a point: all that a brief may ask for.
const TRIED_TENTHS: std::ops::RangeInclusive<i64> = 30..=2000;

/// A measure longer than any title.
const ENDLESS_INCHES: f64 = 1_000_000.0;

/// The title of a book on its spine.
#[derive(Debug, Clone, PartialEq)]
pub struct SpineTitle {
    /// What is printed, in one line.
    pub text: String,
    /// The type of the title.
    pub set: PlainType,
    /// Which way the title runs.
    pub direction: SpineDirection,
    /// The spine's own edges, from zero, laid down so that the title reads upright.
    pub edges: Rect,
    /// Where the title may stand within the edges.
    pub live: Rect,
    /// The unit in which a report gives the spine's lengths.
    pub unit: Unit,
    /// The advances of all glyphs, with their kerning.
    length: Em,
    /// How far ink reaches above the baseline.
    rise: Em,
    /// How far ink reaches below the baseline.
    fall: Em,
    /// Letters that no font has.
    pub missing: Vec<char>,
    /// Letters that another font stands in for, each with its family.
    pub stood_in: Vec<(char, BuiltIn)>,
}

impl SpineTitle {
    /// Sets the title of a book on its spine; none where the brief has no spine.
    pub fn of(brief: &Brief, faces: &Faces) -> Option<Self> {
        let spine = brief.spine.as_ref()?;
        let Spine { font, emphasis, size, direction, unit, .. } = spine.clone();
        let text = brief.book.title.split_whitespace().collect::<Vec<_>>().join(" ");
        let family = faces.family(&font);
        let shaped = shape_runs(&text, std::iter::once((0..text.len(), emphasis)), family, None);
        let (edges, live) = spine.lying(brief.panel.face().height);
        let (rise, fall) = ink(&shaped, family);
        Some(Self {
            length: shaped.glyphs.iter().map(|glyph| glyph.advance).sum(),
            rise,
            fall,
            missing: shaped.missing,
            stood_in: shaped.stood_in,
            set: PlainType { font, emphasis, size },
            text,
            direction,
            edges,
            live,
            unit,
        })
    }

    /// How long the title is.
    pub fn length(&self) -> Length {
        self.length.at(self.set.size)
    }

    /// From the highest ink of the letters to the lowest.
    pub fn height(&self) -> Length {
        self.height_at(self.set.size)
    }

    /// Whether the title goes between head and foot, and its letters between the folds.
    pub fn fits(&self) -> bool {
        self.fits_at(self.set.size)
    }

    /// By how much the title is longer than its room.
    pub fn too_long(&self) -> Option<Length> {
        over(self.length(), self.live.width)
    }

    /// By how much the letters are higher than their room.
    pub fn too_high(&self) -> Option<Length> {
        over(self.height(), self.live.height)
    }

    /// By how much the title does not fit, in the direction in which it is furthest from it; zero where it fits.
    pub fn over(&self) -> Length {
        self.too_long().max(self.too_high()).unwrap_or_default()
    }

    /// The largest size, to a tenth of a point from 3 to 200, at which the title fits.
    pub fn largest_size(&self) -> Option<Length> {
        TRIED_TENTHS.rev().map(|tenths| Length::pt(0.1) * tenths).find(|size| self.fits_at(*size))
    }

    /// The title's box, from its first advance to its last and as high as its ink, in the middle of its room, and its
    /// baseline. A title that is too long begins where its room does.
    pub fn stands(&self) -> (Rect, Length) {
        let (width, height) = (self.length(), self.height());
        let x = self.live.x + (self.live.width - width).or_zero() / 2;
        let y = self.live.y + (self.live.height - height) / 2;
        (Rect { x, y, width, height }, y + self.rise.at(self.set.size))
    }

    /// The title's glyphs where they stand.
    pub fn runs(&self, faces: &Faces) -> Vec<GlyphRun> {
        let (rect, baseline) = self.stands();
        let at = Point { x: rect.x, y: baseline };
        let lines = plain(&self.text, &self.set, Length::inches(ENDLESS_INCHES), faces);
        lines.into_iter().flat_map(|line| line.runs).map(|run| run.moved(at)).collect()
    }

    fn fits_at(&self, size: Length) -> bool {
        self.length.at(size).fits(self.live.width) && self.height_at(size).fits(self.live.height)
    }

    fn height_at(&self, size: Length) -> Length {
        self.rise.at(size) + self.fall.at(size)
    }
}

/// How far the ink of a text reaches above its baseline and below it; zero where there is none.
fn ink(shaped: &Shaped, family: Family<'_>) -> (Em, Em) {
    let of_glyph = |(run, glyph): (&Run, &Glyph)| {
        let (rise, fall) = run.face_in(family).face.ink(glyph.id)?;
        Some((rise + glyph.y_offset, fall - glyph.y_offset))
    };
    let glyphs = shaped.runs.iter().flat_map(|run| shaped.glyphs[run.glyphs.clone()].iter().map(move |it| (run, it)));
    let furthest = |(rise, fall): (Em, Em), (other, below): (Em, Em)| (rise.max(other), fall.max(below));
    glyphs.filter_map(of_glyph).reduce(furthest).unwrap_or_default()
}

fn over(length: Length, room: Length) -> Option<Length> {
    (!length.fits(room)).then(|| length - room)
}
