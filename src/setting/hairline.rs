//! The thinnest strokes of a face, which ink closes up where letters are left out of a dark ground.
//!
//! Measured on `e`, `n` and `o`: an upright is laid through the middle third of each, and the strokes that it crosses
//! are as thick as they are there. These letters have the thinnest strokes of a Latin text face, at the joins and at
//! the head and the foot of the round ones; serifs and the insides of joins are left out.

use super::outline::{Outline, PathStep};
use crate::units::Em;

/// The letters that are measured.
const MEASURED: [char; 3] = ['e', 'n', 'o'];
/// Where the uprights stand, as shares of a letter's width.
const UPRIGHTS: [f32; 5] = [0.35, 0.42, 0.5, 0.58, 0.65];
/// How many straight edges stand for a curve.
const EDGES: i16 = 16;
/// What is thinner is no stroke, but two edges that touch; in ems.
const THINNEST: f32 = 0.004;
/// The parts of an em to which a measured stroke is rounded.
const PARTS: f32 = 16000.0;

/// How thick the thinnest stroke of a face is by the outlines of its letters; none where it draws none of those
/// that are measured.
pub(super) fn thinnest(outline_of: impl FnMut(char) -> Option<Outline>) -> Option<Em> {
    let outlines = MEASURED.into_iter().filter_map(outline_of);
    let thinnest = outlines.flat_map(|outline| strokes(&outline.steps)).reduce(f32::min)?;
    Some(Em::from_units((thinnest * PARTS).round() as i32, PARTS as u16))
}

/// The strokes that the uprights cross, in ems.
fn strokes(steps: &[PathStep]) -> Vec<f32> {
    let edges = edges(steps);
    let across = || edges.iter().flat_map(|[from, to]| [from[0], to[0]]);
    let Some((left, right)) = across().reduce(f32::min).zip(across().reduce(f32::max)) else { return Vec::new() };
    let mut found = Vec::new();
    for share in UPRIGHTS {
        let mut crossed = crossed(&edges, left + (right - left) * share);
        crossed.sort_by(f32::total_cmp);
        let pairs = crossed.chunks_exact(2).map(|pair| pair[1] - pair[0]);
        found.extend(pairs.filter(|stroke| *stroke > THINNEST));
    }
    found
}

/// The heights at which an upright crosses edges.
fn crossed(edges: &[[[f32; 2]; 2]], x: f32) -> Vec<f32> {
    let crosses = |[from, to]: &&[[f32; 2]; 2]| (from[0] <= x) != (to[0] <= x);
    let height = |[from, to]: &[[f32; 2]; 2]| from[1] + (to[1] - from[1]) * (x - from[0]) / (to[0] - from[0]);
    edges.iter().filter(crosses).map(height).collect()
}

/// A path in straight edges.
fn edges(steps: &[PathStep]) -> Vec<[[f32; 2]; 2]> {
    let mut edges = Vec::new();
    let (mut at, mut start) = ([0.0; 2], [0.0; 2]);
    let mixed =
        |one: [f32; 2], other: [f32; 2], share: f32| [0, 1].map(|axis| one[axis] + (other[axis] - one[axis]) * share);
    for step in steps {
        let from = at;
        let mut curve = |point: &dyn Fn(f32) -> [f32; 2]| {
            for edge in 1..=EDGES {
                let next = point(f32::from(edge) / f32::from(EDGES));
                edges.push([at, next]);
                at = next;
            }
        };
        match *step {
            PathStep::Move(to) => (at, start) = (to, to),
            PathStep::Line(to) => {
                edges.push([at, to]);
                at = to;
            }
            PathStep::Quad(by, to) => curve(&|share| mixed(mixed(from, by, share), mixed(by, to, share), share)),
            PathStep::Curve(first, second, to) => curve(&|share| {
                let middle = mixed(first, second, share);
                let (one, other) =
                    (mixed(mixed(from, first, share), middle, share), mixed(middle, mixed(second, to, share), share));
                mixed(one, other, share)
            }),
            PathStep::Close => {
                edges.push([at, start]);
                at = start;
            }
        }
    }
    edges
}

#[cfg(test)]
mod tests {
    use crate::brief::typography::Font;
    use crate::draft::Emphasis;
    use crate::setting::Faces;
    use crate::units::Length;

    /// Half a point is reached at about 13.6 pt in the serif, 10.5 in its bold and 9.4 in the sans, as this project's
    /// notes on type over art have it; they measured at other places of the letters.
    #[test]
    fn the_built_in_faces_reach_half_a_point_where_they_were_measured() {
        let faces = Faces::built_in();
        let reached = |font: &Font, bold: bool| {
            let face = faces.family(font).face(Emphasis { bold, italic: false });
            let hairline = face.hairline().expect("a face of letters");
            Length::pt(0.5).to_pt() / hairline.to_f64()
        };
        let found = [reached(&Font::Serif, false), reached(&Font::Serif, true), reached(&Font::Sans, false)];
        for (found, measured) in found.into_iter().zip([13.6, 10.5, 9.4]) {
            assert!((found - measured).abs() < 0.7, "{found:.2}, measured {measured}");
        }
    }
}
