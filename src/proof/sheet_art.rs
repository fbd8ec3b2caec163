//! A picture on a sheet: where it lies, and its pixels at the resolution of a form.

use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use crate::artwork::picture::{ColourModel, Picture, PixelRect};
use crate::artwork::{ArtFile, KeptGrounds};
use crate::setting::outline::PathStep;
use crate::units::Rect;

/// A picture, cut to what lies in its rectangle.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetArt {
    /// The file with the pixels.
    pub file: Arc<ArtFile>,
    /// The part of the picture that lies on the sheet.
    pub source: PixelRect,
    /// Where it lies on the sheet.
    pub rect: Rect,
    /// The form in the rectangle to which it is cut; none where it fills the rectangle.
    pub form: Option<Vec<PathStep>>,
}

/// What of the samples in a row or a column goes into one pixel: those of a range, each with its share.
struct PixelShares {
    range: Range<usize>,
    shares: Vec<f32>,
}

impl SheetArt {
    /// Where the whole picture would lie, with what is cut off: its left and upper edge, width and height in points.
    pub fn whole(&self) -> [f64; 4] {
        let Self { file, source, rect, .. } = self;
        let (across, down) = (rect.width.to_pt() / source.width, rect.height.to_pt() / source.height);
        let (width, height) = (file.picture.width as f64 * across, file.picture.height as f64 * down);
        [rect.x.to_pt() - source.x * across, rect.y.to_pt() - source.y * down, width, height]
    }

    /// The columns and rows of its pixels at a resolution in pixels per inch, or its own where those are fewer; at
    /// least one of each.
    pub fn size_at(&self, resolution: f64) -> (usize, usize) {
        let of = |inches: f64, own: f64| (inches * resolution).min(own).round().max(1.0) as usize;
        let Self { source, rect, .. } = self;
        (of(rect.width.to_inches(), source.width), of(rect.height.to_inches(), source.height))
    }

    /// A picture with no more pixels than a resolution in pixels per inch asks for.
    pub fn at_most(&self, resolution: f64) -> Self {
        let (width, height) = self.size_at(resolution);
        let picture = Picture { width, height, pixels: self.pixels(width, height), model: ColourModel::Rgb };
        let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: KeptGrounds::default() };
        let source = PixelRect { x: 0.0, y: 0.0, width: width as f64, height: height as f64 };
        Self { file: Arc::new(file), source, ..self.clone() }
    }

    /// The picture in so many pixels across and down: each is the mean of what it covers, so no detail comes or goes
    /// with the place at which it falls.
    pub fn pixels(&self, columns: usize, rows: usize) -> Vec<[u8; 3]> {
        let picture = &self.file.picture;
        let across = pixel_shares(self.source.x, self.source.width, columns, picture.width);
        let down = pixel_shares(self.source.y, self.source.height, rows, picture.height);
        let left = across.first().map_or(0, |pixel| pixel.range.start);
        let right = across.last().map_or(0, |pixel| pixel.range.end);
        let row_of_pixels = |PixelShares { range, shares }: &PixelShares| {
            // Channel by channel, side by side, which processors add up several at a time.
            let mut row = vec![0.0_f32; 3 * (right - left)];
            for (at, share) in range.clone().zip(shares) {
                let samples = picture.pixels.get(at * picture.width + left..at * picture.width + right);
                for (sum, sample) in row.iter_mut().zip(samples.unwrap_or_default().as_flattened()) {
                    *sum += f32::from(*sample) * share;
                }
            }
            let pixel = |PixelShares { range, shares }: &PixelShares| {
                let samples = row[3 * (range.start - left)..3 * (range.end - left)].chunks_exact(3);
                let mut mean = [0.0_f32; 3];
                for (sample, share) in samples.zip(shares) {
                    mean.iter_mut().zip(sample).for_each(|(sum, sample)| *sum += sample * share);
                }
                // Rounded: no mean is below nothing.
                mean.map(|mean| (mean + 0.5) as u8)
            };
            across.iter().map(pixel).collect::<Vec<_>>()
        };
        down.par_iter().flat_map_iter(row_of_pixels).collect()
    }
}

/// A stretch of samples parted into pixels; the samples go on beyond their first and last as those are.
fn pixel_shares(start: f64, length: f64, pixels: usize, samples: usize) -> Vec<PixelShares> {
    let last = samples.saturating_sub(1);
    let within = |place: f64| (place.max(0.0) as usize).min(last);
    let step = length / pixels.max(1) as f64;
    let shares_of = |pixel: usize| {
        let (from, to) = (start + step * pixel as f64, start + step * (pixel + 1) as f64);
        let range = within(from.floor())..within(to.ceil() - 1.0).max(within(from.floor())) + 1;
        let covered = |sample: usize| {
            let (first, end) = (sample == range.start, sample + 1 == range.end);
            let low = if first { from } else { sample as f64 };
            let high = if end { to } else { (sample + 1) as f64 };
            ((high - low).max(0.0) / step) as f32
        };
        let shares = range.clone().map(covered).collect();
        PixelShares { range: range.clone(), shares }
    };
    (0..pixels).map(shares_of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn art(width: usize, height: usize, source: [f64; 4]) -> SheetArt {
        let shade = |number: usize| [(number % width * 10) as u8, (number / width * 20) as u8, 7];
        let pixels = (0..width * height).map(shade).collect();
        let picture = Picture { width, height, pixels, model: ColourModel::Rgb };
        let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: Default::default() };
        let [x, y, width, height] = source;
        let side = Length::inches(1.0);
        let rect = Rect { width: side, height: side, ..Rect::default() };
        SheetArt { file: Arc::new(file), source: PixelRect { x, y, width, height }, rect, form: None }
    }

    #[test]
    fn at_its_own_size_a_picture_is_what_it_is() {
        let art = art(6, 5, [1.0, 2.0, 3.0, 2.0]);
        let expected = [[10, 40, 7], [20, 40, 7], [30, 40, 7], [10, 60, 7], [20, 60, 7], [30, 60, 7]];
        assert_eq!(art.pixels(3, 2), expected);
        assert_eq!((art.size_at(300.0), art.size_at(2.0)), ((3, 2), (2, 2)));
    }

    #[test]
    fn a_pixel_is_the_mean_of_what_it_covers() {
        assert_eq!(art(4, 4, [0.0, 0.0, 4.0, 4.0]).pixels(2, 1), [[5, 30, 7], [25, 30, 7]]);
        // A pixel and a half: the second counts for half as much as the first.
        assert_eq!(art(4, 1, [0.0, 0.0, 3.0, 1.0]).pixels(2, 1), [[3, 0, 7], [17, 0, 7]]);
    }

    #[test]
    fn a_picture_with_fewer_pixels_is_the_means_of_its_part() {
        let [art, small] = [4.0, 2.0].map(|resolution| art(6, 5, [1.0, 1.0, 4.0, 4.0]).at_most(resolution));
        assert_eq!((art.size_at(300.0), small.size_at(300.0)), ((4, 4), (2, 2)));
        assert_eq!(small.file.picture.pixels, [[15, 30, 7], [35, 30, 7], [15, 70, 7], [35, 70, 7]]);
    }

    #[test]
    fn a_picture_goes_on_beyond_its_edges_as_it_ends_there() {
        assert_eq!(art(2, 1, [-1.0, 0.0, 4.0, 1.0]).pixels(4, 1), [[0, 0, 7], [0, 0, 7], [10, 0, 7], [10, 0, 7]]);
    }
}
