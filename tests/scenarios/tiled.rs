//! A proof on the paper at hand: a page a sheet of paper, and never another form.

use std::fs;

use super::book::Book;

#[test]
fn a_proof_is_tiled_on_the_paper_at_hand() {
    let book = Book::sample();
    let pages = |arguments: &[&str]| {
        let all: Vec<&str> = ["proof", "first.md", "-o", "sheets.pdf"].iter().chain(arguments).copied().collect();
        let output = book.output(all);
        assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
        let bytes = fs::read(book.path("sheets.pdf")).expect("the proof");
        let text = String::from_utf8_lossy(&bytes).into_owned();
        (text.matches("/MediaBox").count(), text)
    };
    assert_eq!(pages(&[]).0, 1);
    let (upright, lying) = ("[0 0 595.2756 841.8898]", "[0 0 841.8898 595.2756]");
    let (count, text) = pages(&["--paper", "a4"]);
    assert!(count > 1, "{count}");
    // Each page has three boxes, all as large as the paper.
    assert_eq!(text.matches(upright).count().max(text.matches(lying).count()), count * 3);
    let (fewer, _) = pages(&["--paper", "a3"]);
    assert!(fewer < count, "{fewer} of {count}");
}

#[test]
fn paper_is_refused_where_there_are_no_pages() {
    let book = Book::sample();
    for output in ["sheets.svg", "sheets.png"] {
        book.run(["proof", "first.md", "--paper", "letter", "-o", output]).refuses(
            "--paper: sheets of paper are pages, and only a PDF has pages; end the file's name in .pdf, or leave out \
             --paper",
        );
        assert!(!book.path(output).exists());
    }
    book.run(["proof", "first.md", "--paper", "a5", "-o", "x.pdf"]).answers(2).complains("a4, letter");
}
