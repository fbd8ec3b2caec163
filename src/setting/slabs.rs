//! Outlines of straight edges, thickened by a distance, and the stretches that line boxes have inside and outside them.
//!
//! The setting asks at hundreds of sizes for every line, and a traced outline has hundreds of edges. So the depth is
//! parted into slabs, each of which keeps the merged stretches that the edges take of the whole slab. A line box takes
//! those of every slab that it covers; only in the two slabs that it enters in part are edges cut anew. The answers are
//! those of one slab for all depths, to the unit, as a test here holds.

use crate::outlines::thinning::Spot;
use crate::units::Length;

/// A stretch of x, from its left end to its right end.
pub(super) type Stretch = (Length, Length);

/// How deep a slab is, where [`MOST_SLABS`] of them are enough.
const SLAB: f64 = 2.0;
/// The most slabs of an outline; a deeper outline has deeper slabs.
const MOST_SLABS: f64 = 1024.0;

/// A closed outline of straight edges, in units of [`Length`] from the face's head left corner, with everything that is
/// nearer to them than a distance.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Outline {
    edges: Vec<Edge>,
    /// The distance in units, at least zero.
    distance: f64,
    slabs: Vec<Slab>,
    /// The depth at which the first slab begins.
    head: f64,
    /// How deep every slab is.
    step: f64,
    /// The level edges of an outline without a distance, by their depth. On the border of two slabs an edge lies in
    /// neither, since neither has its border, and yet it lies in a line box that covers both.
    level: Vec<(f64, Stretch)>,
}

/// The edges that enter a slab of depth.
#[derive(Debug, Clone, PartialEq, Default)]
struct Slab {
    /// The edges' numbers among those of the outline, each with what it takes of the whole slab; nothing at zero where
    /// it takes nothing.
    edges: Vec<(usize, Stretch)>,
    /// What they take of the whole slab, from left to right and merged.
    cuts: Vec<Stretch>,
}

impl Outline {
    /// The outline that the edges make by the even-odd rule: each ends where another begins.
    pub(super) fn new(edges: impl Iterator<Item = (Spot, Spot)>, distance: f64) -> Self {
        Self::with_slabs(edges, distance, SLAB)
    }

    fn with_slabs(edges: impl Iterator<Item = (Spot, Spot)>, distance: f64, slab: f64) -> Self {
        let edges: Vec<Edge> = edges.map(|(from, to)| Edge::new(from, to, distance)).collect();
        let head = edges.iter().map(|edge| edge.upper.1).fold(f64::INFINITY, f64::min) - distance;
        let foot = edges.iter().map(|edge| edge.lower.1).fold(f64::NEG_INFINITY, f64::max) + distance;
        // Whole units, so that the borders of slabs are exact.
        let head = head.floor();
        let step = Length::pt(slab).to_units().max(((foot - head) / MOST_SLABS).ceil());
        let count = if edges.is_empty() { 0 } else { ((foot - head) / step).ceil().max(1.0) as usize };
        let mut outline = Self { edges, distance, slabs: vec![Slab::default(); count], head, step, level: Vec::new() };
        outline.fill_slabs();
        if distance == 0.0 {
            let level = outline.edges.iter().filter(|edge| edge.upper.1 == edge.lower.1);
            outline.level = level.map(|edge| (edge.upper.1, rounded(edge.ends()))).collect();
            outline.level.sort_unstable_by(|one, other| one.0.total_cmp(&other.0));
        }
        outline
    }

    fn fill_slabs(&mut self) {
        for (number, edge) in self.edges.iter().enumerate() {
            let (first, last) =
                (self.slab_at(edge.upper.1 - self.distance), self.slab_at(edge.lower.1 + self.distance));
            for slab in first..=last {
                let whole = edge.cut(self.distance, self.border(slab), self.border(slab + 1)).map(rounded);
                self.slabs[slab].edges.push((number, whole.unwrap_or_default()));
                self.slabs[slab].cuts.extend(whole);
            }
        }
        self.slabs.iter_mut().for_each(|slab| merge(&mut slab.cuts));
    }

    /// The highest and the lowest depth of the edges, without the distance; none where there is no edge.
    pub(super) fn depths(&self) -> Option<(f64, f64)> {
        let head = self.edges.iter().map(|edge| edge.upper.1).reduce(f64::min)?;
        let foot = self.edges.iter().map(|edge| edge.lower.1).reduce(f64::max)?;
        Some((head, foot))
    }

    /// Puts into `stretches` those whose whole upright between two depths lies inside the outline and not in the
    /// thickened edges, from left to right.
    pub(super) fn inside(&self, top: f64, foot: f64, stretches: &mut Vec<Stretch>) {
        self.cut(top, foot, stretches);
        // No edge enters a gap between two cuts, so it is wholly in or wholly out. Left of the first cut and right of
        // the last one all is out. A gap is written where cuts have been read.
        let mut kept = 0;
        for next in 1..stretches.len() {
            let gap = (stretches[next - 1].1, stretches[next].0);
            if self.holds_middle(gap, top, foot) {
                stretches[kept] = gap;
                kept += 1;
            }
        }
        stretches.truncate(kept);
    }

    /// Puts into `stretches` those that hold a point of the outline or of its thickened edges between two depths, from
    /// left to right and merged.
    pub(super) fn touched(&self, top: f64, foot: f64, stretches: &mut Vec<Stretch>) {
        self.cut(top, foot, stretches);
        let mut last = 0;
        for next in 1..stretches.len() {
            if self.holds_middle((stretches[last].1, stretches[next].0), top, foot) {
                stretches[last].1 = stretches[next].1;
            } else {
                last += 1;
                stretches[last] = stretches[next];
            }
        }
        stretches.truncate(last + 1);
        stretches.retain(|(from, to)| from < to);
    }

    /// What the thickened edges take of a line box, from left to right and merged.
    fn cut(&self, top: f64, foot: f64, stretches: &mut Vec<Stretch>) {
        stretches.clear();
        if self.slabs.is_empty() || foot <= top {
            return;
        }
        let level = self.level.partition_point(|(depth, _)| *depth <= top);
        stretches.extend(self.level[level..].iter().take_while(|(depth, _)| *depth < foot).map(|(_, ends)| *ends));
        let first = self.slab_at(top);
        let entered = (first..self.slabs.len()).take_while(|slab| self.border(*slab) < foot);
        let is_whole = |slab: &usize| top <= self.border(*slab) && self.border(*slab + 1) <= foot;
        entered.clone().filter(is_whole).for_each(|slab| stretches.extend_from_slice(&self.slabs[slab].cuts));
        merge(stretches);
        for slab in entered.filter(|slab| !is_whole(slab)) {
            self.cut_slab(slab, top.max(self.border(slab)), foot.min(self.border(slab + 1)), stretches);
            merge(stretches);
        }
    }

    /// Adds what the edges of a slab take of a part of it, but for edges of which it is known that even the whole slab
    /// has no more of them than is in `stretches`.
    fn cut_slab(&self, slab: usize, top: f64, foot: f64, stretches: &mut Vec<Stretch>) {
        let known = stretches.len();
        for (number, whole) in self.slabs[slab].edges.iter().filter(|_| top < foot) {
            if !stretches[..known].iter().any(|(from, to)| *from <= whole.0 && whole.1 <= *to) {
                stretches.extend(self.edges[*number].cut(self.distance, top, foot).map(rounded));
            }
        }
    }

    /// Whether the middle of a box that no edge enters lies inside the outline: whether an odd number of edges is to
    /// the right of it.
    fn holds_middle(&self, (from, to): Stretch, top: f64, foot: f64) -> bool {
        let (x, y) = ((from.to_units() + to.to_units()) / 2.0, (top + foot) / 2.0);
        let edges = self.slabs[self.slab_at(y)].edges.iter().map(|(number, _)| &self.edges[*number]);
        edges.filter(|edge| edge.is_right_of(x, y)).count() % 2 == 1
    }

    /// The slab that a depth is in; the first or the last one for a depth above or below them all.
    fn slab_at(&self, depth: f64) -> usize {
        let slab = ((depth - self.head) / self.step) as usize;
        slab.min(self.slabs.len().saturating_sub(1))
    }

    /// The depth at which a slab begins.
    fn border(&self, slab: usize) -> f64 {
        self.head + slab as f64 * self.step
    }
}

/// A straight edge, with the way from it to the two edges that are parallel to it at the distance.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Edge {
    upper: Spot,
    lower: Spot,
    shift: Spot,
}

impl Edge {
    fn new(from: Spot, to: Spot, distance: f64) -> Self {
        let (upper, lower) = if from.1 <= to.1 { (from, to) } else { (to, from) };
        let (across, down) = (lower.0 - upper.0, lower.1 - upper.1);
        let length = (across * across + down * down).sqrt();
        let shift = if length > 0.0 { (-down / length * distance, across / length * distance) } else { (0.0, 0.0) };
        Self { upper, lower, shift }
    }

    /// The x of the left and of the right end.
    fn ends(&self) -> (f64, f64) {
        (self.upper.0.min(self.lower.0), self.upper.0.max(self.lower.0))
    }

    /// What the edge takes of a line box with everything that is nearer to it than the distance: two parallel edges and
    /// a disc round either end. Together they are the rim of one form without a dent, so what is between their ends is
    /// taken as well.
    fn cut(&self, distance: f64, top: f64, foot: f64) -> Option<(f64, f64)> {
        if self.lower.1 + distance <= top || self.upper.1 - distance >= foot {
            return None;
        }
        if distance == 0.0 {
            return clipped(self.upper, self.lower, top, foot);
        }
        let parts = [
            disc(self.upper, distance, top, foot),
            disc(self.lower, distance, top, foot),
            clipped(moved(self.upper, self.shift, 1.0), moved(self.lower, self.shift, 1.0), top, foot),
            clipped(moved(self.upper, self.shift, -1.0), moved(self.lower, self.shift, -1.0), top, foot),
        ];
        parts.into_iter().flatten().reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
    }

    /// Whether the edge crosses a depth to the right of a point. The lower end is not part of the edge, so that a
    /// corner counts once.
    fn is_right_of(&self, x: f64, y: f64) -> bool {
        let ((left, head), (right, foot)) = (self.upper, self.lower);
        head <= y && y < foot && (x - left) * (foot - head) < (right - left) * (y - head)
    }
}

fn moved(spot: Spot, shift: Spot, times: f64) -> Spot {
    (spot.0 + shift.0 * times, spot.1 + shift.1 * times)
}

/// What a straight edge takes of a line box.
fn clipped(upper: Spot, lower: Spot, top: f64, foot: f64) -> Option<(f64, f64)> {
    if lower.1 <= top || upper.1 >= foot {
        return None;
    }
    let at = |depth: f64| upper.0 + (lower.0 - upper.0) * (depth - upper.1) / (lower.1 - upper.1);
    let first = if upper.1 >= top { upper.0 } else { at(top) };
    let last = if lower.1 <= foot { lower.0 } else { at(foot) };
    Some((first.min(last), first.max(last)))
}

/// What a disc takes of a line box.
fn disc(centre: Spot, radius: f64, top: f64, foot: f64) -> Option<(f64, f64)> {
    let away = (top - centre.1).max(centre.1 - foot).max(0.0);
    let half = (away < radius).then(|| ((radius - away) * (radius + away)).sqrt())?;
    Some((centre.0 - half, centre.0 + half))
}

/// The narrowest stretch of whole units that holds another.
fn rounded((from, to): (f64, f64)) -> Stretch {
    (Length::floor_of_units(from), Length::ceil_of_units(to))
}

/// Sorts stretches from left to right and joins those that meet.
fn merge(stretches: &mut Vec<Stretch>) {
    stretches.sort_unstable();
    stretches.dedup_by(|next, last| {
        let meets = next.0 <= last.1;
        if meets {
            last.1 = last.1.max(next.1);
        }
        meets
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn closed(points: &[(i32, i32)]) -> Vec<(Spot, Spot)> {
        let spot = |(x, y): (i32, i32)| (Length::pt(f64::from(x)).to_units(), Length::pt(f64::from(y)).to_units());
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(from, to)| (spot(*from), spot(*to))).collect()
    }

    /// Whether the slabs of an outline answer as one slab for all depths does.
    fn answers_as_one_slab(edges: &[(Spot, Spot)], distance: f64) {
        let distance = Length::pt(distance).to_units();
        let outline = Outline::new(edges.iter().copied(), distance);
        let single = Outline::with_slabs(edges.iter().copied(), distance, 100_000.0);
        assert!(outline.slabs.len() > 10 && single.slabs.len() == 1);
        let (mut stretches, mut expected) = (Vec::new(), Vec::new());
        // Line boxes between whole points meet the borders of slabs; the others do not.
        for step in [1.0, 0.37] {
            for (line, height) in (-20..420).flat_map(|line| [1, 2, 7, 30].map(|height| (line, height))) {
                let top = Length::pt(f64::from(line) * step).to_units();
                let foot = top + Length::pt(f64::from(height) * step).to_units();
                outline.inside(top, foot, &mut stretches);
                single.inside(top, foot, &mut expected);
                assert_eq!(stretches, expected, "inside {line} * {step}, {height} deep, distance {distance}");
                outline.touched(top, foot, &mut stretches);
                single.touched(top, foot, &mut expected);
                assert_eq!(stretches, expected, "touched {line} * {step}, {height} deep, distance {distance}");
            }
        }
    }

    #[test]
    fn slabs_answer_as_one_slab_does() {
        let bubble = closed(&[(20, 10), (380, 10), (380, 280), (220, 280), (150, 350), (170, 280), (20, 280)]);
        let mut ring = closed(&[(0, 0), (300, 0), (300, 300), (0, 300)]);
        ring.extend(closed(&[(100, 101), (200, 150), (177, 200), (90, 200)]));
        let crossed = closed(&[(0, 0), (300, 211), (0, 130), (190, 3), (250, 330)]);
        for outline in [bubble, ring, crossed] {
            for distance in [0.0, 0.1, 6.0, 31.0] {
                answers_as_one_slab(&outline, distance);
            }
        }
    }

    #[test]
    fn level_edges_on_a_border_are_found() {
        // Two blocks, one on the other; where they meet, a level edge reaches from 30 to 60 pt on the border of slabs.
        let outline = Outline::new(closed(&[(0, 0), (30, 0), (30, 10), (60, 10), (60, 20), (0, 20)]).into_iter(), 0.0);
        let pt = |x: i32| Length::pt(f64::from(x));
        let mut stretches = Vec::new();
        outline.inside(pt(4).to_units(), pt(16).to_units(), &mut stretches);
        assert_eq!(stretches, [(pt(0), pt(30))]);
        outline.inside(pt(10).to_units(), pt(16).to_units(), &mut stretches);
        assert_eq!(stretches, [(pt(0), pt(60))]);
        outline.touched(pt(4).to_units(), pt(10).to_units(), &mut stretches);
        assert_eq!(stretches, [(pt(0), pt(30))]);
        outline.touched(pt(4).to_units(), pt(11).to_units(), &mut stretches);
        assert_eq!(stretches, [(pt(0), pt(60))]);
    }
}
