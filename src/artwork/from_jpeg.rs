//! Art from a JPEG of shades, of screen colours or of four inks.
//!
//! Sources: ITU-T T.81; ITU-T T.871 (JFIF), 7, for the colours. That four inks are written upside down, with 255 for
//! none, is common practice of the programs that write them.

use std::sync::Arc;

use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::art_file::{ArtFile, check_size};
use super::fault::{ArtFault, SAVE_AGAIN};
use super::grounds::KeptGrounds;
use super::picture::{ColourModel, Picture};
use super::profile;
use super::samples::{InkTotals, of_inks};
use super::scans::ScansOfJpeg;
use super::turning::Turning;

/// The longest side that the form can name; what is too long is refused in words of our own.
const LONGEST_NAMED: usize = 65_535;

/// The most pixels that a byte can hold: of a progressive picture every 64 take at least a bit, by which their mean is
/// told (ITU-T T.81, G.1.2.1). A file that claims more breaks off, and is refused before room is made for it.
const MOST_IN_A_BYTE: usize = 64 * 8;

/// The most scans of one picture: programs write about a dozen, and each is a walk over the whole of it.
const MOST_SCANS: usize = 100;

/// What takes the place of the mark of the picture's end: as many bytes as the decoder reads ahead of what it needs, at
/// most.
const READ_AHEAD: [u8; 8] = [0; 8];

/// Reads a JPEG.
///
/// # Errors
///
/// One that is damaged, breaks off, is too large, or is packed in a way that is hardly used.
pub(super) fn read(bytes: &[u8]) -> Result<ArtFile, ArtFault> {
    // What the decoder is known to go wrong at is refused, or taken out of the file, before the decoder sees it.
    let scans = ScansOfJpeg::of(bytes);
    if scans.are_laid_out_wrongly || scans.count > MOST_SCANS {
        return Err(hardly_used());
    }
    let unended = scans.end.map(|end| [&bytes[..end], &READ_AHEAD].concat());
    let packed = unended.as_deref().unwrap_or(bytes);
    // In strict mode a file that breaks off is refused; else its foot would be one flat grey, a false quiet room.
    let options = DecoderOptions::default()
        .set_strict_mode(true)
        .set_max_width(LONGEST_NAMED)
        .set_max_height(LONGEST_NAMED)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(packed), options);
    decoder.decode_headers().map_err(|error| unreadable(error, bytes))?;
    let (width, height) = decoder.dimensions().ok_or_else(ArtFault::damaged)?;
    // Sizes are held against the bytes before room is made for the pixels, since a few bytes may claim any size.
    check_size(width, height)?;
    if width * height > MOST_IN_A_BYTE * bytes.len() {
        return Err(ArtFault::cut_short());
    }
    // Inks come as the file has them, since they are counted before they become colours.
    let colours = decoder.input_colorspace().ok_or_else(ArtFault::damaged)?;
    let (model, out) = match colours {
        ColorSpace::Luma => (ColourModel::Grey, ColorSpace::Luma),
        ColorSpace::CMYK | ColorSpace::YCCK => (ColourModel::Cmyk, colours),
        _ => (ColourModel::Rgb, ColorSpace::RGB),
    };
    decoder.set_options(options.jpeg_set_out_colorspace(out));
    let mut pixels = vec![[0; 3]; width * height];
    let mut inks = None;
    match model {
        ColourModel::Rgb => decoder.decode_into(pixels.as_flattened_mut()).map_err(|error| unreadable(error, bytes))?,
        ColourModel::Grey => {
            let mut shades = vec![0; width * height];
            decoder.decode_into(&mut shades).map_err(|error| unreadable(error, bytes))?;
            pixels.iter_mut().zip(shades).for_each(|(pixel, shade)| *pixel = [shade; 3]);
        }
        ColourModel::Cmyk => {
            let mut samples = vec![[0; 4]; width * height];
            decoder.decode_into(samples.as_flattened_mut()).map_err(|error| unreadable(error, bytes))?;
            let mut totals = InkTotals::none();
            for (pixel, sample) in pixels.iter_mut().zip(samples) {
                let four = if colours == ColorSpace::YCCK { of_ycck(sample) } else { sample.map(|value| 255 - value) };
                totals.count(four);
                *pixel = of_inks(four);
            }
            inks = Some(totals);
        }
    }
    let profile = decoder.icc_profile().and_then(|bytes| profile::foreign_name(&bytes));
    let turning = decoder.exif().map_or(Turning::UPRIGHT, |exif| Turning::asked_by(exif));
    // Only a file that every reader shows as these very pixels may be carried over as it is.
    let is_plain = matches!(colours, ColorSpace::Luma | ColorSpace::YCbCr) && turning == Turning::UPRIGHT;
    let picture = turning.upright(Picture { width, height, pixels, model });
    Ok(ArtFile { picture, profile, inks, jpeg: is_plain.then(|| Arc::from(bytes)), grounds: KeptGrounds::default() })
}

/// The four inks of a pixel that has the first three as lightness and two colour differences. Turned upside down, as
/// they are written, lightness is ink.
fn of_ycck([luma, blue, red, black]: [u8; 4]) -> [u8; 4] {
    let (luma, blue, red) = (f32::from(luma), f32::from(blue) - 128.0, f32::from(red) - 128.0);
    let inks = [luma + 1.402 * red, luma - 0.344_136 * blue - 0.714_136 * red, luma + 1.772 * blue];
    // A conversion to whole numbers stops at their ends.
    let [cyan, magenta, yellow] = inks.map(|ink| ink.round() as u8);
    [cyan, magenta, yellow, 255 - black]
}

fn hardly_used() -> ArtFault {
    ArtFault::new(
        "the JPEG is packed in a way that is hardly used",
        "export it again as a progressive JPEG, or as a PNG or a TIFF",
    )
}

fn unreadable(error: DecodeErrors, bytes: &[u8]) -> ArtFault {
    match error {
        DecodeErrors::ZeroError => ArtFault::new("the picture has no pixels, so nothing is in it", SAVE_AGAIN),
        DecodeErrors::Unsupported(_) => hardly_used(),
        DecodeErrors::ExhaustedData => ArtFault::cut_short(),
        DecodeErrors::FormatStatic(said) if said.starts_with("Premature end") => ArtFault::cut_short(),
        _ if ends_early(bytes) => ArtFault::cut_short(),
        _ => ArtFault::damaged(),
    }
}

/// Whether no end of the picture follows its last scan: neither mark can stand in packed pixels (ITU-T T.81, B.1.1.2).
fn ends_early(bytes: &[u8]) -> bool {
    let last = |mark: u8| bytes.windows(2).rposition(|pair| pair == [0xff, mark]);
    last(0xd9) < last(0xda) || last(0xda).is_none()
}
