//! What terminals do to programs that do not expect it: silence, a closed window, no size, no colour, floods of keys
//! and moves.

use std::fs;
use std::thread;
use std::time::Duration;

use super::pty::{Desk, book};

/// What begins and ends a picture that appears at once. Source: the specification of synchronized output, mode 2026.
const BEGIN: &str = "\x1b[?2026h";
const END: &str = "\x1b[?2026l";

#[test]
fn without_colours_bold_and_reverse_are_left_and_nothing_is_coloured() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk"], &[("NO_COLOR", "1")], 80, 24);
    desk.shows("Ctrl-Q leave");
    desk.settle();
    let raw = desk.output();
    assert!(
        raw.contains("\x1b[1m")
            && !raw.contains("\x1b[38;5")
            && !raw.contains("\x1b[48;5")
            && !raw.contains("\x1b[31m")
    );
    desk.until("a bold title", |screen| screen.cell(0, 1).is_some_and(vt100::Cell::bold));
}

/// Processor time that a process has used, in hundredths of a second.
#[cfg(target_os = "linux")]
fn ticks(process: u32) -> u64 {
    let stat = fs::read_to_string(format!("/proc/{process}/stat")).expect("Linux tells");
    let fields: Vec<&str> = stat.rsplit(')').next().expect("after the name").split_whitespace().collect();
    // Fields 14 and 15 of proc(5), of which the first two stand before the name's end.
    fields[11..13].iter().map(|field| field.parse::<u64>().expect("a count")).sum()
}

#[cfg(target_os = "linux")]
#[test]
fn nothing_is_drawn_or_reckoned_while_nothing_happens() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    // Prices are found when nothing has been typed for a moment, and drawn once.
    thread::sleep(Duration::from_secs(2));
    desk.settle();
    let before = desk.written();
    for _ in 0..50 {
        desk.keys(b"\x1b[<35;10;10M");
    }
    thread::sleep(Duration::from_millis(500));
    let at_rest = ticks(desk.id());
    thread::sleep(Duration::from_millis(1500));
    assert_eq!(desk.written(), before);
    assert!(ticks(desk.id()) - at_rest <= 1, "it reckons while nothing happens");
}

#[test]
fn the_terminal_is_asked_for_its_pictures_and_for_nothing_else() {
    let book = book();
    let desk = Desk::open(&book, 80, 24);
    let output = desk.output();
    // Kitty's pictures, a cell, the screen, the colours and the size of sixels; the attributes, asked for last.
    let questions = "\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[16t\x1b[14t\x1b[?1;1;0S\x1b[?2;1;0S\x1b[c";
    assert_eq!(output.matches(questions).count(), 1);
    // Place of the cursor, a mode, keyboard flags, the ground's colour.
    for question in ["\x1b[>c", "\x1b[6n", "\x1b[?u", "$p", "\x1b]11;?", "\x1b]10;?"] {
        assert!(!output.contains(question), "{question:?}");
    }
}

#[test]
fn a_closed_window_ends_the_desk_and_keeps_the_words() {
    for script in ["exec \"$0\" desk", "trap '' HUP; exec \"$0\" desk"] {
        let book = book();
        let args = ["-c", script, env!("CARGO_BIN_EXE_blurbwright")];
        let mut desk = Desk::start("/bin/sh", &book, &args, &[], 80, 24);
        desk.shows("Ctrl-Q leave");
        desk.settle();
        // The test's own end of the terminal presses Ctrl-D when it closes: that must take another line.
        desk.keys(b"Gone but kept. \x1b[B\x1b[B\x1b[B");
        desk.shows("Gone but kept.");
        desk.settle();
        desk.hang_up();
        assert_eq!(desk.ends(), 129, "{script}");
        let kept = fs::read_to_string(book.path().join(".first.md.recovery")).expect("kept");
        assert!(kept.contains("Gone but kept."), "{script}: {kept}");
    }
}

#[test]
fn a_terminal_without_a_size_is_waited_for() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk"], &[], 0, 0);
    desk.until("the desk's modes", |screen| screen.alternate_screen() && screen.bracketed_paste());
    desk.keys(b"x");
    desk.settle();
    desk.resize(80, 24);
    desk.shows("x# The light is out.");
    desk.resize(0, 0);
    desk.keys(b"y");
    desk.resize(80, 24);
    desk.shows("xy# The light is out.");
}

#[test]
fn each_picture_appears_at_once() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    thread::sleep(Duration::from_secs(1));
    desk.settle();
    let before = desk.written();
    for key in [&b"x"[..], b"\x1b[B", b"\x1bOP", b"\x1b"] {
        desk.keys(key);
        desk.settle();
    }
    let output = desk.output();
    let drawn = &output[before..];
    assert!(drawn.contains(BEGIN), "{drawn:?}");
    for picture in drawn.split_terminator(END) {
        assert!(picture.starts_with(BEGIN) && picture.matches(BEGIN).count() == 1, "{picture:?}");
    }
    assert!(drawn.ends_with(END), "{drawn:?}");
}

#[test]
fn a_flood_of_keys_is_taken_before_it_is_drawn() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    let before = desk.output().matches(BEGIN).count();
    let words = "The lamp is out. ".repeat(300);
    let sent = desk.keys_aside(format!("{words}\x13").into_bytes());
    desk.shows("Saved first.md.");
    desk.after(sent);
    let pictures = desk.output().matches(BEGIN).count() - before;
    assert!(pictures < words.len() / 10, "{pictures} pictures of {} keys", words.len());
    assert!(super::first(&book).starts_with(&words));
}

/// Source: xterm control sequences, OSC 52.
#[test]
fn copied_words_go_to_the_clipboard_and_none_are_asked_for() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x1b[1;2C\x1b[1;2C\x1b[1;2C\x03");
    desk.until("the letters handed over", |_| desk.output().contains("\x1b]52;c;IyBU"));
    assert!(!desk.output().contains("\x1b]52;c;?"));
}
