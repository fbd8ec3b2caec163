//! The copy at every size as JSON.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::fit_data::{FindingsJson, LegibilityJson, SpineJson};
use super::json::{Style, written};
use super::report_data::{EstimateJson, MissingStyleJson};
use crate::report::mends::ArtAdvice;
use crate::report::places::FitPlace;
use crate::report::sizes::{Priced, SizeRow, SizedPlace, Sizes};
use crate::units::Length;

/// The name of the present form of the JSON.
pub(super) const SCHEMA: &str = "blurbwright-fit-1";

/// The copy of one draft at every size.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct SizesJson {
    /// The name of this form.
    schema: &'static str,
    /// The draft's file as it was named.
    path: String,
    /// The largest size that fits, from 4 to 40 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
    /// Smaller sizes that do not fit although the largest does.
    gaps_pt: Vec<f64>,
    /// The places that keep a larger size from fitting.
    held_by: Vec<String>,
    /// Every place of copy, with the largest size at which it holds its copy; the live area alone where the brief has
    /// no places.
    places: Vec<LargestJson>,
    /// The least x-height that is advised for the readers, in millimetres.
    advised_x_height_mm: f64,
    /// Where that x-height is advised.
    advice_source: &'static str,
    /// From the smallest size to the largest.
    sizes: Vec<RowJson>,
    /// What a line costs in each paragraph at the brief's size.
    paragraphs: Vec<PriceJson>,
    /// Styles that the copy asks for and its font has not.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts that are not at hand, for which the built-in serif stands in; all of it is an estimate where there is one.
    fonts_stood_in: Vec<EstimateJson>,
    /// The book's title on its spine, at its own size; null where the brief has no spine.
    spine: Option<SpineJson>,
    /// How the lines fall at the brief's size.
    findings: FindingsJson,
    /// Whether the copy can be read on its art at the brief's size; left out where no copy stands on art.
    #[serde(skip_serializing_if = "Option::is_none")]
    art: Option<LegibilityJson>,
}

/// The copy at one size.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct RowJson {
    /// The size of the blurb.
    size_pt: f64,
    /// From baseline to baseline.
    leading_pt: f64,
    /// Whether it is the brief's own size.
    own: bool,
    /// Whether every line has room.
    fits: bool,
    /// The lines that the copy takes.
    lines: usize,
    /// The lines that the room takes.
    lines_available: usize,
    /// The lines that have no room.
    lines_over: usize,
    /// The lines that are left.
    lines_spare: usize,
    /// Characters on a line of the blurb, on average over its lines but the last of each paragraph.
    characters_a_line: usize,
    /// About how many words of this author's the room holds.
    words_held: usize,
    /// The height of a small letter.
    x_height_mm: f64,
    /// Whether small letters are lower than is advised for the readers.
    small: bool,
    /// Every place at this size.
    places: Vec<PlaceAtSizeJson>,
}

/// The largest size of the blurb at which one place holds its copy.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LargestJson {
    /// What the brief calls the place; `live area` for the part of the panel where all stands that no place holds.
    name: String,
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// The parts of the draft that stand in the place: `blurb`, `quote 2`.
    blocks: Vec<String>,
    /// The size, from 4 to 40 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
}

/// What one place takes and leaves at one size.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PlaceAtSizeJson {
    /// What the brief calls the place.
    name: String,
    /// Whether every line stands in the place and none is wider than its measure.
    fits: bool,
    /// Lines set, those over included.
    lines: usize,
    /// Lines that the place holds.
    lines_available: usize,
    /// Lines that do not fit.
    lines_over: usize,
    /// Lines that are left, of the type of the place's last block.
    lines_spare: usize,
}

/// What a line costs in one paragraph.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct PriceJson {
    /// What part of the copy the paragraph belongs to.
    block: &'static str,
    /// The place that the paragraph stands in; null where the brief has no places.
    place: Option<String>,
    /// The paragraph's first words.
    opening: String,
    /// The lines that the paragraph takes.
    lines: usize,
    /// How few letters must go to win a line back; null where only all of it would do.
    letters_to_win: Option<usize>,
    /// Whether every stretch was tried; false where there is too much copy for it, and nothing is known of what wins a
    /// line.
    all_tried: bool,
    /// Whole words that win a line back; null where only all of it would do, in a quote, and where they would run over
    /// the end of a line that the author has ended.
    stretch: Option<String>,
    /// The letters of these words, which may be a few more.
    stretch_letters: Option<usize>,
    /// How many letters may be added before one more line spills.
    letters_spare: usize,
}

/// The JSON of one draft, without a line ending after it.
pub fn json(sizes: &Sizes, path: &str, style: Style) -> String {
    let row = |row: &SizeRow| RowJson {
        size_pt: row.size.to_pt(),
        leading_pt: row.leading.to_pt(),
        own: row.own,
        fits: row.fits,
        lines: row.castoff.lines,
        lines_available: row.castoff.lines_available,
        lines_over: row.castoff.lines_over,
        lines_spare: row.castoff.lines_spare,
        characters_a_line: row.characters_a_line,
        words_held: row.words_held,
        x_height_mm: row.x_height.to_mm(),
        small: row.x_height < sizes.advice.x_height,
        places: row.places.iter().map(PlaceAtSizeJson::of).collect(),
    };
    let view = SizesJson {
        schema: SCHEMA,
        path: path.to_owned(),
        largest_size_pt: sizes.largest.map(Length::to_pt),
        gaps_pt: sizes.gaps.iter().map(|size| size.to_pt()).collect(),
        held_by: sizes.held_by.clone(),
        places: sizes.places.iter().map(LargestJson::of).collect(),
        advised_x_height_mm: sizes.advice.x_height.to_mm(),
        advice_source: sizes.advice.source,
        sizes: sizes.rows.iter().map(row).collect(),
        paragraphs: sizes.prices.iter().map(price_json).collect(),
        spine: sizes.spine.as_ref().map(SpineJson::of),
        findings: FindingsJson::of(&sizes.findings),
        styles_missing: sizes.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: sizes.estimated.iter().map(EstimateJson::of).collect(),
        art: sizes.legibility.as_ref().map(|art| {
            let text = |line: usize| sizes.lines.get(line).map_or("", String::as_str);
            LegibilityJson::of(art, &ArtAdvice::default(), text)
        }),
    };
    written(&view, style)
}

impl LargestJson {
    fn of(SizedPlace { place, largest }: &SizedPlace) -> Self {
        let (name, blocks) = (place.name.clone(), place.blocks.clone());
        Self { name, face: place.face.name(), blocks, largest_size_pt: largest.map(Length::to_pt) }
    }
}

impl PlaceAtSizeJson {
    fn of(place: &FitPlace) -> Self {
        let cast = &place.castoff;
        Self {
            name: place.name.clone(),
            fits: place.fits(),
            lines: cast.lines,
            lines_available: cast.lines_available,
            lines_over: cast.lines_over,
            lines_spare: cast.lines_spare,
        }
    }
}

/// What a line costs in one paragraph, as JSON.
pub(super) fn price_json(priced: &Priced) -> PriceJson {
    PriceJson {
        block: priced.kind.name(),
        place: priced.place.clone(),
        opening: priced.opening.clone(),
        lines: priced.price.lines,
        letters_to_win: priced.price.win.as_ref().map(|win| win.letters),
        all_tried: priced.price.searched,
        stretch: priced.stretch.as_ref().map(|stretch| stretch.text.clone()),
        stretch_letters: priced.stretch.as_ref().map(|stretch| stretch.letters),
        letters_spare: priced.price.letters_spare,
    }
}
