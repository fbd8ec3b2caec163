//! Words that the last read weighs one by one: pale verbs, and single words of stress.
//!
//! Source: W. Strunk, The Elements of Style (1918), rules 12 and 13; common practice of editors. Most good copy has
//! some of these, so they are told only where the author asks for a close read.

use super::lists;
use super::prose::Prose;
use super::query::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;
use crate::text::tagger::WordClass;

/// Finds pale verbs in front of the verb that acts, and actions that are drawn out: `is climbing`.
pub(super) fn weak_verbs(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::WeakVerb, prose, |hit| {
        let says = "a pale verb stands before the one that acts; let that one act";
        queries.push(hit.query(Rule::WeakVerb, prose, says, Vec::new()));
    });
    if reading.text.language != Language::English {
        return;
    }
    for sentence in &prose.sentences {
        let is_form = |at: &usize| matches!(prose.word(*at), "is" | "are" | "was" | "were") && prose.is_joined(*at);
        let mut forms = sentence.clone().filter(is_form).peekable();
        if forms.peek().is_none() {
            continue;
        }
        let tags = prose.tags(sentence);
        let draws_out = |at: &usize| tags.get(at + 1 - sentence.start) == Some(&WordClass::Gerund);
        for at in forms.filter(draws_out).filter(|at| prose.word(at + 1) != "going") {
            let words = at..at + 2;
            if !prose.is_kept(reading, &words) {
                queries.push(Query {
                    rule: Rule::WeakVerb,
                    block: prose.number,
                    range: prose.bytes(&words),
                    says: "the action is drawn out; the plain verb is shorter and nearer".to_owned(),
                    cuts: Vec::new(),
                });
            }
        }
    }
}

/// Words of stress that have another sense unless an adjective or an adverb follows them, or an article.
const OTHERWISE: [&str; 9] = ["so", "such", "just", "even", "quite", "rather", "pretty", "perfectly", "very"];

/// Finds single words of stress.
pub(super) fn intensifiers(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::Intensifier, prose, |hit| {
        let word = prose.word(hit.words.start);
        let stresses = || {
            let sentence = prose.sentence_of(hit.words.start);
            let tags = prose.tags(&sentence);
            let next = tags.get(hit.words.end - sentence.start).filter(|_| prose.is_joined(hit.words.end - 1));
            matches!(next, Some(WordClass::Adjective | WordClass::Adverb))
                || (matches!(word, "such" | "quite" | "rather") && matches!(prose.word(hit.words.end), "a" | "an"))
        };
        if !OTHERWISE.contains(&word) || stresses() {
            let says = format!("“{word}” is there for stress; the sentence may be as strong without it");
            queries.push(hit.query(Rule::Intensifier, prose, says, Vec::new()));
        }
    });
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check_closely;

    #[test]
    fn weak_verbs_and_intensifiers_are_found_as_marked() {
        check_closely(include_str!("../../tests/cases/queries/close_words.txt"));
    }
}
