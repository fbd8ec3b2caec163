//! Fields of CSV that any spreadsheet reads as they are meant: none ends early, and none is taken for a formula.
//!
//! Source: RFC 4180, section 2.

/// Fields as one line, without its line ending.
pub fn line(fields: impl Iterator<Item = String>) -> String {
    fields.map(|field| quoted(&held_back(field))).collect::<Vec<_>>().join(",")
}

/// A field in quotation marks where it holds what would end it; those inside are doubled.
fn quoted(field: &str) -> String {
    if field.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.to_owned()
    }
}

/// A field behind an apostrophe where a spreadsheet would reckon it out instead of showing it; a number is left as it
/// is.
fn held_back(field: String) -> String {
    let begins_a_formula = |letter| matches!(letter, '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠' | '\t' | '\r');
    if field.trim_start_matches([' ', '\u{a0}']).starts_with(begins_a_formula) && field.parse::<f64>().is_err() {
        format!("'{field}")
    } else {
        field
    }
}

#[cfg(test)]
mod tests {
    use super::{held_back, quoted};

    /// RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn fields_are_quoted_where_they_must_be() {
        assert_eq!(quoted("first.md"), "first.md");
        assert_eq!(quoted("a, b"), "\"a, b\"");
        assert_eq!(quoted("the \"old\" one"), "\"the \"\"old\"\" one\"");
    }

    #[test]
    fn a_title_is_never_a_formula() {
        let held = |field: &str| held_back(field.to_owned());
        for formula in ["=1+1", "+A1", "-A1", "@SUM(A1)", " =1", "＝1", "\t=1", "-1+2"] {
            assert_eq!(held(formula), format!("'{formula}"));
        }
        for plain in ["-1.5", "+3", "1-2", "Oona = Wilf", "", "'s"] {
            assert_eq!(held(plain), plain);
        }
    }
}
