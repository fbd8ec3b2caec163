//! The panel's figures as JSON: each length in inches, millimetres, points and pixels.

use schemars::JsonSchema;
use serde::Serialize;

use super::json::{Style, written};
use super::panel::{PanelPage, pixels};
use super::report_data::{EstimateJson, MissingStyleJson};
use crate::report::panel::PartFigures;
use crate::units::Length;

/// The name of the present form of the JSON.
pub(super) const SCHEMA: &str = "blurbwright-panel-1";

/// The figures as JSON.
pub fn json(page: &PanelPage<'_>) -> String {
    let parts = page.figures.parts.iter().map(|part| PartJson::of(part, page.resolution));
    let view = PanelJson {
        schema: SCHEMA,
        title: &page.brief.book.title,
        binding: page.brief.bound_as(),
        pixels_per_inch: page.resolution,
        parts: parts.collect(),
        notes: &page.figures.notes,
        styles_missing: page.figures.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: page.figures.estimated.iter().map(EstimateJson::of).collect(),
    };
    written(&view, Style::Pretty)
}

/// The figures of one panel.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PanelJson<'a> {
    /// The name of this form.
    schema: &'static str,
    /// The title of the book; empty where the brief gives none.
    title: &'a str,
    /// What the book is in the hand: paperback, case or jacket, or board book.
    binding: &'static str,
    /// The pixels to the inch of every length in pixels.
    pixels_per_inch: u32,
    /// From the outside in; the last one has to stay quiet.
    parts: Vec<PartJson<'a>>,
    /// What the illustrator and the editor should know of the panel.
    notes: &'a [String],
    /// Styles that the draft's words ask for and their fonts have not; none without a draft.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts of the draft that are not at hand, for which the built-in serif stands in; none without a draft.
    fonts_stood_in: Vec<EstimateJson>,
}

/// One part, its place from the panel's head fore-edge corner.
#[derive(Debug, Serialize, JsonSchema)]
struct PartJson<'a> {
    /// What it is.
    name: &'a str,
    /// From the left edge of the panel to its own, below nought where it lies outside the panel.
    x: LengthJson,
    /// From the head of the panel to its own.
    y: LengthJson,
    /// How far it reaches across.
    width: LengthJson,
    /// How far it reaches down.
    height: LengthJson,
    /// The room that stays clear round it; null where none is asked for.
    clearance: Option<LengthJson>,
}

/// One length in every unit.
#[derive(Debug, Serialize, JsonSchema)]
struct LengthJson {
    /// Inches.
    #[serde(rename = "in")]
    inches: f64,
    /// Millimetres.
    mm: f64,
    /// Points, 72 to the inch.
    pt: f64,
    /// Whole pixels at `pixels_per_inch`.
    px: i64,
}

impl<'a> PartJson<'a> {
    fn of(part: &'a PartFigures, resolution: u32) -> Self {
        let length = |length: Length| LengthJson {
            inches: length.to_inches(),
            mm: length.to_mm(),
            pt: length.to_pt(),
            px: pixels(length, resolution),
        };
        Self {
            name: &part.name,
            x: length(part.rect.x),
            y: length(part.rect.y),
            width: length(part.rect.width),
            height: length(part.rect.height),
            clearance: part.clearance.map(length),
        }
    }
}
