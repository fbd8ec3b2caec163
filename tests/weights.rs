//! A variable font at the weights of regular and bold, held against HarfBuzz glyph by glyph and to the font unit.
//!
//! The table is made by tests/reference/weights.py; its head names the version.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::PathBuf;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::Font;
use blurbwright::draft::{Draft, Emphasis};
use blurbwright::setting::face::Face;
use blurbwright::setting::{Copy, Faces};
use blurbwright::units::Em;

/// A subset of Bitter, under the SIL Open Font License (tests/data/fonts/Bitter-OFL.txt).
const FONT: &[u8] = include_bytes!("data/fonts/Bitter-Variable.ttf");

fn faces() -> Faces {
    let mut faces = Faces::built_in();
    faces.add(PathBuf::from("own.ttf"), Face::read(FONT.to_vec()).expect("a font"));
    faces
}

#[test]
fn regular_and_bold_are_as_wide_as_harfbuzz_sets_them() {
    let faces = faces();
    let mut rows = 0;
    for row in include_str!("data/weights.tsv").lines().filter(|row| !row.starts_with('#')) {
        let [_, units_per_em, weight, text, expected] = row.split('\t').collect::<Vec<_>>()[..] else {
            panic!("{row}")
        };
        let units_per_em: u16 = units_per_em.parse().expect("units per em");
        let named = if weight == "700" { "bold" } else { "regular" };
        let yaml = format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ font: own.ttf, weight: {named} }}\n");
        let brief = Brief::read(&yaml, std::path::Path::new("")).expect("a brief");
        let draft = Draft::read(text);
        let copy = Copy::shape(&draft, &brief.typography, &faces);
        let set: Vec<(u32, Em)> = copy.paragraphs[0].shaped.glyphs.iter().map(|g| (g.id, g.advance)).collect();
        let expected: Vec<(u32, Em)> = expected
            .split(' ')
            .map(|glyph| {
                let (id, units) = glyph.split_once(':').expect("a glyph and its advance");
                (id.parse().expect("a glyph"), Em::from_units(units.parse().expect("units"), units_per_em))
            })
            .collect();
        assert_eq!(set, expected, "{weight}: {text}");
        rows += 1;
    }
    assert_eq!(rows, 4, "two texts at two weights");
}

#[test]
fn a_bold_letter_is_drawn_bolder() {
    let faces = faces();
    let family = faces.family(&Font::File(PathBuf::from("own.ttf")));
    let (regular, bold) = (family.face(Emphasis::default()), family.face(Emphasis { bold: true, italic: false }));
    assert_eq!((regular.weight(), bold.weight()), (Some(400.0), Some(700.0)));
    assert_ne!(regular.outline(1), bold.outline(1), "the outlines of A");
}
