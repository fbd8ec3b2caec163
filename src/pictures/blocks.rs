//! Pictures in cells: a cell shows two colours, which meet along a half or a quarter of it.
//!
//! Sources: The Unicode Standard, Block Elements (U+2580 to U+259F); xterm's 256 colours (256colres.h): a cube of
//! 6 x 6 x 6, and 24 greys.

use super::Raster;
use super::light::{light, mean, mixed};
use crate::artwork::light::{lightness, luminance_of};

/// How many colours a terminal shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColourDepth {
    /// Every colour of sRGB.
    True,
    /// The 256 colours of xterm.
    Indexed,
    /// The sixteen colours that every terminal has; of these, the four greys.
    Sixteen,
    /// None: light is told by the density of a sign.
    None,
}

/// A colour as a terminal is told it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellColour {
    /// A colour of sRGB.
    Rgb([u8; 3]),
    /// One of xterm's 256 colours; below 16, one of the sixteen.
    Index(u8),
}

/// The smallest parts of a cell for which the terminal has a sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocks {
    /// Quarters.
    Quarters,
    /// Halves.
    Halves,
}

/// What a cell shows of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlockCell {
    /// The sign, whose parts are drawn in the ink.
    pub sign: char,
    /// The colour of the sign and that of the rest; none where the terminal shows no colours.
    pub colours: Option<(CellColour, CellColour)>,
}

/// How many samples of a picture a cell takes, across and down.
pub const SAMPLES: usize = 2;

/// A sign, and which of the four quarters of a cell its ink covers, row by row.
type Cut = (char, [bool; 4]);

/// The ways in which a cell is cut into ink and ground. Every other way is one of these with ink and ground exchanged.
/// The half blocks come first, because every font has them.
const CUTS: [Cut; 7] = [
    ('\u{2580}', [true, true, false, false]),
    ('\u{258c}', [true, false, true, false]),
    ('\u{2598}', [true, false, false, false]),
    ('\u{259d}', [false, true, false, false]),
    ('\u{2596}', [false, false, true, false]),
    ('\u{2597}', [false, false, false, true]),
    ('\u{259a}', [true, false, false, true]),
];

/// How many of the ways are by half blocks.
const HALVES: usize = 2;

/// A quarter block has to be this much nearer to the picture than the half block, in squared steps of sRGB.
const WORTH: u32 = 64;

/// Signs from the lightest paper to the densest ink.
const DENSITIES: [char; 5] = [' ', '.', ':', '+', '#'];

/// The thresholds of Bayer's ordered dither of 4 x 4, from 0 to 15. Source: B. E. Bayer 1973.
pub(super) const BAYER: [[u8; 4]; 4] = [[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]];

/// A picture of `SAMPLES` pixels across and down for each cell, as rows of cells.
pub fn cells(raster: &Raster, depth: ColourDepth, blocks: Blocks) -> Vec<Vec<BlockCell>> {
    let (columns, rows) = (raster.width / SAMPLES, raster.height / SAMPLES);
    let at = |x: usize, y: usize| raster.pixels[y * raster.width + x];
    let quarters = |column: usize, row: usize| {
        let (x, y) = (column * SAMPLES, row * SAMPLES);
        [at(x, y), at(x + 1, y), at(x, y + 1), at(x + 1, y + 1)]
    };
    let cuts = match blocks {
        Blocks::Quarters => &CUTS[..],
        Blocks::Halves => &CUTS[..HALVES],
    };
    let row = |row: usize| (0..columns).map(|column| cell(quarters(column, row), (column, row), depth, cuts)).collect();
    (0..rows).map(row).collect()
}

/// The cell that is nearest to four quarters of a picture.
fn cell(quarters: [[u8; 3]; 4], place: (usize, usize), depth: ColourDepth, cuts: &[Cut]) -> BlockCell {
    if depth == ColourDepth::None {
        let dark = 1.0 - lightness(luminance_of(mixed(quarters))) / 100.0;
        let density = (dark * (DENSITIES.len() - 1) as f64).round().max(0.0) as usize;
        return BlockCell { sign: DENSITIES[density.min(DENSITIES.len() - 1)], colours: None };
    }
    let (sign, ink, ground) = cut(quarters, cuts);
    let shown = |colour, side| shown(colour, (place.0, place.1 * 2 + side), depth);
    let (ink, ground) = (shown(ink, 0), shown(ground, 1));
    BlockCell { sign: if ink == ground { ' ' } else { sign }, colours: Some((ink, ground)) }
}

/// The cut with the least error, with its two colours.
fn cut(quarters: [[u8; 3]; 4], cuts: &[Cut]) -> (char, [u8; 3], [u8; 3]) {
    let lights = quarters.map(light);
    let tried = |(sign, inked): Cut| {
        let side = |wanted: bool| {
            mean(lights.iter().zip(inked).filter(|(_, inked)| *inked == wanted).map(|(light, _)| *light))
        };
        let (ink, ground) = (side(true), side(false));
        let miss = |(colour, inked): (&[u8; 3], bool)| distance(*colour, if inked { ink } else { ground });
        let error: u32 = quarters.iter().zip(inked).map(miss).sum();
        (error, sign, ink, ground)
    };
    let mut best = tried(CUTS[0]);
    for other in cuts.iter().skip(1).copied().map(tried) {
        if other.0 + WORTH < best.0 {
            best = other;
        }
    }
    (best.1, best.2, best.3)
}

/// A colour as a terminal of some depth shows it at a place, where neighbours make up for what one cell lacks.
fn shown(colour: [u8; 3], (x, y): (usize, usize), depth: ColourDepth) -> CellColour {
    let threshold = f32::from(BAYER[y % 4][x % 4]) / 16.0 - 15.0 / 32.0;
    let moved = |by: f32| colour.map(|step| (f32::from(step) + threshold * by).round().clamp(0.0, 255.0) as u8);
    match depth {
        ColourDepth::True | ColourDepth::None => CellColour::Rgb(colour),
        ColourDepth::Indexed => CellColour::Index(indexed(moved(24.0))),
        // Four greys are so far apart that a mixture of them would be taken for a pattern of the art.
        ColourDepth::Sixteen => CellColour::Index(grey_of_sixteen(colour)),
    }
}

/// A colour that stands by itself, such as the ground of a word, as a terminal shows it; none where there are no
/// colours.
pub fn plain(colour: [u8; 3], depth: ColourDepth) -> Option<CellColour> {
    match depth {
        ColourDepth::True => Some(CellColour::Rgb(colour)),
        ColourDepth::Indexed => Some(CellColour::Index(indexed(colour))),
        ColourDepth::Sixteen => Some(CellColour::Index(grey_of_sixteen(colour))),
        ColourDepth::None => None,
    }
}

/// The nearest of xterm's colours of the cube and of the greys.
fn indexed(colour: [u8; 3]) -> u8 {
    let part = colour.map(|step| match step {
        0..48 => 0_u8,
        48..115 => 1,
        _ => (step - 35) / 40,
    });
    let level = |part: u8| if part == 0 { 0 } else { 55 + part * 40 };
    let cube = part.map(level);
    let mean = colour.iter().map(|step| u32::from(*step)).sum::<u32>() / 3;
    let grey = (mean.saturating_sub(3) / 10).min(23) as u8;
    if distance(colour, [8 + grey * 10; 3]) < distance(colour, cube) {
        232 + grey
    } else {
        16 + part[0] * 36 + part[1] * 6 + part[2]
    }
}

/// The nearest of the four greys among the sixteen colours: black, dark grey, light grey, white. The steps are those of
/// xterm; other terminals have similar ones.
fn grey_of_sixteen(colour: [u8; 3]) -> u8 {
    const GREYS: [(u8, u8); 4] = [(0, 0), (8, 127), (7, 229), (15, 255)];
    let near = |(_, step): &(u8, u8)| distance(colour, [*step; 3]);
    GREYS.into_iter().min_by_key(near).map_or(0, |(index, _)| index)
}

/// The squared distance of two colours in steps of sRGB.
pub(super) fn distance(one: [u8; 3], other: [u8; 3]) -> u32 {
    one.iter().zip(other).map(|(one, other)| u32::from(one.abs_diff(other)).pow(2)).sum()
}

#[cfg(test)]
mod tests {
    use super::{BlockCell, Blocks, CellColour, ColourDepth, Raster, cells, indexed};

    const B: [u8; 3] = [0; 3];
    const W: [u8; 3] = [255; 3];
    const RED: [u8; 3] = [200, 30, 20];

    fn one(quarters: [[u8; 3]; 4], depth: ColourDepth) -> BlockCell {
        cells(&Raster { width: 2, height: 2, pixels: quarters.to_vec() }, depth, Blocks::Quarters)[0][0]
    }

    fn of(sign: char, ink: [u8; 3], ground: [u8; 3]) -> BlockCell {
        BlockCell { sign, colours: Some((CellColour::Rgb(ink), CellColour::Rgb(ground))) }
    }

    #[test]
    fn a_cell_takes_the_cut_that_shows_its_quarters() {
        assert_eq!(one([RED, RED, B, B], ColourDepth::True), of('▀', RED, B));
        assert_eq!(one([RED, B, RED, B], ColourDepth::True), of('▌', RED, B));
        assert_eq!(one([RED, B, B, B], ColourDepth::True), of('▘', RED, B));
        assert_eq!(one([B, W, W, B], ColourDepth::True), of('▚', B, W));
        assert_eq!(one([W, W, W, B], ColourDepth::True), of('▗', B, W));
        assert_eq!(one([RED; 4], ColourDepth::True), of(' ', RED, RED));
    }

    #[test]
    fn without_colours_denser_is_darker() {
        let sign = |colour| one([colour; 4], ColourDepth::None);
        assert_eq!(sign(W), BlockCell { sign: ' ', colours: None });
        assert_eq!(sign(B), BlockCell { sign: '#', colours: None });
        assert_eq!(sign([128; 3]).sign, ':');
    }

    /// Source: xterm's 256colres.h, of which 16 is black, 231 white, 196 pure red, and 232 to 255 greys of 8 to 238.
    #[test]
    fn the_nearest_of_256_colours_is_found() {
        assert_eq!([B, W, [255, 0, 0], [8; 3], [238; 3], [95, 135, 175]].map(indexed), [16, 231, 196, 232, 255, 67]);
        for index in 16..=231_u8 {
            let part = |by: u8| (index - 16) / by % 6;
            let level = |part: u8| if part == 0 { 0 } else { 55 + part * 40 };
            assert_eq!(indexed([level(part(36)), level(part(6)), level(part(1))]), index);
        }
    }

    #[test]
    fn a_colour_between_two_of_256_is_made_of_both() {
        let raster = Raster { width: 8, height: 8, pixels: vec![[115, 115, 175]; 64] };
        let rows = cells(&raster, ColourDepth::Indexed, Blocks::Quarters);
        let mut shown: Vec<_> = rows.iter().flatten().filter_map(|cell| cell.colours).map(|(ink, _)| ink).collect();
        shown.dedup();
        assert!(shown.len() > 1, "{rows:?}");
        assert_eq!(one([[180; 3]; 4], ColourDepth::Sixteen).colours.map(|(ink, _)| ink), Some(CellColour::Index(7)));
    }

    #[test]
    fn odd_and_empty_pictures_have_whole_cells_only() {
        for (width, height, columns, rows) in [(0, 0, 0, 0), (1, 1, 0, 0), (3, 5, 1, 2)] {
            let raster = Raster { width, height, pixels: vec![W; width * height] };
            let found = cells(&raster, ColourDepth::True, Blocks::Quarters);
            assert_eq!((found.len(), found.first().map_or(0, Vec::len)), (rows, columns));
        }
    }
}
