//! Weak openings: a first sentence that talks of the book, or presents its hero, in place of beginning.
//!
//! Source: common practice of editors; the first sentence is what a reader in a shop reads.

use std::ops::Range;

use super::lists;
use super::prose::{OwnCopy, Prose};
use super::query::{Cut, Query, Reading};
use super::{mend, verbs};
use crate::brief::queries::Rule;
use crate::draft::BlockKind;

/// Numbers with which a sentence of a pattern begins.
const COUNTS: [&str; 8] = ["one", "two", "three", "four", "five", "six", "seven", "twelve"];
/// The most words in a short sentence.
const SHORT: usize = 8;
/// How far from the first word somebody is presented.
const REACH: usize = 6;
/// Words behind `is` with which somebody is presented.
const PRESENTING: [(&str, &str); 10] = [
    ("just", "an"),
    ("just", "like"),
    ("your", "average"),
    ("an", "ordinary"),
    ("an", "average"),
    ("a", "normal"),
    ("a", "regular"),
    ("not", "like"),
    ("like", "other"),
    ("like", "most"),
];
/// What somebody who is presented is said to be.
const PRESENTED: [&str; 5] = ["ordinary", "normal", "average", "regular", "typical"];

/// Finds a first sentence that talks of the book.
pub(super) fn weak_openings(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let first = [own.copy().first().filter(|prose| prose.block.kind == BlockKind::Headline), own.blurb().first()];
    for prose in first.into_iter().flatten() {
        let is_headline = prose.block.kind == BlockKind::Headline;
        lists::for_each(reading, Rule::WeakOpening, prose, |hit| {
            // A headline may present somebody; a question to the reader is worn there too.
            if hit.words.start != 0 || (is_headline && !prose.is_question(&prose.sentence_of(0))) {
                return;
            }
            let says = "the first words talk of the book; begin with who and what, and the reader is in the story";
            let wordings = hit.wordings(prose);
            let cuts = wordings.iter().filter(|_| begins_behind(prose, hit.words.end));
            let cuts: Vec<Cut> = cuts.filter_map(|wording| mend::cut(prose, &hit.words, wording)).collect();
            queries.push(hit.query(Rule::WeakOpening, prose, says, cuts));
        });
    }
}

/// Finds a first sentence that presents somebody as every other does, and a row of short ones that are made by a
/// pattern: `Two friends. One lamp.`
pub(super) fn patterns(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let first = [own.copy().first().filter(|prose| prose.block.kind == BlockKind::Headline), own.blurb().first()];
    for prose in first.into_iter().flatten() {
        let says_row = "many back covers begin by this pattern; a sentence that only this book has is read on";
        let says_somebody = "many heroes are presented in these words; say what only this one does";
        let row = row_of_pattern(prose).map(|words| (words, says_row));
        let somebody = || presents(prose).map(|words| (words, says_somebody));
        let Some((words, says)) = row.or_else(somebody).filter(|(words, _)| !prose.is_kept(reading, words)) else {
            continue;
        };
        queries.push(Query {
            rule: Rule::WeakOpening,
            block: prose.number,
            range: prose.bytes(&words),
            says: says.to_owned(),
            cuts: Vec::new(),
        });
    }
}

/// Two or three first sentences of a few words each that count somebody and something, or set him against her.
fn row_of_pattern(prose: &Prose<'_>) -> Option<Range<usize>> {
    let [one, other, rest @ ..] = prose.sentences.as_slice() else { return None };
    let first = |sentence: &Range<usize>| prose.word(sentence.start);
    let is_short = |sentence: &Range<usize>| sentence.len() <= SHORT;
    let counts = |sentence: &Range<usize>| {
        is_short(sentence)
            && COUNTS.contains(&first(sentence))
            && !sentence.clone().any(|at| verbs::is_finite(prose.word(at)))
    };
    let goes_on = |sentence: &&Range<usize>| is_short(sentence) && matches!(first(sentence), "a" | "an");
    let is_him = (first(one), first(other)) == ("she", "he") || (first(one), first(other)) == ("he", "she");
    let are_set =
        is_him && is_short(one) && is_short(other) && prose.word(one.start + 1) == prose.word(other.start + 1);
    let end = rest.first().filter(goes_on).map_or(other.end, |third| third.end);
    match () {
        () if counts(one) && counts(other) && end > other.end => Some(one.start..end),
        () => are_set.then_some(one.start..other.end),
    }
}

/// The words of the first sentence that present somebody: `is just an ordinary`.
fn presents(prose: &Prose<'_>) -> Option<Range<usize>> {
    let sentence = prose.sentences.first()?;
    let mut starts = sentence.start + 1..sentence.end.min(sentence.start + REACH);
    let found = starts.find(|at| {
        let (next, third) = (prose.word(at + 1), prose.word(at + 2));
        let joined = prose.is_joined(*at) && prose.is_joined(at + 1);
        joined
            && match prose.word(*at) {
                "is" | "was" | "isn't" | "wasn't" => PRESENTING.contains(&(next, third)),
                "has" | "had" => next == "a" && matches!(third, "secret" | "dream"),
                _ => false,
            }
    })?;
    let ends_with_kind = PRESENTED.contains(&prose.word(found + 3)) && prose.is_joined(found + 2);
    Some(found..(found + 3 + usize::from(ends_with_kind)).min(sentence.end))
}

/// Whether a sentence of its own begins behind the opening: a comma or a name says so. What stands between two commas
/// is an aside (`In this story, the second of three, Oona`) unless it has a verb.
fn begins_behind(prose: &Prose<'_>, at: usize) -> bool {
    let sentence = prose.sentence_of(0);
    let comma = (at..sentence.end - 1).find(|word| prose.gap(*word).starts_with(','));
    let has_verb = |words: Range<usize>| words.map(|at| prose.word(at)).any(verbs::is_finite);
    let is_aside = |comma: usize| !has_verb(at..comma + 1);
    prose.is_capital(at) || (prose.gap(at - 1).starts_with(',') && !comma.is_some_and(is_aside))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn weak_openings_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/openings.txt"));
    }
}
