//! How reports are written as JSON, and what their shapes have in common.
//!
//! A shape is the form on which scripts rely, separate from the program's own types; each shape is in a file whose name
//! ends in `_data`. Every length is in points, every place is in bytes of the draft's file, and every number is a JSON
//! number. A key is never removed or given another meaning without a new `schema`.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::visible::acts_on_a_terminal;
use crate::draft::Span;

/// Bytes of the draft's file.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
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

/// Rounds to four decimals: a ten-thousandth of a point is finer than any of these figures is exact.
pub(super) fn rounded(number: f64) -> f64 {
    (number * 10_000.0).round() / 10_000.0
}

/// Whether a report takes many lines or one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Indented, to be read.
    Pretty,
    /// One line, for JSON Lines.
    Compact,
}

/// A report as JSON text, without a line ending at the end. Characters that JSON allows and a terminal obeys (U+007F to
/// U+009F, and marks that change the direction of writing) are escaped too.
pub fn written(report: &impl Serialize, style: Style) -> String {
    let text = match style {
        Style::Pretty => serde_json::to_string_pretty(report),
        Style::Compact => serde_json::to_string(report),
    };
    // These shapes hold only maps with text keys and only finite numbers, so serialising cannot fail.
    escaped(text.unwrap_or_default())
}

/// Whether a byte may begin a character that JSON allows and a terminal obeys. The bytes begin U+007F, U+0080 to
/// U+00BF, and U+2000 to U+2FFF, so of ordinary characters only dashes and quotation marks are checked further.
fn may_begin_what_acts(byte: u8) -> bool {
    matches!(byte, 0x7f | 0xc2 | 0xe2)
}

fn escaped(json: String) -> String {
    // Line endings occur only between the lines of the indented style; those inside text are already escaped.
    let acts = |character: char| character != '\n' && acts_on_a_terminal(character);
    let is_one = |at: usize| json.get(at..).is_some_and(|rest| rest.starts_with(acts));
    if !json.bytes().enumerate().any(|(at, byte)| may_begin_what_acts(byte) && is_one(at)) {
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
