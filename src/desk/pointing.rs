//! The mouse: what a click, a drag or a turn of the wheel does.

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::event::{Effect, Target, Turn};
use super::mode::{Mode, NewBox, ReadPage, WordPage};
use super::papers::DraftRow;
use super::state::State;
use crate::editor::Action;

/// The number of lines of a page that one turn of the wheel moves.
const WHEEL: usize = 3;
/// The rows of two drafts that one turn of the wheel moves.
const WHEEL_BESIDE: isize = 3;

impl State {
    /// Handles a click; `presses` counts the clicks in a row at one place.
    pub(super) fn click(&mut self, target: Target, presses: u8) -> Vec<Effect> {
        if let Target::Key(key) = target {
            return self.key(key);
        }
        // A question has to be answered first, with a key.
        if self.mode.asks() || matches!(self.mode, Mode::Prompt(..)) {
            return Vec::new();
        }
        (self.said, self.held, self.awaits_quiet_room) = (None, None, false);
        if let Some(sheet) = self.sheet_mut() {
            sheet.shown_words = None;
        }
        self.assess();
        match target {
            Target::Query(number) => self.walk(number),
            Target::OtherWord(number) => return self.click_word(number, presses),
            Target::Draft(row) => return self.click_draft(row, presses),
            Target::Row(number) => return self.click_row(number, presses),
            Target::Value(number) => return self.click_value(number, presses),
            Target::Box(id, grip, at) => self.grip_box(id, grip, at),
            Target::Way(line) => {
                if let Mode::Keys(keys) = &self.mode
                    && let Some(way) = keys.way(line).cloned()
                {
                    return self.go(&way);
                }
            }
            Target::Answer(number) => {
                if let Mode::Inserting(in_hand) = self.mode {
                    self.mode = Mode::Inserting(number);
                    return self.enter_if(presses > 1 || in_hand == number);
                }
                if matches!(self.mode, Mode::Book(_)) {
                    return self.click_choice(number);
                }
                if let Mode::Adding(new) = self.mode {
                    let was_in_hand = new.at == number;
                    self.mode = Mode::Adding(NewBox { at: number, ..new });
                    return self.enter_if(presses > 1 || was_in_hand);
                }
            }
            Target::Question(number) => self.open_question(number),
            Target::Field(at) => self.stand_in_answer(at),
            Target::Difference(number) => {
                if let Mode::Beside(beside) = &mut self.mode {
                    beside.select(number);
                }
            }
            Target::Measure(page) => self.mode = Mode::Details(page, ReadPage::default()),
            Target::PanelLine(number) => self.stand_in_line(number),
            Target::Copy(at) => {
                // A click in the copy ends whatever the mode was: the author is back in the text.
                self.mode = Mode::Writing;
                self.act(if presses > 1 { Action::SelectWordAt(at) } else { Action::PlaceCursor(at) });
            }
            Target::Key(_) | Target::List | Target::Ground => {}
        }
        Vec::new()
    }

    /// Selects a draft or a copy; a double click, or a click on the one already selected, does what Enter does.
    fn click_draft(&mut self, row: DraftRow, presses: u8) -> Vec<Effect> {
        let Some(row) = self.papers.listed().iter().position(|known| *known == row) else { return Vec::new() };
        let was_in_hand = matches!(self.mode, Mode::Drafts(in_hand) if in_hand == row);
        self.mode = Mode::Drafts(row);
        self.enter_if(presses > 1 || was_in_hand)
    }

    /// Selects a value; a double click, or a click on the value already selected, edits it.
    fn click_value(&mut self, number: usize, presses: u8) -> Vec<Effect> {
        let was_in_hand = matches!(self.mode, Mode::Values(in_hand) if in_hand == number);
        self.mode = Mode::Values(number);
        self.enter_if(presses > 1 || was_in_hand)
    }

    /// Selects another word; a double click, or a click on the one already selected, puts it in.
    fn click_word(&mut self, number: usize, presses: u8) -> Vec<Effect> {
        let Mode::OtherWords(page) = std::mem::take(&mut self.mode) else { return Vec::new() };
        let was_in_hand = page.at == number;
        self.show_words(WordPage { at: number, ..*page });
        self.enter_if(presses > 1 || was_in_hand)
    }

    fn enter_if(&mut self, opens: bool) -> Vec<Effect> {
        if opens { self.key(KeyCode::Enter.into()) } else { Vec::new() }
    }

    /// Puts the cursor at the start of a printed line.
    fn stand_in_line(&mut self, line: usize) {
        let Some(sheet) = self.sheet_mut() else { return };
        let Some(set) = sheet.now.report.fit.lines.get(line).map(|line| &line.set) else { return };
        let start = sheet.now.span(set.paragraph, set.text.clone()).start;
        sheet.editor.apply(Action::PlaceCursor(start), &[]);
        sheet.scrolled_away = false;
    }

    /// Extends the selection to a byte of the copy, in the mode of writing only.
    pub(super) fn drag(&mut self, to: usize) {
        if matches!(self.mode, Mode::Writing) {
            self.act(Action::DragTo(to));
        }
    }

    /// Scrolls the list or the page under the mouse, or else the copy.
    pub(super) fn wheel(&mut self, turn: Turn, over: Option<Target>) -> Vec<Effect> {
        let is_over_list = matches!(
            over,
            Some(Target::Query(_) | Target::Value(_) | Target::Answer(_) | Target::OtherWord(_) | Target::List)
        );
        // A list below the copy moves only while the mouse is over it.
        let moves_list = self.areas().strip(&self.mode).is_none() || is_over_list;
        if let Mode::Beside(beside) = &mut self.mode {
            beside.scroll(if turn == Turn::Up { -WHEEL_BESIDE } else { WHEEL_BESIDE });
            return Vec::new();
        }
        let times = match &self.mode {
            mode if mode.page().is_some() => WHEEL,
            Mode::Drafts(_) | Mode::Book(_) => 1,
            Mode::Mending(_) => WHEEL,
            Mode::Values(_) | Mode::Adding(_) | Mode::Inserting(_) | Mode::Queries(_) | Mode::OtherWords(_)
                if moves_list =>
            {
                1
            }
            Mode::Prompt(..) | Mode::Leaving | Mode::Outside => 0,
            _ => {
                self.scroll(turn);
                0
            }
        };
        let key = KeyEvent::from(match turn {
            Turn::Up => KeyCode::Up,
            Turn::Down => KeyCode::Down,
        });
        (0..times).flat_map(|_| self.key(key)).collect()
    }
}
