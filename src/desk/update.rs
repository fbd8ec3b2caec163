//! The update: one event changes the state, and the door is asked for the effects.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

use super::event::{Effect, Event};
use super::keys::{self, Command};
use super::mode::{Mode, Prompt};
use super::papers::DraftId;
use super::sheet::DraftSheet;
use super::state::{State, Writing};
use super::writing::action;
use crate::briefing::rewrite::ValueChange;
use crate::editor::{Action, Editor};
use crate::print::visible::visible;

/// Applies one event to the state, and returns the effects that the door is asked to perform.
pub fn update(state: &mut State, event: Event) -> Vec<Effect> {
    let mut effects = happened(state, event);
    effects.extend(state.take_waiting_brief());
    state.offer_brief();
    effects
}

fn happened(state: &mut State, event: Event) -> Vec<Effect> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => state.key(key),
        Event::Key(_) => Vec::new(),
        Event::Typed(words) => state.typed(&words),
        Event::Paste(words) => state.pasted(words),
        Event::Click(target, presses) => state.click(target, presses),
        Event::Drag(to) => {
            state.drag(to);
            Vec::new()
        }
        Event::DragBox(x, y) => {
            state.drag_box((x, y));
            Vec::new()
        }
        Event::Wheel(turn, over) => state.wheel(turn, over),
        Event::Resize(columns, rows) => {
            state.size = (columns, rows);
            Vec::new()
        }
        Event::Pause => state.autosave(),
        Event::Done(outcome) => state.done(outcome),
    }
}

/// Brings everything that is shown up to date before drawing.
pub fn settle(state: &mut State) {
    state.compare_again();
    state.read_answers_again();
    state.lay_page_out();
    let areas = state.areas();
    // A long message stands over the last rows of the copy, where the cursor would be out of sight.
    let said =
        state.said.as_deref().map_or(1, |said| areas.message(&visible(said), &state.mode, areas.foot.y).0.height);
    let height = areas.copy_in_sight(&state.mode).height.min(areas.copy.height.saturating_sub(said.saturating_sub(1)));
    let height = usize::from(height);
    if let Some(sheet) = state.sheet_mut() {
        sheet.follow(height);
    }
}

impl State {
    /// Handles a key in the current mode.
    pub(super) fn key(&mut self, key: KeyEvent) -> Vec<Effect> {
        (self.said, self.held, self.awaits_quiet_room) = (None, None, false);
        if let Some(sheet) = self.sheet_mut() {
            sheet.shown_words = None;
        }
        match std::mem::take(&mut self.mode) {
            Mode::Writing => self.key_in_writing(key),
            Mode::Letter => match key.code {
                KeyCode::Esc => Vec::new(),
                KeyCode::Char(letter) if (key.modifiers - KeyModifiers::SHIFT).is_empty() => {
                    keys::lettered(letter).map_or_else(Vec::new, |command| self.command(command))
                }
                // Alt with Enter that is sent slowly comes as Escape and then Enter.
                KeyCode::Enter => self.command(Command::VerseLine),
                _ => self.key_in_writing(key),
            },
            mode => self.key_in(mode, key),
        }
    }

    fn key_in_writing(&mut self, key: KeyEvent) -> Vec<Effect> {
        if let Some(command) = keys::pressed(key) {
            return self.command(command);
        }
        // Terminals send Escape and a letter in quick succession as that letter with Alt.
        let letter = match key.code {
            KeyCode::Char(letter) if key.modifiers - KeyModifiers::SHIFT == KeyModifiers::ALT => Some(letter),
            _ => None,
        };
        if let Some(command) = letter.and_then(keys::lettered) {
            return self.command(command);
        }
        if key.code == KeyCode::Esc {
            self.mode = Mode::Letter;
        } else if let Some(action) = action(key, self.page()) {
            self.act(action);
        }
        Vec::new()
    }

    fn typed(&mut self, words: &str) -> Vec<Effect> {
        match &mut self.mode {
            Mode::Writing => {
                self.said = None;
                self.act(Action::Insert(words.to_owned()));
                Vec::new()
            }
            Mode::Prompt(_, line) => {
                line.apply(Action::Insert(words.to_owned()), &[]);
                Vec::new()
            }
            Mode::Answers(_) => {
                self.said = None;
                self.put_in_answer(Action::Insert(words.to_owned()));
                Vec::new()
            }
            _ => words.chars().flat_map(|letter| self.key(KeyEvent::from(KeyCode::Char(letter)))).collect(),
        }
    }

    fn pasted(&mut self, words: String) -> Vec<Effect> {
        match &mut self.mode {
            Mode::Writing => self.act(Action::Paste(words)),
            Mode::Answers(_) => self.put_in_answer(Action::Paste(words)),
            Mode::Prompt(_, line) => line.apply(Action::Paste(words.replace(['\r', '\n'], " ")), &[]),
            Mode::Mending(text) => text.editor.apply(Action::Paste(words), &[]),
            _ => {}
        }
        Vec::new()
    }

    /// Copies the selection, and removes it for the command to cut.
    pub(super) fn copy_or_cut(&mut self, command: Command) -> Vec<Effect> {
        let Some(words) = self.copy() else {
            self.said = Some("Nothing is selected. Ctrl-Q leaves.".to_owned());
            return Vec::new();
        };
        if command == Command::Cut {
            self.act(Action::Cut);
        }
        vec![Effect::Copy { words }]
    }

    /// Asks for a line of input, with `given` as its first text.
    pub(super) fn ask(&mut self, prompt: Prompt, given: &str) {
        let mut line = Editor::new(given.to_owned());
        line.apply(Action::SelectAll, &[]);
        self.mode = Mode::Prompt(prompt, line);
    }

    /// Asks for a line of input that goes on with the words `given`: the cursor stands behind them.
    pub(super) fn ask_on(&mut self, prompt: Prompt, given: &str) {
        let mut line = Editor::new(given.to_owned());
        line.apply(Action::PlaceCursor(given.len()), &[]);
        self.mode = Mode::Prompt(prompt, line);
    }

    /// Looks for the words that were looked for last, from the cursor on.
    pub(super) fn find(&mut self) {
        if self.sought.is_empty() {
            return self.ask(Prompt::Find, "");
        }
        let sought = self.sought.clone();
        let Some(sheet) = self.sheet_mut() else { return };
        match sheet.editor.find(&sought, sheet.editor.cursor()) {
            Some(found) => {
                sheet.editor.apply(Action::PlaceCursor(found.end), &[]);
                sheet.shown_words = Some(found);
                sheet.scrolled_away = false;
            }
            None => self.said = Some(format!("\"{sought}\" is not in the draft.")),
        }
    }

    /// Asks for a draft to be saved.
    pub(super) fn save(&mut self, draft: DraftId) -> Vec<Effect> {
        if self.writing == Writing::Nowhere {
            self.said = Some(
                "This is the sample: nothing is written. `blurbwright` in an empty folder begins a book of your own."
                    .to_owned(),
            );
            return Vec::new();
        }
        let Some(content) = self.content(draft) else {
            self.said = Some("This draft is not open: nothing of it is unsaved.".to_owned());
            return Vec::new();
        };
        vec![Effect::Save { draft, content }]
    }

    /// Leaves the desk, or asks first if something is unsaved.
    pub(super) fn leave(&mut self) -> Vec<Effect> {
        let is_written = || {
            self.changed().next().is_none() && self.unwritten_changes().is_empty() && self.unwritten_mending().is_none()
        };
        if self.writing == Writing::Nowhere || is_written() {
            return vec![Effect::Leave];
        }
        self.mode = Mode::Leaving;
        Vec::new()
    }

    /// Asks for all words to be written to recovery files that are neither saved nor there yet.
    pub(super) fn autosave(&self) -> Vec<Effect> {
        if self.writing == Writing::Nowhere {
            return Vec::new();
        }
        let brief = self
            .is_brief_at_risk()
            .then(|| Effect::AutosaveBrief { changes: self.unwritten_changes(), revision: self.trial.revision() });
        let mended = self
            .is_mending_at_risk()
            .then(|| Effect::AutosaveMended { text: self.unwritten_mending().map(str::to_owned) });
        let autosave = self.sheets_at_risk().map(|(draft, sheet)| Effect::Autosave {
            draft,
            text: sheet.editor.text().to_owned(),
            revision: sheet.editor.revision(),
        });
        autosave.chain(brief).chain(mended).collect()
    }

    /// Whether something was typed, or changed of the brief, that is neither saved nor in a recovery file.
    pub fn is_at_risk(&self) -> bool {
        let is_typed = || self.sheets_at_risk().next().is_some();
        self.writing == Writing::Book && (is_typed() || self.is_brief_at_risk() || self.is_mending_at_risk())
    }

    /// Whether the brief's recovery file is not as it should be: changes are missing there, or are there for nothing.
    fn is_brief_at_risk(&self) -> bool {
        let (revision, has_some) = self.brief_kept;
        revision != self.trial.revision() && (has_some || !self.unwritten_changes().is_empty())
    }

    /// Whether the recovery file of a brief that is mended is not as it should be.
    fn is_mending_at_risk(&self) -> bool {
        self.unwritten_mending() != self.mended_kept.as_deref()
    }

    /// The open drafts whose recovery files are not as they should be. Of words that are as in the draft's file there
    /// is none, so one that is there from a moment before goes.
    fn sheets_at_risk(&self) -> impl Iterator<Item = (DraftId, &DraftSheet)> {
        let is_kept = |sheet: &DraftSheet| sheet.autosaved_revision.is_some();
        self.sheets().filter(move |(_, sheet)| sheet.is_at_risk() && (sheet.is_changed() || is_kept(sheet)))
    }

    /// What was changed and is tried of the brief, as changes of its file.
    pub(super) fn unwritten_changes(&self) -> Vec<ValueChange> {
        if self.has_more_than_brief() { self.trial.changes() } else { Vec::new() }
    }
}
