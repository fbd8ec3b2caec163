//! What takes the place of the copy for a while: the keys, a measure in detail, the panel, the drafts.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use similar::{ChangeTag, TextDiff};

use super::details;
use super::keys::{KEYS, WRITING};
use super::pane::put;
use super::picture;
use super::queries;
use super::sheet::Sheet;
use super::state::{Mode, State};
use crate::print::visible::visible;

/// Columns of a key's name in the list.
const KEY: usize = 32;

/// Draws the page of a mode, where it has one, and tells whether it has.
pub(super) fn draw(state: &State, sheet: &Sheet, area: Rect, buffer: &mut Buffer) -> bool {
    let columns = usize::from(area.width).saturating_sub(2).min(96);
    match &state.mode {
        Mode::Keys(from) => lines(state, &keys(), *from, area, buffer),
        Mode::Details(page, from) => {
            let name = sheet.name();
            let faces = (&state.brief, &*state.faces);
            let found = details::lines(*page, &sheet.now, sheet.editor.text(), faces, (&name, columns));
            lines(state, &found, *from, area, buffer);
        }
        Mode::Panel => {
            let marked = sheet.now.line_at(sheet.editor.cursor());
            picture::draw(&sheet.now.drawing, marked, &state.theme, area, buffer);
        }
        Mode::Drafts(at) => drafts(state, *at, area, buffer),
        Mode::Queries(_) if state.areas().queries.height < 6 => queries::draw(state, sheet, lower(area), buffer),
        Mode::Recovered(words, from) => lines(state, &difference(&sheet.saved, words), *from, area, buffer),
        _ => return false,
    }
    true
}

/// The lower half of an area: above it the copy stays in sight.
pub(super) fn lower(area: Rect) -> Rect {
    let height = (area.height / 2).max(4).min(area.height);
    Rect { y: area.bottom() - height, height, ..area }
}

fn lines(state: &State, lines: &[String], from: usize, area: Rect, buffer: &mut Buffer) {
    let last = lines.len().saturating_sub(usize::from(area.height));
    for (line, y) in lines.iter().skip(from.min(last)).zip(area.top()..area.bottom()) {
        let style = match line.chars().next() {
            Some(first) if !first.is_whitespace() => ratatui::style::Style::new(),
            _ => state.theme.faint,
        };
        let style = if state.mode.is_plain_page() { ratatui::style::Style::new() } else { style };
        put(buffer, area.x + 1, y, line, style, area);
    }
}

/// The list of keys.
fn keys() -> Vec<String> {
    let commands =
        KEYS.iter().map(|key| format!("{:KEY$}{}", format!("{}, or Esc {}", key.shown, key.letter), key.says));
    let writing = WRITING.iter().map(|(keys, says)| format!("{keys:KEY$}{says}"));
    let between = ["".to_owned()];
    commands.chain(between).chain(writing).collect()
}

fn drafts(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let room = usize::from(area.height);
    let first = (at + 1).saturating_sub(room);
    for ((number, paper), y) in state.drafts.iter().enumerate().skip(first).zip(area.top()..area.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, area.x + 1, y, sign, state.theme.accent, area);
        let name = visible(&paper.path.display().to_string()).into_owned();
        let note = match &paper.sheet {
            Some(sheet) if sheet.is_changed() => ", not saved",
            Some(_) if number == state.front => ", in front",
            Some(_) => ", open",
            None => "",
        };
        let style = if chosen { state.theme.strong } else { ratatui::style::Style::new() };
        put(buffer, area.x + 3, y, &format!("{name}{note}"), style, area);
    }
}

/// What differs between the file and the words that were kept: a line for each that goes or comes.
fn difference(file: &str, kept: &str) -> Vec<String> {
    let shown = TextDiff::from_lines(file, kept);
    let changes = shown.iter_all_changes().filter_map(|change| {
        let words = visible(change.value().trim_end()).into_owned();
        match change.tag() {
            ChangeTag::Equal => None,
            ChangeTag::Delete => Some(format!("in the file   {words}")),
            ChangeTag::Insert => Some(format!("kept          {words}")),
        }
    });
    changes.collect()
}
