//! What would make the lines of a place clear: each mend is tried, and only what does it is offered.
//!
//! A mend has to make every line of the place clear, those that were clear already too. What was tried in vain is told
//! as well, since an author would try it next: another ink does nothing where one line needs both, and larger type does
//! nothing on busy art (of the lines tried, 72 in 100 stayed hard at 1.6 times the size).

use super::Report;
use super::art_facts;
use super::fit::Fit;
use super::legibility::Legibility;
use super::quiet::QuietFinding;
use crate::art::facts::ArtFinding;
use crate::art::lines::{CLEAR_STAND_OUT, Grade, InkedLine, LARGE_BOLD_POINTS, LARGE_CONTRAST, LARGE_POINTS};
use crate::art::mends::{Reach, least_tint, nearest_places};
use crate::art::on_art::{JudgedLine, PlaceGround, ink_light, place_grounds};
use crate::brief::Brief;
use crate::brief::colour::Colour;
use crate::brief::panel::FaceLayout;
use crate::brief::place::{CoverFace, Place, Shape};
use crate::brief::typography::Stack;
use crate::draft::{BlockKind, Draft};
use crate::setting::{Faces, SettingMemory, ShapedCopy};
use crate::units::{Length, Point, Rect};

/// Copy of more lines is put on no face; setting it again many times would take long.
const MOST_LINES: usize = 500;

/// The most places in which the copy is set for real, of those where its lines as they are would be clear.
const MOST_SET: usize = 12;

/// The mends of one place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceMends {
    /// The place, by its number among those of the fit.
    pub place: usize,
    /// What the place is called; none where the copy has no places.
    pub name: Option<String>,
    /// The lines that are not clear, by their numbers among all set lines.
    pub lines: Vec<usize>,
    /// What makes every line of the place clear, each by itself.
    pub helps: Vec<Mend>,
    /// What does not, of what was tried.
    pub in_vain: Vec<VainMend>,
}

/// A change that makes every line of a place clear.
#[derive(Debug, Clone, PartialEq)]
pub enum Mend {
    /// Another ink.
    Ink(Colour),
    /// A tint behind the copy of the place.
    Tint {
        /// The colour of the tint.
        colour: Colour,
        /// The least opacity that does, in hundredths.
        percent: u8,
    },
    /// Another place on the face.
    Move(Point),
    /// Type of a size that counts as large by WCAG 2.2.
    Larger(Length),
}

/// A change that does not make every line of a place clear.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VainMend {
    /// Another ink.
    Ink(Colour),
    /// A tint of a colour, however opaque.
    Tint(Colour),
    /// Any place within reach.
    Move,
    /// Type that counts as large.
    Larger,
}

/// What an author can do about copy on art: found by setting it again many times, and so only when it is asked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ArtAdvice {
    /// The mends of every place that has lines that are not clear.
    pub mends: Vec<PlaceMends>,
    /// Quiet room on the face that the blurb stands on; none where that has no art.
    pub quiet: Option<QuietFinding>,
}

impl ArtAdvice {
    /// Tries everything; nothing where no copy stands on art, and where the copy is far too long for any face.
    pub fn of(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let fit = &report.fit;
        let Some(art) = report.legibility.as_ref().filter(|_| fit.lines.len() <= MOST_LINES) else {
            return Self::default();
        };
        let grounds = place_grounds(brief, fit.places.iter().map(|place| (place.name.as_str(), place.face)));
        let trial = MendTrial { draft, brief, faces, fit, art, grounds };
        let mends = (0..fit.places.len()).filter_map(|place| trial.of_place(place)).collect();
        Self { mends, quiet: QuietFinding::of(report, draft, brief, faces) }
    }
}

/// What all mends are tried on.
struct MendTrial<'a> {
    draft: &'a Draft,
    brief: &'a Brief,
    faces: &'a Faces,
    fit: &'a Fit,
    art: &'a Legibility,
    grounds: Vec<Option<PlaceGround>>,
}

impl MendTrial<'_> {
    fn of_place(&self, place: usize) -> Option<PlaceMends> {
        let lines: Vec<&JudgedLine> = self.art.lines.iter().filter(|line| line.place == place).collect();
        let not_clear = || lines.iter().filter(|line| line.grade() != Grade::Clear);
        let ground = self.grounds.get(place)?.as_ref().filter(|_| not_clear().next().is_some())?;
        let mut mends = PlaceMends {
            place,
            name: self.fit.has_places.then(|| self.fit.places[place].name.clone()),
            lines: not_clear().map(|line| line.line).collect(),
            helps: Vec::new(),
            in_vain: Vec::new(),
        };
        self.tint(&lines, ground, &mut mends);
        self.elsewhere(place, &lines, ground, &mut mends);
        inks(&lines, ground, &mut mends);
        match self.larger(place, not_clear().copied()) {
            Some(size) => mends.helps.push(Mend::Larger(size)),
            None => mends.in_vain.push(VainMend::Larger),
        }
        Some(mends)
    }

    /// The least tint in the colour that most lines need.
    fn tint(&self, lines: &[&JudgedLine], ground: &PlaceGround, mends: &mut PlaceMends) {
        let dark = lines.iter().filter(|line| line.ink().is_dark()).count();
        let colour = if dark * 2 >= lines.len() { Colour::White } else { Colour::Black };
        let inked: Vec<InkedLine<'_>> = lines.iter().map(|line| line.inked()).collect();
        match least_tint(&inked, &ground.bare, colour.srgb()) {
            Some(percent) => mends.helps.push(Mend::Tint { colour, percent }),
            None => mends.in_vain.push(VainMend::Tint(colour)),
        }
    }

    /// The nearest place where every line is clear, and the copy fits when it is set there. Nothing is told where the
    /// copy cannot be moved by itself, or its art goes with it.
    fn elsewhere(&self, place: usize, lines: &[&JudgedLine], ground: &PlaceGround, mends: &mut PlaceMends) {
        let Some(face) = self.fit.places.get(place).map(|known| known.face) else { return };
        let Some(layout) = self.brief.faces().find(|layout| layout.face == face) else { return };
        let own = layout.places.iter().find(|own| own.name == self.fit.places[place].name);
        if ground.is_own {
            return;
        }
        let boxes = self.boxes(place);
        let inked: Vec<InkedLine<'_>> = lines.iter().map(|line| line.inked()).collect();
        // A tint goes with its copy.
        let tinted = ground.tint.map(|tint| ground.bare.tinted(&tint));
        let ground = tinted.as_ref().unwrap_or(&ground.bare);
        let ways = ways(&layout, own, &boxes, self.brief.typography.stack);
        if ways.is_empty() {
            return;
        }
        let nearest = ways.into_iter().filter_map(|(way, reach)| {
            let moving =
                if way == MoveBy::Box { own.map(|own| own.bounds).into_iter().collect() } else { boxes.clone() };
            let is_open = |by: Point| moving.iter().all(|rect| is_free(&moved(rect, by), &layout, own));
            let places = nearest_places(&inked, ground, &reach, is_open).take(MOST_SET);
            { places }.find(|by| self.does(place, &with_moved(self.brief, (face, own), way, *by)))
        });
        let length = |by: &Point| by.x.to_pt().hypot(by.y.to_pt());
        match nearest.min_by(|one, other| length(one).total_cmp(&length(other))) {
            Some(by) => mends.helps.push(Mend::Move(by)),
            None => mends.in_vain.push(VainMend::Move),
        }
    }

    /// The boxes of a place's lines.
    fn boxes(&self, place: usize) -> Vec<Rect> {
        let lines = self.fit.lines.iter().map(|line| &line.set).filter(|line| line.place == place && !line.over);
        lines.map(|line| Rect { x: line.x, y: line.top, width: line.width, height: line.leading }).collect()
    }

    /// The size from which type is large, where that is enough: the ground is plain, and the contrast is that of large
    /// type.
    fn larger<'l>(&self, place: usize, mut not_clear: impl Iterator<Item = &'l JudgedLine>) -> Option<Length> {
        let is_only_faint = |line: &JudgedLine| {
            let judgement = &line.judgement;
            judgement.stand_out.is_some_and(|ratio| ratio >= CLEAR_STAND_OUT)
                && judgement.contrast.is_some_and(|ratio| ratio >= LARGE_CONTRAST)
        };
        let blurb = self.brief.typography.of(BlockKind::Blurb);
        let size = Length::pt(if blurb.emphasis().bold { LARGE_BOLD_POINTS } else { LARGE_POINTS });
        let may_help = not_clear.all(is_only_faint) && self.fit.largest_size.is_some_and(|largest| size.fits(largest));
        let typography = self.brief.typography.tried(Some(size), None, None);
        let tried = Brief { typography, ..self.brief.clone() };
        (may_help && self.does(place, &tried)).then_some(size)
    }

    /// Whether all copy fits by another brief, where it did before, every line of a place is clear, and no more lines
    /// of other places are not.
    fn does(&self, place: usize, brief: &Brief) -> bool {
        let copy = ShapedCopy::shape(self.draft, &brief.typography, self.faces, &mut SettingMemory::default());
        let fit = Fit::of(self.draft, brief, self.faces);
        let fits = fit.copy_fits() || !self.fit.copy_fits();
        let elsewhere = |art: &Legibility| art.not_clear().filter(|line| line.place != place).count();
        fits && Legibility::of(&fit, &copy, brief).is_some_and(|art| {
            art.not_clear().all(|line| line.place != place) && elsewhere(&art) <= elsewhere(self.art)
        }) && troubles(brief, &fit) <= troubles(self.brief, self.fit)
    }
}

/// Black and white, but for the ink that the copy has.
fn inks(lines: &[&JudgedLine], ground: &PlaceGround, mends: &mut PlaceMends) {
    for colour in [Colour::Black, Colour::White] {
        if lines.iter().any(|line| line.colour == colour) {
            continue;
        }
        let ink = ink_light(colour);
        let is_clear = |line: &&JudgedLine| {
            InkedLine { letters: &line.letters, ink }.is_mended_at(&ground.behind, Point::default())
        };
        if lines.iter().all(is_clear) {
            mends.helps.push(Mend::Ink(colour));
        } else {
            mends.in_vain.push(VainMend::Ink(colour));
        }
    }
}

fn moved(rect: &Rect, by: Point) -> Rect {
    Rect { x: rect.x + by.x, y: rect.y + by.y, ..*rect }
}

/// Whether copy may stand in a rectangle: no keep-out and no place but its own lies on it.
fn is_free(rect: &Rect, face: &FaceLayout<'_>, own: Option<&Place>) -> bool {
    let others = face.places.iter().filter(|other| own.is_none_or(|own| own.name != other.name));
    !face.keep_outs.iter().any(|keep_out| keep_out.cleared().overlaps(rect))
        && !others.into_iter().any(|other| other.bounds.overlaps(rect))
}

/// How many lines stand too near to a drawing, and tints over a fold: a mend makes no more of them.
fn troubles(brief: &Brief, fit: &Fit) -> usize {
    let of = |finding: &ArtFinding| match finding {
        ArtFinding::Crowded(lines) => lines.len(),
        ArtFinding::OverFold => 1,
        _ => 0,
    };
    art_facts::of(brief, fit).iter().flat_map(|facts| &facts.findings).map(of).sum()
}

/// How copy is moved on its face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum MoveBy {
    /// With the box of its place.
    Box,
    /// Inside its place, which begins lower.
    Head,
    /// By the margins of the panel.
    Margins,
}

/// The ways in which the copy of a place, with the boxes of its lines, can be moved, each with its reach; none where it
/// stands where other copy ends, or is held at the foot or in the middle of the panel.
fn ways(face: &FaceLayout<'_>, own: Option<&Place>, boxes: &[Rect], stack: Stack) -> Vec<(MoveBy, Reach)> {
    let Some(lines) = boxes.iter().copied().reduce(|all, line| all.around(&line)) else { return Vec::new() };
    let safe = face.safe_area();
    let Some(own) = own else {
        let reach = Reach::within(&lines, &safe).zip(Reach::within(&face.live, &safe));
        let reach = reach.filter(|_| stack == Stack::Head).map(|(down, across)| Reach {
            least: Point { x: across.least.x, y: down.least.y },
            most: Point { x: across.most.x, y: down.most.y },
        });
        return reach.map(|reach| (MoveBy::Margins, reach)).into_iter().collect();
    };
    if own.follows.is_some() {
        return Vec::new();
    }
    let whole = Reach::within(&own.bounds, &safe).map(|reach| (MoveBy::Box, reach));
    let most = Point { x: Length::ZERO, y: (own.bounds.foot() - lines.foot()).or_zero() };
    let can_sink = own.shape == Shape::Box && own.stack == Stack::Head && own.columns == 1;
    let inside = can_sink.then_some((MoveBy::Head, Reach { least: Point::default(), most }));
    whole.into_iter().chain(inside).collect()
}

/// The brief with one place of a face moved, or with copy that stands in no place moved by the margins.
fn with_moved(brief: &Brief, (face, own): (CoverFace, Option<&Place>), way: MoveBy, by: Point) -> Brief {
    let mut brief = brief.clone();
    let flaps = brief.flaps.iter_mut().filter(|flap| flap.face == face).flat_map(|flap| &mut flap.places);
    let panel = brief.panel.places.iter_mut().filter(|_| face == CoverFace::Panel);
    for place in flaps.chain(panel).filter(|place| own.is_some_and(|own| own.name == place.name)) {
        place.bounds = moved(&place.bounds, by);
        if way == MoveBy::Head {
            place.bounds.height -= by.y;
        }
    }
    if way == MoveBy::Margins {
        let margins = &mut brief.panel.margins;
        margins.head += by.y;
        margins.fore_edge += by.x;
        margins.spine -= by.x;
    }
    brief
}
