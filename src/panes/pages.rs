//! What takes the place of the copy for a while: a page of text, the panel, the drafts.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::list::first_shown;
use super::picture;
use super::put::{put, shortened};
use crate::desk::listing::INSERTED;
use crate::desk::mode::Mode;
use crate::desk::papers::DraftOrigin;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::draft::BlockKind;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;

/// Draws the page of a mode, if the mode has one.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    match &state.mode {
        Mode::Drafts(at) => drafts(state, *at, area, buffer),
        mode => {
            let area = if matches!(mode, Mode::Panel(_)) { figured(state, sheet, buffer) } else { area };
            let lines = mode.page().map_or(&[][..], |page| page.in_sight());
            for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
                put(buffer, area.x + 1, y, line, Style::new(), area);
            }
        }
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

/// What the words of the list of drafts mean.
const OF_DRAFTS: &str = "\"In front\" is the draft that you write in. \"Double\" copies the one that is marked under \
                         another name, so that each is changed by itself; \"keep a copy\" puts it, with its date, into \
                         the folder kept.";

/// The area of the list of drafts: what is left above the words that explain it.
pub(super) fn drafts_in(area: Rect) -> Rect {
    let told = wrap(OF_DRAFTS, usize::from(area.width.saturating_sub(4))).len() as u16;
    Rect { height: area.height.saturating_sub(told + 1).max(area.height.min(4)), ..area }
}

fn drafts(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let (whole, area) = (area, drafts_in(area));
    let count = state.papers.last_row() + 1;
    let below = area.y + area.height.min(u16::try_from(count).unwrap_or(u16::MAX)) + 1;
    let rows = wrap(OF_DRAFTS, usize::from(area.width.saturating_sub(4)));
    for (row, y) in rows.into_iter().zip(below..whole.bottom()) {
        put(buffer, area.x + 3, y, OF_DRAFTS[row].trim_end(), state.theme.faint, whole);
    }
    let first = first_shown(at, count, area);
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
