//! The list as a page of text: a table as wide as the terminal, what fails first, and below it what it comes to.

use std::path::is_separator;

use textwrap::core::display_width;
use textwrap::{Options, wrap};

use super::row::ListRow;
use super::summary;
use crate::print::visible::visible;

/// The narrowest list; a terminal that is narrower still breaks its lines itself.
const NARROWEST: usize = 60;
/// The widest list: as far as an eye follows a row.
const WIDEST: usize = 200;
/// The width from which remarks stand in a column of their own, and not below their row.
const BESIDE: usize = 130;
/// The blanks between two columns.
const GAP: usize = 2;
/// How far remarks below a row are indented.
const INDENT: usize = 9;
/// The narrowest column of titles or of drafts.
const NARROWEST_NAME: usize = 8;

const HEADS: [&str; 7] = ["verdict", "title", "draft", "words", "level", "fit", "terms"];
/// The columns that give way to the others: of titles and of drafts.
const NAMES: [usize; 2] = [1, 2];
/// The column of figures that stand flush right.
const FIGURES: usize = 3;

/// The rows as a page for a terminal of `columns` columns, ending with a line ending; they are in the order of a list.
pub fn written(rows: &[ListRow], columns: usize) -> String {
    let columns = columns.clamp(NARROWEST, WIDEST);
    let starred = summary::starred(rows);
    let star = starred.as_ref().map(|(measure, _)| *measure);
    let cells: Vec<[String; 7]> = rows.iter().map(|row| cells(row, star)).collect();
    let layout = Columns::of(&cells, columns);
    let mut page = layout.row(&HEADS.map(str::to_owned), "outside of, and notes");
    for (row, cells) in rows.iter().zip(&cells) {
        page.push_str(&layout.row(cells, &row.remarks().join("; ")));
        if layout.remarks == 0 {
            let (first, rest) = (format!("{:INDENT$}- ", ""), " ".repeat(INDENT + 2));
            let options = || Options::new(columns).initial_indent(&first).subsequent_indent(&rest);
            let lines = row.remarks().into_iter().flat_map(|remark| {
                wrap(&remark, options()).into_iter().map(|line| line.into_owned() + "\n").collect::<Vec<_>>()
            });
            page.extend(lines);
        }
    }
    page.push('\n');
    page.extend(starred.into_iter().flat_map(|(_, said)| lines_of(&said, columns)));
    page.push_str(&below(rows, columns));
    page
}

/// What the rows come to, in sentences for a terminal of `columns` columns, each ending with a line ending.
pub fn below(rows: &[ListRow], columns: usize) -> String {
    let columns = columns.clamp(NARROWEST, WIDEST);
    summary::sentences(rows).iter().flat_map(|sentence| lines_of(sentence, columns)).collect()
}

fn lines_of(sentence: &str, columns: usize) -> Vec<String> {
    wrap(sentence, columns).into_iter().map(|line| line.into_owned() + "\n").collect()
}

fn cells(row: &ListRow, starred: Option<&str>) -> [String; 7] {
    let figures = row.figures();
    let [words, level, fit, terms] = match figures {
        None => std::array::from_fn(|_| String::new()),
        Some(figures) => [figures.words.to_string(), figures.band(starred), figures.fit(), figures.terms()],
    };
    let [title, draft] = [&row.title, &row.draft].map(|name| visible(name).into_owned());
    [row.verdict().name().to_owned(), title, draft, words, level, fit, terms]
}

/// How wide the columns are.
struct Columns {
    widths: [usize; 7],
    /// The width of the remarks; 0 where they stand below their row.
    remarks: usize,
}

impl Columns {
    fn of(cells: &[[String; 7]], columns: usize) -> Self {
        let mut widths = HEADS.map(display_width);
        for row in cells {
            for (width, cell) in widths.iter_mut().zip(row) {
                *width = (*width).max(display_width(cell));
            }
        }
        let fixed: usize = widths.iter().sum::<usize>() - NAMES.map(|name| widths[name]).iter().sum::<usize>();
        let room = columns.saturating_sub(fixed + GAP * (HEADS.len() - 1));
        let is_beside = columns >= BESIDE;
        // Names take at most half of a wide list, so that the remarks are read in few lines.
        let names = if is_beside { room / 2 } else { room };
        let wanted = NAMES.map(|name| widths[name]);
        let (title, draft) = shared(names, wanted);
        widths[NAMES[0]] = title;
        widths[NAMES[1]] = draft;
        let remarks = if is_beside { room.saturating_sub(title + draft + GAP) } else { 0 };
        Self { widths, remarks }
    }

    /// A row with as many lines as its longest cell needs.
    fn row(&self, cells: &[String; 7], remarks: &str) -> String {
        let mut wrapped: Vec<Vec<String>> =
            cells.iter().zip(self.widths).map(|(cell, width)| lines(cell, width)).collect();
        if self.remarks > 0 {
            wrapped.push(lines(remarks, self.remarks));
        }
        let most = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        let mut text = String::new();
        for at in 0..most {
            let mut line = String::new();
            for (column, cell) in wrapped.iter().enumerate() {
                let cell = cell.get(at).map_or("", String::as_str);
                let width = self.widths.get(column).copied().unwrap_or(0);
                let blanks = " ".repeat(width.saturating_sub(display_width(cell)));
                let (before, behind) = if column == FIGURES { (blanks.as_str(), "") } else { ("", blanks.as_str()) };
                line.push_str(&format!("{before}{cell}{behind}{:GAP$}", ""));
            }
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}

/// A width shared by two columns. Where there is not room for both, one that wants no more than half has what it wants
/// and the other what is left; two that want more have half each.
fn shared(room: usize, [one, other]: [usize; 2]) -> (usize, usize) {
    if one + other <= room {
        return (one, other);
    }
    let half = (room / 2).max(NARROWEST_NAME);
    match (one <= half, other <= half) {
        (true, _) => (one, room.saturating_sub(one).max(half)),
        (_, true) => (room.saturating_sub(other).max(half), other),
        _ => (half, half),
    }
}

/// A cell in lines of a width. A path is broken behind its slashes.
fn lines(cell: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    if display_width(cell) <= width {
        return vec![cell.to_owned()];
    }
    if cell.contains(' ') {
        return wrap(cell, width).into_iter().map(|line| line.into_owned()).collect();
    }
    let mut lines = vec![String::new()];
    for part in cell.split_inclusive(is_separator) {
        let last = lines.last().map_or(0, |line| display_width(line));
        if last > 0 && last + display_width(part) > width {
            lines.push(String::new());
        }
        for letter in part.chars() {
            if lines.last().is_some_and(|line| display_width(line) >= width) {
                lines.push(String::new());
            }
            if let Some(line) = lines.last_mut() {
                line.push(letter);
            }
        }
    }
    lines
}
