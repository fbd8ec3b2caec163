//! Two drafts side by side: which other draft is shown, and the differences that are taken over from it.

use ratatui::crossterm::event::KeyCode;

use super::beside::Beside;
use super::event::Effect;
use super::keys::{self, Command};
use super::mode::Mode;
use super::papers::DraftId;
use super::state::State;
use crate::editor::Action;

/// The number of differences that PageDown and PageUp pass over.
const TURN: usize = 5;

impl State {
    /// Shows another draft beside the one in front: the next in the list after `from`, forwards or backwards.
    pub(super) fn look_beside(&mut self, from: DraftId, step: isize) -> Vec<Effect> {
        let count = self.papers.iter().count() as isize;
        let from = self.papers.row_of(from).unwrap_or(0) as isize;
        // The walk goes once round the whole list, so each other draft comes up once.
        let rows = (1..=count).map(|steps| (from + step * steps).rem_euclid(count) as usize);
        let next = rows.filter_map(|row| self.papers.in_row(row)).find(|paper| paper.id != self.front);
        let Some(next) = next else {
            self.said = Some("There is no other draft of this book; Ctrl-O makes a double of this one.".to_owned());
            return Vec::new();
        };
        let draft = next.id;
        // An open draft is compared as it stands on the desk, unsaved words included.
        match &next.sheet {
            Some(sheet) => {
                let text = sheet.editor.text().to_owned();
                self.set_beside(draft, &text);
                Vec::new()
            }
            None => vec![Effect::LookAt { draft, path: next.path.clone() }],
        }
    }

    /// Shows a draft beside the one in front.
    pub(super) fn set_beside(&mut self, draft: DraftId, text: &str) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        self.mode = Mode::Beside(Box::new(Beside::new(draft, text, sheet, (self.brief(), &self.faces))));
    }

    /// A key while two drafts are side by side.
    pub(super) fn key_beside(&mut self, mut beside: Box<Beside>, key: KeyCode) -> Vec<Effect> {
        if keys::pressed(key.into()) == Some(Command::Beside) {
            return Vec::new();
        }
        let last = beside.last();
        match key {
            KeyCode::Left => return self.look_beside(beside.draft, -1),
            KeyCode::Right => return self.look_beside(beside.draft, 1),
            KeyCode::Down => beside.at = (beside.at + 1).min(last),
            KeyCode::Up => beside.at = beside.at.saturating_sub(1),
            KeyCode::PageDown => beside.at = (beside.at + TURN).min(last),
            KeyCode::PageUp => beside.at = beside.at.saturating_sub(TURN),
            KeyCode::Enter => self.take_over(&beside),
            KeyCode::Char('u') => self.act(Action::Undo),
            _ => {}
        }
        self.mode = Mode::Beside(beside);
        self.compare_again();
        Vec::new()
    }

    /// Finds the differences again if the draft in front has changed.
    pub(super) fn compare_again(&mut self) {
        self.assess();
        let mut mode = std::mem::take(&mut self.mode);
        if let (Mode::Beside(beside), Some(sheet)) = (&mut mode, self.sheet()) {
            beside.compare(sheet);
        }
        self.mode = mode;
    }

    /// Applies the selected difference to the draft in front, as one step of undo.
    fn take_over(&mut self, beside: &Beside) {
        let Some(sheet) = self.sheet() else { return };
        if beside.changes().is_empty() {
            self.said = Some("The two say the same.".to_owned());
            return;
        }
        match beside.edits(sheet) {
            Some(edits) => self.act(Action::Replace(edits)),
            None => self.said = Some("This cannot be taken alone; copy it by hand, or take another first.".to_owned()),
        }
    }
}
