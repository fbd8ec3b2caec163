//! Advances held against HarfBuzz, glyph by glyph and to the font unit.
//!
//! The table is made by tests/reference/advances.py; its head names the version.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use blurbwright::brief::Typography;
use blurbwright::brief::typography::{Align, BlockType, Breaks, Font, Leading, Stack};
use blurbwright::draft::Draft;
use blurbwright::setting::{Copy, Faces};
use blurbwright::units::{Em, Length};

/// The built-in face of a font file, as the type of the blurb.
fn typography(file: &str) -> Typography {
    let (family, style) = file.trim_end_matches(".ttf").split_once('-').expect("a style");
    let blurb = BlockType {
        font: if family == "Nunito" { Font::Sans } else { Font::Serif },
        size: Length::pt(12.0),
        own_size: true,
        leading: Leading::Percent(125.0),
        bold: style.starts_with("Bold"),
        italic: style.ends_with("Italic"),
        align: Align::Left,
        space_above: Length::ZERO,
        indent: Length::ZERO,
        breaks: Breaks::FirstFit,
        hyphenate: None,
        hang_quotes: false,
    };
    Typography { blurb, others: Vec::new(), stack: Stack::Head }
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
        let copy = Copy::shape(&draft, &typography(file), &faces);
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

/// `glyph:advance`, the advance in font units.
fn of_table(glyph: &str, units_per_em: u16) -> (u32, Em) {
    let (id, units) = glyph.split_once(':').expect("a glyph and its advance");
    (id.parse().expect("a glyph"), Em::from_units(units.parse().expect("font units"), units_per_em))
}
