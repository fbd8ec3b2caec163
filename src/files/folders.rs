//! What is in a folder, and what a folder is called.

use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{Error, is_draft_name, stage};
use crate::system::{self, file_names};
use crate::units::names;

const OTHER_NAME: &str = "take another name, so that the book can move to any computer";

/// Whatever is in a folder but hidden entries, in the order of the names.
pub fn entries_of(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let entries = shown_in(folder).map_err(|error| Error::io("list the folder", folder, &error))?;
    Ok(entries.iter().map(fs::DirEntry::path).collect())
}

/// The entries of a folder but hidden ones, in the order of their names, with numbers by their value.
pub(super) fn shown_in(folder: &Path) -> io::Result<Vec<fs::DirEntry>> {
    // The names of a folder of thousands are compared many times each, so they are asked for once.
    let name_of = |entry: &fs::DirEntry| entry.file_name().to_string_lossy().into_owned();
    let named = fs::read_dir(folder)?.map(|entry| entry.map(|entry| (name_of(&entry), entry)));
    let mut named: Vec<(String, fs::DirEntry)> = named.collect::<io::Result<_>>()?;
    named.retain(|(name, _)| !name.starts_with('.'));
    let as_bytes = |one: &fs::DirEntry, other: &fs::DirEntry| one.file_name().cmp(&other.file_name());
    named.sort_by(|(name, one), (next, other)| names::in_order(name, next).then_with(|| as_bytes(one, other)));
    Ok(named.into_iter().map(|(_, entry)| entry).collect())
}

/// Refuses the name of a new file, or of a folder that would be made for it, that Windows forbids: the book's folder
/// may move there.
pub(super) fn check_name(path: &Path) -> Result<(), Error> {
    if is_draft_name(path) {
        check_shown(path)?;
    }
    let new = path.ancestors().take_while(|part| !part.is_file() && !part.is_dir());
    let faults = new.filter_map(|part| {
        let name = part.file_name()?.to_string_lossy();
        Some((file_names::fault_of(&name)?, name.into_owned()))
    });
    let refuse = |(fault, name)| Err(Error::cannot("write", path, format!("{name} {fault}")).with_remedy(OTHER_NAME));
    faults.last().map_or(Ok(()), refuse)
}

/// Refuses the name of a new draft that differs from that of a file beside it in capital and small letters alone, but
/// for `own`, which is to be renamed: where the two names are one, as on Windows and on Macs, one file would be lost.
pub(super) fn check_apart(path: &Path, own: Option<&Path>) -> Result<(), Error> {
    let Some(name) = path.file_name().map(OsStr::to_string_lossy).filter(|_| is_draft_name(path)) else {
        return Ok(());
    };
    // A folder that cannot be listed is told by whoever writes into it.
    let entries = fs::read_dir(stage::folder_of(path)).into_iter().flatten().flatten();
    let own = own.and_then(Path::file_name);
    let others = entries.map(|entry| entry.file_name()).filter(|other| Some(other.as_os_str()) != own);
    let mut others = others.map(|other| other.to_string_lossy().into_owned());
    match others.find(|other| *other != name && other.to_lowercase() == name.to_lowercase()) {
        Some(other) => {
            let problem = format!("there is {other}, and Windows and Macs take the two names for one");
            Err(Error::cannot("write", path, problem).with_remedy(OTHER_NAME))
        }
        None => Ok(()),
    }
}

/// Checks that a file may be created: nothing has its name yet, and every system allows it.
pub fn check_free(path: &Path) -> Result<(), Error> {
    check_free_for(path, None)
}

/// Checks that a path is free, for the file `own`, which is to be moved there.
pub(super) fn check_free_for(path: &Path, own: Option<&Path>) -> Result<(), Error> {
    check_name(path)?;
    check_apart(path, own)?;
    if fs::symlink_metadata(path).is_ok() { Err(already_there(path)) } else { Ok(()) }
}

pub(super) fn already_there(path: &Path) -> Error {
    Error::cannot("write", path, "there is one already, and it is never overwritten")
        .with_remedy("name another place, or move it away")
}

/// Refuses the name of a new draft or of a new book's folder that hides it.
pub fn check_shown(path: &Path) -> Result<(), Error> {
    if !path.exists() && path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b".")) {
        let problem = "its name begins with a dot, which hides it, so that no list would show it";
        return Err(Error::cannot("write", path, problem).with_remedy("take a name without the dot"));
    }
    Ok(())
}

/// Checks that a file has a name that every system allows, and a folder to be written into, before what is written is
/// made.
pub fn check_folder_of(path: &Path) -> Result<(), Error> {
    check_name(path)?;
    let folder = stage::folder_of(path);
    if fs::symlink_metadata(folder).is_ok() {
        return Ok(());
    }
    let problem = format!("there is no folder {}", folder.display());
    Err(Error::cannot("write", path, problem).with_remedy("make the folder first, or name another place"))
}

/// What a folder is called: its own name, also where the path to it is only a dot.
pub fn name_of_folder(folder: &Path) -> String {
    let whole = system::real_path(folder).unwrap_or_else(|_| folder.to_path_buf());
    whole.file_name().map_or_else(|| whole.display().to_string(), |name| name.to_string_lossy().into_owned())
}
