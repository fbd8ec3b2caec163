//! What takes the place of the copy for a while: the keys, a measure in detail, the panel, the drafts.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use similar::{ChangeTag, TextDiff};

use super::details;
use super::keys::{KEYS, WRITING};
use super::pane::put;
use super::picture;
use super::sheet::Sheet;
use super::state::{Mode, State};
use crate::print::visible::visible;

/// Columns of a key's name in the list.
const KEY: usize = 32;

/// Draws the page of a mode, where it has one.
pub(super) fn draw(state: &State, sheet: &Sheet, area: Rect, buffer: &mut Buffer) {
    match &state.mode {
        Mode::Panel => {
            let marked = sheet.now.line_at(sheet.editor.cursor());
            picture::draw(&sheet.now.drawing, marked, &state.theme, area, buffer);
        }
        Mode::Drafts(at) => drafts(state, *at, area, buffer),
        Mode::Keys(from) | Mode::Details(_, from) | Mode::Recovered(_, from) => {
            let lines = lines_of(state, sheet, area);
            for (line, y) in lines.iter().skip(*from).zip(area.top()..area.bottom()) {
                put(buffer, area.x + 1, y, line, ratatui::style::Style::new(), area);
            }
        }
        _ => {}
    }
}

/// The lines of a page that is read from head to foot.
fn lines_of(state: &State, sheet: &Sheet, area: Rect) -> Vec<String> {
    let columns = usize::from(area.width).saturating_sub(2).clamp(20, 96);
    match &state.mode {
        Mode::Keys(_) => keys(columns),
        Mode::Details(page, _) => {
            let faces = (&state.brief, &*state.faces);
            details::lines(*page, &sheet.now, sheet.editor.text(), faces, (&sheet.name(), columns))
        }
        Mode::Recovered(words, _) => difference(&sheet.saved, words),
        _ => Vec::new(),
    }
}

/// Lets a page begin no further down than that its last line stands at the foot.
pub(super) fn hold(state: &mut State) {
    let area = state.areas().copy;
    let Some(sheet) = state.sheet().filter(|_| state.mode.is_read()) else { return };
    let last = lines_of(state, sheet, area).len().saturating_sub(usize::from(area.height));
    if let Mode::Keys(from) | Mode::Details(_, from) | Mode::Recovered(_, from) = &mut state.mode {
        *from = last.min(*from);
    }
}

/// The part of the copy's pane that the queries leave in sight while they are walked on a narrow screen.
pub(super) fn copy_in_sight(state: &State, area: Rect) -> Rect {
    if has_list_below(state) { Rect { height: area.height - lower(area).height, ..area } } else { area }
}

/// Whether the queries are walked where they have no pane of their own.
pub(super) fn has_list_below(state: &State) -> bool {
    matches!(state.mode, Mode::Queries(_)) && state.areas().queries.height < LEAST_LIST
}

/// Rows below which the pane of the queries is too small to walk them in.
const LEAST_LIST: u16 = 6;

/// The lower half of an area: above it the copy stays in sight.
pub(super) fn lower(area: Rect) -> Rect {
    let height = (area.height / 2).max(4).min(area.height);
    Rect { y: area.bottom() - height, height, ..area }
}

/// The list of keys; what is too long for a row goes on below, behind its key.
fn keys(columns: usize) -> Vec<String> {
    let row = |keys: &str, says: &str| {
        let (first, behind) = (format!("{keys:KEY$}"), " ".repeat(KEY));
        let options = textwrap::Options::new(columns).initial_indent(&first).subsequent_indent(&behind);
        textwrap::wrap(says, options).into_iter().map(std::borrow::Cow::into_owned).collect::<Vec<_>>()
    };
    let commands = KEYS.iter().flat_map(|key| row(&format!("{}, or Esc {}", key.shown, key.letter), key.says));
    let writing = WRITING.iter().flat_map(|(keys, says)| row(keys, says));
    commands.chain([String::new()]).chain(writing).collect()
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
