//! How each block is set: font, size, leading, weight, alignment.

use std::path::PathBuf;

use crate::draft::BlockKind;
use crate::units::Length;

/// The type of every block. Each block has its own, taken from the blurb's where the brief says nothing else.
#[derive(Debug, Clone)]
pub struct Typography {
    /// The type of the blurb, which the others follow.
    pub blurb: BlockType,
    /// The type of each other kind that the brief or the habit sets apart.
    pub others: Vec<(BlockKind, BlockType)>,
}

impl Typography {
    /// The type that blocks of `kind` are set in.
    pub fn of(&self, kind: BlockKind) -> &BlockType {
        self.others.iter().find(|(other, _)| *other == kind).map_or(&self.blurb, |(_, set)| set)
    }
}

/// The type of one kind of block.
#[derive(Debug, Clone, PartialEq)]
pub struct BlockType {
    /// Which font.
    pub font: Font,
    /// The size.
    pub size: Length,
    /// The brief gives this block a size of its own, which it keeps when the blurb is tried at another.
    pub own_size: bool,
    /// From baseline to baseline.
    pub leading: Leading,
    /// The whole block is bold.
    pub bold: bool,
    /// The whole block is italic.
    pub italic: bool,
    /// Where lines stand in their measure.
    pub align: Align,
    /// Room above the block's first line, unless it is the first on the panel.
    pub space_above: Length,
    /// Room before the first line of each paragraph that follows another of its kind.
    pub indent: Length,
}

/// Which font a block is set in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Font {
    /// The built-in serif.
    Serif,
    /// The built-in sans.
    Sans,
    /// A font file, as an absolute path or one from the working folder.
    File(PathBuf),
}

/// From baseline to baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Leading {
    /// The same at any size.
    Fixed(Length),
    /// In hundredths of the size.
    Percent(f64),
}

/// Where lines stand in their measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left, ragged at the right.
    #[default]
    Left,
    /// In the middle.
    Centre,
    /// At both sides.
    Justified,
}

impl BlockType {
    /// The leading at this block's size.
    pub fn leading(&self) -> Length {
        match self.leading {
            Leading::Fixed(leading) => leading,
            Leading::Percent(percent) => self.size.scaled(Length::pt(percent), Length::pt(100.0)),
        }
    }
}
