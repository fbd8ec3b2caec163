//! The page on which the author answers what a blurb answers, beside the copy. Each answer is a comment of the draft,
//! and however much is typed, one step of undo.

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::event::Effect;
use super::keys::{self, Command};
use super::mode::{AnswersPage, Mode};
use super::papers::DraftId;
use super::sheet::DraftSheet;
use super::state::State;
use super::writing::action;
use crate::brief::Book;
use crate::briefing::questions::{BlurbQuestion, answer_edits, kept};
use crate::draft::Draft;
use crate::editor::wrap::wrap;
use crate::editor::{Action, Editor};
use crate::terms::answers;

impl AnswersPage {
    /// The page with a question in hand.
    fn of(at: usize, draft: DraftId, sheet: &DraftSheet, book: &Book) -> Self {
        let text = sheet.editor.text();
        let found = answers::find(text, &Draft::read(text), book);
        let field = field(&found.all[at].answer.text);
        Self { at, field, found, read: (draft, sheet.editor.revision()), step: None }
    }

    /// Reads the answers again if the draft has changed. What is typed stays as it is, but where the draft has another
    /// answer.
    fn read_again(&mut self, draft: DraftId, sheet: &DraftSheet, book: &Book) {
        if self.read == (draft, sheet.editor.revision()) {
            return;
        }
        let now = Self::of(self.at, draft, sheet, book);
        (self.found, self.read) = (now.found, now.read);
        if kept(self.field.text()) != now.field.text() {
            (self.field, self.step) = (now.field, None);
        }
    }
}

/// An answer to be changed, with the cursor behind it.
fn field(answer: &str) -> Editor {
    let mut field = Editor::new(answer.to_owned());
    field.apply(Action::PlaceCursor(answer.len()), &[]);
    field
}

impl State {
    /// Opens the page at the first question that the draft does not answer.
    pub(super) fn open_answers(&mut self) {
        self.open_question(0);
        if let Mode::Answers(page) = &self.mode {
            let first = page.found.all.iter().position(|item| !item.answer.is_answered());
            self.open_question(first.unwrap_or(0));
        }
    }

    /// Takes a question in hand, by its number; behind the last comes the first.
    pub(super) fn open_question(&mut self, at: usize) {
        let Some(sheet) = self.sheet() else { return };
        let page = AnswersPage::of(at % BlurbQuestion::ALL.len(), self.front, sheet, &self.own_brief().book);
        self.mode = Mode::Answers(Box::new(page));
    }

    /// Puts the cursor at a byte of the answer in hand.
    pub(super) fn stand_in_answer(&mut self, at: usize) {
        if let Mode::Answers(page) = &mut self.mode {
            page.field.apply(Action::PlaceCursor(at), &[]);
        }
    }

    /// Reads the answers again where the draft has changed under the page.
    pub(super) fn read_answers_again(&mut self) {
        let mut mode = std::mem::take(&mut self.mode);
        if let (Mode::Answers(page), Some(sheet)) = (&mut mode, self.sheet()) {
            page.read_again(self.front, sheet, &self.own_brief().book);
        }
        self.mode = mode;
    }

    /// A key while an answer is typed.
    pub(super) fn key_in_answers(&mut self, page: Box<AnswersPage>, key: KeyEvent) -> Vec<Effect> {
        let (at, last) = (page.at, BlurbQuestion::ALL.len() - 1);
        match (key.code, keys::pressed(key)) {
            (KeyCode::Esc, _) | (_, Some(Command::Answers)) => return Vec::new(),
            (KeyCode::Tab | KeyCode::PageDown, _) => self.open_question(at + 1),
            (KeyCode::BackTab | KeyCode::PageUp, _) => self.open_question(at + last),
            (_, Some(Command::Save)) => {
                self.mode = Mode::Answers(page);
                return self.save(self.front);
            }
            (_, Some(command @ (Command::Copy | Command::Cut))) => return self.copy_from_answer(page, command),
            (_, Some(Command::Undo)) => self.undo_in_answer(page),
            (_, Some(Command::Redo)) => self.type_answer(page, Action::Redo),
            (_, Some(Command::SelectAll)) => self.type_answer(page, Action::SelectAll),
            (_, Some(Command::Paste)) => self.type_answer(page, Action::Paste(self.clipboard.clone())),
            (_, Some(command)) => return self.command(command),
            (_, None) => match action(key, 1) {
                Some(action) => self.type_answer(page, action),
                None => self.mode = Mode::Answers(page),
            },
        }
        Vec::new()
    }

    /// Puts words into the answer in hand.
    pub(super) fn put_in_answer(&mut self, action: Action) {
        match std::mem::take(&mut self.mode) {
            Mode::Answers(page) => self.type_answer(page, action),
            mode => self.mode = mode,
        }
    }

    /// Changes the answer in hand, and writes it into the draft.
    fn type_answer(&mut self, mut page: Box<AnswersPage>, action: Action) {
        let columns = usize::from(self.areas().answers().field.width);
        let rows = wrap(page.field.text(), columns.max(1));
        let before = page.field.revision();
        page.field.apply(action, &rows);
        if page.field.revision() != before {
            self.write_answer(&mut page);
        }
        self.mode = Mode::Answers(page);
    }

    /// Writes the answer in hand into the draft. What was typed of it before is the same step, and is taken back first.
    fn write_answer(&mut self, page: &mut AnswersPage) {
        let kind = self.own_brief().book.kind;
        let Some(sheet) = self.sheet_mut() else { return };
        if page.step == Some(sheet.editor.revision()) {
            sheet.editor.apply(Action::Retract, &[]);
        }
        let question = page.found.all[page.at].answer.question;
        match answer_edits(sheet.editor.text(), question, kind, page.field.text()) {
            Some(edits) if edits.is_empty() => page.step = None,
            Some(edits) => {
                sheet.editor.apply(Action::Replace(edits), &[]);
                page.step = Some(sheet.editor.revision());
            }
            None => self.said = Some("The draft has no place for a comment; close what is open in it.".to_owned()),
        }
    }

    /// Takes the last step of the answer back, or where it has none that of the draft.
    fn undo_in_answer(&mut self, mut page: Box<AnswersPage>) {
        let before = page.field.revision();
        page.field.apply(Action::Undo, &[]);
        if page.field.revision() == before {
            self.act(Action::Undo);
        } else {
            self.write_answer(&mut page);
        }
        self.mode = Mode::Answers(page);
        self.read_answers_again();
    }

    /// Copies what is selected of the answer, and takes it out for the command to cut.
    fn copy_from_answer(&mut self, page: Box<AnswersPage>, command: Command) -> Vec<Effect> {
        let Some(words) = page.field.selected().map(str::to_owned) else {
            self.said = Some("Nothing of the answer is selected.".to_owned());
            self.mode = Mode::Answers(page);
            return Vec::new();
        };
        self.clipboard.clone_from(&words);
        if command == Command::Cut {
            self.type_answer(page, Action::Cut);
        } else {
            self.mode = Mode::Answers(page);
        }
        vec![Effect::Copy { words }]
    }
}
