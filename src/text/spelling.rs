//! A spelling and what the dictionary says about it, in one number.
//!
//! The file is compiled twice: into the build script, which lays the dictionary out, and into the program, which looks
//! words up. Both have to turn a word into the same number, so they share the code. The file may therefore use nothing
//! that only one of the two has.
//!
//! | bits | what they hold |
//! |---|---|
//! | 0 to 55 | the key, which tells one spelling from another |
//! | 56 to 59 | the syllables, zero for a word that the dictionary lacks |
//! | 60 to 63 | the marks ([`WordMark`]) |
//!
//! Up to seven bytes the key is the word itself, in small letters, its first byte lowest. Of a longer word it is a hash
//! with the highest bit set, so that two different long words are taken for one another about once in 10^16 times.
//!
//! The dictionary also has the forms of familiar words whose syllables it does not know, for their marks. So every word
//! of letters alone that is familiar by the lists that the program carries is in the dictionary.

use std::hash::{BuildHasherDefault, Hasher};

/// The multiplier of the hashes: 2^64 divided by the golden ratio, made odd.
const FACTOR: u64 = 0x9e37_79b9_7f4a_7c15;
const KEY_BITS: u32 = 56;
const KEY: u64 = (1 << KEY_BITS) - 1;
/// The bit that is set in the key of a long word and not in the key of a short one: seven bytes of ASCII leave it free.
const LONG: u64 = 1 << (KEY_BITS - 1);
/// The bit that tells, in the key of a long word, whether the word is letters of ASCII alone.
const LETTERS: u64 = LONG >> 1;
/// The longest word that is its own key, in bytes.
const SHORT: usize = 7;
/// The most syllables that an entry can hold.
pub(crate) const MOST_SYLLABLES: u64 = 15;

/// A table of spellings inside the dictionary.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SpellingTable {
    /// How many places of the dictionary stand before the table.
    before: usize,
    /// How many buckets the table has.
    buckets: usize,
    /// How many places a bucket has.
    places: usize,
}

/// The places of a bucket of the words that are not common: one line of the processor's cache.
pub(crate) const BUCKET: usize = 8;

impl SpellingTable {
    /// The table of the common words, with buckets of one place: small, so that most look-ups stay in the cache.
    pub(crate) const COMMON: Self = Self { before: 0, buckets: 1 << 14, places: 1 };
    /// The table of all other words. Of its places three in four are taken, and nearly every word stands in its own
    /// bucket.
    pub(crate) const OTHERS: Self = Self { before: Self::COMMON.buckets, buckets: 17_920, places: BUCKET };

    /// How many buckets the table has.
    pub(crate) const fn buckets(self) -> usize {
        self.buckets
    }

    /// The end of the table's places in the dictionary.
    #[allow(dead_code, reason = "for the build script alone")]
    pub(crate) const fn end(self) -> usize {
        self.before + self.places * self.buckets()
    }

    /// The first place of the bucket that is `tries` buckets behind the key's own. A full bucket overflows into the
    /// next, and the last into the first.
    #[inline]
    pub(crate) fn place(self, key: u64, tries: usize) -> usize {
        // Scales the hash from the range of all hashes to the range of all buckets, so that its upper bits decide.
        let first = (u128::from(hash(key)) * self.buckets as u128) >> 64;
        self.before + (usize::try_from(first).unwrap_or(0) + tries) % self.buckets * self.places
    }
}

/// A hash of a key. Its upper bits are the better mixed ones.
#[inline]
pub(crate) fn hash(key: u64) -> u64 {
    (key ^ key >> 32).wrapping_mul(FACTOR)
}

/// A spelling in any case, with what the dictionary says about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spelling(pub(crate) u64);

/// A property of a word that the build script stores in the dictionary; the number is the property's bit in the entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WordMark {
    /// Familiar by the Dale-Chall list that the program carries, and its rules.
    FamiliarToDaleChall = 60,
    /// Familiar by the Spache list that the program carries, and its rules.
    FamiliarToSpache = 61,
    /// Hard by Gunning's rule, if the word is no name.
    Hard = 62,
    /// The list of abbreviations has the same letters.
    Abbreviation = 63,
}

impl Spelling {
    /// The spelling of a word that the dictionary lacks, or that has not been looked up.
    pub(crate) fn unlisted(word: &str) -> Self {
        Self(key(word.as_bytes(), word.len()).0)
    }

    /// The spelling of a word with what the dictionary says about it: the syllables (15 at most, zero where they are
    /// not known) and the marks.
    pub(crate) fn listed(self, syllables: u64, marks: impl Iterator<Item = WordMark>) -> Self {
        let marks = marks.fold(0, |marks, mark| marks | 1 << mark as u32);
        Self(self.key() | syllables.min(MOST_SYLLABLES) << KEY_BITS | marks)
    }

    /// The key, which tells the spelling from others.
    #[inline]
    pub(crate) fn key(self) -> u64 {
        self.0 & KEY
    }

    /// The fewest syllables that the dictionary gives; none where it gives no syllables for the word.
    #[inline]
    pub(crate) fn syllables(self) -> Option<u32> {
        Some(self.listed_syllables()).filter(|syllables| *syllables > 0)
    }

    /// The fewest syllables that the dictionary gives; zero where it gives no syllables for the word.
    #[inline]
    pub(crate) fn listed_syllables(self) -> u32 {
        u32::try_from(self.0 >> KEY_BITS & MOST_SYLLABLES).unwrap_or(0)
    }

    /// Whether the dictionary has the word.
    #[inline]
    pub(crate) fn is_there(self) -> bool {
        self.0 & !KEY != 0
    }

    /// Whether the word is letters of ASCII alone.
    #[inline]
    pub(crate) fn is_letters(self) -> bool {
        let key = self.key();
        if key & LONG != 0 {
            return key & LETTERS != 0;
        }
        // The bytes of a short word are those below the last that is not zero.
        let in_word = u64::MAX.checked_shr(key.leading_zeros() / 8 * 8).unwrap_or(0);
        !letters(key) & in_word & HIGHEST == 0
    }

    /// Whether the word has a mark.
    #[inline]
    pub(crate) fn has(self, mark: WordMark) -> bool {
        self.0 >> mark as u32 & 1 == 1
    }
}

/// The key of the word that stands in the first `length` bytes of a text, and whether the word is letters of ASCII
/// alone.
#[inline]
pub(crate) fn key(text: &[u8], length: usize) -> (u64, bool) {
    let (low, are_letters) = first_eight(text, length);
    if length <= SHORT {
        return (low, are_letters);
    }
    let mut hash = mixed(FACTOR, low);
    let mut is_plain = are_letters;
    for at in (8..length).step_by(8) {
        let (next, are_letters) = first_eight(&text[at..], length - at);
        hash = mixed(hash, next);
        is_plain &= are_letters;
    }
    (long_key(hash, is_plain), is_plain)
}

/// The key of a long word with this hash.
#[inline]
fn long_key(hash: u64, is_plain: bool) -> u64 {
    let kind = if is_plain { LONG | LETTERS } else { LONG };
    hash.wrapping_mul(FACTOR) >> (64 - LETTERS.trailing_zeros()) | kind
}

/// The first `length` bytes of a text, eight at most, in small letters, and whether they are letters of ASCII alone.
#[inline]
fn first_eight(text: &[u8], length: usize) -> (u64, bool) {
    let wanted = if length >= 8 { u64::MAX } else { (1 << (8 * length)) - 1 };
    let eight = eight(text);
    (small_letters(eight) & wanted, !letters(eight) & wanted & HIGHEST == 0)
}

/// The letters of ASCII that a text begins with: their spelling, and how many they are; none where it begins with
/// anything else.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn letters_before(text: &[u8]) -> Option<(Spelling, usize)> {
    let (first, length) = first_letters(eight(text));
    if length < 8 {
        return (length > 0).then_some((Spelling(first), length));
    }
    let (mut hash, mut length) = (mixed(FACTOR, first), 8);
    loop {
        let (next, more) = first_letters(eight(&text[length..]));
        length += more;
        if more > 0 {
            hash = mixed(hash, next);
        }
        if more < 8 {
            return Some((Spelling(long_key(hash, true)), length));
        }
    }
}

/// [`letters_before`] for a text that has a blank among its first eight bytes, with the number of bytes before that
/// blank; there may be no letter. None for any other text.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn letters_and_blank(text: &[u8]) -> Option<(Spelling, usize, usize)> {
    let eight = eight(text);
    // A blank becomes a zero byte. Subtracting one from each byte then sets the highest bit of the first zero byte, and
    // of no byte below. The borrow may spoil the bytes above, but only the first zero byte is looked for.
    let zeros = eight ^ (EACH * 0x20);
    let blanks = zeros.wrapping_sub(EACH) & !zeros & HIGHEST;
    let (key, letters) = first_letters(eight);
    (blanks != 0).then(|| (Spelling(key), letters, first_byte(blanks)))
}

/// How many letters of ASCII a text begins with.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn leading_letters(text: &[u8]) -> usize {
    let mut count = 0;
    loop {
        let others = !letters(eight(&text[count..])) & HIGHEST;
        count += first_byte(others);
        if others != 0 {
            return count;
        }
    }
}

// Eight bytes of a text at once. A `u64` holds the bytes, the first lowest, and each operation works on all of them; an
// answer of yes or no is the highest bit of its byte. The tests compare each function with a search byte by byte.

/// A one in each of eight bytes; times a byte, that byte in each.
const EACH: u64 = 0x0101_0101_0101_0101;
/// The highest bit of each byte.
const HIGHEST: u64 = EACH * 0x80;

/// The first eight bytes of a text, zero-padded.
#[inline]
fn eight(text: &[u8]) -> u64 {
    if let Some(eight) = text.first_chunk::<8>() {
        return u64::from_le_bytes(*eight);
    }
    match (text.first_chunk::<4>(), text.last_chunk::<4>()) {
        // The first four and the last four bytes may overlap; a byte that both hold is the same in both.
        (Some(first), Some(last)) => {
            let last = u64::from(u32::from_le_bytes(*last));
            u64::from(u32::from_le_bytes(*first)) | last << (8 * (text.len() - 4))
        }
        _ => text.iter().rev().fold(0, |number, byte| number << 8 | u64::from(*byte)),
    }
}

/// The first byte with an answer of yes; 8 where there is none.
#[inline]
fn first_byte(answers: u64) -> usize {
    usize::try_from(answers.trailing_zeros() / 8).unwrap_or(0)
}

/// Whether each byte is a letter of ASCII.
#[inline]
fn letters(eight: u64) -> u64 {
    let small = (eight | (EACH * 0x20)) & (EACH * 0x7f);
    // The first sum reaches the highest bit from `a` on, the second behind `z`. No sum carries into the next byte.
    (small + EACH * (0x80 - 0x61)) & !(small + EACH * (0x80 - 0x7b)) & !eight & HIGHEST
}

/// The bytes with bit 0x20, which tells small letters from capitals, set in all bytes from 0x40 to 0x7f. Letters of
/// ASCII become small; `@` and the signs behind `Z`, which no word holds, change too.
#[inline]
fn small_letters(eight: u64) -> u64 {
    let may_be_capital = (eight & (EACH * 0x40)) >> 1;
    let is_beyond = (eight & HIGHEST) >> 2;
    eight | (may_be_capital & !is_beyond)
}

/// The letters up to the first other byte, made small and zero-padded, and how many they are.
#[inline]
fn first_letters(eight: u64) -> (u64, usize) {
    let others = !letters(eight) & HIGHEST;
    let bits = others.trailing_zeros() & !7;
    let wanted = u64::MAX.checked_shr(u64::BITS - bits).unwrap_or(0);
    ((eight | (EACH * 0x20)) & wanted, usize::try_from(bits / 8).unwrap_or(0))
}

/// A hash with a further number mixed in.
#[inline]
fn mixed(hash: u64, number: u64) -> u64 {
    let product = (hash ^ number).wrapping_mul(FACTOR);
    product ^ (product >> 32)
}

/// Builds the hasher of maps and sets of words and spellings. No such map is iterated, so its order does not matter.
pub(crate) type ByHash = BuildHasherDefault<SpellingHasher>;

/// A hash that takes eight bytes at a time. It does not withstand keys that are chosen to collide.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct SpellingHasher(u64);

impl Hasher for SpellingHasher {
    fn finish(&self) -> u64 {
        self.0.wrapping_mul(FACTOR)
    }

    fn write(&mut self, bytes: &[u8]) {
        for eight in bytes.chunks(8).map(eight) {
            self.0 = mixed(self.0, eight);
        }
        self.0 = mixed(self.0, u64::try_from(bytes.len()).unwrap_or(0));
    }

    fn write_u8(&mut self, number: u8) {
        self.0 = mixed(self.0, u64::from(number));
    }

    fn write_u64(&mut self, number: u64) {
        self.0 = mixed(self.0, number);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{any, prop_assert_eq, proptest};

    use super::{
        HIGHEST, Spelling, eight, first_letters, key, leading_letters, letters, letters_and_blank, letters_before,
    };

    /// The letters of ASCII that a text begins with, byte by byte.
    fn plain_letters(text: &[u8]) -> &[u8] {
        &text[..text.iter().take_while(|byte| byte.is_ascii_alphabetic()).count()]
    }

    proptest! {
        #[test]
        fn eight_bytes_at_once_are_the_bytes_one_by_one(text in proptest::collection::vec(any::<u8>(), 0..12)) {
            let mut padded = text.clone();
            padded.resize(12, 0);
            let bytes: Vec<u8> = padded[..8].to_vec();
            prop_assert_eq!(eight(&text).to_le_bytes().to_vec(), bytes.clone());
            let answers = (letters(eight(&text)) & HIGHEST).to_le_bytes();
            let are_letters: Vec<bool> = bytes.iter().map(u8::is_ascii_alphabetic).collect();
            prop_assert_eq!(answers.map(|byte| byte != 0).to_vec(), are_letters);
            let (found, length) = first_letters(eight(&text));
            let mut wanted = plain_letters(&bytes).to_ascii_lowercase();
            prop_assert_eq!(length, wanted.len());
            wanted.resize(8, 0);
            prop_assert_eq!(found.to_le_bytes().to_vec(), wanted);
        }

        #[test]
        fn the_letters_before_anything_else_have_the_key_of_a_word(text in "[A-Za-z]{0,20}([ ,.'é-][a-z ]{0,9})?") {
            let text = text.as_bytes();
            let plain = plain_letters(text);
            prop_assert_eq!(leading_letters(text), plain.len());
            let wanted = (!plain.is_empty()).then(|| (Spelling(key(plain, plain.len()).0), plain.len()));
            prop_assert_eq!(letters_before(text), wanted);
            let blank = text.iter().take(8).position(|byte| *byte == b' ');
            let found = letters_and_blank(text);
            prop_assert_eq!(found.map(|(_, _, before)| before), blank);
            if let Some((spelling, letters, _)) = found {
                prop_assert_eq!((spelling, letters), wanted.unwrap_or((Spelling(0), 0)));
            }
        }

        #[test]
        fn capitals_make_no_difference_to_a_spelling(word in "[A-Za-z'-]{0,20}") {
            let spelling = Spelling::unlisted(&word);
            prop_assert_eq!(spelling, Spelling::unlisted(&word.to_ascii_lowercase()));
            prop_assert_eq!(spelling.is_letters(), word.bytes().all(|byte| byte.is_ascii_alphabetic()));
        }
    }
}
