//! Words that are spelt wrong, or written for others that sound alike, where the words beside them leave no other
//! reading.
//!
//! Source: the grammar of English; the words that are often spelt wrong stand in a list. No word is told for being
//! unknown: names and invented words are a children's book's own. What somebody says may be spelt as they say it, and
//! is left alone.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::LazyLock;

use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use super::verbs;
use super::{lists, mend};
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
const COMPARED: [&str; 26] = [
    "more", "less", "better", "worse", "rather", "bigger", "smaller", "faster", "slower", "older", "younger", "braver",
    "stronger", "taller", "smarter", "louder", "harder", "stranger", "easier", "longer", "higher", "deeper", "funnier",
    "happier", "brighter", "wiser",
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

/// Finds wordings that English does not have, and says what belongs there.
pub(super) fn wordings(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    lists::for_each(reading, Rule::MisspeltWord, prose, |hit| {
        let Some(right) = hit.wordings(prose).first().copied() else {
            queries.push(hit.query(Rule::MisspeltWord, prose, "this is no English wording", Vec::new()));
            return;
        };
        let says = format!("“{right}” is what belongs here");
        queries.extend(told(Rule::MisspeltWord, prose, &hit.words, right, says));
    });
}

/// Words that take hyphens where they stand before what they tell of.
static HYPHENED: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("hyphened-words.txt").lines().filter(|line| !line.starts_with('#')).collect());
/// Words behind which such wordings stand before what they tell of.
const BEFORE_PAIR: [&str; 18] = [
    "a", "an", "the", "this", "these", "its", "his", "her", "their", "of", "with", "and", "our", "your", "in", "for",
    "some", "many",
];

/// Finds wordings that want their hyphens before what they tell of: `an old fashioned lamp`.
pub(super) fn hyphens(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for at in 0..prose.words.len() {
        let is_listed = |count: usize| {
            let words: Vec<&str> = (at..at + count).map(|at| prose.word(at)).collect();
            HYPHENED.contains(words.join(" ").as_str())
        };
        let Some(count) = [3, 2].into_iter().find(|count| is_listed(*count)) else { continue };
        let end = at + count;
        let is_joined = (at..end).all(|word| prose.is_joined(word));
        let leads = at > prose.sentence_of(at).start && BEFORE_PAIR.contains(&prose.word(at - 1))
            || prose.sentence_of(at).start == at;
        let has_noun = end < prose.sentence_of(at).end && is_owned(prose.word(end));
        let is_whole = (at..end).all(|word| !prose.written(word).contains('-'));
        if is_joined && leads && has_noun && is_whole {
            let right = (at..end).map(|word| prose.written(word)).collect::<Vec<_>>().join("-");
            let says = "words that stand together before what they tell of take hyphens".to_owned();
            queries.extend(told(Rule::DoubtfulMark, prose, &(at..end), &right, says));
        }
    }
}

/// Finds ages that want their hyphens before whom they tell of: `twelve year old Tam`.
pub(super) fn ages(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for at in 0..prose.words.len() {
        let end = match (prose.word(at + 1), prose.word(at + 2)) {
            ("year", "old") => at + 3,
            // `15 years old Ines`: a name follows, which belongs to no other clause.
            ("years", "old") if prose.is_joined(at + 2) && prose.is_capital(at + 3) => at + 3,
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
pub(super) fn told(rule: Rule, prose: &Prose<'_>, words: &Range<usize>, right: &str, says: String) -> Option<Query> {
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
        // `The might of the sea` is a noun.
        "of" if BEFORE_HAVE.contains(&before) && next != "course" && !is_power(prose, at - 1, &sentence) => {
            one("have", "“of” sounds like “have” here, and “have” is what belongs")
        }
        "your" if BEFORE_CLAUSE.contains(&before) && wants_you_are(next, behind) => {
            one("you're", "“your” says whose something is; “you are” takes an apostrophe")
        }
        "who's" if is_owned(next) && BEHIND_OWNED.contains(&behind) => {
            one("whose", "“who’s” is “who is” or “who has”; whose something is takes no apostrophe")
        }
        "a" if wants_an(next) && is_plain(prose, at + 1) => one("an", "before a vowel's sound stands “an”"),
        "an" if wants_a(next) && is_plain(prose, at + 1) => one("a", "before a consonant's sound stands “a”"),
        "it's" if OWNERS_LEAD.contains(&before) && (is_told_of(next) || is_made_up(prose, at + 1)) => {
            one("its", "“it’s” is “it is” or “it has”; whose something is takes no apostrophe")
        }
        "who" if before == "of" && at > sentence.start + 1 && OF_WHOM.contains(&prose.word(at - 2)) => {
            one("whom", "behind “of” stands “whom”")
        }
        "is" if before == "there" && is_several(next, behind) => one("are", "there are several, and “is” tells of one"),
        "them" | "us" if before == "of" && at > sentence.start + 1 && verbs::is_base(next) => {
            let is_one = matches!(prose.word(at - 2), "each" | "one" | "neither" | "either" | "every");
            // `One of them please`, `make each of them try`: what was before may have made it a base.
            let begins = at - 2 == sentence.start;
            let right = verbs::third_person(next);
            let says = format!("“{}” is one, and what one does is “{right}”", prose.word(at - 2));
            (is_one && begins && prose.word(at - 2) != "one").then_some((at + 1..at + 2, right, says))
        }
        "there" if next == "own" || (ORDINALS.contains(&next) && is_told_of(behind)) => {
            one("their", "“there” is a place; whose something is is “their”")
        }
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

/// Whether a `might` is a noun: it opens its sentence, or an article or an owner stands before it.
fn is_power(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> bool {
    const LEADS: [&str; 9] = ["the", "his", "her", "its", "their", "all", "full", "sheer", "and"];
    prose.word(at) == "might" && (at == sentence.start || LEADS.contains(&prose.word(at - 1)))
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

/// Words that count what somebody has, as `their third adventure`.
const ORDINALS: [&str; 10] =
    ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "tenth", "latest", "biggest"];
/// Prepositions behind which `it's` is written for `its`.
const OWNERS_LEAD: [&str; 12] =
    ["with", "on", "of", "from", "into", "inside", "under", "through", "without", "over", "against", "around"];
/// Words of several people or things, behind which `of who` is written for `of whom`.
const OF_WHOM: [&str; 9] = ["all", "both", "some", "many", "most", "none", "each", "several", "few"];

/// Whether a word is one that a thing is told by, and no small word.
fn is_told_of(word: &str) -> bool {
    (tagger::may_be_noun(word) || tagger::is_adjective(word)) && word.len() > 3 && !word.ends_with("ing")
}

/// Whether a word is on no list, stands before one that may be what somebody has, and so tells more of that: `chunky
/// pages`.
fn is_made_up(prose: &Prose<'_>, at: usize) -> bool {
    !tagger::is_known(prose.word(at)) && prose.is_joined(at) && is_owned(prose.word(at + 1)) && !prose.is_capital(at)
}

/// Whether a word is written small and whole, so that it is said as it is spelt.
fn is_plain(prose: &Prose<'_>, at: usize) -> bool {
    /// The fewest letters of a word that is no small word.
    const SHORTEST: usize = 4;
    /// Short words that are no small words.
    const SHORT: [&str; 63] = [
        "old", "odd", "ill", "ant", "ape", "egg", "owl", "elf", "eel", "oak", "inn", "ice", "ear", "eye", "arm", "axe",
        "boy", "cat", "dog", "man", "big", "map", "bad", "sad", "red", "new", "key", "pig", "bee", "bus", "car", "day",
        "box", "hat", "hen", "fox", "bat", "bag", "bed", "cup", "den", "jar", "joy", "job", "toy", "sea", "sky", "spy",
        "son", "van", "war", "web", "wig", "hut", "hug", "hot", "fun", "fat", "wet", "dry", "shy", "zoo", "ink",
    ];
    let word = prose.word(at);
    // A name is said as it is spelt, but not letters that stand for words.
    let is_name = prose.is_capital(at) && prose.written(at)[1..].chars().all(|c| c.is_ascii_lowercase());
    is_name && word.len() >= SHORTEST
        || prose.written(at).chars().all(|c| c.is_ascii_lowercase())
            && (word.len() >= SHORTEST || SHORT.contains(&word))
            && (tagger::may_be_noun(word) || tagger::is_adjective(word))
}

/// Whether `an` belongs before a word by its first sound.
fn wants_an(word: &str) -> bool {
    let sounds_otherwise = ["eu", "ew", "one", "once", "oui", "u"].iter().any(|start| word.starts_with(start));
    const SILENT: [&str; 8] = ["hour", "hours", "hourly", "honest", "honestly", "honour", "honor", "heir"];
    const SHORT_U: [&str; 6] = ["ugly", "umbrella", "uncle", "ultimate", "urgent", "upside"];
    // `Un` before a consonant or `able` is no; `uni` may be one.
    let is_no = word.strip_prefix("un").is_some_and(|rest| !rest.starts_with(['i', 'a'])) || word == "unable";
    word.starts_with(['a', 'e', 'i', 'o']) && !sounds_otherwise
        || SILENT.contains(&word)
        || SHORT_U.contains(&word)
        || is_no
}

/// Whether `a` belongs before a word by its first sound.
fn wants_a(word: &str) -> bool {
    const BREATHED: [&str; 22] = [
        "hero", "house", "horse", "happy", "huge", "hidden", "hungry", "hundred", "heart", "hat", "hen", "hill",
        "home", "hand", "helper", "hedgehog", "hippo", "hamster", "hole", "hug", "hot", "hut",
    ];
    const YOU: [&str; 6] = ["unicorn", "unique", "useful", "universal", "uniform", "european"];
    BREATHED.contains(&word)
        || YOU.contains(&word)
        || word.starts_with(['b', 'c', 'd', 'f', 'g', 'j', 'k', 'l', 'm', 'n', 'p', 'q', 'r', 's', 't', 'v', 'w', 'z'])
}

/// Whether two words count several: `twelve`, `only twelve`.
fn is_several(word: &str, next: &str) -> bool {
    let number = if matches!(word, "only" | "just" | "about") { next } else { word };
    is_number(number) && !matches!(number, "1" | "0")
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
