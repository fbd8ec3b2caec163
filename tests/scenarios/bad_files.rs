//! Files that are not what they are named for: too large, no text, no font, a folder.

use super::book::{BRIEF, Book, DRAFT};

const HUNDRED_MB: u64 = 100_000_000;

const FONT: &[u8] = include_bytes!("../../src/fonts/Nunito-Regular.ttf");

#[test]
fn a_draft_that_is_not_there_is_told() {
    Book::new()
        .run(["measure", "none.md"])
        .refuses("cannot read the draft none.md: there is no such file; check the name and the folder");
}

#[test]
fn a_draft_that_is_not_utf8_is_told_with_its_place() {
    Book::with_draft(b"Oona waits.\nCaf\xe9 noir.\n").run(["measure", "first.md"]).refuses(
        "first.md:2:4: cannot read the draft: a letter here is saved in a form that cannot be read; in your editor \
         save the file as plain text with the encoding UTF-8, and try again",
    );
    // UTF-16 by its mark, with half a letter behind it.
    Book::with_draft(b"\xff\xfeO\0\x3d\xd8").run(["measure", "first.md"]).answers(2).complains("first.md:1:1");
    let input = Book::new().input(b"\n\n\xc0");
    input.run(["measure", "-"]).answers(2).complains("standard input:3:1: cannot read the draft");
}

#[test]
fn a_file_of_100_mb_is_refused_before_it_is_read() {
    let book = Book::with_draft(DRAFT).huge_file("huge", HUNDRED_MB);
    let told = |what: &str, limit: u32| {
        format!(
            "cannot read {what} huge: it is larger than {limit} MB, which no such file needs; check that it is the \
             file you meant"
        )
    };
    book.run(["measure", "huge"]).refuses(&told("the draft", 16));
    book.run(["measure", "first.md", "--brief", "huge"]).refuses(&told("the brief", 1));
    book.run(["measure", "first.md", "--font", "huge"]).refuses(&told("the font", 64));
}

#[test]
fn a_list_of_phrases_that_cannot_be_used_is_told_with_its_place() {
    let brief = format!("{BRIEF}queries:\n  lists:\n    praise: {{ file: house.txt }}\n");
    let line = BRIEF.lines().count() + 3;
    let book = Book::with_draft(DRAFT).file("brief.yaml", &brief);
    book.run(["measure", "first.md"]).refuses(&format!(
        "brief.yaml:{line}:21: cannot read the list of phrases house.txt: there is no such file; check the name and \
         the folder"
    ));
    let book = book.file("house.txt", "# ours\nwonderful\nvery, very good\n");
    book.run(["measure", "first.md"]).refuses(&format!(
        "brief.yaml:{line}:21: cannot use the list of phrases house.txt, line 3: \"very,\" is no word; write words \
         with blanks between them, and no other marks"
    ));
    book.file("house.txt", "wonderful\n").run(["measure", "first.md"]).answers(0);
}

#[test]
fn standard_input_without_end_is_refused() {
    let book = Book::new().input(vec![b'a'; 17 * 1024 * 1024]);
    book.run(["measure", "-"]).answers(2).complains("standard input: it is larger than 16 MB");
}

/// What tries the copy again and again would make a long wait of a manuscript.
#[test]
fn a_draft_of_book_length_is_measured_and_not_tightened() {
    let book = Book::with_draft("The tide is out. ".repeat(12_000))
        .file("story.txt", "The tide is in.\n")
        .file("second.md", DRAFT);
    for (arguments, operation) in [
        (&["tighten", "first.md"][..], "look for cuts in"),
        (&["fit", "first.md"], "try every size of"),
        (&["terms", "first.md", "--story", "story.txt"], "hold against a story"),
    ] {
        book.run(arguments).refuses(&format!(
            "cannot {operation} first.md: it has 204 kB, and 200 kB are the most for that; measure and level take \
             longer ones"
        ));
    }
    let refusal = "cannot compare first.md: it has 204 kB, and 200 kB are the most for that";
    book.run(["compare", "first.md", "second.md"]).answers(2).complains(refusal);
    assert!(book.run(["level", "first.md"]).printed.contains("Level"));
}

#[test]
fn a_folder_named_like_a_draft_is_opened() {
    let book = Book::new().file("first.md/inner.md", DRAFT);
    assert_eq!(book.measured(["first.md"])[0]["draft"]["path"], "first.md/inner.md");
    Book::new()
        .folder("first.md")
        .run(["measure", "first.md"])
        .refuses("there is no draft in first.md; a draft is a file that ends in .md");
}

#[test]
fn a_font_that_is_no_font_is_refused() {
    let noise: Vec<u8> = (0..40_000_u32).map(|number| (number.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let faked = [&[0, 1, 0, 0, 0, 12][..], &noise].concat();
    for content in [b"This is text.\n".to_vec(), Vec::new(), noise, faked, FONT[..12].to_vec(), FONT[..2000].to_vec()] {
        let book = Book::with_draft(DRAFT).file("own.ttf", content);
        book.run(["measure", "first.md", "--font", "own.ttf"]).refuses(
            "cannot read the font own.ttf: it is not a TrueType or OpenType font with letters; name a .ttf or .otf \
             file, or serif or sans for a built-in one",
        );
    }
    Book::with_draft(DRAFT)
        .folder("own.ttf")
        .run(["measure", "first.md", "--font", "own.ttf"])
        .refuses("cannot read the font own.ttf: it is a folder; name the file in it");
}

#[test]
fn a_font_named_by_a_brief_is_looked_for_beside_it() {
    let brief = format!("{BRIEF}type: {{ font: fonts/own.ttf }}\n");
    let book = Book::empty().file("book/brief.yaml", brief).file("book/first.md", DRAFT);
    book.run(["measure", "book/first.md"])
        .answers(2)
        .complains("book/brief.yaml:3:15: cannot read the font book/fonts/own.ttf: there is no such file");
}

/// A font may be damaged anywhere; whatever can still be read of it, nothing breaks.
#[test]
fn a_damaged_font_never_breaks_the_program() {
    for cut in (1..16).map(|part| FONT.len() * part / 16) {
        let mut damaged = FONT.to_vec();
        damaged[cut..(cut + 64).min(FONT.len())].fill(0xff);
        let book = Book::with_draft(DRAFT).file("cut.ttf", &FONT[..cut]).file("damaged.ttf", damaged);
        for font in ["cut.ttf", "damaged.ttf"] {
            let outcome = book.run(["measure", "first.md", "--font", font]);
            assert!(!outcome.complained.contains("panicked"), "{font} at {cut}: {}", outcome.complained);
        }
    }
}

#[test]
fn letters_that_another_font_has_are_set_in_it_and_named() {
    let book = Book::with_draft("❧ The lamp of Ясна ❧\n").file("own.ttf", FONT);
    for (font, letters, other) in [("own.ttf", vec!["❧"], "serif"), ("serif", vec!["Я", "с", "н", "а"], "sans")] {
        let outcome = book.run(["measure", "first.md", "--font", font]);
        outcome.prints(&format!("in the built-in {other}"));
        let report = &book.measured(["first.md", "--font", font])[0];
        assert_eq!(report["fit"]["missing_letters"], serde_json::json!([]));
        let stood_in = serde_json::json!([{ "font": other, "letters": letters }]);
        assert_eq!(report["fit"]["letters_stood_in"], stood_in);
    }
}

#[test]
fn a_font_with_none_of_the_letters_is_refused() {
    let book = Book::with_draft("灯灯灯\n").file("own.ttf", FONT);
    book.run(["measure", "first.md"]).answers(1);
    book.run(["measure", "first.md", "--font", "own.ttf"]).refuses(
        "cannot set the copy in the font own.ttf: it has none of the copy's letters; name a font of its script, or \
         serif or sans for a built-in one",
    );
}

#[test]
fn letters_that_no_built_in_font_has_are_named_and_are_outside() {
    let book = Book::with_draft("The lamp 灯 is out 🌊, and 灯 again.\n").file("own.ttf", FONT);
    for font in ["serif", "sans", "own.ttf"] {
        let outcome = book.run(["measure", "first.md", "--font", font]);
        outcome.answers(1).prints("no font at hand has a letter for 灯 (U+706F) and 🌊 (U+1F30A)");
        let report = &book.measured(["first.md", "--font", font])[0];
        assert_eq!(report["fit"]["missing_letters"], serde_json::json!(["灯", "🌊"]));
        assert_eq!(report["outside"][0]["limit"], "missing_letters");
    }
}

/// The folder of a book may move to another system, so the names are the same everywhere.
#[test]
fn new_files_with_names_that_windows_forbids_are_refused_before_anything_is_written() {
    let book = Book::with_draft(DRAFT);
    for (arguments, reason) in [
        (
            ["proof", "first.md", "-o", "a:b.pdf"],
            "cannot write a:b.pdf: a:b.pdf has : in it, which Windows forbids in names; ",
        ),
        (["proof", "first.md", "-o", "nul.pdf"], "nul.pdf is the name of a device on Windows, NUL; take another name"),
        (["handover", "first.md", "-o", "who?.txt"], "who?.txt has ? in it"),
    ] {
        book.run(arguments).complains(reason).answers(2);
    }
    book.run(["start", "aux"]).complains("aux is the name of a device on Windows, AUX").answers(2);
}
