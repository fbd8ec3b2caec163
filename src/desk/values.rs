//! Trying another panel, value by value.

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::{Mode, Prompt};
use super::state::State;
use super::trial::Tried;
use crate::brief::panel_values::PanelValue;

impl State {
    /// A key while another panel is tried, with value `at` selected.
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
                let tried = Tried { panel: None, ..self.tried().clone() };
                self.try_type(tried);
            }
            KeyCode::Char('t') | KeyCode::F(7) => self.mode = Mode::Type,
            KeyCode::F(4) => self.mode = Mode::Writing,
            _ => {}
        }
        Vec::new()
    }

    /// The values of the tried panel that can be changed.
    pub fn values(&self) -> Vec<PanelValue> {
        self.tried().panel(self.own_brief()).values()
    }

    fn step_value(&mut self, value: &PanelValue, steps: i32) {
        let mut tried = self.tried().clone();
        match tried.step_panel(value, steps, self.own_brief()) {
            Ok(()) => self.try_type(tried),
            Err(problem) => self.refuse(&problem),
        }
    }

    /// Tries a value as it was typed.
    pub(super) fn type_value(&mut self, at: usize, text: &str) {
        self.mode = Mode::Values(at);
        let mut tried = self.tried().clone();
        let Some(value) = self.values().into_iter().nth(at).filter(|_| !text.is_empty()) else { return };
        match tried.type_panel(&value, text, self.own_brief()) {
            Ok(()) => self.try_type(tried),
            Err(problem) => self.refuse(&problem),
        }
    }

    fn refuse(&mut self, problem: &str) {
        self.said = Some(format!("This cannot be tried: {problem}."));
    }
}
