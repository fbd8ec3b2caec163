//! The verdict: every limit with the value that is compared with it, and beside it what is usual where the brief has no
//! limit.
//!
//! A draft is within its limits or outside some of them. Limits are those that the brief sets, and the fit. What is
//! merely usual is told, and counts for nothing. No draft gets a mark.

use super::fit::Fit;
use super::legibility::Legibility;
use super::places::FitPlace;
use crate::art::facts::{ArtFacts, LEAST_PPI};
use crate::art::lines::Grade;
use crate::brief::Brief;
use crate::brief::limits::{Measure, Range};
use crate::brief::limits::{Usual, usual_for};
use crate::level::{Formula, Level};
use crate::terms::coverage::Coverage;
use crate::text::length::BlurbLength;

/// Every limit, each with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The checks in the order of a report: measures, terms, fit.
    pub checks: Vec<Check>,
    /// What is usual of the measures for which the brief has no limit. No draft is outside because of it.
    pub usual: Vec<AgainstUsual>,
}

/// What is usual of a measure, and what the draft has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AgainstUsual {
    /// What is usual.
    pub usual: Usual,
    /// What the draft has; none where there is nothing to measure.
    pub value: Option<f64>,
}

/// One limit and the value that is compared with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What is limited.
    pub subject: Subject,
    /// What the draft has; none where there is nothing to measure, which is then outside any limit.
    pub value: Option<f64>,
    /// The values within the limit.
    pub range: Range,
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
    /// Lines that do not fit: in one place, by its name; in all where the copy has no places.
    LinesOver(Option<String>),
    /// Lines that hold a word wider than the measure.
    LinesTooWide,
    /// By how many points the title on the spine is too long, or its letters too high, whichever is more.
    SpineTitle,
    /// Letters that no font has.
    MissingLetters,
    /// Lines that are lost on their art.
    LinesLost,
    /// The pixels to the inch of the art that has the fewest.
    ArtPixels,
    /// Words of the copy, where there are none.
    NoCopy,
}

impl Check {
    /// Whether the value is within the limit.
    pub fn is_within(&self) -> bool {
        self.value.is_some_and(|value| self.range.holds(value))
    }
}

impl AgainstUsual {
    /// Where the draft stands if it has less or more than is usual: `below` or `above`.
    pub fn beyond(&self) -> Option<&'static str> {
        self.value.and_then(|value| self.usual.range.beyond(value))
    }
}

impl Subject {
    /// Whether the limit is no limit of the brief, but that there is copy and all of it must fit.
    pub fn is_fit(&self) -> bool {
        matches!(
            self,
            Self::LinesOver(_)
                | Self::LinesTooWide
                | Self::SpineTitle
                | Self::MissingLetters
                | Self::LinesLost
                | Self::ArtPixels
                | Self::NoCopy
        )
    }

    /// The subject in data: `words`, `term`, `avoid`, `lines_over`.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Measure(measure) => measure.key(),
            Self::Term(_) => "term",
            Self::Avoided(_) => "avoid",
            Self::LinesOver(_) => "lines_over",
            Self::LinesTooWide => "lines_too_wide",
            Self::SpineTitle => "spine_title",
            Self::MissingLetters => "missing_letters",
            Self::LinesLost => "lines_lost",
            Self::ArtPixels => "art_pixels_per_inch",
            Self::NoCopy => "copy",
        }
    }
}

const NONE: Range = Range { from: None, to: Some(0.0) };

impl Verdict {
    /// Compares what was measured with the brief's limits, and puts beside it what is usual.
    pub fn of(
        brief: &Brief,
        length: &BlurbLength,
        level: &Level,
        coverage: &Coverage,
        (fit, art, legibility): (&Fit, &[ArtFacts], Option<&Legibility>),
    ) -> Self {
        // In a language without a measure of its own there is no level to compare.
        let is_held = |measure| measure != Measure::Level || level.grade().is_some() || length.words == 0;
        let own = |measure: Measure| {
            let (range, value) = (brief.limits.of(measure)?, value_of(measure, length, level));
            Some(Check { subject: Subject::Measure(measure), value, range })
        };
        let mut checks: Vec<Check> = Measure::ALL.into_iter().filter(|it| is_held(*it)).filter_map(own).collect();
        checks.extend(term_checks(coverage));
        let set = |subject, count: usize| Check { subject, value: Some(count as f64), range: NONE };
        // The places are those of the brief, whatever stands in them, so all drafts of a book have the same checks.
        if fit.has_places {
            let over = |place: &FitPlace| set(Subject::LinesOver(Some(place.name.clone())), place.castoff.lines_over);
            checks.extend(fit.places.iter().map(over));
        } else {
            checks.push(set(Subject::LinesOver(None), fit.castoff.lines_over));
        }
        checks.push(set(Subject::LinesTooWide, fit.lines.iter().filter(|line| line.set.too_wide).count()));
        checks.extend(fit.spine.as_ref().map(|title| Check {
            subject: Subject::SpineTitle,
            value: Some(title.over().to_pt()),
            range: NONE,
        }));
        checks.push(set(Subject::MissingLetters, fit.missing.len()));
        checks.extend(legibility.map(|legibility| set(Subject::LinesLost, legibility.count(Grade::Lost))));
        let fewest = art.iter().map(ArtFacts::whole_ppi).min_by(f64::total_cmp);
        checks.extend(fewest.map(|ppi| Check {
            subject: Subject::ArtPixels,
            value: Some(ppi),
            range: Range { from: Some(LEAST_PPI), to: None },
        }));
        let usual = usual_for(&brief.book, &brief.limits).into_iter().filter(|usual| is_held(usual.measure));
        let beside = |usual: Usual| AgainstUsual { value: value_of(usual.measure, length, level), usual };
        Self { checks, usual: usual.map(beside).collect() }
    }

    /// The verdict on a draft without copy, which no limit of a brief allows.
    #[must_use]
    pub(super) fn without_copy(mut self) -> Self {
        let range = Range { from: Some(1.0), to: None };
        self.checks.push(Check { subject: Subject::NoCopy, value: Some(0.0), range });
        self
    }

    /// Whether nothing is outside its limit.
    pub fn is_within(&self) -> bool {
        self.checks.iter().all(Check::is_within)
    }

    /// What is outside its limit.
    pub fn outside(&self) -> impl Iterator<Item = &Check> {
        self.checks.iter().filter(|check| !check.is_within())
    }

    /// What is usual of one measure, where the brief has no limit for it.
    pub fn usual_of(&self, measure: Measure) -> Option<&AgainstUsual> {
        self.usual.iter().find(|beside| beside.usual.measure == measure)
    }

    /// The check of one measure, where it has a limit.
    pub fn of_measure(&self, measure: Measure) -> Option<&Check> {
        self.checks.iter().find(|check| check.subject == Subject::Measure(measure))
    }
}

/// The value of a measure; none where the blurb has no words to measure it on.
pub fn value_of(measure: Measure, length: &BlurbLength, level: &Level) -> Option<f64> {
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
    });
    let avoided = coverage.avoid.iter().map(|avoided| Check {
        subject: Subject::Avoided(avoided.wording.clone()),
        value: Some(avoided.spans.len() as f64),
        range: NONE,
    });
    terms.chain(avoided)
}
