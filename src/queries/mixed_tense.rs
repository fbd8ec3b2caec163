//! Past and present mixed in the telling.
//!
//! Source: common practice of editors: a blurb is told in the present and may be told in the past, but a change without
//! reason reads as a slip. Speech, questions, what happened before the story, and the blurb's words on the book have
//! their own tense. Only verbs of main clauses behind `he`, `she`, `they` or a name are counted; it needs two of each
//! tense and a change there and back of two verbs at least: one past verb inside the present looks back.

use std::ops::Range;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::telling::{self, ToldSentence, ToldWord};
use super::verbs::{Tense, tense};
use crate::brief::queries::Rule;
use crate::units::nouns::agrees;

/// How many verbs of each tense the blurb must have.
const CLEAR: usize = 2;

/// How many stretches of one tense a telling may have, each of one verb, before it is restless.
const RESTLESS: usize = 4;

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

/// Finds the first verb that leaves the tense of the one before it, where the telling goes there and back.
pub(super) fn find<'a>(_: &Reading<'_>, own: &'a OwnCopy<'_>, queries: &mut Vec<Query>) {
    let verbs_of = |prose: &'a Prose<'_>| prose.gathered.verbs.iter().map(move |(range, tense)| (prose, range, *tense));
    let verbs: Vec<Verb<'_>> = own.blurb().iter().flat_map(verbs_of).collect();
    let past = verbs.iter().filter(|(.., tense)| *tense == Tense::Past).count();
    let present = verbs.len() - past;
    if past < CLEAR || present < CLEAR || !goes_there_and_back(&verbs) {
        return;
    }
    let begins_past = verbs.first().is_some_and(|(.., tense)| *tense == Tense::Past);
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
        let verb = |at: usize| Some((told.words[at].word.range.clone(), finite(told, at)?));
        (1..told.words.len()).filter_map(verb).collect()
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
    by_form.filter(|_| is_subject(&told.words[subject]) && opens_clause(told, subject))
}

fn is_subject(word: &ToldWord<'_>) -> bool {
    let is_name = word.written.starts_with(char::is_uppercase) && !telling::is_common(word.plain);
    PRONOUNS.contains(&word.plain) || (is_name && word.plain != "i" && !word.plain.contains('\''))
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
