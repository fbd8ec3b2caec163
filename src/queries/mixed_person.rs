//! Persons mixed in the telling: a hero told as `she`, a reader addressed as `you`, and a narrator who says `we`.
//!
//! Source: common practice of editors: third person for the story; `you` for the buyer's line. A book told by its own hero
//! begins so and stays so, and is left alone, as are speech, questions and thoughts.

use super::prose::OwnCopy;
use super::telling::Told;
use super::{Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

const NARRATOR: [&str; 11] = ["i", "i'm", "i've", "i'll", "me", "my", "we", "we're", "we'll", "us", "our"];
const READER: [&str; 6] = ["you", "you're", "you'll", "you've", "your", "yours"];
const HERO: [&str; 4] = ["he", "she", "her", "his"];
/// What somebody thinks is told in their own person, also without marks.
const THOUGHTS: [&str; 12] = [
    "think", "thinks", "thought", "wonder", "wonders", "wondered", "says", "said", "asks", "asked", "wishes", "wished",
];
/// Sentences that must tell of a hero.
const TOLD: usize = 2;

/// The first word of the narrator's own, where all three persons are in the blurb and the hero has most of it.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    let told = own.told();
    let has = |told: &Told<'_>, words: &[&str]| told.words.iter().any(|word| words.contains(&word.plain));
    let count = |words: &[&str]| told.iter().filter(|told| has(told, words)).count();
    let (hero, reader) = (count(&HERO), count(&READER));
    let own: Vec<&Told<'_>> = told
        .iter()
        .copied()
        .filter(|told| has(told, &NARRATOR) && !told.is_question() && !has(told, &THOUGHTS))
        .collect();
    let is_told_by_hero = told.first().is_some_and(|first| has(first, &NARRATOR)) || own.len() >= hero;
    if hero < TOLD || reader == 0 || is_told_by_hero {
        return;
    }
    let Some(word) = own.first().and_then(|told| told.words.iter().find(|word| NARRATOR.contains(&word.plain))) else {
        return;
    };
    queries.push(Query {
        rule: Rule::MixedPerson,
        block: word.word.block,
        range: word.word.range.clone(),
        says: format!(
            "“{}” brings in a narrator, where {hero} sentences tell of somebody else and the reader is “you”; two persons are \
             enough",
            word.written
        ),
        cuts: Vec::new(),
    });
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn mixed_persons_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/mixed_person.txt"));
    }
}
