//! A draft that is open at the desk, kept so that nothing is lost to a kill, a full disk, another program or another
//! desk.
//!
//! Usage, for the desk's loop. One thread owns the `OpenDraft` (which may be sent to it); every call except
//! `queue_autosave` may wait for the disk.
//!
//! ```text
//! open(path) -> OpenDraft                  told at once: notices(): read-only, no recovery possible, open elsewhere
//!   recovered() -> Option<Recovered>       unsaved words of a desk that is gone; ask, showing editor::difference;
//!     restore(&r) -> text | discard(&r)    then ask recovered() again, for there may be more
//!   autosave(text)                         at most a second after a change; or where waiting for the disk is allowed:
//!   queue_autosave(text).write()
//!   save(text) -> Saved                    Written, or ChangedOutside: nothing was written, ask; then
//!     save_over(text) | reload() -> text   the author's words over theirs, or theirs
//!   save_copy(path, text), rename(path)    never over a file that is there
//!   outside() -> Option<Outside>           on a notice of the file system, or now and then
//! close()                                  a clean leave: nothing of the desk stays beside the draft
//! ```
//!
//! Dropped without `close` (a panic, a signal), the recovery file stays and its words are offered at the next start.
//! The text at the desk has `\n` line endings and no byte-order mark; the saved file has what it had.
//!
//! Limits: access lists and other attributes beyond the permissions are not carried over to the saved file, and a
//! second hard link goes on naming the older text.

use std::fs::{self, Permissions};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::drafts::draft_of;
use super::fingerprint::Fingerprint;
use super::form::FileForm;
pub use super::notice::Notice;
pub use super::recovery::RecoveryWrite;
use super::recovery::{Recovery, Shared};
pub use super::shelf::Holder;
use super::stage::{can_write, check_writable, dress, folder_of, hold, moved, staged};
use super::{DRAFT_ENDING, Error, LARGEST_DRAFT, check_free_for, plain, read_up_to, text_of, typed, write_new};
use crate::system;

const DRAFT: &str = "the draft";

/// An open draft, with its file as it was last read or written here.
#[derive(Debug)]
pub struct OpenDraft {
    /// The file as the author named it, for messages.
    path: PathBuf,
    /// Where the file really is, links followed.
    target: PathBuf,
    form: FileForm,
    text: String,
    seen: Fingerprint,
    permissions: Permissions,
    recovery: Shared,
    notices: Vec<Notice>,
    /// Whether the file is on the disk.
    is_on_disk: bool,
}

/// Unsaved words of a desk that is gone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recovered {
    /// The text as it was last written to the recovery file.
    pub text: String,
    /// When the recovery file was written; none where the file system does not say.
    pub written: Option<SystemTime>,
    /// Whether the draft's file has changed since the words were written.
    pub file_has_changed: bool,
    place: PathBuf,
}

/// What another program has done to the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outside {
    /// The file has other text: this.
    Changed(String),
    /// The file is not there any more.
    Removed,
}

/// The result of a save.
#[derive(Debug, Clone, PartialEq, Eq)]
#[must_use]
pub enum Saved {
    /// The text is on the disk.
    Written,
    /// Nothing was written, because another program has changed the file.
    ChangedOutside(Outside),
}

/// When a file may be written over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Standing {
    /// Only while the file is as it was last read or written here.
    AsSeen,
    /// Always: the author has said so.
    Any,
}

/// Whether an error means that a folder cannot be written at all, unlike a full disk.
fn forbids(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem)
}

/// Opens a draft at the desk. Of a document, which is only read, a draft beside it is opened that is not on the disk
/// before it is saved.
///
/// Fails if the file cannot be read as a draft, or if there is a draft beside a document already. A draft that can be
/// read but not written opens with a notice.
pub fn open(path: &Path) -> Result<OpenDraft, Error> {
    let target = system::real_path(path).map_err(|error| Error::io("open the draft", path, &error))?;
    if target.is_dir() {
        return Err(Error::new(format!("cannot open {}: it is a folder; name a draft in it", path.display())));
    }
    let bytes = read_up_to(&target, DRAFT, LARGEST_DRAFT)?;
    let metadata = fs::metadata(&target).map_err(|error| Error::io("open the draft", path, &error))?;
    let seen = Fingerprint::of(&bytes, &metadata);
    let file = draft_of(path, DRAFT, bytes)?;
    let (path, target, seen, about) = match &file.document {
        None => (path.to_owned(), target, seen, None),
        Some(told) => {
            let (beside, target) = beside_document(path, &target)?;
            let about = Notice::FromDocument { document: path.to_owned(), draft: beside.clone(), told: told.clone() };
            (beside, target, Fingerprint::of(file.text.as_bytes(), &metadata), Some(about))
        }
    };
    let (form, text) = FileForm::of(&file.text);
    let is_on_disk = about.is_none();
    let mut notices: Vec<Notice> = about.into_iter().chain(closed(&target)).collect();
    let (recovery, said) = Recovery::claim_place(&path, &target);
    notices.extend(said);
    let (permissions, recovery) = (system::with_right_to_write(metadata.permissions()), Shared::new(recovery));
    let permissions = if is_on_disk { metadata.permissions() } else { permissions };
    Ok(OpenDraft { path, form, text, seen, permissions, recovery, notices, target, is_on_disk })
}

/// The file of the draft that is made of a document: as it is named, and where it really is.
fn beside_document(document: &Path, target: &Path) -> Result<(PathBuf, PathBuf), Error> {
    let draft = document.with_extension(DRAFT_ENDING);
    let fail = |error: io::Error| Error::io("look for a draft beside", document, &error);
    let place = system::real_path(folder_of(&draft)).map_err(fail)?.join(draft.file_name().unwrap_or_default());
    if place == target {
        let problem = "its letters are saved as UTF-16, and a draft's as UTF-8";
        let remedy = "in your editor save it with the encoding UTF-8, and try again";
        return Err(Error::cannot("open the draft", document, problem).with_remedy(remedy));
    }
    if fs::symlink_metadata(&place).is_ok() {
        let problem = format!("the draft of it would be {}, and there is one already", draft.display());
        let remedy = "open that, or move it away to begin again from the document";
        return Err(Error::cannot("open the document", document, problem).with_remedy(remedy));
    }
    Ok((draft, place))
}

/// Whether unsaved words of a desk that is gone wait for a draft. The draft need not be open.
pub fn has_recovered_words(path: &Path) -> bool {
    let Ok(target) = system::real_path(path) else { return false };
    let left = Recovery::left_of(&target);
    // As when a draft is opened, words that are in the file already need no question.
    !left.is_empty()
        && read_up_to(&target, DRAFT, LARGEST_DRAFT).is_ok_and(|bytes| {
            let (_, text) = FileForm::of(&String::from_utf8_lossy(&bytes));
            let is_other = |file: Vec<u8>| Fingerprint::split_heading(&String::from_utf8_lossy(&file)).1 != text;
            left.iter().any(|place| fs::read(place).is_ok_and(is_other))
        })
}

/// The notice for a draft that cannot be written, or whose folder cannot.
fn closed(target: &Path) -> Option<Notice> {
    if can_write(target).is_err_and(|error| forbids(&error)) {
        return Some(Notice::ReadOnlyFolder);
    }
    check_writable(target).is_err().then_some(Notice::ReadOnlyFile)
}

impl OpenDraft {
    /// The file as the author named it.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The text that the file had when it was last read or written here.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether the draft's file is on the disk. A draft that was read from a document is not before it is saved.
    pub fn is_on_disk(&self) -> bool {
        self.is_on_disk
    }

    /// Whether this draft is made of a document and not on the disk yet.
    pub fn is_unsaved_from(&self, document: &Path) -> bool {
        !self.is_on_disk && self.path == document.with_extension(DRAFT_ENDING)
    }

    /// What the author should know at once.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// Writes the text, unless another program has changed the file since it was last read or written here.
    ///
    /// If it fails, the file is unchanged.
    pub fn save(&mut self, text: &str) -> Result<Saved, Error> {
        match self.write(text, Standing::AsSeen)? {
            Some(outside) => Ok(Saved::ChangedOutside(outside)),
            None => Ok(Saved::Written),
        }
    }

    /// Writes the text over whatever another program has written; to be called only when the author has said so.
    pub fn save_over(&mut self, text: &str) -> Result<(), Error> {
        self.write(text, Standing::Any).map(|_| ())
    }

    fn write(&mut self, text: &str, standing: Standing) -> Result<Option<Outside>, Error> {
        let fail = |error: io::Error| Error::io("save the draft", &self.path, &error);
        let file = self.form.file(text);
        check_writable(&self.target).map_err(fail)?;
        let _held = hold(&self.target).map_err(fail)?;
        let staged = staged(&self.target, file.as_bytes()).map_err(fail)?;
        let there = fs::metadata(&self.target).ok();
        match &there {
            Some(metadata) => dress(&staged, metadata),
            None => staged.as_file().set_permissions(self.permissions.clone()),
        }
        .map_err(fail)?;
        // The check comes as late as possible: what another program writes between it and the move is lost.
        if standing == Standing::AsSeen
            && let Some(outside) = self.outside_but(Some(file.as_bytes()))?
        {
            return Ok(Some(outside));
        }
        // Written first, because a kill after the move would leave a recovery file with older words than the draft's
        // own file. If the recovery file cannot be written, the save still goes on: it is worth more.
        drop(self.autosave(text));
        let metadata = moved(staged, &self.target).map_err(fail)?;
        self.seen = Fingerprint::of(file.as_bytes(), &metadata);
        self.permissions = metadata.permissions();
        self.is_on_disk = true;
        text.clone_into(&mut self.text);
        self.forget();
        Ok(None)
    }

    /// Writes the text to a new file in the draft's form; an existing file is never touched. The copy gets the draft's
    /// permissions, and the right to write for its owner in any case.
    pub fn save_copy(&self, path: &Path, text: &str) -> Result<(), Error> {
        write_new(path, &self.form.file(text))?;
        // The copy is complete by now; if its permissions cannot be set, it keeps the usual ones.
        drop(fs::set_permissions(path, system::with_right_to_write(self.permissions.clone())));
        Ok(())
    }

    /// Renames the file; the new name must be free, or the draft's own in other letters of capital and small. Unsaved
    /// words have to be written to the recovery file again afterwards.
    pub fn rename(&mut self, path: &Path) -> Result<(), Error> {
        if !typed::is_itself(path, &self.path) {
            check_free_for(path, Some(&self.path))?;
        }
        if !self.is_on_disk {
            self.save_over(&self.text.clone())?;
        }
        let is_itself = typed::is_itself(path, &self.path);
        fs::rename(&self.path, path).map_err(|error| Error::io("rename the draft", &self.path, &error))?;
        if is_itself {
            if !typed::is_listed(path) {
                let problem = "the disk does not change capital and small letters of a name";
                let remedy = "give it another name first, and then this";
                return Err(Error::cannot("rename the draft", &self.path, problem).with_remedy(remedy));
            }
            // Both names have one recovery file and one sign, which the renamed draft is to have.
            self.forget();
            self.recovery.lock().leave();
        }
        let renamed = open(path)?;
        self.forget();
        *self = renamed;
        Ok(())
    }

    /// What another program has done to the file since it was last read or written here. The content is read only if
    /// length or time have changed.
    pub fn outside(&self) -> Result<Option<Outside>, Error> {
        match fs::metadata(&self.target) {
            Ok(metadata) if self.seen.looks_like(&metadata) => Ok(None),
            _ => self.outside_but(None),
        }
    }

    /// What another program has done to the file, by its content. A file that already has the bytes `wanted` counts as
    /// unchanged.
    fn outside_but(&self, wanted: Option<&[u8]>) -> Result<Option<Outside>, Error> {
        match fs::exists(&self.target) {
            Ok(false) if !self.is_on_disk => return Ok(None),
            Ok(false) => return Ok(Some(Outside::Removed)),
            Ok(true) => {}
            Err(error) => return Err(Error::io("look at the draft", &self.path, &error)),
        }
        let bytes = read_up_to(&self.target, DRAFT, LARGEST_DRAFT)?;
        if self.seen.is_of(&bytes) || wanted == Some(&bytes[..]) {
            return Ok(None);
        }
        Ok(Some(Outside::Changed(FileForm::of(&String::from_utf8_lossy(&bytes)).1)))
    }

    /// Reads the file again, and takes its present text as the opened one.
    pub fn reload(&mut self) -> Result<&str, Error> {
        if !self.is_on_disk && !self.target.exists() {
            return Ok(&self.text);
        }
        let bytes = read_up_to(&self.target, DRAFT, LARGEST_DRAFT)?;
        let metadata = fs::metadata(&self.target).map_err(|error| Error::io("read the draft", &self.path, &error))?;
        let seen = Fingerprint::of(&bytes, &metadata);
        (self.form, self.text) = FileForm::of(&text_of(&self.path, DRAFT, bytes)?);
        (self.seen, self.permissions, self.is_on_disk) = (seen, metadata.permissions(), true);
        Ok(&self.text)
    }

    /// Writes unsaved words to the recovery file at once, with a notice if that file is in another folder from now on.
    /// Words equal to those in the draft's file need no recovery file, so an existing one is removed.
    ///
    /// If it fails, the recovery file is unchanged.
    pub fn autosave(&self, text: &str) -> Result<Option<Notice>, Error> {
        self.queue_autosave(text).write()
    }

    /// Queues unsaved words for a thread that may wait for the disk; the call itself does not wait.
    pub fn queue_autosave(&self, text: &str) -> RecoveryWrite {
        let file = (text != self.text).then(|| format!("{}{text}", self.seen.heading()));
        self.recovery.queue(file, self.permissions.clone())
    }

    /// Unsaved words of a desk that is gone, the newest first. Recovery files with words that the draft's file has by
    /// now are removed without a question.
    pub fn recovered(&self) -> Option<Recovered> {
        let (old, found): (Vec<_>, Vec<_>) = self.left().into_iter().partition(|found| found.text == self.text);
        old.iter().for_each(|old| self.discard(old));
        found.into_iter().max_by_key(|recovered| recovered.written)
    }

    fn left(&self) -> Vec<Recovered> {
        let left = self.recovery.lock().left();
        left.into_iter().filter_map(|place| self.read_recovery(place)).collect()
    }

    fn read_recovery(&self, place: PathBuf) -> Option<Recovered> {
        let mut bytes = Vec::new();
        plain::open(&place).and_then(|mut file| file.read_to_end(&mut bytes)).ok()?;
        let written = fs::metadata(&place).and_then(|metadata| metadata.modified()).ok();
        let file = String::from_utf8_lossy(&bytes).into_owned();
        let (began_from, text) = Fingerprint::split_heading(&file);
        Some(Recovered {
            file_has_changed: began_from != Some(self.seen.mark()),
            text: text.to_owned(),
            written,
            place,
        })
    }

    /// Adopts the words of a desk that is gone. They are written to this desk's own recovery file before the other is
    /// removed; every other recovery file with equal text is removed too, as a desk killed between these two steps
    /// leaves one.
    pub fn restore(&mut self, recovered: &Recovered) -> Result<(), Error> {
        self.autosave(&recovered.text)?;
        let left = self.left().into_iter().filter(|found| found.text == recovered.text);
        left.for_each(|found| self.discard(&found));
        Ok(())
    }

    /// Removes the recovery file of a desk that is gone; to be called only when the author has said so.
    pub fn discard(&self, recovered: &Recovered) {
        // A file that cannot be removed is offered again later.
        drop(fs::remove_file(&recovered.place));
    }

    fn forget(&self) {
        // This removes a file and writes none; a file that cannot be removed does no harm.
        drop(self.recovery.queue(None, self.permissions.clone()).write());
    }

    /// Closes the draft; the author has let unsaved words go.
    pub fn close(self) {
        self.forget();
    }
}
