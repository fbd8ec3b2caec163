//! The panel's figures as JSON: each length in inches, millimetres, points and pixels.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::fit_data::ArtFileJson;
use super::json::{Style, written};
use super::panel::{PanelPage, pixels};
use super::report_data::{EstimateJson, MissingStyleJson};
use crate::report::drawing::FramePart;
use crate::report::panel::{FaceFigures, PartFigures};
use crate::units::Length;

/// The name of the present form of the JSON.
pub(super) const SCHEMA: &str = "blurbwright-panel-1";

/// The figures as JSON.
pub fn json(page: &PanelPage<'_>) -> String {
    let of_face = |face| PartJson::of_face(face, page.resolution);
    let parts = page.figures.faces.iter().flat_map(of_face);
    let view = PanelJson {
        schema: SCHEMA,
        title: &page.brief.book.title,
        binding: page.brief.bound_as(),
        pixels_per_inch: page.resolution,
        parts: parts.collect(),
        art: (!page.figures.art.is_empty()).then(|| page.figures.art.iter().map(ArtFileJson::of).collect()),
        notes: &page.figures.notes,
        styles_missing: page.figures.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: page.figures.estimated.iter().map(EstimateJson::of).collect(),
    };
    written(&view, Style::Pretty)
}

/// The figures of one panel.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct PanelJson<'a> {
    /// The name of this form.
    schema: &'static str,
    /// The title of the book; empty where the brief gives none.
    title: &'a str,
    /// What the book is in the hand: paperback, case or jacket, or board book.
    binding: &'static str,
    /// The pixels to the inch of every length in pixels.
    pixels_per_inch: u32,
    /// From the outside in, the panel's before those of the flaps. Each that is `quiet` has to stay so; without places
    /// that is the last one.
    parts: Vec<PartJson<'a>>,
    /// The art of each face that has some; left out where the brief names none.
    #[serde(skip_serializing_if = "Option::is_none")]
    art: Option<Vec<ArtFileJson>>,
    /// What the illustrator and the editor should know of the panel.
    notes: &'a [String],
    /// Styles that the draft's words ask for and their fonts have not; none without a draft.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts of the draft that are not at hand, for which the built-in serif stands in; none without a draft.
    fonts_stood_in: Vec<EstimateJson>,
}

/// One part, its place from the head left corner of its face.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PartJson<'a> {
    /// What it is.
    name: &'a str,
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// `bleed`, `edge`, `live_area`, `keep_out`, `place` or `quiet`; without a draft, a place has to stay quiet too.
    part: &'static str,
    /// `box`, `ellipse`, `round` or `polygon`; the next four are then the box that the shape fills.
    shape: &'static str,
    /// What it holds, where it is a place, or the live area of a flap that holds copy by itself: `headline`, `quote 2`.
    holds: &'a [String],
    /// The place whose copy this one's follows, beginning where that one's ends; null where it follows none.
    follows: Option<&'a str>,
    /// From the left edge of the face to its own, below nought where it lies outside the face.
    x: LengthJson,
    /// From the head of the face to its own.
    y: LengthJson,
    /// How far it reaches across.
    width: LengthJson,
    /// How far it reaches down.
    height: LengthJson,
    /// The room that stays clear round it; null where none is asked for.
    clearance: Option<LengthJson>,
    /// How far copy stays away from its edge inside it, where it is a place; null for all else.
    inset: Option<LengthJson>,
}

/// One length in every unit.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
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
    fn of_face(face: &'a FaceFigures, resolution: u32) -> impl Iterator<Item = Self> {
        face.parts.iter().map(move |part| Self::of(part, face.face.name(), resolution))
    }

    fn of(part: &'a PartFigures, face: &'static str, resolution: u32) -> Self {
        let length = |length: Length| LengthJson {
            inches: length.to_inches(),
            mm: length.to_mm(),
            pt: length.to_pt(),
            px: pixels(length, resolution),
        };
        Self {
            name: &part.name,
            face,
            part: match part.part {
                FramePart::Bleed => "bleed",
                FramePart::Face | FramePart::Fold => "edge",
                FramePart::LiveArea => "live_area",
                FramePart::Clearance | FramePart::KeepOut => "keep_out",
                FramePart::Place => "place",
                FramePart::Quiet => "quiet",
            },
            shape: part.shape,
            holds: &part.holds,
            follows: part.follows.as_deref(),
            x: length(part.rect.x),
            y: length(part.rect.y),
            width: length(part.rect.width),
            height: length(part.rect.height),
            clearance: part.clearance.map(length),
            inset: part.inset.map(length),
        }
    }
}
