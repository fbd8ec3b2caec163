//! The front cover's line said again on the back.
//!
//! Source: common practice: the reader has just seen the front, and the back has little room. The line is told where it
//! stands whole, or four words of it or more in a row; the title alone is not a line.

use std::ops::Range;

use super::prose::Prose;
use super::query::{Query, Reading};
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::text::words;

/// The fewest words in a row that count as the front cover's line.
const FEWEST: usize = 4;
/// The fewest words of a line that is looked for: fewer could be any words.
const SHORTEST_LINE: usize = 2;

/// Finds the front cover's line in the headline or the blurb.
pub(super) fn front_cover_lines(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let written = &reading.brief.queries.front_cover;
    let line: Vec<String> = words::find(written).into_iter().map(|word| fold(&written[word])).collect();
    if line.len() < SHORTEST_LINE {
        return;
    }
    let mut at = 0;
    while at < prose.words.len() {
        let run = longest(prose, at, &line);
        let place = at..at + run;
        at += run.max(1);
        if run < FEWEST.min(line.len()) || is_title(reading, prose, &place) {
            continue;
        }
        queries.push(Query {
            rule: Rule::FrontCoverLine,
            block: prose.number,
            range: prose.bytes(&place),
            says: "the front cover says this already; the back can say something new".to_owned(),
            cuts: Vec::new(),
        });
    }
}

/// How many words from a position on stand in a row in the line, at the most.
fn longest(prose: &Prose<'_>, at: usize, line: &[String]) -> usize {
    let shared = |from: usize| {
        line[from..].iter().zip(&prose.words[at..]).take_while(|(line, word)| line.as_str() == word.word).count()
    };
    (0..line.len()).map(shared).max().unwrap_or(0)
}

fn is_title(reading: &Reading<'_>, prose: &Prose<'_>, place: &Range<usize>) -> bool {
    prose.wanted_over(reading, place).iter().any(|wanted| wanted.start <= place.start && place.end <= wanted.end)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn front_cover_lines_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/front_cover.txt"));
    }
}
