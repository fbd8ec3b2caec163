//! Some places among words, picked without a branch.

use super::Word;

/// Some places among words, in order.
pub(super) struct Places {
    places: Vec<usize>,
    count: usize,
}

impl Places {
    /// None yet, with room for those of all words.
    pub(super) fn among(words: &[Word]) -> Self {
        Self { places: vec![0; words.len()], count: 0 }
    }

    /// Takes a place if that is one. It is written in any case, so that the processor has nothing to guess.
    #[inline]
    pub(super) fn take(&mut self, at: usize, is_one: bool) {
        self.places[self.count] = at;
        self.count += usize::from(is_one);
    }

    /// Those that were taken.
    pub(super) fn taken(&self) -> &[usize] {
        &self.places[..self.count]
    }
}
