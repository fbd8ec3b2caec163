//! What was shaped last: a block that has not changed since is not shaped again.

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::Arc;

use super::faces::Family;
use super::shaped::{Manner, Shaped, shape};
use crate::brief::typography::Font;
use crate::draft::{Block, Emphasis};

/// The blocks of the copy that was shaped last. It holds for the faces it was made with: where fonts are read again, a new
/// one begins.
#[derive(Debug, Default)]
pub struct SettingMemory {
    before: VecDeque<Kept>,
    now: VecDeque<Kept>,
}

/// A block as it was shaped, with all that its shape depends on.
#[derive(Debug)]
struct Kept {
    text: String,
    runs: Vec<(Range<usize>, Emphasis)>,
    font: Font,
    manner: Manner,
    shaped: Arc<Shaped>,
}

impl Kept {
    fn is_of(&self, block: &Block, font: &Font, manner: Manner) -> bool {
        self.text == block.text() && self.runs == block.runs() && self.font == *font && self.manner == manner
    }
}

impl SettingMemory {
    /// Shapes a block, or remembers how it was shaped.
    pub(super) fn shape(&mut self, block: &Block, font: &Font, family: Family<'_>, manner: Manner) -> Arc<Shaped> {
        // Blocks keep their order while a draft is written, so the one that is wanted stands near the front.
        let known = self.before.iter().position(|kept| kept.is_of(block, font, manner));
        let kept = known.and_then(|known| self.before.remove(known)).unwrap_or_else(|| Kept {
            text: block.text().to_owned(),
            runs: block.runs().to_vec(),
            font: font.clone(),
            manner,
            shaped: Arc::new(shape(block, family, manner)),
        });
        let shaped = Arc::clone(&kept.shaped);
        self.now.push_back(kept);
        shaped
    }

    /// Forgets what the copy no longer has.
    pub(super) fn end(&mut self) {
        self.before = std::mem::take(&mut self.now);
    }
}
