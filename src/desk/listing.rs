//! Lists that are walked: the queries, whose cuts are made or whose words are let stand, the drafts, which are opened
//! or kept, and the blocks that can be written.

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::{Mode, Prompt};
use super::papers::DraftId;
use super::state::State;
use crate::brief::queries::Rule;
use crate::brief::stet::Stood;
use crate::draft::added::{AddedBlock, added};
use crate::draft::{BlockKind, Edit};
use crate::editor::Action;
use crate::queries::{mark_mends, tally};
use crate::text::quotation_marks::QuotationMarks;

/// The blocks that can be written, each with what it is for.
pub const INSERTED: [(BlockKind, &str); 6] = [
    (BlockKind::Headline, "a line or two over the blurb"),
    (BlockKind::Quote, "words of praise, and who gave them"),
    (BlockKind::NoteOnTheAuthor, "a sentence or two on who wrote or drew the book"),
    (BlockKind::OtherTitles, "other books of yours, or of the series"),
    (BlockKind::AgeLine, "for whom the book is"),
    (BlockKind::PriceLine, "what it costs, in words"),
];

impl State {
    /// Selects a query and shows its place in the copy.
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
        sheet.scrolled_away = false;
        self.mode = Mode::Queries(at);
    }

    /// A key while the queries are walked.
    pub(super) fn key_in_queries(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        match code {
            KeyCode::Down | KeyCode::Right | KeyCode::Tab | KeyCode::F(6) | KeyCode::Char('n') => {
                let count = self.sheet().map_or(1, |sheet| sheet.offers().len()).max(1);
                self.walk((at + 1) % count);
            }
            KeyCode::Up | KeyCode::Left | KeyCode::BackTab => self.walk(at.saturating_sub(1)),
            KeyCode::Enter | KeyCode::Char('t') => {
                self.make_cut(at);
                self.walk(at);
            }
            KeyCode::Char('p') => {
                self.make_plan();
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

    /// Makes the cut of a query, as one step of undo.
    fn make_cut(&mut self, at: usize) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let offers = sheet.offers();
        let offer = offers.get(at);
        if offer.is_some_and(|offer| offer.query.rule == Rule::StraightMarks) {
            return self.typeset();
        }
        match offer.and_then(|offer| offer.edit.clone()) {
            Some(edit) => self.act(Action::Replace(vec![edit])),
            None => {
                self.said = Some("There is no ready cut here: change the words, or let them stand with s.".to_owned())
            }
        }
    }

    /// Sets printed marks in the place of a keyboard's all over the draft, as one step of undo, and says how many.
    pub(super) fn typeset(&mut self) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let mends = mark_mends(&sheet.now.draft, &self.own_brief().book.language);
        let edits: Vec<Edit> = mends.iter().filter_map(|mend| mend.edit(&sheet.now.draft)).collect();
        if edits.is_empty() {
            self.said = Some("Every mark is a printed one already.".to_owned());
            return;
        }
        self.act(Action::Replace(edits));
        self.said = Some(format!("Set: {}. Ctrl-Z takes it back.", tally(mends.iter().map(|mend| mend.kind))));
    }

    /// Makes every cut of the plan, as one step of undo.
    fn make_plan(&mut self) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let planned = sheet.offers().into_iter().filter(|offer| offer.is_planned);
        let edits: Vec<Edit> = planned.filter_map(|offer| offer.edit).collect();
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

    /// Lets the words of a query stand, as one step of undo; saving the draft writes it to `stet.yaml`.
    fn let_stand(&mut self, at: usize) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let found = sheet.offers().get(at).map(|offer| Stood::new(offer.query.rule, sheet.words_of(offer.query)));
        if let Some(stood) = found {
            self.act(Action::LetStand(stood));
        }
    }
}

impl State {
    /// A key while the drafts are listed, with row `at` selected.
    pub(super) fn key_in_drafts(&mut self, at: usize, code: KeyCode) -> Vec<Effect> {
        let last = self.papers.last_row();
        let Some(draft) = self.papers.in_row(at).map(|paper| paper.id) else { return Vec::new() };
        match code {
            KeyCode::Up => self.mode = Mode::Drafts(at.saturating_sub(1)),
            KeyCode::Down => self.mode = Mode::Drafts((at + 1).min(last)),
            KeyCode::Home => self.mode = Mode::Drafts(0),
            KeyCode::End => self.mode = Mode::Drafts(last),
            KeyCode::Enter => return self.bring(draft),
            KeyCode::Char('n') => self.ask_name(Prompt::New(draft)),
            KeyCode::Char('d') => self.ask_name(Prompt::Double(draft)),
            KeyCode::Char('r') => self.ask_name(Prompt::Rename(draft)),
            KeyCode::Char('k') => self.ask_name(Prompt::Keep(draft)),
            KeyCode::Char('o') => self.ask_name(Prompt::Open),
            _ => self.mode = Mode::Drafts(at),
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
}

impl State {
    /// A key while the blocks that can be written are listed, with number `at` selected.
    pub(super) fn key_in_inserting(&mut self, at: usize, code: KeyCode) {
        let last = INSERTED.len() - 1;
        self.mode = match code {
            KeyCode::Up => Mode::Inserting(at.saturating_sub(1)),
            KeyCode::Down | KeyCode::Tab => Mode::Inserting((at + 1).min(last)),
            KeyCode::Home | KeyCode::PageUp => Mode::Inserting(0),
            KeyCode::End | KeyCode::PageDown => Mode::Inserting(last),
            KeyCode::F(12) => Mode::Writing,
            _ => Mode::Inserting(at),
        };
        if let (KeyCode::Enter, Some((kind, _))) = (code, INSERTED.get(at)) {
            self.ask(Prompt::Words(*kind), "");
        }
    }

    /// Writes a block with the words that were typed; of a quote the credit is asked for first.
    pub(super) fn write_block(&mut self, kind: BlockKind, words: &str) {
        if kind == BlockKind::Quote {
            words.clone_into(&mut self.quote_asked);
            return self.ask(Prompt::Credit, "");
        }
        let words = match kind {
            BlockKind::OtherTitles => words.split(';').map(|title| title.trim().to_owned()).collect(),
            _ => vec![words.to_owned()],
        };
        self.add_block(&AddedBlock { kind, words, credit: None });
    }

    /// Writes the quote that was typed, with its credit; without one where that is empty.
    pub(super) fn write_quote(&mut self, credit: &str) {
        let (marks, _) = QuotationMarks::of_language(&self.own_brief().book.language);
        let words = std::mem::take(&mut self.quote_asked);
        let is_marked = words.starts_with(|first: char| "\"“„«‹‘'".contains(first));
        let words = if is_marked { words } else { format!("{}{words}{}", marks.open, marks.close) };
        let credit = Some(credit.trim_start_matches(['—', '–', '-', ' ']).to_owned());
        let credit = credit.filter(|credit| !credit.is_empty());
        self.add_block(&AddedBlock { kind: BlockKind::Quote, words: vec![words], credit });
    }

    /// Puts a block into the draft, as one step of undo, with the cursor behind its words.
    fn add_block(&mut self, block: &AddedBlock) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        let edit = added(sheet.editor.text(), &sheet.now.draft, block);
        let end = edit.span.start + edit.text.trim_end().len();
        self.act(Action::Replace(vec![edit]));
        self.act(Action::PlaceCursor(end));
        self.said = Some(format!("The {} is in the draft. Ctrl-Z takes it out.", block.kind.name()));
    }
}
