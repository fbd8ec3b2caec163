//! Sequences that a terminal begins and never ends: the desk goes on hearing keys, sizes and the end.

use super::pty::{Desk, book, first};

/// Beginnings of keys, mouse reports, answers and pastes, and what they leave on the sheet.
const BEGINNINGS: [(&[u8], &str); 8] = [
    (b"\x1b[?", ""),
    (b"\x1b[1;", ""),
    (b"\x1b[<0;4", ""),
    (b"\x1b[M ", ""),
    (b"\x1b]", ""),
    (b"\x1b]11;rgb", ""),
    (b"\x1b_a lamp", ""),
    (b"\x1b[200~A lamp, ", "A lamp, "),
];

#[test]
fn after_a_sequence_without_end_keys_and_sizes_are_heard() {
    for (beginning, leaves) in BEGINNINGS {
        let book = book();
        let mut desk = Desk::unasked(&book, 80, 24);
        desk.keys(beginning);
        desk.shows(&format!("{leaves}# The light is out."));
        desk.settle();
        desk.keys(b"x");
        desk.shows(&format!("{leaves}x# The light is out."));
        desk.resize(30, 6);
        desk.shows("The desk needs");
        desk.resize(90, 30);
        desk.shows(&format!("{leaves}x# The light is out."));
        desk.keys(b"\x13");
        desk.shows("Saved first.md.");
        assert!(first(&book).starts_with(&format!("{leaves}x#")), "{beginning:?}");
        desk.keys(b"\x11");
        assert_eq!(desk.ends(), 0, "{beginning:?}");
        desk.is_clean();
    }
}

#[test]
fn a_size_is_heard_while_a_sequence_is_unfinished() {
    let book = book();
    let mut desk = Desk::unasked(&book, 80, 24);
    desk.keys(b"\x1b[200~A lamp");
    desk.resize(30, 6);
    desk.shows("The desk needs");
    desk.resize(80, 24);
    desk.keys(b"s.\x1b[201~");
    desk.shows("A lamps.# The light is out.");
}

/// What begins a sequence is also a key with Alt, when nothing follows it: a letter behind Escape asks for what its key
/// does.
#[test]
fn alt_with_a_letter_that_begins_a_sequence_is_a_key() {
    for (pressed, shown) in [(&b"\x1bO"[..], "Esc back  Enter open"), (b"\x1bP", "Enter change")] {
        let book = book();
        let mut desk = Desk::unasked(&book, 80, 24);
        desk.keys(pressed);
        desk.shows(shown);
        desk.keys(b"\x1b");
        desk.shows("# The light is out.");
        desk.keys(b"x");
        desk.shows("x# The light is out.");
    }
}
