//! A law of proofs: in the picture of a face no pixel of the copy lies outside the place that it stands in, nor nearer
//! to an edge than the inset, nor nearer to a keep-out than its clearance. The distances are those of points from
//! shapes, by plain geometry, and know nothing of the program's.

use std::f64::consts::TAU;
use std::io::Cursor;
use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::place::{CoverFace, Shape};
use blurbwright::draft::Draft;
use blurbwright::proof::sheet::Sheet;
use blurbwright::proof::{Proof, panel_alone, png};
use blurbwright::report::drawing::{Drawing, DrawingItem, Line};
use blurbwright::setting::lines::printed;
use blurbwright::setting::{Faces, Rooms, SetLine, Setting, SettingMemory, ShapedCopy, glyphs};
use blurbwright::units::Rect;
use proptest::prelude::*;

use super::shapes::outside_contours;
use crate::tried::law;

/// Pixels per inch.
const RESOLUTION: u32 = 100;
/// A pixel in points.
const PIXEL: f64 = 72.0 / RESOLUTION as f64;
/// How far ink may stand out of its line's box, in points. Upright letters of the built-in fonts reach at most a tenth
/// of their size beyond their own width (the j to the left, the f to the right), here a tenth of 14 pt; upward and
/// downward they stay within their leading.
const OVERHANG: f64 = 1.4;

/// Forms of a place of 300 by 200 pt.
const PLACES: [&str; 5] = [
    "inset: 0 pt",
    "inset: 9 pt",
    "shape: ellipse, inset: 7 pt",
    "shape: { round: 60 pt }, inset: 5 pt",
    "shape: { polygon: [50% 0%, 100% 30%, 85% 100%, 15% 100%, 0% 30%] }, inset: 6 pt",
];

/// Forms of a keep-out of 90 by 60 pt that lies at the right edge of the place.
const KEEP_OUTS: [&str; 4] = [
    "clearance: 8 pt",
    "shape: ellipse, clearance: 8 pt",
    "shape: { round: 20 pt }, clearance: 10 pt",
    "shape: { polygon: [0% 50%, 100% 0%, 100% 100%] }, clearance: 12 pt",
];

fn brief(place: &str, keep_out: &str, keys: &str) -> Brief {
    let keep_out = format!("{{ name: art, size: 90 x 60 pt, at: {{ head: 90 pt, fore-edge: 220 pt }}, {keep_out} }}");
    let at = "size: 300 x 200 pt, at: { head: 30 pt, fore-edge: 30 pt }";
    let yaml = format!(
        "panel:\n  trim: 360 x 260 pt\n  bleed: 0 pt\n  margins: 10 pt\n  keep_out: [{keep_out}]\n  places: [{{ name: \
         it, holds: blurb, {at}, {place}, {keys} }}]\ntype: {{ size: 14 pt, leading: 19 pt }}\n"
    );
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"))
}

/// The pixels of a sheet, three bytes each, and its width in pixels.
fn pixels(sheet: &Sheet<'_>) -> (Vec<u8>, usize) {
    let bytes =
        png::written(std::slice::from_ref(sheet), RESOLUTION).unwrap_or_else(|| panic!("the picture is too large"));
    let mut reader = png_reader(&bytes);
    let mut pixels = vec![0; reader.output_buffer_size().unwrap_or_default()];
    let read = reader.next_frame(&mut pixels).unwrap_or_else(|fault| panic!("{fault}"));
    (pixels, read.width as usize)
}

fn png_reader(bytes: &[u8]) -> ::png::Reader<Cursor<&[u8]>> {
    ::png::Decoder::new(Cursor::new(bytes)).read_info().unwrap_or_else(|fault| panic!("{fault}"))
}

/// The outline of a shape in its box as points, of which a curve has so many that it is right to a hundredth of a
/// point.
fn outline(shape: &Shape, bounds: Rect) -> Vec<(f64, f64)> {
    let [x, y, width, height] = [bounds.x, bounds.y, bounds.width, bounds.height].map(|length| length.to_pt());
    let arc = |(across, down): (f64, f64), (wide, high): (f64, f64), from: f64, to: f64| {
        let turn = move |at: u32| TAU * (from + (to - from) * f64::from(at) / 90.0);
        (0..=90).map(move |at| (across + wide * turn(at).cos(), down + high * turn(at).sin())).collect::<Vec<_>>()
    };
    let corners = [(x + width, y + height), (x, y + height), (x, y), (x + width, y)];
    match shape {
        Shape::Box => corners.to_vec(),
        Shape::File(shape) => panic!("{} is not read here", shape.file.display()),
        Shape::Ellipse => {
            let middle = (x + width / 2.0, y + height / 2.0);
            (0..4)
                .flat_map(|at| arc(middle, (width / 2.0, height / 2.0), f64::from(at) / 4.0, f64::from(at + 1) / 4.0))
                .collect()
        }
        Shape::Round(radius) => {
            let radius = radius.to_pt();
            let inward = [(-radius, -radius), (radius, -radius), (radius, radius), (-radius, radius)];
            let arcs = corners.iter().zip(inward).enumerate().map(|(at, (corner, inward))| {
                arc(
                    (corner.0 + inward.0, corner.1 + inward.1),
                    (radius, radius),
                    at as f64 / 4.0,
                    (at + 1) as f64 / 4.0,
                )
            });
            arcs.flatten().collect()
        }
        Shape::Polygon(points) => points.iter().map(|(across, down)| (x + across * width, y + down * height)).collect(),
    }
}

/// The lines that are not over, with their letters. The largest size, for which a report sets copy hundreds of times,
/// is no matter here, so none is made.
fn lines(draft: &Draft, brief: &Brief, faces: &Faces) -> impl Iterator<Item = Line> {
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(brief));
    let line = |(number, set): (usize, &SetLine)| {
        let paragraph = &copy.paragraphs[set.paragraph];
        let form = brief.typography.of(paragraph.block.kind);
        Line {
            number,
            kind: paragraph.block.kind,
            text: printed(set, paragraph),
            place: setting.places[set.place].room.live(),
            rect: Rect { x: set.x, y: set.top, width: set.width, height: set.leading },
            baseline: set.baseline,
            over: set.over,
            runs: glyphs::of_line(set, paragraph, &form.font, form.size),
        }
    };
    let all: Vec<Line> = setting.lines.iter().enumerate().map(line).collect();
    all.into_iter().filter(|line| !line.over)
}

/// Draws the guides with the copy that fits and without it, and holds every pixel in which the two differ against the
/// place and the keep-out. Gives how many pixels there are, and the least room to either edge beyond what is asked.
fn check(source: &str, brief: &Brief) -> Result<(usize, f64), TestCaseError> {
    let (draft, faces) = (Draft::read(source), Faces::built_in());
    let bare = Drawing::of_panel(&brief.panel);
    let mut with = bare.clone();
    with.items.extend(lines(&draft, brief, &faces).map(DrawingItem::Line));
    let sheet = |drawing: &Drawing| {
        let proof =
            Proof { around: CoverFace::Panel.around(), drawing, title: "", subject: "", facts: &[], cautions: &[] };
        pixels(&panel_alone(&proof, &faces))
    };
    let ((inked, width), (bare, _)) = (sheet(&with), sheet(&bare));
    prop_assert_eq!(inked.len(), bare.len());
    let trim = {
        let proof = Proof {
            around: CoverFace::Panel.around(),
            drawing: &with,
            title: "",
            subject: "",
            facts: &[],
            cautions: &[],
        };
        panel_alone(&proof, &faces).trim
    };
    let (place, art) = (&brief.panel.places[0], &brief.panel.keep_outs[0]);
    let [place_edge, art_edge] =
        [outline(&place.shape, place.bounds), outline(&art.shape, art.rect)].map(|points| [points]);
    let depth = inked.len() / 3 / width;
    let (mut count, mut least) = (0, f64::INFINITY);
    for at in (0..width * depth).filter(|at| inked[at * 3..at * 3 + 3] != bare[at * 3..at * 3 + 3]) {
        let point = ((at % width) as f64 + 0.5, (at / width) as f64 + 0.5);
        let point = (point.0 * PIXEL - trim.x.to_pt(), point.1 * PIXEL - trim.y.to_pt());
        let inside = -outside_contours(&place_edge, point) - place.inset.to_pt();
        let clear = outside_contours(&art_edge, point) - art.clearance.to_pt();
        prop_assert!(inside > -OVERHANG - PIXEL, "{:?} is {} pt out of the place: {}", point, -inside, source);
        prop_assert!(clear > -OVERHANG - PIXEL, "{:?} is {} pt in the keep-out: {}", point, -clear, source);
        (count, least) = (count + 1, least.min(inside).min(clear));
    }
    Ok((count, least))
}

proptest! {
    #![proptest_config(law(12))]

    #[test]
    fn no_ink_outside_places_or_near_keep_outs(
        words in prop::collection::vec("([A-Za-z]{1,12}|fjord|Qyf|WAVE|gypsy)(,|\\.|)", 1..60),
        place in 0..PLACES.len(),
        keep_out in 0..KEEP_OUTS.len(),
        align in 0..3_usize,
        stack in 0..3_usize,
    ) {
        let align = ["left", "centre", "justified"][align];
        let keys = format!("align: {align}, stack: {}", ["head", "centre", "foot"][stack]);
        check(&words.join(" "), &brief(PLACES[place], KEEP_OUTS[keep_out], &keys))?;
    }
}

/// The law would tell of a place that is a few points larger than it should be: copy goes right up to its edges.
#[test]
fn copy_comes_near_to_the_edges_of_its_place() {
    for place in PLACES {
        let source = "Wilf fixes a lamp. ".repeat(12);
        let (count, least) = check(&source, &brief(place, KEEP_OUTS[1], "align: justified")).unwrap_or_default();
        assert!(count > 2000 && least < 2.0, "{place}: {count} {least}");
    }
}
