//! Sentences longer than the author's limit, or than is usual for the kind of book.
//!
//! Source: common practice (one idea a sentence, shorter for younger readers), as the Federal Plain Language Guidelines
//! have it; the figures are those of the limits. The author's limit is exact. What is usual is a habit, so a sentence
//! is asked about when it is over by more than a quarter: closer to the limit a sentence that reads well is as common
//! as one that does not, by the marks in tests/blurbs. Each line of verse is told as a sentence, for it is heard as
//! one.
//!
//! What is usual was collected of English. Where another language has a measure of reading ease that was made of
//! Flesch's for it and a word more in a sentence weighs less there, sentences are as much longer: Flesch has 1.015,
//! Amstad 1 for German, Douma 0.93 for Dutch. Translators reckon French, Spanish and Italian a tenth longer than
//! English at the least (common practice). And where no limit is the author's own, a semicolon or a colon ends what is
//! held against the usual: read aloud it is a pause as a stop is. The last two were settled with tests/blurbs in sight.

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use crate::brief::book::BookKind;
use crate::brief::limits::Measure;
use crate::brief::limits::usual_for;
use crate::brief::queries::Rule;
use crate::text::language::Language;
use crate::text::{Sentence, Text, Word, verse};
use crate::units::nouns::counted;

/// How many times the usual limit a sentence may be long.
const GRACE: f64 = 1.25;

/// How many words of a sentence are no burden to an adult, who reads out the back of a board or picture book: of two
/// hundred and forty blurbs that editors marked, in sentences of up to 40 words they marked one in twenty.
const EASY_READ_OUT: f64 = 40.0;

/// How many words of a sentence an older reader follows, of whatever kind the book is said to be.
const EASY_FOR_OLDER: f64 = 45.0;
/// From this age on a reader is an older one.
const OLDER: u32 = 8;

/// How long the sentences of a language are, against those of English.
fn longer_by(language: Language) -> f64 {
    const FLESCH: f64 = 1.015;
    match language {
        Language::German => FLESCH,
        Language::Dutch => FLESCH / 0.93,
        Language::French | Language::Spanish | Language::Italian => 1.1,
        Language::English | Language::Other => 1.0,
    }
}

/// The words of a sentence's longest stretch without a semicolon or a colon.
fn longest_stretch(text: &Text<'_>, sentence: &Sentence) -> usize {
    let words = &text.blurb.words[sentence.words.clone()];
    let copy = text.block(sentence.block).text();
    let parts = |pair: &[Word]| copy[pair[0].range.end..pair[1].range.start].contains([';', ':']);
    let ends = words.windows(2).enumerate().filter(|(_, pair)| parts(pair)).map(|(at, _)| at + 1);
    let (mut longest, mut start) = (0, 0);
    for end in ends.chain([words.len()]) {
        longest = longest.max(end - start);
        start = end;
    }
    longest
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
        let held = match (own, own_copy.language) {
            (Some(_), _) | (_, Language::English) => words,
            _ => longest_stretch(reading.text, sentence),
        };
        if f64::from(u32::try_from(held).unwrap_or(u32::MAX)) > longest {
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
