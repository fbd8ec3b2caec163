//! The room that a barcode takes on a cover, by the published standard.
//!
//! Sources: GS1 General Specifications, section 5.2, as summarised by GS1 Sweden (size guide) and GS1 Ireland (EAN-13
//! page): a module of 0.330 mm at 100 %, 95 modules of bars with 11 light ones before and 7 after; an add-on of 20
//! modules (two digits) or 47 (five digits) follows at a gap of 7 to 12 modules and has 5 light ones after it. ISBN
//! Users' Manual, chapter on printing: the ISBN stands above the bars in 9 point or larger.

use super::bounds;
use crate::units::{Length, Size};

/// The digits beside the main symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AddOn {
    /// None, as most books outside North America have it.
    #[default]
    None,
    /// Two digits.
    TwoDigit,
    /// Five digits, which carry the price.
    Price,
}

/// The names by which a brief asks for an add-on.
pub(super) const ADD_ONS: [(&str, AddOn); 3] =
    [("none", AddOn::None), ("two-digit", AddOn::TwoDigit), ("price", AddOn::Price)];

const MODULE_MM: f64 = 0.330;
const LIGHT_BEFORE: u32 = 11;
const BARS: u32 = 95;
const LIGHT_AFTER: u32 = 7;
/// The widest gap that is allowed, so that the box holds whatever the barcode's maker draws.
const GAP: u32 = 12;
const LIGHT_AFTER_ADD_ON: u32 = 5;

/// The height of bars, guard bars and the figures below. GS1's figure is 25.93 mm, a national page has 27.85 mm: the
/// larger height is kept free.
const HEIGHT_MM: f64 = 27.85;

/// The line of the ISBN above the bars. It does not grow with the symbol.
const ISBN_LINE_PT: f64 = 9.0;

/// The white that stays round the box where the brief gives no clearance. Common practice: 1.5 to 2 mm.
pub(super) const USUAL_CLEARANCE_MM: f64 = 2.0;

/// The height of the line of the ISBN above the bars, which is a part of the box.
pub fn isbn_line() -> Length {
    Length::pt(ISBN_LINE_PT)
}

/// The box of an EAN-13 at a magnification in percent: quiet zones, figures and the ISBN's line included.
pub fn size(percent: f64, add_on: AddOn) -> Size {
    let modules = match add_on {
        AddOn::None => LIGHT_BEFORE + BARS + LIGHT_AFTER,
        AddOn::TwoDigit => LIGHT_BEFORE + BARS + GAP + 20 + LIGHT_AFTER_ADD_ON,
        AddOn::Price => LIGHT_BEFORE + BARS + GAP + 47 + LIGHT_AFTER_ADD_ON,
    };
    let scale = percent / 100.0;
    Size {
        width: Length::mm(f64::from(modules) * MODULE_MM * scale),
        height: Length::mm(HEIGHT_MM * scale) + isbn_line(),
    }
}

/// The largest whole percentage of magnification at which an EAN-13 goes into a box; none where even the least
/// magnification that the standard allows is too large.
pub fn largest_percent(room: Size, add_on: AddOn) -> Option<f64> {
    let (least, most) = bounds::BARCODE_PERCENT;
    let goes_in = |percent: f64| {
        let needed = size(percent, add_on);
        needed.width.fits(room.width) && needed.height.fits(room.height)
    };
    (least as u32..=most as u32).rev().map(f64::from).find(|percent| goes_in(*percent))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: GS1 Ireland, EAN-13 page: 29.83, 37.29 and 74.58 mm with the quiet zones at 80, 100 and 200 %.
    #[test]
    fn the_main_symbol_is_as_wide_as_published() {
        for (percent, width) in [(80.0, 29.83), (100.0, 37.29), (200.0, 74.58)] {
            assert!((size(percent, AddOn::None).width.to_mm() - width).abs() < 0.006, "{percent}");
        }
    }

    /// Source: BISG bar coding guidelines: with a five-digit add-on 2-3/16 in wide and 1 in high at 100 %, about
    /// 1-3/4 by 13/16 in at 80 %. They subtract no room for the wider quiet zone, so the box may be 1 mm wider.
    #[test]
    fn the_symbol_with_its_price_holds_the_trades_own_figure() {
        for (percent, width, height) in [(100.0, 55.56, 25.40), (80.0, 44.45, 20.64)] {
            let found = size(percent, AddOn::Price);
            assert!((0.0..1.0).contains(&(found.width.to_mm() - width)), "{}", found.width.to_mm());
            assert!(found.height.to_mm() > height);
        }
    }

    /// Common practice for short runs is a box of 2 x 1.2 in. By GS1's widths, counted here: the main symbol is 113
    /// modules wide, the symbol with a price 170 at the widest gap, which goes in up to 90 % (50.8 mm of 56.1).
    #[test]
    fn a_box_is_told_what_goes_into_it() {
        let usual = Size { width: Length::inches(2.0), height: Length::inches(1.2) };
        assert_eq!(largest_percent(usual, AddOn::Price), Some(90.0));
        assert_eq!(largest_percent(usual, AddOn::None), Some(98.0));
        assert_eq!(largest_percent(Size { width: Length::mm(29.0), ..usual }, AddOn::None), None);
        assert_eq!(largest_percent(size(80.0, AddOn::TwoDigit), AddOn::TwoDigit), Some(80.0));
    }
}
