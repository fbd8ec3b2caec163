//! Sentences longer than the author's limit, or than is usual for the kind of book.
//!
//! Source: common practice (one idea a sentence, shorter for younger readers), as the Federal Plain Language Guidelines
//! have it; the figures are those of the limits. The author's limit is exact. What is usual is a habit, so a sentence
//! is asked about when it is over by more than a quarter: closer to the limit a sentence that reads well is as common
//! as one that does not, by the marks in tests/blurbs. Each line of verse is told as a sentence, for it is heard as
//! one.
//!
//! What is usual was collected of English. Another language's usual is taken from the measure of reading ease that was
//! made of Flesch's for it: where a word more in a sentence weighs less than in English (1.015 for each), sentences are
//! as much longer. Amstad has 1 for German, Douma 0.93 for Dutch, Szigriszt 1 and Fernández Huerta 1.02 for Spanish,
//! Kandel and Moles 1.015 for French (their other form weighs more, and is left out); Italian's Gulpease has no such
//! weight, and takes the English figure (common practice).

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use crate::brief::book::BookKind;
use crate::brief::limits::Measure;
use crate::brief::limits::usual_for;
use crate::brief::queries::Rule;
use crate::text::language::Language;
use crate::text::verse;
use crate::units::nouns::counted;

/// How many times the usual limit a sentence may be long.
const GRACE: f64 = 1.25;

/// How many words of a sentence are no burden to an adult, who reads out the back of a board or picture book
/// (plain-language guidance of governments asks for no more than 25, from memory).
const EASY_READ_OUT: f64 = 25.0;

/// How many words of a sentence an older reader follows, of whatever kind the book is said to be.
const EASY_FOR_OLDER: f64 = 45.0;
/// The youngest age of such readers.
const OLDER: u32 = 8;

/// How long the sentences of a language are, against those of English.
fn longer_by(language: Language) -> f64 {
    const FLESCH: f64 = 1.015;
    match language {
        Language::German | Language::Spanish => FLESCH,
        Language::Dutch => FLESCH / 0.93,
        Language::English | Language::French | Language::Italian | Language::Other => 1.0,
    }
}

/// Finds sentences of the blurb over the limit. Which of its words can go, or where it can end, is the author's matter.
pub(super) fn find(reading: &Reading<'_>, own_copy: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let book = &reading.brief.book;
    let limits = &reading.brief.limits;
    let own = limits.of(Measure::LongestSentence).and_then(|range| range.to);
    let usual = usual_for(book, limits).into_iter().find(|usual| usual.measure == Measure::LongestSentence);
    let is_read_out = matches!(book.kind, BookKind::BoardBook | BookKind::PictureBook);
    let easy = match book.readers.from {
        OLDER.. => EASY_FOR_OLDER,
        _ if is_read_out => EASY_READ_OUT,
        _ => 0.0,
    };
    let grace = |most: f64| (most * GRACE).max(easy) * longer_by(own_copy.language);
    let (asked, longest) = match (own, usual.and_then(|usual| Some((usual.range.to?, usual.whose)))) {
        (Some(most), _) => (format!("the brief allows {most}"), most),
        (None, Some((most, whose))) => (format!("at most {most} are usual for {whose}"), grace(most)),
        (None, None) => return,
    };
    for sentence in &verse::sentences(reading.text, &reading.text.blurb) {
        let words = sentence.words.len();
        if f64::from(u32::try_from(words).unwrap_or(u32::MAX)) > longest {
            queries.push(Query {
                rule: Rule::LongSentence,
                block: sentence.block,
                range: sentence.range.clone(),
                says: format!(
                    "this sentence has {}, and {asked}; read aloud, its start is forgotten by its end",
                    counted(words, "word")
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
