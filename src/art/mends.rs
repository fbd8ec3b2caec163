//! What would make lines clear: the least tint behind them, and the nearest place where they could stand.
//!
//! Both are found by trying: the lines are judged again on the ground as it would be, window by window, and have to
//! pass with room to spare.

use super::lines::InkedLine;
use crate::artwork::ground::{Ground, TintLight};
use crate::units::{Length, Point, Rect};

/// Places are tried a cell of this many x-heights apart.
const STEP_X_HEIGHTS: i64 = 1;
/// The most places that are tried on either side of a line's own, along and down; the steps grow beyond.
const MOST_STEPS: i64 = 60;

/// The least opacity, in hundredths, at which a tint of some colour makes every one of the lines clear; none where even
/// the bare colour does not.
///
/// The more opaque a tint, the nearer is what is behind the lines to its colour, and the plainer. So the least is found
/// by halving, and what is given was tried.
pub fn least_tint(lines: &[InkedLine<'_>], ground: &Ground, colour: [u8; 3]) -> Option<u8> {
    let windows = lines.iter().filter_map(|line| line.letters.window());
    let part = ground.part(&windows.reduce(|all, window| all.around(&window))?);
    let will_do = |percent: u8| {
        let tinted = part.tinted(&TintLight { colour, opacity: f64::from(percent) / 100.0 });
        lines.iter().all(|line| line.is_mended_at(&tinted, Point::default()))
    };
    let (mut too_little, mut enough) = (0, 100);
    if !will_do(enough) {
        return None;
    }
    while enough - too_little > 1 {
        let tried = (too_little + enough) / 2;
        if will_do(tried) { enough = tried } else { too_little = tried }
    }
    Some(enough)
}

/// How far lines may be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reach {
    /// To the left and up, as ways that are not above zero.
    pub least: Point,
    /// To the right and down.
    pub most: Point,
}

impl Reach {
    /// The reach of a box within another: it stays inside. None where it is not inside to begin with.
    pub fn within(boxed: &Rect, outer: &Rect) -> Option<Self> {
        outer.holds(boxed).then(|| Self {
            least: Point { x: outer.x - boxed.x, y: outer.y - boxed.y },
            most: Point { x: outer.right() - boxed.right(), y: outer.foot() - boxed.foot() },
        })
    }
}

/// The ways by which all lines could be moved so that each is clear, among those that are open, the shortest first. Of
/// ways of one length the one that goes up comes before others. Each is looked for when it is asked for.
pub fn nearest_places(
    lines: &[InkedLine<'_>],
    ground: &Ground,
    reach: &Reach,
    is_open: impl Fn(Point) -> bool,
) -> impl Iterator<Item = Point> {
    let x_height = lines.iter().map(|line| line.letters.x_height).min().unwrap_or_default();
    let furthest = (reach.most.x.max(-reach.least.x)).max(reach.most.y.max(-reach.least.y));
    let step = (x_height * STEP_X_HEIGHTS).max(furthest / MOST_STEPS).max(Length::pt(1.0));
    let steps = |least: Length, most: Length| -(((-least).count_of(step)) as i64)..=(most.count_of(step) as i64);
    let down = steps(reach.least.y, reach.most.y);
    let mut ways: Vec<(i64, i64, i64)> = down
        .flat_map(|y| steps(reach.least.x, reach.most.x).map(move |x| (x * x + y * y, y, x)))
        .filter(|way| way.0 > 0)
        .collect();
    ways.sort_unstable();
    let by = move |(_, y, x): (i64, i64, i64)| Point { x: step * x, y: step * y };
    let is_clear = move |way: &Point| lines.iter().all(|line| line.is_mended_at(ground, *way));
    ways.into_iter().map(by).filter(move |way| is_open(*way) && is_clear(way))
}
