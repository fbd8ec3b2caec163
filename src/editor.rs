//! The editor of a draft: a text, a cursor, a selection, and every step of undo and redo.
//!
//! Every place is a byte of the text at the edge of a grapheme, the character that a reader sees, so that no accent,
//! flag or family of emoji is ever cut. Nothing is drawn or saved here; no action can fail.

pub mod graphemes;
pub mod wrap;
pub mod motion;
pub mod find;
pub mod history;
pub mod difference;
pub mod mending;

use std::ops::Range;

use self::find::find;
use self::graphemes::{next, previous, snapped, snapped_on};
use self::history::{CursorPlace, Deed, EditGranularity, History, TextEdit};
use self::motion::{Landing, Motion, line_at, word_at};
use crate::brief::stet::Stood;
use crate::draft::{self, Edit, Span};

/// What a key, the mouse or a query does to the draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Action {
    /// Typed characters, in the place of the selection.
    Insert(String),
    /// Words from elsewhere, in the place of the selection; always a step of its own.
    Paste(String),
    /// A line ending, in the place of the selection.
    Newline,
    /// Takes out the selection, or the character before the cursor.
    Backspace,
    /// Takes out the selection, or the character after the cursor.
    Delete,
    /// Takes out the selection, or back to the start of a word; at the start of a line only the line's ending.
    DeleteWordBack,
    /// Takes out the selection, or on to the end of a word; at the end of a line only the line's ending.
    DeleteWordForward,
    /// Takes out the line of the file in which the cursor is, with its ending.
    DeleteLine,
    /// Takes out the rest of the file's line after the cursor, or its ending where the line has no rest.
    DeleteToLineEnd,
    /// Takes out the file's line before the cursor, or the ending of the line above where the cursor starts its line.
    DeleteToLineStart,
    /// Moves the cursor, and selects nothing.
    Move(Motion),
    /// Moves the cursor, and selects up to it.
    Select(Motion),
    /// Selects the whole draft.
    SelectAll,
    /// Selects the word at a byte of the text.
    SelectWordAt(usize),
    /// Puts the cursor at a byte of the text, or the nearest edge before it.
    PlaceCursor(usize),
    /// Selects up to a byte of the text.
    DragTo(usize),
    /// Takes out the selection. To copy it, ask `Editor::selected` first.
    Cut,
    /// Takes the last step back.
    Undo,
    /// Does the last undone step again.
    Redo,
    /// Takes the last step back as if it had never been done: it cannot be done again.
    Retract,
    /// Changes stretches of the file, as one step. The cursor stays with the words that it was at.
    Replace(Vec<Edit>),
    /// Lets a wording stand, as one step; nothing where it stands already.
    LetStand(Stood),
}

/// A text being edited.
#[derive(Debug, Default)]
pub struct Editor {
    text: String,
    place: CursorPlace,
    /// The column that moving up and down keeps to.
    goal: Option<usize>,
    history: History,
    revision: u64,
    /// The wordings that are let stand.
    stood: Vec<Stood>,
}

impl Editor {
    /// A text with the cursor at its start and nothing to undo.
    pub fn new(text: String) -> Self {
        Self { text, ..Self::default() }
    }

    /// The editor with wordings that stand from the start.
    pub fn with_stood(self, stood: Vec<Stood>) -> Self {
        Self { stood, ..self }
    }

    /// The wordings that are let stand, in the order in which they were let stand.
    pub fn stood(&self) -> &[Stood] {
        &self.stood
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The byte before which the cursor stands.
    pub fn cursor(&self) -> usize {
        self.place.cursor
    }

    /// What is selected, in bytes; never empty.
    pub fn selection(&self) -> Option<Range<usize>> {
        let (cursor, anchor) = (self.place.cursor, self.place.anchor?);
        (anchor != cursor).then(|| anchor.min(cursor)..anchor.max(cursor))
    }

    /// The words that are selected.
    pub fn selected(&self) -> Option<&str> {
        self.selection().map(|range| &self.text[range])
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        self.history.can_undo()
    }

    /// A number that changes with every change of the text.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// The first match for `needle` at or after byte `from`, or else the first in the text; see `find::find`.
    pub fn find(&self, needle: &str, from: usize) -> Option<Range<usize>> {
        find(&self.text, needle, from)
    }

    /// Does one action. `rows` are the byte ranges of the text's rows on the screen, in order.
    pub fn apply(&mut self, action: Action, rows: &[Range<usize>]) {
        match action {
            Action::Insert(typed) => self.put(&clean(&typed), EditGranularity::Typing),
            Action::Paste(words) => self.put(&clean(&words), EditGranularity::Alone),
            Action::Newline => self.put("\n", EditGranularity::Alone),
            Action::Undo => self.step(History::undo),
            Action::Redo => self.step(History::redo),
            Action::Retract => self.step(History::retract),
            Action::Replace(edits) => self.replace(&edits),
            Action::LetStand(stood) => self.let_stand(stood),
            Action::Move(motion) => self.travel(motion, rows),
            Action::Select(motion) => self.extend(motion, rows),
            Action::SelectAll => self.select(0..self.text.len()),
            Action::SelectWordAt(at) => self.select(word_at(&self.text, snapped(&self.text, at))),
            Action::PlaceCursor(at) => self.go(CursorPlace { cursor: at, anchor: None }),
            Action::DragTo(at) => {
                self.go(CursorPlace { cursor: at, anchor: self.place.anchor.or(Some(self.place.cursor)) })
            }
            deletion => self.delete(&deletion),
        }
    }

    fn put(&mut self, words: &str, kind: EditGranularity) {
        let cursor = self.place.cursor;
        self.edit(self.selection().unwrap_or(cursor..cursor), words, kind);
    }

    fn delete(&mut self, action: &Action) {
        let cursor = self.place.cursor;
        let (before, after) = (previous(&self.text, cursor)..cursor, cursor..next(&self.text, cursor));
        let line = line_at(&self.text, cursor);
        let (range, kind) = match (action, self.selection()) {
            (Action::DeleteLine, _) => (self.whole_line(line), EditGranularity::Alone),
            (_, Some(selection)) => (selection, EditGranularity::Alone),
            (Action::Backspace, None) => (before, EditGranularity::ErasingBack),
            (Action::Delete, None) => (after, EditGranularity::ErasingOn),
            (Action::DeleteWordBack, None) => {
                (wider(before, self.from(Motion::WordLeft).max(line.start)..cursor), EditGranularity::Alone)
            }
            (Action::DeleteWordForward, None) => {
                (wider(after, cursor..self.from(Motion::WordRight).min(line.end)), EditGranularity::Alone)
            }
            (Action::DeleteToLineStart, None) => (wider(before, line.start..cursor), EditGranularity::Alone),
            (Action::DeleteToLineEnd, None) => (wider(after, cursor..line.end), EditGranularity::Alone),
            _ => return,
        };
        self.edit(range, "", kind);
    }

    fn from(&self, motion: Motion) -> usize {
        motion.target(&self.text, self.place.cursor, &[], None).at
    }

    /// A line with the ending after it; the last line with the ending before it.
    fn whole_line(&self, line: Range<usize>) -> Range<usize> {
        if line.end < self.text.len() { line.start..line.end + 1 } else { line.start.saturating_sub(1)..line.end }
    }

    /// Replaces a stretch by words, and puts the cursor after them.
    fn edit(&mut self, range: Range<usize>, words: &str, kind: EditGranularity) {
        let range = snapped(&self.text, range.start)..snapped_on(&self.text, range.end);
        let after = range.start + words.len();
        self.change(range, words, kind, after);
    }

    /// Changes the text and records the change. The cursor goes to the first edge of a grapheme from `cursor` on, since
    /// stretches that now touch may have become one grapheme.
    fn change(&mut self, range: Range<usize>, words: &str, kind: EditGranularity, cursor: usize) {
        if range.is_empty() && words.is_empty() {
            return;
        }
        let before = self.place;
        let change = TextEdit { at: range.start, removed: self.text[range].to_owned(), inserted: words.to_owned() };
        change.make(&mut self.text);
        self.place = CursorPlace { cursor: snapped_on(&self.text, cursor), anchor: None };
        self.goal = None;
        self.revision += 1;
        self.history.note(Deed::Words(change), kind, before, self.place);
    }

    fn let_stand(&mut self, stood: Stood) {
        if !self.stood.contains(&stood) {
            self.stood.push(stood.clone());
            self.history.note(Deed::Stand(stood), EditGranularity::Alone, self.place, self.place);
        }
    }

    fn step(&mut self, taken: impl FnOnce(&mut History) -> Option<(Deed, CursorPlace)>) {
        let Some((deed, place)) = taken(&mut self.history) else { return };
        match deed {
            Deed::Words(change) => {
                change.make(&mut self.text);
                self.revision += 1;
            }
            Deed::Stand(stood) => self.stood.push(stood),
            Deed::Ask(stood) => self.stood.retain(|other| *other != stood),
        }
        (self.place, self.goal) = (place, None);
    }

    fn replace(&mut self, edits: &[Edit]) {
        let new = draft::edited(&self.text, edits);
        let cursor = self.carried(edits);
        // The edits become one change of the stretch that differs, so that one step of undo takes all of them back.
        let range = differing(&self.text, &new);
        let end = new.len() - (self.text.len() - range.end);
        self.change(range.clone(), &new[range.start..end], EditGranularity::Alone, cursor);
    }

    /// The cursor's place after the edits: it stays with the words before it.
    fn carried(&self, edits: &[Edit]) -> usize {
        let cursor = self.place.cursor;
        let cut =
            |edit: &Edit| Edit { span: Span { end: edit.span.end.min(cursor), ..edit.span }, text: edit.text.clone() };
        let before: Vec<Edit> = edits.iter().filter(|edit| edit.span.start < cursor).map(cut).collect();
        draft::edited(&self.text[..cursor], &before).len()
    }

    fn travel(&mut self, motion: Motion, rows: &[Range<usize>]) {
        let target = match (motion, self.selection()) {
            (Motion::Left, Some(selection)) => Landing { at: selection.start, goal: None },
            (Motion::Right, Some(selection)) => Landing { at: selection.end, goal: None },
            _ => motion.target(&self.text, self.place.cursor, rows, self.goal),
        };
        self.go(CursorPlace { cursor: target.at, anchor: None });
        self.goal = target.goal;
    }

    fn extend(&mut self, motion: Motion, rows: &[Range<usize>]) {
        let target = motion.target(&self.text, self.place.cursor, rows, self.goal);
        self.go(CursorPlace { cursor: target.at, anchor: self.place.anchor.or(Some(self.place.cursor)) });
        self.goal = target.goal;
    }

    fn select(&mut self, range: Range<usize>) {
        self.go(CursorPlace { cursor: range.end, anchor: Some(range.start) });
    }

    fn go(&mut self, place: CursorPlace) {
        self.place = CursorPlace { cursor: snapped(&self.text, place.cursor), ..place };
        self.goal = None;
        self.history.close();
    }
}

/// The longer of two stretches; the first where they are equal.
fn wider(one: Range<usize>, other: Range<usize>) -> Range<usize> {
    if other.len() > one.len() { other } else { one }
}

/// The stretch of `old` outside which `new` is equal to `old`.
fn differing(old: &str, new: &str) -> Range<usize> {
    let same = |(a, b): &(char, char)| a == b;
    let start: usize = old.chars().zip(new.chars()).take_while(same).map(|(a, _)| a.len_utf8()).sum();
    let (rest, other) = (&old[start..], &new[start..]);
    let tail: usize = rest.chars().rev().zip(other.chars().rev()).take_while(same).map(|(a, _)| a.len_utf8()).sum();
    start..old.len() - tail
}

/// Words from a keyboard or a clipboard, made safe for a terminal: line endings become `\n`, and control characters
/// other than the tab are removed.
fn clean(words: &str) -> String {
    let words = words.replace("\r\n", "\n").replace('\r', "\n");
    words.chars().filter(|character| matches!(character, '\n' | '\t') || !character.is_control()).collect()
}
