//! Past and present mixed in the telling.
//!
//! Source: common practice of editors: a blurb is told in the present and may be told in the past, but a change without
//! reason reads as a slip. Speech, questions, what happened before the story, and the blurb's words on the book have
//! their own tense. Only verbs of main clauses behind `he`, `she`, `they`, a name or a noun with its article are
//! counted, and a second verb that `and` joins to one. It needs two of each tense and a change there and back of two
//! verbs at least, for one past verb inside the present looks back; or one sentence whose verbs, joined by `and`,
//! change.

use std::ops::Range;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::telling::{self, ToldSentence, ToldWord};
use super::verbs::{Tense, is_finite, tense};
use crate::brief::queries::Rule;
use crate::units::nouns::agrees;

/// How many verbs of each tense the blurb must have.
const CLEAR: usize = 2;

/// How many stretches of one tense a telling may have, each of one verb, before it is restless.
const RESTLESS: usize = 4;

/// How many verbs in the other tense stand around a lone one that is told.
const LONE_AMONG: usize = 3;

/// Words that give the past its reason, or are about the book: such a sentence tells nothing of the tense.
const REASONS: [&str; 31] = [
    "ago",
    "already",
    "author",
    "before",
    "birthday",
    "book",
    "born",
    "childhood",
    "earlier",
    "ever",
    "had",
    "history",
    "illustrator",
    "last",
    "legend",
    "novel",
    "now",
    "once",
    "picture",
    "reader",
    "readers",
    "series",
    "since",
    "story",
    "tale",
    "tales",
    "today",
    "used",
    "year",
    "years",
    "yesterday",
];
/// Words between a subject and its verb.
const ADVERBS: [&str; 12] =
    ["also", "finally", "just", "only", "quickly", "quietly", "slowly", "soon", "still", "suddenly", "simply", "even"];
/// Words that open a main clause before its subject.
const OPENERS: [&str; 7] = ["and", "but", "so", "then", "finally", "yet", "soon"];
/// Words that can be nothing but a subject.
const PRONOUNS: [&str; 3] = ["he", "she", "they"];

/// A verb: its paragraph, its bytes there, and its tense.
type Verb<'a> = (&'a Prose<'a>, &'a Range<usize>, Tense);

/// Finds the first verb that `and` joins to one of another tense; where there is none and the telling goes there and
/// back, the first verb behind the opening one in the tense that fewer verbs have.
pub(super) fn find<'a>(_: &Reading<'_>, own: &'a OwnCopy<'_>, queries: &mut Vec<Query>) {
    let verbs_of = |prose: &'a Prose<'_>| prose.gathered.verbs.iter().map(move |(range, tense)| (prose, range, *tense));
    let verbs: Vec<Verb<'_>> = own.blurb().iter().flat_map(verbs_of).collect();
    if let Some(slip) = slip(&verbs) {
        let (prose, range, tense) = verbs[slip];
        let other = if tense == Tense::Past { "present" } else { "past" };
        queries.push(Query {
            rule: Rule::MixedTense,
            block: prose.number,
            range: range.clone(),
            says: format!(
                "“{}” changes the tense of a sentence that begins in the {other}; a change without reason reads as a \
                 slip",
                &prose.text()[range.clone()],
            ),
            cuts: Vec::new(),
        });
        return;
    }
    let past = verbs.iter().filter(|(.., tense)| *tense == Tense::Past).count();
    let present = verbs.len() - past;
    let is_lone = past.min(present) == 1 && past.max(present) >= LONE_AMONG && has_lone_slip(&verbs);
    if !is_lone && (past < CLEAR || present < CLEAR || !goes_there_and_back(&verbs)) {
        return;
    }
    let begins_past = verbs.first().is_some_and(|(.., tense)| *tense == Tense::Past);
    // Where both tenses are as frequent, the telling is taken to be in the tense that it begins in.
    let past_is_rare = past < present || (past == present && !begins_past);
    let (rare, name) = if past_is_rare { (Tense::Past, "past") } else { (Tense::Present, "present") };
    let Some((prose, range, _)) = verbs.iter().skip(1).find(|(.., tense)| *tense == rare) else { return };
    queries.push(Query {
        rule: Rule::MixedTense,
        block: prose.number,
        range: (*range).clone(),
        says: format!(
            "“{}” is {name}, and of the verbs whose tense is clear {present} {} present and {past} {} past; a change \
             without reason reads as a slip",
            &prose.text()[(*range).clone()],
            agrees(present, "is", "are"),
            agrees(past, "is", "are")
        ),
        cuts: Vec::new(),
    });
}

/// The first verb, by its place among all, that `and` joins to a verb of another tense.
fn slip(verbs: &[Verb<'_>]) -> Option<usize> {
    let is_joined = |pair: &[Verb<'_>]| {
        let ((prose, one, _), (other, next, _)) = (pair[0], pair[1]);
        let between = (prose.number == other.number).then(|| &prose.text()[one.end..next.start]);
        between.is_some_and(|between| {
            let words: Vec<&str> = between.split_whitespace().collect();
            words.last() == Some(&"and") && !between.contains(['.', '!', '?', ';', ':', '—', '“', '"'])
        })
    };
    let found = verbs.windows(2).position(|pair| pair[0].2 != pair[1].2 && is_joined(pair));
    found.map(|at| at + 1)
}

/// Whether the first verb and the last are of one tense, and the one of the other tense can hardly look back: a present
/// inside the past, or a past that tells what somebody wants, knows or says as the story goes on.
fn has_lone_slip(verbs: &[Verb<'_>]) -> bool {
    const GOES_ON: [&str; 14] = [
        "knew",
        "wanted",
        "needed",
        "hoped",
        "wished",
        "decided",
        "realised",
        "realized",
        "said",
        "asked",
        "replied",
        "shouted",
        "whispered",
        "wondered",
    ];
    let Some((first, last)) = verbs.first().zip(verbs.last()) else { return false };
    let lone = verbs.iter().find(|verb| verb.2 != first.2);
    let goes_on = |(prose, range, tense): &Verb<'_>| {
        *tense == Tense::Present || GOES_ON.contains(&prose.text()[(*range).clone()].to_lowercase().as_str())
    };
    first.2 == last.2 && lone.is_some_and(goes_on)
}

/// Whether two verbs or more in one tense stand between verbs in the other, or the tense changes from verb to verb.
fn goes_there_and_back(verbs: &[Verb<'_>]) -> bool {
    let runs: Vec<usize> = verbs.chunk_by(|one, next| one.2 == next.2).map(<[_]>::len).collect();
    let inner = runs.get(1..runs.len().saturating_sub(1)).unwrap_or_default();
    inner.iter().any(|run| *run >= CLEAR) || runs.len() > RESTLESS
}

/// The verbs of a paragraph's main clauses, in bytes of its text, with their tense.
pub(super) fn verbs(prose: &Prose<'_>) -> Vec<(Range<usize>, Tense)> {
    let tells =
        |told: &&ToldSentence<'_>| !told.is_question() && !told.words.iter().any(|word| REASONS.contains(&word.plain));
    let main_verbs = |told: &ToldSentence<'_>| -> Vec<_> {
        let mut found: Vec<(Range<usize>, Tense)> = Vec::new();
        for at in 1..told.words.len() {
            let joined = || goes_on(told, at).filter(|_| !found.is_empty());
            if let Some(tense) = finite(told, at).or_else(joined) {
                found.push((told.words[at].word.range.clone(), tense));
            }
        }
        found
    };
    prose.told.iter().filter(tells).flat_map(main_verbs).collect()
}

/// The tense of the word at a place, if it is the verb of a main clause and its subject stands before it.
fn finite(told: &ToldSentence<'_>, at: usize) -> Option<Tense> {
    let word = &told.words[at];
    let mut subject = at.checked_sub(1)?;
    if word.before != " " {
        return None;
    }
    if ADVERBS.contains(&told.words[subject].plain) && told.words[subject].before == " " {
        subject = subject.checked_sub(1)?;
    }
    let by_form = match word.plain {
        "is" | "are" | "has" => Some(Tense::Present),
        other => tense(other),
    };
    let by_name = || is_subject(&told.words[subject]) && opens_clause(told, subject);
    // Behind a noun only a past that is no participle is sure: `the lamp went out`.
    let by_noun = || by_form == Some(Tense::Present) || tense(word.plain) == Some(Tense::Past);
    by_form.filter(|_| by_name() || (by_noun() && is_noun_group(told, subject)))
}

/// The tense of a verb that `and` joins to the one before: `opens the box and found`. A word that may be a noun as well
/// (`and waves`) is none, unless an object or a place follows it.
fn goes_on(told: &ToldSentence<'_>, at: usize) -> Option<Tense> {
    const FOLLOWS: [&str; 26] = [
        "the", "a", "an", "his", "her", "their", "its", "him", "them", "it", "to", "into", "out", "up", "off", "that",
        "down", "away", "back", "home", "over", "for", "at", "through", "towards", "around",
    ];
    let word = told.words.get(at).filter(|word| word.before == " ")?;
    let follows = told.words.get(at + 1).filter(|next| next.before == " " && FOLLOWS.contains(&next.plain));
    let is_and = at > 0 && told.words[at - 1].plain == "and" && told.words[at - 1].before == " ";
    tense(word.plain).filter(|_| is_and && follows.is_some())
}

fn is_subject(word: &ToldWord<'_>) -> bool {
    let is_name = word.written.starts_with(char::is_uppercase) && !telling::is_common(word.plain);
    PRONOUNS.contains(&word.plain) || (is_name && word.plain != "i" && !word.plain.contains('\''))
}

/// Whether the words up to a noun are an article or a possessive and at most one adjective, and open a main clause.
fn is_noun_group(told: &ToldSentence<'_>, noun: usize) -> bool {
    const ARTICLES: [&str; 7] = ["the", "a", "an", "his", "her", "their", "its"];
    let begins = |at: usize| ARTICLES.contains(&told.words[at].plain) && opens_clause(told, at);
    let is_joined = |at: usize| told.words[at].before == " ";
    let is_noun = !REASONS.contains(&told.words[noun].plain)
        && !is_finite(told.words[noun].plain)
        && told.words[noun].written.starts_with(char::is_lowercase);
    is_noun
        && is_joined(noun)
        && ((noun >= 1 && begins(noun - 1)) || (noun >= 2 && is_joined(noun - 1) && begins(noun - 2)))
}

/// Whether a subject opens a main clause: at the start of the sentence or behind a comma, `and` and its like aside.
fn opens_clause(told: &ToldSentence<'_>, mut at: usize) -> bool {
    while at > 0 && told.words[at].before == " " && OPENERS.contains(&told.words[at - 1].plain) {
        at -= 1;
    }
    at == 0 || matches!(told.words[at].before, ", " | "; ")
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn mixed_tenses_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/mixed_tense.txt"));
    }
}
