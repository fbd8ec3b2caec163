//! A sheet on the paper at hand: in tiles that overlap, each on a sheet of paper of its own, with marks that say where
//! to cut and where to lay the next one. Nothing is scaled: put together, the tiles are the sheet.

use super::rule::{self, label};
use super::shapes::{self, points};
use super::sheet::{Ink, Sheet, SheetMark, SheetScale, Stroke};
use crate::setting::outline::PathStep;
use crate::units::{Length, Point, Rect, Size};

/// The paper in a printer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrinterPaper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 297 by 420 mm (ISO 216).
    A3,
    /// 8.5 by 11 in.
    Letter,
}

/// Tiles begin at whole steps of a sixth of an inch, which are whole pixels at 150 and at 300 to the inch.
const STEP: f64 = 12.0;
/// The room at the head and the sides of the paper, in points: more than printers leave white.
const MARGIN: f64 = 36.0;
/// The room at the foot of the paper, in points, for the rule and the words.
const FOOT: f64 = 72.0;
/// How much two tiles have in common, in points: room for glue.
const OVERLAP: f64 = 36.0;
/// The distance of a mark from the tile and the length of the mark, in points.
const MARK: [f64; 2] = [2.0, 14.0];
/// The largest cell in the small map of the tiles, in points.
const CELL: f64 = 8.0;
/// The height of the map, in points.
const MAP: f64 = 28.0;

impl PrinterPaper {
    /// The width and the height of the paper as it stands upright.
    fn size(self) -> Size {
        let (width, height) = match self {
            Self::A4 => (Length::mm(210.0), Length::mm(297.0)),
            Self::A3 => (Length::mm(297.0), Length::mm(420.0)),
            Self::Letter => (Length::inches(8.5), Length::inches(11.0)),
        };
        Size { width, height }
    }
}

/// A sheet on sheets of paper, row by row from its head. The paper stands upright or lies on its side, whichever takes
/// fewer sheets.
pub fn of<'a>(sheet: &Sheet<'a>, paper: PrinterPaper) -> Vec<Sheet<'a>> {
    let upright = paper.size();
    let lying = Size { width: upright.height, height: upright.width };
    let [upright, lying] = [upright, lying].map(|paper| Grid::of(sheet.size, paper));
    let grid = if lying.count() < upright.count() { lying } else { upright };
    (0..grid.count()).map(|number| Tile::of(sheet, &grid, number).drawn(sheet)).collect()
}

/// How a sheet is cut into tiles.
struct Grid {
    paper: Size,
    /// The most of the sheet that a tile shows.
    window: Size,
    columns: usize,
    rows: usize,
}

impl Grid {
    fn of(sheet: Size, paper: Size) -> Self {
        let whole_steps = |room: Length| Length::pt(STEP) * room.count_of(Length::pt(STEP)) as i64;
        let window = Size {
            width: whole_steps(paper.width - Length::pt(MARGIN) * 2),
            height: whole_steps(paper.height - Length::pt(MARGIN + FOOT)),
        };
        let (columns, rows) = (tiles(sheet.width, window.width), tiles(sheet.height, window.height));
        let width = shared(sheet.width, window.width, columns);
        Self { paper, window: Size { width, height: shared(sheet.height, window.height, rows) }, columns, rows }
    }

    fn count(&self) -> usize {
        self.columns * self.rows
    }
}

/// How many tiles of a length cover a whole, each laid over the one before it.
fn tiles(whole: Length, window: Length) -> usize {
    let (mut end, mut count) = (window, 1);
    while !whole.fits(end) {
        end += window - Length::pt(OVERLAP);
        count += 1;
    }
    count
}

/// The length of each of so many tiles that together cover a whole, so that none is a narrow strip: the least in whole
/// steps, up to the most that a tile may have.
fn shared(whole: Length, most: Length, count: usize) -> Length {
    let step = Length::pt(STEP);
    let covered = whole + Length::pt(OVERLAP) * (count as i64 - 1);
    let steps = (covered / count as i64).count_of(step) as i64;
    let enough = [step * steps, step * (steps + 1), step * (steps + 2)];
    { enough.into_iter() }.find(|length| covered.fits(*length * count as i64)).map_or(most, |length| length.min(most))
}

/// One tile.
struct Tile<'g> {
    grid: &'g Grid,
    column: usize,
    row: usize,
    /// What of the sheet the tile shows.
    source: Rect,
    /// Where on the paper the tile stands.
    place: Rect,
}

impl<'g> Tile<'g> {
    fn of(sheet: &Sheet<'_>, grid: &'g Grid, number: usize) -> Self {
        let (column, row) = (number % grid.columns, number / grid.columns);
        let step = |window: Length, count: usize| (window - Length::pt(OVERLAP)) * count as i64;
        let (x, y) = (step(grid.window.width, column), step(grid.window.height, row));
        let width = grid.window.width.min(sheet.size.width - x);
        let height = grid.window.height.min(sheet.size.height - y);
        let place = Rect { x: Length::pt(MARGIN), y: Length::pt(MARGIN), width, height };
        Self { grid, column, row, source: Rect { x, y, width, height }, place }
    }

    fn drawn<'a>(&self, whole: &Sheet<'a>) -> Sheet<'a> {
        let Size { width, height } = self.grid.paper;
        let all = Rect { x: Length::ZERO, y: Length::ZERO, width, height };
        let by = Point { x: self.place.x - self.source.x, y: self.place.y - self.source.y };
        let as_large = SheetScale { part: Length::pt(1.0), whole: Length::pt(1.0) };
        let shown = whole.marks.iter().filter(|mark| reaches(mark, &self.source));
        let mut sheet = Sheet {
            size: self.grid.paper,
            trim: all,
            bleed: all,
            title: whole.title.clone(),
            description: whole.description.clone(),
            marks: shown.map(|mark| mark.clone().placed(as_large, by)).collect(),
            faces: whole.faces,
        };
        // What goes past the tile is hidden by paper, also where a page ends within a pixel.
        for margin in around(&self.place, &all.grown(Length::pt(MARGIN))) {
            sheet.marks.push(SheetMark::Tint(shapes::frame(&margin, Length::ZERO), Ink::Given([255; 3])));
        }
        self.marks(&mut sheet);
        self.foot(&mut sheet);
        sheet
    }

    /// Draws where this tile is cut to be laid over the one before it, and up to where the next one is laid.
    fn marks(&self, sheet: &mut Sheet<'_>) {
        let Rect { x, y, .. } = self.place;
        let overlap = Length::pt(OVERLAP);
        let across =
            [(self.column > 0, x, "cut"), (self.column + 1 < self.grid.columns, self.place.right() - overlap, "join")];
        for (_, x, word) in across.into_iter().filter(|(is_there, ..)| *is_there) {
            let near = |edge: Length, way: f64| MARK.map(|by| Point { x, y: edge + Length::pt(by * way) });
            self.mark(sheet, near(y, -1.0), word, [2.0, -6.0]);
            self.mark(sheet, near(self.place.foot(), 1.0), word, [2.0, 6.0]);
        }
        let down = [(self.row > 0, y, "cut"), (self.row + 1 < self.grid.rows, self.place.foot() - overlap, "join")];
        for (_, y, word) in down.into_iter().filter(|(is_there, ..)| *is_there) {
            let near = |edge: Length, way: f64| MARK.map(|by| Point { x: edge + Length::pt(by * way), y });
            self.mark(sheet, near(x, -1.0), word, [-12.0, -2.0]);
            self.mark(sheet, near(self.place.right(), 1.0), word, [0.0, -2.0]);
        }
    }

    /// Draws a mark from a place to a place, and beside it what it is for.
    fn mark(&self, sheet: &mut Sheet<'_>, [from, to]: [Point; 2], word: &str, beside: [f64; 2]) {
        let dash = (word == "join").then(|| Length::pt(2.0));
        let stroke = Stroke { ink: Ink::Black, width: Length::pt(0.5), dash };
        sheet.marks.push(SheetMark::Drawn(shapes::rule(from, to), stroke));
        let [right, below] = beside.map(Length::pt);
        for line in sheet.lines(word, &label(), self.grid.paper.width) {
            sheet.put(line, Point { x: from.x + right, y: from.y + below }, Ink::Black);
        }
    }

    /// Draws the rule, what is to be done with this sheet of paper, and a small map of all.
    fn foot(&self, sheet: &mut Sheet<'_>) {
        let Size { width, height } = self.grid.paper;
        let left = Length::pt(MARGIN);
        rule::put(sheet, Point { x: left, y: height - Length::pt(42.0) });
        let words = [sheet.title.clone(), self.told()];
        for (line, from_foot) in words.iter().zip([31.0, 22.0]) {
            for line in sheet.lines(line, &label(), width - left * 2).into_iter().take(1) {
                sheet.put(line, Point { x: left, y: height - Length::pt(from_foot) }, Ink::Black);
            }
        }
        let cell = Length::pt(CELL).min(Length::pt(MAP) / self.grid.rows.max(self.grid.columns) as i64);
        let map = Point {
            x: width - left - cell * self.grid.columns as i64,
            y: height - Length::pt(38.0) - cell * self.grid.rows as i64,
        };
        for number in 0..self.grid.count() {
            let (column, row) = (number % self.grid.columns, number / self.grid.columns);
            let (x, y) = (map.x + cell * column as i64, map.y + cell * row as i64);
            let shape = shapes::frame(&Rect { x, y, width: cell, height: cell }, Length::ZERO);
            if (column, row) == (self.column, self.row) {
                sheet.marks.push(SheetMark::Tint(shape.clone(), Ink::Grey));
            }
            let edge = Stroke { ink: Ink::Black, width: Length::pt(0.4), dash: None };
            sheet.marks.push(SheetMark::Drawn(shape, edge));
        }
    }

    /// Which sheet of paper this is, and what to do with it.
    fn told(&self) -> String {
        let number = self.row * self.grid.columns + self.column + 1;
        let left = (self.column > 0).then(|| number - 1);
        let above = (self.row > 0).then(|| number - self.grid.columns);
        let counted = format!("Sheet {number} of {}, at true size.", self.grid.count());
        let over: Vec<String> = left.into_iter().chain(above).map(|number| number.to_string()).collect();
        match over.len() {
            0 if self.grid.count() == 1 => counted,
            0 => format!("{counted} The next sheets are laid over this one, up to the marks that say join."),
            _ => format!(
                "{counted} Cut it at the marks that say cut, and lay it over sheet {}, up to the marks that say join \
                 there.",
                over.join(" and over sheet ")
            ),
        }
    }
}

/// What of some paper lies around a tile: above it, below it, at its left and at its right.
fn around(place: &Rect, paper: &Rect) -> [Rect; 4] {
    let (right, foot) = (place.right(), place.foot());
    [
        Rect { height: place.y - paper.y, ..*paper },
        Rect { y: foot, height: paper.foot() - foot, ..*paper },
        Rect { width: place.x - paper.x, ..*paper },
        Rect { x: right, width: paper.right() - right, ..*paper },
    ]
}

/// Whether any part of a mark may lie in a part of its sheet.
fn reaches(mark: &SheetMark, part: &Rect) -> bool {
    match mark {
        SheetMark::Tint(shape, _) | SheetMark::Veil(shape, ..) => shape_reaches(shape, Length::ZERO, part),
        SheetMark::Drawn(shape, stroke) => shape_reaches(shape, stroke.width, part),
        SheetMark::Art(art) => art.rect.overlaps(part),
        // No letter reaches further than twice its size from where it stands.
        SheetMark::Glyphs(run, _) => run.glyphs.iter().any(|glyph| {
            let around = Rect { x: glyph.at.x, y: glyph.at.y, ..Rect::default() }.grown(run.size * 2);
            around.overlaps(part)
        }),
    }
}

fn shape_reaches(shape: &[PathStep], past: Length, part: &Rect) -> bool {
    let places = shape.iter().flat_map(|step| match *step {
        PathStep::Move(to) | PathStep::Line(to) => vec![to],
        PathStep::Quad(by, to) => vec![by, to],
        PathStep::Curve(from, by, to) => vec![from, by, to],
        PathStep::Close => Vec::new(),
    });
    let (mut least, mut most) = ([f32::INFINITY; 2], [f32::NEG_INFINITY; 2]);
    for place in places {
        for axis in [0, 1] {
            least[axis] = least[axis].min(place[axis]);
            most[axis] = most[axis].max(place[axis]);
        }
    }
    let past = points(past) + 1.0;
    let ends = [(points(part.x), points(part.right())), (points(part.y), points(part.foot()))];
    (0..2).all(|axis| least[axis] - past <= ends[axis].1 && ends[axis].0 <= most[axis] + past)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{Grid, PrinterPaper, STEP, Tile, of, shared, tiles};
    use crate::draft::Draft;
    use crate::files;
    use crate::proof::png::raster;
    use crate::proof::sheet::Sheet;
    use crate::proof::{Proof, sheet};
    use crate::report::{self, Drawing};
    use crate::units::{Length, Rect, Size};

    const PAPERS: [PrinterPaper; 3] = [PrinterPaper::A4, PrinterPaper::A3, PrinterPaper::Letter];

    /// Runs something on the proof of a sample book.
    fn on_sample<T>(book: &str, done: impl FnOnce(&Sheet<'_>) -> T) -> T {
        let path = Path::new(book).join("brief.yaml");
        let brief = files::read_brief(&path).expect("the sample's brief");
        let faces = files::read_faces(&brief, &path).expect("the sample's fonts");
        let draft = Draft::read(&files::read_draft(&Path::new(book).join("first.md")).expect("the sample"));
        let report = report::assess(&draft, &brief, &faces);
        let drawing = &Drawing::of(&report, &draft, &brief, &faces);
        let around = ["fore-edge", "head", "spine"].map(str::to_owned);
        let (facts, cautions) = (&["A fact.".to_owned()], &["A caution."]);
        done(&sheet(&Proof { around, drawing, title: "A book", subject: "first.md", facts, cautions }, &faces))
    }

    /// The pixels of a part of a sheet, and how many there are across and down; the part ends with a whole pixel.
    fn pixels(sheet: &Sheet<'_>, part: &Rect, to_the_inch: f64) -> (Vec<[u8; 3]>, usize, usize) {
        let pixel = Length::pt(72.0 / to_the_inch);
        let (across, down) = (part.width.count_of(pixel), part.height.count_of(pixel));
        let whole = Rect { width: pixel * across as i64, height: pixel * down as i64, ..*part };
        (raster(sheet, &whole, (across, down)).pixels, across, down)
    }

    /// Puts the tiles together by their places. Returns how many pixels are other than those of the whole sheet.
    fn differing(whole: &Sheet<'_>, paper: PrinterPaper, to_the_inch: f64) -> usize {
        let all = Rect { width: whole.size.width, height: whole.size.height, ..Rect::default() };
        let (expected, wide, high) = pixels(whole, &all, to_the_inch);
        let (mut is_shown, mut other) = (vec![false; wide * high], 0);
        let sheets = of(whole, paper);
        let grid = Grid::of(whole.size, sheets[0].size);
        assert_eq!(grid.count(), sheets.len());
        for (number, sheet) in sheets.iter().enumerate() {
            let tile = Tile::of(whole, &grid, number);
            let (shown, across, _) = pixels(sheet, &tile.place, to_the_inch);
            let at = [tile.source.x, tile.source.y].map(|at| (at.to_pt() / 72.0 * to_the_inch).round() as usize);
            for (row, shown) in shown.chunks_exact(across).enumerate() {
                let from = (at[1] + row) * wide + at[0];
                is_shown[from..from + across].fill(true);
                other += shown.iter().zip(&expected[from..]).filter(|(one, other)| one != other).count();
            }
        }
        assert!(is_shown.iter().all(|shown| *shown), "a pixel is on no sheet of paper");
        other
    }

    /// A tile has the marks of the whole sheet, moved by whole steps, which are whole pixels here: every pixel is the
    /// same. The samples have copy, boxes, bubbles of two forms, and flaps.
    #[test]
    fn tiles_put_together_are_the_sheet_pixel_by_pixel() {
        let of = |book: &str, paper: PrinterPaper, to_the_inch: f64| {
            on_sample(book, |sheet| assert_eq!(differing(sheet, paper, to_the_inch), 0, "{book} on {paper:?}"));
        };
        of("drafts", PrinterPaper::A4, 150.0);
        of("drafts", PrinterPaper::A3, 36.0);
        of("drafts/snail-post", PrinterPaper::Letter, 72.0);
        of("drafts/snail-post", PrinterPaper::A4, 36.0);
    }

    #[test]
    fn art_is_cut_where_the_paper_is_and_not_made_anew() {
        on_sample("drafts/night-sea", |sheet| {
            assert_eq!(differing(sheet, PrinterPaper::A4, 36.0), 0);
        });
    }

    /// A tile of 100 covers as much alone; each further one adds 64, since 36 lie over the one before it.
    #[test]
    fn no_tile_is_more_than_is_needed() {
        let count = |whole: f64| tiles(Length::pt(whole), Length::pt(100.0));
        assert_eq!([1.0, 100.0, 101.0, 164.0, 165.0, 228.0].map(count), [1, 1, 2, 2, 3, 3]);
    }

    /// 165 in tiles of at most 120 that share 36 are two of 101, and so of 108 in whole steps; alone 110 stays whole.
    #[test]
    fn tiles_are_equally_large_and_in_whole_steps() {
        let length = |whole: f64, count: usize| shared(Length::pt(whole), Length::pt(120.0), count).to_pt();
        assert_eq!([length(165.0, 2), length(110.0, 1), length(204.0, 2)], [108.0, 120.0, 120.0]);
        on_sample("drafts", |sheet| {
            for paper in PAPERS {
                let all = of(sheet, paper);
                let grid = Grid::of(sheet.size, all[0].size);
                let last = Tile::of(sheet, &grid, grid.count() - 1).source;
                let least = Length::pt(STEP) * (grid.columns.max(grid.rows) as i64 + 1);
                assert!(last.width + least >= grid.window.width && last.height + least >= grid.window.height);
            }
        });
    }

    /// A wide panel takes fewer sheets of paper that lies on its side; a tile is a whole number of steps, so that it
    /// begins with a whole pixel, and stays clear of the edges on which no printer prints.
    #[test]
    fn paper_lies_as_it_takes_fewer_sheets() {
        on_sample("drafts", |sheet| {
            for paper in PAPERS {
                let Size { width, height } = paper.size();
                let count = [(width, height), (height, width)]
                    .map(|(width, height)| Grid::of(sheet.size, Size { width, height }).count());
                assert_eq!(of(sheet, paper).len(), count[0].min(count[1]));
                let window = Grid::of(sheet.size, paper.size()).window;
                for (room, paper) in [(window.width, width), (window.height, height)] {
                    assert_eq!(Length::pt(STEP) * room.count_of(Length::pt(STEP)) as i64, room);
                    assert!(room < paper - Length::mm(20.0));
                }
            }
        });
    }
}
