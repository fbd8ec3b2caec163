//! The report: one page about one draft that a stranger can read aloud.
//!
//! [`assess`] is the whole flow. Everything that is shown anywhere, on the screen, in text, JSON or a proof, is read
//! from the [`Report`] that it gives.

pub mod amounts;
pub mod fit;
pub mod places;
pub mod sizes;
pub mod levels;
pub mod verdict;
pub mod drawing;
pub mod legibility;
mod art_facts;
pub mod quiet;
pub mod mends;
pub mod panel;
mod matching;
mod starred;
pub mod differences;
mod rewriting;
pub mod art_effects;
pub mod effects;
pub mod comparison;
pub mod kept;
pub mod cuts;
pub mod plan;
pub mod tighten;
pub mod other_words;
pub mod terms;

use crate::art::facts::ArtFacts;
use crate::brief::Brief;
use crate::brief::place::CoverFace;
use crate::brief::queries::Rule;
use crate::briefing::start;
use crate::draft::{Draft, Note};
use crate::level::{self, Level};
use crate::queries::{self, Query, QueryMemory, Reading, SilentRules};
use crate::setting::{Faces, Rooms, RoomsMemory, Setting, SettingMemory, ShapedCopy};
use crate::terms::coverage::{self, Coverage, CoverageMemory};
use crate::text::length::{self, BlurbLength};
use crate::text::{Text, TextMemory};

use amounts::{AmountsMemory, WordsAndLetters};

pub use drawing::Drawing;
pub use fit::Fit;
pub use legibility::Legibility;
pub use verdict::{Check, Verdict};

/// Everything that is known of one draft.
#[derive(Debug, Clone)]
pub struct Report {
    /// How long the blurb is.
    pub length: BlurbLength,
    /// How hard the blurb is to read.
    pub level: Level,
    /// Which terms the copy carries.
    pub coverage: Coverage,
    /// How the copy stands in the panel.
    pub fit: Fit,
    /// The art of every face that has some.
    pub art: Vec<ArtFacts>,
    /// Whether the copy can be read on its art; none where no copy stands on art.
    pub legibility: Option<Legibility>,
    /// Every limit with the value that is held against it.
    pub verdict: Verdict,
    /// How many marks of a keyboard are about to be printed; none where the brief asks for no such query.
    pub straight_marks: usize,
    /// Which rules do not know the language of the copy.
    pub silent_rules: SilentRules,
    /// What was left out of the draft or could not be understood.
    pub notes: Vec<Note>,
    /// What should be known of the panel, each a sentence without its stop.
    pub panel_notes: Vec<String>,
}

/// A report with what a screen shows beside it.
#[derive(Debug, Clone)]
pub struct Assessment {
    /// The report.
    pub report: Report,
    /// Every face with the copy on it, the panel first, without the lines that lie below the face.
    pub drawings: Vec<(CoverFace, Drawing)>,
    /// What the author should look at, in the order of the copy.
    pub queries: Vec<Query>,
}

/// What was last found in the blocks of a draft. A memory is valid only for the faces that it was made with: when fonts
/// are read again, a new memory must begin.
#[derive(Debug, Default)]
pub struct ReportMemory {
    shaped: SettingMemory,
    read: TextMemory,
    measured: MeasureMemory,
    queries: QueryMemory,
}

/// What was last measured in the blocks of a draft, and the rooms of its places, which do not depend on fonts.
#[derive(Debug, Default)]
struct MeasureMemory {
    rooms: RoomsMemory,
    terms: CoverageMemory,
    counts: AmountsMemory,
}

/// Measures a draft, sets it, and compares it with the brief.
pub fn assess(draft: &Draft, brief: &Brief, faces: &Faces) -> Report {
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
    let text = Text::read(draft, &brief.book);
    report_on(&copy, (draft, &text), brief, faces, &mut MeasureMemory::default())
}

/// Incremental [`assess`]: what depends on one block alone is found only in the blocks that have changed since the
/// memory was used last.
pub fn assess_again(draft: &Draft, brief: &Brief, faces: &Faces, memory: &mut ReportMemory) -> Report {
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut memory.shaped);
    let text = Text::read_again(draft, &brief.book, &mut memory.read);
    report_on(&copy, (draft, &text), brief, faces, &mut memory.measured)
}

impl Assessment {
    /// Assesses a draft and finds what a screen shows beside the report: what depends on one block alone is found only
    /// in the blocks that have changed since the memory was used last.
    pub fn of(draft: &Draft, brief: &Brief, faces: &Faces, memory: &mut ReportMemory) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut memory.shaped);
        let text = Text::read_again(draft, &brief.book, &mut memory.read);
        let report = report_on(&copy, (draft, &text), brief, faces, &mut memory.measured);
        let drawings = Drawing::of_what_is_on_faces(&report, &copy, brief);
        // The report has the setting that it was cast off from, so nothing is set twice.
        let lines = report.fit.lines.iter().map(|line| line.set.clone()).collect();
        let setting = Setting { lines, places: report.fit.set_places.clone() };
        let art = report.legibility.as_ref().map_or(&[][..], |art| &art.lines);
        let reading = Reading { draft, text: &text, level: &report.level, setting: &setting, art, brief };
        let queries = queries::find(&reading, &mut memory.queries);
        Self { report, drawings, queries }
    }
}

/// What of a draft was left out, could not be understood, or is still the text that a new draft begins with.
pub fn notes_of(draft: &Draft) -> Vec<Note> {
    let begun = draft.blocks.iter().find(|block| start::begins_a_draft(block.text()));
    let begun = begun.map(|block| Note { span: block.whole_span(), text: start::UNTOUCHED.to_owned() });
    draft.notes.iter().cloned().chain(begun).collect()
}

/// The report on a draft that is shaped and read. What the memory knows of unchanged blocks is not found again.
fn report_on(
    copy: &ShapedCopy<'_>,
    (draft, text): (&Draft, &Text<'_>),
    brief: &Brief,
    faces: &Faces,
    memory: &mut MeasureMemory,
) -> Report {
    let length = length::measure(text, brief.book.kind);
    let level = level::measure(text);
    let coverage = coverage::find_again(text, &brief.terms, &mut memory.terms);
    // Set all that is printed, and cast it off.
    let counts = WordsAndLetters::of_blocks(draft, &mut memory.counts);
    let fit = Fit::of_copy(draft, (copy, &counts, &Rooms::of_again(brief, &mut memory.rooms)), brief, faces);
    let legibility = Legibility::of_all(&fit, copy, brief, faces);
    let art = art_facts::of(brief, &fit);
    let verdict = Verdict::of(brief, &length, &level, &coverage, (&fit, &art, legibility.as_ref()));
    let verdict = if draft.has_copy() { verdict } else { verdict.without_copy() };
    let is_asked = brief.queries.asks(Rule::StraightMarks);
    Report {
        length,
        level,
        coverage,
        fit,
        art,
        legibility,
        verdict,
        straight_marks: if is_asked { queries::mark_mends(draft, &brief.book.language).len() } else { 0 },
        silent_rules: queries::silent_rules(text, brief),
        notes: notes_of(draft),
        panel_notes: panel::notes(brief),
    }
}
