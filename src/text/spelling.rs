//! A spelling and what the dictionary says of it in one number, the same when the dictionary is laid out at build time
//! and when words are looked up.
//!
//! The lower 56 bits are the key of the spelling. Up to seven bytes the key is those bytes in small letters; of more it is
//! a hash with its highest bit set, so that two different long words are taken for one another about once in 10^16
//! times. The upper eight bits are the syllables, nought for a word that the dictionary lacks, and the marks.
//!
//! The dictionary also has the forms of familiar words that it knows no syllables of, for their marks. So of letters
//! alone it has every word that is familiar by the lists that the program carries.

use std::hash::{BuildHasherDefault, Hasher};

const FACTOR: u64 = 0x9e37_79b9_7f4a_7c15;
const KEY_BITS: u32 = 56;
const KEY: u64 = (1 << KEY_BITS) - 1;
const LONG: u64 = 1 << (KEY_BITS - 1);
/// In the key of a long word: it is letters of ASCII alone.
const LETTERS: u64 = LONG >> 1;
/// The longest word that is its own key, in bytes.
const SHORT: usize = 7;
/// The most syllables that are told of a word.
pub(crate) const MOST_SYLLABLES: u64 = 15;
/// A one in each of eight bytes.
const EACH: u64 = 0x0101_0101_0101_0101;

/// A table of spellings inside the dictionary.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Table {
    /// How many places of the dictionary stand before it.
    before: usize,
    /// It has two to the power of so many buckets.
    bits: u32,
    /// How many places a bucket has.
    places: usize,
}

/// The places of a bucket of the words that are not common; two buckets lie in one line of the processor's cache.
pub(crate) const BUCKET: usize = 4;

impl Table {
    /// For the common words, a place each: small, so that most look-ups stay in the cache.
    pub(crate) const COMMON: Self = Self { before: 0, bits: 14, places: 1 };
    /// For all others.
    pub(crate) const OTHERS: Self = Self { before: 1 << Self::COMMON.bits, bits: 16, places: BUCKET };

    /// How many buckets it has.
    pub(crate) const fn buckets(self) -> usize {
        1 << self.bits
    }

    /// The end of its places in the dictionary.
    #[allow(dead_code, reason = "for the build script alone")]
    pub(crate) const fn end(self) -> usize {
        self.before + self.places * self.buckets()
    }

    /// The first place of the bucket of a key; of the bucket behind it where that is full, and so on `tries` times.
    #[inline]
    pub(crate) fn place(self, key: u64, tries: usize) -> usize {
        let first = usize::try_from(hash(key) >> (64 - self.bits)).unwrap_or(0);
        self.before + (first + tries) % self.buckets() * self.places
    }
}

/// A hash of a key, of which the upper bits are the better ones.
#[inline]
pub(crate) fn hash(key: u64) -> u64 {
    (key ^ key >> 32).wrapping_mul(FACTOR)
}

/// A spelling in any case, with what the dictionary says of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spelling(pub(crate) u64);

/// Something that is settled for a word of the dictionary when the program is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WordMark {
    /// Familiar by the Dale-Chall list that the program carries, and its rules.
    FamiliarToDaleChall = 60,
    /// Familiar by the Spache list that the program carries, and its rules.
    FamiliarToSpache = 61,
    /// Hard by Gunning's rule where it is no name.
    Hard = 62,
    /// The list of abbreviations has the same letters.
    Abbreviation = 63,
}

impl Spelling {
    /// A word of which the dictionary says nothing.
    pub(crate) fn unlisted(word: &str) -> Self {
        Self(key(word.as_bytes(), word.len()).0)
    }

    /// The same with its syllables, 15 at most, nought where they are not known, and marks.
    pub(crate) fn listed(self, syllables: u64, marks: impl Iterator<Item = WordMark>) -> Self {
        let marks = marks.fold(0, |marks, mark| marks | 1 << mark as u32);
        Self(self.key() | syllables.min(MOST_SYLLABLES) << KEY_BITS | marks)
    }

    /// What tells the spelling from others.
    #[inline]
    pub(crate) fn key(self) -> u64 {
        self.0 & KEY
    }

    /// The fewest syllables that the dictionary gives; none for a word that it lacks.
    #[inline]
    pub(crate) fn syllables(self) -> Option<u32> {
        Some(self.listed_syllables()).filter(|syllables| *syllables > 0)
    }

    /// The same; nought for a word that it lacks.
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
        let there = u64::MAX.checked_shr(key.leading_zeros() / 8 * 8).unwrap_or(0);
        !letters(key) & there & (EACH * 0x80) == 0
    }

    /// Whether the word has a mark.
    #[inline]
    pub(crate) fn has(self, mark: WordMark) -> bool {
        self.0 >> mark as u32 & 1 == 1
    }
}

/// The key of the word that stands in the first `length` bytes of a text, and whether it is letters of ASCII alone.
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

/// The key of a long word that has a hash.
#[inline]
fn long_key(hash: u64, is_plain: bool) -> u64 {
    let kind = if is_plain { LONG | LETTERS } else { LONG };
    hash.wrapping_mul(FACTOR) >> (64 - LETTERS.trailing_zeros()) | kind
}

/// The first `length` bytes of a text, eight at most, in small letters, and whether they are letters alone.
#[inline]
fn first_eight(text: &[u8], length: usize) -> (u64, bool) {
    let wanted = if length >= 8 { u64::MAX } else { (1 << (8 * length)) - 1 };
    let eight = eight(text);
    (small_letters(eight) & wanted, !letters(eight) & wanted & (EACH * 0x80) == 0)
}

/// The spelling of the letters of ASCII that a text begins with, and how many they are; none where it begins with another
/// sign.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn letters_before(text: &[u8]) -> Option<(Spelling, usize)> {
    let (key, length) = first_letters(eight(text));
    if length < 8 {
        return (length > 0).then_some((Spelling(key), length));
    }
    Some(long_letters_before(text, key))
}

/// The same where a blank stands among the first eight bytes, with the bytes before it; none where no blank does. There may be
/// no letter. Where the blank stands is known before what the letters are, so whoever goes on behind it need not wait.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn letters_and_blank(text: &[u8]) -> Option<(Spelling, usize, usize)> {
    let eight = eight(text);
    let others = eight ^ (EACH * 0x20);
    // The highest bit of the first byte that is nought is set, and of no byte before it.
    let blanks = others.wrapping_sub(EACH) & !others & (EACH * 0x80);
    let (key, letters) = first_letters(eight);
    (blanks != 0).then(|| (Spelling(key), letters, usize::try_from(blanks.trailing_zeros() / 8).unwrap_or(0)))
}

/// The same of eight letters or more, of which the first are read.
fn long_letters_before(text: &[u8], first: u64) -> (Spelling, usize) {
    let (mut hash, mut length) = (mixed(FACTOR, first), 8);
    loop {
        let (next, more) = first_letters(eight(&text[length..]));
        length += more;
        if more > 0 {
            hash = mixed(hash, next);
        }
        if more < 8 {
            return (Spelling(long_key(hash, true)), length);
        }
    }
}

/// The letters of ASCII among eight bytes up to the first other sign, made small, and how many they are.
#[inline]
fn first_letters(eight: u64) -> (u64, usize) {
    let others = !letters(eight) & (EACH * 0x80);
    let bits = others.trailing_zeros() & !7;
    let there = u64::MAX.checked_shr(u64::BITS - bits).unwrap_or(0);
    ((eight | (EACH * 0x20)) & there, usize::try_from(bits / 8).unwrap_or(0))
}

/// How many letters of ASCII a text begins with.
#[allow(dead_code, reason = "the build script does without")]
#[inline]
pub(crate) fn leading_letters(text: &[u8]) -> usize {
    let mut count = 0;
    loop {
        let others = !letters(eight(&text[count..])) & (EACH * 0x80);
        count += usize::try_from(others.trailing_zeros() / 8).unwrap_or(0);
        if others != 0 {
            return count;
        }
    }
}

/// The first eight bytes of a text, noughts where it is shorter.
#[inline]
fn eight(text: &[u8]) -> u64 {
    if let Some(eight) = text.first_chunk::<8>() {
        return u64::from_le_bytes(*eight);
    }
    match (text.first_chunk::<4>(), text.last_chunk::<4>()) {
        // The two may share bytes.
        (Some(first), Some(last)) => {
            let last = u64::from(u32::from_le_bytes(*last));
            u64::from(u32::from_le_bytes(*first)) | last << (8 * (text.len() - 4))
        }
        _ => text.iter().rev().fold(0, |number, byte| number << 8 | u64::from(*byte)),
    }
}

/// The highest bit of each of eight bytes tells whether it is a letter of ASCII.
#[inline]
fn letters(eight: u64) -> u64 {
    let small = (eight | (EACH * 0x20)) & (EACH * 0x7f);
    // In each byte the highest bit tells whether the sum reached 0x80.
    (small + EACH * (0x80 - 0x61)) & !(small + EACH * (0x80 - 0x7b)) & !eight & (EACH * 0x80)
}

/// Eight bytes with the capitals of ASCII made small: in bytes from 0x40 to 0x7f the bit that parts the cases is set.
#[inline]
fn small_letters(eight: u64) -> u64 {
    let may_be_capital = (eight & (EACH * 0x40)) >> 1;
    let is_beyond = (eight & (EACH * 0x80)) >> 2;
    eight | (may_be_capital & !is_beyond)
}

#[inline]
fn mixed(hash: u64, number: u64) -> u64 {
    let product = (hash ^ number).wrapping_mul(FACTOR);
    product ^ (product >> 32)
}

/// For maps and sets of spellings, which are never walked through.
pub(crate) type ByHash = BuildHasherDefault<SpellingHasher>;

/// A quick hash, eight bytes at a time.
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
