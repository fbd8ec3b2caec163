//! Words on the screen: put in one line inside an area, and shortened to the cells that there are.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use crate::editor::graphemes::cells;

/// Puts words in one line, as far as they stand inside an area.
pub(super) fn put(buffer: &mut Buffer, x: u16, y: u16, words: &str, style: Style, area: Rect) {
    if area.contains(Position { x, y }) && buffer.area.contains(Position { x, y }) {
        let room = area.right().min(buffer.area.right()) - x;
        buffer.set_stringn(x, y, words, usize::from(room), style);
    }
}

/// Words in so many cells, with a stop in place of what does not go in, behind a whole word where there are several.
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
        // One long word alone, as a file's name is, is shown as far as it goes.
        let whole = kept.rfind(char::is_whitespace).filter(|blank| blank * 2 >= kept.len());
        kept.truncate(whole.unwrap_or(kept.len()));
    }
    format!("{}...", kept.trim_end())
}
