//! What was last found in the blocks of a draft, so that a block that stands as it stood is not looked at again.

use std::collections::VecDeque;

use super::block::Block;

/// What was found in each of some blocks, and the settings by which it was found. Those must hold everything beside the
/// block that what is found depends on.
#[derive(Debug)]
pub struct Remembered<S, T> {
    settings: Option<S>,
    found: VecDeque<(Block, T)>,
}

/// How far ahead a block is looked for among those that were there. Blocks keep their order while a draft is written,
/// so it is near; a block that is not found is looked at again, which costs time and changes nothing.
const NEAR: usize = 256;

impl<S, T> Default for Remembered<S, T> {
    fn default() -> Self {
        Self { settings: None, found: VecDeque::new() }
    }
}

impl<S: PartialEq, T> Remembered<S, T> {
    /// Calls `find` for every block, with what is given beside it, or only for those that have changed where the
    /// settings are the same. Gives what was found in all blocks, in their order.
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

    /// Renews and gives the blocks that were looked at, and what is known of all.
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
