//! The foot of the screen: which keys can be pressed now, what was just done, or a line to be filled in.

use ratatui::buffer::Buffer;
use ratatui::crossterm::event::KeyEvent;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::measures;
use super::put::{put, shortened};
use crate::desk::hints::{Hint, advice, all_keys, hints};
use crate::desk::layout::Areas;
use crate::desk::mode::{Mode, Prompt};
use crate::desk::state::State;
use crate::draft::BlockKind;
use crate::editor::graphemes::cells;
use crate::print::visible::visible;

/// Columns between two keys, and the same where there is not enough room for all keys.
const GAPS: (u16, u16) = (3, 2);
/// The least columns that a line of input keeps beside its keys.
const LEAST_LINE: usize = 24;

/// Draws the foot and returns the cursor's position, if the cursor is in the foot.
pub(super) fn draw(state: &State, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    // A line of input has the foot to itself, with the message in the row above.
    if let Mode::Prompt(prompt, line) = &state.mode {
        say(state, area.y, buffer);
        let label = format!(" {} ", question(state, *prompt));
        put(buffer, area.x, area.y, &" ".repeat(usize::from(area.width)), Style::reset(), area);
        put(buffer, area.x, area.y, &label, state.theme.strong, area);
        // A line of input that is too long is shown from where the cursor stays in sight.
        let keys = prompt_keys(state, area);
        draw_keys(state, &keys, buffer, area);
        let end = keys.first().map_or(area.right(), |(_, place)| place.x.saturating_sub(1));
        let x = (area.x + cells(&label) as u16).min(area.right().saturating_sub(1));
        let room = usize::from(end.saturating_sub(x)).saturating_sub(1).max(1);
        let text = line.text();
        let from = text.char_indices().map(|(at, _)| at).find(|at| {
            *at >= line.cursor() || text.get(*at..line.cursor()).is_some_and(|before| cells(before) <= room)
        });
        let from = from.unwrap_or(0);
        let style = if line.selection().is_some() { state.theme.chosen } else { Style::new() };
        let line_room = Rect { width: end.saturating_sub(area.x), ..area };
        put(buffer, x, area.y, &text[from..], style, line_room);
        let cursor = cells(text.get(from..line.cursor()).unwrap_or_default()) as u16;
        return Some(Position { x: (x + cursor).min(area.right().saturating_sub(1)), y: area.y });
    }
    let (lead, hints) = hints(state);
    let placed = placed(state, lead, &hints, area);
    say(state, placed.iter().map(|(_, place)| place.y).min().unwrap_or(area.y), buffer);
    put(buffer, area.x + 1, area.y, lead, state.theme.strong, area);
    // A row above the foot belongs to a pane, which is cleared once before the first key there.
    let mut cleared = area.y;
    for (hint, place) in placed {
        let row = Rect { y: place.y, ..area };
        if place.y < cleared {
            put(buffer, area.x, place.y, &" ".repeat(usize::from(area.width)), Style::reset(), row);
            cleared = place.y;
        }
        put(buffer, place.x, place.y, &hint.shown, state.theme.strong, row);
        put(buffer, place.x + cells(&hint.shown) as u16 + 1, place.y, hint.does, state.theme.faint, row);
    }
    None
}

/// The keys of a line of input with their places, at the end of the foot; none where they would leave it little room.
fn prompt_keys(state: &State, area: Rect) -> Vec<(Hint, Rect)> {
    let Mode::Prompt(prompt, line) = &state.mode else { return Vec::new() };
    let (_, hints) = hints(state);
    let width = |hint: &Hint| (cells(&hint.shown) + 1 + cells(hint.does)) as u16;
    let whole: u16 = hints.iter().map(|hint| width(hint) + GAPS.1).sum();
    let asked = cells(&question(state, *prompt)) + 2 + cells(line.text()).min(LEAST_LINE) + 2;
    if asked + usize::from(whole) > usize::from(area.width) {
        return Vec::new();
    }
    let mut x = area.right() - whole;
    let placed = hints.into_iter().map(|hint| {
        let width = width(&hint);
        let place = Rect { x, y: area.y, width, height: 1 };
        x += width + GAPS.1;
        (hint, place)
    });
    placed.collect()
}

/// Draws keys at their places.
fn draw_keys(state: &State, placed: &[(Hint, Rect)], buffer: &mut Buffer, area: Rect) {
    for (hint, place) in placed {
        put(buffer, place.x, place.y, &hint.shown, state.theme.strong, area);
        put(buffer, place.x + cells(&hint.shown) as u16 + 1, place.y, hint.does, state.theme.faint, area);
    }
}

/// Shows the message, if there is one, in as many rows as it needs, above the first row of keys.
fn say(state: &State, keys: u16, buffer: &mut Buffer) {
    let Some(said) = &state.said else { return };
    // A file's name may hold any character, even a line break.
    let (area, rows) = state.areas().message(&visible(said), &state.mode, keys);
    for (row, y) in rows.iter().zip(area.top()..area.bottom()) {
        put(buffer, area.x, y, &" ".repeat(usize::from(area.width)), Style::reset(), area);
        put(buffer, area.x + 1, y, row, state.theme.strong, area);
    }
}

/// The keys with their places. Keys for which there is no room stand in the rows above: while writing in the one that
/// is kept for them, on other pages in as many as they need, but not on the measures; where that is not room enough
/// either, the list of keys is named in the place of the last ones.
fn placed(state: &State, lead: &str, hints: &[Hint], area: Rect) -> Vec<(Hint, Rect)> {
    let width = |hint: &Hint| (cells(&hint.shown) + 1 + cells(hint.does)) as u16;
    let whole: u16 = hints.iter().map(|hint| width(hint) + GAPS.0).sum();
    let start = 1 + if lead.is_empty() { 0 } else { cells(lead) as u16 + 2 };
    let gap = if start + whole > area.width + GAPS.0 { GAPS.1 } else { GAPS.0 };
    let Areas { measures, keys, .. } = state.areas();
    let taken = state.sheet().map_or(measures, |sheet| measures::rows_taken(state, sheet, measures));
    let is_free = |y: u16| {
        let has_own_keys = !matches!(state.mode, Mode::Writing) && y > 1;
        // On a low screen the measures stand on the foot, and may leave the row between.
        let is_left = measures.bottom() == area.y && y >= taken.bottom() && y < area.y;
        let is_on_measures = taken.contains(Position { x: taken.x, y });
        is_left || keys.contains(Position { x: keys.x, y }) || (has_own_keys && !is_on_measures)
    };
    let (mut x, mut y) = (area.x + start, area.y);
    let mut placed: Vec<(Hint, Rect)> = Vec::new();
    for hint in hints {
        let width = width(hint);
        if x + width > area.right() && is_free(y.saturating_sub(1)) {
            (x, y) = (area.x + 1, y - 1);
        }
        if x + width > area.right() {
            tell_of_rest(state, &mut placed, hints, Rect { y, ..area });
            break;
        }
        placed.push((hint.clone(), Rect { x, y, width, height: 1 }));
        x += width + gap;
    }
    placed
}

/// Names the list of keys behind the last key that leaves room for it, where it is not named yet.
fn tell_of_rest(state: &State, placed: &mut Vec<(Hint, Rect)>, hints: &[Hint], area: Rect) {
    let rest = all_keys(state);
    let width = (cells(&rest.shown) + 1 + cells(rest.does)) as u16;
    if matches!(state.mode, Mode::Keys(_)) || hints.iter().any(|hint| hint.press == rest.press) {
        return;
    }
    let end = |placed: &[(Hint, Rect)]| placed.last().map_or(area.x + 1, |(_, place)| place.right() + GAPS.1);
    // The first key, which leads back, stays.
    while placed.len() > 1 && end(placed) + width > area.right() {
        placed.pop();
    }
    let x = end(placed);
    if x + width <= area.right() {
        placed.push((rest, Rect { x, y: area.y, width, height: 1 }));
    }
}

/// Draws what is outside and which keys help, in one quiet line; nothing while there is a message to read.
pub(super) fn draw_advice(state: &State, area: Rect, buffer: &mut Buffer) {
    let Some((words, placed)) = advised(state, area) else { return };
    put(buffer, area.x, area.y, &words, state.theme.faint, area);
    draw_keys(state, &placed, buffer, area);
}

/// What is outside, in as much of the line as leaves room for a key, and the keys that help with their places.
fn advised(state: &State, area: Rect) -> Option<(String, Vec<(Hint, Rect)>)> {
    let (words, hints) = advice(state).filter(|_| state.said.is_none() && !area.is_empty())?;
    let width = |hint: &Hint| (cells(&hint.shown) + 1 + cells(hint.does)) as u16;
    let first = hints.first().map_or(0, width);
    let words = shortened(&visible(&words), usize::from(area.width.saturating_sub(first + GAPS.1)));
    let mut x = area.x + cells(&words) as u16 + GAPS.1;
    let mut placed = Vec::new();
    for hint in hints {
        let width = width(&hint);
        if x + width <= area.right() {
            placed.push((hint, Rect { x, y: area.y, width, height: 1 }));
            x += width + GAPS.0;
        }
    }
    Some((words, placed))
}

/// The key whose name stands at a place of the foot.
pub(super) fn key_at(state: &State, area: Rect, at: Position) -> Option<KeyEvent> {
    if matches!(state.mode, Mode::Prompt(..)) {
        return prompt_keys(state, area).into_iter().find(|(_, place)| place.contains(at)).map(|(hint, _)| hint.press);
    }
    let (lead, hints) = hints(state);
    let placed = placed(state, lead, &hints, area).into_iter();
    let advised = advised(state, state.areas().advice).map_or_else(Vec::new, |(_, placed)| placed);
    placed.chain(advised).find(|(_, place)| place.contains(at)).map(|(hint, _)| hint.press)
}

fn question(state: &State, prompt: Prompt) -> String {
    // For a draft that is not in front, the question names the draft.
    let other = prompt.draft().filter(|draft| *draft != state.front).and_then(|draft| state.papers.get(draft));
    let name = other.map(|paper| visible(&paper.name()).into_owned());
    let of = name.as_ref().map_or_else(String::new, |name| format!(" of {name}"));
    match prompt {
        Prompt::Words(kind) => words_of(kind).to_owned(),
        Prompt::Credit => "Who says so, with what they are:".to_owned(),
        Prompt::Find => "Find:".to_owned(),
        Prompt::Rename(_) => format!("Rename {} to:", name.unwrap_or_else(|| "the draft".to_owned())),
        Prompt::SaveAs => "Save under the name:".to_owned(),
        Prompt::New(_) => "Name of the new draft:".to_owned(),
        Prompt::Double(_) => format!("Name of the double{of}:"),
        Prompt::Proof => "Write the proof to:".to_owned(),
        Prompt::Keep(_) => format!("Keep a dated copy{of}; a name for it, or none:"),
        Prompt::Open => "Open the file:".to_owned(),
        Prompt::Value(_) => "Another value:".to_owned(),
        Prompt::Row(at) => {
            let rows = state.book_rows();
            rows.get(at).map_or_else(String::new, |row| format!("{}:", visible(&row.name)))
        }
        Prompt::Added(what, _) => format!("{}:", sentence_case(what.name())),
        Prompt::Phrases(..) => "The phrases, with ; between two:".to_owned(),
        Prompt::Story(_) => "The file of the story:".to_owned(),
    }
}

/// Words with a capital at their beginning.
fn sentence_case(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// How the words of a new block are asked for.
fn words_of(kind: BlockKind) -> &'static str {
    match kind {
        BlockKind::Headline => "The headline:",
        BlockKind::Quote => "The quote, word for word:",
        BlockKind::NoteOnTheAuthor => "The note on the author:",
        BlockKind::OtherTitles => "The other titles, with ; between two:",
        BlockKind::AgeLine => "The age line, such as Ages 4 to 8:",
        BlockKind::PriceLine => "The price line, such as $18.99:",
        BlockKind::Blurb | BlockKind::Credit => "The words:",
    }
}
