//! Kept copies: made, listed, compared with, brought back, and never lost.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use super::book::{Book, DRAFT};
use crate::program;
use crate::tried::tried;

/// Runs the program where it is meant to write.
#[track_caller]
fn done(book: &Book, arguments: &[&str]) -> String {
    let output = book.output(arguments);
    assert!(output.status.success() && output.stderr.is_empty(), "{output:?}");
    String::from_utf8(output.stdout).expect("text")
}

/// The files of a draft's kept copies, the oldest first.
fn copies(book: &Book) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(book.path("kept/first")) else { return Vec::new() };
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let is_copy = |path: &PathBuf| {
        path.extension().is_some_and(|ending| ending == "md")
            && !path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
    };
    let mut copies: Vec<PathBuf> = paths.filter(is_copy).collect();
    copies.sort();
    copies
}

#[test]
fn a_copy_has_its_date_its_name_and_its_measures() {
    let book = Book::with_draft(DRAFT);
    let said = done(&book, &["keep", "first.md", "--name", "For the Designer"]);
    assert!(said.starts_with("kept kept/first/20") && said.contains("-for-the-designer.md\n"), "{said}");
    assert!(said.contains("\"For the Designer\", 20") && said.contains("13 words, 49 letters"), "{said}");
    let copy = &copies(&book)[0];
    assert_eq!(fs::read_to_string(copy).expect("a copy"), DRAFT);
    let record = fs::read_to_string(copy.with_extension("yaml")).expect("a record");
    assert!(record.contains("\nname: \"For the Designer\"\nwords: 13\nletters: 49\n"), "{record}");
}

#[test]
fn copies_are_listed_in_the_order_in_which_they_were_kept_and_are_no_drafts_of_the_book() {
    let book = Book::with_draft(DRAFT);
    for name in ["z", "a", "", "m"] {
        done(&book, &["keep", "first.md", "--name", name]);
    }
    let list = book.run(["keep", "first.md", "--list"]);
    let places: Vec<Option<usize>> =
        ["-z.md", "-a.md", "-m.md"].iter().map(|name| list.answers(0).printed.find(name)).collect();
    assert!(places[0].is_some() && places.is_sorted(), "{}", list.printed);
    list.prints("first.md: 4 copies kept\n");
    assert_eq!(book.measured(["."]).len(), 1);
    book.run(["compare", "first.md", "--kept"]).answers(0).prints("5 drafts side by side");
    let one = copies(&book)[0].clone();
    book.run(["compare".as_ref(), one.as_os_str(), "first.md".as_ref()])
        .answers(0)
        .prints("The two drafts print the same.");
}

#[test]
fn the_history_is_a_row_for_each_measure() {
    let book = Book::with_draft("One two three four.\n");
    done(&book, &["keep", "first.md"]);
    let book = book.file("first.md", "One two.\n");
    done(&book, &["keep", "first.md", "--name", "short"]);
    let book = book.file("first.md", "One two three.\n");
    let history = book.run(["keep", "first.md", "--history"]);
    history.answers(0).prints("words    █▁▅  4 2 3\n").prints("terms    ▅▅▅  0 0 0\n").prints("  short\n");
    let done = book.output(["compare", "first.md", "--kept", "-o", "a.html"]);
    assert!(done.status.success());
    assert!(fs::read_to_string(book.path("a.html")).expect("a page").contains("<h2>How first.md came to be</h2>"));
}

#[test]
fn bringing_back_keeps_the_present_draft_first_and_once() {
    let book = Book::with_draft("The first.\n");
    done(&book, &["keep", "first.md"]);
    let first = copies(&book)[0].to_string_lossy().into_owned();
    let book = book.file("first.md", "The second.\n");
    let said = done(&book, &["keep", "--bring-back", &first, "first.md"]);
    assert!(said.contains("before-another-was-brought-back.md") && said.contains("\nbrought back "), "{said}");
    let text = |book: &Book| fs::read_to_string(book.path("first.md")).expect("a draft");
    assert_eq!(text(&book), "The first.\n");
    assert_eq!(copies(&book).len(), 2);
    let second = copies(&book)[1].to_string_lossy().into_owned();
    assert!(done(&book, &["keep", "first.md", "--bring-back", &second]).contains("is kept already"));
    assert_eq!((text(&book).as_str(), copies(&book).len()), ("The second.\n", 2));
    assert_eq!(done(&book, &["keep", "first.md", "--bring-back", &second]), "first.md is that copy already\n");
    fs::remove_file(book.path("first.md")).expect("a draft can be taken away");
    done(&book, &["keep", "first.md", "--bring-back", &first]);
    assert_eq!(text(&book), "The first.\n");
    book.run(["keep", "first.md", "--bring-back", "none.md"]).answers(2).complains("there is no such file");
    book.run(["keep", "--bring-back", &first]).answers(2).complains("name the draft in whose place the copy comes");
}

#[test]
fn what_cannot_be_measured_is_kept_all_the_same() {
    let book = Book::empty().file("brief.yaml", "panel: {}\n").file("first.md", DRAFT);
    assert!(done(&book, &["keep", "first.md"]).contains("not measured"));
    assert_eq!(fs::read_to_string(&copies(&book)[0]).expect("a copy"), DRAFT);
    book.run(["keep", "first.md", "--list"]).answers(0).prints("not measured");
}

/// Whenever the program is stopped, the draft is whole, and what it said before is in it or in a copy.
#[test]
fn nothing_is_lost_when_the_program_is_killed() {
    let mut book = Book::with_draft("The first.\n");
    done(&book, &["keep", "first.md"]);
    let first = copies(&book)[0].to_string_lossy().into_owned();
    let mut written: BTreeSet<String> = BTreeSet::from(["The first.\n".to_owned()]);
    let mut brought_back = 0;
    let mut undisturbed = Duration::ZERO;
    let turns = tried(180);
    for turn in 0..=turns {
        // Long enough that a half file would show.
        let present = format!("Draft {turn}. {}\n", "word ".repeat(4_000));
        book = book.file("first.md", &present);
        written.insert(present.clone());
        let start = Instant::now();
        let mut child = book.command(["keep", "first.md", "--bring-back", &first]).spawn().expect("the program starts");
        if turn == 0 {
            child.wait().expect("the program ends");
            undisturbed = start.elapsed();
        } else {
            // From before the program has begun to after it has ended, in no order.
            std::thread::sleep(undisturbed * (turn * 37 % turns) / turns * 6 / 5);
            let _ = child.kill();
            child.wait().expect("the program ends");
        }
        let now = fs::read_to_string(book.path("first.md")).expect("a draft");
        let kept: BTreeSet<String> =
            copies(&book).iter().map(|copy| fs::read_to_string(copy).expect("a copy")).collect();
        assert!(kept.is_subset(&written), "a copy is not whole");
        assert!(
            now == present || (now == "The first.\n" && kept.contains(&present)),
            "turn {turn}: the draft was lost"
        );
        brought_back += u32::from(now != present);
    }
    assert!(brought_back > 1 && brought_back < turns, "{brought_back} of {turns} runs came to their end");
}

/// A file may not have a single byte here, as on a disk that is full.
#[cfg(unix)]
#[test]
fn where_nothing_can_be_written_no_empty_folder_stays() {
    let book = Book::with_draft(DRAFT);
    let script = "trap '' XFSZ; ulimit -f 0; exec \"$0\" keep first.md";
    let mut command = std::process::Command::new("/bin/sh");
    command.args(["-c", script]).arg(program::path()).current_dir(book.path(""));
    let output = command.output().expect("it runs");
    assert_eq!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(!book.path("kept").exists());
}
