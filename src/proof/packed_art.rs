//! Art as the bytes that a document carries: the author's own JPEG where it can be taken over, else a PNG that is small
//! enough.

use std::sync::Arc;

use super::sheet_art::SheetArt;

/// A picture's bytes.
pub(super) enum PackedArt {
    /// A JPEG of the whole picture, of which a document shows a part.
    Jpeg(Arc<[u8]>),
    /// A PNG of the part that is shown.
    Png(PackedPixels),
}

/// A PNG and its size.
pub(super) struct PackedPixels {
    /// The bytes of the file.
    pub(super) bytes: Vec<u8>,
    /// The number of pixels in a row.
    pub(super) columns: usize,
    /// The number of rows.
    pub(super) rows: usize,
}

/// The most pixels to the inch, at true size: what printers ask of art (common practice), and more than a proof needs.
const MOST_RESOLUTION: f64 = 300.0;
/// With this many pixels to the inch a picture is taken however large it is: two to a millimetre.
const LEAST_RESOLUTION: f64 = 50.0;

/// The art in at most so many bytes, where it can be: a JPEG of the author's goes in as it is; pixels lose as much of
/// their resolution as they have to.
pub(super) fn packed(art: &SheetArt, most: usize) -> Option<PackedArt> {
    if let Some(jpeg) = art.file.jpeg.as_ref().filter(|jpeg| jpeg.len() <= most) {
        return Some(PackedArt::Jpeg(Arc::clone(jpeg)));
    }
    let mut resolution = MOST_RESOLUTION;
    loop {
        let (columns, rows) = art.size_at(resolution);
        let bytes = png(art, columns, rows).ok()?;
        if bytes.len() <= most || resolution <= LEAST_RESOLUTION {
            return Some(PackedArt::Png(PackedPixels { bytes, columns, rows }));
        }
        // Fewer pixels are harder to pack, each for itself.
        let own = columns as f64 / art.rect.width.to_inches();
        let fewer = own.min(resolution) * (most as f64 / bytes.len() as f64).sqrt() * 0.9;
        resolution = fewer.max(LEAST_RESOLUTION);
    }
}

fn png(art: &SheetArt, columns: usize, rows: usize) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, columns as u32, rows as u32);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(art.pixels(columns, rows).as_flattened())?;
    writer.finish()?;
    Ok(bytes)
}

/// The packed samples of a PNG: the contents of its IDAT chunks, one behind the other.
///
/// Source: Portable Network Graphics (third edition), 5.3 (chunk layout).
pub(super) fn samples(png: &[u8]) -> Vec<u8> {
    const SIGNATURE: usize = 8;
    let mut samples = Vec::with_capacity(png.len());
    let mut rest = png.get(SIGNATURE..).unwrap_or_default();
    while let Some((head, after)) = rest.split_first_chunk::<8>() {
        let [a, b, c, d, name @ ..] = *head;
        let length = u32::from_be_bytes([a, b, c, d]) as usize;
        let Some(data) = after.get(..length) else { break };
        if &name == b"IDAT" {
            samples.extend_from_slice(data);
        }
        // Four bytes of a check sum stand behind the data.
        rest = after.get(length + 4..).unwrap_or_default();
    }
    samples
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::artwork::ArtFile;
    use crate::artwork::picture::{ColourModel, Picture, PixelRect};
    use crate::units::{Length, Rect};

    /// Pixels that cannot be packed, each other than its neighbours, two inches wide.
    fn noise(side: usize, jpeg: Option<Arc<[u8]>>) -> SheetArt {
        let hashed = |number: usize| (number as u32).wrapping_mul(2_654_435_761).rotate_left(number as u32 % 31);
        let pixels = (0..side * side).map(|number| {
            let [red, green, blue, _] = hashed(number).to_be_bytes();
            [red, green, blue]
        });
        let picture = Picture { width: side, height: side, pixels: pixels.collect(), model: ColourModel::Rgb };
        let grounds = Default::default();
        let file = Arc::new(ArtFile { picture, profile: None, inks: None, jpeg, grounds });
        let inches = Length::inches(2.0);
        let source = PixelRect { x: 0.0, y: 0.0, width: side as f64, height: side as f64 };
        SheetArt { file, source, rect: Rect { width: inches, height: inches, ..Rect::default() }, form: None }
    }

    #[test]
    fn pixels_lose_as_much_of_their_resolution_as_they_have_to() {
        let art = noise(600, None);
        for (most, all) in [(2_000_000, true), (300_000, false), (80_000, false)] {
            let Some(PackedArt::Png(packed)) = packed(&art, most) else { panic!("pixels") };
            assert!(packed.bytes.len() <= most && packed.bytes.len() > most / 20, "{most}: {}", packed.bytes.len());
            assert_eq!(packed.columns == 600, all, "{most}: {} columns", packed.columns);
        }
        let few = noise(5, None);
        assert!(
            matches!(packed(&few, 1), Some(PackedArt::Png(packed)) if packed.columns == 5),
            "as small as it can be"
        );
    }

    #[test]
    fn a_jpeg_is_taken_over_as_far_as_there_is_room() {
        let jpeg: Arc<[u8]> = Arc::from(&b"a JPEG"[..]);
        let art = noise(4, Some(Arc::clone(&jpeg)));
        assert!(matches!(packed(&art, 6), Some(PackedArt::Jpeg(bytes)) if bytes == jpeg));
        assert!(matches!(packed(&art, 5), Some(PackedArt::Png(_))));
    }
}
