//! A draft in a folder that takes no new files: told at once, and its recovery file written to the user's folder
//! for state.
//!
//! The check is made in a process of its own, for which the folder for state is a temporary one; where the tests are
//! run by the superuser, who may write anywhere, that process is an ordinary user's.

use std::env;
use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::Command;

use blurbwright::files::desk::{Notice, open};

use super::{Book, names_in};

/// Names the draft, for the process that makes the check.
const DRAFT: &str = "NOTHING_LOST_CLOSED";
const NOBODY: u32 = 65_534;

#[test]
fn a_folder_that_takes_no_files_is_told_and_words_are_kept_elsewhere() {
    if let Some(draft) = env::var_os(DRAFT) {
        return check(Path::new(&draft), &PathBuf::from(env::var_os("XDG_STATE_HOME").expect("a folder for state")));
    }
    let (book, home) = (Book::new("The lamp."), tempfile::tempdir().expect("a folder"));
    let state = home.path().join("state");
    fs::create_dir(&state).expect("made");
    // Ordinary users may look, and write only in the folder for state.
    for (folder, mode) in [(book.folder.path(), 0o555), (home.path(), 0o755), (&state, 0o777)] {
        fs::set_permissions(folder, fs::Permissions::from_mode(mode)).expect("permissions set");
    }
    fs::set_permissions(book.draft(), fs::Permissions::from_mode(0o666)).expect("permissions set");
    // Where the tests were built may be closed to others.
    let program = home.path().join("check");
    fs::copy(env::current_exe().expect("this program"), &program).expect("copied");

    let mut command = Command::new(program);
    command.args([
        "--exact",
        "nothing_lost::closed_folder::a_folder_that_takes_no_files_is_told_and_words_are_kept_elsewhere",
    ]);
    command.env(DRAFT, book.draft()).env("XDG_STATE_HOME", &state).current_dir(home.path());
    if fs::metadata(home.path()).expect("there").uid() == 0 {
        command.uid(NOBODY).gid(NOBODY);
    }
    let output = command.output().expect("run");
    fs::set_permissions(book.folder.path(), fs::Permissions::from_mode(0o755)).expect("permissions set");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
    assert_eq!(names_in(&state), ["blurbwright"], "the check was made");
}

fn check(path: &Path, state: &Path) {
    let kept_in = state.join("blurbwright");
    let mut draft = open(path).expect("opened");
    assert_eq!(draft.notices(), [Notice::ReadOnlyFolder, Notice::RecoveryElsewhere(kept_in.clone())]);
    let said = draft.save("A lamp.").expect_err("refused").to_string();
    assert!(said.contains("you are not allowed to"), "{said}");
    draft.autosave("A lamp.").expect("kept");
    drop(draft);

    let mut draft = open(path).expect("opened");
    let recovered = draft.recovered().expect("offered");
    assert_eq!(recovered.text, "A lamp.");
    draft.restore(&recovered).expect("restored");
    draft.close();
    assert!(names_in(&kept_in).is_empty(), "nothing is left over");

    // Nor is the folder for state any help.
    fs::set_permissions(&kept_in, fs::Permissions::from_mode(0o555)).expect("permissions set");
    let draft = open(path).expect("opened");
    assert_eq!(draft.notices(), [Notice::ReadOnlyFolder, Notice::NoRecovery]);
    let said = draft.autosave("A lamp.").expect_err("told").to_string();
    assert!(said.ends_with("save a copy elsewhere"), "{said}");
}
