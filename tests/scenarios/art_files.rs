//! Art from files: a book on its art, and files that cannot be used.

use std::fs;

use png::{BitDepth, ColorType};
use serde_json::Value;

use super::book::Book;
use crate::outlines::files::{encoded, header_alone};

const COPY: &str = "# Who lit the lamp?\n\nOona climbs the stairs. The lamp is dark, and the boats are out.\n";

fn brief(art: &str) -> String {
    format!("panel:\n  trim: 2 x 2 in\n  margins: 0.3 in\n  art: {art}\ntype: {{ size: 7 pt }}\n")
}

/// A plain picture for a panel of two inches with its bleed, as many pixels wide and high.
fn plain(pixels: u32) -> Vec<u8> {
    let data = vec![235; (pixels * pixels) as usize];
    encoded((pixels, pixels), (ColorType::Grayscale, BitDepth::Eight), &data, |_| {})
}

fn book(art: &str, file: impl AsRef<[u8]>) -> Book {
    let book = Book::empty().file("books/brief.yaml", brief(art)).file("books/first.md", COPY);
    book.file("books/art/back.png", file)
}

#[test]
fn art_is_told_from_wherever_the_program_is_called() {
    let book = book("art/back.png", plain(675));
    let run = book.run(["measure", "--format", "json", "books/first.md"]);
    run.answers(0);
    let report: Value = serde_json::from_str(&run.printed).expect("an object");
    let file = &report["art"]["files"][0];
    assert_eq!(file["file"], "art/back.png");
    assert_eq!(
        (&file["face"], &file["kind"], &file["placed"]),
        (&"back panel".into(), &"scene".into(), &"bleed".into())
    );
    assert_eq!(
        (file["ppi"].as_f64(), file["pixels"][0].as_u64(), file["bleed"].as_bool()),
        (Some(300.0), Some(675), Some(true))
    );
    assert_eq!((&file["colour"], file["queries"].as_array().map(Vec::len)), (&"grey".into(), Some(0)));
    let page = book.run(["measure", "books/first.md"]).printed;
    assert!(page.contains("Art      art/back.png, scene, 675 x 675 pixels, grey: 300 to the inch to the\n"), "{page}");
}

#[test]
fn too_few_pixels_answer_that_the_draft_is_outside() {
    let run = book("art/back.png", plain(400)).run(["measure", "books/first.md"]);
    run.answers(1);
    for told in ["the art has 178 pixels to the inch", "- art too small: it has 178 pixels to the inch"] {
        assert!(run.printed.contains(told), "{}", run.printed);
    }
}

#[test]
fn a_file_that_cannot_be_used_is_told_with_its_place_in_the_brief() {
    let drawing = b"<svg xmlns='http://www.w3.org/2000/svg'/>".to_vec();
    let whole = plain(200);
    let export = "export the art as JPEG, PNG or TIFF, with 300 pixels to the inch at its printed size";
    let again = "export it again from the program that made it";
    for (file, problem, remedy) in [
        (b"%PDF-1.7".to_vec(), "it is a PDF", export),
        (drawing, "it is a drawing (SVG)", export),
        (Vec::new(), "the file is empty", export),
        (whole[..whole.len() - 40].to_vec(), "the picture ends before its last row", again),
        (
            header_alone(30_000, 30_000),
            "the picture has 30000 x 30000 pixels, and no side may have more than 20000",
            "save it smaller: 300 pixels to the inch are enough",
        ),
    ] {
        let book = book("{ file: art/back.png, placed: trim }", file);
        book.run(["measure", "books/first.md"])
            .refuses(&format!("books/brief.yaml:4:16: cannot use the art books/art/back.png: {problem}; {remedy}"));
    }
}

#[test]
fn a_file_that_is_not_there_is_told() {
    let book = book("art/front.png", plain(200));
    let message = "books/brief.yaml:4:8: cannot read the art books/art/front.png: there is no such file; check the \
                   name and the folder";
    book.run(["measure", "books/first.md"]).refuses(message);
    fs::create_dir(book.path("books/art/front.png")).expect("a folder");
    let run = book.run(["measure", "books/first.md"]);
    run.answers(2);
}
