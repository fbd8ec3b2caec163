//! The list of the books in a folder: a row for each book, and below them what is to be told of the one in hand.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::list::{first_shown, item_at};
use super::put::{put, shortened};
use crate::beginning::books::{BookFigures, BookList, BookStanding, ListedBook};
use crate::desk::theme::Theme;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::units::nouns::{counted, in_number};

/// The columns of the verdict, the words, the fit and the terms.
const FIGURES: [(&str, u16); 4] = [("verdict", 16), ("words", 7), ("fit", 15), ("terms", 9)];
/// The widest that a title may be.
const WIDEST_TITLE: u16 = 48;
/// Figures that would leave a title less than this are left out, the last first.
const LEAST_TITLE: u16 = 16;
/// From this many columns on, what is outside stands behind the figures.
const WIDE: u16 = 110;
/// The rows that tell of the book in hand, with the rule above them.
const TOLD: u16 = 4;
/// On a page of fewer rows than this, the rows that tell of the book in hand are left to the list.
const LEAST_TOLD: u16 = 11;

/// Where the parts of the list stand.
struct ListAreas {
    names: Rect,
    rows: Rect,
    told: Rect,
}

impl ListAreas {
    fn of(list: &BookList, area: Rect) -> Self {
        let head = summed_up(list, area).len() as u16;
        let told = if area.height < LEAST_TOLD { 0 } else { TOLD };
        let rows = area.height.saturating_sub(told + head + 1);
        Self {
            names: Rect { y: area.y + head, height: 1, ..area },
            rows: Rect { y: area.y + head + 1, height: rows, ..area },
            told: Rect { y: area.y + head + 1 + rows, height: told, ..area },
        }
    }
}

/// How all books stand, in one row or two; the one row where letters are looked for.
fn summed_up(list: &BookList, area: Rect) -> Vec<String> {
    if !list.sought.is_empty() {
        return vec![String::new()];
    }
    let summary = list.summary();
    let rows = wrap(&summary, usize::from(area.width).max(1));
    rows.into_iter().take(2).map(|row| summary[row].trim_end().to_owned()).collect()
}

/// How many of the figures have room beside a title, and the columns that they leave it, on a wide screen beside what
/// is outside.
fn columns(area: Rect) -> (usize, u16) {
    let width = |count: usize| FIGURES.iter().take(count).map(|(_, width)| width).sum::<u16>() + 3;
    let shown = (0..=FIGURES.len()).rev().find(|count| width(*count) + LEAST_TITLE <= area.width).unwrap_or(0);
    let left = area.width.saturating_sub(width(shown));
    (shown, if area.width >= WIDE { (left / 2).min(WIDEST_TITLE) } else { left.min(WIDEST_TITLE) })
}

/// Draws the list, and returns the cursor's position if letters are looked for.
pub(super) fn draw(list: &BookList, theme: &Theme, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let areas = ListAreas::of(list, area);
    let cursor = sought(list, theme, area, buffer);
    let (shown, title) = columns(area);
    put(buffer, area.x + 2, areas.names.y, "title", theme.faint, area);
    let mut x = area.x + 3 + title;
    for (name, width) in FIGURES.into_iter().take(shown) {
        put(buffer, x, areas.names.y, name, theme.faint, area);
        x += width;
    }
    if area.width >= WIDE {
        put(buffer, x, areas.names.y, "outside", theme.faint, area);
    }
    let count = list.listed().len();
    let first = first_shown(list.at, count, areas.rows);
    for ((number, book), y) in list.listed().enumerate().skip(first).zip(areas.rows.top()..areas.rows.bottom()) {
        let line = Rect { y, height: 1, ..areas.rows };
        drawn_row(book, number == list.at, theme, line, buffer);
    }
    if count == 0 {
        let words =
            if list.count() == 0 { "There is no book here." } else { "No title and no folder has these letters." };
        put(buffer, area.x + 2, areas.rows.y, words, Style::new(), areas.rows);
    }
    tell(list, theme, areas.told, buffer);
    cursor
}

/// Draws how all books stand, or the letters that are looked for, and returns where the next letter goes.
fn sought(list: &BookList, theme: &Theme, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let (line, room) = (Rect { height: 1, ..area }, usize::from(area.width));
    if list.sought.is_empty() {
        for (row, y) in summed_up(list, area).iter().zip(area.top()..) {
            put(buffer, area.x, y, row, theme.faint, area);
        }
        return None;
    }
    let hits = format!("{} of {}", list.listed().len(), counted(list.count(), "book"));
    let words = shortened(&format!("Find: {}", visible(&list.sought)), room.saturating_sub(cells(&hits) + 3));
    put(buffer, line.x, line.y, &words, theme.strong, line);
    let end = line.x + cells(&words) as u16;
    put(buffer, end + 2, line.y, &hits, theme.faint, line);
    Some(Position { x: end.min(line.right()), y: line.y })
}

/// The figures of a book as the columns show them.
fn figures(book: &ListedBook) -> [String; 4] {
    let verdict = book.standing.verdict().to_owned();
    let BookStanding::Measured(BookFigures { words, lines_left, terms: (covered, wanted), .. }) = &book.standing else {
        return [verdict, String::new(), String::new(), String::new()];
    };
    let lines = counted(usize::try_from(lines_left.unsigned_abs()).unwrap_or(usize::MAX), "line");
    let fit = format!("{lines} {}", if *lines_left < 0 { "over" } else { "left" });
    let terms = if *wanted == 0 { "none".to_owned() } else { format!("{covered} of {wanted}") };
    [verdict, words.to_string(), fit, terms]
}

fn drawn_row(book: &ListedBook, in_hand: bool, theme: &Theme, line: Rect, buffer: &mut Buffer) {
    let sign = if in_hand { theme.signs.pointer } else { " " };
    put(buffer, line.x, line.y, sign, theme.strong, line);
    let style = if in_hand { theme.strong } else { Style::new() };
    let (shown, title) = columns(line);
    put(buffer, line.x + 2, line.y, &shortened(&visible(book.title()), usize::from(title)), style, line);
    let mut x = line.x + 3 + title;
    let fails = match &book.standing {
        BookStanding::Unread(_) => true,
        BookStanding::Measured(figures) => !figures.outside.is_empty(),
        BookStanding::Waiting | BookStanding::WithoutDrafts(_) => false,
    };
    for ((number, words), (_, width)) in figures(book).iter().enumerate().zip(FIGURES).take(shown) {
        let accent = if number == 0 && fails { theme.accent } else { style };
        put(buffer, x, line.y, words, accent, line);
        x += width;
    }
    if line.width >= WIDE {
        let room = usize::from(line.right().saturating_sub(x));
        put(buffer, x, line.y, &shortened(&visible(&outside(book)), room), Style::new(), line);
    }
}

/// What is outside, or why a book cannot be read.
fn outside(book: &ListedBook) -> String {
    match &book.standing {
        BookStanding::Unread(why) => why.clone(),
        BookStanding::Measured(figures) => figures.outside.join("; "),
        BookStanding::Waiting | BookStanding::WithoutDrafts(_) => String::new(),
    }
}

/// Tells of the book in hand: where it is, which draft was measured, and what is outside.
fn tell(list: &BookList, theme: &Theme, area: Rect, buffer: &mut Buffer) {
    let Some((_, book)) = list.in_hand() else { return };
    put(buffer, area.x, area.y, &theme.signs.rule.repeat(usize::from(area.width)), theme.faint, area);
    let (place, said) = match &book.standing {
        BookStanding::Waiting => (String::new(), "It is still to be measured.".to_owned()),
        BookStanding::Unread(why) => (String::new(), why.clone()),
        BookStanding::WithoutDrafts(_) => {
            (String::new(), "It has a brief and no draft yet; Enter begins one.".to_owned())
        }
        BookStanding::Measured(figures) => {
            let others = figures.drafts.saturating_sub(1);
            let others = match others {
                0 => String::new(),
                _ => format!(", and {others} other {}", in_number(others, "draft")),
            };
            let said = match figures.outside.as_slice() {
                [] => "Within every limit.".to_owned(),
                outside => format!("Outside: {}.", outside.join("; ")),
            };
            (format!(": draft {}{others}", figures.draft), said)
        }
    };
    let place = format!("{}{place}", book.name);
    put(buffer, area.x, area.y + 1, &shortened(&visible(&place), usize::from(area.width)), theme.faint, area);
    let said = visible(&said);
    let below = Rect { y: area.y + 2, height: area.height.saturating_sub(2), ..area };
    let rows = wrap(&said, usize::from(area.width).max(1));
    let (last, count) = (usize::from(below.height), rows.len());
    for (number, (row, y)) in rows.into_iter().zip(below.top()..below.bottom()).enumerate() {
        // The last row says by its dots that there is more.
        let rest = if number + 1 == last && count > last { &said[row.start..] } else { said[row].trim_end() };
        put(buffer, area.x, y, &shortened(rest, usize::from(area.width)), Style::new(), below);
    }
}

/// The row of the list at a place of the screen.
pub(super) fn row_at(list: &BookList, area: Rect, at: Position) -> Option<usize> {
    item_at(ListAreas::of(list, area).rows, list.at, list.listed().len(), at)
}
