//! The fingerprint that tells whether a file is still the one that was read: held in memory, and written at the head of
//! a recovery file.

use std::fs::Metadata;
use std::time::SystemTime;

use super::stage::hash;

const HEADING: &str = "<!-- unsaved words, begun from a file of ";

/// The length, the time and the hash of a file, from which a change is noticed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Fingerprint {
    length: u64,
    modified: Option<SystemTime>,
    hash: u64,
}

impl Fingerprint {
    pub(super) fn of(bytes: &[u8], metadata: &Metadata) -> Self {
        Self { length: bytes.len() as u64, modified: metadata.modified().ok(), hash: hash(bytes) }
    }

    /// Whether the metadata show no change; the file itself is not read.
    pub(super) fn looks_like(&self, metadata: &Metadata) -> bool {
        self.modified.is_some() && self.modified == metadata.modified().ok() && self.length == metadata.len()
    }

    pub(super) fn is_of(&self, bytes: &[u8]) -> bool {
        self.mark() == (bytes.len() as u64, hash(bytes))
    }

    /// The part of the fingerprint that stays equal when a file is copied.
    pub(super) fn mark(&self) -> (u64, u64) {
        (self.length, self.hash)
    }

    /// The heading of a recovery file. It is a comment in the format of drafts, so that the file can be used as a
    /// draft.
    pub(super) fn heading(&self) -> String {
        format!("{HEADING}{} bytes, {:016x} -->\n", self.length, self.hash)
    }

    /// Splits a recovery file into the mark of the draft's file on which its words are based, and the words. A file
    /// without a readable heading consists of words only.
    pub(super) fn split_heading(file: &str) -> (Option<(u64, u64)>, &str) {
        let read = || {
            let (heading, text) = file.strip_prefix(HEADING)?.split_once(" -->\n")?;
            let (length, hash) = heading.split_once(" bytes, ")?;
            Some((Some((length.parse().ok()?, u64::from_str_radix(hash, 16).ok()?)), text))
        };
        read().unwrap_or((None, file))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recovery_file_tells_what_its_words_began_from() {
        let seen = Fingerprint { length: 12, modified: None, hash: 0xabc };
        let file = format!("{}The lamp.\n", seen.heading());
        assert_eq!(file, "<!-- unsaved words, begun from a file of 12 bytes, 0000000000000abc -->\nThe lamp.\n");
        assert_eq!(Fingerprint::split_heading(&file), (Some(seen.mark()), "The lamp.\n"));
    }

    #[test]
    fn without_a_heading_all_is_words() {
        for file in ["", "The lamp.", "<!-- unsaved words, begun from a file of x -->\nThe lamp."] {
            assert_eq!(Fingerprint::split_heading(file), (None, file));
        }
    }
}
