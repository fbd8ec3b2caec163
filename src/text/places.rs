//! Positions of some words of a text, collected without a branch.

/// Positions among the words of a text, in ascending order.
///
/// Which words are picked depends on the copy, so the processor would mispredict a branch for each word about every
/// second time. Instead every position is written, and is kept only if the count grows; otherwise the next overwrites
/// it.
pub(crate) struct PickedWords {
    /// The positions that were kept, `count` of them; the rest is of no meaning.
    places: Vec<usize>,
    count: usize,
}

impl PickedWords {
    /// An empty list with room for `words` positions, to which no more may be pushed.
    pub(crate) fn with_room_for(words: usize) -> Self {
        Self { places: vec![0; words], count: 0 }
    }

    /// Pushes `at` when `keep` is true, without branching.
    #[inline]
    pub(crate) fn push_if(&mut self, at: usize, keep: bool) {
        self.places[self.count] = at;
        self.count += usize::from(keep);
    }

    /// The positions that were kept.
    pub(crate) fn as_slice(&self) -> &[usize] {
        &self.places[..self.count]
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{any, prop_assert_eq, proptest};

    use super::PickedWords;

    proptest! {
        #[test]
        fn the_positions_are_those_that_a_filter_keeps(keep in proptest::collection::vec(any::<bool>(), 0..30)) {
            let mut picked = PickedWords::with_room_for(keep.len());
            keep.iter().enumerate().for_each(|(at, keep)| picked.push_if(at, *keep));
            prop_assert_eq!(picked.as_slice(), (0..keep.len()).filter(|at| keep[*at]).collect::<Vec<_>>());
        }
    }
}
