//! Thinning: an outline with as few of its points as are needed, for the setting asks of every edge.

use std::collections::BinaryHeap;

/// A point of an outline, across and down.
pub type Spot = (f64, f64);

/// An outline of no more edges stays as it is; one of more is thinned.
pub const USUAL_EDGES: usize = 400;
/// The most edges of a thinned outline, however far it is off.
pub const MOST_EDGES: usize = 4000;

/// How far a thinned outline may be off the whole one, in the measure of its points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinness {
    /// As far as this, whatever the number of edges that it takes.
    pub fine: f64,
    /// As far as this where it would take more than [`USUAL_EDGES`].
    pub coarse: f64,
}
/// How often pieces of an outline are parted at their farthest point, and after that in their middle: a comb would
/// otherwise lose one tooth at a time, in a time that grows as the square of its points.
const MOST_FARTHEST: usize = 40;

/// Closed contours, each with its first point again at the end, with as few of their points as are needed, and how far
/// the others are off the straight edges between those.
///
/// Source: Douglas and Peucker 1973, worst piece first. The piece of a contour between two points that stay, and the
/// edge between them, lie in one form without a dent: all that is no farther from the edge than the piece's farthest
/// point. One can be pulled onto the other within it, so what is outside all such forms is inside or outside both
/// outlines.
pub fn thinned(contours: Vec<Vec<Spot>>, within: Thinness) -> (Vec<Vec<Spot>>, f64) {
    if contours.iter().map(|spots| spots.len().saturating_sub(1)).sum::<usize>() <= USUAL_EDGES {
        return (contours, 0.0);
    }
    let whole = |(number, spots): (usize, &Vec<Spot>)| Piece::of(number, spots, 0, spots.len().checked_sub(1)?, 0);
    let mut pieces: BinaryHeap<Piece> = contours.iter().enumerate().filter_map(whole).collect();
    let mut stays: Vec<Vec<bool>> = contours.iter().map(|spots| vec![false; spots.len()]).collect();
    let mut edges = 0;
    let off = loop {
        let Some(piece) = pieces.pop() else { break 0.0 };
        let off = f64::from_bits(piece.off);
        if off <= within.fine || edges >= USUAL_EDGES && off <= within.coarse || edges >= MOST_EDGES {
            break off;
        }
        stays[piece.contour][piece.parted_at] = true;
        edges += 1;
        let spots = &contours[piece.contour];
        pieces.extend(Piece::of(piece.contour, spots, piece.first, piece.parted_at, piece.parted + 1));
        pieces.extend(Piece::of(piece.contour, spots, piece.parted_at, piece.last, piece.parted + 1));
    };
    let kept = contours.iter().zip(&stays).map(|(spots, stays)| {
        let last = spots.len().saturating_sub(1);
        let kept = spots.iter().zip(stays).enumerate().filter(|(at, (_, stays))| **stays || *at == 0 || *at == last);
        kept.map(|(_, (spot, _))| *spot).collect()
    });
    (kept.collect(), off)
}

/// The points of a contour from one that stays to the next that does; the piece that is farthest off comes first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Piece {
    /// How far its farthest point is off the edge from its first to its last one: the bits of the number, which for
    /// numbers that are not below zero are in the order of the numbers.
    off: u64,
    contour: usize,
    first: usize,
    last: usize,
    /// The point between them at which the piece is parted next.
    parted_at: usize,
    /// How often the contour was parted to get this piece.
    parted: usize,
}

impl Piece {
    /// A piece of a contour; none where no point is between the first and the last one.
    fn of(contour: usize, spots: &[Spot], first: usize, last: usize, parted: usize) -> Option<Self> {
        let (from, to) = (spots[first], spots[last]);
        let between = (first + 1..last).map(|at| (squared_distance(spots[at], from, to), at));
        let (squared, farthest) = between.reduce(|one, other| if other.0 > one.0 { other } else { one })?;
        let parted_at = if parted < MOST_FARTHEST { farthest } else { (first + last) / 2 };
        Some(Self { off: squared.sqrt().to_bits(), contour, first, last, parted_at, parted })
    }
}

/// The square of the distance of a point from a straight edge.
fn squared_distance(spot: Spot, from: Spot, to: Spot) -> f64 {
    let (across, down) = (to.0 - from.0, to.1 - from.1);
    let (x, y) = (spot.0 - from.0, spot.1 - from.1);
    let (along, length) = (x * across + y * down, across * across + down * down);
    // Beyond an end of the edge, that end is nearest.
    let share = if length > 0.0 { (along / length).clamp(0.0, 1.0) } else { 0.0 };
    let (x, y) = (x - share * across, y - share * down);
    x * x + y * y
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    /// How far an outline of some points of paper may be off, in points.
    const FINE: f64 = 0.1;
    const COARSE: f64 = 0.5;

    fn thin(contours: Vec<Vec<Spot>>) -> (Vec<Vec<Spot>>, f64) {
        let [fine, coarse] = [FINE, COARSE].map(|off| Length::pt(off).to_units());
        thinned(contours, Thinness { fine, coarse })
    }

    fn points(spots: &[(f64, f64)]) -> Vec<Spot> {
        let unit = Length::pt(1.0).to_units();
        spots.iter().chain(spots.first()).map(|(x, y)| ((x * unit).round(), (y * unit).round())).collect()
    }

    /// How far the points of contours are from the nearest edge of those that are left of them, in units.
    fn farthest_off(whole: &[Vec<Spot>], left: &[Vec<Spot>]) -> f64 {
        let nearest = |spot: &Spot, left: &[Spot]| {
            let edges = left.windows(2).map(|edge| squared_distance(*spot, edge[0], edge[1]));
            edges.fold(f64::INFINITY, f64::min).sqrt()
        };
        let each = whole.iter().zip(left).flat_map(|(whole, left)| whole.iter().map(|spot| nearest(spot, left)));
        each.fold(0.0, f64::max)
    }

    fn edges(contours: &[Vec<Spot>]) -> usize {
        contours.iter().map(|spots| spots.len() - 1).sum()
    }

    #[test]
    fn an_outline_of_few_points_keeps_them_all() {
        let wavy: Vec<(f64, f64)> = (0..400).map(|at| (f64::from(at), f64::from(at % 2) / 100.0)).collect();
        let whole = vec![points(&wavy)];
        assert_eq!(thin(whole.clone()), (whole, 0.0));
        assert_eq!(thin(Vec::new()), (Vec::new(), 0.0));
        assert_eq!(thin(vec![Vec::new()]), (vec![Vec::new()], 0.0));
    }

    #[test]
    fn points_between_corners_go() {
        let side = |at: i32| f64::from(at) / 10.0;
        let mut square: Vec<(f64, f64)> = (0..1000).map(|at| (side(at), 0.0)).collect();
        square.extend((0..1000).map(|at| (100.0, side(at))));
        square.extend((0..1000).map(|at| (100.0 - side(at), 100.0)));
        square.extend((0..1000).map(|at| (0.0, 100.0 - side(at))));
        let (left, off) = thin(vec![points(&square)]);
        assert_eq!(left, [points(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)])]);
        assert!(off < 1e-6, "{off}");
    }

    #[test]
    fn no_point_is_farther_off_than_is_told() {
        let circle = |radius: f64, count: u32, waves: f64| -> Vec<Spot> {
            let turn = |at: u32| f64::from(at) * std::f64::consts::TAU / f64::from(count);
            let wave = |at: u32| radius + (turn(at) * waves).sin() * radius / 5.0;
            points(&(0..count).map(|at| (wave(at) * turn(at).cos(), wave(at) * turn(at).sin())).collect::<Vec<_>>())
        };
        let smooth = vec![circle(200.0, 20_000, 8.0), circle(50.0, 500, 0.0), circle(0.04, 30, 0.0)];
        let (left, off) = thin(smooth.clone());
        assert!(edges(&left) <= USUAL_EDGES && off <= Length::pt(FINE).to_units(), "{}, {off}", edges(&left));
        assert!(farthest_off(&smooth, &left) <= off + 1e-3);
        assert_eq!(edges(&left[2..]), 1, "a speck is one point");

        // More waves than so many edges can follow to a tenth of a point.
        let rough = vec![circle(200.0, 9000, 450.0)];
        let (left, off) = thin(rough.clone());
        assert!(edges(&left) > USUAL_EDGES && edges(&left) <= MOST_EDGES, "{}", edges(&left));
        assert!(off > Length::pt(FINE).to_units() && off <= Length::pt(COARSE).to_units(), "{off}");
        assert!(farthest_off(&rough, &left) <= off + 1e-3);
    }

    #[test]
    fn a_comb_is_parted_in_the_middle_in_the_end() {
        let comb: Vec<(f64, f64)> = (0..1500)
            .map(|at| (f64::from(at), f64::from(at % 2) * 60.0))
            .chain([(1500.0, 90.0), (0.0, 90.0)])
            .collect();
        let whole = vec![points(&comb)];
        let (left, off) = thin(whole.clone());
        assert!(farthest_off(&whole, &left) <= off + 1e-3);
        assert!(off <= Length::pt(COARSE).to_units(), "{off}");
    }
}
