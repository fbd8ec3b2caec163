//! Passives: a form of `to be` and a participle, where something is done and nobody does it.
//!
//! Sources: W. Strunk, The Elements of Style (1918), rule 10, "Use the active voice"; the Federal Plain Language
//! Guidelines of the United States give the form. A passive may be right, so there is no cut. Which word is a
//! participle the tagger says. Many participles are adjectives too (`is lost`, `was tired`): one of those counts only
//! if it is on the list of things done, or if `by` and a doer follow it; one on the list of states never does. Where
//! nobody is named who does it, one passive is a choice and passes; two are a habit, and each is told. `Has been`
//! passes too: it tells what somebody has gone through.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::gathered::FoundPassive;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::tagger::{self, WordClass};

static DONE: LazyLock<HashSet<&str>> = LazyLock::new(|| entries(wordlist!("participles-done.txt")));
static STATES: LazyLock<HashSet<&str>> = LazyLock::new(|| entries(wordlist!("participles-states.txt")));

fn entries(list: &'static str) -> HashSet<&'static str> {
    list.lines().filter(|line| !line.starts_with('#')).collect()
}

const BE: [&str; 8] = ["is", "are", "was", "were", "be", "being", "gets", "get"];
/// Words with which whoever does it begins, where no capital shows a name.
const DOERS: [&str; 20] = [
    "a", "an", "the", "his", "her", "their", "its", "my", "your", "our", "two", "three", "some", "someone", "somebody",
    "him", "them", "this", "one", "every",
];
/// Words that may stand between the form of `to be` and the participle, beside adverbs in -ly.
const BETWEEN: [&str; 13] =
    ["not", "never", "always", "soon", "once", "often", "all", "now", "then", "just", "both", "ever", "already"];
/// How many such words there may be.
const MOST_BETWEEN: usize = 3;
/// How many words behind a participle `by` may stand.
const MOST_TO_BY: usize = 8;
/// Words that make a place or a time of what stands behind `by`, and no doer.
const PLACES: [&str; 22] = [
    "sea", "window", "door", "river", "lake", "fire", "road", "gate", "bed", "shore", "stream", "pond", "water",
    "harbour", "noon", "night", "day", "morning", "midnight", "dawn", "sunset", "accident",
];

/// How many passives without a doer are a habit.
const HABIT: usize = 2;

/// The passives of a paragraph, in order.
pub(super) fn passives(reading: &Reading<'_>, prose: &Prose<'_>) -> Vec<FoundPassive> {
    let mut found = Vec::new();
    for sentence in &prose.sentences {
        let mut forms = sentence.clone().filter(|at| BE.contains(&prose.word(*at))).peekable();
        if forms.peek().is_none() {
            continue;
        }
        let tags = prose.tags(sentence);
        let passives = forms.filter_map(|at| passive(prose, at, sentence, &tags));
        let told = passives.filter(|(words, _)| !prose.is_kept(reading, words));
        found.extend(told.map(|(words, has_doer)| FoundPassive { range: prose.bytes(&words), has_doer }));
    }
    found
}

/// Finds passives whose doer is named, and the others where they are a habit.
pub(super) fn find(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let all = || own.copy().iter().flat_map(|prose| prose.gathered.passives.iter().map(move |found| (prose, found)));
    let is_habit = all().filter(|(_, found)| !found.has_doer).count() >= HABIT;
    queries.extend(all().filter(|(_, found)| found.has_doer || is_habit).map(|(prose, found)| Query {
        rule: Rule::Passive,
        block: prose.number,
        range: found.range.clone(),
        says: "something is done here; the sentence is livelier when whoever does it comes first".to_owned(),
        cuts: Vec::new(),
    }));
}

/// The words of the passive that begins with a form of `to be`, as positions in the paragraph, and whether a doer is
/// named; none where that is no passive. `tags` has the parts of speech of the sentence.
fn passive(prose: &Prose<'_>, be: usize, sentence: &Range<usize>, tags: &[WordClass]) -> Option<(Range<usize>, bool)> {
    // Without another form of `to be`, `being` makes a noun of what is done (`tired of being told`).
    if prose.word(be) == "being" && !be.checked_sub(1).is_some_and(|before| BE.contains(&prose.word(before))) {
        return None;
    }
    let end = sentence.end;
    let joined = |at: &usize| *at < end && (be..*at).all(|word| prose.is_joined(word));
    let is_between = |at: usize| {
        BETWEEN.contains(&prose.word(at))
            || (prose.word(at).ends_with("ly") && tags[at - sentence.start] == WordClass::Adverb)
    };
    let at = (be + 1..=be + 1 + MOST_BETWEEN).take_while(joined).find(|at| !is_between(*at))?;
    let word = prose.word(at);
    let is_participle = tags[at - sentence.start] == WordClass::Participle && !STATES.contains(word);
    let has_doer = is_participle && has_doer(prose, at, end);
    // An adjective that looks like a participle (`lost`) is one, unless somebody is named who did it.
    let is_done = DONE.contains(word) || !tagger::is_adjective(word);
    (is_participle && (has_doer || is_done)).then_some((be..at + 1, has_doer))
}

/// Whether `by` and somebody who does it follow a participle, with no stop between.
fn has_doer(prose: &Prose<'_>, at: usize, end: usize) -> bool {
    let behind = (at + 1..(at + 1 + MOST_TO_BY).min(end)).take_while(|word| prose.is_joined(word - 1));
    let Some(by) = behind.filter(|word| prose.word(*word) == "by").find(|by| by + 1 < end) else { return false };
    let is_named = DOERS.contains(&prose.word(by + 1)) || prose.is_capital(by + 1);
    let mut object = by + 1..(by + 4).min(end);
    is_named && !object.any(|at| PLACES.contains(&prose.word(at)))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn passives_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/passive.txt"));
    }
}
