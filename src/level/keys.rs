//! A set of keys of spellings, whose greatest size is known beforehand.
//!
//! In a text that is not easy, the level looks up every other word in such a set, so the set is simpler and faster than
//! a general one: at most half of the places are filled, and a key whose place is taken goes to the next free place.

use crate::text::spelling::hash;

/// The fewest places.
const FEWEST: usize = 8;

/// A set of keys of spellings: a table with open addressing, of which at least half is free. A test compares the table
/// with a general set (`it_holds_what_another_set_holds`).
#[derive(Debug)]
pub(super) struct Keys {
    /// The keys; zero, which is the key of no word, where a place is free.
    places: Vec<u64>,
}

impl Keys {
    /// An empty set with room for `most` keys, to which no more may be added.
    pub(super) fn with_room_for(most: usize) -> Self {
        Self { places: vec![0; (2 * most).next_power_of_two().max(FEWEST)] }
    }

    /// Adds a key that is not zero, and tells whether it is new.
    #[inline]
    pub(super) fn insert(&mut self, key: u64) -> bool {
        let at = self.place(key);
        let before = std::mem::replace(&mut self.places[at], key);
        before != key
    }

    /// Whether the set holds a key; it never holds zero, the key of an empty word.
    #[inline]
    pub(super) fn has(&self, key: u64) -> bool {
        (key != 0) & (self.places[self.place(key)] == key)
    }

    /// The place at which a key stands, or would stand.
    #[inline]
    fn place(&self, key: u64) -> usize {
        let last = self.places.len() - 1;
        let mut at = usize::try_from(hash(key) >> (u64::BITS / 2)).unwrap_or(0) & last;
        // A free place or the key itself ends the search. Both tests are in one branch: which of them ends the search
        // depends on the copy, and the processor would predict it wrong too often. Half of the places are free, so the
        // loop ends.
        while (self.places[at] != 0) & (self.places[at] != key) {
            at = (at + 1) & last;
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use proptest::prelude::{prop_assert_eq, proptest};

    use super::Keys;

    proptest! {
        #[test]
        fn it_holds_what_another_set_holds(keys in proptest::collection::vec(1_u64..60, 0..40)) {
            let (mut own, mut other) = (Keys::with_room_for(keys.len()), HashSet::new());
            prop_assert_eq!(own.has(0), false);
            for key in keys {
                prop_assert_eq!(own.has(key), other.contains(&key));
                prop_assert_eq!(own.insert(key), other.insert(key));
                prop_assert_eq!(own.has(key), true);
            }
        }
    }
}
