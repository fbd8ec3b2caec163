//! Reads art from the bytes of a file: PNG, JPEG or TIFF, told apart by their first bytes and never by a name.
//!
//! A file may come from anywhere, so every reader ends in bounded time and memory, whatever the bytes are. What a
//! picture's size would cost is asked of its header, before a pixel is read.

use super::art_file::{ArtFile, EXPORT};
use super::fault::ArtFault;
use super::from_jpeg;
use super::from_png;
use super::from_tiff;

/// The first bytes of files that hold art and are not read, what each is, and what to do.
///
/// Sources: ISO 32000-2, 7.5.2; GIF89a, 17; RFC 9649, 2.4; ISO/IEC 14496-12, 4.3; BMP and PSD from memory.
const FOREIGN: [(usize, &[u8], &str, &str); 9] = [
    (0, b"%PDF", "a PDF", EXPORT),
    (0, b"%!PS", "a PostScript file", EXPORT),
    (0, b"GIF8", "a GIF, which has too few colours for print", EXPORT),
    (8, b"WEBP", "a WebP", EXPORT),
    (4, b"ftyphe", "a HEIC", EXPORT),
    (4, b"ftypmif1", "a HEIC", EXPORT),
    (4, b"ftypavif", "an AVIF", EXPORT),
    (0, b"8BPS", "a painting program's own file", EXPORT),
    (0, b"BM", "a bitmap of Windows", EXPORT),
];

/// Reads the art in a file.
///
/// # Errors
///
/// A file of another kind, one that is damaged or breaks off, and one that is too large; each with what to do.
pub fn decoded(bytes: &[u8]) -> Result<ArtFile, ArtFault> {
    match bytes {
        [] => Err(ArtFault::new("the file is empty", EXPORT)),
        [0x89, b'P', b'N', b'G', ..] => from_png::read(bytes),
        [0xff, 0xd8, ..] => from_jpeg::read(bytes),
        [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => from_tiff::read(bytes),
        _ => Err(ArtFault::new(format!("it is {}", kind(bytes)), EXPORT)),
    }
}

/// What a file is that is none of the three, as a message says it.
fn kind(bytes: &[u8]) -> &'static str {
    let foreign = FOREIGN.iter().find(|(at, sign, ..)| bytes.get(*at..).is_some_and(|rest| rest.starts_with(sign)));
    if let Some((_, _, kind, _)) = foreign {
        return kind;
    }
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(1024)]);
    if head.contains("<svg") { "a drawing (SVG)" } else { "not a JPEG, PNG or TIFF" }
}
