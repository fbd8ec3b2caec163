//! Other words from the command line: for the whole draft, and for one word.

use serde_json::Value;

use super::book::Book;
use super::schema::Schema;

const BRIEF: &str = "book: { title: The Lamp, readers: 4-8 }\nterms: [lighthouse]\npanel: { trim: 8.5 x 8.5 in }\n";
const DRAFT: &str = "On an eerie night Oona embarks on a perilous voyage to the lighthouse. Her companion, a timid \
                     fox, is terrified of the dark, and the sea is calm.\n\n> \"A perilous read.\"\n> — A. Fenn, \
                     Tide Weekly\n";

fn book() -> Book {
    Book::empty().file("brief.yaml", BRIEF).file("first.md", DRAFT)
}

fn flat(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_page_has_each_word_that_the_readers_may_not_know() {
    let page = book().run(["words", "first.md"]).answers(0).printed.clone();
    let page = flat(&page);
    for part in [
        "first.md: other words",
        "outside the list of words that are familiar to the readers.",
        "1:7 eerie",
        "a spooky: as long",
        "perilous dangerous: 1 letter more, New Dale-Chall",
        "New Dale-Chall is 23.8 now; a higher figure is easier to read.",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
}

#[test]
fn one_word_is_asked_about_in_any_form() {
    let book = book();
    let page = flat(&book.run(["words", "first.md", "embark"]).answers(0).printed);
    assert!(page.contains("first.md: other words for \"embark\" New Dale-Chall is 23.8 now;"), "{page}");
    assert!(page.contains("1:24 embarks sets off: as long, New Dale-Chall"), "{page}");
    let page = flat(&book.run(["words", "first.md", "PERILOUS"]).answers(0).printed);
    assert!(page.contains("it stands in somebody else's words"), "{page}");
    book.run(["words", "first.md", "dragon"])
        .answers(2)
        .complains("cannot find other words in first.md: the word \"dragon\" does not stand in it");
}

#[test]
fn the_json_keeps_its_schema() {
    let book = book();
    let schema = Schema::of("words");
    for arguments in [&["words", "first.md"][..], &["words", "first.md", "timid"]] {
        let arguments = [arguments, &["--format", "json"]].concat();
        let json: Value = serde_json::from_str(&book.run(arguments).printed).expect("the output is JSON");
        assert!(schema.is_kept_by(&json), "{json}");
    }
    let json: Value =
        serde_json::from_str(&book.run(["words", "first.md", "timid", "--format", "jsonl"]).printed).expect("JSON");
    let first = &json["words"][0];
    assert_eq!(
        (&first["word"], &first["unfamiliar"], &first["why_none"]),
        (&"timid".into(), &true.into(), &Value::Null)
    );
    let other = &first["others"][0];
    assert_eq!((&other["wording"], &other["letters"]), (&"shy".into(), &2.into()));
}

#[test]
fn a_book_in_another_language_says_so() {
    let book = Book::empty().file("brief.yaml", BRIEF.replace("readers", "language: de, readers"));
    let book = book.file("first.md", "Ein Hund bellt.\n");
    book.run(["words", "first.md"]).prints("No list of familiar words suits this copy");
    let page = flat(&book.run(["words", "first.md", "Hund"]).answers(0).printed);
    assert!(page.contains("the lists of other words are of English, and this book is in another language"), "{page}");
}
