//! A desk on a disk that is full: the draft stays whole, the author is told, and all is kept as soon as there is room.
//!
//! Takes the folder of a small disk, which it fills and empties; see the script beside it.

#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a check by hand tells what it saw, and stops where it cannot go on"
)]

use std::error::Error;
use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::Path;

use blurbwright::files::desk::{Saved, open};

const BEFORE: &str = "The lamp at the point.\n";

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).ok_or("name the folder of a small disk")?;
    let folder = Path::new(&folder);
    let (path, ballast) = (folder.join("lamp.md"), folder.join("ballast"));
    fs::write(&path, BEFORE)?;
    let mut draft = open(&path)?;
    let typed = format!("{BEFORE}{}", "Every night she climbs the stairs.\n".repeat(300));
    draft.keep("An early word.\n")?;

    fill(&ballast)?;
    let told = draft.keep(&typed).expect_err("a full disk keeps nothing").to_string();
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
    draft.keep(&typed).expect_err("still full");
    assert_eq!(draft.recovered().as_ref(), Some(&recovered), "and is still there after another try");

    fs::remove_file(&ballast)?;
    draft.keep(&typed)?;
    assert_eq!(draft.save(&typed)?, Saved::Written);
    assert_eq!(fs::read_to_string(&path)?, typed);
    draft.discard(&recovered);
    draft.close();
    let names: Vec<_> = fs::read_dir(folder)?.flatten().map(|entry| entry.file_name()).collect();
    assert_eq!(names, ["lamp.md"], "nothing is left over");
    println!("a full disk: nothing lost");
    Ok(())
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
