//! The elements of a document that are passed over with all that is in them.

/// How many elements are open inside what is passed over; none while nothing is.
#[derive(Debug, Default)]
pub(super) struct Skipped {
    deep: usize,
}

impl Skipped {
    /// Passes over the element that just began, until it ends.
    pub(super) fn begin(&mut self) {
        self.deep = 1;
    }

    /// Whether something is passed over at present.
    pub(super) fn is_on(&self) -> bool {
        self.deep > 0
    }

    /// Counts an element that begins inside what is passed over.
    pub(super) fn enter(&mut self) {
        self.deep += 1;
    }

    /// Counts the end of an element inside what is passed over, or of the whole.
    pub(super) fn leave(&mut self) {
        self.deep = self.deep.saturating_sub(1);
    }
}
