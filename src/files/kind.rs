//! What kind of file was given where another was expected, so that the message can name both.

use std::path::Path;

use crate::brief::yaml::{Node, parse};

/// The first bytes of kinds of files that are not text.
///
/// Sources: ISO 32000-2, 7.5.2; PNG (third edition), 5.2; ITU-T T.81, B.1.1.3; GIF89a, 17; TIFF 6.0, section 2;
/// OpenType specification, table directory; WOFF 2.0, section 4; APPNOTE.TXT 6.3 of ZIP, 4.3.7; RTF 1.9; MS-CFB, 2.2.
const BEGINNINGS: [(&[u8], &str); 15] = [
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"II*\0", "a picture"),
    (b"MM\0*", "a picture"),
    (b"\0\x01\0\0", "a font"),
    (b"OTTO", "a font"),
    (b"true", "a font"),
    (b"ttcf", "a collection of fonts"),
    (b"wOFF", "a font for the web"),
    (b"wOF2", "a font for the web"),
    (b"PK\x03\x04", "a document of a word processor, or an archive"),
    (b"{\\rtf", "a document of a word processor"),
    (b"\xd0\xcf\x11\xe0", "a document of a word processor"),
];

/// The kind of a file's bytes, if they are known not to be text. A file that is valid text is no font even if it begins
/// with the four letters of a font's signature.
pub(super) fn of_bytes(bytes: &[u8]) -> Option<&'static str> {
    let (sign, kind) = BEGINNINGS.into_iter().find(|(sign, _)| bytes.starts_with(sign))?;
    let is_text = sign.is_ascii() && !sign.contains(&0) && kind.contains("font") && std::str::from_utf8(bytes).is_ok();
    (!is_text).then_some(kind)
}

/// Whether a text is a brief: it is YAML with a key `panel`.
pub(super) fn is_brief(text: &str) -> bool {
    text.lines().any(|line| line.starts_with("panel:")) && matches!(parse(text), Ok(Node::Map(_)))
}

/// Whether a file's name is that of a draft or another readable text.
pub(super) fn is_named_as_text(path: &Path) -> bool {
    path.extension()
        .is_some_and(|ending| ["md", "markdown", "txt"].iter().any(|known| ending.eq_ignore_ascii_case(known)))
}
