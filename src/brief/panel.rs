//! The back cover's face: trim, margins, and the places that copy may not enter.
//!
//! The panel is seen from outside. For a book read from left to right the fore-edge is its left edge and the spine
//! its right one.

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
