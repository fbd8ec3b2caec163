//! Writes unsaved words to a recovery file, so that they can be recovered after a crash or a loss of power.
//!
//! A disk may be slow, so another thread can do the writing: `OpenDraft::queue_autosave` returns a [`RecoveryWrite`],
//! and that thread calls its `write`. Of several waiting writes only the latest is done, in whatever order they are
//! called. If the draft's own folder is full, the words go to the user's state folder.

use std::fs::{self, Permissions};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::Error;
use super::notice::Notice;
use super::shelf::{Holder, Shelf, ShelfPlace};
use super::stage::{folder_of, put, staged};

/// Where the unsaved words of one draft go.
#[derive(Debug)]
pub(super) struct Recovery {
    /// The draft as the author named it, for messages.
    path: PathBuf,
    target: PathBuf,
    shelves: Vec<Shelf>,
    /// The places claimed by this desk; words are written to the last.
    places: Vec<ShelfPlace>,
}

impl Recovery {
    /// Claims a place on the first usable shelf, and returns what the author should know about it.
    pub(super) fn claim_place(path: &Path, target: &Path) -> (Self, Vec<Notice>) {
        let shelves = [Some(Shelf::beside(target)), Shelf::away(target)].into_iter().flatten().collect();
        let mut recovery = Self { path: path.to_owned(), target: target.to_owned(), shelves, places: Vec::new() };
        let Some((number, shelf)) = recovery.shelves.iter().enumerate().find(|(_, shelf)| shelf.is_usable()) else {
            return (recovery, vec![Notice::NoRecovery]);
        };
        let (place, others) = shelf.claim_place();
        if others.is_empty() {
            shelf.sweep(target);
        }
        let about = match &place {
            None => Some(Notice::NoRecovery),
            Some(place) if number > 0 => Some(Notice::RecoveryElsewhere(folder_of(&place.recovery).to_owned())),
            Some(_) => None,
        };
        recovery.places.extend(place);
        let others = others.into_iter().map(|other: Holder| Notice::AlsoOpen(other));
        (recovery, about.into_iter().chain(others).collect())
    }

    /// Removes the signs of desks that are gone, which were killed while another desk had a place before theirs.
    pub(super) fn take_signs_away(target: &Path) {
        let shelves = [Some(Shelf::beside(target)), Shelf::away(target)];
        shelves.into_iter().flatten().for_each(|shelf| shelf.take_signs_away());
    }

    /// The recovery files of a draft that were left by desks that are gone.
    pub(super) fn left_of(target: &Path) -> Vec<PathBuf> {
        let shelves = [Some(Shelf::beside(target)), Shelf::away(target)].into_iter().flatten();
        shelves.flat_map(|shelf| shelf.left(&[])).collect()
    }

    /// The recovery files of this draft, on any shelf, that were left by desks that are gone.
    pub(super) fn left(&self) -> Vec<PathBuf> {
        self.shelves.iter().flat_map(|shelf| shelf.left(&self.places)).collect()
    }

    /// Writes to the last place. If that fails, writes to a new place in the state folder and returns a notice.
    fn put(&mut self, bytes: &[u8], permissions: &Permissions) -> Result<Option<Notice>, Error> {
        let Some(place) = self.places.last() else {
            let problem = "neither its folder nor your own folder for such files takes new ones";
            let error = Error::cannot("keep the unsaved words of", &self.path, problem);
            return Err(error.with_remedy("save a copy elsewhere"));
        };
        let Err(error) = put_aside(&place.recovery, bytes, permissions) else { return Ok(None) };
        let Some(refuge) = self.refuge() else {
            return Err(Error::io("keep the unsaved words in", &place.recovery, &error));
        };
        if put_aside(&refuge.recovery, bytes, permissions).is_err() {
            return Err(Error::io("keep the unsaved words in", &place.recovery, &error));
        }
        // The older words in the draft's folder are removed only now, when the newer ones are on the disk.
        self.forget();
        let folder = folder_of(&refuge.recovery).to_owned();
        self.places.push(refuge);
        Ok(Some(Notice::RecoveryMoved(folder)))
    }

    /// A new place in the state folder; none if this desk has one there already.
    fn refuge(&self) -> Option<ShelfPlace> {
        let shelf = Shelf::away(&self.target).filter(Shelf::is_usable)?;
        if self.places.iter().any(|place| shelf.holds(place)) {
            return None;
        }
        shelf.claim_place().0
    }

    /// Gives this desk's places up, so that another may claim them; what is in them stays.
    pub(super) fn leave(&mut self) {
        self.places.clear();
    }

    /// Removes the recovery files of this desk.
    fn forget(&self) {
        for place in &self.places {
            // Usually there is no such file. A file that cannot be removed either agrees with the draft or is offered
            // again.
            drop(fs::remove_file(&place.recovery));
        }
    }
}

/// Writes a file that nobody may read who may not read the draft.
fn put_aside(path: &Path, bytes: &[u8], permissions: &Permissions) -> io::Result<()> {
    let staged = staged(path, bytes)?;
    staged.as_file().set_permissions(permissions.clone())?;
    // The move is not synced to the disk, so that the next key need not wait: until then the earlier file is there.
    put(staged, path).map(|_| ())
}

/// The recovery of a draft, shared with the threads that write.
#[derive(Debug, Clone)]
pub(super) struct Shared {
    recovery: Arc<Mutex<Recovery>>,
    /// The number of the latest queued write; earlier writes do nothing.
    latest: Arc<AtomicU64>,
}

impl Shared {
    pub(super) fn new(recovery: Recovery) -> Self {
        Self { recovery: Arc::new(Mutex::new(recovery)), latest: Arc::default() }
    }

    /// Locks the recovery, waiting while another thread writes.
    pub(super) fn lock(&self) -> MutexGuard<'_, Recovery> {
        self.recovery.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Queues the writing of a recovery file, or its removal where `file` is none; supersedes every earlier write.
    pub(super) fn queue(&self, file: Option<String>, permissions: Permissions) -> RecoveryWrite {
        let number = self.latest.fetch_add(1, Ordering::SeqCst) + 1;
        RecoveryWrite { shared: self.clone(), number, file, permissions }
    }
}

/// A queued write of a recovery file, for a thread that may wait for the disk.
#[derive(Debug)]
pub struct RecoveryWrite {
    shared: Shared,
    number: u64,
    file: Option<String>,
    permissions: Permissions,
}

impl RecoveryWrite {
    /// Writes the words, unless a later write is queued. Returns a notice if the words are in another folder from now
    /// on.
    ///
    /// # Errors
    ///
    /// The file could not be written; the earlier recovery file is still there.
    pub fn write(self) -> Result<Option<Notice>, Error> {
        let mut recovery = self.shared.lock();
        if self.number < self.shared.latest.load(Ordering::SeqCst) {
            return Ok(None);
        }
        match &self.file {
            Some(file) => recovery.put(file.as_bytes(), &self.permissions),
            None => {
                recovery.forget();
                Ok(None)
            }
        }
    }
}
