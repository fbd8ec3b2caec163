//! What was shaped last: a block that has not changed since is not shaped again.

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::Arc;

use super::faces::Family;
use super::shaped::{BlockStyle, Shaped, shape};
use crate::brief::typography::Font;
use crate::draft::{Block, Emphasis};

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
