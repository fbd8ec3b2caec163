//! The list of drafts: each with what it measures and the day of its file, and under it its kept copies.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::desk::drafts::ListedDraft;
use crate::desk::papers::DraftRow;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::report::kept::KeptFigures;
use crate::units::nouns::counted;
use crate::units::trimmed;
use ratatui::style::Style;

/// What the words of the list mean.
const TOLD: &str = "\"In front\" is the draft that you write in. \"Double\" copies the one that is marked under \
                    another name, so that each is changed by itself; \"keep a copy\" puts it, with its date, into the \
                    folder kept. Kept copies stand under their draft, the newest first: one can be looked at beside \
                    it, and brought back.";

/// The columns behind the names, from left to right: how each is headed, its width with the gap before it, and in which
/// order the columns are given up where there is no room, the first number last.
const COLUMNS: [(&str, u16, u8); 6] =
    [("words", 6, 0), ("level", 6, 2), ("terms", 9, 3), ("fit", 9, 1), ("date", 11, 5), ("kept", 5, 4)];
/// The least columns for a name.
const NAME: u16 = 22;
/// A note of more columns than this stands in the place of the figures.
const LONG_NOTE: usize = 12;

/// Draws the list, and below it what its words mean.
pub(super) fn draw(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let rows = state.papers.listed();
    let list = list_of(area);
    let below = list.y + list.height.min(u16::try_from(rows.len()).unwrap_or(u16::MAX)) + 1;
    for (row, y) in told(area).into_iter().zip(below..area.bottom()) {
        put(buffer, area.x + 3, y, row, state.theme.faint, area);
    }
    let in_sight = rows.iter().enumerate().skip(first_shown(at, rows.len(), list)).zip(list.top()..list.bottom());
    let in_sight: Vec<(usize, DraftRow, ListedDraft, u16)> =
        in_sight.filter_map(|((number, row), y)| Some((number, *row, state.listed_draft(*row)?, y))).collect();
    let count = rows.iter().filter(|row| matches!(row, DraftRow::Draft(_))).count();
    put(buffer, area.x + 3, area.y, &counted(count, "draft"), state.theme.faint, area);
    let style = |number: usize| if number == at { state.theme.strong } else { Style::new() };
    let shown = columns(area.width);
    let mut x = area.right();
    for (column, (head, width, _)) in COLUMNS.iter().enumerate().rev().filter(|(column, _)| shown[*column]) {
        right(buffer, (x, area.y), head, state.theme.faint, area);
        for (number, _, listed, y) in in_sight.iter().filter(|(_, _, listed, _)| !is_long(listed)) {
            right(buffer, (x, *y), &value(column, listed), style(*number), area);
        }
        x -= width;
    }
    let names = Rect { width: x.saturating_sub(area.x), ..area };
    for (number, row, listed, y) in &in_sight {
        let sign = if *number == at { state.theme.signs.pointer } else { " " };
        put(buffer, area.x + 1, *y, sign, state.theme.strong, area);
        let indent = if matches!(row, DraftRow::Copy(..)) { 2 } else { 0 };
        let whole = if is_long(listed) { area } else { names };
        let room = usize::from(whole.width.saturating_sub(4 + indent));
        let name = shortened(&visible(&listed.name), room.saturating_sub(cells(&listed.note)));
        put(buffer, area.x + 3 + indent, *y, &format!("{name}{}", listed.note), style(*number), area);
    }
}

/// The row of the list at a place of the screen.
pub(super) fn row_at(state: &State, at: usize, area: Rect, place: Position) -> Option<DraftRow> {
    let rows = state.papers.listed();
    item_at(list_of(area), at, rows.len(), place).and_then(|row| rows.get(row).copied())
}

/// The area of the rows: what is left below the heads of the columns and above the words that explain the list.
fn list_of(area: Rect) -> Rect {
    let below = told(area).len() as u16 + 1;
    let height = area.height.saturating_sub(1);
    Rect { y: area.y + area.height.min(1), height: height.saturating_sub(below).max(height.min(4)), ..area }
}

fn told(area: Rect) -> Vec<&'static str> {
    let rows = wrap(TOLD, usize::from(area.width.saturating_sub(4)).max(1));
    rows.into_iter().map(|row| TOLD[row].trim_end()).collect()
}

/// Whether the note of a draft stands in the place of its figures.
fn is_long(listed: &ListedDraft) -> bool {
    cells(&listed.note) > LONG_NOTE
}

/// Which columns there is room for.
fn columns(width: u16) -> [bool; COLUMNS.len()] {
    let mut shown = [true; COLUMNS.len()];
    let wide = |shown: &[bool; COLUMNS.len()]| {
        let columns = COLUMNS.iter().zip(shown).filter(|(_, shown)| **shown);
        NAME + columns.map(|((_, width, _), _)| width).sum::<u16>()
    };
    for order in (0..COLUMNS.len() as u8).rev() {
        if wide(&shown) > width
            && let Some(column) = COLUMNS.iter().position(|(_, _, of)| *of == order)
        {
            shown[column] = false;
        }
    }
    shown
}

/// What stands in a column of a row; a dash where it is not known.
fn value(column: usize, listed: &ListedDraft) -> String {
    let of = |told: fn(&KeptFigures) -> String| listed.figures.as_ref().map_or("-".to_owned(), told);
    match COLUMNS[column].0 {
        "words" => of(|figures| figures.words.to_string()),
        "level" => of(|figures| figures.level.map_or("-".to_owned(), |(grade, ..)| trimmed(grade, 1))),
        "terms" => of(|figures| format!("{} of {}", figures.terms_covered, figures.terms_wanted)),
        "fit" => of(|figures| match (figures.fits, figures.lines_over) {
            (true, _) => format!("{} left", figures.lines_left),
            (false, 0) => "too wide".to_owned(),
            (false, over) => format!("{over} over"),
        }),
        "date" => listed.day.clone(),
        _ => listed.kept.map_or(String::new(), |kept| kept.to_string()),
    }
}

/// Writes words that end before a column of the screen.
fn right(buffer: &mut Buffer, (x, y): (u16, u16), words: &str, style: Style, area: Rect) {
    let words = visible(words);
    put(buffer, x.saturating_sub(cells(&words) as u16 + 1), y, &words, style, area);
}
