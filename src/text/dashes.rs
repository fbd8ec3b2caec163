//! Where hyphens stand in the place of a dash, and which dash a copy takes.
//!
//! Source: Hart's Rules and the Chicago Manual of Style (6.75 to 6.90): a range of numbers takes the en dash, a break
//! in a sentence the en dash with blanks or the em dash without, and two hyphens are a typewriter's dash (from memory).
//! Outside English a break takes the en dash with blanks (common practice).

use std::ops::Range;

use super::language::Language;

/// How the copy sets a break in a sentence.
#[derive(Debug, Clone, Copy)]
pub(super) struct DashCustom {
    /// What takes the place of a hyphen between blanks, the blanks included.
    spaced: &'static str,
    /// What takes the place of two or three hyphens without blanks.
    closed: &'static str,
}

impl DashCustom {
    /// How a copy breaks sentences, by the dashes that it has already; without any, blanks stay and, in English, none
    /// are added.
    pub(super) fn of_copy<'t>(language: Language, paragraphs: impl Iterator<Item = &'t str> + Clone) -> Self {
        let has = |dash: &str| paragraphs.clone().any(|text| text.trim_start_matches('—').contains(dash));
        if has(" – ") {
            Self { spaced: " – ", closed: " – " }
        } else if has(" — ") {
            Self { spaced: " — ", closed: " — " }
        } else if has("—") {
            Self { spaced: "—", closed: "—" }
        } else if language == Language::English {
            Self { spaced: " – ", closed: "—" }
        } else {
            Self { spaced: " – ", closed: " – " }
        }
    }
}

/// The place that a dash should take, and the dash; none where the hyphens are right or may be.
pub(super) fn dash_for(text: &str, hyphens: Range<usize>, custom: DashCustom) -> Option<(Range<usize>, &'static str)> {
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
pub(crate) fn runs(text: &str, of: char) -> impl Iterator<Item = Range<usize>> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let start = at + text[at..].find(of)?;
        let end = text[start..].find(|c| c != of).map_or(text.len(), |length| start + length);
        at = end;
        Some(start..end)
    })
}
