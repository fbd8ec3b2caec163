//! One draft of a list: all that its row tells, whichever form the list has.

use super::small_panel;
use crate::brief::Brief;
use crate::draft::Draft;
use crate::print::compare::shown;
use crate::print::visible::visible;
use crate::print::words::told;
use crate::report::Report;
use crate::report::comparison::RowValue;
use crate::report::verdict::{Check, Subject};
use crate::setting::Faces;
use crate::units::Length;

/// A draft and what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ListRow {
    /// The draft as it was named, or the folder of a book that has none.
    pub draft: String,
    /// The brief that it is measured by; empty where there is none.
    pub brief: String,
    /// The book's title; empty where it is not known.
    pub title: String,
    /// The book's ISBN as the brief writes it; empty where there is none.
    pub isbn: String,
    /// Whether the draft is a record of a feed, which is a book of its own.
    pub is_record: bool,
    /// What was measured, or why nothing was.
    pub state: RowState,
}

/// What became of a draft.
#[derive(Debug, Clone, PartialEq)]
pub enum RowState {
    /// The draft or its brief could not be read, for this reason.
    Unread(String),
    /// The draft was measured.
    Measured(Box<RowFigures>),
}

/// The figures of a draft that was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct RowFigures {
    /// The limits that are not kept, each told in words.
    pub outside: Vec<String>,
    /// What those limits are about, each once: `words`, `fit`, `terms`.
    pub outside_of: Vec<&'static str>,
    /// Words of the blurb.
    pub words: usize,
    /// Characters of the blurb.
    pub characters: usize,
    /// Words of the longest sentence; none where there is no sentence.
    pub longest_sentence: Option<usize>,
    /// The reading level; none where it is not told.
    pub level: Option<RowLevel>,
    /// Whether all that is printed fits.
    pub fits: bool,
    /// Lines that are set.
    pub lines: usize,
    /// Lines that have room.
    pub lines_available: usize,
    /// Lines that are over.
    pub lines_over: usize,
    /// Lines that are left.
    pub lines_spare: usize,
    /// Letters that are over.
    pub letters_over: usize,
    /// Letters that still go in.
    pub letters_spare: usize,
    /// The size of the blurb.
    pub size: Length,
    /// The largest size that fits; none where none does.
    pub largest_size: Option<Length>,
    /// Wanted terms that the copy carries.
    pub terms_covered: usize,
    /// Wanted terms.
    pub terms_wanted: usize,
    /// Wanted terms that the copy does not carry.
    pub terms_missing: Vec<String>,
    /// Wordings to avoid that are there.
    pub avoided: Vec<String>,
    /// Queries that the author does not let stand; none where they were not looked for.
    pub queries: Option<usize>,
    /// What of the draft was left out or could not be understood, each note with its place in the file.
    pub notes: Vec<String>,
    /// The back panel as a small drawing; empty where the list has no drawings.
    pub panel: String,
}

/// A reading level with its band.
#[derive(Debug, Clone, PartialEq)]
pub struct RowLevel {
    /// The measure that suits the readers, by its name.
    pub measure: &'static str,
    /// The grade.
    pub grade: f64,
    /// The lowest grade of the band.
    pub low: u32,
    /// The highest grade of the band.
    pub high: u32,
}

/// What becomes of a draft, in the order in which a list has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowVerdict {
    /// Nothing could be measured.
    Unread,
    /// A limit is not kept.
    Outside,
    /// Every limit is kept.
    Within,
}

impl RowVerdict {
    /// The verdict in a word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Unread => "unread",
            Self::Outside => "outside",
            Self::Within => "within",
        }
    }
}

impl ListRow {
    /// The verdict on the draft.
    pub fn verdict(&self) -> RowVerdict {
        match &self.state {
            RowState::Unread(_) => RowVerdict::Unread,
            RowState::Measured(figures) if figures.outside.is_empty() => RowVerdict::Within,
            RowState::Measured(_) => RowVerdict::Outside,
        }
    }

    /// The figures, where the draft was measured.
    pub fn figures(&self) -> Option<&RowFigures> {
        match &self.state {
            RowState::Unread(_) => None,
            RowState::Measured(figures) => Some(figures),
        }
    }

    /// What is told beside the figures: why the draft was not read, or each limit that is not kept and each note.
    pub(super) fn remarks(&self) -> Vec<String> {
        match &self.state {
            RowState::Unread(why) => vec![visible(why).replace("<U+000A>", " ")],
            RowState::Measured(figures) => {
                let notes = figures.notes.iter().map(|note| format!("note: {note}"));
                figures.outside.iter().cloned().chain(notes).collect()
            }
        }
    }
}

impl RowFigures {
    /// The figures of a report.
    pub fn of(report: &Report) -> Self {
        let Report { length, fit, coverage, verdict, .. } = report;
        let mut outside_of: Vec<&'static str> = verdict.outside().map(about).collect();
        outside_of.sort_unstable();
        outside_of.dedup();
        let level = report.level.headline.as_ref().map(|headline| RowLevel {
            measure: headline.measure.facts().name,
            grade: headline.grade(),
            low: headline.low,
            high: headline.high,
        });
        Self {
            outside: verdict.outside().map(|check| told(check, report)).collect(),
            outside_of,
            words: length.words,
            characters: length.characters,
            longest_sentence: length.longest_sentence.map(|sentence| sentence.words),
            level,
            fits: fit.fits(),
            lines: fit.castoff.lines,
            lines_available: fit.castoff.lines_available,
            lines_over: fit.castoff.lines_over,
            lines_spare: fit.castoff.lines_spare,
            letters_over: fit.letters_over,
            letters_spare: fit.letters_spare,
            size: fit.size,
            largest_size: fit.largest_size,
            terms_covered: coverage.covered(),
            terms_wanted: coverage.wanted(),
            terms_missing: coverage.missing().map(|item| item.term.term.clone()).collect(),
            avoided: coverage
                .avoid
                .iter()
                .filter(|avoided| !avoided.spans.is_empty())
                .map(|it| it.wording.clone())
                .collect(),
            queries: None,
            notes: Vec::new(),
            panel: String::new(),
        }
    }

    /// Adds the back panel as a small drawing.
    #[must_use]
    pub fn with_panel(self, report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        Self { panel: small_panel::drawn(report, draft, brief, faces), ..self }
    }

    /// The band of grades: `2-5`; `2-5*` by the measure whose bands have a star; `none` where no level is told.
    pub(super) fn band(&self, starred: Option<&str>) -> String {
        let Some(level) = &self.level else { return "none".to_owned() };
        let star = if Some(level.measure) == starred { "*" } else { "" };
        if level.low == level.high {
            format!("{}{star}", level.low)
        } else {
            format!("{}-{}{star}", level.low, level.high)
        }
    }

    /// The fit in two words: `2 over`, `1 left`.
    pub(super) fn fit(&self) -> String {
        match (self.fits, self.lines_over) {
            // What is too long for the spine, or wider than its line.
            (false, 0) => "too long".to_owned(),
            (fits, over) => shown(RowValue::Fit { fits, over, spare: self.lines_spare }),
        }
    }

    /// The terms that stand in the copy of those that are wanted; `none` where none is wanted.
    pub(super) fn terms(&self) -> String {
        if self.terms_wanted == 0 {
            return "none".to_owned();
        }
        shown(RowValue::OutOf(self.terms_covered, self.terms_wanted))
    }
}

/// What a limit is about, in a word.
fn about(check: &Check) -> &'static str {
    match &check.subject {
        Subject::Measure(measure) => measure.name(),
        Subject::Term(_) => "terms",
        Subject::Avoided(_) => "wordings to avoid",
        Subject::ArtPixels => "pixels of the art",
        Subject::LinesLost => "legibility on the art",
        Subject::MissingLetters => "missing letters",
        Subject::NoCopy => "no copy",
        Subject::LinesOver(_) | Subject::LinesTooWide | Subject::SpineTitle => "fit",
    }
}
