//! Two drafts side by side: the one in front on the left, another of the book or a kept copy on the right, each with
//! its measures, and with its panel where there is room for that. Differences stand in braces, moved words have one
//! number at both of their places, and the selected difference stands in pointed brackets. Matching sentences stand on
//! one row, so both drafts scroll together.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::measures::gauges;
use super::picture::{self, Pictured};
use super::put::{put, shortened};
use crate::desk::assessed::Assessed;
use crate::desk::beside::{Beside, BesideOf};
use crate::desk::layout::{BesideAreas, HEADING};
use crate::desk::papers::Paper;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::units::nouns::counted;

/// A blank at which no row ends.
const NO_BREAK: &str = "\u{a0}";

/// The first difference in the row at a place of the screen.
pub(super) fn change_at(state: &State, beside: &Beside, at: Position) -> Option<usize> {
    let text = state.areas().beside(beside.row_count()).text;
    let row = text.contains(at).then(|| usize::from(at.y - text.y))?;
    beside.in_sight().get(row)?.changes.first().copied()
}

/// The areas of both panels, each with what is drawn there; none where there is no room for them.
pub(super) fn panels<'a>(
    state: &State,
    sheet: &'a DraftSheet,
    beside: &'a Beside,
) -> impl Iterator<Item = (Rect, &'a Assessed)> {
    let areas = state.areas().beside(beside.row_count()).panels;
    areas.into_iter().zip([&sheet.now, &beside.found]).filter(|(area, _)| !area.is_empty())
}

/// Draws both drafts above the foot.
pub(super) fn draw(state: &State, sheet: &DraftSheet, beside: &Beside, buffer: &mut Buffer) {
    let BesideAreas { left, right, text, .. } = state.areas().beside(beside.row_count());
    let other = match &beside.of {
        BesideOf::Draft(draft) => state.papers.get(*draft).map_or_else(String::new, Paper::name),
        BesideOf::Copy(copy) => format!("the copy {}", copy.told()),
    };
    for (found, name, column) in [(&sheet.now, state.name(), left), (&beside.found, other, right)] {
        heading(state, found, &name, column, buffer);
    }
    for (area, found) in panels(state, sheet, beside) {
        if let Some(pictured) = Pictured::of_panel(state, found) {
            picture::draw(&pictured, &state.theme, area, buffer);
        }
    }
    for (row, y) in beside.in_sight().iter().zip(text.top()..text.bottom()) {
        if row.changes.contains(&beside.at) {
            put(buffer, text.x, y, state.theme.signs.pointer, state.theme.strong, text);
        }
        for (words, column) in [(&row.left, left), (&row.right, right)] {
            put(buffer, column.x, y, &words.text, Style::new(), column);
            for held in &words.held {
                let x = column.x + cells(&words.text[..held.start]) as u16;
                put(buffer, x, y, &words.text[held.clone()], state.theme.strong, column);
            }
        }
    }
    let above = text.y.saturating_sub(1);
    let out = out_of_sight(beside.out_of_sight());
    let out = if cells(&out) > usize::from(left.width) { out.replace(" rows", "") } else { out };
    put(buffer, left.x, above, &out, state.theme.faint, left);
    let [open, close] = state.theme.signs.brackets;
    let told = match beside.changes() {
        [] => vec!["the two say the same".to_owned()],
        _ => vec![
            format!("in {{ }} what differs, in {open} {close} what Enter takes over"),
            format!("{{ }} differs; {open} {close}: Enter takes it"),
            format!("{open} {close} by Enter"),
        ],
    };
    let room = usize::from(right.width);
    let words = told.iter().find(|words| cells(words) <= room).or(told.last());
    put(buffer, right.x, above, words.map_or("", String::as_str), state.theme.faint, right);
}

/// `12 rows above, 30 below`; empty where all is in sight.
fn out_of_sight((above, below): (usize, usize)) -> String {
    match (above, below) {
        (0, 0) => String::new(),
        (0, below) => format!("{} below", counted(below, "row")),
        (above, 0) => format!("{} above", counted(above, "row")),
        (above, below) => format!("{} above, {below} below", counted(above, "row")),
    }
}

/// The draft's name and its four measures, in as many rows as the heading has.
fn heading(state: &State, found: &Assessed, name: &str, column: Rect, buffer: &mut Buffer) {
    let room = usize::from(column.width);
    put(buffer, column.x, column.y, &shortened(&visible(name), room), state.theme.strong, column);
    let signs = &state.theme.signs;
    // A measure is not parted between two rows.
    let said = gauges(found, found, signs).map(|gauge| gauge.in_short().replace(' ', NO_BREAK));
    let said = said.join(&format!("{NO_BREAK}{} ", signs.point));
    let rows = wrap(&said, room.max(1));
    for (row, y) in rows.into_iter().zip(column.y + 1..column.bottom().min(column.y + HEADING)) {
        let words = if y + 1 == column.y + HEADING { &said[row.start..] } else { said[row].trim_end() };
        put(buffer, column.x, y, &shortened(&words.replace(NO_BREAK, " "), room), state.theme.faint, column);
    }
}
