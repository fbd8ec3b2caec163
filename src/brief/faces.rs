//! The faces of the cover beside the back panel: the flaps of a jacket, and the spine.

use super::Brief;
use super::lengths::Unit;
use super::panel::{FaceLayout, KeepOut};
use super::place::{CoverFace, Place};
use super::typography::BlockType;
use crate::units::{Length, Rect, Size};

/// A flap of a jacket, seen from outside. It is as high as the panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Flap {
    /// Which of the two flaps it is.
    pub face: CoverFace,
    /// Its own edges: from the fold to the free edge, and the panel's height.
    pub size: Size,
    /// The room between its edges and its live area.
    pub margins: FlapMargins,
    /// Where copy may not stand.
    pub keep_outs: Vec<KeepOut>,
    /// The places of copy; one as large as the live area where the brief gives the flap only what it holds.
    pub places: Vec<Place>,
    /// The unit in which reports give its width.
    pub unit: Unit,
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
}

/// The spine, with the title on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Spine {
    /// From fold to fold, as the printer gave it.
    pub width: Length,
    /// How far the letters stay away from either fold.
    pub clear: Length,
    /// Room at the head.
    pub head: Length,
    /// Room at the foot, which libraries keep for their marks.
    pub foot: Length,
    /// Which way the title reads.
    pub direction: SpineDirection,
    /// The type of the title.
    pub set_in: BlockType,
    /// The unit in which reports give its width.
    pub unit: Unit,
}

/// Which way the title on a spine reads. Source: ISO 6357:1985.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SpineDirection {
    /// From the head to the foot.
    #[default]
    Descending,
    /// From the foot to the head.
    Ascending,
}

impl Brief {
    /// Every face that copy may stand on: the back panel, then the flaps.
    pub fn faces(&self) -> impl Iterator<Item = FaceLayout<'_>> {
        let flaps = self.flaps.iter().map(|flap| {
            let edges = Rect { width: flap.size.width, height: flap.size.height, ..Rect::default() };
            let (live, keep_outs, places) = (flap.live_area(), &*flap.keep_outs, &*flap.places);
            FaceLayout { face: flap.face, edges, live, keep_outs, places }
        });
        std::iter::once(self.panel.layout()).chain(flaps)
    }

    /// Whether the copy has places of its own, or another face than the back panel.
    pub fn has_places(&self) -> bool {
        !self.panel.places.is_empty() || !self.flaps.is_empty()
    }
}
