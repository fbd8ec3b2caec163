//! What was shaped last: a block that has not changed since is not shaped again.

use std::ops::Range;

use super::faces::Family;
use super::shaped::{Manner, Shaped, shape};
use crate::brief::typography::Font;
use crate::draft::{Block, Emphasis};

/// The blocks of the copy that was shaped last. It holds for the faces it was made with: where fonts are read again, a new
/// one begins.
#[derive(Debug, Default)]
pub struct Memory {
    before: Vec<Kept>,
    now: Vec<Kept>,
}

/// A block as it was shaped, with all that its shape depends on.
#[derive(Debug)]
struct Kept {
    text: String,
    runs: Vec<(Range<usize>, Emphasis)>,
    font: Font,
    manner: Manner,
    shaped: Shaped,
}

impl Kept {
    fn is_of(&self, block: &Block, font: &Font, manner: Manner) -> bool {
        self.text == block.text() && self.runs == block.runs() && self.font == *font && self.manner == manner
    }
}

impl Memory {
    /// Shapes a block, or remembers how it was shaped.
    pub(super) fn shape(&mut self, block: &Block, font: &Font, family: Family<'_>, manner: Manner) -> Shaped {
        let known = self.before.iter().position(|kept| kept.is_of(block, font, manner));
        let kept = known.map_or_else(
            || Kept {
                text: block.text().to_owned(),
                runs: block.runs().to_vec(),
                font: font.clone(),
                manner,
                shaped: shape(block, family, manner),
            },
            |known| self.before.swap_remove(known),
        );
        let shaped = kept.shaped.clone();
        self.now.push(kept);
        shaped
    }

    /// Forgets what the copy no longer has.
    pub(super) fn end(&mut self) {
        self.before = std::mem::take(&mut self.now);
    }
}
