//! The back panel as a small drawing: the proof's own picture, with a bar for each line of the copy. At this size
//! letters cannot be read, so none are drawn, and a page of a thousand books can be sent.

use crate::brief::Brief;
use crate::draft::Draft;
use crate::proof::sheet::{Sheet, SheetMark};
use crate::proof::{Proof, sketch, svg};
use crate::report::{Drawing, Report};
use crate::setting::Faces;

/// How many times smaller than in print a panel is drawn.
pub(super) const SCALE: f64 = 6.0;
/// Pixels of art to the inch of the panel: 96 to the inch of the drawing, as screens are reckoned to have them.
const RESOLUTION: f64 = 96.0 / SCALE;

/// The drawing as SVG within HTML.
pub(super) fn drawn(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> String {
    let Some(face) = Drawing::of_faces(report, draft, brief, faces).into_iter().next() else { return String::new() };
    let (around, drawing) = (face.around, &face.drawing);
    let sheet = sketch(&Proof { around, drawing, title: "", subject: "", facts: &[], cautions: &[] }, faces);
    let marks = sheet.marks.into_iter().map(|mark| match mark {
        SheetMark::Art(art) => SheetMark::Art(art.at_most(RESOLUTION)),
        other => other,
    });
    let sheet = Sheet { marks: marks.collect(), ..sheet };
    svg::small(&sheet, (sheet.size.width.to_mm() / SCALE * 10.0).round() / 10.0)
}
