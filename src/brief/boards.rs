//! What a binding adds to the panel: the squares and the joint of boards, what is turned in, and rounded corners.
//!
//! A case stands past the pages at head, foot and fore-edge by its squares. Vaughn, "Printing and Bookbinding for
//! Schools" (1914), cuts boards a quarter to three eighths of an inch longer than the book, which "makes the squares
//! one-eighth or three-sixteenths". Beside the spine lies the joint, the groove in which the cover opens: 9 mm for a
//! flat-back case (A. W. Johnson, "A Joint Venture", 2003). A jacket is as large as the case that it covers. The other
//! figures are common practice; the printer's own come first.

use super::bounds::{self, Bound};
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{Binding, KeepOut, KeepOutOrigin, Margins, Panel};
use super::place::Shape;
use super::shape::quarter_circle;
use crate::units::{Length, Rect, Size};

/// Vaughn's eighth of an inch as a metric shop rounds it.
const USUAL_SQUARE_MM: f64 = 3.0;
/// Common practice: 15 to 20 mm, often 16 to 19.
const USUAL_TURN_IN_MM: f64 = 16.0;
/// Johnson's groove; common practice is 8 to 10 mm.
const USUAL_JOINT_MM: f64 = 9.0;
/// Common practice: copy that starts right beside the joint looks pushed off the page.
const JOINT_CLEARANCE_MM: f64 = 3.0;
/// How far the straight edges of a round corner may be off its arc, in points.
const CORNER_OFF: f64 = 0.01;
/// Common practice in American shops; metric ones take 3 mm.
const USUAL_BLEED_INCHES: f64 = 0.125;

/// A length that only some bindings have.
struct Part {
    key: &'static str,
    of: &'static [Binding],
    bound: Bound,
}

const SQUARE: Part = Part { key: "square", of: &[Binding::Case, Binding::Jacket], bound: bounds::SQUARE };
const BLEED: Part = Part { key: "bleed", of: &[Binding::Paperback, Binding::Jacket], bound: bounds::BLEED };
const TURN_IN: Part = Part { key: "turn_in", of: &[Binding::Case], bound: bounds::TURN_IN };
const JOINT: Part = Part { key: "joint", of: &[Binding::Case], bound: bounds::JOINT };

impl Part {
    /// The length in the brief, or else the usual length; zero for a binding that lacks this part. A length that the
    /// brief gives for another binding is checked and not used, so an author can try bindings by changing one word.
    fn read(&self, fields: &KeyGroup<'_>, binding: Binding, usual: Length) -> Result<Length, Refusal> {
        let length = fields.optional(self.key).map_or(Ok(usual), |value| value.length(self.bound))?;
        Ok(if self.of.contains(&binding) { length } else { Length::ZERO })
    }
}

/// How far the panel stands past the pages.
pub(super) fn square(fields: &KeyGroup<'_>, binding: Binding) -> Result<Length, Refusal> {
    SQUARE.read(fields, binding, Length::mm(USUAL_SQUARE_MM))
}

/// How far art goes past the panel's edges: a binding has either a bleed or a turn-in.
pub(super) fn bleed(fields: &KeyGroup<'_>, binding: Binding) -> Result<Length, Refusal> {
    let cut = BLEED.read(fields, binding, Length::inches(USUAL_BLEED_INCHES))?;
    Ok(cut + TURN_IN.read(fields, binding, Length::mm(USUAL_TURN_IN_MM))?)
}

/// The radius of the corners on the fore-edge side, which must leave an edge between them.
pub(super) fn round_corners(fields: &KeyGroup<'_>, trim: Size) -> Result<Length, Refusal> {
    let Some(value) = fields.optional("round_corners") else { return Ok(Length::ZERO) };
    let radius = value.length(bounds::CORNER)?;
    if trim.width.fits(radius) || trim.height.fits(radius * 2) {
        let radius = value.unit().unwrap_or(Unit::Points).written(radius);
        return Err(value.refuse(format!("corners of {radius} leave no edge between them; make them smaller")));
    }
    Ok(radius)
}

/// The strip beside the spine of a case.
pub(super) fn joint(value: &NodeAt<'_>, fields: &KeyGroup<'_>, panel: &Panel) -> Result<Option<KeepOut>, Refusal> {
    let width = JOINT.read(fields, panel.binding, Length::mm(USUAL_JOINT_MM))?;
    if width == Length::ZERO {
        return Ok(None);
    }
    let face = panel.face();
    let rect = Rect { x: face.width - width, width, ..face };
    let unit = fields.optional(JOINT.key).and_then(|joint| joint.unit()).unwrap_or(Unit::Millimetres);
    let joint = KeepOut {
        origin: KeepOutOrigin::Joint,
        name: JOINT.key.to_owned(),
        rect,
        shape: Shape::Box,
        clearance: Length::mm(JOINT_CLEARANCE_MM),
        unit,
    };
    if joint.cleared().x.fits(panel.live_area().x) {
        let place = fields.optional(JOINT.key).unwrap_or(*value);
        let (width, clearance) = (unit.written(width), unit.written(joint.clearance));
        return Err(place.refuse(format!(
            "the joint of {width} and its clearance of {clearance} leave no room for copy; make the joint or the \
             margins smaller"
        )));
    }
    Ok(Some(joint))
}

/// What the round corners on the fore-edge side leave of the squares that they are cut from.
pub(super) fn corners(panel: &Panel) -> Vec<KeepOut> {
    let radius = panel.round_corners;
    if radius == Length::ZERO {
        return Vec::new();
    }
    // The edges that stand for the arc lie inside the circle, so they keep out of a hair more than was cut off.
    let (quarter, _) = quarter_circle(radius.to_pt(), CORNER_OFF);
    let head: Vec<(f64, f64)> =
        std::iter::once((0.0, 0.0)).chain(quarter.iter().map(|(across, down)| (1.0 - across, 1.0 - down))).collect();
    let foot = head.iter().map(|(across, down)| (*across, 1.0 - down)).collect();
    // Copy keeps to its margins along the arc too. Where they are as wide as the arc is high, nothing of it is near.
    let clear = |margin: Length| {
        let margin = margin.min(panel.margins.fore_edge);
        if margin < radius { margin } else { Length::ZERO }
    };
    let corner = |y, points, margin| KeepOut {
        origin: KeepOutOrigin::Corner,
        name: "round corner".to_owned(),
        rect: Rect { x: Length::ZERO, y, width: radius, height: radius },
        shape: Shape::Polygon(points),
        clearance: clear(margin),
        unit: Unit::Millimetres,
    };
    let Margins { head: above, foot: below, .. } = panel.margins;
    vec![corner(Length::ZERO, head, above), corner(panel.face().height - radius, foot, below)]
}

/// The part of the live area that lies clear of the joint. Keep-outs in a corner stand in the corners of this part.
pub(super) fn clear_of_joint(panel: &Panel) -> Rect {
    let mut live = panel.live_area();
    if let Some(joint) = panel.keep_outs.iter().find(|keep_out| keep_out.origin == KeepOutOrigin::Joint) {
        live.width = live.width.min(joint.cleared().x - live.x);
    }
    live
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;

    /// The panel of a brief that has these lines in its group `panel`.
    fn panel(lines: &str) -> Result<Panel, String> {
        let brief = Brief::read(&format!("panel:\n  trim: 200 x 250 mm\n{lines}"), Path::new(""));
        brief.map(|brief| brief.panel).map_err(|fault| fault.to_string())
    }

    /// A rectangle in whole millimetres: left edge, upper edge, width, height.
    fn mm(rect: Rect) -> [i64; 4] {
        [rect.x, rect.y, rect.width, rect.height].map(|length| length.to_mm().round() as i64)
    }

    /// Common arithmetic of a case: the board is as high as the trim and two squares; joint and board together reach
    /// from the spine to a square past the fore-edge.
    #[test]
    fn a_case_is_larger_than_its_pages_and_keeps_its_joint_clear() {
        let panel = panel("  binding: case\n  square: 4 mm\n  joint: 10 mm\n  turn_in: 18 mm\n").expect("a panel");
        assert_eq!(mm(panel.face()), [0, 0, 204, 258]);
        assert_eq!(mm(panel.art_area()), [-18, -18, 222, 294]);
        assert_eq!(mm(panel.keep_outs[0].rect), [194, 0, 10, 258]);
        assert_eq!(mm(panel.keep_outs[0].cleared())[0], 191);
    }

    #[test]
    fn a_jacket_is_as_large_as_its_case_and_bleeds() {
        let panel = panel("  binding: jacket\n  square: 3 mm\n  bleed: 3 mm\n").expect("a panel");
        assert_eq!((mm(panel.face()), mm(panel.art_area())), ([0, 0, 203, 256], [-3, -3, 209, 262]));
        assert!(panel.keep_outs.is_empty());
    }

    #[test]
    fn a_corner_of_the_live_area_stands_clear_of_the_joint() {
        let panel = panel(
            "  binding: case\n  square: 0 mm\n  margins: 5 mm\n  keep_out:\n    \
             - { name: mark, size: 20 x 20 mm, corner: foot-spine }\n",
        )
        .expect("a panel");
        assert_eq!(mm(panel.keep_outs[1].rect), [168, 225, 20, 20]);
    }

    /// Common practice: 6 to 10 mm on board books.
    #[test]
    fn rounded_corners_are_kept_out_of_on_the_fore_edge_side() {
        let panel = panel("  round_corners: 8 mm\n").expect("a panel");
        let corners: Vec<_> = panel.keep_outs.iter().map(|corner| mm(corner.rect)).collect();
        assert_eq!(corners, [[0, 0, 8, 8], [0, 242, 8, 8]]);
    }

    #[test]
    fn what_belongs_to_another_binding_waits() {
        let lines = "  square: 4 mm\n  joint: 10 mm\n  turn_in: 18 mm\n  bleed: 3 mm\n";
        let paper = panel(lines).expect("a panel");
        assert_eq!((mm(paper.face()), mm(paper.art_area())), ([0, 0, 200, 250], [-3, -3, 206, 256]));
        assert!(paper.keep_outs.is_empty());
        let case = panel(&format!("  binding: case\n{lines}")).expect("a panel");
        assert_eq!(mm(case.art_area()), [-18, -18, 222, 294]);
        assert!(panel("  joint: 10 in\n").is_err_and(|told| told.contains("from 0 to 1.5 in")));
    }

    #[test]
    fn a_joint_that_leaves_no_room_is_refused() {
        let narrow = "  binding: case\n  joint: 30 mm\n  margins: { fore-edge: 170 mm, spine: 5 mm }\n";
        assert!(panel(narrow).is_err_and(|told| {
            told.starts_with("4:10: panel.joint: the joint of 30 mm and its clearance of 3 mm leave")
        }));
    }
}
