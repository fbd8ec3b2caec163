//! Plain text in the encoding that some editors save by default, known by the mark at its start.
//!
//! Source: the Unicode Standard, sections 3.10 and 23.8.

/// The text of a file in UTF-16, with the mark at its start left out; none where no such mark is there or what follows
/// is no UTF-16.
pub fn text_of_utf16(bytes: &[u8]) -> Option<String> {
    let (mark, body) = bytes.split_first_chunk::<2>()?;
    let unit = match mark {
        [0xff, 0xfe] => u16::from_le_bytes,
        [0xfe, 0xff] => u16::from_be_bytes,
        _ => return None,
    };
    let (pairs, rest) = body.as_chunks::<2>();
    let units: Vec<u16> = pairs.iter().map(|pair| unit(*pair)).collect();
    rest.is_empty().then(|| String::from_utf16(&units).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::text_of_utf16;

    #[test]
    fn text_is_read_in_either_order_of_bytes() {
        let both = ["Oona’s 🕯", ""].map(|text| {
            let little: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
            let big: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
            let read = [
                text_of_utf16(&[&[0xff, 0xfe][..], &little].concat()),
                text_of_utf16(&[&[0xfe, 0xff][..], &big].concat()),
            ];
            read.iter().all(|read| read.as_deref() == Some(text))
        });
        assert_eq!(both, [true, true]);
        assert_eq!(text_of_utf16(b"\xff\xfe\x00"), None);
        assert_eq!(text_of_utf16(b"\xff\xfe\x00\xd8"), None);
        assert_eq!(text_of_utf16("\u{feff}Oona".as_bytes()), None);
    }
}
