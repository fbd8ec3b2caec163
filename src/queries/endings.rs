//! Ends of the blurb: a last question that can be answered with no, and wording that tells the story's end.
//!
//! Source: common practice of editors: a blurb stops before the ending, and a question should make the reader want to
//! know more, not answer it.

use super::lists;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use crate::brief::queries::Rule;

/// Words that begin a question which yes or no answers.
const AUXILIARIES: [&str; 22] = [
    "will", "can", "could", "would", "should", "is", "are", "was", "were", "do", "does", "did", "has", "have", "had",
    "may", "might", "must", "won't", "can't", "isn't", "couldn't",
];
/// Words that may stand before the first of such a question.
const LEADS: [&str; 6] = ["and", "but", "or", "so", "now", "then"];
/// How far before the wording of an ending, in words, the readers may stand who learn what it tells.
const READERS_REACH: usize = 6;
/// How many sentences of the last paragraph count as its end.
const LAST: usize = 2;

/// Finds a question at the end that can be answered with no, and the last of two that end a paragraph before. One that
/// leaves a choice (`stay or go`) cannot; one that asks the reader to look (`can you find`) is a game.
pub(super) fn closed_questions(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let Some((last, before)) = own.blurb().split_last() else { return };
    let rows = before.iter().filter_map(|prose| Some((prose, last_of_row(prose)?)));
    let at_end = last.sentences.iter().rev().take(LAST).rev().filter(|sentence| {
        let leaves_choice = (sentence.start + 1..sentence.end).any(|at| last.word(at) == "or");
        is_closed(last, sentence) && !leaves_choice
    });
    for (prose, sentence) in rows.chain(at_end.map(|sentence| (last, sentence))) {
        if !prose.is_kept(reading, sentence) {
            queries.push(Query {
                rule: Rule::ClosedQuestion,
                block: prose.number,
                range: question(prose, sentence),
                says: "a reader can answer no and put the book back; what, who or how leaves the question open"
                    .to_owned(),
                cuts: Vec::new(),
            });
        }
    }
}

/// Whether yes or no answers a question.
fn is_closed(prose: &Prose<'_>, sentence: &std::ops::Range<usize>) -> bool {
    let first = sentence.start + usize::from(LEADS.contains(&prose.word(sentence.start)));
    prose.is_question(sentence) && AUXILIARIES.contains(&prose.word(first)) && prose.word(first + 1) != "you"
}

/// The last sentence of a paragraph that ends in two such questions.
fn last_of_row<'a>(prose: &'a Prose<'_>) -> Option<&'a std::ops::Range<usize>> {
    let (last, before) = prose.sentences.split_last()?;
    let one = before.last()?;
    let asks_both = |words: &[&str]| words.contains(&prose.word(one.start)) && words.contains(&prose.word(last.start));
    (is_closed(prose, one) && is_closed(prose, last) && asks_both(&["will", "can", "or"])).then_some(last)
}

/// A question with its mark, in bytes of the block's text.
fn question(prose: &Prose<'_>, sentence: &std::ops::Range<usize>) -> std::ops::Range<usize> {
    let bytes = prose.bytes(sentence);
    let mark = prose.gap(sentence.end - 1).find('?').map_or(0, |at| at + 1);
    bytes.start..bytes.end + mark
}

/// Finds wording that tells how the story ends, but not in a question, nor of what readers learn.
pub(super) fn plots_to_the_end(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    const READERS: [&str; 7] = ["children", "readers", "kids", "reader", "you", "parents", "teachers"];
    lists::for_each(reading, Rule::PlotToTheEnd, prose, |hit| {
        let sentence = prose.sentence_of(hit.words.start);
        let near = hit.words.start.saturating_sub(READERS_REACH).max(sentence.start);
        let of_readers = (near..hit.words.start).any(|at| READERS.contains(&prose.word(at)));
        if !of_readers && !prose.is_question(&sentence) {
            let says = "this gives the ending away; stop while the reader still wants to know";
            queries.push(hit.query(Rule::PlotToTheEnd, prose, says, Vec::new()));
        }
    });
}

/// Words that begin the answer to a question.
const ANSWERS: [&str; 10] = [
    "yes",
    "luckily",
    "thankfully",
    "fortunately",
    "happily",
    "together",
    "eventually",
    "ultimately",
    "finally",
    "somehow",
];
/// Words that begin an answer where these follow: `of course she can`, `with a little help`.
const LEADING: [(&str, &str); 3] = [("of", "course"), ("with", "a"), ("with", "the")];
/// What is done in an answer that begins with a pronoun: `she can`.
const DONE: [&str; 5] = ["can", "does", "do", "manages", "will"];

/// Finds a question that is answered at once: the sentence behind it begins as an answer does, or says with a pronoun
/// that it can be done.
pub(super) fn answered_questions(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let sentences = || own.blurb().iter().flat_map(|prose| prose.sentences.iter().map(move |place| (prose, place)));
    for ((asked, question), (prose, sentence)) in sentences().zip(sentences().skip(1)) {
        let (first, second) = (prose.word(sentence.start), prose.word(sentence.start + 1));
        let begins = ANSWERS.contains(&first)
            || LEADING.contains(&(first, second))
            || (first == "in" && second == "the" && prose.word(sentence.start + 2) == "end")
            || (matches!(first, "she" | "he" | "they") && DONE.contains(&second));
        let is_question = asked.is_question(question) && asked.word(question.start + 1) != "you";
        if is_question && begins && !prose.is_question(sentence) && !prose.is_kept(reading, sentence) {
            queries.push(Query {
                rule: Rule::PlotToTheEnd,
                block: prose.number,
                range: prose.bytes(sentence),
                says: "the question is answered at once; left open, it makes the reader turn to the book".to_owned(),
                cuts: Vec::new(),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn endings_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/endings.txt"));
    }
}
