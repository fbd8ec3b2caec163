//! Words and letters: of blocks, on the lines that are over, and those that would fill the room that is left.

use std::ops::Range;

use crate::draft::{Block, Draft, Remembered};
use crate::setting::ShapedCopy;
use crate::setting::lines::SetLine;
use crate::text::words;
use crate::units::Length;

/// The words and letters of the blocks that were counted last.
#[derive(Debug, Default)]
pub(super) struct AmountsMemory(Remembered<(), WordsAndLetters>);

/// Words and letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct WordsAndLetters {
    /// How many words.
    pub words: usize,
    /// How many letters.
    pub letters: usize,
}

impl WordsAndLetters {
    pub(super) fn of(text: &str) -> Self {
        Self { words: words::find(text).len(), letters: text.chars().filter(|c| c.is_alphabetic()).count() }
    }

    /// The counts of every block of a draft.
    pub(super) fn of_blocks(draft: &Draft, memory: &mut AmountsMemory) -> Vec<Self> {
        let blocks = draft.blocks.iter().map(|block| (block, ()));
        memory.0.renew((), blocks, |block, ()| Self::of(block.text())).copied().collect()
    }

    /// Counts the words and letters on the lines that are over. From the first such line of a block on, all of the
    /// block is over, so the rest of its text is counted at once; `whole` are the counts of the blocks.
    pub(super) fn of_lines_over<'s>(
        lines: impl Iterator<Item = &'s SetLine>,
        copy: &ShapedCopy<'_>,
        whole: &[Self],
    ) -> Self {
        let mut counts = Self::default();
        let mut counted: Option<usize> = None;
        for line in lines.filter(|line| line.over) {
            if counted == Some(line.paragraph) {
                continue;
            }
            counted = Some(line.paragraph);
            let part = match whole.get(line.paragraph) {
                Some(whole) if line.text.start == 0 => *whole,
                _ => Self::of(over_part(copy.paragraphs[line.paragraph].block, &line.text)),
            };
            counts.words += part.words;
            counts.letters += part.letters;
        }
        counts
    }

    /// How much copy of the kind of some lines would fill `length`, rounded down; `counts` are those of their blocks.
    pub(super) fn that_fill<'s>(
        length: Length,
        lines: impl Iterator<Item = &'s SetLine>,
        counts: impl Iterator<Item = &'s Self>,
    ) -> Self {
        let set: Length = lines.map(|line| line.width).sum();
        if set <= Length::ZERO || length <= Length::ZERO {
            return Self::default();
        }
        let share = |count: usize| (count as f64 * length.to_pt() / set.to_pt()).floor() as usize;
        let total = counts.fold(Self::default(), |sum, part| Self {
            words: sum.words + part.words,
            letters: sum.letters + part.letters,
        });
        Self { words: share(total.words), letters: share(total.letters) }
    }
}

fn over_part<'a>(block: &'a Block, first_line: &Range<usize>) -> &'a str {
    &block.text()[first_line.start..]
}
