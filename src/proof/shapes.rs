//! Shapes as paths in points, with x growing to the right and y downwards, which every form of a proof can draw.

use crate::brief::place::Shape;
use crate::setting::Faces;
use crate::setting::glyphs::GlyphRun;
use crate::setting::outline::PathStep;
use crate::setting::stretch::WidthFactor;
use crate::units::{Length, Point, Rect};

/// The distance of a control point from its end of a quarter circle, as a part of the radius.
const QUARTER: f64 = 0.5523;

/// How many places a point has, across and down, of which paths are made: a tenth of a thousandth of a millimetre lies
/// between two. A path that is moved by whole ones of them is the same to the last digit, as far as a sheet reaches.
const PLACES: f64 = 4096.0;

/// A rectangle whose left corners, which are those of the fore-edge, are rounded by a radius.
pub fn frame(area: &Rect, round: Length) -> Vec<PathStep> {
    let [left, top, right, foot] = edges(area);
    if round <= Length::ZERO {
        return vec![
            PathStep::Move(at([left, top])),
            PathStep::Line(at([right, top])),
            PathStep::Line(at([right, foot])),
            PathStep::Line(at([left, foot])),
            PathStep::Close,
        ];
    }
    let radius = round.to_pt();
    let pull = radius * (1.0 - QUARTER);
    vec![
        PathStep::Move(at([left + radius, top])),
        PathStep::Line(at([right, top])),
        PathStep::Line(at([right, foot])),
        PathStep::Line(at([left + radius, foot])),
        PathStep::Curve(at([left + pull, foot]), at([left, foot - pull]), at([left, foot - radius])),
        PathStep::Line(at([left, top + radius])),
        PathStep::Curve(at([left, top + pull]), at([left + pull, top]), at([left + radius, top])),
        PathStep::Close,
    ]
}

/// The form of a place or keep-out in its rectangle.
pub fn form(area: &Rect, shape: &Shape) -> Vec<PathStep> {
    let (width, height) = (area.width.to_pt(), area.height.to_pt());
    match shape {
        Shape::Box => frame(area, Length::ZERO),
        Shape::Ellipse => rounded(area, width / 2.0, height / 2.0),
        Shape::Round(radius) => {
            let radius = radius.to_pt().min(width / 2.0).min(height / 2.0);
            rounded(area, radius, radius)
        }
        Shape::File(shape) => match &shape.outline {
            Some(outline) => outline.rings.iter().flat_map(|corners| ring(area, corners)).collect(),
            None => frame(area, Length::ZERO),
        },
        Shape::Polygon(corners) => ring(area, corners),
    }
}

/// Straight edges between points, each as its shares of a rectangle, and back to the first of them.
fn ring(area: &Rect, corners: &[(f64, f64)]) -> Vec<PathStep> {
    let (width, height) = (area.width.to_pt(), area.height.to_pt());
    let place = |(across, down): &(f64, f64)| at([area.x.to_pt() + across * width, area.y.to_pt() + down * height]);
    let mut steps: Vec<PathStep> = corners.iter().map(|corner| PathStep::Line(place(corner))).collect();
    if let Some(first) = corners.first() {
        steps[0] = PathStep::Move(place(first));
    }
    steps.push(PathStep::Close);
    steps
}

/// A rectangle whose four corners are quarters of an ellipse.
fn rounded(area: &Rect, across: f64, down: f64) -> Vec<PathStep> {
    let [left, top, right, foot] = edges(area);
    let (far, deep) = (across * (1.0 - QUARTER), down * (1.0 - QUARTER));
    vec![
        PathStep::Move(at([left + across, top])),
        PathStep::Line(at([right - across, top])),
        PathStep::Curve(at([right - far, top]), at([right, top + deep]), at([right, top + down])),
        PathStep::Line(at([right, foot - down])),
        PathStep::Curve(at([right, foot - deep]), at([right - far, foot]), at([right - across, foot])),
        PathStep::Line(at([left + across, foot])),
        PathStep::Curve(at([left + far, foot]), at([left, foot - deep]), at([left, foot - down])),
        PathStep::Line(at([left, top + down])),
        PathStep::Curve(at([left, top + deep]), at([left + far, top]), at([left + across, top])),
        PathStep::Close,
    ]
}

/// A straight line.
pub fn rule(from: Point, to: Point) -> Vec<PathStep> {
    let [from, to] = [from, to].map(|end| at([end.x.to_pt(), end.y.to_pt()]));
    vec![PathStep::Move(from), PathStep::Line(to)]
}

/// The outlines of a run's letters in their positions.
pub fn letters(run: &GlyphRun, faces: &Faces) -> Vec<PathStep> {
    let family = faces.family(&run.font);
    let face = family.face(run.emphasis);
    let size = run.size.to_pt();
    let width = family.stretch().map_or(1.0, WidthFactor::to_f64) * size;
    let mut steps = Vec::new();
    for glyph in &run.glyphs {
        let (x, y) = (glyph.at.x.to_pt(), glyph.at.y.to_pt());
        let place = |[across, up]: [f32; 2]| at([x + f64::from(across) * width, y - f64::from(up) * size]);
        steps.extend(face.outline(glyph.id).into_iter().flat_map(|outline| outline.steps).map(|step| match step {
            PathStep::Move(to) => PathStep::Move(place(to)),
            PathStep::Line(to) => PathStep::Line(place(to)),
            PathStep::Quad(by, to) => PathStep::Quad(place(by), place(to)),
            PathStep::Curve(from, by, to) => PathStep::Curve(place(from), place(by), place(to)),
            PathStep::Close => PathStep::Close,
        }));
    }
    steps
}

/// The left, upper, right and lower edge of a rectangle, in points.
fn edges(area: &Rect) -> [f64; 4] {
    [area.x, area.y, area.right(), area.foot()].map(Length::to_pt)
}

/// The place of a path that is nearest to one in points.
fn at(place: [f64; 2]) -> [f32; 2] {
    place.map(|points| ((points * PLACES).round() / PLACES) as f32)
}

/// A length in points, as precise as drawing needs.
pub fn points(length: Length) -> f32 {
    length.to_pt() as f32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::typography::{Font, StandIn};
    use crate::draft::Emphasis;
    use crate::setting::glyphs::{PlainType, plain};

    /// The distance from the first to the last drawn letter of a word.
    fn reach(font: Font) -> f32 {
        let faces = Faces::built_in();
        let form = PlainType { font, emphasis: Emphasis::default(), size: Length::pt(100.0) };
        let lines = plain("lighthouse", &form, Length::inches(30.0), &faces);
        let across = |step: PathStep| match step {
            PathStep::Move([x, _])
            | PathStep::Line([x, _])
            | PathStep::Quad(_, [x, _])
            | PathStep::Curve(_, _, [x, _]) => Some(x),
            PathStep::Close => None,
        };
        let steps = lines.into_iter().flat_map(|line| line.runs).flat_map(|run| letters(&run, &faces));
        let places: Vec<f32> = steps.filter_map(across).collect();
        places.iter().copied().fold(f32::MIN, f32::max) - places.iter().copied().fold(f32::MAX, f32::min)
    }

    #[test]
    fn letters_that_stand_in_are_as_wide_as_they_are_set() {
        let stand_in = StandIn { name: "Some Face".to_owned(), alphabet: Length::pt(150.0), at: Length::pt(12.0) };
        let font = Font::StandIn(stand_in);
        let stretch = Faces::built_in().family(&font).stretch().map(WidthFactor::to_f64).unwrap_or_default() as f32;
        assert!(stretch > 1.05, "{stretch}");
        let (own, stretched) = (reach(Font::Serif), reach(font));
        assert!((own * stretch - stretched).abs() < 0.01, "{own} {stretch} {stretched}");
    }
}
