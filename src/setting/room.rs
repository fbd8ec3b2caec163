//! The room that a place leaves for copy: at each depth, where a line may stand and how long it may be.
//!
//! A place of several columns is one room whose depth runs on from the foot of a column to the head of the next. Depths
//! given to a room run so; [`Room::top_at`] tells where on the face they are.

use std::collections::HashMap;
use std::sync::{Mutex, OnceLock, PoisonError};

use super::contour::Contour;
use crate::brief::panel::KeepOut;
use crate::brief::place::Shape;
use crate::units::{Length, Rect};

/// A place with the keep-outs taken out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    live: Rect,
    columns: Columns,
    /// The keep-outs with their clearance, from left to right; none lies wholly outside the live area.
    keep_outs: Vec<Rect>,
    /// The form of the place, with its inset; none for a box, which `live` tells.
    inside: Option<Contour>,
    /// Keep-outs that are no boxes, with their clearance.
    contours: Vec<Contour>,
    /// [`Room::line_area`], once it was asked for.
    line_area: OnceLock<Option<f64>>,
    /// What [`Room::in_shapes`] found.
    known: KnownSlots,
}

/// The measures among shapes that were found, by where the column begins, the head of the line on the face, and its
/// height.
///
/// The copy is tried at dozens of sizes at each key, and from one key to the next nearly all its lines stand at the
/// same depths: whole leadings and spaces below the head of the place. To look a measure up takes a tenth of the time
/// in which it is cut out of a traced outline. Rooms are equal whatever was asked of them, and a clone of a room knows
/// none of it.
#[derive(Debug, Default)]
struct KnownSlots(Mutex<HashMap<(Length, Length, Length), LineSlot>>);

/// The most measures that are known, some three megabytes: 500 lines at more than 100 sizes. Then all are forgotten.
const MOST_KNOWN: usize = 1 << 16;

impl KnownSlots {
    /// The measure of a line that begins at a place and has a height; `find` is asked where it is not known.
    fn or_find(&self, line: (Length, Length, Length), find: impl FnOnce() -> LineSlot) -> LineSlot {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(slot) = known.get(&line) {
            return *slot;
        }
        if known.len() == MOST_KNOWN {
            known.clear();
        }
        *known.entry(line).or_insert_with(find)
    }
}

impl Clone for KnownSlots {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl PartialEq for KnownSlots {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// The height of the strips by which the area for lines is measured, in points: a cloud as large as a hand has some
/// hundred.
const STRIP_PT: f64 = 0.5;

/// How a room is parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Columns {
    count: usize,
    gutter: Length,
}

/// The length that a line has at one depth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LineSlot {
    /// Where the line begins, from the face's left edge.
    pub x: Length,
    /// How long it may be: the measure; zero where keep-outs leave nothing.
    pub width: Length,
    /// Whether the line is shorter than elsewhere, or has no room at all: beside a keep-out, or at a column's foot.
    pub narrowed: bool,
    /// Whether the line begins at the room's own left edge, into whose margin a quotation mark may hang.
    pub at_edge: bool,
}

impl Room {
    /// The room of a box round keep-outs.
    pub fn of_box(live: Rect, keep_outs: &[KeepOut]) -> Self {
        let columns = Columns { count: 1, gutter: Length::ZERO };
        let mut room = Self {
            live,
            columns,
            keep_outs: Vec::new(),
            inside: None,
            contours: Vec::new(),
            line_area: OnceLock::new(),
            known: KnownSlots::default(),
        };
        let is_box = |keep_out: &&KeepOut| keep_out.shape == Shape::Box;
        room.keep_out_of(keep_outs.iter().filter(is_box).map(KeepOut::cleared));
        let shaped = keep_outs.iter().filter(|keep_out| !is_box(keep_out) && keep_out.cleared().overlaps(&live));
        room.contours = shaped.map(|out| Contour::of(&out.shape, out.rect, out.clearance)).collect();
        room
    }

    /// The room inside a shape that fills a box, at a distance from its edge.
    pub fn of_shape(shape: &Shape, bounds: Rect, inset: Length, keep_outs: &[KeepOut]) -> Self {
        if *shape == Shape::Box {
            return Self::of_box(bounds.grown(Length::ZERO - inset), keep_outs);
        }
        Self { inside: Some(Contour::of(shape, bounds, inset)), ..Self::of_box(bounds, keep_outs) }
    }

    /// Forgets what was found before the room was changed.
    fn forget(&mut self) {
        self.line_area.take();
        self.known = KnownSlots::default();
    }

    /// Takes a shape out of the room.
    pub(super) fn keep_out_of_shape(&mut self, shape: &Shape, bounds: Rect) {
        self.contours.push(Contour::of(shape, bounds, Length::ZERO));
        self.forget();
    }

    /// Whether the room, or anything taken out of it, is no box.
    pub(super) fn is_shaped(&self) -> bool {
        self.inside.is_some() || !self.contours.is_empty()
    }

    /// The room parted into columns.
    pub fn in_columns(mut self, count: usize, gutter: Length) -> Self {
        self.columns = Columns { count: count.max(1), gutter };
        self.forget();
        self
    }

    /// The room with its head at another depth: below other copy.
    pub(super) fn begun_at(mut self, head: Length) -> Self {
        let foot = self.live.foot();
        self.live = Rect { y: head, height: (foot - head).or_zero(), ..self.live };
        self.forget();
        self
    }

    /// Takes further boxes out of the room.
    pub(super) fn keep_out_of(&mut self, boxes: impl Iterator<Item = Rect>) {
        let live = self.live;
        self.keep_outs.extend(boxes.filter(|rect| rect.overlaps(&live)));
        self.keep_outs.sort_by_key(|rect| rect.x);
        self.forget();
    }

    /// Where copy may stand, keep-outs aside.
    pub fn live(&self) -> Rect {
        self.live
    }

    /// Whether the room has several columns.
    pub(super) fn is_parted(&self) -> bool {
        self.columns.count > 1
    }

    /// The depth of all columns together.
    pub fn depth(&self) -> Length {
        self.live.height * self.columns.count as i64
    }

    /// The depth at which the last column ends.
    pub fn foot(&self) -> Length {
        self.live.y + self.depth()
    }

    /// The widest that a line can be: the width of a column.
    pub fn width(&self) -> Length {
        let Columns { count, gutter } = self.columns;
        let columns = count as i64;
        (self.live.width - gutter * (columns - 1)).or_zero() / columns
    }

    /// What lines in a shape, or in one column beside boxes, can take up, in square points; none elsewhere. The measure
    /// of a line times the height that [`Room::height_for_area`] tells is what it takes of that.
    ///
    /// A line is no longer than the widest stretch of any strip that lies wholly in its height, nor than that of any
    /// band between the edges of boxes into which it reaches.
    pub(super) fn line_area(&self) -> Option<f64> {
        *self.line_area.get_or_init(|| {
            if self.inside.is_some() {
                let strip = Length::pt(STRIP_PT);
                let strips = self.live.height.count_of(strip) as i64;
                let width = |number: i64| self.at(self.live.y + strip * number, strip).width.to_pt();
                return Some((0..strips).map(width).sum::<f64>() * STRIP_PT);
            }
            (!self.is_shaped() && !self.is_parted() && !self.keep_outs.is_empty()).then(|| self.area_of_bands())
        })
    }

    /// What the bands between the edges of boxes leave for lines, in square points.
    fn area_of_bands(&self) -> f64 {
        let (head, foot) = (self.live.y, self.live.foot());
        let edges = self.keep_outs.iter().flat_map(|rect| [rect.y, rect.foot()]);
        let mut edges: Vec<Length> = edges.map(|edge| edge.max(head).min(foot)).chain([head, foot]).collect();
        edges.sort();
        let bands = edges.windows(2).map(|ends| (ends[0], ends[1] - ends[0]));
        bands.map(|(top, height)| self.at(top, height).width.to_pt() * height.to_pt()).sum()
    }

    /// The height of a line, in points, less the strips of a shape in which it lies only in part.
    pub(super) fn height_for_area(&self, leading: Length) -> f64 {
        if self.inside.is_some() { (leading.to_pt() - 2.0 * STRIP_PT).max(0.0) } else { leading.to_pt() }
    }

    /// The column at a depth, from 0; the last one below the foot of all.
    fn column(&self, depth: Length) -> usize {
        if self.columns.count == 1 {
            return 0;
        }
        (depth - self.live.y).count_of(self.live.height).min(self.columns.count - 1)
    }

    /// The left edge of a column.
    fn left(&self, column: usize) -> Length {
        self.live.x + (self.width() + self.columns.gutter) * column as i64
    }

    /// Where on the face a depth is, from the face's head.
    pub fn top_at(&self, depth: Length) -> Length {
        depth - self.live.height * self.column(depth) as i64
    }

    /// The depth of a line by where it stands on the face.
    pub(super) fn depth_of(&self, top: Length, x: Length) -> Length {
        top + self.live.height * self.column_at(x) as i64
    }

    /// The left edge of the column in which a line stands, by where its measure begins.
    pub fn left_of(&self, x: Length) -> Length {
        self.left(self.column_at(x))
    }

    fn column_at(&self, x: Length) -> usize {
        (1..self.columns.count).rev().find(|column| self.left(*column).fits(x)).unwrap_or(0)
    }

    /// Where a block begins that follows copy which ends at a depth: below some space, which falls away at the head of
    /// a column.
    pub(super) fn below(&self, end: Length, space: Length, height: Length) -> Length {
        let (column, depth) = (self.column(end), end + space);
        if self.columns.count == 1 || self.foot().fits(depth) {
            return depth;
        }
        let head = self.live.y + self.live.height * column as i64;
        if column > 0 && end.fits(head) {
            return end;
        }
        let foot = head + self.live.height;
        if (depth + height).fits(foot) || column + 1 == self.columns.count { depth } else { foot }
    }

    /// The measure of a line whose box reaches from a depth down by `height`: the widest stretch that no keep-out
    /// enters, the leftmost of equals. A line that begins below the foot has the full measure.
    pub fn at(&self, depth: Length, height: Length) -> LineSlot {
        let column = self.column(depth);
        let (left, width) = (self.left(column), self.width());
        let whole = LineSlot { x: left, width, narrowed: false, at_edge: true };
        if self.foot().fits(depth) {
            return whole;
        }
        if self.is_cut_by_foot(column, depth, height) {
            return LineSlot { width: Length::ZERO, narrowed: true, ..whole };
        }
        if self.is_shaped() {
            let top = self.top_at(depth);
            // Finding the room beside shapes is slow, and the same line is asked about many times.
            return self.known.or_find((whole.x, top, height), || self.in_shapes(whole, top, height));
        }
        let (top, right) = (self.top_at(depth), left + width);
        // Keep-outs come from left to right: each ends one stretch, and the next begins behind whichever reaches
        // furthest.
        let mut free_from = left;
        let mut widest = LineSlot { width: Length::ZERO, narrowed: true, ..whole };
        let mut narrowed = false;
        let mut take = |from: Length, to: Length| {
            if to - from > widest.width {
                widest = LineSlot { x: from, width: to - from, narrowed: true, at_edge: from == left };
            }
        };
        for rect in self.beside(column, top, height) {
            narrowed = true;
            take(free_from, rect.x.min(right));
            free_from = free_from.max(rect.right());
        }
        if !narrowed {
            return whole;
        }
        take(free_from, right);
        widest
    }

    /// Whether a line would reach over the foot of a column that another follows.
    fn is_cut_by_foot(&self, column: usize, depth: Length, height: Length) -> bool {
        column + 1 < self.columns.count && !(self.top_at(depth) + height).fits(self.live.foot())
    }

    /// The next depth below one at which a line may take what it has no room for there; `takes` says of a measure
    /// whether it goes in, and says so of every longer one.
    pub(super) fn next_change(
        &self,
        depth: Length,
        height: Length,
        takes: impl Fn(LineSlot) -> bool,
    ) -> Option<Length> {
        let column = self.column(depth);
        let next_column = self.live.y + self.live.height * (column as i64 + 1);
        if self.is_cut_by_foot(column, depth, height) {
            return Some(next_column);
        }
        if self.is_shaped() {
            return Some(self.next_in_shapes(depth, height, takes));
        }
        let top = self.top_at(depth);
        let lower = depth + (self.beside(column, top, height).map(Rect::foot).min()? - top);
        Some(if column + 1 < self.columns.count { lower.min(next_column) } else { lower })
    }

    /// The measure of a line where shapes are in play: the widest stretch of x whose whole upright is free, the
    /// leftmost of equals. `whole` is the measure without them.
    fn in_shapes(&self, whole: LineSlot, top: Length, height: Length) -> LineSlot {
        let right = whole.x + whole.width;
        let mut stretches = Vec::new();
        let mut free = vec![(whole.x, right)];
        if let Some(inside) = &self.inside {
            inside.inside(top, top + height, &mut stretches);
            free.clear();
            free.extend(stretches.iter().map(|(from, to)| ((*from).max(whole.x), (*to).min(right))));
        }
        let beside = self.keep_outs.iter().filter(|rect| stands_beside(rect, top, height));
        let mut blocked: Vec<(Length, Length)> = beside.map(|rect| (rect.x, rect.right())).collect();
        for contour in &self.contours {
            contour.touched(top, top + height, &mut stretches);
            blocked.extend_from_slice(&stretches);
        }
        // What is blocked is cut out of each free stretch, from left to right.
        blocked.sort_unstable();
        let mut widest = LineSlot { width: Length::ZERO, narrowed: true, ..whole };
        let mut take = |from: Length, to: Length| {
            if to - from > widest.width {
                let at_edge = self.inside.is_none() && from == whole.x;
                widest = LineSlot { x: from, width: to - from, narrowed: true, at_edge };
            }
        };
        for (from, to) in free {
            let mut free_from = from;
            for (start, end) in blocked.iter().filter(|(start, end)| *end > from && *start < to) {
                take(free_from, *start);
                free_from = free_from.max(*end);
            }
            take(free_from, to);
        }
        let narrowed = self.inside.is_some() || widest.width < whole.width;
        LineSlot { narrowed, ..widest }
    }

    /// The next depth, by tenths of a point, at which a line among shapes takes what it is to take, or at which the
    /// place has ended.
    ///
    /// Line boxes that begin within some tenths of each other all hold the strip between the head of the lowest and
    /// the foot of the highest. What does not go into the strip goes into none of them, so all are passed at once.
    fn next_in_shapes(&self, depth: Length, height: Length, takes: impl Fn(LineSlot) -> bool) -> Length {
        let (column, step) = (self.column(depth), Length::pt(0.1));
        let mut next = depth + step;
        while !self.is_cut_by_foot(column, next, height) {
            let is_passed = |tenths: i64| {
                let lower = step * tenths;
                // A mark may hang from one line box and not from another, so all count as those from which it may.
                let strip = || LineSlot { at_edge: true, ..self.at(next + lower, height - lower) };
                !self.foot().fits(next + lower) && !takes(strip())
            };
            if !is_passed(0) {
                break;
            }
            let most = height.count_of(step).max(1) as i64 - 1;
            let (mut passed, mut open) = (if is_passed(most) { most } else { 0 }, most + 1);
            while open - passed > 1 {
                let middle = (passed + open) / 2;
                if is_passed(middle) { passed = middle } else { open = middle }
            }
            next += step * (passed + 1);
        }
        next
    }

    /// The keep-outs beside a line of a column.
    fn beside(&self, column: usize, top: Length, height: Length) -> impl Iterator<Item = &Rect> {
        let (left, width) = (self.left(column), self.width());
        let is_in_column = move |rect: &&Rect| !((left + width).fits(rect.x) || rect.right().fits(left));
        self.keep_outs.iter().filter(is_in_column).filter(move |rect| stands_beside(rect, top, height))
    }
}

/// Whether a line box and a keep-out share more than an edge of depth.
fn stands_beside(rect: &Rect, top: Length, height: Length) -> bool {
    !((top + height).fits(rect.y) || rect.foot().fits(top))
}
