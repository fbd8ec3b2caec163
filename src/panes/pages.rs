//! What takes the place of the copy for a while: a page of text, the panel, the drafts.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::list::first_shown;
use super::picture;
use super::put::{put, shortened};
use crate::desk::mode::Mode;
use crate::desk::papers::DraftOrigin;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::print::visible::visible;

/// Draws the page of a mode, if the mode has one.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    match &state.mode {
        Mode::Panel => picture::of_cursor(state, sheet, area, buffer),
        Mode::Drafts(at) => drafts(state, *at, area, buffer),
        mode => {
            let lines = mode.page().map_or(&[][..], |page| page.in_sight());
            for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
                put(buffer, area.x + 1, y, line, Style::new(), area);
            }
        }
    }
}

fn drafts(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let first = first_shown(at, state.papers.last_row() + 1, area);
    for ((number, paper), y) in state.papers.iter().enumerate().skip(first).zip(area.top()..area.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, area.x + 1, y, sign, state.theme.accent, area);
        let name = visible(&paper.path.display().to_string()).into_owned();
        let standing = match &paper.sheet {
            Some(sheet) if sheet.is_changed() => ", not saved",
            Some(_) if paper.id == state.front => ", in front",
            Some(_) => ", open",
            None => "",
        };
        let origin = match paper.origin {
            DraftOrigin::Book => "",
            DraftOrigin::Elsewhere => ", not in the book's folder",
        };
        let kept = if paper.has_recovered_words { ", unsaved words are kept" } else { "" };
        let note = format!("{standing}{kept}{origin}");
        let name = shortened(&name, usize::from(area.width).saturating_sub(4 + cells(&note)));
        let style = if chosen { state.theme.strong } else { Style::new() };
        put(buffer, area.x + 3, y, &format!("{name}{note}"), style, area);
    }
}
