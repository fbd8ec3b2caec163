//! What the terminal is asked about pictures, and what it answers.
//!
//! The questions are sent together, and the keys are read on at once: an answer is taken whenever it comes, and none is
//! waited for. Every terminal answers the last of them, in the order in which they were asked, so that a terminal that
//! has not answered the first by then never will.
//!
//! Sources: xterm control sequences, for `CSI c`, `CSI t`, `CSI n` and `CSI ? S`; the terminal graphics protocol of
//! kitty.

use crate::pictures::kitty;

/// The number by which a terminal says among its attributes that it shows sixels (VT340).
const SIXELS: &str = "4";

/// What a terminal answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TerminalAnswer {
    /// Pictures by kitty's protocol are shown.
    Kitty,
    /// The terminal's attributes, which are asked for last: whether sixels are among them.
    Attributes {
        /// Whether sixels are shown.
        sixels: bool,
    },
    /// The pixels of a cell.
    Cell {
        /// The width.
        width: u16,
        /// The height.
        height: u16,
    },
    /// The pixels of the whole screen.
    Screen {
        /// The width.
        width: u16,
        /// The height.
        height: u16,
    },
    /// How many colours a picture of sixels may have.
    Colours(usize),
    /// How wide a picture of sixels may be, in pixels.
    Widest(u16),
    /// Everything that was sent has been taken in.
    Ready,
}

/// Asks whether everything that was sent has been taken in.
pub const READY: &str = "\x1b[5n";

/// The questions: whether kitty's pictures are shown, if that may be asked; the pixels of a cell and of the screen; the
/// colours and the size of a picture of sixels; the attributes.
pub fn questions(asks_for_kitty: bool) -> String {
    let first = if asks_for_kitty { kitty::QUESTION } else { "" };
    format!("{first}\x1b[16t\x1b[14t\x1b[?1;1;0S\x1b[?2;1;0S\x1b[c")
}

/// The answer that a complete sequence is; none for a key or anything else.
pub fn answer(sequence: &[u8]) -> Option<TerminalAnswer> {
    let text = std::str::from_utf8(sequence).ok()?;
    if let Some(graphics) = text.strip_prefix("\x1b_G") {
        let (control, told) = graphics.trim_end_matches("\x1b\\").split_once(';')?;
        let is_ours = control.split(',').any(|key| key.strip_prefix("i=") == Some(&kitty::ASKED.to_string()));
        return (is_ours && told == "OK").then_some(TerminalAnswer::Kitty);
    }
    let control = text.strip_prefix("\x1b[")?;
    let (values, end) = control.split_at_checked(control.len().checked_sub(1)?)?;
    let number = |value: &str| value.parse::<u16>().ok().filter(|number| *number > 0);
    match (end, values.split(';').collect::<Vec<_>>()[..].as_ref()) {
        ("c", [first, rest @ ..]) if first.starts_with('?') => {
            Some(TerminalAnswer::Attributes { sixels: rest.contains(&SIXELS) })
        }
        ("t", ["6", height, width]) => Some(TerminalAnswer::Cell { width: number(width)?, height: number(height)? }),
        ("t", ["4", height, width]) => Some(TerminalAnswer::Screen { width: number(width)?, height: number(height)? }),
        ("S", ["?1", "0", colours]) => Some(TerminalAnswer::Colours(usize::from(number(colours)?))),
        ("S", ["?2", "0", width, _]) => Some(TerminalAnswer::Widest(number(width)?)),
        ("n", ["0"]) => Some(TerminalAnswer::Ready),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::TerminalAnswer as Told;
    use super::answer;

    /// Sources: the answers of xterm 379 as a VT340 and as a VT420, and kitty's own example.
    #[test]
    fn answers_are_told_from_keys() {
        let known: [(&str, Option<Told>); 14] = [
            ("\x1b_Gi=31;OK\x1b\\", Some(Told::Kitty)),
            ("\x1b_Gi=31;ENOTSUPPORTED:no\x1b\\", None),
            ("\x1b_Gi=7;OK\x1b\\", None),
            ("\x1b[?63;1;2;4;6;9;15;16;22;28c", Some(Told::Attributes { sixels: true })),
            ("\x1b[?64;1;2;6;9;15;16;22;28c", Some(Told::Attributes { sixels: false })),
            ("\x1b[?1;2c", Some(Told::Attributes { sixels: false })),
            ("\x1b[6;19;9t", Some(Told::Cell { width: 9, height: 19 })),
            ("\x1b[4;760;1080t", Some(Told::Screen { width: 1080, height: 760 })),
            ("\x1b[6;0;0t", None),
            ("\x1b[?1;0;1024S", Some(Told::Colours(1024))),
            ("\x1b[?1;3S", None),
            ("\x1b[?2;0;1000;1000S", Some(Told::Widest(1000))),
            ("\x1b[0n", Some(Told::Ready)),
            ("\x1b[1;2S", None),
        ];
        for (sequence, told) in known {
            assert_eq!(answer(sequence.as_bytes()), told, "{sequence:?}");
        }
        for key in [&b"a"[..], b"\x1b", b"\x1b[A", b"\x1b[3~", b"\x1b[I", b"\x1b[", b"\xff", b"\x1b[\xc3\xa9"] {
            assert_eq!(answer(key), None, "{key:?}");
        }
    }
}
