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
