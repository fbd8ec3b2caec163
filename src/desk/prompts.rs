//! A line of input at the foot: what is asked for, and what the answer does.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::event::Effect;
use super::keys::{self, Command};
use super::mode::{BookPage, Mode, Prompt};
use super::papers::{DraftId, Paper, file_name};
use super::state::{State, Writing};
use super::unpriced::MeasuredBy;
use super::writing::action;
use crate::editor::{Action, Editor};

/// Endings of other sorts of files that may be typed for a draft's.
const ENDINGS: [&str; 8] = ["txt", "yaml", "yml", "docx", "odt", "doc", "rtf", "pdf"];

impl State {
    /// Asks for the name of a file, and suggests a likely one.
    pub(super) fn ask_name(&mut self, prompt: Prompt) {
        if self.writing == Writing::Nowhere {
            let says = match prompt {
                Prompt::Open => "This is the sample: a draft of your own is opened with `blurbwright desk FILE`.",
                _ => "This is the sample: nothing is written.",
            };
            self.said = Some(says.to_owned());
            return;
        }
        let name = self.papers.get(prompt.draft().unwrap_or(self.front)).map_or_else(String::new, Paper::name);
        let given = match prompt {
            Prompt::New(_) | Prompt::Keep(_) | Prompt::Value(_) | Prompt::Words(_) | Prompt::Credit => String::new(),
            Prompt::Row(_) | Prompt::Added(..) | Prompt::Phrases(..) | Prompt::Story(_) => String::new(),
            Prompt::Open => self.path_asked.clone(),
            Prompt::Proof => format!("{name}.pdf"),
            Prompt::Double(_) | Prompt::SaveAs => format!("{name} 2"),
            Prompt::Rename(_) | Prompt::Find => name,
        };
        self.ask(prompt, &given);
    }

    /// A key while a line of input is filled in.
    pub(super) fn key_in_prompt(&mut self, prompt: Prompt, mut line: Editor, key: KeyEvent) -> Vec<Effect> {
        match key.code {
            KeyCode::Esc => {
                if let Prompt::Value(at) = prompt {
                    self.mode = Mode::Values(at);
                } else if let Some(at) = prompt.row() {
                    self.mode = Mode::Book(BookPage { at, choosing: None });
                } else if let Some(draft) = prompt.draft() {
                    self.mode = Mode::Drafts(self.papers.listed_row_of(draft));
                } else {
                    self.back_from_words(prompt, line.text());
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
                    Some(Command::Save) => {
                        self.said = Some("This line comes first: Enter takes it, Esc leaves it.".to_owned());
                    }
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

    /// Acts on the answer to a line of input.
    fn answered(&mut self, prompt: Prompt, answer: &str) -> Vec<Effect> {
        // What was asked for in the list of drafts is seen there.
        if let Prompt::Keep(draft) | Prompt::Rename(draft) = prompt {
            self.mode = Mode::Drafts(self.papers.listed_row_of(draft));
        }
        if matches!(prompt, Prompt::Rename(_) | Prompt::New(_) | Prompt::SaveAs | Prompt::Double(_)) {
            self.name_asked = Some((prompt, answer.to_owned()));
            if let Some(fault) = fault_of_name(answer) {
                self.ask_on(prompt, answer);
                self.said = Some(format!("\"{answer}\" {fault}"));
                return Vec::new();
            }
        }
        if prompt == Prompt::Proof {
            self.name_asked = Some((prompt, answer.to_owned()));
        }
        // For these an empty answer has a meaning as well.
        match prompt {
            Prompt::Row(_) | Prompt::Added(..) | Prompt::Phrases(..) | Prompt::Story(_) => {
                self.answered_in_book(prompt, answer)
            }
            Prompt::Keep(draft) => self.keep_copy(draft, answer),
            Prompt::Value(at) => {
                self.type_value(at, answer);
                Vec::new()
            }
            Prompt::Credit => {
                self.write_quote(answer);
                Vec::new()
            }
            _ if answer.is_empty() => Vec::new(),
            Prompt::Words(kind) => {
                self.write_block(kind, answer);
                Vec::new()
            }
            Prompt::Open => {
                answer.clone_into(&mut self.path_asked);
                vec![self.open_by_path(answer)]
            }
            Prompt::Find => {
                self.sought = answer.to_owned();
                self.find();
                Vec::new()
            }
            Prompt::Proof => self.write_proof(answer),
            Prompt::Rename(draft) => self.rename(draft, answer),
            Prompt::New(draft) => self.create(draft, answer),
            Prompt::SaveAs => self.save_as(answer),
            Prompt::Double(draft) => self.double(draft, answer),
        }
    }

    fn open_by_path(&mut self, typed: &str) -> Effect {
        let listed = self.papers.iter().map(|paper| (paper.id, paper.path.clone())).collect();
        let here = self.paper().map(|paper| paper.path.clone()).unwrap_or_default();
        Effect::OpenByPath { typed: typed.to_owned(), here, listed, new: self.papers.new_id() }
    }

    /// Asks for a copy of a draft to be kept as it stands at the desk, measured by the brief without what is tried.
    fn keep_copy(&self, draft: DraftId, name: &str) -> Vec<Effect> {
        let Some(paper) = self.papers.get(draft) else { return Vec::new() };
        let text = paper.sheet.as_ref().map(|sheet| sheet.editor.text().to_owned());
        let by = MeasuredBy { brief: Arc::clone(self.trial.file()), faces: Arc::clone(&self.faces) };
        vec![Effect::KeepCopy { path: paper.path.clone(), text, name: name.to_owned(), by }]
    }

    fn write_proof(&self, name: &str) -> Vec<Effect> {
        let (Some(paper), Some(sheet)) = (self.paper(), self.sheet()) else { return Vec::new() };
        let by = MeasuredBy { brief: self.trial.shared(), faces: Arc::clone(&self.faces) };
        let (of, path) = (paper.path.clone(), named(&paper.path, name, "pdf"));
        vec![Effect::WriteProof { path, of, text: sheet.editor.text().to_owned(), by }]
    }

    fn rename(&self, draft: DraftId, name: &str) -> Vec<Effect> {
        let paper = self.papers.get(draft);
        let rename =
            |paper: &Paper| Effect::Rename { draft, from: paper.path.clone(), to: named(&paper.path, name, "md") };
        paper.map(rename).into_iter().collect()
    }

    fn create(&mut self, beside: DraftId, name: &str) -> Vec<Effect> {
        let Some((draft, path)) = self.new_draft(beside, name) else { return Vec::new() };
        vec![Effect::Create { draft, path }]
    }

    fn save_as(&mut self, name: &str) -> Vec<Effect> {
        let draft = self.front;
        let Some(content) = self.content(draft) else { return Vec::new() };
        let Some((new, path)) = self.new_draft(draft, name) else { return Vec::new() };
        vec![Effect::SaveAs { draft, content, new, path }]
    }

    fn double(&mut self, draft: DraftId, name: &str) -> Vec<Effect> {
        let Some((new, path)) = self.new_draft(draft, name) else { return Vec::new() };
        let Some(from) = self.papers.get(draft).map(|paper| paper.path.clone()) else { return Vec::new() };
        let (text, stood) = match self.content(draft) {
            Some(content) => (Some(content.text), content.stood),
            None => (None, self.stet.of(&file_name(&from))),
        };
        vec![Effect::Double { draft, from, text, stood, new, path }]
    }

    /// The number and the file of a draft that is to be written beside another.
    fn new_draft(&mut self, beside: DraftId, name: &str) -> Option<(DraftId, PathBuf)> {
        let path = named(&self.papers.get(beside)?.path, name, "md");
        Some((self.papers.id_for(&path), path))
    }
}

/// What is wrong with the name of a draft as it was typed, as it follows it, and what to do; none where nothing is.
fn fault_of_name(typed: &str) -> Option<&'static str> {
    if typed.is_empty() {
        None
    } else if Path::new(typed).file_name().is_none_or(|name| name != typed) {
        Some("names a folder; a draft stays beside the others, so type a name alone.")
    } else if typed.starts_with('.') {
        Some("begins with a dot, which hides a file, so that no list would show the draft: type it without the dot.")
    } else if typed.ends_with('.') {
        Some("ends with a dot, which Windows forbids: type it without the dot.")
    } else {
        None
    }
}

/// Whether the name of a file has another ending than that of drafts in front of it, as `first.txt.md`.
pub(super) fn has_other_ending(path: &Path) -> bool {
    let ending = path.file_stem().and_then(|stem| Path::new(stem).extension());
    ending.is_some_and(|ending| ENDINGS.iter().any(|other| ending.eq_ignore_ascii_case(other)))
}

/// A file in the folder of another; `ending` is added if `name` has none.
fn named(beside: &Path, name: &str, ending: &str) -> PathBuf {
    let path = beside.parent().unwrap_or(Path::new("")).join(name);
    let has_ending = path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    if has_ending { path } else { PathBuf::from(format!("{}.{ending}", path.display())) }
}
