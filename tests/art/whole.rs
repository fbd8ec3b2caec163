//! Whole files of art, small, so that very many damaged ones can be tried: each door's in every form that it reads.

use jpeg_encoder::{ColorType as JpegColour, Encoder, SamplingFactor};
use miniz_oxide::deflate::compress_to_vec_zlib;
use png::{BitDepth, ColorType, Compression as PngCompression};
use tiff::encoder::Compression;
use tiff::encoder::compression::DeflateLevel;

use super::files::{
    SIZE, TILES, Writing, by_hand, colour, inks, jpeg, large_tiff, samples, tiff, tiff_of_differences, tiles,
    written_by_hand,
};
use super::{Door, exif, head, packed, profile, tiled_head, with};
use crate::outlines::files::{chunk, encoded, interlaced, of_parts};

/// The whole files of a door.
pub(super) fn whole_files(door: Door) -> Vec<Vec<u8>> {
    match door {
        Door::Png => pngs(),
        Door::Jpeg => jpegs(),
        Door::Tiff => tiffs(),
    }
}

fn pngs() -> Vec<Vec<u8>> {
    let size = (SIZE.0 as u32, SIZE.1 as u32);
    // What is not packed closely lets damage through to the pixels and to the filters of rows.
    let png = |colours, depth, data: &[u8], packing| {
        encoded(size, (colours, depth), data, |encoder| encoder.set_compression(packing))
    };
    let rgb = samples(colour);
    let deep = samples(|x, y| colour(x, y).into_iter().chain([200]).flat_map(|sample| [sample, sample]));
    let palette = encoded(size, (ColorType::Indexed, BitDepth::Two), &packed(2), |encoder| {
        encoder.set_palette(vec![0, 0, 0, 10, 20, 30, 40, 50, 60, 70, 80, 90]);
        encoder.set_trns(vec![0, 128]);
    });
    let mut pngs = vec![
        png(ColorType::Rgb, BitDepth::Eight, &rgb, PngCompression::Balanced),
        png(ColorType::Rgb, BitDepth::Eight, &rgb, PngCompression::NoCompression),
        png(ColorType::Rgba, BitDepth::Sixteen, &deep, PngCompression::Fast),
        png(ColorType::Rgba, BitDepth::Sixteen, &deep, PngCompression::NoCompression),
        png(ColorType::Grayscale, BitDepth::One, &packed(1), PngCompression::Balanced),
        png(ColorType::Grayscale, BitDepth::Four, &packed(4), PngCompression::NoCompression),
        palette.clone(),
        interlaced(size, |x, _| x as u8),
        deep_and_interlaced(),
    ];
    let named = [&b"gull\0\0"[..], &compress_to_vec_zlib(&profile("Gull RGB"), 6)].concat();
    let upright = exif(6)[6..].to_vec();
    for (name, data) in [(b"iCCP", named), (b"eXIf", upright), (b"tRNS", vec![0, 1, 0, 2, 0, 3])] {
        pngs.push(behind_header(&pngs[0], &chunk(name, &data)));
    }
    pngs
}

/// A PNG with a chunk behind its header.
fn behind_header(png: &[u8], chunk: &[u8]) -> Vec<u8> {
    let (head, rest) = png.split_at(8 + 12 + 13);
    [head, chunk, rest].concat()
}

/// Sixteen bits of all four channels in seven passes, every row packed by another filter.
fn deep_and_interlaced() -> Vec<u8> {
    let passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)];
    let mut rows: Vec<u8> = Vec::new();
    for (left, top, across, down) in passes {
        for y in (top..SIZE.1).step_by(down) {
            rows.push((y % 5) as u8);
            let pixels = (left..SIZE.0).step_by(across);
            rows.extend(pixels.flat_map(|x| [x, y, x + y, 255].into_iter().flat_map(|sample| [sample as u8, 1])));
        }
    }
    let sides = [SIZE.0, SIZE.1].map(|side| (side as u32).to_be_bytes());
    of_parts(&[&sides[0][..], &sides[1], &[16, 6, 0, 0, 1]].concat(), &compress_to_vec_zlib(&rows, 6))
}

fn jpegs() -> Vec<Vec<u8>> {
    let (rgb, four) = (samples(colour), samples(inks));
    let grey = samples(|x, y| [(x + y) as u8]);
    let coloured = |more: &dyn Fn(&mut Encoder<&mut Vec<u8>>)| jpeg(&rgb, JpegColour::Rgb, |encoder| more(encoder));
    let told = |encoder: &mut Encoder<&mut Vec<u8>>| {
        let added = encoder.add_app_segment(1, exif(6)).and_then(|()| encoder.add_icc_profile(&profile("Gull RGB")));
        added.unwrap_or_else(|error| panic!("{error}"));
    };
    vec![
        coloured(&|_| {}),
        coloured(&|encoder| encoder.set_progressive(true)),
        coloured(&|encoder| {
            encoder.set_progressive_scans(20);
            encoder.set_sampling_factor(SamplingFactor::R_4_2_0);
        }),
        coloured(&|encoder| encoder.set_restart_interval(2)),
        coloured(&|encoder| encoder.set_sampling_factor(SamplingFactor::R_4_2_0)),
        coloured(&|encoder| encoder.set_sampling_factor(SamplingFactor::R_4_2_2)),
        coloured(&|encoder| encoder.set_sampling_factor(SamplingFactor::R_4_4_0)),
        coloured(&|encoder| encoder.set_sampling_factor(SamplingFactor::R_4_1_1)),
        coloured(&|encoder| encoder.set_optimized_huffman_tables(true)),
        coloured(&told),
        jpeg(&grey, JpegColour::Luma, |_| {}),
        jpeg(&four, JpegColour::Cmyk, |_| {}),
        jpeg(&four, JpegColour::Cmyk, |encoder| encoder.set_progressive(true)),
        jpeg(&four, JpegColour::CmykAsYcck, |encoder| encoder.set_sampling_factor(SamplingFactor::R_4_2_0)),
    ]
}

fn tiffs() -> Vec<Vec<u8>> {
    let rgb = samples(colour);
    let strips: Vec<&[u8]> = rgb.chunks(SIZE.0 * 3 * 8).collect();
    let map: Vec<u32> = (0..12).map(|number| number * 5000).collect();
    let planes = [0, 1, 2].map(|plane| samples(|x, y| [colour(x, y)[plane]]));
    let planes: Vec<&[u8]> = planes.iter().map(Vec::as_slice).collect();
    let own = tiles();
    let tiles: Vec<&[u8]> = own.iter().map(Vec::as_slice).collect();
    let packed_tiles: Vec<Vec<u8>> = own.iter().map(|tile| compress_to_vec_zlib(tile, 6)).collect();
    let packed_tiles: Vec<&[u8]> = packed_tiles.iter().map(Vec::as_slice).collect();
    let with_alpha = samples(|x, y| colour(x, y).into_iter().chain([x as u8 * 5]));
    let deep = samples(|x, y| inks(x, y).into_iter().flat_map(|sample| [sample, sample]));
    let named = profile("Wide Press").into_iter().map(u32::from).collect::<Vec<_>>();
    let deflate = || Compression::Deflate(DeflateLevel::Fast);
    vec![
        tiff(Compression::Lzw),
        tiff(deflate()),
        tiff(Compression::Packbits),
        large_tiff(Compression::Lzw),
        large_tiff(Compression::Uncompressed),
        tiff_of_differences(Compression::Lzw, false),
        tiff_of_differences(deflate(), true),
        by_hand(with(head(8, 3, 2), (278, 4, vec![8])), &strips),
        by_hand(with(head(8, 3, 2), (284, 3, vec![2])), &planes),
        by_hand(with(head(2, 1, 3), (320, 3, map)), &[&packed(2)]),
        by_hand(head(1, 1, 0), &[&packed(1)]),
        by_hand(with(head(8, 4, 5), (274, 3, vec![6])), &[&samples(inks)]),
        by_hand(with(head(16, 4, 5), (34_675, 1, named)), &[&deep]),
        by_hand(with(head(8, 4, 2), (338, 3, vec![1])), &[&with_alpha]),
        by_hand(with(head(8, 4, 2), (338, 3, vec![0])), &[&with_alpha]),
        written_by_hand(TILES, tiled_head(), &tiles),
        written_by_hand(TILES, with(tiled_head(), (259, 3, vec![8])), &packed_tiles),
        written_by_hand(Writing { is_little: false, ..TILES }, tiled_head(), &tiles),
    ]
}

#[test]
fn every_whole_file_is_read() {
    for door in [Door::Png, Door::Jpeg, Door::Tiff] {
        for (number, bytes) in whole_files(door).iter().enumerate() {
            let read = blurbwright::artwork::decoded(bytes).map(|file| (file.picture.width, file.picture.height));
            assert!(read == Ok(SIZE) || read == Ok((SIZE.1, SIZE.0)), "{} {number}: {read:?}", door.name());
        }
    }
}
