//! The whole screen: the running head, the copy, what stands beside it, and the foot.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::list::list_in;
use super::put::{put, shortened};
use super::{answers, beside, book, copy, drafts, foot, measures, other_words, pages, picture, queries, terms, values};
use crate::brief::typography::Font;
use crate::desk::keys::Command;
use crate::desk::layout::{Areas, LEAST};
use crate::desk::mode::Mode;
use crate::desk::papers::DraftOrigin;
use crate::desk::rows::Wrapping;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::{Marked, State, Writing};
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::style_name;
use crate::report::fit::font_name;
use crate::trial::told::{self, TrialFit, align_name};

/// Draws the desk as it is.
pub fn draw(state: &State, frame: &mut Frame<'_>) {
    if let Some(cursor) = paint(state, frame.area(), frame.buffer_mut()) {
        frame.set_cursor_position(cursor);
    }
}

/// Paints the desk and returns the cursor's position.
fn paint(state: &State, screen: Rect, buffer: &mut Buffer) -> Option<Position> {
    let areas = Areas::of((screen.width, screen.height), state.sheet().map_or(0, |sheet| sheet.printed));
    let Some(sheet) = state.sheet().filter(|_| !areas.foot.is_empty()) else {
        too_small(state, screen, buffer);
        return None;
    };
    head(state, sheet, areas.head, buffer);
    if let Mode::Beside(other) = &state.mode {
        beside::draw(state, sheet, other, buffer);
        return foot::draw(state, areas.foot, buffer);
    }
    let copied = copy_or_page(state, sheet, &areas, buffer);
    trial(state, sheet, &areas, buffer);
    // On the panel's own page its pane has the figures or the values.
    if !matches!(state.mode, Mode::Panel(_)) && !state.mode.shows_values() {
        picture::of_cursor(state, sheet, areas.panel, buffer);
    }
    measures::draw(state, sheet, areas.measures, buffer);
    terms::draw(state, sheet, areas.terms, buffer);
    queries::draw(state, sheet, areas.queries, buffer);
    foot::draw_advice(state, areas.advice, buffer);
    foot::draw(state, areas.foot, buffer).or(copied)
}

/// Draws the copy, or the page in its place; returns the cursor's position if the cursor is in the copy.
fn copy_or_page(state: &State, sheet: &DraftSheet, areas: &Areas, buffer: &mut Buffer) -> Option<Position> {
    let area = areas.copy;
    let strip = areas.strip(&state.mode);
    // A page that takes the whole pane leaves no room for the copy, and no place for its cursor.
    if state.mode.shows_values() {
        values::draw(state, sheet, buffer);
        return None;
    }
    if let Some(at) = state.draft_row_in_hand() {
        drafts::draw(state, at, area, buffer);
        return None;
    }
    if let Some(at) = state.row_in_hand() {
        book::draw(state, at, area, buffer);
        return None;
    }
    if let Mode::Mending(text) = &state.mode {
        return pages::mended(text, &state.theme, area, buffer);
    }
    if state.mode.page().is_some() {
        pages::draw(state, sheet, area, buffer);
        return None;
    }
    let cursor = copy::draw(state, sheet, area, buffer);
    if state.wrapping == Wrapping::AsSet {
        put(
            buffer,
            area.right().saturating_sub(ROOM_HEAD as u16),
            area.y - 1,
            "room",
            state.theme.faint,
            screen_of(areas),
        );
    }
    // A list in the lower half covers the copy, whose cursor is shown only above it.
    if let Some(below) = strip {
        for y in below.top()..below.bottom() {
            put(buffer, below.x, y, &" ".repeat(usize::from(below.width)), Style::reset(), below);
        }
        let rule = state.theme.signs.rule.repeat(usize::from(below.width.saturating_sub(2)));
        put(buffer, below.x + 1, below.y, &rule, state.theme.faint, below);
        match &state.mode {
            Mode::Answers(page) => return answers::draw(state, page, buffer),
            Mode::OtherWords(page) => other_words::draw(state, page, list_in(below), buffer),
            Mode::Inserting(at) => pages::inserted(state, *at, list_in(below), buffer),
            _ => queries::draw(state, sheet, list_in(below), buffer),
        }
        return cursor.filter(|position| position.y < below.y);
    }
    cursor
}

/// Draws what a trial makes of the copy, below the running head.
fn trial(state: &State, sheet: &DraftSheet, areas: &Areas, buffer: &mut Buffer) {
    if !state.is_trying() {
        return;
    }
    let briefs = (state.own_brief(), state.brief(), &*state.faces);
    let columns = usize::from(areas.copy.width).saturating_sub(ROOM_HEAD + 2);
    let words = told::told(briefs, state.untried(), &TrialFit::of(&sheet.now.report), columns);
    put(
        buffer,
        areas.head.x + 1,
        areas.head.y + 1,
        &shortened(&visible(&words), columns),
        Style::new(),
        screen_of(areas),
    );
}

/// The whole screen above the foot.
fn screen_of(areas: &Areas) -> Rect {
    Rect { height: areas.foot.y, ..areas.head }
}

/// Draws the running head: the book and the draft on the left; the type and the state of things on the right.
fn head(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    let theme = &state.theme;
    let point = theme.signs.point;
    let right: Vec<String> = facts(state, sheet, area).into_iter().map(|(words, _)| words).collect();
    // The names on the left get the room that remains; the title is shortened before the draft's name.
    let right = right.join(&format!(" {point} "));
    let x = area.right().saturating_sub(cells(&right) as u16 + 1);
    let title = visible(&state.brief().book.title).into_owned();
    let name = visible(&state.name()).into_owned();
    let room = usize::from(x.saturating_sub(area.x + 3));
    let title = shortened(&title, room.saturating_sub(cells(&name) + 3).max(room / 3));
    // The first letters of a title say less than the draft's name.
    let title = if room < LEAST_NAMES { String::new() } else { title };
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

/// The right side of the head: unusual facts first, whether the draft is saved last, each with the command that a click
/// on it is for.
fn facts(state: &State, sheet: &DraftSheet, area: Rect) -> Vec<(String, Option<Command>)> {
    let mut right = Vec::new();
    // On a narrow screen the names of the book and the draft have priority.
    let is_elsewhere = state.paper().is_some_and(|paper| paper.origin == DraftOrigin::Elsewhere);
    if is_elsewhere {
        right.push(("by this book's brief".to_owned(), None));
    }
    let has_room = area.width >= if is_elsewhere { WIDE } else { TYPE_WORDS };
    if has_room || matches!(state.mode, Mode::Type) {
        right.push((type_words(state), Some(Command::Type)));
    }
    if state.is_brief_changed() {
        right.push(("brief not written".to_owned(), Some(Command::Book)));
    }
    if state.tried().panel.is_some() {
        right.push(("trying another panel".to_owned(), Some(Command::Panel)));
    }
    if state.wrapping == Wrapping::Plain {
        right.push(("wrapped plainly".to_owned(), Some(Command::Wrapping)));
    }
    if state.marked != Marked::Nothing {
        right.push((format!("{} marked", state.marked.name()), Some(Command::Marks)));
    }
    let saves = (state.writing == Writing::Book && sheet.is_changed()).then_some(Command::Save);
    right.push((standing(state, sheet).to_owned(), saves));
    right
}

/// The command that a click on the head is for.
pub(super) fn command_at(state: &State, sheet: &DraftSheet, area: Rect, at: Position) -> Option<Command> {
    let facts = facts(state, sheet, area);
    let gap = cells(state.theme.signs.point) as u16 + 2;
    let mut end = area.right().saturating_sub(1);
    facts.into_iter().rev().filter(|_| at.y == area.y).find_map(|(words, command)| {
        let start = end.saturating_sub(cells(&words) as u16);
        let is_here = (start..end).contains(&at.x);
        end = start.saturating_sub(gap);
        command.filter(|_| is_here)
    })
}

/// With fewer columns than this for the names of the book and the draft, the draft alone is named.
const LEAST_NAMES: usize = 20;
/// The columns of the word above the room that is left on each line.
const ROOM_HEAD: usize = 5;
/// From this many columns on, the head shows the type.
const TYPE_WORDS: u16 = 72;
/// From this many columns on, the head shows the type even beside where the draft comes from.
const WIDE: u16 = 100;

/// Whether the draft is saved, in words.
fn standing(state: &State, sheet: &DraftSheet) -> &'static str {
    match (state.writing, sheet.is_changed()) {
        (Writing::Nowhere, _) => "the sample",
        (_, true) => "not saved",
        (_, false) => "saved",
    }
}

/// `serif 13 on 18 pt, left`; also whether this type is tried, and which styles the copy needs that its fonts lack.
fn type_words(state: &State) -> String {
    let set = &state.brief().typography.blurb;
    let font = match &set.font {
        Font::StandIn(stand_in) => format!("an estimate of {}", stand_in.name),
        font => font_name(font, state.faces.family(font), set.emphasis()),
    };
    let missing = state.sheet().map_or(&[][..], |sheet| &sheet.now.report.fit.styles_missing);
    let missing: String = missing.iter().map(|missing| format!(", no {}", style_name(missing.style))).collect();
    let align = align_name(set.align);
    let shown = |points: f64| crate::units::trimmed(points, 2);
    let (size, leading) = (shown(set.size.to_pt()), shown(set.leading().to_pt()));
    let tried = if state.tried().has_own_type() { "" } else { "trying " };
    format!("{tried}{} {size} on {leading} pt, {align}{missing}", visible(&font))
}

/// The message for a screen on which nothing else can be shown.
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
