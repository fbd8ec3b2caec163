//! The shape of a glyph as a path, for views that draw letters themselves.

use harfrust::font::glyph::outline::{DrawMemory, DrawOptions, PathSink};
use harfrust::{Font, GlyphId};

/// One step of a path. A place is `[across, up]`; the place where the step ends comes last.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PathStep {
    /// A new contour begins here.
    Move([f32; 2]),
    /// A straight line to here.
    Line([f32; 2]),
    /// A curve with one control point.
    Quad([f32; 2], [f32; 2]),
    /// A curve with two control points.
    Curve([f32; 2], [f32; 2], [f32; 2]),
    /// The contour ends where it began.
    Close,
}

/// The path of one glyph, to be filled by the nonzero rule. Places are fractions of the em, growing to the right and
/// upwards from the baseline.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outline {
    /// From the first contour to the last.
    pub steps: Vec<PathStep>,
}

impl Outline {
    /// None where the font has no outline for the glyph, or where that is broken: a glyph is not drawn by half.
    pub(super) fn of(font: &Font, glyph: GlyphId) -> Option<Self> {
        let mut pen = PathPen { scale: 1.0 / f32::from(font.units_per_em().max(1)), outline: Self::default() };
        font.outline_glyphs().get(glyph)?.draw(&DrawOptions::new(), DrawMemory::Scratch, &mut pen).ok()?;
        Some(pen.outline)
    }
}

/// Records the path in fractions of the em.
struct PathPen {
    scale: f32,
    outline: Outline,
}

impl PathPen {
    fn at(&self, x: f32, y: f32) -> [f32; 2] {
        [x * self.scale, y * self.scale]
    }
}

impl PathSink for PathPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.outline.steps.push(PathStep::Move(self.at(x, y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.outline.steps.push(PathStep::Line(self.at(x, y)));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.outline.steps.push(PathStep::Quad(self.at(x1, y1), self.at(x, y)));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.outline.steps.push(PathStep::Curve(self.at(x1, y1), self.at(x2, y2), self.at(x, y)));
    }

    fn close(&mut self) {
        self.outline.steps.push(PathStep::Close);
    }
}
