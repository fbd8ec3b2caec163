//! A draft with everything that the desk shows about it, computed again after each change.

use std::ops::Range;

use crate::brief::Brief;
use crate::brief::place::CoverFace;
use crate::draft::{Draft, Span};
use crate::queries::Query;
use crate::report::{Assessment, Drawing, Report, ReportMemory};
use crate::setting::Faces;
use crate::units::Length;

/// The most spare lines that are shown; a panel with more room than that is shown as empty below them.
const MOST_SPARE_LINES: usize = 40;

/// All that is known of one state of a draft.
#[derive(Debug, Clone)]
pub struct Assessed {
    /// The copy.
    pub draft: Draft,
    /// The report on it.
    pub report: Report,
    /// Every face with the copy drawn on it, including copy that does not fit; the panel comes first.
    pub drawings: Vec<(CoverFace, Drawing)>,
    /// What the author should look at, in the order of the copy.
    pub queries: Vec<Query>,
    /// The measure of each line of the blurb's type that could still be added.
    pub spare: Vec<Length>,
}

impl Assessed {
    /// Measures a text, sets it and looks for queries. Blocks that `memory` knows are not looked at again.
    pub fn of(source: &str, brief: &Brief, faces: &Faces, memory: &mut ReportMemory) -> Self {
        let draft = Draft::read(source);
        let Assessment { report, drawings, queries } = Assessment::of(&draft, brief, faces, memory);
        let spare = spare_lines(&report);
        Self { draft, report, drawings, queries, spare }
    }

    /// The face on which a printed line stands; the panel where there is no such line.
    pub fn face_of(&self, line: Option<usize>) -> CoverFace {
        let fit = &self.report.fit;
        let line = line.and_then(|line| fit.lines.get(line));
        line.and_then(|line| fit.places.get(line.set.place)).map_or(CoverFace::Panel, |place| place.face)
    }

    /// The drawing of a face, or that of the panel where the brief has no such face.
    pub fn drawing_of(&self, face: CoverFace) -> Option<&Drawing> {
        let of_face = self.drawings.iter().find(|(drawn, _)| *drawn == face);
        of_face.or_else(|| self.drawings.first()).map(|(_, drawing)| drawing)
    }

    /// Where a query stands in the file.
    pub fn span_of(&self, query: &Query) -> Span {
        self.span(query.block, query.range.clone())
    }

    /// Where a stretch of a block stands in the file; an empty span at 0 for a block that does not exist.
    pub fn span(&self, block: usize, range: Range<usize>) -> Span {
        self.draft.blocks.get(block).map_or(Span { start: 0, end: 0 }, |block| block.span(range))
    }

    /// The printed line that holds a byte of the file: the last line that begins at or before the byte.
    pub fn line_at(&self, at: usize) -> Option<usize> {
        let starts = |line: &crate::setting::SetLine| self.span(line.paragraph, line.text.clone()).start;
        let found = self.report.fit.lines.iter().rposition(|line| starts(&line.set) <= at);
        found.or((!self.report.fit.lines.is_empty()).then_some(0))
    }
}

/// The measures of the lines that could still be added below the copy.
fn spare_lines(report: &Report) -> Vec<Length> {
    let room = &report.fit.set_places[report.fit.blurb_place].room;
    let leading = report.fit.leading;
    let mut depth = room.live().y + report.fit.castoff.depth_used;
    let wanted = report.fit.castoff.lines_spare.min(MOST_SPARE_LINES);
    let mut measures = Vec::with_capacity(wanted);
    while measures.len() < wanted {
        measures.push(room.at(depth, leading).width);
        depth += leading;
    }
    measures
}
