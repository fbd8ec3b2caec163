//! One file given in the place of another: the message says what it is and what was wanted, in one line.

use super::book::{BRIEF, Book, DRAFT};

const FONT: &[u8] = include_bytes!("../../src/fonts/Nunito-Regular.ttf");

fn desk_full_of_files() -> Book {
    Book::with_draft(DRAFT)
        .file("page.pdf", b"%PDF-1.7\n\xe2\xe3\xcf\xd3\n")
        .file("art.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")
        .file("photo.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF")
        .file("own.ttf", FONT)
        .file("letter.docx", b"PK\x03\x04\x14\0")
        .file("page.md", b"%PDF-1.7\n")
        .file("lamp.md", "true lamps and their keepers\n")
        .file("empty.txt", "")
        .folder("shelf")
}

#[test]
fn what_is_no_text_is_named_wherever_a_text_is_wanted() {
    let book = desk_full_of_files();
    let files = [
        ("page.pdf", "a PDF"),
        ("page.md", "a PDF"),
        ("art.png", "a picture"),
        ("photo.jpg", "a picture"),
        ("own.ttf", "a font"),
    ];
    for (file, kind) in files {
        let told =
            |what: &str| format!("cannot read {what} {file}: it is {kind}, and {what} is a text file; name that");
        for command in ["measure", "fit", "terms", "tighten", "level", "keep"] {
            book.run([command, file]).refuses(&told("the draft"));
        }
        book.run(["panel", "--draft", file]).refuses(&told("the draft"));
        book.run(["panel", file]).refuses(&told("the brief"));
        book.run(["measure", "first.md", "--brief", file]).refuses(&told("the brief"));
        book.run(["terms", "first.md", "--story", file]).refuses(&told("the manuscript"));
        book.run(["level", "first.md", "--familiar", file]).refuses(&told("the list of words"));
    }
    book.run(["measure", "lamp.md"]).answers(0);
}

/// A document is a draft or a manuscript, and nothing else.
#[test]
fn a_document_is_told_wherever_it_is_no_copy() {
    let book = desk_full_of_files();
    let damaged = "it is cut short, or no document; open it in your word processor, save it again, and try that";
    book.run(["measure", "letter.docx"]).refuses(&format!("cannot read the draft letter.docx: {damaged}"));
    book.run(["terms", "first.md", "--story", "letter.docx"])
        .refuses(&format!("cannot read the manuscript letter.docx: {damaged}"));
    let told = "it is a document of a word processor, or an archive, and the brief is a text file; name that";
    book.run(["panel", "letter.docx"]).refuses(&format!("cannot read the brief letter.docx: {told}"));
    let older = "it is a document of another form than .docx and .odt, or locked by a password; in your word processor \
                 save it as .docx or .odt, without a password, and try that";
    for older_form in [&b"{\\rtf1 Oona}"[..], b"\xd0\xcf\x11\xe0\xa1\xb1"] {
        let book = desk_full_of_files().file("old.doc", older_form);
        book.run(["measure", "old.doc"]).refuses(&format!("cannot read the draft old.doc: {older}"));
    }
}

#[test]
fn a_brief_is_no_draft_and_a_draft_is_no_brief() {
    let book = desk_full_of_files();
    let brief = "it is a brief; name a draft, which is a text file that ends in .md, or the book's folder";
    for arguments in
        [&["measure", "brief.yaml"][..], &["keep", "brief.yaml", "--list"], &["panel", "--draft", "brief.yaml"]]
    {
        book.run(arguments).refuses(&format!("cannot read the draft brief.yaml: {brief}"));
    }
    book.run(["terms", "first.md", "--story", "brief.yaml"]).refuses(
        "cannot read the manuscript brief.yaml: it is a brief; name the story, which is a text file or a \
                  document",
    );
    book.run(["level", "first.md", "--familiar", "brief.yaml"])
        .refuses("cannot read the list of words brief.yaml: it is a brief; name a text file with one word a line");
    let draft = "cannot read the brief first.md: it is a draft or another text; name the book's brief.yaml";
    for arguments in [&["panel", "first.md"][..], &["measure", "first.md", "--brief", "first.md"]] {
        book.run(arguments).refuses(draft);
    }
    Book::new().input(BRIEF).run(["measure", "-"]).refuses(
        "cannot read the draft from standard input: it is a brief; hand over a draft, and name the brief with --brief",
    );
    // A brief with a fault is one still, whatever its name.
    book.file("brief.txt", "panel: { trim: large }\n").run(["panel", "brief.txt"]).complains("brief.txt:1:16");
}

#[test]
fn a_font_is_wanted_and_something_else_given() {
    let book = desk_full_of_files();
    for (file, given) in [("art.png", "a picture and "), ("page.pdf", "a PDF and "), ("first.md", "")] {
        book.run(["measure", "first.md", "--font", file]).refuses(&format!(
            "cannot read the font {file}: it is {given}not a TrueType or OpenType font with letters; name a .ttf or \
             .otf file, or serif or sans for a built-in one"
        ));
    }
    let brief = format!("{BRIEF}type: {{ font: -1 }}\n");
    book.file("brief.yaml", brief).run(["measure", "first.md"]).complains(
        "brief.yaml:3:15: cannot read the font -1: there is no such file; write serif or sans for a built-in one",
    );
}

#[test]
fn a_document_in_name_alone_is_refused() {
    let told = "it is no document of a word processor; save it in your word processor as .docx or .odt; if it is plain \
                text, end its name in .md";
    for (name, content) in [("a.docx", DRAFT), ("b.ODT", "  \n"), ("c.odt", "")] {
        let book = Book::new().file(name, content);
        book.run(["measure", name]).refuses(&format!("cannot read the draft {name}: {told}"));
    }
}

#[test]
fn folders_and_files_that_are_not_there_are_told() {
    let book = desk_full_of_files();
    book.run(["measure", "first.md", "--brief", "shelf"])
        .refuses("cannot read the brief shelf: it is a folder; name the file, such as shelf/brief.yaml");
    book.run(["terms", "first.md", "--story", "shelf"])
        .refuses("cannot read the manuscript shelf: it is a folder; name the file in it");
    book.run(["terms", "first.md", "--story", "empty.txt"])
        .refuses("cannot use the manuscript empty.txt: it is empty; name the story");
    book.run(["measure", "first.md", "--brief", "empty.txt"]).complains("empty.txt:1:1: the brief is empty");
    book.run(["panel", "--draft", "shelf"]).refuses("cannot read shelf: it is a folder; name a draft in it");
    book.run(["start", "first.md", "--title", "Oona"])
        .refuses("cannot make the folder first.md: there is a file, and no folder, of that name; name another folder");
}

#[test]
fn every_message_is_one_line_whatever_is_in_it() {
    let name = "one\ntwo.md";
    let book = Book::new().file(name, b"\xff").file("a\u{1b}b\n.md", b"\xff");
    let told = "one<U+000A>two.md:1:1: cannot read the draft";
    for command in ["measure", "fit", "level", "terms", "tighten", "keep"] {
        let outcome = book.run([command, name]);
        outcome.answers(2).complains(told);
        assert_eq!(outcome.complained.lines().count(), 1, "{}", outcome.complained);
    }
    book.run(["measure", "a\u{1b}b\n.md"]).complains("a<U+001B>b<U+000A>.md:1:1");
    for (option, value) in [("--font", "no\nfont"), ("--size", "1\n2"), ("--leading", "x\ny"), ("--brief", "a\nb")] {
        let outcome = book.run(["measure", name, option, value]);
        assert_eq!(outcome.answers(2).complained.lines().count(), 1, "{}", outcome.complained);
    }
    for brief in [
        "panel: { trim: 8.5 x 8.5 in, binding: \"paper\\n\\e[31mback\" }\n",
        "panel: { trim: 8.5 x 8.5 in }\n\"a\\nb\": 1\n",
        "panel: { trim: 8.5 x 8.5 in }\nqueries: { lists: { praise: { file: \"a\\nb.txt\" } } }\n",
        "panel: |\n  one\n  two\n",
    ] {
        let outcome = Book::with_draft(DRAFT).file("brief.yaml", brief).run(["measure", "first.md"]);
        assert_eq!(outcome.answers(2).complained.lines().count(), 1, "{}", outcome.complained);
    }
    for (typed, told) in [("--format=te\nxt", "\"te<U+000A>xt\""), ("--fo\nnt", "--fo<U+000A>nt is not known")] {
        let outcome = book.run(["compare", "first.md", typed]);
        assert!(outcome.answers(2).complained.contains(told), "{}", outcome.complained);
        assert_eq!(outcome.complained.lines().count(), 1, "{}", outcome.complained);
    }
}

#[test]
fn a_long_text_in_the_place_of_a_value_is_told_by_its_beginning() {
    let brief = format!("panel:\n  {}\n", "the lamp is out and the boats are on the sea ".repeat(50));
    let outcome = Book::with_draft(DRAFT).file("brief.yaml", brief).run(["measure", "first.md"]);
    outcome.answers(2).complains("\"the lamp is out and the boats are on the sea the lamp is out...\"");
}
