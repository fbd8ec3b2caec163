//! The name of a colour profile, and whether it is sRGB's.
//!
//! Sources: ICC.1:2022, 7.2 (header), 7.3 (tag table), 9.2.41 (profileDescriptionTag) and 10.15
//! (multiLocalizedUnicodeType); ICC.1:2001-04, 6.5.17 (textDescriptionType).

/// The longest name that is told, in characters.
const LONGEST_NAME: usize = 60;

/// What is told of a profile that has no name that can be read.
const NAMELESS: &str = "a profile without a name";

/// The name of a profile that is not sRGB's; none where it is.
pub(super) fn foreign_name(profile: &[u8]) -> Option<String> {
    let name = name(profile).unwrap_or_else(|| NAMELESS.to_owned());
    // Writers call it sRGB IEC61966-2.1, sRGB built-in, c2 or sRGB v4: the name is what they have in common.
    let is_srgb = name.to_ascii_lowercase().contains("srgb") || name == "c2";
    (!is_srgb).then_some(name)
}

/// The profile's own description, in one line.
fn name(profile: &[u8]) -> Option<String> {
    // The header's 128 bytes are followed by the number of tags, then twelve bytes for each.
    let tags = number(profile, 128)?.min(profile.len() / 12);
    let tag = (0..tags).map(|tag| 132 + tag * 12).find(|at| profile.get(*at..at + 4) == Some(b"desc"))?;
    let text = profile.get(number(profile, tag + 4)?..)?;
    let letters = match text.get(..4)? {
        b"desc" => {
            let bytes = text.get(12..)?;
            let letters = bytes.get(..number(text, 8)?.min(bytes.len()))?.split(|byte| *byte == 0).next()?;
            letters.iter().map(|byte| char::from(*byte)).collect::<String>()
        }
        b"mluc" => {
            let (length, at) = (number(text, 20)?, number(text, 24)?);
            let units = text.get(at..at.checked_add(length)?)?.chunks_exact(2);
            let units: Vec<u16> = units.map(|unit| u16::from_be_bytes([unit[0], unit[1]])).collect();
            String::from_utf16_lossy(&units)
        }
        _ => return None,
    };
    let line = letters.split_whitespace().collect::<Vec<_>>().join(" ");
    let line: String = line.chars().filter(|letter| !letter.is_control()).take(LONGEST_NAME).collect();
    (!line.is_empty()).then_some(line)
}

/// The number in four bytes, the largest first.
fn number(bytes: &[u8], at: usize) -> Option<usize> {
    let bytes = bytes.get(at..at.checked_add(4)?)?;
    Some(bytes.iter().fold(0, |sum, byte| sum << 8 | usize::from(*byte)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A profile of one tag, with nothing but noughts in its header.
    fn profile(tag: &[u8]) -> Vec<u8> {
        let mut bytes = vec![0; 128];
        bytes.extend(1_u32.to_be_bytes());
        bytes.extend(b"desc");
        bytes.extend(144_u32.to_be_bytes());
        bytes.extend((tag.len() as u32).to_be_bytes());
        bytes.extend(tag);
        bytes
    }

    #[test]
    fn both_forms_of_a_name_are_read() {
        let old = profile(b"desc\0\0\0\0\0\0\0\x0fGull RGB (1998)\0\0\0");
        assert_eq!(foreign_name(&old).as_deref(), Some("Gull RGB (1998)"));
        let mut new = b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0cenUS\0\0\0\x10\0\0\0\x1c".to_vec();
        new.extend("Wide Sea".encode_utf16().flat_map(u16::to_be_bytes));
        assert_eq!(foreign_name(&profile(&new)).as_deref(), Some("Wide Sea"));
        assert_eq!(foreign_name(&profile(b"desc\0\0\0\0\0\0\0\x05sRGB\0")), None);
    }

    #[test]
    fn a_name_that_cannot_be_read_is_told_as_such() {
        let whole = profile(b"desc\0\0\0\0\0\0\0\x09Gull RGB\0");
        for end in 0..whole.len() - 12 {
            assert_eq!(foreign_name(&whole[..end]).as_deref(), Some(NAMELESS), "{end}");
        }
        assert_eq!(foreign_name(&profile(b"mluc\0\0\0\0\0\0\0\x01")).as_deref(), Some(NAMELESS));
        assert_eq!(foreign_name(&profile(b"desc\0\0\0\0\xff\xff\xff\xff\x1b[2J")).as_deref(), Some("[2J"));
    }
}
