//! The rows in which a draft is shown: one for each printed line, or plainly wrapped.
//!
//! Rows hold every byte of the file, so that all of it can be edited: blank lines, comments and the headings that name
//! a block have rows of their own, and the markup before and inside the copy stands in the rows of its words.

use std::ops::Range;

use super::assessed::Assessed;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::setting::SetLine;

/// Where the rows of the draft end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Wrapping {
    /// Where printed lines end.
    #[default]
    AsSet,
    /// Where the pane ends.
    Plain,
}

/// The columns by which the row that continues a printed line is indented, so that it does not look like a line.
pub const CONTINUED: usize = 4;

/// One row of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaneRow {
    /// The bytes of the file that the row shows, without a line ending at their end.
    pub range: Range<usize>,
    /// The printed line that the row shows, if any.
    pub line: Option<usize>,
    /// Whether the row begins its printed line, or is not part of one.
    pub first: bool,
    /// Whether the row ends its printed line, or is not part of one.
    pub last: bool,
}

/// The rows of a text in a pane of some columns.
pub fn rows(text: &str, assessed: &Assessed, wrapping: Wrapping, columns: usize) -> Vec<PaneRow> {
    let columns = columns.max(1);
    match wrapping {
        Wrapping::AsSet => as_set(text, assessed, columns),
        Wrapping::Plain => {
            let whole = |range| PaneRow { range, line: None, first: true, last: true };
            wrap(text, columns).into_iter().map(whole).collect()
        }
    }
}

/// The columns of the longest printed line of a draft, with the markup that stands in its row.
pub fn printed_columns(text: &str, assessed: &Assessed) -> usize {
    let rows = as_set(text, assessed, usize::MAX);
    let printed = rows.iter().filter(|row| row.line.is_some());
    printed.map(|row| cells(text[row.range.clone()].trim_end())).max().unwrap_or(0)
}

fn as_set(text: &str, assessed: &Assessed, columns: usize) -> Vec<PaneRow> {
    let mut rows = Vec::new();
    let starts = starts(text, assessed);
    for (at, &(start, line)) in starts.iter().enumerate() {
        let next = starts.get(at + 1).map_or(text.len(), |(next, _)| *next);
        let ended = at + 1 < starts.len() && text[start..next].ends_with('\n');
        let end = if ended { next - 1 } else { next };
        divided(text, start..end, line, columns, &mut rows);
    }
    rows
}

/// Adds a row, or several where the pane is narrower than the row.
fn divided(text: &str, range: Range<usize>, line: Option<usize>, columns: usize, rows: &mut Vec<PaneRow>) {
    let shown = &text[range.clone()];
    let mut pieces = if cells(shown.trim_end()) <= columns {
        vec![range.clone()]
    } else {
        // A line ending inside a printed line is printed as a blank.
        let shown = shown.replace('\n', " ");
        let mut pieces = wrap(&shown, columns);
        let first = pieces.first().map_or(0, |first| first.end);
        if line.is_some() && pieces.len() > 1 {
            let rest = wrap(&shown[first..], columns.saturating_sub(CONTINUED).max(1));
            pieces.splice(1.., rest.into_iter().map(|piece| first + piece.start..first + piece.end));
        }
        pieces.into_iter().map(|piece| range.start + piece.start..range.start + piece.end).collect()
    };
    let last = pieces.len().saturating_sub(1);
    for (at, piece) in pieces.drain(..).enumerate() {
        rows.push(PaneRow { range: piece, line, first: at == 0 || line.is_none(), last: at == last || line.is_none() });
    }
}

/// The byte at which each row begins, and the printed line that the row shows; the first row begins the file.
fn starts(text: &str, assessed: &Assessed) -> Vec<(usize, Option<usize>)> {
    let mut starts: Vec<(usize, Option<usize>)> = Vec::new();
    // Rows stay in order: a second start at one byte only adds its printed line, and an earlier start is dropped.
    let mut push = |start: usize, line: Option<usize>| match starts.last_mut() {
        Some(last) if last.0 == start => last.1 = last.1.or(line),
        Some(last) if last.0 > start => {}
        _ => starts.push((start, line)),
    };
    push(0, None);
    let mut done = 0;
    let mut lines = assessed.report.fit.lines.iter().map(|line| &line.set).enumerate().peekable();
    for (number, block) in assessed.draft.blocks.iter().enumerate() {
        let span = block.whole_span();
        line_starts(text, done..span.start, &mut push);
        let mut first = true;
        while let Some((index, line)) = lines.next_if(|(_, line)| line.paragraph <= number) {
            push(start_of(text, assessed, line, first), Some(index));
            first = false;
        }
        done = span.end.max(done);
    }
    line_starts(text, done..text.len(), &mut push);
    starts
}

/// Pushes the start of every line of the file that begins in `range`, which lies between blocks.
fn line_starts(text: &str, range: Range<usize>, push: &mut impl FnMut(usize, Option<usize>)) {
    let Some(between) = text.get(range.clone()) else { return };
    for (newline, _) in between.match_indices('\n') {
        push(range.start + newline + 1, None);
    }
}

/// Where the row of a printed line begins: at its words, or at the markup that belongs before them.
fn start_of(text: &str, assessed: &Assessed, line: &SetLine, first: bool) -> usize {
    let words = assessed.span(line.paragraph, line.text.clone()).start.min(text.len());
    let line_start = text[..words].rfind('\n').map_or(0, |newline| newline + 1);
    let before = &text[line_start..words];
    if first || before.chars().all(|character| " \t>".contains(character)) {
        return line_start;
    }
    words - (before.len() - before.trim_end_matches(['*', '_', '\\', '`', '[']).len())
}

/// The row that holds a byte of the file; at the border of two rows, the later one.
pub fn row_at(rows: &[PaneRow], at: usize) -> usize {
    rows.partition_point(|row| row.range.start <= at).saturating_sub(1)
}
