//! What takes the place of the copy for a while: a page of text, the panel with its figures; and the blocks that can be
//! written.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::list::first_shown;
use super::picture;
use super::put::put;
use crate::desk::listing::INSERTED;
use crate::desk::mode::Mode;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::draft::BlockKind;

/// Draws the page of a mode, if the mode has one.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    let area = if matches!(state.mode, Mode::Panel(_)) { figured(state, sheet, buffer) } else { area };
    let lines = state.mode.page().map_or(&[][..], |page| page.in_sight());
    for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
        put(buffer, area.x + 1, y, line, Style::new(), area);
    }
}

/// Draws the panel beside its figures, and returns the area of the figures.
fn figured(state: &State, sheet: &DraftSheet, buffer: &mut Buffer) -> Rect {
    let (figures, panel) = state.areas().figured(&state.mode);
    picture::of_cursor(state, sheet, panel, buffer);
    figures
}

/// Columns of a block's name in the list of those that can be written.
const BLOCK: u16 = 22;

/// Draws the blocks that can be written, each with what it is for, and those that the draft has already.
pub(super) fn inserted(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let has = |kind: BlockKind| {
        state.sheet().is_some_and(|sheet| sheet.now.draft.blocks.iter().any(|block| block.kind == kind))
    };
    let first = first_shown(at, INSERTED.len(), area);
    for ((number, (kind, says)), y) in INSERTED.iter().enumerate().skip(first).zip(area.top()..area.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, area.x + 1, y, sign, state.theme.accent, area);
        put(buffer, area.x + 3, y, kind.name(), if chosen { state.theme.strong } else { Style::new() }, area);
        let says = if has(*kind) { format!("{says}; the draft has one") } else { (*says).to_owned() };
        put(buffer, area.x + 3 + BLOCK, y, &says, state.theme.faint, area);
    }
}
