//! The copy in lines: each line with its place on the panel, and what it gains, hangs or exceeds.

use std::ops::Range;

use super::copy::ShapedBlock;
use crate::units::{Em, Length};

/// One line in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// Which block of the draft it belongs to, counted from 0.
    pub paragraph: usize,
    /// Its bytes in the block's text, without the blanks that hang at its end.
    pub text: Range<usize>,
    /// Where its ink begins, from the panel's left edge.
    pub x: Length,
    /// The upper edge of its box, from the panel's head.
    pub top: Length,
    /// The baseline, from the panel's head.
    pub baseline: Length,
    /// How long it is.
    pub width: Length,
    /// How long it may be.
    pub measure: Length,
    /// How much of it hangs before its measure: an opening quotation mark.
    pub hung: Length,
    /// What its blanks gain or lose, in all, for it to fill its measure.
    pub widened: Length,
    /// How wide its blanks are by themselves, in all.
    pub blanks: Em,
    /// The height of its box.
    pub leading: Length,
    /// A hyphen is printed at its end.
    pub hyphen: bool,
    /// Its box reaches below the live area.
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
    /// The depth that it takes when it is set from the head of the live area.
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
