//! Words that no list knows and that one slip makes of a common word: a letter too many or too few, two in the wrong
//! order, an ending by its sound, a regular past of an irregular verb.
//!
//! Source: F. Damerau 1964: four in five wrong spellings are one such slip. A word that is merely unknown
//! is never told, for invented words are a children's book's own; nor is one that the copy has twice, which its
//! author means. What somebody says may be spelt as they say it.

use std::collections::HashSet;
use std::sync::LazyLock;

use super::misspelt::told;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::spelling;
use crate::brief::queries::Rule;
use crate::terms::frequencies;
use crate::text::parts::{SpecialForm, irregular_form};
use crate::text::{lexicon, tagger};

/// Words that are right, though one slip away from another, which no other list has.
static RARE: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("rare-words.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// The fewest letters of a word whose slip is told: among shorter ones many names and sounds are a letter from a word.
const SHORTEST: usize = 6;
/// The most letters of a word that is looked at: a longer one is a sound or a mistake of another kind.
const LONGEST: usize = 20;
/// The fewest letters where any letter may be missing or too many.
const LONG: usize = 8;
/// How often a word must stand in prose for an unknown one to be a slip of it.
const COMMON: u32 = 10;
/// Endings that sound alike.
const ENDINGS: [(&str, &str); 20] = [
    ("ance", "ence"),
    ("ant", "ent"),
    ("antly", "ently"),
    ("able", "ible"),
    ("ably", "ibly"),
    ("ar", "er"),
    ("or", "er"),
    ("ary", "ery"),
    ("tion", "sion"),
    ("tion", "cion"),
    ("tious", "cious"),
    ("eous", "ious"),
    ("full", "ful"),
    ("fuly", "fully"),
    ("aly", "ally"),
    ("ley", "ly"),
    ("elly", "ely"),
    ("ys", "ies"),
    ("is", "ise"),
    ("ent", "ment"),
];
/// Letters and pairs that are written for each other inside a word.
const INSIDE: [(&str, &str); 14] = [
    ("ie", "ei"),
    ("sc", "c"),
    ("sc", "s"),
    ("c", "s"),
    ("f", "ph"),
    ("k", "ck"),
    ("y", "i"),
    ("a", "e"),
    ("e", "i"),
    ("a", "i"),
    ("o", "a"),
    ("o", "u"),
    ("ou", "o"),
    ("gh", "g"),
];

/// Finds words that are a slip of another.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let mut seen = HashSet::new();
    let mut twice = HashSet::new();
    for prose in &own.paragraphs {
        for at in 0..prose.words.len() {
            if !seen.insert(prose.word(at)) {
                twice.insert(prose.word(at));
            }
        }
    }
    for prose in &own.paragraphs {
        for at in 0..prose.words.len() {
            let is_kept = || prose.is_kept(reading, &(at..at + 1)) || twice.contains(prose.word(at));
            if let Some(right) = right_of(prose, at).filter(|_| !is_kept()) {
                let says = format!("no list has this word; “{right}” is spelt so");
                queries.extend(told(Rule::MisspeltWord, prose, &(at..at + 1), &right, says));
            }
        }
    }
}

/// The word of which an unknown one is a slip.
fn right_of(prose: &Prose<'_>, at: usize) -> Option<String> {
    let word = prose.word(at);
    let is_plain = prose.written(at).chars().all(|c| c.is_ascii_lowercase());
    if !is_plain || !(SHORTEST..=LONGEST).contains(&word.len()) {
        return None;
    }
    if let Some(past) = regular_past(word) {
        return Some(past);
    }
    if is_known(word) {
        return None;
    }
    let best = slips(word).into_iter().map(|right| (frequencies::count(&right), right)).max()?;
    let is_long = word.len() >= LONG;
    let is_listed = |right: &String| lexicon::syllables(right).is_some() && tagger::is_known(right);
    // Of a long word hardly any other is one slip away, so that a rare one will do.
    let rare = || slips(word).into_iter().find(|right| is_long && is_listed(right));
    Some(best).filter(|(count, _)| *count >= COMMON).map(|(_, right)| right).or_else(rare)
}

/// Whether any list has a word, or the word that it is made of by an ending.
fn is_known(word: &str) -> bool {
    const MADE_BY: [&str; 10] = ["s", "ly", "ness", "ish", "like", "less", "able", "eable", "wards", "ship"];
    let is_listed = |word: &str| {
        lexicon::syllables(word).is_some()
            || tagger::is_known(word)
            || frequencies::count(word) > 0
            || spelling::is_listed(word)
            || RARE.contains(word)
    };
    is_listed(word)
        || MADE_BY.iter().filter_map(|ending| word.strip_suffix(ending)).any(|stem| stem.len() > 2 && is_listed(stem))
}

/// The irregular past of a verb that is written with a regular one: `catched`.
fn regular_past(word: &str) -> Option<String> {
    if lexicon::syllables(word).is_some() {
        return None;
    }
    let stem = word.strip_suffix("ed")?;
    let single = stem.strip_suffix(|last| stem.ends_with([last, last])).unwrap_or(stem);
    let bases = [stem.to_owned(), single.to_owned(), format!("{stem}e")];
    bases.iter().find_map(|base| irregular_form(base, SpecialForm::Past)).map(str::to_owned)
}

/// Every word that is one slip away from a word.
fn slips(word: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (one, other) in ENDINGS.into_iter().chain(ENDINGS.map(|(one, other)| (other, one))) {
        found.extend(word.strip_suffix(one).map(|stem| format!("{stem}{other}")));
    }
    for (one, other) in INSIDE.into_iter().chain(INSIDE.map(|(one, other)| (other, one))) {
        let places = word.match_indices(one).filter(|(at, _)| *at > 0);
        found.extend(places.map(|(at, _)| format!("{}{other}{}", &word[..at], &word[at + one.len()..])));
    }
    let letters = word.as_bytes();
    for at in 1..letters.len() {
        let (before, behind) = word.split_at(at);
        let is_double = letters[at] == letters[at - 1];
        if is_double || word.len() >= LONG {
            found.push(format!("{before}{}", &behind[1..]));
        }
        found.push(format!("{before}{}{behind}", char::from(letters[at - 1])));
        if word.len() >= LONG {
            found.extend(('a'..='z').map(|letter| format!("{before}{letter}{behind}")));
        }
        if at + 1 < letters.len() {
            let (one, other) = (char::from(letters[at]), char::from(letters[at + 1]));
            found.push(format!("{before}{other}{one}{}", &behind[2..]));
        }
    }
    found.extend(word.strip_suffix('e').map(str::to_owned));
    found.push(format!("{word}e"));
    found
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn mistyped_words_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/mistyped.txt"));
    }
}
