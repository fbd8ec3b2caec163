//! Quiet room: the largest rectangles of a face in which copy of one ink and size can be read anywhere.
//!
//! The region is cut into cells of half an x-height, each of which is calm where a window round it passes. Every
//! rectangle of calm cells that cannot be made larger is found row by row: how many calm cells stand on each other is a
//! row of columns, and the rectangles below its outline are taken from a stack as the columns end (the largest
//! rectangle in a histogram, a known exercise; E. Mäkinen and others trace it to the 1980s, from memory).
//!
//! One speck, a gull or a star, splits a rectangle in two. So one more is looked for in which small specks are passed
//! over, as long as they are no more than `MOST_SPECKED` of it; the specks are given too, for the author to judge.

use std::ops::Range;

use super::lines::{CLEAR_STAND_OUT, contrast_wanted};
use crate::artwork::ground::Ground;
use crate::artwork::light::InkLight;
use crate::units::{Length, Rect};

/// Cells are made larger where a region would have more of them.
const MOST_CELLS: f64 = 200_000.0;
/// The share of a rectangle that specks may take. The figure is this project's own.
const MOST_SPECKED: f64 = 0.02;
/// The sizes of specks, in cells, that are tried one after another.
const SPECK_CELLS: [usize; 4] = [60, 20, 6, 2];
/// A rectangle that shares more than this part of itself with a larger one is left out.
const MOST_SHARED: f64 = 0.75;
/// A rectangle with specks is told where it is so many times as large as the largest without.
const WORTH_SPECKS: f64 = 1.1;

/// The type that is to stand in quiet room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuietType {
    /// The ink.
    pub ink: InkLight,
    /// The height of a lower-case x.
    pub x_height: Length,
    /// Whether the type is large by WCAG 2.2.
    pub is_large: bool,
}

/// What lies in a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum QuietCell {
    /// Copy could be read.
    Calm,
    /// Copy could not be read with ease.
    Uneasy,
    /// A keep-out: no copy may stand there, however calm it is.
    Taken,
}

/// Where a region is calm.
#[derive(Debug, Clone, PartialEq)]
pub struct CalmMap {
    region: Rect,
    /// The side of a cell.
    side: Length,
    columns: usize,
    rows: usize,
    cells: Vec<QuietCell>,
}

/// A rectangle where copy could be read.
#[derive(Debug, Clone, PartialEq)]
pub struct QuietRoom {
    /// Where it is, from the face's head left corner.
    pub rect: Rect,
    /// The boxes of the specks in it, from the head to the foot.
    pub specks: Vec<Rect>,
}

/// A rectangle of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
struct CellRect {
    columns: Range<usize>,
    rows: Range<usize>,
}

impl CellRect {
    fn cells(&self) -> usize {
        self.columns.len() * self.rows.len()
    }

    fn shared(&self, other: &Self) -> usize {
        let along = |one: &Range<usize>, other: &Range<usize>| {
            one.end.min(other.end).saturating_sub(one.start.max(other.start))
        };
        along(&self.columns, &other.columns) * along(&self.rows, &other.rows)
    }
}

impl CalmMap {
    /// Looks at a region of a face for some type; `taken` are the keep-outs with their clearance.
    pub fn of(ground: &Ground, form: &QuietType, region: Rect, taken: &[Rect]) -> Self {
        let area = region.width.to_units() * region.height.to_units();
        let side = (form.x_height / 2).max(Length::ceil_of_units((area / MOST_CELLS).sqrt())).max(Length::pt(0.5));
        let (columns, rows) = (region.width.count_of(side), region.height.count_of(side));
        let place = |column: usize, row: usize| Rect {
            x: region.x + side * column as i64,
            y: region.y + side * row as i64,
            width: side,
            height: side,
        };
        let cell = |at: usize| {
            let cell = place(at % columns.max(1), at / columns.max(1));
            if taken.iter().any(|taken| taken.overlaps(&cell)) {
                return QuietCell::Taken;
            }
            // Letters near an edge of two calm grounds stand on both, so a window is wider than its cell.
            let light = ground.light_in(&cell.grown(side));
            let is_calm = form.ink.stand_out_on(&light) >= CLEAR_STAND_OUT
                && form.ink.contrast_on(light.luminance) >= contrast_wanted(form.is_large);
            if is_calm { QuietCell::Calm } else { QuietCell::Uneasy }
        };
        Self { region, side, columns, rows, cells: (0..columns * rows).map(cell).collect() }
    }

    /// The share of the region that is calm, from 0 to 1.
    pub fn calm_share(&self) -> f64 {
        let calm = self.cells.iter().filter(|cell| **cell == QuietCell::Calm).count();
        calm as f64 / self.cells.len().max(1) as f64
    }

    /// The largest rectangles that are calm throughout, the largest first, at most so many; of several that lie mostly
    /// on each other only the largest.
    pub fn rooms(&self, most: usize) -> Vec<QuietRoom> {
        self.largest(most).into_iter().map(|rect| QuietRoom { rect: self.rect(&rect), specks: Vec::new() }).collect()
    }

    /// The largest rectangle with a few small specks in it; none where passing over them wins little.
    pub fn room_with_specks(&self) -> Option<QuietRoom> {
        let without = self.largest(1).first().map_or(0, CellRect::cells);
        let specks = self.specks();
        SPECK_CELLS.into_iter().find_map(|size| {
            let mut map = self.clone();
            let small = || specks.iter().filter(|speck| speck.len() <= size);
            small().flatten().for_each(|cell| map.cells[*cell] = QuietCell::Calm);
            let rect = map.largest(1).into_iter().next()?;
            let inside = |cell: &&usize| self.holds(&rect, **cell);
            let specked = small().flatten().filter(inside).count();
            let is_worth = rect.cells() as f64 >= without as f64 * WORTH_SPECKS;
            (is_worth && specked as f64 <= rect.cells() as f64 * MOST_SPECKED).then(|| {
                let boxes = small().filter(|speck| speck.iter().any(|cell| self.holds(&rect, *cell)));
                QuietRoom { rect: self.rect(&rect), specks: boxes.map(|speck| self.box_of(speck)).collect() }
            })
        })
    }

    fn holds(&self, rect: &CellRect, cell: usize) -> bool {
        rect.columns.contains(&(cell % self.columns)) && rect.rows.contains(&(cell / self.columns))
    }

    fn rect(&self, cells: &CellRect) -> Rect {
        Rect {
            x: self.region.x + self.side * cells.columns.start as i64,
            y: self.region.y + self.side * cells.rows.start as i64,
            width: self.side * cells.columns.len() as i64,
            height: self.side * cells.rows.len() as i64,
        }
    }

    /// The box round some cells.
    fn box_of(&self, cells: &[usize]) -> Rect {
        let ends = |at: fn(usize, usize) -> usize| {
            let places = || cells.iter().map(|cell| at(*cell, self.columns));
            places().min().unwrap_or_default()..places().max().map_or(0, |last| last + 1)
        };
        self.rect(&CellRect {
            columns: ends(|cell, columns| cell % columns),
            rows: ends(|cell, columns| cell / columns),
        })
    }

    fn largest(&self, most: usize) -> Vec<CellRect> {
        let mut all = self.maximal();
        all.sort_by_key(|rect| (std::cmp::Reverse(rect.cells()), rect.rows.start, rect.columns.start));
        let mut chosen: Vec<CellRect> = Vec::new();
        for rect in all {
            if chosen.len() == most {
                break;
            }
            let is_new = |known: &CellRect| rect.shared(known) as f64 <= rect.cells() as f64 * MOST_SHARED;
            if chosen.iter().all(is_new) {
                chosen.push(rect);
            }
        }
        chosen
    }

    /// Every rectangle of calm cells that no larger one holds.
    fn maximal(&self) -> Vec<CellRect> {
        let mut found = Vec::new();
        let mut heights = vec![0_usize; self.columns];
        // Columns that are open: where they begin, and how high they are.
        let mut open: Vec<(usize, usize)> = Vec::new();
        for row in 0..self.rows {
            for (height, cell) in heights.iter_mut().zip(self.row(row)) {
                *height = if *cell == QuietCell::Calm { *height + 1 } else { 0 };
            }
            // How many of the cells below are calm, up to each column: a rectangle that goes on below is found there.
            let below = calm_so_far(if row + 1 < self.rows { self.row(row + 1) } else { &[] });
            for column in 0..=self.columns {
                let height = heights.get(column).copied().unwrap_or(0);
                let mut start = column;
                while let Some((from, high)) = open.pop_if(|(_, high)| *high > height) {
                    start = from;
                    let goes_on =
                        below.get(column).zip(below.get(from)).is_some_and(|(to, at)| to - at == column - from);
                    if !goes_on {
                        found.push(CellRect { columns: from..column, rows: row + 1 - high..row + 1 });
                    }
                }
                if height > 0 && open.last().is_none_or(|(_, high)| *high < height) {
                    open.push((start, height));
                }
            }
        }
        found
    }

    fn row(&self, row: usize) -> &[QuietCell] {
        &self.cells[row * self.columns..(row + 1) * self.columns]
    }

    /// The uneasy cells, in groups that hang together by their sides.
    fn specks(&self) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.cells.len()];
        let mut groups = Vec::new();
        for first in 0..self.cells.len() {
            let mut group = Vec::new();
            let mut waiting = vec![first];
            while let Some(cell) = waiting.pop() {
                if seen[cell] || self.cells[cell] != QuietCell::Uneasy {
                    continue;
                }
                seen[cell] = true;
                group.push(cell);
                let (column, row) = (cell % self.columns, cell / self.columns);
                let beside = [
                    (column > 0).then(|| cell - 1),
                    (column + 1 < self.columns).then_some(cell + 1),
                    (row > 0).then(|| cell - self.columns),
                    (row + 1 < self.rows).then_some(cell + self.columns),
                ];
                waiting.extend(beside.into_iter().flatten());
            }
            if !group.is_empty() {
                groups.push(group);
            }
        }
        groups
    }
}

/// How many cells of a row are calm before each column, and in all.
fn calm_so_far(row: &[QuietCell]) -> Vec<usize> {
    let counted = row.iter().scan(0, |calm, cell| {
        *calm += usize::from(*cell == QuietCell::Calm);
        Some(*calm)
    });
    std::iter::once(0).chain(counted).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// A map of cells that are a point wide: `.` calm, `#` uneasy, `x` taken.
    fn map(rows: &[&str]) -> CalmMap {
        let cell = |sign| match sign {
            '.' => QuietCell::Calm,
            '#' => QuietCell::Uneasy,
            _ => QuietCell::Taken,
        };
        let (columns, side) = (rows.first().map_or(0, |row| row.len()), Length::pt(1.0));
        let region = Rect { width: side * columns as i64, height: side * rows.len() as i64, ..Rect::default() };
        let cells = rows.iter().flat_map(|row| row.chars()).map(cell).collect();
        CalmMap { region, side, columns, rows: rows.len(), cells }
    }

    fn told(room: &QuietRoom) -> (f64, f64, f64, f64) {
        let Rect { x, y, width, height } = room.rect;
        (x.to_pt(), y.to_pt(), width.to_pt(), height.to_pt())
    }

    /// Every calm rectangle that cannot grow on any side, by trying all.
    fn by_force(map: &CalmMap) -> BTreeSet<[usize; 4]> {
        let is_calm = |left: usize, head: usize, right: usize, foot: usize| {
            right <= map.columns
                && foot <= map.rows
                && (head..foot).all(|row| map.row(row)[left..right].iter().all(|cell| *cell == QuietCell::Calm))
        };
        let mut found = BTreeSet::new();
        for (left, head) in (0..map.columns).flat_map(|left| (0..map.rows).map(move |head| (left, head))) {
            for (right, foot) in
                (left + 1..=map.columns).flat_map(|right| (head + 1..=map.rows).map(move |foot| (right, foot)))
            {
                let grows = (left > 0 && is_calm(left - 1, head, right, foot))
                    || (head > 0 && is_calm(left, head - 1, right, foot))
                    || is_calm(left, head, right + 1, foot)
                    || is_calm(left, head, right, foot + 1);
                if is_calm(left, head, right, foot) && !grows {
                    found.insert([left, head, right, foot]);
                }
            }
        }
        found
    }

    #[test]
    fn rectangles_are_those_of_a_search_of_all() {
        // A plain generator, so that the maps are the same on every machine.
        let mut state = 7_u64;
        let mut next = |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % below
        };
        for _ in 0..400 {
            let (columns, rows, share) = (1 + next(9) as usize, 1 + next(9) as usize, 1 + next(9));
            let mut sign = || if next(10) < share { "." } else { "#" };
            let lines: Vec<String> = (0..rows).map(|_| (0..columns).map(|_| sign()).collect()).collect();
            let map = map(&lines.iter().map(String::as_str).collect::<Vec<_>>());
            let found = map.maximal();
            let kept: BTreeSet<_> = found
                .iter()
                .map(|rect| [rect.columns.start, rect.rows.start, rect.columns.end, rect.rows.end])
                .collect();
            assert_eq!(kept, by_force(&map), "{lines:?}");
            assert_eq!(found.len(), kept.len(), "no rectangle is found twice: {lines:?}");
        }
    }

    #[test]
    fn the_largest_come_first_and_none_lies_on_another() {
        let map = map(&["....#...", "....#...", "....####", "####....", "........"]);
        let rooms: Vec<_> = map.rooms(3).iter().map(told).collect();
        assert_eq!(rooms, [(0.0, 0.0, 4.0, 3.0), (4.0, 3.0, 4.0, 2.0), (0.0, 4.0, 8.0, 1.0)]);
        assert_eq!(map.rooms(1).len(), 1);
        assert!(super::tests::map(&["##", "xx"]).rooms(9).is_empty());
    }

    #[test]
    fn a_speck_is_passed_over_and_named_but_a_keep_out_is_not() {
        let mut rows = vec!["..........".to_owned(); 10];
        rows[4] = "....#.....".to_owned();
        let speckled = |rows: &[String]| map(&rows.iter().map(String::as_str).collect::<Vec<_>>());
        let room = speckled(&rows).room_with_specks().expect("one speck in a hundred cells");
        assert_eq!(told(&room), (0.0, 0.0, 10.0, 10.0));
        let specks: Vec<_> = room.specks.iter().map(|speck| (speck.x.to_pt(), speck.y.to_pt())).collect();
        assert_eq!(specks, [(4.0, 4.0)]);
        rows[4] = "....x.....".to_owned();
        assert_eq!(speckled(&rows).room_with_specks(), None, "a keep-out is no speck");
        rows[4] = ".#.#.#....".to_owned();
        assert_eq!(speckled(&rows).room_with_specks(), None, "three in a hundred cells are too many");
    }
}
