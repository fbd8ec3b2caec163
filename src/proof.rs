//! Proofs: the drawing list at true size as PDF, SVG and PNG.
//!
//! One sheet goes into all of them, so they cannot disagree, and a draft gives the same bytes each time.

pub mod shapes;
pub mod sheet;
pub mod layout;
pub mod slug;
pub mod pdf;
pub mod svg;
pub mod png;
pub mod page;
pub mod leaf;
mod specimen;

pub use layout::{Proof, panel_alone, sheet};
pub use specimen::specimen;

/// What every file that is written here says of itself somewhere in it, by which a proof is known again.
pub const MARK: &str = "made by blurbwright";
