//! Paths as the content of a PDF's page writes them.
//!
//! Source: ISO 32000-1:2008, 8.5.2; a curve of the second degree is written as one of the third.

use pdf_writer::Content;

use crate::setting::outline::PathStep;

/// Puts a path into the content of a page; it is neither filled nor drawn yet.
pub(super) fn put_path(content: &mut Content, steps: &[PathStep]) {
    let mut at = [0.0; 2];
    for step in steps {
        match *step {
            PathStep::Move([x, y]) => content.move_to(x, y),
            PathStep::Line([x, y]) => content.line_to(x, y),
            PathStep::Quad(by, [x, y]) => {
                let towards = |end: [f32; 2]| [0, 1].map(|axis| end[axis] + (by[axis] - end[axis]) * 2.0 / 3.0);
                let ([x1, y1], [x2, y2]) = (towards(at), towards([x, y]));
                content.cubic_to(x1, y1, x2, y2, x, y)
            }
            PathStep::Curve([x1, y1], [x2, y2], [x, y]) => content.cubic_to(x1, y1, x2, y2, x, y),
            PathStep::Close => content.close_path(),
        };
        if let PathStep::Move(to) | PathStep::Line(to) | PathStep::Quad(_, to) | PathStep::Curve(_, _, to) = *step {
            at = to;
        }
    }
}
