//! An open draft: its text being edited, what is known about it, and the rows in which it is shown.

use std::ops::Range;
use std::sync::Arc;

use super::assessed::Assessed;
use super::rows::{PaneRow, Wrapping, printed_columns, row_at, rows};
use crate::brief::Brief;
use crate::brief::stet::Stood;
use crate::draft::{BlockKind, Edit};
use crate::editor::Editor;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::queries::Query;
use crate::report::cuts::CutPrice;
use crate::report::tighten::{Tighten, wording};
use crate::report::{self, ReportMemory};
use crate::setting::Faces;
use crate::trial::told::TrialFit;
use crate::units::Length;

/// An open draft.
#[derive(Debug)]
pub struct DraftSheet {
    /// The text, with its cursor and its history.
    pub editor: Editor,
    /// The text as the file has it.
    pub saved: String,
    /// The wordings that `stet.yaml` lets stand in the draft.
    pub saved_stood: Vec<Stood>,
    /// Words that are highlighted: those of the selected query, or those that were looked for. They are not selected in
    /// the editor, so that no key replaces them.
    pub shown_words: Option<Range<usize>>,
    /// The last revision that was written to the recovery file; none where it has to be written again.
    pub autosaved_revision: Option<u64>,
    /// The assessment when the draft was opened, with which changes are compared.
    pub opened: Assessed,
    /// The current assessment.
    pub now: Assessed,
    /// The rows in which the text is shown.
    pub rows: Vec<PaneRow>,
    /// What the pane shows, from the top: rows, lines that could still be added, and the heads and feet of places.
    pub shown: Vec<PaneLine>,
    /// The number of lines of `shown` that are scrolled past.
    pub scroll: usize,
    /// Whether the pane was scrolled away from the cursor. It stays so until the author acts.
    pub scrolled_away: bool,
    /// The cuts with their prices, and the revision of the text for which they were found.
    pub tighten: Option<(u64, Box<Tighten>)>,
    /// The columns of the longest line as it is printed. They only grow until another type or panel is tried, so that
    /// the pane does not change its width with every word.
    pub printed: usize,
    /// How the copy stands by the brief without what is tried, once that was found.
    untried: Option<Untried>,
    /// The revision of the text that was measured last; none where the text has to be measured again.
    measured: Option<u64>,
    made_for: Option<RowsMadeFor>,
    assessment: u64,
    /// What was found in the blocks last.
    memory: ReportMemory,
}

/// What the files of a draft should contain.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftContent {
    /// The text.
    pub text: String,
    /// The wordings that are let stand in the draft.
    pub stood: Vec<Stood>,
    /// The wordings that were let stand when the file was last read or written.
    pub saved_stood: Vec<Stood>,
}

/// One line of the pane.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaneLine {
    /// A row by its number.
    Row(usize),
    /// A line that could still be added, by its number.
    Spare(usize),
    /// The name of a place above its first row, or where rows of it begin again, by its number among the places of the
    /// fit.
    Head(usize),
    /// The foot of a place, by its number among the places of the fit.
    Foot(usize),
    /// A line of what is said of the paragraph above: the number of the note, and the bytes of it that are told there.
    Note(usize, usize, usize),
}

/// How a text stands by a brief of which nothing else is tried.
#[derive(Debug)]
struct Untried {
    revision: u64,
    own: Arc<Brief>,
    fit: TrialFit,
}

/// What the rows were made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct RowsMadeFor {
    kind: Wrapping,
    columns: usize,
}

/// The width of a column on paper where no line tells it: the type size divided by this number.
const COLUMN_IN_SIZES: i64 = 2;

/// The pane grows for longer lines by so many columns at once.
const PANE_STEP: usize = 4;

/// Lines of fewer columns than this do not tell the width of a column.
const TELLING_COLUMNS: usize = 16;

impl DraftSheet {
    /// A draft that was just read.
    pub fn new(text: String, stood: Vec<Stood>, brief: &Brief, faces: &Faces) -> Self {
        let mut memory = ReportMemory::default();
        let now = Assessed::of(&text, brief, faces, &mut memory);
        Self {
            saved: text.clone(),
            saved_stood: stood.clone(),
            shown_words: None,
            editor: Editor::new(text).with_stood(stood),
            autosaved_revision: Some(0),
            opened: now.clone(),
            now,
            rows: Vec::new(),
            shown: Vec::new(),
            scroll: 0,
            scrolled_away: false,
            tighten: None,
            printed: 0,
            untried: None,
            measured: None,
            made_for: None,
            assessment: 0,
            memory,
        }
    }

    /// Whether the words, or the wordings that are let stand, differ from the files.
    pub fn is_changed(&self) -> bool {
        self.has_unsaved_words() || self.editor.stood() != self.saved_stood
    }

    /// Whether the words differ from the file.
    pub fn has_unsaved_words(&self) -> bool {
        self.editor.text() != self.saved
    }

    /// What the draft's files should contain.
    pub(super) fn content(&self) -> DraftContent {
        DraftContent {
            text: self.editor.text().to_owned(),
            stood: self.editor.stood().to_vec(),
            saved_stood: self.saved_stood.clone(),
        }
    }

    /// Whether the words differ from those last written to the recovery file.
    pub(super) fn is_at_risk(&self) -> bool {
        self.autosaved_revision != Some(self.editor.revision())
    }

    /// Measures and sets the text again if it, the brief or the type has changed.
    pub(super) fn measure(&mut self, brief: &Brief, faces: &Faces) {
        if self.measured == Some(self.editor.revision()) {
            return;
        }
        self.now = Assessed::of(self.editor.text(), brief, faces, &mut self.memory);
        self.assessment += 1;
        let longest = printed_columns(self.editor.text(), &self.now);
        self.printed = self.printed.max(longest.next_multiple_of(PANE_STEP));
        (self.measured, self.made_for) = (Some(self.editor.revision()), None);
    }

    /// Finds how the copy stands by the brief's own type and panel, where that is not known.
    pub(super) fn measure_untried(&mut self, own: &Arc<Brief>, faces: &Faces) {
        let revision = self.editor.revision();
        if self.untried.as_ref().is_none_or(|known| known.revision != revision || !Arc::ptr_eq(&known.own, own)) {
            let fit = TrialFit::of(&report::assess(&self.now.draft, own, faces));
            self.untried = Some(Untried { revision, own: Arc::clone(own), fit });
        }
    }

    /// How the copy stands by the brief without what is tried, as it was found last.
    pub(super) fn untried(&self) -> Option<&TrialFit> {
        self.untried.as_ref().map(|known| &known.fit)
    }

    /// Breaks the text into rows again if it, its measures or the width of the pane has changed.
    pub(super) fn make_rows(&mut self, wrapping: Wrapping, columns: usize) {
        let made_for = RowsMadeFor { kind: wrapping, columns };
        if self.made_for == Some(made_for) {
            return;
        }
        self.rows = rows(self.editor.text(), &self.now, wrapping, columns);
        self.shown = self.shown_in(wrapping);
        self.put_notes_in(columns);
        self.made_for = Some(made_for);
    }

    /// A number that changes whenever the text is measured again.
    pub fn assessment(&self) -> u64 {
        self.assessment
    }

    /// Marks the text as unmeasured, because the brief or the type has changed.
    pub fn forget(&mut self) {
        (self.measured, self.printed) = (None, 0);
        self.tighten = None;
    }

    /// Marks the text as unmeasured in fonts that were read again: what was found in the ones before holds no longer.
    pub(super) fn forget_fonts(&mut self) {
        self.memory = ReportMemory::default();
        self.forget();
    }

    fn shown_in(&self, wrapping: Wrapping) -> Vec<PaneLine> {
        let mut shown: Vec<PaneLine> = (0..self.rows.len()).map(PaneLine::Row).collect();
        if wrapping == Wrapping::Plain {
            return shown;
        }
        let fit = &self.now.report.fit;
        let line_of = |row: &PaneRow| row.line.and_then(|line| fit.lines.get(line)).map(|line| &line.set);
        let mut feet: Vec<(usize, usize)> = Vec::new();
        for place in 0..fit.places.len() {
            // A foot stands before the first row that is over in its place, or else behind the last row.
            let is_here = |row: &PaneRow| line_of(row).is_some_and(|line| line.place == place);
            let is_over = |row: &PaneRow| line_of(row).is_some_and(|line| line.place == place && line.over);
            let over = self.rows.iter().position(is_over);
            match over.or_else(|| self.rows.iter().rposition(is_here).map(|last| last + 1)) {
                Some(row) if over.is_some() || fit.has_places => feet.push((row, place)),
                // Rows without a line, such as a heading's, may come behind the last line of the panel.
                _ if !fit.has_places => feet.push((self.rows.len(), place)),
                _ => {}
            }
        }
        // What is put in goes from the last row to the first, so that it moves none that is still to come; at one row
        // the head of a place comes in first and stands below the foot of another.
        let mut put_in: Vec<(usize, PaneLine)> = self.heads();
        put_in.extend(feet.into_iter().map(|(row, place)| (row, PaneLine::Foot(place))));
        put_in.sort_by_key(|(row, line)| (std::cmp::Reverse(*row), matches!(line, PaneLine::Foot(_))));
        for (row, line) in put_in {
            // Lines that could be added in one place would push the copy of others out of sight.
            let has_spare = |place: usize| {
                row == self.rows.len() && place == fit.blurb_place && fit.places[place].castoff.lines_over == 0
            };
            let spare = match line {
                PaneLine::Foot(place) if has_spare(place) => self.now.spare.len(),
                _ => 0,
            };
            shown.splice(row..row, (0..spare).map(PaneLine::Spare).chain([line]));
        }
        shown
    }

    /// Puts lines below each paragraph of several rows for a note on it that has no room behind its first row.
    fn put_notes_in(&mut self, columns: usize) {
        let text = self.editor.text();
        for (number, note) in self.now.draft.notes.iter().enumerate() {
            let is_of = |row: &&PaneRow| row.range.start < note.span.end && note.span.start < row.range.end;
            let rows: Vec<&PaneRow> = self.rows.iter().filter(is_of).collect();
            let [first, .., last] = rows[..] else { continue };
            let told = visible(&note.text);
            let room = columns.saturating_sub(text.get(first.range.clone()).map_or(0, cells) + 1);
            let last = self.rows.iter().position(|row| row == last).unwrap_or(0);
            let at = self.shown.iter().position(|shown| *shown == PaneLine::Row(last)).map(|at| at + 1);
            if let Some(at) = at.filter(|_| cells(&told) > room) {
                let lines = wrap(&told, columns.max(1)).into_iter();
                self.shown.splice(at..at, lines.map(|line| PaneLine::Note(number, line.start, line.end)));
            }
        }
    }

    /// Whether a note, by its number, is told in lines of its own below its paragraph.
    pub fn has_note_below(&self, number: usize) -> bool {
        self.shown.iter().any(|shown| matches!(shown, PaneLine::Note(told, ..) if *told == number))
    }

    /// The heads of places, each with the row above which it stands: where the copy of a place begins or goes on behind
    /// that of another, above the heading that names the block. None where all copy stands in the live area.
    fn heads(&self) -> Vec<(usize, PaneLine)> {
        let fit = &self.now.report.fit;
        let mut heads = Vec::new();
        if !fit.has_places {
            return heads;
        }
        let text = self.editor.text();
        let is_blank = |row: &PaneRow| text.get(row.range.clone()).is_none_or(|words| words.trim().is_empty());
        let (mut before, mut above) = (None, 0);
        for (number, row) in self.rows.iter().enumerate() {
            let Some(line) = row.line.and_then(|line| fit.lines.get(line)) else { continue };
            if before != Some(line.set.place) {
                let between = self.rows[above..number].iter();
                heads.push((above + between.take_while(|row| is_blank(row)).count(), PaneLine::Head(line.set.place)));
            }
            (before, above) = (Some(line.set.place), number + 1);
        }
        heads
    }

    /// The row in which the cursor stands.
    pub fn cursor_row(&self) -> usize {
        row_at(&self.rows, self.editor.cursor())
    }

    /// The printed line that the cursor is in, or else the last before it. What stands before the words of a line, and
    /// a heading above them, belong to that line.
    pub fn line_at_cursor(&self) -> Option<usize> {
        let from = self.cursor_row();
        let text = self.editor.text();
        let is_blank = |row: &PaneRow| text.get(row.range.clone()).is_none_or(|words| words.trim().is_empty());
        let is_told = self.rows.get(from).is_some_and(|row| !is_blank(row));
        let below = self.rows.iter().skip(from).take_while(|_| is_told).find_map(|row| row.line);
        below.or_else(|| self.now.line_at(self.editor.cursor()))
    }

    /// The position of a row in `shown`.
    pub fn place_of_row(&self, row: usize) -> usize {
        self.shown.iter().position(|shown| *shown == PaneLine::Row(row)).unwrap_or(row)
    }

    /// Scrolls as little as possible to bring the cursor's row into a pane of `height` rows.
    pub fn follow(&mut self, height: usize) {
        let height = height.max(1);
        self.scroll = self.scroll.min(self.shown.len().saturating_sub(height));
        if self.scrolled_away {
            return;
        }
        let at = self.place_of_row(self.cursor_row());
        // Above the first row stands the name of its place, which has no cursor.
        let names = self.shown.iter().take_while(|line| !matches!(line, PaneLine::Row(_))).count();
        self.scroll = self.scroll.min(if at == names { 0 } else { at });
        if at >= self.scroll + height {
            self.scroll = at + 1 - height;
        }
    }

    /// The length on paper of one column of the screen. The blurb's most tightly set line gives it, so that no line of
    /// the blurb is drawn past the end of its measure.
    pub fn column(&self) -> Length {
        let fit = &self.now.report.fit;
        let blurb = fit.lines.iter().filter(|line| line.kind == BlockKind::Blurb);
        let widths = blurb.filter_map(|line| {
            let columns = cells(&line.text);
            (columns >= TELLING_COLUMNS).then(|| line.set.width / columns as i64)
        });
        let usual = fit.size / COLUMN_IN_SIZES;
        let tightest = widths.min().unwrap_or(usual);
        if tightest > Length::ZERO { tightest } else { usual.max(Length::pt(1.0)) }
    }

    /// The queries that the author has not let stand: the cuts of the plan first, then the other cuts, the cheapest
    /// first, then queries without a ready cut. Prices are included once they are known for the current text.
    pub fn offers(&self) -> Vec<Offer<'_>> {
        let stands = |query: &Query| {
            let has_rule = |stood: &&Stood| stood.rule == query.rule;
            let mut stood = self.editor.stood().iter().filter(has_rule).peekable();
            stood.peek().is_some() && {
                let asked = Stood::new(query.rule, wording(query, &self.now.draft));
                stood.any(|stood| *stood == asked)
            }
        };
        let mut offers: Vec<Offer<'_>> = match &self.tighten {
            Some((revision, tighten)) if *revision == self.editor.revision() => priced(tighten),
            _ => self.unpriced(),
        };
        offers.retain(|offer| !stands(offer.query));
        offers
    }

    fn unpriced(&self) -> Vec<Offer<'_>> {
        let edit = |query: &Query| Some(query.cuts.first()?.edit(self.now.draft.blocks.get(query.block)?));
        let queries = self.now.queries.iter();
        let mut offers: Vec<Offer<'_>> =
            queries.map(|query| Offer { query, edit: edit(query), price: None, is_planned: false }).collect();
        offers.sort_by_key(|offer| offer.edit.is_none());
        offers
    }

    /// The words that a query is about.
    pub fn words_of(&self, query: &Query) -> &str {
        wording(query, &self.now.draft)
    }
}

/// A query with the cut that would answer it.
#[derive(Debug, Clone)]
pub struct Offer<'a> {
    /// The query.
    pub query: &'a Query,
    /// The cut as an edit of the file, if the query has a ready one.
    pub edit: Option<Edit>,
    /// What the cut saves, once that is known.
    pub price: Option<&'a CutPrice>,
    /// Whether the cut is part of the plan that makes the draft fit.
    pub is_planned: bool,
}

/// The best cut of each query by price, cuts of the plan first; then the queries without a cut.
fn priced(tighten: &Tighten) -> Vec<Offer<'_>> {
    let mut offers: Vec<Offer<'_>> = Vec::new();
    for cut in tighten.plan.cuts.iter().chain(&tighten.by_price) {
        let Some((cut, is_planned)) = tighten.cuts.get(*cut).map(|found| (found, tighten.plan.cuts.contains(cut)))
        else {
            continue;
        };
        let Some(query) = tighten.queries.get(cut.query) else { continue };
        if !offers.iter().any(|offer| std::ptr::eq(offer.query, query)) {
            offers.push(Offer { query, edit: Some(cut.edit.clone()), price: Some(&cut.price), is_planned });
        }
    }
    for query in &tighten.queries {
        if !offers.iter().any(|offer| std::ptr::eq(offer.query, query)) {
            offers.push(Offer { query, edit: None, price: None, is_planned: false });
        }
    }
    offers
}
