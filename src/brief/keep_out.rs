//! Reads the keep-outs of a brief, which copy may not enter, and finds the place of each on the panel.

use super::barcode::{self, ADD_ONS, AddOn};
use super::boards;
use super::bounds;
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{KeepOut, KeepOutOrigin, Panel};
use super::place::Shape;
use crate::units::{Length, Rect, Size};

const KEYS: [&str; 8] = ["barcode", "scale", "add_on", "name", "size", "corner", "at", "clearance"];
const EDGES: [&str; 4] = ["head", "foot", "spine", "fore-edge"];

/// The only symbol that books carry.
const SYMBOL: &str = "EAN-13";

/// The edges that meet at a corner.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    head: bool,
    spine: bool,
}

pub(super) const CORNERS: [(&str, Corner); 4] = [
    ("foot-spine", Corner { head: false, spine: true }),
    ("foot-fore-edge", Corner { head: false, spine: false }),
    ("head-spine", Corner { head: true, spine: true }),
    ("head-fore-edge", Corner { head: true, spine: false }),
];

impl KeepOut {
    /// Reads one keep-out: a barcode or a named box, in a corner of the live area or at a distance from the panel's
    /// edges. A barcode's size is not written in the brief, so reports give it in the unit of the trim.
    pub(super) fn read(value: &NodeAt<'_>, panel: &Panel, trim: Unit) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        let (name, size, usual_clearance) =
            if fields.has("barcode") { read_barcode(&fields)? } else { read_box(&fields)? };
        let rect = place(value, &fields, size, panel)?;
        let unit = fields.optional("size").and_then(|size| size.unit()).unwrap_or(trim);
        let clearance = fields.optional("clearance").map_or(Ok(usual_clearance), |value| value.length(bounds::ROOM))?;
        if !panel.face().holds(&rect) {
            return Err(value.refuse(format!(
                "{name} is {} wide and {} high and does not lie inside the panel of {} by {}; make it smaller or move \
                 it",
                unit.written(size.width),
                unit.written(size.height),
                unit.written(panel.face().width),
                unit.written(panel.face().height)
            )));
        }
        let origin = if fields.has("barcode") { KeepOutOrigin::Symbol } else { KeepOutOrigin::Named };
        let keep_out = Self { origin, name, rect, shape: Shape::Box, clearance, unit };
        if keep_out.cleared().holds(&panel.live_area()) {
            return Err(value.refuse(format!("{} covers the whole live area: no room is left for copy", keep_out.name)));
        }
        Ok(keep_out)
    }
}

fn read_barcode(fields: &KeyGroup<'_>) -> Result<(String, Size, Length), Refusal> {
    let symbol = fields.required("barcode", "such as barcode: EAN-13")?;
    symbol.choice(&[(SYMBOL, ())])?;
    for key in ["name", "size"] {
        if let Some(value) = fields.optional(key) {
            return Err(
                value.refuse(format!("a barcode has no {key} of its own; its size follows from scale and add_on"))
            );
        }
    }
    let scale = fields.optional("scale").map_or(Ok(100.0), |value| value.percent(bounds::BARCODE_PERCENT))?;
    let add_on = fields.optional("add_on").map_or(Ok(AddOn::None), |value| value.choice(&ADD_ONS))?;
    Ok(("barcode".to_owned(), barcode::size(scale, add_on), Length::mm(barcode::USUAL_CLEARANCE_MM)))
}

fn read_box(fields: &KeyGroup<'_>) -> Result<(String, Size, Length), Refusal> {
    for key in ["scale", "add_on"] {
        if let Some(value) = fields.optional(key) {
            return Err(
                value.refuse(format!("only a barcode has a {key}; write barcode: {SYMBOL}, or leave {key} out"))
            );
        }
    }
    let name = fields.required("name", "such as name: imprint mark, or barcode: EAN-13")?.text()?;
    let size = fields.required("size", "such as size: 0.75 x 0.75 in")?.size(bounds::KEEP_OUT)?;
    Ok((name, size, Length::ZERO))
}

fn place(value: &NodeAt<'_>, fields: &KeyGroup<'_>, size: Size, panel: &Panel) -> Result<Rect, Refusal> {
    let (x, y) = match (fields.optional("corner"), fields.optional("at")) {
        (Some(corner), None) => in_corner(corner.choice(&CORNERS)?, size, boards::clear_of_joint(panel)),
        (None, Some(at)) => at_distance(&at, size, panel)?,
        (Some(_), Some(at)) => return Err(at.refuse("it has a corner already; leave one of corner and at out")),
        (None, None) => {
            return Err(value.refuse("it has no place; write corner: foot-spine, or at: { spine: 1 in, foot: 1 in }"));
        }
    };
    Ok(Rect { x, y, width: size.width, height: size.height })
}

fn in_corner(corner: Corner, size: Size, live: Rect) -> (Length, Length) {
    let x = if corner.spine { live.right() - size.width } else { live.x };
    let y = if corner.head { live.y } else { live.foot() - size.height };
    (x, y)
}

/// The box's nearest edges at a distance from the panel's: one of head and foot, one of spine and fore-edge.
fn at_distance(at: &NodeAt<'_>, size: Size, panel: &Panel) -> Result<(Length, Length), Refusal> {
    let fields = at.fields(&EDGES)?;
    let distance = |key| fields.optional(key).map(|value: NodeAt<'_>| value.length(bounds::ROOM)).transpose();
    let far = |whole: Length, side: Length, distance: Length| whole - side - distance;
    let x = match (distance("fore-edge")?, distance("spine")?) {
        (Some(left), None) => left,
        (None, Some(right)) => far(panel.face().width, size.width, right),
        _ => return Err(at.refuse("write the distance from one of spine and fore-edge, such as spine: 1 in")),
    };
    let y = match (distance("head")?, distance("foot")?) {
        (Some(top), None) => top,
        (None, Some(bottom)) => far(panel.face().height, size.height, bottom),
        _ => return Err(at.refuse("write the distance from one of head and foot, such as foot: 1 in")),
    };
    Ok((x, y))
}
