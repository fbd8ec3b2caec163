//! Every limit on what a brief may ask for, with its reason.
//!
//! These keep out slips of the pen (13 in for 13 pt), not taste: they are far wider than any habit of the trade.

use crate::units::Length;

/// The least and the most that a length in a brief may be.
#[derive(Debug, Clone, Copy)]
pub struct Bound {
    /// In points.
    least: f64,
    /// In points.
    most: f64,
    /// As a message writes it: `from 3 pt to 200 pt`.
    words: &'static str,
}

/// Width and height of the trim: from a matchbox book to the largest sheet that is bound.
pub const TRIM: Bound = Bound { least: 72.0, most: 30.0 * 72.0, words: "from 1 in to 30 in" };
/// Bleed: habits are 3 mm and 1/8 in.
pub const BLEED: Bound = Bound { least: 0.0, most: 72.0, words: "from 0 to 1 in" };
/// How far boards stand past the pages: habits are 3 to 5 mm.
pub const SQUARE: Bound = Bound { least: 0.0, most: 36.0, words: "from 0 to 0.5 in" };
/// How far the cover of a case is turned in over its boards: habits are 15 to 20 mm.
pub const TURN_IN: Bound = Bound { least: 0.0, most: 144.0, words: "from 0 to 2 in" };
/// The joint of a case: habits are 8 to 10 mm.
pub const JOINT: Bound = Bound { least: 0.0, most: 108.0, words: "from 0 to 1.5 in" };
/// The radius of a rounded corner: habits are 6 to 10 mm.
pub const CORNER: Bound = Bound { least: 0.0, most: 72.0, words: "from 0 to 1 in" };
/// Margins, offsets of a keep-out and clearances; whether they leave room is checked against the panel.
pub const ROOM: Bound = Bound { least: 0.0, most: 30.0 * 72.0, words: "from 0 to 30 in" };
/// Width and height of a keep-out.
pub const KEEP_OUT: Bound = Bound { least: 1.0, most: 30.0 * 72.0, words: "from 1 pt to 30 in" };
/// Type: below 3 pt nothing can be read, and above 200 pt a panel holds no word.
pub const SIZE: Bound = Bound { least: 3.0, most: 200.0, words: "from 3 pt to 200 pt" };
/// Leading in lengths.
pub const LEADING: Bound = Bound { least: 3.0, most: 400.0, words: "from 3 pt to 400 pt" };
/// The length of a to z: whether it goes with its size is checked with that.
pub const ALPHABET: Bound = Bound { least: 10.0, most: 6000.0, words: "from 10 pt to 6000 pt" };
/// Space above a block, and indents.
pub const SPACE: Bound = Bound { least: 0.0, most: 720.0, words: "from 0 to 10 in" };

/// Leading as a percentage of the size: lines overprint below half of it.
pub const LEADING_PERCENT: (f64, f64) = (50.0, 400.0);
/// Magnification of a barcode, in percent.
///
/// Source: GS1 General Specifications, section 5.2 (X-dimension from 0.264 to 0.660 mm at a target of 0.330).
pub const BARCODE_PERCENT: (f64, f64) = (80.0, 200.0);

impl Bound {
    /// Whether a length is inside the bound; if not, how a message says so.
    pub fn check(&self, length: Length) -> Result<Length, String> {
        let inside = Length::pt(self.least).fits(length) && length.fits(Length::pt(self.most));
        if inside { Ok(length) } else { Err(format!("it must be {}", self.words)) }
    }
}
