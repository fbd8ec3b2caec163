//! Words that are spelt wrong, or written for others that sound alike, where the words beside them leave no other
//! reading.
//!
//! Source: the grammar of English; the words that are often spelt wrong stand in a list. No word is told for being
//! unknown: names and invented words are a children's book's own. What somebody says may be spelt as they say it, and
//! is left alone.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

use super::mend;
use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::tagger;

/// The wrong forms of the list, each with the right one.
static MISSPELT: LazyLock<HashMap<&str, &str>> = LazyLock::new(|| {
    wordlist!("misspellings.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once(' '))
        .collect()
});

/// Forms of the past that stand for a participle behind `has` or `had`, with the participle.
const PAST_FOR_PARTICIPLE: [(&str, &str); 18] = [
    ("took", "taken"),
    ("went", "gone"),
    ("ate", "eaten"),
    ("broke", "broken"),
    ("spoke", "spoken"),
    ("wrote", "written"),
    ("gave", "given"),
    ("fell", "fallen"),
    ("chose", "chosen"),
    ("knew", "known"),
    ("drove", "driven"),
    ("flew", "flown"),
    ("threw", "thrown"),
    ("grew", "grown"),
    ("forgot", "forgotten"),
    ("stole", "stolen"),
    ("began", "begun"),
    ("swam", "swum"),
];
/// Verbs behind which `of` is written for `have`.
const BEFORE_HAVE: [&str; 5] = ["could", "would", "should", "must", "might"];
/// Words before which `your` is written for `you're`, where one of [`BEFORE_CLAUSE`] stands before it.
const BEHIND_YOU_ARE: [&str; 12] =
    ["a", "an", "the", "not", "never", "about", "going", "looking", "ready", "lucky", "invited", "welcome"];
/// Words that begin a clause.
const BEFORE_CLAUSE: [&str; 9] = ["when", "if", "because", "that", "while", "whenever", "unless", "once", "whether"];
/// Verbs that show that the noun before them is somebody's.
const BEHIND_OWNED: [&str; 9] = ["is", "was", "were", "are", "has", "had", "can", "could", "will"];
/// Verbs of motion, behind which `in to` is `into`.
const MOTIONS: [&str; 22] = [
    "walk", "walks", "walked", "run", "runs", "ran", "fall", "falls", "fell", "step", "steps", "stepped", "bump",
    "bumps", "bumped", "stumble", "stumbles", "turn", "turns", "turned", "crash", "crashes",
];
/// Words that compare, behind which `then` is written for `than`.
const COMPARED: [&str; 18] = [
    "more", "less", "better", "worse", "rather", "bigger", "smaller", "faster", "slower", "older", "younger", "braver",
    "stronger", "taller", "smarter", "louder", "harder", "stranger",
];
/// Numbers as words, behind which a time is counted.
const NUMBERS: [&str; 20] = [
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "twenty",
    "thirty",
    "forty",
];

/// A wrong wording: its words as positions in the paragraph, what belongs there, and why.
type WrongWords = (Range<usize>, String, String);

/// Finds words that are spelt wrong or taken for each other.
pub(super) fn words(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let found = (0..prose.words.len()).filter_map(|at| listed(prose, at).or_else(|| confused(prose, at)));
    for (words, right, says) in found {
        queries.extend(told(Rule::MisspeltWord, prose, &words, &right, says));
    }
}

/// Finds ages that want their hyphens before whom they tell of: `twelve year old Tam`.
pub(super) fn ages(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for at in 0..prose.words.len() {
        let end = match (prose.word(at + 1), prose.word(at + 2)) {
            ("year", "old") => at + 3,
            ("yearold", _) => at + 2,
            _ => continue,
        };
        let number = prose.written(at);
        if is_number(prose.word(at)) && prose.is_joined(at) && !prose.written(at + 1).contains(' ') {
            let right = format!("{number}-year-old");
            let says = "an age that stands before whom it tells of takes hyphens".to_owned();
            queries.extend(told(Rule::DoubtfulMark, prose, &(at..end), &right, says));
        }
    }
}

/// A query on some words with the right ones as its cut; none in speech, or where the words are as they should be.
fn told(rule: Rule, prose: &Prose<'_>, words: &Range<usize>, right: &str, says: String) -> Option<Query> {
    let range = prose.bytes(words);
    let curly = if prose.text().contains('’') { right.replace('\'', "’") } else { right.to_owned() };
    let wording = if prose.is_capital(words.start) { mend::capitalised(&curly) } else { curly };
    if prose.is_quoted(&range) || prose.text().get(range.clone()) == Some(wording.as_str()) {
        return None;
    }
    Some(Query { rule, block: prose.number, says, cuts: vec![Cut { range: range.clone(), wording }], range })
}

/// A word of the list of wrong forms. One with a capital inside a sentence may be a name.
fn listed(prose: &Prose<'_>, at: usize) -> Option<WrongWords> {
    let right = MISSPELT.get(prose.word(at))?;
    let may_be_name = prose.is_capital(at) && prose.sentence_of(at).start != at;
    let is_whole = !prose.written(at).contains(['\'', '’', '-']);
    (is_whole && !may_be_name).then(|| (at..at + 1, (*right).to_owned(), format!("this is spelt “{right}”")))
}

/// A word that is written for another that sounds like it.
fn confused(prose: &Prose<'_>, at: usize) -> Option<WrongWords> {
    let sentence = prose.sentence_of(at);
    if at + 1 >= sentence.end || !prose.is_joined(at) {
        return None;
    }
    let (word, next, behind) = (prose.word(at), prose.word(at + 1), prose.word(at + 2));
    let before = if at > sentence.start && prose.is_joined(at - 1) { prose.word(at - 1) } else { "" };
    let one = |right: &str, says: &str| Some((at..at + 1, right.to_owned(), says.to_owned()));
    match word {
        "of" if BEFORE_HAVE.contains(&before) && next != "course" => {
            one("have", "“of” sounds like “have” here, and “have” is what belongs")
        }
        "your" if BEFORE_CLAUSE.contains(&before) && wants_you_are(next, behind) => {
            one("you're", "“your” says whose something is; “you are” takes an apostrophe")
        }
        "who's" if is_owned(next) && BEHIND_OWNED.contains(&behind) => {
            one("whose", "“who’s” is “who is” or “who has”; whose something is takes no apostrophe")
        }
        "there" if next == "own" => one("their", "“there” is a place; whose something is is “their”"),
        "their" if BEHIND_OWNED.contains(&next) && next != "will" && next != "can" => {
            one("there", "“their” says whose something is; “there” belongs here")
        }
        "in" if MOTIONS.contains(&before) && next == "to" && matches!(behind, "the" | "a" | "an" | "his" | "her") => {
            Some((at..at + 2, "into".to_owned(), "whoever moves goes “into”, in one word".to_owned()))
        }
        "then" if COMPARED.contains(&before) && next != "and" => {
            one("than", "“then” is a time; what is compared takes “than”")
        }
        "effects" if matches!(before, "that" | "which" | "it") && is_affected(next) => {
            one("affects", "“effects” are what comes of something; what it does to somebody is “affects”")
        }
        "to" if matches!(before, "never" | "be" | "is" | "was") && matches!(next, "late" | "young" | "small") => {
            one("too", "“too” with two o's says that it is more than enough")
        }
        "years" | "months" | "weeks" if is_number(before) && matches!(next, "experience" | "work" | "worth") => {
            one(&format!("{word}'"), "the years' experience is theirs: an apostrophe stands behind them")
        }
        // `All that he had went overboard`: a clause ends behind the verb.
        "has" | "had" | "have" if !(sentence.start..at).any(|at| matches!(prose.word(at), "that" | "all" | "what")) => {
            let (_, right) = PAST_FOR_PARTICIPLE.iter().find(|(past, _)| *past == next)?;
            Some((at + 1..at + 2, (*right).to_owned(), format!("behind “{word}” stands “{right}”")))
        }
        _ => None,
    }
}

/// Whether `you are` must be meant, by the words behind it.
fn wants_you_are(next: &str, behind: &str) -> bool {
    BEHIND_YOU_ARE.contains(&next)
        || (next.ends_with("ing") && matches!(behind, "in" | "to" | "for" | "a" | "the" | "at"))
}

/// Whether a word may be what somebody has, and not what somebody is or does.
fn is_owned(word: &str) -> bool {
    tagger::may_be_noun(word) && !tagger::is_adjective(word) && !word.ends_with("ing") && !word.ends_with("ed")
}

/// Whether a word may be whom something is done to.
fn is_affected(word: &str) -> bool {
    matches!(
        word,
        "one" | "a" | "the" | "us" | "you" | "all" | "everyone" | "children" | "people" | "many" | "millions"
    )
}

/// Whether a word is a number that counts years.
fn is_number(word: &str) -> bool {
    NUMBERS.contains(&word) || (word.len() < 3 && !word.is_empty() && word.chars().all(|c| c.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::MISSPELT;
    use crate::queries::cases::check;

    #[test]
    fn the_list_has_as_many_entries_as_it_says() {
        assert!(wordlist!("misspellings.txt").contains(&format!("# Entries: {}\n", MISSPELT.len())));
    }

    #[test]
    fn misspelt_words_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/misspelt.txt"));
    }
}
