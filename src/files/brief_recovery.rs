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
use crate::editor::mending::MendedText;
use crate::system;

/// The recovery of one brief.
#[derive(Debug)]
pub(crate) struct BriefRecovery {
    /// The brief's file as it is named.
    path: PathBuf,
    /// Where the changes go; none before there were some.
    claimed: Option<Shared>,
    /// Where the text goes that is mended by hand; none before something of it was typed.
    mended: Option<Shared>,
}

/// A brief's text with changes that an earlier desk has not written.
#[derive(Debug, Clone, PartialEq, Eq)]
struct LeftBrief {
    text: String,
    place: PathBuf,
}

impl BriefRecovery {
    pub(crate) fn of(path: &Path) -> Self {
        Self { path: path.to_path_buf(), claimed: None, mended: None }
    }

    /// Queues the brief with changes that are not written, for a thread that may wait for the disk, and says whether
    /// there will be any in its recovery file. A text in which the changes have no place is not written: what is there
    /// stays.
    pub(crate) fn queue_changes(&mut self, changes: &[ValueChange]) -> (Option<RecoveryWrite>, bool) {
        if changes.is_empty() {
            return (Self::queue(&self.path, &mut self.claimed, None), false);
        }
        let text = files::read_brief_text(&self.path).ok();
        let text = text.and_then(|text| rewritten(&text, changes).ok());
        (text.and_then(|text| Self::queue(&self.path, &mut self.claimed, Some(text))), true)
    }

    /// Queues the text of a brief that is mended by hand and is not written, or its removal, for a thread that may wait
    /// for the disk; none where there is nothing to do.
    pub(crate) fn queue_mended(&mut self, text: Option<String>) -> Option<RecoveryWrite> {
        Self::queue(&self.path, &mut self.mended, text)
    }

    /// Makes the text that an earlier desk has not written this one's own, for the page on which a brief is mended;
    /// none where there is no such text. The other's file is removed only when this one's is there.
    pub(crate) fn adopt(&mut self) -> Option<String> {
        let left = self.left()?;
        if self.queue_mended(Some(left.text.clone())).is_some_and(|write| write.write().is_ok()) {
            Self::discard(&left);
        }
        Some(left.text)
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
        let (brief, faces) = match files::read_left_brief(&left.text, &self.path) {
            Ok(read) => read,
            // What was typed to mend a brief may not be one yet, and is gone on with by hand.
            Err(error) => return Ok(self.mend_on(&error)),
        };
        if let Some(write) = Self::queue(&self.path, &mut self.claimed, Some(left.text.clone())) {
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

    /// The outcome that has the text of an earlier desk mended on, which cannot be read as a brief.
    fn mend_on(&mut self, fault: &Error) -> Vec<Outcome> {
        let (Ok(here), Some(text)) = (files::read_brief_text(&self.path), self.adopt()) else { return Vec::new() };
        let why = format!("What was typed cannot be read yet: {fault}.");
        let mut mended = MendedText::new(FileForm::of(&here).1, None, why);
        mended.go_on_with(&text);
        vec![Outcome::BriefUnread(Box::new(mended))]
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
    fn queue(path: &Path, place: &mut Option<Shared>, text: Option<String>) -> Option<RecoveryWrite> {
        if text.is_none() && place.is_none() {
            return None;
        }
        let target = system::real_path(path).ok()?;
        let permissions = fs::metadata(&target).ok()?.permissions();
        let claimed = place.get_or_insert_with(|| Shared::new(Recovery::claim_place(path, &target).0));
        Some(claimed.queue(text, permissions))
    }

    /// What the newest of the desks that are gone has not written of the brief. A text that the brief's file has by now
    /// is removed without a question.
    fn left(&self) -> Option<LeftBrief> {
        let target = system::real_path(&self.path).ok()?;
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

    /// Removes the desk's own files, and the signs of desks that are gone; the author has let all go, or it is written.
    pub(crate) fn forget(mut self) {
        for place in [&mut self.claimed, &mut self.mended] {
            // A file that cannot be removed is offered again later.
            drop(Self::queue(&self.path, place, None).map(RecoveryWrite::write));
            *place = None;
        }
        if let Ok(target) = system::real_path(&self.path) {
            Recovery::take_signs_away(&target);
        }
    }
}
