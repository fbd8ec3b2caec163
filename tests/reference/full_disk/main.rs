//! A desk on a disk that is full: the draft stays whole, the author is told, and all is kept in the folder for state,
//! or where there is none as soon as there is room.
//!
//! Takes the folder of a small disk, which it fills and empties, and works with the folder for state that the
//! environment names; see the script beside it.

#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a check by hand tells what it saw, and stops where it cannot go on"
)]

use std::error::Error;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::Path;

use blurbwright::files::desk::{Notice, Saved, open};

const BEFORE: &str = "The lamp at the point.\n";

/// Works on the small disk that is named.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let folder = Path::new(arguments.first().ok_or("name the folder of a small disk")?);
    match std::env::var_os("XDG_STATE_HOME") {
        Some(state) => with_folder_for_state(folder, &Path::new(&state).join("blurbwright")),
        None => with_nothing_else(folder),
    }
}

/// All is kept in the folder for state from the first word that found no room beside the draft.
fn with_folder_for_state(folder: &Path, state: &Path) -> Result<(), Box<dyn Error>> {
    let (path, ballast) = (folder.join("lamp.md"), folder.join("ballast"));
    fs::write(&path, BEFORE)?;
    let mut draft = open(&path)?;
    assert_eq!(draft.autosave("An early word.\n")?, None);
    fill(&ballast)?;
    let typed = format!("{BEFORE}{}", "Every night she climbs the stairs.\n".repeat(300));
    let told = draft.autosave(&typed)?.ok_or("the first time is told")?;
    println!("told: {told}");
    assert_eq!(told, Notice::RecoveryMoved(state.to_owned()));
    let longer = format!("{typed}And down again.\n");
    assert_eq!(draft.autosave(&longer)?, None, "told once");
    assert_eq!(names(folder)?, [".lamp.md.desk", "ballast", "lamp.md"], "the early word has gone");
    let second = open(&path)?;
    assert_eq!(second.recovered(), None, "the words of a desk that is open are offered to nobody");
    drop(second);
    let told = draft.save(&longer).expect_err("a full disk saves nothing").to_string();
    println!("told: {told}");
    assert_eq!(fs::read_to_string(&path)?, BEFORE, "the file is as it was");
    drop(draft);

    let mut draft = open(&path)?;
    let recovered = draft.recovered().ok_or("what was kept elsewhere is offered")?;
    assert_eq!(recovered.text, longer);
    draft.restore(&recovered)?;
    assert_eq!(draft.recovered(), None);
    fs::remove_file(&ballast)?;
    assert_eq!(draft.save(&longer)?, Saved::Written);
    draft.close();
    assert_eq!(fs::read_to_string(&path)?, longer);
    assert_eq!(names(folder)?, ["lamp.md"], "nothing is left over");
    assert!(names(state)?.is_empty(), "here neither");
    println!("a full disk and a folder for state: nothing lost");
    Ok(())
}

/// Without a folder for state nothing more can be kept, which is told, and what was kept before stays.
fn with_nothing_else(folder: &Path) -> Result<(), Box<dyn Error>> {
    let (path, ballast) = (folder.join("lamp.md"), folder.join("ballast"));
    fs::write(&path, BEFORE)?;
    let mut draft = open(&path)?;
    let typed = format!("{BEFORE}{}", "Every night she climbs the stairs.\n".repeat(300));
    draft.autosave("An early word.\n")?;

    fill(&ballast)?;
    let told = draft.autosave(&typed).expect_err("a full disk keeps nothing").to_string();
    println!("told: {told}");
    assert!(told.contains("the disk is full; make room on it and try again"), "{told}");
    let told = draft.save(&typed).expect_err("a full disk saves nothing").to_string();
    println!("told: {told}");
    assert!(told.contains("the disk is full; make room on it and try again"), "{told}");
    assert_eq!(fs::read_to_string(&path)?, BEFORE, "the file is as it was");
    let second = open(&path)?;
    println!("another desk opens on the full disk: {:?}", second.notices());
    drop(second);
    drop(draft);

    let mut draft = open(&path)?;
    let recovered = draft.recovered().ok_or("what was kept before the disk was full is offered")?;
    assert_eq!(recovered.text, "An early word.\n");
    draft.autosave(&typed).expect_err("still full");
    assert_eq!(draft.recovered().as_ref(), Some(&recovered), "and is still there after another try");

    fs::remove_file(&ballast)?;
    draft.autosave(&typed)?;
    assert_eq!(draft.save(&typed)?, Saved::Written);
    assert_eq!(fs::read_to_string(&path)?, typed);
    draft.discard(&recovered);
    draft.close();
    assert_eq!(names(folder)?, ["lamp.md"], "nothing is left over");
    println!("a full disk: nothing lost");
    Ok(())
}

fn names(folder: &Path) -> Result<Vec<OsString>, Box<dyn Error>> {
    let mut names: Vec<_> = fs::read_dir(folder)?.flatten().map(|entry| entry.file_name()).collect();
    names.sort();
    Ok(names)
}

/// Writes until not a byte more goes.
fn fill(path: &Path) -> Result<(), Box<dyn Error>> {
    let mut file = File::create(path)?;
    loop {
        match file.write_all(&[b'x'; 512]) {
            Ok(()) => {}
            Err(error) if error.kind() == ErrorKind::StorageFull => break,
            Err(error) => return Err(error.into()),
        }
    }
    file.sync_all()?;
    Ok(())
}
