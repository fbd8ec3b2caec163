//! The desk as a person meets it: the program in a pseudo-terminal, its keys pressed and its screen read.

#![cfg(unix)]
#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test stops where it cannot go on, and tells what it counted"
)]

mod art;
mod beginning;
mod brief;
mod ends;
mod jobs;
mod kills;
mod list;
mod pictures;
mod pty;
mod traps;
mod unended;

use std::fs;
use std::process::Command;

use pty::{Desk, book, first, names};

#[test]
fn a_first_draft_is_changed_saved_and_left() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    assert!(desk.screen().screen().alternate_screen() && desk.screen().screen().bracketed_paste());
    desk.keys(b"\x1b[1;5F\x1b[A\x05, Gull Point");
    desk.shows("school librarian, Gull Point");
    desk.shows("not saved");
    desk.keys(b"\x11");
    desk.shows("Not all is saved.");
    desk.keys(b"\x1b");
    desk.shows("Ctrl-Q leave");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(first(&book).ends_with("school librarian, Gull Point\n"));
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    assert_eq!(names(&book), ["brief.yaml", "first.md", "second.md"]);
}

#[test]
fn the_screen_follows_the_window() {
    let book = book();
    let mut desk = Desk::open(&book, 120, 40);
    desk.resize(20, 5);
    desk.shows("The desk needs");
    desk.keys(b"x");
    desk.resize(1, 1);
    desk.resize(80, 24);
    desk.shows("x# The light is out.");
    desk.until("the cursor behind the x", |screen| screen.cursor_position() == (2, 4));
}

#[test]
fn letters_behind_escape_are_named_where_told_to() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk", "--letters", "--pictures", "blocks"], &[], 80, 24);
    desk.shows("Esc k keys  Ctrl-S save  Ctrl-Q leave  Esc q queries");
    desk.keys(b"\x1bt");
    desk.shows("and 1 more: Esc Esc q");
}

#[test]
fn the_mouse_places_the_cursor_and_selects() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    // Pressed on the fifth row, on the first letter of the text.
    desk.keys(b"\x1b[<0;4;5M\x1b[<0;4;5m");
    desk.until("the cursor there", |screen| screen.cursor_position() == (4, 3));
    desk.keys(b"\x1b[<32;9;5M\x1b[<0;9;5m");
    desk.until("five letters selected", |screen| {
        (3..8).all(|column| screen.cell(4, column).is_some_and(vt100::Cell::inverse))
    });
    desk.keys(b"\x1b[<64;9;5M");
    desk.keys(b"Each");
    desk.shows("Each night, Oona");
}

#[test]
fn a_paste_is_one_step_and_commands_nothing() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"\x1b[200~One \x11\rtwo\x13 three.\r\x1b[201~");
    desk.shows("three.");
    desk.keys(b"\x1a");
    desk.until("all of it gone", |screen| !screen.contents().contains("three."));
    desk.shows("# The light is out.");
}

#[test]
fn a_great_paste_settles_and_is_saved_whole() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    let sentence = "The lamp is out, and the sea comes in over the wall. ";
    let words = sentence.repeat(100_000 / sentence.len());
    let sent = desk.keys_aside(format!("\x1b[200~{words}\x1b[201~\x13").into_bytes());
    desk.shows("Saved first.md.");
    desk.after(sent);
    assert!(first(&book).starts_with(&words));
}

#[test]
fn a_draft_written_by_another_program_is_noticed() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    fs::write(book.path().join("first.md"), "Written elsewhere.\n").expect("written");
    desk.shows("Written elsewhere.");
    desk.keys(b"x");
    desk.shows("xWritten");
    fs::write(book.path().join("first.md"), "And once more.\n").expect("written");
    desk.shows("File changed.");
    desk.keys(b"m");
    desk.shows("Saved first.md.");
    assert_eq!(first(&book), "xWritten elsewhere.\n");
}

#[test]
fn a_draft_that_is_gone_is_told_as_gone_and_saving_writes_it_again() {
    let book = book();
    let mut desk = Desk::open(&book, 100, 24);
    desk.keys(b"Mine. ");
    desk.shows("Mine. # The light");
    fs::remove_file(book.path().join("first.md")).expect("taken away");
    desk.shows("first.md is gone from its folder");
    desk.keys(b"\x13");
    desk.shows("first.md was gone from its folder, and is written again.");
    assert!(first(&book).starts_with("Mine. # The light"));
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
}

#[test]
fn what_stands_at_the_desk_and_what_others_let_stand_meanwhile_are_both_kept() {
    let book = book();
    for name in ["first.md", "second.md"] {
        fs::write(book.path().join(name), "This is a very magical and truly unforgettable story.\n").expect("written");
    }
    let mut desk = Desk::open(&book, 100, 30);
    let program = env!("CARGO_BIN_EXE_blurbwright");
    let other = Command::new(program).args(["tighten", "second.md", "--stet", "1"]).current_dir(book.path()).output();
    assert!(other.expect("the program").status.success());
    desk.keys(b"\x1b[17~");
    desk.shows("let it stand");
    desk.settle();
    desk.keys(b"s");
    desk.settle();
    desk.keys(b"\x1b");
    desk.shows("Ctrl-Q leave");
    desk.settle();
    desk.keys(b"x\x13");
    desk.shows("Saved first.md.");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    let stands = fs::read_to_string(book.path().join("stet.yaml")).expect("what stands");
    assert!(stands.contains("\"first.md\":") && stands.contains("\"second.md\":"), "{stands}");
}

#[test]
fn a_pipe_in_the_place_of_a_draft_holds_nothing_up() {
    let book = book();
    let mut desk = Desk::open(&book, 100, 24);
    desk.keys(b"Mine. ");
    desk.shows("Mine. # The light");
    fs::remove_file(book.path().join("first.md")).expect("taken away");
    for name in ["first.md", "pipe.md", ".second.md.desk", ".second.md.recovery"] {
        assert!(Command::new("mkfifo").arg(book.path().join(name)).status().expect("mkfifo").success());
    }
    desk.keys(b"\x13");
    desk.shows("it is a named pipe and no plain file");
    desk.keys(b"\x0fo");
    desk.shows("Open the file:");
    desk.keys(b"pipe.md\r");
    desk.shows("it is a named pipe");
    desk.keys(b"\x1b");
    desk.until("no question", |screen| !screen.contents().contains("Open the file:"));
    desk.keys(b"\x0fo");
    desk.shows("Open the file:");
    desk.keys(b"second.md\r");
    desk.shows("Point \u{b7} second");
}

#[test]
fn drafts_are_doubled_and_switched_and_the_brief_written_when_asked() {
    let book = book();
    let mut desk = Desk::open(&book, 100, 30);
    desk.keys(b"\x0fd");
    desk.shows("Name of the double: first 2");
    desk.keys(b"third\r");
    desk.shows("Point · third");
    assert_eq!(fs::read_to_string(book.path().join("third.md")).expect("a double"), first(&book));
    desk.keys(b"\x1b[18~");
    desk.shows("+ - size");
    desk.keys(b"\x1b[C");
    desk.shows("trying serif 13.5");
    let brief = || fs::read_to_string(book.path().join("brief.yaml")).expect("the brief");
    let before = brief();
    desk.keys(b"w");
    desk.shows("What you changed is written to the brief.");
    assert_ne!(brief(), before);
    assert_eq!(
        brief(),
        before.replacen("size: 13 pt", "size: 13.5 pt", 1).replacen("leading: 18 pt", "leading: 18.692 pt", 1)
    );
    desk.keys(b"\x1b");
    desk.settle();
    desk.keys(b"\x10\r");
    desk.shows("The proof is in third.pdf.");
    assert!(book.path().join("third.pdf").is_file());
}

#[test]
fn without_a_terminal_the_plain_command_is_named() {
    let book = book();
    let program = env!("CARGO_BIN_EXE_blurbwright");
    let output = Command::new(program).arg("desk").current_dir(book.path()).output().expect("the program");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("`blurbwright measure`"));
    let mut desk = Desk::run(&book, &["desk"], &[("TERM", "dumb")], 80, 24);
    desk.shows("blurbwright measure");
    assert_eq!(desk.ends(), 2);
    let bare = Command::new(program).current_dir(book.path()).output().expect("the program");
    assert_eq!(bare.status.code(), Some(0), "bare without a terminal it measures");
}

#[test]
fn the_tour_shows_the_sample_and_writes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = Desk::run(&folder, &["desk", "--tour"], &[("LANG", "C")], 100, 30);
    desk.shows("The Lamp at Gull Point");
    desk.keys(b"Once. \x13");
    desk.shows("This is the sample: nothing is written.");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    assert!(names(&folder).is_empty());
}

#[test]
fn what_a_file_has_round_its_words_is_kept_when_it_is_doubled_and_renamed() {
    use std::os::unix::fs::PermissionsExt;
    let book = book();
    let words = "\u{feff}# One\r\n\r\nA lamp.\r\n";
    let path = |name: &str| book.path().join(name);
    fs::write(path("first.md"), words).expect("written");
    fs::set_permissions(path("first.md"), fs::Permissions::from_mode(0o640)).expect("permissions");
    let is_dressed = |name: &str, words: &str| {
        assert_eq!(fs::read_to_string(path(name)).expect("a draft"), words, "{name}");
        let mode = fs::metadata(path(name)).expect("a draft").permissions().mode();
        assert_eq!(mode & 0o777, 0o640, "{name}");
    };
    let mut desk = Desk::open(&book, 100, 30);
    desk.keys(b"\x0fd");
    desk.shows("Name of the double:");
    desk.keys(b"third\r");
    desk.shows("Point \u{b7} third");
    is_dressed("third.md", words);
    desk.keys(b"\x0fr");
    desk.shows("Rename the draft to:");
    desk.keys(b"fourth\r");
    desk.shows("Point \u{b7} fourth");
    is_dressed("fourth.md", words);
    // The list in which it was renamed stays until Esc leads back to writing.
    desk.keys(b"\x1b");
    desk.shows("F12 insert");
    desk.keys(b"Now. \x13");
    desk.shows("Saved fourth.md.");
    is_dressed("fourth.md", &words.replacen("# One", "Now. # One", 1));
    is_dressed("first.md", words);
    assert!(!path("third.md").exists());
}

#[test]
fn a_file_outside_the_book_is_opened_by_its_path_and_an_open_one_shown() {
    let (book, home) = (book(), tempfile::tempdir().expect("a folder"));
    fs::write(home.path().join("far.md"), "A lamp far away.\n").expect("written");
    let folder = home.path().display().to_string();
    let mut desk = Desk::run(&book, &["desk"], &[("HOME", &folder)], 100, 30);
    desk.shows("Ctrl-Q leave");
    desk.keys(b"Mine. ");
    desk.shows("Mine.");
    desk.keys(b"\x0fo");
    desk.shows("Open the file:");
    // What could not be opened can be typed anew at once.
    for (typed, shown) in
        [("~/near.md", "there is no such file"), ("~", "it is a folder"), ("~/far.md", "A lamp far away.")]
    {
        desk.keys(typed.as_bytes());
        desk.shows(&format!("Open the file: {typed}"));
        desk.keys(b"\r");
        desk.shows(shown);
    }
    desk.shows("by this book's brief");
    desk.keys(b"\x0fo");
    desk.shows("Open the file:");
    desk.keys(b"./first.md\r");
    desk.shows("Mine. # The light");
}

#[test]
fn the_words_of_two_desks_that_were_cut_off_are_offered_one_after_the_other() {
    let book = book();
    let mut one = Desk::open(&book, 80, 24);
    let mut other = Desk::run(&book, &["desk"], &[], 80, 24);
    other.shows("Another desk has this draft open");
    one.keys(b"Words of the one. ");
    other.keys(b"Words of the other. ");
    one.shows("Words of the one.");
    other.shows("Words of the other.");
    for desk in [&mut one, &mut other] {
        desk.signal("TERM");
        desk.ends();
    }
    let mut desk = Desk::run(&book, &["desk"], &[], 80, 24);
    desk.shows("t take them");
    desk.keys(b"t");
    // The second is told against the first, which is on the sheet now.
    desk.until("the second", |screen| {
        ["{one > other}", "{other > one}"].iter().any(|words| screen.contents().contains(words))
    });
    desk.keys(b"f");
    desk.shows("F1 keys");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(first(&book).starts_with("Words of the o"));
    desk.keys(b"\x11");
    desk.ends();
    assert_eq!(names(&book), ["brief.yaml", "first.md", "kept", "second.md"]);
}
