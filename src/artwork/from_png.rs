//! Art from a PNG: every depth, with a palette or without, interlaced or not, laid on white paper where it is
//! transparent.
//!
//! Source: Portable Network Graphics (third edition), 4.4 to 4.7, 11.2 and 11.3.

use std::io::{Cursor, ErrorKind};

use png::{ColorType, Decoder, DecodingError, Limits, Reader, Transformations};

use super::art_file::{ArtFile, check_size};
use super::fault::ArtFault;
use super::grounds::KeptGrounds;
use super::picture::{ColourModel, Picture};
use super::profile;
use super::samples::on_paper;
use super::turning::Turning;

/// How much memory the decoder may take beside the pixels.
const DECODER_BYTES: usize = 64 * 1024 * 1024;

/// Reads a PNG.
///
/// # Errors
///
/// One that is damaged, breaks off or is too large.
pub(super) fn read(bytes: &[u8]) -> Result<ArtFile, ArtFault> {
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: DECODER_BYTES });
    decoder.set_ignore_text_chunk(true);
    decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
    let header = decoder.read_header_info().map_err(unreadable)?;
    let (width, height) = (header.width as usize, header.height as usize);
    check_size(width, height)?;
    let mut reader = decoder.read_info().map_err(unreadable)?;
    let (colour, _) = reader.output_color_type();
    let info = reader.info();
    let is_grey = matches!(info.color_type, ColorType::Grayscale | ColorType::GrayscaleAlpha);
    let profile = info.icc_profile.as_deref().and_then(profile::foreign_name);
    let turning = info.exif_metadata.as_deref().map_or(Turning::UPRIGHT, Turning::asked_by);
    let pixels = pixels(&mut reader, colour, (width, height))?;
    let model = if is_grey { ColourModel::Grey } else { ColourModel::Rgb };
    let picture = turning.upright(Picture { width, height, pixels, model });
    Ok(ArtFile { picture, profile, inks: None, jpeg: None, grounds: KeptGrounds::default() })
}

/// The pixels on paper; those of an interlaced picture are put in order first.
fn pixels(
    reader: &mut Reader<Cursor<&[u8]>>,
    colour: ColorType,
    (width, height): (usize, usize),
) -> Result<Vec<[u8; 3]>, ArtFault> {
    let mut pixels = Vec::with_capacity(width * height);
    let samples = colour.samples();
    if reader.info().interlaced {
        let mut whole = vec![0; reader.output_buffer_size().ok_or_else(ArtFault::greedy)?];
        reader.next_frame(&mut whole).map_err(unreadable)?;
        lay(&whole, samples, &mut pixels);
    } else {
        while let Some(row) = reader.next_row().map_err(unreadable)? {
            lay(row.data(), samples, &mut pixels);
        }
    }
    if pixels.len() == width * height { Ok(pixels) } else { Err(ArtFault::cut_short()) }
}

/// Adds pixels of one to four samples: shades or colours, and how opaque each is.
fn lay(data: &[u8], samples: usize, pixels: &mut Vec<[u8; 3]>) {
    match samples {
        1 => pixels.extend(data.iter().map(|shade| [*shade; 3])),
        2 => pixels.extend(data.as_chunks().0.iter().map(|[shade, alpha]| [on_paper(*shade, *alpha); 3])),
        3 => pixels.extend(data.as_chunks().0),
        _ => pixels.extend(
            data.as_chunks()
                .0
                .iter()
                .map(|[red, green, blue, alpha]| [*red, *green, *blue].map(|channel| on_paper(channel, *alpha))),
        ),
    }
}

fn unreadable(error: DecodingError) -> ArtFault {
    match error {
        DecodingError::IoError(error) if error.kind() == ErrorKind::UnexpectedEof => ArtFault::cut_short(),
        DecodingError::LimitsExceeded => ArtFault::greedy(),
        _ => ArtFault::damaged(),
    }
}
