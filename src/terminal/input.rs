//! Cuts what a terminal sends into keys, mouse movements and pastes.
//!
//! Where a sequence ends is decided here, by its grammar or by a timeout, so that a sequence that never ends swallows
//! no later key. What a complete sequence means is decided by terminput.
//!
//! Sources: ECMA-48, 5.4 (control sequences) and 5.6 (control strings); xterm control sequences, for mouse reports and
//! bracketed paste.

use std::panic::catch_unwind;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use crossterm::event::{Event, KeyCode, KeyModifiers};
use terminput_crossterm::to_crossterm;

use super::answers::{TerminalAnswer, answer};
use crate::system::{self, Sent};

/// The rest of an escape sequence follows its beginning within this time; a person presses keys more slowly.
const UNFINISHED: Duration = Duration::from_millis(30);
/// While answers of the terminal are due, their rest is waited for as long as this, since a line may be slow.
const UNFINISHED_ANSWER: Duration = Duration::from_millis(300);
/// Answers are no longer due after this time; one that comes whole is known even so.
const ANSWERS_DUE: Duration = Duration::from_secs(2);
/// The rest of a paste may be delayed. After this silence the part that has arrived is inserted, and bytes are keys
/// again.
const UNFINISHED_PASTE: Duration = Duration::from_secs(1);
/// A longer paste is handed over in parts of about this size, which is that of the largest draft.
const LARGEST_PASTE: usize = 16 * 1024 * 1024;
/// No reply of a terminal is longer than this; bytes beyond it are read as keys.
const LONGEST_SEQUENCE: usize = 4096;

const ESCAPE: u8 = 0x1b;
const BELL: u8 = 0x07;
const PASTE: &[u8] = b"\x1b[200~";
const PASTE_ENDS: &[u8] = b"\x1b[201~";

/// What was read: what the author did, or what the terminal answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// A key, a move of the mouse or a paste.
    Event(Event),
    /// An answer to a question.
    Answer(TerminalAnswer),
}

/// Reads the terminal until it is gone or `hear` returns false. Where the terminal was asked something, its answers may
/// come in pieces.
pub fn read_all(was_asked: bool, mut hear: impl FnMut(Heard) -> bool) {
    let (sender, sent) = channel();
    thread::spawn(move || system::read_terminal(super::is_taken, super::is_there, |part| sender.send(part).is_ok()));
    let answers_until = was_asked.then(|| Instant::now() + ANSWERS_DUE);
    let mut input = Input { answers_until, ..Input::default() };
    loop {
        let (events, is_over) = match next(&sent, input.patience()) {
            Ok(Sent::Bytes(bytes)) => (input.feed(&bytes), false),
            Ok(Sent::Event(event)) => (vec![event], false),
            Err(RecvTimeoutError::Timeout) => (input.give_up(), false),
            Err(RecvTimeoutError::Disconnected) => (input.give_up(), true),
        };
        let answers = std::mem::take(&mut input.answers).into_iter().map(Heard::Answer);
        if !answers.chain(events.into_iter().map(Heard::Event)).all(&mut hear) || is_over {
            return;
        }
    }
}

fn next(sent: &Receiver<Sent>, patience: Option<Duration>) -> Result<Sent, RecvTimeoutError> {
    match patience {
        Some(patience) => sent.recv_timeout(patience),
        None => sent.recv().map_err(|_| RecvTimeoutError::Disconnected),
    }
}

/// Bytes that have arrived and do not yet make an event.
#[derive(Debug, Default)]
struct Input {
    bytes: Vec<u8>,
    /// The bytes of a paste whose end marker has not arrived.
    paste: Option<Vec<u8>>,
    /// Answers of the terminal that have arrived.
    answers: Vec<TerminalAnswer>,
    /// Until when answers are due, if any are.
    answers_until: Option<Instant>,
}

/// How far the sequence at the start of some bytes reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reach {
    /// A complete sequence of so many bytes.
    Whole(usize),
    /// A run of so many bytes that mean nothing.
    Void(usize),
    /// The sequence goes on past the bytes that have arrived.
    Unfinished,
}

impl Input {
    /// How long to wait for more bytes; without limit where nothing is unfinished.
    fn patience(&self) -> Option<Duration> {
        match &self.paste {
            Some(_) => Some(UNFINISHED_PASTE),
            None if self.bytes.is_empty() => None,
            None if self.answers_until.is_some_and(|until| Instant::now() < until) => Some(UNFINISHED_ANSWER),
            None => Some(UNFINISHED),
        }
    }

    /// Takes a sequence that is an answer of the terminal; returns whether it is one.
    fn take_answer(&mut self, sequence: &[u8]) -> bool {
        let told = answer(sequence);
        if matches!(told, Some(TerminalAnswer::Attributes { .. })) {
            self.answers_until = None;
        }
        self.answers.extend(told);
        told.is_some()
    }

    /// The events that the bytes make, together with the unfinished bytes from before.
    fn feed(&mut self, bytes: &[u8]) -> Vec<Event> {
        self.bytes.extend_from_slice(bytes);
        let mut events = Vec::new();
        let mut at = 0;
        loop {
            if let Some(paste) = &mut self.paste {
                let rest = &self.bytes[at..];
                let end = find(rest, PASTE_ENDS);
                // The last bytes may be the beginning of the end marker, so they are held back.
                let words = end.unwrap_or(rest.len().saturating_sub(PASTE_ENDS.len() - 1));
                paste.extend_from_slice(&rest[..words]);
                at += words;
                if end.is_some() {
                    at += PASTE_ENDS.len();
                    events.extend(pasted(self.paste.take()));
                    continue;
                }
                if paste.len() >= LARGEST_PASTE {
                    events.extend(pasted(self.paste.replace(Vec::new())));
                }
                break;
            }
            let (Reach::Whole(length) | Reach::Void(length)) = reach(&self.bytes[at..]) else { break };
            let sequence = self.bytes[at..at + length].to_vec();
            if sequence == PASTE {
                self.paste = Some(Vec::new());
            } else if !self.take_answer(&sequence) && reach(&self.bytes[at..]) == Reach::Whole(length) {
                events.extend(meaning(&sequence));
            }
            at += length;
        }
        self.bytes.drain(..at);
        events
    }

    /// Ends what is unfinished: a paste keeps the words that have arrived, a lone Escape is the Escape key, and Escape
    /// followed by one character is that character with Alt.
    fn give_up(&mut self) -> Vec<Event> {
        let bytes = std::mem::take(&mut self.bytes);
        if let Some(mut paste) = self.paste.take() {
            paste.extend(bytes);
            return pasted(Some(paste)).into_iter().collect();
        }
        match bytes[..] {
            [ESCAPE] => vec![Event::Key(KeyCode::Esc.into())],
            [ESCAPE, sign] if sign.is_ascii() => with_alt(&[sign]).into_iter().collect(),
            _ => Vec::new(),
        }
    }
}

fn pasted(words: Option<Vec<u8>>) -> Option<Event> {
    let words = words.filter(|words| !words.is_empty())?;
    Some(Event::Paste(String::from_utf8_lossy(&words).into_owned()))
}

fn find(bytes: &[u8], part: &[u8]) -> Option<usize> {
    bytes.windows(part.len()).position(|window| window == part)
}

/// How far the first key or sequence reaches.
fn reach(bytes: &[u8]) -> Reach {
    match bytes {
        [] | [ESCAPE] => Reach::Unfinished,
        [ESCAPE, ESCAPE, ..] => Reach::Whole(1),
        [ESCAPE, b'[', b'M', ..] => up_to(6, bytes),
        [ESCAPE, b'[', b'[', ..] => up_to(4, bytes),
        [ESCAPE, b'[', ..] => control(bytes, 0x20..=0x3f),
        [ESCAPE, b'O', ..] => control(bytes, 0x30..=0x3b),
        [ESCAPE, b'P' | b'X' | b']' | b'^' | b'_', ..] => string(bytes),
        [ESCAPE, rest @ ..] => match letter(rest) {
            Reach::Whole(length) => Reach::Whole(length + 1),
            Reach::Void(length) => Reach::Void(length + 1),
            Reach::Unfinished => Reach::Unfinished,
        },
        _ => letter(bytes),
    }
}

fn up_to(length: usize, bytes: &[u8]) -> Reach {
    if bytes.len() < length { Reach::Unfinished } else { Reach::Whole(length) }
}

/// How far a control sequence reaches: bytes of the range `inner`, and then one final byte.
fn control(bytes: &[u8], inner: std::ops::RangeInclusive<u8>) -> Reach {
    let end = bytes.iter().skip(2).position(|byte| !inner.contains(byte)).map(|end| end + 2);
    match end.map(|end| (end, bytes[end])) {
        _ if end.unwrap_or(bytes.len()) > LONGEST_SEQUENCE => Reach::Void(LONGEST_SEQUENCE),
        Some((end, 0x40..=0x7e)) => Reach::Whole(end + 1),
        // A byte that cannot be part of a control sequence has broken it off.
        Some((end, _)) => Reach::Void(end),
        None => Reach::Unfinished,
    }
}

/// How far a control string reaches: to its terminator, or to the escape that begins the next sequence. Its content is
/// ignored.
fn string(bytes: &[u8]) -> Reach {
    let end = bytes.iter().skip(2).position(|byte| matches!(*byte, ESCAPE | BELL | 0x18 | 0x1a)).map(|end| end + 2);
    match end {
        _ if end.unwrap_or(bytes.len()) > LONGEST_SEQUENCE => Reach::Void(LONGEST_SEQUENCE),
        Some(end) if bytes[end] != ESCAPE => Reach::Void(end + 1),
        Some(end) => match bytes.get(end + 1) {
            Some(b'\\') => Reach::Void(end + 2),
            Some(_) => Reach::Void(end),
            None => Reach::Unfinished,
        },
        None => Reach::Unfinished,
    }
}

/// How far one UTF-8 character reaches.
fn letter(bytes: &[u8]) -> Reach {
    let beginning = &bytes[..bytes.len().min(4)];
    match std::str::from_utf8(beginning) {
        Ok(text) => text.chars().next().map_or(Reach::Unfinished, |letter| Reach::Whole(letter.len_utf8())),
        Err(error) if error.valid_up_to() > 0 => {
            let whole = std::str::from_utf8(&beginning[..error.valid_up_to()]).unwrap_or_default();
            Reach::Whole(whole.chars().next().map_or(1, char::len_utf8))
        }
        Err(error) => error.error_len().map_or(Reach::Unfinished, Reach::Void),
    }
}

/// The event that a complete key or sequence means; none where it is unknown.
fn meaning(bytes: &[u8]) -> Option<Event> {
    // The parser may panic at a report with impossible numbers.
    let read = catch_unwind(|| terminput::Event::parse_from(bytes).ok().flatten()).ok()??;
    to_crossterm(read).ok()
}

fn with_alt(key: &[u8]) -> Option<Event> {
    match meaning(key)? {
        Event::Key(mut key) => {
            key.modifiers |= KeyModifiers::ALT;
            Some(Event::Key(key))
        }
        other => Some(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crossterm::event::{KeyEvent, MouseButton, MouseEvent, MouseEventKind};

    fn key(code: KeyCode, modifiers: KeyModifiers) -> Event {
        Event::Key(KeyEvent::new(code, modifiers))
    }

    fn plain(letter: char) -> Event {
        key(KeyCode::Char(letter), KeyModifiers::NONE)
    }

    /// The events of `bytes` when nothing follows them, including those that a timeout brings.
    fn heard(bytes: &[u8]) -> Vec<Event> {
        let mut input = Input::default();
        let mut events = input.feed(bytes);
        if input.patience().is_some() {
            events.extend(input.give_up());
        }
        assert_eq!(input.patience(), None, "{bytes:?}");
        events
    }

    const PRESSED: [(&[u8], KeyCode, KeyModifiers); 23] = [
        (b"a", KeyCode::Char('a'), KeyModifiers::NONE),
        (b"A", KeyCode::Char('A'), KeyModifiers::SHIFT),
        ("é".as_bytes(), KeyCode::Char('é'), KeyModifiers::NONE),
        ("🌊".as_bytes(), KeyCode::Char('🌊'), KeyModifiers::NONE),
        (b"\x13", KeyCode::Char('s'), KeyModifiers::CONTROL),
        (b"\r", KeyCode::Enter, KeyModifiers::NONE),
        (b"\t", KeyCode::Tab, KeyModifiers::NONE),
        (b"\x7f", KeyCode::Backspace, KeyModifiers::NONE),
        (b"\x1b\x7f", KeyCode::Backspace, KeyModifiers::ALT),
        (b"\x1bz", KeyCode::Char('z'), KeyModifiers::ALT),
        (b"\x1b\r", KeyCode::Enter, KeyModifiers::ALT),
        ("\x1bé".as_bytes(), KeyCode::Char('é'), KeyModifiers::ALT),
        (b"\x1b[A", KeyCode::Up, KeyModifiers::NONE),
        (b"\x1bOA", KeyCode::Up, KeyModifiers::NONE),
        (b"\x1b[1;2C", KeyCode::Right, KeyModifiers::SHIFT),
        (b"\x1b[1;5F", KeyCode::End, KeyModifiers::CONTROL),
        (b"\x1b[Z", KeyCode::BackTab, KeyModifiers::SHIFT),
        (b"\x1b[3~", KeyCode::Delete, KeyModifiers::NONE),
        (b"\x1b[18~", KeyCode::F(7), KeyModifiers::NONE),
        (b"\x1bOP", KeyCode::F(1), KeyModifiers::NONE),
        (b"\x1b[[A", KeyCode::F(1), KeyModifiers::NONE),
        (b"\x1b[115;5u", KeyCode::Char('s'), KeyModifiers::CONTROL),
        (b"\x1b", KeyCode::Esc, KeyModifiers::NONE),
    ];

    #[test]
    fn keys_are_known_in_one_piece_and_byte_by_byte() {
        for (bytes, code, modifiers) in PRESSED {
            let wanted = [key(code, modifiers)];
            assert_eq!(heard(bytes), wanted, "{bytes:?}");
            let mut input = Input::default();
            let mut events: Vec<Event> = bytes.chunks(1).flat_map(|byte| input.feed(byte)).collect();
            events.extend(input.give_up());
            assert_eq!(events, wanted, "{bytes:?}");
        }
    }

    #[test]
    fn the_mouse_is_known_in_each_of_its_forms() {
        let down = MouseEvent {
            kind: MouseEventKind::Down(MouseButton::Left),
            column: 3,
            row: 4,
            modifiers: KeyModifiers::NONE,
        };
        for bytes in [&b"\x1b[<0;4;5M"[..], b"\x1b[32;4;5M", b"\x1b[M $%"] {
            assert_eq!(heard(bytes), [Event::Mouse(down)], "{bytes:?}");
        }
        assert_eq!(heard(b"\x1b[I"), [Event::FocusGained]);
    }

    #[test]
    fn what_never_ends_takes_no_later_key_with_it() {
        let alt = |letter, more| key(KeyCode::Char(letter), KeyModifiers::ALT | more);
        let beginnings: [(&[u8], Vec<Event>); 12] = [
            (b"\x1b[", vec![alt('[', KeyModifiers::NONE)]),
            (b"\x1b[?", vec![]),
            (b"\x1b[1;", vec![]),
            (b"\x1b[<0;4", vec![]),
            (b"\x1b[M ", vec![]),
            (b"\x1bO", vec![alt('O', KeyModifiers::SHIFT)]),
            (b"\x1b]", vec![alt(']', KeyModifiers::NONE)]),
            (b"\x1b]0;a title", vec![]),
            (b"\x1bP", vec![alt('P', KeyModifiers::SHIFT)]),
            (b"\x1b_x\x1b", vec![]),
            (b"\xf0\x9f", vec![]),
            (b"\x1b[200~One lamp", vec![Event::Paste("One lamp".to_owned())]),
        ];
        for (bytes, wanted) in beginnings {
            let mut input = Input::default();
            assert_eq!(input.feed(bytes), [], "{bytes:?}");
            assert!(input.patience().is_some(), "{bytes:?}");
            assert_eq!(input.give_up(), wanted, "{bytes:?}");
            assert_eq!(input.patience(), None, "{bytes:?}");
            assert_eq!(input.feed(b"x"), [plain('x')], "{bytes:?}");
        }
    }

    /// Whole, byte by byte, and with keys between them: answers are taken, and keys are kept in their order.
    #[test]
    fn answers_are_taken_and_keys_between_them_are_kept() {
        let sent = b"a\x1b_Gi=31;OK\x1b\\b\x1b[6;19;9tc\x1b[?63;4cd\x1b[Ae";
        let told = [
            TerminalAnswer::Kitty,
            TerminalAnswer::Cell { width: 9, height: 19 },
            TerminalAnswer::Attributes { sixels: true },
        ];
        for size in [1, 2, 7, sent.len()] {
            let mut input = Input { answers_until: Some(Instant::now() + ANSWERS_DUE), ..Input::default() };
            let events: Vec<Event> = sent.chunks(size).flat_map(|part| input.feed(part)).collect();
            let up = key(KeyCode::Up, KeyModifiers::NONE);
            assert_eq!(events, [plain('a'), plain('b'), plain('c'), plain('d'), up, plain('e')], "{size}");
            assert_eq!(input.answers, told, "{size}");
            assert_eq!((input.patience(), input.answers_until), (None, None), "{size}");
        }
    }

    #[test]
    fn more_is_waited_for_while_answers_are_due() {
        let mut input = Input { answers_until: Some(Instant::now() + ANSWERS_DUE), ..Input::default() };
        assert!(input.feed(b"\x1b[?63;").is_empty());
        assert_eq!(input.patience(), Some(UNFINISHED_ANSWER));
        assert!(input.feed(b"4c").is_empty());
        assert!(input.feed(b"\x1b[?").is_empty());
        assert_eq!(input.patience(), Some(UNFINISHED));
    }

    #[test]
    fn what_is_broken_off_or_unknown_is_passed_over() {
        let x = [plain('x')];
        for bytes in [
            &b"\x1b[1;\x00"[..],
            b"\x1b]0;title\x07",
            b"\x1b]11;rgb:0/0/0\x1b\\",
            b"\x1bP1$r0m\x1b\\",
            b"\x1b[?62;c",
            b"\x1b[0;0R",
            b"\x1b[<0;0;0M",
            b"\x1b[201~",
            b"\xff",
            b"\x80",
        ] {
            let events = heard(&[bytes, b"x"].concat());
            assert_eq!(events.last(), x.last(), "{bytes:?}");
            assert!(events.iter().all(|event| !matches!(event, Event::Paste(_))), "{bytes:?}");
        }
        assert_eq!(heard(b"\x1b\x1b[A"), [key(KeyCode::Esc, KeyModifiers::NONE), key(KeyCode::Up, KeyModifiers::NONE)]);
        let endless = [&b"\x1b]"[..], &[b'7'; LONGEST_SEQUENCE]].concat();
        assert_eq!(heard(&endless), [plain('7'), plain('7')]);
    }

    #[test]
    fn a_paste_in_parts_is_one_and_keys_in_it_are_words() {
        let mut input = Input::default();
        let whole = b"a\x1b[200~One \x11\x1b[A two \xc3\xa9.\x1b[201~b";
        let events: Vec<Event> = whole.chunks(3).flat_map(|part| input.feed(part)).collect();
        assert_eq!(events, [plain('a'), Event::Paste("One \u{11}\u{1b}[A two é.".to_owned()), plain('b')]);
        let huge = vec![b'a'; LARGEST_PASTE];
        let mut events = input.feed(PASTE);
        events.extend(huge.chunks(4096).flat_map(|part| input.feed(part)));
        events.extend(input.feed(b"rest\x1b[201~"));
        let lengths: Vec<usize> =
            events.iter().map(|event| if let Event::Paste(words) = event { words.len() } else { 0 }).collect();
        assert_eq!(lengths.iter().sum::<usize>(), LARGEST_PASTE + 4);
        assert!(lengths.iter().all(|length| (1..=LARGEST_PASTE + 4096).contains(length)), "{lengths:?}");
    }
}
