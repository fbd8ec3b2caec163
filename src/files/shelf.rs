//! The files that a desk keeps beside a draft: the recovery file with its unsaved words (`.NAME.recovery`), and the
//! sign that the draft is open (`.NAME.desk`). Both are removed when the desk is left.
//!
//! Two desks on one draft have a place each (`.NAME.2.recovery`), so that neither overwrites the other's words. A desk
//! claims its sign from the system; the claim ends with the process, however that ends, and so shows whether
//! the desk is still there. Where no file can be made in the draft's folder, the place is in the user's state folder.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use jiff::Zoned;

use super::plain;
use super::stage::{PROGRAM, can_write, folder_of, hash, sweep};
use crate::system;

/// The most places on a shelf: more than the desks open on one draft and the words of killed desks will ever need.
const PLACES: u32 = 20;

/// A folder that holds the desk's files for one draft.
#[derive(Debug)]
pub(super) struct Shelf {
    folder: PathBuf,
    /// The beginning of the names of those files.
    stem: OsString,
}

impl Shelf {
    /// The shelf in the draft's own folder.
    pub(super) fn beside(draft: &Path) -> Self {
        let mut stem = OsString::from(".");
        stem.push(draft.file_name().unwrap_or_default());
        Self { folder: folder_of(draft).to_owned(), stem }
    }

    /// The shelf in the user's state folder, if there is one. Its file names are made of the draft's name and a hash of
    /// its whole path, since drafts in two folders may share a name.
    pub(super) fn away(draft: &Path) -> Option<Self> {
        let state = system::state_folder()?;
        let path = hash(draft.as_os_str().as_encoded_bytes());
        let name = draft.file_stem().unwrap_or_default().to_string_lossy().chars().take(40).collect::<String>();
        Some(Self { folder: state.join(PROGRAM), stem: format!("{name}-{path:016x}").into() })
    }

    /// Whether a file can be made here. The state folder is created if it is missing, accessible to the user alone.
    pub(super) fn is_usable(&self) -> bool {
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        system::keep_private(&mut builder);
        builder.create(&self.folder).and_then(|()| can_write(&self.recovery(1))).is_ok()
    }

    fn file(&self, place: u32, ending: &str) -> PathBuf {
        let mut name = self.stem.clone();
        if place > 1 {
            name.push(format!(".{place}"));
        }
        name.push(format!(".{ending}"));
        self.folder.join(name)
    }

    fn sign(&self, place: u32) -> PathBuf {
        self.file(place, "desk")
    }

    fn recovery(&self, place: u32) -> PathBuf {
        self.file(place, "recovery")
    }

    /// Claims the first place that no other desk holds and where no words wait. Also returns which desks have the draft
    /// open.
    pub(super) fn claim_place(&self) -> (Option<ShelfPlace>, Vec<Holder>) {
        let (mut mine, mut others) = (None, Vec::new());
        for place in 1..=PLACES {
            let (sign, recovery) = (self.sign(place), self.recovery(place));
            // With a place of our own found, only places with a sign matter: they tell which desks have the draft open.
            if mine.is_some() && !sign.exists() {
                continue;
            }
            match Sign::claim(&sign) {
                Ok(Claim::Held(holder)) => others.push(holder),
                Ok(Claim::Ours(sign)) if mine.is_none() && !recovery.exists() => {
                    mine = Some(ShelfPlace { recovery, _sign: Some(sign) });
                }
                // Either the sign of a desk that is gone, or one more than is needed. Dropping it removes its file.
                Ok(Claim::Ours(_)) => {}
                // The file system has no locks or is full: a recovery file may still be written, but no other desk can
                // be warned.
                Err(_) if mine.is_none() && !recovery.exists() => mine = Some(ShelfPlace { recovery, _sign: None }),
                Err(_) => {}
            }
        }
        (mine, others)
    }

    /// Removes half-written files of killed desks, for this shelf and for the draft. To be called only while no other
    /// desk has the draft open.
    pub(super) fn sweep(&self, draft: &Path) {
        let mut files: Vec<PathBuf> = (1..=PLACES).map(|place| self.recovery(place)).collect();
        files.push(draft.to_owned());
        sweep(&self.folder, &files);
    }

    /// Removes the signs that no desk holds any more.
    pub(super) fn take_signs_away(&self) {
        let signs = (1..=PLACES).map(|place| self.sign(place)).filter(|sign| sign.exists());
        // A sign that can be claimed is of a desk that is gone; dropping the claim removes its file.
        signs.for_each(|sign| drop(Sign::claim(&sign)));
    }

    /// Whether a place is on this shelf.
    pub(super) fn holds(&self, place: &ShelfPlace) -> bool {
        place.recovery.parent() == Some(&self.folder)
    }

    /// The recovery files whose desk is gone, without those of `mine`.
    pub(super) fn left(&self, mine: &[ShelfPlace]) -> Vec<PathBuf> {
        let is_left = |place: &u32| {
            let (sign, recovery) = (self.sign(*place), self.recovery(*place));
            let is_mine = mine.iter().any(|mine| mine.recovery == recovery);
            recovery.exists() && !is_mine && !(sign.exists() && matches!(Sign::claim(&sign), Ok(Claim::Held(_))))
        };
        (1..=PLACES).filter(is_left).map(|place| self.recovery(place)).collect()
    }
}

/// One desk's place on a shelf, held as long as the value lives.
#[derive(Debug)]
pub(super) struct ShelfPlace {
    /// Where the unsaved words go.
    pub(super) recovery: PathBuf,
    /// Kept for its drop, which removes the sign's file.
    _sign: Option<Sign>,
}

/// Who has a draft open, as the other desk wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// The host and the time, such as `on gull, since 2026-11-25 16:02`; empty where the sign could not be read.
    pub who: String,
}

/// The sign that a draft is open: a claimed file, removed when the value is dropped.
#[derive(Debug)]
struct Sign {
    path: PathBuf,
    _claimed: File,
}

/// The result of claiming a sign.
enum Claim {
    Ours(Sign),
    Held(Holder),
}

impl Sign {
    /// Claims a sign's file and writes the holder into it, unless another desk holds it.
    fn claim(path: &Path) -> io::Result<Claim> {
        if let Ok(there) = fs::metadata(path) {
            plain::check(&there)?;
        }
        let Some(mut file) = system::claim(path)? else {
            let mut who = String::new();
            // A holder that cannot be read is reported without a name.
            drop(plain::open(path).and_then(|mut file| file.read_to_string(&mut who)));
            return Ok(Claim::Held(Holder { who: who.trim().to_owned() }));
        };
        // Only the claim counts. A full disk is reported when unsaved words are written.
        drop(file.set_len(0).and_then(|()| file.write_all(ourselves().as_bytes())));
        Ok(Claim::Ours(Self { path: path.to_owned(), _claimed: file }))
    }
}

impl Drop for Sign {
    fn drop(&mut self) {
        // A sign that cannot be removed is harmless, since nobody claims it.
        drop(fs::remove_file(&self.path));
    }
}

/// The line by which other desks recognise this one.
fn ourselves() -> String {
    let host = system::host().unwrap_or_else(|| "this computer".to_owned());
    let since = Zoned::now().strftime("%Y-%m-%d %H:%M");
    format!("on {host}, since {since}\n")
}
