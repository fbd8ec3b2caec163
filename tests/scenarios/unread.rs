//! Drafts that cannot be read among others that can: each is told, none stops the others, and a script sees as many
//! objects as drafts.

use serde_json::Value;

use super::book::{BRIEF, Book, DRAFT};
use super::schema::Schema;

const OTHER: &str = "Oona climbs the stairs. The lamp is dark, and every boat is out.\n";

/// Eleven books that can be read, one whose brief cannot, and one without a draft.
fn shelf() -> Book {
    let book = (1..12).fold(Book::empty(), |book, number| {
        book.file(&format!("{number:02}/brief.yaml"), BRIEF).file(&format!("{number:02}/first.md"), DRAFT)
    });
    book.file("05/second.md", OTHER)
        .file("12/brief.yaml", "panel: { trim: large }\n")
        .file("12/first.md", DRAFT)
        .file("13/brief.yaml", BRIEF)
}

const BROKEN: &str = "12/brief.yaml:1:16";
const WITHOUT: &str = "there is no draft in ./13; a draft is a file that ends in .md";

#[test]
fn a_list_tells_of_a_broken_brief_and_of_a_book_without_a_draft() {
    let list = shelf();
    let outcome = list.run(["measure", "."]);
    outcome.answers(2).prints(&format!("\n         - {BROKEN}: ")).prints(&format!("\n         - {WITHOUT}\n"));
    outcome.prints("\n14 drafts of 13 books: 2 could not be read and 12 are within every limit.\n");
    Book::new().run(["measure", "."]).refuses("there is no draft in .; a draft is a file that ends in .md");
    Book::new().run(["desk"]).answers(2);
}

#[test]
fn in_json_what_could_not_be_read_stands_in_its_place() {
    let list = shelf();
    let schema = Schema::of("unread");
    for command in ["measure", "fit", "level", "terms", "tighten"] {
        let outcome = list.run([command, ".", "--format", "jsonl"]);
        outcome.answers(2).complains(BROKEN).complains(WITHOUT);
        let lines: Vec<Value> =
            outcome.printed.lines().map(|line| serde_json::from_str(line).expect("a line is one object")).collect();
        let array = list.run([command, ".", "--format", "json"]).answers(2).printed.clone();
        let array: Vec<Value> = serde_json::from_str(&array).expect("an array");
        assert_eq!(lines, array, "{command}");
        assert_eq!(lines.len(), 14, "{command}");
        let unread: Vec<&Value> = lines.iter().filter(|object| schema.is_kept_by(object)).collect();
        assert_eq!(unread, [&lines[12], &lines[13]], "{command}");
        assert_eq!((&unread[0]["path"], &unread[1]["path"]), (&"./12/first.md".into(), &"./13".into()), "{command}");
        assert!(unread[0]["message"].as_str().is_some_and(|told| told.starts_with(BROKEN)), "{command}");
        assert_eq!(unread[1]["message"], WITHOUT, "{command}");
    }
    let alone = Book::new().run(["measure", "none.md", "--format", "json"]).answers(2).printed.clone();
    assert!(schema.is_kept_by(&serde_json::from_str(&alone).expect("an object")), "{alone}");
}

#[test]
fn a_comparison_and_a_proof_go_on_without_what_could_not_be_read() {
    let list = shelf();
    let outcome = list.run(["compare", ".", "--format", "json"]);
    outcome.answers(2).complains(BROKEN).complains(WITHOUT);
    let compared: Value = serde_json::from_str(&outcome.printed).expect("JSON");
    assert_eq!(compared["drafts"].as_array().map(Vec::len), Some(12));
    assert_eq!(compared["unread"][0]["path"], "./12/first.md");
    assert_eq!(compared["unread"][1]["message"], WITHOUT);
    list.run(["compare", "01", "12"]).answers(2).complains("01/first.md alone could be read");
    list.run(["compare", "12", "13"]).answers(2).complains("no draft could be read");
    for (command, output) in [("proof", "all.svg"), ("compare", "all.html")] {
        let made = list.output([command, ".", "-o", output]);
        assert_eq!(made.status.code(), Some(2), "{command}");
        let complained = String::from_utf8_lossy(&made.stderr).into_owned();
        assert!(complained.contains("12/brief.yaml:1:16") && complained.contains("no draft in ./13"), "{complained}");
        assert!(list.read(output).contains("11/first.md"), "{command}");
    }
    list.run(["proof", "12", "-o", "none.pdf"]).answers(2);
}

#[test]
fn keeping_goes_on_with_the_drafts_that_can_be_read() {
    let book = Book::with_draft(b"\xff").file("second.md", DRAFT);
    let kept = book.output(["keep", "."]);
    assert_eq!(kept.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&kept.stdout).contains("kept/second/"));
    assert!(!book.path("kept/first").exists());
    book.run(["keep", "none.md", "--list"])
        .refuses("cannot read the draft none.md: there is no such file; check the name and the folder");
}
