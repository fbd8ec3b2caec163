//! Sentences in a row that begin with the same word.
//!
//! Source: common practice of editors. Two are often meant, and so is a row of questions, of short fragments, or of
//! sentences that share more than their first word; three plain sentences that begin alike are seldom heard by the ear
//! that wrote them.

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use super::telling::{self, ToldSentence, ToldWord};
use crate::brief::queries::Rule;

/// The length on average, in words, up to which a row of sentences is a list.
const FRAGMENT: usize = 6;
/// Words that open a sentence without being chosen for it. A row that opens with another word is a pattern more often
/// than not, but for a name, where a pronoun would do.
const UNCHOSEN: [&str; 21] = [
    "he", "she", "it", "they", "his", "her", "their", "this", "there", "but", "and", "so", "then", "when", "as",
    "also", "however", "soon", "now", "after", "suddenly",
];
/// The length on average, in words, above which no pattern is heard.
const LONG: usize = 10;
/// How many sentences three that begin alike may be spread over.
const LONGEST_ROW: usize = 4;

/// Finds three sentences in a row that begin alike, or four of which one may begin otherwise; they are told at the
/// third.
pub(super) fn find(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let told = own.told();
    let mut next = 0;
    while next < told.len() {
        let row = alike(&told[next..]);
        let span = row.last().map_or(1, |last| last + 1);
        if let [_, _, third, ..] = row.as_slice()
            && is_dull(&row.iter().map(|at| told[next + at]).collect::<Vec<_>>())
        {
            queries.push(query(&told[next + third].words[0], row.len(), span));
        }
        next += if row.len() < 3 { 1 } else { span };
    }
}

fn query(start: &ToldWord<'_>, alike: usize, span: usize) -> Query {
    let share = if span == alike { "in a row".to_owned() } else { format!("of {span}") };
    Query {
        rule: Rule::RepeatedOpening,
        block: start.word.block,
        range: start.word.range.clone(),
        says: format!("{alike} sentences {share} begin with “{}”, and read aloud they sound like a list", start.plain),
        cuts: Vec::new(),
    }
}

/// The places of the sentences that begin as the first does; one gap is allowed. Empty where the first has no opening.
fn alike(told: &[&ToldSentence<'_>]) -> Vec<usize> {
    let Some(start) = told.first().and_then(|first| opening(first)) else { return Vec::new() };
    let mut row = vec![0];
    let mut gaps = 0;
    for (at, sentence) in told.iter().enumerate().skip(1) {
        if opening(sentence) == Some(start) {
            row.push(at);
        } else if gaps == 0 && at < LONGEST_ROW - 1 && row.len() < LONGEST_ROW - 1 {
            gaps += 1;
        } else {
            break;
        }
    }
    row
}

/// Whether a row is no pattern: not all questions, not short, and no two neighbours go on alike.
fn is_dull(row: &[&ToldSentence<'_>]) -> bool {
    let Some(start) = row.first().and_then(|first| opening(first)) else { return false };
    let words: usize = row.iter().map(|told| told.words.len()).sum();
    let is_unchosen = UNCHOSEN.contains(&start);
    let is_name = !telling::is_common(start) && !start.contains('\'');
    let is_short = words <= row.len() * if is_unchosen { FRAGMENT } else { LONG };
    let asks = row.iter().all(|told| told.is_question());
    let is_meant = row.windows(2).any(|pair| goes_on_alike(pair[0], pair[1]));
    (is_unchosen || is_name) && !is_short && !asks && !is_meant
}

/// The first word of a sentence, where it is the narrator's.
fn opening<'a>(told: &'a ToldSentence<'_>) -> Option<&'a str> {
    let first = told.words.first()?;
    // Speech before it is a word of the sentence and none of the narrator's.
    let gap = told.text.get(..first.word.range.start - told.sentence.range.start)?;
    (!gap.contains(char::is_alphanumeric)).then_some(first.plain)
}

/// Whether two sentences go on alike behind the word that they open with: a pattern that the author has made.
fn goes_on_alike(one: &ToldSentence<'_>, other: &ToldSentence<'_>) -> bool {
    let [next, of_other] = [one, other].map(|told| told.words.get(1).map(|word| word.plain));
    next.is_some() && next == of_other
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check_closely;

    #[test]
    fn repeated_openings_are_found_as_marked() {
        check_closely(include_str!("../../tests/cases/queries/repeated_openings.txt"));
    }
}
