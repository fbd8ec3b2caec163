//! The mark with which Windows takes a whole path of any length, and paths without it, as authors write them.
//!
//! Source: Microsoft Learn, Maximum Path Length Limitation; Naming Files, Paths, and Namespaces.

use super::file_names;

const MARK: &str = r"\\?\";
const NETWORK_MARK: &str = r"\\?\UNC\";
const NETWORK: &str = r"\\";
/// What begins a path of a device, which has no other form.
const DEVICE: &str = r"\\.\";

/// A whole path of Windows with the mark; none for a path that has it already, or that may not have it.
pub fn marked(whole: &str) -> Option<String> {
    if whole.starts_with(MARK) || whole.starts_with(DEVICE) {
        return None;
    }
    match whole.strip_prefix(NETWORK) {
        Some(place) => Some(format!("{NETWORK_MARK}{place}")),
        None => is_on_drive(whole).then(|| format!("{MARK}{whole}")),
    }
}

/// A path of Windows without the mark; none for a path that has none, or that says something else without it.
pub fn unmarked(path: &str) -> Option<String> {
    let (begin, place, names) = match path.strip_prefix(NETWORK_MARK) {
        Some(place) => (NETWORK, place, place),
        None => {
            let place = path.strip_prefix(MARK).filter(|place| is_on_drive(place))?;
            ("", place, place.split_once('\\')?.1)
        }
    };
    let is_plain = |name: &str| file_names::fault_of(name).is_none();
    names.split('\\').all(is_plain).then(|| format!("{begin}{place}"))
}

/// Whether a path begins at the root of a drive.
fn is_on_drive(path: &str) -> bool {
    matches!(path.as_bytes(), [letter, b':', b'\\', ..] if letter.is_ascii_alphabetic())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A path on a drive.
    fn on_drive(rest: &str) -> String {
        format!("{}:{rest}", 'Z')
    }

    #[test]
    fn a_whole_path_has_the_mark_and_loses_it_again() {
        let long = on_drive(&format!(r"\{}\first.md", [r"The Lamp"; 40].join(r"\")));
        for (plain, with_mark) in [
            (on_drive(r"\books\The Lamp\first.md"), format!(r"\\?\{}", on_drive(r"\books\The Lamp\first.md"))),
            (on_drive(r"\"), format!(r"\\?\{}", on_drive(r"\"))),
            (r"\\gull\books\first.md".to_owned(), r"\\?\UNC\gull\books\first.md".to_owned()),
            (long.clone(), format!(r"\\?\{long}")),
        ] {
            assert_eq!(marked(&plain).as_ref(), Some(&with_mark));
            assert_eq!(unmarked(&with_mark), Some(plain.clone()));
            assert_eq!((marked(&with_mark), unmarked(&plain)), (None, None));
        }
    }

    #[test]
    fn no_mark_is_given_or_taken_where_the_path_would_be_another() {
        for path in [r"books\first.md", r"\books\first.md", &on_drive("first.md"), r"\\.\NUL", ""] {
            assert_eq!(marked(path), None, "{path}");
        }
        for path in [r"\\?\UNC\gull\books\lamp.", r"\\?\GLOBALROOT\Device\first.md", r"\\.\NUL", r"\\?\", ""] {
            assert_eq!(unmarked(path), None, "{path}");
        }
        for name in [r"\books\nul.md", r"\books \first.md", r"\books\a/b.md"] {
            assert_eq!(unmarked(&format!(r"\\?\{}", on_drive(name))), None, "{name}");
        }
    }
}
