//! The outline of a picture: the edges of the pixels that are more opaque than a share, traced along the pixels.
//!
//! Source: Portable Network Graphics (third edition), 4.2 and 12. That a pixel counts when its alpha is greater
//! than the share is CSS Shapes Module Level 1, `shape-image-threshold`.

use std::io::Cursor;

use png::{BitDepth, Decoder, DecodingError, InterlaceInfo, Limits, Reader, Transformations};

use super::thinning::Spot;
use super::{OutlineFault, outline};
use crate::brief::place::FileOutline;

/// The most pixels of a picture: as many as a cover of half a metre has at 400 to the inch.
const MOST_PIXELS: u64 = 64_000_000;
/// The most corners of an outline along its pixels; a picture of noise has one at every pixel.
const MOST_CORNERS: usize = 2_000_000;
/// How much memory the decoder may take beside the pixels.
const DECODER_BYTES: usize = 64 * 1024 * 1024;
/// How far, in pixels, straight edges may be off the steps that pixels make.
const STEP_OFF: f64 = 0.75;

const SAVE_AGAIN: &str = "save it again as a PNG with transparency";

/// The outline of what is more opaque in a PNG than a share in percent; the whole picture fills the box.
///
/// # Errors
///
/// A picture that is damaged, too large, without transparency, or without a pixel that is opaque enough.
pub fn outline_of_picture(bytes: &[u8], opacity: f64) -> Result<FileOutline, OutlineFault> {
    let mut mask = Mask::read(bytes, opacity)?;
    if !mask.pixels.contains(&IN) {
        let problem = match opacity > 0.0 {
            true => format!("nothing in it is more opaque than {opacity}%"),
            false => "all of it is transparent".to_owned(),
        };
        return Err(OutlineFault::new(problem, "take a smaller opacity, or another picture"));
    }
    let rings = mask.rings().ok_or_else(|| {
        OutlineFault::new(
            "what is opaque in it has too many corners, as a speckled picture has",
            "write { file: , opacity: 20% } to leave out what is nearly transparent, or take another picture",
        )
    })?;
    let (width, height, longer) = (mask.width as f64, mask.height as f64, mask.longer());
    let outline = outline(rings, (width / longer, height / longer), 0.0, STEP_OFF / longer);
    Ok(FileOutline { proportions: Some(width / height), ..outline })
}

/// A pixel that belongs to the form, and one whose upper edge has been walked along.
const IN: u8 = 1;
const WALKED: u8 = 2;

/// Which pixels belong to the form, row by row: [`IN`], or with [`WALKED`], or 0.
struct Mask {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

impl Mask {
    fn read(bytes: &[u8], opacity: f64) -> Result<Self, OutlineFault> {
        let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: DECODER_BYTES });
        decoder.set_ignore_text_chunk(true);
        decoder.set_ignore_iccp_chunk(true);
        decoder.set_transformations(Transformations::EXPAND);
        let header = decoder.read_header_info().map_err(unreadable)?;
        let (width, height) = (header.width, header.height);
        let pixels = u64::from(width) * u64::from(height);
        if pixels > MOST_PIXELS {
            return Err(OutlineFault::new(
                format!("it has {width} x {height} pixels, and {} million are the most", MOST_PIXELS / 1_000_000),
                "save it smaller: an outline needs no more than 300 to the inch",
            ));
        }
        let mut reader = decoder.read_info().map_err(unreadable)?;
        let (colour, depth) = reader.output_color_type();
        if !matches!(colour, png::ColorType::Rgba | png::ColorType::GrayscaleAlpha) {
            return Err(OutlineFault::new(
                "it has no transparency, so its shape is the whole box",
                "save it with a transparent background, or leave the shape out",
            ));
        }
        let mut mask = Self { width: width as usize, height: height as usize, pixels: vec![0; pixels as usize] };
        mask.fill(&mut reader, colour.samples(), depth, opacity / 100.0).map_err(unreadable)?;
        Ok(mask)
    }

    /// Fills in the pixels from the rows, which come in seven passes where a picture is interlaced.
    fn fill(
        &mut self,
        reader: &mut Reader<Cursor<&[u8]>>,
        samples: usize,
        depth: BitDepth,
        share: f64,
    ) -> Result<(), DecodingError> {
        let of_pixel = if depth == BitDepth::Sixteen { samples * 2 } else { samples };
        let is_opaque = |pixel: &[u8]| match depth {
            BitDepth::Sixteen => {
                let alpha = u16::from_be_bytes([pixel[of_pixel - 2], pixel[of_pixel - 1]]);
                f64::from(alpha) > share * f64::from(u16::MAX)
            }
            _ => f64::from(pixel[of_pixel - 1]) > share * f64::from(u8::MAX),
        };
        let (mut row_number, mut flags) = (0, Vec::with_capacity(self.width));
        while let Some(row) = reader.next_interlaced_row()? {
            flags.clear();
            flags.extend(row.data().chunks_exact(of_pixel).map(|pixel| u8::from(is_opaque(pixel))));
            match row.interlace() {
                InterlaceInfo::Null(_) => {
                    let start = row_number * self.width;
                    let own = self.pixels[start..].iter_mut().take(self.width);
                    own.zip(&flags).for_each(|(pixel, flag)| *pixel = *flag);
                    row_number += 1;
                }
                InterlaceInfo::Adam7(pass) => {
                    png::expand_interlaced_row(&mut self.pixels, self.width, &flags, pass, 8);
                }
            }
        }
        Ok(())
    }

    /// How many pixels the longer side has.
    fn longer(&self) -> f64 {
        self.width.max(self.height) as f64
    }

    /// Whether the pixel belongs to the form; outside the picture none does.
    fn holds(&self, x: i64, y: i64) -> bool {
        let is_in = (0..self.width as i64).contains(&x) && (0..self.height as i64).contains(&y);
        is_in && self.pixels[y as usize * self.width + x as usize] & IN != 0
    }

    /// The rings along the edges of the form, its points as shares of the picture's longer side. Pixels that meet at a
    /// corner alone are apart. None where there are too many corners.
    fn rings(&mut self) -> Option<Vec<Vec<Spot>>> {
        // Every ring has an edge that goes to the right with the form below it: the upper edge of a pixel.
        let (mut rings, mut corners) = (Vec::new(), 0);
        for y in 0..self.height as i64 {
            for x in 0..self.width as i64 {
                let is_upper_edge = self.holds(x, y) && !self.holds(x, y - 1);
                if !is_upper_edge || self.pixels[y as usize * self.width + x as usize] & WALKED != 0 {
                    continue;
                }
                let ring = self.ring_from((x, y), MOST_CORNERS - corners)?;
                corners += ring.len();
                rings.push(ring);
            }
        }
        Some(rings)
    }

    /// The ring that begins with the upper edge of a pixel; the form is always to the right of the way.
    fn ring_from(&mut self, start: (i64, i64), most: usize) -> Option<Vec<Spot>> {
        let longer = self.longer();
        let (mut at, mut way) = (start, (1_i64, 0_i64));
        let mut ring = Vec::new();
        loop {
            if way == (1, 0) {
                self.pixels[at.1 as usize * self.width + at.0 as usize] |= WALKED;
            }
            at = (at.0 + way.0, at.1 + way.1);
            // The pixels ahead: on the way, and to the right and to the left of it.
            let right = match way {
                (1, 0) => at,
                (0, 1) => (at.0 - 1, at.1),
                (-1, 0) => (at.0 - 1, at.1 - 1),
                _ => (at.0, at.1 - 1),
            };
            let left = (right.0 + way.1, right.1 - way.0);
            let next = match (self.holds(right.0, right.1), self.holds(left.0, left.1)) {
                (false, _) => (-way.1, way.0),
                (true, true) => (way.1, -way.0),
                (true, false) => way,
            };
            if next != way {
                if ring.len() == most {
                    return None;
                }
                ring.push((at.0 as f64 / longer, at.1 as f64 / longer));
                way = next;
            }
            if at == start && way == (1, 0) {
                return Some(ring);
            }
        }
    }
}

fn unreadable(error: DecodingError) -> OutlineFault {
    let problem = match &error {
        DecodingError::IoError(error) if error.kind() == std::io::ErrorKind::UnexpectedEof => {
            "the picture ends before its last row"
        }
        DecodingError::LimitsExceeded => "reading it would take too much memory",
        _ => "the picture is damaged",
    };
    OutlineFault::new(problem, SAVE_AGAIN)
}
