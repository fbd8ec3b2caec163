//! Single values in the first directory of a TIFF, which is also how Exif data begin.
//!
//! Source: TIFF 6.0, section 2.

/// The tag of how rows and columns lie in the picture.
pub(super) const ORIENTATION: u16 = 274;
/// The tag of what the samples mean.
pub(super) const PHOTOMETRIC: u16 = 262;
/// The tag of what samples beyond those of the colour mean.
pub(super) const EXTRA_SAMPLES: u16 = 338;

/// The first value of a tag that holds short numbers; none where there is no such tag or the bytes end before it.
pub(super) fn short(bytes: &[u8], tag: u16) -> Option<u16> {
    number(bytes, place_of_short(bytes, tag)?, 2).map(|value| value as u16)
}

/// Writes the first value of a tag that holds short numbers, where there is one.
pub(super) fn put_short(bytes: &mut [u8], tag: u16, value: u16) {
    let Some(at) = place_of_short(bytes, tag) else { return };
    let written = if is_little(bytes) == Some(true) { value.to_le_bytes() } else { value.to_be_bytes() };
    bytes[at..at + 2].copy_from_slice(&written);
}

/// Where the first value of a tag stands in the bytes, if it stands in the directory itself.
fn place_of_short(bytes: &[u8], tag: u16) -> Option<usize> {
    let directory = number(bytes, 4, 4)? as usize;
    let entries = number(bytes, directory, 2)? as usize;
    let at = (0..entries).map_while(|entry| {
        let at = directory.checked_add(2 + entry * 12)?;
        Some((at, number(bytes, at, 2)?))
    });
    let (at, _) = { at }.find(|(_, found)| *found == u32::from(tag))?;
    number(bytes, at + 8, 2).map(|_| at + 8)
}

/// A number of two or four bytes, in the order of bytes that the file has.
fn number(bytes: &[u8], at: usize, length: usize) -> Option<u32> {
    let digits = bytes.get(at..at.checked_add(length)?)?;
    let add = |sum: u32, byte: &u8| sum << 8 | u32::from(*byte);
    Some(if is_little(bytes)? { digits.iter().rev().fold(0, add) } else { digits.iter().fold(0, add) })
}

fn is_little(bytes: &[u8]) -> Option<bool> {
    match bytes.get(..2)? {
        b"II" => Some(true),
        b"MM" => Some(false),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LITTLE: &[u8] = b"II*\0\x08\0\0\0\x02\0\x00\x01\x03\0\x01\0\0\0\x05\0\0\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0";

    #[test]
    fn a_value_is_found_in_either_order_of_bytes_and_never_outside() {
        let big = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x08\0\0";
        assert_eq!((short(LITTLE, ORIENTATION), short(big, ORIENTATION)), (Some(6), Some(8)));
        for end in 0..LITTLE.len() - 2 {
            assert_eq!(short(&LITTLE[..end], ORIENTATION), None, "{end}");
        }
        assert_eq!(short(b"II*\0\xff\xff\xff\xff\xff\xff", ORIENTATION), None);
    }

    #[test]
    fn a_value_is_written_where_there_is_one() {
        let mut bytes = LITTLE.to_vec();
        put_short(&mut bytes, PHOTOMETRIC, 1);
        assert_eq!(bytes, LITTLE);
        put_short(&mut bytes, ORIENTATION, 3);
        assert_eq!((short(&bytes, ORIENTATION), bytes.len()), (Some(3), LITTLE.len()));
    }
}
