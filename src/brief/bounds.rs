//! Every limit on what a brief may ask for, with its reason.
//!
//! The limits are there to catch slips of the pen (13 in for 13 pt), not to judge taste: they are far wider than any
//! habit of the trade.

use super::lengths::{self, Unit};
use crate::units::{Length, Size, trimmed};

/// The least and the most that a length in a brief may be, each in the unit in which the trade says it.
#[derive(Debug, Clone, Copy)]
pub struct Bound {
    least: (f64, Unit),
    most: (f64, Unit),
}

const fn bound(least: f64, most: f64, unit: Unit) -> Bound {
    Bound { least: (least, unit), most: (most, unit) }
}

/// Width and height of the trim: from a matchbox book to the largest sheet that is bound.
pub const TRIM: Bound = bound(1.0, 30.0, Unit::Inches);
/// Bleed: habits are 3 mm and 1/8 in.
pub(super) const BLEED: Bound = bound(0.0, 1.0, Unit::Inches);
/// How far boards stand past the pages: habits are 3 to 5 mm.
pub(super) const SQUARE: Bound = bound(0.0, 0.5, Unit::Inches);
/// How far the cover of a case is turned in over its boards: habits are 15 to 20 mm.
pub(super) const TURN_IN: Bound = bound(0.0, 2.0, Unit::Inches);
/// The width of a spine: from a book of one sheet to the thickest that is bound.
pub(super) const SPINE: Bound = bound(1.0, 100.0, Unit::Millimetres);
/// The joint of a case: habits are 8 to 10 mm.
pub(super) const JOINT: Bound = bound(0.0, 1.5, Unit::Inches);
/// The radius of a rounded corner: habits are 6 to 10 mm.
pub(super) const CORNER: Bound = bound(0.0, 1.0, Unit::Inches);
/// Margins, offsets of a keep-out and clearances; whether they leave room is checked against the panel.
pub const ROOM: Bound = bound(0.0, 30.0, Unit::Inches);
/// Width and height of a keep-out.
pub(super) const KEEP_OUT: Bound = Bound { least: (1.0, Unit::Points), most: (30.0, Unit::Inches) };
/// Type: below 3 pt nothing can be read, and above 200 pt a panel holds no word.
pub const SIZE: Bound = bound(3.0, 200.0, Unit::Points);
/// Leading in lengths.
pub const LEADING: Bound = bound(3.0, 400.0, Unit::Points);
/// The length of a to z in a font that is not at hand; whether it goes with the size is checked where both are read.
pub const ALPHABET: Bound = bound(10.0, 6000.0, Unit::Points);
/// Space above a block, and indents.
pub(super) const SPACE: Bound = bound(0.0, 10.0, Unit::Inches);

/// Leading as a percentage of the size: lines overprint below half of it.
pub(super) const LEADING_PERCENT: (f64, f64) = (50.0, 400.0);
/// Magnification of a barcode, in percent.
///
/// Source: GS1 General Specifications, section 5.2 (X-dimension from 0.264 to 0.660 mm at a target of 0.330).
pub(super) const BARCODE_PERCENT: (f64, f64) = (80.0, 200.0);
/// How opaque a picture may be outside its form, in percent: nothing is more opaque than all of it.
pub(super) const OPACITY_PERCENT: (f64, f64) = (0.0, 99.0);

/// How much of the art a tint may hide, in percent.
pub(super) const TINT_PERCENT: (f64, f64) = (0.0, 100.0);

impl Bound {
    /// Reads a length that has to be inside the bound.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected, in the unit of the text.
    pub fn length(&self, text: &str) -> Result<Length, String> {
        let (length, unit) = (lengths::length(text)?, Unit::of(text).unwrap_or(Unit::Points));
        self.check(length, unit).map_err(|problem| format!("\"{text}\" cannot be used: {problem}"))
    }

    /// Reads a size of which each side has to be inside the bound.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected, in the unit of the text.
    pub fn size(&self, text: &str) -> Result<Size, String> {
        let (size, unit) = (lengths::size(text)?, Unit::of(text).unwrap_or(Unit::Inches));
        let check = self.check(size.width, unit).and(self.check(size.height, unit));
        check.map_err(|problem| format!("\"{text}\" cannot be used: each side, {problem}"))?;
        Ok(size)
    }

    /// The length if it is inside the bound; if not, the problem as a message tells it, in the unit of the length.
    fn check(&self, length: Length, unit: Unit) -> Result<Length, String> {
        let end = |(number, unit): (f64, Unit)| unit.length(number);
        let inside = end(self.least).fits(length) && length.fits(end(self.most));
        if inside { Ok(length) } else { Err(format!("it must be {}", self.words(unit))) }
    }

    /// The bound in `unit`: `from 1 in to 30 in`. Where an end is not a short number in that unit, the bound's own unit
    /// follows in brackets: `from 0.042 in to 2.777 in (3 pt to 200 pt)`.
    fn words(&self, unit: Unit) -> String {
        let home =
            |(number, unit): (f64, Unit)| (number > 0.0).then(|| format!("{} {}", trimmed(number, 3), unit.name()));
        let there = |(number, own): (f64, Unit), round: fn(f64) -> f64| {
            let short = round(unit.of_it(own.length(number)) * SHORT) / SHORT;
            (number > 0.0).then(|| format!("{} {}", trimmed(short, 3), unit.name()))
        };
        let is_short = |(number, own): (f64, Unit)| {
            let length = own.length(number);
            unit.length((unit.of_it(length) * SHORT).round() / SHORT) == length
        };
        let range = |least: Option<String>, most: Option<String>| {
            format!("{} to {}", least.unwrap_or("0".to_owned()), most.unwrap_or("0".to_owned()))
        };
        if is_short(self.least) && is_short(self.most) {
            return format!("from {}", range(there(self.least, f64::round), there(self.most, f64::round)));
        }
        // The ends are rounded inwards, so that a length that is typed as told is inside the bound.
        let inwards = range(there(self.least, f64::ceil), there(self.most, f64::floor));
        format!("from {inwards} ({})", range(home(self.least), home(self.most)))
    }
}

/// A short number has three decimals at most.
const SHORT: f64 = 1000.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bound_is_told_in_the_unit_that_was_written() {
        let told = |bound: Bound, unit: Unit| bound.check(Length::pt(100_000.0), unit);
        for (bound, unit, words) in [
            (TRIM, Unit::Inches, "it must be from 1 in to 30 in"),
            (TRIM, Unit::Millimetres, "it must be from 25.4 mm to 762 mm"),
            (BLEED, Unit::Centimetres, "it must be from 0 to 2.54 cm"),
            (SIZE, Unit::Points, "it must be from 3 pt to 200 pt"),
            (SIZE, Unit::Picas, "it must be from 0.25 pc to 16.666 pc (3 pt to 200 pt)"),
            (SIZE, Unit::Inches, "it must be from 0.042 in to 2.777 in (3 pt to 200 pt)"),
            (KEEP_OUT, Unit::Inches, "it must be from 0.014 in to 30 in (1 pt to 30 in)"),
        ] {
            assert_eq!(told(bound, unit), Err(words.to_owned()));
        }
    }
}
