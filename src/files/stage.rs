//! Writing a file so that a half one is never seen: beside its place first, and moved there when all is on the disk.

use std::fs::{self, File, Metadata};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

const PREFIX: &str = ".writing-";

/// The folder of a file, as a path that can be opened.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Writes beside the place.
pub(super) fn staged(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let prefix = prefix(path);
    let mut builder = tempfile::Builder::new();
    builder.prefix(&prefix);
    // What a new file is given before the user's own mask takes from it.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder_of(path))?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Writes a new file; fails where there is one.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    staged(path, bytes)?.persist_noclobber(path)?;
    Ok(())
}

/// Moves what was staged into its place, and returns what the file is now.
pub(super) fn moved(staged: NamedTempFile, path: &Path) -> io::Result<Metadata> {
    let file = staged.persist(path)?;
    sync_folder(path);
    file.metadata()
}

/// Gives a staged file the permissions of the one whose place it takes, and its owner and group where that is allowed.
pub(super) fn dress(staged: &NamedTempFile, like: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        if fchown(staged.as_file(), Some(like.uid()), Some(like.gid())).is_err() {
            // Without the owner's right only the group can be kept, and not always that.
            drop(fchown(staged.as_file(), None, Some(like.gid())));
        }
    }
    staged.as_file().set_permissions(like.permissions())
}

/// Whether a new file can be written in the place of `path`.
pub(super) fn can_write(path: &Path) -> io::Result<()> {
    tempfile::Builder::new().prefix(&prefix(path)).tempfile_in(folder_of(path)).map(|_| ())
}

/// Takes away what a killed program left half written on its way to these files of one folder. Not to be done while another
/// is writing them.
pub(super) fn sweep(folder: &Path, files: &[PathBuf]) {
    let prefixes: Vec<String> = files.iter().map(|file| prefix(file)).collect();
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        if prefixes.iter().any(|prefix| name.to_string_lossy().starts_with(prefix)) {
            // What cannot be taken away does no harm.
            drop(fs::remove_file(entry.path()));
        }
    }
}

/// What the names of files on their way to one place begin with; short, however long the name of the place is.
fn prefix(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default();
    format!("{PREFIX}{:016x}-", hash(name.as_encoded_bytes()))
}

/// Sees that the move itself is on the disk. Not every system can, and the file is whole in either case.
fn sync_folder(path: &Path) {
    if let Ok(folder) = File::open(folder_of(path)) {
        drop(folder.sync_all());
    }
}

/// FNV-1a in 64 bits: the same on every machine and in every version, which is what a fingerprint on a disk must be.
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
