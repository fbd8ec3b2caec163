//! Trying another panel, other flaps and another spine, value by value, and their boxes by the mouse.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::event::{Effect, Grip};
use super::keys::Command;
use super::mode::{Mode, Prompt};
use super::state::{HeldBox, State};
use crate::brief::box_values::PanelBox;
use crate::brief::panel_values::{BoxId, CoverPart, PanelValue, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::report::places::FitPlace;
use crate::trial::Tried;
use crate::units::{Length, Rect};

/// How many steps a coarse step is.
const COARSE: i32 = 4;

impl State {
    /// A key while another panel is tried, with value `at` selected.
    pub(super) fn key_in_values(&mut self, at: usize, key: KeyEvent) -> Vec<Effect> {
        let values = self.values();
        let last = values.len().saturating_sub(1);
        let at = at.min(last);
        self.mode = Mode::Values(at);
        let Some(value) = values.get(at) else { return Vec::new() };
        let coarse = if key.modifiers.contains(KeyModifiers::SHIFT) { COARSE } else { 1 };
        match key.code {
            KeyCode::Up => self.mode = Mode::Values(at.saturating_sub(1)),
            KeyCode::Down | KeyCode::Tab => self.mode = Mode::Values((at + 1).min(last)),
            KeyCode::Home => self.mode = Mode::Values(0),
            KeyCode::End => self.mode = Mode::Values(last),
            KeyCode::PageDown => self.mode = Mode::Values(next_part(&values, at).unwrap_or(last)),
            KeyCode::PageUp => self.mode = Mode::Values(part_before(&values, at)),
            KeyCode::Right | KeyCode::Char('+') => self.step_value(value, coarse),
            KeyCode::Left | KeyCode::Char('-') => self.step_value(value, -coarse),
            KeyCode::Char('>') => self.step_value(value, COARSE),
            KeyCode::Char('<') => self.step_value(value, -COARSE),
            KeyCode::Enter if value.is_choice() => self.step_value(value, 1),
            // A figure is typed over; words are gone on with.
            KeyCode::Enter if value.value.starts_with(|c: char| c.is_ascii_digit()) => {
                self.ask(Prompt::Value(at), &value.value);
            }
            KeyCode::Enter => self.ask_on(Prompt::Value(at), &value.value),
            KeyCode::Char('w') => return self.write_brief(),
            KeyCode::Char('b') => self.try_step(Tried { panel: None, ..self.tried().clone() }),
            KeyCode::Char('a') => self.ask_for_box(),
            KeyCode::Char('q') => self.take_quiet_room(),
            KeyCode::Char('x') | KeyCode::Delete => self.take_box_away(value.of),
            KeyCode::Char('u') => self.take_trial_back(),
            KeyCode::Char('f') => self.take_next_part(),
            KeyCode::Char('t') | KeyCode::F(7) => self.mode = Mode::Type,
            KeyCode::F(4) => self.mode = Mode::Writing,
            _ => {}
        }
        Vec::new()
    }

    /// The panel with what is tried, and the part of the cover that is in hand.
    pub fn panel_tried(&self) -> WrittenPanel {
        self.trial.panel()
    }

    /// The values of the part of the cover in hand that can be changed.
    pub fn values(&self) -> Vec<PanelValue> {
        self.panel_tried().values()
    }

    /// The box whose value is in hand while another panel is tried.
    pub fn box_in_hand(&self) -> Option<PanelBox> {
        let id = self.values().get(self.mode.value_in_hand()?)?.of?;
        self.panel_tried().box_of(id)
    }

    /// Opens the values of the face on which the cursor's copy stands, at the first value of its place; those of the
    /// panel where it stands in the live area.
    pub(super) fn open_values(&mut self) {
        let place = self.place_at_cursor().map(|place| (place.name.clone(), place.face));
        self.trial.set_part(CoverPart::Face(place.as_ref().map_or(CoverFace::Panel, |(_, face)| *face)));
        let boxes = self.panel_tried().boxes();
        let found = place.and_then(|(name, _)| boxes.into_iter().find(|found| found.name == name));
        self.mode = Mode::Values(found.map_or(0, |found| self.first_value_of(found.id)));
    }

    /// The place in which the cursor's copy stands.
    fn place_at_cursor(&self) -> Option<&FitPlace> {
        let sheet = self.sheet()?;
        let fit = &sheet.now.report.fit;
        fit.places.get(fit.lines.get(sheet.line_at_cursor()?)?.set.place)
    }

    /// The number of a box's first value; 0 where the box has none.
    pub(super) fn first_value_of(&self, id: BoxId) -> usize {
        self.values().iter().position(|value| value.of == Some(id)).unwrap_or(0)
    }

    /// Takes the next part of the cover in hand.
    fn take_next_part(&mut self) {
        let (parts, part) = (self.panel_tried().parts(), self.trial.part());
        let at = parts.iter().position(|known| *known == part).map_or(0, |at| at + 1);
        let next = parts[at % parts.len()];
        if next == part {
            let key = self.key_name(Command::Book);
            self.said =
                Some(format!("The brief has no flap and no spine: {key} begins one, under \"Flaps and spine\"."));
            return;
        }
        self.trial.set_part(next);
        self.mode = Mode::Values(0);
        self.said = Some(format!("These are the values of the {}.", next.name()));
    }

    fn step_value(&mut self, value: &PanelValue, steps: i32) {
        let steps = if value.is_choice() { steps.signum() } else { steps };
        self.change_value(value, self.panel_tried().stepped(value, steps));
    }

    /// Tries a value as it was typed, and asks again with what was typed where it cannot be tried.
    pub(super) fn type_value(&mut self, at: usize, text: &str) {
        self.mode = Mode::Values(at);
        let Some(value) = self.values().into_iter().nth(at).filter(|_| !text.is_empty()) else { return };
        if !self.change_value(&value, self.panel_tried().typed(&value, text)) {
            self.ask_on(Prompt::Value(at), text);
        }
    }

    /// Tries a panel with another value, and tells where a box is no longer given by another. Returns whether it is
    /// tried.
    fn change_value(&mut self, value: &PanelValue, panel: Result<WrittenPanel, String>) -> bool {
        let relation = value.of.and_then(|id| self.panel_tried().relation(id));
        let is_tried = self.try_panel(panel);
        if is_tried {
            self.tell_of_edges(value.of, relation);
        }
        // A shape or columns bring values of their own, and take them away again.
        let values = self.values();
        if let (Mode::Values(at), Some(found)) = (&mut self.mode, values.iter().position(|it| it.name == value.name)) {
            *at = found;
        }
        is_tried
    }

    /// Tells where a place stood by another and now has edges of its own.
    fn tell_of_edges(&mut self, id: Option<BoxId>, relation: Option<String>) {
        let Some(found) = id.and_then(|id| self.panel_tried().box_of(id)) else { return };
        if let Some(relation) = relation.filter(|_| self.panel_tried().relation(found.id).is_none()) {
            self.said = Some(format!("{} has edges of its own now and no longer stands {relation}.", found.name));
        }
    }

    /// Tries another panel, as a step that can be taken back; says why where it cannot be, and returns whether it is
    /// tried.
    pub(super) fn try_panel(&mut self, panel: Result<WrittenPanel, String>) -> bool {
        let mut tried = self.tried().clone();
        let set = panel.and_then(|panel| tried.set_panel(panel, self.own_brief()));
        if let Err(problem) = set {
            self.said = Some(format!("This cannot be tried: {problem}."));
            return false;
        }
        self.try_step(tried);
        true
    }

    fn take_box_away(&mut self, id: Option<BoxId>) {
        let Some(found) = id.and_then(|id| self.panel_tried().box_of(id)) else {
            self.said = Some("Only a place or a keep-out is taken away: choose a value of it first.".to_owned());
            return;
        };
        if self.try_panel(self.panel_tried().without_box(found.id)) {
            let last = self.values().len().saturating_sub(1);
            if let Mode::Values(at) = &mut self.mode {
                *at = (*at).min(last);
            }
            self.said = Some(format!("{} is taken away; u brings it back.", found.name));
        }
    }

    /// Takes hold of a box on the face in hand, and selects its first value.
    pub(super) fn grip_box(&mut self, id: BoxId, grip: Grip, from: (Length, Length)) {
        let before = self.panel_tried();
        let Some(mut found) = before.box_of(id) else { return };
        // A place that follows another begins where that one's copy ends.
        let fit = self.sheet().map(|sheet| &sheet.now.report.fit);
        let set = fit.and_then(|fit| fit.places.iter().find(|place| place.name == found.name));
        if let Some(set) = set.filter(|_| before.relation(id).is_some_and(|words| words.starts_with("follows"))) {
            let foot = found.rect.foot();
            found.rect = Rect { y: set.live.y, height: foot - set.live.y, ..found.rect };
        }
        self.mode = Mode::Values(self.first_value_of(id));
        self.held = Some(HeldBox { grip, found, from, before, is_moved: false });
    }

    /// Whether the mouse holds a box.
    pub fn holds_box(&self) -> bool {
        self.held.is_some()
    }

    /// Moves or sizes the box that the mouse holds. All of one pull is one step that can be taken back.
    pub(super) fn drag_box(&mut self, (x, y): (Length, Length)) {
        let Some(held) = self.held.clone() else { return };
        let HeldBox { grip, found, from, before, is_moved } = &held;
        let (across, down) = (before.rounded(x - from.0), before.rounded(y - from.1));
        let Rect { x: left, y: head, width, height } = found.rect;
        let (right, foot) = (found.rect.right(), found.rect.foot());
        let rect = match grip {
            Grip::Whole => Rect { x: left + across, y: head + down, width, height },
            Grip::Corner { head: at_head, left: at_left } => {
                let (left, right) = if *at_left { (left + across, right) } else { (left, right + across) };
                let (head, foot) = if *at_head { (head + down, foot) } else { (head, foot + down) };
                Rect { x: left, y: head, width: right - left, height: foot - head }
            }
        };
        self.said = None;
        if rect.width <= Length::ZERO || rect.height <= Length::ZERO {
            return;
        }
        let panel = if rect == found.rect { Ok(before.clone()) } else { before.with_box(found.id, rect) };
        let mut tried = self.tried().clone();
        match panel.and_then(|panel| tried.set_panel(panel, self.own_brief())) {
            Err(problem) => self.said = Some(format!("This cannot be tried: {problem}.")),
            Ok(()) if tried.panel == self.tried().panel => {}
            Ok(()) => {
                if *is_moved {
                    self.try_on(tried);
                } else {
                    self.try_step(tried);
                }
                self.tell_of_edges(Some(found.id), before.relation(found.id));
                self.held = Some(HeldBox { is_moved: true, ..held });
            }
        }
    }
}

/// The first value of the part of the panel behind that of a value: the panel itself, a keep-out, a place.
fn next_part(values: &[PanelValue], at: usize) -> Option<usize> {
    (at..values.len()).find(|next| values[*next].of != values[at].of)
}

/// The first value of the part that a value is in, or of the part before, where it is that already.
fn part_before(values: &[PanelValue], at: usize) -> usize {
    let from = at.saturating_sub(1);
    (0..=from).rev().take_while(|before| values[*before].of == values[from].of).last().unwrap_or(0)
}
