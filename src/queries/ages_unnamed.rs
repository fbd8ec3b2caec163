//! Readers of no age: `readers of all ages`, `young and old`.
//!
//! Source: common practice: a shop shelves a children's book by its readers' age and a buyer goes by it, so a book for
//! everybody is found by nobody.

use std::ops::Range;

use super::prose::Prose;
use super::query::{Query, Reading};
use crate::brief::queries::Rule;

/// Words for the people for whom a book is said to be.
const READERS: [&str; 10] =
    ["readers", "children", "kids", "fans", "lovers", "families", "boys", "girls", "adults", "listeners"];

/// A child is younger than this.
const OLDEST: u32 = 13;
/// Nobody of this age is shelved with children.
const OLD: u32 = 70;
/// No reader is older.
const OLDEST_READER: u32 = 120;

/// Finds wording that gives no age to the readers.
pub(super) fn everybody(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let found = |at: usize| all_ages(prose, at).or_else(|| young_and_old(prose, at)).or_else(|| whole_life(prose, at));
    let places = (0..prose.words.len()).filter_map(found);
    for words in places.filter(|words| !prose.is_kept(reading, words)) {
        queries.push(Query {
            rule: Rule::AgeLine,
            block: prose.number,
            range: prose.bytes(&words),
            says: "a shop has no shelf for everybody; say the readers' ages".to_owned(),
            cuts: Vec::new(),
        });
    }
}

/// `All ages` that ends at a word, with whoever is of them.
fn all_ages(prose: &Prose<'_>, at: usize) -> Option<Range<usize>> {
    let word = |back: usize| at.checked_sub(back).filter(|from| (*from..at).all(|to| prose.is_joined(to)));
    let says = |back: usize, words: &[&str]| word(back).is_some_and(|from| words.contains(&prose.word(from)));
    let is_all = matches!(prose.word(at), "ages" | "age") && says(1, &["all", "any", "every"]);
    if !(is_all && says(2, &["of", "for"])) {
        return None;
    }
    let is_reader = |from: usize| READERS.contains(&prose.word(from));
    let start = word(3).filter(|from| says(2, &["of"]) && is_reader(*from)).unwrap_or(at - 2);
    Some(start..at + 1)
}

/// `From 8 to 80`, `young at heart` that begin at a word.
fn whole_life(prose: &Prose<'_>, at: usize) -> Option<Range<usize>> {
    let is_joined = prose.is_joined(at) && prose.is_joined(at + 1);
    let number = |at: usize| prose.word(at).parse::<u32>().ok();
    let are_years = matches!(prose.word(at + 1), "to" | "or" | "and")
        && number(at).is_some_and(|from| from < OLDEST)
        && number(at + 2).is_some_and(|to| (OLD..=OLDEST_READER).contains(&to))
        && !(prose.is_joined(at + 2) && matches!(prose.word(at + 3), "of" | "per"));
    let is_heart = (prose.word(at), prose.word(at + 1), prose.word(at + 2)) == ("young", "at", "heart");
    (is_joined && (are_years || is_heart)).then_some(at..at + 3)
}

/// `Young and old` that begins at a word, with whoever they are.
fn young_and_old(prose: &Prose<'_>, at: usize) -> Option<Range<usize>> {
    let is_joined = prose.is_joined(at) && prose.is_joined(at + 1);
    let is_both = prose.word(at + 1) == "and"
        && matches!((prose.word(at), prose.word(at + 2)), ("young", "old") | ("old", "young"));
    let is_thing = prose.is_joined(at + 2) && !matches!(prose.word(at + 3), "alike" | "will" | "can" | "who" | "and");
    (is_joined && is_both && !is_thing).then_some(at..at + 3)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn readers_of_no_age_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/ages_unnamed.txt"));
    }
}
