//! How a file says that its picture is to be turned, and the turning.
//!
//! Source: Exif 2.32 (CIPA DC-008), 4.6.4, the tag Orientation; TIFF 6.0, the tag 274.

use super::directory;
use super::picture::Picture;

/// One of the eight ways in which rows and columns of a file lie in the picture that is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Turning(u8);

impl Turning {
    /// Rows run down from the head, and columns from the left.
    pub(super) const UPRIGHT: Self = Self(1);

    /// The turning of the tag's value; a value that the standard does not have turns nothing.
    pub(super) fn of_tag(value: u16) -> Self {
        if (1..=8).contains(&value) { Self(value as u8) } else { Self::UPRIGHT }
    }

    /// The turning that a block of Exif data, or a TIFF, asks for; upright where it asks for none or cannot be read.
    pub(super) fn asked_by(exif: &[u8]) -> Self {
        directory::short(exif, directory::ORIENTATION).map_or(Self::UPRIGHT, Self::of_tag)
    }

    /// The picture as it is to be looked at.
    pub(super) fn upright(self, picture: Picture) -> Picture {
        if self == Self::UPRIGHT {
            return picture;
        }
        let (columns, rows) = (picture.width, picture.height);
        let is_on_its_side = self.0 >= 5;
        let (width, height) = if is_on_its_side { (rows, columns) } else { (columns, rows) };
        let mut pixels = Vec::with_capacity(picture.pixels.len());
        for y in 0..height {
            for x in 0..width {
                // Where the pixel lies in the file; the tag's values in the order of the standard.
                let (column, row) = match self.0 {
                    2 => (columns - 1 - x, y),
                    3 => (columns - 1 - x, rows - 1 - y),
                    4 => (x, rows - 1 - y),
                    5 => (y, x),
                    6 => (y, rows - 1 - x),
                    7 => (columns - 1 - y, rows - 1 - x),
                    _ => (columns - 1 - y, x),
                };
                pixels.push(picture.pixels[row * columns + column]);
            }
        }
        Picture { width, height, pixels, model: picture.model }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::artwork::picture::ColourModel;

    /// Two columns and three rows, numbered from the left and from the head.
    fn numbered() -> Picture {
        let pixels = (0..6).map(|number| [number, 0, 0]).collect();
        Picture { width: 2, height: 3, pixels, model: ColourModel::Rgb }
    }

    #[test]
    fn each_turning_brings_its_corner_to_the_upper_left() {
        for (value, width, order) in [
            (0, 2, [0, 1, 2, 3, 4, 5]),
            (1, 2, [0, 1, 2, 3, 4, 5]),
            (2, 2, [1, 0, 3, 2, 5, 4]),
            (3, 2, [5, 4, 3, 2, 1, 0]),
            (4, 2, [4, 5, 2, 3, 0, 1]),
            (5, 3, [0, 2, 4, 1, 3, 5]),
            (6, 3, [4, 2, 0, 5, 3, 1]),
            (7, 3, [5, 3, 1, 4, 2, 0]),
            (8, 3, [1, 3, 5, 0, 2, 4]),
            (9, 2, [0, 1, 2, 3, 4, 5]),
        ] {
            let turned = Turning::of_tag(value).upright(numbered());
            let found: Vec<u8> = turned.pixels.iter().map(|pixel| pixel[0]).collect();
            assert_eq!((turned.width, found.as_slice()), (width, order.as_slice()), "{value}");
        }
    }
}
