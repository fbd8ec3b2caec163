//! Graphemes, the characters that a reader sees: where they begin and end in a text, and how many cells of the screen
//! they take.
//!
//! Source: Unicode Standard Annex 29, "Unicode Text Segmentation", extended grapheme clusters. Every place in a text
//! here is a byte from its start.

use ratatui::buffer::CellWidth;
use unicode_segmentation::{GraphemeCursor, UnicodeSegmentation};

/// The edge after `at`; at the end of the text, the end itself.
pub fn next(text: &str, at: usize) -> usize {
    let at = snapped(text, at);
    GraphemeCursor::new(at, text.len(), true).next_boundary(text, 0).ok().flatten().unwrap_or(text.len())
}

/// The edge before `at`; at the start of the text, the start itself.
pub fn previous(text: &str, at: usize) -> usize {
    let at = text.floor_char_boundary(at);
    GraphemeCursor::new(at, text.len(), true).prev_boundary(text, 0).ok().flatten().unwrap_or(0)
}

/// The last edge that is not after `at`, whatever `at` is.
pub fn snapped(text: &str, at: usize) -> usize {
    let at = text.floor_char_boundary(at);
    if is_edge(text, at) { at } else { previous(text, at) }
}

/// The first edge that is not before `at`, whatever `at` is.
pub fn snapped_on(text: &str, at: usize) -> usize {
    let edge = snapped(text, at);
    if edge < at.min(text.len()) { next(text, edge) } else { edge }
}

/// Whether a grapheme begins or ends at `at`.
pub fn is_edge(text: &str, at: usize) -> bool {
    text.is_char_boundary(at) && GraphemeCursor::new(at, text.len(), true).is_boundary(text, 0).unwrap_or(false)
}

/// The cells of the screen that a stretch of text takes. A tab counts as one blank; other control characters are not
/// drawn.
pub fn cells(text: &str) -> usize {
    if text.chars().all(is_plain) { text.chars().count() } else { text.graphemes(true).map(cells_of_one).sum() }
}

/// Characters of which most copy is made. Next to each other each of them is a grapheme of one cell, so counting them
/// is enough.
fn is_plain(character: char) -> bool {
    matches!(character, ' '..='~' | '‘' | '’' | '“' | '”' | '–' | '—' | '…')
}

fn cells_of_one(grapheme: &str) -> usize {
    match grapheme.chars().next() {
        Some('\t') => 1,
        Some(first) if first.is_control() => 0,
        // The screen is drawn with this count too, so the cursor cannot stand away from its character.
        _ => usize::from(grapheme.cell_width()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Walks over `shown` from both ends and expects an edge at each `|`.
    fn check(shown: &str, width: usize) {
        let text = shown.replace('|', "");
        let mut edges = vec![0];
        while edges[edges.len() - 1] < text.len() {
            edges.push(next(&text, edges[edges.len() - 1]));
        }
        let pieces: Vec<&str> = edges.windows(2).map(|pair| &text[pair[0]..pair[1]]).collect();
        assert_eq!(pieces.join("|"), shown);
        let mut back = vec![text.len()];
        while back[back.len() - 1] > 0 {
            back.push(previous(&text, back[back.len() - 1]));
        }
        back.reverse();
        assert_eq!(back, edges, "the way back over {shown}");
        assert_eq!(cells(&text), width, "cells of {shown}");
    }

    #[test]
    fn what_a_reader_takes_for_one_is_one_step() {
        check("", 0);
        check("a|b", 2);
        check("e\u{301}|x", 2);
        check("🇫🇷|🇳🇬|x", 5);
        check("👨\u{200d}👩\u{200d}👧|x", 3);
        check("👍🏽|x", 3);
        check("日|本", 4);
        check("한|x", 3);
        check("\u{1112}\u{1161}\u{11ab}|x", 3);
        check("\r\n|x", 1);
        check("\t|x", 2);
    }

    #[test]
    fn any_place_is_brought_to_an_edge() {
        let text = "ae\u{301}👨\u{200d}👩!";
        for at in 0..text.len() + 3 {
            let (before, after) = (snapped(text, at), snapped_on(text, at));
            assert!(is_edge(text, before) && is_edge(text, after));
            assert!(before <= at && (after >= at || after == text.len()));
            assert!(after == before || after == next(text, before));
        }
    }

    proptest::proptest! {
        #[test]
        fn plain_copy_takes_the_cells_of_its_characters(text in "([ -~‘’“”–—…]{0,9}|\\PC){0,3}") {
            proptest::prop_assert_eq!(cells(&text), text.graphemes(true).map(cells_of_one).sum::<usize>());
        }
    }
}
