//! Numbers that seem to be drawn by lot and are the same in every run: xorshift, by Marsaglia 2003.

/// A row of numbers that its seed, which is not 0, settles.
pub(crate) struct Random(pub(crate) u64);

impl Random {
    /// The next number, at least 0 and below `end`.
    pub(crate) fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }

    /// The next place in a list of `length`, which is not empty.
    pub(crate) fn place(&mut self, length: usize) -> usize {
        self.below(length as u64) as usize
    }
}
