//! Shapes as the pixels of a picture have them: straight edges between places on a grid that is finer than pixels show.
//! Each is found from a whole pixel near it, so that it looks the same on whichever pixel of a picture that is.

use tiny_skia::{Path, PathBuilder, PathSegment, Point, StrokeDash, Transform};

use super::shapes::points;
use super::sheet::Stroke;
use crate::setting::outline::PathStep;
use crate::units::{Length, Rect};

/// The places of the grid within a pixel, across and down: as many as what fills shapes tells apart.
const PLACES: f64 = 256.0;
/// What is added before a place is rounded, in places: a place in the midst between two goes to the same one, whatever
/// the last digit of its number.
const NUDGE: f64 = 1e-6;
/// How far a straight edge may be from its curve, in pixels.
const TOLERANCE: f32 = 1.0 / 64.0;

/// Where a sheet lies on the pixels of a picture.
#[derive(Debug, Clone, Copy)]
pub(super) struct PixelPlace {
    /// The place of the sheet that lies in the upper left corner of the picture, in points.
    origin: [f64; 2],
    /// Pixels to the point, across and down.
    scale: [f64; 2],
}

impl PixelPlace {
    /// A part of a sheet on so many pixels across and down.
    pub(super) fn of_part(part: &Rect, (width, height): (usize, usize)) -> Self {
        let scale = [width as f64 / part.width.to_pt(), height as f64 / part.height.to_pt()];
        Self { origin: [part.x.to_pt(), part.y.to_pt()], scale }
    }

    /// A sheet at a resolution in pixels per inch, `left` of which lies at the picture's left edge.
    pub(super) fn at(resolution: u32, left: Length) -> Self {
        let scale = f64::from(resolution) * Length::pt(1.0).to_inches();
        Self { origin: [-left.to_pt(), 0.0], scale: [scale; 2] }
    }

    /// A place of the sheet in points as one of the grid, in pixels.
    pub(super) fn pixel(&self, place: [f64; 2]) -> [f64; 2] {
        let of = |axis: usize| on_grid((place[axis] - self.origin[axis]) * self.scale[axis]);
        [of(0), of(1)]
    }
}

fn on_grid(pixels: f64) -> f64 {
    (pixels * PLACES + NUDGE).round() / PLACES
}

/// A shape to be filled.
pub(super) fn filled(steps: &[PathStep], place: PixelPlace) -> Option<Path> {
    let (path, base) = near(steps, place)?;
    moved(straightened(&path)?, base)
}

/// A line along a shape, to be filled.
pub(super) fn drawn(steps: &[PathStep], stroke: &Stroke, place: PixelPlace) -> Option<Path> {
    let (path, base) = near(steps, place)?;
    let scale = place.scale[0] as f32;
    let path = match stroke.dash.and_then(|dash| StrokeDash::new(vec![points(dash) * scale; 2], 0.0)) {
        Some(dash) => path.dash(&dash, 1.0)?,
        None => path,
    };
    let pen = tiny_skia::Stroke { width: points(stroke.width) * scale, ..tiny_skia::Stroke::default() };
    moved(straightened(&path.stroke(&pen, 1.0)?)?, base)
}

/// A shape in pixels from a whole one near its beginning, and that pixel.
fn near(steps: &[PathStep], place: PixelPlace) -> Option<(Path, [f64; 2])> {
    let mut path = PathBuilder::new();
    let mut base = None;
    let mut to = |at: [f32; 2]| {
        let [x, y] = place.pixel(at.map(f64::from));
        let [left, top] = *base.get_or_insert([x.floor(), y.floor()]);
        [(x - left) as f32, (y - top) as f32]
    };
    for step in steps {
        match *step {
            PathStep::Move(at) => {
                let [x, y] = to(at);
                path.move_to(x, y);
            }
            PathStep::Line(at) => {
                let [x, y] = to(at);
                path.line_to(x, y);
            }
            PathStep::Quad(by, at) => {
                let ([x1, y1], [x, y]) = (to(by), to(at));
                path.quad_to(x1, y1, x, y);
            }
            PathStep::Curve(from, by, at) => {
                let ([x1, y1], [x2, y2], [x, y]) = (to(from), to(by), to(at));
                path.cubic_to(x1, y1, x2, y2, x, y);
            }
            PathStep::Close => path.close(),
        }
    }
    path.finish().zip(base)
}

/// A path with straight edges in the place of its curves, between places of the grid.
fn straightened(path: &Path) -> Option<Path> {
    let mut straight = PathBuilder::new();
    let mut last = Point::zero();
    for segment in path.segments() {
        let end = match segment {
            PathSegment::MoveTo(to) => {
                let to = settled(to);
                straight.move_to(to.x, to.y);
                to
            }
            PathSegment::LineTo(to) => line(&mut straight, to),
            PathSegment::QuadTo(by, to) => {
                let bend = (last + to - by - by).length();
                let edges = (bend / (4.0 * TOLERANCE)).sqrt().ceil().max(1.0);
                let at = |share: f32| {
                    let rest = 1.0 - share;
                    let of = |a: f32, b: f32, c: f32| a * rest * rest + b * 2.0 * rest * share + c * share * share;
                    Point::from_xy(of(last.x, by.x, to.x), of(last.y, by.y, to.y))
                };
                for number in 1..edges as u32 {
                    line(&mut straight, at(number as f32 / edges));
                }
                line(&mut straight, to)
            }
            PathSegment::CubicTo(from, by, to) => {
                let bend = (last + by - from - from).length().max((from + to - by - by).length());
                let edges = (bend * 0.75 / TOLERANCE).sqrt().ceil().max(1.0);
                let at = |share: f32| {
                    let rest = 1.0 - share;
                    let of = |a: f32, b: f32, c: f32, d: f32| {
                        a * rest * rest * rest
                            + b * 3.0 * rest * rest * share
                            + c * 3.0 * rest * share * share
                            + d * share * share * share
                    };
                    Point::from_xy(of(last.x, from.x, by.x, to.x), of(last.y, from.y, by.y, to.y))
                };
                for number in 1..edges as u32 {
                    line(&mut straight, at(number as f32 / edges));
                }
                line(&mut straight, to)
            }
            PathSegment::Close => {
                straight.close();
                last
            }
        };
        last = end;
    }
    straight.finish()
}

fn line(path: &mut PathBuilder, to: Point) -> Point {
    let to = settled(to);
    path.line_to(to.x, to.y);
    to
}

/// The nearest place of the grid.
fn settled(place: Point) -> Point {
    let of = |pixels: f32| on_grid(f64::from(pixels)) as f32;
    Point::from_xy(of(place.x), of(place.y))
}

fn moved(path: Path, [left, top]: [f64; 2]) -> Option<Path> {
    path.transform(Transform::from_translate(left as f32, top as f32))
}
