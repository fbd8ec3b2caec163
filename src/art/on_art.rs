//! Set lines held against the art that they stand on.

use std::ops::Range;
use std::sync::Arc;

use super::lettering;
use super::lines::{Grade, InkedLine, LineJudgement, LineLetters, judged};
use super::lying::ground_of_spine;
use super::placement::PlacedArt;
use crate::artwork::ground::TintLight;
use crate::artwork::light::InkLight;
use crate::artwork::{Ground, GroundMade, GroundOf};
use crate::brief::Brief;
use crate::brief::art::Tint;
use crate::brief::colour::Colour;
use crate::brief::panel::FaceLayout;
use crate::brief::place::{CoverFace, Place};
use crate::setting::contour::Contour;
use crate::setting::glyphs;
use crate::setting::lines::SetLine;
use crate::setting::{Faces, Rooms, ShapedCopy, SpineTitle};
use crate::units::{Length, Point, Rect};

/// The thinnest stroke that stays open in ink when letters are left out of a dark ground (SWOP, 11th edition: seven
/// thousandths of an inch).
const THINNEST_REVERSED_PT: f64 = 0.5;
/// A ground of this lightness or darker is dark enough for ink to close thin strokes: a tone of about 70 % (SWOP).
const DARK_GROUND: f64 = 50.0;

/// How far round a place its tinted ground is made, in points: farther than the window of any letter in the place
/// reaches.
const BEYOND_PLACE_PT: f64 = 36.0;

/// How high a row of cells is looked at where it is told how far a form goes, in points: hardly more than a line.
const ROW_HEIGHT_PT: f64 = 0.001;

/// The art behind one place of copy.
#[derive(Debug, Clone)]
pub struct PlaceGround {
    /// The face that the place is on.
    pub face: CoverFace,
    /// What the place is called.
    pub name: String,
    /// Whether the place has art of its own, which goes with it wherever it is moved.
    pub is_own: bool,
    /// The art by itself.
    pub bare: Arc<Ground>,
    /// The art as it is behind the copy: with the brief's tint, where it has one.
    pub behind: Arc<Ground>,
    /// The brief's tint.
    pub tint: Option<TintLight>,
}

/// A set line that stands on art.
#[derive(Debug, Clone, PartialEq)]
pub struct JudgedLine {
    /// The line's number among all set lines, from 0.
    pub line: usize,
    /// The place that it stands in, by its number among all.
    pub place: usize,
    /// What that place is called.
    pub place_name: String,
    /// The letters of the line.
    pub letters: LineLetters,
    /// The ink of the line.
    pub colour: Colour,
    /// How well it can be read.
    pub judgement: LineJudgement,
    /// The words of each stretch of the judgement.
    pub words: Vec<String>,
    /// How thick the thinnest stroke of its letters is, where they are light on a dark ground and ink may close it.
    pub fine_reversed: Option<Length>,
}

/// The title of the book on the art of its spine.
#[derive(Debug, Clone, PartialEq)]
pub struct JudgedTitle {
    /// The letters of the title.
    pub letters: LineLetters,
    /// The ink of the title.
    pub colour: Colour,
    /// How well it can be read.
    pub judgement: LineJudgement,
    /// The words of each stretch of the judgement.
    pub words: Vec<String>,
    /// Black or white, where that ink would make a title clear that is not.
    pub mended_by: Option<Colour>,
}

impl JudgedTitle {
    /// The title on the art that runs round the spine; none where none that was read does.
    pub fn of(title: &SpineTitle, brief: &Brief, faces: &Faces) -> Option<Self> {
        let ground = ground_of_spine(&brief.panel.layout(), title.direction, Length::pt(BEYOND_PLACE_PT))?;
        let colour = brief.spine.as_ref()?.ink;
        let letters = lettering::of_title(title, faces);
        let judgement = judged(&letters, &ink_light(colour), &ground);
        let text = |range: &Range<usize>| title.text.get(range.clone()).unwrap_or_default().to_owned();
        let words = judgement.stretches.iter().map(|stretch| text(&stretch.text)).collect();
        let is_mended = |ink: &Colour| {
            InkedLine { letters: &letters, ink: ink_light(*ink) }.is_mended_at(&ground, Point::default())
        };
        let others = [Colour::Black, Colour::White].into_iter().filter(|ink| *ink != colour);
        let mended_by = { others }.find(is_mended).filter(|_| judgement.grade != Grade::Clear);
        Some(Self { letters, colour, judgement, words, mended_by })
    }
}

impl JudgedLine {
    /// The line's ink, as it is judged.
    pub fn ink(&self) -> InkLight {
        ink_light(self.colour)
    }

    /// The line in its own ink.
    pub fn inked(&self) -> InkedLine<'_> {
        InkedLine { letters: &self.letters, ink: self.ink() }
    }

    /// How well the line can be read.
    pub fn grade(&self) -> Grade {
        self.judgement.grade
    }
}

/// An ink as it is judged: black is the press's own, and any other a screen's estimate.
pub fn ink_light(colour: Colour) -> InkLight {
    match colour {
        Colour::Black => InkLight::press_black(),
        other => InkLight::of(other.srgb()),
    }
}

/// The art behind each of some places, by their names and faces; none where a face has no art that was read. The first
/// time for a picture this takes some tens of milliseconds.
pub fn place_grounds<'p>(
    brief: &Brief,
    places: impl Iterator<Item = (&'p str, CoverFace)>,
) -> Vec<Option<PlaceGround>> {
    let faces: Vec<FaceLayout<'_>> = brief.faces().filter(FaceLayout::has_art).collect();
    let ground = |(name, face): (&str, CoverFace)| {
        let layout = faces.iter().find(|layout| layout.face == face)?;
        let place = layout.places.iter().find(|place| place.name == name);
        // Until a place's own art is read, nothing is known of what is behind its copy.
        if place.and_then(|place| place.art.as_ref()).is_some_and(|art| art.picture.read.is_none()) {
            return None;
        }
        let tint = layout.tint_of(place).map(|tint| tint_light(&tint));
        let part = place.map_or(layout.live, |place| place.bounds).grown(Length::pt(BEYOND_PLACE_PT));
        let with = tint.map(|tint| (tint, part));
        let of_face = |tint| {
            let PlacedArt { rect, source, .. } = PlacedArt::on(layout)?;
            Some(layout.art?.picture.read.as_ref()?.ground(&GroundOf { rect, source, tint }))
        };
        let own = place.and_then(|place| own_ground(place, None, of_face(None)));
        let (is_own, bare) = (own.is_some(), own.or_else(|| of_face(None))?);
        let tinted = || match place.filter(|_| is_own) {
            Some(place) => own_ground(place, with, of_face(None)),
            None => of_face(with),
        };
        let behind = with.and_then(|_| tinted()).unwrap_or_else(|| Arc::clone(&bare));
        Some(PlaceGround { face, name: name.to_owned(), is_own, bare, behind, tint })
    };
    places.map(ground).collect()
}

/// The own art of a place over what is below it, as far as the place's form goes; none where it has none that was read.
fn own_ground(place: &Place, tint: Option<(TintLight, Rect)>, below: Option<Arc<Ground>>) -> Option<Arc<Ground>> {
    let file = place.art.as_ref()?.picture.read.as_ref()?;
    let PlacedArt { rect, source, .. } = PlacedArt::in_place(place)?;
    let of = GroundOf { rect, source, tint: None };
    let form = Contour::of(&place.shape, place.bounds, Length::ZERO);
    let covered = |middle: Length| {
        let mut stretches = Vec::new();
        form.inside(middle, middle + Length::pt(ROW_HEIGHT_PT), &mut stretches);
        stretches
    };
    let covered = file.ground(&of).row_middles().map(covered).collect();
    let over = GroundMade::Over(below, covered, Length::pt(BEYOND_PLACE_PT));
    Some(file.made_ground(&GroundOf { tint, ..of }, over))
}

/// The art behind each place of copy.
pub fn grounds_of(brief: &Brief, rooms: &Rooms) -> Vec<Option<PlaceGround>> {
    place_grounds(brief, rooms.places().iter().map(|place| (place.name.as_str(), place.face)))
}

/// A tint as it is judged.
pub fn tint_light(tint: &Tint) -> TintLight {
    TintLight { colour: tint.colour.srgb(), opacity: tint.opacity }
}

/// Every line that stands in its place on art, judged; `grounds` has one for each place. Lines that are over stand
/// nowhere.
pub fn judged_lines<'l>(
    lines: impl Iterator<Item = &'l SetLine>,
    (copy, brief): (&ShapedCopy<'_>, &Brief),
    grounds: &[Option<PlaceGround>],
) -> Vec<JudgedLine> {
    if grounds.iter().all(Option::is_none) {
        return Vec::new();
    }
    let on_art = |(number, line): (usize, &'l SetLine)| {
        let ground = grounds.get(line.place)?.as_ref().filter(|_| !line.over)?;
        judged_line((number, line), (copy, brief), ground)
    };
    lines.enumerate().filter_map(on_art).collect()
}

fn judged_line(
    (number, line): (usize, &SetLine),
    (copy, brief): (&ShapedCopy<'_>, &Brief),
    ground: &PlaceGround,
) -> Option<JudgedLine> {
    let paragraph = copy.paragraphs.get(line.paragraph)?;
    let form = brief.typography.of(paragraph.block.kind);
    let layout = brief.faces().find(|layout| layout.face == ground.face)?;
    let colour = layout.ink_of(layout.places.iter().find(|place| place.name == ground.name), form);
    let runs = glyphs::of_line(line, paragraph, &form.font, form.size);
    let letters = lettering::of_line(line, paragraph, &runs, form.size);
    let ink = ink_light(colour);
    let judgement = judged(&letters, &ink, &ground.behind);
    let text = |range: Range<usize>| paragraph.block.text().get(range).unwrap_or_default().replace('\u{ad}', "");
    let words = judgement.stretches.iter().map(|stretch| text(stretch.text.clone())).collect();
    let behind = letters.window().map(|window| ground.behind.light_in(&window).lightness);
    let is_reversed = behind.is_some_and(|behind| behind < DARK_GROUND && ink.lightness > behind);
    let stroke = || paragraph.family.face(paragraph.style.emphasis).hairline().map(|stroke| stroke.at(form.size));
    let fine_reversed = is_reversed.then(stroke).flatten().filter(|stroke| stroke.to_pt() < THINNEST_REVERSED_PT);
    let place_name = ground.name.clone();
    Some(JudgedLine { line: number, place: line.place, place_name, letters, colour, judgement, words, fine_reversed })
}
