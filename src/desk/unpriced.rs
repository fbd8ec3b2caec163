//! A draft whose cuts have to be tried: that takes longer than a key may, and is done aside.

use std::sync::Arc;

use super::papers::DraftId;
use crate::brief::Brief;
use crate::brief::stet::Stet;
use crate::draft::Draft;
use crate::report;
use crate::report::tighten::{DraftFile, Tighten};
use crate::setting::Faces;

/// The brief and the fonts by which a draft is measured and set. Two are equal where they share both.
#[derive(Debug, Clone)]
pub struct MeasuredBy {
    /// The brief.
    pub brief: Arc<Brief>,
    /// The fonts that the brief names.
    pub faces: Arc<Faces>,
}

impl PartialEq for MeasuredBy {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.brief, &other.brief) && Arc::ptr_eq(&self.faces, &other.faces)
    }
}

/// A draft whose cuts have no price for its text as it is.
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
    /// Tries every cut, as long as anybody wants to know: once it is no longer wanted it ends soon, and is not whole.
    pub fn priced(&self, is_wanted: &dyn Fn() -> bool) -> Tighten {
        let MeasuredBy { brief, faces } = &self.by;
        let draft = Draft::read(&self.text);
        let report = report::assess(&draft, brief, faces);
        // What stands is left out where queries are shown, so that nothing is found anew for it.
        let file = DraftFile { name: "", source: &self.text, stet: &Stet::default() };
        Tighten::while_wanted(file, &draft, brief, (faces, &report), is_wanted)
    }
}
