//! The flaps of a jacket, or of a paper cover: what they are, and how a brief's groups `front_flap` and `back_flap` are
//! read.

use super::book::BookKind;
use super::bounds;
use super::keep_out::Ground;
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{self, Binding, FaceLayout, KeepOut, Panel};
use super::place::{CoverFace, Place};
use super::place_group;
use super::yaml::Node;
use crate::units::{Length, Rect, Size};

const KEYS: [&str; 9] = ["width", "margins", "holds", "align", "stack", "columns", "gutter", "places", "keep_out"];

/// Common practice: copy stands 10 to 12 mm from the fold and 6 to 10 from the free edge.
const USUAL_FOLD_MM: f64 = 12.0;
const USUAL_EDGE_MM: f64 = 8.0;
const USUAL_HEAD_MM: f64 = 15.0;

/// A flap of a jacket, seen from outside. It is as high as the panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Flap {
    /// Which of the two flaps it is.
    pub face: CoverFace,
    /// The flap's own edges: from the fold to the free edge, and the panel's height.
    pub size: Size,
    /// The room between the flap's edges and its live area.
    pub margins: FlapMargins,
    /// Where copy may not stand.
    pub keep_outs: Vec<KeepOut>,
    /// The places of copy; one as large as the live area where the brief gives the flap only what it holds.
    pub places: Vec<Place>,
    /// The unit in which reports give the flap's width.
    pub unit: Unit,
    /// The flap's group as the file has it.
    pub written: Node,
}

/// Room along each edge of a flap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FlapMargins {
    /// At the head.
    pub head: Length,
    /// At the foot.
    pub foot: Length,
    /// On the side where the jacket is folded round the cover.
    pub fold: Length,
    /// On the free side.
    pub edge: Length,
}

impl Flap {
    /// The flap less its margins. Seen from outside, the front flap has its fold at the left, the back flap at the
    /// right.
    pub fn live_area(&self) -> Rect {
        let FlapMargins { head, foot, fold, edge } = self.margins;
        let left = if self.face == CoverFace::FrontFlap { fold } else { edge };
        Rect { x: left, y: head, width: self.size.width - fold - edge, height: self.size.height - head - foot }
    }

    /// The flap as a face for copy.
    pub fn layout(&self) -> FaceLayout<'_> {
        let (edges, live) = (self.edges(), self.live_area());
        FaceLayout { face: self.face, edges, live, keep_outs: &self.keep_outs, places: &self.places }
    }

    fn edges(&self) -> Rect {
        Rect { width: self.size.width, height: self.size.height, ..Rect::default() }
    }

    /// The flap beside another panel of its book, with the outlines that are known of its shapes.
    pub(super) fn beside(&self, panel: &Panel, kind: BookKind) -> Result<Self, Refusal> {
        let mut flap = Self::read(&NodeAt::top(&self.written), self.face, panel, kind)?;
        panel::take_outlines(&mut flap.keep_outs, &mut flap.places, self.layout());
        Ok(flap)
    }

    /// Reads the group of a flap beside a panel.
    pub(super) fn read(value: &NodeAt<'_>, face: CoverFace, panel: &Panel, kind: BookKind) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        if panel.binding == Binding::Case {
            return Err(value.refuse("a case has no flaps; its jacket has: write binding: jacket under panel"));
        }
        if kind == BookKind::BoardBook && panel.binding == Binding::Paperback {
            return Err(value.refuse(
                "a board book has no flaps; leave this group out, or write binding: jacket under panel if the book has \
                 one",
            ));
        }
        let width_at = fields.required("width", "such as width: 90 mm")?;
        let (width, unit) = (width_at.length(bounds::TRIM)?, width_at.unit().unwrap_or(Unit::Millimetres));
        let size = Size { width, height: panel.face().height };
        if !width.fits(panel.face().width) {
            return Err(width_at.refuse(format!(
                "a flap of {} is wider than the panel of {}; make it narrower",
                unit.written(width),
                unit.written(panel.face().width)
            )));
        }
        let margins = FlapMargins::read(&fields, size, unit)?;
        let written = value.node.clone();
        let mut flap = Self { face, size, margins, keep_outs: Vec::new(), places: Vec::new(), unit, written };
        let live = flap.live_area();
        let ground = Ground { face, edges: flap.edges(), live, corners: live, unit };
        for item in fields.optional("keep_out").map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            flap.keep_outs.push(KeepOut::read(&item, &ground)?);
        }
        flap.places = match (fields.optional("places"), fields.has("holds")) {
            (Some(places), false) => place_group::read(&places, &ground, &flap.keep_outs)?,
            (None, true) => {
                let place = place_group::one(&fields, value, unit)?;
                vec![Place { name: face.name().to_owned(), bounds: live, ..place }]
            }
            (Some(places), true) => {
                return Err(places.refuse("the flap holds copy by itself already; leave one of holds and places out"));
            }
            (None, false) => {
                return Err(value.refuse(
                    "the flap holds nothing; write holds: note on the author, or places, or leave the flap out",
                ));
            }
        };
        Ok(flap)
    }
}

impl FlapMargins {
    /// Reads one length for all edges, or a length for each edge.
    fn read(fields: &KeyGroup<'_>, size: Size, unit: Unit) -> Result<Self, Refusal> {
        let [head, fold, edge] = [USUAL_HEAD_MM, USUAL_FOLD_MM, USUAL_EDGE_MM].map(Length::mm);
        let usual = Self { head, foot: head, fold, edge };
        let Some(value) = fields.optional("margins") else { return Ok(usual) };
        let margins = if value.is_map() {
            let fields = value.fields(&["head", "foot", "fold", "edge"])?;
            let side =
                |key, usual| fields.optional(key).map_or(Ok(usual), |value: NodeAt<'_>| value.length(bounds::ROOM));
            Self {
                head: side("head", usual.head)?,
                foot: side("foot", usual.foot)?,
                fold: side("fold", usual.fold)?,
                edge: side("edge", usual.edge)?,
            }
        } else {
            let all = value.length(bounds::ROOM)?;
            Self { head: all, foot: all, fold: all, edge: all }
        };
        for (sum, whole, names) in [
            (margins.fold + margins.edge, size.width, "fold and edge"),
            (margins.head + margins.foot, size.height, "head and foot"),
        ] {
            if whole.fits(sum) {
                return Err(value.refuse(format!(
                    "the margins at {names} add up to {}, and the flap has only {}: no room is left for copy; make \
                     them smaller",
                    unit.written(sum),
                    unit.written(whole)
                )));
            }
        }
        Ok(margins)
    }
}
