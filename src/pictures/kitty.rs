//! Pictures by the graphics protocol of kitty: sent as numbered data, placed at the cursor, and deleted again.
//!
//! Source: the terminal graphics protocol, as its authors describe it: the control data, chunks of at most 4096 bytes
//! of which all but the last are multiples of four long, `q=2` for no answer, `C=1` for a cursor that stays.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use miniz_oxide::deflate::compress_to_vec_zlib;

use super::Raster;

/// The most bytes of data in one chunk.
const CHUNK: usize = 4096;

/// The level of compression: the fastest, since a picture is sent once.
const LEVEL: u8 = 1;

/// The number of the picture that the question asks about.
pub const ASKED: u32 = 31;

/// Asks whether the terminal shows pictures of this protocol: one that does not answer before it answers a later
/// question does not.
pub const QUESTION: &str = "\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\";

/// Ends data that were begun and will not be sent to their end.
pub const BROKEN_OFF: &str = "\x1b_Gm=0,q=2;\x1b\\";

/// Takes all pictures from the screen and frees their data.
pub const ALL_DELETED: &str = "\x1b_Ga=d,d=A,q=2\x1b\\";

/// The sequences that hand a picture's data to the terminal under a number. Between them other output may stand, but
/// nothing of this protocol.
pub fn data(raster: &Raster, number: u32) -> Vec<Vec<u8>> {
    let letters = STANDARD.encode(compress_to_vec_zlib(raster.pixels.as_flattened(), LEVEL));
    let chunks = letters.as_bytes().chunks(CHUNK);
    let last = chunks.len().saturating_sub(1);
    let sequence = |(at, chunk): (usize, &[u8])| {
        let more = u8::from(at < last);
        let control = match at {
            0 => format!("a=t,t=d,f=24,o=z,i={number},s={},v={},q=2,m={more}", raster.width, raster.height),
            _ => format!("m={more},q=2"),
        };
        [b"\x1b_G", control.as_bytes(), b";", chunk, b"\x1b\\"].concat()
    };
    chunks.enumerate().map(sequence).collect()
}

/// The sequence that shows a picture with its upper left corner at the cursor, on so many columns and rows of cells.
pub fn placed(number: u32, columns: u16, rows: u16) -> String {
    format!("\x1b_Ga=p,i={number},p=1,c={columns},r={rows},C=1,q=2\x1b\\")
}

/// The sequence that takes a picture from the screen and frees its data.
pub fn deleted(number: u32) -> String {
    format!("\x1b_Ga=d,d=I,i={number},q=2\x1b\\")
}

#[cfg(test)]
mod tests {
    use base64::Engine as _;
    use base64::engine::general_purpose::STANDARD;
    use miniz_oxide::inflate::decompress_to_vec_zlib;

    use super::{CHUNK, Raster, data};

    /// A picture that does not become small.
    fn noise(width: usize, height: usize) -> Raster {
        let mut seed = 7_u32;
        let mut step = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 24) as u8
        };
        Raster { width, height, pixels: (0..width * height).map(|_| [step(), step(), step()]).collect() }
    }

    #[test]
    fn what_is_sent_reads_back_as_the_picture_in_chunks_of_the_right_size() {
        for (width, height) in [(1, 1), (3, 5), (90, 70)] {
            let raster = noise(width, height);
            let sequences = data(&raster, 9);
            let mut letters = Vec::new();
            for (at, sequence) in sequences.iter().enumerate() {
                let inner = sequence.strip_prefix(b"\x1b_G").unwrap().strip_suffix(b"\x1b\\").unwrap();
                let split = inner.iter().position(|byte| *byte == b';').unwrap();
                let (control, chunk) = (std::str::from_utf8(&inner[..split]).unwrap(), &inner[split + 1..]);
                let is_last = at + 1 == sequences.len();
                assert!(control.contains(if is_last { "m=0" } else { "m=1" }), "{control}");
                assert_eq!(control.contains(&format!("i=9,s={width},v={height}")), at == 0, "{control}");
                assert!(chunk.len() <= CHUNK && (is_last || chunk.len() % 4 == 0), "{}", chunk.len());
                letters.extend_from_slice(chunk);
            }
            let back = decompress_to_vec_zlib(&STANDARD.decode(&letters).unwrap()).unwrap();
            assert_eq!(back, raster.pixels.as_flattened());
            assert!(sequences.len() > 2 || width < 90);
        }
    }
}
