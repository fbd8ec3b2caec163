//! The page on which another panel is tried, value by value, while the fit and the picture follow.

use ratatui::buffer::Buffer;
use ratatui::crossterm::event::KeyCode;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::event::Effect;
use super::pages;
use super::pane::put;
use super::picture;
use super::sheet::DraftSheet;
use super::state::{Mode, Prompt, State};
use crate::brief::panel_values::PanelValue;
use crate::print::visible::visible;

/// Columns of a value's name.
const NAME: u16 = 28;
/// Columns of a value.
const VALUE: u16 = 18;
/// Columns of the list where the panel is drawn beside it, and of a screen that has room for both.
const LIST: u16 = 47;
const BOTH: u16 = 70;

impl State {
    /// A key on the page.
    pub(super) fn key_in_values(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        let values = self.values();
        let last = values.len().saturating_sub(1);
        self.mode = Mode::Values(at.min(last));
        let Some(value) = values.get(at.min(last)) else { return Vec::new() };
        match code {
            KeyCode::Up => self.mode = Mode::Values(at.saturating_sub(1)),
            KeyCode::Down | KeyCode::Tab => self.mode = Mode::Values((at + 1).min(last)),
            KeyCode::Home | KeyCode::PageUp => self.mode = Mode::Values(0),
            KeyCode::End | KeyCode::PageDown => self.mode = Mode::Values(last),
            KeyCode::Right | KeyCode::Char('+') => self.step_value(value, 1),
            KeyCode::Left | KeyCode::Char('-') => self.step_value(value, -1),
            KeyCode::Enter if value.is_choice() => self.step_value(value, 1),
            KeyCode::Enter => self.ask(Prompt::Value(at), &value.value),
            KeyCode::Char('w') => return self.write_brief(),
            KeyCode::Char('b') => {
                let tried = super::tried::Tried { panel: None, ..self.tried.clone() };
                self.try_type(tried);
            }
            KeyCode::Char('t') | KeyCode::F(7) => self.mode = Mode::Type,
            KeyCode::F(4) => self.mode = Mode::Writing,
            _ => {}
        }
        Vec::new()
    }

    /// What can be changed of the panel as it is tried.
    pub(super) fn values(&self) -> Vec<PanelValue> {
        self.tried.panel(&self.own).values()
    }

    fn step_value(&mut self, value: &PanelValue, steps: i32) {
        let mut tried = self.tried.clone();
        match tried.step_panel(value, steps, &self.own) {
            Ok(()) => self.try_type(tried),
            Err(problem) => self.refuse(&problem),
        }
    }

    /// Tries a value as it was typed.
    pub(super) fn type_value(&mut self, at: usize, text: &str) {
        self.mode = Mode::Values(at);
        let mut tried = self.tried.clone();
        let Some(value) = self.values().into_iter().nth(at).filter(|_| !text.is_empty()) else { return };
        match tried.type_panel(&value, text, &self.own) {
            Ok(()) => self.try_type(tried),
            Err(problem) => self.refuse(&problem),
        }
    }

    fn refuse(&mut self, problem: &str) {
        self.said = Some(format!("This cannot be tried: {problem}."));
    }
}

/// Where the list stands, and where the panel is drawn that has no pane of its own.
pub(super) fn areas(state: &State) -> (Rect, Rect) {
    let (copy, areas) = (state.areas().copy, state.areas());
    if !areas.panel.is_empty() {
        return (pages::strip(state).map_or(copy, pages::list_in), Rect::default());
    }
    if copy.width < BOTH {
        return (copy, Rect::default());
    }
    let picture = Rect { x: copy.x + LIST + 1, width: copy.width.saturating_sub(LIST + 2), ..copy };
    (Rect { width: LIST, ..copy }, picture)
}

/// Draws the list, and the panel where it has no pane of its own.
pub(super) fn draw(state: &State, sheet: &DraftSheet, at: usize, buffer: &mut Buffer) {
    let (list, panel) = areas(state);
    let marked = sheet.now.line_at(sheet.editor.cursor());
    picture::draw(&sheet.now.drawing, marked, &state.theme, panel, buffer);
    let own = state.own.written_panel().values();
    let values = state.values();
    let rows = values.iter().enumerate().skip(pages::first_shown(at, list));
    for ((number, value), y) in rows.zip(list.top()..list.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, list.x + 1, y, sign, state.theme.accent, list);
        let style = if chosen { state.theme.strong } else { Style::new() };
        put(buffer, list.x + 3, y, &visible(&value.name), style, Rect { width: NAME + 2, ..list });
        put(buffer, list.x + NAME, y, &visible(&value.value), style, list);
        let before = own.iter().find(|before| before.name == value.name && before.value != value.value);
        if let Some(before) = before {
            // Where there is no room for the brief's own value a star says that there is another.
            let words = format!("brief: {}", visible(&before.value));
            let has_room = list.width >= NAME + VALUE + 2 + crate::editor::graphemes::cells(&words) as u16;
            let (x, words) = if has_room { (list.x + NAME + VALUE, words.as_str()) } else { (list.x + NAME - 2, "*") };
            put(buffer, x, y, words, state.theme.faint, list);
        }
    }
}
