//! Names that the copy spells in two ways: `Maddie` and `Maddy`.
//!
//! Source: common practice of editors: a reader takes two spellings for two people. Only names that sound alike are
//! told, of which neither is a word; two people whose names differ in a sound are the author's own matter.

use std::collections::HashSet;

use super::misspelt::told;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::verbs;
use crate::brief::queries::Rule;
use crate::text::tagger;

/// The fewest letters of a name.
const SHORTEST: usize = 4;

/// Finds the first place of the second spelling of a name, the one that stands less often.
pub(super) fn find(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let mut names: Vec<(String, String, &Prose<'_>, usize)> = Vec::new();
    for prose in own.copy() {
        for at in 0..prose.words.len() {
            let word = bare(prose.word(at));
            if prose.is_capital(at) && word.len() >= SHORTEST && (!tagger::is_known(word) || word.ends_with("lly")) {
                names.push((sound(word), word.to_owned(), prose, at));
            }
        }
    }
    let count = |word: &str| names.iter().filter(|(_, name, ..)| name == word).count();
    let mut seen: Vec<&str> = Vec::new();
    for (number, (sound, word, prose, at)) in names.iter().enumerate() {
        let other = names.iter().enumerate().find(|(_, (alike, name, ..))| alike == sound && name != word);
        // Of two that stand equally often the first is right.
        let is_right = |(before, (_, right, ..)): &(usize, &(String, String, &Prose<'_>, usize))| {
            count(right) > count(word) || (count(right) == count(word) && *before < number)
        };
        let Some((_, (_, right, by, place))) = other.filter(is_right) else { continue };
        if seen.contains(&word.as_str()) || seen.contains(&right.as_str()) {
            continue;
        }
        seen.push(word);
        let written = &by.written(*place)[..right.len().min(by.written(*place).len())];
        let behind = &prose.written(*at)[word.len().min(prose.written(*at).len())..];
        let says = format!("this name is “{written}” elsewhere; one person has one spelling");
        queries.extend(told(Rule::MisspeltWord, prose, &(*at..at + 1), &format!("{written}{behind}"), says));
    }
}

/// Finds names that have lost the apostrophe of what is theirs: `Minas lamp`, where `Mina` stands elsewhere.
pub(super) fn owners(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let mut names: HashSet<&str> = HashSet::new();
    for prose in own.copy() {
        let places = (0..prose.words.len()).filter(|at| prose.is_capital(*at));
        names.extend(places.map(|at| bare(prose.word(at))).filter(|word| word.len() > 2 && !tagger::is_known(word)));
    }
    for prose in own.copy() {
        for at in 0..prose.words.len() {
            let word = prose.word(at);
            let Some(name) = word.strip_suffix('s').filter(|name| names.contains(name)) else { continue };
            let is_name = prose.is_capital(at) && !names.contains(word.strip_suffix("'s").unwrap_or(""));
            // `The Minas brothers`: a family.
            let is_family = at > 0 && matches!(prose.word(at - 1), "the" | "two" | "both" | "all" | "these" | "those");
            let next = prose.word(at + 1);
            let is_owned = prose.is_joined(at)
                && !prose.is_capital(at + 1)
                && tagger::may_be_noun(next)
                && !tagger::is_adjective(next)
                && !verbs::is_base(next)
                && !verbs::is_finite(next)
                && next.len() > 2;
            if is_name && !is_family && is_owned {
                let right = format!("{}'s", &prose.written(at)[..name.len()]);
                let says = "whose something is takes an apostrophe".to_owned();
                queries.extend(told(Rule::MisspeltWord, prose, &(at..at + 1), &right, says));
            }
        }
    }
}

/// A name without its possessive.
fn bare(word: &str) -> &str {
    word.strip_suffix("'s").unwrap_or(word)
}

/// A name as it sounds: one ending for `-y`, `-ie` and `-ey`, and no letter twice.
fn sound(name: &str) -> String {
    let stem = ["ie", "ey", "y", "i", "ee"].iter().find_map(|ending| name.strip_suffix(ending));
    let mut letters: Vec<char> = stem.unwrap_or(name).chars().collect();
    letters.dedup();
    let ending = if stem.is_some() { "i" } else { "" };
    letters.into_iter().chain(ending.chars()).collect()
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn names_in_two_spellings_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/name_slips.txt"));
    }
}
