//! The copy's pane: a row for each printed line, with the end of its measure and the room left, and the panel's foot.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Modifier, Style};
use unicode_segmentation::UnicodeSegmentation;

use super::put::{put, shortened};
use crate::brief::Brief;
use crate::brief::place::LIVE_AREA;
use crate::brief::typography::Align;
use crate::desk::layout::{MARGIN, ROOM};
use crate::desk::mode::{AnswersPage, Mode};
use crate::desk::rows::{CONTINUED, PaneRow, Wrapping};
use crate::desk::sheet::{DraftSheet, PaneLine};
use crate::desk::state::{Marked, State};
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::counted;
use crate::report::places::FitPlace;
use crate::setting::SetLine;
use crate::units::Length;

/// The least columns in which a note is shown.
const LEAST_NOTE: usize = 12;

/// A character of a row, and where it is shown.
struct Placed<'a> {
    /// The byte of the file at which the character begins.
    at: usize,
    /// What is shown of the character.
    shown: &'a str,
    /// The column, counted from the row's first character.
    column: usize,
    /// The number of cells that the character takes.
    cells: usize,
}

/// Draws the pane and returns the cursor's position, if the cursor is in sight.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    let pane = Pane::new(state, sheet);
    let seen = sheet.shown.iter().skip(sheet.scroll);
    for (shown, y) in seen.zip(area.top()..area.bottom()) {
        match *shown {
            PaneLine::Row(row) => pane.row(row, area, y, buffer),
            PaneLine::Spare(number) => {
                let edge = sheet.now.spare.get(number).copied().unwrap_or_default();
                pane.edge(edge, 0, area, y, buffer);
            }
            PaneLine::Head(place) => pane.head(place, area, y, buffer),
            PaneLine::Foot(place) => pane.foot(place, area, y, buffer),
            PaneLine::Note(number, from, to) => pane.note(number, from..to, area, y, buffer),
        }
    }
    pane.tell(area, buffer);
    pane.cursor(area)
}

/// The byte of the file at a place of the screen, or the nearest in that row; none outside the pane.
pub(super) fn byte_at(state: &State, sheet: &DraftSheet, x: u16, y: u16) -> Option<usize> {
    let area = state.areas().copy;
    let line = usize::from(y.checked_sub(area.y).filter(|_| area.contains(Position { x: area.x, y }))?);
    // What stands between rows belongs to the row below it.
    let shown = sheet.shown.iter().skip(sheet.scroll + line);
    let mut rows = shown.filter_map(|shown| if let PaneLine::Row(row) = shown { Some(*row) } else { None });
    let is_row = matches!(sheet.shown.get(sheet.scroll + line), Some(PaneLine::Row(_)));
    let row = match rows.next() {
        Some(row) if is_row => row,
        Some(row) => return sheet.rows.get(row).map(|row| row.range.start),
        None => return Some(sheet.editor.text().len()),
    };
    let pane = Pane::new(state, sheet);
    let row = sheet.rows.get(row)?;
    let column = usize::from(x.saturating_sub(state.areas().text_left()));
    let placed = pane.placed(row);
    let found = placed.iter().find(|one| column < one.column + one.cells.max(1));
    Some(found.map_or_else(|| pane.last_stop(row, &placed), |one| one.at))
}

/// The query whose sign stands at a place of the screen, left of the row in which its words begin; by its number.
pub(super) fn query_at(state: &State, sheet: &DraftSheet, at: Position) -> Option<usize> {
    let area = state.areas().copy;
    let line = usize::from(at.y.checked_sub(area.y).filter(|_| area.contains(at) && at.x == area.x + 1)?);
    let Some(PaneLine::Row(row)) = sheet.shown.get(sheet.scroll + line) else { return None };
    let row = sheet.rows.get(*row)?;
    sheet.offers().iter().position(|offer| row.range.contains(&sheet.now.span_of(offer.query).start))
}

/// What is needed to draw rows.
struct Pane<'a> {
    state: &'a State,
    sheet: &'a DraftSheet,
    column: Length,
    inks: Vec<(Range<usize>, Style)>,
    /// What is marked, and where.
    marked: Marked,
    marks: Vec<Range<usize>>,
    queries: Vec<Range<usize>>,
    /// Notes on the draft's form, each with the byte that it is about.
    notes: Vec<(usize, &'a str)>,
}

impl<'a> Pane<'a> {
    fn new(state: &'a State, sheet: &'a DraftSheet) -> Self {
        let height = usize::from(state.areas().copy.height);
        let seen = sheet.shown.iter().skip(sheet.scroll).take(height);
        let mut rows = seen.filter_map(|shown| match shown {
            PaneLine::Row(row) => sheet.rows.get(*row),
            _ => None,
        });
        let first = rows.next().map_or(0..0, |row| row.range.clone());
        let seen = first.start..rows.next_back().map_or(first.end, |row| row.range.end);
        let queries =
            sheet.offers().into_iter().map(|offer| sheet.now.span_of(offer.query)).map(|span| span.start..span.end);
        let queries: Vec<Range<usize>> = queries.filter(|range| touches(range, &seen)).collect();
        // What an answer and the copy share is marked as terms are.
        let (marked, marks) = match &state.mode {
            Mode::Answers(page) => (Marked::Terms, shared(page)),
            _ => (state.marked, marks(state.marked, sheet, &queries)),
        };
        let notes = sheet.now.draft.notes.iter().enumerate().filter(|(number, _)| !sheet.has_note_below(*number));
        let notes = notes.map(|(_, note)| (note.span.start, note.text.as_str()));
        let notes = notes.filter(|(at, _)| seen.contains(at)).collect();
        let (column, inks) = (sheet.column(), inks(sheet, state.brief(), &seen));
        Self { notes, state, sheet, column, inks, marked, marks, queries }
    }

    /// A row's characters with their columns.
    fn placed(&self, row: &PaneRow) -> Vec<Placed<'a>> {
        let text = self.sheet.editor.text();
        let signs = &self.state.theme.signs;
        let mut column = self.indent(row);
        let mut placed = Vec::new();
        let words = text.get(row.range.clone()).unwrap_or_default();
        for (offset, grapheme) in words.grapheme_indices(true) {
            let at = row.range.start + offset;
            let shown = match grapheme {
                "\n" | "\r\n" => signs.line_end,
                "\t" => " ",
                // A control character is shown as a mark, so that the terminal does not obey it.
                other if visible(other) != other => signs.point,
                other => other,
            };
            let cells = cells(shown);
            if self.marked == Marked::Queries && self.marks.iter().any(|mark| mark.start == at) {
                placed.push(Placed { at, shown: signs.brackets[0], column, cells: 1 });
                column += 1;
            }
            placed.push(Placed { at, shown, column, cells });
            column += cells;
            if self.marked == Marked::Queries && self.marks.iter().any(|mark| mark.end == at + grapheme.len()) {
                placed.push(Placed { at: at + grapheme.len(), shown: signs.brackets[1], column, cells: 1 });
                column += 1;
            }
        }
        placed
    }

    /// The left edge of a line's place, or of its column there, on the face.
    fn left_of(&self, line: &SetLine) -> Length {
        let places = &self.sheet.now.report.fit.set_places;
        places.get(line.place).map_or(line.slot_x, |place| place.room.left_of(line.slot_x))
    }

    /// The columns by which a printed line is indented from the left of its place, less the markup before it; a row
    /// that continues a line is indented by itself.
    fn indent(&self, row: &PaneRow) -> usize {
        if !row.first {
            return CONTINUED;
        }
        // A note needs the room after the row, so the row is not indented.
        if self.notes.iter().any(|(at, _)| row.range.contains(at)) {
            return 0;
        }
        let Some(line) = self.line(row).filter(|_| row.last) else { return 0 };
        let words = self.sheet.now.span(line.paragraph, line.text.clone()).start;
        let markup = self.sheet.editor.text().get(row.range.start..words).map_or(0, cells);
        // A place may be wider than the pane, and its words must be seen whatever they are indented by.
        let words = self.sheet.editor.text().get(row.range.clone()).map_or(0, cells);
        let pane = usize::from(self.state.areas().copy.width.saturating_sub(MARGIN + ROOM));
        let free = pane.saturating_sub(words);
        let most = if line.align == Align::Centre { free / 2 } else { free };
        self.columns(line.x - self.left_of(line)).saturating_sub(markup).min(most)
    }

    fn line(&self, row: &PaneRow) -> Option<&'a SetLine> {
        row.line.and_then(|line| self.sheet.now.report.fit.lines.get(line)).map(|line| &line.set)
    }

    /// A length on paper, converted to columns of the pane.
    fn columns(&self, length: Length) -> usize {
        let columns = (length.to_pt() / self.column.to_pt().max(0.1)).round();
        (columns.max(0.0) as usize).min(self.state.areas().text_columns())
    }

    fn row(&self, number: usize, area: Rect, y: u16, buffer: &mut Buffer) {
        let Some(row) = self.sheet.rows.get(number) else { return };
        let theme = &self.state.theme;
        if self.queries.iter().any(|query| row.range.contains(&query.start)) {
            put(buffer, area.x + 1, y, "?", theme.strong, area);
        }
        if !row.first {
            put(buffer, area.x + MARGIN + CONTINUED as u16 - 2, y, theme.signs.goes_on, theme.faint, area);
        }
        let shown = self.sheet.editor.selection().or_else(|| self.sheet.shown_words.clone());
        let selected = shown.unwrap_or(0..0);
        for one in self.placed(row) {
            let mut style = self.style(&one);
            if selected.contains(&one.at) {
                style = style.patch(theme.chosen);
            }
            put(buffer, area.x + MARGIN + one.column as u16, y, one.shown, style, area);
        }
        // The measure may end at the blank that hangs after the words.
        if self.state.wrapping == Wrapping::AsSet && row.last {
            self.room(row, area, y, buffer);
        }
    }

    /// Draws the notes on rows, after the words and, where more room is needed, in empty rows below.
    fn tell(&self, area: Rect, buffer: &mut Buffer) {
        let seen: Vec<(PaneLine, u16)> =
            self.sheet.shown.iter().skip(self.sheet.scroll).copied().zip(area.top()..area.bottom()).collect();
        for (at, &(shown, y)) in seen.iter().enumerate() {
            let PaneLine::Row(row) = shown else { continue };
            let Some(row) = self.sheet.rows.get(row) else { continue };
            let told = self.notes.iter().find(|(at, _)| row.range.contains(at));
            let x = area.x + MARGIN + self.end(row) as u16 + 2;
            let room = usize::from(area.right().saturating_sub(x + 1));
            let Some((_, note)) = told.filter(|_| room >= LEAST_NOTE) else { continue };
            let free = seen[at + 1..].iter().take_while(|(shown, _)| self.is_free(*shown)).count();
            let note = visible(note);
            let mut pieces = wrap(&note, room).into_iter();
            for (number, y) in (y..=y + free as u16).enumerate() {
                let Some(piece) = pieces.next() else { break };
                // The last free row takes all that is left of the note, shortened to show that there is more.
                let piece = if number == free { &note[piece.start..] } else { note[piece].trim_end() };
                put(buffer, x, y, &" ".repeat(room + 1), Style::reset(), area);
                put(buffer, x, y, &shortened(piece, room), self.state.theme.accent, area);
            }
        }
    }

    /// Draws a line of a note that stands below its paragraph.
    fn note(&self, number: usize, part: Range<usize>, area: Rect, y: u16, buffer: &mut Buffer) {
        let Some(note) = self.sheet.now.draft.notes.get(number) else { return };
        let note = visible(&note.text);
        let words = note.get(part).unwrap_or_default().trim_end();
        put(buffer, area.x + MARGIN, y, words, self.state.theme.accent, area);
    }

    /// Whether a line of the pane is empty: neither a row with characters nor the panel's foot.
    fn is_free(&self, shown: PaneLine) -> bool {
        match shown {
            PaneLine::Row(row) => self.sheet.rows.get(row).is_some_and(|row| self.placed(row).is_empty()),
            PaneLine::Spare(_) => true,
            PaneLine::Head(_) | PaneLine::Foot(_) | PaneLine::Note(..) => false,
        }
    }

    fn style(&self, one: &Placed<'_>) -> Style {
        let theme = &self.state.theme;
        let signs = &theme.signs;
        if one.shown == signs.line_end || signs.brackets.contains(&one.shown) && self.marked == Marked::Queries {
            return theme.faint;
        }
        let ink = self.inks.iter().find(|(range, _)| range.contains(&one.at)).map_or(theme.faint, |(_, style)| *style);
        let marked = self.marks.iter().any(|mark| mark.contains(&one.at));
        match self.marked {
            Marked::Terms if marked => ink.add_modifier(Modifier::UNDERLINED),
            Marked::Unfamiliar if marked => ink.add_modifier(Modifier::UNDERLINED | Modifier::ITALIC),
            _ => ink,
        }
    }

    /// The column after a row's last word.
    fn end(&self, row: &PaneRow) -> usize {
        let placed = self.placed(row);
        let last = placed.iter().rev().find(|one| !one.shown.trim().is_empty());
        last.map_or(0, |one| one.column + one.cells)
    }

    /// Draws the end of a line's measure, and the number of letters that still go in.
    fn room(&self, row: &PaneRow, area: Rect, y: u16, buffer: &mut Buffer) {
        let Some(line) = self.line(row) else { return };
        let theme = &self.state.theme;
        let centred = line.align == Align::Centre;
        let left = (line.measure - line.width).or_zero();
        let start = if centred { line.x - left / 2 } else { line.x };
        let start = start + line.hung - self.left_of(line);
        self.edge(start + line.measure, self.end(row), area, y, buffer);
        let (words, style) = if line.over {
            ("over".to_owned(), theme.accent)
        } else if line.too_wide {
            ("wide".to_owned(), theme.accent)
        } else {
            (
                letters_in(left, line, &self.sheet.now.report.fit.lines[row.line.unwrap_or(0)].text).to_string(),
                theme.faint,
            )
        };
        let x = area.right().saturating_sub(words.len() as u16 + 1);
        put(buffer, x, y, &words, style, area);
    }

    /// Draws the end of a measure; it stands after the words even where those are set smaller than the blurb.
    fn edge(&self, at: Length, behind: usize, area: Rect, y: u16, buffer: &mut Buffer) {
        let x = area.x + MARGIN + self.columns(at).max(behind) as u16;
        put(buffer, x, y, self.state.theme.signs.edge, self.state.theme.faint, area);
    }

    /// Draws the name of a place above its rows.
    fn head(&self, place: usize, area: Rect, y: u16, buffer: &mut Buffer) {
        let Some(place) = self.sheet.now.report.fit.places.get(place) else { return };
        let words = format!("{} {}", if is_flap(place) { "on" } else { "in" }, name_of(place));
        let room = usize::from(area.width.saturating_sub(MARGIN + 1));
        put(buffer, area.x + MARGIN, y, &shortened(&words, room), self.state.theme.faint, area);
    }

    /// Draws the foot of a place, with what is over or left in it.
    fn foot(&self, place: usize, area: Rect, y: u16, buffer: &mut Buffer) {
        let theme = &self.state.theme;
        let fit = &self.sheet.now.report.fit;
        let Some(place) = fit.places.get(place) else { return };
        let cast = &place.castoff;
        let name = if fit.has_places { name_of(place) } else { "the panel".to_owned() };
        let width = area.width.saturating_sub(MARGIN);
        let x = area.x + MARGIN;
        put(buffer, x, y, &theme.signs.foot.repeat(usize::from(width)), theme.faint, area);
        put(buffer, x + 2, y, &format!(" foot of {name} "), theme.faint, area);
        let (words, style) = match cast.lines_over {
            0 => (format!(" {} left ", counted(cast.lines_spare, "line")), theme.faint),
            over => (format!(" {} over ", counted(over, "line")), theme.accent),
        };
        let end = area.right().saturating_sub(ROOM + words.len() as u16);
        put(buffer, end, y, &words, style, area);
    }

    fn cursor(&self, area: Rect) -> Option<Position> {
        let cursor = self.sheet.editor.cursor();
        let number = self.sheet.cursor_row();
        let row = self.sheet.rows.get(number)?;
        let line = self.sheet.place_of_row(number).checked_sub(self.sheet.scroll)?;
        let placed = self.placed(row);
        let here = placed.iter().find(|one| one.at >= cursor && !self.state.theme.signs.brackets.contains(&one.shown));
        let end = placed.last().map_or_else(|| self.indent(row), |one| one.column + one.cells);
        let column = here.map_or(end, |one| one.column);
        let position = Position {
            x: (area.x + MARGIN).saturating_add(column as u16).min(area.right().saturating_sub(1)),
            y: area.y.saturating_add(u16::try_from(line).ok()?),
        };
        area.contains(position).then_some(position)
    }

    /// The last byte of a row at which the cursor stands in the row: before its last character where the row continues
    /// below.
    fn last_stop(&self, row: &PaneRow, placed: &[Placed<'_>]) -> usize {
        let goes_on = self.sheet.rows.iter().any(|next| next.range.start == row.range.end && next != row);
        match placed.last() {
            Some(last) if goes_on => last.at,
            _ => row.range.end,
        }
    }
}

/// What a place is called within a sentence.
fn name_of(place: &FitPlace) -> String {
    let is_ours = place.name == LIVE_AREA || is_flap(place);
    if is_ours { format!("the {}", place.name) } else { visible(&place.name).into_owned() }
}

/// Whether a place is a flap that holds copy by itself.
fn is_flap(place: &FitPlace) -> bool {
    place.name == place.face.name()
}

/// The number of letters that still go into the room left on a line, by the average width of that line's letters.
fn letters_in(left: Length, line: &SetLine, text: &str) -> usize {
    let letters = cells(text).max(1);
    let average = line.width.to_pt() / letters as f64;
    if average > 0.0 { (left.to_pt() / average).floor() as usize } else { 0 }
}

fn touches(one: &Range<usize>, other: &Range<usize>) -> bool {
    one.start <= other.end && other.start <= one.end
}

/// Where the copy has the names and words of the answer in hand.
fn shared(page: &AnswersPage) -> Vec<Range<usize>> {
    let words = page.found.all.get(page.at).map_or(&[][..], |item| &item.words);
    words.iter().flat_map(|word| &word.places).map(|place| place.span.start..place.span.end).collect()
}

/// The places that are marked in the text.
fn marks(kind: Marked, sheet: &DraftSheet, queries: &[Range<usize>]) -> Vec<Range<usize>> {
    let range = |span: &crate::draft::Span| span.start..span.end;
    let report = &sheet.now.report;
    match kind {
        Marked::Nothing => Vec::new(),
        Marked::Terms => report.coverage.items.iter().flat_map(|item| item.spans.iter().map(range)).collect(),
        Marked::Queries => queries.to_vec(),
        Marked::Unfamiliar => report.level.unfamiliar.iter().map(|word| range(&word.span)).collect(),
    }
}

/// The styles of the copy's printed words; text in none of the ranges is not printed.
fn inks(sheet: &DraftSheet, brief: &Brief, seen: &Range<usize>) -> Vec<(Range<usize>, Style)> {
    let mut inks = Vec::new();
    for block in &sheet.now.draft.blocks {
        let whole = block.whole_span();
        if !touches(&(whole.start..whole.end), seen) {
            continue;
        }
        let set = brief.typography.of(block.kind);
        for (run, emphasis) in block.runs() {
            let span = block.span(run.clone());
            let mut style = Style::new();
            if set.bold || emphasis.bold {
                style = style.add_modifier(Modifier::BOLD);
            }
            if set.italic != emphasis.italic {
                style = style.add_modifier(Modifier::ITALIC);
            }
            inks.push((span.start..span.end, style));
        }
    }
    inks
}
