//! A picture in few colours: its own where they are few enough, else those of a median cut, dithered.
//!
//! Sources: P. Heckbert 1982, median cut; B. E. Bayer 1973, ordered dither.

use std::collections::HashMap;

use super::Raster;
use super::blocks::{BAYER, distance};

/// The bits of each channel by which colours are grouped before they are cut.
const BITS: u32 = 5;

/// How far the dither moves a colour, in steps of sRGB: as far apart as the colours of a cut usually are.
const DITHER: f32 = 12.0;

/// A picture as numbers of its colours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Indexed {
    /// The colours, at most as many as were asked for.
    pub(super) colours: Vec<[u8; 3]>,
    /// The number of each pixel's colour, row by row.
    pub(super) pixels: Vec<u8>,
}

/// A picture in at most `most` colours, which are at least 2 and at most 256.
pub(super) fn indexed(raster: &Raster, most: usize) -> Indexed {
    let most = most.clamp(2, 256);
    own_colours(raster, most).unwrap_or_else(|| cut_colours(raster, most))
}

/// The picture as it is, if it has few enough colours.
fn own_colours(raster: &Raster, most: usize) -> Option<Indexed> {
    let mut numbers: HashMap<[u8; 3], u8> = HashMap::new();
    let (mut colours, mut pixels) = (Vec::new(), Vec::with_capacity(raster.pixels.len()));
    let mut before = None;
    for colour in &raster.pixels {
        // Most pixels of a page are as the one before.
        let number = match before.filter(|(last, _)| last == colour) {
            Some((_, number)) => number,
            None => match numbers.get(colour) {
                Some(number) => *number,
                None if colours.len() == most => return None,
                None => {
                    let number = colours.len() as u8;
                    numbers.insert(*colour, number);
                    colours.push(*colour);
                    number
                }
            },
        };
        before = Some((*colour, number));
        pixels.push(number);
    }
    Some(Indexed { colours, pixels })
}

/// The group of a colour.
fn group(colour: [u8; 3]) -> usize {
    colour.iter().fold(0, |group, step| group << BITS | usize::from(step >> (8 - BITS)))
}

/// The picture in the colours of a median cut.
fn cut_colours(raster: &Raster, most: usize) -> Indexed {
    let colours = median_cut(raster, most);
    let mut nearest: Vec<Option<u8>> = vec![None; 1 << (3 * BITS)];
    let width = raster.width.max(1);
    let number = |(at, colour): (usize, &[u8; 3])| {
        let threshold = f32::from(BAYER[at / width % 4][at % width % 4]) / 16.0 - 15.0 / 32.0;
        let moved = colour.map(|step| (f32::from(step) + threshold * DITHER).clamp(0.0, 255.0) as u8);
        *nearest[group(moved)].get_or_insert_with(|| {
            // The middle of the group stands for all of it.
            let middle = moved.map(|step| (step >> (8 - BITS) << (8 - BITS)) | 1 << (7 - BITS));
            (0..colours.len()).min_by_key(|number| distance(colours[*number], middle)).unwrap_or(0) as u8
        })
    };
    let pixels = raster.pixels.iter().enumerate().map(number).collect();
    Indexed { colours, pixels }
}

/// The colours of a group of pixels: the sum of each channel, and how many pixels they are.
#[derive(Clone, Copy, Default)]
struct Group {
    sum: [u64; 3],
    count: u64,
}

impl Group {
    fn mean(&self) -> [u8; 3] {
        self.sum.map(|sum| (sum / self.count.max(1)) as u8)
    }
}

/// Cuts the colours of a picture into boxes, the one with the most to lose first, and gives the mean of each.
fn median_cut(raster: &Raster, most: usize) -> Vec<[u8; 3]> {
    let mut groups = vec![Group::default(); 1 << (3 * BITS)];
    for colour in &raster.pixels {
        let found = &mut groups[group(*colour)];
        found.count += 1;
        for (sum, step) in found.sum.iter_mut().zip(colour) {
            *sum += u64::from(*step);
        }
    }
    // Most groups have no pixel, and a box of none has no mean.
    groups.retain(|group| group.count > 0);
    let mut boxes = vec![(cost(&groups), groups)];
    while boxes.len() < most {
        // The box that loses most by being one colour is cut next; where none loses anything, more colours would be
        // spent for nothing.
        let dearest = (0..boxes.len()).max_by_key(|at| boxes[*at].0.0).filter(|at| boxes[*at].0.0 > 0);
        let Some(at) = dearest else { break };
        let ((_, channel), mut groups) = boxes.swap_remove(at);
        groups.sort_by_key(|group| group.mean()[channel]);
        // It is cut where half of its pixels are, so that large areas get the finer steps.
        let half: u64 = groups.iter().map(|group| group.count).sum::<u64>() / 2;
        let mut sum = 0;
        let middle = groups.iter().position(|group| {
            sum += group.count;
            sum > half
        });
        // Neither part may be empty, however many pixels one group has.
        let upper = groups.split_off(middle.unwrap_or(0).clamp(1, groups.len() - 1));
        boxes.extend([groups, upper].map(|part| (cost(&part), part)));
    }
    let whole = |groups: &Vec<Group>| {
        let add = |one: Group, other: &Group| Group {
            sum: std::array::from_fn(|channel| one.sum[channel] + other.sum[channel]),
            count: one.count + other.count,
        };
        groups.iter().fold(Group::default(), add).mean()
    };
    boxes.iter().map(|(_, groups)| whole(groups)).collect()
}

/// What a box of colours loses while it is one colour, roughly: its pixels times the square of its widest channel; and
/// which channel that is. Nothing where it cannot be cut.
fn cost(groups: &[Group]) -> (u64, usize) {
    if groups.len() < 2 {
        return (0, 0);
    }
    let spread = |channel: usize| {
        let steps = || groups.iter().map(|group| group.mean()[channel]);
        u64::from(steps().max().unwrap_or(0) - steps().min().unwrap_or(0))
    };
    let channel = (0..3).max_by_key(|channel| spread(*channel)).unwrap_or(0);
    let pixels: u64 = groups.iter().map(|group| group.count).sum();
    (pixels * spread(channel).pow(2), channel)
}

#[cfg(test)]
mod tests {
    use super::{Raster, indexed};

    fn gradient(side: usize) -> Raster {
        let step = |at: usize| (at * 255 / (side - 1)) as u8;
        let pixels = (0..side * side).map(|at| [step(at % side), step(at / side), 255 - step(at % side)]).collect();
        Raster { width: side, height: side, pixels }
    }

    #[test]
    fn few_colours_stay_as_they_are() {
        let pixels = vec![[255; 3], [17; 3], [192, 0, 0], [17; 3]];
        let found = indexed(&Raster { width: 2, height: 2, pixels: pixels.clone() }, 3);
        let back: Vec<[u8; 3]> = found.pixels.iter().map(|number| found.colours[usize::from(*number)]).collect();
        assert_eq!((back, found.colours.len()), (pixels, 3));
    }

    #[test]
    fn many_colours_become_as_many_as_were_asked_for_and_keep_their_mean() {
        let given = gradient(64);
        for most in [2, 16, 64, 256] {
            let found = indexed(&given, most);
            assert!(found.colours.len() <= most, "{most}");
            let shown = |at: usize| found.colours[usize::from(found.pixels[at])];
            for channel in 0..3 {
                let sum = |of: &dyn Fn(usize) -> u8| (0..64 * 64).map(|at| u64::from(of(at))).sum::<u64>() / (64 * 64);
                let (own, shown) = (sum(&|at| given.pixels[at][channel]), sum(&|at| shown(at)[channel]));
                assert!(own.abs_diff(shown) <= 4, "{most}: {own} {shown}");
            }
        }
    }

    #[test]
    fn one_colour_and_no_pixel_are_no_fault() {
        assert_eq!(indexed(&Raster { width: 1, height: 1, pixels: vec![[3; 3]] }, 256).colours, [[3; 3]]);
        assert!(indexed(&Raster { width: 0, height: 0, pixels: Vec::new() }, 256).pixels.is_empty());
    }
}
