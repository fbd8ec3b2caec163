//! How places on a face map to the cells of its picture.

use ratatui::layout::{Position, Rect};

use crate::report::Drawing;
use crate::report::drawing::{FramePart, Line};
use crate::units::{Length, Rect as Place};

/// Dots across and down in a cell.
pub(super) const DOTS: (usize, usize) = (2, 4);
/// How places on the panel map to the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PictureScale {
    /// Where the panel's face stands.
    pub(super) area: Rect,
    /// The face.
    pub(super) face: Place,
    /// The rows below the face in which lines that are over are drawn.
    pub(super) below: u16,
}

/// Lines over are drawn down to this part of the face's height below its foot; more are told in words.
const DRAWN_BELOW: i64 = 2;

/// The least part of the largest picture that is drawn, where all lines then stand equally far from each other, in
/// hundredths; and how far from a whole number of dots their distance may be.
const SMALLER: u16 = 85;
const UNEVEN: f64 = 0.1;

impl PictureScale {
    /// The largest picture of a panel in an area, with its proportions kept: a cell is twice as high as it is wide.
    pub(super) fn of(drawing: &Drawing, area: Rect) -> Option<Self> {
        let face = drawing.rect_of(FramePart::Face)?;
        let foot = drawing.lines().map(|line| line.rect.foot()).max().unwrap_or_default();
        let deep = (foot - face.foot()).or_zero().min(face.height / DRAWN_BELOW);
        Self::with_below(drawing, face, deep, area).or_else(|| Self::with_below(drawing, face, Length::ZERO, area))
    }

    /// The largest picture of a face with some of what is below its foot; none where that leaves too few cells.
    fn with_below(drawing: &Drawing, face: Place, deep: Length, area: Rect) -> Option<Self> {
        let (width, height) = (face.width.to_pt().max(1.0), face.height.to_pt().max(1.0));
        let most = f64::from(area.height) * 2.0 / (height + deep.to_pt());
        let fitting = (f64::from(area.width) / width).min(most);
        let largest = (height * fitting / 2.0).round().min(f64::from(area.height)) as u16;
        let rows = even(drawing, height, largest).unwrap_or(largest);
        let fitting = if rows == largest { fitting } else { f64::from(rows) * 2.0 / height };
        let columns = (width * fitting).round().min(f64::from(area.width)) as u16;
        if columns < 8 || rows < 4 {
            return None;
        }
        let x = area.x + (area.width - columns) / 2;
        let below = (deep.to_pt() * fitting / 2.0).ceil() as u16;
        Some(Self { area: Rect::new(x, area.y, columns, rows), face, below: below.min(area.height - rows) })
    }

    /// The cells of the face and of the lines below it.
    pub(super) fn whole(&self) -> Rect {
        Rect { height: self.area.height + self.below, ..self.area }
    }

    /// The dot for a place on the panel, counted across and down from the upper left corner.
    pub(super) fn dot(&self, x: Length, y: Length) -> (usize, usize) {
        let part = |at: Length, from: Length, whole: Length, (dots, most): (usize, usize)| {
            let way = (at - from).to_pt() / whole.to_pt().max(1.0);
            // A place on the border of two dots is at the second, whatever the division leaves.
            ((way * dots as f64 + 1e-6).floor().max(0.0) as usize).min(most - 1)
        };
        let across = usize::from(self.area.width) * DOTS.0;
        let [down, most] = [self.area, self.whole()].map(|cells| usize::from(cells.height) * DOTS.1);
        let y = part(y, self.face.y, self.face.height, (down, most));
        (part(x, self.face.x, self.face.width, (across, across)), y)
    }

    /// The place on the face at the middle of a cell.
    pub(super) fn place_at(&self, at: Position) -> (Length, Length) {
        let part = |at: u16, from: u16, cells: u16, whole: Length| {
            let halves = (i64::from(at) - i64::from(from)) * 2 + 1;
            whole * halves / (i64::from(cells.max(1)) * 2)
        };
        let (area, face) = (self.area, self.face);
        (part(at.x, area.x, area.width, face.width), part(at.y, area.y, area.height, face.height))
    }

    /// Whether a line is drawn: above the foot of the panel's face, or in the rows below it.
    pub(super) fn holds(&self, line: &Line) -> bool {
        let below = self.face.height * i64::from(self.below) / i64::from(self.area.height.max(1));
        middle(line) < self.face.foot() + below
    }

    /// The cells that a line's stroke covers.
    pub(super) fn stroke(&self, line: &Line) -> Rect {
        let (from, y) = self.dot(line.rect.x, middle(line));
        let (to, _) = self.dot(line.rect.right(), middle(line));
        let (left, right) = (from / DOTS.0, to.max(from) / DOTS.0);
        Rect::new(self.area.x + left as u16, self.area.y + (y / DOTS.1) as u16, (right - left + 1) as u16, 1)
    }

    /// The cells that a rectangle covers, its edges included.
    pub(super) fn cells(&self, rect: &Place) -> Rect {
        let hair = Length::pt(0.01);
        let (left, top) = self.dot(rect.x, rect.y);
        let (right, foot) = self.dot(rect.right() - hair, rect.foot() - hair);
        let (left, right) = (left / DOTS.0, right / DOTS.0);
        let (top, foot) = (top / DOTS.1, foot / DOTS.1);
        let (width, height) = (right.saturating_sub(left) + 1, foot.saturating_sub(top) + 1);
        Rect::new(self.area.x + left as u16, self.area.y + top as u16, width as u16, height as u16)
    }
}

/// The most rows, at most `largest`, of a picture on which all lines of the copy are a whole number of dots apart; none
/// where no picture of about that size has such lines, or no two lines follow each other.
fn even(drawing: &Drawing, height: f64, largest: u16) -> Option<u16> {
    let lines: Vec<&Line> = drawing.lines().collect();
    let mut pairs = lines.windows(2).filter(|pair| pair[0].rect.height == pair[1].rect.height);
    let leading = pairs.find_map(|pair| Some(pair[1].baseline - pair[0].baseline).filter(|way| *way > Length::ZERO))?;
    let dots = |rows: u16| leading.to_pt() / height * f64::from(rows) * DOTS.1 as f64;
    let least = largest * SMALLER / 100;
    (least..=largest).rev().find(|rows| (dots(*rows) - dots(*rows).round()).abs() < UNEVEN && dots(*rows) >= 1.5)
}

/// The depth on the panel of the middle of a line's small letters.
pub(super) fn middle(line: &Line) -> Length {
    line.rect.y + (line.baseline - line.rect.y) * 3 / 4
}
