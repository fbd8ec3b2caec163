//! Set lines held against the art that they stand on.

use std::ops::Range;
use std::sync::Arc;

use super::lettering;
use super::lines::{Grade, InkedLine, LineJudgement, LineLetters, judged};
use super::placement::PlacedArt;
use crate::artwork::ground::TintLight;
use crate::artwork::light::InkLight;
use crate::artwork::{Ground, GroundOf};
use crate::brief::Brief;
use crate::brief::art::Tint;
use crate::brief::colour::Colour;
use crate::brief::panel::FaceLayout;
use crate::brief::place::CoverFace;
use crate::setting::glyphs;
use crate::setting::hairline::hairline;
use crate::setting::lines::SetLine;
use crate::setting::{Rooms, ShapedCopy};
use crate::units::Length;

/// The thinnest stroke that stays open in ink when letters are left out of a dark ground (SWOP, 11th edition: seven
/// thousandths of an inch).
const THINNEST_REVERSED_PT: f64 = 0.5;
/// A ground of this lightness or darker is dark enough for ink to close thin strokes: a tone of about 70 % (SWOP).
const DARK_GROUND: f64 = 50.0;

/// How far round a place its tinted ground is made, in points: farther than the window of any letter in the place
/// reaches.
const BEYOND_PLACE_PT: f64 = 36.0;

/// The art behind one place of copy.
#[derive(Debug, Clone)]
pub struct PlaceGround {
    /// The face that the place is on.
    pub face: CoverFace,
    /// What the place is called.
    pub name: String,
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
    let faces: Vec<FaceLayout<'_>> = brief.faces().filter(|face| face.art.is_some()).collect();
    let ground = |(name, face): (&str, CoverFace)| {
        let layout = faces.iter().find(|layout| layout.face == face)?;
        let file = layout.art?.picture.read.as_ref()?;
        let PlacedArt { rect, source, .. } = PlacedArt::on(layout)?;
        let place = layout.places.iter().find(|place| place.name == name);
        let bare = file.ground(&GroundOf { rect, source, tint: None });
        let tint = layout.tint_of(place).map(|tint| tint_light(&tint));
        let behind = tint.map_or_else(
            || Arc::clone(&bare),
            |tint| {
                let part = place.map_or(layout.live, |place| place.bounds).grown(Length::pt(BEYOND_PLACE_PT));
                file.ground(&GroundOf { rect, source, tint: Some((tint, part)) })
            },
        );
        Some(PlaceGround { face, name: name.to_owned(), bare, behind, tint })
    };
    places.map(ground).collect()
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
    let stroke = || hairline(paragraph.family.face(paragraph.style.emphasis)).map(|stroke| stroke.at(form.size));
    let fine_reversed = is_reversed.then(stroke).flatten().filter(|stroke| stroke.to_pt() < THINNEST_REVERSED_PT);
    let place_name = ground.name.clone();
    Some(JudgedLine { line: number, place: line.place, place_name, letters, colour, judgement, words, fine_reversed })
}
