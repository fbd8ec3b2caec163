//! A font program made from outlines: a CID-keyed CFF font that holds the letters of one document and nothing else.
//!
//! Any font that can be drawn can be written so: TrueType or PostScript, variable or not, with the very outlines that SVG
//! and PNG are drawn from. Every offset takes four bytes, so the length of each part is known before it is written.
//!
//! Sources: Adobe Technical Note 5176, "The Compact Font Format Specification"; Adobe Technical Note 5177, "The Type 2
//! Charstring Format".

use crate::setting::outline::PathStep;

/// Parts of a thousandth of an em in which a font program counts: 1/64.
pub(super) const GRID: i32 = 64;

/// Places further away than this, in thousandths of an em, are drawn at this distance; differences of two stay within
/// the numbers of a charstring.
const FARTHEST: f64 = 16_000.0;

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
    /// The advance, on the grid.
    pub(super) advance: i32,
}

/// A font program, and what a document says of it.
pub(super) struct CffFont {
    /// The bytes of the program.
    pub(super) bytes: Vec<u8>,
    /// The left, lower, right and upper edge of the box round all letters, in thousandths of an em.
    pub(super) bounds: [i32; 4],
}

/// A length in ems on the grid of the font program.
pub(super) fn on_grid(ems: f64) -> i32 {
    ((ems * 1000.0).clamp(-FARTHEST, FARTHEST) * f64::from(GRID)).round() as i32
}

/// The font program of at least one and at most 65,535 letters, of which the first stands for what is missing; a
/// letter's number is its CID. The name is ASCII without blanks.
pub(super) fn font_program(name: &str, letters: &[CffLetter]) -> CffFont {
    let bounds = bounds(letters);
    let count = letters.len() as i32;
    let [registry, ordering] = [OWN_STRINGS, OWN_STRINGS + 1];
    let top = |[charset, dict_of_letter, char_strings, font_dicts]: [usize; 4]| {
        let dict = dict(&[
            (REGISTRY, &[registry, ordering, 0]),
            (FONT_BOX, &bounds),
            (CID_COUNT, &[count]),
            (CHARSET, &[charset as i32]),
            (DICT_OF_LETTER, &[dict_of_letter as i32]),
            (CHAR_STRINGS, &[char_strings as i32]),
            (FONT_DICTS, &[font_dicts as i32]),
        ]);
        index(&[dict])
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
    let font_dicts = |private_at: usize| index(&[dict(&[(PRIVATE, &[private.len() as i32, private_at as i32])])]);

    let charset_at = bytes.len() + top([0; 4]).len() + strings.len() + no_subroutines.len();
    let dict_of_letter_at = charset_at + charset.len();
    let char_strings_at = dict_of_letter_at + dict_of_letter.len();
    let font_dicts_at = char_strings_at + char_strings.len();
    let private_at = font_dicts_at + font_dicts(0).len();

    bytes.extend(top([charset_at, dict_of_letter_at, char_strings_at, font_dicts_at]));
    for part in [strings, no_subroutines, charset, dict_of_letter, char_strings, font_dicts(private_at), private] {
        bytes.extend(part);
    }
    CffFont { bytes, bounds }
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

/// The box round all places of the letters' paths, control points among them.
fn bounds(letters: &[CffLetter]) -> [i32; 4] {
    let mut places = letters.iter().flat_map(|letter| &letter.outline).flat_map(|step| match *step {
        PathStep::Move(to) | PathStep::Line(to) => vec![to],
        PathStep::Quad(by, to) => vec![by, to],
        PathStep::Curve(from, by, to) => vec![from, by, to],
        PathStep::Close => Vec::new(),
    });
    let thousandths = |[x, y]: [f32; 2]| [x, y].map(|ems| f64::from(on_grid(f64::from(ems))) / f64::from(GRID));
    let Some([x, y]) = places.next().map(thousandths) else { return [0; 4] };
    let mut bounds = [x, y, x, y];
    for [x, y] in places.map(thousandths) {
        bounds = [bounds[0].min(x), bounds[1].min(y), bounds[2].max(x), bounds[3].max(y)];
    }
    let [left, foot, right, head] = bounds;
    [left.floor() as i32, foot.floor() as i32, right.ceil() as i32, head.ceil() as i32]
}

/// A letter's path as it is written: each place by its distance from the one before it.
#[derive(Default)]
struct CharString {
    bytes: Vec<u8>,
    /// Where the path has come to, in ems.
    at: [f64; 2],
    /// The same place on the grid, from which the next distance counts, so that roundings never add up.
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
                    // Of a cubic curve that is the same as one with a single control point, each control point lies two
                    // thirds of the way from its end to that point.
                    let (from, by, to) = (path.at, wide(by), wide(to));
                    let towards = |end: [f64; 2]| [0, 1].map(|axis| end[axis] + (by[axis] - end[axis]) * 2.0 / 3.0);
                    path.go(&[towards(from), towards(to), to], RRCURVETO);
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
            let next = place.map(on_grid);
            for (to, from) in next.iter().zip(self.written) {
                self.number(to - from);
            }
            self.written = next;
            self.at = *place;
        }
        self.bytes.push(operator);
    }

    /// Writes a number of the grid in its shortest form.
    fn number(&mut self, on_grid: i32) {
        let whole = on_grid / GRID;
        if on_grid % GRID != 0 {
            // Sixteen bits before the point and sixteen behind it.
            self.bytes.push(255);
            self.bytes.extend((on_grid * (65_536 / GRID)).to_be_bytes());
        } else if (-107..=107).contains(&whole) {
            self.bytes.push((whole + 139) as u8);
        } else if (108..=1131).contains(&whole) {
            self.bytes.extend(((whole - 108 + (247 << 8)) as u16).to_be_bytes());
        } else if (-1131..=-108).contains(&whole) {
            self.bytes.extend(((-whole - 108 + (251 << 8)) as u16).to_be_bytes());
        } else {
            self.bytes.push(28);
            self.bytes.extend((whole as i16).to_be_bytes());
        }
    }
}

fn wide([x, y]: [f32; 2]) -> [f64; 2] {
    [f64::from(x), f64::from(y)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Adobe Technical Note 5177, section 3.2, Table 1, "Charstring encoding values".
    #[test]
    fn numbers_have_the_bytes_of_the_standard() {
        for (number, bytes) in [
            (0.0, &[139][..]),
            (-107.0, &[32]),
            (107.0, &[246]),
            (108.0, &[247, 0]),
            (1131.0, &[250, 255]),
            (-108.0, &[251, 0]),
            (-1131.0, &[254, 255]),
            (1132.0, &[28, 4, 108]),
            (-16_000.0, &[28, 193, 128]),
            (0.5, &[255, 0, 0, 128, 0]),
            (-0.5, &[255, 255, 255, 128, 0]),
        ] {
            let mut path = CharString::default();
            path.number(on_grid(number / 1000.0));
            assert_eq!(path.bytes, bytes, "{number}");
        }
    }

    #[test]
    fn a_letter_is_written_as_distances_and_closed_by_what_follows() {
        let outline = vec![
            PathStep::Move([0.1, 0.0]),
            PathStep::Line([0.1, 0.05]),
            PathStep::Quad([0.13, 0.05], [0.13, 0.02]),
            PathStep::Close,
        ];
        let letter = CffLetter { outline, advance: on_grid(0.1) };
        let expected = [239, 239, 139, RMOVETO, 139, 189, RLINETO, 159, 139, 149, 129, 139, 119, RRCURVETO, ENDCHAR];
        assert_eq!(CharString::of(&letter), expected);
        assert_eq!(font_program("F", &[CffLetter::default(), letter]).bounds, [100, 0, 130, 50]);
    }

    /// Numbers of a broken font are no reason to fail: they end at the farthest place.
    #[test]
    fn places_without_reason_stay_within_the_numbers_of_a_charstring() {
        let outline = vec![PathStep::Move([f32::MAX, f32::MIN]), PathStep::Line([f32::MIN, f32::NAN])];
        let letter = CffLetter { outline, advance: 0 };
        assert_eq!(font_program("F", &[letter]).bounds, [-16_000, -16_000, 16_000, 0]);
    }
}
