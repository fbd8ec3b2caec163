//! The outlines of shapes: what the bytes of a drawing or a picture have in them, as rings of straight edges.
//!
//! A file may come from anywhere, so every reader here ends in bounded time and memory, whatever the bytes are.

pub mod thinning;
mod drawing;
mod picture;
mod rule;
mod union;

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

/// How far a thinned outline may be off its file's, as a share of its longer side: on a place of 100 mm this is a
/// thirtieth of a point.
const FINE: f64 = 1e-4;
/// How far an outline of many edges may be off its file's.
const COARSE: f64 = 1e-3;

/// An outline of rings, with its points thinned once, so that no setting has to do it anew. The rings lie in a frame of
/// `width` by `height`, the longer of which is 1, and are `off` the file's own outline already. Where thinning them
/// needs many edges, they may be off by `coarse`, if that is more than [`COARSE`].
fn outline(rings: Vec<Vec<Spot>>, (width, height): (f64, f64), off: f64, coarse: f64) -> FileOutline {
    let closed = |mut ring: Vec<Spot>| {
        ring.extend(ring.first().copied());
        ring
    };
    let within = Thinness { fine: FINE, coarse: COARSE.max(coarse) };
    let (mut rings, thinned_off) = thinned(rings.into_iter().map(closed).collect(), within);
    for ring in &mut rings {
        ring.pop();
        // What is out of the frame by rounding alone lies on its edge.
        ring.iter_mut().for_each(|(x, y)| (*x, *y) = ((*x / width).clamp(0.0, 1.0), (*y / height).clamp(0.0, 1.0)));
    }
    let off = off + thinned_off;
    FileOutline { rings, off: (off / width, off / height), proportions: None }
}
