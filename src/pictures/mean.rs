//! Pictures made smaller: each new pixel is the mean of what it covers, in linear light.

use super::Raster;
use super::light::{coded, linear};
use crate::art::picture::Picture;

/// A rectangle of a picture, in its pixels from the upper left corner. Its edges may lie between pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PixelRect {
    /// The left edge.
    pub x: f64,
    /// The upper edge.
    pub y: f64,
    /// The width.
    pub width: f64,
    /// The height.
    pub height: f64,
}

/// A rectangle of a picture as so many columns and rows of pixels. What lies outside the picture is as its nearest
/// pixel.
pub fn scaled(picture: &Picture, part: PixelRect, columns: usize, rows: usize) -> Raster {
    let across: Vec<Vec<(usize, f32)>> = shares(part.x, part.width, columns, picture.width);
    let mut pixels = Vec::with_capacity(columns * rows);
    for covered in shares(part.y, part.height, rows, picture.height) {
        let mut sums = vec![[0.0_f32; 3]; columns];
        for (row, deep) in covered {
            for (sum, wide) in sums.iter_mut().zip(&across) {
                for (column, share) in wide {
                    let light = linear(picture.at(*column, row));
                    *sum = std::array::from_fn(|channel| sum[channel] + light[channel] * share * deep);
                }
            }
        }
        pixels.extend(sums.into_iter().map(coded));
    }
    Raster { width: columns, height: rows, pixels }
}

/// For each of `count` equal parts of a stretch, the pixels that it covers, each with its share of the part. The shares
/// of a part add up to 1.
fn shares(start: f64, length: f64, count: usize, pixels: usize) -> Vec<Vec<(usize, f32)>> {
    let step = length / count.max(1) as f64;
    let inside = |at: f64| (at.max(0.0) as usize).min(pixels.saturating_sub(1));
    let part = |number: usize| {
        let (from, to) = (start + step * number as f64, start + step * (number + 1) as f64);
        if step <= 0.0 {
            return vec![(inside(from), 1.0)];
        }
        let first = from.floor() as i64;
        // A part that ends where a pixel begins does not cover it.
        let last = ((to - 1e-9).floor() as i64).max(first);
        let share = |pixel: i64| {
            let covered = (to.min((pixel + 1) as f64) - from.max(pixel as f64)).max(0.0);
            (inside(pixel as f64), (covered / step) as f32)
        };
        (first..=last).map(share).collect()
    };
    (0..count).map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::{PixelRect, scaled, shares};
    use crate::art::picture::{ColourModel, Picture};

    fn picture(width: usize, pixels: &[u8]) -> Picture {
        let pixels: Vec<[u8; 3]> = pixels.iter().map(|step| [*step; 3]).collect();
        Picture { width, height: pixels.len() / width, pixels, model: ColourModel::Rgb }
    }

    fn whole(picture: &Picture) -> PixelRect {
        PixelRect { x: 0.0, y: 0.0, width: picture.width as f64, height: picture.height as f64 }
    }

    #[test]
    fn a_picture_of_its_own_size_is_unchanged() {
        let given = picture(3, &[1, 20, 255, 0, 128, 99]);
        assert_eq!(scaled(&given, whole(&given), 3, 2).pixels, given.pixels);
    }

    #[test]
    fn a_chequer_becomes_half_of_its_light() {
        let given = picture(4, &[0, 255, 0, 255, 255, 0, 255, 0]);
        assert_eq!(scaled(&given, whole(&given), 2, 1).pixels, [[188; 3]; 2]);
        assert_eq!(scaled(&given, whole(&given), 1, 1).pixels, [[188; 3]]);
    }

    #[test]
    fn what_lies_outside_is_as_the_nearest_pixel() {
        let given = picture(2, &[10, 200]);
        let part = PixelRect { x: -2.0, y: -1.0, width: 6.0, height: 3.0 };
        let row = [[10; 3], [10; 3], [10; 3], [200; 3], [200; 3], [200; 3]];
        assert_eq!(scaled(&given, part, 6, 3).pixels, [row, row, row].concat());
    }

    #[test]
    fn shares_add_up_to_one() {
        for (start, length, count, pixels) in [(0.0, 10.0, 3, 10), (0.3, 7.7, 4, 9), (2.5, 0.5, 5, 4), (0.0, 3.0, 3, 3)]
        {
            for part in shares(start, length, count, pixels) {
                let sum: f32 = part.iter().map(|(_, share)| share).sum();
                assert!((sum - 1.0).abs() < 1e-5, "{start} {length} {count}: {part:?}");
                assert!(part.iter().all(|(pixel, _)| *pixel < pixels));
            }
        }
    }
}
