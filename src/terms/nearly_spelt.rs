//! Looks up the names that a word may be spelt nearly like, without comparing it with each of them.
//!
//! Two words at most two steps of spelling apart become equal when up to two letters are left out of each, as in W.
//! Garbe's symmetric deletion (2012, from memory). Only the beginnings of words are looked up: that finds every near
//! name and some others, so the caller still has to compare.

use std::collections::BTreeSet;
use std::hash::{BuildHasher, BuildHasherDefault, DefaultHasher};

use crate::text::syllables::fold;

/// How many letters are looked at, from the beginning of a word.
const LETTERS: usize = 8;
/// Steps of spelling, each of which leaves one letter out.
const STEPS: usize = 2;

/// Names by their beginnings with letters left out.
pub(super) struct NearlySpelt {
    /// Each beginning, as a hash, with the position of a name that has it; sorted.
    places: Vec<(u64, usize)>,
}

impl NearlySpelt {
    /// Prepares names to be looked up; each is known by its position.
    pub(super) fn of<'a>(names: impl Iterator<Item = &'a str>) -> Self {
        let of_name = |(at, name)| beginnings(name).into_iter().map(move |beginning| (beginning, at));
        let mut places: Vec<(u64, usize)> = names.enumerate().flat_map(of_name).collect();
        places.sort_unstable();
        Self { places }
    }

    /// The positions of all names that are at most two steps of spelling away from a word, capitals and accents aside,
    /// and of some that are farther.
    pub(super) fn places(&self, word: &str) -> BTreeSet<usize> {
        let with = |beginning: u64| {
            let first = self.places.partition_point(|(known, _)| *known < beginning);
            self.places[first..].iter().take_while(move |(known, _)| *known == beginning).map(|(_, at)| *at)
        };
        beginnings(word).into_iter().flat_map(with).collect()
    }
}

/// What a word begins with, in every way to leave out up to two of its first letters.
fn beginnings(word: &str) -> BTreeSet<u64> {
    let hasher = BuildHasherDefault::<DefaultHasher>::default();
    let mut ways: BTreeSet<Vec<char>> = BTreeSet::from([fold(word).chars().take(LETTERS).collect()]);
    for _ in 0..STEPS {
        let shorter = |way: &Vec<char>| -> Vec<Vec<char>> {
            (0..way.len()).map(|at| [&way[..at], &way[at + 1..]].concat()).collect()
        };
        let more: Vec<Vec<char>> = ways.iter().flat_map(shorter).collect();
        ways.extend(more);
    }
    ways.iter().map(|way| hasher.hash_one(&way[..way.len().min(LETTERS - STEPS)])).collect()
}

#[cfg(test)]
mod tests {
    use strsim::osa_distance;

    use super::NearlySpelt;

    /// Words one step of spelling away from a word, where three letters stand for all, and the word itself.
    fn a_step_away(word: &str) -> Vec<String> {
        let letters: Vec<char> = word.chars().collect();
        let mut words = vec![letters.clone()];
        for place in 0..letters.len() {
            let (before, behind) = letters.split_at(place);
            words.push([before, &behind[1..]].concat());
            for letter in ['a', 'n', 'q'] {
                words.push([before, &[letter], behind].concat());
                words.push([before, &[letter], &behind[1..]].concat());
            }
            let mut turned = letters.clone();
            turned.swap(place, (place + 1).min(letters.len() - 1));
            words.push(turned);
        }
        words.into_iter().map(|word| word.into_iter().collect()).collect()
    }

    #[test]
    fn every_word_that_is_near_is_found() {
        let names = ["Bettina", "Bo", "Quillon", "Siobh\u{e1}n"];
        let near = NearlySpelt::of(names.into_iter());
        for (at, name) in names.iter().enumerate() {
            let plain = name.to_lowercase().replace('\u{e1}', "a");
            for word in a_step_away(&plain).iter().flat_map(|word| a_step_away(word)) {
                assert!(osa_distance(&word, &plain) > 2 || near.places(&word).contains(&at), "{word} {name}");
            }
        }
        assert!(near.places("Zephyrine").is_empty());
    }
}
