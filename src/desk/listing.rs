//! Lists that are walked: the queries, whose cuts are made or whose words are let stand, other words, which are put in,
//! and the blocks that can be written.

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::{Mode, Prompt, WordPage, WordRow, WordScope};
use super::sheet::DraftSheet;
use super::state::State;
use crate::brief::queries::Rule;
use crate::brief::stet::{Stet, Stood};
use crate::draft::added::{AddedBlock, added};
use crate::draft::{BlockKind, Edit};
use crate::editor::Action;
use crate::print::other_words::{why_none, wins_in_words};
use crate::print::words::counted;
use crate::queries::other_words::{AskedWord, NoOthers};
use crate::queries::{mark_mends, tally};
use crate::report::cuts::PricedCut;
use crate::report::other_words::{OtherWords, WhichWords};
use crate::report::tighten::DraftFile;
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
            } else if self.unpriced().is_some() {
                "The plan for this text is being found: press p again in a moment."
            } else {
                "There is no plan: no cut that is ready helps."
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
            wins: wins_in_words(other),
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
            let typed = self.words_asked.take().filter(|(typed, _)| typed == kind);
            self.ask_on(Prompt::Words(*kind), &typed.map_or_else(String::new, |(_, words)| words));
        }
    }

    /// Goes back from the words of a new block to the list, and from a credit to its quote; what was typed is there
    /// when it is asked for again.
    pub(super) fn back_from_words(&mut self, prompt: Prompt, typed: &str) {
        match prompt {
            Prompt::Credit => {
                let quote = self.words_asked.take().map_or_else(String::new, |(_, words)| words);
                self.ask_on(Prompt::Words(BlockKind::Quote), &quote);
            }
            Prompt::Words(kind) => {
                self.words_asked = Some((kind, typed.to_owned()));
                self.mode = Mode::Inserting(INSERTED.iter().position(|(of, _)| *of == kind).unwrap_or(0));
            }
            _ => {}
        }
    }

    /// Writes a block with the words that were typed; of a quote the credit is asked for first.
    pub(super) fn write_block(&mut self, kind: BlockKind, words: &str) {
        if kind == BlockKind::Quote {
            self.words_asked = Some((kind, words.to_owned()));
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
        let words = self.words_asked.take().map_or_else(String::new, |(_, words)| words);
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
