//! Counts the syllables of English words that no list knows, by patterns of letters.
//!
//! The count begins at the number of vowel groups and is then corrected by each pattern that occurs in the word, in
//! the order of `wordlists/syllable-patterns.txt`, where the rule is told. All patterns are looked for in one pass.
//! Worked by hand: `lamped` has two vowel groups (a, e); `ed$` takes one away, and no other pattern of the list occurs;
//! one syllable.

use std::sync::LazyLock;

use aho_corasick::Anchored;
use aho_corasick::automaton::Automaton;
use aho_corasick::dfa::DFA;

/// A set of patterns: a bit for each pattern, by its position in the list.
type Set = [u64; 12];

static PATTERNS: LazyLock<Option<Patterns>> = LazyLock::new(Patterns::read);

/// The patterns of the list.
struct Patterns {
    /// Finds all patterns in one pass.
    finder: DFA,
    /// What each pattern adds to the count, in the order of the list.
    figures: Vec<i32>,
}

impl Patterns {
    fn read() -> Option<Self> {
        let lines = wordlist!("syllable-patterns.txt").lines();
        let entries = lines.filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(' '));
        let (patterns, figures): (Vec<&str>, Vec<i32>) =
            entries.filter_map(|(pattern, figure)| Some((pattern, figure.parse::<i32>().ok()?))).unzip();
        let finder = DFA::new(patterns).ok()?;
        (figures.len() <= 64 * Set::default().len()).then_some(Self { finder, figures })
    }

    /// The patterns that occur in a word. `^` and `$` in a pattern stand for the word's start and end.
    fn occurring(&self, word: &str) -> Set {
        let mut found = Set::default();
        let Ok(mut state) = self.finder.start_state(Anchored::No) else { return found };
        let letters = word.bytes().map(|letter| letter.to_ascii_lowercase());
        for byte in [b'^'].into_iter().chain(letters).chain([b'$']) {
            state = self.finder.next_state(Anchored::No, state, byte);
            if self.finder.is_match(state) {
                for at in 0..self.finder.match_len(state) {
                    let pattern = self.finder.match_pattern(state, at).as_usize();
                    found[pattern / 64 % found.len()] |= 1 << (pattern % 64);
                }
            }
        }
        found
    }
}

/// The likely syllables of a word of ASCII letters, in any case; at least 1.
pub(super) fn syllables(word: &str) -> u32 {
    let mut count = groups(word).max(1);
    let Some(patterns) = PATTERNS.as_ref() else { return count };
    // The bits are taken from the lowest up, which is the order of the list. A figure below zero is passed over while
    // the count is 1.
    for (at, mut left) in patterns.occurring(word).into_iter().enumerate() {
        while left != 0 {
            let figure = usize::try_from(left.trailing_zeros()).map_or(0, |bit| patterns.figures[64 * at + bit]);
            if figure > 0 || count > 1 {
                count = count.saturating_add_signed(figure);
            }
            left &= left - 1;
        }
    }
    count
}

/// How many groups of vowels a word has.
fn groups(word: &str) -> u32 {
    let (groups, _) = word.bytes().map(char::from).fold((0, false), |(groups, follows_vowel), letter| {
        (groups + u32::from(is_vowel(letter) && !follows_vowel), is_vowel(letter))
    });
    groups
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
