//! Reads the group `panel` of a brief, and checks that its parts go together.

use super::art::{Art, Tint};
use super::boards;
use super::bounds;
use super::keep_out::Ground;
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{BINDINGS, Binding, KeepOut, Margins, Panel};
use super::place::CoverFace;
use super::place_group;
use crate::units::{Length, Rect};

const KEYS: [&str; 12] = [
    "trim",
    "binding",
    "square",
    "turn_in",
    "joint",
    "bleed",
    "round_corners",
    "margins",
    "keep_out",
    "places",
    "art",
    "tint",
];

/// Common practice: 10 to 13 mm between copy and edge; half an inch is the upper end of that range.
const USUAL_MARGIN_INCHES: f64 = 0.5;

impl Panel {
    /// Reads the group `panel` and checks that its parts go together.
    pub(super) fn read(value: NodeAt<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        let trim = fields.required("trim", "such as trim: 8.5 x 8.5 in")?.size(bounds::TRIM)?;
        let binding = fields.optional("binding").map_or(Ok(Binding::default()), |value| value.choice(&BINDINGS))?;
        let mut panel = Self {
            trim,
            binding,
            square: boards::square(&fields, binding)?,
            bleed: boards::bleed(&fields, binding)?,
            round_corners: boards::round_corners(&fields, trim)?,
            margins: Margins::all(Length::inches(USUAL_MARGIN_INCHES)),
            art: fields.optional("art").map(|value| Art::read(&value)).transpose()?,
            tint: Tint::of(&fields)?,
            keep_outs: Vec::new(),
            places: Vec::new(),
        };
        if let Some(value) = fields.optional("margins") {
            panel.margins = Margins::read(&value, panel.face())?;
        }
        panel.read_keep_outs(&value, &fields)?;
        Ok(panel)
    }

    /// Adds the keep-outs, then the places: the joint and the rounded corners first, since a keep-out in a corner
    /// stands clear of the joint, then those that the brief names.
    fn read_keep_outs(&mut self, value: &NodeAt<'_>, fields: &KeyGroup<'_>) -> Result<(), Refusal> {
        let joint = boards::joint(value, fields, self)?;
        self.keep_outs.extend(joint);
        self.keep_outs.extend(boards::corners(self));
        let unit = fields.optional("trim").and_then(|trim| trim.unit()).unwrap_or(Unit::Inches);
        for item in fields.optional("keep_out").map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let keep_out = KeepOut::read(&item, &self.ground(unit))?;
            self.keep_outs.push(keep_out);
        }
        if let Some(places) = fields.optional("places") {
            self.places = place_group::read(&places, &self.ground(unit), &self.keep_outs)?;
        }
        Ok(())
    }

    /// The panel as boxes stand on it, with the keep-outs that are known by now.
    fn ground(&self, unit: Unit) -> Ground {
        let (edges, live, corners) = (self.face(), self.live_area(), boards::clear_of_joint(self));
        Ground { face: CoverFace::Panel, edges, live, corners, unit }
    }
}

impl Margins {
    fn all(room: Length) -> Self {
        Self { head: room, foot: room, spine: room, fore_edge: room }
    }

    /// Reads one length for all edges, or a length for each edge.
    fn read(value: &NodeAt<'_>, face: Rect) -> Result<Self, Refusal> {
        let margins = if value.is_map() {
            let fields = value.fields(&["head", "foot", "spine", "fore-edge"])?;
            let usual = Length::inches(USUAL_MARGIN_INCHES);
            let edge = |key| fields.optional(key).map_or(Ok(usual), |value: NodeAt<'_>| value.length(bounds::ROOM));
            Self { head: edge("head")?, foot: edge("foot")?, spine: edge("spine")?, fore_edge: edge("fore-edge")? }
        } else {
            Self::all(value.length(bounds::ROOM)?)
        };
        for (sum, whole, names) in [
            (margins.fore_edge + margins.spine, face.width, "fore-edge and spine"),
            (margins.head + margins.foot, face.height, "head and foot"),
        ] {
            if whole.fits(sum) {
                let unit = value.unit().unwrap_or(Unit::Inches);
                let (sum, whole) = (unit.written(sum), unit.written(whole));
                return Err(value.refuse(format!(
                    "the margins at {names} add up to {sum}, and the panel has only {whole}: no room is left for \
                     copy; make them smaller"
                )));
            }
        }
        Ok(margins)
    }
}
