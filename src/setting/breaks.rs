//! Where a line may end: Unicode's line breaking rules, and the few places where print departs from them.
//!
//! Source: Unicode Standard Annex 14, "Unicode Line Breaking Algorithm". It lets a line end after any slash (class SY),
//! which suits an address but parts `and/or`; before a letter or a figure we keep the two together, as browsers do.

use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;

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

/// Whether the characters of a line's end hang in the margin: blanks that a line may end in.
pub fn hangs(character: char) -> bool {
    matches!(character, ' ' | '\t' | '\n' | '\u{1680}' | '\u{2000}'..='\u{2006}' | '\u{2008}'..='\u{200b}' | '\u{205f}' | '\u{3000}')
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
}
