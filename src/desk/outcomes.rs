//! What the desk makes of the outcomes of its effects, and of what was noticed at the door.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::event::{Effect, Outcome};
use super::keys::Command;
use super::mode::{LeftUnsaved, Mode, Prompt, ReadPage};
use super::papers::{DraftId, DraftOrigin, Paper, file_name};
use super::prompts::has_other_ending;
use super::sheet::DraftSheet;
use super::state::State;
use crate::artwork::ArtFile;
use crate::brief::Brief;
use crate::brief::stet::Stood;
use crate::editor::Action;
use crate::editor::mending::MendedText;
use crate::setting::Faces;
use crate::trial::Tried;
use crate::trial::tried_brief::pictures_of;

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
                return self.list_again(draft).into_iter().collect();
            }
            Outcome::Autosaved { draft, revision } => {
                if let Some(sheet) = self.sheet_of(draft) {
                    sheet.autosaved_revision = Some(revision);
                }
            }
            Outcome::Opened { draft, path, text, said } => self.opened(draft, path, text, &said),
            Outcome::Found { drafts } => return self.list_found(drafts),
            Outcome::Elsewhere { draft } => {
                if let Some(paper) = self.papers.get_mut(draft) {
                    paper.origin = DraftOrigin::Elsewhere;
                }
            }
            Outcome::NotOnDisk { draft } => {
                if let Some(sheet) = self.sheet_of(draft) {
                    sheet.saved.clear();
                }
            }
            Outcome::NotOpened { why } => {
                self.ask(Prompt::Open, &self.path_asked.clone());
                self.said = Some(why);
            }
            Outcome::NameRefused { why } => self.ask_name_again(why),
            Outcome::InFront { draft } => self.bring_to_front(draft),
            Outcome::LookedAt { draft, text } => self.set_beside(draft, &text),
            Outcome::Listed { draft, facts } => self.know_of(draft, *facts),
            Outcome::Kept { of, copy } => {
                self.said = Some(format!("Kept a copy: {}", copy.path.display()));
                self.note_copy(&of, copy);
            }
            Outcome::CopyRead { of, copy, text, what_for } => self.copy_read(of, copy, &text, what_for),
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
                self.mode = Mode::Recovered(LeftUnsaved::Words(text), ReadPage::default());
            }
            Outcome::Renamed { draft, path } => return self.renamed(draft, path),
            Outcome::BriefAutosaved { .. }
            | Outcome::MendedAutosaved { .. }
            | Outcome::BriefRecovered { .. }
            | Outcome::BriefUnread(_)
            | Outcome::BriefWritten { .. }
            | Outcome::BriefChanged { .. }
            | Outcome::BriefMended { .. }
            | Outcome::NamedRead { .. } => return self.done_with_brief(outcome),
            Outcome::StoryRead { words } => self.show_story(words),
            Outcome::NoStory { why } => {
                if let Some(at) = self.row_in_hand() {
                    self.ask(Prompt::Story(at), "");
                }
                self.said = Some(why);
            }
            Outcome::ArtWaits => return self.ask_for_art(),
            Outcome::ArtRead { file, art } => self.art_read(&file, &art),
            Outcome::ArtUnread { file, why } => self.art_unread(file, why),
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

    /// Applies an outcome that is about the brief.
    fn done_with_brief(&mut self, outcome: Outcome) -> Vec<Effect> {
        match outcome {
            Outcome::BriefAutosaved { revision, has_some } => self.brief_kept = (revision, has_some),
            Outcome::MendedAutosaved { text } => self.mended_kept = text,
            Outcome::BriefRecovered { here, kept } => self.brief_left = Some(LeftUnsaved::Brief { here, kept }),
            Outcome::BriefUnread(found) => self.brief_unread(found),
            Outcome::BriefWritten { brief, faces } => {
                self.said = Some("What you changed is written to the brief.".to_owned());
                return self.take_brief(*brief, faces, Tried::default());
            }
            Outcome::BriefChanged { brief, faces } => return self.brief_changed(*brief, faces),
            Outcome::BriefMended { brief, faces } => {
                self.mode = Mode::Writing;
                let effects = self.brief_changed(*brief, faces);
                let waits = self.changed_brief.is_some();
                let said = "The brief is written, and can be read now.".to_owned();
                self.said = if waits { self.said.take() } else { Some(said) };
                return effects;
            }
            Outcome::NamedRead { brief, faces } => return self.named_read(*brief, faces),
            _ => {}
        }
        Vec::new()
    }

    fn path_of(&self, draft: DraftId) -> Option<PathBuf> {
        self.papers.get(draft).map(|paper| paper.path.clone())
    }

    /// Asks again for a name that was refused, with what was typed.
    fn ask_name_again(&mut self, why: String) {
        if let Some((prompt, typed)) = self.name_asked.take() {
            self.ask_on(prompt, &typed);
        }
        self.said = Some(why);
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
        let is_named = matches!(self.name_asked.take(), Some((Prompt::New(_) | Prompt::Double(_) | Prompt::SaveAs, _)));
        let ended = (is_named && has_other_ending(&path))
            .then(|| format!("The draft is {}: the file of a draft ends in .md.", path.display()));
        self.papers.enter(draft, path).sheet = Some(sheet);
        self.front = draft;
        let said: Vec<String> = ended.into_iter().chain(said.iter().cloned()).collect();
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
        self.put_mending_aside();
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

    /// Goes by a brief that was read anew, with some values tried in place of its own, and asks for its art.
    fn take_brief(&mut self, brief: Brief, faces: Faces, tried: Tried) -> Vec<Effect> {
        self.faces = Arc::new(faces);
        self.trial.renew(brief, tried);
        (self.held, self.changed_brief) = (None, None);
        // The values and the questions about a box are those of the panel before.
        if self.mode.shows_values() {
            self.mode = Mode::Values(0);
        }
        self.forget_fonts();
        self.ask_for_art()
    }

    /// Another program has written the brief. A panel that is tried, and values that were changed, go by the brief as
    /// it was, so the new one waits until they are taken back.
    fn brief_changed(&mut self, brief: Brief, faces: Faces) -> Vec<Effect> {
        self.changed_brief = None;
        self.unread_brief.take_if(|text| !text.is_changed());
        // What was typed of the text that could not be read stays on its page: writing it finds the other text.
        if matches!(&self.mode, Mode::Mending(text) if !text.is_changed()) {
            self.mode = Mode::Writing;
        }
        if self.trial.is_as(&brief) {
            return Vec::new();
        }
        if self.trial.holds_brief() {
            self.changed_brief = Some((Box::new(brief), faces));
            let what =
                if self.trial.is_changed() { "what you changed on its page" } else { "what you try of the panel" };
            self.said =
                Some(format!("Another program has changed the brief. It is taken over once you take back {what}."));
            return Vec::new();
        }
        self.said = Some("Another program has changed the brief; the desk goes by it as it is now.".to_owned());
        let tried = self.tried().clone();
        self.take_brief(brief, faces, tried)
    }

    /// The brief's file cannot be read: the desk goes on with what it knows, and the text can be mended.
    fn brief_unread(&mut self, found: Box<MendedText>) {
        if let Mode::Mending(text) = &mut self.mode {
            let is_other = text.renew(*found);
            self.said = Some(if is_other {
                "Another program has written the brief; this is what it wrote. Ctrl-Z brings yours back.".to_owned()
            } else {
                "The brief is written, and cannot be read yet.".to_owned()
            });
            return;
        }
        let key = self.key_name(Command::Book);
        self.said = Some(format!("{} The desk goes on with the brief as it was; {key} mends it.", found.why));
        match &mut self.unread_brief {
            Some(text) if text.is_changed() => drop(text.renew(*found)),
            _ => self.unread_brief = Some(found),
        }
    }

    /// Asks about what an earlier desk has not written of the brief, once nothing else is done than writing.
    pub(super) fn offer_brief(&mut self) {
        if matches!(self.mode, Mode::Writing)
            && let Some(left) = self.brief_left.take()
        {
            self.mode = Mode::Recovered(left, ReadPage::default());
        }
    }

    /// Takes over a changed brief that waits, once nothing goes by the brief before.
    pub(super) fn take_waiting_brief(&mut self) -> Vec<Effect> {
        let waiting = if self.trial.holds_brief() { None } else { self.changed_brief.take() };
        waiting.map_or_else(Vec::new, |(brief, faces)| self.brief_changed(*brief, faces))
    }

    pub(super) fn ask_for_art(&mut self) -> Vec<Effect> {
        self.art.waiting = pictures_of(self.brief()).map(|picture| picture.file.clone()).collect();
        if self.art.waiting.is_empty() {
            return Vec::new();
        }
        vec![Effect::ReadArt { brief: self.trial.shared() }]
    }

    fn art_read(&mut self, file: &Path, art: &Arc<ArtFile>) {
        let was_known = self.has_art(file);
        self.art.waiting.retain(|waiting| waiting != file);
        self.art.unread.retain(|(unread, _)| unread != file);
        if self.trial.take_art(file, art) {
            self.held = None;
            self.forget_measures();
            if was_known {
                let file = file.display();
                self.said = Some(format!("Another program has written {file}; this is the picture as it is now."));
            }
        }
        if self.art.waiting.is_empty() && std::mem::take(&mut self.awaits_quiet_room) {
            self.said = None;
            self.take_quiet_room();
        }
    }

    /// A picture that was read before stays: another program may still be writing its file.
    fn art_unread(&mut self, file: PathBuf, why: String) {
        self.art.waiting.retain(|waiting| *waiting != file);
        if !pictures_of(self.brief()).any(|picture| picture.file == file) {
            return;
        }
        let is_shown = self.has_art(&file);
        self.said = Some(if is_shown { format!("{why} The picture before it is shown.") } else { why.clone() });
        self.art.unread.retain(|(unread, _)| *unread != file);
        self.art.unread.push((file, why));
    }

    fn has_art(&self, file: &Path) -> bool {
        pictures_of(self.brief()).any(|picture| picture.file == file && picture.read.is_some())
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
        self.autosave().into_iter().chain(self.list_again(draft)).collect()
    }
}
