//! The mouse: what stands at a place of the screen, and what a press or a turn of the wheel there does.

use ratatui::crossterm::event::{KeyCode, KeyEvent, MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::{Position, Rect};

use super::details::DetailsPage;
use super::event::Effect;
use super::state::{Mode, State};
use super::{beside, foot, measures, pages, picture, queries, values};
use crate::editor::Action;

/// Lines of a page that one turn of the wheel moves.
const WHEEL: usize = 3;

impl State {
    /// What the mouse does.
    pub(super) fn mouse(&mut self, mouse: MouseEvent, presses: u8) -> Vec<Effect> {
        let at = Position { x: mouse.column, y: mouse.row };
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => return self.press(at, mouse, presses),
            MouseEventKind::ScrollUp => return self.wheel(KeyCode::Up, mouse),
            MouseEventKind::ScrollDown => return self.wheel(KeyCode::Down, mouse),
            MouseEventKind::Drag(_) if matches!(self.mode, Mode::Writing) => self.point(mouse, presses),
            _ => {}
        }
        Vec::new()
    }

    fn press(&mut self, at: Position, mouse: MouseEvent, presses: u8) -> Vec<Effect> {
        let areas = self.areas();
        if let Some(key) = foot::key_at(self, areas.foot, at) {
            return self.press_key(key);
        }
        if areas.foot.contains(at) {
            return Vec::new();
        }
        if self.mode.asks() || matches!(self.mode, Mode::Prompt(..)) {
            return Vec::new();
        }
        self.said = None;
        if let Some(sheet) = self.sheet_mut() {
            sheet.shown_words = None;
        }
        self.assess();
        if let Some(number) = self.item_at(at) {
            return self.choose(number, presses);
        }
        if matches!(self.mode, Mode::Beside(_)) {
            return Vec::new();
        }
        let Some(sheet) = self.sheet() else { return Vec::new() };
        if let Some(measure) = measures::at(self, sheet, areas.measures, at) {
            self.mode = DetailsPage::ALL.get(measure).map_or(Mode::Writing, |page| Mode::Details(*page, 0));
            return Vec::new();
        }
        if let Some(line) = self.panel().and_then(|area| picture::line_at(&sheet.now.drawing, area, at)) {
            return self.stand_in_line(line);
        }
        if pages::copy_in_sight(self, areas.copy).contains(at) && self.shows_copy() {
            // A letter was waited for, or a list stood below: with the press the author is back in the words.
            self.mode = Mode::Writing;
            self.point(mouse, presses);
        }
        Vec::new()
    }

    fn press_key(&mut self, key: KeyEvent) -> Vec<Effect> {
        super::update::update(self, super::Event::Key(key))
    }

    /// Whether the copy stands in its pane, and no page in its place.
    fn shows_copy(&self) -> bool {
        match self.mode {
            Mode::Writing | Mode::Letter | Mode::Queries(_) | Mode::Type => true,
            Mode::Values(_) => pages::strip(self).is_some(),
            _ => false,
        }
    }

    /// Where the panel is drawn.
    fn panel(&self) -> Option<Rect> {
        let areas = self.areas();
        match self.mode {
            Mode::Panel => Some(areas.copy),
            Mode::Values(_) if areas.panel.is_empty() => Some(values::areas(self).1),
            _ => Some(areas.panel),
        }
        .filter(|area| !area.is_empty())
    }

    /// Puts the cursor at the beginning of a printed line.
    fn stand_in_line(&mut self, line: usize) -> Vec<Effect> {
        let Some(sheet) = self.sheet_mut() else { return Vec::new() };
        let Some(set) = sheet.now.report.fit.lines.get(line).map(|line| &line.set) else { return Vec::new() };
        let start = sheet.now.span(set.paragraph, set.text.clone()).start;
        sheet.editor.apply(Action::PlaceCursor(start), &[]);
        sheet.loose = false;
        Vec::new()
    }

    /// The item of a list at a place of the screen, by its number.
    fn item_at(&self, at: Position) -> Option<usize> {
        let areas = self.areas();
        let sheet = self.sheet()?;
        let in_rows = |list: Rect, in_hand: usize, count: usize| {
            let row = usize::from(at.y.checked_sub(list.y).filter(|_| list.contains(at))?);
            Some(pages::first_shown(in_hand, list) + row).filter(|number| *number < count)
        };
        match &self.mode {
            Mode::Drafts(in_hand) => in_rows(areas.copy, *in_hand, self.drafts.len()),
            Mode::Values(in_hand) => in_rows(values::areas(self).0, *in_hand, self.values().len()),
            Mode::Beside(other) => beside::change_at(self, sheet, other, &areas, at),
            _ => {
                let list = pages::strip(self).map_or(areas.queries, pages::list_in);
                queries::number_at(self, sheet, list, at)
            }
        }
    }

    /// Takes an item of a list in hand; pressed twice, or again where it is in hand, it is opened.
    fn choose(&mut self, number: usize, presses: u8) -> Vec<Effect> {
        let opens = |in_hand: usize| presses > 1 || in_hand == number;
        match &mut self.mode {
            Mode::Drafts(in_hand) | Mode::Values(in_hand) => {
                let opens = opens(*in_hand);
                *in_hand = number;
                return if opens { self.press_key(KeyCode::Enter.into()) } else { Vec::new() };
            }
            Mode::Beside(other) => other.at = number,
            _ => self.walk(number),
        }
        Vec::new()
    }

    /// A turn of the wheel moves through the list or the page that is under it, or else the copy.
    fn wheel(&mut self, key: KeyCode, mouse: MouseEvent) -> Vec<Effect> {
        let at = Position { x: mouse.column, y: mouse.row };
        let list = pages::strip(self).map(pages::list_in);
        let times = match &self.mode {
            Mode::Keys(_) | Mode::Details(..) | Mode::Recovered(..) => WHEEL,
            Mode::Drafts(_) | Mode::Beside(_) => 1,
            Mode::Values(_) | Mode::Queries(_) if list.is_none_or(|list| list.contains(at)) => 1,
            Mode::Prompt(..) | Mode::Panel | Mode::Leaving | Mode::Outside => 0,
            _ => {
                self.point(mouse, 1);
                0
            }
        };
        (0..times).flat_map(|_| self.press_key(key.into())).collect()
    }
}
