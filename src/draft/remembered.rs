//! Remembers what was last found in each block of a draft, so that an unchanged block is not examined again.

use std::collections::VecDeque;

use super::block::Block;

/// What was found in each block, and the settings with which it was found. The settings must hold everything besides
/// the block that the finding depends on.
#[derive(Debug)]
pub struct Remembered<S, T> {
    settings: Option<S>,
    found: VecDeque<(Block, T)>,
}

/// How many of the former blocks are searched for a block. Blocks keep their order while a draft is written, so a known
/// block is near; a block that is not found is examined again, which costs time and changes nothing.
const NEAR: usize = 256;

impl<S, T> Default for Remembered<S, T> {
    fn default() -> Self {
        Self { settings: None, found: VecDeque::new() }
    }
}

impl<S: PartialEq, T> Remembered<S, T> {
    /// Calls `find` for every block that has changed, or for all blocks if the settings have, with the value given
    /// beside the block. Returns what is known of all blocks, in their order.
    pub fn renew<'b, P>(
        &mut self,
        settings: S,
        blocks: impl Iterator<Item = (&'b Block, P)>,
        mut find: impl FnMut(&'b Block, P) -> T,
    ) -> impl Iterator<Item = &T> {
        if self.settings.as_ref() != Some(&settings) {
            self.settings = Some(settings);
            self.found.clear();
        }
        let mut before = std::mem::take(&mut self.found);
        for (block, with) in blocks {
            let known = before.iter().take(NEAR).position(|(known, _)| known.reads_like(block));
            let known = known.and_then(|at| before.remove(at));
            self.found.push_back(known.unwrap_or_else(|| (block.clone(), find(block, with))));
        }
        self.found.iter().map(|(_, found)| found)
    }
}

#[cfg(test)]
mod tests {
    use super::Remembered;
    use crate::draft::Draft;

    /// Renews the memory. Returns the blocks that were examined, and what is known of all blocks.
    fn renewed(memory: &mut Remembered<u8, usize>, settings: u8, source: &str) -> (Vec<String>, Vec<usize>) {
        let draft = Draft::read(source);
        let mut looked_at = Vec::new();
        let known = memory.renew(settings, draft.blocks.iter().map(|block| (block, ())), |block, ()| {
            looked_at.push(block.text().to_owned());
            block.text().len()
        });
        let known = known.copied().collect();
        (looked_at, known)
    }

    #[test]
    fn only_what_has_changed_is_looked_at() {
        let mut memory = Remembered::default();
        let all = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
        assert_eq!(renewed(&mut memory, 0, "lamp\n\noil\n\nboats"), (all(&["lamp", "oil", "boats"]), vec![4, 3, 5]));
        assert_eq!(renewed(&mut memory, 0, "lamps\n\noil\n\nboats"), (all(&["lamps"]), vec![5, 3, 5]));
        assert_eq!(renewed(&mut memory, 0, "sea\n\nlamps\n\nboats"), (all(&["sea"]), vec![3, 5, 5]));
        assert_eq!(renewed(&mut memory, 0, "sea\n\n*lamps*\n\n# boats"), (all(&["lamps", "boats"]), vec![3, 5, 5]));
        assert_eq!(renewed(&mut memory, 1, "sea"), (all(&["sea"]), vec![3]));
    }
}
