//! What a terminal can show: styles and signs, and pixels as cells of two colours or as a picture by the protocols of
//! kitty and of sixels.
//!
//! The room knows pixels and bytes, not what they show and not whether a terminal understands them.

mod light;
pub mod blocks;
pub mod theme;
mod palette;
pub mod sixel;
pub mod kitty;

pub use light::{legible_on, mixed};

/// The form in which a terminal takes pictures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureForm {
    /// By kitty's protocol.
    Kitty,
    /// As sixels.
    Sixel {
        /// The most colours of a picture.
        colours: usize,
        /// The widest that a picture may be, in pixels.
        widest: u16,
    },
}

/// Rows of pixels that are ready to be shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raster {
    /// The number of pixels in a row.
    pub width: usize,
    /// The number of rows.
    pub height: usize,
    /// The rows from the head to the foot, each from left to right: `width * height` colours in sRGB.
    pub pixels: Vec<[u8; 3]>,
}
