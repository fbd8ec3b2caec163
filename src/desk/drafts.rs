//! The drafts of the book and their kept copies: the list of them with their figures, and those that are looked at
//! beside the draft in front, taken over in part, or brought back.

use std::path::PathBuf;
use std::sync::Arc;

use ratatui::crossterm::event::KeyCode;

use super::beside::{Beside, BesideOf};
use super::event::{CopyUse, Effect};
use super::keys::{self, Command};
use super::mode::{Mode, Prompt};
use super::papers::{DraftId, DraftOrigin, DraftRow, ListedCopy, PaperFacts};
use super::state::State;
use super::unpriced::MeasuredBy;
use crate::editor::Action;
use crate::report::kept::KeptFigures;

/// The rows that PageDown and PageUp pass over.
const TURN: usize = 10;

/// What is told in a row of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedDraft {
    /// The file of a draft, or of a kept copy its time and its name.
    pub name: String,
    /// What is to be known of the draft, as `, in front`; empty where nothing is.
    pub note: String,
    /// What was measured, as the draft stands at the desk; none where that is not known.
    pub figures: Option<KeptFigures>,
    /// The day on which the file was written, or the copy kept; empty where that is not known.
    pub day: String,
    /// How many copies of a draft are kept; none in the row of a copy.
    pub kept: Option<usize>,
}

impl State {
    /// Shows the list, with the row of the draft in front selected, and asks what is known of each draft.
    pub(super) fn open_drafts(&mut self) -> Vec<Effect> {
        for sheet in self.papers.iter_mut().filter_map(|paper| paper.sheet.as_mut()) {
            sheet.measure(self.trial.brief(), &self.faces);
        }
        self.mode = Mode::Drafts(self.papers.listed_row_of(self.front));
        vec![self.list(|_| true)]
    }

    /// Asks again what is known of a draft whose file has changed, while it is listed.
    pub(super) fn list_again(&self, draft: DraftId) -> Option<Effect> {
        matches!(self.mode, Mode::Drafts(_)).then(|| self.list(|listed| listed == draft))
    }

    /// Lists drafts that another program has written since the desk was opened. The selected row stays with its draft.
    pub(super) fn list_found(&mut self, found: Vec<PathBuf>) -> Vec<Effect> {
        let in_hand = if let Mode::Drafts(at) = self.mode { self.papers.listed().get(at).copied() } else { None };
        let mut new = Vec::new();
        for path in found {
            if self.papers.with_path(&path).is_none() {
                let draft = self.papers.new_id();
                self.papers.enter(draft, path);
                new.push(draft);
            }
        }
        let Some(in_hand) = in_hand.filter(|_| !new.is_empty()) else { return Vec::new() };
        self.mode = Mode::Drafts(self.papers.listed().iter().position(|row| *row == in_hand).unwrap_or(0));
        vec![self.list(|draft| new.contains(&draft))]
    }

    fn list(&self, wanted: impl Fn(DraftId) -> bool) -> Effect {
        let by = MeasuredBy { brief: self.trial.shared(), faces: Arc::clone(&self.faces) };
        // Those that the list opens at come first: of a thousand drafts the others take longer than anybody looks.
        let front = self.papers.row_of(self.front).unwrap_or(0);
        let papers = self.papers.iter().enumerate().filter(|(_, paper)| wanted(paper.id));
        let mut papers: Vec<_> = papers.map(|(row, paper)| (row.abs_diff(front), paper)).collect();
        papers.sort_by_key(|(away, _)| *away);
        Effect::ListDrafts { drafts: papers.into_iter().map(|(_, paper)| (paper.id, paper.path.clone())).collect(), by }
    }

    /// Takes over what is known of a draft. The selected row stays with its draft or copy.
    pub(super) fn know_of(&mut self, draft: DraftId, facts: PaperFacts) {
        let in_hand = if let Mode::Drafts(at) = self.mode { self.papers.listed().get(at).copied() } else { None };
        if let Some(paper) = self.papers.get_mut(draft) {
            paper.facts = Some(facts);
        }
        let listed = self.papers.listed();
        let at = in_hand.and_then(|row| listed.iter().position(|known| *known == row));
        if let (Mode::Drafts(in_hand), Some(at)) = (&mut self.mode, at) {
            *in_hand = at;
        }
    }

    /// Notes a copy that was just kept of the draft with a file.
    pub(super) fn note_copy(&mut self, of: &std::path::Path, copy: ListedCopy) {
        let Some(paper) = self.papers.with_path(of) else { return };
        let (draft, mut facts) = (paper.id, paper.facts.clone().unwrap_or_default());
        facts.copies.insert(0, copy);
        self.know_of(draft, facts);
    }

    /// What is told in a row of the list.
    pub fn listed_draft(&self, row: DraftRow) -> Option<ListedDraft> {
        let paper = self.papers.get(row.draft())?;
        if let DraftRow::Copy(_, number) = row {
            let ListedCopy { record, .. } = paper.facts.as_ref()?.copies.get(number)?;
            let (name, day) = (row_name(paper.facts.as_ref()?.copies.get(number)?), day_of(&record.kept));
            return Some(ListedDraft { name, note: String::new(), figures: record.figures, day, kept: None });
        }
        let standing = match &paper.sheet {
            Some(sheet) if sheet.is_changed() => ", not saved",
            Some(_) if paper.id == self.front => ", in front",
            Some(_) => ", open",
            None => "",
        };
        let waits = if paper.has_recovered_words { ", unsaved words are kept" } else { "" };
        let origin = match paper.origin {
            DraftOrigin::Book => "",
            DraftOrigin::Elsewhere => ", not in the book's folder",
        };
        let facts = paper.facts.as_ref();
        let at_desk = paper.sheet.as_ref().map(|sheet| KeptFigures::of(&sheet.now.report));
        Some(ListedDraft {
            name: paper.path.display().to_string(),
            note: format!("{standing}{waits}{origin}"),
            figures: at_desk.or(facts.and_then(|facts| facts.figures)),
            day: facts.map_or(String::new(), |facts| day_of(&facts.written)),
            kept: facts.map(|facts| facts.copies.len()),
        })
    }

    /// The row of the list of drafts in hand, where the list is open or a line is typed for a draft in it.
    pub fn draft_row_in_hand(&self) -> Option<usize> {
        match &self.mode {
            Mode::Drafts(at) => Some(*at),
            Mode::Prompt(prompt, _) => prompt.draft().map(|draft| self.papers.listed_row_of(draft)),
            _ => None,
        }
    }

    /// A key while the drafts are listed, with row `at` selected.
    pub(super) fn key_in_drafts(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        let rows = self.papers.listed();
        let last = rows.len().saturating_sub(1);
        let Some(row) = rows.get(at.min(last)).copied() else { return Vec::new() };
        self.mode = Mode::Drafts(at.min(last));
        let to = |at: usize| Mode::Drafts(at.min(last));
        match (code, row) {
            (KeyCode::Up, _) => self.mode = to(at.saturating_sub(1)),
            (KeyCode::Down, _) => self.mode = to(at + 1),
            (KeyCode::PageUp, _) => self.mode = to(at.saturating_sub(TURN)),
            (KeyCode::PageDown, _) => self.mode = to(at + TURN),
            (KeyCode::Home, _) => self.mode = to(0),
            (KeyCode::End, _) => self.mode = to(last),
            (KeyCode::Enter | KeyCode::Char('b'), DraftRow::Copy(of, number)) => {
                return self.read_copy(of, number, CopyUse::Beside);
            }
            (KeyCode::Char('t'), DraftRow::Copy(of, number)) => return self.read_copy(of, number, CopyUse::Back),
            (KeyCode::Enter, DraftRow::Draft(draft)) => {
                self.mode = Mode::Writing;
                return self.bring(draft);
            }
            (KeyCode::Char('b'), DraftRow::Draft(draft)) if draft == self.front => {
                self.said = Some("This is the draft in front: choose another to see it beside this one.".to_owned());
            }
            (KeyCode::Char('b'), DraftRow::Draft(draft)) => return self.show_beside(draft),
            (KeyCode::Char('n'), row) => self.ask_name(Prompt::New(row.draft())),
            (KeyCode::Char('d'), DraftRow::Draft(draft)) => self.ask_name(Prompt::Double(draft)),
            (KeyCode::Char('r'), DraftRow::Draft(draft)) => self.ask_name(Prompt::Rename(draft)),
            (KeyCode::Char('k'), DraftRow::Draft(draft)) => self.ask_name(Prompt::Keep(draft)),
            (KeyCode::Char('o'), _) => self.ask_name(Prompt::Open),
            (KeyCode::Char('t'), DraftRow::Draft(_)) => {
                let told = "Choose a kept copy first: the copies of a draft stand under it.";
                self.said = Some(told.to_owned());
            }
            _ => {}
        }
        Vec::new()
    }

    /// Brings an open draft to the front, and asks again about recovered words that wait for it; a draft that is not
    /// open is opened.
    fn bring(&mut self, draft: DraftId) -> Vec<Effect> {
        match self.papers.get(draft) {
            Some(paper) if paper.sheet.is_some() => {
                let asks = paper.has_recovered_words;
                self.front = draft;
                if asks { vec![Effect::OfferRecovered { draft }] } else { Vec::new() }
            }
            Some(paper) => vec![Effect::Open { draft, path: paper.path.clone() }],
            None => Vec::new(),
        }
    }

    /// Brings a draft to the front and asks for one of its kept copies, to show it beside the draft or to bring it
    /// back.
    fn read_copy(&mut self, of: DraftId, number: usize, what_for: CopyUse) -> Vec<Effect> {
        let copy = self.papers.get(of).and_then(|paper| paper.facts.as_ref()?.copies.get(number).cloned());
        let Some(copy) = copy else { return Vec::new() };
        let mut effects = self.bring(of);
        effects.push(Effect::ReadCopy { of, copy, what_for });
        effects
    }

    /// A kept copy was read: it is shown beside its draft, or brought back.
    pub(super) fn copy_read(&mut self, of: DraftId, copy: ListedCopy, text: &str, what_for: CopyUse) {
        // A question about the draft, such as one of recovered words, comes first.
        if self.front != of || self.mode.asks() {
            return;
        }
        self.assess();
        match what_for {
            CopyUse::Back => self.bring_back(&copy, text),
            CopyUse::Beside => {
                let Some(sheet) = self.sheet() else { return };
                let of = BesideOf::Copy(copy);
                self.mode = Mode::Beside(Box::new(Beside::new(of, text, sheet, (self.brief(), &self.faces))));
            }
        }
    }

    /// Puts the words of a kept copy in the place of those of the draft in front, as one step of undo.
    pub(super) fn bring_back(&mut self, copy: &ListedCopy, text: &str) {
        let name = self.name();
        self.mode = Mode::Writing;
        let Some(sheet) = self.sheet() else { return };
        if sheet.editor.text() == text {
            self.said = Some(format!("{name} has the words of that copy already."));
            return;
        }
        self.replace_all(text);
        let when = copy.told();
        self.said = Some(format!("{name} has the words of the copy {when}. Ctrl-Z takes that back; Ctrl-S saves it."));
    }

    /// Puts other words in the place of all of the draft in front, as one step of undo. The cursor goes to where the
    /// two begin to differ.
    pub(super) fn replace_all(&mut self, words: &str) {
        let here = self.sheet().map_or("", |sheet| sheet.editor.text());
        let same = here.chars().zip(words.chars()).take_while(|(one, other)| one == other);
        let first: usize = same.map(|(letter, _)| letter.len_utf8()).sum();
        self.act(Action::SelectAll);
        self.act(Action::Paste(words.to_owned()));
        self.act(Action::PlaceCursor(first));
    }
}

impl State {
    /// Shows another draft beside the one in front: the next in the list after `from`, forwards or backwards.
    pub(super) fn look_beside(&mut self, from: DraftId, step: isize) -> Vec<Effect> {
        let count = self.papers.iter().count() as isize;
        let from = self.papers.row_of(from).unwrap_or(0) as isize;
        // The walk goes once round the whole list, so each other draft comes up once.
        let rows = (1..=count).map(|steps| (from + step * steps).rem_euclid(count) as usize);
        let next = rows.filter_map(|row| self.papers.in_row(row)).find(|paper| paper.id != self.front);
        let Some(next) = next else {
            self.said = Some("There is no other draft of this book; Ctrl-O makes a double of this one.".to_owned());
            return Vec::new();
        };
        self.show_beside(next.id)
    }

    /// Shows a draft beside the one in front; one that is open as it stands on the desk, unsaved words included.
    fn show_beside(&mut self, draft: DraftId) -> Vec<Effect> {
        let Some(paper) = self.papers.get(draft) else { return Vec::new() };
        match &paper.sheet {
            Some(sheet) => {
                let text = sheet.editor.text().to_owned();
                self.set_beside(draft, &text);
                Vec::new()
            }
            None => vec![Effect::LookAt { draft, path: paper.path.clone() }],
        }
    }

    /// Shows a draft beside the one in front.
    pub(super) fn set_beside(&mut self, draft: DraftId, text: &str) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let of = BesideOf::Draft(draft);
        self.mode = Mode::Beside(Box::new(Beside::new(of, text, sheet, (self.brief(), &self.faces))));
    }

    /// A key while two drafts are side by side.
    pub(super) fn key_beside(&mut self, mut beside: Box<Beside>, key: KeyCode) -> Vec<Effect> {
        if keys::pressed(key.into()) == Some(Command::Beside) {
            return Vec::new();
        }
        let (at, page) = (beside.at, beside.page());
        match key {
            KeyCode::Left => return self.look_beside(beside.draft().unwrap_or(self.front), -1),
            KeyCode::Right => return self.look_beside(beside.draft().unwrap_or(self.front), 1),
            KeyCode::Down => beside.select(at + 1),
            KeyCode::Up => beside.select(at.saturating_sub(1)),
            KeyCode::PageDown | KeyCode::Char(' ') => beside.scroll(page),
            KeyCode::PageUp => beside.scroll(-page),
            KeyCode::Home => beside.scroll(isize::MIN),
            KeyCode::End => beside.scroll(isize::MAX),
            // What is taken over is seen first.
            KeyCode::Enter if beside.changes().is_empty() || beside.brings_into_sight() => self.take_over(&beside),
            KeyCode::Char('t') => {
                if let BesideOf::Copy(copy) = &beside.of {
                    self.bring_back(copy, &beside.text);
                    return Vec::new();
                }
            }
            KeyCode::Char('u') => self.act(Action::Undo),
            _ => {}
        }
        self.mode = Mode::Beside(beside);
        self.compare_again();
        Vec::new()
    }

    /// Finds the differences again if the draft in front has changed, and the rows that are in sight.
    pub(super) fn compare_again(&mut self) {
        self.assess();
        let (areas, brackets) = (self.areas(), self.theme.signs.brackets);
        let columns = areas.beside_columns();
        let mut mode = std::mem::take(&mut self.mode);
        if let (Mode::Beside(beside), Some(sheet)) = (&mut mode, self.sheet()) {
            beside.compare(sheet);
            beside.make_rows(columns, brackets);
            beside.show(usize::from(areas.beside(beside.row_count()).text.height));
        }
        self.mode = mode;
    }

    /// Applies the selected difference to the draft in front, as one step of undo.
    fn take_over(&mut self, beside: &Beside) {
        let Some(sheet) = self.sheet() else { return };
        if beside.changes().is_empty() {
            self.said = Some("The two say the same.".to_owned());
            return;
        }
        match beside.edits(sheet) {
            Some(edits) => self.act(Action::Replace(edits)),
            None => self.said = Some("This cannot be taken alone; copy it by hand, or take another first.".to_owned()),
        }
    }
}

/// The name of a copy in the list: the time at which it was kept, and what the author called it.
fn row_name(copy: &ListedCopy) -> String {
    let time = copy.record.kept.get(11..16).unwrap_or_default();
    let parts = ["kept", time, &copy.record.name].into_iter().filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(" ")
}

/// The day of a moment that is written as `2026-11-25 14:10`.
fn day_of(moment: &str) -> String {
    moment.get(..10).unwrap_or(moment).to_owned()
}
