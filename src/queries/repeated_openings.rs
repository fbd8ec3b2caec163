//! Sentences in a row that begin with the same word.
//!
//! Source: common practice of editors. Two are often meant, and so is a row of questions, of short fragments, or of
//! sentences that share more than their first word; three plain sentences that begin alike are seldom heard by the ear
//! that wrote them.

use super::telling::{self, Told};
use super::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// A row of sentences up to this length on average is a list.
const FRAGMENT: usize = 4;
/// Words that open a sentence without being chosen for it. A row that opens with another word is a pattern more often than
/// not, but for a name, where a pronoun would do.
const UNCHOSEN: [&str; 21] = [
    "he", "she", "it", "they", "his", "her", "their", "this", "there", "but", "and", "so", "then", "when", "as",
    "also", "however", "soon", "now", "after", "suddenly",
];
/// Sentences of so many words on average are too long for a pattern to be heard.
const LONG: usize = 10;
/// Of so many sentences in a row three begin alike.
const LONGEST_ROW: usize = 4;

/// The third of three sentences, or of four one may begin otherwise.
pub(super) fn find(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    let told = telling::sentences(reading);
    let mut next = 0;
    while let Some(first) = told.get(next) {
        let row = alike(first, &told[next..]);
        let [_, _, third, ..] = row.as_slice() else {
            next += 1;
            continue;
        };
        let opening = opening(&told[next + third]);
        let [start, .., end] = [&told[next + third].words[0], &told[next + third].words[opening.len() - 1]];
        let span = row.last().map_or(0, |last| last + 1);
        let share = if span == row.len() { "in a row".to_owned() } else { format!("of {span}") };
        queries.push(Query {
            rule: Rule::RepeatedOpening,
            block: start.word.block,
            range: start.word.range.start..end.word.range.end,
            says: format!(
                "{} sentences {share} begin with “{}”, and read aloud they sound like a list",
                row.len(),
                opening.join(" ")
            ),
            cuts: Vec::new(),
        });
        next += span;
    }
}

/// The places, counted from the first, of the sentences of a row that begin as it does; one gap is allowed.
fn alike(first: &Told<'_>, told: &[Told<'_>]) -> Vec<usize> {
    let start = opening(first);
    if start.is_empty() {
        return Vec::new();
    }
    let mut row = vec![0];
    let mut gaps = 0;
    for (at, sentence) in told.iter().enumerate().skip(1) {
        if opening(sentence) == start {
            row.push(at);
        } else if gaps == 0 && at < LONGEST_ROW - 1 && row.len() < LONGEST_ROW - 1 {
            gaps += 1;
        } else {
            break;
        }
    }
    let words: usize = row.iter().map(|at| told[*at].words.len()).sum();
    let is_unchosen = UNCHOSEN.contains(&start[0]);
    let is_list = words <= row.len() * if is_unchosen { FRAGMENT } else { LONG };
    let is_name = start.len() == 1 && !telling::is_common(start[0]) && !start[0].contains('\'');
    let asks = row.iter().all(|at| told[*at].is_question());
    let is_meant = row.iter().all(|at| shares_more(first, &told[*at], start.len()));
    if row.len() < 3 || is_list || asks || is_meant || !(is_unchosen || is_name) { Vec::new() } else { row }
}

/// The first word of a sentence that the narrator opens; with an article the word behind it too.
fn opening<'a>(told: &'a Told<'_>) -> Vec<&'a str> {
    let starts = told.words.first().is_some_and(|first| !first.before.contains(['“', '"', '«', '‘']));
    let is_first = told.words.first().is_some_and(|first| first.word.range.start - told.sentence.range.start < 6);
    if !starts || !is_first {
        return Vec::new();
    }
    let is_article = matches!(told.words[0].plain.as_str(), "the" | "a" | "an");
    told.words.iter().take(if is_article { 2 } else { 1 }).map(|word| word.plain.as_str()).collect()
}

/// Whether two sentences go on alike behind what they open with: a pattern that the author has made.
fn shares_more(one: &Told<'_>, other: &Told<'_>, opening: usize) -> bool {
    let next = |told: &Told<'_>| told.words.get(opening).map(|word| word.plain.clone());
    next(one).is_some() && next(one) == next(other)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn repeated_openings_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/repeated_openings.txt"));
    }
}
