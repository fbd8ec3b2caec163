//! Three adjectives in a row before a noun.
//!
//! Source: common practice of editors; Strunk, The Elements of Style (1918), rule 12: the definite and concrete word.
//! Of three adjectives a listener keeps one. Pairs that children's books have as one word (`great big`) count as one.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::prose::{Prose, is_shouted};
use super::query::{Cut, Query, Reading};
use super::telling::{ToldSentence, ToldWord};
use crate::brief::queries::Rule;

static ADJECTIVES: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("adjectives.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// Whether a word, folded, is on the list of adjectives.
pub(super) fn is_adjective(word: &str) -> bool {
    ADJECTIVES.contains(word)
}

/// Pairs of adjectives that are said as one.
const PAIRS: [[&str; 2]; 11] = [
    ["great", "big"],
    ["big", "old"],
    ["big", "bad"],
    ["little", "old"],
    ["poor", "old"],
    ["poor", "little"],
    ["good", "old"],
    ["silly", "old"],
    ["tiny", "little"],
    ["sweet", "little"],
    ["nice", "big"],
];

/// Whether two adjectives, folded, are said as one: `great big`.
pub(super) fn is_said_as_one(first: &str, second: &str) -> bool {
    PAIRS.contains(&[first, second])
}

/// Words that cannot be the noun behind adjectives.
const NO_NOUNS: [&str; 76] = [
    "a", "an", "the", "and", "or", "but", "nor", "yet", "so", "as", "than", "that", "to", "of", "in", "on", "at", "by",
    "for", "from", "with", "without", "about", "after", "before", "behind", "beneath", "beside", "between", "into",
    "like", "near", "over", "through", "under", "until", "because", "who", "where", "which", "when", "while", "if",
    "is", "are", "was", "were", "be", "has", "had", "can", "will", "he", "she", "it", "they", "we", "you", "i", "his",
    "her", "their", "our", "your", "my", "this", "these", "those", "all", "both", "every", "just", "even", "enough",
    "too", "not",
];

/// Finds three adjectives or more in a row, with their noun.
pub(super) fn in_a_row(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for told in &prose.told {
        let mut at = 0;
        while at < told.words.len() {
            let row = row_from(told, at);
            let row_end = row.last().map(|last| last.end);
            let noun = row_end.and_then(|end| told.words.get(end)).filter(|noun| is_noun(noun));
            if let Some(noun) = noun.filter(|_| row.len() >= 3) {
                queries.push(query(prose, told, &row, noun));
            }
            at = row_end.unwrap_or(at + 1);
        }
    }
}

/// The adjectives from a word on, each with its words; a pair is one.
fn row_from(told: &ToldSentence<'_>, first: usize) -> Vec<Range<usize>> {
    let words = &told.words;
    let mut row: Vec<Range<usize>> = Vec::new();
    let mut at = first;
    while let Some(word) = words.get(at) {
        let is_next = row.is_empty() || matches!(word.before, " " | ", ");
        if !is_next {
            break;
        }
        let is_and = !row.is_empty() && matches!(word.plain, "and" | "but" | "yet");
        let from = if is_and { at + 1 } else { at };
        let Some(adjective) = words.get(from).filter(|word| ADJECTIVES.contains(word.plain)) else { break };
        if is_and && adjective.before != " " {
            break;
        }
        let is_pair = words
            .get(from + 1)
            .is_some_and(|second| second.before == " " && PAIRS.contains(&[adjective.plain, second.plain]));
        let end = if is_pair { from + 2 } else { from + 1 };
        row.push(from..end);
        at = end;
    }
    row
}

/// Whether a word may be the noun behind a row.
fn is_noun(word: &ToldWord<'_>) -> bool {
    word.before == " " && word.plain.len() > 2 && !NO_NOUNS.contains(&word.plain) && !word.plain.ends_with("ly")
}

/// The query on a row of adjectives and its noun.
fn query(prose: &Prose<'_>, told: &ToldSentence<'_>, row: &[Range<usize>], noun: &ToldWord<'_>) -> Query {
    let place =
        |words: &Range<usize>| told.words[words.start].word.range.start..told.words[words.end - 1].word.range.end;
    let places: Vec<Range<usize>> = row.iter().map(place).collect();
    let article = row[0].start.checked_sub(1).map(|at| told.words[at].plain);
    Query {
        rule: Rule::AdjectivesInARow,
        block: told.sentence.block,
        range: places[0].start..noun.word.range.end,
        says: format!("{} adjectives stand before “{}”; of so many a listener keeps one", row.len(), noun.written),
        cuts: cuts(prose, article, &places),
    }
}

/// The row without one of its adjectives, for each of them that can go; the longest first.
fn cuts(prose: &Prose<'_>, article: Option<&str>, places: &[Range<usize>]) -> Vec<Cut> {
    let (text, end) = (prose.text(), places.len() - 1);
    if prose.is_verse || places.iter().any(|place| is_shouted(&text[place.clone()])) {
        return Vec::new();
    }
    // Where two adjectives are left, `and` needs no comma.
    let has_comma_before_and = end == 2 && text[places[1].end..places[2].start].starts_with(", and ");
    let first_can_go = !has_comma_before_and
        && !text[places[0].clone()].starts_with(char::is_uppercase)
        && article_stays(article, &text[places[0].clone()], &text[places[1].clone()]);
    let later = (1..=end).map(|at| {
        let comma = usize::from(has_comma_before_and && at == 1);
        places[at - 1].end..places[at].end + comma
    });
    let first = first_can_go.then(|| places[0].start..places[1].start);
    let mut cuts: Vec<Cut> = later.chain(first).map(|range| Cut { range, wording: String::new() }).collect();
    cuts.sort_by_key(|cut| std::cmp::Reverse(cut.range.len()));
    cuts
}

/// Whether `a` or `an` still suits when the first adjective goes.
fn article_stays(article: Option<&str>, first: &str, second: &str) -> bool {
    let is_vowel = |word: &str| word.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    !matches!(article, Some("a" | "an")) || is_vowel(first) == is_vowel(second)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn rows_of_adjectives_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/adjectives.txt"));
    }
}
