//! The language of the copy: which rules do not know it is told on every page and in JSON, and so is a brief that names
//! another.

use serde_json::Value;

use super::book::Book;

const GERMAN: &str = "Es war einmal ein Fisch, der in einem tiefen See mit seiner Mutter und mit den anderen Fischen \
                      wohnte und nicht wusste, was hinter dem Ufer war.\n";

fn book(brief: &str) -> Book {
    let panel = "panel: { trim: 10 x 10 in }\n";
    Book::empty().file("brief.yaml", format!("{brief}\n{panel}")).file("fisch.md", GERMAN)
}

fn json(book: &Book, command: &str) -> Value {
    serde_json::from_str(&book.run([command, "fisch.md", "--format", "json"]).printed).expect("JSON")
}

#[test]
fn rules_that_do_not_know_the_language_are_told_in_a_line() {
    let book = book("book: { language: de }");
    let told = "16 rules do not know German and look for nothing: wordy phrase, doublet, empty modifier,";
    let flat = |page: &str| page.split_whitespace().collect::<Vec<_>>().join(" ");
    for command in ["measure", "tighten"] {
        let page = book.run([command, "fisch.md"]);
        assert!(flat(&page.printed).contains(told), "{}", page.printed);
        let json = json(&book, command);
        let language = &json["language"];
        assert_eq!((&language["read_as"], &language["brief_says"]), (&"German".into(), &Value::Null));
        let silent = language["rules_silent"].as_array().expect("rules");
        assert!(silent.contains(&"passive".into()) && !silent.contains(&"praise".into()), "{silent:?}");
    }
    let queries = json(&book, "tighten");
    assert_eq!(queries["queries"][0]["text"], Value::from("Es war einmal"));
}

#[test]
fn a_brief_that_names_another_language_is_told() {
    for brief in ["", "book: { language: en-GB }"] {
        let book = book(brief);
        let page = book.run(["measure", "fisch.md"]);
        let flat = page.printed.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains("the words of this copy are German, and the book's language is English"), "{flat}");
        assert!(flat.contains("write `language: de` under `book` in the brief"), "{flat}");
        assert_eq!(json(&book, "measure")["language"]["brief_says"], Value::from("English"));
    }
}

#[test]
fn of_english_nothing_is_told() {
    let book = book("").file("fisch.md", "Once there was a fish.\n");
    for command in ["measure", "tighten"] {
        assert!(!book.run([command, "fisch.md"]).printed.contains("do not know"));
        assert_eq!(json(&book, command)["language"]["rules_silent"], Value::Array(Vec::new()));
    }
}

#[test]
fn of_a_language_without_lists_more_rules_are_silent() {
    let book = book("book: { language: sv }");
    let page = book.run(["tighten", "fisch.md"]).printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("20 rules do not know the language of this copy and look for nothing: wordy"), "{page}");
}
