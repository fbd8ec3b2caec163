//! The limits that are usual for a kind of book, where the brief sets none.

use super::book::{Book, Kind};
use super::limits::{Limits, Measure, Range};

/// A range for a measure and who set it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// What is limited.
    pub measure: Measure,
    /// What is within.
    pub range: Range,
    /// Who set it.
    pub origin: Origin,
}

/// Who set a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The author, in the brief.
    Brief,
    /// Nobody: it is usual, and this is where that is said.
    Usual(&'static str),
}

/// What is usual for a kind of book.
struct Habit {
    kind: Kind,
    words: (f64, f64),
    words_source: &'static str,
    longest_sentence: f64,
}

const fn habit(kind: Kind, words: (f64, f64), words_source: &'static str, longest_sentence: f64) -> Habit {
    Habit { kind, words, words_source, longest_sentence }
}

/// Words are those of the printed panel, not of a shop's page. The one published figure for picture books, "50 - 100
/// words (that's how long our back cover copy is here)" (the staff blog of a children's publisher, 24 January 2008),
/// lies inside the trade's range.
const HABITS: [Habit; 8] = [
    habit(Kind::BoardBook, (15.0, 40.0), "common practice for a board book", 15.0),
    habit(
        Kind::PictureBook,
        (40.0, 100.0),
        "common practice for a picture book; a children's publisher's staff blog of 24 January 2008 has 50 to 100",
        25.0,
    ),
    habit(Kind::EarlyReader, (40.0, 80.0), "common practice for an early reader", 15.0),
    habit(Kind::ChapterBook, (60.0, 120.0), "common practice for a chapter book", 25.0),
    habit(Kind::MiddleGrade, (100.0, 180.0), "common practice for middle grade", 30.0),
    habit(Kind::YoungAdult, (120.0, 200.0), "common practice for young adult", 35.0),
    habit(Kind::AdultFiction, (120.0, 200.0), "common practice for adult fiction", 40.0),
    habit(Kind::NonFiction, (150.0, 250.0), "common practice for non-fiction", 40.0),
];

const SENTENCE_SOURCE: &str = "common practice: one idea a sentence, shorter for younger readers";
const LEVEL_SOURCE: &str =
    "common practice: what the oldest of the readers can read alone, a grade being the age less five";

/// The kinds whose blurb a child reads alone. A board book's and a picture book's is read by the adult who buys it or reads
/// it out, and says nothing of the readers' grade.
const READ_ALONE: [Kind; 4] = [Kind::EarlyReader, Kind::ChapterBook, Kind::MiddleGrade, Kind::YoungAdult];

/// The limits for a book: the brief's, and the usual ones for measures that the brief does not name. A range that is open
/// at both ends takes the usual limit away.
pub fn limits_for(book: &Book, set: &Limits) -> Vec<Limit> {
    let usual = usual_for(book);
    let limit = |measure: Measure| {
        let own = set.set.iter().find(|(named, _)| *named == measure);
        match own {
            Some((_, range)) => (!range.is_open()).then_some(Limit { measure, range: *range, origin: Origin::Brief }),
            None => usual.iter().find(|limit| limit.measure == measure).copied(),
        }
    };
    Measure::ALL.into_iter().filter_map(limit).collect()
}

fn usual_for(book: &Book) -> Vec<Limit> {
    let mut limits = Vec::new();
    let mut add = |measure, from, to, source| {
        limits.push(Limit { measure, range: Range { from, to: Some(to) }, origin: Origin::Usual(source) });
    };
    if let Some(habit) = HABITS.iter().find(|habit| habit.kind == book.kind) {
        let (from, to) = habit.words;
        add(Measure::Words, Some(from), to, habit.words_source);
        add(Measure::LongestSentence, None, habit.longest_sentence, SENTENCE_SOURCE);
    }
    if let Some(oldest) = book.readers.to.filter(|_| READ_ALONE.contains(&book.kind)) {
        add(Measure::Level, None, f64::from(oldest.saturating_sub(5)), LEVEL_SOURCE);
    }
    limits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::book::Ages;

    fn shown(kind: Kind, readers: Ages, set: &[(Measure, Range)]) -> Vec<String> {
        let book = Book { kind, readers, ..Book::default() };
        let limits = limits_for(&book, &Limits { set: set.to_vec() });
        limits.iter().map(|limit| format!("{} {}", limit.measure.key(), limit.range)).collect()
    }

    #[test]
    fn each_kind_has_its_habits() {
        let ages = |from, to| Ages { from, to };
        assert_eq!(shown(Kind::PictureBook, ages(4, Some(8)), &[]), ["words 40 to 100", "longest_sentence at most 25"]);
        assert_eq!(
            shown(Kind::ChapterBook, ages(6, Some(9)), &[]),
            ["words 60 to 120", "longest_sentence at most 25", "level at most 4"]
        );
        assert_eq!(shown(Kind::BoardBook, ages(0, Some(3)), &[]), ["words 15 to 40", "longest_sentence at most 15"]);
        assert_eq!(shown(Kind::YoungAdult, ages(12, None), &[]), ["words 120 to 200", "longest_sentence at most 35"]);
        assert!(Kind::ALL.iter().all(|kind| HABITS.iter().any(|habit| habit.kind == *kind)));
    }

    #[test]
    fn the_brief_has_the_last_word() {
        let ages = Ages { from: 4, to: Some(8) };
        let set = [
            (Measure::Words, Range { from: None, to: Some(75.0) }),
            (Measure::Level, Range::default()),
            (Measure::Sentences, Range { from: Some(2.0), to: None }),
        ];
        assert_eq!(
            shown(Kind::PictureBook, ages, &set),
            ["words at most 75", "sentences at least 2", "longest_sentence at most 25"]
        );
    }
}
