//! The seal of a file that is written here: the program's mark and what the file was as it was written, so that a file
//! to which another program has added something, such as notes, is told from one as it was.
//!
//! A seal has a hash of all that stands before it and the length of the whole file. Every form puts it near the file's
//! end, where only what follows from all before comes behind it.

use super::MARK;
use super::pdf_stream::fingerprint;

/// A seal before it is known what stands in the file.
pub const BLANK: &str = "made by blurbwright, 00000000000000000000000000000000 0000000000";

/// What stands between the mark and the hash.
const GAP: &str = ", ";

/// How a file stands to this program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealFound {
    /// Another program has made the file.
    Nothing,
    /// The file was made here and is not as it was written.
    Broken,
    /// The file is as it was written here.
    Whole,
}

/// The seal for the bytes of a whole file that has a blank one.
pub fn of(bytes: &[u8]) -> String {
    let before = &bytes[..place(bytes).unwrap_or(bytes.len())];
    format!("{MARK}{GAP}{:032x} {:010}", fingerprint(before), bytes.len())
}

/// The bytes of a whole file with its seal in the place of the blank one, for forms in which no sum is made of them.
pub fn sealed(mut bytes: Vec<u8>) -> Vec<u8> {
    let seal = of(&bytes);
    if let Some(at) = place(&bytes) {
        bytes[at..at + BLANK.len()].copy_from_slice(seal.as_bytes());
    }
    bytes
}

/// The text of a whole file with its seal in the place of the blank one.
pub fn sealed_text(mut text: String) -> String {
    let seal = of(text.as_bytes());
    if let Some(at) = text.rfind(BLANK) {
        text.replace_range(at..at + BLANK.len(), &seal);
    }
    text
}

/// What a file's seal says of it.
pub fn found(bytes: &[u8]) -> SealFound {
    match place(bytes) {
        None => SealFound::Nothing,
        Some(at) if bytes[at..].starts_with(of(bytes).as_bytes()) => SealFound::Whole,
        Some(_) => SealFound::Broken,
    }
}

/// Where the last seal of a file begins.
fn place(bytes: &[u8]) -> Option<usize> {
    bytes.windows(MARK.len()).rposition(|part| part == MARK.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blank_seal_is_as_long_as_a_seal() {
        assert_eq!(BLANK, format!("{MARK}{GAP}{} {:010}", "0".repeat(32), 0));
        assert_eq!(of(BLANK.as_bytes()).len(), BLANK.len());
    }

    #[test]
    fn a_seal_is_broken_by_whatever_is_added_changed_or_taken_away() {
        let file = sealed(format!("The lamp is out. <{BLANK}> The end.").into_bytes());
        assert_eq!(found(&file), SealFound::Whole);
        assert_eq!(found(b"The lamp is out."), SealFound::Nothing);
        let changed: [Vec<u8>; 3] =
            [[&file[..], b" A note."].concat(), file[..file.len() - 1].to_vec(), [b"On", &file[2..]].concat()];
        assert_eq!(changed.map(|file| found(&file)), [SealFound::Broken; 3]);
    }
}
