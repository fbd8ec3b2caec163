//! The drawing list: a face and the copy on it as data, from which every picture of it is drawn.
//!
//! Places are lengths from the panel's head left corner, so what is drawn beyond the cut at the head or the left has
//! places below zero. The order is that of reading: the art, edges from the outside in, keep-outs, the lines from head
//! to foot, then tints. Each view picks the kinds that it draws and how they lie over one another.

use std::sync::Arc;

use super::Report;
use super::fit::FitLine;
use crate::art::lying::on_lying_spine;
use crate::art::placement::PlacedArt;
use crate::artwork::ArtFile;
use crate::brief::art::Tint;
use crate::brief::colour::Colour;
use crate::brief::cover::Flap;
use crate::brief::panel::{FaceLayout, KeepOutOrigin};
use crate::brief::place::{CoverFace, Shape};
use crate::brief::{Brief, Panel};
use crate::draft::{BlockKind, Draft};
use crate::setting::glyphs::{self, GlyphRun};
use crate::setting::{Faces, SettingMemory, ShapedCopy, SpineTitle};
use crate::units::{Length, Rect};

/// How far the marks of a fold go past the art, in millimetres.
const FOLD_MM: f64 = 6.0;

/// All that is to be drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// The items in the order of reading; those of one kind lie from the undermost to the topmost.
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
    /// The picture behind all else.
    Art(FaceArt),
    /// A colour over the art and behind the copy.
    Tint(FaceTint),
}

/// The art of a face, or of one of its places over it.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceArt {
    /// The picture's file.
    pub file: Arc<ArtFile>,
    /// What of the picture lies where.
    pub placed: PlacedArt,
    /// The form of the place that it fills; none where it is the face's own.
    pub form: Option<Shape>,
}

/// A colour over art, as the brief has it behind copy or as a proof has it over all.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceTint {
    /// Where it lies.
    pub rect: Rect,
    /// The form in the rectangle.
    pub shape: Shape,
    /// The colour.
    pub colour: Colour,
    /// How much of the art it hides, from 0, nothing, to 1, all.
    pub opacity: f64,
}

/// How strongly art is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ArtStrength {
    /// As it is printed.
    Full,
    /// At a third, so that the lines are judged by themselves.
    Faded,
}

/// How much of the art and its tints is hidden where they are faded.
const FADED: f64 = 2.0 / 3.0;

/// The title of a book on its spine.
#[derive(Debug, Clone, PartialEq)]
pub struct TitleLine {
    /// The title's box: from its first advance to its last, and as high as its ink.
    pub rect: Rect,
    /// Whether the title is too long or too high.
    pub over: bool,
    /// The colour of its letters.
    pub ink: Colour,
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
    /// Whether it is white paper whatever the art is, as a barcode is.
    pub is_white: bool,
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
    /// The colour of its letters.
    pub ink: Colour,
    /// The line's glyphs, in runs of one face.
    pub runs: Vec<GlyphRun>,
}

impl Drawing {
    /// The panel alone.
    pub fn of_panel(panel: &Panel) -> Self {
        let mut drawing = Self::default();
        drawing.art(&panel.layout());
        drawing.frame(FramePart::Bleed, panel.binding.art(), panel.art_area());
        let (name, rect) = (panel.binding.edges().to_owned(), panel.face());
        drawing.items.push(DrawingItem::Frame(Frame {
            part: FramePart::Face,
            name,
            rect,
            round: panel.round_corners,
            shape: Shape::Box,
            is_white: false,
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
        drawing.art(&layout);
        drawing.frame(FramePart::Face, flap.face.name(), layout.edges);
        drawing.inside(&layout);
        drawing
    }

    /// Adds the art of a face, then that of its places, as far as it was read.
    fn art(&mut self, face: &FaceLayout<'_>) {
        let own = std::iter::once((face.art, PlacedArt::on(face), None));
        let places = face.places.iter().map(|it| (it.art.as_ref(), PlacedArt::in_place(it), Some(it.shape.clone())));
        self.items.extend(own.chain(places).filter_map(|(art, placed, form)| {
            let file = Arc::clone(art?.picture.read.as_ref()?);
            Some(DrawingItem::Art(FaceArt { file, placed: placed?, form }))
        }));
    }

    fn frame(&mut self, part: FramePart, name: &str, rect: Rect) {
        self.frame_of(part, name, rect, &Shape::Box);
    }

    fn frame_of(&mut self, part: FramePart, name: &str, rect: Rect, shape: &Shape) {
        let (name, round, shape, is_white) = (name.to_owned(), Length::ZERO, shape.clone(), false);
        self.items.push(DrawingItem::Frame(Frame { part, name, rect, round, shape, is_white }));
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
            self.items.push(DrawingItem::Frame(Frame {
                part: FramePart::KeepOut,
                name: keep_out.name.clone(),
                rect: keep_out.rect,
                round: Length::ZERO,
                shape: keep_out.shape.clone(),
                is_white: keep_out.origin == KeepOutOrigin::Symbol,
            }));
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
            drawing: Self::of_spine(title, brief, faces),
        });
        Self::of_faces_alone(brief).into_iter().map(with_copy).chain(spine).collect()
    }

    /// The spine with the title on it, laid down so that the title reads upright: at head and foot, art goes past its
    /// edges by the bleed, and the folds are marked beyond that. Art that runs round the spine is turned with it.
    fn of_spine(title: &SpineTitle, brief: &Brief, faces: &Faces) -> Self {
        let (mut drawing, panel) = (Self::default(), &brief.panel);
        let art = on_lying_spine(&panel.layout(), title.direction);
        let ink = brief.spine.as_ref().map_or(Colour::Black, |spine| spine.ink);
        // Light letters without their ground would not be seen.
        let ink = if art.is_none() && ink.is_light() { Colour::Black } else { ink };
        drawing.items.extend(art.map(|(file, placed)| DrawingItem::Art(FaceArt { file, placed, form: None })));
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
        let (rect, over, runs) = (title.stands().0, !title.fits(), title.runs(faces));
        drawing.items.push(DrawingItem::Title(TitleLine { rect, over, ink, runs }));
        drawing
    }

    /// The panel with a draft's copy on it, as the report found it set.
    pub fn of(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let mut drawing = Self::of_panel(&brief.panel);
        drawing.add_lines(CoverFace::Panel, report, &copy, brief);
        drawing
    }

    /// Every face with its copy, the panel first, but without the lines that lie further below the face than half its
    /// height. There are thousands of them where a whole manuscript was put in the place of a blurb, and a screen has
    /// no room for those.
    pub(super) fn of_what_is_on_faces(report: &Report, copy: &ShapedCopy<'_>, brief: &Brief) -> Vec<(CoverFace, Self)> {
        // A flap is as high as the panel.
        let face = brief.panel.face();
        let foot = face.foot() + face.height / 2;
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
        // Where a place begins that follows another is known only once the copy is set.
        let places = brief.faces().filter(|layout| layout.face == face).flat_map(|layout| layout.places);
        for place in places.filter(|place| place.follows.is_some()) {
            if let Some(set) = report.fit.places.iter().find(|set| set.name == place.name) {
                self.frame_of(FramePart::Place, &place.name, set.live, &place.shape);
            }
        }
        let layout = brief.faces().find(|layout| layout.face == face);
        // Of each place the box round those of its lines that do not go over, which its tint has to cover.
        let mut covered: Vec<Option<Rect>> = vec![None; report.fit.places.len()];
        for (number, line) in lines {
            let set = &line.set;
            let paragraph = copy.paragraphs.get(set.paragraph);
            let (Some(paragraph), Some(place)) = (paragraph, report.fit.places.get(set.place)) else { continue };
            let form = brief.typography.of(line.kind);
            let rect = Rect { x: set.x, y: set.top, width: set.width, height: set.leading };
            if !set.over {
                let all = &mut covered[set.place];
                *all = Some(all.map_or(rect, |all| all.around(&rect)));
            }
            let own = layout.iter().flat_map(|layout| layout.places).find(|own| own.name == place.name);
            self.items.push(DrawingItem::Line(Line {
                number,
                kind: line.kind,
                text: line.text.clone(),
                place: place.live,
                rect,
                baseline: set.baseline,
                over: set.over,
                ink: layout.map_or(form.ink, |layout| layout.ink_of(own, form)),
                runs: glyphs::of_line(set, paragraph, &form.font, form.size),
            }));
        }
        let covered = report.fit.places.iter().zip(covered);
        let covered = covered.filter_map(|(place, lines)| Some((place.name.as_str(), lines?)));
        if let Some(layout) = layout {
            self.tints(&layout, covered);
        }
    }

    /// Adds the tint behind the copy of each place: in the place's own shape, or in a box round its lines, which are
    /// those that do not go over.
    fn tints<'p>(&mut self, layout: &FaceLayout<'_>, places: impl Iterator<Item = (&'p str, Rect)>) {
        for (name, lines) in places {
            let place = layout.places.iter().find(|place| place.name == name);
            let Some(Tint { colour, opacity, pad }) = layout.tint_of(place) else { continue };
            let shaped = place.filter(|place| place.shape != Shape::Box);
            let (rect, shape) =
                shaped.map_or_else(|| (lines.grown(pad), Shape::Box), |place| (place.bounds, place.shape.clone()));
            self.items.push(DrawingItem::Tint(FaceTint { rect, shape, colour, opacity }));
        }
    }

    /// The drawing with its art, and the tints over it, shown at a strength. Art fades away from the ink: into white,
    /// or into black where most of the copy is light.
    pub fn with_art(mut self, strength: ArtStrength) -> Self {
        let inks = || self.lines().map(|line| line.ink).chain(self.title().map(|title| title.ink));
        let light = inks().filter(|ink| ink.is_light()).count();
        let colour = if light * 2 > inks().count() { Colour::Black } else { Colour::White };
        // A veil over the face's art is one over that of its places too.
        let is_whole = self.arts().any(|art| art.form.is_none());
        let veiled = self.arts().filter(|art| !is_whole || art.form.is_none());
        let veil = |art: &FaceArt| {
            let shape = art.form.clone().unwrap_or_default();
            DrawingItem::Tint(FaceTint { rect: art.placed.rect, shape, colour, opacity: FADED })
        };
        let veils: Vec<DrawingItem> = veiled.map(veil).collect();
        if strength == ArtStrength::Faded {
            self.items.extend(veils);
        }
        self
    }

    /// The art of the face, then that of its places over it.
    pub fn arts(&self) -> impl Iterator<Item = &FaceArt> {
        self.items.iter().filter_map(|item| if let DrawingItem::Art(art) = item { Some(art) } else { None })
    }

    /// The tints over the art, the undermost first.
    pub fn tints_over(&self) -> impl Iterator<Item = &FaceTint> {
        self.items.iter().filter_map(|item| if let DrawingItem::Tint(tint) = item { Some(tint) } else { None })
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
            _ => None,
        })
    }

    /// The lines in reading order.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.items.iter().filter_map(|item| match item {
            DrawingItem::Line(line) => Some(line),
            _ => None,
        })
    }

    /// The title, on a spine.
    pub fn title(&self) -> Option<&TitleLine> {
        self.items.iter().find_map(|item| match item {
            DrawingItem::Title(title) => Some(title),
            _ => None,
        })
    }

    /// The rectangle of one part; the first where there are several.
    pub fn rect_of(&self, part: FramePart) -> Option<Rect> {
        self.frames().find(|frame| frame.part == part).map(|frame| frame.rect)
    }
}
