//! Reads the form of a place or keep-out in its box: an ellipse, rounded corners, a polygon.

use super::bounds;
use super::nodes::{NodeAt, Refusal};
use super::place::Shape;

const ELLIPSE: &str = "ellipse";
const KEYS: [&str; 2] = ["round", "polygon"];
const EXPECTED: &str = "write ellipse, { round: 8 mm }, or { polygon: [0% 0%, 100% 0%, 50% 100%] }";

/// Far more than anybody writes by hand; up to so many every edge is kept exactly.
const MOST_POINTS: usize = 400;

/// The least area of a polygon, as a share of its box's: below it no line goes in.
const LEAST_AREA: f64 = 1e-6;

/// Reads a shape.
pub(super) fn read(value: &NodeAt<'_>) -> Result<Shape, Refusal> {
    if !value.is_map() {
        let text = value.text()?;
        let is_ellipse = text.eq_ignore_ascii_case(ELLIPSE);
        return is_ellipse
            .then_some(Shape::Ellipse)
            .ok_or_else(|| value.refuse(format!("\"{text}\" is no shape; {EXPECTED}")));
    }
    let fields = value.fields(&KEYS)?;
    match (fields.optional("round"), fields.optional("polygon")) {
        (Some(radius), None) => Ok(Shape::Round(radius.length(bounds::ROOM)?)),
        (None, Some(points)) => polygon_of(&points),
        _ => Err(value.refuse(format!("a shape has one form; {EXPECTED}"))),
    }
}

/// A polygon of at least three points, each `ACROSS% DOWN%` of its box.
fn polygon_of(list: &NodeAt<'_>) -> Result<Shape, Refusal> {
    let (mut points, items) = (Vec::new(), list.items()?);
    if items.len() > MOST_POINTS {
        let count = items.len();
        return Err(list.refuse(format!("{count} points are too many for a polygon; the most are {MOST_POINTS}")));
    }
    for item in items {
        let text = item.text()?;
        let share = |part: &str| {
            let number: f64 = part.strip_suffix('%')?.trim().parse().ok()?;
            (0.0..=100.0).contains(&number).then_some(number / 100.0)
        };
        let parts: Vec<Option<f64>> = text.split_whitespace().map(share).collect();
        match parts[..] {
            [Some(across), Some(down)] => points.push((across, down)),
            _ => {
                return Err(item.refuse(format!(
                    "\"{text}\" is no point of a polygon; write how far across and how far down its box, each from 0% \
                     to 100%, such as 50% 100%"
                )));
            }
        }
    }
    if points.len() < 3 {
        return Err(list.refuse("a polygon has three points at the least"));
    }
    let next = points.iter().cycle().skip(1);
    let twice: f64 = points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    if twice.abs() / 2.0 < LEAST_AREA {
        return Err(list.refuse("the points of this polygon enclose no area; no line would go in"));
    }
    Ok(Shape::Polygon(points))
}
