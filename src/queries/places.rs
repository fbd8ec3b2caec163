//! Leaves one query at a place: where several rules find the same words, one of them speaks.
//!
//! Rules speak of five things: of words, of the whole copy (which they tell at one of its words), of marks, of a
//! sentence, of printed lines. A long sentence may hold a wordy phrase, and a line that ends badly a straight mark, for
//! these are not one fault. Two queries that speak of one thing and share a byte are one: that with a ready wording
//! goes before one without, then the one that holds more, then the one whose rule stands first; a stock phrase, of
//! which the least can be said, is last. A modifier, which is told only where the copy has several, comes behind all of
//! these, so that a cut elsewhere shows no phrase that it hid. What is true of the whole copy and can be told at any of
//! several words takes the first of them that is free.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::query::Query;
use crate::brief::queries::Rule;

/// What a query may be about; two that are about different things may share a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum QuerySubject {
    Words,
    Copy,
    Marks,
    Sentence,
    Lines,
    Ink,
    Strokes,
}

/// What a rule speaks of.
fn subject(rule: Rule) -> QuerySubject {
    match rule {
        Rule::ManyNames | Rule::RepeatedOpening | Rule::MixedTense | Rule::MixedPerson | Rule::MixedSpelling => {
            QuerySubject::Copy
        }
        Rule::ExclamationMarks
        | Rule::StraightMarks
        | Rule::DoubtfulMark
        | Rule::UnpairedMark
        | Rule::DoubleSpace
        | Rule::SpaceBeforeStop => QuerySubject::Marks,
        Rule::LongSentence | Rule::ClosedQuestion => QuerySubject::Sentence,
        Rule::BrokenName | Rule::Runt | Rule::Rag => QuerySubject::Lines,
        Rule::FaintInk | Rule::BusyGround => QuerySubject::Ink,
        Rule::FineReversed => QuerySubject::Strokes,
        _ => QuerySubject::Words,
    }
}

/// The queries without those whose place another holds; of a finding that can be told at several places, the first
/// query whose place is free.
pub(super) fn one_each(mut queries: Vec<Query>, anywhere: Vec<Vec<Query>>) -> Vec<Query> {
    queries.sort_by_key(|query| {
        (
            matches!(query.rule, Rule::EmptyModifier | Rule::Intensifier),
            query.cuts.is_empty(),
            Reverse(query.range.len()),
            query.rule == Rule::StockPhrase,
            query.rule,
            query.block,
            query.range.start,
        )
    });
    // The end of each place that is held, by its start. Places of one subject do not overlap, so the last that starts
    // before a query's end tells whether the query's place is free.
    let mut held: BTreeMap<(QuerySubject, usize, usize), usize> = BTreeMap::new();
    let mut claim_place = |query: &Query| {
        let at = |byte: usize| (subject(query.rule), query.block, byte);
        let last = held.range(at(0)..at(query.range.end)).next_back();
        let is_free = last.is_none_or(|(_, end)| *end <= query.range.start);
        if is_free {
            held.insert(at(query.range.start), query.range.end);
        }
        is_free
    };
    queries.retain(&mut claim_place);
    queries.extend(anywhere.into_iter().filter_map(|places| places.into_iter().find(&mut claim_place)));
    queries
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;
    use std::sync::LazyLock;

    use proptest::prelude::{Strategy, TestCaseError, any, prop_assert, proptest};
    use proptest::sample::Index;

    use super::{QuerySubject, subject};
    use crate::brief::Brief;
    use crate::brief::queries::Rule;
    use crate::draft::{Draft, edited};
    use crate::queries::Query;
    use crate::queries::cases::queries_of;

    static BLURBS: LazyLock<Vec<String>> = LazyLock::new(|| {
        let files = fs::read_dir("tests/blurbs").unwrap().map(|file| file.unwrap().path());
        let blurbs = files.filter(|path| path.extension().is_some_and(|ending| ending == "md"));
        blurbs.map(|path| fs::read_to_string(path).unwrap()).collect()
    });
    /// The sentences of the blurbs, and some more with what they seldom have.
    static SENTENCES: LazyLock<Vec<String>> = LazyLock::new(|| {
        let more = "A very odd and truly evil villain is in need of a magical, heartwarming and unforgettable book.| \
                    It is able to fly - or so they say  ... | The lamp is stolen in order to do the the trick.|In \
                    this charming tale, a small, brave, hungry mouse has got to run.|\"Stop,\" he said  ; ‘no’.|A \
                    very old lamp.";
        let plain =
            BLURBS.iter().flat_map(|blurb| blurb.split(['\n', '#', '>'])).flat_map(|line| line.split_inclusive(". "));
        more.split('|').chain(plain).map(str::trim).filter(|line| line.contains(' ')).map(str::to_owned).collect()
    });

    fn brief() -> Brief {
        let brief = "book: { names: [Captain Kedgeree, Otto Fenn] }\npanel: { trim: 8 x 10 in, margins: 1.5 in }\n";
        Brief::read(brief, Path::new("")).unwrap()
    }

    /// Whether a query speaks of its place alone, and not of the whole copy, of its first or last words, or of lines.
    fn is_local(rule: Rule) -> bool {
        let is_of_whole = matches!(
            rule,
            Rule::RepeatedWord
                | Rule::EmptyModifier
                | Rule::Passive
                | Rule::WeakOpening
                | Rule::CreditWithoutStanding
                | Rule::AgeLine
                | Rule::StraightMarks
                | Rule::DoubtfulMark
                | Rule::UnpairedMark
        );
        !is_of_whole && matches!(subject(rule), QuerySubject::Words | QuerySubject::Marks)
    }

    /// Places of one subject in one block do not share a byte.
    fn check_apart(queries: &[Query]) -> Result<(), TestCaseError> {
        for (at, one) in queries.iter().enumerate() {
            for other in &queries[..at] {
                let is_one = subject(one.rule) == subject(other.rule) && one.block == other.block;
                let overlaps = one.range.start < other.range.end && other.range.start < one.range.end;
                prop_assert!(!(is_one && overlaps), "{one:?}\n{other:?}");
            }
        }
        Ok(())
    }

    /// What is told at a place, with its words, in a block.
    fn told<'a>(draft: &'a Draft, queries: &'a [Query], block: usize) -> Vec<(Rule, &'a str)> {
        let there = queries.iter().filter(|query| query.block == block && is_local(query.rule));
        there.map(|query| (query.rule, &draft.blocks[block].text()[query.range.clone()])).collect()
    }

    /// A cut takes away no other query than those it reaches, and adds none in another paragraph.
    fn check_cuts(source: &str, brief: &Brief) -> Result<(), TestCaseError> {
        let draft = Draft::read(source);
        let queries = queries_of(&draft, brief);
        check_apart(&queries)?;
        for (query, cut) in queries.iter().flat_map(|query| query.cuts.iter().map(move |cut| (query, cut))) {
            let again = Draft::read(&edited(source, &[cut.edit(&draft.blocks[query.block])]));
            if again.blocks.len() != draft.blocks.len() {
                continue;
            }
            let after = queries_of(&again, brief);
            for block in 0..draft.blocks.len() {
                let mut left = told(&again, &after, block);
                if block != query.block {
                    prop_assert!(left == told(&draft, &queries, block), "{source}\n{query:?}\n{left:?}");
                    continue;
                }
                let reaches = |other: &&Query| {
                    other.range.start <= cut.range.end.max(query.range.end) + 1
                        && cut.range.start.min(query.range.start) <= other.range.end + 1
                };
                let others = queries.iter().filter(|other| other.block == block && is_local(other.rule));
                for other in others.filter(|other| !reaches(other)) {
                    let words = (other.rule, &draft.blocks[block].text()[other.range.clone()]);
                    let found = left.iter().position(|found| *found == words);
                    prop_assert!(found.is_some(), "{source}\n{query:?}\n{other:?}");
                    left.remove(found.unwrap_or_default());
                }
            }
        }
        Ok(())
    }

    #[test]
    fn every_blurb_has_one_query_for_a_place_and_keeps_the_others_when_it_is_cut() {
        for source in BLURBS.iter() {
            check_cuts(source, &brief()).unwrap();
        }
    }

    #[test]
    fn what_stands_behind_changes_no_query() {
        let brief = brief();
        for source in BLURBS.iter() {
            let draft = Draft::read(source);
            let queries = queries_of(&draft, &brief);
            // Without a second `very`, which alone makes the first one a habit.
            let longer = format!(
                "{}\n\n## Blurb\n\nA truly odd lamp is stolen. It is a truly magical book.\n",
                source.trim_end()
            );
            let again = Draft::read(&longer);
            let after = queries_of(&again, &brief);
            for block in 0..draft.blocks.len() {
                assert_eq!(told(&draft, &queries, block), told(&again, &after, block), "{source}");
            }
        }
    }

    proptest! {
        #[test]
        fn sentences_in_any_order_have_one_query_for_a_place(
            picked in proptest::collection::vec((any::<Index>(), any::<bool>()), 1..9).prop_map(|picked| {
                let one = |(at, ends): (Index, bool)| {
                    format!("{}{}", at.get(&SENTENCES), if ends { "\n\n" } else { " " })
                };
                picked.into_iter().map(one).collect::<String>()
            })
        ) {
            check_cuts(&picked, &brief())?;
        }
    }
}
