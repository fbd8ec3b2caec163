//! Two drafts side by side: the one in front on the left, another of the book on the right, each with its measures and
//! its panel. Differences stand in braces, moved words have one number at both of their places, and the selected
//! difference stands in pointed brackets. Matching sentences stand on the same rows, so both drafts scroll together.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::measures::gauges;
use super::picture::{self, Pictured};
use super::put::{put, shortened};
use crate::desk::assessed::Assessed;
use crate::desk::beside::Beside;
use crate::desk::layout::Areas;
use crate::desk::papers::Paper;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::report::differences::{Change, ChangeKind, DifferenceMark, ShownStretch};

/// One row of both columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Row {
    left: RowWords,
    right: RowWords,
    /// The differences in the sentence to which the row belongs.
    changes: Vec<usize>,
}

/// One draft's side of a sentence or of a row.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct RowWords {
    text: String,
    /// The bytes of the text that belong to the selected difference.
    held: Vec<Range<usize>>,
}

/// The least columns and rows with which the panels are drawn below the drafts.
const PANELS: (u16, u16) = (112, 30);

/// The panels take one part in this many of the rows.
const PANEL_PARTS: u16 = 3;

/// Where the two drafts stand.
struct Halves {
    area: Rect,
    left: Rect,
    right: Rect,
    /// The number of rows that the panels take at the foot.
    panels: u16,
    /// The rows of both drafts, between their headings and their panels.
    text: Rect,
}

impl Halves {
    /// The areas of both drafts; none where there is no room for them.
    fn of(state: &State, sheet: &DraftSheet, beside: &Beside, areas: &Areas) -> Option<Self> {
        let area = Rect { y: areas.head.y + 1, height: areas.foot.y.saturating_sub(areas.head.y + 1), ..areas.head };
        if area.width < 8 || area.height < 3 {
            return None;
        }
        let wide = (area.width - 3) / 2;
        let (left, right) = (Rect { x: 2, width: wide - 1, ..area }, Rect { x: wide + 3, width: wide - 1, ..area });
        let panels = if area.width >= PANELS.0 && area.height >= PANELS.1 { area.height / PANEL_PARTS } else { 0 };
        let rows = [&sheet.now, &beside.found].map(|found| measured(state, found, left).len() as u16);
        // The heading is the draft's name, its measures, and an empty row.
        let top = rows[0].max(rows[1]) + 2;
        let height = area.height.saturating_sub(top + panels + u16::from(panels > 0));
        Some(Self { area, left, right, panels, text: Rect { y: area.y + top, height, ..area } })
    }

    /// Where the panel stands in a draft's column.
    fn panel(&self, column: Rect) -> Rect {
        Rect { y: column.bottom() - self.panels, height: self.panels, ..column }
    }

    /// The rows of both drafts that are in sight.
    fn rows(&self, state: &State, beside: &Beside) -> Vec<Row> {
        let columns = usize::from(self.left.width.saturating_sub(1)).max(1);
        let rows = rows(beside, columns, state.theme.signs.brackets);
        let room = usize::from(self.text.height);
        let first = first_row(&rows, beside.at, room);
        rows.into_iter().skip(first).take(room).collect()
    }
}

/// The first difference in the row at a place of the screen.
pub(super) fn change_at(
    state: &State,
    sheet: &DraftSheet,
    beside: &Beside,
    areas: &Areas,
    at: Position,
) -> Option<usize> {
    let halves = Halves::of(state, sheet, beside, areas).filter(|halves| halves.text.contains(at))?;
    let rows = halves.rows(state, beside);
    rows.get(usize::from(at.y - halves.text.y))?.changes.first().copied()
}

/// The areas of both panels, each with what is drawn there; none where there is no room for them.
pub(super) fn panels<'a>(
    state: &State,
    sheet: &'a DraftSheet,
    beside: &'a Beside,
    areas: &Areas,
) -> Vec<(Rect, &'a Assessed)> {
    let Some(halves) = Halves::of(state, sheet, beside, areas).filter(|halves| halves.panels > 0) else {
        return Vec::new();
    };
    [(halves.left, &sheet.now), (halves.right, &beside.found)]
        .map(|(column, found)| (halves.panel(column), found))
        .into()
}

/// Draws both drafts above the foot.
pub(super) fn draw(state: &State, sheet: &DraftSheet, beside: &Beside, areas: &Areas, buffer: &mut Buffer) {
    let Some(halves) = Halves::of(state, sheet, beside, areas) else { return };
    let Halves { area, left, right, text, .. } = halves;
    let other = state.papers.get(beside.draft).map_or_else(String::new, Paper::name);
    let drafts = [(&sheet.now, state.name(), left), (&beside.found, other, right)];
    for (found, name, column) in drafts {
        heading(state, found, &name, column, buffer);
    }
    for (area, found) in panels(state, sheet, beside, areas) {
        if let Some(pictured) = Pictured::of_panel(state, found) {
            picture::draw(&pictured, &state.theme, area, buffer);
        }
    }
    for (row, y) in halves.rows(state, beside).iter().zip(text.top()..text.bottom()) {
        if row.changes.contains(&beside.at) {
            put(buffer, area.x, y, state.theme.signs.pointer, state.theme.accent, area);
        }
        for (words, column) in [(&row.left, left), (&row.right, right)] {
            put(buffer, column.x, y, &words.text, Style::new(), column);
            for held in &words.held {
                let x = column.x + cells(&words.text[..held.start]) as u16;
                put(buffer, x, y, &words.text[held.clone()], state.theme.strong, column);
            }
        }
    }
}

/// The draft's name and its four measures.
fn heading(state: &State, found: &Assessed, name: &str, column: Rect, buffer: &mut Buffer) {
    let room = usize::from(column.width);
    put(buffer, column.x, column.y, &shortened(&visible(name), room), state.theme.strong, column);
    for (row, y) in measured(state, found, column).iter().zip(column.y + 1..column.bottom()) {
        put(buffer, column.x, y, row, state.theme.faint, column);
    }
}

/// The four measures in rows of a column.
fn measured(state: &State, found: &Assessed, column: Rect) -> Vec<String> {
    let signs = &state.theme.signs;
    let said = gauges(found, found, signs).map(|gauge| gauge.in_short()).join(&format!(" {} ", signs.point));
    let rows = wrap(&said, usize::from(column.width).max(1));
    rows.into_iter().map(|row| said[row].trim_end().to_owned()).collect()
}

/// The first row that is shown, chosen so that the selected difference stands in the middle of `room` rows.
fn first_row(rows: &[Row], at: usize, room: usize) -> usize {
    let place = rows.iter().position(|row| row.changes.contains(&at)).unwrap_or(0);
    place.saturating_sub(room / 2).min(rows.len().saturating_sub(room))
}

/// Both drafts in rows of `columns` columns, sentence beside sentence; the selected difference stands in `brackets`.
fn rows(beside: &Beside, columns: usize, brackets: [&str; 2]) -> Vec<Row> {
    let mut rows = Vec::new();
    for sentences in beside.blocks() {
        for sentence in sentences {
            let side = |own: fn(DifferenceMark) -> bool| {
                let words = sentence.iter().filter(|part| own(part.mark));
                wrapped(&marked(words, beside.changes(), (beside.at, brackets)), columns)
            };
            let left = side(|mark| !matches!(mark, DifferenceMark::New(_)));
            let right = side(|mark| !matches!(mark, DifferenceMark::Gone(_)));
            let mut changes: Vec<usize> = sentence.iter().filter_map(|part| change_of(part.mark)).collect();
            changes.dedup();
            for at in 0..left.len().max(right.len()) {
                let line = |lines: &[RowWords]| lines.get(at).cloned().unwrap_or_default();
                rows.push(Row { left: line(&left), right: line(&right), changes: changes.clone() });
            }
        }
        rows.push(Row::default());
    }
    rows
}

fn change_of(mark: DifferenceMark) -> Option<usize> {
    match mark {
        DifferenceMark::Kept => None,
        DifferenceMark::Gone(change) | DifferenceMark::New(change) => Some(change),
    }
}

/// One draft's side of a sentence, in which words that the other draft lacks stand in braces, or in brackets for the
/// selected difference. Brackets are as wide as braces, so selecting another difference moves no row.
fn marked<'a>(
    sentence: impl Iterator<Item = &'a ShownStretch>,
    changes: &[Change],
    (at, brackets): (usize, [&str; 2]),
) -> RowWords {
    let mut side = RowWords::default();
    for part in sentence {
        let words = visible(&part.text.replace('\n', " ")).into_owned();
        let words = if side.text.is_empty() { words.trim_start() } else { &words };
        let Some(change) = change_of(part.mark) else {
            side.text.push_str(words);
            continue;
        };
        let inner = words.trim();
        side.text.push_str(&words[..words.len() - words.trim_start().len()]);
        let start = side.text.len();
        let [open, close] = if change == at { brackets } else { ["{", "}"] };
        side.text.push_str(&format!("{open}{}{inner}{close}", moved(changes, change)));
        if change == at {
            side.held.push(start..side.text.len());
        }
        if !inner.is_empty() {
            side.text.push_str(&words[words.trim_end().len()..]);
        }
    }
    side
}

/// The label before words that were moved, with the number that the change has in every comparison.
fn moved(changes: &[Change], change: usize) -> String {
    let is_moved = changes.get(change).is_some_and(|change| change.kind == ChangeKind::Moved);
    if is_moved { format!("moved {}: ", change + 1) } else { String::new() }
}

/// The words of one side in rows of `columns` columns.
fn wrapped(words: &RowWords, columns: usize) -> Vec<RowWords> {
    let row = |range: Range<usize>| {
        let text = words.text[range.clone()].trim_end();
        let end = range.start + text.len();
        let held = words.held.iter().map(|held| held.start.max(range.start)..held.end.min(end));
        let held = held.filter(|held| held.start < held.end);
        RowWords {
            text: text.to_owned(),
            held: held.map(|held| held.start - range.start..held.end - range.start).collect(),
        }
    };
    wrap(&words.text, columns).into_iter().map(row).collect()
}
