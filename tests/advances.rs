//! Advances held against HarfBuzz, glyph by glyph and to the font unit.
//!
//! The tables are made by tests/reference/advances.py; their heads name the version.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::typography::Font;
use blurbwright::brief::{Brief, Typography};
use blurbwright::draft::Draft;
use blurbwright::setting::face::Face;
use blurbwright::setting::{Faces, SettingMemory, ShapedCopy};
use blurbwright::units::Em;

/// The built-in face of a font file, as the type of the blurb.
fn typography(file: &str) -> Typography {
    let (family, style) = file.trim_end_matches(".ttf").split_once('-').expect("a style");
    let mut typography = Brief::read("panel: { trim: 8 x 8 in }\n", Path::new("")).expect("a brief").typography;
    typography.blurb.font = if family == "Nunito" { Font::Sans } else { Font::Serif };
    typography.blurb.bold = style.starts_with("Bold");
    typography.blurb.italic = style.ends_with("Italic");
    typography
}

#[test]
fn every_glyph_is_as_wide_as_harfbuzz_sets_it() {
    let faces = Faces::built_in();
    let (mut rows, mut glyphs) = (0, 0);
    for row in include_str!("data/advances.tsv").lines().filter(|row| !row.starts_with('#')) {
        let [file, units_per_em, text, expected] = row.split('\t').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let units_per_em = units_per_em.parse().expect("units per em");
        let draft = Draft::read(text);
        assert_eq!(draft.blocks[0].text(), text, "the draft must not change the text");
        let copy = ShapedCopy::shape(&draft, &typography(file), &faces, &mut SettingMemory::default());
        let shaped = &copy.paragraphs[0].shaped;
        let set: Vec<(u32, Em)> = shaped.glyphs.iter().map(|glyph| (glyph.id, glyph.advance)).collect();
        let expected: Vec<(u32, Em)> = expected.split(' ').map(|glyph| of_table(glyph, units_per_em)).collect();
        assert_eq!(set.len(), expected.len(), "{file}: {text}");
        for run in &shaped.runs {
            let (set, expected) = (&set[run.glyphs.clone()], &expected[run.glyphs.clone()]);
            if run.stand_in.is_some() {
                // What the face lacks is set in another one here, and as its box for missing letters there.
                assert!(expected.iter().all(|(id, _)| *id == 0), "{file}: {text}");
            } else {
                assert_eq!(set, expected, "{file}: {text}");
                glyphs += set.len();
            }
        }
        rows += 1;
    }
    assert_eq!(rows, 24, "three texts in each of eight faces");
    assert!(glyphs > 10_000, "only {glyphs} glyphs were compared");
}

/// What a font file of the table sets its text with: a built-in face, or the variable font at its own default, thin.
fn faces_of(file: &str) -> (Typography, Faces) {
    let mut faces = Faces::built_in();
    if file != "Bitter-Variable.ttf" {
        return (typography(file), faces);
    }
    let yaml = format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ font: {file}, weight: thin }}\n");
    let brief = Brief::read(&yaml, Path::new("")).expect("a brief");
    let face = Face::read(include_bytes!("data/fonts/Bitter-Variable.ttf").to_vec()).expect("a font");
    faces.add(brief.typography.blurb.font.clone(), face);
    (brief.typography, faces)
}

#[test]
fn a_sign_that_a_font_lacks_is_set_from_it_where_it_has_an_equivalent() {
    let mut rows = 0;
    for row in include_str!("data/signs.tsv").lines().filter(|row| !row.starts_with('#')) {
        let [file, units_per_em, points, expected] = row.split('\t').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let units_per_em = units_per_em.parse().expect("units per em");
        let point = |point: &str| u32::from_str_radix(point, 16).ok().and_then(char::from_u32).expect("a code point");
        let text: String = std::iter::once('n').chain(points.split(' ').map(point)).chain(['n']).collect();
        let draft = Draft::read(&text);
        assert_eq!(draft.blocks[0].text(), text, "the draft must not change the text");
        let (typography, faces) = faces_of(file);
        let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
        let shaped = &copy.paragraphs[0].shaped;
        let expected: Vec<(u32, Em)> = expected.split(' ').map(|glyph| of_table(glyph, units_per_em)).collect();
        if expected.iter().any(|(id, _)| *id == 0) {
            // There is nothing for it in the font itself.
            assert!(!shaped.stood_in.is_empty() || !shaped.missing.is_empty(), "{file}: {points}");
        } else {
            assert!(shaped.stood_in.is_empty() && shaped.missing.is_empty(), "{file}: {points}");
            let set: Vec<(u32, Em)> = shaped.glyphs.iter().map(|glyph| (glyph.id, glyph.advance)).collect();
            assert_eq!(set, expected, "{file}: {points}");
        }
        rows += 1;
    }
    assert_eq!(rows, 9 * 57, "every sign in each of nine fonts");
}

/// `glyph:advance`, the advance in font units.
fn of_table(glyph: &str, units_per_em: u16) -> (u32, Em) {
    let (id, units) = glyph.split_once(':').expect("a glyph and its advance");
    (id.parse().expect("a glyph"), Em::from_units(units.parse().expect("font units"), units_per_em))
}
