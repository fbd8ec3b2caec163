//! Verse, whose lines the author has ended, and words of praise, which nobody may shorten.

use super::book::{BRIEF, Book};

const VERSE: &str = "A snail went slowly up a long and steep hill,\\\nAnd with her she carried a small silver shell,\\\n\
                     A lamp, a long ladder, a letter, a light,\\\nAnd she counted the stars through the whole of the \
                     night.\n";

/// The pages that tell what a line costs, at several widths of the panel.
fn pages(draft: &str) -> String {
    let book = |width: &str| {
        let brief = format!("panel: {{ trim: {width} x 8 in, margins: 0.5 in }}\n");
        Book::empty().file("brief.yaml", brief).file("a.md", draft)
    };
    let books = ["2.6", "2.8", "3", "3.2", "3.4", "3.6"].map(book);
    let print = |book: &Book| ["fit", "tighten"].map(|command| book.run([command, "a.md"]).printed.clone()).concat();
    let pages = books.iter().map(print).collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(pages.contains("too many for"), "no line could be won, which shows nothing: {pages}");
    pages
}

#[test]
fn no_cut_of_verse_runs_over_the_end_of_a_line() {
    let pages = pages(VERSE);
    assert!(!pages.contains("U+000A"), "{pages}");
    for offered in pages.split("in whole words, \"").skip(1).filter_map(|rest| rest.split('"').next()) {
        assert!(VERSE.lines().any(|line| line.contains(offered)), "{offered}");
    }
}

#[test]
fn no_words_of_praise_are_offered_for_a_cut() {
    let pages = pages(
        "> “A small book in order to be read at this point in time, and due to the fact that it is kind, one to keep \
         for ever and ever.”\n>\n> Ines Marlow, librarian\n",
    );
    assert!(!pages.contains("in whole words") && !pages.contains(" after "), "{pages}");
}

#[test]
fn ends_of_lines_are_shown_between_words_and_no_backslash_is() {
    let flat = |text: &str, command: &str| {
        let page = Book::empty().file("brief.yaml", BRIEF).file("a.md", text).run([command, "a.md"]).printed.clone();
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let page = flat("The small dog ran to the big red house and\\\nthen, in order to sleep, lay down.\n", "tighten");
    assert!(page.contains("before The small dog ran to the big red house and / then, {in order to} sleep"), "{page}");
    let page = flat("The dog ran. The dog sat down and the cat ran to the house and\\\nthe dog saw a lamp.\n", "level");
    assert!(page.contains("the house and / the dog saw a lamp."), "{page}");
}
