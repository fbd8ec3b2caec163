//! A quick hash of spellings, one and the same when the lists are laid out at build time and when they are looked up.

use std::hash::Hasher;

const FACTOR: u64 = 0x9e37_79b9_7f4a_7c15;

/// Takes in eight bytes at a time.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct SpellingHasher(u64);

impl SpellingHasher {
    fn take(&mut self, number: u64) {
        let mixed = (self.0 ^ number).wrapping_mul(FACTOR);
        self.0 = mixed ^ (mixed >> 32);
    }
}

impl Hasher for SpellingHasher {
    fn finish(&self) -> u64 {
        self.0.wrapping_mul(FACTOR)
    }

    fn write(&mut self, bytes: &[u8]) {
        let mut rest = bytes;
        while let Some((eight, more)) = rest.split_first_chunk::<8>() {
            self.take(u64::from_le_bytes(*eight));
            rest = more;
        }
        let mut last = u64::try_from(rest.len()).unwrap_or(8) << 56;
        if let Some((four, more)) = rest.split_first_chunk::<4>() {
            last |= u64::from(u32::from_le_bytes(*four));
            rest = more;
        }
        for (at, byte) in rest.iter().enumerate() {
            last |= u64::from(*byte) << (32 + 8 * at);
        }
        self.take(last);
    }

    fn write_u8(&mut self, number: u8) {
        self.take(u64::from(number));
    }

    fn write_u32(&mut self, number: u32) {
        self.take(u64::from(number));
    }
}

/// The hash of a spelling.
pub(crate) fn hash(spelling: &str) -> u64 {
    let mut hasher = SpellingHasher::default();
    hasher.write(spelling.as_bytes());
    hasher.finish()
}
