//! Reads single parts of a ZIP file that may be damaged or made to harm: nothing that its directory says of sizes is
//! believed, no part grows beyond a limit, and nothing is written to a disk.
//!
//! Source: .ZIP File Format Specification (APPNOTE) 6.3, sections 4.3.7, 4.3.12 and 4.3.16.

use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::decompress_to_vec_with_limit;

use super::checksum;

/// The most parts that a file may have; documents have some dozens.
pub const MOST_PARTS: usize = 4096;

/// The signature of the record that ends the directory, and the length of the record without its comment.
const DIRECTORY_END: (&[u8], usize) = (b"PK\x05\x06", 22);
/// The signature of a part's line in the directory, and the length of the line without its name.
const DIRECTORY_LINE: (&[u8], usize) = (b"PK\x01\x02", 46);
/// The signature of a part's head, and the length of the head without its name.
const PART_HEAD: (&[u8], usize) = (b"PK\x03\x04", 30);
/// The longest comment behind the directory.
const LONGEST_COMMENT: usize = 65_535;

/// A ZIP file whose directory was read.
#[derive(Debug)]
pub struct ZipReader<'a> {
    bytes: &'a [u8],
    /// Each part's name, and where its line of the directory begins.
    parts: Vec<(&'a [u8], usize)>,
}

/// Why a ZIP file or a part of it cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ZipFault {
    /// No directory stands at the end of the file.
    NoDirectory,
    /// The directory, or where it says that a part stands, makes no sense.
    Broken,
    /// More parts than `MOST_PARTS`.
    TooManyParts,
    /// The part is there twice, so that two readers may see two documents.
    Twice,
    /// The part is encrypted.
    Encrypted,
    /// The part is packed in a way that documents do not use.
    UnknownPacking,
    /// The part unpacks to more than the limit.
    TooLarge,
    /// What was unpacked is not what was packed.
    Damaged,
}

impl<'a> ZipReader<'a> {
    /// Reads the directory of a ZIP file.
    pub fn open(bytes: &'a [u8]) -> Result<Self, ZipFault> {
        let (sign, long) = DIRECTORY_END;
        let last = bytes.len().checked_sub(long).ok_or(ZipFault::NoDirectory)?;
        let is_end =
            |at: &usize| bytes[*at..].starts_with(sign) && u16_at(bytes, at + 20) == Some(bytes.len() - at - long);
        let end = (last.saturating_sub(LONGEST_COMMENT)..=last).rev().find(is_end).ok_or(ZipFault::NoDirectory)?;
        let count = u16_at(bytes, end + 10).ok_or(ZipFault::Broken)?;
        let mut at = u32_at(bytes, end + 16).ok_or(ZipFault::Broken)?;
        if count > MOST_PARTS {
            return Err(ZipFault::TooManyParts);
        }
        let mut parts = Vec::new();
        for _ in 0..count {
            let (line, behind) = headed(bytes, at, DIRECTORY_LINE)?;
            let [name, extra, comment] = [28, 30, 32].map(|field| u16_at(line, field).unwrap_or_default());
            parts.push((bytes.get(behind..behind + name).ok_or(ZipFault::Broken)?, at));
            at = behind + name + extra + comment;
        }
        Ok(Self { bytes, parts })
    }

    /// What a part holds, unpacked to `limit` bytes at most; none where there is no part of that name.
    pub fn part(&self, name: &str, limit: usize) -> Result<Option<Vec<u8>>, ZipFault> {
        let mut found = self.parts.iter().filter(|(known, _)| *known == name.as_bytes());
        let Some((_, at)) = found.next() else { return Ok(None) };
        if found.next().is_some() {
            return Err(ZipFault::Twice);
        }
        let (line, _) = headed(self.bytes, *at, DIRECTORY_LINE)?;
        let short = |field| u16_at(line, field).ok_or(ZipFault::Broken);
        let long = |field| u32_at(line, field).ok_or(ZipFault::Broken);
        let (flags, method, sum, packed, head) = (short(8)?, short(10)?, long(16)?, long(20)?, long(42)?);
        if flags & 1 != 0 {
            return Err(ZipFault::Encrypted);
        }
        let (head, behind) = headed(self.bytes, head, PART_HEAD)?;
        let [name, extra] = [26, 28].map(|field| u16_at(head, field).unwrap_or_default());
        let data = behind + name + extra;
        let data = self.bytes.get(data..).and_then(|data| data.get(..packed)).ok_or(ZipFault::Broken)?;
        let content = match method {
            0 if data.len() > limit => return Err(ZipFault::TooLarge),
            0 => data.to_vec(),
            8 => decompress_to_vec_with_limit(data, limit).map_err(|fault| match fault.status {
                TINFLStatus::HasMoreOutput => ZipFault::TooLarge,
                _ => ZipFault::Damaged,
            })?,
            _ => return Err(ZipFault::UnknownPacking),
        };
        if usize::try_from(checksum::of(&content)) == Ok(sum) { Ok(Some(content)) } else { Err(ZipFault::Damaged) }
    }
}

/// The stretch from `at` that begins with a signature and is `long` bytes long, and the byte behind it.
fn headed<'a>(bytes: &'a [u8], at: usize, (sign, long): (&[u8], usize)) -> Result<(&'a [u8], usize), ZipFault> {
    let found = bytes.get(at..).and_then(|bytes| bytes.get(..long)).filter(|found| found.starts_with(sign));
    found.map(|found| (found, at + long)).ok_or(ZipFault::Broken)
}

fn u16_at(bytes: &[u8], at: usize) -> Option<usize> {
    let [low, high] = bytes.get(at..at + 2)? else { return None };
    Some(u16::from_le_bytes([*low, *high]).into())
}

fn u32_at(bytes: &[u8], at: usize) -> Option<usize> {
    let [a, b, c, d] = bytes.get(at..at + 4)? else { return None };
    usize::try_from(u32::from_le_bytes([*a, *b, *c, *d])).ok()
}

#[cfg(test)]
mod tests {
    use super::super::zip_writer::{Packing, ZipWriter};
    use super::*;

    fn zip(parts: &[(&str, &[u8], Packing)]) -> Vec<u8> {
        let mut zip = ZipWriter::default();
        parts.iter().for_each(|(name, content, packing)| zip.add(name, content, *packing));
        zip.written()
    }

    fn read(bytes: &[u8], name: &str) -> Result<Option<Vec<u8>>, ZipFault> {
        ZipReader::open(bytes)?.part(name, 1_000)
    }

    #[test]
    fn what_was_written_is_read_again() {
        let long = b"gull ".repeat(100);
        let bytes =
            zip(&[("a", b"tide", Packing::Stored), ("b/c", &long, Packing::Deflated), ("d", b"", Packing::Stored)]);
        assert_eq!(read(&bytes, "a"), Ok(Some(b"tide".to_vec())));
        assert_eq!(read(&bytes, "b/c"), Ok(Some(long)));
        assert_eq!(read(&bytes, "d"), Ok(Some(Vec::new())));
        assert_eq!(read(&bytes, "e"), Ok(None));
        let with_comment = [&bytes[..bytes.len() - 2], b"\x04\0", b"tide"].concat();
        assert_eq!(read(&with_comment, "a"), Ok(Some(b"tide".to_vec())));
    }

    #[test]
    fn each_harm_has_its_name() {
        let bytes = zip(&[("a", b"tide", Packing::Stored)]);
        assert_eq!(read(b"", "a"), Err(ZipFault::NoDirectory));
        assert_eq!(read(&bytes[..bytes.len() - 1], "a"), Err(ZipFault::NoDirectory));
        let twice = zip(&[("a", b"tide", Packing::Stored), ("a", b"gull", Packing::Stored)]);
        assert_eq!(read(&twice, "a"), Err(ZipFault::Twice));
        for packing in [Packing::Stored, Packing::Deflated] {
            let bomb = zip(&[("a", &vec![0; 1_000_000], packing)]);
            assert_eq!(read(&bomb, "a"), Err(ZipFault::TooLarge));
        }
        // Of the line in the directory: the flags, the way of packing, the sum, the packed size, the place.
        let line = bytes.len() - 22 - 46 - 1;
        let changed = |at: usize, byte: u8| {
            let mut bytes = bytes.clone();
            bytes[line + at] = byte;
            read(&bytes, "a")
        };
        assert_eq!(changed(8, 1), Err(ZipFault::Encrypted));
        assert_eq!(changed(10, 9), Err(ZipFault::UnknownPacking));
        assert_eq!(changed(16, 9), Err(ZipFault::Damaged));
        assert_eq!(changed(23, 9), Err(ZipFault::Broken));
        assert_eq!(changed(42, 1), Err(ZipFault::Broken));
        assert_eq!(changed(0, 1), Err(ZipFault::Broken));
        // What the directory says of the unpacked size counts for nothing.
        assert_eq!(changed(24, 200), Ok(Some(b"tide".to_vec())));
        let many: Vec<String> = (0..5_000).map(|number| number.to_string()).collect();
        let many: Vec<_> = many.iter().map(|name| (name.as_str(), &b""[..], Packing::Stored)).collect();
        assert_eq!(read(&zip(&many), "1"), Err(ZipFault::TooManyParts));
    }
}
