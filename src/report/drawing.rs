//! The drawing list: a face and the copy on it as data, from which every picture of it is drawn.
//!
//! Places are lengths from the panel's head left corner, so what is drawn beyond the cut at the head or the left has
//! places below zero. The order is that of painting and of reading: edges from the outside in, keep-outs, then the
//! lines from head to foot.

use super::Report;
use super::fit::FitLine;
use crate::brief::cover::Flap;
use crate::brief::panel::{FaceLayout, KeepOutOrigin};
use crate::brief::place::{CoverFace, Shape};
use crate::brief::{Brief, Panel};
use crate::draft::{BlockKind, Draft};
use crate::setting::glyphs::{self, GlyphRun};
use crate::setting::{Faces, SettingMemory, ShapedCopy, SpineTitle};
use crate::units::{Length, Point, Rect};

/// How far the marks of a fold go past the art, in millimetres.
const FOLD_MM: f64 = 6.0;
/// A measure longer than any title.
const ENDLESS_INCHES: f64 = 1_000_000.0;

/// All that is to be drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// The items from the undermost to the topmost.
    pub items: Vec<DrawingItem>,
}

/// One thing to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum DrawingItem {
    /// An edge or a place of the panel.
    Frame(Frame),
    /// A printed line.
    Line(Line),
    /// The book's title on its spine.
    Title(TitleLine),
}

/// The title of a book on its spine.
#[derive(Debug, Clone, PartialEq)]
pub struct TitleLine {
    /// The title's box: from its first advance to its last, and as high as its ink.
    pub rect: Rect,
    /// Whether the title is too long or too high.
    pub over: bool,
    /// The glyphs, in runs of one face.
    pub runs: Vec<GlyphRun>,
}

/// A face of the cover with what stands on it.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceDrawing {
    /// What the face is called beside the name of a draft; none for the back panel.
    pub name: Option<&'static str>,
    /// What lies at the left, above and at the right of the face.
    pub around: [String; 3],
    /// What is drawn.
    pub drawing: Drawing,
}

/// A named rectangle of the panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// What the frame marks.
    pub part: FramePart,
    /// What the frame is called: `trim`, `barcode`.
    pub name: String,
    /// Where the frame is.
    pub rect: Rect,
    /// The radius of its rounded corners on the fore-edge side; zero where they are square.
    pub round: Length,
    /// The form in the rectangle.
    pub shape: Shape,
}

/// What a frame marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FramePart {
    /// How far art goes: past the cut, or round the edges of a board.
    Bleed,
    /// The panel's own edges: where it is cut, or where a board ends.
    Face,
    /// Where copy may stand.
    LiveArea,
    /// A keep-out with its clearance, as far as that lies on the panel.
    Clearance,
    /// A keep-out itself.
    KeepOut,
    /// A line along which the cover is folded.
    Fold,
    /// A place of copy.
    Place,
    /// What has to stay quiet behind the copy.
    Quiet,
}

/// A printed line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The line's number among the report's, from 0.
    pub number: usize,
    /// What part of the copy it belongs to.
    pub kind: BlockKind,
    /// What is printed.
    pub text: String,
    /// Where copy may stand in the line's place, keep-outs aside.
    pub place: Rect,
    /// The line's box: as long as its words and as high as its leading.
    pub rect: Rect,
    /// The baseline.
    pub baseline: Length,
    /// Whether the line does not fit.
    pub over: bool,
    /// The line's glyphs, in runs of one face.
    pub runs: Vec<GlyphRun>,
}

impl Drawing {
    /// The panel alone.
    pub fn of_panel(panel: &Panel) -> Self {
        let mut drawing = Self::default();
        drawing.frame(FramePart::Bleed, panel.binding.art(), panel.art_area());
        let (name, rect) = (panel.binding.edges().to_owned(), panel.face());
        drawing.items.push(DrawingItem::Frame(Frame {
            part: FramePart::Face,
            name,
            rect,
            round: panel.round_corners,
            shape: Shape::Box,
        }));
        drawing.inside(&panel.layout());
        drawing
    }

    /// Every face alone: the panel, then the flaps.
    pub fn of_faces_alone(brief: &Brief) -> Vec<(CoverFace, Self)> {
        let flaps = brief.flaps.iter().map(|flap| (flap.face, Self::of_flap(flap)));
        std::iter::once((CoverFace::Panel, Self::of_panel(&brief.panel))).chain(flaps).collect()
    }

    /// A flap alone.
    fn of_flap(flap: &Flap) -> Self {
        let mut drawing = Self::default();
        let layout = flap.layout();
        drawing.frame(FramePart::Face, flap.face.name(), layout.edges);
        drawing.inside(&layout);
        drawing
    }

    fn frame(&mut self, part: FramePart, name: &str, rect: Rect) {
        self.frame_of(part, name, rect, &Shape::Box);
    }

    fn frame_of(&mut self, part: FramePart, name: &str, rect: Rect, shape: &Shape) {
        let (name, round, shape) = (name.to_owned(), Length::ZERO, shape.clone());
        self.items.push(DrawingItem::Frame(Frame { part, name, rect, round, shape }));
    }

    /// Adds what lies inside the edges of a face: its live area, keep-outs and places.
    fn inside(&mut self, face: &FaceLayout<'_>) {
        self.frame(FramePart::LiveArea, "live area", face.live);
        // A corner that is rounded off is seen at the edge of its face.
        for keep_out in face.keep_outs.iter().filter(|keep_out| keep_out.origin != KeepOutOrigin::Corner) {
            // The distance round a shape is true and has no rectangle.
            if keep_out.shape == Shape::Box {
                self.frame(FramePart::Clearance, &keep_out.name, keep_out.cleared().within(&face.edges));
            }
            self.frame_of(FramePart::KeepOut, &keep_out.name, keep_out.rect, &keep_out.shape);
        }
        // A place as large as the live area, which a flap that holds copy by itself has, shows nothing more. Where one
        // that follows another begins is known with its copy.
        for place in face.places.iter().filter(|place| place.bounds != face.live && place.follows.is_none()) {
            self.frame_of(FramePart::Place, &place.name, place.bounds, &place.shape);
        }
    }

    /// Every face with what stands on it, as the report found it set: the panel and the flaps with a draft's copy, then
    /// the spine with the title.
    pub fn of_faces(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Vec<FaceDrawing> {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let with_copy = |(face, mut drawing): (CoverFace, Self)| {
            drawing.add_lines(face, report, &copy, brief);
            let name = (face != CoverFace::Panel).then(|| face.name());
            FaceDrawing { name, around: face.around(), drawing }
        };
        let spine = report.fit.spine.as_ref().map(|title| FaceDrawing {
            name: Some("spine"),
            around: title.direction.around(),
            drawing: Self::of_spine(title, &brief.panel, faces),
        });
        Self::of_faces_alone(brief).into_iter().map(with_copy).chain(spine).collect()
    }

    /// The spine with the title on it, laid down so that the title reads upright: at head and foot, art goes past its
    /// edges by the bleed, and the folds are marked beyond that.
    fn of_spine(title: &SpineTitle, panel: &Panel, faces: &Faces) -> Self {
        let mut drawing = Self::default();
        let (edges, bleed) = (title.edges, panel.bleed);
        let past = |by: Length| Rect { x: edges.x - by, width: edges.width + by * 2, ..edges };
        drawing.frame(FramePart::Bleed, panel.binding.art(), past(bleed));
        drawing.frame(FramePart::Face, "spine", edges);
        for y in [edges.y, edges.foot()] {
            drawing.frame(
                FramePart::Fold,
                "fold",
                Rect { y, height: Length::ZERO, ..past(bleed + Length::mm(FOLD_MM)) },
            );
        }
        drawing.frame(FramePart::LiveArea, "title", title.live);
        let (rect, baseline) = title.stands();
        let lines = glyphs::plain(&title.text, &title.set, Length::inches(ENDLESS_INCHES), faces);
        let at = Point { x: rect.x, y: baseline };
        let runs = lines.into_iter().flat_map(|line| line.runs).map(|run| run.moved(at)).collect();
        drawing.items.push(DrawingItem::Title(TitleLine { rect, over: !title.fits(), runs }));
        drawing
    }

    /// The panel with a draft's copy on it, as the report found it set.
    pub fn of(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let mut drawing = Self::of_panel(&brief.panel);
        drawing.add_lines(CoverFace::Panel, report, &copy, brief);
        drawing
    }

    /// Every face with its copy, the panel first, but without the lines that lie below the face. There are thousands of
    /// them where a whole manuscript was put in the place of a blurb, and a screen has no room for any.
    pub(super) fn of_what_is_on_faces(report: &Report, copy: &ShapedCopy<'_>, brief: &Brief) -> Vec<(CoverFace, Self)> {
        // A flap is as high as the panel.
        let foot = brief.panel.face().foot();
        let with_copy = |(face, mut drawing): (CoverFace, Self)| {
            let lines = report.fit.lines_on(face).filter(|(_, line)| line.set.top < foot);
            drawing.add(face, lines, (report, copy, brief));
            (face, drawing)
        };
        Self::of_faces_alone(brief).into_iter().map(with_copy).collect()
    }

    /// Adds every line of a face.
    fn add_lines(&mut self, face: CoverFace, report: &Report, copy: &ShapedCopy<'_>, brief: &Brief) {
        self.add(face, report.fit.lines_on(face), (report, copy, brief));
    }

    /// Adds the places of a face that follow others, and lines on it.
    fn add<'l>(
        &mut self,
        face: CoverFace,
        lines: impl Iterator<Item = (usize, &'l FitLine)>,
        (report, copy, brief): (&Report, &ShapedCopy<'_>, &Brief),
    ) {
        let places = brief.faces().filter(|layout| layout.face == face).flat_map(|layout| layout.places);
        for place in places.filter(|place| place.follows.is_some()) {
            if let Some(set) = report.fit.places.iter().find(|set| set.name == place.name) {
                self.frame_of(FramePart::Place, &place.name, set.live, &place.shape);
            }
        }
        for (number, line) in lines {
            let set = &line.set;
            let paragraph = copy.paragraphs.get(set.paragraph);
            let (Some(paragraph), Some(place)) = (paragraph, report.fit.places.get(set.place)) else { continue };
            let form = brief.typography.of(line.kind);
            self.items.push(DrawingItem::Line(Line {
                number,
                kind: line.kind,
                text: line.text.clone(),
                place: place.live,
                rect: Rect { x: set.x, y: set.top, width: set.width, height: set.leading },
                baseline: set.baseline,
                over: set.over,
                runs: glyphs::of_line(set, paragraph, &form.font, form.size),
            }));
        }
    }

    /// Adds a frame round each place that has to stay quiet.
    pub fn with_quiet(mut self, places: impl Iterator<Item = Rect>) -> Self {
        places.for_each(|rect| self.frame(FramePart::Quiet, "quiet", rect));
        self
    }

    /// The edges and places, the outermost first.
    pub fn frames(&self) -> impl Iterator<Item = &Frame> {
        self.items.iter().filter_map(|item| match item {
            DrawingItem::Frame(frame) => Some(frame),
            DrawingItem::Line(_) | DrawingItem::Title(_) => None,
        })
    }

    /// The lines in reading order.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.items.iter().filter_map(|item| match item {
            DrawingItem::Line(line) => Some(line),
            DrawingItem::Frame(_) | DrawingItem::Title(_) => None,
        })
    }

    /// The title, on a spine.
    pub fn title(&self) -> Option<&TitleLine> {
        self.items.iter().find_map(|item| match item {
            DrawingItem::Title(title) => Some(title),
            DrawingItem::Frame(_) | DrawingItem::Line(_) => None,
        })
    }

    /// The rectangle of one part; the first where there are several.
    pub fn rect_of(&self, part: FramePart) -> Option<Rect> {
        self.frames().find(|frame| frame.part == part).map(|frame| frame.rect)
    }
}
