//! Lengths on paper, lengths in a font, and the one tolerance that both are compared with.
//!
//! A [`Length`] is a whole number of 1/127000 pt. That unit is the largest in which a thousandth of a point, of a
//! millimetre and of an inch are all whole: 1 in = 72 pt = 25.4 mm, so these thousandths are 127, 360 and 9144 units.
//! What an author writes is therefore kept exactly, and every comparison is between integers: the answer is the same on
//! every machine.
//!
//! An [`Em`] is not a length. It is a width in a font, and becomes a length only at a size.

pub mod names;
pub mod nouns;

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

const RAW_PER_PT: i64 = 127_000;
const RAW_PER_MM: i64 = 360_000;
const RAW_PER_INCH: i64 = 72 * RAW_PER_PT;

/// A length on paper, exact in points, millimetres, inches and picas to three decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// The length zero.
    pub const ZERO: Self = Self(0);

    /// The one tolerance: a thousandth of a point, far below what a press can hold and far above the rounding
    /// of a font's units.
    pub const TOLERANCE: Self = Self(RAW_PER_PT / 1000);

    /// A length in points (1/72 in).
    pub fn pt(points: f64) -> Self {
        Self((points * RAW_PER_PT as f64).round() as i64)
    }

    /// A length in millimetres.
    pub fn mm(millimetres: f64) -> Self {
        Self((millimetres * RAW_PER_MM as f64).round() as i64)
    }

    /// A length in inches.
    pub fn inches(inches: f64) -> Self {
        Self((inches * RAW_PER_INCH as f64).round() as i64)
    }

    /// The longest length that is not above a number of units, each 1/127000 pt.
    pub fn floor_of_units(units: f64) -> Self {
        Self(units.floor() as i64)
    }

    /// The shortest length that is not below a number of units, each 1/127000 pt.
    pub fn ceil_of_units(units: f64) -> Self {
        Self(units.ceil() as i64)
    }

    /// The length in units of 1/127000 pt, exact for every length below a kilometre.
    pub fn to_units(self) -> f64 {
        self.0 as f64
    }

    /// The length in points.
    pub fn to_pt(self) -> f64 {
        self.0 as f64 / RAW_PER_PT as f64
    }

    /// The length in millimetres.
    pub fn to_mm(self) -> f64 {
        self.0 as f64 / RAW_PER_MM as f64
    }

    /// The length in inches.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / RAW_PER_INCH as f64
    }

    /// Whether this length goes into `room`, give or take [`Length::TOLERANCE`].
    pub fn fits(self, room: Self) -> bool {
        self.0 <= room.0 + Self::TOLERANCE.0
    }

    /// The length times `part` / `of`, rounded to the nearest unit. `of` must not be zero.
    pub fn scaled(self, part: Self, of: Self) -> Self {
        // Nearly every product fits in 64 bits, which become a number many times as fast.
        let product = match self.0.checked_mul(part.0) {
            Some(product) => product as f64,
            None => (i128::from(self.0) * i128::from(part.0)) as f64,
        };
        Self((product / of.0 as f64).round() as i64)
    }

    /// The length times `part` / `of`, rounded towards zero; zero where `of` is zero.
    pub fn share(self, part: Em, of: Em) -> Self {
        if of.0 == 0 {
            return Self::ZERO;
        }
        Self((i128::from(self.0) * i128::from(part.0) / i128::from(of.0)) as i64)
    }

    /// How many times `step` goes into this length, give or take [`Length::TOLERANCE`]; zero where `step` is not
    /// above zero.
    pub fn count_of(self, step: Self) -> usize {
        if step.0 <= 0 || self.0 < 0 {
            return 0;
        }
        usize::try_from((self.0 + Self::TOLERANCE.0) / step.0).unwrap_or(0)
    }

    /// The length, or zero where it is below zero.
    pub fn or_zero(self) -> Self {
        self.max(Self::ZERO)
    }
}

/// Points, to three decimals at most, without trailing zeros: `13 pt`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} pt", trimmed(self.to_pt(), 3))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Div<i64> for Length {
    type Output = Self;
    fn div(self, by: i64) -> Self {
        Self(self.0 / by)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// A width in a font, in 1/2,048,000 of its em.
///
/// The number is a common multiple of every power of two up to 16384 and of 1000, the units per em that fonts
/// use, so widths from two faces can be added without rounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Em(i64);

const PARTS_PER_EM: i64 = 2_048_000;

impl Em {
    /// The width zero.
    pub const ZERO: Self = Self(0);

    /// A width of `units` in a font of `units_per_em` (above zero).
    pub fn from_units(units: i32, units_per_em: u16) -> Self {
        let per_em = i64::from(units_per_em.max(1));
        let parts = i64::from(units) * PARTS_PER_EM;
        if parts % per_em == 0 { Self(parts / per_em) } else { Self((parts as f64 / per_em as f64).round() as i64) }
    }

    /// The length that this width has in type of `size`, rounded to the nearest unit.
    pub fn at(self, size: Length) -> Length {
        // Nearly every product fits in 64 bits, where division is many times as fast.
        if let Some(product) = self.0.checked_mul(size.0) {
            let half = if product < 0 { -PARTS_PER_EM / 2 } else { PARTS_PER_EM / 2 };
            return Length(product.saturating_add(half) / PARTS_PER_EM);
        }
        let product = i128::from(self.0) * i128::from(size.0);
        Length((product / i128::from(PARTS_PER_EM)) as i64)
    }

    /// The widest width that still goes into `room` at `size`, give or take [`Length::TOLERANCE`].
    pub fn filling(room: Length, size: Length) -> Self {
        if size.0 <= 0 {
            return Self::ZERO;
        }
        let room = room.0.saturating_add(Length::TOLERANCE.0);
        if let Some(product) = room.checked_mul(PARTS_PER_EM) {
            return Self(product.div_euclid(size.0));
        }
        Self((i128::from(room) * i128::from(PARTS_PER_EM)).div_euclid(i128::from(size.0)) as i64)
    }

    /// The width times `part` / `of`, rounded to the nearest unit; unchanged where `of` is zero.
    pub fn scaled(self, part: Self, of: Self) -> Self {
        if of.0 == 0 {
            return self;
        }
        Self((self.0 as f64 * (part.0 as f64 / of.0 as f64)).round() as i64)
    }

    /// How many of the `parts` equal parts of `of` the width takes up, rounded towards zero; zero where `of` is zero.
    pub fn parts_of(self, of: Self, parts: i64) -> i64 {
        if of.0 == 0 {
            return 0;
        }
        if let Some(share) = self.0.checked_mul(parts).and_then(|product| product.checked_div(of.0)) {
            return share.clamp(i64::from(i32::MIN), i64::from(i32::MAX));
        }
        let share = i128::from(self.0) * i128::from(parts) / i128::from(of.0);
        share.clamp(i128::from(i32::MIN), i128::from(i32::MAX)) as i64
    }

    /// The width as a fraction of the em.
    pub fn to_f64(self) -> f64 {
        self.0 as f64 / PARTS_PER_EM as f64
    }
}

impl Add for Em {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Em {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Em {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<i64> for Em {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl Div<i64> for Em {
    type Output = Self;
    fn div(self, by: i64) -> Self {
        Self(self.0 / by)
    }
}

impl Sum for Em {
    fn sum<I: Iterator<Item = Self>>(widths: I) -> Self {
        widths.fold(Self::ZERO, Add::add)
    }
}

/// Width and height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Size {
    /// Across.
    pub width: Length,
    /// Down.
    pub height: Length,
}

/// A position on the panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Point {
    /// From the left edge of the panel, growing to the right.
    pub x: Length,
    /// From the head of the panel, growing towards the foot.
    pub y: Length,
}

/// A rectangle on the panel: its head left corner and its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rect {
    /// The left edge.
    pub x: Length,
    /// The upper edge.
    pub y: Length,
    /// Across.
    pub width: Length,
    /// Down.
    pub height: Length,
}

impl Rect {
    /// The x of the right edge.
    pub fn right(&self) -> Length {
        self.x + self.width
    }

    /// The y of the lower edge.
    pub fn foot(&self) -> Length {
        self.y + self.height
    }

    /// The rectangle with `room` added on all four sides.
    pub fn grown(&self, room: Length) -> Self {
        Self { x: self.x - room, y: self.y - room, width: self.width + room * 2, height: self.height + room * 2 }
    }

    /// The part of this rectangle that lies in `other`; where the two share nothing, its width or its height is zero.
    pub fn within(&self, other: &Self) -> Self {
        let (x, y) = (self.x.max(other.x), self.y.max(other.y));
        let (right, foot) = (self.right().min(other.right()), self.foot().min(other.foot()));
        Self { x, y, width: (right - x).or_zero(), height: (foot - y).or_zero() }
    }

    /// The least rectangle that holds this one and `other`.
    pub fn around(&self, other: &Self) -> Self {
        let (x, y) = (self.x.min(other.x), self.y.min(other.y));
        Self { x, y, width: self.right().max(other.right()) - x, height: self.foot().max(other.foot()) - y }
    }

    /// Whether `other` lies inside this rectangle, give or take [`Length::TOLERANCE`].
    pub fn holds(&self, other: &Self) -> bool {
        self.x.fits(other.x)
            && self.y.fits(other.y)
            && other.right().fits(self.right())
            && other.foot().fits(self.foot())
    }

    /// Whether this rectangle and `other` share more than an edge.
    pub fn overlaps(&self, other: &Self) -> bool {
        !(self.right().fits(other.x)
            || other.right().fits(self.x)
            || self.foot().fits(other.y)
            || other.foot().fits(self.y))
    }
}

/// A number with at most `decimals` decimals and no trailing zeros.
pub fn trimmed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    if !text.contains('.') {
        return text;
    }
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thousandth_of_each_unit_is_exact() {
        assert_eq!(Length::inches(1.0), Length::pt(72.0));
        assert_eq!(Length::inches(1.0), Length::mm(25.4));
        assert_eq!(Length::inches(0.001) * 1000, Length::inches(1.0));
        assert_eq!(Length::mm(0.001) * 1000, Length::mm(1.0));
        assert_eq!(Length::pt(0.001) * 1000, Length::pt(1.0));
    }

    #[test]
    fn an_em_is_a_length_only_at_a_size() {
        let half = Em::from_units(500, 1000);
        assert_eq!(half.at(Length::pt(13.0)), Length::pt(6.5));
        assert_eq!(half + Em::from_units(512, 1024), Em::from_units(2048, 2048));
        assert_eq!(Em::from_units(-500, 1000).at(Length::pt(2.0)), Length::pt(-1.0));
    }

    #[test]
    fn part_of_a_unit_is_rounded_down_or_up() {
        assert_eq!(Length::pt(1.0).to_units(), 127_000.0);
        assert_eq!(Length::floor_of_units(126_999.9), Length::pt(1.0) - Length(1));
        assert_eq!(Length::ceil_of_units(126_999.1), Length::pt(1.0));
        assert_eq!(Length::floor_of_units(-0.5), Length(-1));
        assert_eq!(Length::ceil_of_units(-0.5), Length::ZERO);
        assert_eq!(Length::ceil_of_units(1e300), Length(i64::MAX));
    }

    #[test]
    fn the_tolerance_is_a_thousandth_of_a_point() {
        assert!(Length::pt(10.001).fits(Length::pt(10.0)));
        assert!(!Length::pt(10.0011).fits(Length::pt(10.0)));
        assert_eq!(Length::pt(216.0).count_of(Length::pt(18.0)), 12);
        assert_eq!(Length::pt(215.99).count_of(Length::pt(18.0)), 11);
        assert_eq!(Length::pt(10.0).count_of(Length::ZERO), 0);
    }

    #[test]
    fn filling_is_the_inverse_of_at() {
        for points in [4.0, 9.7, 13.35, 40.0] {
            let size = Length::pt(points);
            let room = Length::pt(300.0);
            assert!(Em::filling(room, size).at(size).fits(room));
            assert!(!(Em::filling(room, size) + Em::from_units(1, 16384)).at(size + Length::pt(0.1)).fits(room));
        }
    }

    #[test]
    fn rectangles_that_touch_do_not_overlap() {
        let square = |x: f64, y: f64| Rect {
            x: Length::pt(x),
            y: Length::pt(y),
            width: Length::pt(10.0),
            height: Length::pt(10.0),
        };
        assert!(!square(0.0, 0.0).overlaps(&square(10.0, 0.0)));
        assert!(square(0.0, 0.0).overlaps(&square(9.0, 9.0)));
        assert!(square(0.0, 0.0).grown(Length::pt(1.0)).holds(&square(0.0, 0.0)));
        assert!(!square(0.0, 0.0).holds(&square(1.0, 0.0)));
        assert_eq!(square(0.0, 0.0).grown(Length::pt(1.0)).within(&square(0.0, 0.0)), square(0.0, 0.0));
        assert_eq!(square(0.0, 0.0).within(&square(20.0, 0.0)).width, Length::ZERO);
    }

    #[test]
    fn numbers_lose_their_trailing_zeros() {
        assert_eq!(trimmed(13.0, 3), "13");
        assert_eq!(trimmed(13.25, 3), "13.25");
        assert_eq!(trimmed(-0.0001, 2), "0");
        assert_eq!(Length::pt(12.5).to_string(), "12.5 pt");
    }
}
