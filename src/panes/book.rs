//! The page of the book and its brief: its rows in their groups, what is usual where the brief says nothing, what the
//! brief's file has otherwise, and what the row in hand is for.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::desk::event::Target;
use crate::desk::mode::{BookPage, Mode, RowChoice};
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::values::row::BriefRow;

/// Columns of a row's name, and the same on a narrow page.
const NAMES: (u16, u16) = (34, 20);
/// From this many columns on a page is not narrow.
const WIDE: u16 = 66;
/// Columns of a value before what the brief's file has.
const VALUE: u16 = 24;
/// From this many rows on, what a row is for has two rows, behind a rule.
const DEEP: u16 = 10;

/// What is told of a value that the brief's file lacks.
const NOT_THERE: &str = "not in the brief";

/// A line of the list.
enum PageLine {
    /// The name of a group.
    Group(String),
    /// A row, by its number.
    Row(usize),
}

/// The rows in lines, with a line for each group.
fn lines(rows: &[BriefRow]) -> Vec<PageLine> {
    let mut lines = Vec::with_capacity(rows.len() + 20);
    for (number, row) in rows.iter().enumerate() {
        if number == 0 || rows[number - 1].group != row.group {
            lines.push(PageLine::Group(row.group.clone()));
        }
        lines.push(PageLine::Row(number));
    }
    lines
}

/// The line of a row, and the first line in sight, which shows the group's name where that can be.
fn placed(lines: &[PageLine], at: usize, list: Rect) -> (usize, usize) {
    let line = lines.iter().position(|line| matches!(line, PageLine::Row(row) if *row == at)).unwrap_or(0);
    (line, first_shown(line, lines.len(), list))
}

/// The area of the list and that of what the row in hand is for, of the area of the page.
fn parts(area: Rect) -> (Rect, Rect) {
    let below = if area.height >= DEEP { 3 } else { area.height.min(1) };
    let list = Rect { x: area.x + 1, width: area.width.saturating_sub(2), height: area.height - below, ..area };
    (list, Rect { y: list.bottom(), height: below, ..list })
}

/// Draws the page with a row in hand.
pub(super) fn draw(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let (list, below) = parts(area);
    let rows = state.book_rows();
    let at = at.min(rows.len().saturating_sub(1));
    if let Mode::Book(BookPage { choosing: Some(choice), .. }) = &state.mode {
        choices(state, choice, list, buffer);
        // What the row in hand is for says nothing of another list.
        if !choice.is_of_row() {
            return;
        }
    } else {
        let lines = lines(&rows);
        let file = state.file_rows();
        let (_, first) = placed(&lines, at, list);
        for (line, y) in lines.iter().skip(first).zip(list.top()..list.bottom()) {
            match line {
                PageLine::Group(name) => put(buffer, list.x, y, name, state.theme.faint, list),
                PageLine::Row(number) => {
                    let before = before(&rows[*number], &file);
                    row(
                        state,
                        (&rows[*number], before.as_deref()),
                        *number == at,
                        Rect { y, height: 1, ..list },
                        buffer,
                    );
                }
            }
        }
    }
    if let Some(row) = rows.get(at) {
        says(state, row, below, buffer);
    }
}

/// What the brief's file has in the place of a row's value, in words; none where it has this value.
fn before(row: &BriefRow, file: &[BriefRow]) -> Option<String> {
    if row.is_of_item() {
        // An item has another place once one before it goes, so what is new is known by its words.
        let is_there =
            file.iter().any(|other| (&other.group, &other.name, &other.own) == (&row.group, &row.name, &row.own));
        return (!is_there).then(|| NOT_THERE.to_owned());
    }
    let before = file.iter().find(|other| other.is_same_value(row));
    match before.map(|before| before.own.as_deref()) {
        Some(own) if own == row.own.as_deref() => None,
        None if row.own.is_none() => None,
        Some(Some(own)) => Some(format!("brief: {own}")),
        Some(None) | None => Some(NOT_THERE.to_owned()),
    }
}

fn row(state: &State, (row, before): (&BriefRow, Option<&str>), is_chosen: bool, line: Rect, buffer: &mut Buffer) {
    let y = line.y;
    let sign = if is_chosen { state.theme.signs.pointer } else { " " };
    put(buffer, line.x, y, sign, state.theme.strong, line);
    let name = names(line.width);
    let indent = if row.is_part { 4 } else { 2 };
    let style = if is_chosen { state.theme.strong } else { Style::new() };
    put(buffer, line.x + indent, y, &shortened(&visible(&row.name), usize::from(name - indent - 1)), style, line);
    let is_own = row.own.is_some();
    let room = usize::from(line.width.saturating_sub(name));
    let mut told = visible(row.value());
    if is_own && state.why_unread(row.value()).is_some() {
        told = format!("{told}: cannot be read").into();
    }
    let words = before.map(|before| visible(before).into_owned());
    let has_room = words
        .as_ref()
        .is_some_and(|words| room >= usize::from(VALUE) + cells(words) && cells(&told) < usize::from(VALUE));
    let style = if is_own { style } else { state.theme.faint };
    put(buffer, line.x + name, y, &shortened(&told, room), style, line);
    match words {
        Some(words) if has_room => put(buffer, line.x + name + VALUE, y, &words, state.theme.faint, line),
        // Where there is no room for what the brief's file has, a star says that it is something else.
        Some(_) => put(buffer, line.x + name - 2, y, "*", state.theme.faint, line),
        None => {}
    }
}

/// Draws what can be chosen.
fn choices(state: &State, choice: &RowChoice, area: Rect, buffer: &mut Buffer) {
    put(buffer, area.x, area.y, &visible(&choice.heading), state.theme.strong, area);
    let list = options_in(area);
    let first = first_shown(choice.at, choice.options.len(), list);
    for ((number, option), y) in choice.options.iter().enumerate().skip(first).zip(list.top()..list.bottom()) {
        let is_chosen = number == choice.at;
        let sign = if is_chosen { state.theme.signs.pointer } else { " " };
        put(buffer, list.x, y, sign, state.theme.strong, list);
        put(buffer, list.x + 2, y, &visible(option), if is_chosen { state.theme.strong } else { Style::new() }, list);
    }
}

/// The part of the list's area below a question.
fn options_in(list: Rect) -> Rect {
    Rect { y: list.y + list.height.min(1), height: list.height.saturating_sub(1), ..list }
}

/// Draws what a row is for, and behind it the whole value where the list has no room for that.
fn says(state: &State, row: &BriefRow, area: Rect, buffer: &mut Buffer) {
    let mut y = area.y;
    if area.height > 1 {
        put(buffer, area.x, y, &state.theme.signs.rule.repeat(usize::from(area.width)), state.theme.faint, area);
        y += 1;
    }
    // Of a picture that cannot be read the reason is wanted first.
    let why = row.own.as_ref().and_then(|own| state.why_unread(own));
    let why = why.map_or_else(String::new, |why| format!("{} ", visible(why)));
    let is_long = cells(row.value()) > usize::from(area.width.saturating_sub(names(area.width)));
    let whole = if is_long { format!(" It is: {}", visible(row.value())) } else { String::new() };
    let told = format!("{why}{}{whole}", row.says);
    let rows = wrap(&told, usize::from(area.width).max(1));
    for (found, y) in rows.into_iter().zip(y..area.bottom()) {
        let words = if y + 1 == area.bottom() { &told[found.start..] } else { told[found].trim_end() };
        put(buffer, area.x, y, &shortened(words, usize::from(area.width)), Style::new(), area);
    }
}

/// The columns of the names in a list of some columns.
fn names(width: u16) -> u16 {
    if width >= WIDE { NAMES.0 } else { NAMES.1 }
}

/// The row, or what can be chosen, at a place of the screen.
pub(super) fn target_at(state: &State, page: &BookPage, area: Rect, at: Position) -> Option<Target> {
    let (list, _) = parts(area);
    if let Some(choice) = &page.choosing {
        return item_at(options_in(list), choice.at, choice.options.len(), at).map(Target::Answer);
    }
    let lines = lines(&state.book_rows());
    let (line, _) = placed(&lines, page.at, list);
    match lines.get(item_at(list, line, lines.len(), at)?)? {
        PageLine::Row(number) => Some(Target::Row(*number)),
        PageLine::Group(_) => Some(Target::List),
    }
}
