//! Documents of word processors as drafts, and agreed copy handed over.

use std::fs;

use blurbwright::packing::zip_writer::{Packing, ZipWriter};

use super::book::{Book, DRAFT};

/// A .docx with one paragraph and a comment.
fn document() -> Vec<u8> {
    let body = "<w:document xmlns:w=\"w\"><w:body><w:p><w:r><w:t>Oona climbs the \u{1b}[31mstairs. The lamp is dark, \
                and the boats are out.</w:t><w:commentReference/></w:r></w:p></w:body></w:document>";
    let mut zip = ZipWriter::default();
    zip.add("word/document.xml", body.as_bytes(), Packing::Deflated);
    zip.written()
}

fn book() -> Book {
    Book::new().file("story.docx", document())
}

const TOLD: &str = "1 comment was left out; lines are counted as in the draft that the desk saves of it\n";

#[test]
fn every_command_that_takes_a_draft_takes_a_document() {
    let book = book();
    for command in [&["measure"][..], &["fit"], &["level"], &["terms"], &["tighten"], &["words"], &["panel", "--draft"]]
    {
        let outcome = book.run(command.iter().chain(&["story.docx"]));
        assert_eq!(outcome.complained, format!("story.docx: {TOLD}"), "{command:?}");
        outcome.answers(0);
    }
    book.run(["compare", "story.docx", "story.docx"]).answers(0).complains(TOLD);
    book.run(["proof", "story.docx", "-o", "-", "--format", "svg"]).answers(0).prints("<svg").complains(TOLD);
    book.run(["terms", "story.docx", "--story", "story.docx"]).answers(0).complains(TOLD);
    let measured = book.measured(["story.docx"]);
    assert_eq!(measured[0]["document"][0], "1 comment was left out");
    assert_eq!(measured[0]["length"]["words"], 13);
    // Among the drafts of a folder a document is not listed.
    book.file("first.md", DRAFT).run(["measure", ".", "--list"]).answers(0).is_silent_on_errors();
}

#[test]
fn a_document_comes_in_by_standard_input_and_text_in_utf_16_too() {
    let book = book().input(document());
    book.run(["measure", "-"]).answers(0).complains(&format!("standard input: {TOLD}"));
    let letters: Vec<u8> =
        "\u{feff}Oona climbs.\r\nThe lamp is dark.".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let book = Book::new().file("first.txt", letters);
    book.run(["measure", "first.txt"]).answers(0).prints("2 sentences in 1 paragraph").complains("saved as UTF-16");
}

/// A designer's round through an ONIX record: the texts that were handed over are a draft of the same book, for every
/// command, and no feed.
#[test]
fn the_texts_of_a_record_that_were_handed_over_come_back_as_a_draft() {
    let book = Book::sample();
    let done = |arguments: &[&str]| book.output(arguments).status.code();
    assert_eq!(done(&["handover", "first.md", "-o", "copy.xml"]), Some(0));
    let told = "copy.xml: the texts of an ONIX record are read as one draft; lines are counted as in the draft that \
                the desk saves of it\n";
    for command in [&["measure"][..], &["fit"], &["level"], &["terms"], &["tighten"], &["words"]] {
        let outcome = book.run(command.iter().chain(&["copy.xml"]));
        assert_eq!(outcome.complained, told, "{command:?}");
        outcome.answers(0);
    }
    assert_eq!(done(&["handover", "copy.xml", "-o", "again.xml"]), Some(0));
    let [first, again] = ["copy.xml", "again.xml"].map(|name| fs::read_to_string(book.path(name)).ok());
    assert!(first.is_some() && first == again, "{first:?}\n{again:?}");
    // A feed beside it is still one, and so is one that is named so and cannot be read.
    let book = book.file("feed.xml", "<ONIXMessage/>");
    book.run(["measure", "feed.xml"]).answers(2).complains("read the feed feed.xml");
    let book = book.file("feed.md", "<?xml version=\"1.0\"?>\n<ONIXMessage/>").file("story.xml", document());
    book.run(["measure", "feed.md"])
        .answers(2)
        .complains("feed.md: it is a feed of ONIX for Books; end its name in .xml");
    book.run(["measure", "story.xml"]).complains(&format!("story.xml: {TOLD}"));
    book.file("cut.xml", "<CollateralDetail>\n<TextContent>")
        .run(["fit", "cut.xml"])
        .refuses("cannot read the draft cut.xml, line 2: it breaks off here; have it sent again, whole");
}

/// Nothing is written into a document, whatever is brought back in its place.
#[test]
fn a_kept_copy_of_a_document_does_not_come_back_in_its_place() {
    let book = book();
    let done = |arguments: &[&str]| book.output(arguments).status.code();
    assert_eq!(done(&["keep", "story.docx", "--name", "x"]), Some(0));
    let kept = fs::read_dir(book.path("kept/story")).into_iter().flatten().flatten().map(|entry| entry.path());
    let copy = kept.filter(|path| path.extension().is_some_and(|ending| ending == "md")).last().unwrap_or_default();
    fs::write(&copy, "Another.\n").unwrap_or_else(|error| panic!("{}: {error}", copy.display()));
    let copy = copy.to_string_lossy().into_owned();
    assert_eq!(done(&["keep", "story.docx", "--bring-back", &copy]), Some(2));
    assert_eq!(fs::read(book.path("story.docx")).ok(), Some(document()));
}

#[test]
fn agreed_copy_is_handed_over_once_and_says_what_is_not_agreed() {
    let book = Book::with_draft("Oona's lamp is dark.\n\n## Price line\n\n$9\n");
    book.run(["handover", "first.md", "-o", "-", "--format", "text"])
        .answers(0)
        .prints("Oona’s lamp is dark.\n\n$9\n")
        .complains("1 mark of a keyboard was set as a printer sets it");
    book.run(["handover", "first.md", "-o", "-", "--format", "onix"]).answers(0).complains("Left out: the price line");
    book.run(["handover", "first.md", "-o", "first.pdf"]).answers(2).complains("cannot tell the form of first.pdf");
    book.run(["handover", "first.md", "-o", "a.txt", "--short"])
        .refuses("--short: only an ONIX record has a short description");
    let once = book.output(["handover", "first.md", "-o", "out.docx"]);
    let printed = String::from_utf8_lossy(&once.stdout).into_owned();
    assert!(printed.starts_with("out.docx holds the copy of first.md: 2 blocks.\n"), "{printed}");
    book.run(["handover", "first.md", "-o", "out.docx"]).refuses(
        "cannot write out.docx: there is one already, and it is never overwritten; name another place, or move it away",
    );
    let long = Book::with_draft("Oona climbs the stairs again. ".repeat(20));
    long.run(["handover", "first.md", "-o", "-", "--format", "text"])
        .answers(1)
        .complains("The copy does not keep the brief: something is over, or outside a limit.");
    long.run(["handover", "first.md", "-o", "a.xml", "--short"]).refuses(
        "--short: the blurb has 599 characters, and a short description has 350 at most; leave it out, or name a draft \
         with a shorter blurb",
    );
    Book::with_draft("").run(["handover", "first.md", "-o", "a.txt"]).answers(2).complains("there is no copy in it");
}
