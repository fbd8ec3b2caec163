//! What is usual for a kind of book: shown beside a measure for which the brief sets no limit. No draft is outside its
//! limits for missing a usual range.

use std::fmt;

use super::book::{Book, BookKind};
use super::limits::{Limits, Measure, Range};

/// A range that is usual for a measure. The author has not set it, so no draft is outside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// The measure of which this is the usual range.
    pub measure: Measure,
    /// The usual range.
    pub range: Range,
    /// The books or readers that the range is usual for.
    pub whose: Whose,
    /// Where the range comes from.
    pub source: &'static str,
}

/// The books or the readers that a range is usual for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// Books of a kind: `a picture book`.
    Books(&'static str),
    /// Readers up to this age.
    ReadersTo(u32),
}

/// `a picture book`, `readers aged up to 9`.
impl fmt::Display for Whose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Books(books) => f.write_str(books),
            Self::ReadersTo(oldest) => write!(f, "readers aged up to {oldest}"),
        }
    }
}

/// What is usual for a kind of book.
struct Habit {
    kind: BookKind,
    books: &'static str,
    words: (f64, f64),
    longest_sentence: f64,
}

const fn habit(kind: BookKind, books: &'static str, words: (f64, f64), longest_sentence: f64) -> Habit {
    Habit { kind, books, words, longest_sentence }
}

const HABITS: [Habit; 8] = [
    habit(BookKind::BoardBook, "a board book", (15.0, 40.0), 15.0),
    habit(BookKind::PictureBook, "a picture book", (40.0, 100.0), 25.0),
    habit(BookKind::EarlyReader, "an early reader", (40.0, 80.0), 15.0),
    habit(BookKind::ChapterBook, "a chapter book", (60.0, 120.0), 25.0),
    habit(BookKind::MiddleGrade, "middle grade", (100.0, 180.0), 30.0),
    habit(BookKind::YoungAdult, "young adult", (120.0, 200.0), 35.0),
    habit(BookKind::AdultFiction, "adult fiction", (120.0, 200.0), 40.0),
    habit(BookKind::NonFiction, "non-fiction", (150.0, 250.0), 40.0),
];

/// The ranges of words are for the printed panel, not for a shop's page. The one published figure for picture books,
/// "50 - 100 words (that's how long our back cover copy is here)" (the staff blog of a children's publisher, 24 January
/// 2008), lies inside the trade's range.
const WORDS_SOURCE: &str = "common practice";
const PICTURE_BOOK_SOURCE: &str =
    "common practice; a children's publisher's staff blog of 24 January 2008 has 50 to 100 for a picture book";
const SENTENCE_SOURCE: &str = "common practice: one idea a sentence, shorter for younger readers";
const LEVEL_SOURCE: &str =
    "common practice: what the oldest of the readers can read alone, a grade being the age less five";

/// The kinds whose blurb a child reads alone. The blurb of a board book or a picture book is read by the adult who buys
/// the book or reads it out, so the child's grade sets no usual level for it.
const READ_ALONE: [BookKind; 4] =
    [BookKind::EarlyReader, BookKind::ChapterBook, BookKind::MiddleGrade, BookKind::YoungAdult];

/// What is usual for a book, for the measures that its brief does not name, in the order of a report. A measure that
/// the brief names has no usual range, even where the brief's own range is open at both ends.
pub fn usual_for(book: &Book, set: &Limits) -> Vec<Usual> {
    of_book(book).into_iter().flatten().filter(|usual| !set.names(usual.measure)).collect()
}

fn of_book(book: &Book) -> [Option<Usual>; 3] {
    let habit = HABITS.iter().find(|habit| habit.kind == book.kind);
    let oldest = book.readers.to.filter(|_| READ_ALONE.contains(&book.kind));
    let words_source = if book.kind == BookKind::PictureBook { PICTURE_BOOK_SOURCE } else { WORDS_SOURCE };
    let at_most = |to| Range { from: None, to: Some(to) };
    [
        habit.map(|habit| Usual {
            measure: Measure::Words,
            range: Range { from: Some(habit.words.0), to: Some(habit.words.1) },
            whose: Whose::Books(habit.books),
            source: words_source,
        }),
        habit.map(|habit| Usual {
            measure: Measure::LongestSentence,
            range: at_most(habit.longest_sentence),
            whose: Whose::Books(habit.books),
            source: SENTENCE_SOURCE,
        }),
        oldest.map(|oldest| Usual {
            measure: Measure::Level,
            range: at_most(f64::from(oldest.saturating_sub(5))),
            whose: Whose::ReadersTo(oldest),
            source: LEVEL_SOURCE,
        }),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::book::Ages;

    fn shown(kind: BookKind, readers: Ages, set: &[(Measure, Range)]) -> Vec<String> {
        let book = Book { kind, readers, ..Book::default() };
        let usual = usual_for(&book, &Limits { set: set.to_vec() });
        usual.iter().map(|usual| format!("{} for {}: {}", usual.measure.key(), usual.whose, usual.range)).collect()
    }

    #[test]
    fn each_kind_has_its_habits() {
        let ages = |from, to| Ages { from, to };
        assert_eq!(
            shown(BookKind::PictureBook, ages(4, Some(8)), &[]),
            ["words for a picture book: 40 to 100", "longest_sentence for a picture book: at most 25"]
        );
        assert_eq!(
            shown(BookKind::ChapterBook, ages(6, Some(9)), &[]),
            [
                "words for a chapter book: 60 to 120",
                "longest_sentence for a chapter book: at most 25",
                "level for readers aged up to 9: at most 4"
            ]
        );
        assert_eq!(
            shown(BookKind::EarlyReader, ages(5, None), &[]),
            ["words for an early reader: 40 to 80", "longest_sentence for an early reader: at most 15"]
        );
        assert!(BookKind::ALL.iter().all(|kind| HABITS.iter().any(|habit| habit.kind == *kind)));
    }

    /// A measure that the brief names has no usual range beside the brief's, even where that is open at both ends.
    #[test]
    fn the_brief_has_the_last_word() {
        let ages = Ages { from: 6, to: Some(9) };
        let set = [(Measure::Words, Range { from: None, to: Some(75.0) }), (Measure::Level, Range::default())];
        assert_eq!(shown(BookKind::ChapterBook, ages, &set), ["longest_sentence for a chapter book: at most 25"]);
    }
}
