//! Keys outside writing: lists, pages, lines of input, and questions before leaving.

use std::sync::Arc;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::event::Effect;
use super::hints::ways_to;
use super::keys::{self, Command, Way};
use super::mode::{BookPage, DetailsPage, KeysPage, LeftUnsaved, Mode, Prompt, ReadPage};
use super::rows::Wrapping;
use super::state::{State, Writing};
use super::writing::{MendStep, mend, mending_columns};
use crate::brief::limits::Measure;
use crate::editor::Action;
use crate::editor::mending::MendedText;
use crate::report::verdict::Subject;
use crate::trial::Tried;
use crate::units::Length;

/// How far one key changes the size and the leading, in points.
const STEP: f64 = 0.5;

impl State {
    /// Handles a key outside writing. The mode was taken out of the state, and is put back where the key keeps it.
    pub(super) fn key_in(&mut self, mut mode: Mode, key: KeyEvent) -> Vec<Effect> {
        if let Mode::Prompt(prompt, line) = mode {
            return self.key_in_prompt(prompt, line, key);
        }
        if let Mode::Answers(page) = mode {
            return self.key_in_answers(page, key);
        }
        if let Mode::Mending(text) = mode {
            return self.key_in_mending(text, key);
        }
        let asks = mode.asks();
        let pressed = keys::pressed(key);
        // Recovered words stay where they are, so Escape can leave their question unanswered. Of a new box Escape asks
        // the question before.
        let asks_before = matches!(&mode, Mode::Adding(_) | Mode::Book(BookPage { choosing: Some(_), .. }));
        if key.code == KeyCode::Esc && !asks_before {
            let words_wait = match mode {
                Mode::Recovered(LeftUnsaved::Words(_), _) => "The words stay kept: Ctrl-O and Enter offers them again.",
                Mode::Recovered(LeftUnsaved::Brief { .. }, _) => {
                    "The changes stay kept: they are offered again when you open the book again."
                }
                _ => "",
            };
            self.said = (!words_wait.is_empty()).then(|| words_wait.to_owned());
            return Vec::new();
        }
        if asks && pressed == Some(Command::Leave) {
            return self.leave();
        }
        if let (Mode::Drafts(at), Some(Command::Save)) = (&mode, pressed) {
            let draft = self.papers.listed().get(*at).map(|row| row.draft());
            self.mode = mode;
            return draft.map_or_else(Vec::new, |draft| self.save(draft));
        }
        // On the page of the brief the keys that change the draft would change what is not in sight.
        if let (Mode::Book(page), Some(Command::Undo | Command::SelectAll | Command::Cut | Command::Paste)) =
            (&mut mode, pressed)
            && key.modifiers.contains(KeyModifiers::CONTROL)
        {
            let code = if pressed == Some(Command::Undo) { KeyCode::Char('u') } else { KeyCode::Null };
            return self.key_in_book(std::mem::take(page), code);
        }
        // A command's own key works from any page, but not while a question is asked; so does that of the list of keys.
        if !asks
            && (key.modifiers.contains(KeyModifiers::CONTROL) || pressed == Some(Command::Keys))
            && let Some(command) = pressed
        {
            return self.command(command);
        }
        match mode {
            Mode::Details(measure, page) => self.key_in_details(measure, page, key.code),
            Mode::Queries(at) => return self.key_in_queries(at, key.code),
            Mode::OtherWords(page) => self.key_in_words(*page, key.code),
            Mode::Type => return self.key_in_type(key.code),
            Mode::Values(at) => return self.key_in_values(at, key),
            Mode::Adding(new) => self.key_in_adding(new, key.code),
            Mode::Book(page) => return self.key_in_book(page, key.code),
            Mode::Drafts(row) => return self.key_in_drafts(row, key.code),
            Mode::Keys(keys) => return self.key_in_keys(keys, key.code),
            Mode::Inserting(at) => self.key_in_inserting(at, key.code),
            Mode::Beside(beside) => return self.key_beside(beside, key.code),
            Mode::Leaving => return self.key_in_leaving(key.code),
            Mode::Outside => return self.key_in_outside(key.code),
            Mode::Recovered(words, page) => return self.key_in_recovered(words, page, key.code),
            Mode::Panel(_) if key.code == KeyCode::Enter => self.open_values(),
            // A page without keys of its own is scrolled by its keys and left by any other.
            mut mode => {
                if mode.page_mut().is_some_and(|page| page.scroll(key.code)) {
                    self.mode = mode;
                }
            }
        }
        Vec::new()
    }

    /// Does what a command asks for.
    pub(super) fn command(&mut self, command: Command) -> Vec<Effect> {
        match command {
            Command::Save => return self.save(self.front),
            Command::Leave => return self.leave(),
            Command::Suspend => return vec![Effect::Suspend],
            Command::VerseLine => self.end_verse_line(),
            Command::Undo => self.act(Action::Undo),
            Command::Redo => self.act(Action::Redo),
            Command::SelectAll => self.act(Action::SelectAll),
            Command::Copy | Command::Cut => return self.copy_or_cut(command),
            Command::Paste => self.act(Action::Paste(self.clipboard.clone())),
            Command::Typeset => self.typeset(),
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
            Command::Keys => self.mode = Mode::Keys(KeysPage::default()),
            Command::Insert => self.mode = Mode::Inserting(0),
            Command::Panel => self.mode = Mode::Panel(ReadPage::default()),
            Command::Details => self.mode = Mode::Details(self.first_outside(), ReadPage::default()),
            Command::Queries => self.walk(0),
            Command::Answers => self.open_answers(),
            Command::OtherWords => self.open_words(),
            Command::Type => self.mode = Mode::Type,
            Command::Book => {
                self.mode = match self.unread_brief.take() {
                    Some(text) => Mode::Mending(text),
                    None => Mode::Book(BookPage::default()),
                };
            }
            Command::Drafts => return self.open_drafts(),
            Command::Beside => return self.look_beside(self.front, 1),
        }
        Vec::new()
    }

    /// The first measure that is outside its limit, or else the first of all.
    fn first_outside(&mut self) -> DetailsPage {
        self.assess();
        let Some(sheet) = self.sheet() else { return DetailsPage::Length };
        let page = |subject: &Subject| match subject {
            Subject::Measure(Measure::Level | Measure::ReadingEase) => DetailsPage::Level,
            Subject::Measure(_) | Subject::NoCopy => DetailsPage::Length,
            Subject::Term(_) | Subject::Avoided(_) => DetailsPage::Terms,
            _ => DetailsPage::Fit,
        };
        let mut outside = sheet.now.report.verdict.outside().map(|check| page(&check.subject));
        outside.next().unwrap_or(DetailsPage::Length)
    }

    /// A key in the list of keys: letters look for what is wanted, and Enter does what was found.
    fn key_in_keys(&mut self, mut keys: KeysPage, code: KeyCode) -> Vec<Effect> {
        let is_found = !keys.sought.trim().is_empty();
        let last = ways_to(&keys.sought, self.theme.keyboard).len().saturating_sub(1);
        match code {
            KeyCode::Char(letter) => (keys.at, keys.sought) = (0, format!("{}{letter}", keys.sought)),
            KeyCode::Backspace => {
                keys.sought.pop();
                keys.at = 0;
            }
            KeyCode::Down | KeyCode::Tab if is_found => keys.at = (keys.at + 1).min(last),
            KeyCode::Up | KeyCode::BackTab if is_found => keys.at = keys.at.saturating_sub(1),
            KeyCode::Enter => {
                let way = ways_to(&keys.sought, self.theme.keyboard).into_iter().nth(keys.at);
                return match way {
                    Some(way) => self.go(&way),
                    None => {
                        self.mode = Mode::Keys(keys);
                        Vec::new()
                    }
                };
            }
            KeyCode::F(1) => return Vec::new(),
            code => {
                keys.page.scroll(code);
                self.mode = Mode::Keys(keys);
                return Vec::new();
            }
        }
        keys.page = ReadPage::default();
        self.mode = Mode::Keys(keys);
        Vec::new()
    }

    /// Presses the keys of a way, from writing on.
    pub(super) fn go(&mut self, way: &Way) -> Vec<Effect> {
        self.mode = Mode::Writing;
        way.presses.iter().flat_map(|key| self.key(*key)).collect()
    }

    fn key_in_details(&mut self, measure: DetailsPage, mut page: ReadPage, code: KeyCode) {
        match code {
            KeyCode::Right | KeyCode::Tab | KeyCode::F(5) => {
                self.mode = Mode::Details(measure.next(), ReadPage::default());
            }
            KeyCode::Left | KeyCode::BackTab => self.mode = Mode::Details(measure.before(), ReadPage::default()),
            code if page.scroll(code) => self.mode = Mode::Details(measure, page),
            _ => {}
        }
    }

    fn key_in_type(&mut self, code: KeyCode) -> Vec<Effect> {
        self.mode = Mode::Type;
        let mut tried = self.tried().clone();
        match code {
            KeyCode::Char('u') => {
                self.take_trial_back();
                return Vec::new();
            }
            KeyCode::Right | KeyCode::Char('+') => tried.resize(STEP, self.own_brief()),
            KeyCode::Left | KeyCode::Char('-') => tried.resize(-STEP, self.own_brief()),
            KeyCode::Up => tried.lead(STEP, self.own_brief()),
            KeyCode::Down => tried.lead(-STEP, self.own_brief()),
            KeyCode::Char('f') => tried.next_font(self.own_brief()),
            KeyCode::Char('a') => tried.next_align(self.own_brief()),
            KeyCode::Char('l') => match self.largest() {
                Some(size) => tried.set_size(size, self.own_brief()),
                None => self.said = Some("No size fits: something has to be cut.".to_owned()),
            },
            KeyCode::Char('b') => tried = Tried::default(),
            KeyCode::Char('w') => return self.write_brief(),
            KeyCode::Char('p') => self.open_values(),
            KeyCode::Enter | KeyCode::F(7) => self.mode = Mode::Writing,
            _ => {}
        }
        self.try_step(tried);
        Vec::new()
    }

    fn largest(&mut self) -> Option<Length> {
        self.assess();
        self.sheet()?.now.report.fit.largest_size
    }

    /// Asks for what is tried to be written to the brief.
    pub(super) fn write_brief(&mut self) -> Vec<Effect> {
        let changes = self.trial.changes();
        if self.writing == Writing::Nowhere {
            self.said = Some("This is the sample: nothing is written.".to_owned());
        } else if changes.is_empty() {
            self.said = Some("The brief has all this already.".to_owned());
        } else {
            return vec![Effect::WriteBrief { changes, read: Arc::clone(&self.file_brief().written) }];
        }
        Vec::new()
    }

    fn key_in_leaving(&mut self, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Char('s') => {
                let saves = self.changed().map(|(draft, sheet)| Effect::Save { draft, content: sheet.content() });
                let saves: Vec<Effect> = saves.collect();
                let brief = if self.unwritten_changes().is_empty() { Vec::new() } else { self.write_brief() };
                let mended = self.unread_brief.as_ref().filter(|text| text.is_changed());
                let mended = mended.map(|text| asked_to_write(text));
                saves.into_iter().chain(mended).chain(brief).chain([Effect::Leave]).collect()
            }
            KeyCode::Char('l') => vec![Effect::Leave],
            KeyCode::Char('c') => Vec::new(),
            _ => {
                self.mode = Mode::Leaving;
                Vec::new()
            }
        }
    }

    fn key_in_recovered(&mut self, left: LeftUnsaved, mut page: ReadPage, code: KeyCode) -> Vec<Effect> {
        let draft = self.front;
        match (code, left) {
            (KeyCode::Char('t'), LeftUnsaved::Words(words)) => {
                self.set_recovered_words(draft, false);
                self.replace_all(&words);
                vec![Effect::AcceptRecovered { draft }]
            }
            (KeyCode::Char('f'), LeftUnsaved::Words(_)) => {
                self.set_recovered_words(draft, false);
                vec![Effect::DropRecovered { draft }]
            }
            (KeyCode::Char('t'), LeftUnsaved::Brief { .. }) => vec![Effect::AcceptBrief],
            (KeyCode::Char('f'), LeftUnsaved::Brief { .. }) => vec![Effect::DropBrief],
            (code, left) => {
                page.scroll(code);
                self.mode = Mode::Recovered(left, page);
                Vec::new()
            }
        }
    }

    /// A key while the text of the brief is mended.
    fn key_in_mending(&mut self, mut text: Box<MendedText>, key: KeyEvent) -> Vec<Effect> {
        let columns = usize::from(mending_columns(self.areas().copy.width));
        let step = mend(&mut text, key, columns);
        match step {
            // What was typed stays, so nothing has to be asked.
            MendStep::Leaves | MendStep::AsksToLeave => {
                self.mode = Mode::Mending(text);
                self.put_mending_aside();
                return Vec::new();
            }
            MendStep::Stays | MendStep::Writes => {}
        }
        let written = (step == MendStep::Writes).then(|| asked_to_write(&text));
        self.mode = Mode::Mending(text);
        written.into_iter().collect()
    }

    fn key_in_outside(&mut self, code: KeyCode) -> Vec<Effect> {
        let draft = self.front;
        match code {
            KeyCode::Char('m') => {
                self.content(draft).map(|content| Effect::SaveAnyway { draft, content }).into_iter().collect()
            }
            KeyCode::Char('t') => {
                self.paper().map(|paper| Effect::Open { draft, path: paper.path.clone() }).into_iter().collect()
            }
            KeyCode::Char('e') => {
                self.ask_name(Prompt::SaveAs);
                Vec::new()
            }
            _ => {
                self.mode = Mode::Outside;
                Vec::new()
            }
        }
    }
}

/// What asks for the text of a brief that was mended to be written.
fn asked_to_write(text: &MendedText) -> Effect {
    Effect::MendBrief { read: text.read.clone(), text: text.editor.text().to_owned() }
}
