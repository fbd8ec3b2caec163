//! Writes a file so that a half-written one is never seen: first beside its place, then moved there once all is on the
//! disk.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, Instant};

use tempfile::NamedTempFile;

use super::plain;
use crate::system;

const PREFIX: &str = ".writing-";

/// The program, as its own files and folders are named.
pub(super) const PROGRAM: &str = "blurbwright";

/// The most links that are followed one after another; Linux has this limit too.
const MOST_LINKS: usize = 40;

/// How long another program may hold a folder's lock: far longer than reading, changing and writing a small file takes.
const LOCKED: Duration = Duration::from_secs(10);

/// How long a move waits for a program that only reads the file in its place: on Windows that holds it too.
const READ: Duration = Duration::from_millis(500);
const LOOK_AGAIN: Duration = Duration::from_millis(5);

/// The folder of a file, as a path that can be opened; `.` where the path names none.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Writes a file beside `path` and syncs it, to be moved to `path` later.
pub(super) fn staged(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let mut staged = begun(path)?;
    let file = staged.as_file_mut();
    file.write_all(bytes)?;
    file.sync_all()?;
    Ok(staged)
}

/// A new file on the way to `path`, beside it, which is removed unless it is moved. The library that moves it hands its
/// path to the system as it is.
fn begun(path: &Path) -> io::Result<NamedTempFile> {
    let folder = system::of_any_length(folder_of(path));
    tempfile::Builder::new().prefix(&prefix(path)).make_in(folder, |path| File::create_new(path))
}

/// Writes a new file; fails if the file exists.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    staged(path, bytes)?.persist_noclobber(system::of_any_length(path))?;
    Ok(())
}

/// Moves a staged file into its place, and returns its metadata.
pub(super) fn moved(staged: NamedTempFile, path: &Path) -> io::Result<Metadata> {
    let file = put(staged, path)?;
    sync_folder(path);
    file.metadata()
}

/// Moves a staged file into its place. The move itself is not synced to the disk.
pub(super) fn put(staged: NamedTempFile, path: &Path) -> io::Result<File> {
    let (place, end, mut staged) = (system::of_any_length(path), Instant::now() + READ, staged);
    loop {
        let refused = match staged.persist(&place) {
            Ok(file) => return Ok(file),
            Err(refused) => refused,
        };
        let error = system::of_move(refused.error);
        if !system::is_held(&error) || Instant::now() >= end {
            return Err(error);
        }
        staged = refused.file;
        thread::sleep(LOOK_AGAIN);
    }
}

/// Gives a staged file the permissions of the file that it replaces, and its owner and group where that is allowed.
pub(super) fn dress(staged: &NamedTempFile, like: &Metadata) -> io::Result<()> {
    system::give_owner(staged.as_file(), like);
    staged.as_file().set_permissions(like.permissions())
}

/// The file to which a path leads through links, even if no file exists at the end yet.
fn target_of(path: &Path) -> io::Result<PathBuf> {
    let mut target = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&target) {
            // A relative link is meant from the folder that holds it; joining an absolute one replaces the folder.
            Ok(next) => target = folder_of(&target).join(next),
            Err(_) => return Ok(target),
        }
    }
    Err(io::Error::new(io::ErrorKind::Unsupported, "it is a link that leads back to itself"))
}

/// Writes a whole file, replacing the one that exists, if any. Links are followed, and permissions are kept.
///
/// # Errors
///
/// Also if what exists is not a plain file or is not writable.
pub(super) fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let target = target_of(path)?;
    check_writable(&target)?;
    let file = staged(&target, bytes)?;
    if let Ok(there) = fs::metadata(&target) {
        dress(&file, &there)?;
    }
    moved(file, &target).map(|_| ())
}

/// Whether a file is writable or does not exist yet. A file without any right to write is refused even to a user whom
/// the system would let write everything.
pub(super) fn check_writable(target: &Path) -> io::Result<()> {
    let there = match fs::metadata(target) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        there => there?,
    };
    plain::check(&there)?;
    if there.permissions().readonly() {
        return Err(io::ErrorKind::PermissionDenied.into());
    }
    OpenOptions::new().append(true).open(target).map(|_| ())
}

/// Locks the folder of a file, so that programs that read, change and write a file in it do so one after another. The
/// lock ends when the value is dropped, or with the process.
///
/// # Errors
///
/// Another program holds the lock longer than any change takes. Where the folder cannot be locked at all, as on some
/// file systems, there is no error and no lock.
pub(super) fn hold(path: &Path) -> io::Result<Option<File>> {
    let Ok(folder) = target_of(path).and_then(|target| system::real_path(folder_of(&target))) else { return Ok(None) };
    let mark = format!("{PROGRAM}-{:016x}.lock", hash(folder.as_os_str().as_encoded_bytes()));
    let end = Instant::now() + LOCKED;
    loop {
        match system::claim_folder(&folder, &mark) {
            Ok(Some(claimed)) => return Ok(Some(claimed)),
            Ok(None) if Instant::now() < end => thread::sleep(LOOK_AGAIN),
            Ok(None) => return Err(io::Error::new(io::ErrorKind::WouldBlock, "another program is changing it")),
            Err(_) => return Ok(None),
        }
    }
}

/// Whether a new file can be written in the place of `path`.
pub(super) fn can_write(path: &Path) -> io::Result<()> {
    begun(path).map(|_| ())
}

/// Removes half-written files that a killed program left on the way to `files` of one folder. Not to be called while
/// another program writes them.
pub(super) fn sweep(folder: &Path, files: &[PathBuf]) {
    let prefixes: Vec<String> = files.iter().map(|file| prefix(file)).collect();
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        if prefixes.iter().any(|prefix| name.to_string_lossy().starts_with(prefix)) {
            // A file that cannot be removed does no harm.
            drop(fs::remove_file(entry.path()));
        }
    }
}

/// The beginning of the names of files staged for one path; short, however long the path's own name is.
fn prefix(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default();
    format!("{PREFIX}{:016x}-", hash(name.as_encoded_bytes()))
}

/// Syncs the folder, so that the move itself is on the disk. Not every system can; the file is whole in either case.
fn sync_folder(path: &Path) {
    if let Ok(folder) = File::open(folder_of(path)) {
        drop(folder.sync_all());
    }
}

/// FNV-1a in 64 bits: equal on every machine and in every version, as a fingerprint on a disk must be.
///
/// Source: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm", IETF.
pub(super) fn hash(bytes: &[u8]) -> u64 {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    bytes.iter().fold(BASIS, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(PRIME))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_published_one() {
        // The test vectors of the reference code for FNV-1a, 64 bits.
        assert_eq!(hash(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(hash(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(hash(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
