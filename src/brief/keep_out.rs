//! Reads the keep-outs of a brief, which copy may not enter, and finds the place of each on its face.

use super::barcode::{self, ADD_ONS, AddOn};
use super::bounds;
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{KeepOut, KeepOutOrigin};
use super::place::{CoverFace, Shape};
use super::shape;
use crate::units::{Length, Rect, Size};

const KEYS: [&str; 9] = ["barcode", "scale", "add_on", "name", "size", "corner", "at", "clearance", "shape"];

/// The only symbol that books carry.
const SYMBOL: &str = "EAN-13";

/// A face on which boxes stand: its edges, and what its sides are called.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground {
    pub(super) face: CoverFace,
    /// The face's own edges.
    pub(super) edges: Rect,
    /// The face less its margins.
    pub(super) live: Rect,
    /// The part of the live area in whose corners boxes stand: clear of a joint.
    pub(super) corners: Rect,
    /// The unit in which a message gives lengths that no text has.
    pub(super) unit: Unit,
}

/// The sides of a box at which it touches a corner.
#[derive(Debug, Clone, Copy)]
struct Corner {
    head: bool,
    right: bool,
}

impl Ground {
    /// What the face is called in a message.
    pub(super) fn name(&self) -> &'static str {
        match self.face {
            CoverFace::Panel => "panel",
            face => face.name(),
        }
    }

    /// Refuses a box that is not wholly on the face; `size` is that of the box in the author's unit.
    pub(super) fn check(&self, value: &NodeAt<'_>, name: &str, rect: Rect, unit: Unit) -> Result<(), Refusal> {
        if self.edges.holds(&rect) {
            return Ok(());
        }
        Err(value.refuse(format!(
            "{name} is {} wide and {} high and does not lie inside the {} of {} by {}; make it smaller or move it",
            unit.written(rect.width),
            unit.written(rect.height),
            self.name(),
            unit.written(self.edges.width),
            unit.written(self.edges.height)
        )))
    }

    /// A box of a size in a corner, or at a distance from one edge of each pair. None where neither key is there.
    pub(super) fn placed(&self, fields: &KeyGroup<'_>, size: Size) -> Result<Option<Rect>, Refusal> {
        let (x, y) = match (fields.optional("corner"), fields.optional("at")) {
            (Some(corner), None) => self.in_corner(&corner, size)?,
            (None, Some(at)) => self.at_distance(&at, size)?,
            (Some(_), Some(at)) => return Err(at.refuse("it has a corner already; leave one of corner and at out")),
            (None, None) => return Ok(None),
        };
        Ok(Some(Rect { x, y, width: size.width, height: size.height }))
    }

    fn in_corner(&self, value: &NodeAt<'_>, size: Size) -> Result<(Length, Length), Refusal> {
        let corners = [(false, true), (false, false), (true, true), (true, false)];
        let corners = corners.map(|(head, right)| Corner { head, right });
        let choices: Vec<(&str, Corner)> = self.face.corners().into_iter().zip(corners).collect();
        let corner = value.choice(&choices)?;
        let live = self.corners;
        let x = if corner.right { live.right() - size.width } else { live.x };
        let y = if corner.head { live.y } else { live.foot() - size.height };
        Ok((x, y))
    }

    /// The box's nearest edges at a distance from the face's: one of head and foot, one of the sides.
    fn at_distance(&self, at: &NodeAt<'_>, size: Size) -> Result<(Length, Length), Refusal> {
        let [left, right] = self.face.sides();
        let fields = at.fields(&["head", "foot", right, left])?;
        let distance = |key| fields.optional(key).map(|value: NodeAt<'_>| value.length(bounds::ROOM)).transpose();
        let far = |whole: Length, side: Length, distance: Length| whole - side - distance;
        let x = match (distance(left)?, distance(right)?) {
            (Some(left), None) => left,
            (None, Some(right)) => far(self.edges.width, size.width, right),
            _ => {
                return Err(at.refuse(format!(
                    "write the distance from one of {right} and {left}, such as {right}: {}",
                    self.unit.example()
                )));
            }
        };
        let y = match (distance("head")?, distance("foot")?) {
            (Some(top), None) => top,
            (None, Some(bottom)) => far(self.edges.height, size.height, bottom),
            _ => {
                let example = self.unit.example();
                return Err(at.refuse(format!("write the distance from one of head and foot, such as foot: {example}")));
            }
        };
        Ok((x, y))
    }
}

impl KeepOut {
    /// Reads one keep-out: a barcode or a named box, in a corner of the live area or at a distance from the
    /// edges of its face. A barcode's size is not written in the brief, so reports give it in the unit of the face.
    pub(super) fn read(value: &NodeAt<'_>, ground: &Ground) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        let (name, size, usual_clearance) =
            if fields.has("barcode") { read_barcode(&fields)? } else { read_box(&fields)? };
        let [_, right] = ground.face.sides();
        let rect = ground.placed(&fields, size)?.ok_or_else(|| {
            let example = ground.unit.example();
            value.refuse(format!(
                "it has no place; write corner: foot-{right}, or at: {{ {right}: {example}, foot: {example} }}"
            ))
        })?;
        let unit = fields.optional("size").and_then(|size| size.unit()).unwrap_or(ground.unit);
        let clearance = fields.optional("clearance").map_or(Ok(usual_clearance), |value| value.length(bounds::ROOM))?;
        let shape = fields.optional("shape").map_or(Ok(Shape::Box), |value| shape::read(&value))?;
        ground.check(value, &name, rect, unit)?;
        let origin = if fields.has("barcode") { KeepOutOrigin::Symbol } else { KeepOutOrigin::Named };
        let keep_out = Self { origin, name, rect, shape, clearance, unit };
        if keep_out.shape == Shape::Box && keep_out.cleared().holds(&ground.live) {
            return Err(value.refuse(format!("{} covers the whole live area: no room is left for copy", keep_out.name)));
        }
        Ok(keep_out)
    }
}

/// Far more than stand on one place. Beside more of them it is left to the setting to find that nothing goes in.
const MOST_TOGETHER: usize = 100;

/// Refuses keep-outs that together leave nothing of an area; `what` is the area's name in a message. A keep-out that is
/// no box is left aside: what goes in beside it is found when copy is set.
pub(super) fn check_room(at: &NodeAt<'_>, keep_outs: &[KeepOut], area: Rect, what: &str) -> Result<(), Refusal> {
    let boxes: Vec<&KeepOut> = keep_outs.iter().filter(|keep_out| keep_out.shape == Shape::Box).collect();
    if let Some(whole) = boxes.iter().find(|keep_out| keep_out.cleared().holds(&area)) {
        return Err(at.refuse(format!("{} covers all of {what}; give it another position", whole.name)));
    }
    let mut near: Vec<(Rect, &str)> = boxes.iter().map(|keep_out| (keep_out.cleared(), &*keep_out.name)).collect();
    near.retain(|(rect, _)| rect.overlaps(&area));
    let rects: Vec<Rect> = near.iter().map(|(rect, _)| *rect).collect();
    if rects.len() > MOST_TOGETHER || !cover(&rects, area) {
        return Ok(());
    }
    let mut names: Vec<&str> = near.iter().map(|(_, name)| *name).collect();
    let last = names.pop().unwrap_or_default();
    let names = names.join(", ");
    Err(at.refuse(format!("{names} and {last} together cover all of {what}; move one or make it smaller")))
}

/// Whether boxes together cover all of an area: in each strip down it between two of their sides, those that are as
/// wide as the strip leave no gap.
fn cover(boxes: &[Rect], area: Rect) -> bool {
    let mut sides: Vec<Length> = boxes.iter().flat_map(|rect| [rect.x, rect.right()]).collect();
    sides.extend([area.x, area.right()]);
    sides.retain(|side| area.x <= *side && *side <= area.right());
    sides.sort_unstable();
    sides.windows(2).filter(|strip| strip[0] < strip[1]).all(|strip| {
        let mut across: Vec<&Rect> = boxes.iter().filter(|it| it.x <= strip[0] && strip[1] <= it.right()).collect();
        across.sort_by_key(|rect| rect.y);
        let covered = |foot: Length, rect: &&Rect| if rect.y <= foot { foot.max(rect.foot()) } else { foot };
        across.iter().fold(area.y, covered) >= area.foot()
    })
}

fn read_barcode(fields: &KeyGroup<'_>) -> Result<(String, Size, Length), Refusal> {
    let symbol = fields.required("barcode", "such as barcode: EAN-13")?;
    symbol.choice(&[(SYMBOL, ())])?;
    for key in ["name", "size", "shape"] {
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
