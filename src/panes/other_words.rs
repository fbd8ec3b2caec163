//! Other words below the copy: each in a row beside the word whose place it could take, with what it wins.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::desk::mode::WordPage;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::print::visible::visible;

/// Draws the page into the area of a list.
pub(super) fn draw(state: &State, page: &WordPage, area: Rect, buffer: &mut Buffer) {
    let theme = &state.theme;
    let wide = usize::from(area.width);
    put(buffer, area.x, area.y, &shortened(&page.heading, wide), theme.faint, area);
    let list = rows_in(area);
    let rows = page.rows.iter().enumerate().skip(first_shown(page.at, page.rows.len(), list));
    for ((number, row), y) in rows.zip(list.top()..list.bottom()) {
        let chosen = number == page.at;
        let sign = if chosen { theme.signs.pointer } else { " " };
        put(buffer, list.x, y, sign, theme.strong, list);
        let room = wide.saturating_sub(cells(&row.wins) + 4);
        let words = format!("{}: {}", visible(&row.word), visible(&row.other));
        let style = if chosen { theme.strong } else { Style::new() };
        put(buffer, list.x + 2, y, &shortened(&words, room), style, list);
        let x = list.right().saturating_sub(cells(&row.wins) as u16);
        put(buffer, x, y, &row.wins, theme.faint, list);
    }
}

/// The row that stands at a place of the screen, by its number.
pub(super) fn row_at(page: &WordPage, area: Rect, at: Position) -> Option<usize> {
    item_at(rows_in(area), page.at, page.rows.len(), at)
}

/// The part of a list's area below its heading.
fn rows_in(area: Rect) -> Rect {
    Rect { y: area.y + area.height.min(1), height: area.height.saturating_sub(1), ..area }
}
