//! A draft whose cuts are to be priced, which takes longer than a key may and runs on another thread.

use std::sync::Arc;

use super::papers::DraftId;
use crate::brief::Brief;
use crate::brief::stet::Stet;
use crate::draft::Draft;
use crate::report;
use crate::report::kept::KeptFigures;
use crate::report::tighten::{DraftFile, Tighten};
use crate::setting::Faces;

/// The brief and the fonts by which a draft is measured and set. Two values are equal where they share both.
#[derive(Debug, Clone)]
pub struct MeasuredBy {
    /// The brief.
    pub brief: Arc<Brief>,
    /// The fonts that the brief names.
    pub faces: Arc<Faces>,
}

impl MeasuredBy {
    /// What a text measures.
    pub fn figures(&self, text: &str) -> KeptFigures {
        KeptFigures::of(&report::assess(&Draft::read(text), &self.brief, &self.faces))
    }
}

impl PartialEq for MeasuredBy {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.brief, &other.brief) && Arc::ptr_eq(&self.faces, &other.faces)
    }
}

/// A draft whose cuts have no prices for its current text.
#[derive(Debug, Clone, PartialEq)]
pub struct Unpriced {
    /// The draft.
    pub draft: DraftId,
    /// The revision of the text.
    pub revision: u64,
    /// The text.
    pub text: String,
    /// The brief and the fonts.
    pub by: MeasuredBy,
}

impl Unpriced {
    /// Prices every cut. Once `is_wanted` returns false the work ends soon and its result is incomplete.
    pub fn priced(&self, is_wanted: &dyn Fn() -> bool) -> Tighten {
        let MeasuredBy { brief, faces } = &self.by;
        let draft = Draft::read(&self.text);
        let report = report::assess(&draft, brief, faces);
        // Wordings that are let stand are ignored here and left out when queries are shown, so letting a wording stand
        // needs no new pricing.
        let file = DraftFile { name: "", source: &self.text, stet: &Stet::default() };
        Tighten::while_wanted(file, &draft, brief, (faces, &report), is_wanted)
    }
}
