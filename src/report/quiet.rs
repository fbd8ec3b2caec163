//! Quiet room on the face that the blurb stands on, and whether the copy goes there: it is set there for real.

use super::Report;
use super::fit::Fit;
use super::legibility::Legibility;
use crate::art::lines::{CLEAR_STAND_OUT, Grade, contrast_wanted, is_large};
use crate::art::on_art::{ink_light, place_grounds};
use crate::art::quiet::{CalmMap, QuietRoom, QuietType};
use crate::brief::Brief;
use crate::brief::colour::Colour;
use crate::brief::panel::Margins;
use crate::brief::place::CoverFace;
use crate::draft::{BlockKind, Draft};
use crate::setting::{Faces, SettingMemory, ShapedCopy};
use crate::units::{Length, Rect, Size};

/// How many rectangles are tried.
const MOST_TRIED: usize = 10;
/// Room that is narrower or lower than this, in ems of the blurb, is not told.
const LEAST_EMS: i64 = 4;

/// The quiet room for the blurb and all that stands with it.
#[derive(Debug, Clone, PartialEq)]
pub struct QuietFinding {
    /// The face.
    pub face: CoverFace,
    /// The ink for which the room is quiet.
    pub ink: Colour,
    /// The place that would be moved; none where the copy has no places, and the margins would change.
    pub place: Option<String>,
    /// The largest rectangles, the largest first; one with specks comes last.
    pub rooms: Vec<TriedRoom>,
}

/// A quiet rectangle with the copy set in it.
#[derive(Debug, Clone, PartialEq)]
pub struct TriedRoom {
    /// Where it is, and the specks in it.
    pub room: QuietRoom,
    /// The box round the lines as they are set there; none where there are none.
    pub takes: Option<Size>,
    /// Whether the copy fits there at its size, with every line clear.
    pub fits: bool,
    /// The margins of the panel that leave this room as its live area; none where the copy stands in a place.
    pub margins: Option<Margins>,
}

impl QuietFinding {
    /// The room to tell of: the largest in which the copy fits, or else the largest.
    pub fn best(&self) -> Option<&TriedRoom> {
        self.rooms.iter().find(|tried| tried.fits).or(self.rooms.first())
    }

    /// The quiet room of the face that the blurb stands on; none where that has no art.
    pub fn of(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Option<Self> {
        let CalmFace { face, ink, edges, place, rooms } = CalmFace::of(report, brief)?;
        let tried = |room: QuietRoom| {
            let (takes, fits) = set_in(&room.rect, report.fit.blurb_place, (draft, brief, faces));
            let margins = place.is_none().then(|| margins_for(&room.rect, &edges));
            TriedRoom { room, takes, fits, margins }
        };
        Some(Self { face, ink, rooms: rooms.into_iter().map(tried).collect(), place })
    }
}

/// The face that the blurb stands on, with its quiet room, in which no copy was tried.
#[derive(Debug, Clone, PartialEq)]
pub struct CalmFace {
    /// The face.
    pub face: CoverFace,
    /// The ink for which the room is quiet.
    pub ink: Colour,
    /// The edges of the face.
    pub edges: Rect,
    /// The place that the blurb stands in; none where the copy has no places.
    pub place: Option<String>,
    /// The largest rectangles, the largest first; one with specks comes last.
    pub rooms: Vec<QuietRoom>,
}

impl CalmFace {
    /// Looks for quiet room; none where the blurb stands on no art, or on art that its place has for itself.
    pub fn of(report: &Report, brief: &Brief) -> Option<Self> {
        report.legibility.as_ref()?;
        let fit = &report.fit;
        let place = fit.places.get(fit.blurb_place)?;
        let ground = place_grounds(brief, [(place.name.as_str(), place.face)].into_iter()).into_iter().next()??;
        if ground.is_own {
            return None;
        }
        let layout = brief.faces().find(|layout| layout.face == place.face)?;
        let own = layout.places.iter().find(|own| own.name == place.name);
        let blurb = brief.typography.of(BlockKind::Blurb);
        let ink = layout.ink_of(own, blurb);
        let form = QuietType {
            ink: ink_light(ink),
            x_height: fit.x_height,
            is_large: is_large(blurb.size, blurb.emphasis().bold),
        };
        let keep_outs = layout.keep_outs.iter().map(|keep_out| keep_out.cleared());
        let others = layout.places.iter().filter(|other| other.name != place.name).map(|other| other.bounds);
        let taken: Vec<Rect> = keep_outs.chain(others.filter(|_| own.is_some())).collect();
        let map = CalmMap::of(&ground.behind, &form, layout.safe_area(), &taken);
        let is_told = |room: &QuietRoom| room.rect.width.min(room.rect.height) >= blurb.size * LEAST_EMS;
        let rooms = map.rooms(MOST_TRIED).into_iter().chain(map.room_with_specks()).filter(is_told);
        let rooms = rooms.map(|room| QuietRoom { rect: within_tenths(&room.rect), ..room }).collect();
        Some(Self { face: place.face, ink, edges: layout.edges, place: own.map(|own| own.name.clone()), rooms })
    }
}

/// The largest rectangle in another whose edges are whole tenths of a millimetre, as they are told.
fn within_tenths(rect: &Rect) -> Rect {
    let tenth = Length::mm(0.1);
    let up = |length: Length| tenth * (length.or_zero() + tenth - Length::TOLERANCE * 2).count_of(tenth) as i64;
    let down = |length: Length| tenth * length.count_of(tenth) as i64;
    let (x, y) = (up(rect.x), up(rect.y));
    Rect { x, y, width: (down(rect.right()) - x).or_zero(), height: (down(rect.foot()) - y).or_zero() }
}

/// The margins of the panel that leave a rectangle as its live area.
pub fn margins_for(rect: &Rect, face: &Rect) -> Margins {
    Margins { head: rect.y, foot: face.foot() - rect.foot(), fore_edge: rect.x, spine: face.right() - rect.right() }
}

/// The copy of a place set in a rectangle: the box that its lines take, and whether all fits and can be read.
fn set_in(rect: &Rect, place: usize, (draft, brief, faces): (&Draft, &Brief, &Faces)) -> (Option<Size>, bool) {
    let tried = moved_to(rect, place, brief);
    let fit = Fit::of(draft, &tried, faces);
    let lines = || fit.lines.iter().map(|line| &line.set).filter(|line| line.place == place);
    let boxes = lines().map(|line| Rect { x: line.x, y: line.top, width: line.width, height: line.leading });
    let takes = boxes.reduce(|all, line| all.around(&line)).map(|all| Size { width: all.width, height: all.height });
    let copy = ShapedCopy::shape(draft, &tried.typography, faces, &mut SettingMemory::default());
    let is_clear = || {
        let art = Legibility::of(&fit, &copy, &tried);
        art.is_some_and(|art| art.lines.iter().filter(|line| line.place == place).all(|it| it.grade() == Grade::Clear))
    };
    let fits = takes.is_some() && lines().all(|line| line.fits()) && is_clear();
    (takes, fits)
}

/// The brief with the copy of a place in a rectangle: in that place's own box, or by the panel's margins.
fn moved_to(rect: &Rect, place: usize, brief: &Brief) -> Brief {
    let mut brief = brief.clone();
    let mut boxes: Vec<&mut Rect> = Vec::new();
    boxes.extend(brief.panel.places.iter_mut().map(|place| &mut place.bounds));
    boxes.extend(brief.flaps.iter_mut().flat_map(|flap| &mut flap.places).map(|place| &mut place.bounds));
    match boxes.get_mut(place) {
        Some(bounds) => **bounds = *rect,
        None => brief.panel.margins = margins_for(rect, &brief.panel.face()),
    }
    brief
}

/// What quiet room has to be, in figures for an illustrator: the spread of lightness that is allowed, and the mean that
/// the ground then needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuietFigures {
    /// The most that the standard deviation of L* may be in any word's window.
    pub spread: f64,
    /// The mean L* that is needed then.
    pub mean: f64,
    /// Whether the mean has to be at least so much, as behind a dark ink; else at most.
    pub is_least: bool,
}

/// A spread that wash and soft pencil keep, and on which black still has room. The figure is this project's own.
const ALLOWED_SPREAD: f64 = 8.0;

impl QuietFigures {
    /// What an ink needs of quiet room.
    pub fn of(ink: Colour, is_large: bool) -> Self {
        let light = ink_light(ink);
        let mean = light.ground_needed(ALLOWED_SPREAD, CLEAR_STAND_OUT, contrast_wanted(is_large));
        // Rounded to the safe side.
        let mean = if light.is_dark() { mean.ceil() } else { mean.floor() };
        Self { spread: ALLOWED_SPREAD, mean, is_least: light.is_dark() }
    }
}
