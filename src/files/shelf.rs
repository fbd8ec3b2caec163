//! Where a desk keeps what it needs beside a draft: the unsaved words (`.NAME.recovery`) and the sign that the draft is
//! open (`.NAME.desk`). Both are gone again when the desk is left.
//!
//! Two desks on one draft have a place each (`.NAME.2.recovery`), so that neither writes over the other's words.
//! Whether a desk is still there is known by the operating system's lock on its sign, which goes with the process
//! however that ends. Where the draft's folder takes no new files, the place is in the user's folder for state.
//!
//! Source for that folder: XDG Base Directory Specification.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use jiff::Zoned;

use super::plain;
use super::stage::{can_write, folder_of, hash, sweep};

/// More desks than anyone has open on one draft, with the words of as many killed ones waiting.
const PLACES: u32 = 20;

const PROGRAM: &str = "blurbwright";

/// A folder for what belongs to one draft.
#[derive(Debug)]
pub(super) struct Shelf {
    folder: PathBuf,
    /// What the names in it begin with.
    stem: OsString,
}

impl Shelf {
    /// Beside the draft.
    pub(super) fn beside(draft: &Path) -> Self {
        let mut stem = OsString::from(".");
        stem.push(draft.file_name().unwrap_or_default());
        Self { folder: folder_of(draft).to_owned(), stem }
    }

    /// In the user's folder for state, if there is one; by the name and the whole path, since drafts in two folders may
    /// have one name.
    pub(super) fn away(draft: &Path) -> Option<Self> {
        let named = |variable: &str| std::env::var_os(variable).map(PathBuf::from).filter(|path| path.is_absolute());
        let state = named("XDG_STATE_HOME").or_else(|| Some(named("HOME")?.join(".local/state")))?;
        let path = hash(draft.as_os_str().as_encoded_bytes());
        let name = draft.file_stem().unwrap_or_default().to_string_lossy().chars().take(40).collect::<String>();
        Some(Self { folder: state.join(PROGRAM), stem: format!("{name}-{path:016x}").into() })
    }

    /// Whether a recovery file can be written here. The folder for state is made where it is not there yet, for the user alone.
    pub(super) fn is_usable(&self) -> bool {
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
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

    /// Claims the first place that no other desk has and where no words wait, and tells which desks have the draft
    /// open.
    pub(super) fn claim(&self) -> (Option<ShelfPlace>, Vec<Holder>) {
        let (mut mine, mut others) = (None, Vec::new());
        for place in 1..=PLACES {
            let (sign, recovery) = (self.sign(place), self.recovery(place));
            if mine.is_some() && !sign.exists() {
                continue;
            }
            match Sign::put(&sign) {
                Ok(Put::Held(holder)) => others.push(holder),
                Ok(Put::Ours(sign)) if mine.is_none() && !recovery.exists() => {
                    mine = Some(ShelfPlace { recovery, _sign: Some(sign) });
                }
                // Left by a desk that is gone; it goes with the value.
                Ok(Put::Ours(_)) => {}
                // A file system without locks, or a full one: words may still be recovered, and nobody can be warned.
                Err(_) if mine.is_none() && !recovery.exists() => mine = Some(ShelfPlace { recovery, _sign: None }),
                Err(_) => {}
            }
        }
        (mine, others)
    }

    /// Takes away what killed desks left half written here, and of the draft. Only where no other desk has the draft
    /// open.
    pub(super) fn sweep(&self, draft: &Path) {
        let mut files: Vec<PathBuf> = (1..=PLACES).map(|place| self.recovery(place)).collect();
        files.push(draft.to_owned());
        sweep(&self.folder, &files);
    }

    /// Whether a place is on this shelf.
    pub(super) fn holds(&self, place: &ShelfPlace) -> bool {
        place.recovery.parent() == Some(&self.folder)
    }

    /// The files of unsaved words whose desk is gone.
    pub(super) fn left(&self, mine: &[ShelfPlace]) -> Vec<PathBuf> {
        let is_left = |place: &u32| {
            let (sign, recovery) = (self.sign(*place), self.recovery(*place));
            let is_mine = mine.iter().any(|mine| mine.recovery == recovery);
            recovery.exists() && !is_mine && !(sign.exists() && matches!(Sign::put(&sign), Ok(Put::Held(_))))
        };
        (1..=PLACES).filter(is_left).map(|place| self.recovery(place)).collect()
    }
}

/// A place of one desk on a shelf, for as long as the value lives.
#[derive(Debug)]
pub(super) struct ShelfPlace {
    /// Where the unsaved words go.
    pub(super) recovery: PathBuf,
    /// Kept for its end, which takes the file away.
    _sign: Option<Sign>,
}

/// Who has a draft open, as the desk there has written it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// Such as `on gull, since 2026-11-25 16:02`; empty where it could not be read.
    pub who: String,
}

/// The sign that a draft is open: a locked file, taken away when the value ends.
#[derive(Debug)]
struct Sign {
    path: PathBuf,
    _locked: File,
}

enum Put {
    Ours(Sign),
    Held(Holder),
}

impl Sign {
    fn put(path: &Path) -> io::Result<Put> {
        if let Ok(there) = fs::metadata(path) {
            plain::check(&there)?;
        }
        loop {
            let mut file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path)?;
            match file.try_lock() {
                // Another desk may have taken its sign away between the two steps: then ours is on no file.
                Ok(()) if !is_at(&file, path) => {}
                Ok(()) => {
                    let written = file.set_len(0).and_then(|()| file.write_all(ourselves().as_bytes()));
                    // The lock is what counts, and a full disk is told when words are to be written.
                    drop(written);
                    return Ok(Put::Ours(Self { path: path.to_owned(), _locked: file }));
                }
                Err(TryLockError::WouldBlock) => {
                    let mut who = String::new();
                    // What cannot be read is told without a name.
                    drop(file.read_to_string(&mut who));
                    return Ok(Put::Held(Holder { who: who.trim().to_owned() }));
                }
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
    }
}

impl Drop for Sign {
    fn drop(&mut self) {
        // A sign that stays is harmless: nobody holds its lock.
        drop(fs::remove_file(&self.path));
    }
}

/// Whether an open file is the one that its path names now.
fn is_at(file: &File, path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let (Ok(ours), Ok(there)) = (file.metadata(), fs::metadata(path)) else { return false };
        (ours.dev(), ours.ino()) == (there.dev(), there.ino())
    }
    #[cfg(not(unix))]
    {
        let _ = file;
        path.exists()
    }
}

fn ourselves() -> String {
    let host = fs::read_to_string("/proc/sys/kernel/hostname").ok().or_else(|| std::env::var("HOSTNAME").ok());
    let host = host.map_or("this computer".to_owned(), |host| host.trim().to_owned());
    let since = Zoned::now().strftime("%Y-%m-%d %H:%M");
    format!("on {host}, since {since}\n")
}
