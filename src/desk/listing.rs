//! The list of drafts: opening one, or asking for something to be done with one.

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::{Mode, Prompt};
use super::papers::DraftId;
use super::state::State;

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
