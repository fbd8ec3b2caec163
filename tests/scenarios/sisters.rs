//! Bold and italic of a font file: found beside it, named in the brief, or missing and told wherever the fit is told.

use std::fs;
use std::process::Command;

use serde_json::{Value, json};

use super::book::{BRIEF, Book};

/// The built-in sans as the files of its family, under names that say nothing of it.
const FAMILY: [(&str, &[u8]); 4] = [
    ("kelp.ttf", include_bytes!("../../src/fonts/Nunito-Regular.ttf")),
    ("a1.TTF", include_bytes!("../../src/fonts/Nunito-Italic.ttf")),
    ("stout.otf", include_bytes!("../../src/fonts/Nunito-Bold.ttf")),
    ("z.ttf", include_bytes!("../../src/fonts/Nunito-BoldItalic.ttf")),
];
const OTHER_ITALIC: &[u8] = include_bytes!("../../src/fonts/CrimsonPro-Italic.ttf");
const VARIABLE: &[u8] = include_bytes!("../data/fonts/Bitter-Variable.ttf");

const STYLED: &str = "# The weir is open\n\n\
                      Hanne rows to the *very last* mooring, **past the mill** and ***past the bend***.\n\n\
                      > “A *quiet* wonder.”\n> — I. Tamm, lock keeper\n";

fn book(keys: &str) -> Book {
    Book::with_draft(STYLED).file("brief.yaml", format!("{BRIEF}type:\n  {}\n", keys.replace("; ", "\n  ")))
}

fn with_family(book: Book, folder: &str) -> Book {
    FAMILY.iter().fold(book, |book, (name, bytes)| book.file(&format!("{folder}{name}"), bytes))
}

/// The fit of the draft.
fn fit(book: &Book) -> Value {
    book.measured(["first.md"])[0]["fit"].clone()
}

/// A font with four bytes in one of its tables exchanged.
fn patched(font: &[u8], table: &[u8; 4], at: usize, change: impl Fn(u16) -> u16) -> Vec<u8> {
    let record = (0..).map(|index| 12 + 16 * index).find(|at| &font[*at..at + 4] == table).expect("the table");
    let start = u32::from_be_bytes(font[record + 8..record + 12].try_into().expect("four bytes")) as usize + at;
    let old = u16::from_be_bytes([font[start], font[start + 1]]);
    let mut font = font.to_vec();
    font[start..start + 2].copy_from_slice(&change(old).to_be_bytes());
    font
}

/// The variable font as its own italic.
///
/// Source: OpenType specification, OS/2: fsSelection stands at byte 62, and its bit 0 says italic.
fn variable_italic() -> Vec<u8> {
    patched(VARIABLE, b"OS/2", 62, |selection| selection | 1)
}

#[test]
fn a_font_file_is_set_with_the_sisters_in_its_folder() {
    let built_in = fit(&book("font: sans"));
    let apart = "font: sans; headline: { font: faces/kelp.ttf }; quote: { font: faces/kelp.ttf }";
    for keys in ["font: faces/kelp.ttf", apart] {
        let book = with_family(book(keys), "faces/");
        let own = fit(&book);
        assert_eq!(own["set_lines"], built_in["set_lines"], "{keys}");
        assert_eq!(own["styles_missing"], json!([]), "{keys}");
    }
    let lone = fit(&book("font: kelp.ttf").file("kelp.ttf", FAMILY[0].1));
    assert_ne!(lone["set_lines"], built_in["set_lines"]);
}

/// The fonts as one collection, each after the head of the collection with the places of its tables moved on.
///
/// Source: OpenType specification, "Font Collections".
fn collection(fonts: &[&[u8]]) -> Vec<u8> {
    let number = |bytes: &[u8], at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes"));
    let mut start = 12 + 4 * fonts.len();
    let mut head = b"ttcf\0\x01\0\0".to_vec();
    head.extend((fonts.len() as u32).to_be_bytes());
    let mut body = Vec::new();
    for font in fonts {
        head.extend((start as u32).to_be_bytes());
        let mut font = font.to_vec();
        for table in 0..usize::from(u16::from_be_bytes([font[4], font[5]])) {
            let place = 12 + 16 * table + 8;
            let moved = number(&font, place) + start as u32;
            font[place..place + 4].copy_from_slice(&moved.to_be_bytes());
        }
        font.resize(font.len().next_multiple_of(4), 0);
        start += font.len();
        body.extend(font);
    }
    [head, body].concat()
}

#[test]
fn a_collection_is_set_with_the_sisters_in_it() {
    let built_in = fit(&book("font: sans"));
    let fonts = FAMILY.map(|(_, font)| font);
    // Whatever the order of the others is, the first is the plain face; one of another family is no sister.
    for order in [[0, 1, 2, 3], [0, 3, 2, 1]] {
        let fonts: Vec<&[u8]> = order.iter().map(|at| fonts[*at]).chain([OTHER_ITALIC]).collect();
        let book = book("font: faces/gull.ttc").file("faces/gull.ttc", collection(&fonts));
        let own = fit(&book);
        assert_eq!(own["set_lines"], built_in["set_lines"], "{order:?}");
        assert_eq!(own["styles_missing"], json!([]), "{order:?}");
        let done = book.output(["proof", "first.md", "-o", "own.pdf"]);
        assert_eq!(done.status.code(), Some(0));
        let pdf = fs::read(book.path("own.pdf")).expect("the proof is there");
        for face in ["Nunito-Regular", "Nunito-Bold", "Nunito-Italic", "Nunito-BoldItalic"] {
            let is_named = pdf.windows(face.len()).any(|part| part == face.as_bytes());
            assert!(is_named, "{face} is not in the PDF");
        }
    }
    let two = book("font: faces/gull.ttc").file("faces/gull.ttc", collection(&[fonts[0], fonts[2]]));
    assert_eq!(fit(&two)["styles_missing"].as_array().map(Vec::len), Some(2), "its italics are not there");
}

#[test]
fn sisters_can_be_named_in_the_brief_and_one_that_is_not_is_found() {
    let keys = "font: { regular: one/kelp.ttf, italic: two/a1.TTF, bold: two/stout.otf }";
    let named = FAMILY.iter().enumerate().fold(book(keys), |book, (index, (name, bytes))| {
        let folder = if [0, 3].contains(&index) { "one" } else { "two" };
        book.file(&format!("{folder}/{name}"), bytes)
    });
    assert_eq!(fit(&named)["set_lines"], fit(&book("font: sans"))["set_lines"]);
    // What the author names is taken, whatever it calls itself.
    let other = with_family(book("font: { regular: kelp.ttf, italic: other.ttf }"), "").file("other.ttf", OTHER_ITALIC);
    assert_eq!(fit(&other)["styles_missing"], json!([]));
    assert_ne!(fit(&other)["set_lines"], fit(&book("font: sans"))["set_lines"]);
}

#[test]
fn names_of_sisters_that_cannot_be_used_are_refused_where_they_stand() {
    for (keys, told) in [
        (
            "font: { regular: kelp.ttf, italics: a1.TTF }",
            "brief.yaml:4:30: type.font.italics: there is no such key; did you mean italic? The choice is regular, \
             bold, italic, bold_italic",
        ),
        (
            "font: { italic: a1.TTF }",
            "brief.yaml:4:9: type.font: the key regular is missing; write one, such as { regular: face.ttf, italic: \
             face-italic.ttf }",
        ),
        (
            "quote: { font: { regular: kelp.ttf, bold: none.ttf } }",
            "brief.yaml:4:45: cannot read the font none.ttf: there is no such file; write serif or sans for a built-in \
             one, or the path of a .ttf or .otf file",
        ),
        (
            "font: { regular: kelp.ttf, italic: [a1.TTF] }",
            "brief.yaml:4:38: type.font.italic: a list was found, but text was expected",
        ),
    ] {
        with_family(book(keys), "").run(["measure", "first.md"]).answers(2).complains(told);
    }
}

#[test]
fn a_style_that_no_file_has_is_told_wherever_the_fit_is_told() {
    let book = book("font: kelp.ttf").file("kelp.ttf", FAMILY[0].1);
    let missing = |style: &str| json!({ "font": "Nunito", "style": style, "set_in": "Nunito Regular" });
    let all = json!([missing("bold"), missing("italic"), missing("bold italic")]);
    assert_eq!((&fit(&book)["styles_missing"], &fit(&book)["font"]), (&all, &json!("Nunito Regular")));
    let told = "the font Nunito has no italic at hand: what is italic is set in Nunito Regular";
    for command in ["measure", "fit", "tighten", "compare"] {
        let page = book.run([command, "first.md", "first.md"]).printed.clone();
        assert!(page.split_whitespace().collect::<Vec<_>>().join(" ").contains(told), "{command}: {page}");
    }
    let json = |arguments: &[&str]| -> Value {
        serde_json::from_str(&book.run([arguments, &["first.md", "--format", "json"]].concat()).printed).expect("JSON")
    };
    assert_eq!(json(&["fit"])["styles_missing"], all);
    assert_eq!(json(&["tighten"])["styles_missing"], all);
    assert_eq!(json(&["compare", "first.md"])["drafts"][1]["styles_missing"], all);
    let panel = book.run(["panel", "--draft", "first.md"]).printed.clone();
    assert!(panel.split_whitespace().collect::<Vec<_>>().join(" ").contains(told), "{panel}");
    let panel = |arguments: &[&str]| -> Value {
        serde_json::from_str(&book.run([&["panel", "--format", "json"], arguments].concat()).printed).expect("JSON")
    };
    assert_eq!(panel(&["--draft", "first.md"])["styles_missing"], all);
    assert_eq!(panel(&[])["styles_missing"], json!([]), "no draft asks for any");
    for (command, output) in [("proof", "proof.svg"), ("compare", "page.html"), ("panel", "panel.svg")] {
        let drafts: &[&str] = match command {
            "proof" => &["first.md"],
            "panel" => &["--draft", "first.md"],
            _ => &["first.md", "first.md"],
        };
        let done = book.output([&[command], drafts, &["-o", output]].concat());
        assert_eq!(done.status.code(), Some(0), "{command}");
        assert!(book.read(output).to_lowercase().contains(told.to_lowercase().as_str()), "{output}");
    }
}

#[test]
fn a_proof_names_the_font_and_not_its_file() {
    let book = with_family(book("font: kelp.ttf; style: italic"), "");
    let page = book.run(["measure", "first.md"]);
    page.prints("set in Nunito Italic at ");
    assert!(!page.printed.contains("kelp"));
    for output in ["proof.svg", "proof.pdf", "proof.png"] {
        let done = book.output(["proof", "first.md", "-o", output]);
        assert_eq!(done.status.code(), Some(0), "{output}");
    }
    let proof = book.read("proof.svg");
    assert!(proof.contains("Type of the blurb: Nunito Italic at") && !proof.contains("kelp"));
}

/// The option and a draft that has neither bold nor italic.
#[test]
fn only_what_the_copy_asks_for_is_missed() {
    let book = book("size: 12 pt").file("kelp.ttf", FAMILY[0].1).file("plain.md", "Hanne rows home.\n");
    let fit = |draft: &str| book.measured([draft, "--font", "kelp.ttf"])[0]["fit"].clone();
    assert_eq!(fit("plain.md")["styles_missing"], json!([]));
    assert_eq!(fit("first.md")["styles_missing"].as_array().map(Vec::len), Some(3));
}

#[test]
fn a_variable_font_takes_its_italic_from_a_file_of_its_own_and_bold_from_its_axis() {
    let alone = book("font: wide.ttf").file("wide.ttf", VARIABLE);
    let styles: Vec<Value> =
        fit(&alone)["styles_missing"].as_array().expect("a list").iter().map(|one| one["style"].clone()).collect();
    assert_eq!(styles, ["italic", "bold italic"]);
    let both = book("font: wide.ttf; weight: medium").file("wide.ttf", VARIABLE).file("wide-i.ttf", variable_italic());
    assert_eq!(fit(&both)["styles_missing"], json!([]));
    both.run(["measure", "first.md"]).prints("set in Bitter (medium) at ");
    // Source: OpenType specification, fvar: the axes begin at byte 16 with their tag, then least, usual and most as
    // 16.16.
    let axis = b"ital\0\0\0\0\0\0\0\0\0\x01\0\0";
    let italic_axis = (0..8).fold(VARIABLE.to_vec(), |font, pair| {
        patched(&font, b"fvar", 16 + 2 * pair, |_| u16::from_be_bytes([axis[2 * pair], axis[2 * pair + 1]]))
    });
    let own_axis = book("font: wide.ttf").file("wide.ttf", italic_axis);
    let styles = fit(&own_axis)["styles_missing"].clone();
    assert!(styles.as_array().expect("a list").iter().all(|one| one["style"] != json!("italic")), "{styles}");
}

/// Whatever lies beside a font is passed over, and nothing waits for a pipe.
#[test]
fn a_folder_of_anything_is_searched_without_harm() {
    let cut = &FAMILY[1].1[..300];
    let [regular, italic, bold, both] = FAMILY.map(|(_, bytes)| bytes);
    let family = [("kelp.ttf", regular), ("kelp-1.ttf", italic), ("Kelp-2.otf", bold), ("kelp-3.ttf", both)];
    let book = family.into_iter().fold(book("font: kelp.ttf"), |book, (name, bytes)| book.file(name, bytes));
    let book = book
        .file("kelp-a.ttf", cut)
        .file("kelp-b.ttf", b"")
        .file("kelp-c.otf", b"no font at all")
        .file("kelp-d.ttf", OTHER_ITALIC)
        .file("kelp-e.ttf", [&FAMILY[1].1[..12], &[0xff; 4096]].concat())
        .folder("kelp-f.ttf");
    let made = Command::new("mkfifo").arg(book.path("kelp-g.ttf")).status().expect("mkfifo runs");
    assert!(made.success());
    for number in 0..300 {
        fs::hard_link(book.path("kelp-d.ttf"), book.path(&format!("other{number}.ttf"))).expect("a link");
    }
    // More files than are looked at; those that are called like the font come first.
    assert_eq!(fit(&book)["set_lines"], fit(&self::book("font: sans"))["set_lines"]);
}
