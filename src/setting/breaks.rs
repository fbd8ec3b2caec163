//! Where a line may end: Unicode's line breaking rules, and the few places where print departs from them.
//!
//! Source: Unicode Standard Annex 14, "Unicode Line Breaking Algorithm". It lets a line end after any slash (class SY),
//! which suits an address but parts `and/or`; before a letter or a figure we keep the two together, as browsers do.

use hypher::{Lang, hyphenate};
use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;
use unicode_segmentation::UnicodeSegmentation;

/// The bytes of `text` at which a new line may begin, in order, the end of the text included and its start not.
pub fn opportunities(text: &str) -> impl Iterator<Item = usize> + '_ {
    LineSegmenter::new_for_non_complex_scripts(LineBreakOptions::default())
        .segment_str(text)
        .filter(move |&at| at > 0 && !is_inside_slashed_word(text, at))
}

/// Whether a break at `at` would part a word from the slash before it: `and/` from `or`.
fn is_inside_slashed_word(text: &str, at: usize) -> bool {
    text[..at].ends_with('/') && text[at..].starts_with(char::is_alphanumeric)
}

/// Whether a character hangs in the margin at a line's end: a blank that a line may end in.
pub fn hangs(character: char) -> bool {
    // The blanks of fixed width, without U+2007, at which no line ends.
    let is_fixed = matches!(character, '\u{2000}'..='\u{2006}' | '\u{2008}'..='\u{200b}');
    is_fixed || matches!(character, ' ' | '\t' | '\n' | '\u{1680}' | '\u{205f}' | '\u{3000}')
}

/// Whether a character is a blank that a justified line may widen or narrow.
pub fn stretches(character: char) -> bool {
    matches!(character, ' ' | '\u{a0}')
}

/// Whether a character is an opening quotation mark, with which a line seems to begin further in.
pub fn opens(character: char) -> bool {
    matches!(character, '\u{201c}' | '\u{2018}' | '\u{201e}' | '\u{201a}' | '\u{ab}' | '\u{2039}' | '"' | '\'')
}

/// The bytes of `text` at which a word may be divided with a hyphen by its language's patterns, in order.
///
/// Words with a capital, a hyphen, an apostrophe or a figure are left whole (common practice: no name is divided). The
/// patterns keep at least two letters before the hyphen and, in English, three behind it.
pub(super) fn hyphenations(text: &str, language: Lang) -> impl Iterator<Item = usize> + '_ {
    let is_plain = |word: &str| word.chars().all(|c| c.is_lowercase());
    let touches = |c: Option<char>| c.is_some_and(|c| matches!(c, '-' | '\u{2010}' | '\u{2011}' | '\u{ad}'));
    let words = text.unicode_word_indices().filter(move |(start, word)| {
        let (before, after) = (text[..*start].chars().next_back(), text[start + word.len()..].chars().next());
        is_plain(word) && !touches(before) && !touches(after)
    });
    words.flat_map(move |(start, word)| {
        hyphenate(word, language)
            .scan(start, |at, syllable| {
                *at += syllable.len();
                Some(*at)
            })
            .filter(move |at| *at < start + word.len())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Breaks the text wherever it may be broken: `one |two`.
    fn check(broken: &str) {
        let text = broken.replace('|', "");
        let mut pieces = Vec::new();
        let mut start = 0;
        for end in opportunities(&text) {
            pieces.push(&text[start..end]);
            start = end;
        }
        assert_eq!(pieces.join("|"), broken);
    }

    #[test]
    fn lines_end_after_blanks_and_dashes() {
        check("The |lamp |went |out.");
        check("well-|known");
        check("wait|—|what?");
        check("pages |3–|6");
    }

    #[test]
    fn lines_do_not_end_inside_what_belongs_together() {
        check("and/or");
        check("ages |3-6");
        check("“Oh!” |(she |said)");
        check("Mr.\u{a0}Quill");
        check("12.50 |euros");
        check("wait |… |what");
    }

    #[test]
    fn a_forced_line_ending_and_a_soft_hyphen_are_places_to_break() {
        check("one\n|two");
        check("light\u{ad}|house");
        check("");
    }

    #[test]
    fn words_are_divided_by_their_languages_patterns() {
        let divided = |text: &str, language| {
            let mut shown = text.to_owned();
            let places: Vec<usize> = hyphenations(text, language).collect();
            places.into_iter().rev().for_each(|at| shown.insert(at, '|'));
            shown
        };
        // The first is the example of Liang's thesis (1983, p. 8).
        assert_eq!(divided("hyphenation", Lang::English), "hy|phen|ation");
        assert_eq!(
            divided("Eleanor extensively re-entered; it's over.", Lang::English),
            "Eleanor ex|ten|sively re-entered; it's over."
        );
        assert_eq!(divided("leuchtturm", Lang::German), "leucht|turm");
    }
}
