//! Queries: places that the author should look at. A query is never an error and never a grade.
//!
//! Each file has a rule, or a few rules of one kin: what it looks for, why, its source, and examples that fire and that
//! do not. A rule may offer cuts, shorter wordings of the place; what a cut is worth is found elsewhere, by setting
//! again.

mod query;
mod verbs;
mod quoted;
mod telling;
mod gathered;
mod prose;
mod adjectives;
mod sense;
mod mend;
mod fitting;
mod lists;
mod age_lines;
mod blanks;
mod broken_names;
mod credits;
mod endings;
mod exclamations;
mod front_cover;
mod line_ends;
mod long_sentences;
mod many_names;
mod marks;
mod on_art;
mod mixed_person;
mod mixed_tense;
mod modifiers;
mod openings;
pub mod other_words;
mod passive;
mod praise;
mod repeated_openings;
mod repeats;
mod spelling;
mod wordy;
mod finders;
mod memory;
mod places;
#[cfg(test)]
mod cases;

use finders::{FINDERS, RuleFinder};

pub use marks::{MarkMend, mark_mends, tally};
pub use memory::QueryMemory;
pub use query::{Cut, Query, Reading};

/// Every query of a draft, in the order of the copy. What depends on one paragraph alone is looked for only in those
/// that have changed since the memory was used last.
pub fn find(reading: &Reading<'_>, memory: &mut QueryMemory) -> Vec<Query> {
    // What is known block by block and paragraph by paragraph.
    let (mut queries, mut anywhere) = (memory.look(reading), Vec::new());
    let own = memory.read(reading);
    for prose in &own.paragraphs {
        queries.extend(prose.gathered.numbered(prose.number));
    }
    // What only the whole copy can show.
    for (_, finder) in FINDERS.iter().filter(|(rule, _)| !reading.brief.queries.off.contains(rule)) {
        match finder {
            RuleFinder::Paragraph(..) | RuleFinder::Block(_) => {}
            RuleFinder::Anywhere(find) => find(reading, &own, &mut anywhere),
            RuleFinder::OwnCopy(find) => find(reading, &own, &mut queries),
            RuleFinder::Draft(find) => find(reading, &mut queries),
        }
    }
    // Where several rules speak of the same words, one query is left.
    let mut queries = places::one_each(queries, anywhere);
    queries.sort_by_key(|query| (query.block, query.range.start, query.rule));
    queries
}
