//! Fill rules: a path that is filled by the rule of winding, as rings of which an odd number goes round what is filled.
//!
//! Source: Scalable Vector Graphics 2, 13.4.2. The two rules differ only where parts of a path lie over each other.

use super::thinning::Spot;
use super::{OutlineFault, union};

/// The most rings of a drawing; a lace of more is no shape for copy.
const MOST_RINGS: usize = 1000;
/// How many pairs of edges are compared at the most; those of a path drawn by hand are some thousand.
const MOST_PAIRS: usize = 50_000_000;

/// The rings that bound what is filled where a winding that is not nought fills; a ring that lies in filled ground and
/// goes one way with it bounds nothing. Rings that cross themselves or each other are united. With the rings stands how
/// far they may be off those that were given.
///
/// # Errors
///
/// Far too many rings, or crossings of them.
pub(super) fn bounding(mut rings: Vec<Vec<Spot>>) -> Result<(Vec<Vec<Spot>>, f64), OutlineFault> {
    if rings.len() > MOST_RINGS {
        let problem = format!("its path has {} parts, and {MOST_RINGS} are the most", rings.len());
        return Err(OutlineFault::new(problem, "leave the small ones out"));
    }
    if do_cross(&rings)? {
        return Ok((union::united(&rings)?, union::GRID));
    }
    rings.sort_by(|one, other| one.partial_cmp(other).unwrap_or(std::cmp::Ordering::Equal));
    rings.dedup();
    let does_bound = |number: &usize| {
        let own = &rings[*number];
        let Some(spot) = own.iter().zip(own.iter().skip(1)).map(|(one, next)| middle(*one, *next)).next() else {
            return false;
        };
        let others = rings.iter().enumerate().filter(|(other, _)| other != number);
        let ground: i32 = others.map(|(_, ring)| winding(ring, spot)).sum();
        let way = if twice_area(own) > 0.0 { 1 } else { -1 };
        (ground == 0) != (ground + way == 0)
    };
    let bounding: Vec<usize> = (0..rings.len()).filter(does_bound).collect();
    Ok((bounding.into_iter().map(|number| std::mem::take(&mut rings[number])).collect(), 0.0))
}

fn middle(one: Spot, other: Spot) -> Spot {
    ((one.0 + other.0) / 2.0, (one.1 + other.1) / 2.0)
}

/// The edges of a ring, the last of which leads back to its first point.
fn edges(ring: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn twice_area(ring: &[Spot]) -> f64 {
    edges(ring).map(|(one, next)| one.0 * next.1 - next.0 * one.1).sum()
}

/// How often a ring goes round a spot, one way less the other: once for a ring whose area is above nought.
fn winding(ring: &[Spot], (x, y): Spot) -> i32 {
    let is_right = |(one, next): (Spot, Spot)| {
        let way = if one.1 <= y && y < next.1 {
            1
        } else if next.1 <= y && y < one.1 {
            -1
        } else {
            return 0;
        };
        let at = one.0 + (next.0 - one.0) * (y - one.1) / (next.1 - one.1);
        if x < at { way } else { 0 }
    };
    edges(ring).map(is_right).sum()
}

/// Whether any two edges cross: meet in one point that is the end of neither.
fn do_cross(rings: &[Vec<Spot>]) -> Result<bool, OutlineFault> {
    let mut all: Vec<(Spot, Spot)> = rings.iter().flat_map(|ring| edges(ring)).collect();
    let head = |edge: &(Spot, Spot)| edge.0.1.min(edge.1.1);
    let foot = |edge: &(Spot, Spot)| edge.0.1.max(edge.1.1);
    all.sort_by(|one, other| head(one).total_cmp(&head(other)));
    let mut compared = 0;
    for (number, edge) in all.iter().enumerate() {
        let below = all[number + 1..].iter().take_while(|other| head(other) < foot(edge));
        for other in below {
            compared += 1;
            if compared > MOST_PAIRS {
                return Err(union::too_many());
            }
            if cross(*edge, *other) {
                return Ok(true);
            }
        }
    }
    Ok(false)
}

fn cross((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    let side =
        |from: Spot, to: Spot, spot: Spot| (to.0 - from.0) * (spot.1 - from.1) - (spot.0 - from.0) * (to.1 - from.1);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(from: f64, to: f64) -> Vec<Spot> {
        vec![(from, from), (to, from), (to, to), (from, to)]
    }

    fn reversed(mut ring: Vec<Spot>) -> Vec<Spot> {
        ring.reverse();
        ring
    }

    #[test]
    fn a_ring_in_another_is_a_hole_where_it_goes_the_other_way() {
        let (outer, inner, innermost) = (square(0.0, 1.0), square(0.2, 0.8), square(0.4, 0.6));
        let count = |rings: &[Vec<Spot>]| bounding(rings.to_vec()).map(|(rings, _)| rings.len());
        assert_eq!(count(&[outer.clone(), inner.clone()]), Ok(1));
        assert_eq!(count(&[outer.clone(), reversed(inner.clone())]), Ok(2));
        assert_eq!(count(&[reversed(outer.clone()), inner.clone()]), Ok(2));
        assert_eq!(count(&[outer.clone(), inner.clone(), reversed(innermost.clone())]), Ok(1));
        assert_eq!(count(&[outer.clone(), reversed(inner), innermost]), Ok(3));
        assert_eq!(count(&[outer.clone(), outer.clone()]), Ok(1));
        assert_eq!(count(&[square(0.0, 0.4), square(0.6, 1.0)]), Ok(2));
    }

    #[test]
    fn rings_that_cross_are_united_and_rings_that_touch_stay_as_they_are() {
        let count = |rings: Vec<Vec<Spot>>| bounding(rings).map(|(rings, _)| rings.len());
        assert_eq!(count(vec![square(0.0, 0.6), square(0.4, 1.0)]), Ok(1));
        let touching = vec![square(0.0, 0.5), square(0.5, 1.0)];
        assert_eq!(bounding(touching.clone()), Ok((touching, 0.0)));
    }
}
