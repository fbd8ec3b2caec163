//! How much may be tried: steps that are counted, so that no copy, whatever it is, keeps the program busy without end.

use std::cell::Cell;

/// Steps that are left for a search. One step is a piece of text laid on a line, or what takes about as long.
pub struct Work<'a> {
    left: Cell<usize>,
    is_wanted: &'a dyn Fn() -> bool,
}

/// Steps that shaping takes for each byte of a text, roughly.
const SHAPING: usize = 8;

impl<'a> Work<'a> {
    /// Allows so many steps for an answer that may come to be unwanted; `is_wanted` is asked before each part of the
    /// work.
    pub fn of(steps: usize, is_wanted: &'a dyn Fn() -> bool) -> Self {
        Self { left: Cell::new(steps), is_wanted }
    }

    /// Takes off the steps of some work before it is done. Where fewer are left, or the answer is no longer wanted, no
    /// step is left from there on, and the search has to end with what it has.
    pub fn spend(&self, steps: usize) -> bool {
        let left = self.left.get().checked_sub(steps.max(1)).filter(|_| (self.is_wanted)());
        self.left.set(left.unwrap_or(0));
        left.is_some()
    }

    /// Takes off the steps that it takes to shape a text and lay it on lines.
    pub fn spend_on_shaping(&self, text: &str) -> bool {
        self.spend(text.len() * SHAPING)
    }
}

#[cfg(test)]
mod tests {
    use super::Work;

    #[test]
    fn work_ends_when_its_steps_are_gone_or_nobody_waits_for_it() {
        let work = Work::of(10, &|| true);
        assert!(work.spend(9));
        assert!(!work.spend(2));
        assert!(!work.spend(1), "what is left after a part that was too much is no more");
        assert!(!Work::of(10, &|| false).spend(1));
    }
}
