//! Lengths and sizes as authors write them: `8.5 in`, `215.9 mm`, `13 pt`, `8.5 x 8.5 in`.

use std::sync::LazyLock;

use regex::Regex;

use crate::units::{Length, Size};

const FORM: &str = "a number and a unit, such as 8.5 in, 216 mm, 21.6 cm, 13 pt or 6 pc";
const SIZE_FORM: &str = "width x height and a unit, such as 8.5 x 8.5 in or 216 x 280 mm";

/// One length: a number and, in a size, perhaps its unit.
#[expect(clippy::expect_used, reason = "the pattern is fixed, and a test compiles it")]
static ONE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^\s*([+-]?)(\d+(?:[.,]\d+)?|[.,]\d+)\s*([A-Za-z]*|″|”|\x22)\s*$").expect("a pattern")
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

/// The number and the unit; nothing where the text has another form.
fn parts(text: &str) -> Option<Result<(f64, &str), String>> {
    let found = ONE.captures(text)?;
    let number = found.get(2)?.as_str();
    if found.get(1).is_some_and(|sign| sign.as_str() == "-") {
        return Some(Err(format!("\"{text}\" is below nothing; lengths are measured from 0 up")));
    }
    if number.contains(',') {
        return Some(Err(format!("\"{text}\" has a comma; write the decimals after a full stop, such as 8.5 in")));
    }
    Some(Ok((number.parse().ok()?, found.get(3)?.as_str())))
}

fn in_unit(number: f64, unit: &str, text: &str) -> Result<Length, String> {
    let length = match unit.to_lowercase().as_str() {
        "in" | "inch" | "inches" | "\"" | "″" | "”" => Length::inches(number),
        "mm" => Length::mm(number),
        "cm" => Length::mm(number * 10.0),
        "pt" | "point" | "points" => Length::pt(number),
        "pc" | "pica" | "picas" => Length::pt(number * 12.0),
        _ => return Err(format!("\"{text}\" has the unit \"{unit}\", which is not one of in, mm, cm, pt and pc")),
    };
    Ok(length)
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
            ("-1 mm", "\"-1 mm\" is below nothing; lengths are measured from 0 up"),
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
