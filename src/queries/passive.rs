//! Passives: a form of `to be` and a participle, where something is done and nobody does it.
//!
//! Sources: W. Strunk, The Elements of Style (1918), rule 10, "Use the active voice"; the Federal Plain Language
//! Guidelines of the United States give the form. A passive may be right, so there is no cut. Which word is a
//! participle the tagger says. Many participles are adjectives too (`is lost`, `was tired`): one of those counts only
//! if it is on the list of things done, or if `by` and a doer follow it; one on the list of states never does. What
//! befalls a hero (`is sent`, `was told`) passes where nobody is named who does it, for then the hero is the matter.
//! Two others are a habit, and each is told; a single one without a doer only where it is on the list of things done.
//! On the last read what befalls a hero is told too, where it is a habit.
//! What is done in a clause that hangs on another is told on the last read alone. `Has been` tells what somebody has
//! gone through, and passes too unless somebody is named who does it.

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

const BE: [&str; 9] = ["is", "are", "was", "were", "be", "been", "being", "gets", "get"];
/// What befalls a hero, as blurbs tell it.
const BEFALLS: [&str; 31] = [
    "asked",
    "offered",
    "attacked",
    "banished",
    "caught",
    "chosen",
    "cursed",
    "doomed",
    "eaten",
    "given",
    "invited",
    "kidnapped",
    "killed",
    "left",
    "ordered",
    "robbed",
    "seen",
    "sent",
    "shot",
    "shipped",
    "shunned",
    "struck",
    "summoned",
    "swallowed",
    "swept",
    "taken",
    "teased",
    "thrown",
    "told",
    "turned",
    "whisked",
];
/// Words with which whoever does it begins, where no capital shows a name.
const DOERS: [&str; 26] = [
    "everyone",
    "everybody",
    "nobody",
    "children",
    "people",
    "mice",
    "a",
    "an",
    "the",
    "his",
    "her",
    "their",
    "its",
    "my",
    "your",
    "our",
    "two",
    "three",
    "some",
    "someone",
    "somebody",
    "him",
    "them",
    "this",
    "one",
    "every",
];
/// Words that may stand between the form of `to be` and the participle, beside adverbs in -ly.
const BETWEEN: [&str; 13] =
    ["not", "never", "always", "soon", "once", "often", "all", "now", "then", "just", "both", "ever", "already"];
/// The most words between the form of `to be` and the participle.
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
        found.extend(told.map(|(words, has_doer)| FoundPassive {
            is_heros: BEFALLS.contains(&prose.word(words.end - 1)) || is_heros(prose, words.start),
            is_aside: is_aside(prose, words.start, sentence),
            befalls: !DONE.contains(prose.word(words.end - 1))
                || (words.end..sentence.end).any(|at| prose.word(at) == "by"),
            range: prose.bytes(&words),
            has_doer,
        }));
    }
    found
}

/// Finds passives whose doer is named, and the others where they are a habit.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let all = || own.copy().iter().flat_map(|prose| prose.gathered.passives.iter().map(move |found| (prose, found)));
    let is_habit = all().filter(|(_, found)| !found.has_doer && !found.is_heros).count() >= HABIT;
    let all_are_told = reading.brief.queries.close && all().count() >= HABIT;
    let is_told = |found: &FoundPassive| {
        all_are_told || (!found.is_aside && (found.has_doer || (!found.is_heros && (is_habit || !found.befalls))))
    };
    queries.extend(all().filter(|(_, found)| is_told(found)).map(|(prose, found)| Query {
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
    let has_lived = || be > 1 && matches!(prose.word(be - 2), "i" | "he" | "she" | "they" | "we" | "you" | "who");
    if prose.word(be) == "been" && (!has_doer || has_lived()) {
        return None;
    }
    // An adjective that looks like a participle (`lost`) is one, unless somebody is named who did it.
    let is_done = DONE.contains(word) || !tagger::is_adjective(word);
    (is_participle && (has_doer || is_done)).then_some((be..at + 1, has_doer))
}

/// Whether a passive stands in a clause that hangs on another (`when her fire is stolen`), where what is done is only
/// the occasion.
fn is_aside(prose: &Prose<'_>, be: usize, sentence: &Range<usize>) -> bool {
    const LEADS: [&str; 16] = [
        "when", "which", "that", "who", "whose", "than", "until", "before", "after", "where", "if", "because", "to",
        "can", "shall", "may",
    ];
    let clause = (sentence.start..be).rev().take_while(|at| prose.is_joined(*at));
    clause.map(|at| prose.word(at)).any(|word| LEADS.contains(&word))
}

/// Whether the subject of a passive is a hero: a pronoun or a name stands before it.
fn is_heros(prose: &Prose<'_>, be: usize) -> bool {
    let subject = be.checked_sub(1).map_or("", |at| prose.word(at));
    let is_pronoun = matches!(subject, "i" | "he" | "she" | "it" | "they" | "we" | "you" | "who");
    is_pronoun || (be > 0 && prose.is_capital(be - 1)) || matches!(prose.word(be), "be" | "being" | "get" | "gets")
}

/// Whether `by` and somebody who does it follow a participle, with no stop between.
fn has_doer(prose: &Prose<'_>, at: usize, end: usize) -> bool {
    let behind = (at + 1..(at + 1 + MOST_TO_BY).min(end)).take_while(|word| prose.is_joined(word - 1));
    let Some(by) = behind.filter(|word| prose.word(*word) == "by").find(|by| by + 1 < end) else { return false };
    let mut object = by + 1..(by + 4).min(end);
    let first_noun = || object.clone().find(|at| !tagger::is_adjective(prose.word(*at)));
    let names = |at: usize| prose.is_capital(at) || (prose.word(at).ends_with('s') && !prose.word(at).ends_with("ss"));
    let is_named = DOERS.contains(&prose.word(by + 1)) || first_noun().is_some_and(names);
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
