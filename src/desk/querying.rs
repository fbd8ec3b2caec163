//! Walking the queries: making their cuts, or letting their words stand.

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::Mode;
use super::state::State;
use crate::brief::stet::Stood;
use crate::draft::Edit;
use crate::editor::Action;

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
        match sheet.offers().get(at).and_then(|offer| offer.edit.clone()) {
            Some(edit) => self.act(Action::Replace(vec![edit])),
            None => {
                self.said = Some("There is no ready cut here: change the words, or let them stand with s.".to_owned())
            }
        }
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
