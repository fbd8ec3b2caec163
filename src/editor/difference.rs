//! How two versions of a draft differ, word by word; the author sees this before one version replaces the other.

use std::ops::Range;
use std::time::{Duration, Instant};

use similar::{Algorithm, DiffOp, capture_diff_slices_deadline};
use unicode_segmentation::UnicodeSegmentation;

/// The time limit for finding a difference. A difference cut short by it is coarser than necessary, but still correct.
const PATIENCE: Duration = Duration::from_millis(200);

/// Which versions a stretch of words stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InVersion {
    /// In both versions.
    Both,
    /// In the old one only.
    OldOnly,
    /// In the new one only.
    NewOnly,
}

/// A stretch of words, and the versions that it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct VersionPart<'a> {
    /// The versions that it stands in.
    pub standing: InVersion,
    /// The words, with the blanks and line endings between them.
    pub words: &'a str,
}

/// The two versions merged: the parts in `Both` and `OldOnly` make up the old version, those in `Both` and `NewOnly`
/// the new one. Two neighbouring parts never have the same `standing`.
pub fn difference<'a>(old: &'a str, new: &'a str) -> Vec<VersionPart<'a>> {
    let (olds, news) = (WordPieces::of(old), WordPieces::of(new));
    let deadline = Instant::now().checked_add(PATIENCE);
    let mut parts = Vec::new();
    for op in capture_diff_slices_deadline(Algorithm::Myers, &olds.words, &news.words, deadline) {
        let (of_old, of_new) = (olds.text(op.old_range()), news.text(op.new_range()));
        if matches!(op, DiffOp::Equal { .. }) {
            parts.push(VersionPart { standing: InVersion::Both, words: of_old });
            continue;
        }
        parts.push(VersionPart { standing: InVersion::OldOnly, words: of_old });
        parts.push(VersionPart { standing: InVersion::NewOnly, words: of_new });
    }
    parts.retain(|part| !part.words.is_empty());
    parts
}

/// A text divided into words and the blanks and marks between them.
struct WordPieces<'a> {
    text: &'a str,
    words: Vec<&'a str>,
    /// The byte at which each piece begins, and the byte at which the last one ends.
    edges: Vec<usize>,
}

impl<'a> WordPieces<'a> {
    fn of(text: &'a str) -> Self {
        let words: Vec<&str> = text.split_word_bounds().collect();
        let mut edges = vec![0];
        edges.extend(words.iter().scan(0, |end, word| {
            *end += word.len();
            Some(*end)
        }));
        Self { text, words, edges }
    }

    fn text(&self, words: Range<usize>) -> &'a str {
        &self.text[self.edges[words.start]..self.edges[words.end]]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Writes the difference as `[old|new]` in the words of both.
    fn shown(old: &str, new: &str) -> String {
        let mut text = String::new();
        for part in difference(old, new) {
            match part.standing {
                InVersion::Both => text.push_str(part.words),
                InVersion::OldOnly => text.push_str(&format!("[-{}]", part.words)),
                InVersion::NewOnly => text.push_str(&format!("[+{}]", part.words)),
            }
        }
        text
    }

    #[test]
    fn whole_words_differ() {
        assert_eq!(shown("The lamp went out.", "The light went out."), "The [-lamp][+light] went out.");
        assert_eq!(shown("The lamp.", "The old lamp."), "The [+old ]lamp.");
        assert_eq!(shown("don’t\n", "don’t"), "don’t[-\n]");
        assert_eq!(shown("", ""), "");
        assert_eq!(shown("", "lamp"), "[+lamp]");
    }

    proptest! {
        #[test]
        fn both_versions_can_be_read_from_it(old in "([ab]| |\n|é|🇫🇷){0,20}", new in "([ab]| |\n|é|🇫🇷){0,20}") {
            let parts = difference(&old, &new);
            let read = |without| -> String {
                parts.iter().filter(|part| part.standing != without).map(|part| part.words).collect()
            };
            prop_assert_eq!(read(InVersion::NewOnly), &*old);
            prop_assert_eq!(read(InVersion::OldOnly), &*new);
        }
    }
}
