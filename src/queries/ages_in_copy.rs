//! Ages, grades and kinds of readers in the copy or in a quote that the brief contradicts.
//!
//! Source: common practice: whatever the cover says of its readers is one age, that of the brief. The age of a grade is
//! its number and five; a toddler is 1 to 3, a preschooler 3 to 5, a teenager 13 to 19. A hero's age is no reader's:
//! only a stretch of ages (`ages 9-12`, `8- to 12-year-olds`, `readers of 10 and up`) counts, or a kind of reader that
//! the book is said to be for.

use std::ops::Range;

use super::age_lines::ages_of;
use super::query::{Query, Reading};
use super::telling::plain;
use crate::brief::book::Ages;
use crate::brief::queries::Rule;
use crate::draft::BlockKind;
use crate::text::language::Language;
use crate::text::words;

/// How many bytes behind a word such as `ages` its figures may reach.
const REACH: usize = 24;
/// How many words before a kind of reader `for` may stand.
const MOST_TO_FOR: usize = 4;
/// Readers by their names, with their youngest and oldest age.
const READERS: [(&str, u32, u32); 14] = [
    ("toddlers", 1, 3),
    ("toddler", 1, 3),
    ("babies", 0, 2),
    ("preschoolers", 3, 5),
    ("preschooler", 3, 5),
    ("pre-schoolers", 3, 5),
    ("kindergartners", 5, 6),
    ("kindergarteners", 5, 6),
    ("tweens", 9, 12),
    ("tween", 9, 12),
    ("teens", 13, 19),
    ("teen", 13, 19),
    ("teenagers", 13, 19),
    ("teenage", 13, 19),
];
/// The grades by their names; a reader's age is the number of the grade and five or six.
const GRADES: [&str; 8] = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"];

/// A word of a block, in small letters, and where it stands.
type PlacedWord = (Range<usize>, String);

/// Finds ages in the copy and the quotes that are not those of the brief.
pub(super) fn contradicted(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English || reading.brief.book.readers == Ages::default() {
        return;
    }
    let counts = |kind: BlockKind| matches!(kind, BlockKind::Headline | BlockKind::Blurb | BlockKind::Quote);
    for (number, block) in reading.draft.blocks.iter().enumerate().filter(|(_, block)| counts(block.kind)) {
        let text = block.text();
        let in_order: Vec<PlacedWord> =
            words::find(text).into_iter().map(|word| (word.clone(), plain(&text[word]))).collect();
        let told = (0..in_order.len()).find_map(|at| {
            let figures = figures_at(text, &in_order, at).filter(|(_, ages)| differs(reading, *ages));
            figures.or_else(|| readers_at(&in_order, at).filter(|(_, ages)| is_apart(reading, *ages)))
        });
        queries.extend(told.map(|(range, ages)| Query {
            rule: Rule::AgeLine,
            block: number,
            says: format!(
                "this is for readers of {ages}, and the readers of the brief are {}; a buyer believes what it says",
                reading.brief.book.readers
            ),
            range,
            cuts: Vec::new(),
        }));
    }
}

/// Whether a stretch of ages is another than the brief's. The usual readers of a kind, which may have been left unsaid,
/// are contradicted only by ages of which none is theirs.
fn differs(reading: &Reading<'_>, ages: Ages) -> bool {
    let readers = reading.brief.book.readers;
    let is_usual = readers == reading.brief.book.kind.usual_readers();
    let ends = ages.to.zip(readers.to).is_some_and(|(one, other)| one != other);
    is_apart(reading, ages) || (!is_usual && (ages.from != readers.from || ends))
}

/// Whether no reader of the brief is of these ages.
fn is_apart(reading: &Reading<'_>, ages: Ages) -> bool {
    let readers = reading.brief.book.readers;
    let last = |ages: Ages| ages.to.unwrap_or(u32::MAX);
    ages.from > last(readers) || readers.from > last(ages)
}

/// A stretch of ages in figures that begins with the word at a place: `ages 9-12`, `readers of 10 and up`,
/// `8- to 12-year-olds`. `older than 6` and the age of one person are none.
fn figures_at(text: &str, in_order: &[PlacedWord], at: usize) -> Option<(Range<usize>, Ages)> {
    let (place, word) = &in_order[at];
    match word.as_str() {
        "ages" | "aged" | "children" | "readers" | "kids" | "listeners" => {
            let next = &in_order.get(at + 1)?.1;
            let figure = if matches!(next.as_str(), "of" | "from" | "aged" | "ages" | "age") { at + 2 } else { at + 1 };
            let start =
                in_order.get(figure).filter(|(_, word)| word.starts_with(|c: char| c.is_ascii_digit()))?.0.start;
            let end = floor(text, (start + REACH).min(text.len()));
            let (range, ages) = ages_of(text.get(start..end)?, Language::English)?;
            Some((place.start..start + range.end, ages))
        }
        _ if is_old(in_order, at) => {
            let years = place.start + word.find("year")?;
            let start = floor(text, years.saturating_sub(REACH / 2));
            let before = text.get(start..years)?;
            let figure = before.find(|c: char| c.is_ascii_digit())?;
            let (range, ages) = ages_of(&before[figure..], Language::English)?;
            let end = if word.contains("-old") { place.end } else { in_order[at + 1].0.end };
            Some((start + figure + range.start..end, ages))
        }
        _ => None,
    }
}

/// Whether a word says that the years before it are somebody's age: `year-olds`, `years old`.
fn is_old(in_order: &[PlacedWord], at: usize) -> bool {
    let word = in_order[at].1.as_str();
    let follows = |(_, next): &PlacedWord| matches!(next.as_str(), "old" | "olds");
    word.contains("year-old") || (word.contains("year") && in_order.get(at + 1).is_some_and(follows))
}

/// A place in a text at or before a byte, where a character begins.
fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// A kind of reader that the book is said to be for: `for toddlers`, `perfect for second graders`, `for grades 2 to 4`.
fn readers_at(in_order: &[PlacedWord], at: usize) -> Option<(Range<usize>, Ages)> {
    let (place, word) = &in_order[at];
    let is_for = || in_order[at.saturating_sub(MOST_TO_FOR)..at].iter().any(|(_, word)| word == "for");
    let next = |at: usize| in_order.get(at).map_or("", |(_, word)| word.as_str());
    let of_grades = |first: u32, last: u32| Ages { from: first + 5, to: Some(last + 6) };
    if let Some((_, from, to)) = READERS.iter().find(|(name, ..)| name == word) {
        let is_read = is_for() || matches!(next(at + 1), "readers" | "listeners");
        return is_read.then(|| (place.clone(), Ages { from: *from, to: Some(*to) }));
    }
    let number = |word: &str| word.parse::<u32>().ok().filter(|grade| (1..=12).contains(grade));
    if matches!(word.as_str(), "grades" | "grade") && is_for() {
        let first = number(next(at + 1))?;
        let last = [at + 2, at + 3].into_iter().find_map(|at| number(next(at))).unwrap_or(first);
        let end = in_order.get(at + 1)?.0.end;
        return Some((place.start..end, of_grades(first, last.max(first))));
    }
    let grade = GRADES.iter().position(|name| name == word)? as u32 + 1;
    let is_grade = matches!(next(at + 1), "graders" | "grader" | "grade");
    (is_grade && is_for()).then(|| (place.start..in_order[at + 1].0.end, of_grades(grade, grade)))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn ages_in_the_copy_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/ages_in_copy.txt"));
    }
}
