//! The outline of a drawing: the one closed path of an SVG, stretched to its box by its own bounds.
//!
//! Sources: Scalable Vector Graphics 2, chapters 8 (transforms), 9 (paths) and 10 (shapes). What a path is filled and
//! stroked with makes no difference but for the fill rule; the width of its line is not part of it.

use kurbo::{Affine, BezPath, Ellipse, PathEl, Point, Rect, RoundedRect, Shape};
use roxmltree::{Document, Error, Node, ParsingOptions};
use svgtypes::{PointsParser, SimplePathSegment, SimplifyingPathParser, Transform};

use super::thinning::Spot;
use super::{OutlineFault, outline, rule};
use crate::brief::place::FileOutline;

/// The most elements and texts of a drawing.
const MOST_NODES: u32 = 200_000;
/// The most pieces of a path; a path drawn by hand has some hundred.
const MOST_PIECES: usize = 100_000;
/// The most straight edges that the curves of a path become.
const MOST_EDGES: usize = 200_000;

/// How far straight edges may be off a curve, as a share of the longer side. The library does not wholly warrant its
/// bound, so twice as much is taken for it.
const FLATTENED_OFF: f64 = 1e-5;
/// How far the curves that stand for an arc are off it, as a share of its radius: four for a circle.
const ARC_OFF: f64 = 3e-4;
/// The largest coordinate of a drawing.
const LARGEST: f64 = 1e9;
/// How much of its longer side the shorter side of a drawing must be: less is a line.
const THINNEST: f64 = 1e-6;
/// How near the end of a path must be to its beginning to close it, as a share of its box.
const CLOSED: f64 = 1e-3;

/// Elements that draw nothing where they stand.
const ASIDE: [&str; 10] = [
    "defs",
    "clipPath",
    "mask",
    "symbol",
    "marker",
    "pattern",
    "metadata",
    "filter",
    "linearGradient",
    "radialGradient",
];
/// Elements that draw something; only the first five have one closed path.
const DRAWN: [&str; 10] = ["path", "rect", "circle", "ellipse", "polygon", "polyline", "line", "use", "image", "text"];

/// The outline of the one closed path in an SVG.
///
/// # Errors
///
/// What is no SVG, has no path or several, or a path that is open, without area, or of too many pieces.
pub fn outline_of_drawing(bytes: &[u8]) -> Result<FileOutline, OutlineFault> {
    let text = std::str::from_utf8(bytes)
        .map_err(|_| OutlineFault::new("it is not text in UTF-8, as an SVG is", "save it again as a plain SVG"))?;
    // A document type is common and harmless; entities of its own are never expanded.
    let allow_dtd = !text.contains("<!ENTITY");
    let options = ParsingOptions { allow_dtd, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(unreadable)?;
    let element = the_one(&document)?;
    let (path, has_arcs) = path_of(&element)?;
    let path = transform_of(&element)? * path;
    let bounds = path.bounding_box();
    let numbers = [bounds.x0, bounds.y0, bounds.x1, bounds.y1];
    if !path.is_finite() || numbers.iter().any(|number| number.abs() > LARGEST) {
        return Err(damaged("a number in its path is far too large"));
    }
    let (width, height) = (bounds.width(), bounds.height());
    let longer = width.max(height);
    if width.min(height) <= longer * THINNEST {
        return Err(no_area());
    }
    check_closed(&path, longer)?;
    let to_frame = Affine::scale(1.0 / longer) * Affine::translate((-bounds.x0, -bounds.y0));
    let has_curves = path.elements().iter().any(|element| matches!(element, PathEl::QuadTo(..) | PathEl::CurveTo(..)));
    let rings = flattened(&(to_frame * path))?;
    let (rings, united_off) = if is_filled_even_odd(&element) { (rings, 0.0) } else { rule::bounding(rings)? };
    if rings.is_empty() {
        return Err(no_area());
    }
    let off = if has_curves { FLATTENED_OFF * 2.0 } else { 0.0 };
    let off = if has_arcs { off + ARC_OFF } else { off } + united_off;
    Ok(outline(rings, (width / longer, height / longer), off, 0.0))
}

fn no_area() -> OutlineFault {
    OutlineFault::new("its path encloses no area", "draw a closed form")
}

fn damaged(problem: impl Into<String>) -> OutlineFault {
    OutlineFault::new(problem, "save it again as a plain SVG")
}

fn unreadable(error: Error) -> OutlineFault {
    match error {
        Error::DtdDetected => OutlineFault::new(
            "it defines entities, which are never expanded",
            "save it again as a plain SVG, without a document type",
        ),
        Error::NodesLimitReached => {
            OutlineFault::new("it has far more elements than one shape needs", "save the one path alone")
        }
        error => {
            let at = error.pos();
            damaged(format!("line {}, column {} of it is not XML as an SVG has it", at.row, at.col))
        }
    }
}

/// The one element of a drawing that is drawn.
fn the_one<'a>(document: &'a Document<'_>) -> Result<Node<'a, 'a>, OutlineFault> {
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(OutlineFault::new("it is XML, but not an SVG", "name an .svg file of one closed path"));
    }
    let expected = "save one closed path alone";
    let (mut drawn, mut waiting) = (Vec::new(), vec![root]);
    while let Some(node) = waiting.pop() {
        let name = node.tag_name().name();
        if ASIDE.contains(&name) || said(node, "display") == Some("none") {
            continue;
        }
        match DRAWN.contains(&name) {
            true => drawn.push(node),
            false => waiting.extend(node.children()),
        }
    }
    match drawn[..] {
        [one] => Ok(one),
        [] => Err(OutlineFault::new("it has no path", expected)),
        _ => Err(OutlineFault::new(
            format!("it has {} parts that are drawn, and a shape is one path", drawn.len()),
            "unite them in the drawing program, or save one closed path alone",
        )),
    }
}

/// The path of an element in its own coordinates, and whether arcs of it are drawn by other curves.
fn path_of(element: &Node<'_, '_>) -> Result<(BezPath, bool), OutlineFault> {
    let number = |key| number_of(element, key);
    let exact = |path: BezPath| Ok((path, false));
    match element.tag_name().name() {
        "path" => {
            let data = element.attribute("d").unwrap_or_default();
            let has_arcs = data.contains(['a', 'A']);
            Ok((path_in(data)?, has_arcs))
        }
        "rect" => {
            let (x, y, width, height) = (number("x")?, number("y")?, number("width")?, number("height")?);
            let radii = [number("rx")?, number("ry")?];
            let radius = radii[0].max(radii[1]).min(width / 2.0).min(height / 2.0).max(0.0);
            let rect = Rect::new(x, y, x + width, y + height);
            match radius > 0.0 {
                true => Ok((RoundedRect::from_rect(rect, radius).to_path(radius * ARC_OFF), true)),
                false => exact(rect.to_path(1.0)),
            }
        }
        name @ ("circle" | "ellipse") => {
            let radii = if name == "circle" { [number("r")?; 2] } else { [number("rx")?, number("ry")?] };
            let ellipse = Ellipse::new((number("cx")?, number("cy")?), (radii[0], radii[1]), 0.0);
            exact(ellipse.to_path(radii[0].max(radii[1]).abs().max(f64::MIN_POSITIVE) * FLATTENED_OFF))
        }
        name @ ("polygon" | "polyline") => {
            let mut path = BezPath::new();
            for (x, y) in PointsParser::from(element.attribute("points").unwrap_or_default()).take(MOST_PIECES + 1) {
                match path.elements().is_empty() {
                    true => path.move_to((x, y)),
                    false => path.line_to((x, y)),
                }
            }
            check_count(path.elements().len())?;
            if name == "polygon" && !path.elements().is_empty() {
                path.close_path();
            }
            exact(path)
        }
        "line" => Err(open()),
        other => Err(OutlineFault::new(
            format!("what it draws is a <{other}> and not a path"),
            "turn it into a path in the drawing program",
        )),
    }
}

fn check_count(pieces: usize) -> Result<(), OutlineFault> {
    match pieces > MOST_PIECES {
        true => Err(OutlineFault::new(
            format!("its path has more than {MOST_PIECES} pieces"),
            "simplify it in the drawing program",
        )),
        false => Ok(()),
    }
}

fn open() -> OutlineFault {
    OutlineFault::new("its path is open: it does not end where it begins", "close it in the drawing program")
}

/// An attribute that is a plain number; one that is left out is nought.
fn number_of(element: &Node<'_, '_>, key: &str) -> Result<f64, OutlineFault> {
    let Some(text) = element.attribute(key) else { return Ok(0.0) };
    let number = text.trim().trim_end_matches("px").parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(|| {
        let shown: String = text.chars().filter(|c| !c.is_control()).take(20).collect();
        OutlineFault::new(format!("\"{shown}\" at {key} is no plain number"), "turn the shape into a path")
    })
}

/// The path in the data of an attribute `d`.
fn path_in(data: &str) -> Result<BezPath, OutlineFault> {
    let mut path = BezPath::new();
    for (number, segment) in SimplifyingPathParser::from(data).enumerate() {
        check_count(number)?;
        match segment.map_err(|_| damaged("its path is damaged"))? {
            SimplePathSegment::MoveTo { x, y } => path.move_to((x, y)),
            SimplePathSegment::LineTo { x, y } => path.line_to((x, y)),
            SimplePathSegment::CurveTo { x1, y1, x2, y2, x, y } => path.curve_to((x1, y1), (x2, y2), (x, y)),
            SimplePathSegment::Quadratic { x1, y1, x, y } => path.quad_to((x1, y1), (x, y)),
            SimplePathSegment::ClosePath => path.close_path(),
        }
    }
    Ok(path)
}

/// The transforms of an element and of all that it stands in.
fn transform_of(element: &Node<'_, '_>) -> Result<Affine, OutlineFault> {
    let mut whole = Affine::IDENTITY;
    for text in element.ancestors().filter_map(|node| said(node, "transform")) {
        let one = text.parse::<Transform>().map_err(|_| damaged("a transform in it is damaged"))?;
        whole = Affine::new([one.a, one.b, one.c, one.d, one.e, one.f]) * whole;
    }
    Ok(whole)
}

/// Whether the path is filled where an odd number of its parts goes round: as it says itself or what it stands in, or
/// the style sheet, which is one for one path.
fn is_filled_even_odd(element: &Node<'_, '_>) -> bool {
    const RULE: &str = "evenodd";
    let is_style = |node: &Node<'_, '_>| node.tag_name().name() == "style";
    let mut sheets = element.document().descendants().filter(is_style);
    element.ancestors().find_map(|node| said(node, "fill-rule")).is_some_and(|rule| rule == RULE)
        || sheets.any(|sheet| sheet.text().is_some_and(|text| text.contains(RULE)))
}

/// What an element says of a property, in its style or else by itself.
fn said<'a>(node: Node<'a, '_>, property: &str) -> Option<&'a str> {
    let style = node.attribute("style").unwrap_or_default().split(';').filter_map(|one| one.split_once(':'));
    let of_style = style.rev().find(|(key, _)| key.trim() == property).map(|(_, value)| value);
    of_style.or_else(|| node.attribute(property)).map(str::trim)
}

/// Refuses a path of which a part does not end where it begins.
fn check_closed(path: &BezPath, size: f64) -> Result<(), OutlineFault> {
    let (mut start, mut at, mut is_closed) = (Point::ZERO, Point::ZERO, true);
    let meets = |start: Point, at: Point| start.distance(at) <= size * CLOSED;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) if is_closed || meets(start, at) => (start, at, is_closed) = (*to, *to, true),
            PathEl::MoveTo(_) => return Err(open()),
            PathEl::ClosePath => is_closed = true,
            PathEl::LineTo(to) | PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => (at, is_closed) = (*to, false),
        }
    }
    if is_closed || meets(start, at) { Ok(()) } else { Err(open()) }
}

/// The rings of straight edges that stand for a path in a frame whose longer side is 1.
fn flattened(path: &BezPath) -> Result<Vec<Vec<Spot>>, OutlineFault> {
    let mut rings: Vec<Vec<Spot>> = Vec::new();
    let mut count = 0_usize;
    kurbo::flatten(path, FLATTENED_OFF, |element| {
        count += 1;
        if count > MOST_EDGES {
            return;
        }
        let spot = |point: Point| (point.x, point.y);
        match element {
            PathEl::MoveTo(to) => rings.push(vec![spot(to)]),
            PathEl::LineTo(to) | PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => {
                if let Some(ring) = rings.last_mut() {
                    ring.push(spot(to));
                }
            }
            PathEl::ClosePath => {}
        }
    });
    if count > MOST_EDGES {
        return Err(OutlineFault::new("its path has far too many curves", "simplify it in the drawing program"));
    }
    rings.iter_mut().for_each(|ring| {
        // The end that closes a ring is its beginning once more.
        if ring.len() > 1 && ring.first() == ring.last() {
            ring.pop();
        }
    });
    rings.retain(|ring| ring.len() > 2);
    Ok(rings)
}
