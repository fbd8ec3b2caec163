//! Only plain files are read and overwritten: a pipe, a socket or a device may have no end, and could block the program
//! for ever.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io;
use std::path::Path;

use crate::system;

/// Opens a file for reading.
///
/// # Errors
///
/// `IsADirectory` for a folder, `Unsupported` for anything else that is not a plain file, or the system's own error.
pub(super) fn open(path: &Path) -> io::Result<File> {
    check(&fs::metadata(path)?)?;
    let mut options = OpenOptions::new();
    options.read(true);
    // If a pipe has replaced the file meanwhile, opening it does not wait for a writer.
    system::without_waiting(&mut options);
    let file = options.open(path)?;
    check(&file.metadata()?)?;
    Ok(file)
}

/// Fails for anything but a plain file, with the errors of [`open`].
pub(super) fn check(metadata: &Metadata) -> io::Result<()> {
    if metadata.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    if metadata.is_file() {
        return Ok(());
    }
    Err(io::Error::new(
        io::ErrorKind::Unsupported,
        format!("it is {} and no plain file", system::kind_of(metadata.file_type())),
    ))
}
