//! Two drafts side by side: the one in front at the left, another of the book at the right, each with its measures and its
//! panel. What differs stands in braces, what was moved under one number at both of its places, and the difference in hand
//! in pointed brackets; sentences that belong together stand on the same rows, so both scroll as one.

use std::ops::Range;
use std::path::PathBuf;

use ratatui::buffer::Buffer;
use ratatui::crossterm::event::KeyCode;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::assessed::Assessed;
use super::event::Effect;
use super::keys::{self, Command};
use super::layout::Areas;
use super::measures::gauges;
use super::pane::put;
use super::picture;
use super::queries::shortened;
use super::sheet::DraftSheet;
use super::state::{Mode, State};
use crate::brief::Brief;
use crate::editor::Action;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::report::ReportMemory;
use crate::report::differences::{ChangeKind, DifferenceMark, Differences, ShownStretch};
use crate::setting::Faces;

/// The draft that is shown beside the one in front.
#[derive(Debug, Clone)]
pub struct Beside {
    /// Its file.
    pub path: PathBuf,
    /// What is found in it.
    pub found: Assessed,
    /// The number of the difference in hand.
    pub at: usize,
}

/// One row of both columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Row {
    left: Words,
    right: Words,
    /// The differences of the sentence that it belongs to.
    changes: Vec<usize>,
}

/// One draft's side of a sentence or of a row.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Words {
    text: String,
    /// Bytes of it that are the difference in hand.
    held: Vec<Range<usize>>,
}

/// From so many rows on, and so many columns, the panels are drawn below.
const PANELS: (u16, u16) = (112, 30);

/// The part of the rows that the panels take.
const PANEL_PARTS: u16 = 3;

impl Beside {
    /// A draft just read.
    pub fn new(path: PathBuf, text: &str, brief: &Brief, faces: &Faces) -> Self {
        Self { path, found: Assessed::of(text, brief, faces, &mut ReportMemory::default()), at: 0 }
    }
}

impl State {
    /// Shows the next draft of the book beside the one in front, or the one so many further on.
    pub(super) fn look_beside(&mut self, from: usize, step: isize) -> Vec<Effect> {
        let count = self.drafts.len();
        let Some(next) = (1..=count)
            .map(|steps| (from as isize + step * steps as isize).rem_euclid(count as isize) as usize)
            .find(|next| *next != self.front)
        else {
            self.said = Some("There is no other draft of this book; Ctrl-O makes a double of this one.".to_owned());
            return Vec::new();
        };
        // A draft that is open is shown as it stands here, unsaved words and all.
        let paper = &self.drafts[next];
        match &paper.sheet {
            Some(sheet) => {
                let (path, text) = (paper.path.clone(), sheet.editor.text().to_owned());
                self.set_beside(path, &text);
                Vec::new()
            }
            None => vec![Effect::LookAt(paper.path.clone())],
        }
    }

    /// Shows a draft beside the one in front.
    pub(super) fn set_beside(&mut self, path: PathBuf, text: &str) {
        self.assess();
        self.mode = Mode::Beside(Box::new(Beside::new(path, text, &self.brief, &self.faces)));
    }

    /// A key while two drafts are side by side.
    pub(super) fn key_beside(&mut self, mut beside: Box<Beside>, key: KeyCode) -> Vec<Effect> {
        if keys::pressed(key.into()) == Some(Command::Beside) {
            return Vec::new();
        }
        let from = self.drafts.iter().position(|paper| paper.path == beside.path).unwrap_or(self.front);
        let last = self.changes(&beside).saturating_sub(1);
        match key {
            KeyCode::Left => return self.look_beside(from, -1),
            KeyCode::Right => return self.look_beside(from, 1),
            KeyCode::Down => beside.at = (beside.at + 1).min(last),
            KeyCode::Up => beside.at = beside.at.saturating_sub(1),
            KeyCode::PageDown => beside.at = (beside.at + 5).min(last),
            KeyCode::PageUp => beside.at = beside.at.saturating_sub(5),
            KeyCode::Enter => self.take_difference(&beside),
            KeyCode::Char('u') => self.act(Action::Undo),
            _ => {}
        }
        self.assess();
        let last = self.changes(&beside).saturating_sub(1);
        beside.at = beside.at.min(last);
        self.mode = Mode::Beside(beside);
        Vec::new()
    }

    fn changes(&self, beside: &Beside) -> usize {
        self.sheet().map_or(0, |sheet| Differences::of(&sheet.now.draft, &beside.found.draft).changes.len())
    }

    /// Makes the difference in hand in the draft in front, as one step.
    fn take_difference(&mut self, beside: &Beside) {
        let Some(sheet) = self.sheet() else { return };
        let differences = Differences::of(&sheet.now.draft, &beside.found.draft);
        if differences.changes.is_empty() {
            self.said = Some("The two say the same.".to_owned());
            return;
        }
        match differences.edits(sheet.editor.text(), |change| change == beside.at) {
            Some(edits) => self.act(Action::Replace(edits)),
            None => self.said = Some("This cannot be taken alone; copy it by hand, or take another first.".to_owned()),
        }
    }
}

/// Where the two drafts stand.
struct Halves {
    area: Rect,
    left: Rect,
    right: Rect,
    /// The rows that the panels take at the foot.
    panels: u16,
    /// The rows of both drafts, between their headings and their panels.
    text: Rect,
}

impl Halves {
    /// None where there is no room.
    fn of(state: &State, sheet: &DraftSheet, beside: &Beside, areas: &Areas) -> Option<Self> {
        let area = Rect { y: areas.head.y + 1, height: areas.foot.y.saturating_sub(areas.head.y + 1), ..areas.head };
        if area.width < 8 || area.height < 3 {
            return None;
        }
        let wide = (area.width - 3) / 2;
        let (left, right) = (Rect { x: 2, width: wide - 1, ..area }, Rect { x: wide + 3, width: wide - 1, ..area });
        let panels = if area.width >= PANELS.0 && area.height >= PANELS.1 { area.height / PANEL_PARTS } else { 0 };
        let rows = [&sheet.now, &beside.found].map(|found| measured(state, found, left).len() as u16);
        // The name above the measures, and a gap below them.
        let top = rows[0].max(rows[1]) + 2;
        let height = area.height.saturating_sub(top + panels + u16::from(panels > 0));
        Some(Self { area, left, right, panels, text: Rect { y: area.y + top, height, ..area } })
    }

    /// The rows of both drafts that are in sight.
    fn rows(&self, state: &State, sheet: &DraftSheet, beside: &Beside) -> Vec<Row> {
        let columns = usize::from(self.left.width.saturating_sub(1)).max(1);
        let rows = rows(sheet, beside, columns, state.theme.signs.brackets);
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
    let rows = halves.rows(state, sheet, beside);
    rows.get(usize::from(at.y - halves.text.y))?.changes.first().copied()
}

/// Draws both drafts above the foot.
pub(super) fn draw(state: &State, sheet: &DraftSheet, beside: &Beside, areas: &Areas, buffer: &mut Buffer) {
    let Some(halves) = Halves::of(state, sheet, beside, areas) else { return };
    let Halves { area, left, right, panels, text } = halves;
    let drafts = [(&sheet.now, sheet.name(), left), (&beside.found, name_of(beside), right)];
    for (found, name, column) in drafts {
        heading(state, found, &name, column, buffer);
        if panels > 0 {
            let panel = Rect { y: column.bottom() - panels, height: panels, ..column };
            picture::draw(&found.drawing, None, &state.theme, panel, buffer);
        }
    }
    for (row, y) in halves.rows(state, sheet, beside).iter().zip(text.top()..text.bottom()) {
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

fn name_of(beside: &Beside) -> String {
    super::sheet::name(&beside.path)
}

/// The first row that is shown: the difference in hand stands in the middle of what there is room for.
fn first_row(rows: &[Row], at: usize, room: usize) -> usize {
    let place = rows.iter().position(|row| row.changes.contains(&at)).unwrap_or(0);
    place.saturating_sub(room / 2).min(rows.len().saturating_sub(room))
}

/// Both drafts in rows of so many columns, sentence beside sentence, the difference in hand in brackets of its own.
fn rows(sheet: &DraftSheet, beside: &Beside, columns: usize, brackets: [&str; 2]) -> Vec<Row> {
    let differences = Differences::of(&sheet.now.draft, &beside.found.draft);
    let mut rows = Vec::new();
    for (_, sentences) in differences.whole() {
        for sentence in sentences {
            let side = |own: fn(DifferenceMark) -> bool| {
                let words = sentence.iter().filter(|part| own(part.mark));
                wrapped(&marked(words, &differences, (beside.at, brackets)), columns)
            };
            let left = side(|mark| !matches!(mark, DifferenceMark::New(_)));
            let right = side(|mark| !matches!(mark, DifferenceMark::Gone(_)));
            let mut changes: Vec<usize> = sentence.iter().filter_map(|part| change_of(part.mark)).collect();
            changes.dedup();
            for at in 0..left.len().max(right.len()) {
                let line = |lines: &[Words]| lines.get(at).cloned().unwrap_or_default();
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

/// One draft's side of a sentence, what the other has not in braces, or in the brackets of the difference in
/// hand, which are as wide, so that no row changes where another is taken in hand.
fn marked<'a>(
    sentence: impl Iterator<Item = &'a ShownStretch>,
    differences: &Differences<'_>,
    (at, brackets): (usize, [&str; 2]),
) -> Words {
    let mut side = Words::default();
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
        side.text.push_str(&format!("{open}{}{inner}{close}", moved(differences, change)));
        if change == at {
            side.held.push(start..side.text.len());
        }
        if !inner.is_empty() {
            side.text.push_str(&words[words.trim_end().len()..]);
        }
    }
    side
}

/// What stands before words that were moved; their number is that of the same change in a comparison.
fn moved(differences: &Differences<'_>, change: usize) -> String {
    let is_moved = differences.changes.get(change).is_some_and(|change| change.kind == ChangeKind::Moved);
    if is_moved { format!("moved {}: ", change + 1) } else { String::new() }
}

/// Words in rows of so many columns.
fn wrapped(words: &Words, columns: usize) -> Vec<Words> {
    let row = |range: Range<usize>| {
        let text = words.text[range.clone()].trim_end();
        let end = range.start + text.len();
        let held = words.held.iter().map(|held| held.start.max(range.start)..held.end.min(end));
        let held = held.filter(|held| held.start < held.end);
        Words {
            text: text.to_owned(),
            held: held.map(|held| held.start - range.start..held.end - range.start).collect(),
        }
    };
    wrap(&words.text, columns).into_iter().map(row).collect()
}
