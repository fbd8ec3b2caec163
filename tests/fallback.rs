//! Letters that a font lacks: a mark stays in one face with the letter that it stands on.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::Font;
use blurbwright::draft::Draft;
use blurbwright::setting::built_in::BuiltIn;
use blurbwright::setting::face::Face;
use blurbwright::setting::{Faces, SettingMemory, ShapedCopy};

/// A subset of Bitter with hardly a letter beside those of English, under the SIL Open Font License.
const FONT: &[u8] = include_bytes!("data/fonts/Bitter-Variable.ttf");

const OWN: &str = "panel: { trim: 8 x 8 in }\ntype: { font: own.ttf, weight: regular }\n";

/// The stretches of a line in one face each, with the family that stands in and whether it is bold, and with no letter
/// shown as a box.
fn stretches(font: &str, weight: &str, text: &'static str) -> Vec<(&'static str, Option<BuiltIn>, bool)> {
    let yaml = format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ font: {font}, weight: {weight} }}\n");
    let brief = Brief::read(&yaml, Path::new("")).expect("a brief");
    let mut faces = Faces::built_in();
    let own = &brief.typography.blurb.font;
    if *own != Font::Serif {
        faces.add(own.clone(), Face::read(FONT.to_vec()).expect("a font"));
    }
    let draft = Draft::read(text);
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let shaped = &copy.paragraphs[0].shaped;
    assert!(shaped.missing.is_empty(), "{:?}", shaped.missing);
    assert!(shaped.glyphs.iter().all(|glyph| glyph.id != 0), "{text}");
    shaped.runs.iter().map(|run| (&text[run.text.clone()], run.stand_in, run.emphasis.bold)).collect()
}

#[test]
fn marks_and_their_letter_are_set_in_one_face() {
    let sans = Some(BuiltIn::Sans);
    // Bitter has q and neither mark; the sans has all three.
    assert_eq!(
        stretches("own.ttf", "regular", "a q\u{323}\u{304} b"),
        [("a ", None, false), ("q\u{323}\u{304}", sans, false), (" b", None, false)]
    );
    // The serif has the mark and not the letter.
    assert_eq!(
        stretches("serif", "regular", "a \u{430}\u{301} b"),
        // The blank goes with the script before it.
        [("a ", None, false), ("\u{430}\u{301}", sans, false), (" ", None, false), ("b", None, false)]
    );
    // Bitter has the two as one letter, which needs no other face.
    assert_eq!(stretches("own.ttf", "regular", "cafe\u{301}"), [("cafe\u{301}", None, false)]);
}

/// In the variable font there is neither U+2010 nor U+2011, nor any blank but the plain one; the picture of two people
/// is in no font, and the joiner in it is not called a letter that is missing.
#[test]
fn a_sign_with_an_equivalent_changes_neither_the_face_nor_the_line() {
    for (with, like) in [("sea\u{2011}ice", "sea-ice"), ("sea\u{2010}ice", "sea-ice")] {
        let width = |text: &'static str| {
            assert_eq!(stretches("own.ttf", "regular", text), [(text, None, false)]);
            let (draft, brief) = (Draft::read(text), Brief::read(OWN, Path::new("")).expect("a brief"));
            let mut faces = Faces::built_in();
            faces.add(brief.typography.blurb.font.clone(), Face::read(FONT.to_vec()).expect("a font"));
            let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
            copy.paragraphs[0].shaped.glyphs.iter().map(|glyph| glyph.advance.to_f64()).sum::<f64>()
        };
        assert_eq!(width(with), width(like), "{with:?}");
    }
    let draft = Draft::read("a \u{1f469}\u{200d}\u{1f467}");
    let brief = Brief::read(OWN, Path::new("")).expect("a brief");
    let missing = ShapedCopy::shape(&draft, &brief.typography, &Faces::built_in(), &mut SettingMemory::default())
        .paragraphs[0]
        .shaped
        .missing
        .clone();
    assert_eq!(missing, ['\u{1f469}', '\u{1f467}']);
}

#[test]
fn what_stands_in_for_a_heavy_letter_is_bold() {
    let sans = Some(BuiltIn::Sans);
    for (weight, bold) in [("regular", false), ("medium", false), ("semibold", true), ("black", true)] {
        assert_eq!(
            stretches("own.ttf", weight, "a \u{42f}"),
            [("a ", None, false), ("\u{42f}", sans, bold)],
            "{weight}"
        );
    }
}

/// The serif is stretched in the stead of a font that is not at hand, and not what stands in for the serif's own gaps.
#[test]
fn a_font_that_is_not_at_hand_lacks_what_the_serif_lacks() {
    let advances = |alphabet: u32| {
        let font = format!("{{ name: Some Face, alphabet: {alphabet} pt, at: 12 pt }}");
        let yaml = format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ font: {font} }}\n");
        let brief = Brief::read(&yaml, Path::new("")).expect("a brief");
        let (draft, faces) = (Draft::read("a \u{42f}"), Faces::built_in());
        let shaped =
            &ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default()).paragraphs[0].shaped;
        assert_eq!(shaped.stood_in, [('\u{42f}', BuiltIn::Sans)]);
        shaped.glyphs.iter().map(|glyph| glyph.advance.to_f64()).collect::<Vec<_>>()
    };
    let (narrow, wide) = (advances(120), advances(180));
    assert!((narrow[0] * 1.5 - wide[0]).abs() < 1e-5 && (narrow[1] * 1.5 - wide[1]).abs() < 1e-5);
    assert_eq!(narrow[2], wide[2]);
}
