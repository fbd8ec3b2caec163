//! The steps done to a text, so that they can be undone and redone without limit. Letting a wording stand is a step
//! like any other.
//!
//! Only changed stretches are kept, never the whole text. Typing is gathered into steps of a word: a step ends where a
//! word begins, where the cursor was moved, and at any other kind of change. Erasing is gathered in the same way.

use crate::brief::stet::Stood;

/// Where the cursor is, and where the selection began if there is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CursorPlace {
    /// The cursor, a byte of the text.
    pub cursor: usize,
    /// The fixed end of the selection while the cursor moves.
    pub anchor: Option<usize>,
}

/// Whether a change may join the change before it in one step of undo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EditGranularity {
    /// Typed: continues what was typed just before.
    Typing,
    /// Erased towards the start.
    ErasingBack,
    /// Erased towards the end.
    ErasingOn,
    /// A step of its own.
    Alone,
}

/// A stretch of the text, and what replaced it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextEdit {
    /// The byte at which the stretch begins.
    pub at: usize,
    /// The words that were removed.
    pub removed: String,
    /// The words that were inserted.
    pub inserted: String,
}

impl TextEdit {
    /// Makes the change in the text for which it was recorded.
    pub fn make(&self, text: &mut String) {
        text.replace_range(self.at..self.at + self.removed.len(), &self.inserted);
    }

    /// The change that undoes this one.
    fn inverted(&self) -> Self {
        Self { at: self.at, removed: self.inserted.clone(), inserted: self.removed.clone() }
    }
}

/// What a step changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Deed {
    /// Words of the text.
    Words(TextEdit),
    /// A wording is let stand.
    Stand(Stood),
    /// A wording is no longer let stand, and is asked about again.
    Ask(Stood),
}

impl Deed {
    /// The deed that undoes this one.
    fn inverted(&self) -> Self {
        match self {
            Self::Words(change) => Self::Words(change.inverted()),
            Self::Stand(stood) => Self::Ask(stood.clone()),
            Self::Ask(stood) => Self::Stand(stood.clone()),
        }
    }
}

#[derive(Debug)]
struct Step {
    deed: Deed,
    kind: EditGranularity,
    before: CursorPlace,
    after: CursorPlace,
}

/// The steps that can be undone, and those that can be redone.
#[derive(Debug, Default)]
pub struct History {
    done: Vec<Step>,
    undone: Vec<Step>,
    /// Whether the next change begins a new step in any case.
    closed: bool,
}

impl History {
    /// Records a deed. Steps that had been undone can no longer be redone.
    pub fn note(&mut self, deed: Deed, kind: EditGranularity, before: CursorPlace, after: CursorPlace) {
        self.undone.clear();
        let closed = std::mem::take(&mut self.closed);
        match (self.done.last_mut(), deed) {
            (Some(Step { deed: Deed::Words(last), kind: same, after: end, .. }), Deed::Words(change))
                if !closed && *same == kind && goes_on(last, &change, kind) =>
            {
                gather(last, change, kind);
                *end = after;
            }
            (_, deed) => self.done.push(Step { deed, kind, before, after }),
        }
    }

    /// Ends the current step, because the cursor was moved.
    pub fn close(&mut self) {
        self.closed = true;
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        !self.done.is_empty()
    }

    /// Takes back the last step: the deed that undoes it, and where the cursor was before it.
    pub fn undo(&mut self) -> Option<(Deed, CursorPlace)> {
        let step = self.done.pop()?;
        let taken = (step.deed.inverted(), step.before);
        self.undone.push(step);
        self.closed = true;
        Some(taken)
    }

    /// Takes back the last step and forgets it: the deed that undoes it, and where the cursor was before it.
    pub fn retract(&mut self) -> Option<(Deed, CursorPlace)> {
        let step = self.done.pop()?;
        self.closed = true;
        Some((step.deed.inverted(), step.before))
    }

    /// Redoes the last undone step: its deed, and where the cursor was after it.
    pub fn redo(&mut self) -> Option<(Deed, CursorPlace)> {
        let step = self.undone.pop()?;
        let made = (step.deed.clone(), step.after);
        self.done.push(step);
        self.closed = true;
        Some(made)
    }
}

/// Whether a change continues the one before it: in the same direction, in an adjoining place, and in the same word.
fn goes_on(last: &TextEdit, change: &TextEdit, kind: EditGranularity) -> bool {
    match kind {
        EditGranularity::Typing => {
            change.removed.is_empty()
                && change.at == last.at + last.inserted.len()
                && !begins_word(&last.inserted, &change.inserted)
        }
        EditGranularity::ErasingBack => {
            change.at + change.removed.len() == last.at && !begins_word(&change.removed, &last.removed)
        }
        EditGranularity::ErasingOn => change.at == last.at && !begins_word(&last.removed, &change.removed),
        EditGranularity::Alone => false,
    }
}

fn gather(last: &mut TextEdit, change: TextEdit, kind: EditGranularity) {
    match kind {
        EditGranularity::Typing => last.inserted.push_str(&change.inserted),
        EditGranularity::ErasingBack => {
            last.at = change.at;
            last.removed.insert_str(0, &change.removed);
        }
        EditGranularity::ErasingOn => last.removed.push_str(&change.removed),
        EditGranularity::Alone => {}
    }
}

/// Whether a word begins between two adjoining stretches.
fn begins_word(before: &str, after: &str) -> bool {
    before.ends_with(char::is_whitespace) && !after.starts_with(char::is_whitespace)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Types the pieces one after another, and returns the steps into which they were gathered.
    fn steps_of(pieces: &[&str]) -> Vec<String> {
        let (mut history, mut at) = (History::default(), 0);
        for piece in pieces {
            let change = TextEdit { at, removed: String::new(), inserted: (*piece).to_owned() };
            at += piece.len();
            history.note(Deed::Words(change), EditGranularity::Typing, CursorPlace::default(), CursorPlace::default());
        }
        let words = |step: Step| if let Deed::Words(change) = step.deed { change.inserted } else { String::new() };
        history.done.into_iter().map(words).collect()
    }

    #[test]
    fn typing_is_gathered_into_words_with_the_blank_after_them() {
        assert_eq!(steps_of(&["a", "n", " ", "o", "l", "d"]), ["an ", "old"]);
        assert_eq!(steps_of(&["o", "h", "!", " ", " ", "O"]), ["oh!  ", "O"]);
    }

    #[test]
    fn a_moved_cursor_ends_the_step() {
        let mut history = History::default();
        let typed = |at| Deed::Words(TextEdit { at, removed: String::new(), inserted: "a".to_owned() });
        history.note(typed(0), EditGranularity::Typing, CursorPlace::default(), CursorPlace::default());
        history.close();
        history.note(typed(1), EditGranularity::Typing, CursorPlace::default(), CursorPlace::default());
        assert_eq!(history.done.len(), 2);
    }

    #[test]
    fn a_change_takes_itself_back() {
        let change = TextEdit { at: 4, removed: "lamp".to_owned(), inserted: "light".to_owned() };
        let mut text = "the lamp".to_owned();
        change.make(&mut text);
        assert_eq!(text, "the light");
        change.inverted().make(&mut text);
        assert_eq!(text, "the lamp");
    }
}
