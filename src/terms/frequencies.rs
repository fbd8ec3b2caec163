//! How often words stand in English prose, and which words say little by themselves.
//!
//! The counts were made for this program from novels in the public domain and from the definitions and examples of
//! WordNet 3.0; the list carries its sources. A word that the list lacks stands in them fewer than five times, or is a
//! name.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

static COUNTS: LazyLock<WordCounts> = LazyLock::new(|| WordCounts::read(wordlist!("word-frequencies.txt")));
static FUNCTION_WORDS: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("function-words.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// The counts of the list.
struct WordCounts {
    /// How often each word was counted.
    words: HashMap<&'static str, u32>,
    /// How many words were counted in all, repetitions included.
    running: u64,
}

impl WordCounts {
    fn read(list: &'static str) -> Self {
        let entry =
            |line: &'static str| line.split_once(' ').and_then(|(word, count)| Some((word, count.parse().ok()?)));
        let words: HashMap<&str, u32> = list.lines().filter(|line| !line.starts_with('#')).filter_map(entry).collect();
        let running = words.values().map(|count| u64::from(*count)).sum();
        Self { words, running }
    }
}

/// How often a word in small letters with straight apostrophes stands in the prose that was counted; 0 for a word
/// that the list lacks.
pub(crate) fn count(word: &str) -> u32 {
    COUNTS.words.get(word).copied().unwrap_or(0)
}

/// How many words were counted in all, repetitions included.
pub(super) fn running_words() -> u64 {
    COUNTS.running
}

/// Whether an English word in small letters says little by itself: an article, a pronoun, an auxiliary.
pub fn is_function_word(word: &str) -> bool {
    FUNCTION_WORDS.contains(word)
}

#[cfg(test)]
mod tests {
    use super::{count, is_function_word, running_words};

    #[test]
    fn common_words_are_counted_and_names_are_not() {
        assert!(count("the") > count("boat") && count("boat") > count("lighthouse") && count("lighthouse") > 0);
        assert_eq!((count("emma"), count("oona"), count("")), (0, 0, 0));
        assert!(running_words() > 2_000_000);
    }

    #[test]
    fn function_words_are_told_from_others() {
        assert!(is_function_word("the") && is_function_word("don't") && !is_function_word("boat"));
    }
}
