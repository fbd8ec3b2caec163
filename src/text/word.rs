//! A word of the copy, with what is known about it once its block has been read.

use std::ops::Range;

use super::spelling::{Spelling, WordMark};

/// How a word's syllables are known, from the surest to the least sure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// The brief gives the syllables with the name.
    Given,
    /// The pronouncing dictionary has the word, or all parts of it.
    Listed,
    /// A figure, counted as spoken.
    Figure,
    /// An abbreviation, counted as spoken.
    Abbreviation,
    /// Counted by the rules of another language than English.
    Rule,
    /// No list knows the word; its letters were counted by patterns.
    Guessed,
}

/// A word of the copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The number of the word's block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text.
    pub range: Range<usize>,
    /// Syllables as spoken; at least 1 once they are counted.
    pub syllables: u32,
    /// How the syllables are known.
    pub basis: Basis,
    /// The word's spelling without a possessive ending. Until the syllables are counted, the spelling is right only for
    /// a plain word.
    pub(crate) spelling: Spelling,
    /// Whether the word is letters of ASCII alone.
    pub(crate) is_plain: bool,
    /// Whether `spelling` holds everything that the formulas count for the word, as the build script stored it: the
    /// dictionary has the word, the word is small letters of ASCII alone, and its syllables are the dictionary's.
    pub(crate) is_settled: bool,
}

impl Word {
    /// A word that has been found in its block and not yet looked up.
    #[inline]
    pub(super) fn found(block: usize, range: Range<usize>, spelling: Spelling, is_plain: bool) -> Self {
        Self { block, range, syllables: 0, basis: Basis::Guessed, spelling, is_plain, is_settled: false }
    }

    /// Whether the dictionary has the word, and it is neither an initial nor on the list of abbreviations.
    pub(super) fn is_listed_and_no_abbreviation(&self) -> bool {
        self.is_plain && self.range.len() > 1 && self.spelling.is_there() && !self.spelling.has(WordMark::Abbreviation)
    }
}
