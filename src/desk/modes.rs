//! Keys outside writing: lists, pages, lines to be filled in, and last words.

use std::path::{Path, PathBuf};

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::details::DetailsPage;
use super::event::Effect;
use super::keys::{self, Command};
use super::state::{Mode, Paper, Prompt, State, Writing};
use super::tried::Tried;
use super::writing::action;
use crate::brief::stet::Stood;
use crate::editor::{Action, Editor};

/// How far one key changes the size and the leading, in points.
const STEP: f64 = 0.5;

impl State {
    /// A key outside writing. The mode was taken away, and stands again where the key leaves it so.
    pub(super) fn key_in(&mut self, mode: Mode, key: KeyEvent) -> Vec<Effect> {
        if let Mode::Prompt(prompt, line) = mode {
            return self.key_in_prompt(prompt, line, key);
        }
        let asks = mode.asks();
        let pressed = keys::pressed(key);
        // What was kept stays kept, so that its question can be left like any other.
        if key.code == KeyCode::Esc {
            let is_kept = matches!(mode, Mode::Recovered(..));
            self.said = is_kept.then(|| "The words stay kept: Ctrl-O and Enter offers them again.".to_owned());
            return Vec::new();
        }
        if asks && pressed == Some(Command::Leave) {
            return self.leave();
        }
        if let (Mode::Drafts(at), Some(Command::Save)) = (&mode, pressed) {
            let at = *at;
            self.mode = mode;
            return self.save(at);
        }
        // A command's own key works from any page, but not in the middle of a question.
        if !asks
            && key.modifiers.contains(KeyModifiers::CONTROL)
            && let Some(command) = pressed
        {
            return self.command(command);
        }
        match mode {
            Mode::Keys(from) => self.mode = scrolled(key.code, from).map(Mode::Keys).unwrap_or_default(),
            Mode::Details(page, from) => self.mode = turned(page, from, key.code),
            Mode::Queries(at) => return self.key_in_queries(at, key.code),
            Mode::Type => return self.key_in_type(key.code),
            Mode::Values(at) => return self.key_in_values(at, key.code),
            Mode::Drafts(at) => return self.key_in_drafts(at, key.code),
            Mode::Beside(beside) => return self.key_beside(beside, key.code),
            Mode::Leaving => return self.key_in_leaving(key.code),
            Mode::Outside => return self.key_in_outside(key.code),
            Mode::Recovered(words, from) => return self.key_in_recovered(words, from, key.code),
            Mode::Panel if key.code == KeyCode::Enter => self.mode = Mode::Values(0),
            Mode::Panel | Mode::Writing | Mode::Letter | Mode::Prompt(..) => {}
        }
        Vec::new()
    }

    /// Takes a query in hand and shows its place.
    pub(super) fn walk(&mut self, at: usize) {
        self.assess();
        let Some(sheet) = self.sheet_mut() else { return };
        let offers = sheet.offers();
        let at = at.min(offers.len().saturating_sub(1));
        let Some(span) = offers.get(at).map(|offer| sheet.now.span_of(offer.query)) else {
            self.said = Some("There is no query: nothing asks for a second look.".to_owned());
            return;
        };
        sheet.editor.apply(Action::PlaceCursor(span.start), &[]);
        sheet.shown_words = Some(span.start..span.end);
        sheet.loose = false;
        self.mode = Mode::Queries(at);
    }

    fn key_in_queries(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Down | KeyCode::Right | KeyCode::Tab | KeyCode::F(6) | KeyCode::Char('n') => {
                let count = self.sheet().map_or(1, |sheet| sheet.offers().len()).max(1);
                self.walk((at + 1) % count);
            }
            KeyCode::Up | KeyCode::Left | KeyCode::BackTab => self.walk(at.saturating_sub(1)),
            KeyCode::Enter | KeyCode::Char('t') => {
                self.take_cut(at);
                self.walk(at);
            }
            KeyCode::Char('p') => {
                self.take_plan();
                self.walk(at);
            }
            KeyCode::Char('s') => {
                self.let_stand(at);
                self.walk(at);
            }
            KeyCode::Char('u') => {
                self.act(Action::Undo);
                self.walk(at);
            }
            _ => self.walk(at),
        }
        Vec::new()
    }

    /// Makes the cut of a query, as one step.
    fn take_cut(&mut self, at: usize) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        match sheet.offers().get(at).and_then(|offer| offer.edit.clone()) {
            Some(edit) => self.act(Action::Replace(vec![edit])),
            None => {
                self.said = Some("There is no ready cut here: change the words, or let them stand with s.".to_owned())
            }
        }
    }

    /// Makes every cut of the plan, as one step.
    fn take_plan(&mut self) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let planned = sheet.offers().into_iter().filter(|offer| offer.is_planned);
        let edits: Vec<crate::draft::Edit> = planned.filter_map(|offer| offer.edit).collect();
        if edits.is_empty() {
            let said = if sheet.now.report.verdict.is_within() {
                "It fits and is within every limit: nothing has to go."
            } else {
                "There is no plan: no cut that is ready helps, or its price is not known yet."
            };
            self.said = Some(said.to_owned());
        } else {
            self.act(Action::Replace(edits));
        }
    }

    /// Lets the words of a query stand, as one step; it is remembered when the draft is saved.
    fn let_stand(&mut self, at: usize) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let found = sheet.offers().get(at).map(|offer| Stood::new(offer.query.rule, sheet.words_of(offer.query)));
        if let Some(stood) = found {
            self.act(Action::LetStand(stood));
        }
    }

    fn key_in_type(&mut self, code: KeyCode) -> Vec<Effect> {
        self.mode = Mode::Type;
        let mut tried = self.tried.clone();
        match code {
            KeyCode::Right | KeyCode::Char('+') => tried.resize(STEP, &self.own),
            KeyCode::Left | KeyCode::Char('-') => tried.resize(-STEP, &self.own),
            KeyCode::Up => tried.lead(STEP, &self.own),
            KeyCode::Down => tried.lead(-STEP, &self.own),
            KeyCode::Char('f') => tried.next_font(&self.own),
            KeyCode::Char('a') => tried.next_align(&self.own),
            KeyCode::Char('l') => match self.largest() {
                Some(size) => tried.set_size(size, &self.own),
                None => self.said = Some("No size fits: something has to be cut.".to_owned()),
            },
            KeyCode::Char('b') => tried = Tried::default(),
            KeyCode::Char('w') => return self.write_brief(),
            KeyCode::Char('p') => self.mode = Mode::Values(0),
            KeyCode::Enter | KeyCode::F(7) => self.mode = Mode::Writing,
            _ => {}
        }
        self.try_type(tried);
        Vec::new()
    }

    fn largest(&mut self) -> Option<crate::units::Length> {
        self.assess();
        self.sheet()?.now.report.fit.largest_size
    }

    /// Has what is tried written to the brief.
    pub(super) fn write_brief(&mut self) -> Vec<Effect> {
        let changes = self.tried.changes(&self.own);
        if self.writing == Writing::Nowhere {
            self.said = Some("This is the sample: nothing is written.".to_owned());
        } else if changes.is_empty() {
            self.said = Some("The brief has all this already.".to_owned());
        } else {
            return vec![Effect::WriteBrief(changes)];
        }
        Vec::new()
    }

    fn key_in_drafts(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        let last = self.drafts.len().saturating_sub(1);
        match code {
            KeyCode::Up => self.mode = Mode::Drafts(at.saturating_sub(1)),
            KeyCode::Down => self.mode = Mode::Drafts((at + 1).min(last)),
            KeyCode::Home => self.mode = Mode::Drafts(0),
            KeyCode::End => self.mode = Mode::Drafts(last),
            KeyCode::Enter => return self.bring(at),
            KeyCode::Char('n') => self.ask_name(Prompt::New(at)),
            KeyCode::Char('d') => self.ask_name(Prompt::Double(at)),
            KeyCode::Char('r') => self.ask_name(Prompt::Rename(at)),
            KeyCode::Char('k') => self.ask_name(Prompt::Keep(at)),
            KeyCode::Char('o') => self.ask_name(Prompt::Open),
            _ => self.mode = Mode::Drafts(at),
        }
        Vec::new()
    }

    /// Brings a draft to the front, and the question about words that were kept of it.
    fn bring(&mut self, at: usize) -> Vec<Effect> {
        match self.drafts.get(at) {
            Some(paper) if paper.sheet.is_some() => {
                let asks = paper.has_kept_words;
                self.front = at;
                if asks { vec![Effect::OfferKept(at)] } else { Vec::new() }
            }
            Some(paper) => vec![Effect::Open(paper.path.clone())],
            None => Vec::new(),
        }
    }

    /// Asks for the name of a file, with a likely one given.
    pub(super) fn ask_name(&mut self, prompt: Prompt) {
        if self.writing == Writing::Nowhere {
            let says = match prompt {
                Prompt::Open => "This is the sample: a draft of your own is opened with `blurbwright desk FILE`.",
                _ => "This is the sample: nothing is written.",
            };
            self.said = Some(says.to_owned());
            return;
        }
        let name = self.drafts.get(prompt.row().unwrap_or(self.front)).map_or_else(String::new, Paper::name);
        let given = match prompt {
            Prompt::New(_) | Prompt::Keep(_) | Prompt::Value(_) => String::new(),
            Prompt::Open => self.path_asked.clone(),
            Prompt::Proof => format!("{name}.pdf"),
            Prompt::Double(_) | Prompt::SaveAs => format!("{name} 2"),
            Prompt::Rename(_) | Prompt::Find => name,
        };
        self.ask(prompt, &given);
    }

    fn key_in_prompt(&mut self, prompt: Prompt, mut line: Editor, key: KeyEvent) -> Vec<Effect> {
        match key.code {
            KeyCode::Esc => {
                if let Prompt::Value(at) = prompt {
                    self.mode = Mode::Values(at);
                } else if let Some(row) = prompt.row() {
                    self.mode = Mode::Drafts(row);
                }
                Vec::new()
            }
            KeyCode::Enter => self.answered(prompt, line.text().trim()),
            _ => {
                match keys::pressed(key) {
                    Some(Command::Leave | Command::Copy) => return Vec::new(),
                    Some(Command::Paste) => line.apply(Action::Paste(self.clipboard.replace('\n', " ")), &[]),
                    Some(Command::Undo) => line.apply(Action::Undo, &[]),
                    Some(Command::SelectAll) => line.apply(Action::SelectAll, &[]),
                    Some(_) => {}
                    None => match action(key, 1) {
                        Some(Action::Newline) | None => {}
                        Some(action) => line.apply(action, &[]),
                    },
                }
                self.mode = Mode::Prompt(prompt, line);
                Vec::new()
            }
        }
    }

    fn answered(&mut self, prompt: Prompt, answer: &str) -> Vec<Effect> {
        // What is done to a draft that is not in front leaves the author on the page of the drafts.
        if let Prompt::Keep(row) | Prompt::Rename(row) = prompt
            && row != self.front
        {
            self.mode = Mode::Drafts(row);
        }
        if let Prompt::Keep(row) = prompt {
            return vec![Effect::KeepCopy(row, answer.to_owned())];
        }
        if let Prompt::Value(at) = prompt {
            self.type_value(at, answer);
            return Vec::new();
        }
        if answer.is_empty() {
            return Vec::new();
        }
        if prompt == Prompt::Open {
            answer.clone_into(&mut self.path_asked);
            return vec![Effect::OpenByPath(answer.to_owned())];
        }
        if prompt == Prompt::Find {
            self.sought = answer.to_owned();
            self.find();
            return Vec::new();
        }
        let Some(paper) = self.drafts.get(prompt.row().unwrap_or(self.front)) else { return Vec::new() };
        let here = paper.path.clone();
        match prompt {
            Prompt::Proof => vec![Effect::WriteProof(named(&here, answer, "pdf"))],
            Prompt::Rename(_) => vec![Effect::Rename(here.clone(), named(&here, answer, "md"))],
            Prompt::New(_) => vec![Effect::Create(named(&here, answer, "md"))],
            Prompt::SaveAs => vec![Effect::SaveAs(self.front, named(&here, answer, "md"))],
            Prompt::Double(row) => vec![Effect::Double(row, named(&here, answer, "md"))],
            Prompt::Find | Prompt::Keep(_) | Prompt::Open | Prompt::Value(_) => Vec::new(),
        }
    }

    fn key_in_leaving(&mut self, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Char('s') => {
                let saves = self.changed().map(|(at, _)| Effect::Save(at));
                saves.chain([Effect::Leave]).collect()
            }
            KeyCode::Char('l') => vec![Effect::Discard, Effect::Leave],
            KeyCode::Char('c') => Vec::new(),
            _ => {
                self.mode = Mode::Leaving;
                Vec::new()
            }
        }
    }

    fn key_in_recovered(&mut self, words: String, from: usize, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Char('t') => {
                self.set_kept_words(self.front, false);
                let here = self.sheet().map_or("", |sheet| sheet.editor.text());
                let same = here.chars().zip(words.chars()).take_while(|(one, other)| one == other);
                let first: usize = same.map(|(letter, _)| letter.len_utf8()).sum();
                self.act(Action::SelectAll);
                self.act(Action::Paste(words));
                // Where they begin to differ the author goes on.
                self.act(Action::PlaceCursor(first));
                vec![Effect::TakeKept(self.front)]
            }
            KeyCode::Char('f') => {
                self.set_kept_words(self.front, false);
                vec![Effect::DropKept(self.front)]
            }
            code => {
                self.mode = Mode::Recovered(words, scrolled(code, from).unwrap_or(from));
                Vec::new()
            }
        }
    }

    fn key_in_outside(&mut self, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Char('m') => vec![Effect::SaveAnyway(self.front)],
            KeyCode::Char('t') => self.sheet().map(|sheet| Effect::Open(sheet.path.clone())).into_iter().collect(),
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

/// A file beside another, with an ending if it has none of its own.
fn named(beside: &Path, name: &str, ending: &str) -> PathBuf {
    let path = beside.parent().unwrap_or(Path::new("")).join(name);
    let has_ending = path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    if has_ending { path } else { PathBuf::from(format!("{}.{ending}", path.display())) }
}

/// Another line to begin a page with; none where the key ends it.
fn scrolled(code: KeyCode, from: usize) -> Option<usize> {
    match code {
        KeyCode::Down => Some(from + 1),
        KeyCode::PageDown | KeyCode::Char(' ') => Some(from + 10),
        KeyCode::Up => Some(from.saturating_sub(1)),
        KeyCode::PageUp => Some(from.saturating_sub(10)),
        KeyCode::Home => Some(0),
        _ => None,
    }
}

fn turned(page: DetailsPage, from: usize, code: KeyCode) -> Mode {
    match code {
        KeyCode::Right | KeyCode::Tab | KeyCode::F(5) => Mode::Details(page.next(), 0),
        KeyCode::Left | KeyCode::BackTab => Mode::Details(page.before(), 0),
        code => scrolled(code, from).map_or(Mode::Writing, |from| Mode::Details(page, from)),
    }
}
