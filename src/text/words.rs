//! Finds the words of a text.
//!
//! Words are those of Unicode Standard Annex #29 (Unicode Text Segmentation, section 4) that hold a letter or a figure,
//! with one rule on top: words that are joined by a single hyphen without a blank are one word, so `well-known` is one
//! and `yes--no` is two. The formulas of reading level count so (R. Flesch, How to Write Plain English, 1979), and
//! so does the trade. An apostrophe inside a word, straight or curly, belongs to it by the annex itself.
//!
//! A general segmenter costs most of the time that a measure of level takes, so it is asked about the rare words alone.
//! Three ways lead to the same words, which the tests at the end hold to the segmenter's: plain letters before a blank
//! (`plain_word`), letters and apostrophes before a mark that certainly ends a word (`next_part`), and the segmenter.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::spelling::{Spelling, key, leading_letters, letters_and_blank, letters_before};
use super::word::Word;

/// The hyphens that join: hyphen-minus, hyphen, non-breaking hyphen.
pub(crate) const HYPHENS: [char; 3] = ['-', '\u{2010}', '\u{2011}'];

/// The fewest bytes of text to a word in common copy, blank included, so that room is made for all words at once.
const BYTES_TO_A_WORD: usize = 5;

/// The words of a text, as ranges of its bytes, in order.
pub fn find(text: &str) -> Vec<Range<usize>> {
    let mut words = Vec::new();
    read(text, 0, &mut words);
    words.into_iter().map(|word| word.range).collect()
}

/// Appends the words of a block, in order. The words are not looked up here, and their syllables are not counted.
pub(crate) fn read(text: &str, block: usize, words: &mut Vec<Word>) {
    let bytes = text.as_bytes();
    let first = words.len();
    words.reserve(text.len() / BYTES_TO_A_WORD + 1);
    let (mut start, mut follows_blank) = (0, true);
    while start < bytes.len() {
        // Nine words in ten are letters before a blank, or before a mark and a blank. Behind a blank such a word is
        // whole: no hyphen or apostrophe joins it to what stands before.
        if follows_blank && let Some((spelling, letters, length)) = plain_word(&bytes[start..]) {
            words.push(Word::found(block, start..start + letters, spelling, true));
            start += length;
            continue;
        }
        start = next_part(text, start, |part| push_part(text, block, words, first, part));
        follows_blank = bytes.get(start - 1) == Some(&b' ');
    }
}

/// Pushes a part as a word of its own, or joins it to the last word if only a hyphen stands between the two. The words
/// of the block begin at `first`. A joined word keeps the spelling of its first part until its syllables are counted.
fn push_part(text: &str, block: usize, words: &mut Vec<Word>, first: usize, part: Range<usize>) {
    match words[first..].last_mut() {
        Some(last) if is_hyphen(&text[last.range.end..part.start]) => {
            last.range.end = part.end;
            last.is_plain = false;
        }
        _ => {
            let (key, is_plain) = key(&text.as_bytes()[part.start..], part.len());
            words.push(Word::found(block, part, Spelling(key), is_plain));
        }
    }
}

/// The words of the annex itself, which hyphens do not join, as ranges of the text's bytes, in order.
pub(crate) fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::with_capacity(text.len() / BYTES_TO_A_WORD);
    let mut start = 0;
    while start < text.len() {
        start = next_part(text, start, |part| parts.push(part));
    }
    parts
}

/// Whether `gap`, what stands between two words, is one joining hyphen.
pub(crate) fn is_hyphen(gap: &str) -> bool {
    HYPHENS.iter().any(|hyphen| gap.strip_prefix(*hyphen) == Some(""))
}

/// Passes to `emit` the part that begins at `start`, if a part begins there, or all parts up to the next blank. Returns
/// the byte at which to go on, which is behind `start`.
fn next_part(text: &str, start: usize, mut emit: impl FnMut(Range<usize>)) -> usize {
    let bytes = text.as_bytes();
    let letters = leading_letters(&bytes[start..]);
    let end = start + plain_length(&bytes[start..], letters);
    // Most parts are letters of ASCII, with an apostrophe now and then, before a mark that no rule of the annex joins
    // over.
    if let Some(mark) = parting_mark(&bytes[end..], end > start) {
        if end > start {
            emit(start..end);
        }
        return end + mark;
    }
    // Anything else, up to the next blank, goes to the segmenter. At a blank a word ends by the annex too, unless a
    // combining mark stands on the blank itself.
    let length = text[end..].find(' ').map_or(text.len() - start, |blank| end + blank - start);
    for (at, word) in text[start..start + length].unicode_word_indices() {
        emit(start + at..start + at + word.len());
    }
    start + length + 1
}

/// The length of the part that a text begins with, in bytes: its first `letters` letters of ASCII, and those behind
/// apostrophes between letters.
fn plain_length(text: &[u8], letters: usize) -> usize {
    let mut length = letters;
    while length > 0
        && let [b'\'', rest @ ..] | [0xe2, 0x80, 0x99, rest @ ..] = &text[length..]
    {
        let more = leading_letters(rest);
        if more == 0 {
            break;
        }
        length = text.len() - rest.len() + more;
    }
    length
}

/// The letters of ASCII that a text begins with, where a blank stands behind them, or one mark and a blank: their
/// spelling, how many they are, and the bytes up to behind the blank. None for any other beginning.
#[inline]
fn plain_word(text: &[u8]) -> Option<(Spelling, usize, usize)> {
    let is_mark = |byte: Option<&u8>| matches!(byte, Some(b',' | b'.' | b';' | b'!' | b'?'));
    // A short word has its blank among the first eight bytes. Where the next word begins is known from the blank alone,
    // so the processor can go on there while the letters are still being told apart. Whether a mark stands before the
    // blank depends on the copy, so it is computed without a branch.
    if let Some((spelling, letters, before_blank)) = letters_and_blank(text) {
        let has_mark = (letters + 1 == before_blank) & is_mark(text.get(letters));
        let is_plain = (letters > 0) & ((letters == before_blank) | has_mark);
        return is_plain.then_some((spelling, letters, before_blank + 1));
    }
    let (spelling, letters) = letters_before(text)?;
    let marks = usize::from(is_mark(text.get(letters)));
    (text.get(letters + marks) == Some(&b' ')).then_some((spelling, letters, letters + marks + 1))
}

/// The length in bytes of the mark that a text begins with, if it parts what stands before it from what follows; 1 at
/// the text's end. Behind a letter a full stop, a colon or an apostrophe may join what follows; behind anything else no
/// mark does.
#[inline]
fn parting_mark(text: &[u8], follows_letter: bool) -> Option<usize> {
    let (mark, rest) = match text {
        [] => return Some(1),
        [b' ' | b',', ..] => return Some(1),
        [b'.' | b':' | b'\'', rest @ ..] => (1, rest),
        // The single curly quotation marks, of which one is the apostrophe.
        [0xe2, 0x80, 0x98 | 0x99, rest @ ..] => (3, rest),
        // Dashes, double quotation marks and the ellipsis.
        [0xe2, 0x80, 0x93 | 0x94 | 0x9c | 0x9d | 0xa6, ..] => return Some(3),
        [other, ..] => return (other.is_ascii() && !other.is_ascii_alphanumeric() && *other != b'_').then_some(1),
    };
    let joins = |next: &u8| next.is_ascii_alphanumeric() || !next.is_ascii() || *next == b'_';
    (!follows_letter || !rest.first().is_some_and(joins)).then_some(mark)
}

#[cfg(test)]
mod tests {
    use std::ops::Range;

    use super::{find, is_hyphen, key, parts, read};
    use proptest::prelude::{TestCaseError, prop_assert, prop_assert_eq, proptest};
    use unicode_segmentation::UnicodeSegmentation;

    fn check(text: &str, words: &[&str]) {
        let found: Vec<&str> = find(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, words, "{text}");
    }

    #[test]
    fn a_single_hyphen_joins() {
        check("A well-known bed\u{2011}time story", &["A", "well-known", "bed\u{2011}time", "story"]);
        check("ages 4-8, rock-a-bye", &["ages", "4-8", "rock-a-bye"]);
        check("so-, and-,or", &["so", "and", "or"]);
        check("two- and three-year-old", &["two", "and", "three-year-old"]);
        check("yes--no – maybe—or -not- so", &["yes", "no", "maybe", "or", "not", "so"]);
    }

    #[test]
    fn apostrophes_inside_belong_to_the_word() {
        check("Don't, don’t: the dogs' rock ’n’ roll", &["Don't", "don’t", "the", "dogs", "rock", "n", "roll"]);
    }

    #[test]
    fn figures_and_abbreviations_are_words() {
        check("3.5 of 1,000 in the U.S. — & 50%", &["3.5", "of", "1,000", "in", "the", "U.S", "50"]);
    }

    #[test]
    fn symbols_alone_are_no_words() {
        check("🎉 * — … ?!", &[]);
    }

    /// The words are those of the annex, joined at hyphens; a word of letters alone has the key of these letters.
    fn check_quick_way(text: &str) -> Result<(), TestCaseError> {
        let whole: Vec<_> = text.unicode_word_indices().map(|(at, word)| at..at + word.len()).collect();
        prop_assert_eq!(&parts(text), &whole);
        let mut joined: Vec<Range<usize>> = Vec::new();
        for part in whole {
            match joined.last_mut() {
                Some(last) if is_hyphen(&text[last.end..part.start]) => last.end = part.end,
                _ => joined.push(part),
            }
        }
        let mut words = Vec::new();
        read(text, 0, &mut words);
        prop_assert_eq!(words.iter().map(|word| word.range.clone()).collect::<Vec<_>>(), joined);
        for word in words {
            let (key, is_plain) = key(&text.as_bytes()[word.range.start..], word.range.len());
            prop_assert_eq!(word.is_plain, is_plain, "{}", &text[word.range.clone()]);
            prop_assert!(!is_plain || word.spelling.key() == key, "{}", &text[word.range]);
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn the_quick_way_changes_nothing(text in r"(\PM|[a-z]\p{M}){0,40}") {
            check_quick_way(&text)?;
        }

        #[test]
        fn the_quick_way_changes_nothing_in_prose(text in "[a-zé'’‘“”.,:;!?_()–—… \n\u{301}\u{200d}א\"1-]{0,40}") {
            check_quick_way(&text)?;
        }

        #[test]
        fn the_quick_way_changes_nothing_between_blanks(text in "([A-Za-z]{1,20}[,.;!?'-]{0,2} {0,2}){0,12}") {
            check_quick_way(&text)?;
        }
    }
}
