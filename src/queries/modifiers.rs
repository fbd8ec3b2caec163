//! Empty modifiers: `very`, `really`, `truly` before a word that is as strong alone.
//!
//! Sources: the Federal Plain Language Guidelines of the United States, "Be concise", name seven of them; W. Strunk,
//! The Elements of Style (1918), chapter V, on `very`. A modifier is queried only before a word that has degrees, since
//! elsewhere it may mean something (`what really happened`, `that very night`); not where it is denied or asked about
//! (`not very big`), and not where the sentence says it twice, which is done for its sound. A single `very` or `quite`
//! stands in much good copy, and is told on a close read alone.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::LazyLock;

use super::lists;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

static GRADABLE: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("gradable-words.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// Words before `very` with which `very` means `the same`, or is said slowly on purpose (`one very small bear`).
const POINTERS: [&str; 20] = [
    "the",
    "this",
    "that",
    "these",
    "those",
    "my",
    "your",
    "his",
    "her",
    "its",
    "our",
    "their",
    "one",
    "two",
    "three",
    "some",
    "someone",
    "something",
    "somebody",
    "and",
];
/// Words before a modifier to which the modifier is bound.
const BINDERS: [&str; 9] = ["not", "never", "no", "nothing", "isn't", "so", "as", "how", "too"];
/// How far before the modifier a denial reaches, in words.
const REACH: usize = 3;

/// How many weak modifiers are a habit.
const HABIT: usize = 2;

/// Finds modifiers that add nothing: the strong ones, and the weak ones where they are a habit or the copy is read
/// closely.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let all: Vec<Query> = own.copy().iter().flat_map(|prose| prose.gathered.modifiers_numbered(prose.number)).collect();
    let is_weak = |query: &Query| {
        let text = own.copy().iter().find(|prose| prose.number == query.block).map_or("", |prose| prose.text());
        matches!(text.get(query.range.clone()).map(str::to_lowercase).as_deref(), Some("very" | "quite"))
    };
    let weak = all.iter().filter(|query| is_weak(query)).count();
    let tells_weak = reading.brief.queries.close || weak >= HABIT;
    queries.extend(all.into_iter().filter(|query| tells_weak || !is_weak(query)));
}

/// The modifiers of a paragraph that add nothing.
pub(super) fn empty_modifiers(reading: &Reading<'_>, prose: &Prose<'_>) -> Vec<Query> {
    let mut queries = Vec::new();
    // Hits come in the order of the copy, so that each sentence is gone through once.
    let mut known = SentenceWords::default();
    lists::for_each(reading, Rule::EmptyModifier, prose, |hit| {
        let (at, sentence) = (hit.words.start, prose.sentence_of(hit.words.start));
        let word = prose.word(at);
        if known.sentence != sentence {
            known = SentenceWords::of(prose, &sentence);
        }
        let times = known.times.get(word).copied().unwrap_or(0);
        // Where the word behind the modifier has just been denied, the modifier tells the two apart.
        let is_contrast = known.denied.contains(prose.word(hit.words.end));
        let is_echoed = known.times.contains_key("indeed");
        let is_free = !is_contrast && !is_echoed && !is_bound(prose, &sentence, at);
        if times == 1
            && is_free
            && (prose.language != Language::English || has_degrees(prose, hit.words.end))
            && prose.is_joined(hit.words.end - 1)
        {
            let says = format!("“{word}” adds little; the word behind it is as strong alone");
            let cuts = lists::cuts(reading, prose, hit, &hit.wordings(prose));
            queries.push(hit.query(Rule::EmptyModifier, prose, says, cuts));
        }
    });
    queries
}

fn denies(word: &str) -> bool {
    BINDERS.contains(&word) || word.ends_with("n't")
}

/// What the words of a sentence are, and which of them are denied.
#[derive(Default)]
struct SentenceWords<'p> {
    /// The sentence, as places among the words.
    sentence: Range<usize>,
    /// How often each word stands in it.
    times: HashMap<&'p str, usize>,
    /// The words that are denied in it or in the sentence before it: `Fig is not tired. His father is extremely
    /// tired.`
    denied: HashSet<&'p str>,
}

impl<'p> SentenceWords<'p> {
    fn of(prose: &'p Prose<'_>, sentence: &Range<usize>) -> Self {
        let mut times = HashMap::new();
        for at in sentence.clone() {
            *times.entry(prose.word(at)).or_default() += 1;
        }
        let before = sentence.start.checked_sub(1).map_or(sentence.start, |last| prose.sentence_of(last).start);
        let is_denied = |at: &usize| (at.saturating_sub(REACH).max(before)..*at).any(|at| denies(prose.word(at)));
        let denied = (before..sentence.end).filter(is_denied).map(|at| prose.word(at)).collect();
        Self { sentence: sentence.clone(), times, denied }
    }
}

fn is_bound(prose: &Prose<'_>, sentence: &Range<usize>, at: usize) -> bool {
    let first = at.saturating_sub(REACH).max(sentence.start);
    let is_denied = (first..at).any(|before| denies(prose.word(before)));
    // Behind a comma such a word is an afterthought, and said slowly on purpose (`It is, very slowly, waking`).
    let is_afterthought = matches!(prose.word(at), "very" | "quite") && at > sentence.start && prose.gap(at - 1) != " ";
    is_denied
        || is_afterthought
        || (at > sentence.start && prose.word(at) == "very" && POINTERS.contains(&prose.word(at - 1)))
}

/// Whether a word has degrees: it is on the list, or its ending says so.
fn has_degrees(prose: &Prose<'_>, at: usize) -> bool {
    const ENDINGS: [&str; 7] = ["ful", "ous", "ive", "able", "ible", "ish", "ly"];
    const NONE: [&str; 12] =
        ["only", "early", "family", "fly", "reply", "table", "fish", "wish", "five", "live", "give", "dish"];
    let word = prose.word(at);
    GRADABLE.contains(word)
        || (word.len() > 4 && ENDINGS.iter().any(|ending| word.ends_with(ending)) && !NONE.contains(&word))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::{check, check_closely};

    #[test]
    fn a_single_weak_modifier_is_for_the_last_read() {
        check(
            "empty modifier: She is a very small girl.\n\
             empty modifier: A [very] old boat waits. It is [very] cold at sea.",
        );
    }

    #[test]
    fn empty_modifiers_are_found_as_marked() {
        check_closely(include_str!("../../tests/cases/queries/modifiers.txt"));
    }
}
