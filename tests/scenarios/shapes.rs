//! Shapes from files: a book with a bubble and a cloud, and files that cannot be used.

use std::fs;

use serde_json::Value;

use super::book::Book;
use crate::outlines::files::{BUBBLE, cloud, drawing, picture};

const COPY: &str = "# Who lit the lamp?\n\nOona climbs the stairs. The lamp is dark, and the boats are out.\n";

/// A brief of a bubble and a cloud, and of a gull that copy stays away from.
const BRIEF: &str = "panel:
  trim: 8.5 x 8.5 in
  keep_out: [{ name: gull, shape: gull.png, size: 50 x 30 mm, corner: foot-fore-edge, clearance: 2 mm }]
  places:
    - { name: bubble, holds: headline, shape: bubble.svg, size: 110 x 60 mm, corner: head-fore-edge, stack: centre }
    - { name: cloud, holds: blurb, shape: { file: art/cloud.png, opacity: 20% }, size: 150 x 90 mm, corner: head-spine }
type: { size: 11 pt }
limits: { words: .., level: .., longest_sentence: .. }
";

fn book() -> Book {
    let puffs = picture((300, 180), cloud);
    Book::empty()
        .file("books/brief.yaml", BRIEF)
        .file("books/bubble.svg", drawing(BUBBLE))
        .file("books/gull.png", &puffs)
        .file("books/art/cloud.png", &puffs)
        .file("books/first.md", COPY)
}

#[test]
fn copy_stands_in_a_bubble_and_a_cloud_from_wherever_the_program_is_called() {
    let book = book();
    let run = book.run(["measure", "--format", "json", "books/first.md"]);
    run.answers(0);
    let report: Value = serde_json::from_str(&run.printed).expect("an object");
    let places = report["fit"]["places"].as_array().expect("places");
    let shapes: Vec<&Value> = places.iter().map(|place| &place["shape"]).collect();
    assert_eq!(shapes, ["outline", "outline"]);
    assert!(places.iter().all(|place| place["fits"] == true), "{places:?}");
    // The cloud's head is narrower than its middle, so that its first line is the shorter one.
    let widths: Vec<f64> = report["fit"]["set_lines"]
        .as_array()
        .expect("lines")
        .iter()
        .filter(|line| line["place"] == "cloud")
        .map(|line| line["width_pt"].as_f64().expect("a width"))
        .collect();
    assert!(widths.len() > 1 && widths[0] < widths[1], "{widths:?}");
    for name in ["a.pdf", "a.svg", "a.png"] {
        let done = book.output(["proof", "books/first.md", "-o", name]);
        assert_eq!((done.status.code(), done.stderr.len()), (Some(0), 0), "{name}");
        assert!(fs::read(book.path(name)).expect(name).len() > 1000);
    }
}

#[test]
fn a_picture_that_is_stretched_is_told() {
    let brief = BRIEF.replace("size: 150 x 90 mm", "size: 150 x 85 mm");
    let book = book().file("books/brief.yaml", brief);
    let note = "the picture art/cloud.png is stretched in \"cloud\", which is 150 mm by 85 mm; 150 mm by 90 mm is as \
                it is drawn";
    for (asked, file, key) in [("measure", "first.md", "panel_notes"), ("panel", "brief.yaml", "notes")] {
        let run = book.run([asked, "--format", "json", &format!("books/{file}")]);
        let report: Value = serde_json::from_str(&run.printed).expect("an object");
        let notes = report[key].as_array().expect("notes");
        let stretched: Vec<_> = notes.iter().filter(|note| note.to_string().contains("stretched")).collect();
        assert_eq!(stretched, [&Value::from(note)], "{asked}");
    }
}

#[test]
fn a_place_of_which_keep_outs_leave_too_little_for_a_line_is_told() {
    let halves = "keep_out: [{ name: left, size: 60 x 48 mm, at: { head: 1 in, fore-edge: 1 in } }, { name: right, \
                  size: 60 x 48 mm, at: { head: 1 in, fore-edge: 80 mm } }]";
    let place = "places: [{ name: top, holds: headline, size: 100 x 50 mm, at: { head: 1 in, fore-edge: 1 in } }]";
    let brief = format!("panel:\n  trim: 8.5 x 8.5 in\n  {halves}\n  {place}\n");
    let book = Book::empty().file("brief.yaml", brief).file("first.md", COPY);
    book.run(["measure", "first.md"]).answers(1).prints("\"top\" (headline): 1 line set, and none goes in; 1 line is");
}

#[test]
fn a_file_that_has_no_shape_is_refused_where_the_brief_names_it() {
    for (name, content, message) in [
        (
            "bubble.svg",
            drawing("<path d='M0 0h9v9'/>").into_bytes(),
            "books/brief.yaml:5:47: cannot read the shape books/bubble.svg: its path is open: it does not end where it \
             begins; close it in the drawing program",
        ),
        (
            "bubble.svg",
            picture((3, 3), |_, _| 255),
            "books/brief.yaml:5:47: cannot read the shape books/bubble.svg: it is a picture and not an SVG; save the \
             shape as an .svg or .png file",
        ),
        (
            "art/cloud.png",
            drawing(BUBBLE).into_bytes(),
            "books/brief.yaml:6:51: cannot read the shape books/art/cloud.png: it is not a PNG; save the shape as an \
             .svg or .png file",
        ),
        (
            "art/cloud.png",
            picture((3, 3), |_, _| 51),
            "books/brief.yaml:6:51: cannot read the shape books/art/cloud.png: nothing in it is more opaque than 20%; \
             take a smaller opacity, or another picture",
        ),
        (
            "gull.png",
            b"\x89PNG\r\n\x1a\n".to_vec(),
            "books/brief.yaml:3:35: cannot read the shape books/gull.png: the picture ends before its last row; save \
             it again as a PNG with transparency",
        ),
    ] {
        book().file(&format!("books/{name}"), content).run(["measure", "books/first.md"]).refuses(message);
    }
    book().file("books/brief.yaml", BRIEF.replace("bubble.svg", "tent.svg")).run(["fit", "books/first.md"]).refuses(
        "books/brief.yaml:5:47: cannot read the shape books/tent.svg: there is no such file; check the name and the \
         folder",
    );
    book().huge_file("books/gull.png", 21 * 1024 * 1024).run(["panel", "books"]).refuses(
        "books/brief.yaml:3:35: cannot read the shape books/gull.png: it is larger than 20 MB, which no such file \
         needs; check that it is the file you meant",
    );
}

/// A square picture book and a board book, each through every page that tells of places. The cloud of the first is five
/// circles that lie over each other.
#[test]
fn two_books_go_through_every_page() {
    let book = Book::empty()
        .file("square/brief.yaml", include_str!("../data/books/square/brief.yaml"))
        .file("square/cloud.svg", include_str!("../data/books/square/cloud.svg"))
        .file("square/first.md", include_str!("../data/books/square/first.md"))
        .file(
            "square/second.md",
            include_str!("../data/books/square/first.md").replace("one stall", "one of the stalls"),
        )
        .file("board/brief.yaml", include_str!("../data/books/board/brief.yaml"))
        .file("board/first.md", include_str!("../data/books/board/first.md"))
        .file("board/second.md", include_str!("../data/books/board/first.md").replace("Look up, look up!", "Look up!"));
    for (name, places) in
        [("square", &["head", "cloud", "praise", "more", "author", "ages"][..]), ("board", &["head", "cloud", "ages"])]
    {
        let (first, second) = (format!("{name}/first.md"), format!("{name}/second.md"));
        let pages = [
            book.run(["measure", &first]).answers(0).printed.clone(),
            book.run(["fit", &first]).answers(0).printed.clone(),
            book.run(["compare", &first, &second]).answers(0).printed.clone(),
            book.run(["panel", name, "--draft", &first]).answers(0).printed.clone(),
        ];
        for (page, place) in pages.iter().flat_map(|page| places.iter().map(move |place| (page, place))) {
            assert!(page.contains(place), "{place}: {page}");
        }
        let proof = format!("{name}.svg");
        let run = book.output(["proof", &first, "-o", &proof]);
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        let proof = fs::read_to_string(book.path(&proof)).expect("a proof");
        assert!(proof.contains("cloud"), "the cloud is named on the proof");
    }
}
