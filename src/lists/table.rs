//! The list as a table for a spreadsheet: CSV and XLSX of the same columns.

use super::row::{ListRow, RowState};
use super::xlsx::{self, TableCell};
use crate::print::csv;
use crate::print::visible::visible;
use crate::units::{Length, trimmed};

/// The columns, each named as in the other data of the program.
const COLUMNS: [&str; 28] = [
    "isbn",
    "title",
    "draft",
    "brief",
    "verdict",
    "outside",
    "words",
    "characters",
    "longest_sentence_words",
    "level_measure",
    "level",
    "level_low",
    "level_high",
    "fits",
    "lines",
    "lines_available",
    "lines_over",
    "lines_spare",
    "letters_over",
    "letters_spare",
    "size_pt",
    "largest_size_pt",
    "terms_covered",
    "terms_wanted",
    "terms_missing",
    "avoided",
    "queries",
    "notes",
];
/// The last column: why a draft could not be read.
const ERROR: &str = "error";

/// The rows as CSV for spreadsheets: UTF-8 with a byte order mark, by which they know it, and cells that begin as a
/// formula held back.
///
/// Source: RFC 4180, with its line endings.
pub fn csv(rows: &[ListRow]) -> String {
    let cell = |cell: TableCell| match cell {
        TableCell::Nothing => String::new(),
        TableCell::Text(text) => text,
        TableCell::Number(number) => trimmed(number, 2),
    };
    let line = |line: Vec<TableCell>| csv::line(line.into_iter().map(cell)) + "\r\n";
    std::iter::once('\u{feff}'.to_string()).chain(lines(rows).map(line)).collect()
}

/// The rows as the bytes of a spreadsheet's file; equal rows give equal bytes.
pub fn xlsx(rows: &[ListRow]) -> Vec<u8> {
    xlsx::written(lines(rows))
}

/// The names of the columns, then the cells of each row.
fn lines(rows: &[ListRow]) -> impl Iterator<Item = Vec<TableCell>> {
    let heads = COLUMNS.into_iter().chain([ERROR]).map(text).collect();
    std::iter::once(heads).chain(rows.iter().map(cells))
}

fn text(text: impl AsRef<str>) -> TableCell {
    match text.as_ref() {
        "" => TableCell::Nothing,
        text => TableCell::Text(visible(text).into_owned()),
    }
}

fn count(count: usize) -> TableCell {
    TableCell::Number(count as f64)
}

fn size(size: Length) -> TableCell {
    TableCell::Number(size.to_pt())
}

fn cells(row: &ListRow) -> Vec<TableCell> {
    let named = [&row.isbn, &row.title, &row.draft, &row.brief].map(text);
    let mut cells: Vec<TableCell> = named.into_iter().chain([text(row.verdict().name())]).collect();
    let figures = match &row.state {
        RowState::Unread(why) => {
            // A draft that was not read has no figures: their columns stay empty, and the last one says why.
            cells.resize(COLUMNS.len(), TableCell::Nothing);
            cells.push(text(why.replace('\n', " ")));
            return cells;
        }
        RowState::Measured(figures) => figures,
    };
    // From here on the cells stand in the order of `COLUMNS`.
    let nothing = || TableCell::Nothing;
    cells.extend([
        text(figures.outside.join("; ")),
        count(figures.words),
        count(figures.characters),
        figures.longest_sentence.map_or_else(nothing, count),
    ]);
    cells.extend(match &figures.level {
        None => [nothing(), nothing(), nothing(), nothing()],
        Some(level) => {
            [text(level.measure), TableCell::Number(level.grade), count(level.low as usize), count(level.high as usize)]
        }
    });
    cells.extend([
        text(if figures.fits { "yes" } else { "no" }),
        count(figures.lines),
        count(figures.lines_available),
        count(figures.lines_over),
        count(figures.lines_spare),
        count(figures.letters_over),
        count(figures.letters_spare),
        size(figures.size),
        figures.largest_size.map_or_else(nothing, size),
        count(figures.terms_covered),
        count(figures.terms_wanted),
        text(figures.terms_missing.join("; ")),
        text(figures.avoided.join("; ")),
        figures.queries.map_or_else(nothing, count),
        text(figures.notes.join("; ")),
        nothing(),
    ]);
    cells
}
