//! Ranges for measures: as the author sets them, and as they are usual for a kind of book where the author does not. No
//! draft is outside its limits for missing a usual range.

use std::fmt;

use super::book::{Book, BookKind};
use super::nodes::{NodeAt, Refusal};
use crate::units::trimmed;

/// A range for a measure; an open end is no limit.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Range {
    /// The least value inside the range.
    pub from: Option<f64>,
    /// The greatest value inside the range.
    pub to: Option<f64>,
}

impl Range {
    /// Whether `value` is inside the range.
    pub fn holds(&self, value: f64) -> bool {
        self.beyond(value).is_none()
    }

    /// Where a value stands that is not inside the range: `below` or `above`.
    pub fn beyond(&self, value: f64) -> Option<&'static str> {
        let is_below = self.from.is_some_and(|from| value < from);
        let is_above = self.to.is_some_and(|to| value > to);
        if is_below { Some("below") } else { is_above.then_some("above") }
    }
}

/// The measures that can have a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Words of the blurb.
    Words,
    /// Characters (graphemes) of the blurb, blanks included.
    Characters,
    /// Letters of the blurb.
    Letters,
    /// Sentences of the blurb.
    Sentences,
    /// Paragraphs of the blurb.
    Paragraphs,
    /// Syllables of the blurb.
    Syllables,
    /// Words in the longest sentence.
    LongestSentence,
    /// Words per sentence, on average.
    WordsPerSentence,
    /// The reading level as a grade.
    Level,
    /// Flesch Reading Ease.
    ReadingEase,
}

/// The limits that the author has set, in the order of the brief.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Limits {
    /// One range for each measure named.
    pub set: Vec<(Measure, Range)>,
}

impl Measure {
    /// Every measure, in the order of a report.
    pub const ALL: [Self; 10] = [
        Self::Words,
        Self::Characters,
        Self::Letters,
        Self::Sentences,
        Self::Paragraphs,
        Self::Syllables,
        Self::LongestSentence,
        Self::WordsPerSentence,
        Self::Level,
        Self::ReadingEase,
    ];

    /// The measure as a brief and the JSON write it.
    pub fn key(self) -> &'static str {
        match self {
            Self::Words => "words",
            Self::Characters => "characters",
            Self::Letters => "letters",
            Self::Sentences => "sentences",
            Self::Paragraphs => "paragraphs",
            Self::Syllables => "syllables",
            Self::LongestSentence => "longest_sentence",
            Self::WordsPerSentence => "words_per_sentence",
            Self::Level => "level",
            Self::ReadingEase => "reading_ease",
        }
    }

    /// The measure in plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::LongestSentence => "words in the longest sentence",
            Self::WordsPerSentence => "words per sentence",
            Self::Level => "reading level as a grade",
            Self::ReadingEase => "Flesch Reading Ease",
            _ => self.key(),
        }
    }
}

impl Limits {
    /// Whether the brief names a measure, even if only to say that there is no limit.
    pub fn names(&self, measure: Measure) -> bool {
        self.set.iter().any(|(named, _)| *named == measure)
    }

    /// The range that the author has set for a measure; none where it is open at both ends.
    pub fn of(&self, measure: Measure) -> Option<Range> {
        self.set.iter().find(|(named, _)| *named == measure).map(|(_, range)| *range).filter(|range| !range.is_open())
    }

    /// Reads the group `limits`: a range for each measure.
    pub(super) fn read(value: NodeAt<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&Measure::ALL.map(Measure::key))?;
        let mut set = Vec::new();
        for (key, value) in fields.values() {
            if let Some(measure) = Measure::ALL.into_iter().find(|measure| measure.key() == key) {
                set.push((measure, Range::read(&value)?));
            }
        }
        Ok(Self { set })
    }
}

impl Range {
    /// Reads `40..100`, `..3`, `40..`, `50` or `..`, which is no limit.
    pub fn parse(text: &str) -> Option<Self> {
        let end = |part: &str| -> Option<Option<f64>> {
            let part = part.trim();
            if part.is_empty() {
                return Some(None);
            }
            part.parse::<f64>().ok().filter(|number| number.is_finite()).map(Some)
        };
        let range = match text.split_once("..") {
            Some((from, to)) => Self { from: end(from)?, to: end(to)? },
            None => Self { from: Some(end(text)??), to: Some(end(text)??) },
        };
        let in_order = range.from.zip(range.to).is_none_or(|(from, to)| from <= to);
        in_order.then_some(range)
    }

    /// Whether neither end is a limit.
    pub fn is_open(&self) -> bool {
        self.from.is_none() && self.to.is_none()
    }

    fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        let text = value.text()?;
        Self::parse(&text).ok_or_else(|| {
            value.refuse(format!(
                "\"{text}\" is not a range; write one such as 40..100, ..3 (at most 3), 40.. (at least 40) or .. (no \
                 limit), the \
                 smaller end first"
            ))
        })
    }
}

/// `40 to 100`, `at most 3`, `at least 40`.
impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = |number: f64| trimmed(number, 2);
        match (self.from, self.to) {
            (Some(from), Some(to)) if from == to => write!(f, "exactly {}", shown(to)),
            (Some(from), Some(to)) => write!(f, "{} to {}", shown(from), shown(to)),
            (Some(from), None) => write!(f, "at least {}", shown(from)),
            (None, Some(to)) => write!(f, "at most {}", shown(to)),
            (None, None) => f.write_str("any"),
        }
    }
}

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
