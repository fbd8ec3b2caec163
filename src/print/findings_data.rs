//! How the lines fall, as JSON: runts, an uneven edge, lines on different sides, lines that are short or long to read.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use crate::report::fit::Findings;
use crate::setting::findings::{Runt, Uneven};

/// How the lines fall.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct FindingsJson {
    /// Last lines of paragraphs that are one short word.
    runts: Vec<RuntJson>,
    /// Lines that end with the same word as the line before them, counted from 1.
    lines_that_end_alike: Vec<usize>,
    /// Lines that are much shorter than both their neighbours.
    short_lines: Vec<ShortJson>,
    /// Lines, counted from 1, that stand on another side of a keep-out than the line before them in their paragraph;
    /// looked for where the brief has places or shapes.
    lines_on_another_side: Vec<usize>,
    /// Full lines of the blurb of fewer than 45 characters.
    lines_under_45: usize,
    /// Lines of the blurb of more than 75 characters.
    lines_over_75: usize,
}

/// A last line that is one short word.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct RuntJson {
    /// The line, counted from 1.
    line: usize,
    /// How many letters the line has.
    letters: usize,
    /// How much of its measure the line takes.
    percent: usize,
}

/// A line that is much shorter than both its neighbours.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ShortJson {
    /// The line, counted from 1.
    line: usize,
    /// How long the line is, as a part of its shorter neighbour; in a shape, how much of its measure it takes, as a
    /// part of what that neighbour takes of its own.
    percent: usize,
    /// How much of its measure the line takes, where the lines beside it have other measures; null elsewhere.
    percent_of_measure: Option<usize>,
}

impl FindingsJson {
    pub(super) fn of(findings: &Findings) -> Self {
        let runt = |runt: &Runt| RuntJson { line: runt.line + 1, letters: runt.letters, percent: runt.percent };
        let alike = |uneven: &Uneven| match uneven {
            Uneven::EndsAlike { line, .. } => Some(line + 1),
            Uneven::Short { .. } => None,
        };
        let short = |uneven: &Uneven| match uneven {
            Uneven::Short { line, percent, of_measure } => {
                Some(ShortJson { line: line + 1, percent: *percent, percent_of_measure: *of_measure })
            }
            Uneven::EndsAlike { .. } => None,
        };
        Self {
            runts: findings.runts.iter().map(runt).collect(),
            lines_that_end_alike: findings.rag.iter().filter_map(alike).collect(),
            short_lines: findings.rag.iter().filter_map(short).collect(),
            lines_on_another_side: findings.jumps.iter().map(|line| line + 1).collect(),
            lines_under_45: findings.lengths.under,
            lines_over_75: findings.lengths.over,
        }
    }
}
