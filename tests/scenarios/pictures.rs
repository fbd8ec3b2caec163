//! Proofs and panels as files, and the panel in figures.

use std::fs;

use serde_json::Value;

use super::book::{BRIEF, Book, DRAFT};

#[test]
fn a_proof_is_written_and_written_again() {
    let book = Book::sample();
    for (name, start) in [("a.pdf", &b"%PDF"[..]), ("a.svg", b"<svg"), ("a.png", b"\x89PNG")] {
        let mut written = Vec::new();
        for _ in 0..2 {
            let arguments = ["proof", "first.md", "second.md", "--resolution", "60", "-o", name];
            let done = book.output(arguments);
            assert_eq!((done.status.code(), done.stderr.len()), (Some(0), 0), "{name}");
            written.push(fs::read(book.path(name)).expect(name));
        }
        assert!(written[0].starts_with(start) && written[0] == written[1], "{name}");
    }
}

#[test]
fn a_proof_answers_as_measuring_does_and_tries_another_size() {
    let book = Book::sample();
    let done = book.output(["proof", "first.md", "--size", "30pt", "-o", "a.pdf"]);
    assert_eq!(done.status.code(), Some(1));
    let printed = book.output(["proof", "first.md", "-o", "-", "--format", "svg"]);
    assert!(printed.stdout.starts_with(b"<svg") && printed.status.success());
}

#[test]
fn a_file_that_is_not_a_proof_is_not_overwritten() {
    Book::sample().file("art.png", "the illustrator's").run(["proof", "first.md", "-o", "art.png"]).refuses(
        "cannot write the proof art.png: there is a file already that is not a proof, and it is never overwritten; \
         name another file, or move it away",
    );
}

/// A proof is known by its seal as it was written; one in which another program has put notes is not.
#[test]
fn a_proof_with_notes_of_another_program_is_not_overwritten() {
    for name in ["a.pdf", "a.svg", "a.png"] {
        let book = Book::sample();
        for draft in ["first.md", "second.md"] {
            let done = book.output(["proof", draft, "-o", name]);
            assert_eq!(done.status.code(), Some(0), "{name} of {draft}");
        }
        let path = book.path(name);
        let own = fs::read(&path).expect("a proof");
        let noted = [&own[..], b"\n1 0 obj << /Type /Annot /Contents (Larger!) >> endobj\n%%EOF\n"].concat();
        fs::write(&path, &noted).expect("written");
        book.run(["proof", "first.md", "-o", name]).refuses(&format!(
            "cannot write the proof {name}: another program has changed the file that is there, and what it added, \
             such as notes, would be lost; name another file, or move it away"
        ));
        assert_eq!(fs::read(&path).expect("there"), noted);
    }
}

#[test]
fn a_form_that_cannot_be_told_or_made_is_refused() {
    Book::with_draft(DRAFT).run(["proof", "first.md", "-o", "proof"]).refuses(
        "cannot tell the form of proof; end the file's name in .pdf, .svg or .png, or say --format pdf, svg or png",
    );
    Book::with_draft(DRAFT)
        .run(["proof", "first.md", "-o", "a.png", "--resolution", "2400"])
        .answers(2)
        .complains("is too large; take a smaller --resolution, fewer drafts, or PDF or SVG");
}

/// Source: 8.5 in and a bleed of 0.125 in on either side are 8.75 in, 2625 pixels at 300 per inch.
#[test]
fn a_panel_is_given_in_four_units() {
    let book = Book::sample();
    let page = book.run(["panel"]);
    let page = &page.answers(0).printed;
    assert!(page.contains("Art with its bleed is 2625 x 2625 pixels"), "{page}");
    assert!(page.contains("quiet behind any copy"), "{page}");
    let json = book.run(["panel", "--draft", "first.md", "--format", "json", "--resolution", "72"]);
    let panel: Value = serde_json::from_str(&json.answers(0).printed).expect("JSON");
    let art = &panel["parts"][0];
    assert_eq!((&art["name"], &art["width"]["px"], &art["x"]["pt"]), (&"bleed".into(), &630.into(), &(-9.0).into()));
    let quiet = panel["parts"].as_array().and_then(|parts| parts.last()).expect("parts");
    assert_eq!(quiet["name"], "quiet in praise");
}

#[test]
fn a_box_for_a_barcode_is_held_against_the_standard() {
    let keep_out = "  keep_out:\n    - { name: barcode, size: 25 x 20 mm, corner: foot-spine }\n";
    let brief = format!("panel:\n  trim: 8 x 8 in\n{keep_out}");
    let told = "too small for an EAN-13: the smallest allowed, at 80 %, needs 29.8 mm by 25.5 mm";
    let book = Book::empty().file("brief.yaml", &brief).file("first.md", DRAFT);
    for command in ["panel", "measure"] {
        let page = book.run([command]).printed.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(page.contains(told), "{page}");
    }
    assert!(!Book::empty().file("brief.yaml", BRIEF).run(["panel"]).printed.contains("EAN-13"));
}

#[test]
fn a_panel_is_drawn() {
    let book = Book::sample();
    let done = book.output(["panel", "-o", "panel.svg"]);
    assert!(done.status.success() && done.stdout.is_empty());
    let drawn = fs::read_to_string(book.path("panel.svg")).expect("the picture");
    assert!(drawn.contains("aria-label=\"imprint mark\"") && drawn.contains("the back panel, seen from outside"));
}

#[test]
fn a_board_book_is_called_one_and_the_height_of_its_barcode_is_told_by_its_parts() {
    let brief =
        "book: { kind: board book }\npanel:\n  trim: 7 x 7 in\n  keep_out: [{ barcode: EAN-13, corner: foot-spine }]\n";
    let book = Book::with_draft(DRAFT).file("brief.yaml", brief);
    // Sources: as in src/brief/barcode.rs: 27.85 mm of bars and figures at 100 %, and a line of 9 pt.
    let parts =
        "barcode is 1.221 in high: 1.096 in for its bars and figures, and 0.125 in for the line of the ISBN above them";
    let page = book.run(["panel"]);
    page.answers(0).prints("the back panel of a board book");
    assert!(page.printed.split_whitespace().collect::<Vec<_>>().join(" ").contains(parts), "{}", page.printed);
    let figures: Value = serde_json::from_str(&book.run(["panel", "--format", "json"]).printed).expect("JSON");
    assert_eq!((&figures["binding"], &figures["notes"][0]), (&Value::from("board book"), &Value::from(parts)));
    let done = book.output(["proof", "first.md", "-o", "a.svg"]);
    assert!(done.status.code().is_some_and(|answer| answer < 2));
    let proof = book.read("a.svg");
    assert!(proof.contains("Panel of a board book: trim") && proof.contains("1.096 in for its bars and figures"));
    let cased = Book::with_draft(DRAFT).file("brief.yaml", brief.replace("panel:\n", "panel:\n  binding: case\n"));
    cased.run(["panel"]).prints("the back panel of a case");
}

/// A title too large for its spine answers 1, is told on every page of the fit, and has a sheet of its own in a proof.
#[test]
fn a_spine_is_told_and_drawn() {
    let spine = |size: &str| {
        let brief =
            format!("book: {{ title: Gull Point }}\n{BRIEF}spine: {{ width: 9 mm, type: {{ size: {size} }} }}\n");
        Book::with_draft(DRAFT).file("brief.yaml", brief)
    };
    for (size, answer) in [("14 pt", 0), ("30 pt", 1)] {
        let book = spine(size);
        for page in ["measure", "fit"] {
            let page = book.run([page, "first.md"]);
            let words = page.answers(answer).printed.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(words.contains("20.4 pt is the largest size that fits"), "{words}");
        }
        let json = book.run(["measure", "first.md", "--format", "json"]);
        let report: Value = serde_json::from_str(&json.answers(answer).printed).expect("JSON");
        let fits = [&report["fit"]["spine"]["fits"], &report["fit"]["fits"]].map(Value::as_bool);
        assert_eq!(fits, [Some(answer == 0); 2]);
        let figures = book.run(["panel"]);
        assert!(figures.answers(0).printed.contains("title on the spine"), "{}", figures.printed);
        let done = book.output(["proof", "first.md", "-o", "a.pdf"]);
        assert_eq!(done.status.code(), Some(answer));
        let pdf = fs::read(book.path("a.pdf")).expect("a proof");
        assert_eq!(String::from_utf8_lossy(&pdf).matches("/TrimBox").count(), 2, "the panel and the spine");
    }
}
