//! Kept copies: dated, named files in a folder `kept` beside the draft, and bringing one back.
//!
//! A copy is `kept/first/2026-11-25-1410-for-the-designer.md`, and its measures are in the file with the ending
//! `.yaml`. The only file that is ever overwritten here is the draft, when a copy is brought back, and it is kept
//! itself first. A file appears either whole or not at all, so the program may be stopped at any moment.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use jiff::Zoned;

use super::form::FileForm;
use super::stage::{self, write_whole};
use super::{DRAFT_ENDING, Error, LARGEST_BRIEF, has_brief, make_folder, read_copy, read_up_to, typed};
use crate::report::kept::Record;

/// The folder of kept copies beside the drafts.
const FOLDER: &str = "kept";
const RECORD_ENDING: &str = "yaml";
/// The most letters of a copy's name that go into its file's name.
const LONGEST_NAME: usize = 60;

/// A kept copy of a draft.
#[derive(Debug, Clone)]
pub struct KeptCopy {
    /// The file of the copy.
    pub path: PathBuf,
    /// What was recorded about the copy; empty where nothing was.
    pub record: Record,
}

/// Whether a folder holds kept copies and no book of its own.
pub(super) fn is_kept_folder(folder: &Path) -> bool {
    folder.file_name().is_some_and(|name| name == FOLDER) && !has_brief(folder)
}

/// The folder of a draft's kept copies.
fn folder_of(draft: &Path) -> PathBuf {
    draft.parent().unwrap_or(Path::new("")).join(FOLDER).join(draft.file_stem().unwrap_or_default())
}

/// Keeps the text of a draft under the current time, with its name and measures in a file beside it.
pub fn keep(draft: &Path, text: &str, record: Record) -> Result<KeptCopy, Error> {
    let folder = folder_of(draft);
    make_folder(&folder)?;
    kept_in(&folder, text, record).inspect_err(|_| {
        // Folders made in vain are removed; a folder that holds something cannot be removed.
        for made in folder.ancestors().take(2) {
            drop(fs::remove_dir(made));
        }
    })
}

fn kept_in(folder: &Path, text: &str, record: Record) -> Result<KeptCopy, Error> {
    let now = Zoned::now();
    let record = Record { kept: now.strftime("%Y-%m-%d %H:%M:%S").to_string(), ..record };
    let existing: Vec<String> =
        copies_in(folder)?.iter().filter_map(|path| Some(path.file_name()?.to_str()?.to_owned())).collect();
    let times = times(&now).into_iter().filter(|time| !existing.iter().any(|name| name.starts_with(time)));
    let name = plain(&record.name);
    let named = |time: String| if name.is_empty() { time } else { format!("{time}-{name}") };
    let path = written_first(folder, times.map(named), text)?;
    // A copy is worth keeping even without its measures, so the measures are written second.
    let beside = path.with_extension(RECORD_ENDING);
    write_whole(&beside, record.written().as_bytes()).map_err(|error| Error::io("write", &beside, &error))?;
    Ok(KeptCopy { path, record })
}

/// Writes the text under the first free name.
fn written_first(folder: &Path, names: impl Iterator<Item = String>, text: &str) -> Result<PathBuf, Error> {
    for name in names {
        let path = folder.join(format!("{name}.{DRAFT_ENDING}"));
        match write_whole(&path, text.as_bytes()) {
            Ok(()) => return Ok(path),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(Error::io("write", &path, &error)),
        }
    }
    Err(Error::cannot("keep the draft in", folder, "there are too many of this moment").with_remedy("try again"))
}

/// Beginnings of file names that sort by time, in the order in which they are tried: the minute, the second, and the
/// second with a letter.
fn times(now: &Zoned) -> Vec<String> {
    let minute = now.strftime("%Y-%m-%d-%H%M").to_string();
    let second = now.strftime("%Y-%m-%d-%H%M%S").to_string();
    let lettered = ('b'..='z').map(|letter| format!("{second}{letter}"));
    [minute, second.clone()].into_iter().chain(lettered).collect()
}

/// A name reduced to letters, digits and hyphens.
fn plain(name: &str) -> String {
    let letters = name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_alphanumeric() { letter } else { ' ' })
        .collect::<String>();
    letters.split_whitespace().collect::<Vec<_>>().join("-").chars().take(LONGEST_NAME).collect()
}

/// Keeps the text of a brief that was let go, under the current time; returns its file.
pub fn keep_brief(brief: &Path, text: &str) -> Result<PathBuf, Error> {
    let folder = brief.parent().unwrap_or(Path::new("")).join(FOLDER);
    make_folder(&folder)?;
    for time in times(&Zoned::now()) {
        let path = folder.join(format!("brief-{time}.yaml"));
        match write_whole(&path, text.as_bytes()) {
            Ok(()) => return Ok(path),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(Error::io("write", &path, &error)),
        }
    }
    Err(Error::cannot("keep the brief in", &folder, "there are too many of this moment").with_remedy("try again"))
}

/// The kept copies of a draft, the oldest first.
pub fn copies_of(draft: &Path) -> Result<Vec<KeptCopy>, Error> {
    let paths = copies_in(&folder_of(draft))?;
    paths.into_iter().map(|path| Ok(KeptCopy { record: record_of(&path)?, path })).collect()
}

fn copies_in(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries.and_then(Iterator::collect::<io::Result<Vec<_>>>),
    };
    let entries = entries.map_err(|error| Error::io("list the folder", folder, &error))?;
    let is_copy = |path: &PathBuf| {
        let is_hidden = path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'));
        !is_hidden && path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(DRAFT_ENDING))
    };
    let mut paths: Vec<PathBuf> = entries.iter().map(fs::DirEntry::path).filter(is_copy).collect();
    paths.sort();
    Ok(paths)
}

/// Moves the kept copies of a draft that was renamed to where those of its new name are looked for. Other copies that
/// are there already are never mixed with these: both stay where they are, and the error says so.
pub fn move_along(from: &Path, to: &Path) -> Result<(), Error> {
    let (old, new) = (folder_of(from), folder_of(to));
    if old == new || fs::symlink_metadata(&old).is_err() {
        return Ok(());
    }
    let stays = |why: String| {
        let (name, old) = (to.file_name().unwrap_or_default().display(), old.display());
        Error::new(format!("the draft is {name} now, but its kept copies stay in {old}: {why}"))
    };
    if fs::symlink_metadata(&new).is_ok() && !typed::is_itself(&new, &old) {
        return Err(stays(format!("there is {} already", new.display())));
    }
    // Should a folder have appeared there by now, one with files in it is not replaced by this.
    fs::rename(&old, &new).map_err(|error| stays(error.to_string()))
}

fn record_of(copy: &Path) -> Result<Record, Error> {
    let beside = copy.with_extension(RECORD_ENDING);
    if !beside.is_file() {
        return Ok(Record::default());
    }
    let bytes = read_up_to(&beside, "the measures", LARGEST_BRIEF)?;
    Ok(Record::read(&String::from_utf8_lossy(&bytes)))
}

/// The text of a kept copy as the desk has it, with line endings as `\n`.
pub fn text_of_copy(copy: &Path) -> Result<String, Error> {
    Ok(FileForm::of(&read_copy(copy)?.text).1)
}

/// When a file was last written, as `2026-11-25 14:10`; empty where the file system does not say.
pub fn written_at(path: &Path) -> String {
    let modified = fs::metadata(path).and_then(|metadata| metadata.modified()).ok();
    let moment = modified.and_then(|modified| Zoned::try_from(modified).ok());
    moment.map_or(String::new(), |moment| moment.strftime("%Y-%m-%d %H:%M").to_string())
}

/// Replaces a draft by a text, if the draft is still what it was when it was kept.
pub fn replace(draft: &Path, present: Option<&str>, text: &str) -> Result<(), Error> {
    let fail = |error: io::Error| Error::io("write", draft, &error);
    let _held = stage::hold(draft).map_err(fail)?;
    let now = if draft.exists() { Some(read_copy(draft)?) } else { None };
    if now.as_ref().is_some_and(|now| now.document.is_some()) {
        return Err(Error::cannot("write", draft, "it is a document, and documents are only read")
            .with_remedy("bring the copy back as a draft that ends in .md"));
    }
    if now.as_ref().map(|now| now.text.as_str()) != present {
        let done = if now.is_none() { "taken away" } else { "changed" };
        let problem = format!("{} was {done} in the meantime", draft.display());
        return Err(Error::new(problem)
            .of_operation("bring the copy back")
            .with_remedy("it was left as it is, try again"));
    }
    stage::replace(draft, text.as_bytes()).map_err(fail)
}

#[cfg(test)]
mod tests {
    use super::{plain, times};
    use jiff::civil::date;
    use jiff::tz::TimeZone;

    #[test]
    fn names_stand_in_the_order_of_time() {
        let now = date(2026, 11, 25).at(14, 10, 9, 0).to_zoned(TimeZone::UTC).unwrap();
        let times = times(&now);
        assert_eq!(times[..3], ["2026-11-25-1410", "2026-11-25-141009", "2026-11-25-141009b"]);
        for ending in ["", "-2-a", "-for-the-designer", "-übermut"] {
            let next = |pair: &[String]| format!("{}{ending}.md", pair[0]) < format!("{}.md", pair[1]);
            assert!(times.windows(2).all(next), "{ending}");
        }
    }

    #[test]
    fn a_name_leads_to_no_other_folder() {
        assert_eq!(plain("../../etc/passwd"), "etc-passwd");
        assert_eq!(plain(" Übermut\u{0} & Co. "), "übermut-co");
        assert_eq!(plain("..."), "");
    }
}
