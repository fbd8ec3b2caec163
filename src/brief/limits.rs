//! Ranges for measures, as the author sets them and as they are usual for a kind of book.

/// A range for a measure; an open end is no limit.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Range {
    /// The least that is within.
    pub from: Option<f64>,
    /// The most that is within.
    pub to: Option<f64>,
}

impl Range {
    /// Whether `value` is within.
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
#[derive(Debug, Clone, Default)]
pub struct Limits {
    /// One range for each measure named.
    pub set: Vec<(Measure, Range)>,
}
