//! Writes a ZIP file of a few parts, each deflated, or stored as it is where a standard asks for that. The same parts
//! make the same bytes, whatever the day: every part has the earliest date that the format knows.
//!
//! Source: .ZIP File Format Specification (APPNOTE) 6.3, sections 4.3.7, 4.3.12 and 4.3.16.

use miniz_oxide::deflate::compress_to_vec;

use super::checksum;

/// The first day that the format can tell: 1 January 1980.
const DATE: u16 = 0x21;
/// The version of the format that a reader has to know: 2.0, which has deflated parts.
const VERSION: u16 = 20;
/// The flag of a name in UTF-8.
const UTF_8: u16 = 1 << 11;
/// How hard the packing tries, of ten.
const EFFORT: u8 = 6;

/// How a part is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Packing {
    /// As it is.
    Stored,
    /// Deflated.
    Deflated,
}

/// A ZIP file that is being written.
#[derive(Debug, Default)]
pub struct ZipWriter {
    bytes: Vec<u8>,
    directory: Vec<u8>,
    parts: u16,
}

impl ZipWriter {
    /// Adds a part under its name, with `/` between folders. The caller keeps the parts below 65,536 in number and 4
    /// GiB altogether: documents have a dozen.
    pub fn add(&mut self, name: &str, content: &[u8], packing: Packing) {
        let (method, packed) = match packing {
            Packing::Stored => (0_u16, content.to_vec()),
            Packing::Deflated => (8, compress_to_vec(content, EFFORT)),
        };
        // What the head of a part and its line in the directory have in common.
        let mut facts = Vec::new();
        for field in [VERSION, UTF_8, method, 0, DATE] {
            facts.extend(field.to_le_bytes());
        }
        for field in [checksum::of(content), size(packed.len()), size(content.len())] {
            facts.extend(field.to_le_bytes());
        }
        facts.extend((name.len() as u16).to_le_bytes());
        facts.extend([0; 2]);
        let place = size(self.bytes.len());
        self.bytes.extend(b"PK\x03\x04");
        self.bytes.extend(&facts);
        self.bytes.extend(name.as_bytes());
        self.bytes.extend(packed);
        self.directory.extend(b"PK\x01\x02");
        self.directory.extend(VERSION.to_le_bytes());
        self.directory.extend(facts);
        // No comment, the first disk, no attributes.
        self.directory.extend([0; 10]);
        self.directory.extend(place.to_le_bytes());
        self.directory.extend(name.as_bytes());
        self.parts += 1;
    }

    /// The whole file, its directory at the end.
    pub fn written(self) -> Vec<u8> {
        self.written_with("")
    }

    /// The whole file, its directory at the end, and behind that a comment on it, which is shorter than 64 KiB.
    pub fn written_with(mut self, comment: &str) -> Vec<u8> {
        let (place, long) = (size(self.bytes.len()), size(self.directory.len()));
        self.bytes.append(&mut self.directory);
        self.bytes.extend(b"PK\x05\x06");
        self.bytes.extend([0; 4]);
        self.bytes.extend(self.parts.to_le_bytes());
        self.bytes.extend(self.parts.to_le_bytes());
        self.bytes.extend(long.to_le_bytes());
        self.bytes.extend(place.to_le_bytes());
        self.bytes.extend((comment.len() as u16).to_le_bytes());
        self.bytes.extend(comment.as_bytes());
        self.bytes
    }
}

/// A length in the four bytes that the format has for it.
fn size(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_parts_make_the_same_bytes() {
        let written = || {
            let mut zip = ZipWriter::default();
            zip.add("mimetype", b"text/plain", Packing::Stored);
            zip.add("a/long.txt", &b"gull ".repeat(1_000), Packing::Deflated);
            zip.written()
        };
        let bytes = written();
        assert_eq!(bytes, written());
        // A stored part stands in the file as it is, behind a head of 30 bytes and its name.
        assert_eq!(&bytes[38..48], b"text/plain");
        assert!(bytes.len() < 400, "{}", bytes.len());
    }

    /// An empty file has the directory's end alone, at 22 bytes.
    #[test]
    fn a_file_without_parts_is_one_too() {
        assert_eq!(ZipWriter::default().written().len(), 22);
    }
}
