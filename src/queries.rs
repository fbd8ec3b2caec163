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
mod lists;
mod age_lines;
mod blanks;
mod broken_names;
mod credits;
mod endings;
mod front_cover;
mod line_ends;
mod long_sentences;
mod many_names;
mod marks;
mod mixed_person;
mod mixed_tense;
mod modifiers;
mod openings;
mod passive;
mod praise;
mod repeated_openings;
mod repeats;
mod wordy;
mod finders;
mod memory;
mod places;
#[cfg(test)]
mod cases;

use crate::brief::queries::Rule;
use crate::draft::Draft;

use finders::{FINDERS, RuleFinder};
use query::HabitQuery;

pub use marks::{MarkMend, mark_mends, tally};
pub use memory::QueryMemory;
pub use query::{Cut, Query, Reading};

/// Every query of a draft, in the order of the copy. What depends on one paragraph alone is looked for only in those
/// that have changed since the memory was used last.
pub fn find(reading: &Reading<'_>, memory: &mut QueryMemory) -> Vec<Query> {
    // What is known block by block and paragraph by paragraph.
    let (mut queries, mut habits, mut anywhere) = (memory.look(reading), Vec::new(), Vec::new());
    let own = memory.read(reading);
    for prose in &own.paragraphs {
        let (found, may_be_habits) = prose.gathered.numbered(prose.number);
        queries.extend(found);
        habits.extend(may_be_habits);
    }
    // What only the whole copy can show.
    for (rule, finder) in FINDERS.iter().filter(|(rule, _)| !reading.brief.queries.off.contains(rule)) {
        match finder {
            RuleFinder::Paragraph(..) | RuleFinder::Block(_) => {}
            RuleFinder::Habit(fewest, _) => anywhere.push(told(&habits, *rule, *fewest, reading.draft, &mut queries)),
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

/// How many further places of a habit are named.
const NAMED: usize = 3;

/// Adds the queries of a rule that are told in any case. Gives the rest, in the order of the copy, if the copy has at
/// least `fewest` queries of the rule in all: only one of them will be told, so each names some of the others.
fn told(habits: &[HabitQuery], rule: Rule, fewest: usize, draft: &Draft, queries: &mut Vec<Query>) -> Vec<Query> {
    let of_rule = || habits.iter().filter(|habit| habit.query.rule == rule);
    queries.extend(of_rule().filter(|habit| !habit.by_habit).map(|habit| habit.query.clone()));
    if of_rule().count() < fewest {
        return Vec::new();
    }
    let others: Vec<&Query> = of_rule().filter(|habit| habit.by_habit).map(|habit| &habit.query).collect();
    (0..others.len()).map(|at| Query { says: says_of_all(&others, at, draft), ..others[at].clone() }).collect()
}

/// What is said at one of some places, with the words of others.
fn says_of_all(all: &[&Query], at: usize, draft: &Draft) -> String {
    let words = |query: &Query| format!("“{}”", &draft.blocks[query.block].text()[query.range.clone()]);
    let rest = || all[..at].iter().chain(&all[at + 1..]);
    let mut named: Vec<String> = rest().take(NAMED).map(|query| words(query)).collect();
    if all.len() - 1 > NAMED {
        named.push(format!("{} more", all.len() - 1 - NAMED));
    }
    let says = &all[at].says;
    if named.is_empty() { says.clone() } else { format!("{says}; so in {}", named.join(", ")) }
}
