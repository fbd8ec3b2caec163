//! Marks of a keyboard in the place of printed ones: hyphens for dashes, three stops for an ellipsis.
//!
//! Source: Hart's Rules and the Chicago Manual of Style (6.75 to 6.90): a range of numbers takes the en dash, a break
//! in a sentence the en dash with blanks or the em dash without, and two hyphens are a typewriter's dash (from memory).
//! Three stops are common practice too; the one mark is cut for its face and no line can divide it.

use std::ops::Range;

use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::draft::{Block, Draft};
use crate::text::language::Language;

/// How the copy sets a break in a sentence.
#[derive(Clone, Copy)]
struct Custom {
    /// What takes the place of a hyphen between blanks, the blanks included.
    spaced: &'static str,
    /// What takes the place of two or three hyphens without blanks.
    closed: &'static str,
}

/// Finds hyphens where a dash belongs: between words, twice in a row, or in a range of numbers.
pub(super) fn hyphens_for_dashes(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let custom = custom_of(reading.draft);
    for (number, block) in reading.draft.blocks.iter().enumerate() {
        let text = block.text();
        for range in runs(text, '-').filter(|range| range.len() <= 3) {
            let Some((place, wording)) = dash_for(text, range, custom) else { continue };
            let is_digit = |c: char| c.is_ascii_digit();
            let from = text[..place.start].trim_end_matches(is_digit).len();
            let to = text.len() - text[place.end..].trim_start_matches(is_digit).len();
            // Figures on both sides are shown with their dash.
            let (range, says) = if from < place.start && place.end < to {
                (from..to, "a range of figures takes an en dash, which is wider than the hyphen that joins words")
            } else {
                (place.clone(), "a break in a sentence takes a dash; a hyphen joins, and is read as a part of the word")
            };
            queries.push(Query {
                rule: Rule::HyphenForDash,
                block: number,
                range,
                says: says.to_owned(),
                cuts: vec![Cut { range: place, wording: wording.to_owned() }],
            });
        }
    }
}

/// Finds three stops in a row.
pub(super) fn three_dots(_: Language, number: usize, block: &Block, queries: &mut Vec<Query>) {
    for range in runs(block.text(), '.').filter(|range| range.len() == 3) {
        queries.push(Query {
            rule: Rule::ThreeDots,
            block: number,
            says: "three stops stand in the place of an ellipsis, the one mark that is cut for them".to_owned(),
            cuts: vec![Cut { range: range.clone(), wording: "…".to_owned() }],
            range,
        });
    }
}

/// How a draft breaks sentences, by the dashes that it has already; without any, blanks stay and none are added.
fn custom_of(draft: &Draft) -> Custom {
    let has = |dash: &str| draft.blocks.iter().any(|block| block.text().trim_start_matches('—').contains(dash));
    if has(" – ") {
        Custom { spaced: " – ", closed: " – " }
    } else if has(" — ") {
        Custom { spaced: " — ", closed: " — " }
    } else if has("—") {
        Custom { spaced: "—", closed: "—" }
    } else {
        Custom { spaced: " – ", closed: "—" }
    }
}

/// The place that a dash should take, and the dash; none where the hyphens are right or may be.
fn dash_for(text: &str, hyphens: Range<usize>, custom: Custom) -> Option<(Range<usize>, &'static str)> {
    let (before, after) = (&text[..hyphens.start], &text[hyphens.end..]);
    let (left, right) = (before.trim_end_matches(' '), after.trim_start_matches(' '));
    let ends_word = left.ends_with(|c: char| !c.is_whitespace());
    let around = left.len()..text.len() - right.len();
    let spaced = before.ends_with(' ') && after.starts_with(' ');
    if !ends_word || right.is_empty() && spaced {
        // A list's mark, or a credit's dash.
        return (hyphens.len() == 2 && left.is_empty()).then_some((hyphens, "—"));
    }
    if let Some(is_range) = is_number_range(left, right) {
        let is_alone = spaced || (around == hyphens);
        return (is_range && is_alone && hyphens.len() < 3).then_some((around, "–"));
    }
    match (hyphens.len(), spaced) {
        (_, true) => right.starts_with(is_word_start).then_some((around, custom.spaced)),
        (1, false) => None,
        // A dash that ends a speech stays at its word.
        _ if around == hyphens && !right.starts_with(char::is_alphanumeric) => Some((hyphens, "—")),
        _ if around == hyphens => Some((hyphens, custom.closed)),
        _ => Some((hyphens, "—")),
    }
}

fn is_word_start(c: char) -> bool {
    c.is_alphanumeric() || "‘“'\"«(…".contains(c)
}

/// Whether two figures stand on both sides and are the ends of a range; none where there are not two figures. Years
/// may be cut short (`1914-18`); a telephone number, an ISBN, a date and a score of halves (`50-50`) are no ranges.
fn is_number_range(left: &str, right: &str) -> Option<bool> {
    let digits = |c: char| c.is_ascii_digit();
    let from = &left[left.trim_end_matches(digits).len()..];
    let to = &right[..right.len() - right.trim_start_matches(digits).len()];
    if from.is_empty() || to.is_empty() {
        return None;
    }
    let (before, after) = (&left[..left.len() - from.len()], &right[to.len()..]);
    let is_alone = before.is_empty() || before.ends_with([' ', '\n', '(', '\u{a0}', '“', '"', '‘', '£', '$', '€']);
    let is_joined = after.starts_with(|c: char| c.is_alphanumeric() || c == '-')
        || after.starts_with(['.', ',', '/', ':']) && after[1..].starts_with(digits);
    let follows_number = before.trim_end().ends_with(|c: char| c.is_ascii_digit() || c == '+');
    let number =
        |figures: &str| figures.parse::<u32>().ok().filter(|_| figures.len() <= 4 && !figures.starts_with('0'));
    let grows = match (from.len(), to.len()) {
        (4, 2) => number(&from[2..]).zip(number(to)).is_some_and(|(from, to)| from < to),
        (4, 4) | (1..=3, 1..=3) => number(from).zip(number(to)).is_some_and(|(from, to)| from < to),
        _ => false,
    };
    Some(is_alone && !is_joined && !follows_number && grows)
}

/// The runs of one character in a text, as bytes of it.
pub(super) fn runs(text: &str, of: char) -> impl Iterator<Item = Range<usize>> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let start = at + text[at..].find(of)?;
        let end = text[start..].find(|c| c != of).map_or(text.len(), |length| start + length);
        at = end;
        Some(start..end)
    })
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn hyphens_and_dots_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/dashes.txt"));
    }
}
