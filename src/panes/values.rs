//! The page for trying another panel, in the form of the panel's own page: the values with what the one in hand is, and
//! the panel beside them.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::list::first_shown;
use super::picture;
use super::put::{put, shortened};
use crate::brief::panel_values::PanelValue;
use crate::desk::mode::{Mode, NewBox};
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::trial::explained::explained;

/// The least and the most columns up to a value, and the columns that are kept for it.
const NAME: (u16, u16) = (16, 28);
const VALUE: u16 = 14;
/// The column of a name, behind the pointer.
const NAME_FROM: usize = 2;
/// The columns by which a part stands further in than its whole.
const PART: usize = 2;
/// The rows that are kept below the list for what the value in hand is, and the least rows that the list keeps.
const TOLD: u16 = 5;
const LEAST: u16 = 6;

/// The area of the list; what the value in hand is stands below it.
pub(super) fn list_of(state: &State) -> Rect {
    let (whole, _) = state.areas().figured(&state.mode);
    let told = if whole.height >= TOLD + LEAST { TOLD } else { whole.height.saturating_sub(LEAST).min(2) };
    Rect { height: whole.height - told, ..whole }
}

/// The part of the list's area below a question.
pub(super) fn answers_in(list: Rect) -> Rect {
    Rect { y: list.y + list.height.min(1), height: list.height.saturating_sub(1), ..list }
}

/// Draws the list, what the value in hand is, and the panel.
pub(super) fn draw(state: &State, sheet: &DraftSheet, buffer: &mut Buffer) {
    let (whole, panel) = state.areas().figured(&state.mode);
    let list = list_of(state);
    picture::of_cursor(state, sheet, panel, buffer);
    if let Mode::Adding(new) = state.mode {
        return answers(state, new, list, buffer);
    }
    if let Some(at) = state.mode.value_in_hand() {
        values(state, at, list, buffer);
        let height = whole.height - list.height;
        tell(state, at, Rect { y: list.bottom(), height, ..whole }, buffer);
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
        put(buffer, list.x + 1, y, sign, state.theme.strong, list);
        put(buffer, list.x + 3, y, answer, if chosen { state.theme.strong } else { Style::new() }, list);
    }
}

/// The name of a value in the columns that it has. The box that a value is of is named where its values begin, and
/// single margins stand under all of them; of a long name only the beginning.
fn name_of(value: &PanelValue, begins: bool, room: usize) -> String {
    let name = visible(&value.name);
    match name.rsplit_once(": ").filter(|_| value.of.is_some()) {
        Some((_, part)) if !begins => part_of(part, room),
        Some((of, part)) => format!("{}: {part}", shortened(of, room.saturating_sub(cells(part) + 2).max(4))),
        None => match name.strip_prefix("margin ") {
            Some(edge) => part_of(edge, room),
            None => shortened(&name, room),
        },
    }
}

/// The name of a part below that of its whole. Which edge a distance is from is kept before the word that leads to it.
fn part_of(part: &str, room: usize) -> String {
    let is_long = cells(part) + PART > room;
    let edge = part.strip_prefix("from ").or_else(|| part.strip_prefix("at ")).filter(|_| is_long);
    shortened(&format!("{:PART$}{}", "", edge.unwrap_or(part)), room)
}

/// A value as the brief's file has it, where another is tried.
fn own_value(state: &State, value: &PanelValue) -> Option<PanelValue> {
    let own = state.file_brief().written_panel().with_part(state.panel_tried().part).values();
    own.into_iter().find(|before| before.name == value.name && before.value != value.value)
}

/// The column of the values in a list of some columns.
fn value_column(list: Rect) -> u16 {
    list.width.saturating_sub(VALUE).clamp(NAME.0, NAME.1)
}

fn values(state: &State, at: usize, list: Rect, buffer: &mut Buffer) {
    let values = state.values();
    let column = value_column(list);
    let first = first_shown(at, values.len(), list);
    let rows = values.iter().enumerate().skip(first);
    for ((number, value), y) in rows.zip(list.top()..list.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, list.x, y, sign, state.theme.strong, list);
        let style = if chosen { state.theme.strong } else { Style::new() };
        let begins = number == first || values[number - 1].of != value.of;
        let name = name_of(value, begins, usize::from(column).saturating_sub(NAME_FROM + 1));
        put(buffer, list.x + NAME_FROM as u16, y, &name, style, list);
        let room = usize::from(list.width.saturating_sub(column));
        put(buffer, list.x + column, y, &shortened(&visible(&value.value), room), style, list);
        if own_value(state, value).is_some() {
            put(buffer, list.x + column - 1, y, "*", state.theme.faint, list);
        }
    }
}

/// Tells what the value in hand is, and what the brief has where another is tried.
fn tell(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let values = state.values();
    let Some(value) = values.get(at.min(values.len().saturating_sub(1))) else { return };
    let own = own_value(state, value).map(|own| format!(" * The brief has {}.", visible(&own.value)));
    let room = usize::from(area.width).saturating_sub(NAME_FROM + 1).max(1);
    // A value for which the list has no room stands here whole.
    let long = usize::from(area.width.saturating_sub(value_column(area))) < cells(&value.value);
    let whole = if long { format!(" It is {}.", visible(&value.value)) } else { String::new() };
    let told = format!("{}{whole}{}", explained(value), own.unwrap_or_default());
    let rows = wrap(&told, room);
    // An empty row parts it from the list, where there is one to spare.
    let top = area.y + u16::from(rows.len() < usize::from(area.height));
    for (row, y) in rows.into_iter().zip(top..area.bottom()) {
        let words = if y + 1 == area.bottom() { &told[row.start..] } else { told[row].trim_end() };
        put(buffer, area.x + NAME_FROM as u16, y, &shortened(words, room), state.theme.faint, area);
    }
}
