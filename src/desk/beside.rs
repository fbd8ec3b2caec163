//! The draft that is shown beside the one in front, and what makes the two differ.

use super::assessed::Assessed;
use super::papers::DraftId;
use super::sheet::DraftSheet;
use crate::brief::Brief;
use crate::draft::Edit;
use crate::report::ReportMemory;
use crate::report::differences::{Change, Differences, ShownStretch};
use crate::setting::Faces;

/// The draft that is shown beside the one in front.
#[derive(Debug)]
pub struct Beside {
    /// The other draft.
    pub draft: DraftId,
    /// The assessment of the other draft.
    pub found: Assessed,
    /// The number of the selected difference.
    pub at: usize,
    text: String,
    changes: Vec<Change>,
    blocks: Vec<Vec<Vec<ShownStretch>>>,
    /// The number of the front draft's assessment for which the differences were found.
    compared_for: Option<u64>,
}

impl Beside {
    /// A draft that was just read, compared with the one in front.
    pub(super) fn new(draft: DraftId, text: &str, front: &DraftSheet, (brief, faces): (&Brief, &Faces)) -> Self {
        let found = Assessed::of(text, brief, faces, &mut ReportMemory::default());
        let text = text.to_owned();
        let mut beside =
            Self { draft, found, at: 0, text, changes: Vec::new(), blocks: Vec::new(), compared_for: None };
        beside.compare(front);
        beside
    }

    /// Measures the other draft again, because the brief or its art has changed.
    pub(super) fn measure(&mut self, brief: &Brief, faces: &Faces) {
        self.found = Assessed::of(&self.text, brief, faces, &mut ReportMemory::default());
    }

    /// Finds the differences again if the draft in front has changed, and keeps the selected number within them.
    pub(super) fn compare(&mut self, front: &DraftSheet) {
        if self.compared_for == Some(front.assessment()) {
            return;
        }
        let differences = Differences::of(&front.now.draft, &self.found.draft);
        self.blocks = differences.whole().into_iter().map(|(_, sentences)| sentences).collect();
        self.changes = differences.changes;
        self.compared_for = Some(front.assessment());
        self.at = self.at.min(self.last());
    }

    /// The differences, in the order of the copy.
    pub fn changes(&self) -> &[Change] {
        &self.changes
    }

    /// Both drafts merged: for each block its sentences, and for each sentence the stretches that stand in either
    /// draft.
    pub fn blocks(&self) -> &[Vec<Vec<ShownStretch>>] {
        &self.blocks
    }

    /// The number of the last difference; 0 where there is none.
    pub(super) fn last(&self) -> usize {
        self.changes.len().saturating_sub(1)
    }

    /// The edits of the front draft that apply the selected difference; none where it cannot be applied alone.
    pub(super) fn edits(&self, front: &DraftSheet) -> Option<Vec<Edit>> {
        let differences = Differences::of(&front.now.draft, &self.found.draft);
        differences.edits(front.editor.text(), |change| change == self.at)
    }
}
