//! The ground: the art as the eye meets it on paper, and what of it lies in any window.
//!
//! The art is brought to 100 pixels an inch of paper, each cell the mean of the light that falls on it. Coarser, the
//! grain between letters is lost; finer, nothing is gained: from 75 to 300 an inch the stand-out ratio ranks lines
//! alike (`tests/reference/art/`). Of every cell the sums of luminance, lightness and squared lightness of all cells
//! above and to the left are kept (a summed-area table: F. Crow 1984), so that a window of any size is four look-ups.
//! All sums are whole numbers, so they are exact, and mirrored art has mirrored figures to the last digit.

use rayon::prelude::*;

use super::light::{FULL, WindowLight, encoded, linear, luminance};
use super::picture::{Picture, PixelRect};
use crate::units::{Length, Rect};

/// Cells an inch.
const CELLS_PER_INCH: f64 = 100.0;
/// The most cells, those of a face of 14 by 14 in; on a larger face the cells are larger, so that no face takes more
/// memory.
const MOST_CELLS: f64 = 2_000_000.0;
/// The parts of one L* that sums are kept in.
const PER_LIGHTNESS: f64 = 1024.0;
/// Parts of a pixel in which the edges of the part that is shown are known.
const PARTS_PER_PIXEL: f64 = 16.0;

/// A colour laid over the art.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TintLight {
    /// The colour in sRGB.
    pub colour: [u8; 3],
    /// How much of what is behind the tint it hides: 0 nothing, 1 all.
    pub opacity: f64,
}

/// The stretches of each row of cells, from the head down, on which a picture lies.
pub type CoveredRows = Vec<Vec<(Length, Length)>>;

/// The art on a face, in cells of a hundredth of an inch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ground {
    /// Where the art lies, from the face's head left corner. Round it is paper.
    area: Rect,
    columns: usize,
    rows: usize,
    /// Linear red, green and blue of each cell, row by row, in parts of [`FULL`].
    cells: Vec<[u32; 3]>,
    /// The sums of all cells above and to the left of each corner, row by row.
    sums: Vec<Sums>,
    /// The paper round the art.
    paper: [u32; 3],
}

/// Which way a ground is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quarter {
    /// Against the clock.
    Left,
    /// With the clock.
    Right,
}

/// Luminance in parts of [`FULL`], and lightness and its square in parts of [`PER_LIGHTNESS`], added up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Sums {
    luminance: u64,
    lightness: u64,
    squares: u64,
}

/// A stretch of columns or of rows of cells, the last not included; beyond the ground it is paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct CellSpan {
    from: i64,
    to: i64,
}

/// Some rows of a ground.
#[derive(Debug, Clone, Copy)]
pub struct GroundRows<'a> {
    ground: &'a Ground,
    /// The sums at the corners above the rows, and below them.
    above: &'a [Sums],
    below: &'a [Sums],
    /// How many rows they are, and how many of them the art has.
    count: u64,
    within: u64,
}

impl CellSpan {
    fn count(self) -> u64 {
        self.to.abs_diff(self.from)
    }

    /// The part of the span that lies among `cells` cells: its first cell, and the one behind its last.
    fn within(self, cells: usize) -> (usize, usize) {
        let clamped = |at: i64| usize::try_from(at).unwrap_or(0).min(cells);
        (clamped(self.from), clamped(self.to))
    }
}

impl Ground {
    /// A part of a picture that lies on an area of a face; without pixels or without a size, paper alone.
    pub fn of(picture: &Picture, shown: &PixelRect, area: Rect) -> Self {
        let (width, height) = (area.width.to_inches(), area.height.to_inches());
        let is_empty = picture.pixels.len() < picture.width.max(1) * picture.height.max(1);
        if is_empty || width <= 0.0 || height <= 0.0 {
            return Self::of_cells(area, 0, 0, Vec::new(), [FULL; 3]);
        }
        let per_inch = CELLS_PER_INCH.min((MOST_CELLS / (width * height)).sqrt());
        let cells = |inches: f64| ((inches * per_inch).round() as usize).max(1);
        let (columns, rows) = (cells(width), cells(height));
        let cells = resampled(picture, shown, columns, rows);
        Self::of_cells(area, columns, rows, cells, [FULL; 3])
    }

    /// The ground with a colour laid over all of it and the paper round it.
    ///
    /// Colours mix as they are written in sRGB, as programs that draw and readers of PDF do it (ISO 32000-1, 11.3.6,
    /// in DeviceRGB), not as light does: less of a dark picture shows through a white tint in linear light, so that
    /// reckoning would call copy readable that is not.
    pub fn tinted(&self, tint: &TintLight) -> Self {
        let over = |cell: &[u32; 3]| mixed(*cell, tint);
        let cells = self.cells.par_iter().with_min_len(4096).map(over).collect();
        Self::of_cells(self.area, self.columns, self.rows, cells, over(&self.paper))
    }

    /// The part of the ground whose cells touch a rectangle, for trials; round it is paper.
    pub fn part(&self, rect: &Rect) -> Self {
        let (width, height) = (self.cell(self.area.width, self.columns), self.cell(self.area.height, self.rows));
        let span = |from: Length, to: Length, cell: f64| CellSpan {
            from: (from.to_units() / cell).floor() as i64,
            to: (to.to_units() / cell).ceil() as i64,
        };
        let (left, right) = span(rect.x - self.area.x, rect.right() - self.area.x, width).within(self.columns);
        let (head, foot) = span(rect.y - self.area.y, rect.foot() - self.area.y, height).within(self.rows);
        let (columns, rows) = (right.saturating_sub(left), foot.saturating_sub(head));
        let at = |cells: usize, cell: f64| Length::floor_of_units((cells as f64 * cell).round());
        let area = Rect {
            x: self.area.x + at(left, width),
            y: self.area.y + at(head, height),
            width: at(right, width) - at(left, width),
            height: at(foot, height) - at(head, height),
        };
        let row = |row: usize| &self.cells[row * self.columns + left..row * self.columns + left + columns];
        let cells = (head..head + rows).flat_map(row).copied().collect();
        Self::of_cells(area, columns, rows, cells, self.paper)
    }

    /// The depths of the middles of all rows of cells, from the face's head.
    pub fn row_middles(&self) -> impl Iterator<Item = Length> + '_ {
        (0..self.rows).map(|row| self.area.y + self.area.height * (2 * row as i64 + 1) / (2 * self.rows as i64))
    }

    /// The ground where it lies over another, with so much of that round it: a cell is its own where the middle lies on
    /// a covered stretch of its row. Without another, paper is below it.
    pub fn laid_over(&self, below: Option<&Self>, covered: &CoveredRows, past: Length) -> Self {
        let (wide, high) = (self.cell(self.area.width, self.columns), self.cell(self.area.height, self.rows));
        let beyond = |cell: f64| if cell > 0.0 { (past.to_units() / cell).ceil() as usize } else { 0 };
        let (beside, above) = (beyond(wide), beyond(high));
        let (columns, rows) = (self.columns + 2 * beside, self.rows + 2 * above);
        let across = |cells: usize| Length::floor_of_units((cells as f64 * wide).round());
        let down = |cells: usize| Length::floor_of_units((cells as f64 * high).round());
        let area = Rect {
            x: self.area.x - across(beside),
            y: self.area.y - down(above),
            width: self.area.width + across(beside) * 2,
            height: self.area.height + down(above) * 2,
        };
        let own = |column: usize, row: usize| {
            let (column, row) = (column.checked_sub(beside)?, row.checked_sub(above)?);
            let middle = self.area.x + self.area.width * (2 * column as i64 + 1) / (2 * self.columns as i64);
            let is_covered = covered.get(row)?.iter().any(|(from, to)| *from <= middle && middle < *to);
            (is_covered && column < self.columns).then(|| self.cells[row * self.columns + column])
        };
        let cell = |number: usize| {
            let (column, row) = (number % columns, number / columns);
            own(column, row).unwrap_or_else(|| {
                let (x, y) = (area.x + across(column), area.y + down(row));
                let (right, foot) = (area.x + across(column + 1), area.y + down(row + 1));
                below.map_or(self.paper, |below| below.mean(below.columns_in(x, right), below.rows_in(y, foot)))
            })
        };
        let cells = (0..columns * rows).into_par_iter().with_min_len(4096).map(cell).collect();
        Self::of_cells(area, columns, rows, cells, below.map_or(self.paper, |below| below.paper))
    }

    /// The ground turned by a quarter, to lie in another area: to the left what was at its head is at the left, to the
    /// right what was at its foot.
    pub fn turned(&self, to: Quarter, area: Rect) -> Self {
        let (columns, rows) = (self.rows, self.columns);
        let cell = |number: usize| {
            let (column, row) = (number % columns, number / columns);
            match to {
                Quarter::Left => self.cells[column * self.columns + (self.columns - 1 - row)],
                Quarter::Right => self.cells[(self.rows - 1 - column) * self.columns + row],
            }
        };
        let cells = (0..columns * rows).map(cell).collect();
        Self::of_cells(area, columns, rows, cells, self.paper)
    }

    fn of_cells(area: Rect, columns: usize, rows: usize, cells: Vec<[u32; 3]>, paper: [u32; 3]) -> Self {
        let sums = added_up(&cells, columns, rows);
        Self { area, columns, rows, cells, sums, paper }
    }

    /// Where the art lies.
    pub fn area(&self) -> Rect {
        self.area
    }

    /// What lies in a window of the face: of every cell whose middle is in it, or of the one that its own middle is in.
    pub fn light_in(&self, window: &Rect) -> WindowLight {
        self.between(window.y, window.foot()).light(window.x, window.right())
    }

    /// The rows whose middles lie between two depths from the face's head, for windows side by side in them.
    pub fn between(&self, from: Length, to: Length) -> GroundRows<'_> {
        let rows = self.rows_in(from, to);
        let (head, foot) = rows.within(self.rows);
        let corners = |row: usize| &self.sums[row * (self.columns + 1)..(row + 1) * (self.columns + 1)];
        GroundRows {
            ground: self,
            above: corners(head),
            below: corners(foot),
            count: rows.count(),
            within: foot.saturating_sub(head) as u64,
        }
    }

    /// The columns whose middles lie between two places from the face's left edge.
    fn columns_in(&self, from: Length, to: Length) -> CellSpan {
        span(from - self.area.x, to - self.area.x, self.area.width, self.columns)
    }

    /// The rows whose middles lie between two depths from the face's head.
    fn rows_in(&self, from: Length, to: Length) -> CellSpan {
        span(from - self.area.y, to - self.area.y, self.area.height, self.rows)
    }

    /// The colours of a rectangle of the face in so many columns and rows, row by row: of each the mean light, as a
    /// colour of sRGB.
    pub fn colours(&self, part: &Rect, columns: usize, rows: usize) -> Vec<[u8; 3]> {
        let side = |from: Length, length: Length, at: usize, count: usize| {
            let edge = |at: usize| from + length * at as i64 / count.max(1) as i64;
            (edge(at), edge(at + 1))
        };
        let across = |at: usize| side(part.x, part.width, at, columns);
        let down = |at: usize| side(part.y, part.height, at, rows);
        let columns: Vec<CellSpan> = (0..columns).map(across).map(|(from, to)| self.columns_in(from, to)).collect();
        let rows = (0..rows).map(down).map(|(from, to)| self.rows_in(from, to));
        rows.flat_map(|row| columns.iter().map(move |column| self.colour(*column, row))).collect()
    }

    /// The mean light of some columns of some rows, as a colour of sRGB.
    fn colour(&self, columns: CellSpan, rows: CellSpan) -> [u8; 3] {
        let (sum, count) = self.light_of_cells(columns, rows);
        sum.map(|sum| (encoded(sum as f64 / count as f64 / f64::from(FULL)) * 255.0).round() as u8)
    }

    /// The mean light of some columns of some rows, in parts of [`FULL`].
    fn mean(&self, columns: CellSpan, rows: CellSpan) -> [u32; 3] {
        let (sum, count) = self.light_of_cells(columns, rows);
        sum.map(|sum| u32::try_from((sum + count / 2) / count).unwrap_or(FULL))
    }

    /// The light of some columns of some rows, added up, and the number of the cells; those beyond the art are paper.
    fn light_of_cells(&self, columns: CellSpan, rows: CellSpan) -> ([u64; 3], u64) {
        let ((left, right), (head, foot)) = (columns.within(self.columns), rows.within(self.rows));
        let mut sum = [0_u64; 3];
        let mut add = |cell: &[u32; 3], times: u64| {
            for (sum, channel) in sum.iter_mut().zip(cell) {
                *sum += u64::from(*channel) * times;
            }
        };
        for row in head..foot.max(head) {
            self.cells[row * self.columns + left..row * self.columns + right.max(left)]
                .iter()
                .for_each(|cell| add(cell, 1));
        }
        let count = columns.count() * rows.count();
        add(&self.paper, count - (right.saturating_sub(left) * foot.saturating_sub(head)) as u64);
        (sum, count)
    }

    /// The width or the height of a cell, in units of a length.
    fn cell(&self, length: Length, cells: usize) -> f64 {
        length.to_units() / cells.max(1) as f64
    }
}

impl GroundRows<'_> {
    /// What lies between two places from the face's left edge.
    pub fn light(&self, from: Length, to: Length) -> WindowLight {
        let (columns, within) = self.columns(from, to);
        let count = (columns.count() * self.count) as f64;
        let mean = self.sum(|sums| sums.lightness, columns, within) as f64 / count;
        let squares = self.sum(|sums| sums.squares, columns, within) as f64 / count;
        // Whole numbers below 2^53 are exact, and so the variance of a plain ground is nothing.
        let variance = (squares - mean * mean).max(0.0);
        WindowLight {
            luminance: self.sum(|sums| sums.luminance, columns, within) as f64 / count / f64::from(FULL),
            lightness: mean / PER_LIGHTNESS,
            spread: variance.sqrt() / PER_LIGHTNESS,
        }
    }

    /// The mean luminance between two places from the face's left edge.
    pub fn luminance(&self, from: Length, to: Length) -> f64 {
        let (columns, within) = self.columns(from, to);
        let sum = self.sum(|sums| sums.luminance, columns, within);
        sum as f64 / (columns.count() * self.count) as f64 / f64::from(FULL)
    }

    /// The columns between two places, and those of them that the art has.
    fn columns(&self, from: Length, to: Length) -> (CellSpan, (usize, usize)) {
        let columns = self.ground.columns_in(from, to);
        (columns, columns.within(self.ground.columns))
    }

    /// What the cells of some columns have together; those that lie beyond the art are paper.
    fn sum(&self, of: impl Fn(&Sums) -> u64, columns: CellSpan, (left, right): (usize, usize)) -> u64 {
        let [a, b, c, d] = [self.below[right], self.above[left], self.above[right], self.below[left]].map(|at| of(&at));
        let beyond = columns.count() * self.count - right.saturating_sub(left) as u64 * self.within;
        let paper = if beyond > 0 { of(&Sums::of(&self.ground.paper)) * beyond } else { 0 };
        a + b - c - d + paper
    }
}

impl Sums {
    /// One cell.
    fn of(cell: &[u32; 3]) -> Self {
        let luminance = luminance(cell.map(f64::from)).round();
        let lightness = u64::from((lightness_of(luminance as f32 / FULL as f32) * PER_LIGHTNESS as f32).round() as u32);
        Self { luminance: luminance as u64, lightness, squares: lightness * lightness }
    }

    fn add(&mut self, other: &Self) {
        self.luminance += other.luminance;
        self.lightness += other.lightness;
        self.squares += other.squares;
    }
}

/// The lightness of a cell in single precision, which is exact to a ten-thousandth and several times as fast.
fn lightness_of(luminance: f32) -> f32 {
    if luminance > 216.0 / 24389.0 { 116.0 * luminance.cbrt() - 16.0 } else { luminance * (24389.0 / 27.0) }
}

/// The cells whose middles lie between two lengths from the first one's edge, `whole` being the length of all cells; at
/// least the one in which the middle between the two lies. Middles on an edge belong to the window, on both sides, so
/// that a mirrored window has mirrored cells. The quotients are exact where they are whole.
fn span(from: Length, to: Length, whole: Length, cells: usize) -> CellSpan {
    let whole = whole.to_units();
    if cells == 0 || whole <= 0.0 {
        return CellSpan { from: 0, to: 1 };
    }
    let scaled = |length: Length| (2.0 * length.to_units() * cells as f64 - whole) / (2.0 * whole);
    let (first, last) = (scaled(from).ceil() as i64, scaled(to).floor() as i64);
    if first <= last {
        return CellSpan { from: first, to: last + 1 };
    }
    let middle = ((from.to_units() + to.to_units()) / 2.0 * cells as f64 / whole).floor() as i64;
    CellSpan { from: middle, to: middle + 1 }
}

/// The sums at each corner of the cells.
fn added_up(cells: &[[u32; 3]], columns: usize, rows: usize) -> Vec<Sums> {
    let wide = columns + 1;
    let mut sums = vec![Sums::default(); wide * (rows + 1)];
    if columns == 0 {
        return sums;
    }
    // Each row by itself first, on all cores; the roots of a cube are what takes time.
    sums[wide..].par_chunks_mut(wide).zip(cells.par_chunks(columns)).for_each(|(sums, cells)| {
        let mut so_far = Sums::default();
        for (sum, cell) in sums[1..].iter_mut().zip(cells) {
            so_far.add(&Sums::of(cell));
            *sum = so_far;
        }
    });
    for row in 2..=rows {
        let (above, below) = sums.split_at_mut(row * wide);
        for (sum, above) in below[..wide].iter_mut().zip(&above[(row - 1) * wide..]) {
            sum.add(above);
        }
    }
    sums
}

/// The shown part of a picture as so many cells: the mean light of all that falls on each.
///
/// Pixels that lie on two cells count for each by the part that lies on it. Parts are whole numbers: a pixel is as many
/// parts wide as there are columns, a cell as many as there are pixels, each times [`PARTS_PER_PIXEL`].
fn resampled(picture: &Picture, shown: &PixelRect, columns: usize, rows: usize) -> Vec<[u32; 3]> {
    let table: [u32; 256] = std::array::from_fn(|channel| whole(linear(channel as f64 / 255.0)));
    let across = Axis::of(shown.x, shown.width, picture.width, columns);
    let down = Axis::of(shown.y, shown.height, picture.height, rows);
    let (first, end) = (across.pixels(0).start, across.pixels(columns - 1).end);
    let row_of_cells = |row: usize| {
        // All rows of pixels first, then the columns: the sums of a column of pixels stand side by side, channel by
        // channel, which is quick where nothing is optimised too.
        let mut light = vec![0_u64; 3 * (end - first)];
        for pixel_row in down.pixels(row) {
            let weight = down.part(pixel_row, row);
            let start = pixel_row.min(picture.height - 1) * picture.width;
            let channels = picture.pixels[start + first..start + end].as_flattened();
            for (sum, channel) in light.iter_mut().zip(channels) {
                *sum += weight * u64::from(table[usize::from(*channel)]);
            }
        }
        let all = across.cell * down.cell;
        let cell = move |column: usize| {
            let mut sum = [0_u64; 3];
            for pixel in across.pixels(column) {
                let weight = across.part(pixel, column);
                for (sum, light) in sum.iter_mut().zip(&light[3 * (pixel - first)..]) {
                    *sum += weight * light;
                }
            }
            sum.map(|sum| u32::try_from((sum + all / 2) / all).unwrap_or(FULL))
        };
        (0..columns).map(cell).collect::<Vec<_>>()
    };
    (0..rows).into_par_iter().flat_map_iter(row_of_cells).collect()
}

/// Pixels and cells along one side.
#[derive(Debug, Clone, Copy)]
struct Axis {
    /// Where the first cell begins, in parts.
    start: u64,
    /// The parts of a cell.
    cell: u64,
    /// The parts of a pixel.
    pixel: u64,
    /// How many pixels the picture has.
    pixels: usize,
}

impl Axis {
    fn of(from: f64, length: f64, pixels: usize, cells: usize) -> Self {
        let parts = |length: f64| (length * PARTS_PER_PIXEL).round().max(0.0) as u64;
        let all = parts(pixels as f64);
        let from = parts(from).min(all.saturating_sub(1));
        let length = parts(length).clamp(1, all - from);
        Self { start: from * cells as u64, cell: length, pixel: cells as u64 * PARTS_PER_PIXEL as u64, pixels }
    }

    fn cell_parts(&self, cell: usize) -> std::ops::Range<u64> {
        let from = self.start + cell as u64 * self.cell;
        from..from + self.cell
    }

    /// The pixels that lie on a cell.
    fn pixels(&self, cell: usize) -> std::ops::Range<usize> {
        let parts = self.cell_parts(cell);
        (parts.start / self.pixel) as usize..(parts.end.div_ceil(self.pixel) as usize).min(self.pixels)
    }

    /// The parts of a pixel that lie on a cell.
    fn part(&self, pixel: usize, cell: usize) -> u64 {
        let (own, parts) = (pixel as u64 * self.pixel, self.cell_parts(cell));
        (own + self.pixel).min(parts.end).saturating_sub(own.max(parts.start))
    }
}

/// A cell with a colour laid over it.
fn mixed(cell: [u32; 3], tint: &TintLight) -> [u32; 3] {
    let opacity = tint.opacity.clamp(0.0, 1.0);
    let mut mixed = cell;
    for (light, over) in mixed.iter_mut().zip(tint.colour) {
        let below = encoded(f64::from(*light) / f64::from(FULL));
        *light = whole(linear(below + (f64::from(over) / 255.0 - below) * opacity));
    }
    mixed
}

/// A share of light in parts of [`FULL`].
fn whole(light: f64) -> u32 {
    (light * f64::from(FULL)).round() as u32
}
