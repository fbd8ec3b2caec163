//! A document at the desk: only read, with a draft of it beside it from the first save on.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::fs;
use std::path::PathBuf;

use blurbwright::files::desk::{Notice, Outside, Saved, open};
use tempfile::TempDir;

use super::files::{STYLES, docx, paragraph, run};

/// A folder with a document in it.
fn folder() -> (TempDir, PathBuf, Vec<u8>) {
    let folder = TempDir::new().expect("a folder");
    let bytes = docx(&paragraph("Titel", &run("", "The Lamp")), STYLES, "");
    let path = folder.path().join("story.docx");
    fs::write(&path, &bytes).expect("written");
    (folder, path, bytes)
}

#[test]
fn a_document_is_saved_as_a_draft_beside_it() {
    let (folder, path, bytes) = folder();
    let beside = folder.path().join("story.md");
    let mut draft = open(&path).expect("it opens");
    assert_eq!((draft.path(), draft.text(), draft.is_on_disk()), (beside.as_path(), "# The Lamp\n", false));
    assert!(matches!(draft.notices(), [Notice::FromDocument { .. }]), "{:?}", draft.notices());
    assert!(draft.is_unsaved_from(&path) && draft.outside().expect("looked at").is_none());
    assert!(!beside.exists(), "nothing is written before it is saved");
    assert_eq!(draft.save("# The Lamps\n").expect("saved"), Saved::Written);
    assert_eq!(fs::read_to_string(&beside).expect("there"), "# The Lamps\n");
    assert!(draft.is_on_disk() && !draft.is_unsaved_from(&path));
    draft.close();
    assert_eq!(fs::read(&path).expect("there"), bytes, "the document is as it was");
    assert_eq!(fs::read_dir(folder.path()).expect("listed").count(), 2, "nothing of the desk stays");
}

#[test]
fn a_draft_that_is_there_is_never_written_over_unasked() {
    let (folder, path, _) = folder();
    let beside = folder.path().join("story.md");
    let mut draft = open(&path).expect("it opens");
    // Another program makes a draft of this name while the desk is open.
    fs::write(&beside, "Mine.\n").expect("written");
    let theirs = Outside::Changed("Mine.\n".to_owned());
    assert_eq!(draft.outside().expect("looked at"), Some(theirs.clone()));
    assert_eq!(draft.save("# The Lamps\n").expect("asked"), Saved::ChangedOutside(theirs));
    assert_eq!(fs::read_to_string(&beside).expect("there"), "Mine.\n");
    draft.close();
    let refused = open(&path).expect_err("there is a draft").to_string();
    assert!(refused.contains("there is one already; open that, or move it away"), "{refused}");
}

#[test]
fn unsaved_words_of_a_document_come_back() {
    let (folder, path, _) = folder();
    let draft = open(&path).expect("it opens");
    draft.autosave("# The Lamps\n").expect("kept");
    drop(draft);
    assert!(!folder.path().join("story.md").exists());
    let mut draft = open(&path).expect("it opens again");
    let recovered = draft.recovered().expect("words wait");
    assert_eq!(recovered.text, "# The Lamps\n");
    draft.restore(&recovered).expect("taken");
    draft.rename(&folder.path().join("other.md")).expect("renamed");
    assert_eq!(fs::read_to_string(folder.path().join("other.md")).expect("there"), "# The Lamp\n");
}
