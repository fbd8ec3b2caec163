//! Checks an ISBN: its form, its first three digits and its check digit.
//!
//! Source: International ISBN Agency, ISBN Users' Manual, appendix on the check digit: the thirteen digits, weighted
//! 1 and 3 in turn, add up to a multiple of ten.

/// Whether the thirteen digits of an ISBN are right; blanks and hyphens between them do not count.
///
/// # Errors
///
/// A sentence without its stop that says what is wrong and what to do.
pub fn check(isbn: &str) -> Result<(), String> {
    let digits: Vec<u32> =
        isbn.chars().filter(|c| !matches!(c, '-' | ' ' | '‐' | '‑' | '–')).map_while(|c| c.to_digit(10)).collect();
    let other = isbn.chars().any(|c| !c.is_ascii_digit() && !matches!(c, '-' | ' ' | '‐' | '‑' | '–'));
    if digits.len() == 10 || (digits.len() == 9 && isbn.ends_with(['X', 'x'])) {
        return Err(format!("\"{isbn}\" is an ISBN of ten digits; books carry thirteen, beginning with 978 or 979"));
    }
    if other || digits.len() != 13 {
        return Err(format!("\"{isbn}\" is not an ISBN; write its thirteen digits, with or without hyphens"));
    }
    if digits[..3] != [9, 7, 8] && digits[..3] != [9, 7, 9] {
        return Err(format!("\"{isbn}\" is not an ISBN; one begins with 978 or 979"));
    }
    let sum: u32 = digits[..12].iter().zip([1, 3].iter().cycle()).map(|(digit, weight)| digit * weight).sum();
    let right = (10 - sum % 10) % 10;
    if digits[12] != right {
        return Err(format!(
            "the last digit of \"{isbn}\" should be {right} if the others are right; compare it with the paper from \
             your agency"
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sources: BISG's own example, and the example of the ISBN Users' Manual.
    #[test]
    fn published_examples_are_right() {
        for isbn in ["978-1-4028-9462-6", "978-0-330-28987-0", "9780330289870"] {
            assert_eq!(check(isbn), Ok(()), "{isbn}");
        }
    }

    #[test]
    fn a_slip_is_told() {
        assert_eq!(
            check("978-1-4028-9462-5"),
            Err("the last digit of \"978-1-4028-9462-5\" should be 6 if the others are right; compare it with the \
                 paper from your agency"
                .to_owned())
        );
        assert!(check("0-330-28987-X").is_err_and(|told| told.contains("ten digits")));
        assert!(check("978-1-4028-946").is_err_and(|told| told.contains("thirteen digits")));
        assert!(check("123-1-4028-9462-6").is_err_and(|told| told.contains("978 or 979")));
    }
}
