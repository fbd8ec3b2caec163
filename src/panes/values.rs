//! The page for trying another panel: the values, the brief's own values, and the panel beside them.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::list::{first_shown, list_in};
use super::picture;
use super::put::{put, shortened};
use crate::brief::panel_values::PanelValue;
use crate::desk::mode::{Mode, NewBox};
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::print::visible::visible;

/// Columns of a value's name.
const NAME: u16 = 28;
/// Columns of a value.
const VALUE: u16 = 18;
/// The area of the list, and the area of the panel where it has no pane of its own.
pub(super) fn areas(state: &State) -> (Rect, Rect) {
    let areas = state.areas();
    let (list, picture) = areas.figured(&state.mode);
    (areas.strip(&state.mode).map_or(list, list_in), picture)
}

/// The part of the list's area below a question.
pub(super) fn answers_in(list: Rect) -> Rect {
    Rect { y: list.y + list.height.min(1), height: list.height.saturating_sub(1), ..list }
}

/// Draws the list, and the panel where it has no pane of its own.
pub(super) fn draw(state: &State, sheet: &DraftSheet, buffer: &mut Buffer) {
    let (list, panel) = areas(state);
    picture::of_cursor(state, sheet, panel, buffer);
    match state.mode {
        Mode::Values(at) => values(state, at, list, buffer),
        Mode::Adding(new) => answers(state, new, list, buffer),
        _ => {}
    }
}

/// Draws a question about a new box, and its answers.
fn answers(state: &State, new: NewBox, list: Rect, buffer: &mut Buffer) {
    put(buffer, list.x + 1, list.y, new.question(), state.theme.strong, list);
    let list = answers_in(list);
    let answers = state.answers(new);
    let rows = answers.iter().enumerate().skip(first_shown(new.at, answers.len(), list));
    for ((number, answer), y) in rows.zip(list.top()..list.bottom()) {
        let chosen = number == new.at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, list.x + 1, y, sign, state.theme.accent, list);
        put(buffer, list.x + 3, y, answer, if chosen { state.theme.strong } else { Style::new() }, list);
    }
}

/// The name of a value in the columns that it has. The box that a value is of is named where its values begin; of a
/// long name only the beginning.
fn name_of(value: &PanelValue, begins: bool) -> String {
    let (room, name) = (usize::from(NAME) - 4, visible(&value.name));
    match name.rsplit_once(": ").filter(|_| value.of.is_some()) {
        Some((_, part)) if !begins => format!("  {part}"),
        Some((of, part)) => format!("{}: {part}", shortened(of, room.saturating_sub(cells(part) + 2))),
        None => name.into_owned(),
    }
}

fn values(state: &State, at: usize, list: Rect, buffer: &mut Buffer) {
    let own = state.file_brief().written_panel().with_part(state.panel_tried().part).values();
    let values = state.values();
    let first = first_shown(at, values.len(), list);
    let rows = values.iter().enumerate().skip(first);
    for ((number, value), y) in rows.zip(list.top()..list.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, list.x + 1, y, sign, state.theme.accent, list);
        let style = if chosen { state.theme.strong } else { Style::new() };
        let begins = number == first || values[number - 1].of != value.of;
        put(buffer, list.x + 3, y, &name_of(value, begins), style, list);
        put(buffer, list.x + NAME, y, &visible(&value.value), style, list);
        let before = own.iter().find(|before| before.name == value.name && before.value != value.value);
        if let Some(before) = before {
            // Where there is no room for the brief's own value, a star says that it differs.
            let words = format!("brief: {}", visible(&before.value));
            let has_room = list.width >= NAME + VALUE + 2 + cells(&words) as u16
                && cells(&visible(&value.value)) < usize::from(VALUE);
            let (x, words) = if has_room { (list.x + NAME + VALUE, words.as_str()) } else { (list.x + NAME - 2, "*") };
            put(buffer, x, y, words, state.theme.faint, list);
        }
    }
}
