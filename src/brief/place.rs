//! The places of copy on a face: a box or a shape, less the keep-outs, with the blocks that it holds.
//!
//! Without places all copy runs down the live area. What no place holds stands there still, round keep-outs and places.

use std::path::PathBuf;
use std::sync::Arc;

use super::art::{Art, Tint};
use super::colour::Colour;
use super::lengths::Unit;
use super::typography::{Align, Stack};
use crate::draft::BlockKind;
use crate::units::{Length, Rect};

/// What the place without a name is called, in which all stands that no other place holds.
pub const LIVE_AREA: &str = "live area";

/// A face of the cover that copy may stand on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CoverFace {
    /// The back cover itself.
    Panel,
    /// The flap of a jacket beside the front cover.
    FrontFlap,
    /// The flap of a jacket beside the back cover.
    BackFlap,
}

impl CoverFace {
    /// The face's name in a report: `back panel`, `front flap`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Panel => "back panel",
            Self::FrontFlap => "front flap",
            Self::BackFlap => "back flap",
        }
    }

    /// The key of the face's group in a brief.
    pub fn key(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::FrontFlap => "front_flap",
            Self::BackFlap => "back_flap",
        }
    }

    /// What lies at the left, above and at the right of the face, seen from outside, as a proof tells it.
    pub fn around(self) -> [String; 3] {
        let [left, right] = self.sides().map(|side| format!("{side} side"));
        [left, "head".to_owned(), right]
    }

    /// What the left and the right edge are called, seen from outside.
    pub fn sides(self) -> [&'static str; 2] {
        match self {
            Self::Panel => ["fore-edge", "spine"],
            Self::FrontFlap => ["fold", "edge"],
            Self::BackFlap => ["edge", "fold"],
        }
    }

    /// The corners of the face, as a brief writes them: at the foot right and left, then at the head.
    pub(super) fn corners(self) -> [&'static str; 4] {
        match self {
            Self::Panel => ["foot-spine", "foot-fore-edge", "head-spine", "head-fore-edge"],
            Self::FrontFlap => ["foot-edge", "foot-fold", "head-edge", "head-fold"],
            Self::BackFlap => ["foot-fold", "foot-edge", "head-fold", "head-edge"],
        }
    }
}

/// A place on a face, with the blocks that it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// What the author calls it.
    pub name: String,
    /// The blocks that stand in it.
    pub holds: Vec<Held>,
    /// The box that the shape fills. Where the place follows another, the box begins where that one's box begins, and
    /// copy begins where the other's copy ends.
    pub bounds: Rect,
    /// The form inside the box.
    pub shape: Shape,
    /// How far copy stays away from the shape's edge, inside it.
    pub inset: Length,
    /// Where lines stand in their measure, unless a block's own type says; none where the type of the copy says.
    pub align: Option<Align>,
    /// Where the place's copy stands in it.
    pub stack: Stack,
    /// The ink of its copy, unless a block's own type says; none where the face or the type of the copy says.
    pub ink: Option<Colour>,
    /// The art that fills its form, over that of the face; none where the face's own is behind its copy.
    pub art: Option<Art>,
    /// The tint behind its copy; none where the face says.
    pub tint: Option<Tint>,
    /// How many columns the place is parted into, one at the least.
    pub columns: usize,
    /// The room between two columns.
    pub gutter: Length,
    /// The place on the same face whose copy this one's follows.
    pub follows: Option<Follows>,
    /// The unit in which reports give the place's size.
    pub unit: Unit,
}

/// The place that another follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Follows {
    /// The number of the place that is followed among those of the face, from 0; always lower than that of the place
    /// that follows.
    pub place: usize,
    /// The room between the copy of the two.
    pub space: Length,
}

/// A kind of block that a place holds, or one part of that kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Held {
    /// The kind; a credit goes with its quote and is never named.
    pub kind: BlockKind,
    /// Which part of the kind, from 1: `quote 2`; none for all that no place holds by its number.
    pub number: Option<usize>,
}

impl Held {
    /// What the brief calls it: `headline`, `quote 2`.
    pub fn name(self) -> String {
        let number = self.number.map_or(String::new(), |number| format!(" {number}"));
        format!("{}{number}", self.kind.name())
    }
}

/// The form of a place or keep-out in its box.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Shape {
    /// The box itself.
    #[default]
    Box,
    /// The ellipse that touches the box's four sides.
    Ellipse,
    /// The box with rounded corners of a radius, at most half of the shorter side.
    Round(Length),
    /// Straight edges between points, each as its shares of the box's width and height, from 0 to 1.
    Polygon(Vec<(f64, f64)>),
    /// The outline that a drawing or a picture has.
    File(FileShape),
}

/// A form that a file has, stretched to its box.
#[derive(Debug, Clone, PartialEq)]
pub struct FileShape {
    /// The .svg or .png file as the brief names it, from the brief's folder.
    pub file: PathBuf,
    /// How opaque a picture may be outside its form, in percent: what is more opaque belongs to the form.
    pub opacity: f64,
    /// What is in the file, once it has been read; until then the whole box is taken.
    pub outline: Option<Arc<FileOutline>>,
}

/// The outline in a file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FileOutline {
    /// Closed rings of straight edges, each point as its shares of the box's width and height, from 0 to 1. What an odd
    /// number of rings goes round is inside.
    pub rings: Vec<Vec<(f64, f64)>>,
    /// How far the straight edges may be off the file's own outline: as shares of the box's width and height.
    pub off: (f64, f64),
    /// The width of a picture by its height; none for a drawing, which is meant to be stretched.
    pub proportions: Option<f64>,
}

impl FileShape {
    /// Whether another shape is read from one file in one way with this.
    pub fn is_of_one_file(&self, other: &Self) -> bool {
        self.file == other.file && self.opacity == other.opacity
    }
}

impl Shape {
    /// The form's name in a report: `box`, `ellipse`, `round`, `polygon`, `outline`.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Box => "box",
            Self::Ellipse => "ellipse",
            Self::Round(_) => "round",
            Self::Polygon(_) => "polygon",
            Self::File(_) => "outline",
        }
    }
}
