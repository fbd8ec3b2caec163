//! Counts the syllables of English words that no list knows, by patterns of letters.
//!
//! The count begins at the number of vowel groups and is then corrected by each pattern that occurs in the word, in
//! the order of `wordlists/syllable-patterns.txt`, where the rule is told. All patterns are looked for in one pass.
//! Worked by hand: `lamped` has two vowel groups (a, e); `ed$` takes one away; `ped$` and the rest do not
//! occur; one syllable.

use std::sync::LazyLock;

use aho_corasick::Anchored;
use aho_corasick::automaton::Automaton;
use aho_corasick::dfa::DFA;

/// There is room for so many patterns.
const MOST: usize = 1024;

static PATTERNS: LazyLock<Option<Patterns>> = LazyLock::new(Patterns::read);

/// The patterns and what each adds to the count.
struct Patterns {
    finder: DFA,
    figures: Vec<i32>,
}

impl Patterns {
    fn read() -> Option<Self> {
        let lines = include_str!("../../wordlists/syllable-patterns.txt").lines();
        let entries = lines.filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(' '));
        let (patterns, figures): (Vec<&str>, Vec<i32>) =
            entries.filter_map(|(pattern, figure)| Some((pattern, figure.parse::<i32>().ok()?))).unzip();
        let finder = DFA::new(patterns).ok()?;
        (figures.len() <= MOST).then_some(Self { finder, figures })
    }

    /// The patterns that occur in the word.
    fn occurring(&self, word: &str) -> Set {
        let mut found = Set::default();
        let Ok(mut state) = self.finder.start_state(Anchored::No) else { return found };
        let letters = word.bytes().map(|letter| letter.to_ascii_lowercase());
        for byte in [b'^'].into_iter().chain(letters).chain([b'$']) {
            state = self.finder.next_state(Anchored::No, state, byte);
            if self.finder.is_match(state) {
                (0..self.finder.match_len(state))
                    .for_each(|at| found.insert(self.finder.match_pattern(state, at).as_usize()));
            }
        }
        found
    }
}

/// A set of patterns by their places in the list.
#[derive(Default)]
struct Set([u64; MOST / 64]);

impl Set {
    fn insert(&mut self, pattern: usize) {
        self.0[pattern / 64 % (MOST / 64)] |= 1 << (pattern % 64);
    }

    /// The patterns in the order of the list.
    fn in_order(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(at, mut left)| {
            std::iter::from_fn(move || {
                let next = usize::try_from(left.trailing_zeros()).ok().filter(|_| left != 0)?;
                left &= left - 1;
                Some(64 * at + next)
            })
        })
    }
}

/// The likely syllables of a word of ASCII letters, in any case; at least 1.
pub(super) fn syllables(word: &str) -> u32 {
    let vowels = || word.bytes().map(|letter| is_vowel(char::from(letter)));
    let ends = vowels().zip(vowels().skip(1).chain([false])).filter(|(vowel, next)| *vowel && !next);
    let start = u32::try_from(ends.count()).unwrap_or(u32::MAX).max(1);
    let Some(patterns) = PATTERNS.as_ref() else { return start };
    patterns.occurring(word).in_order().fold(start, |count, pattern| match patterns.figures[pattern] {
        figure if figure < 0 && count == 1 => count,
        figure => count.saturating_add_signed(figure),
    })
}

/// Whether a letter of the ASCII alphabet, in any case, stands for a vowel.
pub(super) fn is_vowel(letter: char) -> bool {
    matches!(letter.to_ascii_lowercase(), 'a' | 'e' | 'i' | 'o' | 'u' | 'y')
}

#[cfg(test)]
mod tests {
    use super::{PATTERNS, syllables};

    /// The patterns were fitted on the dictionary to miss 4,184 of its 117,493 words of letters alone. Reading them
    /// in another order, or oftener than once, misses many more.
    #[test]
    fn the_patterns_miss_no_more_words_than_when_they_were_fitted() {
        let list = include_str!("../../wordlists/cmudict-syllables.txt");
        let words = list.lines().filter_map(|line| line.split_once(' '));
        let letters_alone = words.filter(|(word, _)| word.bytes().all(|byte| byte.is_ascii_lowercase()));
        let missed = letters_alone.filter(|(word, count)| Some(syllables(word)) != count.parse().ok()).count();
        assert_eq!(missed, 4_184);
    }

    #[test]
    fn the_list_is_whole() {
        let entries = PATTERNS.as_ref().unwrap().figures.len();
        let list = include_str!("../../wordlists/syllable-patterns.txt");
        assert_eq!(list.lines().filter(|line| !line.starts_with('#')).count(), entries);
        assert!(list.contains(&format!("# Entries: {entries}\n")));
    }

    #[test]
    fn made_up_names() {
        for (word, count) in
            [("lamped", 1), ("moonfire", 2), ("dragonrider", 4), ("shadowmere", 3), ("wyvern", 2), ("x", 1)]
        {
            assert_eq!(syllables(word), count, "{word}");
        }
    }
}
