//! What stands on many back covers: stock phrases, praise by the author's own side, and claims without evidence.
//!
//! Sources: G. Burgess, who coined the word blurb, made fun of its phrases in Burgess Unabridged (1914); common
//! practice of editors. A review quote may praise; the author's own copy tells what happens and lets the reader judge.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::lists;
use super::mend;
use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// Adjectives that praise a book where its noun follows.
static ADJECTIVES: LazyLock<HashSet<&str>> = LazyLock::new(|| lists::adjectives_of(Rule::Praise));

/// Finds phrases that could stand on any book.
pub(super) fn stock_phrases(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::StockPhrase, prose, |hit| {
        let says = "many back covers say this; a detail that only this book has would say more";
        queries.push(hit.query(Rule::StockPhrase, prose, says, lists::cuts(reading, prose, hit, &hit.wordings(prose))));
    });
}

/// Finds wording that calls to buy.
pub(super) fn calls(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::CallToBuy, prose, |hit| {
        let says = "this sells the book and tells nothing of it; the story's own words sell better";
        queries.push(hit.query(Rule::CallToBuy, prose, says, Vec::new()));
    });
}

/// Finds praise in the author's own copy. Words of praise in a row (`beautiful, heartfelt and inspiring`) are one
/// place.
pub(super) fn praise(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let mut places: Vec<(Range<usize>, Vec<Cut>)> = Vec::new();
    lists::for_each(reading, Rule::Praise, prose, |hit| {
        let cuts = if stands_alone(prose, &hit.words) {
            lists::cuts(reading, prose, hit, &hit.wordings(prose))
        } else {
            Vec::new()
        };
        match places.last_mut().filter(|(place, _)| is_row(prose, place.end..hit.words.start)) {
            Some((place, row)) => {
                place.end = hit.words.end;
                let whole = stands_alone(prose, place).then(|| mend::cut(prose, place, "")).flatten();
                *row = whole.filter(|_| !hit.phrase.wordings.is_empty()).into_iter().collect();
            }
            None => places.push((hit.words.clone(), cuts)),
        }
    });
    for pair in pairs(reading, prose) {
        if !places.iter().any(|(place, _)| place.start < pair.end && pair.start < place.end) {
            places.push((pair, Vec::new()));
        }
    }
    queries.extend(places.into_iter().map(|(place, cuts)| Query {
        rule: Rule::Praise,
        block: prose.number,
        range: prose.bytes(&place),
        says: "this praises the book; show what happens and leave the praise to a reviewer".to_owned(),
        cuts,
    }));
}

/// The pairs of adjectives of praise in a paragraph, a row of them as one: `heartwarming and funny`. A pair praises
/// whatever follows, unless both words may as well be a hero's.
fn pairs(reading: &Reading<'_>, prose: &Prose<'_>) -> Vec<Range<usize>> {
    const HEROES: [&str; 28] = [
        "clever",
        "sweet",
        "tender",
        "funny",
        "fun",
        "great",
        "perfect",
        "magical",
        "spooky",
        "cute",
        "lively",
        "playful",
        "quirky",
        "powerful",
        "rare",
        "important",
        "brilliant",
        "elegant",
        "original",
        "joyful",
        "vibrant",
        "moving",
        "wild",
        "beautiful",
        "gorgeous",
        "adorable",
        "lovely",
        "magnificent",
    ];
    let mut found: Vec<Range<usize>> = Vec::new();
    if reading.text.language != Language::English {
        return found;
    }
    let is_praise = |at: usize| ADJECTIVES.contains(prose.word(at));
    let mut last: Option<usize> = None;
    for at in (0..prose.words.len()).filter(|at| is_praise(*at)) {
        // Two words with nothing between them but a comma or a joining word are a pair.
        let before = last.replace(at).filter(|before| is_row(prose, before + 1..at) && !prose.gap(at - 1).is_empty());
        let Some(before) = before.filter(|_| !prose.is_kept(reading, &(at..at + 1))) else { continue };
        if HEROES.contains(&prose.word(before)) && HEROES.contains(&prose.word(at)) {
            continue;
        }
        // A word that ended the pair before makes that pair a longer row.
        match found.last_mut().filter(|row| row.end > before) {
            Some(row) => row.end = at + 1,
            None => found.push(before..at + 1),
        }
    }
    found
}

/// Whether nothing but a comma or `and` stands between two words of praise.
fn is_row(prose: &Prose<'_>, between: Range<usize>) -> bool {
    let joins = between.len() == 1 && matches!(prose.word(between.start), "and" | "yet" | "but");
    let is_and = joins && prose.is_joined(between.start);
    let gap = prose.gap(between.start - 1);
    (between.is_empty() && matches!(gap, ", " | " ")) || (is_and && matches!(gap, ", " | " "))
}

/// Whether an adjective stands between an article or possessive and the noun, so that it can go. Something must follow
/// the noun: without its adjective `a charming tale.` says nothing.
fn stands_alone(prose: &Prose<'_>, words: &Range<usize>) -> bool {
    const BEFORE: [&str; 10] = ["a", "an", "the", "this", "these", "her", "his", "their", "our", "with"];
    const BEHIND: [&str; 12] = ["and", "or", "but", "yet", "to", "for", "from", "that", "in", "of", "with", "by"];
    let before = words.start.checked_sub(1).map_or("", |before| prose.word(before));
    BEFORE.contains(&before)
        && prose.is_joined(words.end - 1)
        && prose.is_joined(words.end)
        && !BEHIND.contains(&prose.word(words.end))
}

/// Finds claims of success that name no award and no source.
pub(super) fn bare_claims(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::BareClaim, prose, |hit| {
        if !has_evidence(prose, &hit.words) {
            let says = "a claim is believed when it is proved; name the award, the list or the source";
            queries.push(hit.query(Rule::BareClaim, prose, says, Vec::new()));
        }
    });
}

/// Whether the sentence names an award, or the claim begins with the name of its source (`a Harbour Post bestseller`).
fn has_evidence(prose: &Prose<'_>, claim: &Range<usize>) -> bool {
    const AWARDS: [&str; 14] = [
        "award",
        "awards",
        "prize",
        "prizes",
        "medal",
        "medals",
        "list",
        "honour",
        "honor",
        "shortlist",
        "shortlisted",
        "longlisted",
        "winner",
        "prizewinner",
    ];
    let sentence = prose.sentence_of(claim.start);
    let names_award =
        sentence.clone().any(|at| at != sentence.start && prose.is_capital(at) && AWARDS.contains(&prose.word(at)));
    let is_source = |at: usize| at > sentence.start && prose.is_capital(at) && !prose.word(at).ends_with("'s");
    names_award || claim.start.checked_sub(1).is_some_and(is_source)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn stock_phrases_praise_and_claims_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/praise.txt"));
    }
}
