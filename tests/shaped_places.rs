//! Laws of copy in and round shapes, from the brief to the set lines, held against plain geometry on points.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::place::Shape;
use blurbwright::draft::Draft;
use blurbwright::setting::lines::SetLine;
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;

use crate::places::check_letters;
use crate::shapes::{outside_by, slow_off, star};
use crate::tried::law;

/// The panel's sides, in points.
const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 380.0;

/// The place of the blurb, as all tests here have it: its box has these points between it and the panel's edges.
const HEAD: f64 = 20.0;
const SIDE: f64 = 30.0;

fn set(source: &str, brief: &Brief) -> (Draft, Setting) {
    let (draft, faces) = (Draft::read(source), Faces::built_in());
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(brief));
    drop(copy);
    (draft, setting)
}

/// A shape as a brief writes it; a box is the polygon of its corners.
fn written(shape: &Shape) -> String {
    match shape {
        Shape::Ellipse => "ellipse".to_owned(),
        Shape::Round(radius) => format!("{{ round: {} pt }}", radius.to_pt()),
        Shape::File(shape) => shape.file.display().to_string(),
        Shape::Box => written(&Shape::Polygon(vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])),
        Shape::Polygon(points) => {
            let point = |(x, y): &(f64, f64)| format!("{}% {}%", x * 100.0, y * 100.0);
            format!("{{ polygon: [{}] }}", points.iter().map(point).collect::<Vec<_>>().join(", "))
        }
    }
}

/// A shape that keeps copy away: its form, the size of its box, where that is, and the clearance, all in points.
type Obstacle = (Shape, (f64, f64), (f64, f64), f64);

/// A brief whose blurb stands in a shape round others.
fn brief((shape, inset): (&Shape, f64), obstacles: &[Obstacle], (place, kind): (&str, &str)) -> Brief {
    let keep_out = |(at, (shape, (width, height), (x, y), clearance)): (usize, &Obstacle)| {
        let shape = written(shape);
        format!(
            "    - {{ name: out {at}, shape: {shape}, size: {width} x {height} pt, at: {{ head: {y} pt, fore-edge: {x} \
             pt }}, clearance: {clearance} pt }}\n"
        )
    };
    let outs: String = obstacles.iter().enumerate().map(keep_out).collect();
    let outs = if outs.is_empty() { outs } else { format!("  keep_out:\n{outs}") };
    let (shape, width, height) = (written(shape), WIDTH - 2.0 * SIDE, HEIGHT - 2.0 * HEAD);
    let yaml = format!(
        "panel:\n  trim: {WIDTH} x {HEIGHT} pt\n  margins: 0 pt\n{outs}  places:\n    - {{ name: it, holds: blurb, \
         shape: {shape}, size: {width} x {height} pt, at: {{ head: {HEAD} pt, fore-edge: {SIDE} pt }}, inset: {inset} \
         pt{place} }}\ntype: {{ size: 11 pt, leading: 14.3 pt, space_above: 0 pt{kind} }}\n"
    );
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{yaml}"))
}

fn shapes() -> impl Strategy<Value = Shape> {
    prop_oneof![
        1 => Just(Shape::Box),
        2 => Just(Shape::Ellipse),
        1 => (0..150_u32).prop_map(|radius| Shape::Round(Length::pt(f64::from(radius)))),
        3 => stars().prop_map(Shape::Polygon),
    ]
}

fn stars() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec(0.4..1.0_f64, 3..30).prop_map(|ways| star(&ways))
}

fn obstacles() -> impl Strategy<Value = Vec<Obstacle>> {
    let sizes = (20..120_u32, 20..120_u32).prop_map(|(width, height)| (f64::from(width), f64::from(height)));
    let spots = (0..280_u32, 0..260_u32).prop_map(|(x, y)| (f64::from(x), f64::from(y)));
    let clearances = prop_oneof![Just(0.0), (1..20_u32).prop_map(f64::from)];
    prop::collection::vec((shapes(), sizes, spots, clearances), 0..3)
}

fn insets() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), (1..250_u32).prop_map(|tenths| f64::from(tenths) / 10.0)]
}

/// Paragraphs of plain words.
fn copy() -> impl Strategy<Value = String> {
    let words = prop::collection::vec("[a-z]{1,9}", 1..60).prop_map(|words| words.join(" "));
    prop::collection::vec(words, 1..4).prop_map(|paragraphs| paragraphs.join("\n\n"))
}

fn place_box() -> Rect {
    rect((SIDE, HEAD), (WIDTH - 2.0 * SIDE, HEIGHT - 2.0 * HEAD))
}

fn rect((x, y): (f64, f64), (width, height): (f64, f64)) -> Rect {
    Rect { x: Length::pt(x), y: Length::pt(y), width: Length::pt(width), height: Length::pt(height) }
}

/// Points all over the box of a line: its corners, its edges and within.
fn points_of(line: &SetLine) -> impl Iterator<Item = (f64, f64)> {
    let (x, top, width, height) = (line.x.to_pt(), line.top.to_pt(), line.width.to_pt(), line.leading.to_pt());
    (0..=8).flat_map(move |across| {
        (0..=8).map(move |down| (x + width * f64::from(across) / 8.0, top + height * f64::from(down) / 8.0))
    })
}

/// What stands on a line and where its measure is.
fn told(line: &SetLine) -> (usize, std::ops::Range<usize>, Length, Length, Length) {
    (line.paragraph, line.text.clone(), line.top, line.slot_x, line.measure)
}

proptest! {
    #![proptest_config(law(40))]

    /// No point of a line's box is out of its place or nearer to an edge than the inset or a clearance, and every
    /// letter stands on one line.
    #[test]
    fn lines_keep_their_distance_from_every_shape(
        source in copy(), shape in shapes(), inset in insets(), obstacles in obstacles(), align in 0..3_usize,
        stack in 0..3_usize, breaks in 0..2_usize,
    ) {
        let place = [", align: left", ", align: centre", ""][align].to_owned()
            + [", stack: head", ", stack: centre", ", stack: foot"][stack];
        let kind = [", breaks: first-fit", ", breaks: total-fit"][breaks];
        let brief = brief((&shape, inset), &obstacles, (&place, kind));
        let (draft, setting) = set(&source, &brief);
        // A line fits that is wider than its measure by no more than this.
        let wider = Length::TOLERANCE.to_pt();
        for line in setting.lines.iter().filter(|line| line.fits()) {
            for point in points_of(line) {
                let out = outside_by(&shape, place_box(), point);
                prop_assert!(out <= slow_off(&shape) + wider - inset, "{point:?} is outside by {out}: {line:?}");
                for (shape, size, at, clearance) in &obstacles {
                    let out = outside_by(shape, rect(*at, *size), point);
                    let least = clearance - slow_off(shape) - wider;
                    prop_assert!(out >= least, "{point:?} is {out} from {shape:?}: {line:?}");
                }
            }
        }
        check_letters(&draft, &setting)?;
    }

    /// A word that stands lower than the line before it ends goes in at no tenth of a point between.
    #[test]
    fn no_tenth_with_room_is_passed_over(
        words in prop::collection::vec("[a-z]{1,9}", 1..30), shape in shapes(), inset in insets(),
        obstacles in obstacles(),
    ) {
        let brief = brief((&shape, inset), &obstacles, ("", ""));
        let (_, setting) = set(&words.join("\n\n"), &brief);
        let room = &setting.places[0].room;
        let mut foot = Length::pt(HEAD);
        for line in setting.lines.iter().take_while(|line| line.fits()) {
            let tenths = (line.top - foot).count_of(Length::pt(0.1)) as i64;
            for depth in (0..tenths).map(|tenth| foot + Length::pt(0.1) * tenth) {
                let found = room.at(depth, line.leading).width;
                prop_assert!(found < line.width, "{found} at {depth} takes {line:?}");
            }
            foot = line.foot();
        }
    }

    /// On a panel seen in a mirror every line has the letters, the depth and the measure that it had, at the other
    /// side.
    #[test]
    fn a_mirrored_panel_has_mirrored_lines(
        source in copy(), points in stars(), inset in insets(), obstacles in obstacles(),
    ) {
        let mirrored = |shape: &Shape| match shape {
            Shape::Polygon(points) => Shape::Polygon(points.iter().map(|(x, y)| (1.0 - x, *y)).collect()),
            other => other.clone(),
        };
        let others: Vec<Obstacle> = obstacles
            .iter()
            .map(|(shape, size, (x, y), clearance)| (mirrored(shape), *size, (WIDTH - size.0 - x, *y), *clearance))
            .collect();
        let shape = Shape::Polygon(points);
        let (_, plain) = set(&source, &brief((&shape, inset), &obstacles, ("", "")));
        let (_, seen) = set(&source, &brief((&mirrored(&shape), inset), &others, ("", "")));
        // Corners stand on whole units, each side rounded by itself.
        let unit = Length::ceil_of_units(4.0);
        for (line, other) in plain.lines.iter().zip(&seen.lines) {
            prop_assert_eq!((&line.text, line.over), (&other.text, other.over));
            let across = Length::pt(WIDTH) - other.slot_x - other.measure;
            for (one, two) in [(line.top, other.top), (line.measure, other.measure), (line.slot_x, across)] {
                prop_assert!(one <= two + unit && two <= one + unit, "{:?}, in the mirror {:?}", line, other);
            }
        }
        prop_assert_eq!(plain.lines.len(), seen.lines.len());
    }

    /// A box, its polygon and the box with round corners of no radius set the same lines.
    #[test]
    fn a_box_by_any_name_sets_the_same_lines(source in copy(), inset in insets()) {
        let round = Shape::Round(Length::ZERO);
        let plain = brief((&Shape::Box, inset), &[], ("", ""));
        let (_, polygon) = set(&source, &plain);
        let (_, round) = set(&source, &brief((&round, inset), &[], ("", "")));
        let mut boxed = plain.clone();
        boxed.panel.places[0].shape = Shape::Box;
        let (_, boxed) = set(&source, &boxed);
        let standing = |setting: &Setting| -> Vec<_> {
            setting.lines.iter().filter(|line| line.fits()).map(told).collect()
        };
        prop_assert_eq!(standing(&polygon), standing(&round));
        prop_assert_eq!(standing(&polygon), standing(&boxed));
    }
}

/// A word that goes nowhere whole stands as high as the measure is whole, below the shape that narrows it.
#[test]
fn a_word_wider_than_its_measure_stands_where_that_is_whole() {
    let moon = "{ name: moon, shape: ellipse, size: 60 x 60 pt, at: { head: 0 pt, spine: 0 pt } }";
    let yaml = format!(
        "panel:\n  trim: 100 x 300 pt\n  margins: 0 pt\n  keep_out: [{moon}]\ntype: {{ size: 12 pt, leading: 15 pt }}\n"
    );
    let brief = Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    let (_, setting) = set(&"lamp".repeat(12), &brief);
    let (room, line) = (&setting.places[0].room, &setting.lines[0]);
    let is_narrowed = |tenths: i64| room.at(Length::pt(0.1) * tenths, line.leading).narrowed;
    assert_eq!(Some(line.top), (0..3000).find(|tenths| !is_narrowed(*tenths)).map(|tenths| Length::pt(0.1) * tenths));
    assert_eq!(line.top, Length::pt(60.0));
}
