//! What each page has keys for: one table, from which the keys are shown at the foot, listed, and clicked. A key that
//! would do nothing is not offered at the foot.

use std::borrow::Cow;
use std::collections::HashSet;

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::keys::{self, Command, Way};
use super::mode::{BookPage, LeftUnsaved, Mode};
use super::papers::DraftRow;
use super::sheet::DraftSheet;
use super::state::{State, Writing};
use super::theme::Keyboard;
use crate::brief::limits::Measure;
use crate::brief::queries::Rule;
use crate::report::verdict::Subject;
use crate::units::nouns::counted;

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

const KEYS: [Hint; 3] = [BACK, hint("Enter", KeyCode::Enter, "do what is found"), MORE];
const DETAILS: [Hint; 3] = [BACK, hint("Left, Right", KeyCode::Right, "the other measures"), MORE];
const PANEL: [Hint; 3] = [BACK, hint("Enter", KeyCode::Enter, "change the panel"), MORE];
const PROMPT: [Hint; 2] = [hint("Enter", KeyCode::Enter, "done"), hint("Esc", KeyCode::Esc, "back")];
const INSERTING: [Hint; 3] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Enter", KeyCode::Enter, "write this one"),
    hint("Down, Up", KeyCode::Down, "choose"),
];
const QUIET: Hint = letter("q", 'q', "quiet room");
const VALUES: [Hint; 14] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Left Right", KeyCode::Right, "change"),
    hint("Enter", KeyCode::Enter, "type it"),
    letter("w", 'w', "write to brief"),
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
const TYPE: [Hint; 10] = [
    hint("Esc", KeyCode::Esc, "back"),
    letter("+ -", '+', "size"),
    hint("Up Down", KeyCode::Up, "leading"),
    letter("f", 'f', "font"),
    letter("a", 'a', "align"),
    letter("w", 'w', "write to brief"),
    letter("l", 'l', "largest"),
    letter("u", 'u', "undo"),
    letter("p", 'p', "panel"),
    letter("b", 'b', "brief's own"),
];
const TAKE_BACK: Hint = letter("t", 't', "bring it back");
const OPEN: Hint = hint("Enter", KeyCode::Enter, "open");
const LOOK: Hint = hint("Enter", KeyCode::Enter, "look at it beside");
const BESIDE: [Hint; 7] = [
    BACK,
    hint("Enter", KeyCode::Enter, "take it over"),
    hint("Down, Up", KeyCode::Down, "the other differences"),
    hint("Left, Right", KeyCode::Right, "the other drafts"),
    hint("PgDn, PgUp", KeyCode::PageDown, "scroll"),
    TAKE_BACK,
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
const DRAFTS: [Hint; 10] = [
    hint("Esc", KeyCode::Esc, "back"),
    OPEN,
    LOOK,
    TAKE_BACK,
    letter("n", 'n', "new"),
    letter("d", 'd', "double"),
    letter("r", 'r', "rename"),
    letter("k", 'k', "keep a copy"),
    letter("o", 'o', "other file"),
    letter("b", 'b', "beside"),
];
const BOOK: [Hint; 11] = [
    hint("Esc", KeyCode::Esc, "back"),
    hint("Enter", KeyCode::Enter, "change"),
    hint("Up Down", KeyCode::Down, "choose"),
    letter("w", 'w', "write to brief"),
    letter("u", 'u', "undo"),
    letter("a", 'a', "add"),
    hint("Del", KeyCode::Delete, "take away"),
    hint("PgDn", KeyCode::PageDown, "next group"),
    letter("c", 'c', "word at cursor"),
    letter("s", 's', "story's words"),
    hint("Left Right", KeyCode::Right, "another"),
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
const MENDING: [Hint; 3] = [
    Hint {
        shown: Cow::Borrowed("Ctrl-S"),
        does: "write it and go on",
        press: KeyEvent::new(KeyCode::Char('s'), ratatui::crossterm::event::KeyModifiers::CONTROL),
    },
    Hint {
        shown: Cow::Borrowed("Ctrl-Z"),
        does: "undo",
        press: KeyEvent::new(KeyCode::Char('z'), ratatui::crossterm::event::KeyModifiers::CONTROL),
    },
    hint("Esc", KeyCode::Esc, "back"),
];
const RECOVERED: [Hint; 4] =
    [letter("t", 't', "take them"), letter("f", 'f', "let them go"), hint("Esc", KeyCode::Esc, "later"), MORE];

/// A page that has keys of its own, as the list of keys has it.
#[derive(Debug, Clone, Copy)]
pub struct KeyedPage {
    /// What the page is about.
    pub name: &'static str,
    /// The keys of the page.
    pub hints: &'static [Hint],
    opened: Opened,
}

/// How a page is opened from writing.
#[derive(Debug, Clone, Copy)]
enum Opened {
    /// By a command.
    By(Command),
    /// By Enter on the page of a command.
    ByEnter(Command),
    /// By a letter on the page that stands before it in the list.
    ByLetter(char),
    /// By what happens.
    Unasked,
}

/// Every page that has keys of its own.
pub const PAGES: [KeyedPage; 16] = [
    KeyedPage { opened: Opened::By(Command::Queries), name: "the queries", hints: &QUERIES },
    KeyedPage { opened: Opened::By(Command::Answers), name: "what a blurb answers", hints: &ANSWERS },
    KeyedPage { opened: Opened::By(Command::OtherWords), name: "other words", hints: &OTHER_WORDS },
    KeyedPage { opened: Opened::By(Command::Type), name: "another type", hints: &TYPE },
    KeyedPage { opened: Opened::By(Command::Panel), name: "the panel", hints: &PANEL },
    KeyedPage { opened: Opened::ByEnter(Command::Panel), name: "another panel", hints: &VALUES },
    KeyedPage { opened: Opened::ByLetter('a'), name: "another place on the panel", hints: &ADDING },
    KeyedPage { opened: Opened::By(Command::Details), name: "the measures", hints: &DETAILS },
    KeyedPage { opened: Opened::By(Command::Insert), name: "another block", hints: &INSERTING },
    KeyedPage { opened: Opened::By(Command::Book), name: "the book and its brief", hints: &BOOK },
    KeyedPage { opened: Opened::By(Command::Beside), name: "another draft beside", hints: &BESIDE },
    KeyedPage { opened: Opened::By(Command::Drafts), name: "the drafts", hints: &DRAFTS },
    KeyedPage { opened: Opened::Unasked, name: "Leaving with something unsaved", hints: &LEAVING },
    KeyedPage { opened: Opened::Unasked, name: "A file that another program changed", hints: &OUTSIDE },
    KeyedPage { opened: Opened::Unasked, name: "Unsaved words of an earlier desk", hints: &RECOVERED },
    KeyedPage { opened: Opened::Unasked, name: "A brief that cannot be read", hints: &MENDING },
];

impl KeyedPage {
    /// The keys that open the page, as they are shown; none where no key does.
    fn opens(&self, keyboard: Keyboard) -> Option<String> {
        match self.opened {
            Opened::By(command) => Some(keys::of(command).name(keyboard).into_owned()),
            Opened::ByEnter(command) => Some(format!("{} and Enter", keys::of(command).name(keyboard))),
            Opened::ByLetter(letter) => Some(format!("{letter} on that page")),
            Opened::Unasked => None,
        }
    }

    /// The page's line in the list of keys: the keys that open it, and what it is about.
    pub fn heading(&self, keyboard: Keyboard) -> String {
        self.opens(keyboard).map_or_else(|| self.name.to_owned(), |opens| format!("{opens}, {}", self.name))
    }

    /// The way to one of the page's keys from writing; none where no command leads there.
    pub(super) fn way_through(&self, hint: &Hint, keyboard: Keyboard) -> Option<Way> {
        let presses = match self.opened {
            Opened::By(command) => vec![keys::of(command).event(), hint.press],
            Opened::ByEnter(command) => vec![keys::of(command).event(), KeyEvent::from(KeyCode::Enter), hint.press],
            Opened::ByLetter(_) | Opened::Unasked => return None,
        };
        let shown = format!("{}, then {}", self.opens(keyboard)?, hint.shown);
        Some(Way { shown, does: format!("{}: {}", self.name, hint.does), presses })
    }
}

/// From this many columns on, the foot begins with the name of the measure that is opened.
const LED: u16 = 60;

/// The commands shown at the foot while writing, the most needed first.
const WRITING: [Command; 13] = [
    Command::Keys,
    Command::Save,
    Command::Leave,
    Command::Queries,
    Command::Type,
    Command::Insert,
    Command::Panel,
    Command::Book,
    Command::Drafts,
    Command::Proof,
    Command::Undo,
    Command::Beside,
    Command::Details,
];

/// The words at the start of the foot in the present mode, and the keys that do something there.
pub fn hints(state: &State) -> (&'static str, Vec<Hint>) {
    let (lead, keys) = of_mode(state);
    let does_something = |hint: &Hint| is_useful(state, hint);
    (lead, keys.into_iter().filter(does_something).collect())
}

fn of_mode(state: &State) -> (&'static str, Vec<Hint>) {
    match &state.mode {
        Mode::Writing => ("", writing(state.theme.keyboard)),
        Mode::Letter => ("A letter:", letters()),
        Mode::Keys(_) => ("", KEYS.to_vec()),
        // On a narrow screen the page says its name by its first words alone.
        Mode::Details(page, _) => (if state.size.0 < LED { "" } else { page.name() }, DETAILS.to_vec()),
        Mode::Panel(_) => ("", PANEL.to_vec()),
        Mode::Values(_) => ("", VALUES.to_vec()),
        Mode::Adding(_) => ("", ADDING.to_vec()),
        Mode::Inserting(_) => ("", INSERTING.to_vec()),
        Mode::Queries(_) => ("", QUERIES.to_vec()),
        Mode::Answers(_) => ("", ANSWERS.to_vec()),
        Mode::OtherWords(_) => ("", OTHER_WORDS.to_vec()),
        Mode::Type => ("", TYPE.to_vec()),
        Mode::Beside(_) => ("", BESIDE.to_vec()),
        Mode::Book(BookPage { choosing: Some(_), .. }) => ("", ADDING.to_vec()),
        Mode::Book(_) => ("", BOOK.to_vec()),
        Mode::Drafts(_) => ("", DRAFTS.to_vec()),
        Mode::Leaving => ("Not all is saved.", LEAVING.to_vec()),
        Mode::Outside => ("File changed.", OUTSIDE.to_vec()),
        Mode::Recovered(LeftUnsaved::Words(_), _) => ("Unsaved words were kept:", RECOVERED.to_vec()),
        Mode::Recovered(LeftUnsaved::Brief { .. }, _) => ("Changes of the brief were kept:", RECOVERED.to_vec()),
        Mode::Mending(_) => ("", MENDING.to_vec()),
        Mode::Prompt(..) => ("", PROMPT.to_vec()),
    }
}

/// Whether a key of the present mode does something in the present state.
fn is_useful(state: &State, hint: &Hint) -> bool {
    let (code, sheet) = (hint.press.code, state.sheet());
    let writes = state.writing == Writing::Book;
    let can_undo = || sheet.is_some_and(|sheet| sheet.editor.can_undo());
    // A key that is not named here always does something in its mode.
    match (&state.mode, code) {
        (Mode::Writing | Mode::Letter, _) => match keys::pressed(hint.press) {
            Some(Command::Undo) => can_undo(),
            Some(Command::Queries) => sheet.is_some_and(|sheet| !sheet.offers().is_empty()),
            _ => true,
        },
        (Mode::Panel(page) | Mode::Details(_, page) | Mode::Recovered(_, page), KeyCode::Down) => page.goes_on(),
        (Mode::Keys(keys), KeyCode::Enter) => !ways_to(&keys.sought, state.theme.keyboard).is_empty(),
        (Mode::Keys(keys), KeyCode::Down) => match ways_to(&keys.sought, state.theme.keyboard).len() {
            0 => keys.page.goes_on(),
            ways => ways > 1,
        },
        (Mode::Queries(at), KeyCode::Enter) => sheet.is_some_and(|sheet| has_cut(sheet, *at)),
        (Mode::Queries(_), KeyCode::Down) => sheet.is_some_and(|sheet| sheet.offers().len() > 1),
        (Mode::Queries(_), KeyCode::Char('p')) => {
            sheet.is_some_and(|sheet| sheet.offers().iter().any(|offer| offer.is_planned && offer.edit.is_some()))
        }
        (Mode::Queries(_) | Mode::Beside(_), KeyCode::Char('u')) => can_undo(),
        (Mode::Beside(beside), KeyCode::Enter) => !beside.changes().is_empty(),
        (Mode::Beside(beside), KeyCode::Down) => beside.changes().len() > 1,
        (Mode::Beside(beside), KeyCode::Right) => state.papers.last_row() > usize::from(beside.draft().is_some()),
        (Mode::Beside(beside), KeyCode::PageDown) => beside.out_of_sight() != (0, 0),
        (Mode::Beside(beside), KeyCode::Char('t')) => beside.draft().is_none(),
        (Mode::Type, KeyCode::Char('b')) => !state.tried().has_own_type(),
        (Mode::Type, KeyCode::Char('w')) => writes && state.has_more_than_brief(),
        (Mode::Type, KeyCode::Char('l')) => sheet.is_some_and(|sheet| {
            let fit = &sheet.now.report.fit;
            fit.largest_size.is_some_and(|largest| largest != fit.size)
        }),
        (Mode::Values(_), KeyCode::Char('q')) => state.is_on_art(),
        (Mode::Values(_), KeyCode::Char('b')) => state.tried().panel.is_some(),
        (Mode::Values(_), KeyCode::Char('w')) => writes && state.has_more_than_brief(),
        (Mode::Type | Mode::Values(_), KeyCode::Char('u')) => state.can_take_trial_back(),
        (Mode::Values(_), KeyCode::Char('f')) => state.panel_tried().parts().len() > 1,
        (Mode::Values(at), KeyCode::Char('x')) => state.values().get(*at).is_some_and(|value| value.of.is_some()),
        (Mode::Book(BookPage { choosing: None, at }), code) => match code {
            KeyCode::Char('w') => writes && state.has_more_than_brief(),
            KeyCode::Char('u') => state.can_take_brief_back(),
            KeyCode::Delete => state.book_rows().get(*at).is_some_and(|row| row.own.is_some()),
            KeyCode::Right => state.book_rows().get(*at).is_some_and(|row| !row.choices().is_empty()),
            _ => true,
        },
        (Mode::Drafts(at), _) => is_for_row(state, *at, hint) && (writes || !matches!(code, KeyCode::Char(_))),
        _ => true,
    }
}

/// Whether a key of the list of drafts does something in a row of it.
fn is_for_row(state: &State, at: usize, hint: &Hint) -> bool {
    let row = state.papers.listed().get(at).copied();
    match hint.press.code {
        KeyCode::Enter | KeyCode::Char('t') => (*hint == OPEN) == matches!(row, Some(DraftRow::Draft(_))),
        KeyCode::Char('b') => row != Some(DraftRow::Draft(state.front)) && matches!(row, Some(DraftRow::Draft(_))),
        KeyCode::Char('d' | 'r' | 'k') => matches!(row, Some(DraftRow::Draft(_))),
        _ => true,
    }
}

/// Whether Enter has something to do at a query: a cut that is ready, or marks to be set.
fn has_cut(sheet: &DraftSheet, at: usize) -> bool {
    let offers = sheet.offers();
    offers.get(at).is_some_and(|offer| offer.edit.is_some() || offer.query.rule == Rule::StraightMarks)
}

/// What is outside, in a few words, and the keys that help; none where nothing is, or while something else is done
/// than writing.
pub fn advice(state: &State) -> Option<(String, Vec<Hint>)> {
    let sheet = state.sheet().filter(|_| matches!(state.mode, Mode::Writing))?;
    let keyboard = state.theme.keyboard;
    let helping = |keys: &[(Command, &'static str)]| helping(keys, keyboard);
    let with_queries = |keys: &[(Command, &'static str)]| with_queries(sheet, keys, keyboard);
    if let Some(words) = state.told_of_unread_brief() {
        return Some((words.to_owned(), helping(&[(Command::Book, "mends it")])));
    }
    let checks: Vec<_> = sheet.now.report.verdict.outside().collect();
    if sheet.now.draft.blocks.is_empty() {
        return Some(("Nothing is written yet:".to_owned(), helping(&[(Command::Insert, "a headline, a quote ...")])));
    }
    // Lines over come before all else, as one sum over all places.
    let over = checks.iter().filter(|check| matches!(check.subject, Subject::LinesOver(_)));
    let over: f64 = over.filter_map(|check| check.value).sum();
    if over > 0.0 {
        let words = format!("{} over:", counted(over as usize, "line"));
        return Some((words, with_queries(&[(Command::Type, "a smaller size"), (Command::Panel, "more room")])));
    }
    // Of the rest, what keeps copy from fitting comes first; the others are only counted.
    let fit = checks.iter().find(|check| check.subject.is_fit()).or(checks.first())?;
    let others = match checks.len() {
        1 => String::new(),
        count => format!(" (and {} more)", count - 1),
    };
    let told = |words: &str, keys: Vec<Hint>| Some((format!("{words}{others}:"), keys));
    let smaller = (Command::Type, "a smaller size");
    let measures = (Command::Details, "what is behind it");
    match &fit.subject {
        Subject::LinesOver(_) => None,
        Subject::LinesTooWide => told("A word is too wide", helping(&[smaller, (Command::Panel, "more room")])),
        Subject::SpineTitle => told("The title is too large for its spine", helping(&[(Command::Panel, "the spine")])),
        Subject::MissingLetters => told("The font has not every letter", helping(&[(Command::Type, "another font")])),
        Subject::LinesLost => told("Lines are lost on the art", helping(&[(Command::Panel, "quiet room for them")])),
        Subject::NoCopy => told("There is no copy yet", helping(&[(Command::Insert, "a quote, a note ...")])),
        Subject::ArtPixels => told("The art has too few pixels", helping(&[measures])),
        Subject::Term(term) => told(
            &format!("\"{term}\" {}", if fit.value == Some(0.0) { "is missing" } else { "is there too often" }),
            helping(&[measures, (Command::Marks, "where terms stand")]),
        ),
        Subject::Avoided(wording) => {
            told(&format!("\"{wording}\" is to be avoided"), helping(&[(Command::Find, "find it")]))
        }
        Subject::Measure(measure) => {
            let is_more = fit.range.to.zip(fit.value).is_some_and(|(to, value)| value > to);
            let words = match (measure, is_more) {
                (Measure::Level, true) => "too high a reading level".to_owned(),
                (Measure::Level, false) => "too low a reading level".to_owned(),
                (_, true) => format!("too many {}", measure.name()),
                (_, false) => format!("too few {}", measure.name()),
            };
            let keys = if is_more { with_queries(&[measures]) } else { helping(&[measures]) };
            told(&words, keys)
        }
    }
}

/// The key of the list of keys, named where not every key of a page has room.
pub fn all_keys(state: &State) -> Hint {
    Hint { shown: state.key_name(Command::Keys), does: "all keys", press: keys::of(Command::Keys).event() }
}

/// The keys of some commands, each with what it helps to.
fn helping(keys: &[(Command, &'static str)], keyboard: Keyboard) -> Vec<Hint> {
    let hint = |(command, does): &(Command, &'static str)| {
        let key = keys::of(*command);
        Hint { shown: key.name(keyboard), does, press: key.event() }
    };
    keys.iter().map(hint).collect()
}

/// The key for what can go, where something can, before other keys.
fn with_queries(sheet: &DraftSheet, others: &[(Command, &'static str)], keyboard: Keyboard) -> Vec<Hint> {
    let has_cut = sheet.offers().iter().any(|offer| offer.edit.is_some());
    let first: &[(Command, &'static str)] = if has_cut { &[(Command::Queries, "what can go")] } else { &[] };
    helping(&[first, others].concat(), keyboard)
}

/// Words that tell nothing of what is wanted.
const SMALL: [&str; 26] = [
    "a", "an", "and", "can", "do", "for", "how", "i", "in", "is", "it", "make", "me", "my", "of", "on", "please",
    "see", "that", "the", "this", "to", "want", "what", "where", "with",
];

/// What can be done that words tell, each of which begins a word of what the keys do or of what an author would call
/// it; of several words the ways that most of them tell. Commands come first; what leads back from a page is left out.
pub fn ways_to(words: &str, keyboard: Keyboard) -> Vec<Way> {
    let lower = words.to_lowercase();
    let all: Vec<&str> = lower.split(|sign: char| sign.is_whitespace() || "?!,.\"".contains(sign)).collect();
    let all: Vec<&str> = all.into_iter().filter(|word| !word.is_empty()).collect();
    let telling: Vec<&str> = all.iter().copied().filter(|word| !SMALL.contains(word)).collect();
    let sought = if telling.is_empty() { all } else { telling };
    let told_by = |told: &str| {
        let told = told.to_lowercase();
        let told: Vec<&str> = told.split(|letter: char| !letter.is_alphanumeric()).collect();
        sought.iter().filter(|word| told.iter().any(|other| other.starts_with(**word))).count()
    };
    let commands = keys::KEYS.iter().map(|key| {
        let told = format!("{} {} {} {}", key.shown, key.short, key.says, keys::also_called(key.command));
        (told_by(&told), Way::to(key.command, keyboard))
    });
    let hints = PAGES.iter().flat_map(|page| page.hints.iter().map(move |hint| (page, hint)));
    let hints = hints.filter(|(_, hint)| hint.press.code != KeyCode::Esc).filter_map(|(page, hint)| {
        let told = told_by(&format!("{} {}", hint.does, page.heading(keyboard)));
        Some((told, page.way_through(hint, keyboard)?))
    });
    let mut seen = HashSet::new();
    let ways: Vec<(usize, Way)> = commands.chain(hints).filter(|(_, way)| seen.insert(way.shown.clone())).collect();
    let most = ways.iter().map(|(told, _)| *told).max().filter(|most| *most > 0);
    ways.into_iter().filter(|(told, _)| Some(*told) == most).map(|(_, way)| way).collect()
}

fn writing(keyboard: Keyboard) -> Vec<Hint> {
    let keys = WRITING.into_iter().map(keys::of);
    let keys = keys.map(|key| Hint { shown: key.name(keyboard), does: key.short, press: key.event() });
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
