//! One version of the copy, and the notes made while its file was read.

use super::block::{Block, Span};
use super::kind::BlockKind;

/// The copy of one draft, in the order in which it is printed.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    /// What is printed.
    pub blocks: Vec<Block>,
    /// Where a rule (`---`) stands between two blocks, as the number of the block below it. Rules are not printed.
    pub rules: Vec<usize>,
    /// What was left out or could not be understood.
    pub notes: Vec<Note>,
    /// The comments that begin a line, in order. They are neither printed nor measured.
    pub comments: Vec<Comment>,
}

impl Draft {
    /// The blocks of one kind, in order.
    pub fn blocks_of(&self, kind: BlockKind) -> impl Iterator<Item = &Block> {
        self.blocks.iter().filter(move |block| block.kind == kind)
    }

    /// Whether there is a word in any block but the headline: without one there is nothing to measure or to sell by.
    pub fn has_copy(&self) -> bool {
        let holds_words = |block: &Block| block.text.contains(char::is_alphanumeric);
        self.blocks.iter().any(|block| block.kind != BlockKind::Headline && holds_words(block))
    }

    /// The number of the part that each block belongs to among the parts of its kind, from 1: the second quote has 2,
    /// and so have its credit and its further paragraphs. A part goes on while blocks of its kind stand in a row; a
    /// quote ends with its credit, and a heading or a new block quotation begins a part of its own.
    pub fn part_numbers(&self) -> Vec<usize> {
        let mut parts = [0; BlockKind::ALL.len()];
        let mut before: Option<BlockKind> = None;
        let number = |block: &Block| {
            let is_credit = block.kind == BlockKind::Credit;
            let goes_with = if is_credit { BlockKind::Quote } else { block.kind };
            let part = &mut parts[goes_with as usize];
            let begins = *part == 0 || !is_credit && (before != Some(block.kind) || block.begins_part);
            *part += usize::from(begins);
            before = Some(block.kind);
            *part
        };
        self.blocks.iter().map(number).collect()
    }

    /// Whether two drafts print the same: the same blocks of the same words in the same faces. A blank has no face.
    pub fn prints_like(&self, other: &Self) -> bool {
        let is_same = |(one, other): (&Block, &Block)| {
            one.kind == other.kind && one.text == other.text && one.faces().eq(other.faces())
        };
        self.blocks.len() == other.blocks.len() && self.blocks.iter().zip(&other.blocks).all(is_same)
    }
}

/// Something about the draft's form that the author should know; never a judgement of the words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The stretch of the file that the note is about.
    pub span: Span,
    /// What was found and what was done about it, as a sentence without its stop.
    pub text: String,
}

/// A comment that begins a line of the file, outside quotations and lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comment {
    /// The whole comment with its marks.
    pub span: Span,
    /// What the comment says: lines ended by `\n`, without blanks at either end, and `-->` where the file has `--\>`.
    pub text: String,
}
