//! A picture as pixels, upright and on paper, whatever its file was.

use std::fmt;

/// What the colours of a file were before they became sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColourModel {
    /// Shades of one ink.
    Grey,
    /// Red, green and blue, as a screen has them.
    Rgb,
    /// The four inks of a press, turned into sRGB by the plain rule and not by a profile.
    Cmyk,
}

/// A picture as rows of sRGB pixels, turned as it is looked at, with what was transparent laid on white paper.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    /// The number of pixels in a row.
    pub width: usize,
    /// The number of rows.
    pub height: usize,
    /// The rows from the head to the foot, each from left to right: `width * height` colours in sRGB.
    pub pixels: Vec<[u8; 3]>,
    /// What the file's own colours were.
    pub model: ColourModel,
}

/// The size alone: nobody reads millions of pixels.
impl fmt::Debug for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { width, height, model, .. } = self;
        f.debug_struct("Picture").field("width", width).field("height", height).field("model", model).finish()
    }
}

/// A part of a picture, in pixels from its upper left corner; it may begin and end within a pixel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PixelRect {
    /// The left edge.
    pub x: f64,
    /// The upper edge.
    pub y: f64,
    /// From the left edge to the right one.
    pub width: f64,
    /// From the upper edge to the lower one.
    pub height: f64,
}

impl Picture {
    /// The colour of a pixel; of the nearest one where there is none, and white in a picture without pixels.
    pub fn at(&self, column: usize, row: usize) -> [u8; 3] {
        let column = column.min(self.width.saturating_sub(1));
        let row = row.min(self.height.saturating_sub(1));
        self.pixels.get(row * self.width + column).copied().unwrap_or([255; 3])
    }
}
