//! Nothing is lost: drafts open at the desk through changes from outside, other desks, folders that take no files, and
//! kills.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test stops where it cannot go on, and tells what it counted"
)]

#[cfg(unix)]
mod closed_folder;
mod kills;

use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::files::desk::{Notice, OpenDraft, Outside, Saved, open};
use tempfile::TempDir;

/// A folder with one draft in it.
struct Book {
    folder: TempDir,
}

impl Book {
    fn new(file: &str) -> Self {
        let book = Self { folder: tempfile::tempdir().expect("a folder") };
        fs::write(book.draft(), file).expect("written");
        book
    }

    fn draft(&self) -> PathBuf {
        self.folder.path().join("lamp.md")
    }

    fn open(&self) -> OpenDraft {
        open(&self.draft()).expect("the draft opens")
    }

    fn file(&self) -> String {
        fs::read_to_string(self.draft()).expect("the draft is there")
    }

    /// Every name in the folder, hidden ones too.
    fn names(&self) -> Vec<String> {
        names_in(self.folder.path())
    }
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder can be read").flatten();
    let mut names: Vec<String> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn a_saved_draft_is_in_the_form_that_it_had() {
    for (before, text, after) in [
        ("one\ntwo", "one\ntwo", "one\ntwo, three"),
        ("one\r\ntwo\r\n", "one\ntwo\n", "one\r\ntwo\r\n, three"),
        ("\u{feff}one\r\n", "one\n", "\u{feff}one\r\n, three"),
        ("", "", ", three"),
    ] {
        let book = Book::new(before);
        let mut draft = book.open();
        assert_eq!(draft.text(), text);
        let longer = format!("{text}, three");
        assert_eq!(draft.save(&longer).expect("saved"), Saved::Written);
        assert_eq!(book.file(), after);
        assert_eq!(draft.text(), longer);
        draft.close();
        assert_eq!(book.names(), ["lamp.md"]);
    }
}

#[test]
fn what_was_not_saved_is_offered_at_the_next_start() {
    let book = Book::new("The lamp.\r\n");
    let draft = book.open();
    assert_eq!(draft.recovered(), None);
    draft.autosave("The old lamp.\n").expect("kept");
    drop(draft);
    assert_eq!(book.file(), "The lamp.\r\n");
    assert_eq!(book.names(), [".lamp.md.recovery", "lamp.md"]);

    let mut draft = book.open();
    let recovered = draft.recovered().expect("offered");
    assert_eq!((recovered.text.as_str(), recovered.file_has_changed), ("The old lamp.\n", false));
    // What is typed before the question is answered takes nothing from what is offered.
    draft.autosave("A lamp.\n").expect("kept");
    assert_eq!(draft.recovered().as_ref(), Some(&recovered));
    draft.restore(&recovered).expect("restored");
    assert_eq!(draft.recovered(), None);
    drop(draft);
    assert_eq!(book.open().recovered().expect("still kept").text, "The old lamp.\n");

    let draft = book.open();
    draft.discard(&draft.recovered().expect("offered"));
    assert_eq!(draft.recovered(), None);
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn words_that_were_left_twice_are_asked_about_once() {
    let book = Book::new("The lamp.");
    let draft = book.open();
    draft.autosave("A lamp.").expect("kept");
    drop(draft);
    // As a desk leaves them that was killed while it took them over.
    let file = |name: &str| book.folder.path().join(name);
    fs::copy(file(".lamp.md.recovery"), file(".lamp.md.2.recovery")).expect("copied");
    let mut draft = book.open();
    let recovered = draft.recovered().expect("offered");
    draft.restore(&recovered).expect("restored");
    assert_eq!(draft.recovered(), None);
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn words_that_come_late_to_the_disk_take_nothing_from_later_ones() {
    let book = Book::new("The lamp.");
    let mut draft = book.open();
    let (early, late) = (draft.queue_autosave("A lamp."), draft.queue_autosave("A lamp is out."));
    late.write().expect("kept");
    early.write().expect("void");
    drop(draft);
    draft = book.open();
    let recovered = draft.recovered().expect("offered");
    assert_eq!(recovered.text, "A lamp is out.");
    draft.discard(&recovered);
    // What was on its way when the author saved is in the file, or was taken back.
    let early = draft.queue_autosave("A lamp.");
    assert_eq!(draft.save("No lamp.").expect("saved"), Saved::Written);
    early.write().expect("void");
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn kept_words_go_when_they_are_saved_or_taken_back() {
    let book = Book::new("The lamp.");
    let mut draft = book.open();
    draft.autosave("The old lamp.").expect("kept");
    draft.autosave("The lamp.").expect("kept");
    assert_eq!(book.names(), [".lamp.md.desk", "lamp.md"]);
    draft.autosave("The old lamp.").expect("kept");
    assert_eq!(draft.save("The old lamp.").expect("saved"), Saved::Written);
    assert_eq!(book.names(), [".lamp.md.desk", "lamp.md"]);
    draft.autosave("Gone").expect("kept");
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn words_of_a_kill_between_two_steps_of_a_save_are_no_question() {
    let book = Book::new("The lamp.");
    let draft = book.open();
    draft.autosave("The old lamp.").expect("kept");
    drop(draft);
    fs::write(book.draft(), "The old lamp.").expect("written");
    let draft = book.open();
    assert_eq!(draft.recovered(), None);
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn a_draft_changed_by_another_program_is_not_overwritten_unasked() {
    let book = Book::new("The lamp.\n");
    let mut draft = book.open();
    assert_eq!(draft.outside().expect("looked"), None);
    fs::write(book.draft(), "Their lamp.\r\n").expect("written");
    let theirs = Outside::Changed("Their lamp.\n".to_owned());
    assert_eq!(draft.outside().expect("looked"), Some(theirs.clone()));
    assert_eq!(draft.save("My lamp.\n").expect("asked"), Saved::ChangedOutside(theirs));
    assert_eq!(book.file(), "Their lamp.\r\n");

    assert_eq!(draft.reload().expect("read"), "Their lamp.\n");
    assert_eq!(draft.save("Our lamp.\n").expect("saved"), Saved::Written);
    assert_eq!(book.file(), "Our lamp.\r\n");

    fs::write(book.draft(), "Theirs again").expect("written");
    draft.save_over("Mine").expect("saved");
    assert_eq!(book.file(), "Mine");
    assert_eq!(draft.outside().expect("looked"), None);
}

#[test]
fn a_change_of_the_same_length_at_the_same_time_is_seen_by_a_save() {
    let book = Book::new("The lamp.");
    let time = fs::metadata(book.draft()).and_then(|metadata| metadata.modified()).expect("a time");
    let mut draft = book.open();
    fs::write(book.draft(), "The damp.").expect("written");
    fs::File::options().append(true).open(book.draft()).and_then(|file| file.set_modified(time)).expect("set back");
    assert_eq!(draft.save("A lamp.").expect("asked"), Saved::ChangedOutside(Outside::Changed("The damp.".to_owned())));
}

#[test]
fn a_draft_that_was_removed_is_made_anew_only_when_asked() {
    let book = Book::new("The lamp.");
    let mut draft = book.open();
    fs::remove_file(book.draft()).expect("removed");
    assert_eq!(draft.outside().expect("looked"), Some(Outside::Removed));
    assert_eq!(draft.save("A lamp.").expect("asked"), Saved::ChangedOutside(Outside::Removed));
    assert!(!book.draft().exists());
    draft.save_over("A lamp.").expect("saved");
    assert_eq!(book.file(), "A lamp.");
}

#[test]
fn another_program_that_wrote_the_same_is_no_question() {
    let book = Book::new("The lamp.");
    let mut draft = book.open();
    fs::write(book.draft(), "A lamp.").expect("written");
    assert_eq!(draft.save("A lamp.").expect("saved"), Saved::Written);
}

#[test]
fn copies_and_new_names_are_never_over_another_file() {
    let book = Book::new("The lamp.\r\n");
    let (copy, taken) = (book.folder.path().join("copy.md"), book.folder.path().join("taken.md"));
    fs::write(&taken, "Theirs").expect("written");
    let mut draft = book.open();
    draft.save_copy(&copy, "A lamp.\n").expect("copied");
    assert_eq!(fs::read_to_string(&copy).expect("there"), "A lamp.\r\n");
    draft.save_copy(&taken, "A lamp.").expect_err("refused");
    draft.rename(&taken).expect_err("refused");
    assert_eq!(fs::read_to_string(&taken).expect("there"), "Theirs");

    draft.autosave("Unsaved").expect("kept");
    let named = book.folder.path().join("named.md");
    draft.rename(&named).expect("renamed");
    assert_eq!((draft.path(), draft.text()), (named.as_path(), "The lamp.\n"));
    draft.autosave("Unsaved").expect("kept");
    assert_eq!(book.names(), [".named.md.desk", ".named.md.recovery", "copy.md", "named.md", "taken.md"]);
}

/// Also where the system takes the two names for one, as on Windows and on Macs: there the desk's own files are the new
/// name's already.
#[test]
fn a_draft_takes_its_own_name_in_other_letters_and_no_other_drafts() {
    let book = Book::new("The lamp.");
    let path = |name: &str| book.folder.path().join(name);
    let mut draft = book.open();
    draft.autosave("Unsaved").expect("kept");
    draft.rename(&path("Lamp.md")).expect("renamed");
    assert_eq!((draft.path(), draft.notices()), (path("Lamp.md").as_path(), &[][..]));
    draft.autosave("Unsaved").expect("kept");
    assert_eq!(book.names(), [".Lamp.md.desk", ".Lamp.md.recovery", "Lamp.md"]);
    draft.rename(&path("Lamp.md")).expect_err("no other name");

    fs::write(path("SEC.md"), "Theirs").expect("written");
    for name in ["sec.md", "Sec.md"] {
        for told in [draft.rename(&path(name)), draft.save_copy(&path(name), "A lamp.")] {
            let told = told.expect_err("refused").to_string();
            assert!(told.contains("there is SEC.md, and Windows and Macs take the two names for one"), "{told}");
        }
    }
    assert_eq!(fs::read_to_string(path("SEC.md")).expect("there"), "Theirs");
    assert_eq!(book.names(), [".Lamp.md.desk", ".Lamp.md.recovery", "Lamp.md", "SEC.md"]);
}

#[test]
fn two_desks_on_one_draft_warn_each_other_and_keep_apart() {
    let book = Book::new("The lamp.");
    let first = book.open();
    assert_eq!(first.notices(), []);
    let second = book.open();
    let [Notice::AlsoOpen(holder)] = second.notices() else { panic!("{:?}", second.notices()) };
    assert!(holder.who.starts_with("on ") && holder.who.contains(", since 2"), "{holder:?}");

    first.autosave("The first lamp.").expect("kept");
    second.autosave("The second lamp.").expect("kept");
    assert_eq!(second.recovered(), None, "the other desk is still there");
    drop(first);
    assert_eq!(second.recovered().expect("offered").text, "The first lamp.");
    drop(second);

    let draft = book.open();
    assert_eq!(draft.notices(), []);
    for _ in 0..2 {
        draft.discard(&draft.recovered().expect("both are offered, one after the other"));
    }
    assert_eq!(draft.recovered(), None);
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[test]
fn a_sign_that_a_killed_desk_left_warns_nobody() {
    let book = Book::new("The lamp.");
    fs::write(book.folder.path().join(".lamp.md.desk"), "on gull, since 2026-01-01 10:00\n").expect("written");
    let draft = book.open();
    assert_eq!(draft.notices(), []);
    draft.close();
    assert_eq!(book.names(), ["lamp.md"]);
}

#[cfg(unix)]
mod permissions {
    use super::*;
    use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permissions set");
    }

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).expect("there").mode() & 0o7777
    }

    #[test]
    fn permissions_stay_as_they_were_and_kept_words_are_as_private() {
        for wanted in [0o600, 0o640, 0o664, 0o755] {
            let book = Book::new("The lamp.");
            set_mode(&book.draft(), wanted);
            let mut draft = book.open();
            draft.autosave("Unsaved").expect("kept");
            assert_eq!(mode(&book.folder.path().join(".lamp.md.recovery")), wanted);
            assert_eq!(draft.save("A lamp.").expect("saved"), Saved::Written);
            assert_eq!(mode(&book.draft()), wanted);
            set_mode(&book.draft(), 0o644);
            assert_eq!(draft.save("Two lamps.").expect("saved"), Saved::Written);
            assert_eq!(mode(&book.draft()), 0o644, "permissions that were changed meanwhile");
        }
    }

    #[test]
    fn a_link_goes_on_leading_to_its_file() {
        let book = Book::new("The lamp.");
        let elsewhere = tempfile::tempdir().expect("a folder");
        let link = elsewhere.path().join("other.md");
        symlink(book.draft(), &link).expect("linked");
        let mut draft = open(&link).expect("opened");
        assert_eq!(draft.path(), link);
        assert!(matches!(book.open().notices(), [Notice::AlsoOpen(_)]), "the same draft by its own name");
        draft.autosave("Unsaved").expect("kept");
        assert_eq!(draft.save("A lamp.").expect("saved"), Saved::Written);
        draft.close();
        assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
        assert_eq!(book.file(), "A lamp.");
        assert_eq!((book.names(), names_in(elsewhere.path())), (vec!["lamp.md".into()], vec!["other.md".into()]));
    }

    #[test]
    fn a_file_without_the_right_to_write_is_told_at_once_and_left_alone() {
        let book = Book::new("The lamp.");
        set_mode(&book.draft(), 0o444);
        let mut draft = book.open();
        assert_eq!(draft.notices(), [Notice::ReadOnlyFile]);
        let said = draft.save("A lamp.").expect_err("refused").to_string();
        assert!(said.ends_with("change the file's permissions, or work on a copy of it"), "{said}");
        assert_eq!(book.file(), "The lamp.");
        draft.autosave("A lamp.").expect("kept all the same");
        set_mode(&book.draft(), 0o644);
        assert_eq!(draft.save("A lamp.").expect("saved"), Saved::Written);
    }
}
