//! What the streams of a PDF are packed with, and a number by which equal bytes are known.

/// The level of packing, of 10: half the time of the highest for all but a hundredth of the gain (common practice).
const LEVEL: u8 = 6;

/// Bytes as FlateDecode unpacks them.
pub(super) fn deflated(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, LEVEL)
}

/// A number that equal bytes share, and hardly any others: a hash, not a safeguard.
///
/// Source: the FNV-1a hash of Fowler, Noll and Vo in 128 bits; its two numbers are from memory.
pub(super) fn fingerprint(bytes: &[u8]) -> u128 {
    const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    bytes.iter().fold(BASIS, |hash, byte| (hash ^ u128::from(*byte)).wrapping_mul(PRIME))
}
