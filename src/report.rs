//! The report: one page about one draft that a stranger can read aloud.
//!
//! [`assess`] is the whole flow. Everything that is shown anywhere, on the screen, in text, JSON or a proof, is read
//! from the [`Report`] that it gives.

pub mod fit;
pub mod sizes;
pub mod levels;
pub mod verdict;
pub mod drawing;
pub mod panel;
mod matching;
pub mod differences;
mod rewriting;
pub mod effects;
pub mod comparison;
pub mod kept;
pub mod cuts;
pub mod plan;
pub mod tighten;
pub mod terms;

use crate::brief::Brief;
use crate::draft::{Draft, Note};
use crate::setting::{Copy, Faces, Memory};
use crate::text::Text;
use crate::text::coverage::{self, Coverage};
use crate::text::length::{self, Length};
use crate::text::level::{self, Level};

pub use drawing::Drawing;
pub use fit::Fit;
pub use verdict::{Check, Verdict};

/// Everything that is known of one draft.
#[derive(Debug, Clone)]
pub struct Report {
    /// How long the blurb is.
    pub length: Length,
    /// How hard it is to read.
    pub level: Level,
    /// Which terms the copy carries.
    pub coverage: Coverage,
    /// How it stands in the panel.
    pub fit: Fit,
    /// Every limit with the value that is held against it.
    pub verdict: Verdict,
    /// What was left out of the draft or could not be understood.
    pub notes: Vec<Note>,
    /// What should be known of the panel, a sentence without its stop each.
    pub panel_notes: Vec<String>,
}

/// Measures a draft, sets it, and holds it against the brief.
pub fn assess(draft: &Draft, brief: &Brief, faces: &Faces) -> Report {
    assess_copy(draft, brief, faces, &Copy::shape(draft, &brief.typography, faces))
}

/// The same report, sooner: only the blocks are shaped that have changed since the memory was used last.
pub fn assess_again(draft: &Draft, brief: &Brief, faces: &Faces, memory: &mut Memory) -> Report {
    assess_copy(draft, brief, faces, &Copy::shape_again(draft, &brief.typography, faces, memory))
}

fn assess_copy(draft: &Draft, brief: &Brief, faces: &Faces, copy: &Copy<'_>) -> Report {
    // Read the blurb once: words, sentences, syllables.
    let text = Text::read(draft, &brief.book);
    // Measure it.
    let length = length::measure(&text, brief.book.kind);
    let level = level::measure(&text);
    // Look up the terms.
    let coverage = coverage::find(&text, &brief.terms);
    // Set all that is printed, and cast it off.
    let fit = Fit::of_copy(draft, copy, brief, faces);
    // Hold every measure against its limit.
    let verdict = Verdict::of(brief, &length, &level, &coverage, &fit);
    Report {
        length,
        level,
        coverage,
        fit,
        verdict,
        notes: draft.notes.clone(),
        panel_notes: panel::notes(&brief.panel),
    }
}
