//! The page of the book and its brief, through the door to the disk: the file has what was changed, and all else.

use std::fs;

use super::pty::{Desk, book, names};

#[test]
fn a_limit_and_a_word_of_the_copy_are_in_the_brief_on_the_disk() {
    let book = book();
    let brief = || fs::read_to_string(book.path().join("brief.yaml")).expect("the brief");
    let before = brief();
    let mut desk = Desk::open(&book, 80, 24);
    // The cursor stands in the first word of the blurb; the fourth group has the terms, two groups on are the limits.
    desk.keys(b"\x1b[B\x1b[B\x1b[21~");
    desk.shows("Names in the book");
    desk.keys(b"\x1b[6~\x1b[6~c");
    desk.shows("\"Every\" is a term now.");
    desk.keys(b"\x1b[6~\x1b[6~\r");
    desk.shows("words: 40..100");
    desk.keys(b"\x0140..90\rw");
    desk.shows("is written to the brief.");
    let after = before.replace("words: 40..100", "words: 40..90").replace("  - brave\n", "  - brave\n  - Every\n");
    assert_eq!(brief(), after);
    // What another program has written meanwhile is told and not written over.
    fs::write(book.path().join("brief.yaml"), before.replace("40..100", "40..70")).expect("written");
    desk.shows("Another program has changed the brief");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert!(brief().contains("40..70"));
}

/// A desk that is killed between a change of the brief and its writing loses neither the file nor the change.
#[test]
fn changes_that_were_not_written_come_back_after_a_kill() {
    let book = book();
    let brief = || fs::read_to_string(book.path().join("brief.yaml")).expect("the brief");
    let before = brief();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x1b[21~");
    desk.shows("Names in the book");
    desk.keys(b"\x1b[6~\x1b[6~\x1b[6~\x1b[6~\r");
    desk.shows("words: 40..100");
    desk.keys(b"\x0140..90\r");
    desk.shows("brief not written");
    let kept = book.path().join(".brief.yaml.recovery");
    desk.until("the recovery file", |_| kept.exists());
    desk.signal("KILL");
    drop(desk);
    assert_eq!(brief(), before);
    let mut desk = Desk::run(&book, &["desk", "--pictures", "blocks"], &[], 80, 24);
    desk.shows("Changes of the brief were kept:");
    desk.keys(b"t");
    desk.shows("brief not written");
    desk.keys(b"\x11");
    desk.shows("Not all is saved.");
    desk.keys(b"s");
    assert_eq!(desk.ends(), 0);
    assert_eq!(brief(), before.replace("words: 40..100", "words: 40..90"));
    assert!(
        !names(&book).iter().any(|name| name.ends_with("recovery") || name.ends_with("desk")),
        "{:?}",
        names(&book)
    );
}

/// A brief that cannot be read is mended before the desk opens, and in it, byte for byte as it was typed.
#[test]
fn a_broken_brief_is_mended_before_the_desk_opens_and_in_it() {
    let book = book();
    let path = book.path().join("brief.yaml");
    let before = fs::read_to_string(&path).expect("the brief");
    let broken = before.replacen("limits:", "limit:", 1);
    assert_ne!(before, broken);
    fs::write(&path, &broken).expect("written");
    let mut desk = Desk::run(&book, &["desk", "--pictures", "blocks"], &[], 80, 24);
    desk.shows("A brief that cannot be read");
    // The cursor stands at the head of the line.
    desk.keys(b"\x1b[C\x1b[C\x1b[C\x1b[C\x1b[Cs\x13");
    desk.shows("The light is out");
    assert_eq!(fs::read_to_string(&path).expect("there"), before);
    fs::write(&path, &broken).expect("written");
    desk.shows("F10 mends it");
    desk.keys(b"\x1b[21~");
    desk.shows("Ctrl-S write it and go on");
    desk.keys(b"\x1b[C\x1b[C\x1b[C\x1b[C\x1b[Cs\x13");
    desk.shows("can be read now");
    assert_eq!(fs::read_to_string(&path).expect("there"), before);
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
}

/// What is typed to mend a brief outlives a kill, before the desk and in it, and goes once it is written; so do the
/// signs of desks that are gone.
#[test]
fn what_is_typed_to_mend_a_brief_comes_back_after_a_kill() {
    let book = book();
    let path = book.path().join("brief.yaml");
    let before = fs::read_to_string(&path).expect("the brief");
    let broken = before.replacen("limits:", "limit:", 1);
    fs::write(&path, &broken).expect("written");
    let kept = || names(&book).into_iter().filter(|name| name.starts_with(".brief")).collect::<Vec<_>>();
    let has_typed = || {
        let read = |name: &String| fs::read_to_string(book.path().join(name)).unwrap_or_default();
        kept().iter().any(|name| name.ends_with("recovery") && read(name).contains("limits:"))
    };
    for signal in ["KILL", "TERM"] {
        let mut desk = Desk::run(&book, &["desk", "--pictures", "blocks"], &[], 80, 24);
        desk.shows("A brief that cannot be read");
        if signal == "KILL" {
            desk.keys(b"\x1b[C\x1b[C\x1b[C\x1b[C\x1b[Cs");
        } else {
            desk.shows("What you typed last time is here again");
        }
        desk.until("the recovery file", |_| has_typed());
        desk.signal(signal);
        drop(desk);
        assert_eq!(fs::read_to_string(&path).expect("there"), broken);
    }
    fs::write(book.path().join(".brief.yaml.7.desk"), "on gull\n").expect("a sign");
    let mut desk = Desk::run(&book, &["desk", "--pictures", "blocks"], &[], 80, 24);
    desk.shows("What you typed last time is here again");
    desk.keys(b"\x13");
    desk.shows("The light is out");
    assert_eq!(fs::read_to_string(&path).expect("there"), before);
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert_eq!(kept(), Vec::<String>::new());
}
