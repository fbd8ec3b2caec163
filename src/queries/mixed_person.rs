//! Persons mixed in the telling: a hero told as `she`, a reader addressed as `you`, and a narrator who says `we`.
//!
//! Source: common practice of editors: third person for the story; `you` for the buyer's line. A book told by its own
//! hero begins so and stays so, and is left alone, as are speech, questions and thoughts.

use super::gathered::Persons;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::telling::ToldSentence;
use crate::brief::queries::Rule;
use crate::units::nouns::{agrees, counted};

const NARRATOR: [&str; 11] = ["i", "i'm", "i've", "i'll", "me", "my", "we", "we're", "we'll", "us", "our"];
const READER: [&str; 6] = ["you", "you're", "you'll", "you've", "your", "yours"];
const HERO: [&str; 4] = ["he", "she", "her", "his"];
/// Words that tell what somebody thinks or says, which stands in that person's own voice, also without marks.
const THOUGHTS: [&str; 12] = [
    "think", "thinks", "thought", "wonder", "wonders", "wondered", "says", "said", "asks", "asked", "wishes", "wished",
];
/// How many sentences must tell of a hero.
const TOLD: usize = 2;

/// The persons of each of a paragraph's sentences.
pub(super) fn persons(prose: &Prose<'_>) -> Vec<Persons> {
    let of_one = |told: &ToldSentence<'_>| {
        let has = |words: &[&str]| told.words.iter().any(|word| words.contains(&word.plain));
        let is_narrator = |at: &usize| {
            let word = &told.words[*at];
            NARRATOR.contains(&word.plain) && word.written != "US" && !is_everybody(told, *at)
        };
        let narrator = (0..told.words.len()).find(is_narrator).map(|at| &told.words[at]);
        Persons {
            hero: has(&HERO),
            reader: has(&READER),
            is_narrators_own: narrator.is_some() && !told.is_question() && !has(&THOUGHTS),
            narrator: narrator.map(|word| word.word.range.clone()),
        }
    };
    prose.told.iter().map(of_one).collect()
}

/// Whether `we` and its forms mean all people, as a lesson does: `our planet`, `what makes us special`, `those we
/// love`.
fn is_everybody(told: &ToldSentence<'_>, at: usize) -> bool {
    const SHARED: [&str; 13] = [
        "planet",
        "world",
        "earth",
        "oceans",
        "seas",
        "environment",
        "climate",
        "differences",
        "hearts",
        "lives",
        "past",
        "history",
        "universe",
    ];
    let before = at.checked_sub(1).map_or("", |at| told.words[at].plain);
    let next = |words: usize| told.words.get(at + words).map_or("", |word| word.plain);
    match told.words[at].plain {
        "our" => SHARED.contains(&next(1)) || SHARED.contains(&next(2)),
        "us" => {
            matches!(before, "makes" | "make" | "made" | "of" | "around" | "reminds" | "teaches" | "shows" | "unites")
        }
        "we" => matches!(before, "those" | "what" | "who" | "all" | "people" | "things" | "everything"),
        _ => false,
    }
}

/// Finds the first word of the narrator's own person where all three persons are in the blurb and the hero has most of
/// it.
pub(super) fn find(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let sentences =
        || own.blurb().iter().flat_map(|prose| prose.gathered.persons.iter().map(move |found| (prose, found)));
    let hero = sentences().filter(|(_, found)| found.hero).count();
    let narrators: Vec<_> = sentences().filter(|(_, found)| found.is_narrators_own).collect();
    let is_told_by_hero =
        sentences().next().is_some_and(|(_, found)| found.narrator.is_some()) || narrators.len() >= hero;
    if hero < TOLD || !sentences().any(|(_, found)| found.reader) || is_told_by_hero {
        return;
    }
    let Some((prose, range)) = narrators.first().and_then(|(prose, found)| Some((prose, found.narrator.clone()?)))
    else {
        return;
    };
    queries.push(Query {
        rule: Rule::MixedPerson,
        block: prose.number,
        says: format!(
            "“{}” brings in a narrator, where {} {} of somebody else and the reader is “you”; two persons are \
             enough",
            &prose.text()[range.clone()],
            counted(hero, "sentence"),
            agrees(hero, "tells", "tell")
        ),
        range,
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
