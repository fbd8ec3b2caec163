//! Sentences longer than the author's limit, or than is usual for the kind of book.
//!
//! Source: common practice (one idea a sentence, shorter for younger readers), as the Federal Plain Language Guidelines
//! have it; the figures are those of the limits.

use super::{Query, Reading};
use crate::brief::limits::Measure;
use crate::brief::queries::Rule;
use crate::brief::usual::{Origin, limits_for};

/// Sentences of the blurb over the limit. Which of its words can go, or where it can end, is the author's matter.
pub(super) fn find(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let book = &reading.brief.book;
    let limits = limits_for(book, &reading.brief.limits);
    let limit = limits.iter().find(|limit| limit.measure == Measure::LongestSentence);
    let Some((most, origin)) = limit.and_then(|limit| Some((limit.range.to?, limit.origin))) else { return };
    let whose = match origin {
        Origin::Brief => "the brief allows",
        Origin::Usual(_) => "the usual limit for this kind of book is",
    };
    for sentence in &reading.text.blurb.sentences {
        let words = sentence.words.len();
        if f64::from(u32::try_from(words).unwrap_or(u32::MAX)) > most {
            queries.push(Query {
                rule: Rule::LongSentence,
                block: sentence.block,
                range: sentence.range.clone(),
                says: format!(
                    "this sentence has {words} words, and {whose} {most}; read aloud, its start is forgotten by its end"
                ),
                cuts: Vec::new(),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn long_sentences_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/long_sentences.txt"));
    }
}
