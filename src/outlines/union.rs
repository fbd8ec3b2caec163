//! The union of rings that lie over each other: what a winding that is not nought fills, as rings of which an odd
//! number goes round it.
//!
//! Depth is parted into strips at every corner of a ring and at every crossing of two edges. In a strip no two edges
//! cross, so from left to right the windings can be added up, and what is filled is a row of boxes with slanting sides.
//! Where one box stands on another, their level sides cancel out, and so does a side that two boxes share; what is left
//! bounds the union. Corners are whole steps of a fine grid, so that every corner has an even number of sides however
//! crossings were rounded, and the sides go together to closed rings. With a square on another, a quarter over:
//!
//! ```text
//!     +-----+              +-----+
//!     |  +--|--+    to     |     +--+
//!     +-----+  |           +--+     |
//!        +-----+              +-----+
//! ```

use std::collections::{BTreeMap, BTreeSet};

use super::OutlineFault;
use super::thinning::Spot;

/// How fine the grid is, as a share of the drawing's longer side: a cover's is then off by less than a thousandth of a
/// unit of `Length`.
pub(super) const GRID: f64 = 1e-12;
/// How many pairs of edges are compared, how many crossings are found and how many sides of boxes are looked at, at the
/// most. A cloud of ten circles has some hundred thousand pairs and sides, and twenty crossings.
const MOST_PAIRS: usize = 50_000_000;
const MOST_CROSSINGS: usize = 20_000;
const MOST_SIDES: usize = 1_000_000;

/// A corner, in steps of the grid.
type Corner = (i64, i64);

/// An edge of a ring from its upper to its lower end, and whether the ring runs down it, 1, or up, -1.
#[derive(Debug, Clone, Copy)]
struct Edge {
    upper: Spot,
    lower: Spot,
    way: i32,
}

impl Edge {
    /// Where the edge is at a depth between its ends.
    fn at(&self, y: f64) -> f64 {
        let (upper, lower) = (self.upper, self.lower);
        if y <= upper.1 {
            return upper.0;
        }
        if y >= lower.1 {
            return lower.0;
        }
        upper.0 + (lower.0 - upper.0) * ((y - upper.1) / (lower.1 - upper.1))
    }

    /// The depth at which two edges cross, if they do between the ends of both.
    fn crossing(&self, other: &Self) -> Option<f64> {
        let (head, foot) = (self.upper.1.max(other.upper.1), self.lower.1.min(other.lower.1));
        let (above, below) = (self.at(head) - other.at(head), self.at(foot) - other.at(foot));
        (head < foot && above * below < 0.0).then(|| head + (foot - head) * (above / (above - below)))
    }
}

/// The rings that bound what the winding of some rings fills.
///
/// # Errors
///
/// Rings with far too many crossings.
pub(super) fn united(rings: &[Vec<Spot>]) -> Result<Vec<Vec<Spot>>, OutlineFault> {
    let mut edges: Vec<Edge> = rings.iter().flat_map(|ring| edges_of(ring)).collect();
    edges.sort_by(|one, other| one.upper.1.total_cmp(&other.upper.1));
    let depths = depths(&edges)?;
    let mut sides = Sides::default();
    let (mut entered, mut active, mut looked_at): (usize, Vec<usize>, usize) = (0, Vec::new(), 0);
    for strip in depths.windows(2) {
        let (head, foot) = (strip[0], strip[1]);
        active.retain(|edge| edges[*edge].lower.1 > head);
        while edges.get(entered).is_some_and(|edge| edge.upper.1 <= head) {
            active.push(entered);
            entered += 1;
        }
        looked_at += active.len();
        if looked_at > MOST_SIDES {
            return Err(too_many());
        }
        // No two edges cross between head and foot, so their order in the middle is that of the whole strip.
        let middle = head + (foot - head) / 2.0;
        active.sort_by(|one, other| edges[*one].at(middle).total_cmp(&edges[*other].at(middle)));
        let mut winding = 0;
        for edge in active.iter().map(|edge| &edges[*edge]) {
            let before = winding;
            winding += edge.way;
            if (before == 0) != (winding == 0) {
                sides.add(corner(edge.at(head), head), corner(edge.at(foot), foot));
            }
        }
    }
    Ok(sides.rings())
}

pub(super) fn too_many() -> OutlineFault {
    OutlineFault::new(
        "parts of its path lie over each other far too often",
        "unite them in the drawing program, where this is called union",
    )
}

/// The edges of a ring that are not level: a level one lies on the border of two strips.
fn edges_of(ring: &[Spot]) -> impl Iterator<Item = Edge> + '_ {
    let pairs = ring.iter().copied().zip(ring.iter().copied().cycle().skip(1));
    pairs.filter(|(one, next)| one.1 != next.1).map(|(one, next)| match one.1 < next.1 {
        true => Edge { upper: one, lower: next, way: 1 },
        false => Edge { upper: next, lower: one, way: -1 },
    })
}

/// The depths of all corners and crossings, from the head down.
fn depths(edges: &[Edge]) -> Result<Vec<f64>, OutlineFault> {
    let mut depths: Vec<f64> = edges.iter().flat_map(|edge| [edge.upper.1, edge.lower.1]).collect();
    let (corners, mut compared) = (depths.len(), 0);
    for (number, edge) in edges.iter().enumerate() {
        let below = edges[number + 1..].iter().take_while(|other| other.upper.1 < edge.lower.1);
        depths.extend(below.inspect(|_| compared += 1).filter_map(|other| edge.crossing(other)));
        if compared > MOST_PAIRS || depths.len() > corners + MOST_CROSSINGS {
            return Err(too_many());
        }
    }
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    Ok(depths)
}

fn corner(x: f64, y: f64) -> Corner {
    ((x / GRID).round() as i64, (y / GRID).round() as i64)
}

/// The slanting sides of all boxes, of which those that are there twice are gone.
#[derive(Debug, Default)]
struct Sides {
    slanting: BTreeSet<(Corner, Corner)>,
}

impl Sides {
    fn add(&mut self, head: Corner, foot: Corner) {
        let side = (head, foot);
        if head.1 < foot.1 && !self.slanting.remove(&side) {
            self.slanting.insert(side);
        }
    }

    /// All sides joined to closed rings, level ones included. At a corner at which more than two sides meet, any two
    /// may be joined: which of them are does not change round what an odd number of rings goes.
    fn rings(self) -> Vec<Vec<Spot>> {
        // What stands above a depth and what stands below it has the same ends there but where the union is wider or
        // narrower from there on: those that are left over, from left to right, are the ends of level sides.
        let mut ends: BTreeMap<i64, BTreeSet<i64>> = BTreeMap::new();
        for (x, y) in self.slanting.iter().flat_map(|(head, foot)| [*head, *foot]) {
            let at = ends.entry(y).or_default();
            if !at.remove(&x) {
                at.insert(x);
            }
        }
        let level = ends.into_iter().flat_map(|(y, ends)| {
            let ends: Vec<i64> = ends.into_iter().collect();
            let pairs: Vec<(Corner, Corner)> = ends.chunks_exact(2).map(|pair| ((pair[0], y), (pair[1], y))).collect();
            pairs
        });
        let mut by_corner: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
        for (one, other) in self.slanting.into_iter().chain(level) {
            by_corner.entry(one).or_default().push(other);
            by_corner.entry(other).or_default().push(one);
        }
        let mut rings = Vec::new();
        while let Some(first) = by_corner.keys().next().copied() {
            let (mut ring, mut at) = (vec![first], first);
            while let Some(next) = take_side(&mut by_corner, at) {
                if next == first {
                    break;
                }
                ring.push(next);
                at = next;
            }
            rings.push(straightened(&ring));
        }
        rings.retain(|ring| ring.len() > 2);
        rings
    }
}

/// Takes a side away that ends at a corner, and gives its other end.
fn take_side(sides: &mut BTreeMap<Corner, Vec<Corner>>, at: Corner) -> Option<Corner> {
    let next = sides.get_mut(&at)?.pop()?;
    for (from, to) in [(at, next), (next, at)] {
        let left = sides.entry(from).or_default();
        if from == next
            && let Some(found) = left.iter().position(|end| *end == to)
        {
            left.swap_remove(found);
        }
        if left.is_empty() {
            sides.remove(&from);
        }
    }
    Some(next)
}

/// A ring without the corners at which it goes straight on, to within a step of the grid.
fn straightened(ring: &[Corner]) -> Vec<Spot> {
    let spot = |(x, y): Corner| (x as f64 * GRID, y as f64 * GRID);
    let mut kept: Vec<Spot> = Vec::new();
    let is_straight = |one: Spot, middle: Spot, other: Spot| {
        let (across, down) = (other.0 - one.0, other.1 - one.1);
        let off = (middle.0 - one.0) * down - (middle.1 - one.1) * across;
        off.abs() <= 2.0 * GRID * across.hypot(down)
    };
    for corner in ring.iter().map(|corner| spot(*corner)) {
        while let [.., before, last] = kept[..]
            && is_straight(before, last, corner)
        {
            kept.pop();
        }
        kept.push(corner);
    }
    // The first corner is the leftmost of all, so a ring never goes straight on there; before it one may.
    while let [first, .., before, last] = kept[..]
        && is_straight(before, last, first)
    {
        kept.pop();
    }
    kept
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// How often some rings go round a spot, one way less the other, and how many of their edges are right of it.
    fn round(rings: &[Vec<Spot>], (x, y): Spot) -> (i32, usize) {
        let edges = rings.iter().flat_map(|ring| edges_of(ring));
        let right = edges.filter(|edge| edge.upper.1 <= y && y < edge.lower.1 && x < edge.at(y));
        right.fold((0, 0), |(winding, count), edge| (winding + edge.way, count + 1))
    }

    fn area(rings: &[Vec<Spot>]) -> f64 {
        // Every other stretch between two edges is inside, in each of many strips.
        let strips = 4000;
        let width = |strip: i32| {
            let y = (f64::from(strip) + 0.5) / f64::from(strips);
            let edges =
                rings.iter().flat_map(|ring| edges_of(ring)).filter(|edge| edge.upper.1 <= y && y < edge.lower.1);
            let mut ends: Vec<f64> = edges.map(|edge| edge.at(y)).collect();
            ends.sort_by(f64::total_cmp);
            ends.chunks_exact(2).map(|pair| pair[1] - pair[0]).sum::<f64>()
        };
        (0..strips).map(width).sum::<f64>() / f64::from(strips)
    }

    fn square(from: f64, to: f64) -> Vec<Spot> {
        vec![(from, from), (to, from), (to, to), (from, to)]
    }

    #[test]
    fn two_squares_that_overlap_are_one_form_of_eight_corners() {
        let both = united(&[square(0.0, 0.6), square(0.4, 1.0)]).expect("a union");
        assert_eq!(both.iter().map(Vec::len).collect::<Vec<_>>(), [8]);
        assert!((area(&both) - (0.36 + 0.36 - 0.04)).abs() < 1e-3);
    }

    #[test]
    fn a_ring_that_goes_the_other_way_is_cut_out_where_it_lies_over_one() {
        let mut hole = square(0.4, 1.0);
        hole.reverse();
        let rings = united(&[square(0.0, 0.6), hole]).expect("a union");
        // What is in both goes; what is in the other alone is filled, since its winding is not nought.
        assert!((area(&rings) - (0.36 + 0.36 - 0.08)).abs() < 1e-3);
    }

    #[test]
    fn a_form_that_crosses_itself_keeps_both_its_parts() {
        let bow = united(&[vec![(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)]]).expect("a union");
        assert!((area(&bow) - 0.5).abs() < 1e-3, "{bow:?}");
    }

    #[test]
    fn a_lace_of_crossings_is_refused() {
        let comb = |turned: bool| -> Vec<Spot> {
            let spot = |at: i32| (f64::from(at) / 400.0, f64::from(at % 2));
            let teeth = (0..400).map(spot).chain([(1.0, -0.1), (0.0, -0.1)]);
            teeth.map(|(x, y)| if turned { (y, x) } else { (x, y) }).collect()
        };
        assert!(united(&[comb(false), comb(true)]).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Whatever the rings, a spot that is not on an edge is inside the union where their winding there is not
        /// nought. Whole hundredths make corners meet, edges lie on each other and crossings fall together.
        #[test]
        fn the_union_is_what_the_winding_fills(
            rings in prop::collection::vec(prop::collection::vec((0_i32..14, 0_i32..14), 3..9), 1..5),
            slant in 0.0..0.3_f64,
        ) {
            let spot = |(x, y): &(i32, i32)| {
                let (x, y) = (f64::from(*x) / 14.0, f64::from(*y) / 14.0);
                (x + slant * y, y)
            };
            let rings: Vec<Vec<Spot>> = rings.iter().map(|ring| ring.iter().map(spot).collect()).collect();
            let union = united(&rings).expect("few crossings");
            for at in 0..900 {
                let spot = (f64::from(at % 30) / 23.1 + 0.000_37, f64::from(at / 30) / 29.7 + 0.000_41);
                let is_near = rings.iter().flat_map(|ring| edges_of(ring)).any(|edge| {
                    edge.upper.1 <= spot.1 && spot.1 <= edge.lower.1 && (edge.at(spot.1) - spot.0).abs() < 1e-9
                });
                if !is_near {
                    let (winding, _) = round(&rings, spot);
                    let (_, count) = round(&union, spot);
                    prop_assert_eq!(winding != 0, count % 2 == 1, "{:?} in {:?}, {:?}", spot, rings, union);
                }
            }
        }
    }
}
