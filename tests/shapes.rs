//! Laws of shapes: where copy may stand inside a shape and outside it, held against plain geometry on points.

use std::f64::consts::{PI, TAU};

use blurbwright::brief::place::Shape;
use blurbwright::setting::contour::Contour;
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;

use crate::tried::law;

type Stretches = Vec<(Length, Length)>;

/// How far a drawn ellipse may be off, in points; twice, since the distance grows by it too.
const ELLIPSE_OFF: f64 = 0.02;
/// How far a thinned outline may be off, in points, twice.
const THINNED_OFF: f64 = 1.0;
/// A unit, in points: a corner halfway between two units may be rounded either way.
const ROUNDING: f64 = 1.0 / 127_000.0;

fn pt(points: f64) -> Length {
    Length::pt(points)
}

fn rect(x: f64, y: f64, width: f64, height: f64) -> Rect {
    Rect { x: pt(x), y: pt(y), width: pt(width), height: pt(height) }
}

fn inside(contour: &Contour, top: Length, foot: Length) -> Stretches {
    let mut stretches = Vec::new();
    contour.inside(top, foot, &mut stretches);
    stretches
}

fn touched(contour: &Contour, top: Length, foot: Length) -> Stretches {
    let mut stretches = Vec::new();
    contour.touched(top, foot, &mut stretches);
    stretches
}

fn widest(stretches: &Stretches) -> Length {
    stretches.iter().map(|(from, to)| *to - *from).max().unwrap_or_default()
}

/// Whether each stretch of one list lies within one of the other, give or take.
fn within(narrow: &Stretches, wide: &Stretches, off: Length) -> bool {
    narrow.iter().all(|one| wide.iter().any(|other| other.0 <= one.0 + off && one.1 <= other.1 + off))
}

/// The slow way: how far a point is outside a shape in its box, all in points; below zero inside it.
pub(crate) fn outside_by(shape: &Shape, bounds: Rect, (x, y): (f64, f64)) -> f64 {
    let (width, height) = (bounds.width.to_pt(), bounds.height.to_pt());
    let (x, y) = (x - bounds.x.to_pt(), y - bounds.y.to_pt());
    let on_paper = |points: &Vec<(f64, f64)>| -> Vec<(f64, f64)> {
        points.iter().map(|(across, down)| (pt(across * width).to_pt(), pt(down * height).to_pt())).collect()
    };
    match shape {
        Shape::Box => outside_box((x, y), (width, height), 0.0),
        Shape::Round(radius) => outside_box((x, y), (width, height), radius.to_pt().min(width / 2.0).min(height / 2.0)),
        Shape::Ellipse => {
            let turn = |at: u32| f64::from(at) * TAU / 720.0;
            let ellipse = (0..720).map(|at| (0.5 + turn(at).cos() / 2.0, 0.5 + turn(at).sin() / 2.0)).collect();
            outside_contours(&[on_paper(&ellipse)], (x, y))
        }
        Shape::Polygon(points) => outside_contours(&[on_paper(points)], (x, y)),
        Shape::File(shape) => match &shape.outline {
            Some(outline) => outside_contours(&outline.rings.iter().map(on_paper).collect::<Vec<_>>(), (x, y)),
            None => outside_box((x, y), (width, height), 0.0),
        },
    }
}

fn outside_box((x, y): (f64, f64), (width, height): (f64, f64), radius: f64) -> f64 {
    let across = (x - width / 2.0).abs() - width / 2.0 + radius;
    let down = (y - height / 2.0).abs() - height / 2.0 + radius;
    across.max(0.0).hypot(down.max(0.0)) + across.max(down).min(0.0) - radius
}

pub(super) fn outside_contours(contours: &[Vec<(f64, f64)>], (x, y): (f64, f64)) -> f64 {
    let (mut nearest, mut odd) = (f64::INFINITY, false);
    for points in contours {
        for (at, (ax, ay)) in points.iter().enumerate() {
            let (bx, by) = points[(at + 1) % points.len()];
            let squared = (bx - ax).powi(2) + (by - ay).powi(2);
            let along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared.max(1e-30);
            let (px, py) = (ax + along.clamp(0.0, 1.0) * (bx - ax), ay + along.clamp(0.0, 1.0) * (by - ay));
            nearest = nearest.min((x - px).hypot(y - py));
            odd ^= (*ay <= y) != (by <= y) && x < ax + (bx - ax) * (y - ay) / (by - ay);
        }
    }
    if odd { -nearest } else { nearest }
}

/// How far the contour of a shape may be too careful, in points.
fn slack(shape: &Shape) -> f64 {
    match shape {
        Shape::Ellipse => ELLIPSE_OFF,
        Shape::Polygon(points) if points.len() > 400 => THINNED_OFF,
        _ => 0.0,
    }
}

/// How far the slow way itself may be wrong, in points: it draws an ellipse of 400 pt with 720 edges.
pub(crate) fn slow_off(shape: &Shape) -> f64 {
    if *shape == Shape::Ellipse { 0.002 } else { ROUNDING }
}

/// Points in a ring, each with its share of the way out.
pub(crate) fn star(ways: &[f64]) -> Vec<(f64, f64)> {
    let turn = |at: usize| at as f64 * TAU / ways.len() as f64;
    let point = |(at, way): (usize, &f64)| (0.5 + way * turn(at).cos() / 2.0, 0.5 + way * turn(at).sin() / 2.0);
    ways.iter().enumerate().map(point).collect()
}

/// A cloud of many points.
fn cloud(count: usize, lobes: f64, depth: f64) -> Vec<(f64, f64)> {
    let turn = |at: usize| at as f64 * TAU / count as f64;
    star(&(0..count).map(|at| 1.0 - depth * (turn(at) * lobes / 2.0).sin().abs()).collect::<Vec<_>>())
}

fn stars() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec(0.3..1.0_f64, 3..40).prop_map(|ways| star(&ways))
}

/// Points in any order, whose edges cross, meet or go nowhere.
fn tangles() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let share = || (0..=8_u32).prop_map(|eighths| f64::from(eighths) / 8.0);
    prop::collection::vec((share(), share()), 1..9)
}

fn shapes() -> impl Strategy<Value = Shape> {
    prop_oneof![
        1 => Just(Shape::Box),
        2 => Just(Shape::Ellipse),
        2 => (0.0..100.0_f64).prop_map(|radius| Shape::Round(pt(radius))),
        3 => stars().prop_map(Shape::Polygon),
        3 => tangles().prop_map(Shape::Polygon),
        1 => (401..700_usize, 3..12_u8, 0.1..0.5_f64)
            .prop_map(|(count, lobes, depth)| Shape::Polygon(cloud(count, f64::from(lobes), depth))),
    ]
}

fn boxes() -> impl Strategy<Value = Rect> {
    (-50.0..50.0_f64, -50.0..50.0_f64, 20.0..400.0_f64, 20.0..400.0_f64)
        .prop_map(|(x, y, width, height)| rect(x, y, width, height))
}

fn distances() -> impl Strategy<Value = Length> {
    prop_oneof![1 => Just(Length::ZERO), 2 => (0.0..30.0_f64).prop_map(pt)]
}

/// A line box beside a shape in a box: most meet it, some are above or below it, some reach over it.
fn lines_at(bounds: Rect, (from, height): (f64, f64)) -> (Length, Length) {
    let top = bounds.y + pt(bounds.height.to_pt() * from);
    (top, top + pt(height))
}

fn lines() -> impl Strategy<Value = (f64, f64)> {
    (-0.2..1.1_f64, prop_oneof![6 => 0.5..40.0_f64, 1 => 40.0..600.0_f64])
}

/// Numbers that part the way from one to another into equal steps, in points.
fn steps(from: Length, to: Length, count: u32) -> impl Iterator<Item = f64> + Clone {
    let (from, way) = (from.to_pt(), (to - from).to_pt());
    (0..=count).map(move |at| from + way * f64::from(at) / f64::from(count))
}

proptest! {
    #![proptest_config(law(96))]

    /// No point of a stretch inside is out of the shape or nearer to its edge than the distance; beside every stretch,
    /// some point of the upright is.
    #[test]
    fn stretches_inside_are_those_of_the_points(
        shape in shapes(), bounds in boxes(), distance in distances(), line in lines(),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let stretches = inside(&Contour::of(&shape, bounds, distance), top, foot);
        let deepest = -distance.to_pt();
        for (from, to) in &stretches {
            for (x, y) in steps(*from, *to, 9).flat_map(|x| steps(top, foot, 9).map(move |y| (x, y))) {
                let out = outside_by(&shape, bounds, (x, y));
                prop_assert!(out <= deepest + slow_off(&shape), "{x}, {y} is outside by {out}");
            }
        }
        // A point between two of those that are tried is at most half of a step from one of them.
        let missed = (foot - top).to_pt() / 40.0 / 2.0 + slack(&shape) + slow_off(&shape);
        let beyond = steps(bounds.x - pt(1.0), bounds.right() + pt(1.0), 16)
            .filter(|x| stretches.iter().all(|(from, to)| *x <= from.to_pt() || to.to_pt() <= *x));
        for x in beyond.chain(stretches.iter().flat_map(|(from, to)| [from.to_pt(), to.to_pt()])) {
            let out = steps(top, foot, 40).map(|y| outside_by(&shape, bounds, (x, y))).fold(f64::MIN, f64::max);
            prop_assert!(out >= deepest - missed, "at {x} all is inside, by {}", -out);
        }
    }

    /// No point beside the stretches touched is in the shape or nearer to it than the distance; on every upright of a
    /// stretch, some point is.
    #[test]
    fn stretches_touched_are_those_of_the_points(
        shape in shapes(), bounds in boxes(), distance in distances(), line in lines(),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let contour = Contour::of(&shape, bounds, distance);
        let stretches = touched(&contour, top, foot);
        prop_assert!(stretches.windows(2).all(|pair| pair[0].1 < pair[1].0), "{stretches:?}");
        let room = distance + pt(5.0);
        let free = steps(bounds.x - room, bounds.right() + room, 24)
            .filter(|x| stretches.iter().all(|(from, to)| *x <= from.to_pt() || to.to_pt() <= *x));
        let ends = stretches.iter().flat_map(|(from, to)| [from.to_pt(), to.to_pt()]);
        for (x, y) in free.chain(ends).flat_map(|x| steps(top, foot, 12).map(move |y| (x, y))) {
            let out = outside_by(&shape, bounds, (x, y));
            prop_assert!(out >= distance.to_pt() - slow_off(&shape), "{x}, {y} is outside by {out} alone");
        }
        let missed = (foot - top).to_pt() / 40.0 / 2.0 + slack(&shape) + slow_off(&shape);
        for x in stretches.iter().flat_map(|(from, to)| steps(*from, *to, 8)) {
            let out = steps(top, foot, 40).map(|y| outside_by(&shape, bounds, (x, y))).fold(f64::MAX, f64::min);
            prop_assert!(out <= distance.to_pt() + missed, "at {x} nothing is nearer than {out}");
        }
        let (head, end) = contour.reach();
        let (above, below) = (touched(&contour, head - pt(100.0), head), touched(&contour, end, end + pt(100.0)));
        prop_assert!(above.is_empty() && below.is_empty(), "{above:?}, {below:?}");
    }

}

proptest! {
    #![proptest_config(law(192))]

    /// A mirrored shape has mirrored stretches, and one upside down has those of the line box upside down.
    #[test]
    fn mirrored_shapes_have_mirrored_stretches(
        shape in prop_oneof![Just(Shape::Ellipse), Just(Shape::Round(pt(31.0))), tangles().prop_map(Shape::Polygon)],
        (width, height) in (10..200_u32, 10..200_u32), distance in distances(),
        (top, tall) in (-20..250_i32, 1..60_i32),
    ) {
        // Eighths of whole points are whole units, and so are they mirrored.
        let bounds = rect(0.0, 0.0, f64::from(width), f64::from(height));
        let (top, foot) = (pt(f64::from(top)), pt(f64::from(top + tall)));
        let changed = |change: fn(f64, f64) -> (f64, f64)| match &shape {
            Shape::Polygon(points) => Shape::Polygon(points.iter().map(|(x, y)| change(*x, *y)).collect()),
            other => other.clone(),
        };
        let alike = |one: &Stretches, other: &Stretches| {
            let unit = Length::ceil_of_units(1.0);
            one.len() == other.len() && within(one, other, unit) && within(other, one, unit)
        };
        let contour = Contour::of(&shape, bounds, distance);
        let mirrored = Contour::of(&changed(|x, y| (1.0 - x, y)), bounds, distance);
        let flipped = Contour::of(&changed(|x, y| (x, 1.0 - y)), bounds, distance);
        for stretches in [inside, touched] {
            let plain = stretches(&contour, top, foot);
            let mut swapped = stretches(&mirrored, top, foot);
            swapped.reverse();
            swapped.iter_mut().for_each(|(from, to)| (*from, *to) = (bounds.width - *to, bounds.width - *from));
            prop_assert!(alike(&plain, &swapped), "{plain:?}, mirrored {swapped:?}");
            let turned = stretches(&flipped, bounds.height - foot, bounds.height - top);
            prop_assert!(alike(&plain, &turned), "{plain:?}, upside down {turned:?}");
        }
    }

    /// A thinner line box within another has all the room of that one, and meets no more.
    #[test]
    fn a_thinner_line_box_has_no_less_room(
        shape in shapes(), bounds in boxes(), distance in distances(), line in lines(),
        (from, to) in (0.0..0.5_f64, 0.5..1.0_f64),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let height = (foot - top).to_pt();
        let (upper, lower) = (top + pt(height * from), top + pt(height * to));
        let contour = Contour::of(&shape, bounds, distance);
        let (whole, thin) = (inside(&contour, top, foot), inside(&contour, upper, lower));
        prop_assert!(within(&whole, &thin, Length::ZERO), "{whole:?}, thinner {thin:?}");
        prop_assert!(widest(&whole) <= widest(&thin));
        let (whole, thin) = (touched(&contour, top, foot), touched(&contour, upper, lower));
        prop_assert!(within(&thin, &whole, Length::ZERO), "{whole:?}, thinner {thin:?}");
    }

    /// A shorter distance has all the room of a longer one, and touches no more.
    #[test]
    fn a_shorter_distance_leaves_no_less_room(
        shape in shapes(), bounds in boxes(), (less, more) in (distances(), distances()), line in lines(),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let near = Contour::of(&shape, bounds, less.min(more));
        let far = Contour::of(&shape, bounds, less.max(more));
        // Without a distance an ellipse is exact, with one it is drawn, and so has a little less room.
        let (near_in, far_in) = (inside(&near, top, foot), inside(&far, top, foot));
        prop_assert!(within(&far_in, &near_in, Length::ZERO), "{near_in:?}, with more distance {far_in:?}");
        prop_assert!(widest(&far_in) <= widest(&near_in));
        let (near_out, far_out) = (touched(&near, top, foot), touched(&far, top, foot));
        prop_assert!(within(&near_out, &far_out, Length::ZERO), "{near_out:?}, with more distance {far_out:?}");
    }

    /// A larger ellipse or box round the same middle has all the room of a smaller one.
    #[test]
    fn a_larger_shape_has_no_less_room(
        radius in 0.0..100.0_f64, bounds in boxes(), more in 0.1..50.0_f64, line in lines(),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let larger = bounds.grown(pt(more));
        for (shape, grown) in [
            (Shape::Box, Shape::Box),
            (Shape::Ellipse, Shape::Ellipse),
            (Shape::Round(pt(radius)), Shape::Round(pt(radius))),
        ] {
            let small = Contour::of(&shape, bounds, Length::ZERO);
            let large = Contour::of(&grown, larger, Length::ZERO);
            prop_assert!(within(&inside(&small, top, foot), &inside(&large, top, foot), Length::ZERO), "{shape:?}");
            prop_assert!(within(&touched(&small, top, foot), &touched(&large, top, foot), Length::ZERO), "{shape:?}");
        }
    }

    /// A box, its polygon, its outline and the box with round corners of no radius are one shape.
    #[test]
    fn a_box_is_its_polygon(bounds in boxes(), distance in distances(), line in lines()) {
        let (top, foot) = lines_at(bounds, line);
        let corners = vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let plain = Contour::of(&Shape::Box, bounds, distance);
        for shape in [Shape::Polygon(corners), Shape::Round(Length::ZERO)] {
            let other = Contour::of(&shape, bounds, distance);
            prop_assert_eq!(inside(&plain, top, foot), inside(&other, top, foot), "{:?}", shape);
            prop_assert_eq!(touched(&plain, top, foot), touched(&other, top, foot), "{:?}", shape);
            prop_assert_eq!((plain.reach(), plain.depths()), (other.reach(), other.depths()), "{:?}", shape);
        }
    }

    /// The full round of a square is its circle, and an ellipse that is nearly a circle, which is drawn, nearly so.
    #[test]
    fn the_full_round_of_a_square_is_its_ellipse(side in 20.0..400.0_f64, distance in distances(), line in lines()) {
        let bounds = rect(0.0, 0.0, side, side);
        let drawn = Rect { width: bounds.width + Length::ceil_of_units(2.0), ..bounds };
        let (top, foot) = lines_at(bounds, line);
        let round = Contour::of(&Shape::Round(pt(side)), bounds, distance);
        let circle = Contour::of(&Shape::Ellipse, bounds, distance);
        prop_assert_eq!(inside(&round, top, foot), inside(&circle, top, foot));
        prop_assert_eq!(touched(&round, top, foot), touched(&circle, top, foot));
        let ellipse = Contour::of(&Shape::Ellipse, drawn, distance);
        let two = Length::ceil_of_units(2.0);
        prop_assert!(within(&inside(&ellipse, top, foot), &inside(&round, top, foot), two));
        prop_assert!(within(&touched(&round, top, foot), &touched(&ellipse, top, foot), two));
        // What is drawn is too careful by as much as a distance that is longer by what it may be off.
        let careful = Contour::of(&Shape::Ellipse, bounds, distance + pt(ELLIPSE_OFF));
        prop_assert!(within(&inside(&careful, top, foot), &inside(&ellipse, top, foot), two));
        prop_assert!(within(&touched(&ellipse, top, foot), &touched(&careful, top, foot), two));
    }

    /// A polygon drawn in an ellipse has no more room than it, and one drawn round it no less.
    #[test]
    fn an_ellipse_is_between_its_polygons(
        bounds in boxes(), corners in 3..60_u32, distance in distances(), line in lines(),
    ) {
        let (top, foot) = lines_at(bounds, line);
        let inscribed: Vec<(f64, f64)> = star(&vec![1.0; corners as usize]);
        let out = 1.0 / (PI / f64::from(corners)).cos();
        let circumscribed = star(&vec![out; corners as usize]);
        let ellipse = Contour::of(&Shape::Ellipse, bounds, distance);
        let within_it = Contour::of(&Shape::Polygon(inscribed), bounds, distance);
        let round_it = Contour::of(&Shape::Polygon(circumscribed), bounds, distance);
        // Corners stand on whole units, and what is drawn is too careful by a little.
        let unit = Length::ceil_of_units(3.0);
        if distance == Length::ZERO {
            prop_assert!(within(&touched(&within_it, top, foot), &touched(&ellipse, top, foot), unit));
            prop_assert!(within(&touched(&ellipse, top, foot), &touched(&round_it, top, foot), unit));
            let (small, middle) = (inside(&within_it, top, foot), inside(&ellipse, top, foot));
            let large = inside(&round_it, top, foot);
            prop_assert!(widest(&small) <= widest(&middle) + unit * 9, "{small:?} {middle:?}");
            prop_assert!(widest(&middle) <= widest(&large) + unit * 9, "{middle:?} {large:?}");
        } else {
            prop_assert!(within(&touched(&within_it, top, foot), &touched(&ellipse, top, foot), Length::ZERO));
            prop_assert!(within(&inside(&ellipse, top, foot), &inside(&round_it, top, foot), unit));
        }
    }
}

/// What the stretches of line boxes of this height add up to, in square points, over the whole reach of a contour.
fn area(contour: &Contour, height: Length, stretches: fn(&Contour, Length, Length) -> Stretches) -> f64 {
    let (head, foot) = contour.reach();
    let mut sum = 0.0;
    let mut top = head;
    while top < foot {
        let width: Length = stretches(contour, top, top + height).iter().map(|(from, to)| *to - *from).sum();
        sum += width.to_pt() * height.to_pt();
        top += height;
    }
    sum
}

#[test]
fn thin_line_boxes_add_up_to_the_area() {
    let bounds = rect(10.0, 20.0, 380.0, 300.0);
    let bubble = [(0.0, 0.0), (1.0, 0.0), (1.0, 0.8), (0.55, 0.8), (0.36, 1.0), (0.41, 0.8), (0.0, 0.8)];
    let shoelace = |points: &[(f64, f64)]| {
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|((ax, ay), (bx, by))| ax * by - bx * ay).sum::<f64>().abs() / 2.0 * 380.0 * 300.0
    };
    let cases = [
        (Shape::Box, 380.0 * 300.0),
        (Shape::Ellipse, PI * 190.0 * 150.0),
        (Shape::Round(pt(60.0)), 380.0 * 300.0 - (4.0 - PI) * 60.0 * 60.0),
        (Shape::Polygon(bubble.to_vec()), shoelace(&bubble)),
    ];
    for (shape, expected) in cases {
        let contour = Contour::of(&shape, bounds, Length::ZERO);
        let (least, most) = (area(&contour, pt(0.01), inside), area(&contour, pt(0.01), touched));
        assert!(least <= expected + 0.01 && expected <= most + 0.01, "{shape:?}: {least} <= {expected} <= {most}");
        assert!(most - least < expected * 0.0002, "{shape:?}: {least} to {most}");
        assert!(((least + most) / 2.0 - expected).abs() < expected * 0.00002, "{shape:?}: {least} to {most}");
    }
}

#[test]
fn a_thinned_outline_keeps_its_area() {
    let bounds = rect(0.0, 0.0, 400.0, 400.0);
    for lobes in [10.0, 40.0] {
        let points = cloud(20_000, lobes, 0.2);
        let next = points.iter().cycle().skip(1);
        let expected =
            points.iter().zip(next).map(|((ax, ay), (bx, by))| ax * by - bx * ay).sum::<f64>() / 2.0 * 400.0 * 400.0;
        let contour = Contour::of(&Shape::Polygon(points), bounds, Length::ZERO);
        let (least, most) = (area(&contour, pt(0.1), inside), area(&contour, pt(0.1), touched));
        assert!(least <= expected && expected <= most, "{least} <= {expected} <= {most}");
        assert!(most - least < expected * 0.02, "{least} to {most}");
    }
}
