//! The scans of a JPEG, where its decoder has to be kept from going wrong.
//!
//! Source: ITU-T T.81, B.1.1.4, B.2.2 and B.2.3. What the decoder (zune-jpeg 0.5.15) does was found by trying.

use std::ops::RangeInclusive;

/// Marks without a length.
const BARE: [RangeInclusive<u8>; 2] = [0x01..=0x01, 0xd0..=0xd8];

/// The scans of a JPEG. Of one that is not baseline only their number is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct ScansOfJpeg {
    /// Whether each colour has a scan of its own, and colours have sizes with which the decoder lays them out wrongly:
    /// where one is smaller than others in height, or larger than the first. For some such sizes it panics.
    pub(super) are_laid_out_wrongly: bool,
    /// How many there are.
    pub(super) count: usize,
    /// Where the mark of the picture's end stands. A decoder that comes to it early goes on with noughts and shows
    /// colours that are not the picture's; without the mark it tells that the picture ends.
    pub(super) end: Option<usize>,
}

impl ScansOfJpeg {
    /// Finds the scans of the first picture in some bytes.
    pub(super) fn of(bytes: &[u8]) -> Self {
        let mut scans = Self::default();
        let (mut at, mut colours, mut is_uneven) = (2, None, false);
        while let Some(found) = bytes.get(at..).and_then(|rest| rest.iter().position(|byte| *byte == 0xff)) {
            at += found;
            let Some(&mark) = bytes.get(at + 1) else { break };
            if mark == 0xff || mark == 0 || BARE.iter().any(|bare| bare.contains(&mark)) {
                at += if mark == 0xff { 1 } else { 2 };
                continue;
            }
            if mark == 0xd9 {
                scans.end = (scans.count > 0 && colours.is_some()).then_some(at);
                break;
            }
            let Some(&[high, low]) = bytes.get(at + 2..at + 4) else { break };
            let body = bytes.get(at + 4..).unwrap_or_default();
            match mark {
                // A frame: height, width, and of each colour a number, its sizes and its table.
                0xc0 | 0xc1 => {
                    let count = body.get(5).copied().unwrap_or(0);
                    let sizes: Vec<u8> = body.iter().skip(7).step_by(3).take(usize::from(count)).copied().collect();
                    is_uneven |= sizes.first().is_some_and(|first| first & 15 != 1);
                    is_uneven |= sizes.iter().skip(1).any(|size| *size != 0x11);
                    colours = Some(count);
                }
                // A scan, with the number of its colours: that of the first decides.
                0xda => {
                    let count = body.first().copied();
                    scans.are_laid_out_wrongly |= scans.count == 0 && is_uneven && count != colours;
                    scans.count += 1;
                }
                _ => {}
            }
            at += 2 + usize::from(u16::from_be_bytes([high, low])).max(2);
        }
        scans
    }
}
