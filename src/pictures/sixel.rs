//! Pictures as sixels: bands of six rows, one colour after the other.
//!
//! Sources: DEC STD 070, chapter 9; VT330/VT340 Programmer Reference Manual, chapter 14.

use std::ops::Range;

use super::Raster;
use super::palette::indexed;

/// The rows of pixels in a band. A picture whose height is a multiple of it ends where its last band does.
pub const BAND: usize = 6;

/// The most colours of one picture: as many as every terminal has that shows sixels at all.
pub const COLOURS: usize = 256;

/// What begins the data: pixels are square, and those that no colour sets stay as they are.
const BEGIN: &str = "\x1bP0;1;0q";
const END: &str = "\x1b\\";

/// The sequence that draws some rows of a picture with their upper left corner at the cursor, in at most `colours`
/// colours; nothing for a picture without pixels.
pub fn sequence(raster: &Raster, rows: Range<usize>, colours: usize) -> Vec<u8> {
    let rows = rows.start.min(raster.height)..rows.end.min(raster.height);
    if raster.width == 0 || rows.is_empty() {
        return Vec::new();
    }
    let pixels = raster.pixels[rows.start * raster.width..rows.end * raster.width].to_vec();
    let part = Raster { width: raster.width, height: rows.len(), pixels };
    let indexed = indexed(&part, colours);
    let mut written = format!("{BEGIN}\"1;1;{};{}", part.width, part.height);
    for (number, colour) in indexed.colours.iter().enumerate() {
        let [red, green, blue] = colour.map(|step| (u32::from(step) * 100 + 127) / 255);
        written.push_str(&format!("#{number};2;{red};{green};{blue}"));
    }
    let mut written = written.into_bytes();
    for band in indexed.pixels.chunks(part.width * BAND) {
        put_band(band, part.width, indexed.colours.len(), &mut written);
    }
    written.extend_from_slice(END.as_bytes());
    written
}

/// Writes a band: for each of its colours, which of the six pixels of each column have it.
fn put_band(band: &[u8], width: usize, colours: usize, written: &mut Vec<u8>) {
    let mut slots: Vec<Option<usize>> = vec![None; colours];
    let mut columns: Vec<(usize, Vec<u8>)> = Vec::new();
    for (at, number) in band.iter().enumerate() {
        let number = usize::from(*number);
        let slot = *slots[number].get_or_insert_with(|| {
            columns.push((number, vec![0; width]));
            columns.len() - 1
        });
        columns[slot].1[at % width] |= 1 << (at / width);
    }
    for (place, (number, bits)) in columns.iter().enumerate() {
        if place > 0 {
            written.push(b'$');
        }
        written.extend_from_slice(format!("#{number}").as_bytes());
        // What no pixel follows need not be written.
        let end = bits.iter().rposition(|bits| *bits != 0).map_or(0, |last| last + 1);
        for run in bits[..end].chunk_by(|one, other| one == other) {
            let sign = 0x3f + run[0];
            if run.len() > 3 {
                written.extend_from_slice(format!("!{}", run.len()).as_bytes());
                written.push(sign);
            } else {
                written.extend(run.iter().map(|_| sign));
            }
        }
    }
    written.push(b'-');
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::{BAND, COLOURS, Raster, sequence};

    /// What a terminal shows of a sequence: its width, and a colour in hundredths for each pixel that was set.
    fn read_back(bytes: &[u8]) -> (usize, Vec<Option<[u8; 3]>>) {
        let text = std::str::from_utf8(bytes).unwrap();
        let data = text.strip_prefix("\x1bP0;1;0q\"1;1;").unwrap().strip_suffix("\x1b\\").unwrap();
        let number = |from: &str| from.chars().take_while(char::is_ascii_digit).collect::<String>();
        let width: usize = number(data).parse().unwrap();
        let height: usize = number(&data[data.find(';').unwrap() + 1..]).parse().unwrap();
        let mut rest = &data[data.find('#').unwrap_or(data.len())..];
        let mut registers: HashMap<usize, [u8; 3]> = HashMap::new();
        let mut pixels = vec![None; width * height];
        let (mut colour, mut x, mut band, mut times) = (0, 0, 0, 1);
        while let Some(sign) = rest.chars().next() {
            rest = &rest[1..];
            match sign {
                '#' | '!' => {
                    let end = rest.find(|sign: char| !sign.is_ascii_digit() && sign != ';').unwrap_or(rest.len());
                    let values: Vec<usize> = rest[..end].split(';').map(|value| value.parse().unwrap()).collect();
                    rest = &rest[end..];
                    match (sign, &values[..]) {
                        ('!', [count]) => times = *count,
                        ('#', [register]) => colour = *register,
                        ('#', [register, 2, red, green, blue]) => {
                            registers.insert(*register, [*red as u8, *green as u8, *blue as u8]);
                        }
                        other => panic!("{other:?}"),
                    }
                }
                '$' => x = 0,
                '-' => (x, band) = (0, band + 1),
                '?'..='~' => {
                    for _ in 0..std::mem::replace(&mut times, 1) {
                        for row in (0..BAND).filter(|row| (sign as u8 - 0x3f) >> row & 1 == 1) {
                            pixels[(band * BAND + row) * width + x] = Some(registers[&colour]);
                        }
                        x += 1;
                    }
                }
                other => panic!("{other:?}"),
            }
        }
        (width, pixels)
    }

    fn hundredths(colour: [u8; 3]) -> [u8; 3] {
        colour.map(|step| (f64::from(step) / 2.55).round() as u8)
    }

    #[test]
    fn what_is_written_reads_back_as_the_picture() {
        for (width, height) in [(1, 1), (5, 6), (7, 13), (300, 20)] {
            let colour = |at: usize| [[255; 3], [17; 3], [192, 0, 0], [0, 128, 60]][at * at / 3 % 4];
            let raster = Raster { width, height, pixels: (0..width * height).map(colour).collect() };
            let expected: Vec<_> = raster.pixels.iter().map(|colour| Some(hundredths(*colour))).collect();
            assert_eq!(read_back(&sequence(&raster, 0..height, COLOURS)), (width, expected));
        }
    }

    #[test]
    fn a_part_is_drawn_by_itself() {
        let raster = Raster { width: 2, height: 18, pixels: (0..36).map(|at| [at; 3]).collect() };
        let expected: Vec<_> = raster.pixels[12..24].iter().map(|colour| Some(hundredths(*colour))).collect();
        assert_eq!(read_back(&sequence(&raster, 6..12, COLOURS)), (2, expected));
        assert!(sequence(&raster, 18..24, COLOURS).is_empty());
        assert!(sequence(&Raster { width: 0, height: 0, pixels: Vec::new() }, 0..6, COLOURS).is_empty());
    }

    #[test]
    fn of_many_colours_no_pixel_is_far_off() {
        let colour = |at: usize| [(at % 90 * 2) as u8, (at / 90 * 2) as u8, 90];
        let raster = Raster { width: 90, height: 90, pixels: (0..8100).map(colour).collect() };
        let (_, shown) = read_back(&sequence(&raster, 0..90, COLOURS));
        for (own, shown) in raster.pixels.iter().zip(shown) {
            for (own, shown) in hundredths(*own).into_iter().zip(shown.expect("every pixel is set")) {
                assert!(own.abs_diff(shown) <= 9, "{own} {shown}");
            }
        }
    }
}
