//! The whole screen: the running head, the copy, what stands beside it, and the foot.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::gauge::Gauge;
use super::graphemes::cells;
use super::layout::{Areas, LEAST};
use super::measures::gauges;
use super::pane::{self, put};
use super::queries::shortened;
use super::rows::Wrapping;
use super::sheet::Sheet;
use super::state::{Marked, Mode, State, Writing};
use super::wrap::wrap;
use super::{foot, pages, picture, queries};
use crate::brief::typography::{Align, Font};
use crate::print::visible::visible;

/// Draws the desk as it is.
pub fn draw(state: &State, frame: &mut Frame<'_>) {
    if let Some(cursor) = paint(state, frame.area(), frame.buffer_mut()) {
        frame.set_cursor_position(cursor);
    }
}

/// Paints the desk and gives the place of the cursor.
pub fn paint(state: &State, screen: Rect, buffer: &mut Buffer) -> Option<Position> {
    let areas = Areas::of((screen.width, screen.height));
    let Some(sheet) = state.sheet().filter(|_| !areas.foot.is_empty()) else {
        too_small(state, screen, buffer);
        return None;
    };
    head(state, sheet, areas.head, buffer);
    let copied = copy(state, sheet, &areas, buffer);
    let marked = sheet.now.line_at(sheet.editor.cursor());
    picture::draw(&sheet.now.drawing, marked, &state.theme, areas.panel, buffer);
    measures(state, sheet, areas.measures, buffer);
    queries::draw(state, sheet, areas.queries, buffer);
    foot::draw(state, areas.foot, buffer).or(copied)
}

/// Draws the copy, or what stands in its place; gives the place of the cursor where that is in the copy.
fn copy(state: &State, sheet: &Sheet, areas: &Areas, buffer: &mut Buffer) -> Option<Position> {
    let area = areas.copy;
    let is_page =
        matches!(state.mode, Mode::Keys(_) | Mode::Details(..) | Mode::Panel | Mode::Drafts(_) | Mode::Recovered(..));
    if is_page {
        pages::draw(state, sheet, area, buffer);
        return None;
    }
    let cursor = pane::draw(state, sheet, area, buffer);
    if matches!(state.mode, Mode::Queries(_)) && areas.queries.height < 6 {
        let below = pages::lower(area);
        for y in below.top()..below.bottom() {
            put(buffer, below.x, y, &" ".repeat(usize::from(below.width)), Style::reset(), below);
        }
        let rule = state.theme.signs.rule.repeat(usize::from(below.width.saturating_sub(2)));
        put(buffer, below.x + 1, below.y, &rule, state.theme.faint, below);
        let list = Rect { x: below.x + 1, y: below.y + 1, width: below.width - 2, height: below.height - 1 };
        queries::draw(state, sheet, list, buffer);
        return cursor.filter(|position| position.y < below.y);
    }
    cursor
}

/// The book and the draft at the left; the type and how things are at the right.
fn head(state: &State, sheet: &Sheet, area: Rect, buffer: &mut Buffer) {
    let theme = &state.theme;
    let point = theme.signs.point;
    let mut right = vec![type_words(state)];
    if state.wrapping == Wrapping::Plain {
        right.push("wrapped plainly".to_owned());
    }
    if state.marked != Marked::Nothing {
        right.push(format!("{} marked", state.marked.name()));
    }
    right.push(
        match (state.writing, sheet.is_changed()) {
            (Writing::Nowhere, _) => "the sample",
            (_, true) => "not saved",
            (_, false) => "saved",
        }
        .to_owned(),
    );
    let right = right.join(&format!(" {point} "));
    let x = area.right().saturating_sub(cells(&right) as u16 + 1);
    let title = visible(&state.brief.book.title).into_owned();
    let name = visible(&sheet.name()).into_owned();
    let room = usize::from(x.saturating_sub(area.x + 3));
    let title = shortened(&title, room.saturating_sub(cells(&name) + 3).max(4));
    put(buffer, area.x + 1, area.y, &title, theme.strong, area);
    let after = area.x + 1 + cells(&title) as u16;
    let gap = if title.is_empty() { String::new() } else { format!(" {point} ") };
    put(
        buffer,
        after,
        area.y,
        &shortened(&format!("{gap}{name}"), room.saturating_sub(cells(&title))),
        theme.faint,
        area,
    );
    let style = if matches!(state.mode, Mode::Type) { theme.strong } else { theme.faint };
    put(buffer, x, area.y, &right, style, area);
}

/// `serif 13 on 18 pt, left`, and whether that is tried.
fn type_words(state: &State) -> String {
    let set = &state.brief.typography.blurb;
    let font = match &set.font {
        Font::File(path) => {
            path.file_stem().map_or_else(|| "font".to_owned(), |name| name.to_string_lossy().into_owned())
        }
        font => font.to_string(),
    };
    let align = match set.align {
        Align::Left => "left",
        Align::Centre => "centre",
        Align::Justified => "justified",
    };
    let shown = |points: f64| crate::units::trimmed(points, 2);
    let (size, leading) = (shown(set.size.to_pt()), shown(set.leading().to_pt()));
    let tried = if state.tried.is_nothing() { "" } else { "trying " };
    format!("{tried}{} {size} on {leading} pt, {align}", visible(&font))
}

/// The four measures, in as many lines as there is room for.
fn measures(state: &State, sheet: &Sheet, area: Rect, buffer: &mut Buffer) {
    let gauges = gauges(&sheet.now, &sheet.opened, &state.theme.signs);
    match area.height {
        0 => {}
        1..=3 => in_short(state, &gauges, area, buffer),
        4..=7 => {
            for (gauge, y) in gauges.iter().zip(area.top()..area.bottom()) {
                gauge.line(&state.theme, Rect { y, height: 1, ..area }, buffer);
            }
        }
        _ => {
            for (gauge, y) in gauges.iter().zip((area.top()..area.bottom()).step_by(2)) {
                gauge.lines(&state.theme, Rect { y, height: 2, ..area }, buffer);
            }
        }
    }
}

/// All on one line: the values alone, with the word for what is outside.
fn in_short(state: &State, gauges: &[Gauge; 4], area: Rect, buffer: &mut Buffer) {
    let mut x = area.x;
    for gauge in gauges {
        let words = if gauge.name == "terms" { format!("terms {}", gauge.value) } else { gauge.value.clone() };
        let words = if gauge.outside.is_some() { format!("{words}!") } else { words };
        let style = if gauge.outside.is_some() { state.theme.accent } else { Style::new() };
        put(buffer, x, area.y, &words, style, area);
        x = x.saturating_add(cells(&words) as u16 + 2);
    }
}

/// What is said where nothing else can be shown.
fn too_small(state: &State, screen: Rect, buffer: &mut Buffer) {
    if screen.is_empty() {
        return;
    }
    let words = format!(
        "The desk needs {} columns and {} rows; here are {} and {}. Your words are safe: make the window larger.",
        LEAST.0, LEAST.1, screen.width, screen.height
    );
    for (row, y) in wrap(&words, usize::from(screen.width)).into_iter().zip(screen.top()..screen.bottom()) {
        put(buffer, screen.x, y, words[row].trim_end(), state.theme.strong, screen);
    }
}
