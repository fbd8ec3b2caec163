//! The outlines of shapes: what the bytes of a drawing or a picture have in them, as rings of straight edges.
//!
//! A file may come from anywhere, so every reader here ends in bounded time and memory, whatever the bytes are.

pub mod thinning;
mod drawing;
mod picture;
mod rule;

pub use drawing::outline_of_drawing;
pub use picture::outline_of_picture;

use crate::brief::place::FileOutline;
use thinning::{Spot, Thinness, thinned};

/// Why a file has no outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineFault {
    /// What was found, without a full stop.
    pub problem: String,
    /// What to do, without a full stop.
    pub remedy: &'static str,
}

impl OutlineFault {
    fn new(problem: impl Into<String>, remedy: &'static str) -> Self {
        Self { problem: problem.into(), remedy }
    }
}

/// How far a thinned outline may be off its file's, as a share of the box: on a place of 100 mm this is a
/// thirtieth of a point.
const FINE: f64 = 1e-4;
/// How far an outline of many edges may be off its file's.
const COARSE: f64 = 1e-3;

/// An outline of rings in a box of width and height 1, with its points thinned once, so that no setting has to do it
/// anew. `off` is how far the edges are off the file's already; `coarse` how far they may be for another reason.
fn outline(rings: Vec<Vec<Spot>>, off: f64, coarse: f64) -> FileOutline {
    let closed = |mut ring: Vec<Spot>| {
        ring.extend(ring.first().copied());
        ring
    };
    let within = Thinness { fine: FINE, coarse: COARSE.max(coarse) };
    let (mut rings, thinned_off) = thinned(rings.into_iter().map(closed).collect(), within);
    rings.iter_mut().for_each(|ring| {
        ring.pop();
    });
    FileOutline { rings, off: off + thinned_off, proportions: None }
}
