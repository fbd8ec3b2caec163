//! What each page has keys for: one table, from which the keys are shown at the foot, listed, and clicked.

use std::borrow::Cow;

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::keys::{self, Command};
use super::mode::Mode;

/// A key and what it does in the current mode.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// The key's name as it is shown: `Enter`, `Down, Up`.
    pub shown: Cow<'static, str>,
    /// What the key does.
    pub does: &'static str,
    /// The key itself; the first where `shown` names several.
    pub press: KeyEvent,
}

const fn hint(shown: &'static str, press: KeyCode, does: &'static str) -> Hint {
    Hint {
        shown: Cow::Borrowed(shown),
        does,
        press: KeyEvent::new(press, ratatui::crossterm::event::KeyModifiers::NONE),
    }
}

const fn letter(shown: &'static str, press: char, does: &'static str) -> Hint {
    hint(shown, KeyCode::Char(press), does)
}

const BACK: Hint = hint("Esc", KeyCode::Esc, "back to writing");
const MORE: Hint = hint("Down, Up", KeyCode::Down, "more");

const READING: [Hint; 2] = [BACK, MORE];
const DETAILS: [Hint; 3] = [BACK, hint("Left, Right", KeyCode::Right, "the other measures"), MORE];
const PANEL: [Hint; 2] = [BACK, hint("Enter", KeyCode::Enter, "change the panel")];
const QUIET: Hint = letter("q", 'q', "quiet room");
const VALUES: [Hint; 14] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Left Right", KeyCode::Right, "change"),
    hint("Enter", KeyCode::Enter, "type it"),
    letter("w", 'w', "to brief"),
    letter("b", 'b', "brief's own"),
    letter("u", 'u', "undo"),
    letter("f", 'f', "other face"),
    letter("a", 'a', "add"),
    letter("x", 'x', "take away"),
    QUIET,
    hint("Up Down", KeyCode::Down, "choose"),
    hint("PgDn", KeyCode::PageDown, "next"),
    letter("< >", '>', "more"),
    letter("t", 't', "type"),
];
const ADDING: [Hint; 3] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Enter", KeyCode::Enter, "this one"),
    hint("Up Down", KeyCode::Down, "choose"),
];
const QUERIES: [Hint; 7] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Enter", KeyCode::Enter, "take the cut"),
    letter("s", 's', "let it stand"),
    hint("Down, Up", KeyCode::Down, "others"),
    letter("p", 'p', "take the plan"),
    letter("u", 'u', "undo"),
    letter("c", 'c', "read closely"),
];
const OTHER_WORDS: [Hint; 5] = [
    BACK,
    hint("Enter", KeyCode::Enter, "put it in"),
    hint("Down, Up", KeyCode::Down, "others"),
    hint("Tab", KeyCode::Tab, "the whole draft, or this word"),
    letter("u", 'u', "undo"),
];
const TYPE: [Hint; 9] = [
    hint("Esc", KeyCode::Esc, "back"),
    letter("+ -", '+', "size"),
    hint("Up Down", KeyCode::Up, "leading"),
    letter("f", 'f', "font"),
    letter("a", 'a', "align"),
    letter("l", 'l', "largest"),
    letter("w", 'w', "to brief"),
    letter("p", 'p', "panel"),
    letter("b", 'b', "brief's own"),
];
const BESIDE: [Hint; 5] = [
    BACK,
    hint("Enter", KeyCode::Enter, "take it over"),
    hint("Down, Up", KeyCode::Down, "the other differences"),
    hint("Left, Right", KeyCode::Right, "the other drafts"),
    letter("u", 'u', "undo"),
];
const ANSWERS: [Hint; 4] = [
    BACK,
    hint("Tab", KeyCode::Tab, "next question"),
    hint("Shift-Tab", KeyCode::BackTab, "the one before"),
    Hint {
        shown: Cow::Borrowed("Ctrl-Z"),
        does: "undo",
        press: KeyEvent::new(KeyCode::Char('z'), ratatui::crossterm::event::KeyModifiers::CONTROL),
    },
];
const DRAFTS: [Hint; 7] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Enter", KeyCode::Enter, "open"),
    letter("n", 'n', "new"),
    letter("d", 'd', "double"),
    letter("r", 'r', "rename"),
    letter("k", 'k', "keep a copy"),
    letter("o", 'o', "other file"),
];
const LEAVING: [Hint; 3] = [
    hint("Esc", KeyCode::Esc, "go on writing"),
    letter("s", 's', "save and leave"),
    letter("l", 'l', "leave without saving"),
];
const OUTSIDE: [Hint; 4] = [
    hint("Esc", KeyCode::Esc, "later"),
    letter("m", 'm', "save this one"),
    letter("t", 't', "take the other"),
    letter("e", 'e', "save elsewhere"),
];
const RECOVERED: [Hint; 4] =
    [letter("t", 't', "take them"), letter("f", 'f', "let them go"), hint("Esc", KeyCode::Esc, "later"), MORE];

/// Every page that has keys of its own, under the name that the list of keys gives it.
pub const PAGES: [(&str, &[Hint]); 13] = [
    ("F6, the queries", &QUERIES),
    ("Ctrl-N, what a blurb answers", &ANSWERS),
    ("Ctrl-L, other words", &OTHER_WORDS),
    ("F7, another type", &TYPE),
    ("F4, the panel", &PANEL),
    ("F4 and Enter, another panel", &VALUES),
    ("a on that page, another place on the panel", &ADDING),
    ("F5, the measures", &DETAILS),
    ("F9, another draft beside", &BESIDE),
    ("Ctrl-O, the drafts", &DRAFTS),
    ("Leaving with something unsaved", &LEAVING),
    ("A file that another program changed", &OUTSIDE),
    ("Unsaved words of an earlier desk", &RECOVERED),
];

/// The commands shown at the foot while writing, the most needed first.
const WRITING: [Command; 9] = [
    Command::Keys,
    Command::Save,
    Command::Leave,
    Command::Queries,
    Command::Type,
    Command::Undo,
    Command::Drafts,
    Command::Details,
    Command::Proof,
];

/// The words at the start of the foot in a mode, and the keys that work there; what only helps where copy stands on art
/// is left out elsewhere.
pub fn hints(mode: &Mode, is_on_art: bool) -> (&'static str, Vec<Hint>) {
    match mode {
        Mode::Writing => ("", writing()),
        Mode::Letter => ("A letter:", letters()),
        Mode::Keys(_) => ("", READING.to_vec()),
        Mode::Details(page, _) => (page.name(), DETAILS.to_vec()),
        Mode::Panel => ("", PANEL.to_vec()),
        Mode::Values(_) => ("", VALUES.into_iter().filter(|hint| is_on_art || *hint != QUIET).collect()),
        Mode::Adding(_) => ("", ADDING.to_vec()),
        Mode::Queries(_) => ("", QUERIES.to_vec()),
        Mode::Answers(_) => ("", ANSWERS.to_vec()),
        Mode::OtherWords(_) => ("", OTHER_WORDS.to_vec()),
        Mode::Type => ("", TYPE.to_vec()),
        Mode::Beside(_) => ("", BESIDE.to_vec()),
        Mode::Drafts(_) => ("", DRAFTS.to_vec()),
        Mode::Leaving => ("Not all is saved.", LEAVING.to_vec()),
        Mode::Outside => ("File changed.", OUTSIDE.to_vec()),
        Mode::Recovered(..) => ("Unsaved words were kept:", RECOVERED.to_vec()),
        Mode::Prompt(..) => ("", Vec::new()),
    }
}

fn writing() -> Vec<Hint> {
    let keys = WRITING.into_iter().map(keys::of);
    let keys = keys.map(|key| Hint { shown: Cow::Borrowed(key.shown), does: key.short, press: key.event() });
    keys.chain([hint("Esc", KeyCode::Esc, "all by letter")]).collect()
}

fn letters() -> Vec<Hint> {
    let keys = keys::KEYS.into_iter();
    keys.map(|key| Hint {
        shown: Cow::Owned(key.letter.to_string()),
        does: key.short,
        press: KeyEvent::from(KeyCode::Char(key.letter)),
    })
    .collect()
}
