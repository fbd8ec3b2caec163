//! Finds the words of a text.
//!
//! Words are those of Unicode Standard Annex #29 (Unicode Text Segmentation, section 4) that hold a letter or a figure,
//! with one rule on top: words that are joined by a single hyphen without a blank are one word, so `well-known` is one
//! and `yes--no` is two. The formulas of reading level count so (R. Flesch, How to Write Plain English, 1979), and
//! so does the trade. An apostrophe inside a word, straight or curly, belongs to it by the annex itself.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::Word;
use super::spelling::{Spelling, key, leading_letters, letters_and_blank, letters_before};

/// The hyphens that join: hyphen-minus, hyphen, non-breaking hyphen.
pub(crate) const HYPHENS: [char; 3] = ['-', '\u{2010}', '\u{2011}'];

/// The words of a text, as bytes of it, in order.
pub fn find(text: &str) -> Vec<Range<usize>> {
    let mut words = Vec::new();
    read(text, 0, &mut words);
    words.into_iter().map(|word| word.range).collect()
}

/// Adds the words of a block to others, in order. Their syllables are not counted, and they have not been looked up.
pub(crate) fn read(text: &str, block: usize, words: &mut Vec<Word>) {
    let bytes = text.as_bytes();
    let first = words.len();
    words.reserve(text.len() / 5 + 1);
    let (mut start, mut follows_blank) = (0, true);
    while start < bytes.len() {
        // Nine words in ten are letters before a blank, or before a mark and a blank.
        if follows_blank && let Some((spelling, letters, length)) = plain_word(&bytes[start..]) {
            words.push(Word::found(block, start..start + letters, spelling, true));
            start += length;
            continue;
        }
        start = take_parts(text, start, |part| take(text, block, words, first, part));
        follows_blank = bytes.get(start - 1) == Some(&b' ');
    }
}

/// Takes a part that may be joined to the last word; those before the first are of other blocks. A joined word is spelt when its
/// syllables are counted, and not anew with each of its parts.
fn take(text: &str, block: usize, words: &mut Vec<Word>, first: usize, part: Range<usize>) {
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

/// The parts that hyphens join: the words of the annex itself.
pub(crate) fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::with_capacity(text.len() / 5);
    for_each_part(text, |part| parts.push(part));
    parts
}

/// Whether `gap`, what stands between two words, is one joining hyphen.
pub(crate) fn is_hyphen(gap: &str) -> bool {
    HYPHENS.iter().any(|hyphen| gap.strip_prefix(*hyphen) == Some(""))
}

fn for_each_part(text: &str, mut take: impl FnMut(Range<usize>)) {
    let mut start = 0;
    while start < text.len() {
        start = take_parts(text, start, &mut take);
    }
}

/// Takes the part that begins at `start`, if one does there, and tells where to go on, which is behind the start.
///
/// Most words are letters of ASCII, with an apostrophe now and then, and end at a mark that parts whatever stands beside it.
/// Where anything else comes up, the stretch up to the next blank is left to the segmenter. (For the annex a word ends at a
/// blank unless a combining mark stands on the blank itself.)
fn take_parts(text: &str, start: usize, mut take: impl FnMut(Range<usize>)) -> usize {
    let bytes = text.as_bytes();
    let letters = leading_letters(&bytes[start..]);
    let end = start + plain_length(&bytes[start..], letters);
    if let Some(mark) = parting_mark(&bytes[end..], end > start) {
        if end > start {
            take(start..end);
        }
        return end + mark;
    }
    let length = text[end..].find(' ').map_or(text.len() - start, |blank| end + blank - start);
    for (at, word) in text[start..start + length].unicode_word_indices() {
        take(start + at..start + at + word.len());
    }
    start + length + 1
}

/// How long a word is that a text begins with: its first letters of ASCII, and those behind apostrophes.
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

/// The letters of ASCII that a text begins with, where a blank stands behind them, or a mark and a blank: their spelling, how
/// many they are, and how long they are with what stands behind. Whether there is a mark depends on the copy, so it is nothing
/// that the processor could guess.
#[inline]
fn plain_word(text: &[u8]) -> Option<(Spelling, usize, usize)> {
    let is_mark = |byte: Option<&u8>| matches!(byte, Some(b',' | b'.' | b';' | b'!' | b'?'));
    if let Some((spelling, letters, before_blank)) = letters_and_blank(text) {
        let has_mark = (letters + 1 == before_blank) & is_mark(text.get(letters));
        let is_plain = (letters > 0) & ((letters == before_blank) | has_mark);
        return is_plain.then_some((spelling, letters, before_blank + 1));
    }
    let (spelling, letters) = letters_before(text)?;
    let marks = usize::from(is_mark(text.get(letters)));
    (text.get(letters + marks) == Some(&b' ')).then_some((spelling, letters, letters + marks + 1))
}

/// The length of the mark that a text begins with, if it parts what stands before it from what follows. After a letter a stop,
/// a colon or an apostrophe may join what follows; after anything else no mark does.
#[inline]
fn parting_mark(text: &[u8], follows_letter: bool) -> Option<usize> {
    let (mark, rest) = match text {
        [] => return Some(1),
        [b' ' | b',', ..] => return Some(1),
        [b'.' | b':' | b'\'', rest @ ..] => (1, rest),
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

    /// The words of the annex, joined as the rule says; those of letters alone have the key of these.
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
