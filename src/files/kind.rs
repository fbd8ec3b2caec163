//! What a file is that is not what was asked for, so that the message can say both.

use std::path::Path;

use crate::brief::yaml::{Node, parse};

/// How files begin that are no text.
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

/// What the bytes are, where they are known and no text. Four letters that are also a word are no sign of a font by
/// themselves.
pub(super) fn of_bytes(bytes: &[u8]) -> Option<&'static str> {
    let (sign, kind) = BEGINNINGS.into_iter().find(|(sign, _)| bytes.starts_with(sign))?;
    let is_text = sign.is_ascii() && !sign.contains(&0) && kind.contains("font") && std::str::from_utf8(bytes).is_ok();
    (!is_text).then_some(kind)
}

/// Whether a text is a brief: a panel is among its keys.
pub(super) fn is_brief(text: &str) -> bool {
    text.lines().any(|line| line.starts_with("panel:")) && matches!(parse(text), Ok(Node::Map(_)))
}

/// Whether a file has the name of a draft or of another text to be read.
pub(super) fn is_named_as_text(path: &Path) -> bool {
    path.extension()
        .is_some_and(|ending| ["md", "markdown", "txt"].iter().any(|known| ending.eq_ignore_ascii_case(known)))
}
