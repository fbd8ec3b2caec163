//! A variable font at regular, semibold and bold, held against HarfBuzz glyph by glyph and to the font unit.
//!
//! The table is made by tests/reference/weights.py; its head names the version.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::Font;
use blurbwright::draft::{Draft, Emphasis};
use blurbwright::setting::face::Face;
use blurbwright::setting::{Faces, SettingMemory, ShapedCopy};
use blurbwright::units::Em;

/// A subset of Bitter, under the SIL Open Font License (tests/data/fonts/Bitter-OFL.txt).
const FONT: &[u8] = include_bytes!("data/fonts/Bitter-Variable.ttf");

/// A brief whose type has these keys, and the faces that it asks for.
fn set(keys: &str) -> (Brief, Faces) {
    let yaml = format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ font: own.ttf, {keys} }}\n");
    let brief = Brief::read(&yaml, Path::new("")).expect("a brief");
    let mut faces = Faces::built_in();
    for font in brief.typography.fonts().filter(|font| !font.is_built_in()) {
        faces.add(font.clone(), Face::read(FONT.to_vec()).expect("a font"));
    }
    (brief, faces)
}

#[test]
fn every_weight_is_as_wide_as_harfbuzz_sets_them() {
    let mut rows = 0;
    for row in include_str!("data/weights.tsv").lines().filter(|row| !row.starts_with('#')) {
        let [_, units_per_em, weight, text, expected] = row.split('\t').collect::<Vec<_>>()[..] else {
            panic!("{row}")
        };
        let units_per_em: u16 = units_per_em.parse().expect("units per em");
        let (brief, faces) = set(&format!("weight: {weight}"));
        let draft = Draft::read(text);
        let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
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
    assert_eq!(rows, 6, "two texts at three weights");
}

/// The weight at which each run of a paragraph is set.
fn weights_of(keys: &str, source: &str) -> Vec<Option<f32>> {
    let (brief, faces) = set(keys);
    let draft = Draft::read(source);
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let paragraph = &copy.paragraphs[0];
    paragraph.shaped.runs.iter().map(|run| paragraph.family.face(run.emphasis).weight()).collect()
}

#[test]
fn bold_words_are_at_least_as_heavy_as_what_is_round_them() {
    let set = "To **Ty** To";
    assert_eq!(weights_of("weight: semibold", set), [Some(600.0), Some(700.0), Some(600.0)]);
    assert_eq!(weights_of("weight: 850", set), [Some(850.0), Some(850.0), Some(850.0)]);
    assert_eq!(weights_of("weight: bold", set), [Some(700.0); 3]);
}

#[test]
fn a_block_takes_its_weight_from_the_blurb_unless_it_has_another_font() {
    let (quote, headline) = ("> “To Ty”\n", "# To Ty\n");
    assert_eq!(weights_of("weight: light", quote), [Some(300.0)]);
    assert_eq!(weights_of("weight: light, quote: { weight: regular }", quote), [Some(400.0)]);
    assert_eq!(weights_of("weight: light, quote: { font: serif }", quote), [None]);
    assert_eq!(weights_of("weight: light", headline), [Some(700.0)]);
    assert_eq!(weights_of("headline: { weight: medium }", headline), [Some(500.0)]);
}

#[test]
fn a_heavier_letter_is_drawn_heavier() {
    let (brief, faces) = set("weight: semibold, quote: { weight: regular }");
    let fonts: Vec<&Font> = brief.typography.fonts().collect();
    let plain = |weight: u16| {
        let font = fonts.iter().find(|font| font.weight().number() == weight).expect("the weight");
        faces.family(font).face(Emphasis::default())
    };
    let bold = faces.family(fonts[0]).face(Emphasis { bold: true, italic: false });
    let [regular, semibold, bold] = [plain(400), plain(600), bold].map(|face| face.outline(1));
    assert!(regular != semibold && semibold != bold && regular != bold, "the outlines of A");
}
