//! Set lines held against the art that they stand on.

use std::sync::Arc;

use super::copy::ShapedCopy;
use super::glyphs;
use super::hairline::hairline;
use super::lettering;
use super::lines::SetLine;
use crate::art::Ground;
use crate::art::ground::TintLight;
use crate::art::light::InkLight;
use crate::art::lines::{Grade, InkedLine, LineJudgement, LineLetters, judged};
use crate::brief::Brief;
use crate::brief::colour::Colour;
use crate::units::Length;

/// The thinnest stroke that stays open in ink when letters are left out of a dark ground (SWOP, 11th edition: seven
/// thousandths of an inch).
const THINNEST_REVERSED_PT: f64 = 0.5;
/// A ground of this lightness or darker is dark enough for ink to close thin strokes: a tone of about 70 % (SWOP).
const DARK_GROUND: f64 = 50.0;

/// The art behind one place of copy.
#[derive(Debug, Clone)]
pub struct PlaceGround {
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
    /// Its letters.
    pub letters: LineLetters,
    /// Its ink.
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
    let runs = glyphs::of_line(line, paragraph, &form.font, form.size);
    let letters = lettering::of_line(line, paragraph, &runs, form.size);
    let ink = ink_light(form.ink);
    let judgement = judged(&letters, &ink, &ground.behind);
    let text = |range| paragraph.block.text().get(range).unwrap_or_default().replace('\u{ad}', "");
    let words = judgement.stretches.iter().map(|stretch| text(stretch.text.clone())).collect();
    let behind = letters.window().map(|window| ground.behind.light_in(&window).lightness);
    let is_reversed = behind.is_some_and(|behind| behind < DARK_GROUND && ink.lightness > behind);
    let stroke = || hairline(paragraph.family.face(paragraph.style.emphasis)).map(|stroke| stroke.at(form.size));
    let fine_reversed = is_reversed.then(stroke).flatten().filter(|stroke| stroke.to_pt() < THINNEST_REVERSED_PT);
    Some(JudgedLine { line: number, place: line.place, letters, colour: form.ink, judgement, words, fine_reversed })
}
