//! Paths as an author types them, and whether two paths lead to one file.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::{fs, io};

use super::shortened;
use super::stage::folder_of;
use crate::system;

/// The file that is meant by a typed path: a leading `~` is the author's home folder, quotation marks round the path
/// are removed, and a path that does not exist from the working folder is looked for beside another file.
pub fn meant(typed: &str, beside: &Path) -> PathBuf {
    let typed = typed.trim();
    let bare = ['"', '\''].into_iter().find_map(|mark| typed.strip_prefix(mark)?.strip_suffix(mark));
    let path = at_home(bare.unwrap_or(typed));
    let near = beside.parent().unwrap_or(Path::new("")).join(&path);
    as_named(&if !path.exists() && near.exists() { shortened(&near) } else { shortened(&path) })
}

/// A path with the name that its file has on the disk, where the system takes it in other letters of capital and small
/// too.
pub fn as_named(path: &Path) -> PathBuf {
    let real = system::real_path(path).ok().filter(|_| !path.is_symlink());
    let small = |name: &OsStr| name.to_string_lossy().to_lowercase();
    match real.as_deref().and_then(Path::file_name).zip(path.file_name()) {
        Some((real, typed)) if real != typed && small(real) == small(typed) => path.with_file_name(real),
        _ => path.to_path_buf(),
    }
}

/// Whether a new path leads to the file or the folder at another already: the two names differ in capital and small
/// letters alone, and the system takes one for the other.
pub(super) fn is_itself(new: &Path, old: &Path) -> bool {
    let small = |path: &Path| path.file_name().map(|name| name.to_string_lossy().to_lowercase());
    let is_alike = new != old && new.parent() == old.parent() && small(new) == small(old);
    is_alike && fs::symlink_metadata(new).is_ok() && !is_listed(new)
}

/// Whether the folder of a file has a name just so. One that cannot be listed counts as if it had.
pub(super) fn is_listed(path: &Path) -> bool {
    let is_it =
        |entry: io::Result<fs::DirEntry>| entry.map_or(true, |entry| Some(&*entry.file_name()) == path.file_name());
    fs::read_dir(folder_of(path)).map_or(true, |mut entries| entries.any(is_it))
}

fn at_home(path: &str) -> PathBuf {
    let home = || std::env::home_dir().filter(|home| !home.as_os_str().is_empty());
    match path.strip_prefix('~') {
        Some(rest) if rest.is_empty() || rest.starts_with(['/', std::path::MAIN_SEPARATOR]) => {
            let rest = rest.trim_start_matches(['/', std::path::MAIN_SEPARATOR]);
            home().map_or_else(|| PathBuf::from(path), |home| home.join(rest))
        }
        _ => PathBuf::from(path),
    }
}

/// Whether two paths lead to one existing file.
pub fn is_same(one: &Path, other: &Path) -> bool {
    matches!((system::real_path(one), system::real_path(other)), (Ok(one), Ok(other)) if one == other)
}

/// Whether a file lies outside the folder of `beside` and the folders below it.
pub fn is_outside(path: &Path, beside: &Path) -> bool {
    let folder = system::real_path(beside).ok().and_then(|brief| brief.parent().map(Path::to_path_buf));
    matches!((system::real_path(path), folder), (Ok(path), Some(folder)) if !path.starts_with(&folder))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_found_from_here_from_home_or_beside_the_draft() {
        let folder = tempfile::tempdir().expect("a folder");
        let draft = folder.path().join("first.md");
        fs::write(folder.path().join("other one.md"), "x").expect("written");
        assert_eq!(meant(" 'other one.md' ", &draft), folder.path().join("other one.md"));
        assert_eq!(meant("nowhere.md", &draft), PathBuf::from("nowhere.md"));
        assert_eq!(meant("Cargo.toml", &draft), PathBuf::from("Cargo.toml"));
        let home = std::env::home_dir().expect("a home");
        assert_eq!(at_home("~/a/b.md"), home.join("a/b.md"));
        assert_eq!(at_home("~old.md"), PathBuf::from("~old.md"));
    }

    #[test]
    fn a_name_in_other_letters_is_taken_as_the_system_takes_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let (draft, typed) = (folder.path().join("first.md"), folder.path().join("FIRST.md"));
        fs::write(&draft, "x").expect("written");
        let is_one = typed.exists();
        assert_eq!(as_named(&typed), if is_one { draft.clone() } else { typed });
        assert_eq!(as_named(&draft), draft);
        assert_eq!(is_itself(&folder.path().join("FIRST.md"), &draft), is_one);
        assert!(!is_itself(&draft, &draft));
    }

    #[test]
    fn two_names_of_one_file_are_one() {
        let folder = tempfile::tempdir().expect("a folder");
        let (book, draft) = (folder.path().join("book"), folder.path().join("first.md"));
        fs::create_dir(&book).expect("a folder");
        for path in [&draft, &book.join("brief.yaml"), &book.join("first.md")] {
            fs::write(path, "x").expect("written");
        }
        assert!(is_same(&draft, &book.join("../first.md")) && !is_same(&draft, &book.join("first.md")));
        let brief = book.join("brief.yaml");
        assert!(is_outside(&draft, &brief) && !is_outside(&book.join("first.md"), &brief));
    }
}
