//! How reports are written as JSON, and what all of their shapes share.
//!
//! A shape is the form that scripts rely on, apart from the program's own types; each stands in a file of its own whose
//! name ends in `_data`. Every length is in points, every place is in bytes of the draft's file, every number is a
//! number. A key is never taken away or given another meaning without a new `schema`.

use schemars::JsonSchema;
use serde::Serialize;

use super::visible::acts_on_a_terminal;
use crate::draft::Span;

/// Bytes of the draft's file.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct SpanJson {
    /// The first byte.
    start: usize,
    /// One past the last byte.
    end: usize,
}

impl From<Span> for SpanJson {
    fn from(span: Span) -> Self {
        Self { start: span.start, end: span.end }
    }
}

/// Four decimals: a ten-thousandth of a point is more than any of these figures holds.
pub(super) fn rounded(number: f64) -> f64 {
    (number * 10_000.0).round() / 10_000.0
}

/// One report in many lines, or in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Indented, to be read.
    Pretty,
    /// One line, for JSON Lines.
    Compact,
}

/// A report as JSON text, without a line ending after it. What a terminal would act on and JSON would let
/// through as it is (U+007F to U+009F, and marks that change the direction of writing) is escaped too.
pub fn written(report: &impl Serialize, style: Style) -> String {
    let text = match style {
        Style::Pretty => serde_json::to_string_pretty(report),
        Style::Compact => serde_json::to_string(report),
    };
    // These shapes hold no map with other keys than text and no number that is not finite, so writing cannot fail.
    escaped(text.unwrap_or_default())
}

/// The bytes with which the characters begin that JSON lets through and a terminal acts on: U+007F, U+0080 to U+00BF,
/// and U+2000 to U+2FFF. Most reports hold none but dashes and quotation marks of the last.
fn may_begin_what_acts(byte: u8) -> bool {
    matches!(byte, 0x7f | 0xc2 | 0xe2)
}

fn escaped(json: String) -> String {
    // The line endings of the indented style are the only ones: those inside text are escaped already.
    let acts = |character: char| character != '\n' && acts_on_a_terminal(character);
    if !json.bytes().any(may_begin_what_acts) || !json.contains(acts) {
        return json;
    }
    let mut safe = String::with_capacity(json.len());
    for character in json.chars() {
        if acts(character) {
            safe.push_str(&format!("\\u{:04x}", u32::from(character)));
        } else {
            safe.push(character);
        }
    }
    safe
}
