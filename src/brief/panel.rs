//! The back cover's face: trim, margins, and the places that copy may not enter.
//!
//! The panel is seen from outside. For a book read from left to right the fore-edge is its left edge and the spine
//! its right one. On boards and under a jacket it is larger than the pages.

use super::art::{Art, Tint};
use super::colour::Colour;
use super::lengths::Unit;
use super::place::{CoverFace, FileShape, Place, Shape};
use super::typography::BlockType;
use crate::units::{Length, Rect, Size};

/// A margin that any printer's cut leaves alone. Common practice.
const SAFE_INCHES: f64 = 0.5;

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
    /// The art behind the copy, where the brief has some.
    pub art: Option<Art>,
    /// The tint behind all copy whose place has none of its own.
    pub tint: Option<Tint>,
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

/// What is known of a face before copy stands on it.
#[derive(Debug, Clone, Copy)]
pub struct FaceLayout<'a> {
    /// Which face it is.
    pub face: CoverFace,
    /// The face's own edges, with the upper left corner at zero.
    pub edges: Rect,
    /// The face less its margins.
    pub live: Rect,
    /// What art covers that goes to the bleed.
    pub printed: Rect,
    /// The art behind the copy, where there is some.
    pub art: Option<&'a Art>,
    /// The tint behind all copy whose place has none of its own.
    pub tint: Option<Tint>,
    /// The ink of copy for which neither its own type nor its place gives one; none where the type of the blurb does.
    pub ink: Option<Colour>,
    /// Where copy may not stand.
    pub keep_outs: &'a [KeepOut],
    /// The places of copy; those that follow another stand behind it in this order.
    pub places: &'a [Place],
}

impl<'a> FaceLayout<'a> {
    /// The art of the face, then that of its places.
    pub fn arts(&self) -> impl Iterator<Item = &'a Art> + use<'a> {
        self.art.into_iter().chain(self.places.iter().filter_map(|place| place.art.as_ref()))
    }

    /// Whether the face or one of its places has art that was read.
    pub fn has_art(&self) -> bool {
        self.arts().any(|art| art.picture.read.is_some())
    }
}

impl FaceLayout<'_> {
    /// The ink of copy in a place; none is the live area. The type of its own kind of block goes first, then the place,
    /// then the face, then the blurb's type.
    pub fn ink_of(&self, place: Option<&Place>, set: &BlockType) -> Colour {
        let given = place.and_then(|place| place.ink).or(self.ink).filter(|_| !set.own_ink);
        given.unwrap_or(set.ink)
    }

    /// Where copy might stand if the brief's margins were others: the face less its margins, or less half an inch on
    /// the sides where they are wider. Common practice: nearer to an edge no copy is safe from the cut.
    pub fn safe_area(&self) -> Rect {
        let most = Length::inches(SAFE_INCHES);
        let (face, live) = (self.edges, self.live);
        let (x, y) = (live.x.min(face.x + most), live.y.min(face.y + most));
        let (right, foot) = (live.right().max(face.right() - most), live.foot().max(face.foot() - most));
        Rect { x, y, width: right - x, height: foot - y }
    }

    /// The tint behind copy in a place; none is the live area. That of the place goes before that of the face.
    pub fn tint_of(&self, place: Option<&Place>) -> Option<Tint> {
        place.and_then(|place| place.tint).or(self.tint)
    }
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
        FaceLayout {
            face: CoverFace::Panel,
            edges: self.face(),
            live: self.live_area(),
            printed: self.art_area(),
            art: self.art.as_ref(),
            tint: self.tint,
            ink: None,
            keep_outs: &self.keep_outs,
            places: &self.places,
        }
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
    pub fn art_area(&self) -> Rect {
        let art = self.face().grown(self.bleed);
        let past_spine = if self.binding == Binding::Case { self.bleed } else { Length::ZERO };
        Rect { width: art.width - past_spine, ..art }
    }
}

/// Every shape of a face's keep-outs and places that a file has.
pub(super) fn file_shapes_mut<'a>(
    keep_outs: &'a mut [KeepOut],
    places: &'a mut [Place],
) -> impl Iterator<Item = &'a mut FileShape> {
    let shapes = keep_outs.iter_mut().map(|keep_out| &mut keep_out.shape);
    shapes.chain(places.iter_mut().map(|place| &mut place.shape)).filter_map(|shape| match shape {
        Shape::File(shape) => Some(shape),
        _ => None,
    })
}

/// Every piece of art of a face and its places.
pub(super) fn arts_mut<'a>(
    art: &'a mut Option<Art>,
    places: &'a mut [Place],
) -> impl Iterator<Item = &'a mut Art> + use<'a> {
    art.iter_mut().chain(places.iter_mut().filter_map(|place| place.art.as_mut()))
}

/// Gives the shapes of a face that was read anew the outlines of their files, as far as those are known.
pub(super) fn take_outlines(keep_outs: &mut [KeepOut], places: &mut [Place], known: FaceLayout<'_>) {
    let shapes = known.keep_outs.iter().map(|keep_out| &keep_out.shape);
    let shapes = shapes.chain(known.places.iter().map(|place| &place.shape));
    let known: Vec<&FileShape> =
        shapes.filter_map(|shape| if let Shape::File(shape) = shape { Some(shape) } else { None }).collect();
    for shape in file_shapes_mut(keep_outs, places) {
        shape.outline = known.iter().find(|read| read.is_of_one_file(shape)).and_then(|read| read.outline.clone());
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
