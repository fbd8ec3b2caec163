//! The back cover's face: trim, margins, and the places that copy may not enter.
//!
//! The panel is seen from outside. For a book read from left to right the fore-edge is its left edge and the spine
//! its right one.

use super::bounds;
use super::read::{Refusal, Value};
use crate::units::{Length, Rect, Size};

/// The panel and its keep-outs.
#[derive(Debug, Clone)]
pub struct Panel {
    /// The cut size.
    pub trim: Size,
    /// How the book is bound.
    pub binding: Binding,
    /// How far art is printed past the cut.
    pub bleed: Length,
    /// The room between the trim and the live area.
    pub margins: Margins,
    /// Where copy may not stand.
    pub keep_outs: Vec<KeepOut>,
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

/// A place on the panel that copy may not enter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeepOut {
    /// What it is for, in the author's words: `barcode`, `imprint mark`.
    pub name: String,
    /// Its own room on the panel.
    pub rect: Rect,
    /// The room that stays empty round it.
    pub clearance: Length,
}

impl KeepOut {
    /// The keep-out with its clearance.
    pub fn cleared(&self) -> Rect {
        self.rect.grown(self.clearance)
    }
}

impl Panel {
    /// Where copy may stand: the trim less the margins.
    pub fn live_area(&self) -> Rect {
        Rect {
            x: self.margins.fore_edge,
            y: self.margins.head,
            width: self.trim.width - self.margins.fore_edge - self.margins.spine,
            height: self.trim.height - self.margins.head - self.margins.foot,
        }
    }
}

const KEYS: [&str; 5] = ["trim", "binding", "bleed", "margins", "keep_out"];
const BINDINGS: [(&str, Binding); 3] =
    [("paperback", Binding::Paperback), ("case", Binding::Case), ("jacket", Binding::Jacket)];

/// Common practice: 10 to 13 mm for the copy; half an inch is the upper end of it.
const USUAL_MARGIN_INCHES: f64 = 0.5;
/// Common practice in American shops; metric ones take 3 mm.
const USUAL_BLEED_INCHES: f64 = 0.125;

impl Panel {
    /// Reads the group `panel` and checks that its parts go together.
    pub(super) fn read(value: Value<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        let trim = fields.required("trim", "such as trim: 8.5 x 8.5 in")?.size(bounds::TRIM)?;
        let margins = match fields.optional("margins") {
            Some(value) => Margins::read(&value, trim)?,
            None => Margins::all(Length::inches(USUAL_MARGIN_INCHES)),
        };
        let mut panel = Self {
            trim,
            binding: fields.optional("binding").map_or(Ok(Binding::default()), |value| value.choice(&BINDINGS))?,
            bleed: fields
                .optional("bleed")
                .map_or(Ok(Length::inches(USUAL_BLEED_INCHES)), |value| value.length(bounds::BLEED))?,
            margins,
            keep_outs: Vec::new(),
        };
        for item in fields.optional("keep_out").map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let keep_out = KeepOut::read(&item, &panel)?;
            panel.keep_outs.push(keep_out);
        }
        Ok(panel)
    }

    /// The trim as a rectangle, its head left corner at nothing.
    pub fn face(&self) -> Rect {
        Rect { x: Length::ZERO, y: Length::ZERO, width: self.trim.width, height: self.trim.height }
    }
}

impl Margins {
    fn all(room: Length) -> Self {
        Self { head: room, foot: room, spine: room, fore_edge: room }
    }

    /// One length for all edges, or one for each.
    fn read(value: &Value<'_>, trim: Size) -> Result<Self, Refusal> {
        let margins = if value.is_map() {
            let fields = value.fields(&["head", "foot", "spine", "fore-edge"])?;
            let usual = Length::inches(USUAL_MARGIN_INCHES);
            let edge = |key| fields.optional(key).map_or(Ok(usual), |value: Value<'_>| value.length(bounds::ROOM));
            Self { head: edge("head")?, foot: edge("foot")?, spine: edge("spine")?, fore_edge: edge("fore-edge")? }
        } else {
            Self::all(value.length(bounds::ROOM)?)
        };
        for (sum, whole, names) in [
            (margins.fore_edge + margins.spine, trim.width, "fore-edge and spine"),
            (margins.head + margins.foot, trim.height, "head and foot"),
        ] {
            if whole.fits(sum) {
                return Err(value.refuse(format!(
                    "the margins at {names} add up to {sum}, and the trim has only {whole}: no room is left for copy; make them smaller"
                )));
            }
        }
        Ok(margins)
    }
}
