//! Names of files that Windows forbids. They are refused on every system, so that a book's folder can move.
//!
//! Source: Microsoft Learn, Naming Files, Paths, and Namespaces.

const SIGNS: [char; 9] = ['<', '>', ':', '"', '/', '\\', '|', '?', '*'];

/// Names of devices; COM and LPT have a digit behind them, which may be raised.
const DEVICES: [&str; 4] = ["CON", "PRN", "AUX", "NUL"];
const NUMBERED: [&str; 2] = ["COM", "LPT"];
const DIGITS: &str = "123456789\u{b9}\u{b2}\u{b3}";

/// Why Windows forbids a name, as it follows `it`; none where it does not.
pub fn fault_of(name: &str) -> Option<String> {
    if let Some(sign) = name.chars().find(|sign| SIGNS.contains(sign)) {
        return Some(format!("has {sign} in it, which Windows forbids in names"));
    }
    if name.chars().any(|sign| sign < ' ') {
        return Some("has a control character in it, which Windows forbids in names".to_owned());
    }
    if name.ends_with(['.', ' ']) {
        let sign = if name.ends_with('.') { "a dot" } else { "a blank" };
        return Some(format!("ends with {sign}, which Windows forbids"));
    }
    // The name of a device is one with any ending too.
    let stem = name.split('.').next().unwrap_or_default().trim_end().to_uppercase();
    let is_numbered = |device: &&str| {
        stem.strip_prefix(*device).is_some_and(|rest| rest.chars().count() == 1 && DIGITS.contains(rest))
    };
    let is_device = DEVICES.contains(&stem.as_str()) || NUMBERED.iter().any(is_numbered);
    is_device.then(|| format!("is the name of a device on Windows, {stem}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_windows_forbids_is_told_with_its_reason() {
        for (name, reason) in [
            ("a:b.md", "has : in it"),
            ("who?.md", "has ? in it"),
            ("a\tb.md", "has a control character"),
            ("The lamp.", "ends with a dot"),
            ("lamp.md ", "ends with a blank"),
            ("nul", "a device on Windows, NUL"),
            ("Con.md", "a device on Windows, CON"),
            ("aux .tar.gz", "a device on Windows, AUX"),
            ("LPT\u{b9}.pdf", "a device on Windows, LPT"),
        ] {
            let fault = fault_of(name).unwrap_or_default();
            assert!(fault.contains(reason), "{name:?}: {fault}");
        }
    }

    #[test]
    fn any_other_name_is_free() {
        for name in
            ["first.md", ".first.md.recovery", "console.md", "COM.md", "com10.md", "lpt0", "nuls", "L'été 2.md", "a..b"]
        {
            assert_eq!(fault_of(name), None, "{name}");
        }
    }
}
