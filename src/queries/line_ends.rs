//! Runts, and an uneven edge: what the ends of the printed lines look like.
//!
//! The geometry is [`crate::setting::findings`]; this file says why it matters. Source: Bringhurst, The Elements of
//! Typographic Style, 2.1.2 and 2.4.3 (a last line of four letters at least; from memory); the rag is common practice.

use super::query::{Query, Reading};
use crate::brief::queries::Rule;
use crate::setting::SetLine;
use crate::setting::findings::{self, Uneven};
use crate::units::nouns::counted;

/// Finds paragraphs whose last line is one short word.
pub(super) fn runts(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    for runt in findings::runts(reading.setting, reading.draft, &reading.brief.typography) {
        let line = &reading.setting.lines[runt.line];
        let says = format!(
            "a runt: the paragraph's last line is one word of {}, {} % of its measure, and takes a whole line for \
             itself",
            counted(runt.letters, "letter"),
            runt.percent
        );
        queries.push(query(Rule::Runt, line, line.text.clone(), says));
    }
}

/// Finds lines that end alike, that are much shorter than their neighbours, or that stand on another side of a keep-out
/// than the line before them.
pub(super) fn rag(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    for uneven in findings::rag(reading.setting, reading.draft) {
        let (at, range, says) = match uneven {
            Uneven::EndsAlike { line, word } => {
                let text = &reading.draft.blocks[reading.setting.lines[line].paragraph].text()[word.clone()];
                (
                    line,
                    word,
                    format!("two lines that follow each other end with “{text}”, and the eye slips between them"),
                )
            }
            Uneven::Short { line, percent, of_measure } => {
                let range = reading.setting.lines[line].text.clone();
                let is = match of_measure {
                    None => format!("is {percent} % as long as the shorter of its neighbours"),
                    Some(percent) => format!("takes {percent} % of its measure, and its neighbours more"),
                };
                (line, range, format!("this line {is}, and looks like the end of a paragraph"))
            }
        };
        queries.push(query(Rule::Rag, &reading.setting.lines[at], range, says));
    }
    for at in findings::jumps(reading.setting) {
        let line = &reading.setting.lines[at];
        let says = "this line stands on another side of a keep-out or place than the line before it, and the eye has \
                    to look for it";
        queries.push(query(Rule::Rag, line, line.text.clone(), says.to_owned()));
    }
}

fn query(rule: Rule, line: &SetLine, range: std::ops::Range<usize>, says: String) -> Query {
    Query { rule, block: line.paragraph, range, says, cuts: Vec::new() }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn line_ends_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/line_ends.txt"));
    }
}
