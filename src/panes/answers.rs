//! The questions that a blurb answers, the answer that is typed, and what of it stands in the copy.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use unicode_segmentation::UnicodeSegmentation;

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::desk::event::Target;
use crate::desk::mode::AnswersPage;
use crate::desk::state::State;
use crate::desk::theme::{Signs, Theme};
use crate::editor::Editor;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::text::answer_sentences;
use crate::print::visible::visible;

/// Draws the page and returns the cursor's position in the answer.
pub(super) fn draw(state: &State, page: &AnswersPage, buffer: &mut Buffer) -> Option<Position> {
    let areas = state.areas().answers();
    questions(state, page, areas.list, buffer);
    told(state, page, areas.told, buffer);
    if page.field.text().is_empty() {
        put(buffer, areas.field.x, areas.field.y, "Type or paste the answer here.", state.theme.faint, areas.field);
    }
    field(&page.field, &state.theme, areas.field, buffer)
}

/// The question, or the byte of the answer, at a place of the screen.
pub(super) fn target_at(state: &State, page: &AnswersPage, at: Position) -> Option<Target> {
    let areas = state.areas().answers();
    if let Some(number) = item_at(areas.list, page.at, page.found.all.len(), at) {
        return Some(Target::Question(number));
    }
    let (rows, first) = rows_in_sight(&page.field, areas.field);
    let row = usize::from(at.y.checked_sub(areas.field.y).filter(|_| areas.field.contains(at))?);
    let Some(row) = rows.get(first + row) else { return Some(Target::Field(page.field.text().len())) };
    let column = usize::from(at.x - areas.field.x);
    let mut x = 0;
    let stop = page.field.text()[row.clone()].grapheme_indices(true).find(|(_, grapheme)| {
        x += cells(shown(grapheme, &state.theme.signs)).max(1);
        column < x
    });
    Some(Target::Field(stop.map_or(row.end, |(offset, _)| row.start + offset)))
}

/// Draws the questions, each with a sign that says whether it is answered.
fn questions(state: &State, page: &AnswersPage, area: Rect, buffer: &mut Buffer) {
    let (theme, all) = (&state.theme, &page.found.all);
    let first = first_shown(page.at, all.len(), area);
    for ((number, item), y) in all.iter().enumerate().skip(first).zip(area.top()..area.bottom()) {
        let chosen = number == page.at;
        put(buffer, area.x, y, if chosen { theme.signs.pointer } else { " " }, theme.strong, area);
        put(buffer, area.x + 2, y, if item.answer.is_answered() { "+" } else { "-" }, theme.faint, area);
        let style = if chosen { theme.strong } else { Style::new() };
        let room = usize::from(area.width.saturating_sub(5));
        put(buffer, area.x + 4, y, &shortened(item.answer.asked, room), style, area);
    }
}

/// Draws the rows of a text that is typed around its cursor.
pub(super) fn field(field: &Editor, theme: &Theme, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let (rows, first) = rows_in_sight(field, area);
    let (text, selected) = (field.text(), field.selection().unwrap_or(0..0));
    let mut cursor = None;
    for (row, y) in rows[first..].iter().zip(area.top()..area.bottom()) {
        let mut x = area.x;
        for (offset, grapheme) in text[row.clone()].grapheme_indices(true) {
            let at = row.start + offset;
            if at == field.cursor() {
                cursor = Some(Position { x, y });
            }
            let style = if selected.contains(&at) { theme.chosen } else { Style::new() };
            let shown = shown(grapheme, &theme.signs);
            put(buffer, x, y, shown, style, area);
            x = x.saturating_add(cells(shown) as u16);
        }
        // Behind the last character of a row stands the cursor only where the row does not go on below.
        if cursor.is_none() && field.cursor() == row.end {
            cursor = Some(Position { x: x.min(area.right().saturating_sub(1)), y });
        }
    }
    cursor
}

/// What is shown of a character: a blank for a tab, a point for what a terminal would obey.
fn shown<'a>(grapheme: &'a str, signs: &Signs) -> &'a str {
    match grapheme {
        "\t" => " ",
        other if visible(other) != other => signs.point,
        other => other,
    }
}

/// The rows of a text that is typed, and the first that is in sight, so that its cursor is.
pub(super) fn rows_in_sight(field: &Editor, area: Rect) -> (Vec<Range<usize>>, usize) {
    let rows = wrap(field.text(), usize::from(area.width).max(1));
    let at = rows.partition_point(|row| row.start <= field.cursor()).saturating_sub(1);
    let first = first_shown(at, rows.len(), area);
    (rows, first)
}

/// Draws what of the answer in hand stands in the copy; what has no room ends in dots.
fn told(state: &State, page: &AnswersPage, area: Rect, buffer: &mut Buffer) {
    let says = answer_sentences(&page.found.all[page.at]).join(" ");
    let rows = wrap(&says, usize::from(area.width).max(1));
    for ((number, row), y) in rows.iter().enumerate().zip(area.top()..area.bottom()) {
        let rest = if y + 1 == area.bottom() { &says[row.start..] } else { says[row.clone()].trim_end() };
        let words = if number + 1 == rows.len() { rest.to_owned() } else { shortened(rest, usize::from(area.width)) };
        put(buffer, area.x, y, &words, state.theme.faint, area);
    }
}
