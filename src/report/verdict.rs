//! The verdict: every limit with the value that is held against it.
//!
//! A draft is within its limits or outside some of them. It gets no mark.

use super::fit::Fit;
use crate::brief::Brief;
use crate::brief::limits::{Measure, Range};
use crate::brief::usual::{self, Origin};
use crate::text::coverage::Coverage;
use crate::text::length::Length;
use crate::text::level::{Formula, Level};

/// Every limit, each with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// In the order of a report: measures, terms, fit.
    pub checks: Vec<Check>,
}

/// One limit and the value that is held against it.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What is limited.
    pub subject: Subject,
    /// What the draft has; none where there is nothing to measure, which is then outside any limit.
    pub value: Option<f64>,
    /// What is within.
    pub range: Range,
    /// Who set the limit.
    pub origin: Origin,
}

/// What a limit is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Subject {
    /// A measure of the blurb.
    Measure(Measure),
    /// How often a term stands in the copy.
    Term(String),
    /// How often a wording to avoid stands in the copy.
    Avoided(String),
    /// Lines that do not fit.
    LinesOver,
    /// Lines that hold a word wider than the measure.
    LinesTooWide,
    /// Letters that no font has.
    MissingLetters,
}

impl Check {
    /// Whether the value is within the limit.
    pub fn is_within(&self) -> bool {
        self.value.is_some_and(|value| self.range.holds(value))
    }
}

impl Subject {
    /// The subject in data: `words`, `term`, `avoid`, `lines_over`.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Measure(measure) => measure.key(),
            Self::Term(_) => "term",
            Self::Avoided(_) => "avoid",
            Self::LinesOver => "lines_over",
            Self::LinesTooWide => "lines_too_wide",
            Self::MissingLetters => "missing_letters",
        }
    }
}

const NONE: Range = Range { from: None, to: Some(0.0) };
const FIT: Origin = Origin::Usual("what is printed must fit");

impl Verdict {
    /// Holds what was measured against the brief's limits and the usual ones.
    pub fn of(brief: &Brief, length: &Length, level: &Level, coverage: &Coverage, fit: &Fit) -> Self {
        let limits = usual::limits_for(&brief.book, &brief.limits);
        let mut checks: Vec<Check> = limits
            .into_iter()
            // In a language without a measure of its own there is nothing to hold a level against.
            .filter(|limit| limit.measure != Measure::Level || level.grade().is_some() || length.words == 0)
            .map(|limit| Check {
                value: value_of(limit.measure, length, level),
                subject: Subject::Measure(limit.measure),
                range: limit.range,
                origin: limit.origin,
            })
            .collect();
        checks.extend(term_checks(coverage));
        let set = |subject, count: usize| Check { subject, value: Some(count as f64), range: NONE, origin: FIT };
        checks.push(set(Subject::LinesOver, fit.castoff.lines_over));
        checks.push(set(Subject::LinesTooWide, fit.lines.iter().filter(|line| line.set.too_wide).count()));
        checks.push(set(Subject::MissingLetters, fit.missing.len()));
        Self { checks }
    }

    /// Whether nothing is outside its limit.
    pub fn is_within(&self) -> bool {
        self.checks.iter().all(Check::is_within)
    }

    /// What is outside its limit.
    pub fn outside(&self) -> impl Iterator<Item = &Check> {
        self.checks.iter().filter(|check| !check.is_within())
    }

    /// The check of one measure, where it has a limit.
    pub fn of_measure(&self, measure: Measure) -> Option<&Check> {
        self.checks.iter().find(|check| check.subject == Subject::Measure(measure))
    }
}

/// The value of a measure; none where the blurb has no words to measure it on.
pub fn value_of(measure: Measure, length: &Length, level: &Level) -> Option<f64> {
    let count = |count: usize| Some(count as f64);
    match measure {
        Measure::Words => count(length.words),
        Measure::Characters => count(length.characters),
        Measure::Letters => count(length.letters),
        Measure::Sentences => count(length.sentences),
        Measure::Paragraphs => count(length.paragraphs),
        Measure::Syllables => Some(length.syllables as f64),
        Measure::LongestSentence => length.longest_sentence.map(|sentence| sentence.words as f64),
        Measure::WordsPerSentence => length.words_per_sentence,
        Measure::Level => level.grade(),
        Measure::ReadingEase => level.value(Formula::FleschReadingEase),
    }
}

/// One check for each term that must be there or may not be there too often, and one for each wording to avoid.
fn term_checks(coverage: &Coverage) -> impl Iterator<Item = Check> {
    let terms = coverage.items.iter().filter(|item| item.term.must || item.term.at_most.is_some()).map(|item| Check {
        subject: Subject::Term(item.term.term.clone()),
        value: Some(item.count() as f64),
        range: Range { from: item.term.must.then_some(1.0), to: item.term.at_most.map(f64::from) },
        origin: Origin::Brief,
    });
    let avoided = coverage.avoid.iter().map(|avoided| Check {
        subject: Subject::Avoided(avoided.wording.clone()),
        value: Some(avoided.spans.len() as f64),
        range: NONE,
        origin: Origin::Brief,
    });
    terms.chain(avoided)
}
