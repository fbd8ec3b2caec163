//! Damage to a file of art, by kinds: anywhere in its bytes, in the parts that its form has, and in their numbers.

use std::ops::Range;

use super::Door;
use crate::outlines::files::sums_mended;
use crate::random::Random;

/// A kind of damage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// The file breaks off.
    End,
    /// Single bits are turned over.
    Bits,
    /// Single bytes have another number, most often one at an end of its range.
    Bytes,
    /// Some bytes are missing.
    Gone,
    /// Some bytes stand there a second time.
    Twice,
    /// Some bytes are those of another file of the form.
    Mixed,
    /// A part that the form knows (a chunk, a segment, an entry) is missing, stands twice or stands for another.
    Parts,
    /// A number in a part, such as the picture's width, is another one of one to eight bytes.
    Numbers,
    /// Other sides of the picture, both from a pixel to a thousand, and rarely as large as a picture may be.
    Sides,
}

impl Kind {
    pub(super) const ALL: [Self; 9] = [
        Self::End,
        Self::Bits,
        Self::Bytes,
        Self::Gone,
        Self::Twice,
        Self::Mixed,
        Self::Parts,
        Self::Numbers,
        Self::Sides,
    ];

    pub(super) fn name(self) -> &'static str {
        match self {
            Self::End => "end",
            Self::Bits => "bits",
            Self::Bytes => "bytes",
            Self::Gone => "gone",
            Self::Twice => "twice",
            Self::Mixed => "mixed",
            Self::Parts => "parts",
            Self::Numbers => "numbers",
            Self::Sides => "sides",
        }
    }
}

/// Numbers at which readers go wrong: the ends of what bytes hold, the largest sides and pictures, and the small.
const AWKWARD: [u64; 28] = [
    0,
    1,
    2,
    3,
    4,
    5,
    7,
    8,
    15,
    16,
    17,
    31,
    64,
    127,
    128,
    255,
    256,
    4_096,
    7_500,
    20_000,
    32_768,
    65_535,
    65_536,
    0x7fff_ffff,
    0x8000_0000,
    0xffff_fffe,
    0xffff_ffff,
    0xffff_ffff_ffff_ffff,
];

/// Damages a file once to three times in one way, and every second file in some other way too. The sums of a PNG are
/// mended seven times in eight, since a reader looks no further at a chunk whose sum is wrong.
pub(super) fn damaged(door: Door, kind: Kind, whole: &[u8], other: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=random.below(3) {
        damage(door, kind, &mut bytes, other, random);
    }
    if random.below(2) == 0 {
        damage(door, Kind::ALL[random.place(Kind::ALL.len())], &mut bytes, other, random);
    }
    if door == Door::Png && random.below(8) > 0 {
        sums_mended(&mut bytes);
    }
    bytes
}

fn damage(door: Door, kind: Kind, bytes: &mut Vec<u8>, other: &[u8], random: &mut Random) {
    if bytes.is_empty() {
        return;
    }
    let at = random.place(bytes.len());
    let stretch = |random: &mut Random, most: usize| at..(at + 1 + random.place(most)).min(bytes.len());
    match kind {
        // By its first bytes a file is known for what it is.
        Kind::End => bytes.truncate(at.max(8)),
        Kind::Bits => bytes[at] ^= 1 << random.below(8),
        Kind::Bytes => bytes[at] = awkward(random) as u8,
        Kind::Gone => drop(bytes.drain(stretch(random, 16))),
        Kind::Twice => {
            let part = bytes[stretch(random, 64)].to_vec();
            drop(bytes.splice(at..at, part));
        }
        Kind::Mixed => {
            let from = random.place(other.len());
            let part = &other[from..(from + 1 + random.place(64)).min(other.len())];
            let end = (at + part.len()).min(bytes.len());
            drop(bytes.splice(at..end, part.iter().copied()));
        }
        Kind::Parts => damage_parts(door, bytes, random),
        Kind::Numbers => damage_number(door, bytes, random),
        Kind::Sides => damage_sides(door, bytes, random),
    }
}

fn awkward(random: &mut Random) -> u64 {
    if random.below(4) == 0 { random.below(u64::MAX) } else { AWKWARD[random.place(AWKWARD.len())] }
}

/// Leaves a part out, has it twice, or has it in the place of another.
fn damage_parts(door: Door, bytes: &mut Vec<u8>, random: &mut Random) {
    let parts = parts(door, bytes);
    if parts.is_empty() {
        return;
    }
    let (one, other) = (parts[random.place(parts.len())].clone(), parts[random.place(parts.len())].clone());
    let copy = bytes[one.clone()].to_vec();
    match (door, random.below(3)) {
        // An entry stands in a table: it is overwritten, so that all behind it stays in its place.
        (Door::Tiff, _) => bytes[other.start..other.start + copy.len()].copy_from_slice(&copy),
        (_, 0) => drop(bytes.drain(one)),
        (_, 1) => drop(bytes.splice(other.start..other.start, copy)),
        _ => drop(bytes.splice(other, copy)),
    }
}

/// Writes an awkward number over one of a part's, every second time in the part that has the picture's size.
fn damage_number(door: Door, bytes: &mut [u8], random: &mut Random) {
    let parts = parts(door, bytes);
    let has_size = |part: &&Range<usize>| match door {
        Door::Png => bytes[part.start..].get(4..8) == Some(b"IHDR"),
        Door::Jpeg => matches!(bytes.get(part.start + 1), Some(0xc0..=0xc2)),
        Door::Tiff => is_of_size(bytes, part),
    };
    let sizes: Vec<_> = parts.iter().filter(has_size).collect();
    let part = if random.below(2) == 0 && !sizes.is_empty() {
        sizes[random.place(sizes.len())].clone()
    } else if parts.is_empty() {
        return;
    } else {
        parts[random.place(parts.len())].clone()
    };
    let places: &[(usize, usize)] = match door {
        Door::Png => &[(0, 4), (8, 4), (12, 4), (8, 1), (9, 1), (16, 1), (17, 1), (18, 1), (19, 1), (20, 1)],
        Door::Jpeg => &[(2, 2), (4, 1), (5, 2), (7, 2), (9, 1), (10, 1), (11, 1), (12, 1), (13, 1), (14, 1), (17, 1)],
        Door::Tiff => &[(0, 2), (2, 2), (4, 4), (8, 4), (8, 4), (8, 2), (4, 8), (12, 8)],
    };
    let (from, length) = places[random.place(places.len())];
    let number = awkward(random);
    let is_little = door == Door::Tiff && bytes.starts_with(b"II");
    let written = if is_little { number.to_le_bytes() } else { number.to_be_bytes() };
    let written = if is_little { &written[..length] } else { &written[8 - length..] };
    if let Some(place) = bytes.get_mut(part.start + from..part.start + from + length) {
        place.copy_from_slice(written);
    }
}

/// The sides that a picture of another size gets: small ones, and those round the sizes of blocks, tiles and strips.
const SIDES: [u32; 14] = [1, 2, 3, 7, 8, 9, 15, 16, 17, 31, 33, 48, 100, 1_000];
/// As many pixels as a picture may have; so rarely that only a long search meets them.
const LARGEST: [u32; 2] = [20_000, 7_500];
const LARGEST_IN: u64 = 20_000;

/// Gives the picture another width and another height, and in a TIFF strips that go with it.
fn damage_sides(door: Door, bytes: &mut [u8], random: &mut Random) {
    let is_largest = random.below(LARGEST_IN) == 0;
    let [width, height] = if is_largest { LARGEST } else { [(); 2].map(|()| SIDES[random.place(SIDES.len())]) };
    match door {
        Door::Png => {
            put_at(bytes, 16, &width.to_be_bytes());
            put_at(bytes, 20, &height.to_be_bytes());
        }
        Door::Jpeg => {
            let frames =
                segments(bytes).into_iter().filter(|part| matches!(bytes.get(part.start + 1), Some(0xc0..=0xc2)));
            for at in frames.map(|part| part.start).collect::<Vec<_>>() {
                put_at(bytes, at + 5, &(height as u16).to_be_bytes());
                put_at(bytes, at + 7, &(width as u16).to_be_bytes());
            }
        }
        Door::Tiff => {
            let is_little = bytes.starts_with(b"II");
            for entry in entries(bytes) {
                let number = match number(bytes, entry.start, 2, is_little) {
                    Some(256) => width,
                    Some(257 | 278) => height,
                    _ => continue,
                };
                // A long number, whatever it was; in the form for large files it stands four bytes further on.
                let digits = if is_little { number.to_le_bytes() } else { number.to_be_bytes() };
                let kind = if is_little { [4, 0] } else { [0, 4] };
                put_at(bytes, entry.start + 2, &kind);
                put_at(bytes, entry.start + if entry.len() == 20 { 12 } else { 8 }, &digits);
            }
        }
    }
}

fn put_at(bytes: &mut [u8], at: usize, digits: &[u8]) {
    if let Some(place) = bytes.get_mut(at..at + digits.len()) {
        place.copy_from_slice(digits);
    }
}

/// The parts of a file that its form knows, as far as they can be followed.
fn parts(door: Door, bytes: &[u8]) -> Vec<Range<usize>> {
    match door {
        Door::Png => chunks(bytes),
        Door::Jpeg => segments(bytes),
        Door::Tiff => entries(bytes),
    }
}

/// A number of some bytes, the first or the last the largest.
fn number(bytes: &[u8], at: usize, length: usize, is_little: bool) -> Option<usize> {
    let digits = bytes.get(at..at.checked_add(length)?)?;
    let add = |sum: usize, byte: &u8| sum << 8 | usize::from(*byte);
    Some(if is_little { digits.iter().rev().fold(0, add) } else { digits.iter().fold(0, add) })
}

/// Portable Network Graphics (third edition), 5.3: length, name, data and sum of each chunk.
fn chunks(bytes: &[u8]) -> Vec<Range<usize>> {
    let mut chunks = Vec::new();
    let mut at = 8;
    while let Some(length) = number(bytes, at, 4, false).filter(|length| at + 12 + length <= bytes.len()) {
        chunks.push(at..at + 12 + length);
        at += 12 + length;
    }
    chunks
}

/// ITU-T T.81, B.1.1: a mark and, behind most marks, a length. What is packed lies behind a scan's head and belongs to
/// it here.
fn segments(bytes: &[u8]) -> Vec<Range<usize>> {
    let is_mark = |at: usize| bytes[at] == 0xff && !matches!(bytes.get(at + 1), None | Some(0 | 0xff | 0xd0..=0xd7));
    let marks: Vec<usize> = (2..bytes.len()).filter(|at| is_mark(*at)).collect();
    let ends = marks.iter().skip(1).copied().chain([bytes.len()]);
    marks.iter().zip(ends).map(|(from, to)| *from..to).collect()
}

/// The entries of the first directory: TIFF 6.0, section 2, and twenty bytes each in the form for large files.
fn entries(bytes: &[u8]) -> Vec<Range<usize>> {
    let is_little = bytes.starts_with(b"II");
    let is_large = number(bytes, 2, 2, is_little) == Some(43);
    let (place, of_count, of_entry) = if is_large { ((8, 8), 8, 20) } else { ((4, 4), 2, 12) };
    let directory = number(bytes, place.0, place.1, is_little).filter(|at| *at < bytes.len());
    let count = directory.and_then(|at| number(bytes, at, of_count, is_little)).unwrap_or(0).min(64);
    let first = directory.unwrap_or(0) + of_count;
    let all = (0..count).map(|entry| first + entry * of_entry..first + (entry + 1) * of_entry);
    all.take_while(|entry| entry.end <= bytes.len()).collect()
}

/// Whether an entry is about the size of the picture, its strips or its tiles, or about a pixel's samples.
fn is_of_size(bytes: &[u8], entry: &Range<usize>) -> bool {
    let tag = number(bytes, entry.start, 2, bytes.starts_with(b"II"));
    matches!(tag, Some(256..=259 | 262 | 273 | 277..=279 | 284 | 317 | 322..=325 | 338))
}
