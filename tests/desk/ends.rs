//! However the desk is ended, the terminal is as it was and the words are kept.

use std::fs;
use std::thread;
use std::time::Duration;

use super::pty::{Desk, book, first, names};

#[test]
fn words_survive_signals_and_kills() {
    for (signal, code) in [("TERM", Some(143)), ("HUP", Some(129)), ("INT", Some(130)), ("KILL", None)] {
        let book = book();
        let before = first(&book);
        let mut desk = Desk::open(&book, 80, 24);
        desk.keys(b"Gone but kept. ");
        desk.shows("Gone but kept.");
        if code.is_none() {
            // At most the last second is lost to what cannot be caught.
            thread::sleep(Duration::from_millis(1500));
        }
        desk.signal(signal);
        let ended = desk.ends();
        if let Some(code) = code {
            assert_eq!(ended, code, "{signal}");
            desk.is_clean();
        }
        assert_eq!(first(&book), before, "{signal}: the file is as it was");
        let mut desk = Desk::run(&book, &["desk"], &[], 80, 24);
        desk.shows("Unsaved words were kept");
        desk.shows("{> Gone but kept.}");
        desk.keys(b"t");
        desk.shows("Gone but kept. # The light");
        desk.keys(b"\x13");
        desk.shows("Saved first.md.");
        desk.keys(b"\x11");
        assert_eq!(desk.ends(), 0);
        assert_eq!(names(&book), ["brief.yaml", "first.md", "second.md"], "{signal}");
    }
}

/// One letter lets recovered words go, and another name is soon given: neither takes words out of the author's reach.
#[test]
fn words_that_are_let_go_are_kept_and_kept_copies_go_with_their_draft() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"Let go. ");
    desk.shows("Let go. # The light");
    desk.signal("TERM");
    assert_eq!(desk.ends(), 143);
    let mut desk = Desk::run(&book, &["desk"], &[], 80, 24);
    desk.shows("Unsaved words were kept");
    desk.keys(b"f");
    desk.shows("The words are in kept/first/");
    for (name, stays) in [("tide", false), ("second-tide", true)] {
        if stays {
            fs::create_dir_all(book.path().join("kept").join(name)).expect("a folder");
        }
        desk.keys(b"\x0f");
        desk.shows("r rename");
        desk.keys(b"r\x01");
        desk.shows("Rename the draft to:");
        desk.keys(name.as_bytes());
        desk.keys(b"\r");
        desk.shows(if stays { "its kept copies stay in kept/tide" } else { "first.md is tide.md now." });
    }
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert!(book.path().join("second-tide.md").is_file() && !book.path().join("kept/first").exists());
    let copies = fs::read_dir(book.path().join("kept/tide")).expect("the copies").flatten().map(|entry| entry.path());
    let copies: Vec<_> = copies.filter(|path| path.extension().is_some_and(|ending| ending == "md")).collect();
    let [copy] = copies.as_slice() else { panic!("{copies:?}") };
    assert!(fs::read_to_string(copy).expect("the copy").starts_with("Let go. # The light"));
}
