//! Words taken for others that sound alike, where more than the next word has to be seen: `pack there bags`,
//! `opens it's mouth`, `five mouse's`, `the boys mother is`.
//!
//! Sources: the usage notes of dictionaries on pairs that sound alike; the grammar of English, by which a plural has no
//! apostrophe and an owner has one. A word is told only where what stands around it leaves the other no place.

use std::ops::Range;

use super::agreement::opens_clause;
use super::beings::{is_being, is_people};
use super::misspelt::told;
use super::prose::Prose;
use super::query::{Query, Reading};
use super::verbs;
use crate::brief::queries::Rule;
use crate::text::parts::{SpecialForm, irregular_form};
use crate::text::tagger;

/// A place, what belongs there, and why.
type WrongWords = (Range<usize>, String, &'static str);

/// What people have, as stories tell it.
const OWNED: [&str; 62] = [
    "way",
    "bags",
    "parents",
    "mother",
    "father",
    "mum",
    "dad",
    "mom",
    "friends",
    "friend",
    "family",
    "house",
    "houses",
    "lives",
    "names",
    "heads",
    "hearts",
    "hands",
    "eyes",
    "feet",
    "dreams",
    "village",
    "town",
    "island",
    "school",
    "teacher",
    "planet",
    "boat",
    "ship",
    "toys",
    "clothes",
    "coats",
    "shoes",
    "children",
    "breakfast",
    "lunch",
    "dinner",
    "supper",
    "beds",
    "secret",
    "secrets",
    "powers",
    "adventure",
    "adventures",
    "journey",
    "courage",
    "fears",
    "differences",
    "mission",
    "quest",
    "enemy",
    "enemies",
    "neighbours",
    "neighbors",
    "pets",
    "kingdom",
    "tent",
    "castle",
    "forest",
    "wings",
    "grandmother",
    "grandfather",
];
/// Verbs that one does to what is one's own, behind which `it's` is written for `its`.
const DONE: [&str; 40] = [
    "opens",
    "opened",
    "open",
    "shuts",
    "shut",
    "closes",
    "closed",
    "close",
    "loses",
    "lost",
    "lose",
    "leaves",
    "left",
    "leave",
    "shakes",
    "shook",
    "shake",
    "wags",
    "wag",
    "flaps",
    "flapped",
    "spreads",
    "spread",
    "lifts",
    "lifted",
    "stretches",
    "hides",
    "hid",
    "hide",
    "guards",
    "follows",
    "raises",
    "swishes",
    "curls",
    "licks",
    "rubs",
    "twitches",
    "builds",
    "lays",
    "protects",
];
/// Words behind which `there` cannot be a place that somebody is told to be at.
const BEFORE_THEIR: [&str; 16] = [
    "find", "finds", "found", "pack", "in", "of", "with", "for", "from", "into", "under", "on", "lose", "save",
    "eating", "leave",
];

/// Finds such words.
pub(super) fn find(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for sentence in &prose.sentences {
        for at in sentence.clone() {
            let found = owners(prose, at, sentence)
                .or_else(|| verbs_taken(prose, at, sentence))
                .or_else(|| compared(prose, at, sentence))
                .or_else(|| plural(prose, at))
                .or_else(|| owner_of(prose, at, sentence))
                .or_else(|| small(prose, at, sentence));
            let Some((words, right, says)) = found else { continue };
            queries.extend(told(Rule::MisspeltWord, prose, &words, &right, says.to_owned()));
        }
    }
}

/// The words before and behind one, as far as only blanks stand between.
fn beside<'p>(prose: &'p Prose<'_>, at: usize, sentence: &Range<usize>) -> (&'p str, &'p str, &'p str) {
    let before = if at > sentence.start && prose.is_joined(at - 1) { prose.word(at - 1) } else { "" };
    let next = if at + 1 < sentence.end && prose.is_joined(at) { prose.word(at + 1) } else { "" };
    let behind =
        if !next.is_empty() && at + 2 < sentence.end && prose.is_joined(at + 1) { prose.word(at + 2) } else { "" };
    (before, next, behind)
}

/// `Their`, `there` and `they're`, `your` and `you're`, `its` and `it's`.
fn owners(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<WrongWords> {
    const OWNS: &str = "whose something is is “their”, “your” or “its”, without an apostrophe";
    const IS: &str = "“they are” and “you are” take an apostrophe, and whose something is takes none";
    let (before, next, behind) = beside(prose, at, sentence);
    let one = |right: &str, says| Some((at..at + 1, right.to_owned(), says));
    let is_done = |word: &str| verbs::is_finite(word) || word == "are";
    match prose.word(at) {
        "there" if OWNED.contains(&next) && !is_done(behind) && is_taking(before) => one("their", OWNS),
        "there" if matches!((next, behind), ("going" | "about", "to")) && !IS_BEFORE.contains(&before) => {
            one("they're", IS)
        }
        "they're" if OWNED.contains(&next) && !next.ends_with('s') && next != "family" && is_done(behind) => {
            one("their", OWNS)
        }
        "your" if THINKING.contains(&before) && is_felt(next) && behind.is_empty() => one("you're", IS),
        "your" if before == "what" && next.ends_with("ing") && behind.is_empty() => one("you're", IS),
        "it's"
            if opens_clause(prose, at, sentence)
                && is_single(next)
                && matches!(behind, "is" | "was" | "has" | "can") =>
        {
            one("its", OWNS)
        }
        "it's" if DONE.contains(&before) && is_single_or_several(next) => one("its", OWNS),
        "it's" if before == "and" && is_being(next) => one("its", OWNS),
        _ => None,
    }
}

/// Forms of `be`, behind which `there going to` is right.
const IS_BEFORE: [&str; 9] = ["is", "are", "was", "were", "be", "isn't", "aren't", "wasn't", "weren't"];
/// Words behind which a clause begins that `you are` opens.
const THINKING: [&str; 10] = ["think", "know", "if", "when", "because", "that", "hope", "sure", "how", "whenever"];

/// Whether a word says how somebody is.
fn is_felt(word: &str) -> bool {
    const FELT: [&str; 8] = ["brave", "clever", "smart", "ready", "lost", "bored", "alone", "tough"];
    FELT.contains(&word) || tagger::is_only_adjective(word)
}

/// Whether something is taken, found or owned behind a word, so that a possessive follows.
fn is_taking(before: &str) -> bool {
    BEFORE_THEIR.contains(&before)
        || (verbs::is_base(before)
            && !matches!(before, "go" | "live" | "stay" | "wait" | "sit" | "play" | "get" | "be"))
        || (verbs::tense(before).is_some() && !matches!(before, "goes" | "went" | "lives" | "lived"))
}

fn is_single(word: &str) -> bool {
    const TIMES: [&str; 5] = ["time", "night", "day", "winter", "summer"];
    tagger::may_be_noun(word)
        && !tagger::is_adjective(word)
        && word.len() > 3
        && !word.ends_with('s')
        && !word.ends_with("ing")
        && !TIMES.contains(&word)
}

fn is_single_or_several(word: &str) -> bool {
    is_single(word) || (word.ends_with('s') && word.len() > 3 && tagger::may_be_noun(word)) || word == "eyes"
}

/// Verbs and nouns that sound alike: `to loose her only friend`, `be quite`, `maybe`.
fn verbs_taken(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<WrongWords> {
    const LET_LOOSE: [&str; 12] =
        ["arrow", "arrows", "hounds", "dogs", "horse", "horses", "grip", "hair", "bonds", "hold", "hawk", "falcon"];
    let (before, next, behind) = beside(prose, at, sentence);
    let is_end = next.is_empty() || matches!(next, "and" | "but");
    let one = |right: &str, says| Some((at..at + 1, right.to_owned(), says));
    match prose.word(at) {
        "loose"
            if matches!(before, "to" | "will" | "might" | "could" | "would" | "can" | "must" | "not" | "never")
                && matches!(next, "her" | "his" | "their" | "its" | "your" | "my" | "our")
                && !behind.is_empty()
                && !LET_LOOSE.contains(&behind) =>
        {
            one("lose", "“loose” is not tight; what is lost is lost by “lose”")
        }
        "loose"
            if at == sentence.start + 2
                && matches!(prose.word(sentence.start), "will" | "can" | "could" | "did" | "must")
                && matches!(next, "the" | "her" | "his" | "their") =>
        {
            one("lose", "“loose” is not tight; what is lost is lost by “lose”")
        }
        "quite" if matches!(before, "be" | "keep" | "stay" | "very") && next.is_empty() => {
            one("quiet", "“quite” is rather; who makes no noise is “quiet”")
        }
        "everyday" if is_end && !before.is_empty() && is_when(before) => {
            one("every day", "what happens each day happens “every day”, in two words")
        }
        "may" if at == sentence.start && next == "be" && matches!(behind, "the" | "she" | "he" | "it" | "they") => {
            Some((at..at + 2, "maybe".to_owned(), "“perhaps” is “maybe”, in one word"))
        }
        "lets" if at == sentence.start && (verbs::is_base(next) || matches!(next, "go" | "meet" | "be" | "not")) => {
            one("let's", "“let us” takes an apostrophe")
        }
        "whose" if tagger::is_only_adjective(next) && matches!(behind, "of" | "to" | "about") => {
            one("who's", "“who is” takes an apostrophe; “whose” says whose something is")
        }
        _ => None,
    }
}

/// Whether `every day` can stand behind a word at the end of a clause, where `everyday` would be an adjective.
fn is_when(before: &str) -> bool {
    let is_judging = matches!(
        before,
        "the" | "and" | "or" | "but" | "so" | "very" | "are" | "is" | "was" | "were" | "more" | "quite" | "of" | "from"
    );
    !is_judging && (tagger::may_be_noun(before) || verbs::is_base(before) || verbs::tense(before).is_some())
}

/// `Then` for `than`, and `to` for `too`.
fn compared(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<WrongWords> {
    const NEAR: usize = 4;
    const OTHERS: [&str; 8] = ["anyone", "anybody", "anything", "ever", "everyone", "everybody", "most", "before"];
    let (before, next, behind) = beside(prose, at, sentence);
    let near = at.saturating_sub(NEAR).max(sentence.start)..at;
    let has = |words: &[&str]| near.clone().any(|at| words.contains(&prose.word(at)));
    let may_be_cut = near.clone().any(|at| !prose.is_joined(at));
    match prose.word(at) {
        "then" if !may_be_cut && before != "and" && has(&["more", "less", "better"]) && OTHERS.contains(&next) => {
            Some((at..at + 1, "than".to_owned(), "“then” is a time; what is compared takes “than”"))
        }
        "then" if !may_be_cut && has(&["rather"]) && verbs::is_base(next) && !has(&["and"]) => {
            Some((at..at + 1, "than".to_owned(), "“then” is a time; what is compared takes “than”"))
        }
        "to" if IS_BEFORE.contains(&before) && !before.ends_with("n't") => {
            let is_far = (next, behind) == ("far", "away");
            let is_judged = tagger::is_only_adjective(next) && (behind.is_empty() || behind == "to" || behind == "for");
            let ends = at + 3 >= sentence.end || !prose.is_joined(at + 2);
            ((is_far && ends) || is_judged).then(|| (at..at + 1, "too".to_owned(), "more than enough is “too”"))
        }
        _ => None,
    }
}

/// Numbers and words of many, behind which several follow.
const MANY: [&str; 22] = [
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "twenty", "thirty",
    "hundred", "thousand", "many", "several", "these", "those", "few", "both", "forty",
];

/// A plural with an apostrophe: `two boy's and a goat`.
fn plural(prose: &Prose<'_>, at: usize) -> Option<WrongWords> {
    let noun = prose.word(at).strip_suffix("'s").filter(|noun| tagger::may_be_noun(noun) && !MANY.contains(noun))?;
    let start = prose.sentence_of(at).start;
    let is_number = |before: usize| {
        at >= start + before
            && MANY.contains(&prose.word(at - before))
            && (1..=before).all(|back| prose.is_joined(at - back))
    };
    let is_counted = is_number(1) || (is_number(2) && tagger::is_adjective(prose.word(at - 1)));
    let next = if prose.is_joined(at) { prose.word(at + 1) } else { "" };
    let has_nothing = next.is_empty()
        || matches!(
            next,
            "and"
                | "or"
                | "are"
                | "were"
                | "have"
                | "live"
                | "who"
                | "that"
                | "in"
                | "on"
                | "at"
                | "with"
                | "of"
                | "from"
                | "to"
                | "for"
                | "set"
                | "will"
                | "can"
                | "go"
                | "find"
                | "must"
        );
    let are_told = matches!(next, "are" | "were" | "live")
        && at > start
        && matches!(prose.word(at - 1), "the" | "their" | "our")
        && prose.is_joined(at - 1)
        && at - 1 == start;
    let several = irregular_form(noun, SpecialForm::Plural).map_or_else(|| plural_of(noun), str::to_owned);
    let right = if prose.is_capital(at) { super::mend::capitalised(&several) } else { several };
    ((is_counted && has_nothing) || are_told).then(|| (at..at + 1, right, "several take no apostrophe"))
}

/// The regular plural of a noun, which takes its ending as a verb does behind `she`.
fn plural_of(noun: &str) -> String {
    verbs::third_person(noun)
}

/// An owner without an apostrophe before what is owned and its verb: `the boys mother is`.
fn owner_of(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<WrongWords> {
    let (before, next, behind) = beside(prose, at, sentence);
    let owner = prose.word(at).strip_suffix('s').filter(|owner| is_being(owner))?;
    let is_led = matches!(before, "the" | "his" | "her" | "my" | "their" | "a" | "our");
    let opens = is_led && opens_clause(prose, at - 1, sentence);
    let is_verb =
        |word: &str| matches!(word, "is" | "was" | "has") || verbs::tense(word) == Some(verbs::Tense::Present);
    let is_thing = is_single(next) && !verbs::is_base(next) && !is_people(next);
    (opens && is_thing && is_verb(behind))
        .then(|| (at..at + 1, format!("{owner}'s"), "whose something is takes an apostrophe"))
}

/// An article that is missing before one who is something: `she is girl with a secret`; an age with too many hyphens.
fn small(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> Option<WrongWords> {
    let (before, next, behind) = beside(prose, at, sentence);
    let word = prose.word(at);
    if let Some(number) = word.strip_suffix("yearsold").filter(|number| MANY.contains(number)) {
        let right = format!("{number} years old");
        return Some((at..at + 1, right, "an age that stands behind whom it tells of takes no hyphens"));
    }
    let is_one = matches!(before, "he" | "she" | "it") && matches!(word, "is" | "was") && is_being(next);
    let says = "one of many takes “a”";
    let article = if next.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    let right = || format!("{word} {article} {next}");
    (is_one && matches!(behind, "with" | "who" | "named" | "called" | "whose")).then(|| (at..at + 2, right(), says))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn words_taken_for_others_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/taken_for.txt"));
    }
}
