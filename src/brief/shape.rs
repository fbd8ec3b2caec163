//! Reads the form of a place or keep-out in its box: an ellipse, rounded corners, a polygon, or the outline in a file,
//! which is named here and read elsewhere.

use std::path::{Path, PathBuf};

use super::bounds;
use super::nodes::{NodeAt, Refusal};
use super::place::{FileShape, Shape};
use super::yaml::{self, Node, YamlStep};

const ELLIPSE: &str = "ellipse";
const KEYS: [&str; 4] = ["round", "polygon", "file", "opacity"];
const EXPECTED: &str = "write ellipse, { round: 8 mm }, { polygon: [0% 0%, 100% 0%, 50% 100%] }, or the name of an \
                        .svg or .png file";

/// Of a picture, what is not wholly transparent belongs to the form.
const USUAL_OPACITY: f64 = 0.0;

/// Far more than anybody writes by hand; up to so many every edge is kept exactly.
const MOST_POINTS: usize = 400;

/// The least area of a polygon, as a share of its box's: below it no line goes in.
const LEAST_AREA: f64 = 1e-6;

/// Reads a shape.
pub(super) fn read(value: &NodeAt<'_>) -> Result<Shape, Refusal> {
    if !value.is_map() {
        let text = value.text()?;
        return match text.eq_ignore_ascii_case(ELLIPSE) {
            true => Ok(Shape::Ellipse),
            false => Ok(Shape::File(FileShape { file: file_of(value)?, opacity: USUAL_OPACITY, outline: None })),
        };
    }
    let fields = value.fields(&KEYS)?;
    let opacity = fields.optional("opacity");
    match (fields.optional("round"), fields.optional("polygon"), fields.optional("file")) {
        (Some(radius), None, None) if opacity.is_none() => Ok(Shape::Round(radius.length(bounds::ROOM)?)),
        (None, Some(points), None) if opacity.is_none() => polygon_of(&points),
        (None, None, Some(named)) => {
            let file = file_of(&named)?;
            if let Some(opacity) = opacity.as_ref().filter(|_| !is_picture(&file)) {
                return Err(opacity.refuse("only a .png has an opacity; leave it out"));
            }
            let opacity = opacity.map_or(Ok(USUAL_OPACITY), |value| value.percent(bounds::OPACITY_PERCENT))?;
            Ok(Shape::File(FileShape { file, opacity, outline: None }))
        }
        (None, None, None) if opacity.is_some() => {
            Err(value.refuse("an opacity is that of a .png file; write { file: gull.png, opacity: 20% }"))
        }
        _ => Err(value.refuse(format!("a shape has one form; {EXPECTED}"))),
    }
}

/// The file that a value names, of a kind that has outlines.
fn file_of(value: &NodeAt<'_>) -> Result<PathBuf, Refusal> {
    let text = value.text()?;
    let file = PathBuf::from(&text);
    if is_picture(&file) || has_ending(&file, "svg") {
        return Ok(file);
    }
    let is_file = file.extension().is_some_and(|ending| !ending.is_empty());
    let problem = match is_file {
        true => format!("\"{text}\" is neither an .svg nor a .png file; save the shape as one of these"),
        false => format!("\"{text}\" is no shape; {EXPECTED}"),
    };
    Err(value.refuse(problem))
}

fn is_picture(file: &Path) -> bool {
    has_ending(file, "png")
}

fn has_ending(file: &Path, wanted: &str) -> bool {
    file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(wanted))
}

/// The most edges that a quarter of a circle is drawn with.
const MOST_ARC_EDGES: usize = 256;

/// Points of a quarter of the circle of radius 1, from its rightmost to its lowest one, and how far the straight edges
/// between them are off a circle or an ellipse of a largest radius: by no more than `most_off` where a few hundred
/// edges are enough for that. Only `+ - * /` and square roots make them, which are the same on every machine.
pub fn quarter_circle(radius: f64, most_off: f64) -> (Vec<(f64, f64)>, f64) {
    let mut quarter: Vec<(f64, f64)> = vec![(1.0, 0.0), (0.0, 1.0)];
    loop {
        // Arcs are halved until they are flat enough. An arc is off its chord by what the middle of the chord lacks of
        // the radius; an ellipse is a circle stretched, so its arcs are off by no more than that times the larger
        // radius.
        let (one, next) = (quarter[0], quarter[1]);
        let (x, y) = ((one.0 + next.0) / 2.0, (one.1 + next.1) / 2.0);
        let off = (1.0 - (x * x + y * y).sqrt()) * radius;
        if off <= most_off || (quarter.len() - 1) * 2 > MOST_ARC_EDGES {
            return (quarter, off);
        }
        quarter = halved(&quarter);
    }
}

/// Points of a circle of radius 1 with the middles of the arcs between them.
fn halved(arcs: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut points = Vec::with_capacity(arcs.len() * 2);
    for pair in arcs.windows(2) {
        let (x, y) = (pair[0].0 + pair[1].0, pair[0].1 + pair[1].1);
        let length = (x * x + y * y).sqrt();
        points.extend([pair[0], (x / length, y / length)]);
    }
    points.extend(arcs.last());
    points
}

/// The line and the column at which a brief names the file of a shape; none where it does not.
pub fn place_of_shape(text: &str, shape: &FileShape) -> Option<(usize, usize)> {
    let root = yaml::parse(text).ok()?;
    let key = |key: &str| YamlStep::Key(key.to_owned());
    let faces = ["panel", "front_flap", "back_flap"].into_iter();
    for (face, list) in faces.flat_map(|face| ["keep_out", "places"].map(|list| (face, list))) {
        let Some(Node::List(items)) = root.at(&[key(face), key(list)]) else { continue };
        for number in 0..items.len() {
            let way = [key(face), key(list), YamlStep::Item(number), key("shape")];
            let Some(node) = root.at(&way) else { continue };
            let Ok(Shape::File(found)) = read(&NodeAt::top(node)) else { continue };
            if found.is_of_one_file(shape) {
                return match node.at(&[key("file")]) {
                    Some(_) => yaml::locate(text, &[&way[..], &[key("file")]].concat()),
                    None => yaml::locate(text, &way),
                };
            }
        }
    }
    None
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
