//! What is published about a formula of reading level, as data: its source, its counting rules and its limits.
//!
//! Related formulas stand together in a file.

use super::counts::{Count, Counts};
use super::familiar::WordList;
use crate::text::language::Language;

/// What is published about a formula, as data.
#[derive(Debug, Clone, Copy)]
pub struct Facts {
    /// The formula's name in data: `flesch_reading_ease`.
    pub key: &'static str,
    /// The formula's name in a report.
    pub name: &'static str,
    /// What the formula's number means.
    pub scale: ScoreScale,
    /// Where the formula was published.
    pub source: &'static str,
    /// How the formula counts, and what is uncertain about its counting.
    pub counting: &'static str,
    /// The language that the formula was made for; none where it is for any language.
    pub language: Option<Language>,
    /// The text that the publication asks for.
    pub sample: Sample,
    /// The first and the last school grade for which the formula is sound; none where no grades are published.
    pub grades: Option<(u32, u32)>,
    /// The list of familiar words that the formula needs.
    pub list: Option<WordList>,
    /// What the formula counts, in the order of the equation.
    pub counts: &'static [Count],
    /// What the values mean in words: each entry holds from its value on, lowest first; empty where the number speaks
    /// for itself.
    pub readings: &'static [(f64, &'static str)],
    /// The equation; its result is no number where there are no words.
    pub equation: fn(&Counts) -> f64,
}

/// What the number of a measure means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ScoreScale {
    /// Higher is easier.
    Ease,
    /// A grade of United States schools; higher is harder.
    Grade,
    /// A school year of another country, or a scale of its own; higher is harder.
    Hardness,
}

/// The text that a formula asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sample {
    /// Any text.
    Any,
    /// Samples of a hundred words, or a short piece whole.
    HundredWordsOrWhole,
    /// So many words at least.
    Words(usize),
    /// So many sentences at least.
    Sentences(usize),
}

impl Facts {
    /// The value for some counts; none where there are no words or sentences.
    pub fn value(&self, counts: &Counts) -> Option<f64> {
        let some = self.counts.iter().filter(|count| matches!(count, Count::Words | Count::Sentences));
        some.map(|count| counts.of(*count)).all(|number| number > 0).then(|| (self.equation)(counts))
    }

    /// How a value is read, in the words of the formula's own table.
    pub fn reading(&self, value: f64) -> Option<&'static str> {
        self.readings.iter().rev().find(|(from, _)| value >= *from).map(|(_, reading)| *reading)
    }
}
