//! The art of a book's faces as JSON.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::art::{colours, says};
use super::fit_data::LegibilityJson;
use super::json::rounded;
use crate::art::facts::{ArtFacts, ArtFinding};
use crate::report::Report;
use crate::report::mends::ArtAdvice;

/// The art of a book.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct ArtJson {
    /// The picture of each face that has one, the panel's first.
    files: Vec<ArtFileJson>,
    /// Whether the copy can be read on it; left out where no copy stands on art.
    #[serde(flatten)]
    copy: Option<LegibilityJson>,
}

impl ArtJson {
    /// The art of a report, with what was tried for the lines on it; none where no face has art.
    pub(super) fn of(report: &Report, advice: &ArtAdvice) -> Option<Self> {
        let files: Vec<ArtFileJson> = report.art.iter().map(ArtFileJson::of).collect();
        (!files.is_empty()).then(|| Self { files, copy: LegibilityJson::of_report(report, advice) })
    }
}

/// The art of one face, as it is printed.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct ArtFileJson {
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// The file as the brief names it.
    file: String,
    /// `scene`, `round` or `spot`.
    kind: &'static str,
    /// `bleed` or `trim`.
    placed: &'static str,
    /// The picture's columns and rows.
    pixels: [usize; 2],
    /// The pixels to the inch as it is printed.
    ppi: f64,
    /// `grey`, `RGB` or `CMYK`.
    colour: &'static str,
    /// The name of its colour profile where that is not sRGB's; null where it is, or where there is none.
    profile: Option<String>,
    /// The most ink that a pixel takes, all inks together, in percent of one full ink; null but for CMYK.
    most_ink: Option<usize>,
    /// What its shape cuts off, in points: at both sides together, and at head and foot together.
    cut: [f64; 2],
    /// Whether it goes past the trim at every edge at which it should.
    bleed: bool,
    /// What should be looked at.
    queries: Vec<ArtQueryJson>,
}

/// Something about art that should be looked at.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ArtQueryJson {
    /// `art too small`, `art shape`, `no bleed`, `too much ink`, `grey paper`, `near the trim`, `seam`, `over the fold`
    /// or `crowded by art`.
    name: &'static str,
    /// What it is, as a sentence without its stop.
    says: String,
}

impl ArtFileJson {
    pub(super) fn of(facts: &ArtFacts) -> Self {
        let stops = |finding: &ArtFinding| matches!(finding, ArtFinding::StopsAtTrim | ArtFinding::BlankBleed(_));
        let query = |finding: &ArtFinding| ArtQueryJson { name: finding.name(), says: says(finding, facts) };
        Self {
            face: facts.face.name(),
            file: facts.file.to_string_lossy().into_owned(),
            kind: facts.kind,
            placed: facts.placed.name(),
            pixels: [facts.pixels.0, facts.pixels.1],
            ppi: rounded(facts.ppi),
            colour: colours(facts.model),
            profile: facts.profile.clone(),
            most_ink: facts.most_ink,
            cut: [rounded(facts.cut.0.to_pt()), rounded(facts.cut.1.to_pt())],
            bleed: !facts.findings.iter().any(stops),
            queries: facts.findings.iter().map(query).collect(),
        }
    }
}
