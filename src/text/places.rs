//! Some places among words, picked without a branch.

use super::Word;

/// Some places among words, in order.
pub(crate) struct WordPlaces {
    places: Vec<usize>,
    count: usize,
}

impl WordPlaces {
    /// None yet, with room for those of all words.
    pub(crate) fn among(words: &[Word]) -> Self {
        Self { places: vec![0; words.len()], count: 0 }
    }

    /// Takes a place if that is one. It is written in any case, so that the processor has nothing to guess.
    #[inline]
    pub(crate) fn take(&mut self, at: usize, is_one: bool) {
        self.places[self.count] = at;
        self.count += usize::from(is_one);
    }

    /// Those that were taken.
    pub(crate) fn taken(&self) -> &[usize] {
        &self.places[..self.count]
    }
}
