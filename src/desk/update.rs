//! The update: one event makes the next state, and asks the door for what has to be done in the world.

use std::path::Path;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

use super::event::{Effect, Event, Outcome};
use super::keys::{self, Command};
use super::pages;
use super::rows::Wrapping;
use super::sheet::{DraftSheet, file_name};
use super::state::{DraftOrigin, Mode, Paper, Prompt, State, Writing};
use super::writing::action;
use crate::brief::stet::Stood;
use crate::editor::{Action, Editor};

/// No revision of a text: under another name words have to be kept again.
const NOT_KEPT: u64 = u64::MAX;

/// Takes one event.
pub fn update(state: &mut State, event: Event) -> Vec<Effect> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => state.key(key),
        Event::Key(_) => Vec::new(),
        Event::Typed(words) => state.typed(&words),
        Event::Paste(words) => state.pasted(words),
        Event::Mouse(mouse, presses) => state.mouse(mouse, presses),
        Event::Resize(columns, rows) => {
            state.size = (columns, rows);
            Vec::new()
        }
        Event::Pause => state.keep(),
        Event::Done(outcome) => state.done(outcome),
    }
}

/// Brings everything that is shown up to date, before it is drawn.
pub fn settle(state: &mut State) {
    state.assess();
    pages::hold(state);
    let height = usize::from(pages::copy_in_sight(state, state.areas().copy).height);
    if let Some(sheet) = state.sheet_mut() {
        sheet.follow(height);
    }
}

impl State {
    fn key(&mut self, key: KeyEvent) -> Vec<Effect> {
        self.said = None;
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
                _ => self.key_in_writing(key),
            },
            mode => self.key_in(mode, key),
        }
    }

    fn key_in_writing(&mut self, key: KeyEvent) -> Vec<Effect> {
        if let Some(command) = keys::pressed(key) {
            return self.command(command);
        }
        // Escape and a letter in quick succession come as the letter with Alt.
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
            _ => words.chars().flat_map(|letter| self.key(KeyEvent::from(KeyCode::Char(letter)))).collect(),
        }
    }

    fn pasted(&mut self, words: String) -> Vec<Effect> {
        match &mut self.mode {
            Mode::Writing => self.act(Action::Paste(words)),
            Mode::Prompt(_, line) => line.apply(Action::Paste(words.replace(['\r', '\n'], " ")), &[]),
            _ => {}
        }
        Vec::new()
    }

    /// Does what a command asks for.
    pub(super) fn command(&mut self, command: Command) -> Vec<Effect> {
        match command {
            Command::Save => return self.save(self.front),
            Command::Leave => return self.leave(),
            Command::Suspend => return vec![Effect::Suspend],
            Command::Undo => self.act(Action::Undo),
            Command::Redo => self.act(Action::Redo),
            Command::SelectAll => self.act(Action::SelectAll),
            Command::Copy | Command::Cut => return self.take(command),
            Command::Paste => self.act(Action::Paste(self.clipboard.clone())),
            Command::Find => self.ask(Prompt::Find, &self.sought.clone()),
            Command::FindNext => self.find(),
            Command::SaveAs => self.ask_name(Prompt::SaveAs),
            Command::Proof => self.ask_name(Prompt::Proof),
            Command::Wrapping => {
                self.wrapping = match self.wrapping {
                    Wrapping::AsSet => Wrapping::Plain,
                    Wrapping::Plain => Wrapping::AsSet,
                };
            }
            Command::Marks => {
                self.marked = self.marked.next();
                self.said = Some(format!("Marked in the text: {}.", self.marked.name()));
            }
            Command::Keys => self.mode = Mode::Keys(0),
            Command::Panel => self.mode = Mode::Panel,
            Command::Details => self.mode = Mode::Details(super::details::DetailsPage::Length, 0),
            Command::Queries => self.walk(0),
            Command::Type => self.mode = Mode::Type,
            Command::Drafts => self.mode = Mode::Drafts(self.front),
            Command::Beside => return self.look_beside(self.front, 1),
        }
        Vec::new()
    }

    fn take(&mut self, command: Command) -> Vec<Effect> {
        let Some(words) = self.copy() else {
            self.said = Some("Nothing is selected. Ctrl-Q leaves.".to_owned());
            return Vec::new();
        };
        if command == Command::Cut {
            self.act(Action::Cut);
        }
        vec![Effect::Copy(words)]
    }

    /// Asks for a line.
    pub(super) fn ask(&mut self, prompt: Prompt, given: &str) {
        let mut line = Editor::new(given.to_owned());
        line.apply(Action::SelectAll, &[]);
        self.mode = Mode::Prompt(prompt, line);
    }

    /// Looks for what was looked for last, from the cursor on.
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
                sheet.loose = false;
            }
            None => self.said = Some(format!("\"{sought}\" is not in the draft.")),
        }
    }

    /// Has the draft at a place of the list saved.
    pub(super) fn save(&mut self, at: usize) -> Vec<Effect> {
        if self.writing == Writing::Nowhere {
            self.said = Some(
                "This is the sample: nothing is written. A book of your own begins with `blurbwright start`."
                    .to_owned(),
            );
            return Vec::new();
        }
        if self.drafts.get(at).is_none_or(|paper| paper.sheet.is_none()) {
            self.said = Some("This draft is not open: nothing of it is unsaved.".to_owned());
            return Vec::new();
        }
        vec![Effect::Save(at)]
    }

    /// Leaves, or asks first.
    pub(super) fn leave(&mut self) -> Vec<Effect> {
        if self.writing == Writing::Nowhere || self.changed().next().is_none() {
            return vec![Effect::Leave];
        }
        self.mode = Mode::Leaving;
        Vec::new()
    }

    /// Has everything kept that is not saved and was not kept yet.
    fn keep(&mut self) -> Vec<Effect> {
        if self.writing == Writing::Nowhere {
            return Vec::new();
        }
        self.changed().filter(|(_, sheet)| sheet.is_at_risk()).map(|(at, _)| Effect::Keep(at)).collect()
    }

    /// Whether something was typed that is neither saved nor kept.
    pub fn is_at_risk(&self) -> bool {
        self.writing == Writing::Book && self.changed().any(|(_, sheet)| sheet.is_at_risk())
    }

    fn done(&mut self, outcome: Outcome) -> Vec<Effect> {
        match outcome {
            Outcome::Saved(path, text) => {
                self.said = Some(format!("Saved {}.", path.display()));
                if let Some(sheet) = self.sheet_of(&path) {
                    sheet.saved = text;
                }
            }
            Outcome::Kept(path, revision) => {
                if let Some(sheet) = self.sheet_of(&path) {
                    sheet.kept = revision;
                }
            }
            Outcome::Opened(path, text, said) => self.opened(path, text, &said),
            Outcome::Elsewhere(path) => {
                for paper in self.drafts.iter_mut().filter(|paper| paper.path == path) {
                    paper.origin = DraftOrigin::Elsewhere;
                }
            }
            Outcome::NotOpened(why) => {
                self.ask(Prompt::Open, &self.path_asked.clone());
                self.said = Some(why);
            }
            Outcome::InFront(path) => self.front = self.place_of(&path),
            Outcome::LookedAt(path, text) => self.set_beside(path, &text),
            Outcome::Reread(path, text) => {
                if let Some(sheet) = self.sheet_of(&path) {
                    let cursor = sheet.editor.cursor();
                    sheet.editor.apply(Action::SelectAll, &[]);
                    sheet.editor.apply(Action::Paste(text.clone()), &[]);
                    sheet.editor.apply(Action::PlaceCursor(cursor.min(text.len())), &[]);
                    sheet.saved = text;
                }
                self.said = Some(format!("Another program has written {}; this is what it wrote.", path.display()));
            }
            Outcome::Priced(path, revision, tighten) => {
                if let Some(sheet) = self.sheet_of(&path) {
                    sheet.tighten = Some((revision, tighten));
                }
            }
            Outcome::Standing(path, stood) => self.stands(&path, stood),
            Outcome::KeptWords(path) => self.set_kept_words(self.place_of(&path), true),
            Outcome::Recovered(path, words) => {
                self.front = self.place_of(&path);
                self.set_kept_words(self.front, true);
                self.mode = Mode::Recovered(words, 0);
            }
            Outcome::Renamed(from, to) => self.renamed(&from, &to),
            Outcome::BriefWritten(brief, faces) => {
                (self.own, self.faces) = (*brief, std::sync::Arc::new(faces));
                self.try_type(super::tried::Tried::default());
                self.said = Some("What you tried is written to the brief.".to_owned());
            }
            Outcome::ChangedOutside(path) => {
                self.front = self.place_of(&path);
                self.mode = Mode::Outside;
            }
            Outcome::PutAway(path) => {
                for paper in self.drafts.iter_mut().filter(|paper| paper.path == path) {
                    paper.sheet = None;
                }
            }
            Outcome::Said(words) | Outcome::Failed(words) => self.said = (!words.is_empty()).then_some(words),
        }
        Vec::new()
    }

    /// What stands in a draft is written.
    fn stands(&mut self, path: &Path, stood: Vec<Stood>) {
        let name = file_name(path);
        self.stet.change(&name, &self.stet.of(&name), &stood);
        if let Some(sheet) = self.sheet_of(path) {
            sheet.saved_stood = stood;
        }
    }

    /// A draft has another name, and what stands in it goes with it.
    fn renamed(&mut self, from: &Path, to: &Path) {
        for paper in self.drafts.iter_mut().filter(|paper| paper.path == from) {
            paper.path = to.to_path_buf();
            if let Some(sheet) = &mut paper.sheet {
                sheet.path = to.to_path_buf();
                sheet.kept = NOT_KEPT;
            }
        }
        let (from, to) = (file_name(from), file_name(to));
        let stood = self.stet.of(&from);
        self.stet.change(&from, &stood, &[]);
        self.stet.change(&to, &[], &stood);
        self.said = Some(format!("{from} is {to} now."));
    }

    fn sheet_of(&mut self, path: &std::path::Path) -> Option<&mut DraftSheet> {
        self.drafts.iter_mut().filter_map(|paper| paper.sheet.as_mut()).find(|sheet| sheet.path == path)
    }

    fn place_of(&self, path: &std::path::Path) -> usize {
        self.drafts.iter().position(|paper| paper.path == path).unwrap_or(self.front)
    }

    fn opened(&mut self, path: std::path::PathBuf, text: String, said: &[String]) {
        let sheet = DraftSheet::new(path.clone(), text, (&self.brief, &self.stet), &self.faces);
        match self.drafts.iter().position(|paper| paper.path == path) {
            Some(at) => self.front = at,
            None => {
                self.front = self.drafts.partition_point(|paper| paper.path < path);
                self.drafts.insert(self.front, Paper::new(path));
            }
        }
        self.drafts[self.front].sheet = Some(sheet);
        self.said = (!said.is_empty()).then(|| said.join(" "));
    }
}
