//! The back cover's face: trim, margins, and the places that copy may not enter; and how a brief's group `panel` is read,
//! whose parts have to go together.
//!
//! The panel is seen from outside. For a book read from left to right the fore-edge is its left edge and the spine
//! its right one. On boards and under a jacket it is larger than the pages.

use super::boards;
use super::bounds;
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::place::{CoverFace, FaceLayout, Place, Shape};
use crate::units::{Length, Rect, Size};

/// The panel and its keep-outs.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// The cut size of the pages, which is also the size of a paper cover.
    pub trim: Size,
    /// How the book is bound.
    pub binding: Binding,
    /// How far boards, and a jacket on them, stand past the pages; zero for a paper cover.
    pub square: Length,
    /// How far art goes past the panel's edges: past the cut, or turned in round the boards of a case.
    pub bleed: Length,
    /// The radius of the corners on the fore-edge side; zero where they are square.
    pub round_corners: Length,
    /// The room between the panel's edges and the live area.
    pub margins: Margins,
    /// Where copy may not stand.
    pub keep_outs: Vec<KeepOut>,
    /// The places of copy; none where all copy runs down the live area.
    pub places: Vec<Place>,
}

/// How the book is bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Binding {
    /// A paper cover cut with the pages.
    #[default]
    Paperback,
    /// Boards.
    Case,
    /// A paper jacket round a case.
    Jacket,
}

/// Room along each edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Margins {
    /// At the head.
    pub head: Length,
    /// At the foot.
    pub foot: Length,
    /// On the spine side.
    pub spine: Length,
    /// On the fore-edge side.
    pub fore_edge: Length,
}

/// A part of a face that copy may not enter.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepOut {
    /// How the keep-out came about.
    pub origin: KeepOutOrigin,
    /// What the place is for, in the author's words: `barcode`, `imprint mark`.
    pub name: String,
    /// The box on the panel, without its clearance.
    pub rect: Rect,
    /// The form in the box.
    pub shape: Shape,
    /// The room that stays empty round the place.
    pub clearance: Length,
    /// The unit in which reports give the size: the unit of the size in the brief, or else the unit of the trim.
    pub unit: Unit,
}

/// How a keep-out came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepOutOrigin {
    /// A barcode, as large as the standard has it.
    Symbol,
    /// A box of the author's.
    Named,
    /// The joint of a case.
    Joint,
    /// A corner that is rounded off.
    Corner,
}

impl KeepOut {
    /// The keep-out with its clearance.
    pub fn cleared(&self) -> Rect {
        self.rect.grown(self.clearance)
    }
}

impl Panel {
    /// The panel's own edges, with the upper left corner at zero: the trim, and the squares of boards at head, foot and
    /// fore-edge.
    pub fn face(&self) -> Rect {
        Rect {
            x: Length::ZERO,
            y: Length::ZERO,
            width: self.trim.width + self.square,
            height: self.trim.height + self.square * 2,
        }
    }

    /// The panel as a face for copy.
    pub fn layout(&self) -> FaceLayout<'_> {
        let (edges, live) = (self.face(), self.live_area());
        FaceLayout { face: CoverFace::Panel, edges, live, keep_outs: &self.keep_outs, places: &self.places }
    }

    /// Where copy may stand: the panel less its margins.
    pub fn live_area(&self) -> Rect {
        let face = self.face();
        Rect {
            x: self.margins.fore_edge,
            y: self.margins.head,
            width: face.width - self.margins.fore_edge - self.margins.spine,
            height: face.height - self.margins.head - self.margins.foot,
        }
    }

    /// The area that art covers: the panel and its bleed or turn-in. On the spine side of a case nothing is turned in,
    /// since the cover goes on over the spine.
    pub fn art(&self) -> Rect {
        let art = self.face().grown(self.bleed);
        let past_spine = if self.binding == Binding::Case { self.bleed } else { Length::ZERO };
        Rect { width: art.width - past_spine, ..art }
    }
}

/// Every binding with its name in a brief.
pub(super) const BINDINGS: [(&str, Binding); 3] =
    [("paperback", Binding::Paperback), ("case", Binding::Case), ("jacket", Binding::Jacket)];

impl Binding {
    /// The binding as a brief writes it.
    pub fn name(self) -> &'static str {
        BINDINGS.iter().find(|(_, binding)| *binding == self).map_or("", |(name, _)| *name)
    }

    /// What the panel's own edges are called.
    pub fn edges(self) -> &'static str {
        match self {
            Self::Paperback => "trim",
            Self::Case => "board and joint",
            Self::Jacket => "case under the jacket",
        }
    }

    /// What art past the panel's edges is called.
    pub fn art(self) -> &'static str {
        match self {
            Self::Case => "turn-in",
            Self::Paperback | Self::Jacket => "bleed",
        }
    }
}

const KEYS: [&str; 9] =
    ["trim", "binding", "square", "turn_in", "joint", "bleed", "round_corners", "margins", "keep_out"];

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
            keep_outs: Vec::new(),
            places: Vec::new(),
        };
        if let Some(value) = fields.optional("margins") {
            panel.margins = Margins::read(&value, panel.face())?;
        }
        panel.read_keep_outs(&value, &fields)?;
        Ok(panel)
    }

    /// Adds the keep-outs: the joint and the rounded corners first, since a keep-out in a corner stands clear of the
    /// joint, then those that the brief names.
    fn read_keep_outs(&mut self, value: &NodeAt<'_>, fields: &KeyGroup<'_>) -> Result<(), Refusal> {
        let joint = boards::joint(value, fields, self)?;
        self.keep_outs.extend(joint);
        self.keep_outs.extend(boards::corners(self));
        let unit = fields.optional("trim").and_then(|trim| trim.unit()).unwrap_or(Unit::Inches);
        for item in fields.optional("keep_out").map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let keep_out = KeepOut::read(&item, self, unit)?;
            self.keep_outs.push(keep_out);
        }
        Ok(())
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
