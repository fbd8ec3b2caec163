//! Queries: places that the author should look at. A query is never an error and never a grade.
//!
//! Each file has a rule, or a few rules of one kin: what it looks for, why, its source, and examples that fire and that
//! do not. A rule may offer cuts, shorter wordings of the place; what a cut is worth is found elsewhere, by setting
//! again.

mod query;
mod tongues;
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
mod beings;
mod agreement;
mod age_lines;
mod ages_in_copy;
mod ages_unnamed;
mod blanks;
mod broken_names;
mod credits;
mod close_words;
mod echoes;
mod empty_quotes;
mod endings;
mod name_slips;
mod exclamations;
mod front_cover;
mod kindred;
mod line_ends;
mod long_sentences;
mod names_abroad;
mod many_names;
mod marks;
mod on_art;
mod misspelt;
mod mistyped;
mod mixed_person;
mod mixed_tense;
mod modifiers;
mod openings;
pub mod other_words;
mod passive;
mod praise;
mod repeated_openings;
mod repeats;
mod sentence_marks;
mod spelling;
mod stray_quotes;
mod verb_slips;
mod taken_for;
mod wordy;
mod finders;
mod memory;
mod silent;
mod places;
#[cfg(test)]
mod cases;

use finders::RuleFinder;

pub use marks::{MarkMend, mark_mends, tally};
pub use memory::QueryMemory;
pub use query::{Cut, Query, Reading};
pub use silent::{SilentRules, silent_rules};

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
    for finder in finders::looking(own.language, &reading.brief.queries) {
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
    for query in &mut queries {
        let block = &reading.draft.blocks[query.block];
        query.cuts.retain(|cut| block.may_lose(&cut.range));
    }
    queries
}
