//! Finds the words of a text.
//!
//! Words are those of Unicode Standard Annex #29 (Unicode Text Segmentation, section 4) that hold a letter or a figure,
//! with one rule on top: words that are joined by a single hyphen without a blank are one word, so `well-known` is one
//! and `yes--no` is two. The formulas of reading level count so (R. Flesch, How to Write Plain English, 1979), and
//! so does the trade. An apostrophe inside a word, straight or curly, belongs to it by the annex itself.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

/// The hyphens that join: hyphen-minus, hyphen, non-breaking hyphen.
pub(super) const HYPHENS: [char; 3] = ['-', '\u{2010}', '\u{2011}'];

/// The words of a text, as bytes of it, in order.
pub fn find(text: &str) -> Vec<Range<usize>> {
    let mut words: Vec<Range<usize>> = Vec::with_capacity(text.len() / 5);
    for_each_part(text, |part| match words.last_mut() {
        Some(last) if is_hyphen(&text[last.end..part.start]) => last.end = part.end,
        _ => words.push(part),
    });
    words
}

/// The parts that hyphens join: the words of the annex itself.
pub(super) fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::with_capacity(text.len() / 5);
    for_each_part(text, |part| parts.push(part));
    parts
}

/// Whether `gap`, what stands between two words, is one joining hyphen.
pub(super) fn is_hyphen(gap: &str) -> bool {
    let mut characters = gap.chars();
    matches!((characters.next(), characters.next()), (Some(only), None) if HYPHENS.contains(&only))
}

/// A word ends at a blank (for the annex, unless a combining mark stands on the blank itself), so each stretch between
/// blanks is looked at alone. Most are plain letters with marks at their ends, and need no segmenter.
fn for_each_part(text: &str, mut take: impl FnMut(Range<usize>)) {
    let mut start = 0;
    while start < text.len() {
        let rest = &text.as_bytes()[start..];
        let letters = rest.iter().take_while(|byte| byte.is_ascii_alphabetic()).count();
        let marks = rest[letters..].iter().take_while(|byte| matches!(byte, b',' | b'.' | b'!' | b'?' | b';')).count();
        let end = start + letters + marks;
        if text.as_bytes().get(end).is_none_or(|byte| *byte == b' ') {
            if letters > 0 {
                take(start..start + letters);
            }
            start = end + 1;
            continue;
        }
        let length = text[end..].find(' ').map_or(text.len() - start, |blank| end + blank - start);
        for (at, word) in text[start..start + length].unicode_word_indices() {
            take(start + at..start + at + word.len());
        }
        start += length + 1;
    }
}

#[cfg(test)]
mod tests {
    use super::{find, parts};
    use proptest::prelude::{prop_assert_eq, proptest};
    use unicode_segmentation::UnicodeSegmentation;

    fn check(text: &str, words: &[&str]) {
        let found: Vec<&str> = find(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, words, "{text}");
    }

    #[test]
    fn a_single_hyphen_joins() {
        check("A well-known bed\u{2011}time story", &["A", "well-known", "bed\u{2011}time", "story"]);
        check("ages 4-8, rock-a-bye", &["ages", "4-8", "rock-a-bye"]);
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

    proptest! {
        #[test]
        fn looking_between_blanks_changes_nothing(text in r"(\PM|[a-z]\p{M}){0,40}") {
            let whole: Vec<_> = text.unicode_word_indices().map(|(at, word)| at..at + word.len()).collect();
            prop_assert_eq!(parts(&text), whole);
        }

        #[test]
        fn looking_between_blanks_changes_nothing_in_prose(text in "[a-zé'’“”.,!? \u{301}\u{200d}א\"1-]{0,40}") {
            let whole: Vec<_> = text.unicode_word_indices().map(|(at, word)| at..at + word.len()).collect();
            prop_assert_eq!(parts(&text), whole);
        }
    }
}
