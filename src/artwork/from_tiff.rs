//! Art from a TIFF: shades, screen colours, a palette or four inks, of up to 16 bits, in strips or tiles, and the first
//! picture where there are several.
//!
//! Source: TIFF 6.0, sections 3 to 9 and 13 to 18.

use std::borrow::Cow;
use std::io::{Cursor, ErrorKind};

use tiff::decoder::{ChunkType, Decoder, Limits, TiffCodingUnit};
use tiff::tags::Tag;
use tiff::{ColorType, TiffError};

use super::art_file::{ArtFile, check_size};
use super::directory;
use super::fault::ArtFault;
use super::grounds::KeptGrounds;
use super::picture::{ColourModel, Picture};
use super::profile;
use super::samples::{InkTotals, eight_of, of_inks, on_paper, premultiplied_on_paper};
use super::turning::Turning;

/// How much of a picture is unpacked at once, in bytes: more than a wide cover in 16 bits needs in one strip.
const MOST_BYTES: usize = 1 << 30;
/// The largest value of a tag, in bytes: well above the profiles of presses, which have some hundreds of kilobytes.
const LARGEST_VALUE: usize = 8 * 1024 * 1024;
/// The longest side of a tile, in pixels: that of a picture, with room for the sides of tiles to be rounded up.
const LONGEST_TILE: u32 = 20_480;

/// What the tag of the samples' meaning says: 0 is black, and colours are in a palette.
const BLACK_IS_ZERO: u16 = 1;
const PALETTE: u16 = 3;
/// What the tag of extra samples says: colours are multiplied by the alpha; they are not; the extra is no alpha.
const MULTIPLIED: u16 = 1;
const ALPHA: u16 = 2;
const NO_ALPHA: u16 = 0;

type TiffReader<'a> = Decoder<Cursor<&'a [u8]>>;

/// Reads a TIFF.
///
/// # Errors
///
/// One that is damaged, breaks off, is too large, or has colours or a packing that are not read.
pub(super) fn read(bytes: &[u8]) -> Result<ArtFile, ArtFault> {
    let meaning = directory::short(bytes, directory::PHOTOMETRIC);
    let extra = directory::short(bytes, directory::EXTRA_SAMPLES);
    let bytes = readable(bytes, meaning, extra);
    let limits = unlimited_but(MOST_BYTES);
    let mut decoder = Decoder::new(Cursor::new(&*bytes)).map_err(unreadable)?.with_limits(limits);
    let (width, height) = decoder.dimensions().map_err(unreadable)?;
    let (width, height) = (width as usize, height as usize);
    check_size(width, height)?;
    let samples = Samples::of(&mut decoder, meaning, extra)?;
    let icc = decoder.get_tag_u8_vec(Tag::IccProfile).ok();
    let mut image = Image { width, height, pixels: vec![[0; 3]; width * height], inks: None };
    image.fill(&mut decoder, &samples)?;
    let model = match samples.colours {
        Colours::Shades => ColourModel::Grey,
        Colours::Inks => ColourModel::Cmyk,
        Colours::Palette(_) | Colours::Screen => ColourModel::Rgb,
    };
    let picture = Picture { width, height, pixels: image.pixels, model };
    let picture = Turning::asked_by(&bytes).upright(picture);
    Ok(ArtFile {
        picture,
        profile: icc.as_deref().and_then(profile::foreign_name),
        inks: image.inks,
        jpeg: None,
        grounds: KeptGrounds::default(),
    })
}

fn unlimited_but(bytes: usize) -> Limits {
    let mut limits = Limits::default();
    limits.decoding_buffer_size = bytes;
    limits.intermediate_buffer_size = bytes;
    limits.ifd_value_size = LARGEST_VALUE;
    limits
}

/// The bytes in the form that the decoder reads: it knows no palette, whose samples are unpacked like shades, and it
/// loses its way in extra samples that are no alpha.
fn readable(bytes: &[u8], meaning: Option<u16>, extra: Option<u16>) -> Cow<'_, [u8]> {
    if meaning != Some(PALETTE) && extra != Some(NO_ALPHA) {
        return Cow::Borrowed(bytes);
    }
    let mut changed = bytes.to_vec();
    if meaning == Some(PALETTE) {
        directory::put_short(&mut changed, directory::PHOTOMETRIC, BLACK_IS_ZERO);
    }
    if extra == Some(NO_ALPHA) {
        directory::put_short(&mut changed, directory::EXTRA_SAMPLES, ALPHA);
    }
    Cow::Owned(changed)
}

/// What the colours of a picture are.
enum Colours {
    Shades,
    Palette(Vec<[u8; 3]>),
    Screen,
    Inks,
}

/// How opaque a pixel is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Opacity {
    Whole,
    Alpha,
    Multiplied,
}

/// What the samples of a pixel are.
struct Samples {
    colours: Colours,
    /// How many of a pixel are unpacked.
    count: usize,
    bits: u8,
    opacity: Opacity,
    is_planar: bool,
}

impl Samples {
    /// What the file says of its samples: their meaning, and that of the extra ones.
    fn of(decoder: &mut TiffReader<'_>, meaning: Option<u16>, extra: Option<u16>) -> Result<Self, ArtFault> {
        let colour = decoder.colortype().map_err(unreadable)?;
        let is_planar = decoder.find_tag_unsigned(Tag::PlanarConfiguration).ok().flatten() == Some(2_u16);
        let (colours, count) = match colour {
            ColorType::Gray(bits) if meaning == Some(PALETTE) && bits <= 8 => {
                let map = decoder.get_tag_u16_vec(Tag::ColorMap).map_err(unreadable)?;
                (Colours::Palette(palette(&map, 1 << bits).ok_or_else(ArtFault::damaged)?), 1)
            }
            ColorType::Gray(_) => (Colours::Shades, 1),
            ColorType::Multiband { num_samples, .. } => (Colours::Shades, usize::from(num_samples)),
            ColorType::RGB(_) | ColorType::RGBA(_) => (Colours::Screen, usize::from(colour.num_samples())),
            ColorType::CMYK(_) | ColorType::CMYKA(_) => (Colours::Inks, usize::from(colour.num_samples())),
            _ => return Err(ArtFault::new("its colours are not those of a screen or of four inks", IN_RGB)),
        };
        let bits = colour.bit_depth();
        if !matches!((bits, count), (1 | 2 | 4, 1) | (8 | 16, _)) || is_real(decoder) {
            return Err(ArtFault::new("its colours have neither 8 nor 16 bits each", IN_RGB));
        }
        let is_extra = matches!(colour, ColorType::Multiband { .. } | ColorType::RGBA(_) | ColorType::CMYKA(_));
        let opacity = match extra {
            Some(MULTIPLIED) if is_extra => Opacity::Multiplied,
            Some(ALPHA) if is_extra => Opacity::Alpha,
            _ => Opacity::Whole,
        };
        Ok(Self { colours, count, bits, opacity, is_planar })
    }
}

impl Samples {
    /// Unpacks one line of a strip or a tile into samples of eight bits, pixel by pixel; those of a palette stay
    /// numbers. `size` is how many columns and rows the part has. None where the bytes end before it.
    fn unpack(&self, packed: &[u8], (columns, rows): (usize, usize), line: usize, row: &mut Vec<u8>) -> Option<()> {
        let planes = if self.is_planar { self.count } else { 1 };
        let in_line = columns * (self.count / planes);
        let bytes = (in_line * usize::from(self.bits)).div_ceil(8);
        row.clear();
        row.resize(columns * self.count, 0);
        for plane in 0..planes {
            let start = (plane * rows + line) * bytes;
            let samples = packed.get(start..start + bytes)?;
            let places = row.iter_mut().skip(plane).step_by(planes);
            match self.bits {
                8 => places.zip(samples).for_each(|(place, sample)| *place = *sample),
                16 => {
                    let samples = samples.as_chunks().0.iter().map(|sample| eight_of(u16::from_ne_bytes(*sample)));
                    places.zip(samples).for_each(|(place, sample)| *place = sample);
                }
                bits => {
                    let (in_byte, most) = (usize::from(8 / bits), (1_u16 << bits) - 1);
                    let is_number = matches!(self.colours, Colours::Palette(_));
                    let scale = if is_number { 1 } else { 255 / most };
                    for (at, place) in places.enumerate() {
                        let shift = 8 - usize::from(bits) * (at % in_byte + 1);
                        *place = ((u16::from(samples[at / in_byte]) >> shift & most) * scale) as u8;
                    }
                }
            }
        }
        Some(())
    }
}

const IN_RGB: &str = "export it with 8 bits in RGB or CMYK";

/// Whether the samples are no whole numbers from 0 up.
fn is_real(decoder: &mut TiffReader<'_>) -> bool {
    let format = decoder.find_tag_unsigned_vec::<u16>(Tag::SampleFormat).ok().flatten().unwrap_or_default();
    format.iter().any(|format| *format != 1)
}

/// The colours of a palette: all reds, then all greens, then all blues, of 16 bits each.
fn palette(map: &[u16], colours: usize) -> Option<Vec<[u8; 3]>> {
    let (reds, rest) = map.split_at_checked(colours)?;
    let (greens, blues) = rest.split_at_checked(colours)?;
    let whole = reds.iter().zip(greens).zip(blues.get(..colours)?);
    Some(whole.map(|((red, green), blue)| [*red, *green, *blue].map(eight_of)).collect())
}

/// The pixels as they are filled in, strip by strip or tile by tile.
struct Image {
    width: usize,
    height: usize,
    pixels: Vec<[u8; 3]>,
    inks: Option<InkTotals>,
}

impl Image {
    fn fill(&mut self, decoder: &mut TiffReader<'_>, samples: &Samples) -> Result<(), ArtFault> {
        let (across, down) = decoder.chunk_dimensions();
        if decoder.get_chunk_type() == ChunkType::Tile && across.max(down) > LONGEST_TILE {
            return Err(ArtFault::greedy());
        }
        let (across, down) = (across as usize, (down as usize).min(self.height));
        let in_row = self.width.div_ceil(across);
        let (mut packed, mut row) = (Vec::new(), Vec::new());
        for number in 0..in_row * self.height.div_ceil(down) {
            let unit = TiffCodingUnit(u32::try_from(number).map_err(|_| ArtFault::damaged())?);
            let layout = decoder.image_coding_unit_layout(unit).map_err(unreadable)?;
            if layout.complete_len > MOST_BYTES {
                return Err(ArtFault::greedy());
            }
            packed.resize(layout.complete_len, 0);
            decoder.read_coding_unit_bytes(unit, &mut packed).map_err(unreadable)?;
            let (columns, rows) = decoder.chunk_data_dimensions(unit.0);
            let (x, y) = (number % in_row * across, number / in_row * down);
            for line in 0..rows as usize {
                let size = (columns as usize, rows as usize);
                samples.unpack(&packed, size, line, &mut row).ok_or_else(ArtFault::damaged)?;
                let start = (y + line) * self.width + x;
                let place = self.pixels.get_mut(start..start + columns as usize).ok_or_else(ArtFault::damaged)?;
                lay(&row, samples, place, &mut self.inks);
            }
        }
        Ok(())
    }
}

/// Lays the samples of a row on paper, and counts their inks.
fn lay(row: &[u8], samples: &Samples, pixels: &mut [[u8; 3]], inks: &mut Option<InkTotals>) {
    let paper = |colour: [u8; 3], rest: &[u8]| match (samples.opacity, rest) {
        (Opacity::Alpha, [alpha, ..]) => colour.map(|channel| on_paper(channel, *alpha)),
        (Opacity::Multiplied, [alpha, ..]) => colour.map(|channel| premultiplied_on_paper(channel, *alpha)),
        _ => colour,
    };
    let whole = row.chunks_exact(samples.count);
    match &samples.colours {
        Colours::Shades => pixels.iter_mut().zip(whole).for_each(|(pixel, own)| *pixel = paper([own[0]; 3], &own[1..])),
        Colours::Palette(palette) => {
            let colour = |number: u8| palette.get(usize::from(number)).copied().unwrap_or([255; 3]);
            pixels.iter_mut().zip(row).for_each(|(pixel, number)| *pixel = colour(*number));
        }
        Colours::Screen => {
            let colours = whole.filter_map(|own| own.split_first_chunk::<3>());
            pixels.iter_mut().zip(colours).for_each(|(pixel, (own, rest))| *pixel = paper(*own, rest));
        }
        Colours::Inks => {
            let totals = inks.get_or_insert_with(InkTotals::none);
            let colours = whole.filter_map(|own| own.split_first_chunk::<4>());
            for (pixel, (own, rest)) in pixels.iter_mut().zip(colours) {
                totals.count(*own);
                *pixel = paper(of_inks(*own), rest);
            }
        }
    }
}

fn unreadable(error: TiffError) -> ArtFault {
    match error {
        TiffError::IoError(error) if error.kind() == ErrorKind::UnexpectedEof => ArtFault::cut_short(),
        TiffError::LimitsExceeded | TiffError::IntSizeError => ArtFault::greedy(),
        TiffError::UnsupportedError(_) => ArtFault::new(
            "the TIFF is packed in a way that is not read, or has colours of a rare kind",
            "export it with 8 bits in RGB or CMYK, packed by LZW, deflate or not at all",
        ),
        _ => ArtFault::damaged(),
    }
}
