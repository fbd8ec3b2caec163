//! Words that stand on art and cannot be read with ease: faint ink, a busy ground, and light type with strokes that
//! fill in.
//!
//! How lines are judged is [`crate::art::lines`]; this file says what the author should look at. Sources: WCAG 2.2,
//! success criterion 1.4.3 and technique G18; the stand-out ratio is this project's own, and says so; for strokes that
//! are left out of a dark ground SWOP, 11th edition: none thinner than .007 in, which is half a point.

use super::query::{Query, Reading};
use crate::art::lines::{CLEAR_STAND_OUT, Cause, Grade, contrast_wanted};
use crate::art::on_art::JudgedLine;
use crate::brief::queries::Rule;
use crate::units::trimmed;

/// Finds words whose ink is too near to the lightness of the art behind them.
pub(super) fn faint(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    stretches(reading, Cause::Faint, Rule::FaintInk, queries);
}

/// Finds words behind which the art is too uneven.
pub(super) fn busy(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    stretches(reading, Cause::Busy, Rule::BusyGround, queries);
}

/// Finds paragraphs in light type on dark art whose thinnest strokes may fill in with ink, each at its first such line.
pub(super) fn fine_reversed(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let mut last = None;
    for judged in reading.art {
        let (Some(stroke), Some(line)) = (judged.fine_reversed, reading.setting.lines.get(judged.line)) else {
            continue;
        };
        if last.replace(line.paragraph) == Some(line.paragraph) {
            continue;
        }
        let says = format!(
            "light type on dark art, and the thinnest strokes are {} pt; ink may close what is under 0.5 pt, so set it \
             larger, bolder or in a face of even strokes",
            trimmed(stroke.to_pt(), 2)
        );
        queries.push(Query {
            rule: Rule::FineReversed,
            block: line.paragraph,
            range: line.text.clone(),
            says,
            cuts: Vec::new(),
        });
    }
}

fn stretches(reading: &Reading<'_>, cause: Cause, rule: Rule, queries: &mut Vec<Query>) {
    for judged in reading.art {
        let Some(line) = reading.setting.lines.get(judged.line) else { continue };
        for stretch in judged.judgement.stretches.iter().filter(|stretch| stretch.cause == cause) {
            let says = said(judged, cause, stretch.grade, (stretch.stand_out, stretch.contrast));
            queries.push(Query { rule, block: line.paragraph, range: stretch.text.clone(), says, cuts: Vec::new() });
        }
    }
}

fn said(line: &JudgedLine, cause: Cause, grade: Grade, (stand_out, contrast): (f64, f64)) -> String {
    let told = |ratio: f64| trimmed((ratio * 10.0).floor() / 10.0, 1);
    let is = match grade {
        Grade::Lost => "lost",
        Grade::Hard | Grade::Clear => "hard to read",
    };
    let why = match cause {
        Cause::Faint => "the ink is too near to the art's lightness",
        Cause::Busy => "the art behind it is too busy",
    };
    format!(
        "{is} on the art, since {why}: stand-out {} of {}, contrast {}:1 of {}:1",
        told(stand_out),
        trimmed(CLEAR_STAND_OUT, 1),
        told(contrast),
        trimmed(contrast_wanted(line.letters.is_large), 1)
    )
}
