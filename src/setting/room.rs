//! The room that the panel leaves for copy: at each depth, where a line may stand and how long it may be.

use crate::brief::Panel;
use crate::units::{Length, Rect};

/// The live area of a panel with the keep-outs taken out of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    live: Rect,
    /// The keep-outs with their clearance, from left to right; none lies wholly outside the live area.
    keep_outs: Vec<Rect>,
}

/// The length that a line has at one depth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LineSlot {
    /// Where the line begins, from the panel's left edge.
    pub x: Length,
    /// How long it may be: the measure; zero where keep-outs leave nothing.
    pub width: Length,
    /// A keep-out stands beside it.
    pub narrowed: bool,
}

impl Room {
    /// The room of a panel.
    pub fn of(panel: &Panel) -> Self {
        let live = panel.live_area();
        let mut keep_outs: Vec<Rect> =
            panel.keep_outs.iter().map(|keep_out| keep_out.cleared()).filter(|rect| rect.overlaps(&live)).collect();
        keep_outs.sort_by_key(|rect| rect.x);
        Self { live, keep_outs }
    }

    /// Where copy may stand, keep-outs aside.
    pub fn live(&self) -> Rect {
        self.live
    }

    /// The measure of a line whose box reaches from `top` down by `height`: the widest stretch that no keep-out
    /// enters, the leftmost of equals. A line that begins below the live area has the full measure.
    pub fn at(&self, top: Length, height: Length) -> LineSlot {
        let whole = LineSlot { x: self.live.x, width: self.live.width, narrowed: false };
        if self.live.foot().fits(top) {
            return whole;
        }
        let mut free_from = self.live.x;
        let mut widest = LineSlot { x: self.live.x, width: Length::ZERO, narrowed: true };
        let mut narrowed = false;
        let mut take = |from: Length, to: Length| {
            if to - from > widest.width {
                widest = LineSlot { x: from, width: to - from, narrowed: true };
            }
        };
        for rect in self.keep_outs.iter().filter(|rect| stands_beside(rect, top, height)) {
            narrowed = true;
            take(free_from, rect.x);
            free_from = free_from.max(rect.right());
        }
        if !narrowed {
            return whole;
        }
        take(free_from, self.live.right());
        widest
    }

    /// The first depth below `top` at which a keep-out beside a line there ends.
    pub(super) fn next_change(&self, top: Length, height: Length) -> Option<Length> {
        self.keep_outs.iter().filter(|rect| stands_beside(rect, top, height)).map(Rect::foot).min()
    }
}

/// Whether a line box and a keep-out share more than an edge of depth.
fn stands_beside(rect: &Rect, top: Length, height: Length) -> bool {
    !((top + height).fits(rect.y) || rect.foot().fits(top))
}
