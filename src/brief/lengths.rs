//! Lengths and sizes as authors write them: `8.5 in`, `215.9 mm`, `13 pt`, `8.5 x 8.5 in`.

use std::sync::LazyLock;

use regex::Regex;

use crate::units::{Length, Size, trimmed};

const FORM: &str = "a number and a unit, such as 8.5 in, 216 mm, 21.6 cm, 13 pt or 6 pc";
const SIZE_FORM: &str = "width x height and a unit, such as 8.5 x 8.5 in or 216 x 280 mm";

/// Every blank of Unicode (property White_Space), as [`str::trim`] knows them. Written out, so that regex can be built
/// without its Unicode tables.
const BLANKS: &str = r"[\t-\r \x{85}\x{a0}\x{1680}\x{2000}-\x{200a}\x{2028}\x{2029}\x{202f}\x{205f}\x{3000}]";

/// One length without blanks at its ends: a number and, in a size, perhaps its unit.
#[expect(clippy::expect_used, reason = "the pattern is fixed, and a test compiles it")]
static ONE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(&format!(r"^([+-]?)([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+){BLANKS}*([A-Za-z]*|″|”|\x22)$"))
        .expect("a pattern")
});

/// Reads a length with its unit.
///
/// # Errors
///
/// A sentence without its stop that says what is wrong and what was expected.
pub fn length(text: &str) -> Result<Length, String> {
    let (number, unit) = parts(text).ok_or_else(|| format!("\"{text}\" is not a length; write {FORM}"))??;
    if unit.is_empty() {
        return Err(format!("\"{text}\" has no unit; write {FORM}"));
    }
    in_unit(number, unit, text)
}

/// Reads a size: two lengths with an `x` or `×` between them; one unit after the second serves both.
///
/// # Errors
///
/// A sentence without its stop that says what is wrong and what was expected.
pub fn size(text: &str) -> Result<Size, String> {
    let refuse = || format!("\"{text}\" is not a size; write {SIZE_FORM}");
    let (width, height) = text.split_once(['x', '×', 'X']).ok_or_else(refuse)?;
    let (across, first_unit) = parts(width).ok_or_else(refuse)??;
    let (down, unit) = parts(height).ok_or_else(refuse)??;
    if unit.is_empty() {
        return Err(format!("\"{text}\" has no unit; write {SIZE_FORM}"));
    }
    let first_unit = if first_unit.is_empty() { unit } else { first_unit };
    Ok(Size { width: in_unit(across, first_unit, text)?, height: in_unit(down, unit, text)? })
}

/// Reads a percentage such as `125%` or `92.5 %`.
///
/// # Errors
///
/// A sentence without its stop that says what was expected.
pub fn percent(text: &str) -> Result<f64, String> {
    let number = text.trim().strip_suffix('%').and_then(|number| number.trim().parse::<f64>().ok());
    number
        .filter(|number| number.is_finite())
        .ok_or_else(|| format!("\"{text}\" is not a percentage; write one such as 125%"))
}

/// The problem of a length or a size whose decimals stand behind a comma, as a message tells it.
pub(super) fn with_comma(text: &str) -> String {
    format!("\"{text}\" has a comma; write the decimals after a full stop, such as 8.5 in")
}

/// The number and the unit, which is empty where none is written; nothing where the text has another form.
fn parts(text: &str) -> Option<Result<(f64, &str), String>> {
    let text = text.trim();
    plain_parts(text).map(Ok).or_else(|| parts_by_pattern(text))
}

/// The number and the unit of the form that nearly every brief has, `8.5 in`: a brief has dozens of lengths, and the
/// pattern takes twice the time of all else that reads them.
fn plain_parts(text: &str) -> Option<(f64, &str)> {
    let behind = text.find(|sign: char| !sign.is_ascii_digit() && sign != '.')?;
    let (number, unit) = text.split_at(behind);
    let unit = unit.strip_prefix(' ').unwrap_or(unit);
    let are_figures = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let (whole, decimals) = number.split_once('.').unwrap_or((number, "0"));
    let is_plain = are_figures(whole) && are_figures(decimals) && unit.bytes().all(|byte| byte.is_ascii_alphabetic());
    is_plain.then(|| Some((number.parse().ok()?, unit))).flatten()
}

/// The number and the unit of every form that there is, of a text without blanks at its ends.
fn parts_by_pattern(text: &str) -> Option<Result<(f64, &str), String>> {
    let found = ONE.captures(text)?;
    let number = found.get(2)?.as_str();
    if found.get(1).is_some_and(|sign| sign.as_str() == "-") {
        return Some(Err(format!("\"{text}\" is less than 0, which no length is; leave out the minus sign")));
    }
    if number.contains(',') {
        return Some(Err(with_comma(text)));
    }
    Some(Ok((number.parse().ok()?, found.get(3)?.as_str())))
}

/// What a length is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// 72 points.
    Inches,
    /// 25.4 to the inch.
    Millimetres,
    /// Ten millimetres.
    Centimetres,
    /// Points.
    Points,
    /// Twelve points.
    Picas,
}

impl Unit {
    /// The unit of a length, or of a size where both sides have one.
    pub fn of(text: &str) -> Option<Self> {
        let last = text.split(['x', '×', 'X']).next_back()?;
        Self::named(parts(last)?.ok()?.1)
    }

    fn named(name: &str) -> Option<Self> {
        match name.to_lowercase().as_str() {
            "in" | "inch" | "inches" | "\"" | "″" | "”" => Some(Self::Inches),
            "mm" => Some(Self::Millimetres),
            "cm" => Some(Self::Centimetres),
            "pt" | "point" | "points" => Some(Self::Points),
            "pc" | "pica" | "picas" => Some(Self::Picas),
            _ => None,
        }
    }

    /// The unit as a brief writes it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Inches => "in",
            Self::Millimetres => "mm",
            Self::Centimetres => "cm",
            Self::Points => "pt",
            Self::Picas => "pc",
        }
    }

    /// A distance of about an inch, as an example in a message.
    pub(super) fn example(self) -> &'static str {
        match self {
            Self::Inches => "1 in",
            Self::Millimetres => "25 mm",
            Self::Centimetres => "2.5 cm",
            Self::Points => "72 pt",
            Self::Picas => "6 pc",
        }
    }

    /// The length of one step, in this unit, where a length is made larger or smaller step by step.
    pub fn step(self) -> f64 {
        match self {
            Self::Inches => 0.125,
            Self::Millimetres => 1.0,
            Self::Centimetres => 0.1,
            Self::Points => 3.0,
            Self::Picas => 0.25,
        }
    }

    /// A length of `number` units.
    pub fn length(self, number: f64) -> Length {
        match self {
            Self::Inches => Length::inches(number),
            Self::Millimetres => Length::mm(number),
            Self::Centimetres => Length::mm(number * 10.0),
            Self::Points => Length::pt(number),
            Self::Picas => Length::pt(number * 12.0),
        }
    }

    /// How many units a length has, to four decimals, which a sixteenth of an inch (0.0625) needs.
    pub fn number(self, length: Length) -> String {
        trimmed(self.of_it(length), 4)
    }

    /// How many units a length has.
    pub(super) fn of_it(self, length: Length) -> f64 {
        match self {
            Self::Inches => length.to_inches(),
            Self::Millimetres => length.to_mm(),
            Self::Centimetres => length.to_mm() / 10.0,
            Self::Points => length.to_pt(),
            Self::Picas => length.to_pt() / 12.0,
        }
    }

    /// The unit to write `length` in: the author's own where three decimals are enough for it, or else the first other
    /// unit where they are.
    pub(super) fn suiting(self, length: Length) -> Self {
        let is_short = |unit: &Self| unit.length((unit.of_it(length) * 1000.0).round() / 1000.0) == length;
        [self, Self::Millimetres, Self::Inches, Self::Points].into_iter().find(is_short).unwrap_or(self)
    }

    /// A length rounded for a reader: to a thousandth of an inch, or to a tenth of any other unit.
    pub fn told(self, length: Length) -> String {
        let decimals = if self == Self::Inches { 3 } else { 1 };
        format!("{} {}", trimmed(self.of_it(length), decimals), self.name())
    }

    /// A length as a brief writes it.
    pub fn written(self, length: Length) -> String {
        format!("{} {}", self.number(length), self.name())
    }
}

fn in_unit(number: f64, unit: &str, text: &str) -> Result<Length, String> {
    let known = Unit::named(unit).map(|unit| unit.length(number));
    known.ok_or_else(|| format!("\"{text}\" has the unit \"{unit}\", which is not one of in, mm, cm, pt and pc"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_is_exact() {
        for (text, points) in [
            ("1 in", 72.0),
            ("25.4mm", 72.0),
            ("2.54 cm", 72.0),
            ("6 pc", 72.0),
            ("13 pt", 13.0),
            (".5 IN", 36.0),
            ("1″", 72.0),
        ] {
            assert_eq!(length(text), Ok(Length::pt(points)), "{text}");
        }
    }

    #[test]
    fn every_blank_may_stand_before_in_and_after_a_length() {
        let blanks = (char::MIN..=char::MAX).filter(|sign| sign.is_whitespace());
        for blank in blanks {
            assert_eq!(length(&format!("{blank}1.5{blank}in{blank}")), Ok(Length::pt(108.0)), "{blank:?}");
        }
        assert!(length("1.5\u{200b}in").is_err(), "a sign without width is no blank");
    }

    #[test]
    fn the_plain_form_is_read_as_the_pattern_reads_it() {
        let numbers = ["8", "8.5", "08.50", "8.", ".5", "8.5.1", "8,5", "+8", "-8", "", "9999999999999999999999.25"];
        let units = ["", "in", "mm", "Inches", "\"", "”", "i n", "in.", "ft2", "µm"];
        let mut plain = 0;
        for number in numbers {
            for blank in ["", " ", "  ", "\t", "\u{a0}"] {
                for unit in units {
                    let text = format!("{number}{blank}{unit}");
                    let text = text.trim();
                    if let Some(found) = plain_parts(text) {
                        assert_eq!(parts_by_pattern(text), Some(Ok(found)), "{text}");
                        plain += 1;
                    }
                }
            }
        }
        assert_eq!(plain_parts("8.5 in"), Some((8.5, "in")));
        assert_eq!(plain, 4 * 2 * 3, "four numbers, with a blank or none, before three units");
    }

    #[test]
    fn what_is_no_number_with_a_unit_is_no_length() {
        for text in [
            "", "+", ".", ",", "8.", "8. in", "8.5.1 in", "8,5,1 in", "+-1 in", "1 2 in", "1 in.", "1 in in", "1 \"\"",
            "in 1", "1 µm", "٣ in",
        ] {
            assert!(parts(text).is_none(), "{text}");
        }
        for (text, found) in [
            ("+1in", (1.0, "in")),
            (" .5\u{3000}\" ", (0.5, "\"")),
            ("007", (7.0, "")),
            ("0.50 furlongs", (0.5, "furlongs")),
        ] {
            assert_eq!(parts(text), Some(Ok(found)), "{text}");
        }
        assert_eq!(
            parts("-,5"),
            Some(Err("\"-,5\" is less than 0, which no length is; leave out the minus sign".to_owned()))
        );
    }

    #[test]
    fn a_length_is_written_in_the_unit_it_had() {
        for text in ["8.0625 in", "215.9 mm", "21.6 cm", "13 pt", "6.5 pc"] {
            let unit = Unit::of(text).expect("a unit");
            assert_eq!(unit.written(length(text).expect("a length")), text);
        }
        assert_eq!((Unit::of("8.5 x 8.5 in"), Unit::of("8.5")), (Some(Unit::Inches), None));
    }

    #[test]
    fn a_size_may_name_its_unit_once() {
        let square = Size { width: Length::inches(8.5), height: Length::inches(8.5) };
        assert_eq!(size("8.5 x 8.5 in"), Ok(square));
        assert_eq!(size("8.5in × 215.9 mm"), Ok(square));
    }

    #[test]
    fn what_is_wrong_is_said() {
        let cases = [
            ("8.5", "\"8.5\" has no unit; write a number and a unit, such as 8.5 in, 216 mm, 21.6 cm, 13 pt or 6 pc"),
            ("8.5 px", "\"8.5 px\" has the unit \"px\", which is not one of in, mm, cm, pt and pc"),
            ("8,5 in", "\"8,5 in\" has a comma; write the decimals after a full stop, such as 8.5 in"),
            ("-1 mm", "\"-1 mm\" is less than 0, which no length is; leave out the minus sign"),
            (
                "wide",
                "\"wide\" is not a length; write a number and a unit, such as 8.5 in, 216 mm, 21.6 cm, 13 pt or 6 pc",
            ),
        ];
        for (text, told) in cases {
            assert_eq!(length(text), Err(told.to_owned()));
        }
        assert_eq!(
            size("8.5 in"),
            Err("\"8.5 in\" is not a size; write width x height and a unit, such as 8.5 x 8.5 in or 216 x 280 mm"
                .to_owned())
        );
        assert_eq!(percent("big"), Err("\"big\" is not a percentage; write one such as 125%".to_owned()));
        assert_eq!(percent("92.5 %"), Ok(92.5));
    }
}
