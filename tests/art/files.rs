//! Files of art made for tests: one picture in every form.

use std::io::Cursor;

use jpeg_encoder::{ColorType as JpegColour, Encoder, SamplingFactor};
use tiff::TiffResult;
use tiff::encoder::{Compression, TiffEncoder, colortype};
use tiff::tags::Predictor;

/// The number of columns and rows of the picture.
pub(crate) const SIZE: (usize, usize) = (48, 32);

/// The colour of a pixel of the picture: blue at the head, green at the foot, and darker to the right.
pub(crate) fn colour(x: usize, y: usize) -> [u8; 3] {
    [(200 - x * 4) as u8, (40 + y * 6) as u8, (240 - y * 7) as u8]
}

/// The four inks of a pixel of the picture in inks.
pub(crate) fn inks(x: usize, y: usize) -> [u8; 4] {
    [(x * 5) as u8, (y * 7) as u8, 30, (x + y) as u8]
}

/// Every pixel's samples, row by row.
pub(crate) fn samples<I: IntoIterator<Item = u8>>(of: impl Fn(usize, usize) -> I) -> Vec<u8> {
    let (columns, rows) = SIZE;
    (0..rows).flat_map(|y| (0..columns).map(move |x| (x, y))).flat_map(|(x, y)| of(x, y)).collect()
}

/// A JPEG of the best quality, in which `more` may set how it is packed.
pub(crate) fn jpeg(data: &[u8], colours: JpegColour, more: impl FnOnce(&mut Encoder<&mut Vec<u8>>)) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, 100);
    encoder.set_sampling_factor(SamplingFactor::R_4_4_4);
    more(&mut encoder);
    encoder.encode(data, SIZE.0 as u16, SIZE.1 as u16, colours).unwrap_or_else(|error| panic!("{error}"));
    bytes
}

/// A TIFF of screen colours in eight bits.
pub(crate) fn tiff(compression: Compression) -> Vec<u8> {
    let (wide, high) = (SIZE.0 as u32, SIZE.1 as u32);
    written(|bytes| {
        let mut encoder = TiffEncoder::new(bytes)?.with_compression(compression);
        encoder.write_image::<colortype::RGB8>(wide, high, &samples(colour))
    })
}

/// A TIFF in the form for large files, in strips of seven rows.
pub(crate) fn large_tiff(compression: Compression) -> Vec<u8> {
    let (wide, high) = (SIZE.0 as u32, SIZE.1 as u32);
    written(|bytes| {
        let mut encoder = TiffEncoder::new_big(bytes)?.with_compression(compression);
        let mut image = encoder.new_image::<colortype::RGB8>(wide, high)?;
        image.rows_per_strip(7)?;
        image.write_data(&samples(colour))
    })
}

/// A TIFF whose samples are the differences from their neighbours, in eight bits or in sixteen.
pub(crate) fn tiff_of_differences(compression: Compression, is_deep: bool) -> Vec<u8> {
    let (wide, high) = (SIZE.0 as u32, SIZE.1 as u32);
    written(|bytes| {
        let encoder = TiffEncoder::new(bytes)?.with_compression(compression);
        let mut encoder = encoder.with_predictor(Predictor::Horizontal);
        if is_deep {
            let deep: Vec<u16> = samples(colour).into_iter().map(|sample| u16::from(sample) * 257).collect();
            encoder.write_image::<colortype::RGB16>(wide, high, &deep)
        } else {
            encoder.write_image::<colortype::RGB8>(wide, high, &samples(colour))
        }
    })
}

fn written(write: impl FnOnce(&mut Cursor<Vec<u8>>) -> TiffResult<()>) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    write(&mut bytes).unwrap_or_else(|error| panic!("{error}"));
    bytes.into_inner()
}

/// The columns and rows of a tile: the last column of tiles goes beyond the picture.
pub(crate) const TILE: (usize, usize) = (32, 16);

/// The picture's screen colours in tiles, row by row of them.
pub(crate) fn tiles() -> Vec<Vec<u8>> {
    let corners = (0..SIZE.1).step_by(TILE.1).flat_map(|y| (0..SIZE.0).step_by(TILE.0).map(move |x| (x, y)));
    let within = |x: usize, y: usize| if x < SIZE.0 { colour(x, y) } else { [99; 3] };
    let tile = |(left, head): (usize, usize)| {
        (head..head + TILE.1).flat_map(|y| (left..left + TILE.0).flat_map(move |x| within(x, y))).collect()
    };
    corners.map(tile).collect()
}

/// The values of one entry of a TIFF's directory: its tag, its type (1 byte, 3 short, 4 long) and its numbers.
pub(crate) type Entry = (u16, u16, Vec<u32>);

/// How a TIFF made by hand is written.
#[derive(Clone, Copy)]
pub(crate) struct Writing {
    /// Whether the first byte of a number is the smallest.
    pub(crate) is_little: bool,
    /// The tags of the places and of the lengths of its parts.
    pub(crate) parts: (u16, u16),
}

/// Strips, in the little order of bytes.
pub(crate) const STRIPS: Writing = Writing { is_little: true, parts: (273, 279) };
/// Tiles, in the little order of bytes.
pub(crate) const TILES: Writing = Writing { is_little: true, parts: (324, 325) };

impl Writing {
    /// A number of two or four bytes.
    fn number(self, number: u32, width: usize) -> Vec<u8> {
        if self.is_little { number.to_le_bytes()[..width].to_vec() } else { number.to_be_bytes()[4 - width..].to_vec() }
    }
}

/// A TIFF made by hand, in strips.
pub(crate) fn by_hand(entries: Vec<Entry>, strips: &[&[u8]]) -> Vec<u8> {
    written_by_hand(STRIPS, entries, strips)
}

/// A TIFF made by hand: the entries, and the bytes of its parts behind them, whose places and lengths are added.
/// Entries may be damaged on purpose.
pub(crate) fn written_by_hand(writing: Writing, mut entries: Vec<Entry>, parts: &[&[u8]]) -> Vec<u8> {
    let longs = |numbers: Vec<usize>| numbers.into_iter().map(|number| number as u32).collect::<Vec<_>>();
    let (places_tag, lengths_tag) = writing.parts;
    entries.push((lengths_tag, 4, longs(parts.iter().map(|part| part.len()).collect())));
    entries.push((places_tag, 4, vec![0; parts.len()]));
    entries.sort_by_key(|(tag, ..)| *tag);
    // What has no room in its entry stands behind the directory, and the parts behind that.
    let width = |kind: u16| [0, 1, 1, 2, 4][usize::from(kind)];
    let outside = |entry: &Entry| Some(entry.2.len() * width(entry.1)).filter(|bytes| *bytes > 4).unwrap_or(0);
    let first = 8 + 2 + entries.len() * 12 + 4;
    let mut at = first + entries.iter().map(outside).sum::<usize>();
    let mut places = Vec::new();
    for part in parts {
        places.push(at);
        at += part.len();
    }
    if let Some(entry) = entries.iter_mut().find(|(tag, ..)| *tag == places_tag) {
        entry.2 = longs(places);
    }
    let mut bytes = if writing.is_little { b"II*\0\x08\0\0\0".to_vec() } else { b"MM\0*\0\0\0\x08".to_vec() };
    bytes.extend(writing.number(entries.len() as u32, 2));
    let mut behind: Vec<u8> = Vec::new();
    for (tag, kind, numbers) in &entries {
        bytes.extend([u32::from(*tag), u32::from(*kind)].into_iter().flat_map(|number| writing.number(number, 2)));
        bytes.extend(writing.number(numbers.len() as u32, 4));
        let mut written: Vec<u8> = numbers.iter().flat_map(|number| writing.number(*number, width(*kind))).collect();
        if written.len() > 4 {
            bytes.extend(writing.number((first + behind.len()) as u32, 4));
            behind.extend(written);
        } else {
            written.resize(4, 0);
            bytes.extend(written);
        }
    }
    bytes.extend([0; 4]);
    bytes.extend(behind);
    parts.iter().for_each(|part| bytes.extend(*part));
    bytes
}
