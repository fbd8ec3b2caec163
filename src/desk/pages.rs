//! What takes the place of the copy for a while: the keys, a measure in detail, the panel, the drafts.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::details;
use super::hints::PAGES;
use super::keys::{KEYS, WRITING};
use super::pane::put;
use super::picture;
use super::queries::shortened;
use super::sheet::DraftSheet;
use super::state::{DraftOrigin, Mode, State};
use crate::editor::difference::{InVersion, difference};
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::compare::in_braces;
use crate::print::visible::visible;

/// Columns of a key's name in the list.
const KEY: usize = 32;

/// Draws the page of a mode, where it has one.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
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
fn lines_of(state: &State, sheet: &DraftSheet, area: Rect) -> Vec<String> {
    let columns = usize::from(area.width).saturating_sub(2).clamp(20, 96);
    match &state.mode {
        Mode::Keys(_) => keys(columns),
        Mode::Details(page, _) => {
            let faces = (&state.brief, &*state.faces);
            details::lines(*page, &sheet.now, sheet.editor.text(), faces, (&sheet.name(), columns))
        }
        Mode::Recovered(words, _) => differences(sheet.editor.text(), words, state.theme.signs.line_end, columns),
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

/// The part of the copy's pane that stays in sight above a list.
pub(super) fn copy_in_sight(state: &State, area: Rect) -> Rect {
    strip(state).map_or(area, |strip| Rect { height: area.height - strip.height, ..area })
}

/// The lower half of the copy's pane, where a list stands in it: the queries are walked on a screen where they have no
/// pane of their own, or another panel is tried on one where the panel has.
pub(super) fn strip(state: &State) -> Option<Rect> {
    let areas = state.areas();
    let takes = match state.mode {
        Mode::Queries(_) => areas.queries.height < LEAST_LIST,
        Mode::Values(_) => !areas.panel.is_empty(),
        _ => false,
    };
    let height = (areas.copy.height / 2).max(4).min(areas.copy.height);
    takes.then(|| Rect { y: areas.copy.bottom() - height, height, ..areas.copy })
}

/// Where the list itself stands: below the rule that parts it from the copy.
pub(super) fn list_in(strip: Rect) -> Rect {
    Rect {
        x: strip.x + 1,
        y: strip.y + 1,
        width: strip.width.saturating_sub(2),
        height: strip.height.saturating_sub(1),
    }
}

/// Rows below which the pane of the queries is too small to walk them in.
const LEAST_LIST: u16 = 6;

/// The list of keys; what is too long for a row goes on below, behind its key.
fn keys(columns: usize) -> Vec<String> {
    let row = |keys: &str, says: &str| {
        let (first, behind) = (format!("{keys:KEY$}"), " ".repeat(KEY));
        let options = textwrap::Options::new(columns).initial_indent(&first).subsequent_indent(&behind);
        textwrap::wrap(says, options).into_iter().map(std::borrow::Cow::into_owned).collect::<Vec<_>>()
    };
    let commands = KEYS.iter().flat_map(|key| row(&format!("{}, or Esc {}", key.shown, key.letter), key.says));
    let writing = WRITING.iter().flat_map(|(keys, says)| row(keys, says));
    let pages = PAGES.iter().flat_map(|(page, hints)| {
        let keys = hints.iter().flat_map(|hint| row(&format!("  {}", hint.shown), hint.does));
        [String::new(), (*page).to_owned()].into_iter().chain(keys).collect::<Vec<_>>()
    });
    commands.chain([String::new()]).chain(writing).chain(pages).collect()
}

/// The first item of a list that is shown in an area, a row each, where the one in hand has to be in sight.
pub(super) fn first_shown(at: usize, area: Rect) -> usize {
    (at + 1).saturating_sub(usize::from(area.height))
}

fn drafts(state: &State, at: usize, area: Rect, buffer: &mut Buffer) {
    let first = first_shown(at, area);
    for ((number, paper), y) in state.drafts.iter().enumerate().skip(first).zip(area.top()..area.bottom()) {
        let chosen = number == at;
        let sign = if chosen { state.theme.signs.pointer } else { " " };
        put(buffer, area.x + 1, y, sign, state.theme.accent, area);
        let name = visible(&paper.path.display().to_string()).into_owned();
        let standing = match &paper.sheet {
            Some(sheet) if sheet.is_changed() => ", not saved",
            Some(_) if number == state.front => ", in front",
            Some(_) => ", open",
            None => "",
        };
        let origin = match paper.origin {
            DraftOrigin::Book => "",
            DraftOrigin::Elsewhere => ", not in the book's folder",
        };
        let kept = if paper.has_kept_words { ", unsaved words are kept" } else { "" };
        let note = format!("{standing}{kept}{origin}");
        let name = shortened(&name, usize::from(area.width).saturating_sub(4 + cells(&note)));
        let style = if chosen { state.theme.strong } else { ratatui::style::Style::new() };
        put(buffer, area.x + 3, y, &format!("{name}{note}"), style, area);
    }
}

/// Where the draft and the words that were kept differ: each line of both in one, the rest left out. What differs stands in
/// braces, as in every comparison.
fn differences(here: &str, kept: &str, line_end: &str, columns: usize) -> Vec<String> {
    let (mut lines, mut line, mut differs) = (Vec::new(), String::new(), false);
    let mut end = |line: &mut String, differs: &mut bool| {
        if std::mem::take(differs) {
            lines.push(visible(line).into_owned());
        }
        line.clear();
    };
    let parts = difference(here, kept);
    let mut parts = parts.iter().peekable();
    while let Some(part) = parts.next() {
        if part.standing == InVersion::Both {
            for piece in part.words.split_inclusive('\n') {
                line.push_str(piece.trim_end_matches('\n'));
                if piece.ends_with('\n') {
                    end(&mut line, &mut differs);
                }
            }
            continue;
        }
        let (gone, new) = match part.standing {
            InVersion::NewOnly => ("", part.words),
            _ => (part.words, parts.next_if(|next| next.standing == InVersion::NewOnly).map_or("", |next| next.words)),
        };
        line.push_str(&in_braces("", &gone.replace('\n', line_end), &new.replace('\n', line_end), ""));
        differs = true;
    }
    end(&mut line, &mut differs);
    let says = "In braces stands what only the draft here has, and behind > what only the kept words have.".to_owned();
    let all = [says, String::new()].into_iter().chain(lines);
    let wrapped = |line: String| wrap(&line, columns).into_iter().map(|row| line[row].trim_end().to_owned()).collect();
    all.flat_map(|line: String| -> Vec<String> { wrapped(line) }).collect()
}
