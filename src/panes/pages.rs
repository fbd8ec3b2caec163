//! What takes the place of the copy for a while: a page of text, the panel with its figures, the text of a brief that
//! is mended; and the blocks that can be written.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::answers::{self, rows_in_sight};
use super::list::first_shown;
use super::picture;
use super::put::{put, shortened};
use crate::desk::listing::INSERTED;
use crate::desk::mode::Mode;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::desk::theme::Theme;
use crate::desk::{MENDING_MARGIN, mending_columns};
use crate::draft::BlockKind;
use crate::editor::mending::MendedText;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;

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

/// Draws the text of a brief that is mended: what is wrong above it, its lines with their numbers, and the line at
/// fault marked. Returns the cursor's position.
pub(super) fn mended(text: &MendedText, theme: &Theme, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let why = visible(&text.why);
    let inner = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    let told = wrap(&why, usize::from(inner.width).max(1));
    let told: Vec<_> = told.into_iter().take(usize::from(area.height / 2)).collect();
    for (row, y) in told.iter().zip(area.top()..area.bottom()) {
        put(buffer, inner.x, y, why[row.clone()].trim_end(), theme.strong, inner);
    }
    let above = (told.len() as u16 + 1).min(area.height);
    let list = Rect { y: area.y + above, height: area.height - above, ..area };
    let field = Rect { x: list.x + MENDING_MARGIN, width: mending_columns(list.width), ..list };
    let (rows, first) = rows_in_sight(&text.editor, field);
    for (row, y) in rows[first..].iter().zip(list.top()..list.bottom()) {
        let before = &text.editor.text()[..row.start];
        if !before.is_empty() && !before.ends_with('\n') {
            continue;
        }
        let number = before.matches('\n').count() + 1;
        let is_at_fault = text.line == Some(number);
        let (sign, style) = if is_at_fault { (theme.signs.pointer, theme.accent) } else { (" ", theme.faint) };
        put(buffer, list.x + 1, y, &format!("{sign}{number:>4}"), style, list);
    }
    answers::field(&text.editor, theme, field, buffer)
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
        put(buffer, area.x + 1, y, sign, state.theme.strong, area);
        put(buffer, area.x + 3, y, kind.name(), if chosen { state.theme.strong } else { Style::new() }, area);
        let says = if has(*kind) { format!("{says}; the draft has one") } else { (*says).to_owned() };
        let says = shortened(&says, usize::from(area.width.saturating_sub(3 + BLOCK)));
        put(buffer, area.x + 3 + BLOCK, y, &says, state.theme.faint, area);
    }
}
