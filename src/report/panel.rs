//! The figures of the cover's faces for those who draw on them and those who check them: their parts, and the places
//! that have to stay quiet.

use super::drawing::FramePart;
use super::fit::{Fit, MissingStyle};
use super::places::FitPlace;
use super::quiet::QuietFigures;
use crate::art::facts::ArtFacts;
use crate::art::lines::is_large;
use crate::brief::barcode::{self, AddOn};
use crate::brief::colour::Colour;
use crate::brief::cover::Spine;
use crate::brief::lengths::Unit;
use crate::brief::panel::{FaceLayout, KeepOut, KeepOutOrigin};
use crate::brief::place::{CoverFace, Held, Place, Shape};
use crate::brief::typography::StandIn;
use crate::brief::{Brief, Panel};
use crate::draft::BlockKind;
use crate::units::{Length, Rect, Size};

/// How far the proportions of a picture may be off those of its box, as a share: less is a matter of rounding.
const STRETCHED: f64 = 0.02;
/// A spine under this width is seldom lettered, in millimetres.
const THINNEST_LETTERED_MM: f64 = 6.0;

/// The panel and the flaps in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelFigures {
    /// The panel, then the flaps.
    pub faces: Vec<FaceFigures>,
    /// What should be known of the panel, a sentence each.
    pub notes: Vec<String>,
    /// The art of every face that has some, without the copy on it.
    pub art: Vec<ArtFacts>,
    /// Styles that the draft's words ask for and their fonts lack; none without a draft.
    pub styles_missing: Vec<MissingStyle>,
    /// Fonts of the draft that are not at hand, so that its place is an estimate; none without a draft.
    pub estimated: Vec<StandIn>,
}

/// A face in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceFigures {
    /// Which face it is.
    pub face: CoverFace,
    /// The parts from the outside in, keep-outs and places in the order of the brief, what has to stay quiet last. All
    /// are measured from the face's head left corner.
    pub parts: Vec<PartFigures>,
}

/// One part of a face.
#[derive(Debug, Clone, PartialEq)]
pub struct PartFigures {
    /// What sort of part it is.
    pub part: FramePart,
    /// What the part is called.
    pub name: String,
    /// Where the part is; the box that it fills where it is no box.
    pub rect: Rect,
    /// The name of its form: `box`, `ellipse`, `round`, `polygon`.
    pub shape: &'static str,
    /// The room that stays empty round it, where it is a keep-out.
    pub clearance: Option<Length>,
    /// How far copy stays away from its edge inside it, where it is a place.
    pub inset: Option<Length>,
    /// What it holds, where it is a place, or the live area of a flap that holds copy by itself: `headline`, `quote 2`.
    pub holds: Vec<String>,
    /// The place whose copy this one's follows, where it is a place that does.
    pub follows: Option<String>,
}

impl PanelFigures {
    /// The figures of a brief's faces. With a draft's fit, what stays quiet is the box round the lines of each place;
    /// without one, every place, and the live area where some copy may stand in no other place.
    pub fn of(brief: &Brief, fit: Option<&Fit>) -> Self {
        let panel = &brief.panel;
        let has_places = brief.faces().any(|face| !face.places.is_empty());
        let fit_lines = fit.filter(|fit| fit.lines.iter().any(|line| !line.set.over));
        let quiet = |face: &FaceLayout<'_>| match fit_lines {
            Some(fit) if has_places => quiet_places(face.face, fit),
            Some(fit) => quiet(face.face, fit, "quiet behind this draft", |_| true).into_iter().collect(),
            None if face.face == CoverFace::Panel && !holds_all(brief) => {
                vec![PartFigures::of(FramePart::Quiet, "quiet behind any copy", face.live)]
            }
            None => Vec::new(),
        };
        let figures = |face: FaceLayout<'_>| FaceFigures {
            face: face.face,
            parts: [edges(panel, &face), inside(&face), beside(brief, &face), quiet(&face)].concat(),
        };
        let note = "copy may stand anywhere in its place, so all of it has to stay quiet; with --draft, this page says \
                    how much of each place one draft takes";
        let note_on_places = (has_places && fit_lines.is_none()).then(|| note.to_owned());
        Self {
            faces: brief.faces().map(figures).collect(),
            notes: symbols(panel).chain(notes(brief)).chain(note_on_places).chain(quiet_in_figures(brief)).collect(),
            art: brief.faces().flat_map(|face| ArtFacts::of(&face, &[])).collect(),
            styles_missing: fit.map_or_else(Vec::new, |fit| fit.styles_missing.clone()),
            estimated: fit.map_or_else(Vec::new, |fit| fit.estimated.clone()),
        }
    }

    /// How far art goes.
    pub fn art(&self) -> Rect {
        let parts = self.faces.iter().flat_map(|face| &face.parts);
        parts.into_iter().find(|part| part.part == FramePart::Bleed).map_or(Rect::default(), |part| part.rect)
    }
}

impl FaceFigures {
    /// What has to stay quiet.
    pub fn quiet(&self) -> impl Iterator<Item = Rect> {
        self.parts.iter().filter(|part| part.part == FramePart::Quiet).map(|part| part.rect)
    }
}

impl PartFigures {
    fn of(part: FramePart, name: &str, rect: Rect) -> Self {
        let (name, shape) = (name.to_owned(), Shape::Box.name());
        Self { part, name, rect, shape, clearance: None, inset: None, holds: Vec::new(), follows: None }
    }

    fn of_keep_out(keep_out: &KeepOut) -> Self {
        Self {
            shape: keep_out.shape.name(),
            clearance: Some(keep_out.clearance),
            ..Self::of(FramePart::KeepOut, &keep_out.name, keep_out.rect)
        }
    }

    fn of_place(place: &Place, others: &[Place]) -> Self {
        Self {
            shape: place.shape.name(),
            inset: Some(place.inset),
            holds: held(place),
            follows: place.follows.map(|follows| others[follows.place].name.clone()),
            ..Self::of(FramePart::Place, &place.name, place.bounds)
        }
    }
}

/// The edges of a face, the outermost first.
fn edges(panel: &Panel, face: &FaceLayout<'_>) -> Vec<PartFigures> {
    match face.face {
        CoverFace::Panel => vec![
            PartFigures::of(FramePart::Bleed, panel.binding.art(), panel.art_area()),
            PartFigures::of(FramePart::Face, panel.binding.edges(), face.edges),
        ],
        flap => vec![PartFigures::of(FramePart::Face, flap.name(), face.edges)],
    }
}

/// What lies inside the edges of a face.
fn inside(face: &FaceLayout<'_>) -> Vec<PartFigures> {
    // A flap that holds copy by itself has one place, its live area, which is told once.
    let (own, places): (Vec<&Place>, Vec<&Place>) =
        face.places.iter().partition(|place| place.name == face.face.name() && place.bounds == face.live);
    let holds = own.into_iter().flat_map(held).collect();
    let live = PartFigures { holds, ..PartFigures::of(FramePart::LiveArea, "live area", face.live) };
    let keep_outs = face.keep_outs.iter().map(PartFigures::of_keep_out);
    let places = places.into_iter().map(|place| PartFigures::of_place(place, face.places));
    std::iter::once(live).chain(keep_outs).chain(places).collect()
}

/// The spine beside the panel.
fn beside(brief: &Brief, face: &FaceLayout<'_>) -> Vec<PartFigures> {
    let Some(spine) = brief.spine.as_ref().filter(|_| face.face == CoverFace::Panel) else { return Vec::new() };
    let beside = Rect { x: face.edges.right(), width: spine.width, ..face.edges };
    let title = Rect {
        x: beside.x + spine.clear,
        y: spine.head,
        width: spine.width - spine.clear * 2,
        height: beside.height - spine.head - spine.foot,
    };
    let parts = [(FramePart::Face, "spine", beside), (FramePart::LiveArea, "title on the spine", title)];
    parts.map(|(part, name, rect)| PartFigures::of(part, name, rect)).to_vec()
}

/// What a place holds, as the brief calls it.
fn held(place: &Place) -> Vec<String> {
    place.holds.iter().map(|held| held.name()).collect()
}

/// Whether every kind of copy stands in a place, so that none is left for the live area.
fn holds_all(brief: &Brief) -> bool {
    let is_held = |kind: BlockKind| {
        let held = Held { kind, number: None };
        brief.faces().any(|face| face.places.iter().any(|place| place.holds.contains(&held)))
    };
    BlockKind::ALL.into_iter().filter(|kind| *kind != BlockKind::Credit).all(is_held)
}

/// What has to stay quiet behind the copy of each place of a face.
fn quiet_places(face: CoverFace, fit: &Fit) -> Vec<PartFigures> {
    let of_place = |(number, place): (usize, &FitPlace)| {
        quiet(face, fit, &format!("quiet in {}", place.name), |place| place == number)
    };
    fit.places.iter().enumerate().filter_map(of_place).collect()
}

/// What has to stay quiet behind the copy on a face: the least rectangle that holds every line of some places that
/// fits; none without such a line.
fn quiet(face: CoverFace, fit: &Fit, name: &str, is_in: impl Fn(usize) -> bool) -> Option<PartFigures> {
    let lines = fit.lines_on(face).map(|(_, line)| &line.set).filter(|line| !line.over && is_in(line.place));
    let boxes = lines.map(|line| Rect { x: line.x, y: line.top, width: line.width, height: line.leading });
    let rect = boxes.reduce(|all, line| all.around(&line))?;
    Some(PartFigures::of(FramePart::Quiet, name, rect))
}

/// How quiet the art of each face has to be behind its inks, in figures for an illustrator.
fn quiet_in_figures(brief: &Brief) -> impl Iterator<Item = String> + '_ {
    let of_face = |face: FaceLayout<'_>| {
        let blurb = brief.typography.of(BlockKind::Blurb);
        let places = std::iter::once(None).chain(face.places.iter().map(Some));
        let mut inks: Vec<Colour> = Vec::new();
        let on_art = |place: &Option<&Place>| face.art.is_some() || place.is_some_and(|place| place.art.is_some());
        for ink in places.filter(on_art).map(|place| face.ink_of(place, blurb)) {
            if !inks.contains(&ink) {
                inks.push(ink);
            }
        }
        let is_large = is_large(blurb.size, blurb.emphasis().bold);
        let note = move |ink: Colour| {
            let QuietFigures { spread, mean, is_least } = QuietFigures::of(ink, is_large);
            let bound = if is_least { "at least" } else { "at most" };
            format!(
                "quiet behind {ink} ink on the {} means, in the room of any word, a mean lightness of {bound} L* \
                 {mean}, and a spread (standard deviation) of at most {spread}; these figures are this program's own",
                face.face.name()
            )
        };
        inks.into_iter().map(note).collect::<Vec<_>>()
    };
    brief.faces().flat_map(of_face)
}

/// What should be known of a cover: how each box that is named for a barcode compares with the standard, which pictures
/// are stretched, and whether its spine is too thin for letters.
pub fn notes(brief: &Brief) -> Vec<String> {
    let barcodes = brief.panel.keep_outs.iter().filter(|keep_out| is_for_barcode(keep_out)).map(barcode_note);
    let stretched = brief.faces().flat_map(|face| stretched(&face));
    barcodes.chain(stretched).chain(brief.spine.as_ref().and_then(thin_spine)).collect()
}

/// A note on each shape of a face whose picture has other proportions than its box.
fn stretched(face: &FaceLayout<'_>) -> Vec<String> {
    let of_places = face.places.iter().map(|place| (&place.name, &place.shape, place.bounds, place.unit));
    let of_keep_outs = face.keep_outs.iter().map(|out| (&out.name, &out.shape, out.rect, out.unit));
    of_keep_outs
        .chain(of_places)
        .filter_map(|(name, shape, rect, unit)| stretched_note(name, shape, rect, unit))
        .collect()
}

fn stretched_note(name: &str, shape: &Shape, rect: Rect, unit: Unit) -> Option<String> {
    let Shape::File(shape) = shape else { return None };
    let proportions = shape.outline.as_ref()?.proportions?;
    let height = Length::pt(rect.width.to_pt() / proportions);
    if (height.to_pt() / rect.height.to_pt() - 1.0).abs() <= STRETCHED {
        return None;
    }
    Some(format!(
        "the picture {} is stretched in \"{name}\", which is {} by {}; {} by {} is as it is drawn",
        shape.file.display(),
        unit.told(rect.width),
        unit.told(rect.height),
        unit.told(rect.width),
        unit.told(height)
    ))
}

/// A caution on a spine that is narrower than printers letter. The figure is from memory.
fn thin_spine(spine: &Spine) -> Option<String> {
    (spine.width < Length::mm(THINNEST_LETTERED_MM)).then(|| {
        format!(
            "the spine is {} wide; printers seldom letter one under 5 to 6 mm (from memory), so ask yours",
            spine.unit.told(spine.width)
        )
    })
}

/// What the height of each barcode that is asked for by its symbol is made up of.
pub fn symbols(panel: &Panel) -> impl Iterator<Item = String> + '_ {
    panel.keep_outs.iter().filter(|keep_out| keep_out.origin == KeepOutOrigin::Symbol).map(|keep_out| {
        let height = keep_out.rect.height;
        let line = barcode::isbn_line();
        format!(
            "{} is {} high: {} for its bars and figures, and {} for the line of the ISBN above them",
            keep_out.name,
            keep_out.unit.told(height),
            keep_out.unit.told(height - line),
            keep_out.unit.told(line)
        )
    })
}

/// Whether a keep-out is a box that is named for a barcode. A barcode that is asked for by its symbol has the
/// standard's own size, so there is nothing to compare.
fn is_for_barcode(keep_out: &KeepOut) -> bool {
    keep_out.origin == KeepOutOrigin::Named && keep_out.name.to_lowercase().contains("barcode")
}

fn barcode_note(keep_out: &KeepOut) -> String {
    let name = format!("the box \"{}\"", keep_out.name);
    let room = Size { width: keep_out.rect.width, height: keep_out.rect.height };
    let told = |size: Size| format!("{} by {}", keep_out.unit.told(size.width), keep_out.unit.told(size.height));
    let up_to = |add_on| barcode::largest_percent(room, add_on).map(|percent| format!("up to {percent} %"));
    let Some(alone) = up_to(AddOn::None) else {
        let least = barcode::size(80.0, AddOn::None);
        return format!(
            "{name} is {}, too small for an EAN-13: the smallest allowed, at 80 %, needs {} with its quiet zones and \
             the ISBN's line",
            told(room),
            told(least)
        );
    };
    let price = up_to(AddOn::Price).unwrap_or_else(|| "not at all".to_owned());
    format!("{name} is {}: it holds an EAN-13 {alone}, with a price add-on {price}", told(room))
}
