//! The checksum by which a part of a packed file is known to be whole: CRC-32.
//!
//! Source: .ZIP File Format Specification (APPNOTE) 6.3, section 4.4.7; ISO 3309.

/// The generating polynomial, its bits in the order of the checksum.
const POLYNOMIAL: u32 = 0xedb8_8320;

/// The remainder that each value of a byte leaves, so that the checksum is taken by bytes and not by bits.
const TABLE: [u32; 256] = table();

const fn table() -> [u32; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < table.len() {
        let mut sum = byte as u32;
        let mut bit = 0;
        while bit < 8 {
            sum = if sum & 1 == 1 { (sum >> 1) ^ POLYNOMIAL } else { sum >> 1 };
            bit += 1;
        }
        table[byte] = sum;
        byte += 1;
    }
    table
}

/// The CRC-32 of some bytes.
pub fn of(bytes: &[u8]) -> u32 {
    let add = |sum: u32, byte: &u8| (sum >> 8) ^ TABLE[usize::from(sum.to_le_bytes()[0] ^ byte)];
    !bytes.iter().fold(u32::MAX, add)
}

#[cfg(test)]
mod tests {
    /// The values that the standard's check string and the empty string have.
    #[test]
    fn a_checksum_is_the_standards() {
        assert_eq!(super::of(b"123456789"), 0xcbf4_3926);
        assert_eq!(super::of(b""), 0);
    }
}
