//! Writes words on the screen in one line inside an area, and shortens words to the cells that there are.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use crate::editor::graphemes::cells;

/// Writes words in one line, as far as they lie inside an area.
pub(super) fn put(buffer: &mut Buffer, x: u16, y: u16, words: &str, style: Style, area: Rect) {
    if area.contains(Position { x, y }) && buffer.area.contains(Position { x, y }) {
        let room = area.right().min(buffer.area.right()) - x;
        buffer.set_stringn(x, y, words, usize::from(room), style);
    }
}

/// Words in at most `room` cells. Words that are cut end in three dots, after a whole word if that keeps at least half
/// of the text.
pub(super) fn shortened(words: &str, room: usize) -> String {
    if cells(words) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        if cells(&kept) + cells(letter.encode_utf8(&mut [0; 4])) + 3 > room {
            break;
        }
        kept.push(letter);
    }
    if !words[kept.len()..].starts_with(char::is_whitespace) {
        // Where no blank is in the second half, as in a long file name, the text is cut inside a word.
        let whole = kept.rfind(char::is_whitespace).filter(|blank| blank * 2 >= kept.len());
        kept.truncate(whole.unwrap_or(kept.len()));
    }
    format!("{}...", kept.trim_end())
}
