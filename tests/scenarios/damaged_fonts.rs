//! Font files that are damaged in any of their tables: what can be measured can be proved, and all else is refused by
//! the font's name.

use std::env;
use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::place::CoverFace;
use blurbwright::draft::Draft;
use blurbwright::files::{self, guard};
use blurbwright::proof::{self, Proof, pdf, png, slug, svg};
use blurbwright::report::{self, Drawing};

use super::book::{BRIEF, Book, DRAFT};
use crate::random::Random;
use crate::tried::step;

const FONTS: [(&str, &[u8]); 3] = [
    ("Nunito", include_bytes!("../../src/fonts/Nunito-Regular.ttf")),
    ("Crimson Pro", include_bytes!("../../src/fonts/CrimsonPro-Italic.ttf")),
    ("a variable font", include_bytes!("../data/fonts/Bitter-Variable.ttf")),
];

/// Another count of random damages of each font than the usual one, for a longer look.
const DAMAGES: &str = "DAMAGED_FONTS";
const USUAL_DAMAGES: usize = 4;

/// Where a font's tables stand: the place of the record, of the table, and its length.
///
/// Source: OpenType specification, table directory.
fn tables(font: &[u8]) -> Vec<(String, usize, usize, usize)> {
    let number = |at: usize| u32::from_be_bytes(font[at..at + 4].try_into().expect("four bytes")) as usize;
    let count = usize::from(u16::from_be_bytes([font[4], font[5]]));
    let record = |index: usize| {
        let at = 12 + 16 * index;
        (String::from_utf8_lossy(&font[at..at + 4]).into_owned(), at, number(at + 8), number(at + 12))
    };
    (0..count).map(record).collect()
}

/// Every table but those of some names cut short, of no length, emptied, filled, beyond the file's end, or missing.
fn by_table(font: &[u8], but: &[String]) -> Vec<(String, Vec<u8>)> {
    let mut damaged = Vec::new();
    for (name, record, at, length) in tables(font).into_iter().filter(|(name, ..)| !but.contains(name)) {
        let mut take = |what: &str, change: &dyn Fn(&mut Vec<u8>)| {
            let mut copy = font.to_vec();
            change(&mut copy);
            damaged.push((format!("{name} {what}"), copy));
        };
        let put = |copy: &mut Vec<u8>, place: usize, number: usize| {
            copy[place..place + 4].copy_from_slice(&u32::try_from(number).expect("small").to_be_bytes());
        };
        take("cut to the half", &|copy| put(copy, record + 12, length / 2));
        take("cut by one byte", &|copy| put(copy, record + 12, length.saturating_sub(1)));
        take("cut to four bytes", &|copy| put(copy, record + 12, 4));
        take("of no length", &|copy| put(copy, record + 12, 0));
        take("emptied", &|copy| copy[at..at + length].fill(0));
        take("filled", &|copy| copy[at..at + length].fill(0xff));
        take("beyond the end", &|copy| put(copy, record + 8, font.len() + 100));
        take("missing", &|copy| copy[record..record + 4].copy_from_slice(b"none"));
    }
    for units in [0_u16, 1, 15, 16_385, 65_535] {
        let head = tables(font).into_iter().find(|(name, ..)| name == "head").expect("a head").2;
        let mut copy = font.to_vec();
        copy[head + 18..head + 20].copy_from_slice(&units.to_be_bytes());
        damaged.push((format!("{units} units in an em"), copy));
    }
    damaged
}

/// Bytes changed here and there, in every run the same.
fn at_random(font: &[u8], count: usize) -> Vec<(String, Vec<u8>)> {
    let mut random = Random(0x5eed);
    let heads: Vec<(usize, usize)> = tables(font).into_iter().map(|(_, _, at, length)| (at, length)).collect();
    let mut one = |number: usize| {
        let mut copy = font.to_vec();
        for _ in 0..1 + random.place(8) {
            // Half of them at a table's beginning, where its counts and offsets stand.
            let (at, length) = heads[random.place(heads.len())];
            let length = if number.is_multiple_of(2) { length.clamp(1, 48) } else { length.max(1) };
            let place = at + random.place(length);
            copy[place] = random.below(256) as u8;
        }
        (format!("random damage {number}"), copy)
    };
    (0..count).map(&mut one).collect()
}

/// Measures and draws a draft in the font of a brief, in each form of a proof.
fn draw(brief: &Brief, faces: &blurbwright::setting::Faces, draft: &Draft) {
    let report = report::assess(draft, brief, faces);
    let proof = Proof {
        around: CoverFace::Panel.around(),
        drawing: &Drawing::of(&report, draft, brief, faces),
        title: "",
        subject: "",
        facts: &slug::facts(&report, brief, false),
        cautions: &[],
    };
    let sheet = proof::sheet(&proof, faces);
    drop(svg::written(std::slice::from_ref(&sheet)));
    drop(png::written(std::slice::from_ref(&sheet), 20));
    drop(pdf::written(&[sheet]));
}

#[test]
fn a_font_that_can_be_measured_can_be_proved() {
    let count = env::var(DAMAGES).ok().and_then(|count| count.parse().ok()).unwrap_or(USUAL_DAMAGES);
    let folder = tempfile::tempdir().expect("a folder");
    let (path, brief_path) = (folder.path().join("own.ttf"), folder.path().join("brief.yaml"));
    let brief = format!("{BRIEF}type: {{ font: own.ttf }}\n");
    std::fs::write(&brief_path, &brief).expect("written");
    let brief = Brief::read(&brief, folder.path()).expect("a brief");
    let draft = Draft::read("# The lamp is *out*\n\nOona climbs, and **nobody** waves: \"Why?\" It is 7 o'clock.\n");
    let (mut refused, mut drawn, mut faults, mut known) = (0, 0, Vec::new(), Vec::new());
    for (font, bytes) in FONTS {
        // A table that fonts before have too is damaged there.
        let damaged = by_table(bytes, &known);
        known.extend(tables(bytes).into_iter().map(|(name, ..)| name));
        for (damage, bytes) in damaged.into_iter().step_by(step()).chain(at_random(bytes, count)) {
            std::fs::write(&path, bytes).expect("written");
            match files::read_faces(&brief, Path::new(&brief_path)) {
                Ok(faces) => match guard::caught(|| draw(&brief, &faces, &draft)) {
                    Ok(()) => drawn += 1,
                    Err(_) => faults.push(format!("{font}, {damage}: a library fell over it")),
                },
                Err(error) => {
                    refused += 1;
                    assert!(error.to_string().contains("own.ttf"), "{font}, {damage}: {error}");
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(refused > 3 && drawn > 3, "{refused} refused, {drawn} drawn");
}

#[test]
fn a_damaged_font_is_refused_by_its_name_in_every_command() {
    let font = FONTS[0].1;
    let damaged = by_table(font, &[]);
    let of =
        |name: &str| damaged.iter().find(|(known, _)| known == name).map(|(_, bytes)| bytes.clone()).expect("a damage");
    for name in ["glyf cut to four bytes", "loca of no length"] {
        let brief = format!("{BRIEF}type: {{ font: own.ttf }}\n");
        let book = Book::with_draft(DRAFT).file("second.md", DRAFT).file("brief.yaml", brief).file("own.ttf", of(name));
        for arguments in [
            &["measure", "first.md"][..],
            &["fit", "first.md"],
            &["tighten", "first.md"],
            &["panel", "--draft", "first.md"],
            &["proof", "first.md", "-o", "new.pdf"],
            &["proof", "first.md", "-o", "new.png"],
            &["compare", "first.md", "second.md", "-o", "new.pdf"],
            &["compare", "first.md", "second.md", "-o", "new.html"],
        ] {
            let outcome = book.run(arguments);
            outcome.answers(2).complains("brief.yaml:3:15:").complains("the font own.ttf");
            assert!(!outcome.complained.contains("panicked"), "{}", outcome.complained);
        }
    }
}
