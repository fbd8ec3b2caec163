//! How the lines fall, in words: runts, an uneven edge, lines on different sides, and lines that are short or long to
//! read.

use super::visible::visible;
use super::words::counted;
use crate::report::fit::Findings;
use crate::setting::findings::{Runt, Uneven};

/// One sentence for each finding, without a full stop; `lines` are the printed lines.
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
        Uneven::Short { line: at, percent, of_measure: None } => {
            format!("line {} is short: {percent} % of the shorter line beside it", at + 1)
        }
        Uneven::Short { line: at, of_measure: Some(percent), .. } => {
            format!("line {} is short: it takes {percent} % of its measure, and the lines beside it more", at + 1)
        }
    };
    let mut sentences: Vec<String> = findings.runts.iter().map(runt).collect();
    sentences.extend(findings.rag.iter().map(uneven));
    let jump = |at: &usize| format!("lines {at} and {} stand on different sides of a keep-out or place", at + 1);
    sentences.extend(findings.jumps.iter().map(jump));
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
