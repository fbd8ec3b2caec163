//! The copy of a draft made ready for setting: every block shaped, but those that have not changed since the memory was
//! used last, and the type of each kind as plain lengths.

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::Arc;

use super::faces::{Faces, Family};
use super::rooms::Rooms;
use super::shaped::{BlockStyle, Shaped, shape};
use crate::brief::Typography;
use crate::brief::typography::{Align, BlockType, Breaks, Font, Stack};
use crate::draft::{Block, BlockKind, Draft, Emphasis};
use crate::units::{Em, Length};

/// The blocks of a draft, shaped.
pub struct ShapedCopy<'a> {
    /// The blocks, in the order in which they are printed.
    pub paragraphs: Vec<ShapedBlock<'a>>,
    forms: Forms,
    /// Where the stack of blocks stands in a place that does not say so itself.
    pub(super) stack: Stack,
}

/// One block, shaped.
pub struct ShapedBlock<'a> {
    /// The block itself.
    pub block: &'a Block,
    /// The number of the block's part among those of its kind, from 1.
    pub part: usize,
    /// The faces it is set in.
    pub family: Family<'a>,
    /// The emphasis and hyphenation of the whole block.
    pub style: BlockStyle,
    /// The block's glyphs and pieces.
    pub shaped: Arc<Shaped>,
}

/// The type of each kind of block at the sizes of the brief.
#[derive(Debug, Clone, Copy)]
pub struct Forms([BlockMetrics; BlockKind::ALL.len()]);

/// The type of one kind of block in lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlockMetrics {
    /// The size.
    pub size: Length,
    /// From baseline to baseline.
    pub leading: Length,
    /// Room above the first line, unless the block is the first in its place.
    pub space_above: Length,
    /// Room before the first line of a block that follows another of its kind.
    pub indent: Length,
    /// Where lines stand in their measure.
    pub align: Align,
    /// How the places where lines end are chosen.
    pub breaks: Breaks,
    /// Whether the block keeps its alignment in a place that has another.
    own_align: bool,
    /// Whether the block keeps its way to choose where lines end when it is aligned otherwise.
    own_breaks: bool,
    /// Whether an opening quotation mark at a line's start hangs in the margin.
    pub hang_quotes: bool,
    /// The face's ascent less its descent, which is twice the depth of the baseline below the middle of the line, at a
    /// size.
    baseline: Em,
    /// Whether the block keeps its size when the blurb is tried at another.
    own_size: bool,
}

impl<'a> ShapedCopy<'a> {
    /// Shapes a draft in the type of its brief: only the blocks that have changed since the memory was used last.
    pub fn shape(draft: &'a Draft, typography: &Typography, faces: &'a Faces, memory: &mut SettingMemory) -> Self {
        let paragraphs = draft.blocks.iter().zip(draft.part_numbers()).map(|(block, part)| {
            let set = typography.of(block.kind);
            let family = faces.family(&set.font);
            let style = BlockStyle { emphasis: set.emphasis(), hyphenation: set.hyphenate };
            let shaped = memory.shape(block, &set.font, family, style);
            ShapedBlock { block, part, family, style, shaped }
        });
        let paragraphs = paragraphs.collect();
        memory.end();
        Self { paragraphs, forms: Forms::of(typography, faces), stack: typography.stack }
    }

    /// Another wording of one of the blocks, shaped as that block is.
    pub fn shape_other(&self, index: usize, block: &Block) -> Shaped {
        let ShapedBlock { family, style, .. } = &self.paragraphs[index];
        shape(block, *family, *style)
    }

    /// The place in which a block stands.
    pub fn place_of(&self, index: usize, rooms: &Rooms) -> usize {
        let ShapedBlock { block, part, .. } = &self.paragraphs[index];
        rooms.place_of(block.kind, *part)
    }

    /// The type of a block in its place.
    pub(super) fn form_of(&self, paragraph: &ShapedBlock<'_>, forms: &Forms, rooms: &Rooms) -> BlockMetrics {
        let place = rooms.place_of(paragraph.block.kind, paragraph.part);
        forms.form(paragraph.block.kind).aligned(rooms.places()[place].align)
    }

    /// The kind of the block that stands before another in its place; none where that is the first.
    pub(super) fn kind_before(&self, index: usize, rooms: &Rooms) -> Option<BlockKind> {
        let place = self.place_of(index, rooms);
        let before = (0..index).rev().find(|before| self.place_of(*before, rooms) == place)?;
        Some(self.paragraphs[before].block.kind)
    }

    /// Whether every block of a place keeps its size when the blurb is tried at another.
    pub(super) fn keeps_its_sizes(&self, place: usize, rooms: &Rooms) -> bool {
        let held = (0..self.paragraphs.len()).filter(|index| self.place_of(*index, rooms) == place);
        held.into_iter().all(|index| self.forms.form(self.paragraphs[index].block.kind).own_size)
    }

    /// The type at the brief's own sizes.
    pub fn forms(&self) -> &Forms {
        &self.forms
    }
}

impl Forms {
    fn of(typography: &Typography, faces: &Faces) -> Self {
        Self(BlockKind::ALL.map(|kind| BlockMetrics::of(typography.of(kind), faces)))
    }

    /// The type of one kind.
    pub fn form(&self, kind: BlockKind) -> &BlockMetrics {
        &self.0[kind as usize]
    }

    /// The type of every kind with the blurb at another size; its leading and spaces change in proportion, and so does
    /// every block that has no size of its own.
    pub fn at(&self, size: Length) -> Self {
        let blurb = self.form(BlockKind::Blurb).size;
        Self(self.0.map(|form| if form.own_size || blurb == Length::ZERO { form } else { form.scaled(size, blurb) }))
    }
}

impl BlockMetrics {
    fn of(set: &BlockType, faces: &Faces) -> Self {
        let face = faces.family(&set.font).face(set.emphasis());
        Self {
            size: set.size,
            leading: set.leading(),
            space_above: set.space_above,
            indent: set.indent,
            align: set.align,
            breaks: set.breaks,
            own_align: set.own_align,
            own_breaks: set.own_breaks,
            hang_quotes: set.hang_quotes,
            baseline: face.ascent() - face.descent(),
            own_size: set.own_size,
        }
    }

    /// The room above a block of this type: none above the first, and none between other titles, which are set as a
    /// list.
    pub(super) fn above(&self, before: Option<BlockKind>, kind: BlockKind) -> Length {
        let in_a_list = before == Some(BlockKind::OtherTitles) && kind == BlockKind::OtherTitles;
        if before.is_none() || in_a_list { Length::ZERO } else { self.space_above }
    }

    /// The room before the first line of a block of this type: its indent, where it follows another of its kind.
    pub(super) fn indent_after(&self, before: Option<BlockKind>, kind: BlockKind) -> Length {
        if before == Some(kind) { self.indent } else { Length::ZERO }
    }

    /// The type in a place where lines stand otherwise in their measure, unless the block has an alignment of its own.
    pub(super) fn aligned(mut self, align: Option<Align>) -> Self {
        if let Some(align) = align.filter(|_| !self.own_align) {
            self.align = align;
            self.breaks = if self.own_breaks { self.breaks } else { Breaks::suited_to(align) };
        }
        self
    }

    fn scaled(mut self, part: Length, of: Length) -> Self {
        self.size = self.size.scaled(part, of);
        self.leading = self.leading.scaled(part, of);
        self.space_above = self.space_above.scaled(part, of);
        self.indent = self.indent.scaled(part, of);
        self
    }

    /// How far the baseline stands below the top of its line: the face's own ascent and descent stand in the middle of
    /// the leading, as CSS 2.1 (section 10.8.1, "Leading and half-leading") has it.
    pub fn baseline(&self) -> Length {
        (self.leading + self.baseline.at(self.size)) / 2
    }
}

/// The blocks of the copy that was shaped last. A memory is valid only for the faces that it was made with: when fonts
/// are read again, a new memory must begin. With an empty memory every block is shaped; nothing else changes.
#[derive(Debug, Default)]
pub struct SettingMemory {
    before: VecDeque<ShapedEntry>,
    now: VecDeque<ShapedEntry>,
}

/// A block as it was shaped, with all that its shape depends on.
#[derive(Debug)]
struct ShapedEntry {
    text: String,
    runs: Vec<(Range<usize>, Emphasis)>,
    font: Font,
    style: BlockStyle,
    shaped: Arc<Shaped>,
}

impl ShapedEntry {
    fn is_of(&self, block: &Block, font: &Font, style: BlockStyle) -> bool {
        self.text == block.text() && self.runs == block.runs() && self.font == *font && self.style == style
    }
}

impl SettingMemory {
    /// Shapes a block, or remembers how it was shaped.
    pub(super) fn shape(&mut self, block: &Block, font: &Font, family: Family<'_>, style: BlockStyle) -> Arc<Shaped> {
        // Blocks keep their order while a draft is written, so the one that is wanted stands near the front.
        let known = self.before.iter().position(|entry| entry.is_of(block, font, style));
        let entry = known.and_then(|known| self.before.remove(known)).unwrap_or_else(|| ShapedEntry {
            text: block.text().to_owned(),
            runs: block.runs().to_vec(),
            font: font.clone(),
            style,
            shaped: Arc::new(shape(block, family, style)),
        });
        let shaped = Arc::clone(&entry.shaped);
        self.now.push_back(entry);
        shaped
    }

    /// Forgets what the copy no longer has.
    pub(super) fn end(&mut self) {
        self.before = std::mem::take(&mut self.now);
    }
}
