//! The way from an empty folder to a written proof, by the keys that the foot of the screen shows; books in a folder as
//! a list; and what a kill leaves of a book that is being begun.

use std::fs;
use std::thread;
use std::time::Duration;

use blurbwright::brief::Brief;
use tempfile::TempDir;
use vt100::Screen;

use super::pty::{Desk, first, names};

fn empty() -> TempDir {
    tempfile::tempdir().expect("a folder")
}

/// The program alone, in a folder, on a terminal that is asked nothing.
fn bare(folder: &TempDir) -> Desk {
    Desk::run(folder, &[], &[("NO_COLOR", "1")], 80, 24)
}

/// The keys that the last rows of the screen show, each with what it does: a name in bold, and words that are not.
fn offered(screen: &Screen) -> Vec<(String, String)> {
    let (rows, columns) = screen.size();
    let (rows, columns) = (rows.get(), columns.get());
    let mut keys: Vec<(String, String)> = Vec::new();
    for row in rows.saturating_sub(3)..rows {
        let mut was_bold = false;
        for cell in (0..columns).filter_map(|column| screen.cell(row, column)) {
            let sign = if cell.has_contents() { cell.contents() } else { " " };
            match (cell.bold(), was_bold) {
                (true, false) => keys.push((sign.to_owned(), String::new())),
                (true, true) => keys.iter_mut().last().into_iter().for_each(|(name, _)| name.push_str(sign)),
                (false, _) => keys.iter_mut().last().into_iter().for_each(|(_, does)| does.push_str(sign)),
            }
            was_bold = cell.bold();
        }
    }
    keys.into_iter().map(|(name, does)| (name.trim().to_owned(), does.trim().to_owned())).collect()
}

/// What a terminal sends for a key by the name that the screen has for it; of several the last.
fn bytes_of(name: &str) -> Vec<u8> {
    let name = name.rsplit(", ").next().unwrap_or(name);
    match name.strip_prefix("Ctrl-").and_then(|letter| letter.bytes().next()) {
        Some(letter) => vec![letter & 0x1f],
        None => match name {
            "Enter" => b"\r".to_vec(),
            "Esc" => b"\x1b".to_vec(),
            "Tab" => b"\t".to_vec(),
            "Up" => b"\x1b[A".to_vec(),
            "Down" => b"\x1b[B".to_vec(),
            "Right" => b"\x1b[C".to_vec(),
            "F1" => b"\x1bOP".to_vec(),
            other => panic!("the screen names a key that no terminal sends: {other}"),
        },
    }
}

/// Waits until the foot shows a key that does something, and presses it.
fn press(desk: &mut Desk, does: &str) {
    let key = |screen: &Screen| offered(screen).into_iter().find(|(_, said)| said == does).map(|(name, _)| name);
    desk.until(does, |screen| key(screen).is_some());
    let name = key(desk.screen().screen()).expect("just seen");
    desk.keys(&bytes_of(&name));
}

#[test]
fn an_empty_folder_leads_to_a_proof_by_the_keys_that_are_shown() {
    let folder = empty();
    let mut desk = bare(&folder);
    desk.shows("Begin a book");
    assert!(names(&folder).is_empty(), "nothing is written before it is asked for");
    desk.keys(b"The Kite of Dunmore");
    press(&mut desk, "next");
    desk.keys(b"R. Okafor-Lind");
    press(&mut desk, "next");
    press(&mut desk, "choose");
    desk.shows("early reader");
    press(&mut desk, "row above");
    press(&mut desk, "begin the book");
    desk.shows("Here is your first draft");
    desk.shows("What the book is about, in one line");
    desk.keys(b"Oona has a kite. ");
    press(&mut desk, "save");
    desk.shows("Saved first.md.");
    press(&mut desk, "keys");
    desk.keys(b"proof");
    press(&mut desk, "do what is found");
    desk.shows("Write the proof to: first.pdf");
    // A line that is filled in ends like any line.
    desk.keys(b"\r");
    desk.shows("The proof is in first.pdf.");
    press(&mut desk, "leave");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    assert_eq!(names(&folder), ["brief.yaml", "first.md", "first.pdf"]);
    assert!(first(&folder).contains("Oona has a kite. "));
    let brief = fs::read_to_string(folder.path().join("brief.yaml")).expect("the brief");
    for line in ["title: \"The Kite of Dunmore\"", "author: \"R. Okafor-Lind\"", "kind: early reader", "readers: 5-7"] {
        assert!(brief.contains(line), "{line}");
    }
    assert!(fs::read(folder.path().join("first.pdf")).expect("the proof").starts_with(b"%PDF-1.7"));
}

#[test]
fn whoever_leaves_without_an_answer_has_written_nothing() {
    let folder = empty();
    let mut desk = bare(&folder);
    desk.shows("Begin a book");
    press(&mut desk, "leave");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    assert!(names(&folder).is_empty());
}

/// Drafts without a brief get one and stay; a brief without drafts gets a first one and stays.
#[test]
fn what_is_there_already_is_gone_on_with() {
    let folder = empty();
    fs::write(folder.path().join("tide.md"), "The tide is out.\n").expect("written");
    let mut desk = bare(&folder);
    desk.shows("only the title is yours to type. tide.md");
    desk.keys(b"The Tide");
    press(&mut desk, "begin the book");
    desk.shows("The brief is written, in brief.yaml.");
    desk.shows("The tide is out.");
    press(&mut desk, "leave");
    assert_eq!(desk.ends(), 0);
    assert_eq!(names(&folder), ["brief.yaml", "tide.md"]);
    fs::rename(folder.path().join("tide.md"), folder.path().join("tide.txt")).expect("renamed");
    let brief = fs::read(folder.path().join("brief.yaml")).expect("a brief");
    let mut desk = bare(&folder);
    desk.shows("The Tide has a brief and no draft yet.");
    press(&mut desk, "begin the first draft");
    desk.shows("Here is your first draft");
    press(&mut desk, "leave");
    assert_eq!(desk.ends(), 0);
    assert_eq!(names(&folder), ["brief.yaml", "first.md", "tide.txt"]);
    assert_eq!(fs::read(folder.path().join("brief.yaml")).expect("a brief"), brief);
}

#[test]
fn three_hundred_books_are_listed_and_a_desk_leads_back_to_them() {
    let folder = empty();
    let sample = fs::read_to_string("tests/data/one_column.yaml").expect("a brief");
    for number in 0..300 {
        let book = folder.path().join(format!("book-{number:03}"));
        fs::create_dir(&book).expect("a folder");
        let brief = sample.replace("The Lamp at Gull Point", &format!("Otter {number:03}"));
        // Most cannot be read, which is found soon; a few have no draft, and a few have one.
        let brief = if number < 294 { brief.replace("panel:", "pannel:") } else { brief };
        fs::write(book.join("brief.yaml"), brief).expect("a brief");
        if number > 296 {
            fs::copy("drafts/first.md", book.join("first.md")).expect("a draft");
        }
    }
    let mut desk = bare(&folder);
    desk.shows("300 books");
    desk.shows("300 books: 294 cannot be read, 3 have no draft yet, 3 within");
    press(&mut desk, "see why");
    desk.shows("Ctrl-S write it and go on");
    desk.shows("there is no such key; did you mean");
    press(&mut desk, "back to the list");
    desk.shows("300 books:");
    desk.keys(b"otter 298");
    desk.shows("1 of 300 books");
    press(&mut desk, "open");
    desk.shows("Ctrl-Q leads back to the list of books.");
    desk.keys(b"Oona. ");
    press(&mut desk, "save");
    desk.shows("Saved book-298/first.md.");
    press(&mut desk, "leave");
    desk.shows("Find: otter 298");
    desk.until("the book measured again", |screen| !screen.contents().contains("not yet"));
    press(&mut desk, "list all");
    press(&mut desk, "sort");
    desk.shows("by title");
    press(&mut desk, "new book");
    desk.keys(b"The Owl");
    press(&mut desk, "begin the book");
    desk.shows("Here is your first draft");
    press(&mut desk, "leave");
    desk.shows("301 books");
    press(&mut desk, "leave");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    let draft = fs::read_to_string(folder.path().join("book-298/first.md")).expect("the draft");
    assert!(draft.starts_with("Oona. #"), "{draft}");
    let owl: Vec<_> = fs::read_dir(folder.path().join("the-owl")).expect("a folder").collect();
    assert_eq!(owl.len(), 2);
}

/// Killed at any moment, each of the files is whole or not there, and the next start goes on from what there is.
#[test]
fn a_kill_leaves_nothing_half_of_a_book() {
    for moment in [0, 3, 12, 60] {
        let folder = empty();
        let mut desk = bare(&folder);
        desk.shows("Begin a book");
        desk.keys(b"The Kite");
        desk.shows("The Kite");
        desk.keys(b"\x13");
        thread::sleep(Duration::from_millis(moment));
        desk.signal("KILL");
        desk.ends();
        let read = |name: &str| fs::read_to_string(folder.path().join(name)).ok();
        let (brief, draft) = (read("brief.yaml"), read("first.md"));
        assert!(brief.is_some() || draft.is_none(), "{moment} ms: a draft without its brief");
        if let Some(brief) = &brief {
            assert!(brief.ends_with("price_line: { size: 9 pt }\n"), "{moment} ms: {brief}");
            assert!(Brief::read(brief, folder.path()).is_ok(), "{moment} ms: {brief}");
        }
        assert!(draft.as_ref().is_none_or(|draft| draft.ends_with("-->\n")), "{moment} ms: {draft:?}");
        let mut desk = bare(&folder);
        match (brief, draft) {
            (None, _) => {
                desk.shows("Begin a book");
                desk.keys(b"The Kite");
                press(&mut desk, "begin the book");
            }
            (Some(_), None) => press(&mut desk, "begin the first draft"),
            (Some(_), Some(_)) => {}
        }
        desk.shows("What the book is about");
        press(&mut desk, "leave");
        assert_eq!(desk.ends(), 0);
        let left: Vec<String> = names(&folder).into_iter().filter(|name| name.starts_with(".writing")).collect();
        assert!(left.is_empty(), "{moment} ms: {left:?}");
        assert_eq!(names(&folder), ["brief.yaml", "first.md"], "{moment} ms");
    }
}

#[test]
fn words_of_a_new_book_and_the_terminal_survive_a_signal() {
    let folder = empty();
    let mut desk = bare(&folder);
    desk.shows("Begin a book");
    desk.keys(b"The Kite");
    desk.shows("The Kite");
    desk.signal("TERM");
    assert_eq!(desk.ends(), 143);
    desk.is_clean();
    assert!(names(&folder).is_empty());
}
