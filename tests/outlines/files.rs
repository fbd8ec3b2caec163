//! Pictures and drawings made for tests.

use png::{BitDepth, ColorType, Encoder};

/// A picture of pixels that are as opaque as a number from 0 to 255 says.
pub(crate) fn picture((width, height): (u32, u32), opacity: impl Fn(u32, u32) -> u8) -> Vec<u8> {
    let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    let data: Vec<u8> = pixels.flat_map(|(x, y)| [90, 120, 150, opacity(x, y)]).collect();
    encoded((width, height), (ColorType::Rgba, BitDepth::Eight), &data, |_| {})
}

/// A PNG of rows as the form has them.
pub(crate) fn encoded(
    (width, height): (u32, u32),
    (colour, depth): (ColorType, BitDepth),
    data: &[u8],
    more: impl Fn(&mut Encoder<'_, &mut Vec<u8>>),
) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    more(&mut encoder);
    let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(data));
    written.unwrap_or_else(|error| panic!("{error}"));
    bytes
}

/// A picture in eight bits of grey and opacity, interlaced by Adam7.
pub(crate) fn interlaced(size: (u32, u32), opacity: impl Fn(u32, u32) -> u8) -> Vec<u8> {
    let (header, data) = interlaced_parts(size, opacity);
    of_parts(&header, &data)
}

/// A PNG of what is in its header and in the chunk of its rows, with sums that are right.
pub(crate) fn of_parts(header: &[u8], data: &[u8]) -> Vec<u8> {
    [&b"\x89PNG\r\n\x1a\n"[..], &chunk(b"IHDR", header), &chunk(b"IDAT", data), &chunk(b"IEND", b"")].concat()
}

/// What is in the header and in the chunk of rows of an interlaced picture, which is made by hand: its rows are not
/// compressed.
pub(crate) fn interlaced_parts((width, height): (u32, u32), opacity: impl Fn(u32, u32) -> u8) -> (Vec<u8>, Vec<u8>) {
    // Portable Network Graphics (third edition), 8.1: where each pass begins, and its steps.
    let passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)];
    let mut rows = Vec::new();
    for (left, top, across, down) in passes.into_iter().filter(|(left, top, ..)| *left < width && *top < height) {
        for y in (top..height).step_by(down) {
            rows.push(0);
            rows.extend((left..width).step_by(across).flat_map(|x| [128, opacity(x, y)]));
        }
    }
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 4, 0, 0, 1]].concat();
    let mut stored = vec![0x78, 0x01];
    let pieces: Vec<&[u8]> = rows.chunks(60_000).collect();
    for (number, piece) in pieces.iter().enumerate() {
        let length = piece.len() as u16;
        stored.push(u8::from(number + 1 == pieces.len()));
        stored.extend(length.to_le_bytes().into_iter().chain((!length).to_le_bytes()));
        stored.extend_from_slice(piece);
    }
    let (one, other) = rows.iter().fold((1_u32, 0_u32), |(one, other), byte| {
        let one = (one + u32::from(*byte)) % 65_521;
        (one, (other + one) % 65_521)
    });
    stored.extend(((other << 16) | one).to_be_bytes());
    (header, stored)
}

/// The header of a PNG of a size, and nothing behind it.
pub(crate) fn header_alone(width: u32, height: u32) -> Vec<u8> {
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 6, 0, 0, 0]].concat();
    [&b"\x89PNG\r\n\x1a\n"[..], &chunk(b"IHDR", &header)].concat()
}

/// A chunk with its length and its sum.
pub(crate) fn chunk(name: &[u8; 4], data: &[u8]) -> Vec<u8> {
    let named = [&name[..], data].concat();
    [&(data.len() as u32).to_be_bytes()[..], &named, &sum(&named).to_be_bytes()].concat()
}

/// Portable Network Graphics (third edition), annex D.
fn sum(named: &[u8]) -> u32 {
    !named.iter().fold(u32::MAX, |sum, byte| {
        let step = |sum: u32, _| if sum & 1 == 1 { (sum >> 1) ^ 0xedb8_8320 } else { sum >> 1 };
        (0..8).fold(sum ^ u32::from(*byte), step)
    })
}

/// Writes the right sum behind every chunk of a PNG, as far as its lengths can be followed.
pub(crate) fn sums_mended(bytes: &mut [u8]) {
    let mut at = 8;
    while let Some(length) = bytes.get(at..at + 4) {
        let length = length.iter().fold(0, |sum, byte| sum << 8 | usize::from(*byte));
        let (named, end) = (at + 4, at + 8 + length);
        let Some(sum) = bytes.get(named..end).map(sum) else { return };
        let Some(place) = bytes.get_mut(end..end + 4) else { return };
        place.copy_from_slice(&sum.to_be_bytes());
        at = end + 4;
    }
}

/// A drawing of some elements.
pub(crate) fn drawing(elements: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 60\">{elements}</svg>\n")
}

/// A bubble with a tail, and with a comment that a drawing program might leave.
pub(crate) const BUBBLE: &str = "<!-- drawn by hand --><g transform='translate(4 3) scale(2)'>\
    <path d='M20 10 H180 A15 15 0 0 1 195 25 V75 A15 15 0 0 1 180 90 H90 L60 115 L65 90 H20 A15 15 0 0 1 5 75 \
    V25 A15 15 0 0 1 20 10 Z' fill='none' stroke='black'/></g>";

/// A cloud of five circles, by its pixels of 300 across and 180 down.
pub(crate) fn cloud(x: u32, y: u32) -> u8 {
    let puffs = [(75, 100, 55), (150, 75, 70), (225, 100, 60), (115, 130, 47), (190, 130, 47)];
    let is_in = |(left, top, radius): (i64, i64, i64)| {
        (i64::from(x) - left).pow(2) + (i64::from(y) - top).pow(2) < radius * radius
    };
    if puffs.into_iter().any(is_in) { 255 } else { 0 }
}
