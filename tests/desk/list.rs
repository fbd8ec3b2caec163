//! The list of the drafts, and what stands, through the door to the disk: what is done, and to which file.

use std::fs;

use super::pty::{Desk, book, names};

#[test]
fn a_draft_that_is_not_open_is_kept_doubled_and_renamed() {
    let book = book();
    let read = |name: &str| fs::read_to_string(book.path().join(name)).unwrap_or_default();
    let (first, second) = (read("first.md"), read("second.md"));
    fs::write(book.path().join("stet.yaml"), "second.md:\n  - { rule: runt, wording: \"tide\" }\n").expect("written");
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x0f\x1b[Bk");
    desk.shows("Keep a dated copy of second;");
    desk.keys(b"tide\r");
    desk.shows("Kept a copy: kept/second");
    desk.keys(b"d");
    desk.shows("Name of the double of second: second 2");
    desk.keys(b"third\r");
    desk.shows("Point · third");
    assert_eq!(read("third.md"), second);
    // The copy stands under its draft, and above the double.
    desk.keys(b"\x0f");
    desk.shows("tide");
    desk.keys(b"\x1b[A\x1b[Ar");
    desk.shows("Rename second to: second");
    desk.keys(b"fourth\r");
    desk.shows("second.md is fourth.md now.");
    assert_eq!((read("fourth.md"), read("first.md")), (second, first));
    let stet = read("stet.yaml");
    assert!(!stet.contains("second.md") && stet.contains("fourth.md") && stet.contains("third.md"), "{stet}");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert_eq!(names(&book), ["brief.yaml", "first.md", "fourth.md", "kept", "stet.yaml", "third.md"]);
}

#[test]
fn what_stands_is_written_with_the_draft_and_not_before() {
    let book = book();
    fs::write(book.path().join("first.md"), "The tide  is out.\n").expect("written");
    let stet = || fs::read_to_string(book.path().join("stet.yaml")).unwrap_or_default();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x1b[17~s");
    desk.shows("not saved");
    desk.keys(b"\x11");
    desk.shows("Not all is saved.");
    desk.keys(b"l");
    assert_eq!(desk.ends(), 0);
    assert_eq!(stet(), "");
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x1b[17~s");
    desk.shows("not saved");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(stet().contains("first.md"), "{}", stet());
    desk.keys(b"\x1a");
    desk.shows("What stood is asked about again.");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(!stet().contains("first.md"), "{}", stet());
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
}

#[test]
fn kept_words_of_another_draft_are_told_and_can_wait() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk", "second.md"], &[], 80, 24);
    desk.shows("Ctrl-Q leave");
    desk.keys(b"Kept tide. ");
    desk.shows("Kept tide.");
    desk.signal("TERM");
    desk.ends();
    let kept = book.path().join(".second.md.recovery");
    let words = fs::read(&kept).expect("kept words");
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x0f");
    desk.shows("second.md, unsaved words are kept");
    desk.keys(b"\x1b[Br");
    desk.shows("Rename second to:");
    desk.keys(b"third\r");
    desk.shows("Cannot rename second.md");
    desk.keys(b"\r");
    desk.shows("t take them");
    desk.keys(b"\x1b");
    desk.shows("The words stay kept");
    desk.keys(b"\x0f\r");
    desk.shows("t take them");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert_eq!(fs::read(&kept).expect("kept words"), words);
}

/// A book in a folder below has a brief of its own, by which alone its drafts are measured.
#[test]
fn drafts_of_another_book_below_are_not_listed() {
    let book = book();
    let below = |folder: &str, name: &str, text: &str| {
        let folder = book.path().join(folder);
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join(name), text).expect("written");
    };
    below("older", "third.md", "# The lamp\n");
    below("harbour", "fourth.md", "# The harbour\n");
    below("harbour", "brief.yaml", "panel: { trim: 8.5 x 8.5 in }\n");
    let mut desk = Desk::run(&book, &["desk", "--pictures", "blocks", "first.md"], &[], 80, 24);
    desk.shows("Ctrl-Q leave");
    desk.keys(b"\x0f");
    desk.shows("third.md");
    let shown = desk.screen().screen().contents();
    assert!(shown.contains("second.md") && !shown.contains("fourth.md"), "{shown}");
}
