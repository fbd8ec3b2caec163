//! Writing: what keys, the mouse and the clipboard do to the text.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

use super::editor::Action;
use super::motion::{Motion, line_at};
use super::pane;
use super::rows::Wrapping;
use super::state::State;

/// Rows that one turn of the wheel moves.
const WHEEL: usize = 3;

/// The action that a key stands for in a text, where a page is so many rows.
pub(super) fn action(key: KeyEvent, page: usize) -> Option<Action> {
    let (control, alt) = (key.modifiers.contains(KeyModifiers::CONTROL), key.modifiers.contains(KeyModifiers::ALT));
    if let Some(motion) = motion(key.code, control || alt, page) {
        let selects = key.modifiers.contains(KeyModifiers::SHIFT);
        return Some(if selects { Action::Select(motion) } else { Action::Move(motion) });
    }
    match key.code {
        KeyCode::Char(letter) if control && !alt => match letter.to_ascii_lowercase() {
            'w' | 'h' => Some(Action::DeleteWordBack),
            'k' => Some(Action::DeleteToLineEnd),
            'u' => Some(Action::DeleteToLineStart),
            'd' => Some(Action::DeleteLine),
            'e' => Some(Action::Move(Motion::RowEnd)),
            _ => None,
        },
        // AltGr comes as both.
        KeyCode::Char(letter) if !alt || control => Some(Action::Insert(letter.to_string())),
        KeyCode::Tab => Some(Action::Insert("\t".to_owned())),
        KeyCode::Enter => Some(Action::Newline),
        KeyCode::Backspace if control || alt => Some(Action::DeleteWordBack),
        KeyCode::Backspace => Some(Action::Backspace),
        KeyCode::Delete if control || alt => Some(Action::DeleteWordForward),
        KeyCode::Delete => Some(Action::Delete),
        _ => None,
    }
}

fn motion(code: KeyCode, far: bool, page: usize) -> Option<Motion> {
    Some(match code {
        KeyCode::Left if far => Motion::WordLeft,
        KeyCode::Right if far => Motion::WordRight,
        KeyCode::Up if far => Motion::ParagraphUp,
        KeyCode::Down if far => Motion::ParagraphDown,
        KeyCode::Home if far => Motion::TextStart,
        KeyCode::End if far => Motion::TextEnd,
        KeyCode::Left => Motion::Left,
        KeyCode::Right => Motion::Right,
        KeyCode::Up => Motion::Up,
        KeyCode::Down => Motion::Down,
        KeyCode::Home => Motion::RowStart,
        KeyCode::End => Motion::RowEnd,
        KeyCode::PageUp => Motion::PageUp(page),
        KeyCode::PageDown => Motion::PageDown(page),
        _ => return None,
    })
}

impl State {
    /// Rows that a page of the copy has.
    pub(super) fn page(&self) -> usize {
        usize::from(self.areas().copy.height).saturating_sub(2).max(1)
    }

    /// Does an action on the draft in front.
    pub(super) fn act(&mut self, action: Action) {
        // Rows are needed where the cursor moves over them.
        if matches!(action, Action::Move(_) | Action::Select(_)) {
            self.assess();
        }
        let wrapping = self.wrapping;
        let Some(sheet) = self.sheet_mut() else { return };
        let action = match action {
            Action::Newline if wrapping == Wrapping::AsSet => ending(sheet.editor.text(), sheet.editor.cursor()),
            action => action,
        };
        let rows: Vec<_> = sheet.rows.iter().map(|row| row.range.clone()).collect();
        sheet.editor.apply(action, &rows);
        sheet.loose = false;
    }

    /// Copies the selection and gives it; nothing where nothing is selected.
    pub(super) fn copy(&mut self) -> Option<String> {
        let words = self.sheet()?.editor.selected()?.to_owned();
        self.clipboard.clone_from(&words);
        Some(words)
    }

    /// What the mouse does in the copy's pane.
    pub(super) fn point(&mut self, mouse: MouseEvent, presses: u8) {
        let at = |state: &Self| state.sheet().and_then(|sheet| pane::byte_at(state, sheet, mouse.column, mouse.row));
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => {
                self.assess();
                if let Some(at) = at(self) {
                    self.act(if presses > 1 { Action::SelectWordAt(at) } else { Action::PlaceCursor(at) });
                }
            }
            MouseEventKind::Drag(MouseButton::Left) => {
                self.assess();
                if let Some(at) = at(self) {
                    self.act(Action::DragTo(at));
                }
            }
            MouseEventKind::ScrollUp => self.scroll(|scroll| scroll.saturating_sub(WHEEL)),
            MouseEventKind::ScrollDown => self.scroll(|scroll| scroll + WHEEL),
            _ => {}
        }
    }

    fn scroll(&mut self, to: impl Fn(usize) -> usize) {
        let height = usize::from(self.areas().copy.height);
        if let Some(sheet) = self.sheet_mut() {
            sheet.scroll = to(sheet.scroll).min(sheet.shown.len().saturating_sub(height));
            sheet.loose = true;
        }
    }
}

/// What Enter does where rows are printed lines: a line's end inside a paragraph would be no more than a blank in print, so
/// it begins a new paragraph; in a quotation it begins the next line of it, and in an empty one it ends it.
fn ending(text: &str, cursor: usize) -> Action {
    let line = line_at(text, cursor);
    let words = text[line.clone()].trim();
    match words {
        ">" => Action::DeleteToLineStart,
        "" => Action::Newline,
        _ if words.starts_with('>') && cursor > line.start => Action::Paste("\n> ".to_owned()),
        _ if words.starts_with("<!--") => Action::Newline,
        _ => Action::Paste("\n\n".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::ending;
    use crate::desk::editor::Action;

    #[test]
    fn enter_begins_what_is_printed_on_a_new_line() {
        let pasted = |words: &str| Action::Paste(words.to_owned());
        assert_eq!(ending("The lamp is out.", 8), pasted("\n\n"));
        assert_eq!(ending("One.\n\nTwo.", 5), Action::Newline);
        assert_eq!(ending("> \"A light.\"", 12), pasted("\n> "));
        assert_eq!(ending("> \"A light.\"\n> ", 15), Action::DeleteToLineStart);
        assert_eq!(ending("<!-- a\nb -->", 6), Action::Newline);
    }
}
