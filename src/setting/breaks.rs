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
    word_by_word(text).unwrap_or_else(|| by_all_rules(text).collect()).into_iter()
}

/// The opportunities by the rules, which are asked about the whole text.
fn by_all_rules(text: &str) -> impl Iterator<Item = usize> + '_ {
    LineSegmenter::new_for_non_complex_scripts(LineBreakOptions::default())
        .segment_str(text)
        .filter(move |&at| at > 0 && !is_inside_slashed_word(text, at))
}

/// The opportunities of a text in which it is plain that a line may end at each of its blanks, as in nearly all copy:
/// within a word only its own letters matter then, and hardly any word has to be looked up in the tables of the rules.
/// None where it is not plain.
fn word_by_word(text: &str) -> Option<Vec<usize>> {
    let mut ends = Vec::with_capacity(text.len() / 4);
    let (mut start, mut before) = (0, None);
    for word in text.split_inclusive([' ', '\n']) {
        let letters = word.trim_end_matches([' ', '\n']);
        let (first, last) = (letters.chars().next()?, letters.chars().next_back()?);
        if before.is_some_and(|before| !may_part_at_blank(before, first)) {
            return None;
        }
        if !is_never_parted(letters) {
            let inside = by_all_rules(word).filter(|at| *at < word.len());
            ends.extend(inside.map(|at| start + at));
        }
        start += word.len();
        ends.push(start);
        // A line ends at an ending that the author forced, whatever stands at it.
        before = (!word.ends_with('\n')).then_some(last);
    }
    Some(ends)
}

/// Whether a line may end at a blank between two characters, whatever else stands before and behind; false where only
/// all rules tell.
fn may_part_at_blank(before: char, behind: char) -> bool {
    let is_plain = |character: char| character < '\u{250}' && character.is_alphanumeric();
    let ends =
        is_plain(before) || matches!(before, '.' | ',' | '!' | '?' | ':' | ';' | '…' | '’' | '”' | ')' | '—' | '–');
    // Two dashes of this sort stay together over a blank.
    let begins = is_plain(behind) || matches!(behind, '“' | '‘' | '(' | '–') || behind == '—' && before != '—';
    ends && begins
}

/// Whether no line ends inside a word, by its letters alone; false where only all rules tell.
fn is_never_parted(word: &str) -> bool {
    let mut is_behind_call = false;
    word.chars().all(|character| match character {
        'a'..='z' | 'A'..='Z' | '0'..='9' => !is_behind_call,
        '.' | ',' | ':' | ';' | '’' | '‘' | '“' | '”' | '"' | '\'' => {
            is_behind_call = false;
            true
        }
        // A line may end between these and a letter.
        '!' | '?' => {
            is_behind_call = true;
            true
        }
        _ => false,
    })
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
    use proptest::prelude::*;

    use super::*;

    fn check_quick_way(text: &str) {
        let by_rules: Vec<usize> = by_all_rules(text).collect();
        assert_eq!(opportunities(text).collect::<Vec<_>>(), by_rules, "{text:?}");
    }

    #[test]
    fn a_line_may_end_at_a_blank_between_all_that_is_plain() {
        let plain = || (' '..'\u{250}').chain("…’”“‘—–\u{201e}\u{2011}€☂".chars());
        for before in plain() {
            for behind in plain().filter(|behind| may_part_at_blank(before, *behind)) {
                let text = format!("{before} {behind}");
                assert!(by_all_rules(&text).any(|at| at == text.len() - behind.len_utf8()), "{text:?}");
            }
        }
    }

    #[test]
    fn no_line_ends_inside_a_word_of_what_is_plain() {
        let signs = ["a", "Z", "1", ".", ",", ":", ";", "!", "?", "’", "‘", "“", "”", "\"", "'", "-", "é"];
        let mut words = vec![String::new()];
        for _ in 0..4 {
            words = words.iter().flat_map(|word| signs.iter().map(move |sign| format!("{word}{sign}"))).collect();
            for word in words.iter().filter(|word| is_never_parted(word)) {
                assert_eq!(by_all_rules(word).collect::<Vec<_>>(), [word.len()], "{word}");
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn the_quick_way_changes_nothing(text in r"(\PM|[a-z]\p{M}| ){0,40}") {
            check_quick_way(&text);
        }

        #[test]
        fn the_quick_way_changes_nothing_in_copy(
            text in "([“‘(]?[A-Za-zé1]{1,5}([,.;:!?…’”)/-]|\u{ad}|\u{301}|[a-z]{2}){0,3}( |\n|—| — | – ){1,2}){0,9}",
        ) {
            check_quick_way(&text);
        }
    }

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
