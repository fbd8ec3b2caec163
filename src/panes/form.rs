//! The page that begins a book: a row for each question, and below them what the row in hand is about and its choices.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::beginning::BeginningTarget;
use crate::beginning::form::{BookForm, BookPlace, FormRow};
use crate::desk::theme::Theme;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::joined;
use crate::units::nouns::agrees;

/// Columns of a row's sign and name.
const NAME: u16 = 24;
/// Columns of a row's answer, where what the row is about stands behind it.
const ANSWER: u16 = 38;
/// From this many columns on, what each row is about stands behind its answer.
const WIDE: u16 = NAME + ANSWER + 70;
/// From this many rows on there is room for words above the rows.
const ROOMY: u16 = 17;
/// Columns between two choices.
const GAP: u16 = 3;

/// Where the parts of the page stand.
struct FormAreas {
    above: Rect,
    rows: Rect,
    below: Rect,
}

/// What is told above the rows.
fn told(form: &BookForm) -> String {
    let drafts: Vec<String> = form.drafts.iter().map(|name| visible(name).into_owned()).collect();
    let files = match (drafts.len(), form.place) {
        (0, BookPlace::Here) => "Then brief.yaml and first.md are written here, and the desk opens.".to_owned(),
        (0, BookPlace::NewFolder) => {
            format!("Then brief.yaml and first.md are written in {}, and the desk opens.", form.folder())
        }
        (1..=3, _) => format!(
            "{} {} here without a brief, and {} as {}. Then brief.yaml is written beside {}.",
            joined(drafts.clone()),
            agrees(drafts.len(), "is", "are"),
            agrees(drafts.len(), "stays", "stay"),
            agrees(drafts.len(), "it is", "they are"),
            agrees(drafts.len(), "it", "them")
        ),
        (count, _) => {
            format!("{count} drafts are here without a brief, and stay as they are. Then brief.yaml is written.")
        }
    };
    format!("Each row has a usual answer already; only the title is yours to type. {files}")
}

impl FormAreas {
    fn of(form: &BookForm, area: Rect) -> Self {
        let told = wrap(&told(form), usize::from(area.width.clamp(1, 100))).len() as u16;
        let above = if area.height >= ROOMY + told { told + 1 } else { 0 };
        let below =
            1 + choice_places(form, Rect { height: u16::MAX, ..area }).last().map_or(0, |last| last.y - area.y + 1);
        let below = (below + 1).min(area.height / 2);
        let count = form.rows.len() as u16;
        let rows = count.min(area.height.saturating_sub(above + below));
        Self {
            above: Rect { height: above.saturating_sub(1), ..area },
            rows: Rect { y: area.y + above, height: rows, ..area },
            below: Rect { y: area.y + above + rows + 1, height: below.saturating_sub(1), ..area },
        }
    }
}

/// The places of the choices of the row in hand, from the head of an area; those without room are left out.
fn choice_places(form: &BookForm, area: Rect) -> Vec<Rect> {
    let (mut x, mut y) = (area.x, area.y);
    let mut places = Vec::new();
    for choice in form.choices() {
        let width = (cells(&choice) as u16).min(area.width);
        if x + width > area.right() && x > area.x {
            (x, y) = (area.x, y + 1);
        }
        if y >= area.bottom() {
            break;
        }
        places.push(Rect { x, y, width, height: 1 });
        x += width + GAP;
    }
    places
}

/// The area of the choices: below the line that says what the row in hand is about, unless that stands behind it.
fn choices_in(areas: &FormAreas) -> Rect {
    if areas.below.width >= WIDE {
        return areas.below;
    }
    Rect { y: areas.below.y + 1, height: areas.below.height.saturating_sub(1), ..areas.below }
}

/// Draws the page, and returns the cursor's position if an answer is typed.
pub(super) fn draw(form: &BookForm, theme: &Theme, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let areas = FormAreas::of(form, area);
    let words = told(form);
    for (row, y) in
        wrap(&words, usize::from(area.width.clamp(1, 100))).into_iter().zip(areas.above.top()..areas.above.bottom())
    {
        put(buffer, area.x, y, words[row].trim_end(), theme.faint, areas.above);
    }
    let first = first_shown(form.at, form.rows.len(), areas.rows);
    let mut cursor = None;
    for ((number, row), y) in form.rows.iter().enumerate().skip(first).zip(areas.rows.top()..areas.rows.bottom()) {
        let line = Rect { y, height: 1, ..areas.rows };
        let at = drawn_row(form, (number, *row), theme, line, buffer);
        cursor = cursor.or(at);
    }
    if area.width < WIDE {
        let words = form.row().explained(&form.value(form.at));
        put(buffer, area.x, areas.below.y, words, theme.faint, areas.below);
    }
    let chosen = form.chosen();
    for (number, (choice, place)) in form.choices().iter().zip(choice_places(form, choices_in(&areas))).enumerate() {
        let style = if chosen == Some(number) { theme.chosen } else { Style::new() };
        put(buffer, place.x, place.y, choice, style, areas.below);
    }
    cursor
}

/// Draws one row, and returns the cursor's position if its answer is typed.
fn drawn_row(
    form: &BookForm,
    (number, row): (usize, FormRow),
    theme: &Theme,
    line: Rect,
    buffer: &mut Buffer,
) -> Option<Position> {
    let in_hand = number == form.at;
    let sign = if in_hand { theme.signs.pointer } else { " " };
    put(buffer, line.x, line.y, sign, theme.strong, line);
    let style = if in_hand { theme.strong } else { Style::new() };
    put(buffer, line.x + 2, line.y, row.label(), style, line);
    let is_wide = line.width >= WIDE;
    let width = if is_wide { ANSWER } else { line.width.saturating_sub(NAME) };
    let field = Rect { x: line.x + NAME, width: width.saturating_sub(1), ..line };
    let value = form.value(number);
    if is_wide {
        put(buffer, line.x + NAME + ANSWER, line.y, row.explained(&value), theme.faint, line);
    }
    if in_hand && form.is_typed() {
        return Some(typed(form, theme, field, buffer));
    }
    put(buffer, field.x, field.y, &shortened(&visible(&value), usize::from(field.width)), style, field);
    None
}

/// Draws the answer that is typed, from where the cursor stays in sight, and returns the cursor's position.
fn typed(form: &BookForm, theme: &Theme, field: Rect, buffer: &mut Buffer) -> Position {
    let (text, cursor) = (form.field.text(), form.field.cursor());
    let room = usize::from(field.width).saturating_sub(1).max(1);
    let fits = |at: &usize| text.get(*at..cursor).is_some_and(|before| cells(before) <= room);
    let from = text.char_indices().map(|(at, _)| at).find(|at| *at >= cursor || fits(at)).unwrap_or(0);
    let style = if form.field.selection().is_some() { theme.chosen } else { Style::new() };
    put(buffer, field.x, field.y, &visible(&text[from..]), style, field);
    let before = cells(text.get(from..cursor).unwrap_or_default()) as u16;
    Position { x: (field.x + before).min(field.right()), y: field.y }
}

/// The row or the choice at a place of the screen.
pub(super) fn target_at(form: &BookForm, area: Rect, at: Position) -> Option<BeginningTarget> {
    let areas = FormAreas::of(form, area);
    let choice = choice_places(form, choices_in(&areas)).iter().position(|place| place.contains(at));
    let row = || item_at(areas.rows, form.at, form.rows.len(), at).map(BeginningTarget::Row);
    choice.map(BeginningTarget::Choice).or_else(row)
}
