//! Lists that are walked: the queries, whose cuts are made or whose words are let stand, other words, which are put in,
//! the drafts, which are opened or kept, the blocks that can be written, and the differences from a draft that stands
//! beside, which are taken over.

use ratatui::crossterm::event::KeyCode;

use super::beside::Beside;
use super::event::Effect;
use super::keys::{self, Command};
use super::mode::{Mode, Prompt, WordPage, WordRow, WordScope};
use super::papers::DraftId;
use super::sheet::DraftSheet;
use super::state::State;
use crate::brief::queries::Rule;
use crate::brief::stet::{Stet, Stood};
use crate::draft::added::{AddedBlock, added};
use crate::draft::{BlockKind, Edit};
use crate::editor::Action;
use crate::print::other_words::{why_none, wins};
use crate::print::words::counted;
use crate::queries::other_words::{AskedWord, NoOthers};
use crate::queries::{mark_mends, tally};
use crate::report::cuts::PricedCut;
use crate::report::other_words::{OtherWords, WhichWords};
use crate::report::tighten::DraftFile;
use crate::text::quotation_marks::QuotationMarks;

/// The number of differences that PageDown and PageUp pass over.
const TURN: usize = 5;

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
            // The walk begins all the same, for from it the copy can be read closely.
            let said = match self.is_close() {
                true => "There is no query, not even on a close read.",
                false => "There is no query: nothing asks for a second look. c reads closely.",
            };
            self.said = Some(said.to_owned());
            self.mode = Mode::Queries(0);
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
            KeyCode::Char('c') => self.turn_close(at),
            _ => self.walk(at),
        }
        Vec::new()
    }

    /// Reads closely, or no longer, and stays at the query in hand where it is still told.
    fn turn_close(&mut self, at: usize) {
        let close = !self.is_close();
        let in_hand = self.sheet().and_then(|sheet| sheet.offers().get(at).map(|offer| offer.query.clone()));
        self.read_closely(close);
        self.assess();
        let again = self.sheet().and_then(|sheet| {
            sheet.offers().iter().position(|offer| in_hand.as_ref().is_some_and(|query| query == offer.query))
        });
        self.walk(again.unwrap_or(0));
        if self.sheet().is_some_and(|sheet| !sheet.offers().is_empty()) {
            self.said = Some(match close {
                true => "Read closely: echoes, pale verbs and words of stress are told too. c ends it.".to_owned(),
                false => "No longer read closely.".to_owned(),
            });
        }
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
    /// Shows other words for the one at the cursor; where it has none, says why and shows those of the whole draft.
    pub(super) fn open_words(&mut self) {
        let found = self.words_found(WordScope::Here);
        if !self.show_found(WordScope::Here, 0, &found) {
            let word = found.words.first();
            let told = word.and_then(|word| Some((self.written(&word.asked)?, word.asked.others.as_ref().err())));
            let why = told.map_or("The cursor stands on no word.".to_owned(), |(written, why)| {
                let why = why_none(why.copied().unwrap_or(NoOthers::Unlisted));
                format!("No other word for \"{written}\": {why}.")
            });
            let has_others = self.open_whole(0);
            let rest = if has_others { "Here are the words of the whole draft." } else { "Nor has another word one." };
            self.said = Some(format!("{why} {rest}"));
        }
    }

    /// Shows other words for those of the whole draft, with a row selected; false where there are none.
    fn open_whole(&mut self, at: usize) -> bool {
        let found = self.words_found(WordScope::Whole);
        self.show_found(WordScope::Whole, at, &found)
    }

    /// Finds other words in the draft in front.
    fn words_found(&mut self, scope: WordScope) -> OtherWords {
        self.assess();
        let Some(sheet) = self.sheet() else { return OtherWords::default() };
        let mut stet = Stet::default();
        for stood in sheet.editor.stood() {
            stet.add("", stood.rule, &stood.wording);
        }
        let file = DraftFile { name: "", source: sheet.editor.text(), stet: &stet };
        let which = match scope {
            WordScope::Here => WhichWords::At(sheet.editor.cursor()),
            WordScope::Whole => WhichWords::Whole,
        };
        OtherWords::of(file, &sheet.now.draft, self.brief(), (&self.faces, &sheet.now.report), which)
    }

    /// A word as it is written in the draft in front.
    fn written(&self, asked: &AskedWord) -> Option<String> {
        let block = self.sheet()?.now.draft.blocks.get(asked.block)?;
        Some(block.text().get(asked.range.clone())?.to_owned())
    }

    /// Shows what was found, with a row selected; false where no other word was.
    fn show_found(&mut self, scope: WordScope, at: usize, found: &OtherWords) -> bool {
        let words = found.words.iter().flat_map(|word| word.others.iter().map(|other| (Some(&word.asked), other)));
        let winners = found.lines.iter().flat_map(|line| line.winners.iter().map(|other| (None, other)));
        let rows: Vec<WordRow> = words.chain(winners).filter_map(|(asked, other)| self.row(asked, other)).collect();
        if rows.is_empty() {
            return false;
        }
        let unfamiliar = found.words.iter().filter(|word| !word.others.is_empty()).count();
        let heading = match scope {
            WordScope::Here => "the nearest in meaning first".to_owned(),
            WordScope::Whole if found.lines.is_empty() => {
                format!("{} that the readers may not know", counted(unfamiliar, "word"))
            }
            WordScope::Whole => format!(
                "{} that the readers may not know; below, words that win {}",
                counted(unfamiliar, "word"),
                counted(found.lines.len(), "line")
            ),
        };
        let found_for = self.sheet().map_or(0, DraftSheet::assessment);
        self.show_words(WordPage { scope, at, heading, rows, found_for });
        true
    }

    fn row(&self, asked: Option<&AskedWord>, other: &PricedCut) -> Option<WordRow> {
        let block = self.sheet()?.now.draft.blocks.get(other.block)?;
        // Of a word that wins a line the article goes along.
        let range = asked.map_or(other.cut.range.clone(), |asked| asked.range.clone());
        Some(WordRow {
            word: block.text().get(range.clone())?.to_owned(),
            span: block.span(range),
            other: other.cut.wording.clone(),
            wins: wins(other),
            edit: other.edit.clone(),
        })
    }

    /// Shows a page of other words, with the place of the selected one in the copy.
    pub(super) fn show_words(&mut self, mut page: WordPage) {
        page.at = page.at.min(page.rows.len().saturating_sub(1));
        if let (Some(row), Some(sheet)) = (page.rows.get(page.at), self.sheet_mut()) {
            sheet.editor.apply(Action::PlaceCursor(row.span.start), &[]);
            sheet.shown_words = Some(row.span.start..row.span.end);
            sheet.scrolled_away = false;
        }
        self.mode = Mode::OtherWords(Box::new(page));
    }

    /// A key while other words are shown.
    pub(super) fn key_in_words(&mut self, page: WordPage, code: KeyCode) {
        self.assess();
        let (at, count, scope) = (page.at, page.rows.len().max(1), page.scope);
        // What was found for another text cannot be put into this one.
        let is_old = self.sheet().is_none_or(|sheet| sheet.assessment() != page.found_for);
        match code {
            KeyCode::Down | KeyCode::Right => self.show_words(WordPage { at: (at + 1) % count, ..page }),
            KeyCode::Up | KeyCode::Left => self.show_words(WordPage { at: at.saturating_sub(1), ..page }),
            KeyCode::Tab | KeyCode::BackTab if scope == WordScope::Whole => self.open_words(),
            KeyCode::Tab | KeyCode::BackTab => {
                if !self.open_whole(0) {
                    self.show_words(page);
                    self.said = Some("No word that the readers may not know has another.".to_owned());
                }
            }
            KeyCode::Enter if !is_old => self.put_word_in(&page),
            KeyCode::Char('u') => {
                self.act(Action::Undo);
                self.look_again(scope, at);
            }
            _ if is_old => self.look_again(scope, at),
            _ => self.show_words(page),
        }
    }

    /// Finds other words again in a text that has changed.
    fn look_again(&mut self, scope: WordScope, at: usize) {
        let found = self.words_found(scope);
        self.show_found(scope, at, &found);
    }

    /// Puts the selected word in, as one step of undo. The list of the whole draft stays open as long as it has a row.
    fn put_word_in(&mut self, page: &WordPage) {
        let Some(row) = page.rows.get(page.at) else { return };
        self.act(Action::Replace(vec![row.edit.clone()]));
        let said = format!("\"{}\" stands in the place of \"{}\". Ctrl-Z takes it back.", row.other, row.word);
        if page.scope == WordScope::Here || !self.open_whole(page.at) {
            self.said = Some(said);
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
        let draft = next.id;
        // An open draft is compared as it stands on the desk, unsaved words included.
        match &next.sheet {
            Some(sheet) => {
                let text = sheet.editor.text().to_owned();
                self.set_beside(draft, &text);
                Vec::new()
            }
            None => vec![Effect::LookAt { draft, path: next.path.clone() }],
        }
    }

    /// Shows a draft beside the one in front.
    pub(super) fn set_beside(&mut self, draft: DraftId, text: &str) {
        self.assess();
        let Some(sheet) = self.sheet() else { return };
        self.mode = Mode::Beside(Box::new(Beside::new(draft, text, sheet, (self.brief(), &self.faces))));
    }

    /// A key while two drafts are side by side.
    pub(super) fn key_beside(&mut self, mut beside: Box<Beside>, key: KeyCode) -> Vec<Effect> {
        if keys::pressed(key.into()) == Some(Command::Beside) {
            return Vec::new();
        }
        let last = beside.last();
        match key {
            KeyCode::Left => return self.look_beside(beside.draft, -1),
            KeyCode::Right => return self.look_beside(beside.draft, 1),
            KeyCode::Down => beside.at = (beside.at + 1).min(last),
            KeyCode::Up => beside.at = beside.at.saturating_sub(1),
            KeyCode::PageDown => beside.at = (beside.at + TURN).min(last),
            KeyCode::PageUp => beside.at = beside.at.saturating_sub(TURN),
            KeyCode::Enter => self.take_over(&beside),
            KeyCode::Char('u') => self.act(Action::Undo),
            _ => {}
        }
        self.mode = Mode::Beside(beside);
        self.compare_again();
        Vec::new()
    }

    /// Finds the differences again if the draft in front has changed.
    pub(super) fn compare_again(&mut self) {
        self.assess();
        let mut mode = std::mem::take(&mut self.mode);
        if let (Mode::Beside(beside), Some(sheet)) = (&mut mode, self.sheet()) {
            beside.compare(sheet);
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
