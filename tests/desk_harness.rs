//! A desk without a terminal, for tests: keys are pressed and things on the screen are clicked as by a person.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::{Path, PathBuf};

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{DraftId, Effect, Event, OpenedBook, Outcome, State, settle, update};
use blurbwright::panes;
use blurbwright::setting::Faces;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

pub(crate) const BRIEF: &str = include_str!("data/one_column.yaml");
pub(crate) const DRAFT: &str = include_str!("../drafts/first.md");

/// The desk with three drafts of a book, the first of them open with these words.
fn open(brief: &str, words: &str, size: (u16, u16), letters: Letters) -> State {
    let book = OpenedBook {
        brief: Brief::read(brief, Path::new("")).expect("a brief"),
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: ["first.md", "second.md", "third.md"].map(PathBuf::from).to_vec(),
        first: (PathBuf::from("first.md"), words.to_owned()),
        writing: Writing::Book,
    };
    State::new(book, Theme::new(Colours::Sixteen, letters), size)
}

pub(crate) fn desk_of(brief: &str, size: (u16, u16)) -> State {
    open(brief, DRAFT, size, Letters::Unicode)
}

pub(crate) fn desk_of_words(brief: &str, words: &str, size: (u16, u16)) -> State {
    open(brief, words, size, Letters::Unicode)
}

pub(crate) fn desk(size: (u16, u16)) -> State {
    desk_of(BRIEF, size)
}

pub(crate) fn desk_on(words: &str, size: (u16, u16)) -> State {
    desk_with(words, size, Letters::Unicode)
}

pub(crate) fn desk_with(words: &str, size: (u16, u16), letters: Letters) -> State {
    open(BRIEF, words, size, letters)
}

/// The number of the draft with a file.
pub(crate) fn draft(state: &mut State, path: &str) -> DraftId {
    state.draft_with(path)
}

/// A draft was read, listed before or not.
pub(crate) fn opened(state: &mut State, path: &str, words: &str) -> DraftId {
    let id = draft(state, path);
    let (path, text, said) = (PathBuf::from(path), words.to_owned(), Vec::new());
    done(state, Outcome::Opened { draft: id, path, text, said });
    id
}

/// What is drawn.
pub(crate) fn drawn(state: &mut State) -> Buffer {
    settle(state);
    let mut terminal = Terminal::new(TestBackend::new(state.size.0, state.size.1)).expect("a test screen");
    terminal.draw(|frame| panes::draw(state, frame)).expect("a drawing");
    terminal.backend().buffer().clone()
}

/// The screen as it is drawn, a line for each row.
pub(crate) fn screen(state: &mut State) -> Vec<String> {
    let buffer = drawn(state);
    let row = |y: u16| (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
    (0..buffer.area.height).map(|y| row(y).trim_end().to_owned()).collect()
}

pub(crate) fn press(state: &mut State, code: KeyCode) -> Vec<Effect> {
    settle(state);
    update(state, Event::Key(KeyEvent::from(code)))
}

pub(crate) fn control(state: &mut State, letter: char) -> Vec<Effect> {
    settle(state);
    update(state, Event::Key(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL)))
}

pub(crate) fn typed(state: &mut State, words: &str) {
    update(state, Event::Typed(words.to_owned()));
}

pub(crate) fn done(state: &mut State, outcome: Outcome) -> Vec<Effect> {
    update(state, Event::Done(outcome))
}

pub(crate) fn mouse(state: &mut State, kind: MouseEventKind, (column, row): (u16, u16), presses: u8) -> Vec<Effect> {
    settle(state);
    let event = panes::event(state, MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE }, presses);
    event.map_or_else(Vec::new, |event| update(state, event))
}

/// Clicks on the first letter of words that are on the screen.
pub(crate) fn click(state: &mut State, words: &str, presses: u8) -> Vec<Effect> {
    let rows = screen(state);
    let found = rows.iter().enumerate().find_map(|(y, row)| {
        let at = row.find(words)?;
        Some((row[..at].chars().count() as u16, y as u16))
    });
    let place = found.unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n")));
    mouse(state, MouseEventKind::Down(MouseButton::Left), place, presses)
}

pub(crate) fn text(state: &State) -> &str {
    state.sheet().expect("a sheet").editor.text()
}
