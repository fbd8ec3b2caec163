//! Proofs: the drawing list at true size as PDF, SVG and PNG, and comparisons as HTML and PDF.
//!
//! One sheet goes into every form, so the forms cannot disagree, and a draft gives the same bytes each time.

pub mod shapes;
pub mod sheet;
pub mod sheet_art;
mod packed_art;
mod pixel_path;
mod pdf_path;
mod pdf_art;
mod rule;
pub mod layout;
pub mod tiles;
pub mod slug;
mod cff;
mod embedded;
mod pdf_stream;
pub mod seal;
pub mod pdf;
pub mod svg;
pub mod png;
pub mod page;
pub mod leaf;
mod specimen;

pub use layout::{Proof, panel_alone, sheet, sketch};
pub use specimen::specimen;

/// The name that every file that is written here has for this program, with which its seal begins too.
pub const MARK: &str = "made by blurbwright";
