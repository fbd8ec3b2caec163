//! Ranges for measures, as the author sets them.

use std::fmt;

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
        self.from.is_none_or(|from| value >= from) && self.to.is_none_or(|to| value <= to)
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
