//! Fonts of a brief: weights of a variable font, letters that a font lacks, a font that is not at hand.
//! What a font file has of bold and italic is in `sisters.rs`.

use serde_json::json;

use super::book::{BRIEF, Book, DRAFT};

/// A subset of Bitter, under the SIL Open Font License (tests/data/fonts/Bitter-OFL.txt), from thin to black.
const VARIABLE: &[u8] = include_bytes!("../data/fonts/Bitter-Variable.ttf");
const STATIC: &[u8] = include_bytes!("../../src/fonts/Nunito-Regular.ttf");

/// A book with one draft whose brief has these keys under `type`.
fn book(keys: &str, draft: &str) -> Book {
    let brief = format!("{BRIEF}type:\n  {}\n", keys.replace("; ", "\n  "));
    Book::with_draft(draft).file("brief.yaml", brief).file("wide.ttf", VARIABLE).file("one.ttf", STATIC)
}

/// What the program answers when the draft is drawn in every form.
fn proofs(book: &Book) -> [Option<i32>; 3] {
    ["proof.pdf", "proof.svg", "proof.png"].map(|name| {
        let done = book.output(["proof", "first.md", "--resolution", "72", "-o", name]);
        done.status.code().filter(|_| book.path(name).exists())
    })
}

#[test]
fn copy_is_set_in_a_named_or_numbered_weight() {
    for (weight, shown, number) in [("semibold", "Bitter (semibold)", 600), ("650", "Bitter (weight 650)", 650)] {
        let book = book(&format!("font: wide.ttf; weight: {weight}"), DRAFT);
        book.run(["measure", "first.md"]).answers(0).prints(shown);
        let fit = &book.measured(["first.md"])[0]["fit"];
        assert_eq!((&fit["font"], &fit["weight"]), (&json!("Bitter"), &json!(number)));
        assert_eq!(proofs(&book), [Some(0); 3]);
    }
    let plain = book("font: wide.ttf", DRAFT).measured(["first.md"]);
    assert_eq!(plain[0]["fit"]["weight"], json!(400));
}

#[test]
fn a_weight_that_a_font_does_not_have_is_refused_where_it_stands() {
    let refused = [
        (
            "font: wide.ttf; weight: 950",
            "brief.yaml:5:11: cannot set the font wide.ttf at weight 950: its weights are from 100 to 900; write one \
             of these, or regular or bold",
        ),
        (
            "font: one.ttf; quote: { weight: Light }",
            "brief.yaml:5:20: cannot set the font one.ttf at light: it has one weight; write regular or bold, or name \
             the file of that weight at font",
        ),
        (
            "weight: bold; headline: { font: one.ttf, weight: 300 }",
            "brief.yaml:5:38: cannot set the font one.ttf at light: it has one weight; write regular or bold, or name \
             the file of that weight at font",
        ),
    ];
    for (keys, told) in refused {
        book(keys, DRAFT).run(["measure", "first.md"]).refuses(told);
    }
    for keys in ["font: one.ttf; weight: 700", "font: one.ttf; weight: regular", "weight: 400", "weight: bold"] {
        book(keys, DRAFT).run(["measure", "first.md"]).answers(0);
    }
}

#[test]
fn another_font_that_is_tried_has_no_weight_of_the_first() {
    let book = book("font: wide.ttf; weight: semibold; headline: { weight: black }", &format!("# A lamp\n\n{DRAFT}"));
    let fit = &book.measured(["first.md", "--font", "one.ttf"])[0]["fit"];
    assert_eq!((&fit["font"], &fit["weight"]), (&json!("Nunito Regular"), &json!(400)));
}

#[test]
fn the_built_in_fonts_are_known_in_letters_of_any_case_and_no_other_name_is() {
    let fonts = |keys: &str| book(keys, DRAFT).measured(["first.md"])[0]["fit"]["font"].clone();
    assert_eq!(
        [fonts("font: Sans"), fonts("font: SERIF"), fonts("font: sans; align: LEFT")],
        ["sans", "serif", "sans"]
    );
    let book = book("size: 12 pt", DRAFT);
    assert_eq!(book.measured(["first.md", "--font", "SANS"])[0]["fit"]["font"], json!("sans"));
    book.run(["measure", "first.md", "--font", "Heronbill"]).refuses(
        "cannot read the font Heronbill: there is no such file; write serif or sans for a built-in one, or the path of \
         a .ttf or .otf file; one that is not at hand is written in the brief as font: { name: Heronbill, alphabet: \
         128 pt, at: 12 pt }, with the length of its a to z",
    );
}

#[test]
fn a_font_that_is_not_at_hand_is_stood_in_for_and_all_of_it_is_called_an_estimate() {
    let told = "the font Some Face is not at hand; the serif stands in for it by its alphabet length";
    let book = book("font: { name: Some Face, alphabet: 150 pt, at: 12 pt }", DRAFT);
    for command in ["measure", "fit", "tighten", "compare"] {
        let page = book.run([command, "first.md", "first.md"]).answers(0).printed.clone();
        assert!(page.split_whitespace().collect::<Vec<_>>().join(" ").contains(told), "{page}");
    }
    let estimate = json!([{ "font": "Some Face", "alphabet_pt": 150.0, "at_pt": 12.0, "off_percent": 4 }]);
    let json = |arguments: &[&str]| -> serde_json::Value {
        serde_json::from_str(&book.run([arguments, &["first.md", "--format", "json"]].concat()).printed).expect("JSON")
    };
    let (tightened, compared) = (json(&["tighten"]), json(&["compare", "first.md"]));
    assert_eq!([&tightened["fonts_stood_in"], &compared["drafts"][1]["fonts_stood_in"]], [&estimate; 2]);
    let fit = &book.measured(["first.md"])[0]["fit"];
    assert_eq!((&fit["font"], &fit["fonts_stood_in"]), (&json!("Some Face"), &estimate));
    assert_eq!(proofs(&book), [Some(0); 3]);
}

#[test]
fn a_wider_alphabet_needs_more_room() {
    let depth = |alphabet: u32| {
        let keys = format!("font: {{ name: Some Face, alphabet: {alphabet} pt, at: 12 pt }}; size: 30 pt");
        book(&keys, DRAFT).measured(["first.md"])[0]["fit"]["lines"].as_u64().expect("lines")
    };
    assert!(depth(100) < depth(150) && depth(150) < depth(220));
}
