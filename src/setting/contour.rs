//! The edge of a place or keep-out, thickened by a distance: which stretches of a line box lie inside it, and which
//! meet it.
//!
//! Boxes, round corners, circles, and ellipses without a distance are reckoned by formula. All else is an outline of
//! straight edges. Where those are not quite the edge of the shape, the distance grows by as much as they are off, so
//! copy never comes nearer than it may. Only `+ - * /` and square roots are used, which are the same on every machine,
//! and every stretch is rounded to whole units: free ones inward, blocked ones outward.

use super::slabs::{Outline, Stretch};
use crate::brief::place::{FileOutline, Shape};
use crate::brief::quarter_circle;
use crate::outlines::thinning::{Spot, Thinness, thinned};
use crate::units::{Length, Rect};

/// How far the straight edges of an ellipse may be off it, in points.
const ELLIPSE_OFF: f64 = 0.01;
/// How far a thinned outline may be off the whole one, in points, and how far one of many edges.
const THINNED_OFF: f64 = 0.1;
const COARSELY_OFF: f64 = 0.5;

/// The edge of a place or keep-out, thickened by a distance.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    form: Form,
    bounds: (f64, f64),
}

#[derive(Debug, Clone, PartialEq)]
enum Form {
    /// What is left of the shape, and the shape with what is added.
    Rounded {
        inner: RoundedBox,
        outer: RoundedBox,
    },
    Straight {
        outline: Outline,
        distance: f64,
    },
}

impl Contour {
    /// The edge of a shape in a box, with all that is nearer to it than `distance`; a distance below zero is none.
    pub fn of(shape: &Shape, bounds: Rect, distance: Length) -> Self {
        let distance = distance.or_zero().to_units();
        let frame = RoundedBox::of(bounds);
        let half = (frame.right - frame.left).min(frame.foot - frame.top) / 2.0;
        let form = match shape {
            Shape::Box => frame.thickened(0.0, distance),
            Shape::Round(radius) => frame.thickened(radius.or_zero().to_units().min(half), distance),
            Shape::Ellipse if bounds.width == bounds.height => frame.thickened(half, distance),
            Shape::Ellipse if distance == 0.0 => {
                let ellipse = frame.ellipse();
                Form::Rounded { inner: ellipse, outer: ellipse }
            }
            Shape::Ellipse => {
                let (spots, off) = frame.ellipse().straightened();
                Form::straight(&[spots], distance + off)
            }
            Shape::Polygon(points) => frame.drawn(&[points], distance),
            Shape::File(shape) => match &shape.outline {
                Some(outline) => frame.read_from_file(outline, distance),
                None => frame.thickened(0.0, distance),
            },
        };
        let bounds = match &form {
            Form::Straight { outline, .. } => outline.depths().unwrap_or((frame.top, frame.top)),
            Form::Rounded { .. } => (frame.top, frame.foot),
        };
        Self { form, bounds }
    }

    /// The stretches of x, from left to right, whose whole upright between `top` and `foot` lies inside the shape and
    /// at least the distance away from its edge. They take the place of what was in `stretches`; each is wider than
    /// zero. A line box without height has none.
    pub fn inside(&self, top: Length, foot: Length, stretches: &mut Vec<(Length, Length)>) {
        let (top, foot) = (top.to_units(), foot.to_units());
        match &self.form {
            Form::Rounded { inner, .. } => {
                stretches.clear();
                stretches.extend(inner.inside(top, foot));
            }
            Form::Straight { outline, .. } => outline.inside(top, foot, stretches),
        }
    }

    /// The stretches of x, from left to right and merged, that hold any point between `top` and `foot` of the shape or
    /// nearer to it than the distance. They take the place of what was in `stretches`; each is wider than zero. A line
    /// box without height has none, and what only meets an edge of the line box is not in it.
    pub fn touched(&self, top: Length, foot: Length, stretches: &mut Vec<(Length, Length)>) {
        let (top, foot) = (top.to_units(), foot.to_units());
        match &self.form {
            Form::Rounded { outer, .. } => {
                stretches.clear();
                stretches.extend(outer.touched(top, foot));
            }
            Form::Straight { outline, .. } => outline.touched(top, foot, stretches),
        }
    }

    /// The highest and the lowest depth that [`Contour::touched`] can tell of: those of the shape with the distance
    /// above and below it.
    pub fn reach(&self) -> (Length, Length) {
        let (head, foot) = match &self.form {
            Form::Rounded { outer, .. } => (outer.top, outer.foot),
            Form::Straight { distance, .. } => (self.bounds.0 - distance, self.bounds.1 + distance),
        };
        (Length::floor_of_units(head), Length::ceil_of_units(foot))
    }

    /// The highest and the lowest depth of the shape itself, without the distance.
    pub fn depths(&self) -> (Length, Length) {
        (Length::floor_of_units(self.bounds.0), Length::ceil_of_units(self.bounds.1))
    }
}

impl Form {
    fn straight(contours: &[Vec<Spot>], distance: f64) -> Self {
        let edges = contours.iter().flat_map(|spots| spots.windows(2).map(|pair| (pair[0], pair[1])));
        Self::Straight { outline: Outline::new(edges, distance), distance }
    }
}

/// A box whose corners are quarters of an ellipse, in units.
#[derive(Debug, Clone, Copy, PartialEq)]
struct RoundedBox {
    left: f64,
    right: f64,
    top: f64,
    foot: f64,
    /// How far across a corner is round.
    across: f64,
    /// How far down a corner is round.
    down: f64,
}

impl RoundedBox {
    /// A box with square corners.
    fn of(bounds: Rect) -> Self {
        let (left, top) = (bounds.x.to_units(), bounds.y.to_units());
        let (right, foot) = (left + bounds.width.to_units(), top + bounds.height.to_units());
        Self { left, right, top, foot, across: 0.0, down: 0.0 }
    }

    /// The ellipse that touches all four sides.
    fn ellipse(self) -> Self {
        Self { across: (self.right - self.left) / 2.0, down: (self.foot - self.top) / 2.0, ..self }
    }

    /// The box with corners of a radius, thickened. What is left of it and what it becomes are such boxes again.
    fn thickened(self, radius: f64, distance: f64) -> Form {
        Form::Rounded {
            inner: self.grown(-distance, (radius - distance).max(0.0)),
            outer: self.grown(distance, radius + distance),
        }
    }

    fn grown(self, room: f64, radius: f64) -> Self {
        Self {
            left: self.left - room,
            right: self.right + room,
            top: self.top - room,
            foot: self.foot + room,
            across: radius,
            down: radius,
        }
    }

    /// How far inside its left and its right side the box begins and ends at a depth.
    fn set_in(&self, depth: f64) -> f64 {
        let into_corner = (self.top + self.down - depth).max(depth - (self.foot - self.down));
        if into_corner <= 0.0 {
            return 0.0;
        }
        let rest = (self.down - into_corner).max(0.0);
        self.across - self.across * ((rest * (self.down + into_corner)).sqrt() / self.down)
    }

    fn inside(&self, top: f64, foot: f64) -> Option<Stretch> {
        if foot <= top || top < self.top || self.foot < foot {
            return None;
        }
        // The box has no dent: it is narrowest at the head or at the foot of the line box.
        let set_in = self.set_in(top).max(self.set_in(foot));
        let stretch = (Length::ceil_of_units(self.left + set_in), Length::floor_of_units(self.right - set_in));
        (stretch.0 < stretch.1).then_some(stretch)
    }

    fn touched(&self, top: f64, foot: f64) -> Option<Stretch> {
        let (top, foot) = (top.max(self.top), foot.min(self.foot));
        if foot <= top {
            return None;
        }
        // The box is widest between its upper and its lower corners. A line box that stands beside upper corners alone
        // meets most of it at the line's foot, one beside lower corners at the line's head.
        let between = top <= self.foot - self.down && self.top + self.down <= foot;
        let set_in = if between { 0.0 } else { self.set_in(top).min(self.set_in(foot)) };
        let stretch = (Length::floor_of_units(self.left + set_in), Length::ceil_of_units(self.right - set_in));
        (stretch.0 < stretch.1).then_some(stretch)
    }

    /// Points of an ellipse, the first of them again at the end, and how far the straight edges between them are off it
    /// at most.
    fn straightened(&self) -> (Vec<Spot>, f64) {
        let (quarter, off) = quarter_circle(self.across.max(self.down), Length::pt(ELLIPSE_OFF).to_units());
        (self.all_quarters(&quarter), off)
    }

    /// The points of a quarter of the circle of radius 1, mirrored to the other three quarters and stretched to the
    /// ellipse.
    fn all_quarters(&self, quarter: &[Spot]) -> Vec<Spot> {
        let (x, y) = ((self.left + self.right) / 2.0, (self.top + self.foot) / 2.0);
        let turned: [fn(&Spot) -> Spot; 4] =
            [|&(a, b)| (a, b), |&(a, b)| (-b, a), |&(a, b)| (-a, -b), |&(a, b)| (b, -a)];
        let arcs = turned.iter().flat_map(|turn| quarter[1..].iter().map(turn));
        let circle = std::iter::once((1.0, 0.0)).chain(arcs);
        circle.map(|(a, b)| (x + a * self.across, y + b * self.down)).collect()
    }

    /// The outline that a file has. Its edges may be off the file's own, and its points are rounded to units, so the
    /// distance grows by as much as they are off.
    fn read_from_file(&self, outline: &FileOutline, distance: f64) -> Form {
        let off = (outline.off.0 * (self.right - self.left)).max(outline.off.1 * (self.foot - self.top));
        self.drawn(&outline.rings, distance + off)
    }

    /// The outline that contours draw whose points are shares of the box.
    fn drawn<Points: AsRef<[(f64, f64)]>>(&self, contours: &[Points], distance: f64) -> Form {
        let (width, height) = (self.right - self.left, self.foot - self.top);
        let spot = |share: &(f64, f64)| ((self.left + share.0 * width).round(), (self.top + share.1 * height).round());
        let closed = |points: &Points| {
            let points = points.as_ref();
            points.iter().chain(points.first()).map(spot).collect()
        };
        let contours: Vec<Vec<Spot>> = contours.iter().map(closed).collect();
        let [fine, coarse] = [THINNED_OFF, COARSELY_OFF].map(|off| Length::pt(off).to_units());
        let (contours, off) = thinned(contours, Thinness { fine, coarse });
        Form::straight(&contours, distance + off)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pt(points: f64) -> Length {
        Length::pt(points)
    }

    fn rect(x: f64, y: f64, width: f64, height: f64) -> Rect {
        Rect { x: pt(x), y: pt(y), width: pt(width), height: pt(height) }
    }

    /// Stretches in points.
    fn stretches(ends: &[(f64, f64)]) -> Vec<(Length, Length)> {
        ends.iter().map(|(from, to)| (pt(*from), pt(*to))).collect()
    }

    fn inside(contour: &Contour, top: f64, foot: f64) -> Vec<(Length, Length)> {
        // What was in the list goes.
        let mut found = stretches(&[(-1.0, 1.0)]);
        contour.inside(pt(top), pt(foot), &mut found);
        found
    }

    fn touched(contour: &Contour, top: f64, foot: f64) -> Vec<(Length, Length)> {
        let mut found = stretches(&[(-1.0, 1.0)]);
        contour.touched(pt(top), pt(foot), &mut found);
        found
    }

    #[test]
    fn a_box_is_exact() {
        let contour = Contour::of(&Shape::Box, rect(10.0, 20.0, 100.0, 50.0), Length::ZERO);
        assert_eq!(inside(&contour, 20.0, 70.0), stretches(&[(10.0, 110.0)]));
        assert_eq!(touched(&contour, 69.999, 90.0), stretches(&[(10.0, 110.0)]));
        assert_eq!((contour.reach(), contour.depths()), ((pt(20.0), pt(70.0)), (pt(20.0), pt(70.0))));
        for (top, foot) in [(19.999, 40.0), (40.0, 70.001), (0.0, 10.0), (80.0, 90.0), (0.0, 100.0), (40.0, 40.0)] {
            assert_eq!(inside(&contour, top, foot), []);
        }
        for (top, foot) in [(0.0, 20.0), (70.0, 80.0), (0.0, 10.0), (80.0, 90.0), (40.0, 40.0), (50.0, 40.0)] {
            assert_eq!(touched(&contour, top, foot), []);
        }
    }

    #[test]
    fn a_distance_makes_a_box_smaller_inside_and_round_outside() {
        let contour = Contour::of(&Shape::Box, rect(10.0, 20.0, 100.0, 50.0), pt(5.0));
        assert_eq!(inside(&contour, 25.0, 65.0), stretches(&[(15.0, 105.0)]));
        assert_eq!(inside(&contour, 24.999, 65.0), []);
        assert_eq!(touched(&contour, 30.0, 40.0), stretches(&[(5.0, 115.0)]));
        // 4 pt above the box, its corners keep 3 pt on either side.
        assert_eq!(touched(&contour, 0.0, 16.0), stretches(&[(7.0, 113.0)]));
        assert_eq!(touched(&contour, 74.0, 90.0), stretches(&[(7.0, 113.0)]));
        assert_eq!((contour.reach(), contour.depths()), ((pt(15.0), pt(75.0)), (pt(20.0), pt(70.0))));
        // More than half of the height leaves nothing.
        let contour = Contour::of(&Shape::Box, rect(10.0, 20.0, 100.0, 50.0), pt(25.001));
        assert_eq!(inside(&contour, 44.0, 46.0), []);
        let contour = Contour::of(&Shape::Box, rect(10.0, 20.0, 100.0, 50.0), pt(-5.0));
        assert_eq!(inside(&contour, 20.0, 70.0), stretches(&[(10.0, 110.0)]));
    }

    #[test]
    fn circles_and_ellipses_follow_their_formula() {
        // A right-angled triangle has sides of 3, 4 and 5.
        let circle = Contour::of(&Shape::Ellipse, rect(100.0, 0.0, 10.0, 10.0), Length::ZERO);
        assert_eq!(inside(&circle, 1.0, 2.0), stretches(&[(102.0, 108.0)]));
        assert_eq!(inside(&circle, 1.0, 8.0), stretches(&[(102.0, 108.0)]));
        assert_eq!(inside(&circle, 2.0, 8.0), stretches(&[(101.0, 109.0)]));
        assert_eq!(touched(&circle, -10.0, 1.0), stretches(&[(102.0, 108.0)]));
        assert_eq!(touched(&circle, 8.0, 11.0), stretches(&[(101.0, 109.0)]));
        assert_eq!(touched(&circle, 4.0, 6.0), stretches(&[(100.0, 110.0)]));
        let thick = Contour::of(&Shape::Ellipse, rect(102.0, 2.0, 6.0, 6.0), pt(2.0));
        assert_eq!(touched(&thick, -10.0, 1.0), touched(&circle, -10.0, 1.0));
        let thin = Contour::of(&Shape::Ellipse, rect(98.0, -2.0, 14.0, 14.0), pt(2.0));
        assert_eq!(inside(&thin, 2.0, 8.0), inside(&circle, 2.0, 8.0));
        let wide = Contour::of(&Shape::Ellipse, rect(0.0, 0.0, 100.0, 10.0), Length::ZERO);
        assert_eq!(inside(&wide, 1.0, 8.0), stretches(&[(20.0, 80.0)]));
        assert_eq!((wide.reach(), wide.depths()), ((pt(0.0), pt(10.0)), (pt(0.0), pt(10.0))));
    }

    #[test]
    fn an_ellipse_with_a_distance_is_on_the_safe_side() {
        let (bounds, distance) = (rect(0.0, 0.0, 300.0, 200.0), 20.0);
        let contour = Contour::of(&Shape::Ellipse, bounds, pt(distance));
        let near = |found: Length, safe: Length| found >= safe && found.to_pt() - safe.to_pt() < 0.03;
        let widest = inside(&contour, 99.999, 100.001);
        assert!(near(widest[0].0, pt(20.0)) && near(-widest[0].1, pt(-280.0)), "{widest:?}");
        let widest = touched(&contour, 90.0, 110.0);
        assert!(near(-widest[0].0, pt(20.0)) && near(widest[0].1, pt(320.0)), "{widest:?}");
        assert!(near(-contour.reach().0, pt(20.0)) && near(contour.reach().1, pt(220.0)));
        assert_eq!(contour.depths(), (pt(0.0), pt(200.0)));
    }

    #[test]
    fn a_radius_ends_at_half_of_the_shorter_side() {
        let bounds = rect(0.0, 0.0, 40.0, 10.0);
        let contour = Contour::of(&Shape::Round(pt(100.0)), bounds, Length::ZERO);
        assert_eq!(contour, Contour::of(&Shape::Round(pt(5.0)), bounds, Length::ZERO));
        assert_eq!(inside(&contour, 1.0, 8.0), stretches(&[(2.0, 38.0)]));
        assert_eq!(inside(&contour, 5.0, 5.001).len(), 1);
    }

    #[test]
    fn dents_and_holes_part_a_line() {
        let dented = Shape::Polygon(vec![(0.0, 0.0), (0.5, 0.5), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
        let contour = Contour::of(&dented, rect(0.0, 0.0, 100.0, 100.0), Length::ZERO);
        assert_eq!(inside(&contour, 20.0, 30.0), stretches(&[(0.0, 20.0), (80.0, 100.0)]));
        assert_eq!(touched(&contour, 20.0, 30.0), stretches(&[(0.0, 30.0), (70.0, 100.0)]));
        assert_eq!(inside(&contour, 40.0, 60.0), stretches(&[(0.0, 40.0), (60.0, 100.0)]));
        assert_eq!(inside(&contour, 50.0, 60.0), stretches(&[(0.0, 100.0)]));
    }

    #[test]
    fn what_has_no_area_leaves_no_room_and_blocks_only_by_its_distance() {
        let bounds = rect(10.0, 10.0, 100.0, 100.0);
        let contour = Contour::of(&Shape::Polygon(Vec::new()), bounds, pt(5.0));
        assert_eq!((inside(&contour, 0.0, 50.0), touched(&contour, 0.0, 50.0)), (Vec::new(), Vec::new()));
        assert_eq!(contour.depths(), (pt(10.0), pt(10.0)));
        for point in [Shape::Polygon(vec![(0.5, 0.5)]), Shape::Polygon(vec![(0.5, 0.5); 4])] {
            let contour = Contour::of(&point, bounds, pt(5.0));
            assert_eq!((inside(&contour, 0.0, 99.0), inside(&contour, 59.0, 61.0)), (Vec::new(), Vec::new()));
            assert_eq!(touched(&contour, 50.0, 56.0), stretches(&[(57.0, 63.0)]));
            let contour = Contour::of(&point, bounds, Length::ZERO);
            assert_eq!(touched(&contour, 0.0, 99.0), []);
        }
        let polygon = Shape::Polygon(vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
        for shape in [Shape::Box, Shape::Ellipse, Shape::Round(pt(4.0)), polygon] {
            for (width, height) in [(0.0, 0.0), (0.0, 80.0), (80.0, 0.0)] {
                let flat = rect(10.0, 10.0, width, height);
                let bare = Contour::of(&shape, flat, Length::ZERO);
                assert_eq!(inside(&bare, 0.0, 50.0), [], "{shape:?}");
                assert_eq!(inside(&Contour::of(&shape, flat, pt(1.0)), 10.0, 11.0), [], "{shape:?}");
                let thick = touched(&Contour::of(&shape, flat, pt(5.0)), 0.0, 100.0);
                let (from, to) = (thick[0].0.to_pt(), thick[0].1.to_pt());
                assert!((from - 5.0).abs() < 0.02 && (to - width - 15.0).abs() < 0.02, "{shape:?} {thick:?}");
            }
        }
    }

    #[test]
    fn lengths_past_all_paper_end_in_an_answer() {
        let polygon = Shape::Polygon(vec![(0.0, 0.0), (1.0, 0.3), (0.2, 1.0), (0.1, 0.5)]);
        let many = (0..450).map(|at| (f64::from(at % 7), f64::from(at % 11))).collect();
        for shape in [Shape::Box, Shape::Ellipse, Shape::Round(pt(4e12)), polygon, Shape::Polygon(many)] {
            for (at, size, distance) in [(0.0, 1e12, 0.0), (-7e13, 1e14, 3e12), (7e13, 100.0, 1.0), (5e13, 7e13, 7e13)]
            {
                let contour = Contour::of(&shape, rect(at, at, size, size * 0.9), pt(distance));
                let middle = at + size * 0.45;
                let all = touched(&contour, at - size, at + size);
                assert!(all.iter().all(|(from, to)| from < to), "{shape:?}");
                let some = inside(&contour, middle, middle + 12.0);
                assert!(some.iter().all(|(from, to)| from < to), "{shape:?}");
            }
        }
        let found = inside(&Contour::of(&Shape::Box, rect(0.0, 0.0, 1e12, 1e12), pt(10.0)), 10.0, 22.0);
        assert_eq!(found, stretches(&[(10.0, 1e12 - 10.0)]));
    }
}
