//! A font program made from outlines: a CID-keyed CFF font that holds the letters of one document and nothing else.
//!
//! Any font that can be drawn can be written so: TrueType or PostScript, variable or not, with the outlines that SVG
//! and PNG are drawn from. Every offset takes four bytes, so the length of each part is known before it is written.
//!
//! Sources: Adobe Technical Note 5176, "The Compact Font Format Specification"; Adobe Technical Note 5177, "The Type 2
//! Charstring Format".

use crate::setting::outline::PathStep;

/// The units in an em: two to a thousandth. Charstrings may have fractions of a unit too, but FreeType, which most
/// readers draw with, cuts them off.
const UNITS: f64 = 2000.0;

/// A unit as a part of the em, 0.0005: the digits of a real number of a dictionary, four bits each.
const UNIT: &[u8] = &[30, 0xa0, 0x00, 0x5f];
const ONE: &[u8] = &[140];

/// The places, in units, that a path can have: the distance of any two is a number of sixteen bits. What a broken font
/// puts beyond them stands at their end.
const PLACES: [f64; 2] = [-8_000.0, 24_000.0];

/// The number of the first string that is not among the standard ones.
const OWN_STRINGS: i32 = 391;

// Operators of a charstring.
const RLINETO: u8 = 5;
const RRCURVETO: u8 = 8;
const ENDCHAR: u8 = 14;
const RMOVETO: u8 = 21;

// Operators of a dictionary; those above 255 stand behind an escape, 12.
const FONT_BOX: u16 = 5;
const CHARSET: u16 = 15;
const CHAR_STRINGS: u16 = 17;
const PRIVATE: u16 = 18;
const DEFAULT_WIDTH: u16 = 20;
const NOMINAL_WIDTH: u16 = 21;
const REGISTRY: u16 = 256 + 30;
const CID_COUNT: u16 = 256 + 34;
const FONT_DICTS: u16 = 256 + 36;
const DICT_OF_LETTER: u16 = 256 + 37;

/// One letter of a font program.
#[derive(Debug, Default)]
pub(super) struct CffLetter {
    /// The path, in fractions of the em.
    pub(super) outline: Vec<PathStep>,
    /// The advance, in units.
    pub(super) advance: i32,
}

/// A length in ems as the nearest whole number of units.
pub(super) fn units(ems: f64) -> i32 {
    (ems * UNITS).round().clamp(PLACES[0], PLACES[1]) as i32
}

/// A length in units as thousandths of an em, in which a document counts.
pub(super) fn thousandths(units: i32) -> f64 {
    f64::from(units) * 1000.0 / UNITS
}

/// The font program of at least one and at most 65,535 letters, of which the first stands for what is missing; a
/// letter's number is its CID. The name is ASCII without blanks.
pub(super) fn font_program(name: &str, letters: &[CffLetter]) -> Vec<u8> {
    let top = |[charset, dict_of_letter, char_strings, font_dicts]: [usize; 4]| {
        let names = dict(&[(REGISTRY, &[OWN_STRINGS, OWN_STRINGS + 1, 0])]);
        let parts = dict(&[
            (FONT_BOX, &bounds(letters)),
            (CID_COUNT, &[letters.len() as i32]),
            (CHARSET, &[charset as i32]),
            (DICT_OF_LETTER, &[dict_of_letter as i32]),
            (CHAR_STRINGS, &[char_strings as i32]),
            (FONT_DICTS, &[font_dicts as i32]),
        ]);
        index(&[[names, font_matrix(UNIT), parts].concat()])
    };
    // Major and minor version, the length of this head, and the length of an offset.
    let mut bytes = vec![1, 0, 4, 4];
    bytes.extend(index(&[name.as_bytes().to_vec()]));
    let strings = index(&[b"Adobe".to_vec(), b"Identity".to_vec()]);
    let no_subroutines = index(&[]);
    let charset = charset(letters.len());
    let dict_of_letter = dict_of_letter(letters.len());
    let char_strings = index(&letters.iter().map(CharString::of).collect::<Vec<_>>());
    let private = dict(&[(DEFAULT_WIDTH, &[0]), (NOMINAL_WIDTH, &[0])]);
    let font_dicts = |private_at: usize| {
        // Some readers multiply both matrices, and take a usual one where the second is missing.
        let private = dict(&[(PRIVATE, &[private.len() as i32, private_at as i32])]);
        index(&[[font_matrix(ONE), private].concat()])
    };

    let charset_at = bytes.len() + top([0; 4]).len() + strings.len() + no_subroutines.len();
    let dict_of_letter_at = charset_at + charset.len();
    let char_strings_at = dict_of_letter_at + dict_of_letter.len();
    let font_dicts_at = char_strings_at + char_strings.len();
    let private_at = font_dicts_at + font_dicts(0).len();

    bytes.extend(top([charset_at, dict_of_letter_at, char_strings_at, font_dicts_at]));
    for part in [strings, no_subroutines, charset, dict_of_letter, char_strings, font_dicts(private_at), private] {
        bytes.extend(part);
    }
    bytes
}

/// The left, lower, right and upper edge of the box round all letters, in units: of all places of their paths, control
/// points among them.
pub(super) fn bounds(letters: &[CffLetter]) -> [i32; 4] {
    let places = letters.iter().flat_map(|letter| &letter.outline).flat_map(|step| match *step {
        PathStep::Move(to) | PathStep::Line(to) => vec![to],
        PathStep::Quad(by, to) => vec![by, to],
        PathStep::Curve(from, by, to) => vec![from, by, to],
        PathStep::Close => Vec::new(),
    });
    let boxes = places.map(|place| {
        let [x, y] = place.map(|ems| units(f64::from(ems)));
        [x, y, x, y]
    });
    let joined = |one: [i32; 4], other: [i32; 4]| {
        [one[0].min(other[0]), one[1].min(other[1]), one[2].max(other[2]), one[3].max(other[3])]
    };
    boxes.reduce(joined).unwrap_or_default()
}

/// The CIDs of all letters but the first: 1 and on, as one range.
fn charset(letters: usize) -> Vec<u8> {
    match letters {
        // There is no range of no letters.
        0 | 1 => vec![0],
        _ => [&[2][..], &be16(1), &be16(letters - 2)].concat(),
    }
}

/// Which font dictionary a letter belongs to: for all of them the only one.
fn dict_of_letter(letters: usize) -> Vec<u8> {
    [&[3][..], &be16(1), &be16(0), &[0], &be16(letters)].concat()
}

/// The entry of a dictionary by which places are multiplied, both ways alike.
fn font_matrix(scale: &[u8]) -> Vec<u8> {
    const ZERO: &[u8] = &[139];
    [scale, ZERO, ZERO, scale, ZERO, ZERO, &[12, 7]].concat()
}

/// A dictionary of whole numbers, each in five bytes.
fn dict(entries: &[(u16, &[i32])]) -> Vec<u8> {
    let mut bytes = Vec::new();
    for (operator, operands) in entries {
        for operand in *operands {
            bytes.push(29);
            bytes.extend(operand.to_be_bytes());
        }
        match operator.to_be_bytes() {
            [0, operator] => bytes.push(operator),
            [_, escaped] => bytes.extend([12, escaped]),
        }
    }
    bytes
}

/// An index: parts of any length, each found by its number.
fn index(parts: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = be16(parts.len()).to_vec();
    if parts.is_empty() {
        return bytes;
    }
    bytes.push(4);
    // Offsets count from the byte before the first part.
    let mut offset = 1_u32;
    bytes.extend(offset.to_be_bytes());
    for part in parts {
        offset += part.len() as u32;
        bytes.extend(offset.to_be_bytes());
    }
    bytes.extend(parts.iter().flatten());
    bytes
}

fn be16(number: usize) -> [u8; 2] {
    (number as u16).to_be_bytes()
}

/// A letter's path as it is written: each place by its distance from the one before it.
#[derive(Default)]
struct CharString {
    bytes: Vec<u8>,
    /// Where the path has come to, in ems.
    at: [f64; 2],
    /// Where the path has come to, in units, from which the next distance counts, so that roundings never add up.
    written: [i32; 2],
}

impl CharString {
    fn of(letter: &CffLetter) -> Vec<u8> {
        let mut path = Self::default();
        // The advance stands before the first operator's own numbers.
        path.number(letter.advance);
        for step in &letter.outline {
            match *step {
                PathStep::Move(to) => path.go(&[wide(to)], RMOVETO),
                PathStep::Line(to) => path.go(&[wide(to)], RLINETO),
                PathStep::Quad(by, to) => {
                    let (from, by, to) = (path.at, wide(by), wide(to));
                    path.go(&[towards(by, from), towards(by, to), to], RRCURVETO);
                }
                PathStep::Curve(from, by, to) => path.go(&[wide(from), wide(by), wide(to)], RRCURVETO),
                // The next contour, or the end of the letter, closes this one.
                PathStep::Close => {}
            }
        }
        path.bytes.push(ENDCHAR);
        path.bytes
    }

    fn go(&mut self, places: &[[f64; 2]], operator: u8) {
        for place in places {
            let next = place.map(units);
            for (to, from) in next.iter().zip(self.written) {
                self.number(to - from);
            }
            self.written = next;
            self.at = *place;
        }
        self.bytes.push(operator);
    }

    /// Writes a number in its shortest form.
    fn number(&mut self, number: i32) {
        match number {
            -107..=107 => self.bytes.push((number + 139) as u8),
            108..=1131 => self.bytes.extend(((number - 108 + (247 << 8)) as u16).to_be_bytes()),
            -1131..=-108 => self.bytes.extend(((-number - 108 + (251 << 8)) as u16).to_be_bytes()),
            _ => {
                self.bytes.push(28);
                self.bytes.extend((number as i16).to_be_bytes());
            }
        }
    }
}

/// A control point of the cubic curve that is equal to a curve with a single one: two thirds of the way from an end of
/// the curve to that one.
fn towards(by: [f64; 2], end: [f64; 2]) -> [f64; 2] {
    [0, 1].map(|axis| end[axis] + (by[axis] - end[axis]) * 2.0 / 3.0)
}

fn wide([x, y]: [f32; 2]) -> [f64; 2] {
    [f64::from(x), f64::from(y)]
}

#[cfg(test)]
mod tests {
    use harfrust::GlyphId;
    use harfrust::font::glyph::outline::{DrawMemory, DrawOptions, PathElement};

    use super::*;
    use crate::draft::Emphasis;
    use crate::setting::built_in::BuiltIn;

    /// Source: Adobe Technical Note 5177, section 3.2, Table 1, "Charstring encoding values".
    #[test]
    fn numbers_have_the_bytes_of_the_standard() {
        for (number, bytes) in [
            (0, &[139][..]),
            (-107, &[32]),
            (107, &[246]),
            (108, &[247, 0]),
            (1131, &[250, 255]),
            (-108, &[251, 0]),
            (-1131, &[254, 255]),
            (1132, &[28, 4, 108]),
            (-32_000, &[28, 131, 0]),
        ] {
            let mut path = CharString::default();
            path.number(number);
            assert_eq!(path.bytes, bytes, "{number}");
        }
    }

    #[test]
    fn a_letter_is_written_as_distances_and_closed_by_what_follows() {
        let outline = vec![
            PathStep::Move([0.05, 0.0]),
            PathStep::Line([0.05, 0.025]),
            PathStep::Quad([0.065, 0.025], [0.065, 0.01]),
            PathStep::Close,
        ];
        let letter = CffLetter { outline, advance: units(0.05) };
        let expected = [239, 239, 139, RMOVETO, 139, 189, RLINETO, 159, 139, 149, 129, 139, 119, RRCURVETO, ENDCHAR];
        assert_eq!(CharString::of(&letter), expected);
        assert_eq!(bounds(&[CffLetter::default(), letter]), [100, 0, 130, 50]);
    }

    /// The program is read again by the shaper's own reader of fonts, which draws the outlines that went in.
    #[test]
    fn a_font_program_draws_the_outlines_that_it_was_made_from() {
        let face = BuiltIn::Serif.face(Emphasis { bold: false, italic: true });
        let outline = |id| face.outline(id).map_or_else(Vec::new, |outline| outline.steps);
        let letter = |id| CffLetter { outline: outline(id), advance: units(face.advance(id).to_f64()) };
        let letters: Vec<CffLetter> = (0..200).map(letter).collect();
        let font = harfrust::Font::new(font_program("Letters", &letters), 0).expect("a font");
        assert_eq!(font.num_glyphs(), 200);
        for (id, letter) in (0..).zip(&letters) {
            let mut drawn: Vec<PathElement> = Vec::new();
            let glyph = font.outline_glyphs().get(GlyphId::new(id)).expect("a glyph");
            let options = DrawOptions::new().with_ppem(Some(2000.0));
            glyph.draw(&options, DrawMemory::Scratch, &mut drawn).expect("a path");
            let ends = |element: &PathElement| match *element {
                PathElement::MoveTo { x, y } | PathElement::LineTo { x, y } | PathElement::CurveTo { x, y, .. } => {
                    Some([x, y])
                }
                PathElement::QuadTo { .. } | PathElement::Close => None,
            };
            let own = |step: &PathStep| match *step {
                PathStep::Move(to) | PathStep::Line(to) | PathStep::Quad(_, to) | PathStep::Curve(_, _, to) => Some(to),
                PathStep::Close => None,
            };
            let drawn: Vec<[f32; 2]> = drawn.iter().filter_map(ends).collect();
            let own: Vec<[f32; 2]> = letter.outline.iter().filter_map(own).collect();
            assert_eq!(drawn.len(), own.len(), "{id}");
            for (drawn, own) in drawn.iter().zip(&own) {
                let off = [0, 1].map(|axis| (drawn[axis] - own[axis] * 2000.0).abs());
                assert!(off[0] <= 0.51 && off[1] <= 0.51, "{id}: {drawn:?} {own:?}");
            }
        }
    }

    /// Numbers of a broken font are no reason to fail.
    #[test]
    fn places_without_reason_stay_within_the_numbers_of_a_charstring() {
        let outline = vec![PathStep::Move([f32::MAX, f32::MIN]), PathStep::Line([f32::MIN, f32::NAN])];
        assert_eq!(bounds(&[CffLetter { outline, advance: 0 }]), [-8_000, -8_000, 24_000, 0]);
    }
}
