//! Gunning's rule on which words of three syllables or more are easy all the same: two easy words written together, as
//! `bookkeeper` and `manpower` are, and words that reach three syllables by -es or -ed.

use super::familiar::{FamiliarWords, WordList};

/// The longest word that is tried as a compound, in bytes; no compound of two words of at most two syllables each has
/// more letters.
const LONGEST_COMPOUND: usize = 24;

/// Whether a word in small letters that is no name and has no hyphen is hard. Without a list no compound is recognised.
pub(crate) fn is_hard(
    word: &str,
    count: u32,
    words: Option<&FamiliarWords>,
    syllables: impl Fn(&str) -> Option<u32>,
) -> bool {
    count >= 3
        && !(count == 3 && is_made_long_by_an_ending(word, &syllables))
        && !words.is_some_and(|words| is_compound(words, word, &syllables))
}

/// Whether a word is two easy ones written together.
fn is_compound(words: &FamiliarWords, word: &str, syllables: impl Fn(&str) -> Option<u32>) -> bool {
    if word.len() > LONGEST_COMPOUND {
        return false;
    }
    let is_short = |part: &str| syllables(part).is_some_and(|count| count < 3);
    let is_doer = |part: &str| part.strip_suffix("er").is_some_and(|verb| words.has(verb));
    let is_easy =
        |part: &str| (words.is_familiar(part, WordList::DaleChall, &syllables) || is_doer(part)) && is_short(part);
    (3..word.len().saturating_sub(2))
        .filter_map(|at| word.split_at_checked(at))
        .any(|(front, back)| words.has(front) && is_short(front) && is_easy(back))
}

/// Whether a word reaches three syllables by -es or -ed (`created`, `expanses`).
fn is_made_long_by_an_ending(word: &str, syllables: impl Fn(&str) -> Option<u32>) -> bool {
    let stems = ["es", "s", "ed", "d"].into_iter().filter_map(|ending| word.strip_suffix(ending));
    word.ends_with(['s', 'd']) && stems.filter_map(syllables).any(|count| count < 3)
}
