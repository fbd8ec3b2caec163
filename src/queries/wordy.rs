//! Wording that says in many words what fewer say: wordy phrases, doublets, and actions put into nouns.
//!
//! Sources: W. Strunk, The Elements of Style (1918), rule 13, "Omit needless words"; the Federal Plain Language
//! Guidelines of the United States, "Use simple words and phrases", "Be concise", "Avoid hidden verbs"; and common
//! practice. The lists say more.

use super::lists::{self, PhraseHit};
use super::prose::Prose;
use super::query::{Query, Reading};
use super::sense::Rewording;
use super::telling::is_common;
use crate::brief::queries::Rule;

/// Finds several words that one can stand for.
pub(super) fn wordy_phrases(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::WordyPhrase, queries, |wording| match wording {
        Some("") => "nothing is lost without these words".to_owned(),
        Some(wording) => format!("“{wording}” says the same in less room"),
        None => "the same can be said in fewer words, which leaves room for the story".to_owned(),
    });
}

/// Finds two words for one thing.
pub(super) fn doublets(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::Doublet, queries, |wording| match wording {
        Some(wording) if !wording.is_empty() => format!("both words say one thing; “{wording}” is enough"),
        _ => "the words say one thing twice; one of them is enough".to_owned(),
    });
}

/// Finds an action put into a noun, with a pale verb to carry it. The noun is told only where the verb can take its
/// place: what follows a bare noun (`makes a choice that ...`) may need it.
pub(super) fn hidden_verbs(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::HiddenVerb, queries, |wording| match wording {
        Some(wording) if !wording.is_empty() => format!("the verb is hidden in a noun; “{wording}” lets it act"),
        _ => "the verb is hidden in a noun; let it act".to_owned(),
    });
}

/// Adds the queries of a rule that is a list of phrases; `says` is given the best wording that suits the place, if any.
fn listed(
    reading: &Reading<'_>,
    prose: &Prose<'_>,
    rule: Rule,
    queries: &mut Vec<Query>,
    says: impl Fn(Option<&str>) -> String,
) {
    lists::for_each(reading, rule, prose, |hit| {
        if is_verb(prose, hit) {
            let mut wordings = hit.wordings(prose);
            wordings.retain(|wording| suits(rule, prose, hit, wording));
            let told = says(wordings.first().copied());
            queries.push(hit.query(rule, prose, told, lists::cuts(reading, prose, hit, &wordings)));
        }
    });
}

/// Whether a wording suits the words round its place. A wording that does not is not mentioned.
fn suits(rule: Rule, prose: &Prose<'_>, hit: &PhraseHit<'_>, wording: &str) -> bool {
    let change = Rewording { prose, words: hit.words.clone(), wording };
    let of_rule = if rule == Rule::Doublet { change.keeps_pair() } else { change.keeps_sense() };
    of_rule && change.is_sound()
}

/// Whether a word that can be a noun as well (`three purchases`) is a verb here: somebody who does it stands before it,
/// or a word that goes with verbs alone. All other words pass, and so do phrases of several words.
fn is_verb(prose: &Prose<'_>, hit: &PhraseHit<'_>) -> bool {
    const BEFORE_VERBS: [&str; 22] = [
        "i", "you", "he", "she", "it", "we", "they", "who", "to", "can", "could", "will", "would", "must", "may",
        "might", "should", "cannot", "and", "can't", "let's", "please",
    ];
    let may_be_noun = hit.words.len() == 1 && matches!(prose.word(hit.words.start), "purchase" | "purchases");
    let before = hit.words.start.checked_sub(1).filter(|before| prose.is_joined(*before));
    let is_name = |at: usize| prose.is_capital(at) && !is_common(prose.word(at));
    let follows_doer = |before: usize| BEFORE_VERBS.contains(&prose.word(before)) || is_name(before);
    !may_be_noun || before.is_some_and(follows_doer)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn wordy_phrases_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/wordy.txt"));
    }
}
