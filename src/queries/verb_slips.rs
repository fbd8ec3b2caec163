//! Forms of the verb that what stands before them does not take: `could sees`, `did went`, `was wrote`, `decides to
//! went`, and questions whose helper does not agree, `what do she want`.
//!
//! Source: the grammar of English. A subject that opens its clause must stand before the helper: behind `all that he
//! had` and `whatever she can` another clause goes on.

use std::ops::Range;

use super::agreement::{LINKS, base_of};
use super::beings::{SUBJECTS, is_being, is_people};
use super::misspelt::told;
use super::prose::Prose;
use super::query::{Query, Reading};
use super::verbs;
use crate::brief::queries::Rule;
use crate::text::parts::{SpecialForm, irregular_base, irregular_form};
use crate::text::tagger;

/// Helpers behind which stands the plain form.
const MODALS: [&str; 10] = ["can", "could", "will", "would", "must", "should", "might", "can't", "couldn't", "won't"];
/// Forms of one verb that are the plain form of another.
const ALSO_PLAIN: [&str; 10] = ["saw", "found", "fell", "felt", "lay", "ground", "wound", "bore", "left", "rose"];
/// Verbs behind which `to` leads to another.
const BEFORE_TO: [&str; 20] = [
    "want", "wants", "try", "tries", "decide", "decides", "need", "needs", "has", "have", "going", "begins", "begin",
    "learns", "learn", "hopes", "hope", "decided", "wanted", "tried",
];
/// Participles for which the past is written, though the past is another word.
const NEVER_BEHIND_BE: [&str; 12] =
    ["wrote", "stole", "took", "gave", "chose", "drove", "threw", "forgot", "ate", "hid", "bit", "tore"];

/// What belongs in the place of a verb, and why.
type RightVerb = (String, &'static str);

/// Finds such forms.
pub(super) fn find(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for sentence in &prose.sentences {
        for at in sentence.start + 1..sentence.end {
            let found = prose.is_joined(at - 1).then(|| wrong(prose, at, sentence)).flatten();
            let Some((right, says)) = found else { continue };
            queries.extend(told(Rule::MisspeltWord, prose, &(at..at + 1), &right, says.to_owned()));
        }
    }
}

fn wrong(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<RightVerb> {
    const PLAIN: &str = "behind such a helper stands the plain form of the verb";
    if at < sentence.start + 2 {
        return helper(prose, at, sentence);
    }
    let (word, before, subject) = (prose.word(at), prose.word(at - 1), at - 2);
    let is_form = || verbs::tense(word).is_some() && !verbs::is_base(word) && !ALSO_PLAIN.contains(&word);
    let has_subject = || SUBJECTS.contains(&prose.word(subject)) && opens(prose, subject, sentence);
    let is_helped = prose.is_joined(subject);
    let of_base = || base_of(word);
    match before {
        _ if MODALS.contains(&before) && is_helped && has_subject() && is_form() => Some((of_base()?, PLAIN)),
        "did" | "does" if is_helped && subject == sentence.start && has_subject() && is_form() => {
            Some((of_base()?, PLAIN))
        }
        "to" if BEFORE_TO.contains(&prose.word(subject)) && is_helped && is_form() => {
            Some((of_base()?, "behind “to” stands the plain form of the verb"))
        }
        "was" | "were" | "is" if has_subject() && is_helped && NEVER_BEHIND_BE.contains(&word) => {
            Some((participle(word)?, "what is done to somebody takes the participle"))
        }
        "was" | "were" if word == "ran" && prose.word(at + 1) == "over" => {
            Some(("run".to_owned(), "what is done to somebody takes the participle"))
        }
        "has" | "had" | "have" if is_helped && owns(prose, at - 1, sentence) => {
            let right =
                participle(word).filter(|right| right != word && verbs::tense(word) == Some(verbs::Tense::Past))?;
            Some((right, "behind “has” and “had” stands the participle"))
        }
        _ if SUBJECTS.contains(&before) || prose.is_capital(at - 1) => {
            let asks = matches!(prose.word(subject), "does" | "did" | "do");
            let begins = subject == sentence.start || ASKING.contains(&prose.word(subject - 1));
            let is_form = verbs::tense(word).is_some() && !verbs::is_base(word);
            (asks && begins && is_helped && is_form).then(of_base).flatten().map(|right| (right, PLAIN))
        }
        _ => helper(prose, at, sentence),
    }
}

/// Words that ask.
const ASKING: [&str; 6] = ["why", "how", "where", "when", "what", "who"];

/// The participle of an irregular past, where it is another word.
fn participle(past: &str) -> Option<String> {
    irregular_form(irregular_base(past)?, SpecialForm::Participle).map(str::to_owned)
}

/// A helper that opens a question, or stands behind the word that asks, and does not agree with its subject.
fn helper(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<RightVerb> {
    let begins = at == sentence.start + 1 && ASKING.contains(&prose.word(at - 1));
    if !begins || !prose.is_joined(at) || !prose.is_question(sentence) {
        return None;
    }
    let right = match (prose.word(at), prose.word(at + 1)) {
        ("does", "they" | "we" | "you" | "i") => "do",
        ("do" | "don't", "he" | "she") => "does",
        ("have", "he" | "she") => "has",
        ("is", "they" | "we" | "you") => "are",
        ("was", "they" | "we" | "you") => "were",
        ("are", "he" | "she" | "it") => "is",
        ("is", "the") if is_people(prose.word(at + 2)) && prose.is_joined(at + 1) => "are",
        _ => return None,
    };
    Some((right.to_owned(), "the verb of a question agrees with whoever stands behind it"))
}

/// Whether a word opens its clause.
fn opens(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> bool {
    const FIRST: [&str; 5] = ["now", "soon", "finally", "suddenly", "today"];
    at == sentence.start
        || !prose.is_joined(at - 1)
        || (at == sentence.start + 1 && FIRST.contains(&prose.word(sentence.start)))
        || LINKS.contains(&prose.word(at - 1)) && prose.word(at - 1) != "that"
}

/// Whether whoever stands before a `has` opens a clause: a pronoun, or an article with its noun.
fn owns(prose: &Prose<'_>, has: usize, sentence: &Range<usize>) -> bool {
    let subject = has - 1;
    let says_all = (sentence.start..subject)
        .any(|at| matches!(prose.word(at), "that" | "all" | "what" | "whatever" | "everything" | "who" | "which"));
    let is_pronoun = SUBJECTS.contains(&prose.word(subject)) && opens(prose, subject, sentence);
    let is_noun = subject > sentence.start
        && is_being(prose.word(subject))
        && prose.is_joined(subject - 1)
        && matches!(prose.word(subject - 1), "the" | "a" | "his" | "her" | "their")
        && opens(prose, subject - 1, sentence);
    // `The fish he had ran away`: a noun before the pronoun is what he had.
    let is_alone =
        subject == sentence.start || !tagger::may_be_noun(prose.word(subject - 1)) || !prose.is_joined(subject - 1);
    !says_all && (is_noun || (is_pronoun && is_alone))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn forms_of_the_verb_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/verb_slips.txt"));
    }
}
