//! Wording that says in many words what fewer say: wordy phrases, doublets, and actions put into nouns.
//!
//! Sources: W. Strunk, The Elements of Style (1918), rule 13, "Omit needless words"; the Federal Plain Language Guidelines
//! of the United States, "Use simple words and phrases", "Be concise", "Avoid hidden verbs"; and common practice. The
//! lists say more.

use super::lists::{self, Hit};
use super::prose::Prose;
use super::{Query, Reading};
use crate::brief::queries::Rule;

/// Several words that one can stand for.
pub(super) fn wordy_phrases(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::WordyPhrase, queries, |wording| match wording {
        Some("") => "nothing is lost without these words".to_owned(),
        Some(wording) => format!("“{wording}” says the same in less room"),
        None => "the same can be said in fewer words, which leaves room for the story".to_owned(),
    });
}

/// Two words for one thing.
pub(super) fn doublets(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::Doublet, queries, |wording| match wording {
        Some(wording) if !wording.is_empty() => format!("both words say one thing; “{wording}” is enough"),
        _ => "the words say one thing twice; one of them is enough".to_owned(),
    });
}

/// An action put into a noun, with a pale verb to carry it. It is told only where the verb can take its place: what
/// follows a bare noun (`makes a choice that ...`) may need it.
pub(super) fn hidden_verbs(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    listed(reading, prose, Rule::HiddenVerb, queries, |wording| match wording {
        Some(wording) if !wording.is_empty() => format!("the verb is hidden in a noun; “{wording}” lets it act"),
        _ => "the verb is hidden in a noun; let it act".to_owned(),
    });
}

fn listed(
    reading: &Reading<'_>,
    prose: &Prose<'_>,
    rule: Rule,
    queries: &mut Vec<Query>,
    says: impl Fn(Option<&str>) -> String,
) {
    lists::for_each(reading, rule, prose, |hit| {
        if is_verb(prose, hit) {
            let told = says(hit.wordings(prose).first().copied());
            queries.push(hit.query(rule, prose, told, lists::cuts(reading, prose, hit)));
        }
    });
}

/// Whether a word that can be a noun as well (`a purchase`, `their reserve`) is not one here: no article or possessive
/// stands before it. Phrases of several words are what they are.
fn is_verb(prose: &Prose<'_>, hit: &Hit<'_>) -> bool {
    const DETERMINERS: [&str; 10] = ["a", "an", "the", "this", "my", "your", "his", "her", "our", "their"];
    let before = hit.words.start.checked_sub(1).map_or("", |before| prose.word(before));
    hit.words.len() > 1 || hit.wordings(prose).is_empty() || !DETERMINERS.contains(&before)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn wordy_phrases_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/wordy.txt"));
    }
}
