//! Passives: a form of `to be` and a participle, where something is done and nobody does it.
//!
//! Sources: W. Strunk, The Elements of Style (1918), rule 10, "Use the active voice"; the Federal Plain Language
//! Guidelines of the United States give the form. A passive may be right, so there is no cut. Many participles are
//! adjectives (`is lost`, `was tired`): one counts only if it is on the list of things done, or if `by` and a doer
//! follow it and it is not on the list of states. Where nobody is named who does it, one or two are a choice and pass;
//! three are a habit, told once. `Has been` passes too: it tells what somebody has gone through.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::prose::Prose;
use super::query::{HabitQuery, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

static DONE: LazyLock<HashSet<&str>> = LazyLock::new(|| entries(wordlist!("participles-done.txt")));
static STATES: LazyLock<HashSet<&str>> = LazyLock::new(|| entries(wordlist!("participles-states.txt")));

fn entries(list: &'static str) -> HashSet<&'static str> {
    list.lines().filter(|line| !line.starts_with('#')).collect()
}

const BE: [&str; 7] = ["is", "are", "was", "were", "be", "being", "gets"];
/// Words with which whoever does it begins, where no capital shows a name.
const DOERS: [&str; 20] = [
    "a", "an", "the", "his", "her", "their", "its", "my", "your", "our", "two", "three", "some", "someone", "somebody",
    "him", "them", "this", "one", "every",
];
/// Words that may stand between the form of `to be` and the participle, beside adverbs in -ly.
const BETWEEN: [&str; 10] = ["not", "never", "always", "soon", "once", "often", "all", "now", "then", "just"];
/// How many such words there may be.
const MOST_BETWEEN: usize = 2;
/// Words that make a place or a time of what stands behind `by`, and no doer.
const PLACES: [&str; 22] = [
    "sea", "window", "door", "river", "lake", "fire", "road", "gate", "bed", "shore", "stream", "pond", "water",
    "harbour", "noon", "night", "day", "morning", "midnight", "dawn", "sunset", "accident",
];

/// How many passives in the copy are a habit: fewer are told only where `by` names who does it.
pub(super) const HABIT: usize = 3;

/// A passive that was found in a sentence.
struct FoundPassive {
    /// The passive's words, as positions in the paragraph.
    words: Range<usize>,
    /// Whether `by` and somebody who does it follow.
    has_doer: bool,
}

/// Finds passives.
pub(super) fn passives(reading: &Reading<'_>, prose: &Prose<'_>, found: &mut Vec<HabitQuery>) {
    if reading.text.language != Language::English {
        return;
    }
    for sentence in &prose.sentences {
        let forms = sentence.clone().filter(|at| BE.contains(&prose.word(*at)));
        let passives = forms.filter_map(|at| passive(prose, at, sentence.end));
        found.extend(passives.filter(|passive| !prose.is_kept(reading, &passive.words)).map(|passive| HabitQuery {
            query: Query {
                rule: Rule::Passive,
                block: prose.number,
                range: prose.bytes(&passive.words),
                says: "something is done here; the sentence is livelier when whoever does it comes first".to_owned(),
                cuts: Vec::new(),
            },
            by_habit: !passive.has_doer,
        }));
    }
}

/// The passive that begins with a form of `to be`; none where that is no passive.
fn passive(prose: &Prose<'_>, be: usize, end: usize) -> Option<FoundPassive> {
    // Without another form of `to be`, `being` makes a noun of what is done (`tired of being told`).
    if prose.word(be) == "being" && !be.checked_sub(1).is_some_and(|before| BE.contains(&prose.word(before))) {
        return None;
    }
    let joined = |at: &usize| *at < end && (be..*at).all(|word| prose.is_joined(word));
    let is_between = |at: usize| BETWEEN.contains(&prose.word(at)) || prose.word(at).ends_with("ly");
    let at = (be + 1..=be + 1 + MOST_BETWEEN).take_while(joined).find(|at| !is_between(*at))?;
    let word = prose.word(at);
    let has_doer = has_doer(prose, at, end);
    let is_done = DONE.contains(word) || (has_doer && looks_like_participle(word) && !STATES.contains(word));
    is_done.then_some(FoundPassive { words: be..at + 1, has_doer })
}

fn looks_like_participle(word: &str) -> bool {
    word.len() > 4 && (word.ends_with("ed") || word.ends_with("wn") || word.ends_with("ten"))
}

/// Whether `by` and somebody who does it follow a participle.
fn has_doer(prose: &Prose<'_>, at: usize, end: usize) -> bool {
    let by = at + 1;
    let behind = by + 1..(by + 4).min(end);
    let is_named = DOERS.contains(&prose.word(by + 1)) || prose.is_capital(by + 1);
    is_named
        && prose.is_joined(at)
        && prose.word(by) == "by"
        && by + 1 < end
        && !behind.clone().any(|at| PLACES.contains(&prose.word(at)))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn passives_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/passive.txt"));
    }
}
