//! The art of a book's faces, with the lines that stand on it.

use super::fit::{Fit, FitLine};
use crate::art::facts::{ArtFacts, LineBox};
use crate::brief::Brief;
use crate::brief::place::Shape;
use crate::units::Rect;

/// The facts of the art of every face and every place that has some. Lines that are over stand nowhere.
pub(super) fn of(brief: &Brief, fit: &Fit) -> Vec<ArtFacts> {
    if brief.faces().all(|face| !face.has_art()) {
        return Vec::new();
    }
    let faces: Vec<_> = brief.faces().collect();
    let of_line = |(number, line): (usize, &FitLine)| {
        let (set, stands_in) = (&line.set, fit.places.get(line.set.place)?);
        let layout = faces.iter().find(|layout| layout.face == stands_in.face)?;
        let place = layout.places.iter().find(|place| place.name == stands_in.name);
        // What stands on the art of its place stands on nothing of the face's.
        if place.is_some_and(|place| place.art.is_some()) {
            return None;
        }
        // A tint in a place that has a shape fills the shape, and does not go past the lines.
        let goes_past = place.is_none_or(|place| place.shape == Shape::Box);
        let pad = layout.tint_of(place).filter(|_| goes_past).map(|tint| tint.pad);
        let rect = Rect { x: set.x, y: set.top, width: set.width, height: set.leading };
        Some(LineBox { number, face: stands_in.face, rect, pad }).filter(|_| !set.over)
    };
    let lines: Vec<LineBox> = fit.lines.iter().enumerate().filter_map(of_line).collect();
    faces.iter().flat_map(|face| ArtFacts::of(face, &lines)).collect()
}
