//! Files of art made for tests: one picture in every form.

use std::io::Cursor;

use jpeg_encoder::{ColorType as JpegColour, Encoder, SamplingFactor};
use tiff::encoder::{Compression, TiffEncoder, colortype};

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
    let mut bytes = Cursor::new(Vec::new());
    let encoder = TiffEncoder::new(&mut bytes).map(|encoder| encoder.with_compression(compression));
    let written = encoder
        .and_then(|mut encoder| encoder.write_image::<colortype::RGB8>(SIZE.0 as u32, SIZE.1 as u32, &samples(colour)));
    written.unwrap_or_else(|error| panic!("{error}"));
    bytes.into_inner()
}

/// The values of one entry of a TIFF's directory: its tag, its type (1 byte, 3 short, 4 long) and its numbers.
pub(crate) type Entry = (u16, u16, Vec<u32>);

/// A TIFF made by hand, in the little order of bytes: the entries, and the bytes of its strips behind them, whose
/// places and lengths are added. Entries may be damaged on purpose.
pub(crate) fn by_hand(mut entries: Vec<Entry>, strips: &[&[u8]]) -> Vec<u8> {
    let longs = |numbers: Vec<usize>| numbers.into_iter().map(|number| number as u32).collect::<Vec<_>>();
    entries.push((279, 4, longs(strips.iter().map(|strip| strip.len()).collect())));
    entries.push((273, 4, vec![0; strips.len()]));
    entries.sort_by_key(|(tag, ..)| *tag);
    // What has no room in its entry stands behind the directory, and the strips behind that.
    let width = |kind: u16| [0, 1, 1, 2, 4][usize::from(kind)];
    let outside = |entry: &Entry| Some(entry.2.len() * width(entry.1)).filter(|bytes| *bytes > 4).unwrap_or(0);
    let first = 8 + 2 + entries.len() * 12 + 4;
    let mut at = first + entries.iter().map(outside).sum::<usize>();
    let mut places = Vec::new();
    for strip in strips {
        places.push(at);
        at += strip.len();
    }
    if let Some(entry) = entries.iter_mut().find(|(tag, ..)| *tag == 273) {
        entry.2 = longs(places);
    }
    let mut bytes = b"II*\0\x08\0\0\0".to_vec();
    bytes.extend((entries.len() as u16).to_le_bytes());
    let mut behind: Vec<u8> = Vec::new();
    for (tag, kind, numbers) in &entries {
        bytes.extend(tag.to_le_bytes().into_iter().chain(kind.to_le_bytes()));
        bytes.extend((numbers.len() as u32).to_le_bytes());
        let mut written: Vec<u8> =
            numbers.iter().flat_map(|number| number.to_le_bytes()[..width(*kind)].to_vec()).collect();
        if written.len() > 4 {
            bytes.extend(((first + behind.len()) as u32).to_le_bytes());
            behind.extend(written);
        } else {
            written.resize(4, 0);
            bytes.extend(written);
        }
    }
    bytes.extend([0; 4]);
    bytes.extend(behind);
    strips.iter().for_each(|strip| bytes.extend(*strip));
    bytes
}
