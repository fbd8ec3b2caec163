//! Past and present mixed in the telling.
//!
//! Source: common practice of editors: a blurb is told in the present and may be told in the past, but a change without
//! reason reads as a slip. Speech, questions, what happened before the story, and the blurb's words on the book have their
//! own tense. It needs two clear sentences of each tense and a change there and back; what is not clear is not counted.

use super::telling::{self, Told};
use super::verbs::{Tense, tense};
use super::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::Word;
use crate::text::language::Language;

/// Clear sentences that each tense must have.
const CLEAR: usize = 2;

/// Words that give the past its reason, or are about the book: such a sentence tells nothing of the tense.
const REASONS: [&str; 43] = [
    "ago",
    "already",
    "always",
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
    "if",
    "illustrator",
    "last",
    "legend",
    "never",
    "novel",
    "now",
    "once",
    "picture",
    "reader",
    "readers",
    "series",
    "since",
    "stories",
    "story",
    "summer",
    "tale",
    "tales",
    "then",
    "today",
    "tonight",
    "until",
    "used",
    "when",
    "whenever",
    "winter",
    "year",
    "years",
    "yesterday",
    "young",
];
/// Words between a subject and its verb.
const ADVERBS: [&str; 12] =
    ["also", "finally", "just", "only", "quickly", "quietly", "slowly", "soon", "still", "suddenly", "simply", "even"];
/// Words that open a clause whose subject may be a name.
const OPENERS: [&str; 8] = ["and", "but", "so", "as", "while", "because", "where", "yet"];
/// Subjects that are nothing else.
const PRONOUNS: [&str; 3] = ["he", "she", "they"];

/// A sentence whose tense is clear, and the verb that tells it.
struct Clear<'a> {
    tense: Tense,
    verb: &'a Word,
    written: &'a str,
}

/// The first sentence that leaves the tense of the one before it, where the telling goes there and back.
pub(super) fn find(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    let told = telling::sentences(reading);
    let clear: Vec<Clear<'_>> = told.iter().filter_map(clear_tense).collect();
    let past = clear.iter().filter(|sentence| sentence.tense == Tense::Past).count();
    let present = clear.len() - past;
    let changes = clear.windows(2).filter(|pair| pair[0].tense != pair[1].tense).count();
    if past < CLEAR || present < CLEAR || changes < 2 {
        return;
    }
    let rare = if past < present { Tense::Past } else { Tense::Present };
    let Some(slip) = clear.iter().skip(1).find(|sentence| sentence.tense == rare) else { return };
    let name = |tense| if tense == Tense::Past { "past" } else { "present" };
    queries.push(Query {
        rule: Rule::MixedTense,
        block: slip.verb.block,
        range: slip.verb.range.clone(),
        says: format!(
            "“{}” is {}, and of the sentences whose tense is clear {present} are present and {past} past; a change without \
             reason reads as a slip",
            slip.written,
            name(rare)
        ),
        cuts: Vec::new(),
    });
}

/// The tense of a sentence; none where it has none that is clear, or both.
fn clear_tense<'a>(told: &'a Told<'_>) -> Option<Clear<'a>> {
    let is_asked = told.is_question();
    if is_asked || told.words.iter().any(|word| REASONS.contains(&word.plain.as_str())) {
        return None;
    }
    let mut found: Option<Clear<'a>> = None;
    for (at, tense) in (0..told.words.len()).filter_map(|at| Some((at, finite(told, at)?))) {
        match &found {
            Some(first) if first.tense != tense => return None,
            Some(_) => {}
            None => found = Some(Clear { tense, verb: told.words[at].word, written: told.words[at].written }),
        }
    }
    found
}

/// The tense of the word at a place, if it is a verb whose subject stands before it.
fn finite(told: &Told<'_>, at: usize) -> Option<Tense> {
    let word = &told.words[at];
    let mut subject = at.checked_sub(1)?;
    if word.before != " " {
        return None;
    }
    if ADVERBS.contains(&told.words[subject].plain.as_str()) && told.words[subject].before == " " {
        subject = subject.checked_sub(1)?;
    }
    let plain = told.words[subject].plain.as_str();
    let by_form = match word.plain.as_str() {
        "is" | "are" | "has" => Some(Tense::Present),
        other => tense(other),
    };
    let is_subject = PRONOUNS.contains(&plain) || is_name_at_clause_start(told, subject);
    by_form.filter(|_| is_subject)
}

/// Whether a word is a name that opens its clause: `Oona climbs`, `and Oona climbs`.
fn is_name_at_clause_start(told: &Told<'_>, at: usize) -> bool {
    let word = &told.words[at];
    let is_name =
        word.written.starts_with(char::is_uppercase) && word.written != "I" && !telling::is_common(&word.plain);
    let opens = at == 0 || word.before == ", " || OPENERS.contains(&told.words[at - 1].plain.as_str());
    is_name && opens
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn mixed_tenses_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/mixed_tense.txt"));
    }
}
