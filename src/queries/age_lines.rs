//! An age line that the brief or the level contradicts.
//!
//! Source: common practice: the age line, the brief and the words say the same age. The grade of an age is the age less
//! five, as for the usual limit of the level. A level is a rough guide, so only the low end of its band is held against
//! the line, and only where a child reads the copy alone and the measure can be used.

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use crate::brief::book::Ages;
use crate::brief::limits::usual_for;
use crate::brief::limits::{Limits, Measure};
use crate::brief::queries::Rule;
use crate::draft::BlockKind;
use crate::level::WhyNot;
use crate::text::language::Language;

/// By how many years the age of readers is more than the number of their grade.
const AGE_BEFORE_GRADE_1: u32 = 5;
/// The oldest age that an age line gives.
const OLDEST: u32 = 18;

/// Finds the figures of an age line that the brief or the level contradicts.
pub(super) fn contradicted(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    for (number, block) in reading.draft.blocks.iter().enumerate() {
        let text = block.text();
        if block.kind != BlockKind::AgeLine {
            continue;
        }
        let Some((range, ages)) = ages_of(text, own.language) else { continue };
        let says = against_brief(reading, ages).or_else(|| against_level(reading, ages));
        queries.extend(says.map(|says| Query { rule: Rule::AgeLine, block: number, range, says, cuts: Vec::new() }));
    }
}

/// What is said where the brief's readers are not those of the line. Readers that nobody has set, or that are the usual
/// ones and may have been left unsaid, contradict the line only where they share no age with it.
fn against_brief(reading: &Reading<'_>, ages: Ages) -> Option<String> {
    let readers = reading.brief.book.readers;
    let last = |ages: Ages| ages.to.unwrap_or(u32::MAX);
    let is_usual = [Ages::default(), reading.brief.book.kind.usual_readers()].contains(&readers);
    let differs = if is_usual {
        ages.from > last(readers) || readers.from > last(ages)
    } else {
        ages.from != readers.from || (ages.to != readers.to && ages.to.is_some() && readers.to.is_some())
    };
    differs
        .then(|| format!("the line says {ages}, and the readers of the brief are {readers}; a buyer goes by the line"))
}

/// What is said where even the low end of the level's band is above the grade of the line's oldest readers.
fn against_level(reading: &Reading<'_>, ages: Ages) -> Option<String> {
    let reads_alone = usual_for(&reading.brief.book, &Limits::default()).iter().any(|it| it.measure == Measure::Level);
    let headline = reading.level.headline.as_ref().filter(|_| reads_alone)?;
    let score = reading.level.score(headline.measure)?;
    let oldest = ages.to.filter(|_| matches!(score.why_not, None | Some(WhyNot::Grades { .. })))?;
    let grade = oldest.saturating_sub(AGE_BEFORE_GRADE_1).max(1);
    (headline.low > grade).then(|| {
        format!(
            "a reader of {oldest} reads at about grade {grade}, and the blurb is at grade {} at the least",
            headline.low
        )
    })
}

/// What the words of an age line mean in a language.
struct AgeWords {
    /// Words with which the figures are something else: months, grades, a highest age.
    other: &'static [&'static str],
    /// Words between two ages.
    to: &'static [&'static str],
    /// Words before an age that has no end.
    from: &'static [&'static str],
    /// Words behind an age that has no end.
    up: &'static [&'static str],
}

impl AgeWords {
    fn of(language: Language) -> Self {
        let (other, to, from, up): (&[&str], &[&str], &[&str], &[&str]) = match language {
            Language::French => (
                &["mois", "cycle", "niveau", "cours", "jusqu", "moins de"],
                &[" à "],
                &["dès", "partir de"],
                &["et plus"],
            ),
            Language::German => (&["monat", "klasse", "stufe", "bis zu", "unter"], &[" bis "], &["ab"], &["und älter"]),
            Language::Spanish => (
                &["mes", "curso", "primaria", "nivel", "hasta", "menos de"],
                &[" a "],
                &["partir de"],
                &["en adelante", "o más", "y más"],
            ),
            Language::Italian => (
                &["mes", "classe", "livello", "fino a", "meno di"],
                &[" a ", " ai ", " agli ", " e "],
                &["partire dai", "dai", "dagli"],
                &["in su"],
            ),
            Language::Dutch => (
                &["maand", "groep", "klas", "niveau", "tot en met", "onder"],
                &[" tot ", " t/m "],
                &["vanaf"],
                &["en ouder"],
            ),
            Language::English | Language::Other => (
                &["month", "grade", "year 1", "key stage", "level", "under", "up to"],
                &[" to ", "- to "],
                &[],
                &["and up", "and over", "and above", "upwards", "years and up"],
            ),
        };
        Self { other, to, from, up }
    }
}

/// The ages of a line and where they stand: `4-8`, `4 to 8`, `7+`, `7 and up`, `ab 4`. None where the figures may be
/// something else (months, grades).
pub(super) fn ages_of(text: &str, language: Language) -> Option<(std::ops::Range<usize>, Ages)> {
    let lower = text.to_ascii_lowercase();
    let words = AgeWords::of(language);
    if words.other.iter().any(|other| lower.contains(other)) {
        return None;
    }
    let (start, from, end) = number_from(&lower, 0)?;
    let rest = &lower[end..];
    let gap = rest.len() - rest.trim_start_matches(|c: char| !c.is_ascii_alphanumeric()).len();
    let between = ["-", "–", " - ", " – ", "\u{2011}", "–\u{2060}"];
    if let Some(joint) = words.to.iter().chain(&between).find(|joint| rest.starts_with(**joint))
        && let Some((second, to, end)) = number_from(&lower, end + joint.len())
        && second == start_of_digits(&lower, second)
        && to >= from
    {
        return (to <= OLDEST).then_some((start..end, Ages { from, to: Some(to) }));
    }
    let word = &rest[gap..];
    let open_end = end + usize::from(rest.starts_with('+'));
    // Outside English the word for years stands between: `4 ans et plus`.
    let behind = if language == Language::English { word } else { word.split_once(' ').map_or(word, |(_, up)| up) };
    let is_from = words.from.iter().any(|from| lower[..start].trim_end().ends_with(from));
    let is_open =
        rest.starts_with('+') || is_from || words.up.iter().any(|up| word.starts_with(up) || behind.starts_with(up));
    let is_more = lower[end..].contains(|c: char| c.is_ascii_digit());
    (from <= OLDEST && is_open && !is_more).then_some((start..open_end, Ages { from, to: None }))
}

fn start_of_digits(text: &str, at: usize) -> usize {
    text[..at].trim_end_matches(|c: char| c.is_ascii_digit()).len()
}

/// The first number at or behind a byte: the byte at which it begins, its value, and the byte behind its end.
fn number_from(text: &str, at: usize) -> Option<(usize, u32, usize)> {
    let start = at + text.get(at..)?.find(|c: char| c.is_ascii_digit())?;
    let end = text[start..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |length| start + length);
    Some((start, text[start..end].parse().ok()?, end))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn age_lines_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/age_lines.txt"));
    }
}
