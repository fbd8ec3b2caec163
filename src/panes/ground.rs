//! Art behind a face, in cells: the picture as far as cells can show it, with lines, edges and words over it in an ink
//! that can be read there.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::{Position, Rect};
use ratatui::style::{Color, Modifier};

use crate::art::lines::{Grade, LineLetters};
use crate::art::on_art::JudgedLine;
use crate::art::placement::PlacedArt;
use crate::artwork::{ArtFile, GroundOf};
use crate::brief::art::{Art, Tint};
use crate::brief::panel::FaceLayout;
use crate::brief::place::Shape;
use crate::desk::theme::{Letters, Theme};
use crate::pictures::blocks::{self, BlockCell, Blocks, CellColour, ColourDepth, SAMPLES};
use crate::pictures::{Raster, legible_on, mixed};
use crate::report::Report;
use crate::setting::contour::Contour;
use crate::units::{Length, Rect as Place};

/// The art behind a face, with what is laid over it and what is known of the lines that stand on it.
#[derive(Debug, Clone)]
pub(super) struct FaceGround<'a> {
    pictures: Vec<FormedPicture>,
    tints: Vec<FormedTint>,
    /// The lines of copy on the art, judged.
    pub(super) lines: Vec<&'a JudgedLine>,
}

/// A tint over a part of a face.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FormedTint {
    rect: Place,
    shape: Shape,
    tint: Tint,
}

/// A picture on a part of a face.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FormedPicture {
    file: Arc<ArtFile>,
    of: GroundOf,
    /// The form of the place that it fills; none where it is the face's own.
    form: Option<Shape>,
}

/// Art with its tints, to be drawn elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SharedGround {
    pictures: Vec<FormedPicture>,
    tints: Vec<FormedTint>,
}

impl<'a> FaceGround<'a> {
    /// The art of a face of a report; none where it has none, or none that was read.
    pub(super) fn of(face: &FaceLayout<'a>, report: &'a Report) -> Option<Self> {
        let pictures = pictures(face);
        if pictures.is_empty() {
            return None;
        }
        let fit = &report.fit;
        let mut tints = Vec::new();
        for (number, place) in fit.places.iter().enumerate().filter(|(_, place)| place.face == face.face) {
            let own = face.places.iter().find(|own| own.name == place.name);
            let Some(tint) = face.tint_of(own) else { continue };
            let lines = fit.lines.iter().map(|line| &line.set).filter(|line| line.place == number && !line.over);
            let boxes = lines.map(|line| Place { x: line.x, y: line.top, width: line.width, height: line.leading });
            let lines = boxes.reduce(|all, line| all.around(&line));
            // A place with a shape is tinted as far as its shape goes, where copy stands in it.
            let shaped = own.filter(|own| own.shape != Shape::Box).map(|own| (own.bounds, own.shape.clone()));
            let form = lines.map(|lines| shaped.unwrap_or((lines.grown(tint.pad), Shape::Box)));
            tints.extend(form.map(|(rect, shape)| FormedTint { rect, shape, tint }));
        }
        let judged = report.legibility.as_ref().map_or(&[][..], |art| &art.lines);
        let is_here = |line: &&JudgedLine| fit.places.get(line.place).is_some_and(|place| place.face == face.face);
        Some(Self { pictures, tints, lines: judged.iter().filter(is_here).collect() })
    }

    /// The art with its tints, to be drawn elsewhere.
    pub(super) fn shared(&self) -> SharedGround {
        SharedGround { pictures: self.pictures.clone(), tints: self.tints.clone() }
    }
}

/// The art of a face, then that of its places, as far as it was read.
fn pictures(face: &FaceLayout<'_>) -> Vec<FormedPicture> {
    let own = std::iter::once((face.art, PlacedArt::on(face), None));
    let places = face.places.iter().map(|it| (it.art.as_ref(), PlacedArt::in_place(it), Some(it.shape.clone())));
    let formed = |(art, placed, form): (Option<&Art>, Option<PlacedArt>, Option<Shape>)| {
        let PlacedArt { rect, source, .. } = placed?;
        let file = Arc::clone(art?.picture.read.as_ref()?);
        Some(FormedPicture { file, of: GroundOf { rect, source, tint: None }, form })
    };
    own.chain(places).filter_map(formed).collect()
}

impl SharedGround {
    /// The colours of a face in so many columns and rows, row by row.
    pub(super) fn pixels(&self, face: Place, size: (usize, usize)) -> Vec<[u8; 3]> {
        let mut pixels = vec![[u8::MAX; 3]; size.0 * size.1];
        for FormedPicture { file, of, form } in &self.pictures {
            let art = file.colours(of, face, size);
            match form {
                None => pixels.copy_from_slice(&art),
                Some(form) => in_form(form, of.rect, face, size, |at| pixels[at] = art[at]),
            }
        }
        for FormedTint { rect, shape, tint } in &self.tints {
            in_form(shape, *rect, face, size, |at| pixels[at] = laid_over(pixels[at], tint));
        }
        pixels
    }
}

/// Visits the pixels of a face in so many columns and rows that a form in a rectangle covers, by their numbers.
fn in_form(form: &Shape, rect: Place, face: Place, size: (usize, usize), mut visit: impl FnMut(usize)) {
    let contour = Contour::of(form, rect, Length::ZERO);
    let (mut stretches, hair) = (Vec::new(), face.height / HAIRS);
    for row in 0..size.1 {
        // How far the form goes in a row is told by its middle, and so for each of its pixels.
        let middle = face.y + face.height * (2 * row as i64 + 1) / (2 * size.1 as i64);
        contour.inside(middle, middle + hair, &mut stretches);
        for (from, to) in &stretches {
            let share = |edge: Length| {
                let part = (edge - face.x).to_pt() / face.width.to_pt().max(1.0) * size.0 as f64;
                (part.round().max(0.0) as usize).min(size.0)
            };
            (share(*from)..share(*to)).for_each(|column| visit(row * size.0 + column));
        }
    }
}

/// How many times higher the face is than the line by which a row of pixels is told.
const HAIRS: i64 = 100_000;

/// A tint over a colour, mixed as programs that draw mix them (ISO 32000-1, 11.3.6, in DeviceRGB).
fn laid_over(under: [u8; 3], tint: &Tint) -> [u8; 3] {
    let mut mixed = under;
    for (under, over) in mixed.iter_mut().zip(tint.colour.srgb()) {
        let share = f64::from(over) * tint.opacity + f64::from(*under) * (1.0 - tint.opacity);
        *under = share.round() as u8;
    }
    mixed
}

/// The words of a line that are not clear: from where to where they go, from the face's left edge, and their grade.
pub(super) fn unclear(line: &JudgedLine) -> impl Iterator<Item = ((Length, Length), Grade)> + '_ {
    line.judgement.stretches.iter().filter_map(|stretch| {
        let LineLetters { words, letters, .. } = &line.letters;
        let touches = |text: &std::ops::Range<usize>| text.start < stretch.text.end && stretch.text.start < text.end;
        let mut within = words.iter().filter(|word| touches(&word.text));
        let first = within.next()?;
        let last = within.next_back().unwrap_or(first);
        let (from, to) = (letters.get(first.letters.start)?.0, letters.get(last.letters.end.checked_sub(1)?)?.1);
        Some(((from, to), stretch.grade))
    })
}

/// The paper of a keep-out, which art does not cover: as the proof has it.
const PAPER: [u8; 3] = [240; 3];

/// Stands for a blank between words, which the art does not show through.
const KEPT: &str = "\u{a0}";

/// Art that was made into cells.
struct MadeCells {
    raster: Raster,
    depth: ColourDepth,
    letters: Letters,
    cells: Rc<Vec<Vec<BlockCell>>>,
}

/// How many faces' cells are kept: those of a cover, with all that may stand on one screen.
const KEPT_CELLS: usize = 8;

thread_local! {
    /// The cells of art that were drawn last, known by the pixels that they were made of. Art changes seldom, and to
    /// find its cells takes longer than all else that a key does.
    static MADE: RefCell<Vec<MadeCells>> = const { RefCell::new(Vec::new()) };
}

/// A face's art in the cells of its picture.
pub(super) struct GroundCells {
    area: Rect,
    depth: ColourDepth,
    /// The colours of the art, `SAMPLES` across and down for each cell.
    raster: Raster,
}

impl GroundCells {
    /// The art in the cells that a face takes; none where art is not drawn.
    pub(super) fn of(ground: &FaceGround<'_>, (area, face): (Rect, Place), theme: &Theme) -> Option<Self> {
        let depth = theme.art?;
        let (width, height) = (usize::from(area.width) * SAMPLES, usize::from(area.height) * SAMPLES);
        let pixels = ground.shared().pixels(face, (width, height));
        Some(Self { area, depth, raster: Raster { width, height, pixels } })
    }

    /// The art in cells, as the letters of a terminal can show it.
    fn cells(&self, letters: Letters) -> Rc<Vec<Vec<BlockCell>>> {
        MADE.with_borrow_mut(|made| {
            let is_own = |it: &MadeCells| it.letters == letters && it.depth == self.depth && it.raster == self.raster;
            if let Some(known) = made.iter().find(|it| is_own(it)) {
                return Rc::clone(&known.cells);
            }
            let cells = Rc::new(match letters {
                Letters::Unicode => blocks::cells(&self.raster, self.depth, Blocks::Quarters),
                Letters::Console => blocks::cells(&self.raster, self.depth, Blocks::Halves),
                Letters::Ascii => self.plain_cells(),
            });
            if made.len() == KEPT_CELLS {
                made.remove(0);
            }
            let Self { raster, depth, .. } = self;
            made.push(MadeCells { raster: raster.clone(), depth: *depth, letters, cells: Rc::clone(&cells) });
            cells
        })
    }

    /// Draws the art, and over it what `above` has in those cells.
    pub(super) fn draw(&self, above: &Buffer, theme: &Theme, buffer: &mut Buffer) {
        let cells = self.cells(theme.letters);
        for (row, y) in cells.iter().zip(self.area.top()..) {
            for (art, x) in row.iter().zip(self.area.left()..) {
                let (Some(cell), Some(over)) = (buffer.cell_mut((x, y)), above.cell((x, y))) else { continue };
                match over.symbol() {
                    " " => put_art(cell, art),
                    KEPT => {
                        cell.clone_from(over);
                        cell.set_symbol(" ");
                    }
                    _ => {
                        cell.clone_from(over);
                        if cell.bg == Color::Reset {
                            self.lay_under(cell, self.mean(Rect::new(x, y, 1, 1)));
                        }
                    }
                }
            }
        }
    }

    /// Lays the mean of the art behind a run of cells under all of its words, in an ink that can be read on it.
    pub(super) fn under_run(&self, run: Rect, buffer: &mut Buffer) {
        let mean = self.mean(run);
        for position in run.intersection(self.area).intersection(buffer.area).positions() {
            let cell = &mut buffer[position];
            if cell.symbol() == " " {
                cell.set_symbol(KEPT);
            }
            self.lay_under(cell, mean);
        }
    }

    /// Lays paper under some cells, as a keep-out has it.
    pub(super) fn under_keep_out(&self, rect: Rect, buffer: &mut Buffer) {
        for position in rect.intersection(self.area).intersection(buffer.area).positions() {
            let cell = &mut buffer[position];
            if cell.symbol() == " " {
                cell.set_symbol(KEPT);
            }
            self.lay_under(cell, PAPER);
        }
    }

    /// Gives a cell a ground, and its sign an ink that can be read on it.
    fn lay_under(&self, cell: &mut Cell, ground: [u8; 3]) {
        let colours = blocks::plain(ground, self.depth).zip(blocks::plain(legible_on(ground), self.depth));
        if let Some((ground, ink)) = colours {
            cell.modifier.remove(Modifier::DIM);
            (cell.fg, cell.bg) = (colour(ink), colour(ground));
        }
    }

    /// The mean of the art behind some cells.
    fn mean(&self, cells: Rect) -> [u8; 3] {
        let behind = |Position { x, y }: Position| {
            let (left, top) = (usize::from(x - self.area.x) * SAMPLES, usize::from(y - self.area.y) * SAMPLES);
            (0..SAMPLES * SAMPLES).map(move |at| (left + at % SAMPLES, top + at / SAMPLES))
        };
        let inside = cells.intersection(self.area).positions().flat_map(behind);
        mixed(inside.map(|(x, y)| self.raster.pixels[y * self.raster.width + x]))
    }

    /// Cells of one colour each, or of a sign of ASCII where there are no colours.
    fn plain_cells(&self) -> Vec<Vec<BlockCell>> {
        if self.depth == ColourDepth::None {
            return blocks::cells(&self.raster, self.depth, Blocks::Halves);
        }
        let cell = |x: u16, y: u16| {
            let ground = blocks::plain(self.mean(Rect::new(x, y, 1, 1)), self.depth);
            BlockCell { sign: ' ', colours: ground.map(|ground| (ground, ground)) }
        };
        let row = |y: u16| (self.area.left()..self.area.right()).map(|x| cell(x, y)).collect();
        (self.area.top()..self.area.bottom()).map(row).collect()
    }
}

fn put_art(cell: &mut Cell, art: &BlockCell) {
    cell.set_char(art.sign);
    if let Some((ink, ground)) = art.colours {
        (cell.fg, cell.bg) = (colour(ink), colour(ground));
    }
}

fn colour(colour: CellColour) -> Color {
    match colour {
        CellColour::Rgb([red, green, blue]) => Color::Rgb(red, green, blue),
        CellColour::Index(index) => Color::Indexed(index),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::sync::{Arc, LazyLock};

    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;
    use ratatui::style::Color;

    use super::super::picture::{Pictured, draw};
    use super::{FaceGround, FormedPicture, FormedTint, SharedGround};
    use crate::art::placement::PlacedArt;
    use crate::artwork::picture::{ColourModel, Picture};
    use crate::artwork::{ArtFile, GroundOf, KeptGrounds};
    use crate::brief::Brief;
    use crate::brief::art::Tint;
    use crate::brief::colour::Colour;
    use crate::brief::place::{CoverFace, Shape};
    use crate::desk::theme::{Colours, Letters, Theme};
    use crate::draft::Draft;
    use crate::pictures::blocks::ColourDepth;
    use crate::report::drawing::FramePart;
    use crate::report::{self, Drawing};
    use crate::setting::Faces;
    use crate::units::{Length, Rect as Place};

    const BRIEF: &str = include_str!("../../drafts/brief.yaml");
    const NIGHT: [u8; 3] = [20, 30, 60];
    const DAY: [u8; 3] = [250, 240, 200];

    /// The sample's panel with a line of copy, set once for all tests, and art whose upper half is night and whose
    /// lower half is day.
    static PANEL: LazyLock<(Drawing, Arc<ArtFile>)> = LazyLock::new(|| {
        let brief = Brief::read(BRIEF, Path::new("")).expect("the sample's brief");
        let (faces, draft) = (Faces::built_in(), Draft::read("The lamp is out."));
        let drawing = Drawing::of(&report::assess(&draft, &brief, &faces), &draft, &brief, &faces);
        let pixels = (0..64 * 64).map(|at| if at < 32 * 64 { NIGHT } else { DAY }).collect();
        let picture = Picture { width: 64, height: 64, pixels, model: ColourModel::Rgb };
        let grounds = KeptGrounds::default();
        (drawing, Arc::new(ArtFile { picture, profile: None, inks: None, jpeg: None, grounds }))
    });

    /// The panel on its art in an area of the screen.
    fn drawn(area: Rect, theme: &Theme) -> Buffer {
        let (drawing, file) = &*PANEL;
        let rect = drawing.rect_of(FramePart::Face).expect("a face");
        let PlacedArt { rect, source, .. } = PlacedArt::covering((64, 64), rect).expect("a place");
        let of = GroundOf { rect, source, tint: None };
        let pictures = vec![FormedPicture { file: Arc::clone(file), of, form: None }];
        let ground = Some(FaceGround { pictures, tints: Vec::new(), lines: Vec::new() });
        let (face, quiet) = (CoverFace::Panel, Vec::new());
        let pictured = Pictured { face, drawing, marked: None, in_hand: None, ground, art_told: None, quiet };
        let mut buffer = Buffer::empty(area);
        draw(&pictured, theme, area, &mut buffer);
        buffer
    }

    fn theme(depth: Option<ColourDepth>, letters: Letters) -> Theme {
        Theme::new(Colours::Sixteen, letters).with_art(depth)
    }

    fn rows(buffer: &Buffer) -> Vec<String> {
        let row = |y: u16| (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect();
        (0..buffer.area.height).map(row).collect()
    }

    #[test]
    fn cells_that_are_kept_are_those_that_are_made() {
        let looks = [
            (Rect::new(0, 0, 80, 41), theme(Some(ColourDepth::True), Letters::Unicode)),
            (Rect::new(0, 0, 80, 41), theme(Some(ColourDepth::Indexed), Letters::Unicode)),
            (Rect::new(0, 0, 80, 41), theme(Some(ColourDepth::True), Letters::Console)),
            (Rect::new(0, 0, 80, 41), theme(Some(ColourDepth::True), Letters::Ascii)),
        ];
        let all = || looks.iter().map(|(area, theme)| drawn(*area, theme)).collect::<Vec<_>>();
        let (first, again) = (all(), all());
        assert_eq!(first, again);
        assert!(first[0] != first[1] && first[0] != first[3], "each has cells of its own");
        // More faces than are kept.
        for width in 60..60 + 2 * super::KEPT_CELLS as u16 {
            drawn(Rect::new(0, 0, width, 41), &looks[0].1);
        }
        assert!(super::MADE.with_borrow(Vec::len) <= super::KEPT_CELLS);
        assert_eq!(all(), first);
    }

    #[test]
    fn art_fills_the_face_and_edges_stand_on_it_in_an_ink_that_can_be_read() {
        let area = Rect::new(0, 0, 80, 41);
        let buffer = drawn(area, &theme(Some(ColourDepth::True), Letters::Unicode));
        let [night, day] = [NIGHT, DAY].map(|[red, green, blue]| Color::Rgb(red, green, blue));
        assert_eq!((buffer[(30, 5)].bg, buffer[(3, 35)].bg), (night, day));
        let corner = &buffer[(0, 0)];
        assert_eq!((corner.symbol(), corner.fg, corner.bg), ("┌", Color::Rgb(255, 255, 255), night));
        let corner = &buffer[(0, 39)];
        assert_eq!((corner.symbol(), corner.fg, corner.bg), ("└", Color::Rgb(0, 0, 0), day));
    }

    #[test]
    fn lines_that_have_room_are_written_in_words_on_one_ground() {
        let area = Rect::new(0, 0, 160, 81);
        let buffer = drawn(area, &theme(Some(ColourDepth::True), Letters::Unicode));
        let rows = rows(&buffer);
        let y = rows.iter().position(|row| row.contains("The lamp is out.")).expect("the words are written");
        let x = rows[y].split("The lamp").next().map_or(0, |before| before.chars().count()) as u16;
        let run: Vec<_> = (x..x + 16).map(|x| (buffer[(x, y as u16)].fg, buffer[(x, y as u16)].bg)).collect();
        assert!(run.iter().all(|colours| *colours == run[0]), "{run:?}");
        // On a smaller picture they are strokes, and no word is cut.
        let small = drawn(Rect::new(0, 0, 40, 21), &theme(Some(ColourDepth::True), Letters::Unicode));
        assert!(self::rows(&small).iter().all(|row| !row.contains("lamp")));
    }

    #[test]
    fn without_colours_and_in_ascii_art_is_told_by_signs_of_ascii() {
        let area = Rect::new(0, 0, 60, 31);
        let none = Theme::new(Colours::None, Letters::Ascii);
        let buffer = drawn(area, &none);
        let rows = rows(&buffer);
        assert!(rows[3].contains("####") && rows[27].contains("     "), "{rows:#?}");
        assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii() && cell.bg == Color::Reset));
        let coloured = drawn(area, &theme(Some(ColourDepth::Indexed), Letters::Ascii));
        assert!(coloured.content.iter().all(|cell| cell.symbol().is_ascii()));
        assert!(matches!(coloured[(30, 5)].bg, Color::Indexed(_)));
    }

    #[test]
    fn a_tint_goes_as_far_as_its_shape() {
        let pixels = vec![NIGHT; 8 * 8];
        let picture = Picture { width: 8, height: 8, pixels, model: ColourModel::Rgb };
        let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: KeptGrounds::default() };
        let rect = Place { width: Length::inches(4.0), height: Length::inches(4.0), ..Place::default() };
        let PlacedArt { source, .. } = PlacedArt::covering((8, 8), rect).expect("a place");
        let tint = Tint { colour: Colour::White, opacity: 1.0, pad: Length::ZERO };
        let tinted = |shape: Shape| {
            let (file, of) = (Arc::new(file.clone()), GroundOf { rect, source, tint: None });
            let pictures = vec![FormedPicture { file, of, form: None }];
            let ground = SharedGround { pictures, tints: vec![FormedTint { rect, shape, tint }] };
            let pixels = ground.pixels(rect, (40, 40));
            pixels.iter().map(|pixel| *pixel == [255; 3]).collect::<Vec<_>>()
        };
        assert!(tinted(Shape::Box).iter().all(|is_tinted| *is_tinted));
        let ellipse = tinted(Shape::Ellipse);
        assert!(!ellipse[0] && !ellipse[39] && ellipse[20 * 40] && ellipse[20 * 40 + 20]);
        // A circle has this part of its square's area.
        let count = ellipse.iter().filter(|is_tinted| **is_tinted).count() as f64;
        assert!((count / 1600.0 - std::f64::consts::FRAC_PI_4).abs() < 0.02, "{count}");
        let half = tinted(Shape::Polygon(vec![(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]));
        assert!(half[0] && !half[1599] && half.iter().filter(|is_tinted| **is_tinted).count().abs_diff(800) < 40);
    }

    #[test]
    fn without_art_and_at_every_size_nothing_is_amiss() {
        let lines = drawn(Rect::new(0, 0, 60, 31), &theme(None, Letters::Unicode));
        assert!(lines.content.iter().all(|cell| cell.bg == Color::Reset));
        for (width, height) in [(0, 0), (1, 1), (8, 5), (9, 6), (200, 12), (12, 90)] {
            for depth in [ColourDepth::True, ColourDepth::Indexed, ColourDepth::Sixteen, ColourDepth::None] {
                drawn(Rect::new(0, 0, width, height), &theme(Some(depth), Letters::Unicode));
            }
        }
    }
}
