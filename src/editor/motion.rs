//! Where the cursor goes: by character, by word, by the rows that are on the screen, by paragraph.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::graphemes::{cells, next, previous, snapped, snapped_on};

/// One movement of the cursor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Motion {
    /// One character back.
    Left,
    /// One character on.
    Right,
    /// One row up, in the same column.
    Up,
    /// One row down, in the same column.
    Down,
    /// To the start of the word that the cursor is in or after.
    WordLeft,
    /// To the end of the word that the cursor is in or before.
    WordRight,
    /// To the start of the row.
    RowStart,
    /// To the end of the row; before the last blank of a row that continues below.
    RowEnd,
    /// The given number of rows up.
    PageUp(usize),
    /// The given number of rows down.
    PageDown(usize),
    /// To the start of the paragraph; from there, to the start of the paragraph above.
    ParagraphUp,
    /// To the start of the paragraph below.
    ParagraphDown,
    /// To the start of the draft.
    TextStart,
    /// To the end of the draft.
    TextEnd,
}

/// Where a movement ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Landing {
    /// The byte of the text, always at the edge of a grapheme.
    pub at: usize,
    /// The column, in cells, that moving up and down keeps to; none after any other movement.
    pub goal: Option<usize>,
}

impl Motion {
    /// Where a movement from byte `cursor` leads. `rows` are the byte ranges of the rows on the screen, in order;
    /// without any, the whole text counts as one row.
    pub fn target(self, text: &str, cursor: usize, rows: &[Range<usize>], goal: Option<usize>) -> Landing {
        let rows = Rows { text, rows };
        let at = match self {
            Self::Up => return rows.above(cursor, 1, goal),
            Self::Down => return rows.below(cursor, 1, goal),
            Self::PageUp(count) => return rows.above(cursor, count, goal),
            Self::PageDown(count) => return rows.below(cursor, count, goal),
            Self::Left => previous(text, cursor),
            Self::Right => next(text, cursor),
            Self::WordLeft => word_left(text, cursor),
            Self::WordRight => word_right(text, cursor),
            Self::RowStart => rows.row(rows.of(cursor)).start,
            Self::RowEnd => rows.last_stop(rows.of(cursor)),
            Self::ParagraphUp => paragraph_up(text, cursor),
            Self::ParagraphDown => paragraph_down(text, cursor),
            Self::TextStart => 0,
            Self::TextEnd => text.len(),
        };
        Landing { at: snapped(text, at), goal: None }
    }
}

/// The start of the word that `at` is in or after. The search goes line by line, so that finding a near word does not
/// read a long text.
fn word_left(text: &str, at: usize) -> usize {
    let mut end = at;
    loop {
        let start = line_at(text, end).start;
        match text[start..end].unicode_word_indices().next_back() {
            Some((word, _)) => return start + word,
            None if start == 0 => return 0,
            None => end = start - 1,
        }
    }
}

/// The end of the word that `at` is in or before.
fn word_right(text: &str, at: usize) -> usize {
    let mut start = at;
    loop {
        let end = line_at(text, start).end;
        match text[start..end].unicode_word_indices().next() {
            Some((offset, word)) => return snapped_on(text, start + offset + word.len()),
            None if end == text.len() => return end,
            None => start = end + 1,
        }
    }
}

/// The word at `at`, or the blanks or the mark there; at the end of a line, the last piece of the line.
pub fn word_at(text: &str, at: usize) -> Range<usize> {
    let line = line_at(text, at);
    let pieces = text[line.clone()].split_word_bound_indices();
    let mut pieces = pieces.map(|(start, piece)| line.start + start..line.start + start + piece.len()).peekable();
    let mut found = at..at;
    while let Some(piece) = pieces.next_if(|piece| piece.start <= at) {
        found = piece;
    }
    snapped(text, found.start)..snapped_on(text, found.end)
}

/// The line of the file that `at` is in, without its ending.
pub fn line_at(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    let end = text[at..].find('\n').map_or(text.len(), |newline| at + newline);
    start..end
}

fn paragraph_up(text: &str, at: usize) -> usize {
    let before = text[..at].trim_end();
    let mut start = before.len();
    while start > 0 {
        let line = line_at(text, start - 1 + usize::from(!before[..start].ends_with('\n')));
        start = line.start;
        if start == 0 || is_blank(text, start - 1) {
            break;
        }
        start -= 1;
    }
    start
}

/// Whether the line that ends at `at` is blank.
fn is_blank(text: &str, at: usize) -> bool {
    text[line_at(text, at)].trim().is_empty()
}

fn paragraph_down(text: &str, at: usize) -> usize {
    let mut seen_blank = false;
    let mut start = at;
    while let Some(newline) = text[start..].find('\n') {
        start += newline + 1;
        let blank = is_blank(text, start);
        if seen_blank && !blank {
            return start;
        }
        seen_blank = seen_blank || blank;
    }
    text.len()
}

/// The rows of the text on the screen. Ranges that are out of date are brought to edges of graphemes in the text.
struct Rows<'a> {
    text: &'a str,
    rows: &'a [Range<usize>],
}

impl Rows<'_> {
    fn row(&self, number: usize) -> Range<usize> {
        let Some(row) = self.rows.get(number) else { return 0..self.text.len() };
        let start = snapped(self.text, row.start);
        let end = snapped(self.text, row.end).max(start);
        start..start + self.text[start..end].trim_end_matches('\n').len()
    }

    /// The row in which the cursor is shown: the last that begins at or before it.
    fn of(&self, cursor: usize) -> usize {
        self.rows.partition_point(|row| row.start <= cursor).saturating_sub(1)
    }

    /// The last place in a row where the cursor is shown in that row. Where the row continues below, its end is already
    /// the start of the row below, so the place before its last grapheme is taken.
    fn last_stop(&self, number: usize) -> usize {
        let row = self.row(number);
        let goes_on = self.rows.get(number + 1).is_some_and(|below| below.start <= row.end);
        if goes_on { previous(self.text, row.end).max(row.start) } else { row.end }
    }

    fn column(&self, number: usize, cursor: usize) -> usize {
        let row = self.row(number);
        cells(&self.text[row.start..cursor.clamp(row.start, row.end)])
    }

    /// The last place in a row that is not past a column.
    fn at_column(&self, number: usize, column: usize) -> usize {
        let (row, mut filled) = (self.row(number), 0);
        for (offset, grapheme) in self.text[row.clone()].grapheme_indices(true) {
            filled += cells(grapheme);
            if filled > column {
                return row.start + offset;
            }
        }
        self.last_stop(number)
    }

    fn above(&self, cursor: usize, count: usize, goal: Option<usize>) -> Landing {
        let from = self.of(cursor);
        let goal = goal.unwrap_or_else(|| self.column(from, cursor));
        let at = if from == 0 { 0 } else { self.at_column(from.saturating_sub(count), goal) };
        Landing { at: snapped(self.text, at), goal: Some(goal) }
    }

    fn below(&self, cursor: usize, count: usize, goal: Option<usize>) -> Landing {
        let (from, last) = (self.of(cursor), self.rows.len().saturating_sub(1));
        let goal = goal.unwrap_or_else(|| self.column(from, cursor));
        let at = if from >= last { self.text.len() } else { self.at_column((from + count).min(last), goal) };
        Landing { at: snapped(self.text, at), goal: Some(goal) }
    }
}
