//! The panel's figures as a page and as JSON: each length in inches, millimetres, points and pixels.

use schemars::JsonSchema;
use serde::Serialize;

use super::json::{self, EstimateJson, MissingStyleJson, Style};
use super::sheet::TextPage;
use super::visible::visible;
use super::words::{estimate, style_missing};
use crate::brief::Brief;
use crate::report::panel::{PanelFigures, PartFigures};
use crate::units::{Length, Rect, trimmed};

/// The name of the present form of the JSON.
pub const SCHEMA: &str = "blurbwright-panel-1";

/// What a page of figures is written from.
#[derive(Debug, Clone, Copy)]
pub struct PanelPage<'a> {
    /// The brief.
    pub brief: &'a Brief,
    /// The figures of its panel.
    pub figures: &'a PanelFigures,
    /// Pixels per inch.
    pub resolution: u32,
    /// Columns that the page may take.
    pub columns: usize,
}

/// The units in which a length is given, in the order of a page.
const UNITS: [&str; 4] = ["in", "mm", "pt", "px"];

/// The figures as text, its last line ended.
pub fn written(page: &PanelPage<'_>) -> String {
    let PanelPage { brief, figures, resolution, columns } = *page;
    let mut sheet = TextPage::new(columns);
    let title = visible(&brief.book.title);
    let title = if title.is_empty() { "The back panel".into() } else { title };
    sheet.line(format!("{title}: the back panel of a {}", brief.bound_as()));
    sheet.line(String::new());
    sheet.labelled("", "Seen from outside: the spine is the right edge. Places are from the fore-edge and the head.");
    sheet.line(String::new());
    sheet.line(format!("{:<26}{:>4}{:>11}{:>11}{:>11}{:>11}", "", "", "across", "down", "from left", "from head"));
    for part in &figures.parts {
        let mut name = visible(&part.name).into_owned();
        for unit in UNITS {
            let length = |length| format!("{:>11}", shown(length, unit, resolution));
            let Rect { x, y, width, height } = part.rect;
            sheet.line(format!("{name:<26}{unit:>4}{}{}{}{}", length(width), length(height), length(x), length(y)));
            name = String::new();
        }
        if let Some(clearance) = part.clearance.filter(|clearance| *clearance > Length::ZERO) {
            let lengths = UNITS.map(|unit| format!("{} {unit}", shown(clearance, unit, resolution)));
            sheet.line(format!("{:<30}clear round it: {}", "", lengths.join(", ")));
        }
        sheet.line(String::new());
    }
    sheet.labelled("Pixels", &canvas(page));
    let notes: Vec<String> =
        figures.notes.iter().map(|note| visible(note).into_owned()).chain(of_type(figures)).collect();
    for (index, note) in notes.iter().enumerate() {
        sheet.labelled(if index == 0 { "Notes" } else { "" }, note);
    }
    sheet.labelled("", "The printer's own figures for bleed, margins, joint and barcode come first.");
    sheet.text()
}

/// What is to be known of the type in which the draft is set whose place has to stay quiet, a sentence each.
pub fn of_type(figures: &PanelFigures) -> impl Iterator<Item = String> + '_ {
    figures.estimated.iter().map(estimate).chain(figures.styles_missing.iter().map(style_missing))
}

/// What an illustrator's file measures, and where the panel lies in it.
fn canvas(page: &PanelPage<'_>) -> String {
    let PanelPage { brief, figures, resolution, .. } = *page;
    let art = figures.art();
    let pixels = |length| shown(length, "px", resolution);
    format!(
        "at {resolution} per inch. Art with its {} is {} x {} pixels, and the panel begins {} pixels in from its left edge and {} \
         from its head",
        brief.panel.binding.art(),
        pixels(art.width),
        pixels(art.height),
        pixels(-art.x),
        pixels(-art.y)
    )
}

fn shown(length: Length, unit: &str, resolution: u32) -> String {
    match unit {
        "in" => trimmed(length.to_inches(), 3),
        "mm" => trimmed(length.to_mm(), 2),
        "pt" => trimmed(length.to_pt(), 2),
        _ => pixels(length, resolution).to_string(),
    }
}

fn pixels(length: Length, resolution: u32) -> i64 {
    (length.to_inches() * f64::from(resolution)).round() as i64
}

/// The figures as JSON.
pub fn json(page: &PanelPage<'_>) -> String {
    let parts = page.figures.parts.iter().map(|part| PartJson::of(part, page.resolution));
    let written = PanelJson {
        schema: SCHEMA,
        title: &page.brief.book.title,
        binding: page.brief.bound_as(),
        pixels_per_inch: page.resolution,
        parts: parts.collect(),
        notes: &page.figures.notes,
        styles_missing: page.figures.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: page.figures.estimated.iter().map(EstimateJson::of).collect(),
    };
    json::written(&written, Style::Pretty)
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
