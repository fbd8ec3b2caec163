//! The copy in lines: each line with its place on the panel, and what it gains, hangs or exceeds.

use std::ops::Range;

use super::copy::ShapedBlock;
use crate::units::{Em, Length};

/// One line in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// Which block of the draft the line belongs to, counted from 0.
    pub paragraph: usize,
    /// The line's bytes in the block's text, without the blanks that hang at its end.
    pub text: Range<usize>,
    /// Where the line's ink begins, from the panel's left edge.
    pub x: Length,
    /// The upper edge of the line's box, from the panel's head.
    pub top: Length,
    /// The baseline, from the panel's head.
    pub baseline: Length,
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
    /// Whether a hyphen is printed at the line's end.
    pub hyphen: bool,
    /// Whether the line's box reaches below the live area.
    pub over: bool,
    /// Whether the line holds a word, or a part of one, that is wider than the measure.
    pub too_wide: bool,
}

impl SetLine {
    /// The lower edge of its box.
    pub fn foot(&self) -> Length {
        self.top + self.leading
    }
}

/// The copy in lines, from the head of the live area.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Setting {
    /// From the first to the last, those that are over included.
    pub lines: Vec<SetLine>,
    /// The depth that the copy takes when it is set from the head of the live area.
    pub depth: Length,
}

impl Setting {
    /// How many lines do not fit.
    pub fn lines_over(&self) -> usize {
        self.lines.iter().filter(|line| line.over).count()
    }

    /// Whether every line stands in the live area and no word is wider than its measure.
    pub fn fits(&self) -> bool {
        self.lines.iter().all(|line| !line.over && !line.too_wide)
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
