//! Plain wrapping: a text in rows that end where words end, for the screen rather than for print.
//!
//! Rows end where Unicode's rules let a line end, as printed lines do. Blanks at the end of a row may hang past its
//! width, and punctuation stays with its word. A word longer than a row is cut between graphemes.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::graphemes::{cells, is_edge};
use crate::setting::breaks::{hangs, opportunities};

/// The rows of `text` as byte ranges, in order and without line endings; `width` is in cells. There is always at least
/// one row. None is wider than `width`, except for blanks that hang and for a single grapheme that is wider itself.
pub fn wrap(text: &str, width: usize) -> Vec<Range<usize>> {
    let mut rows = Vec::new();
    let mut start = 0;
    for line in text.split('\n') {
        // To a reader `\r\n` is one line ending, so no row ends between the two.
        wrap_line(line.strip_suffix('\r').unwrap_or(line), start, width, &mut rows);
        start += line.len() + 1;
    }
    rows
}

/// Adds the rows of one line, which begins at byte `origin` of the text.
fn wrap_line(line: &str, origin: usize, width: usize, rows: &mut Vec<Range<usize>>) {
    let (mut start, mut filled, mut done) = (0, 0, 0);
    for end in opportunities(line).filter(|&end| is_edge(line, end)) {
        let piece = &line[done..end];
        // The blanks at the end of a piece count only once another piece follows: at the end of a row they hang.
        let (all, shown) = (cells(piece), cells(piece.trim_end_matches(hangs)));
        if filled + shown > width && done > start {
            rows.push(origin + start..origin + done);
            (start, filled) = (done, 0);
        }
        if shown > width {
            (start, filled) = cut(line, start..end, width, origin, rows);
        } else {
            filled += all;
        }
        done = end;
    }
    rows.push(origin + start..origin + line.len());
}

/// Cuts a word that is longer than a row; its last piece begins the next row. Returns the byte at which that row
/// begins, and its cells.
fn cut(line: &str, word: Range<usize>, width: usize, origin: usize, rows: &mut Vec<Range<usize>>) -> (usize, usize) {
    let (mut start, mut filled) = (word.start, 0);
    let shown = line[word.clone()].trim_end_matches(hangs).len();
    for (offset, grapheme) in line[word.clone()].grapheme_indices(true) {
        let (at, wide) = (word.start + offset, cells(grapheme));
        if offset < shown && filled + wide > width && at > start {
            rows.push(origin + start..origin + at);
            (start, filled) = (at, 0);
        }
        filled += wide;
    }
    (start, filled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(text: &str, width: usize, rows: &[&str]) {
        let found: Vec<&str> = wrap(text, width).into_iter().map(|row| &text[row]).collect();
        assert_eq!(found, rows, "{text:?} in {width} cells");
    }

    #[test]
    fn rows_end_where_words_end() {
        check("the lamp went out", 8, &["the lamp ", "went out"]);
        check("the lamp went out", 9, &["the lamp ", "went out"]);
        check("out in Harrow Street, Mara", 20, &["out in Harrow ", "Street, Mara"]);
        check("aaaa bbbb cccc. dddd", 14, &["aaaa bbbb ", "cccc. dddd"]);
        check("a well-known end\u{2014}or not.", 8, &["a well-", "known ", "end\u{2014}or ", "not."]);
        check("a\n\nb\n", 9, &["a", "", "b", ""]);
        check("", 9, &[""]);
    }

    #[test]
    fn blanks_hang_and_begin_no_row() {
        check("lamp     oil", 4, &["lamp     ", "oil"]);
        check("lamp  ", 4, &["lamp  "]);
        check("12.50\u{a0}euros more", 11, &["12.50\u{a0}euros ", "more"]);
    }

    #[test]
    fn a_word_longer_than_a_row_is_cut_between_characters() {
        check("abcdefghij kl", 4, &["abcd", "efgh", "ij ", "kl"]);
        check("to abcdefghij", 4, &["to ", "abcd", "efgh", "ij"]);
        check("e\u{301}e\u{301}e\u{301}", 2, &["e\u{301}e\u{301}", "e\u{301}"]);
        check("日本語、テキスト", 6, &["日本", "語、テ", "キスト"]);
        check("👨\u{200d}👩\u{200d}👧👍🏽", 1, &["👨\u{200d}👩\u{200d}👧", "👍🏽"]);
        check("ab", 0, &["a", "b"]);
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn rows_hold_the_text_in_order_and_fit(
            text in "([a-c .,\n\r\u{301}\u{200d}🇫日-]|👩|\\PC){0,40}",
            width in 1_usize..12,
        ) {
            let rows = wrap(&text, width);
            prop_assert_eq!(rows[0].start, 0);
            prop_assert_eq!(rows[rows.len() - 1].end, text.strip_suffix('\r').unwrap_or(&text).len());
            for pair in rows.windows(2) {
                let between = &text[pair[0].end..pair[1].start];
                prop_assert!(["", "\n", "\r\n"].contains(&between), "between {pair:?} of {text:?}");
            }
            for row in rows {
                prop_assert!(is_edge(&text, row.start) && is_edge(&text, row.end), "{row:?} of {text:?}");
                let shown = text[row].trim_end_matches(hangs);
                prop_assert!(cells(shown) <= width || shown.graphemes(true).count() == 1, "{shown:?} in {width}");
            }
        }
    }
}
