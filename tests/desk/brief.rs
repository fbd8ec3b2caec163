//! The page of the book and its brief, through the door to the disk: the file has what was changed, and all else.

use std::fs;

use super::pty::{Desk, book};

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
