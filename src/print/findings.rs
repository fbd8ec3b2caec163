//! How the lines fall, in words and as JSON: runts, an uneven edge, lines that are short or long to read.

use schemars::JsonSchema;
use serde::Serialize;

use super::visible::visible;
use super::words::counted;
use crate::report::fit::Findings;
use crate::setting::findings::{Runt, Uneven};

/// One sentence, without its stop, for each finding; `lines` are the printed lines.
pub(super) fn sentences(findings: &Findings, lines: &[&str]) -> Vec<String> {
    let line = |at: usize| visible(lines.get(at).copied().unwrap_or_default());
    let runt = |runt: &Runt| {
        let letters = counted(runt.letters, "letter");
        format!(
            "line {} is a runt: \"{}\", {letters}, {} % of its measure",
            runt.line + 1,
            line(runt.line),
            runt.percent
        )
    };
    let uneven = |uneven: &Uneven| match uneven {
        Uneven::EndsAlike { line: at, .. } => {
            let text = line(*at);
            let last = text.split_whitespace().last().unwrap_or_default();
            format!("lines {at} and {} end alike, with \"{last}\"", at + 1)
        }
        Uneven::Short { line: at, percent } => {
            format!("line {} is short: {percent} % of the shorter line beside it", at + 1)
        }
    };
    let mut sentences: Vec<String> = findings.runts.iter().map(runt).collect();
    sentences.extend(findings.rag.iter().map(uneven));
    let lengths = &findings.lengths;
    let of_all = |count: usize| format!("{count} of {} of the blurb", counted(lengths.lines, "line"));
    if lengths.over > 0 {
        sentences.push(format!("longer than the 75 characters that are easy to read: {}", of_all(lengths.over)));
    }
    if lengths.under > 0 {
        sentences.push(format!("shorter than the 45 characters that are easy to read: {}", of_all(lengths.under)));
    }
    sentences
}

/// How the lines fall.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FindingsJson {
    /// Last lines of paragraphs that are one short word.
    runts: Vec<RuntJson>,
    /// Lines that end with the same word as the line before them, counted from 1.
    lines_that_end_alike: Vec<usize>,
    /// Lines that are much shorter than both their neighbours.
    short_lines: Vec<ShortJson>,
    /// Full lines of the blurb of fewer than 45 characters.
    lines_under_45: usize,
    /// Lines of the blurb of more than 75 characters.
    lines_over_75: usize,
}

/// A last line that is one short word.
#[derive(Debug, Serialize, JsonSchema)]
struct RuntJson {
    /// The line, counted from 1.
    line: usize,
    /// Its letters.
    letters: usize,
    /// How much of its measure it takes.
    percent: usize,
}

/// A line that is much shorter than both its neighbours.
#[derive(Debug, Serialize, JsonSchema)]
struct ShortJson {
    /// The line, counted from 1.
    line: usize,
    /// How much of the shorter neighbour it has.
    percent: usize,
}

impl FindingsJson {
    pub(super) fn of(findings: &Findings) -> Self {
        let runt = |runt: &Runt| RuntJson { line: runt.line + 1, letters: runt.letters, percent: runt.percent };
        let alike = |uneven: &Uneven| match uneven {
            Uneven::EndsAlike { line, .. } => Some(line + 1),
            Uneven::Short { .. } => None,
        };
        let short = |uneven: &Uneven| match uneven {
            Uneven::Short { line, percent } => Some(ShortJson { line: line + 1, percent: *percent }),
            Uneven::EndsAlike { .. } => None,
        };
        Self {
            runts: findings.runts.iter().map(runt).collect(),
            lines_that_end_alike: findings.rag.iter().filter_map(alike).collect(),
            short_lines: findings.rag.iter().filter_map(short).collect(),
            lines_under_45: findings.lengths.under,
            lines_over_75: findings.lengths.over,
        }
    }
}
