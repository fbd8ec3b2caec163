//! Changes of a brief that are not written yet: its whole text with them, in a recovery file as unsaved words have one,
//! so that a crash or a loss of power cannot take them.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::form::FileForm;
use super::recovery::{Recovery, RecoveryWrite, Shared};
use super::{self as files, Error, LARGEST_BRIEF, kept, read_up_to};
use crate::briefing::rewrite::{ValueChange, rewritten};
use crate::desk::Outcome;

/// The recovery of one brief.
#[derive(Debug)]
pub(crate) struct BriefRecovery {
    /// The brief's file as it is named.
    path: PathBuf,
    /// Where the changes go; none before there were some.
    claimed: Option<Shared>,
}

/// A brief's text with changes that an earlier desk has not written.
#[derive(Debug, Clone, PartialEq, Eq)]
struct LeftBrief {
    text: String,
    place: PathBuf,
}

impl BriefRecovery {
    pub(crate) fn of(path: &Path) -> Self {
        Self { path: path.to_path_buf(), claimed: None }
    }

    /// Queues the brief with changes that are not written, for a thread that may wait for the disk, and says whether
    /// there will be any in its recovery file. A text in which the changes have no place is not written: what is there
    /// stays.
    pub(crate) fn queue_changes(&mut self, changes: &[ValueChange]) -> (Option<RecoveryWrite>, bool) {
        if changes.is_empty() {
            return (self.queue(None), false);
        }
        let text = files::read_brief_text(&self.path).ok();
        let text = text.and_then(|text| rewritten(&text, changes).ok());
        (text.and_then(|text| self.queue(Some(text))), true)
    }

    /// The outcome that offers changes that an earlier desk has not written; none where there are none.
    pub(crate) fn offer(&self) -> Option<Outcome> {
        let left = self.left()?;
        let here = files::read_brief_text(&self.path).ok()?;
        Some(Outcome::BriefRecovered { here, kept: left.text })
    }

    /// Reads the brief with the changes that an earlier desk has not written. They are this desk's own before the file
    /// of the other is removed.
    pub(crate) fn accept(&mut self) -> Result<Vec<Outcome>, Error> {
        let Some(left) = self.left() else { return Ok(Vec::new()) };
        let (brief, faces) = files::read_left_brief(&left.text, &self.path)?;
        if let Some(write) = self.queue(Some(left.text.clone())) {
            write.write()?;
            Self::discard(&left);
        }
        Ok(vec![
            Outcome::NamedRead { brief: Box::new(brief), faces },
            Outcome::Said(
                "The changes are in the brief at the desk; w on the page of the brief writes them.".to_owned(),
            ),
        ])
    }

    /// Lets changes go that an earlier desk has not written. One letter asks for that, so the text with them is kept.
    pub(crate) fn let_go(&self) -> Result<Vec<Outcome>, Error> {
        let Some(left) = self.left() else { return Ok(Vec::new()) };
        let path = kept::keep_brief(&self.path, &left.text)?;
        Self::discard(&left);
        Ok(vec![Outcome::Said(format!("The brief with these changes is in {}.", path.display()))])
    }

    /// Queues the text of the brief with what is not written, or the removal of an earlier one, for a thread that may
    /// wait for the disk; none where there is nothing to do.
    fn queue(&mut self, text: Option<String>) -> Option<RecoveryWrite> {
        if text.is_none() && self.claimed.is_none() {
            return None;
        }
        let target = fs::canonicalize(&self.path).ok()?;
        let permissions = fs::metadata(&target).ok()?.permissions();
        let path = &self.path;
        let claimed = self.claimed.get_or_insert_with(|| Shared::new(Recovery::claim_place(path, &target).0));
        Some(claimed.queue(text, permissions))
    }

    /// What the newest of the desks that are gone has not written of the brief. A text that the brief's file has by now
    /// is removed without a question.
    fn left(&self) -> Option<LeftBrief> {
        let target = fs::canonicalize(&self.path).ok()?;
        let places = Recovery::left_of(&target);
        if places.is_empty() {
            return None;
        }
        let text_of = |path: &Path| {
            let bytes = read_up_to(path, "the brief", LARGEST_BRIEF).ok()?;
            Some(FileForm::of(&String::from_utf8(bytes).ok()?).1)
        };
        let now = text_of(&target);
        let left = places.into_iter().filter_map(|place| Some(LeftBrief { text: text_of(&place)?, place }));
        let (old, left): (Vec<_>, Vec<_>) = left.partition(|left| Some(&left.text) == now.as_ref());
        old.iter().for_each(Self::discard);
        let written = |left: &LeftBrief| -> Option<SystemTime> { fs::metadata(&left.place).ok()?.modified().ok() };
        left.into_iter().max_by_key(written)
    }

    /// Removes what an earlier desk has left.
    fn discard(left: &LeftBrief) {
        // A file that cannot be removed is offered again later.
        drop(fs::remove_file(&left.place));
    }

    /// Removes the desk's own file; the author has let the changes go.
    pub(crate) fn forget(&mut self) {
        // A file that cannot be removed is offered again later.
        drop(self.queue(None).map(RecoveryWrite::write));
    }
}
