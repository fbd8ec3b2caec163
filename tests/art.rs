//! Art from files: the pixels of every form, what is told of a file beside them, and files that cannot be read.

use blurbwright::artwork::picture::{ColourModel, Picture};
use blurbwright::artwork::{ArtFault, ArtFile, decoded};
use blurbwright::files::guard;
use jpeg_encoder::{ColorType as JpegColour, SamplingFactor};
use png::{BitDepth, ColorType};
use tiff::encoder::Compression;
use tiff::encoder::compression::DeflateLevel;

use crate::outlines::files::{encoded, header_alone, interlaced};
use files::{
    SIZE, STRIPS, TILE, TILES, Writing, by_hand, colour, inks, jpeg, large_tiff, samples, tiff, tiff_of_differences,
    tiles, written_by_hand,
};

mod damage;
mod ends;
mod files;
mod whole;

/// The reader that a file comes to by its first bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Door {
    Png,
    Jpeg,
    Tiff,
}

impl Door {
    fn name(self) -> &'static str {
        match self {
            Self::Png => "PNG",
            Self::Jpeg => "JPEG",
            Self::Tiff => "TIFF",
        }
    }
}

fn art(bytes: &[u8]) -> ArtFile {
    decoded(bytes).unwrap_or_else(|fault| panic!("{fault:?}"))
}

fn problem(bytes: &[u8]) -> String {
    decoded(bytes).map_or_else(|ArtFault { problem, .. }| problem, |_| panic!("nothing is wrong with it"))
}

/// Holds every pixel to the colour that it should have, give or take some steps of 255.
fn hold(picture: &Picture, steps: u8, wanted: impl Fn(usize, usize) -> [u8; 3]) {
    assert_eq!((picture.width, picture.height, picture.pixels.len()), (SIZE.0, SIZE.1, SIZE.0 * SIZE.1));
    for y in 0..SIZE.1 {
        for x in 0..SIZE.0 {
            let (found, wanted) = (picture.at(x, y), wanted(x, y));
            let off = found.iter().zip(wanted).map(|(found, wanted)| found.abs_diff(wanted)).max();
            assert!(off <= Some(steps), "{x}, {y}: {found:?} is not {wanted:?}");
        }
    }
}

fn png(colours: ColorType, depth: BitDepth, data: &[u8]) -> Vec<u8> {
    encoded((SIZE.0 as u32, SIZE.1 as u32), (colours, depth), data, |_| {})
}

/// Shades that only four bits or fewer can hold, packed from the left.
fn packed(bits: usize) -> Vec<u8> {
    let most = (1 << bits) - 1;
    let shades = samples(|x, y| [((x + y) & most) as u8]);
    shades.chunks(8 / bits).map(|byte| byte.iter().fold(0, |sum, shade| sum << bits | shade)).collect()
}

#[test]
fn every_form_of_png_gives_its_pixels() {
    let eight = art(&png(ColorType::Rgb, BitDepth::Eight, &samples(colour)));
    hold(&eight.picture, 0, colour);
    assert_eq!((eight.picture.model, eight.profile, eight.inks, eight.jpeg), (ColourModel::Rgb, None, None, None));
    let sixteen = samples(|x, y| colour(x, y).into_iter().flat_map(|channel| [channel, channel]));
    hold(&art(&png(ColorType::Rgb, BitDepth::Sixteen, &sixteen)).picture, 0, colour);
    for (bits, depth) in [(1, BitDepth::One), (2, BitDepth::Two), (4, BitDepth::Four)] {
        let grey = art(&png(ColorType::Grayscale, depth, &packed(bits)));
        let most = (1_usize << bits) - 1;
        hold(&grey.picture, 0, |x, y| [(((x + y) & most) * 255 / most) as u8; 3]);
        assert_eq!(grey.picture.model, ColourModel::Grey);
    }
    let palette = encoded((SIZE.0 as u32, SIZE.1 as u32), (ColorType::Indexed, BitDepth::Two), &packed(2), |encoder| {
        encoder.set_palette(vec![0, 0, 0, 10, 20, 30, 40, 50, 60, 70, 80, 90]);
        // The first colour is transparent.
        encoder.set_trns(vec![0]);
    });
    let colours = [[255; 3], [10, 20, 30], [40, 50, 60], [70, 80, 90]];
    hold(&art(&palette).picture, 0, |x, y| colours[(x + y) & 3]);
}

#[test]
fn transparent_pixels_lie_on_white_paper() {
    let clear = |x: usize| if x < 10 { 0 } else { 255 };
    let wanted = |x, y| if x < 10 { [255; 3] } else { colour(x, y) };
    let with_alpha = samples(|x, y| colour(x, y).into_iter().chain([clear(x)]));
    hold(&art(&png(ColorType::Rgba, BitDepth::Eight, &with_alpha)).picture, 0, wanted);
    let grey = art(&interlaced((SIZE.0 as u32, SIZE.1 as u32), |x, _| clear(x as usize)));
    hold(&grey.picture, 0, |x, _| if x < 10 { [255; 3] } else { [128; 3] });
}

#[test]
fn every_form_of_jpeg_gives_its_pixels() {
    let rgb = samples(colour);
    let plain = jpeg(&rgb, JpegColour::Rgb, |_| {});
    let read = art(&plain);
    hold(&read.picture, 4, colour);
    assert_eq!((read.picture.model, read.jpeg.as_deref()), (ColourModel::Rgb, Some(&plain[..])));
    hold(&art(&jpeg(&rgb, JpegColour::Rgb, |encoder| encoder.set_progressive(true))).picture, 4, colour);
    hold(&art(&jpeg(&rgb, JpegColour::Rgb, |encoder| encoder.set_restart_interval(2))).picture, 4, colour);
    let sampled = jpeg(&rgb, JpegColour::Rgb, |encoder| encoder.set_sampling_factor(SamplingFactor::R_4_2_0));
    hold(&art(&sampled).picture, 12, colour);
    let grey = art(&jpeg(&samples(|x, y| [(x + y) as u8]), JpegColour::Luma, |_| {}));
    hold(&grey.picture, 2, |x, y| [(x + y) as u8; 3]);
    assert_eq!((grey.picture.model, grey.jpeg.is_some()), (ColourModel::Grey, true));
}

/// A JPEG in which each colour has a scan of its own, and colours are of some sizes.
fn in_split_scans(sampling: SamplingFactor) -> Vec<u8> {
    jpeg(&samples(colour), JpegColour::Rgb, |encoder| {
        encoder.set_optimized_huffman_tables(true);
        encoder.set_sampling_factor(sampling);
    })
}

#[test]
fn colours_in_scans_of_their_own_are_read_where_they_come_out_right_and_refused_else() {
    for (sampling, steps) in
        [(SamplingFactor::R_4_4_4, 4), (SamplingFactor::R_4_2_2, 12), (SamplingFactor::R_4_1_1, 12)]
    {
        hold(&art(&in_split_scans(sampling)).picture, steps, colour);
    }
    for sampling in [SamplingFactor::R_4_2_0, SamplingFactor::R_4_4_0] {
        assert_eq!(problem(&in_split_scans(sampling)), "the JPEG is packed in a way that is hardly used");
    }
}

#[test]
fn whatever_size_the_colours_of_a_jpeg_have_it_is_read_or_refused() {
    let whole = in_split_scans(SamplingFactor::R_4_4_4);
    let frame = whole.windows(2).position(|pair| pair == [0xff, 0xc0]).expect("a frame");
    // Both sizes stand in one byte.
    let sizes = || (1..=4_u8).flat_map(|across| (1..=4_u8).map(move |down| across << 4 | down));
    for (one, others, which) in
        sizes().flat_map(|one| sizes().flat_map(move |all| (0..3).map(move |at| (one, all, at))))
    {
        let mut bytes = whole.clone();
        for number in 0..3 {
            bytes[frame + 11 + number * 3] = if number == which { one } else { others };
        }
        let read = guard::caught(|| decoded(&bytes).map(|file| (file.picture.width, file.picture.height)));
        assert!(matches!(read, Ok(Ok(SIZE) | Err(_))), "{one:x} for colour {which}, {others:x} for the others");
    }
}

/// The plain rule, by itself: what black leaves of the light, less what the ink takes of it.
fn printed(x: usize, y: usize) -> [u8; 3] {
    let [cyan, magenta, yellow, black] = inks(x, y).map(f64::from);
    [cyan, magenta, yellow].map(|ink| ((255.0 - ink) * (255.0 - black) / 255.0).round() as u8)
}

#[test]
fn four_inks_become_screen_colours_by_the_plain_rule_and_are_counted() {
    let four = samples(inks);
    let most = 100 * (47 * 5 + 31 * 7 + 30 + 78) / 255;
    for (colours, steps) in [(JpegColour::Cmyk, 4), (JpegColour::CmykAsYcck, 6)] {
        let read = art(&jpeg(&four, colours, |_| {}));
        hold(&read.picture, steps, printed);
        assert_eq!((read.picture.model, read.jpeg), (ColourModel::Cmyk, None));
        let found = read.inks.expect("inks").most();
        assert!(found.abs_diff(most) <= 2, "{found} is not {most}");
    }
    let read = art(&by_hand(head(8, 4, 5), &[&four]));
    hold(&read.picture, 0, printed);
    let totals = read.inks.expect("inks");
    assert_eq!(totals.most(), most);
    let above = (0..32)
        .flat_map(|y| (0..48).map(move |x| inks(x, y)))
        .filter(|inks| inks.iter().map(|ink| u32::from(*ink)).sum::<u32>() * 100 / 255 > 200);
    assert!((totals.share_above(200) - above.count() as f64 / (48.0 * 32.0)).abs() < 1e-9);
}

/// The entries of a TIFF of so many bits a sample, samples and meaning of them.
fn head(bits: u32, count: u32, meaning: u32) -> Vec<files::Entry> {
    vec![
        (256, 4, vec![SIZE.0 as u32]),
        (257, 4, vec![SIZE.1 as u32]),
        (258, 3, vec![bits; count as usize]),
        (259, 3, vec![1]),
        (262, 3, vec![meaning]),
        (277, 3, vec![count]),
        (278, 4, vec![SIZE.1 as u32]),
    ]
}

fn with(entries: Vec<files::Entry>, more: files::Entry) -> Vec<files::Entry> {
    let kept = entries.into_iter().filter(|(tag, ..)| *tag != more.0);
    kept.chain([more.clone()]).collect()
}

#[test]
fn every_form_of_tiff_gives_its_pixels() {
    let packings = [Compression::Uncompressed, Compression::Lzw, Compression::Packbits];
    for packing in packings.into_iter().chain([Compression::Deflate(DeflateLevel::Fast)]) {
        let read = art(&tiff(packing));
        hold(&read.picture, 0, colour);
        assert_eq!((read.picture.model, read.jpeg), (ColourModel::Rgb, None));
    }
    for bits in [1, 2, 4] {
        let most = (1_usize << bits) - 1;
        let shade = move |x, y| (((x + y) & most) * 255 / most) as u8;
        let grey = art(&by_hand(head(bits, 1, 1), &[&packed(bits as usize)]));
        hold(&grey.picture, 0, |x, y| [shade(x, y); 3]);
        let upside_down = art(&by_hand(head(bits, 1, 0), &[&packed(bits as usize)]));
        hold(&upside_down.picture, 0, |x, y| [255 - shade(x, y); 3]);
        assert_eq!(grey.picture.model, ColourModel::Grey);
    }
    let sixteen = samples(|x, y| colour(x, y).into_iter().flat_map(|channel| [channel, channel]));
    hold(&art(&by_hand(head(16, 3, 2), &[&sixteen])).picture, 0, colour);
    let map: Vec<u32> = [10, 40, 70, 0, 20, 50, 80, 0, 30, 60, 90, 255].map(|channel| channel * 257).to_vec();
    let palette = art(&by_hand(with(head(2, 1, 3), (320, 3, map)), &[&packed(2)]));
    let colours = [[10, 20, 30], [40, 50, 60], [70, 80, 90], [0, 0, 255]];
    hold(&palette.picture, 0, |x, y| colours[(x + y) & 3]);
    assert_eq!(palette.picture.model, ColourModel::Rgb);
}

#[test]
fn tiffs_in_strips_in_planes_and_with_more_samples_give_their_pixels() {
    let rgb = samples(colour);
    let strips: Vec<&[u8]> = rgb.chunks(SIZE.0 * 3 * 5).collect();
    hold(&art(&by_hand(with(head(8, 3, 2), (278, 4, vec![5])), &strips)).picture, 0, colour);
    let planes = [0, 1, 2].map(|plane| samples(|x, y| [colour(x, y)[plane]]));
    let halves: Vec<&[u8]> = planes.iter().flat_map(|plane| plane.chunks(SIZE.0 * 16)).collect();
    let planar = with(with(head(8, 3, 2), (284, 3, vec![2])), (278, 4, vec![16]));
    hold(&art(&by_hand(planar, &halves)).picture, 0, colour);
    let clear = |x: usize| if x < 10 { 0 } else { 255 };
    let on_paper = |x, y| if x < 10 { [255; 3] } else { colour(x, y) };
    let with_alpha = samples(|x, y| colour(x, y).into_iter().chain([clear(x)]));
    let multiplied = samples(|x, y| colour(x, y).map(|channel| channel.min(clear(x))).into_iter().chain([clear(x)]));
    for (meaning, data, wanted) in [
        (2, &with_alpha, &on_paper as &dyn Fn(usize, usize) -> [u8; 3]),
        (1, &multiplied, &on_paper),
        (0, &with_alpha, &colour),
    ] {
        let entries = with(head(8, 4, 2), (338, 3, vec![meaning]));
        hold(&art(&by_hand(entries, &[data])).picture, 0, wanted);
    }
    let grey = samples(|x, y| [(x + y) as u8, clear(x)]);
    let read = art(&by_hand(with(head(8, 2, 1), (338, 3, vec![2])), &[&grey]));
    hold(&read.picture, 0, |x, y| if x < 10 { [255; 3] } else { [(x + y) as u8; 3] });
}

/// The entries of the picture in tiles of screen colours.
fn tiled_head() -> Vec<files::Entry> {
    let entries = with(with(head(8, 3, 2), (322, 3, vec![TILE.0 as u32])), (323, 3, vec![TILE.1 as u32]));
    entries.into_iter().filter(|(tag, ..)| *tag != 278).collect()
}

#[test]
fn tiffs_in_tiles_in_either_order_of_bytes_and_for_large_files_give_their_pixels() {
    let (tiles, rgb) = (tiles(), samples(colour));
    let tiles: Vec<&[u8]> = tiles.iter().map(Vec::as_slice).collect();
    for is_little in [true, false] {
        let read = art(&written_by_hand(Writing { is_little, ..TILES }, tiled_head(), &tiles));
        hold(&read.picture, 0, colour);
        hold(&art(&written_by_hand(Writing { is_little, ..STRIPS }, head(8, 3, 2), &[&rgb])).picture, 0, colour);
    }
    for packing in [Compression::Uncompressed, Compression::Lzw, Compression::Deflate(DeflateLevel::Fast)] {
        hold(&art(&large_tiff(packing)).picture, 0, colour);
        hold(&art(&tiff_of_differences(packing, false)).picture, 0, colour);
        hold(&art(&tiff_of_differences(packing, true)).picture, 0, colour);
    }
}

/// Exif data that turn a picture.
fn exif(value: u8) -> Vec<u8> {
    let before = b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0";
    before.iter().copied().chain([value, 0, 0, 0, 0, 0, 0, 0]).collect()
}

/// A colour profile that has a name and nothing else.
fn profile(name: &str) -> Vec<u8> {
    let mut bytes = vec![0; 128];
    bytes.extend([0, 0, 0, 1]);
    bytes.extend(*b"desc\0\0\0\x90\0\0\0 ");
    bytes.extend(*b"desc\0\0\0\0");
    bytes.extend((name.len() as u32 + 1).to_be_bytes());
    bytes.extend(name.bytes().chain([0]));
    bytes
}

#[test]
fn a_picture_is_turned_as_it_is_looked_at() {
    let turned = |value: u8| {
        let bytes = jpeg(&samples(colour), JpegColour::Rgb, |encoder| {
            encoder.add_app_segment(1, exif(value)).unwrap_or_else(|error| panic!("{error}"));
        });
        art(&bytes)
    };
    let half = turned(3);
    hold(&half.picture, 4, |x, y| colour(47 - x, 31 - y));
    assert_eq!((half.jpeg, turned(1).jpeg.is_some()), (None, true));
    let left = turned(8).picture;
    assert_eq!((left.width, left.height), (32, 48));
    assert!(left.at(0, 0).iter().zip(colour(47, 0)).all(|(found, wanted)| found.abs_diff(wanted) <= 4));
    let tiff = art(&by_hand(with(head(8, 3, 2), (274, 3, vec![2])), &[&samples(colour)]));
    hold(&tiff.picture, 0, |x, y| colour(47 - x, y));
}

#[test]
fn a_profile_is_named_where_it_is_not_srgb() {
    let wide = jpeg(&samples(colour), JpegColour::Rgb, |encoder| {
        encoder.add_icc_profile(&profile("Gull RGB")).unwrap_or_else(|error| panic!("{error}"));
    });
    assert_eq!(art(&wide).profile.as_deref(), Some("Gull RGB"));
    let bytes = profile("Wide Press").into_iter().map(u32::from).collect::<Vec<_>>();
    let tiff = by_hand(with(head(8, 4, 5), (34_675, 1, bytes)), &[&samples(inks)]);
    assert_eq!(art(&tiff).profile.as_deref(), Some("Wide Press"));
    let usual = jpeg(&samples(colour), JpegColour::Rgb, |encoder| {
        encoder.add_icc_profile(&profile("sRGB IEC61966-2.1")).unwrap_or_else(|error| panic!("{error}"));
    });
    assert_eq!(art(&usual).profile, None);
}

#[test]
fn a_file_that_is_no_art_is_told_what_to_export() {
    for (bytes, told) in [
        (&b""[..], "the file is empty"),
        (b"%PDF-1.7", "it is a PDF"),
        (b"GIF89a", "it is a GIF, which has too few colours for print"),
        (b"RIFF\0\0\0\0WEBPVP8 ", "it is a WebP"),
        (b"\0\0\0\x18ftypheic", "it is a HEIC"),
        (b"8BPS\0\x01", "it is a painting program's own file"),
        (b"<?xml version='1.0'?><svg/>", "it is a drawing (SVG)"),
        (b"The lamp.", "it is not a JPEG, PNG or TIFF"),
    ] {
        let fault = decoded(bytes).expect_err("it is no art");
        assert_eq!(fault.problem, told);
        assert!(fault.remedy.starts_with("export the art as JPEG, PNG or TIFF"), "{}", fault.remedy);
    }
}

#[test]
fn a_picture_that_is_too_large_is_refused_from_its_header() {
    let long = "the picture has 30000 x 30000 pixels, and no side may have more than 20000";
    assert_eq!(problem(&header_alone(30_000, 30_000)), long);
    assert_eq!(
        problem(&header_alone(20_000, 20_000)),
        "the picture has 20000 x 20000 pixels, and 150 million are the most"
    );
    let tiff = with(with(head(8, 3, 2), (256, 4, vec![30_000])), (257, 4, vec![30_000]));
    assert_eq!(problem(&by_hand(with(tiff, (278, 4, vec![30_000])), &[b""])), long);
    let mut large = jpeg(&samples(colour), JpegColour::Rgb, |_| {});
    let frame = large.windows(2).position(|pair| pair == [0xff, 0xc0]).expect("a frame");
    large[frame + 5..frame + 9].copy_from_slice(&[0x75, 0x30, 0x75, 0x30]);
    assert_eq!(problem(&large), long);
    large[frame + 5..frame + 9].copy_from_slice(&[0, 0, 0x75, 0x30]);
    assert_eq!(problem(&large), "the picture has no pixels, so nothing is in it");
}

/// The bound is what the packing can hold at best: of one even shade a picture is packed as small as can be, and read.
#[test]
fn a_jpeg_that_claims_more_than_its_bytes_can_hold_is_refused_and_an_even_one_is_read() {
    let mut claims = jpeg(&samples(colour), JpegColour::Rgb, |_| {});
    let frame = claims.windows(2).position(|pair| pair == [0xff, 0xc0]).expect("a frame");
    claims[frame + 5..frame + 9].copy_from_slice(&[0x27, 0x10, 0x27, 0x10]);
    assert_eq!(problem(&claims), "the picture ends before its last row");
    for is_progressive in [false, true] {
        let (mut even, (wide, high)) = (Vec::new(), (1_600, 1_200));
        let mut encoder = jpeg_encoder::Encoder::new(&mut even, 10);
        encoder.set_progressive(is_progressive);
        encoder.set_optimized_huffman_tables(true);
        let shades = vec![90; usize::from(wide) * usize::from(high)];
        encoder.encode(&shades, wide, high, JpegColour::Luma).expect("a picture");
        assert_eq!(art(&even).picture.width, 1_600, "{} bytes", even.len());
    }
}

#[test]
fn a_jpeg_of_very_many_scans_is_refused() {
    let whole = jpeg(&samples(colour), JpegColour::Rgb, |encoder| encoder.set_progressive(true));
    let first = whole.windows(2).position(|pair| pair == [0xff, 0xda]).expect("a scan");
    let next = first + 2 + whole[first + 2..].windows(2).position(|pair| pair == [0xff, 0xda]).expect("another");
    let scan = &whole[first..next];
    let many = [&whole[..first], &scan.repeat(101), &whole[next..]].concat();
    assert_eq!(problem(&many), "the JPEG is packed in a way that is hardly used");
}

#[test]
fn a_file_that_breaks_off_is_told_so() {
    let rgb = samples(colour);
    let tiff_strips: Vec<&[u8]> = rgb.chunks(SIZE.0 * 3 * 8).collect();
    for (form, whole) in [
        ("png", png(ColorType::Rgb, BitDepth::Eight, &rgb)),
        ("jpeg", jpeg(&rgb, JpegColour::Rgb, |_| {})),
        ("progressive", jpeg(&rgb, JpegColour::Rgb, |encoder| encoder.set_progressive(true))),
        ("tiff", by_hand(with(head(8, 3, 2), (278, 4, vec![8])), &tiff_strips)),
    ] {
        for share in [30, 50, 75, 90] {
            let told = problem(&whole[..whole.len() * share / 100]);
            assert_eq!(told, "the picture ends before its last row", "{form} at {share} in a hundred");
        }
    }
}

/// What programs make of a file that broke off: a mark of the end behind half of the picture, whose foot would then be
/// of one colour, and seem to be quiet room.
#[test]
fn a_jpeg_that_has_its_end_too_early_is_refused() {
    let rgb = samples(colour);
    let sampled = |encoder: &mut jpeg_encoder::Encoder<&mut Vec<u8>>| {
        encoder.set_sampling_factor(SamplingFactor::R_4_2_0);
    };
    for (form, whole) in [
        ("plain", jpeg(&rgb, JpegColour::Rgb, |_| {})),
        ("sampled", jpeg(&rgb, JpegColour::Rgb, sampled)),
        ("restarting", jpeg(&rgb, JpegColour::Rgb, |encoder| encoder.set_restart_interval(2))),
        ("in scans of their own", in_split_scans(SamplingFactor::R_4_4_4)),
        ("inks", jpeg(&samples(inks), JpegColour::Cmyk, |_| {})),
        ("shades", jpeg(&samples(|x, y| [(x + y) as u8]), JpegColour::Luma, |_| {})),
    ] {
        let more = [&whole[..], b"a program's own words \xff\xd8\xff\xd9"].concat();
        assert!(decoded(&more).map(|file| file.picture) == decoded(&whole).map(|file| file.picture), "{form}");
        let start = whole.windows(2).position(|pair| pair == [0xff, 0xda]).expect("a scan") + 14;
        for share in [10, 30, 50, 75, 90] {
            let half = &whole[..start + (whole.len() - start) * share / 100];
            assert!(decoded(&[half, &[0xff, 0xd9]].concat()).is_err(), "{form} at {share} in a hundred");
        }
    }
}

#[test]
fn a_directory_that_leads_back_to_itself_is_read_once() {
    let whole = by_hand(head(8, 3, 2), &[&samples(colour)]);
    let end = 8 + 2 + usize::from(u16::from_le_bytes([whole[8], whole[9]])) * 12;
    let mut circle = whole;
    circle[end..end + 4].copy_from_slice(&8_u32.to_le_bytes());
    // The first picture is whole; where the next directory would be does not matter, or is told.
    if let Err(fault) = decoded(&circle) {
        assert_eq!(fault.problem, "the picture is damaged");
    }
    let far = [&b"II*\0"[..], &u32::MAX.to_le_bytes()].concat();
    assert_eq!(problem(&far), "the picture ends before its last row");
    assert_eq!(problem(b"II*\0\x08\0\0\0\xff\xff"), "the picture ends before its last row");
}
