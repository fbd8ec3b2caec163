//! The copy in lines: each line with its place on the panel, and what it gains, hangs or exceeds.

use std::ops::Range;
use std::sync::Arc;

use super::copy::ShapedBlock;
use super::room::Room;
use crate::brief::typography::Align;
use crate::units::{Em, Length};

/// One line in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// Which block of the draft the line belongs to, counted from 0.
    pub paragraph: usize,
    /// Which place the line stands in, as its number among the [`Rooms`](super::Rooms).
    pub place: usize,
    /// The line's bytes in the block's text, without the blanks that hang at its end.
    pub text: Range<usize>,
    /// Where the line's ink begins, from the face's left edge.
    pub x: Length,
    /// The upper edge of the line's box, from the face's head.
    pub top: Length,
    /// The baseline, from the face's head.
    pub baseline: Length,
    /// Where the line's measure begins, from the face's left edge.
    pub slot_x: Length,
    /// How long the line is.
    pub width: Length,
    /// How long the line may be.
    pub measure: Length,
    /// How much of the line hangs before its measure: an opening quotation mark.
    pub hung: Length,
    /// What the line's blanks gain or lose, in all, for it to fill its measure.
    pub widened: Length,
    /// How wide the line's blanks are by themselves, in all.
    pub blanks: Em,
    /// The height of the line's box.
    pub leading: Length,
    /// Where the line stands in its measure.
    pub align: Align,
    /// Whether a hyphen is printed at the line's end.
    pub hyphen: bool,
    /// Whether the line's box reaches below its place.
    pub over: bool,
    /// Whether the line holds a word, or a part of one, that is wider than the measure.
    pub too_wide: bool,
}

impl SetLine {
    /// The lower edge of the line's box.
    pub fn foot(&self) -> Length {
        self.top + self.leading
    }

    /// Whether the line stands in its place and no word is wider than its measure.
    pub fn fits(&self) -> bool {
        !self.over && !self.too_wide
    }
}

/// The copy in lines.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Setting {
    /// The lines, in the order of the draft, those that are over included.
    pub lines: Vec<SetLine>,
    /// Every place, in the order of the [`Rooms`](super::Rooms).
    pub places: Vec<SetPlace>,
}

/// A place with the copy in it.
#[derive(Debug, Clone, PartialEq)]
pub struct SetPlace {
    /// The room that the copy was set in.
    pub room: Arc<Room>,
    /// The depth that the copy takes when it is set from the head of the place.
    pub depth: Length,
    /// The lower edge of the lowest line, from the face's head; none where the place has no line.
    pub end: Option<Length>,
}

impl Setting {
    /// How many lines do not fit.
    pub fn lines_over(&self) -> usize {
        self.lines.iter().filter(|line| line.over).count()
    }

    /// Whether every line stands in its place and no word is wider than its measure.
    pub fn fits(&self) -> bool {
        self.lines.iter().all(SetLine::fits)
    }

    /// The lines of one place, in the order of the draft.
    pub fn lines_in(&self, place: usize) -> impl DoubleEndedIterator<Item = &SetLine> {
        self.lines.iter().filter(move |line| line.place == place)
    }
}

/// The text of a line as it is printed, its end's hyphen included.
pub fn printed(line: &SetLine, paragraph: &ShapedBlock<'_>) -> String {
    let mut text = paragraph.block.text()[line.text.clone()].replace('\u{ad}', "");
    if line.hyphen {
        text.push('-');
    }
    text
}
