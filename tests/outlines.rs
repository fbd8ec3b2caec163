//! Laws of outlines that files have, and of the round corners of a board book: against shapes that are known otherwise.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use blurbwright::brief::Brief;
use blurbwright::brief::place::{FileOutline, FileShape, Shape};
use blurbwright::outlines::{OutlineFault, outline_of_drawing, outline_of_picture};
use blurbwright::setting::contour::Contour;
use blurbwright::units::{Length, Rect};
use png::{BitDepth, ColorType};

use crate::random::Random;
use crate::tried::tried;
use files::{BUBBLE, cloud, drawing, encoded, header_alone, interlaced, interlaced_parts, of_parts, picture};

pub(crate) mod files;

type Stretches = Vec<(Length, Length)>;

/// The box on paper that every outline here fills.
const BOX: [f64; 4] = [20.0, 30.0, 300.0, 200.0];

fn pt(points: f64) -> Length {
    Length::pt(points)
}

fn rect([x, y, width, height]: [f64; 4]) -> Rect {
    Rect { x: pt(x), y: pt(y), width: pt(width), height: pt(height) }
}

fn shape(outline: FileOutline) -> Shape {
    Shape::File(FileShape { file: PathBuf::from("shape"), opacity: 0.0, outline: Some(Arc::new(outline)) })
}

fn drawn(elements: &str) -> Shape {
    shape(outline_of_drawing(drawing(elements).as_bytes()).unwrap_or_else(|fault| panic!("{fault:?} of {elements}")))
}

fn pictured(bytes: &[u8]) -> Shape {
    shape(outline_of_picture(bytes, 0.0).unwrap_or_else(|fault| panic!("{fault:?}")))
}

/// The rings of a shape.
fn rings(shape: &Shape) -> Vec<Vec<(f64, f64)>> {
    let Shape::File(FileShape { outline: Some(outline), .. }) = shape else { return Vec::new() };
    outline.rings.clone()
}

fn problem<T: std::fmt::Debug>(read: Result<T, OutlineFault>) -> String {
    match read {
        Err(fault) => fault.problem,
        Ok(outline) => panic!("nothing is wrong with {outline:?}"),
    }
}

/// Line boxes of several heights from above the box to below it.
fn lines() -> impl Iterator<Item = (Length, Length)> {
    (0..70)
        .flat_map(|line| [0.5, 3.0, 16.0].map(|height| (pt(f64::from(line) * 4.0 - 5.0), height)))
        .map(|(top, height)| (top, top + pt(height)))
}

fn inside(contour: &Contour, (top, foot): (Length, Length)) -> Stretches {
    let mut stretches = Vec::new();
    contour.inside(top, foot, &mut stretches);
    stretches
}

fn touched(contour: &Contour, (top, foot): (Length, Length)) -> Stretches {
    let mut stretches = Vec::new();
    contour.touched(top, foot, &mut stretches);
    stretches
}

/// Whether each stretch of one list lies within one of the other.
fn within(narrow: &Stretches, wide: &Stretches) -> bool {
    narrow.iter().all(|one| wide.iter().any(|other| other.0 <= one.0 && one.1 <= other.1))
}

/// Holds a shape in the box between two others: inside the one with no distance, round the other with a distance of so
/// many points more.
#[track_caller]
fn lies_between(shape: &Shape, known: &Shape, ([left, top, width, height], grown, more): ([f64; 4], f64, f64)) {
    let wide = rect([left - grown, top - grown, width + grown * 2.0, height + grown * 2.0]);
    let own = rect([left, top, width, height]);
    for distance in [0.0, 6.0] {
        let contour = Contour::of(shape, own, pt(distance));
        let (loose, tight) =
            (Contour::of(known, wide, pt(distance)), Contour::of(known, own, pt(distance + grown + more)));
        for line in lines() {
            assert!(within(&inside(&contour, line), &inside(&loose, line)), "{line:?} at {distance}");
            assert!(within(&inside(&tight, line), &inside(&contour, line)), "{line:?} at {distance}");
        }
    }
}

#[test]
fn a_rectangle_of_a_drawing_is_the_box() {
    for elements in [
        "<rect x='3' y='-7' width='40' height='11'/>",
        "<path d='M0 0h10v10h-10z'/>",
        "<path d='m 5,5 10,0 0,10 -10,0 0,-10'/>",
        "<g transform='scale(2 -3)'><path transform='translate(40 7)' d='M0 0h10v10h-10z'/></g>",
        "<polygon points='0,0 30,0 30,20 0,20'/><g style='fill:red; display: none'><path d='M0 0h9'/></g>",
        "<defs><path d='M0 0h9'/></defs><rect width='5' height='5' transform='rotate(90)'/>",
    ] {
        let drawn = drawn(elements);
        for distance in [0.0, 6.0] {
            let bounds = rect(BOX);
            let (own, known) =
                (Contour::of(&drawn, bounds, pt(distance)), Contour::of(&Shape::Box, bounds, pt(distance)));
            for line in lines() {
                let near = |own: &Stretches, known: &Stretches| {
                    let hair = Length::TOLERANCE;
                    let grown: Stretches = known.iter().map(|(from, to)| (*from - hair, *to + hair)).collect();
                    own.len() == known.len() && within(own, &grown)
                };
                assert!(near(&inside(&own, line), &inside(&known, line)), "{elements} {line:?}");
                assert!(near(&touched(&own, line), &touched(&known, line)), "{elements} {line:?}");
            }
        }
    }
}

#[test]
fn a_circle_of_a_drawing_is_the_ellipse_of_its_box() {
    for elements in [
        "<circle cx='9' cy='4' r='7'/>",
        "<ellipse rx='70' ry='7'/>",
        "<path d='M0 5 A5 5 0 0 1 10 5 A5 5 0 0 1 0 5 Z'/>",
        "<path d='M0 0.5 a.5 .5 0 1 0 1 0 a.5 .5 0 1 0 -1 0'/>",
        "<path d='M1 0 C1 .5523 .5523 1 0 1 S-1 .5523 -1 0 -.5523 -1 0 -1 1 -.5523 1 0Z' transform='rotate(45)'/>",
        "<rect width='20' height='20' rx='10'/>",
    ] {
        // Four curves for a circle are off it by a three-thousandth of its radius, and the distance grows by as much.
        lies_between(&drawn(elements), &Shape::Ellipse, (BOX, 0.05, 0.25));
    }
}

#[test]
fn an_ellipse_of_a_picture_is_the_ellipse_within_a_pixel() {
    let (width, height) = (150, 100);
    let is_in = |x: u32, y: u32| {
        let (x, y) = ((f64::from(x) + 0.5) / 75.0 - 1.0, (f64::from(y) + 0.5) / 50.0 - 1.0);
        if x * x + y * y < 1.0 { 255 } else { 0 }
    };
    // A pixel is two points here.
    let picture = pictured(&picture((width, height), is_in));
    lies_between(&picture, &Shape::Ellipse, (BOX, 2.0, 2.0));
}

#[test]
fn a_picture_without_gaps_is_the_box() {
    let Shape::File(FileShape { outline: Some(outline), .. }) = pictured(&picture((40, 20), |_, _| 1)) else {
        panic!("a picture has an outline");
    };
    assert_eq!((outline.off, outline.proportions), ((0.0, 0.0), Some(2.0)));
    let mut points = outline.rings[0].clone();
    points.sort_by(|one, other| one.partial_cmp(other).unwrap_or(std::cmp::Ordering::Equal));
    assert_eq!((outline.rings.len(), points), (1, vec![(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)]));
}

#[test]
fn holes_are_no_part_of_a_shape() {
    let frame = picture((60, 40), |x, y| u8::from(!((20..40).contains(&x) && (10..30).contains(&y))) * 255);
    let path = "<path d='M0 0h60v40h-60z M20 10v20h20v-20z'/>";
    let even_odd = "<g style='fill:none; fill-rule: evenodd'><path d='M0 0h60v40h-60z M20 10h20v20h-20z'/></g>";
    let sheet = "<style>.a { fill-rule: evenodd }</style><path class='a' d='M0 0h60v40h-60z M20 10h20v20h-20z'/>";
    for shape in [pictured(&frame), drawn(path), drawn(even_odd), drawn(sheet)] {
        let contour = Contour::of(&shape, rect(BOX), Length::ZERO);
        assert_eq!(inside(&contour, (pt(100.0), pt(110.0))), [(pt(20.0), pt(120.0)), (pt(220.0), pt(320.0))]);
        assert_eq!(inside(&contour, (pt(35.0), pt(75.0))), [(pt(20.0), pt(320.0))]);
    }
    // By the rule of winding, what goes one way with its ground is no hole.
    let filled = drawn("<path d='M0 0h60v40h-60z M20 10h20v20h-20z'/>");
    let contour = Contour::of(&filled, rect(BOX), Length::ZERO);
    assert_eq!(inside(&contour, (pt(100.0), pt(110.0))), [(pt(20.0), pt(320.0))]);
}

#[test]
fn a_mirrored_file_has_mirrored_stretches() {
    let bubble = |side| drawn(&format!("<g transform='scale({side} 1)'>{BUBBLE}</g>"));
    let puffs = |side: bool| pictured(&picture((300, 180), |x, y| cloud(if side { 299 - x } else { x }, y)));
    // An outline is thinned from another point on; a pixel is a point here.
    for (own, mirrored, off) in [(bubble(1), bubble(-1), 0.3), (puffs(false), puffs(true), 2.0)] {
        let [own, mirrored] =
            [own, mirrored].map(|shape| [3.0, 3.0 + off].map(|inset| Contour::of(&shape, rect(BOX), pt(inset))));
        let turn = |x: Length| pt(2.0 * BOX[0] + BOX[2]) - x;
        let turned = |stretches: Stretches| stretches.iter().rev().map(|(from, to)| (turn(*to), turn(*from))).collect();
        let mut lines_held = 0;
        for line in lines() {
            lines_held += inside(&own[1], line).len();
            assert!(within(&turned(inside(&mirrored[1], line)), &inside(&own[0], line)), "{line:?}");
            assert!(within(&turned(inside(&own[1], line)), &inside(&mirrored[0], line)), "{line:?}");
        }
        assert!(lines_held > 90, "{lines_held}");
    }
}

#[test]
fn every_form_of_a_picture_has_one_outline() {
    let size = (23_u32, 17_u32);
    let is_in = |x: u32, y: u32| (i64::from(x) - 11).pow(2) + (i64::from(y) - 8).pow(2) < 50;
    let opaque = |x, y| if is_in(x, y) { 200 } else { 0 };
    let known = rings(&pictured(&picture(size, opaque)));
    let pixels = || (0..size.1).flat_map(|y| (0..size.0).map(move |x| is_in(x, y)));
    let data = |of_pixel: fn(bool) -> Vec<u8>| pixels().flat_map(of_pixel).collect::<Vec<u8>>();
    let plain = |_: &mut png::Encoder<'_, &mut Vec<u8>>| {};
    let rgba_16 = data(|is_in| [vec![1; 6], if is_in { vec![0, 9] } else { vec![0, 0] }].concat());
    let grey_16 = data(|is_in| if is_in { vec![7, 7, 255, 255] } else { vec![7, 7, 0, 0] });
    let rgb = data(|is_in| if is_in { vec![1, 2, 3] } else { vec![9, 8, 7] });
    let index = data(|is_in| vec![u8::from(is_in)]);
    for (name, bytes) in [
        ("interlaced", interlaced(size, opaque)),
        ("16 bits", encoded(size, (ColorType::Rgba, BitDepth::Sixteen), &rgba_16, plain)),
        ("grey, 16 bits", encoded(size, (ColorType::GrayscaleAlpha, BitDepth::Sixteen), &grey_16, plain)),
        (
            "one colour is transparent",
            encoded(size, (ColorType::Rgb, BitDepth::Eight), &rgb, |encoder| encoder.set_trns(vec![0, 9, 0, 8, 0, 7])),
        ),
        (
            "palette",
            encoded(size, (ColorType::Indexed, BitDepth::Eight), &index, |encoder| {
                encoder.set_palette(vec![0, 0, 0, 9, 9, 9]);
                encoder.set_trns(vec![0, 255]);
            }),
        ),
    ] {
        assert_eq!(rings(&pictured(&bytes)), known, "{name}");
    }
}

#[test]
fn a_pixel_counts_when_it_is_more_opaque_than_is_asked() {
    let ramp = picture((100, 1), |x, _| (x * 255 / 100) as u8);
    for (opacity, share) in [(0.0, 0.01), (20.0, 0.21), (50.0, 0.51)] {
        let outline = outline_of_picture(&ramp, opacity).unwrap_or_else(|fault| panic!("{fault:?}"));
        let left = outline.rings[0].iter().map(|(x, _)| *x).fold(1.0, f64::min);
        assert!((left - share).abs() < 1e-9, "{opacity}: {left}");
    }
    assert_eq!(problem(outline_of_picture(&ramp, 99.0)), "nothing in it is more opaque than 99%");
}

#[test]
fn what_has_no_outline_is_told() {
    let of = |elements: &str| problem(outline_of_drawing(drawing(elements).as_bytes()));
    let many = format!("<path d='M0 0{}z'/>", "L1 1 2 0".repeat(60_000));
    let deep = format!("{}<path d='M0 0h9v9z'/>{}", "<g>".repeat(300_000), "</g>".repeat(300_000));
    for (elements, told) in [
        ("", "it has no path"),
        ("<defs><rect width='9' height='9'/></defs>", "it has no path"),
        ("<path d='M0 0h9v9z'/><circle r='4'/>", "it has 2 parts that are drawn, and a shape is one path"),
        ("<path d='M0 0h9v9'/>", "its path is open: it does not end where it begins"),
        ("<path d='M0 0h9v9 M0 0h5v5z'/>", "its path is open: it does not end where it begins"),
        ("<line x2='9' y2='9'/>", "its path is open: it does not end where it begins"),
        ("<path d=''/>", "its path encloses no area"),
        ("<path d='M0 0h9h9z'/>", "its path encloses no area"),
        ("<path d='M0 0 NaN 9z'/>", "its path is damaged"),
        ("<path d='M0 0 1e999 9 9 9z'/>", "its path is damaged"),
        ("<path d='M0 0 1e30 9 9 9z'/>", "a number in its path is far too large"),
        ("<path d='M0 0h9v9z' transform='turn(3)'/>", "a transform in it is damaged"),
        ("<rect width='50%' height='9'/>", "\"50%\" at width is no plain number"),
        ("<text>Oona</text>", "what it draws is a <text> and not a path"),
        ("<path d='M0 0h6v6h-6z M4 4h6v6h-6z'/>", "parts of its path lie over each other"),
        (&many, "its path has more than 100000 pieces"),
        (&deep, "it has far more elements than one shape needs"),
        ("<g>", "line 1, column 65 of it is not XML as an SVG has it"),
    ] {
        assert_eq!(of(elements), told, "{}", elements.chars().take(60).collect::<String>());
    }
    let of = |text: &str| problem(outline_of_drawing(text.as_bytes()));
    assert_eq!(of("<html/>"), "it is XML, but not an SVG");
    let entity =
        "<!DOCTYPE svg [<!ENTITY a 'M0 0h9v9z'>]><svg xmlns='http://www.w3.org/2000/svg'><path d='&a;'/></svg>";
    assert_eq!(of(entity), "it defines entities, which are never expanded");
    assert_eq!(problem(outline_of_drawing(b"\xff\xfe<\0")), "it is not text in UTF-8, as an SVG is");

    let good = picture((9, 9), |x, _| (x * 20) as u8);
    let opaque = encoded((2, 1), (ColorType::Rgb, BitDepth::Eight), &[9; 6], |_| {});
    let speckled = picture((1100, 1100), |x, y| u8::from((x + y) % 2 == 0));
    for (bytes, told) in [
        (&good[..good.len() / 2], "the picture ends before its last row"),
        (&good[..20], "the picture ends before its last row"),
        (&[&good[..40], &[7; 9], &good[40..]].concat(), "the picture is damaged"),
        (&opaque, "it has no transparency, so its shape is the whole box"),
        (&picture((9, 9), |_, _| 0), "all of it is transparent"),
        (&header_alone(8001, 8000), "it has 8001 x 8000 pixels, and 64 million are the most"),
        (&header_alone(0, 9), "the picture is damaged"),
        (&speckled, "what is opaque in it has too many corners, as a speckled picture has"),
    ] {
        assert_eq!(problem(outline_of_picture(bytes, 0.0)), told);
    }
}

/// Neither a fault of the program nor a number that is none comes of any file.
#[test]
fn damaged_files_end_in_an_outline_or_a_fault() {
    let bubble = drawing(BUBBLE).into_bytes();
    let puff = picture((30, 18), |x, y| cloud(x * 10, y * 10));
    let woven = interlaced((30, 18), |x, y| cloud(x * 10, y * 10));
    let mut random = Random(16);
    let mut read = 0;
    // A sum of each chunk tells most damage to a picture; so the last is damaged before its sums are made.
    let (header, rows) = interlaced_parts((30, 18), |x, y| cloud(x * 10, y * 10));
    for round in 0..tried(6000) as usize {
        let whole = [&bubble, &puff, &woven, &rows][round % 4];
        let mut bytes = whole.clone();
        for _ in 0..=random.below(4) {
            let at = random.place(bytes.len());
            match random.below(4) {
                0 => bytes[at] = random.below(256) as u8,
                1 => bytes.truncate(at.max(1)),
                2 => bytes.insert(at, b"0123456789.-eAaMmZz<>&\"'%"[random.place(25)]),
                _ => {
                    let from = random.place(whole.len());
                    let length = random.below(20) as usize;
                    bytes.splice(at..at, whole[from..].iter().copied().take(length));
                }
            }
        }
        if round % 4 == 3 {
            let mut header = header.clone();
            header[random.place(13)] ^= [0, 0, 0, 2, 8][random.place(5)];
            bytes = of_parts(&header, &bytes);
        }
        let outlines = [outline_of_drawing(&bytes), outline_of_picture(&bytes, 20.0)];
        for outline in outlines.into_iter().flatten() {
            read += 1;
            let is_share = |x: &f64| (0.0..=1.0).contains(x);
            assert!(outline.off.0 < 0.5 && outline.off.1.is_finite(), "{:?}", outline.off);
            assert!(outline.rings.iter().flatten().all(|(x, y)| is_share(x) && is_share(y)));
            let contour = Contour::of(&shape(outline), rect(BOX), pt(2.0));
            lines().for_each(|line| assert!(inside(&contour, line).iter().all(|(from, to)| from < to)));
        }
    }
    assert!(read > tried(200), "only {read} of them could still be read");
}

/// Copy comes as near to the arc as to the straight edges beside it, to a hundredth of a point.
#[test]
fn round_corners_keep_out_of_what_is_cut_off_and_of_the_margin_beside_it() {
    let radius = 40.0;
    for margin in [0.0, 5.0] {
        let text = format!("panel: {{ trim: 400 x 500 pt, margins: {margin} pt, round_corners: {radius} pt }}\n");
        let brief = Brief::read(&text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
        let contours: Vec<Contour> =
            brief.panel.keep_outs.iter().map(|out| Contour::of(&out.shape, out.rect, out.clearance)).collect();
        assert_eq!(contours.len(), 2);
        for away in (0..39).map(|away| f64::from(away) + 0.5).filter(|away| *away > margin) {
            // By Pythagoras, on either side of the panel's height: the arc of one middle that the margin leaves.
            let cut_off = radius - ((radius - margin).powi(2) - (radius - away).powi(2)).sqrt();
            for (contour, line) in contours.iter().zip([(away, away + 12.0), (500.0 - away - 12.0, 500.0 - away)]) {
                let stretches = touched(contour, (pt(line.0), pt(line.1)));
                let [(from, to)] = stretches[..] else { panic!("one stretch, not {stretches:?}") };
                assert_eq!(from, pt(-margin));
                assert!(cut_off <= to.to_pt() + 1e-5 && to.to_pt() < cut_off + 0.2, "{away}: {to:?} for {cut_off}");
            }
        }
        assert!(touched(&contours[0], (pt(40.0 + margin), pt(80.0))).is_empty());
    }
}
