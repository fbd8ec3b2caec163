//! What the desk makes of the outcomes of its effects, and of what was noticed at the door.

use std::path::PathBuf;
use std::sync::Arc;

use super::event::{Effect, Outcome};
use super::mode::{Mode, Prompt, ReadPage};
use super::papers::{DraftId, DraftOrigin, Paper, file_name};
use super::sheet::DraftSheet;
use super::state::State;
use super::trial::TriedBrief;
use crate::brief::stet::Stood;
use crate::editor::Action;

impl State {
    /// Applies an outcome to the state. An outcome that comes too late finds no open draft with its number, and changes
    /// nothing.
    pub(super) fn done(&mut self, outcome: Outcome) -> Vec<Effect> {
        match outcome {
            Outcome::Saved { draft, text } => {
                self.said = self.path_of(draft).map(|path| format!("Saved {}.", path.display()));
                if let Some(sheet) = self.sheet_of(draft) {
                    sheet.saved = text;
                }
            }
            Outcome::Autosaved { draft, revision } => {
                if let Some(sheet) = self.sheet_of(draft) {
                    sheet.autosaved_revision = Some(revision);
                }
            }
            Outcome::Opened { draft, path, text, said } => self.opened(draft, path, text, &said),
            Outcome::Elsewhere { draft } => {
                if let Some(paper) = self.papers.get_mut(draft) {
                    paper.origin = DraftOrigin::Elsewhere;
                }
            }
            Outcome::NotOpened { why } => {
                self.ask(Prompt::Open, &self.path_asked.clone());
                self.said = Some(why);
            }
            Outcome::InFront { draft } => self.bring_to_front(draft),
            Outcome::LookedAt { draft, text } => self.set_beside(draft, &text),
            Outcome::WrittenOutside { draft } => return self.written_outside(draft),
            Outcome::Reread { draft, text } => self.reread(draft, text),
            Outcome::Priced { draft, revision, tighten } => {
                if let Some(sheet) = self.sheet_of(draft) {
                    sheet.tighten = Some((revision, tighten));
                }
            }
            Outcome::Standing { draft, name, stood } => self.stands(draft, &name, stood),
            Outcome::HasRecovered { draft } => self.set_recovered_words(draft, true),
            Outcome::Recovered { draft, text } => {
                self.bring_to_front(draft);
                self.set_recovered_words(draft, true);
                self.mode = Mode::Recovered(text, ReadPage::default());
            }
            Outcome::Renamed { draft, path } => return self.renamed(draft, path),
            Outcome::BriefWritten { brief, faces } => {
                self.faces = Arc::new(faces);
                let (part, close) = (self.trial.part(), self.trial.is_close());
                self.trial = TriedBrief::of(*brief);
                self.trial.set_part(part);
                self.trial.set_close(close);
                self.forget_measures();
                self.said = Some("What you tried is written to the brief.".to_owned());
            }
            Outcome::ChangedOutside { draft } => self.ask_about_outside(draft),
            Outcome::PutAway { draft } => {
                if let Some(paper) = self.papers.get_mut(draft) {
                    paper.sheet = None;
                }
            }
            Outcome::Said(words) | Outcome::Failed(words) => self.said = (!words.is_empty()).then_some(words),
        }
        Vec::new()
    }

    fn path_of(&self, draft: DraftId) -> Option<PathBuf> {
        self.papers.get(draft).map(|paper| paper.path.clone())
    }

    /// Brings a listed draft to the front.
    fn bring_to_front(&mut self, draft: DraftId) {
        if self.papers.get(draft).is_some() {
            self.front = draft;
        }
    }

    fn opened(&mut self, draft: DraftId, path: PathBuf, text: String, said: &[String]) {
        let stood = self.stet.of(&file_name(&path));
        let sheet = DraftSheet::new(text, stood, self.brief(), &self.faces);
        self.papers.enter(draft, path).sheet = Some(sheet);
        self.front = draft;
        self.said = (!said.is_empty()).then(|| said.join(" "));
    }

    /// Takes over what another program wrote at once where nothing here would be lost by that; otherwise the author is
    /// asked.
    fn written_outside(&mut self, draft: DraftId) -> Vec<Effect> {
        let sheet = self.papers.get(draft).and_then(|paper| paper.sheet.as_ref());
        if sheet.is_some_and(DraftSheet::has_unsaved_words) {
            self.ask_about_outside(draft);
            return Vec::new();
        }
        vec![Effect::Reread { draft }]
    }

    fn ask_about_outside(&mut self, draft: DraftId) {
        self.bring_to_front(draft);
        self.mode = Mode::Outside;
    }

    fn reread(&mut self, draft: DraftId, text: String) {
        if let Some(sheet) = self.sheet_of(draft) {
            let cursor = sheet.editor.cursor();
            sheet.editor.apply(Action::SelectAll, &[]);
            sheet.editor.apply(Action::Paste(text.clone()), &[]);
            sheet.editor.apply(Action::PlaceCursor(cursor.min(text.len())), &[]);
            sheet.saved = text;
        }
        let path = self.path_of(draft).unwrap_or_default();
        self.said = Some(format!("Another program has written {}; this is what it wrote.", path.display()));
    }

    /// Notes that the wordings let stand in a draft were written. The draft itself may not be listed yet.
    fn stands(&mut self, draft: DraftId, name: &str, stood: Vec<Stood>) {
        self.stet.change(name, &self.stet.of(name), &stood);
        if let Some(sheet) = self.sheet_of(draft) {
            sheet.saved_stood = stood;
        }
    }

    /// Notes a draft's new name, and moves its wordings that are let stand to that name.
    fn renamed(&mut self, draft: DraftId, path: PathBuf) -> Vec<Effect> {
        let Some(paper) = self.papers.get_mut(draft) else { return Vec::new() };
        let from = paper.file_name();
        paper.path = path;
        // The words need a recovery file under the new name at once: the result of a write under the old name may still
        // be on its way, and would be taken for that of the new file.
        if let Some(sheet) = &mut paper.sheet {
            sheet.autosaved_revision = None;
        }
        let to = self.papers.get(draft).map(Paper::file_name).unwrap_or_default();
        let stood = self.stet.of(&from);
        self.stet.change(&from, &stood, &[]);
        self.stet.change(&to, &[], &stood);
        self.said = Some(format!("{from} is {to} now."));
        self.autosave()
    }
}
