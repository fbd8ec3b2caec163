//! The front cover's line, or the headline, said again on the back.
//!
//! Source: common practice: the reader has just seen the front, and the back has little room. The line is told where it
//! stands whole, or four words of it or more in a row; the title alone is not a line. A headline is told where all of
//! it stands again in the blurb: a short one, which may be a hero's name, only where it is what the book is called.

use std::ops::Range;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::draft::BlockKind;
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

/// The fewest words of a headline that are no hero's name.
const NO_NAME: usize = 4;
/// What a book does behind its title.
const BOOKS_DO: [&str; 9] =
    ["is", "tells", "follows", "takes", "shows", "brings", "introduces", "teaches", "celebrates"];

/// Finds the headline in the blurb, where it first stands there.
pub(super) fn headlines_again(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let headline = own.copy().iter().find(|prose| prose.block.kind == BlockKind::Headline);
    let line: Vec<&str> = headline.into_iter().flat_map(|prose| prose.words.iter().map(|word| word.word)).collect();
    let is_name = |name: &str| words::find(name).into_iter().map(|word| fold(&name[word])).eq(line.iter().copied());
    if line.is_empty() || reading.brief.book.names.iter().any(|name| is_name(&name.name)) {
        return;
    }
    let stands = |prose: &Prose<'_>, at: usize| {
        let there = prose.words.get(at..at + line.len()).unwrap_or_default();
        let is_there = there.len() == line.len() && there.iter().zip(&line).all(|(word, own)| word.word == *own);
        let is_called = || BOOKS_DO.contains(&prose.word(at + line.len())) && prose.sentence_of(at).start == at;
        is_there
            && prose.is_capital(at)
            && !prose.is_quoted(&prose.words[at].range)
            && (line.len() >= NO_NAME || is_called())
    };
    let places = own.blurb().iter().flat_map(|prose| (0..prose.words.len()).map(move |at| (prose, at)));
    let Some((prose, at)) = places.into_iter().find(|(prose, at)| stands(prose, *at)) else { return };
    queries.push(Query {
        rule: Rule::FrontCoverLine,
        block: prose.number,
        range: prose.bytes(&(at..at + line.len())),
        says: "the headline says this already; the blurb can go on from there".to_owned(),
        cuts: Vec::new(),
    });
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
