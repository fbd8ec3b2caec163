//! Verbs that do not agree with who does it, and forms of the verb that its helper does not take.
//!
//! Source: the grammar of English. Only a subject that opens its clause is looked at, and only where no preposition
//! stands between it and its verb: behind `the box of lamps` the verb is the box's. What somebody says may be said as
//! they say it.

use std::ops::Range;

use super::beings::{is_being, is_people};
use super::misspelt::told;
use super::prose::Prose;
use super::query::{Query, Reading};
use super::verbs;
use crate::brief::queries::Rule;
use crate::text::parts::irregular_base;
use crate::text::tagger::{self, WordClass};

/// Words that begin a clause.
pub(super) const LINKS: [&str; 16] = [
    "and", "but", "so", "then", "that", "because", "when", "if", "while", "until", "before", "after", "though",
    "where", "how", "as",
];
/// Words for each of many, which are one.
const EACH: [&str; 9] =
    ["everybody", "everyone", "everything", "nobody", "somebody", "someone", "anybody", "anyone", "nothing"];
/// Articles and their like that stand before one thing alone.
const ONE_LEADS: [&str; 7] = ["a", "an", "this", "that", "every", "each", "another"];
/// Nouns in -s that are one thing, or an amount.
const ONE: [&str; 61] = [
    "chips",
    "news",
    "series",
    "species",
    "lens",
    "gas",
    "bus",
    "atlas",
    "canvas",
    "chaos",
    "circus",
    "games",
    "gallows",
    "barracks",
    "crossroads",
    "headquarters",
    "states",
    "falls",
    "moors",
    "darts",
    "dominoes",
    "draughts",
    "billiards",
    "checkers",
    "marbles",
    "skittles",
    "conkers",
    "measles",
    "mumps",
    "thanks",
    "means",
    "works",
    "iris",
    "genius",
    "octopus",
    "walrus",
    "hippopotamus",
    "platypus",
    "cactus",
    "christmas",
    "witness",
    "compass",
    "dollars",
    "pounds",
    "euros",
    "cents",
    "pence",
    "miles",
    "metres",
    "meters",
    "feet",
    "inches",
    "years",
    "months",
    "weeks",
    "days",
    "hours",
    "minutes",
    "seconds",
    "always",
    "others",
];
/// What one does, and what several do.
const FORMS: [(&str, &str); 9] = [
    ("is", "are"),
    ("was", "were"),
    ("has", "have"),
    ("does", "do"),
    ("isn't", "aren't"),
    ("wasn't", "weren't"),
    ("hasn't", "haven't"),
    ("doesn't", "don't"),
    ("goes", "go"),
];
/// Verbs in -s that are seldom the plural of a noun, where an object follows.
const TAKING: [&str; 24] = [
    "makes",
    "means",
    "helps",
    "gives",
    "takes",
    "brings",
    "keeps",
    "teaches",
    "tells",
    "shows",
    "gets",
    "becomes",
    "lets",
    "finds",
    "needs",
    "wants",
    "affects",
    "encourages",
    "explains",
    "introduces",
    "learns",
    "loves",
    "remains",
    "includes",
];

/// Finds verbs that do not agree.
pub(super) fn find(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for sentence in &prose.sentences {
        let tags = prose.tags(sentence);
        for at in sentence.clone() {
            let Some((right, says)) = wrong(prose, at, sentence, &tags) else { continue };
            queries.extend(told(Rule::MisspeltWord, prose, &(at..at + 1), &right, says.to_owned()));
        }
    }
}

const SEVERAL: &str = "there are several, and the verb tells of one";

/// What belongs in the place of a verb, and why.
fn wrong(prose: &Prose<'_>, at: usize, sentence: &Range<usize>, tags: &[WordClass]) -> Option<(String, &'static str)> {
    if at == sentence.start || !prose.is_joined(at - 1) {
        return None;
    }
    let (word, before) = (prose.word(at), prose.word(at - 1));
    let opens = || opens_clause(prose, at - 1, sentence);
    if let Some((one, several)) = FORMS.iter().find(|(one, several)| word == *one || word == *several) {
        let is_one = word == *one;
        return match before {
            "i" | "we" | "they" | "you" if is_one && opens() && !matches!((before, word), ("i", "was" | "wasn't")) => {
                let right = if (before, word) == ("i", "is") { "am" } else { several };
                Some((right.to_owned(), "“you” and “they” are told of as several are, and so is “I”"))
            }
            "he" | "she" | "it" if !is_one && opens() && !is_supposed(prose, at, sentence) => {
                Some(((*one).to_owned(), "one person does it, and the verb tells of several"))
            }
            _ if !is_one && EACH.contains(&before) && opens() => {
                Some(((*one).to_owned(), "“everybody” and its kin are one, and the verb tells of several"))
            }
            _ if is_one && are_several(prose, at, sentence, tags) => Some(((*several).to_owned(), SEVERAL)),
            _ if is_one && are_two(prose, at, sentence) => Some(((*several).to_owned(), SEVERAL)),
            _ if !is_one && is_one_of(prose, at, sentence) => {
                Some(((*one).to_owned(), "“each of” and “one of” are one, and the verb tells of several"))
            }
            _ if !is_one && is_being(before) && begins_with_one(prose, at, sentence) => {
                Some(((*one).to_owned(), "there is one, and the verb tells of several"))
            }
            _ if !is_one && is_one_thing(prose, at, sentence) => {
                Some(((*one).to_owned(), "there is one, and the verb tells of several"))
            }
            _ => None,
        };
    }
    plain_verb(prose, at, sentence, tags)
}

/// What belongs in the place of a verb that is no form of `be`, `have`, `do` or `go`, and why.
fn plain_verb(
    prose: &Prose<'_>,
    at: usize,
    sentence: &Range<usize>,
    tags: &[WordClass],
) -> Option<(String, &'static str)> {
    let (word, before) = (prose.word(at), prose.word(at - 1));
    let opens = || opens_clause(prose, at - 1, sentence);
    let is_of_many = || verbs::tense(word) == Some(verbs::Tense::Present);
    let has_object = OBJECTS.contains(&prose.word(at + 1));
    let has_readers = matches!(prose.word(at + 1), "children" | "readers" | "kids" | "you" | "us");
    let base = || base_of(word);
    match before {
        "he" | "she" if opens() && is_plain_form(word) && !is_supposed(prose, at, sentence) => {
            Some((verbs::third_person(word), "one person does it, and the verb tells of several"))
        }
        "they" | "we" if opens() && verbs::tense(word) == Some(verbs::Tense::Present) => {
            Some((base()?, "there are several, and the verb tells of one"))
        }
        "didn't" | "doesn't" | "don't" if verbs::tense(word).is_some() && !verbs::is_base(word) => {
            Some((base()?, "behind “do” and its forms stands the plain form of the verb"))
        }
        "not"
            if at > sentence.start + 1
                && matches!(prose.word(at - 2), "did" | "does" | "do")
                && verbs::tense(word).is_some()
                && !verbs::is_base(word) =>
        {
            Some((base()?, "behind “do” and its forms stands the plain form of the verb"))
        }
        "nobody" | "nothing" | "everything" if opens() && is_plain_form(word) && !is_supposed(prose, at, sentence) => {
            Some((verbs::third_person(word), "“nobody” and its kin are one, and the verb tells of several"))
        }
        "it" if at == sentence.start + 1 && is_plain_form(word) && (has_object || has_readers) => {
            Some((verbs::third_person(word), "one does it, and the verb tells of several"))
        }
        "he" | "she" if is_plain_form(word) && is_told_day(prose, at, sentence) => {
            Some((verbs::third_person(word), "one person does it, and the verb tells of several"))
        }
        "who" if at == sentence.start + 1 && is_plain_form(word) && prose.is_question(sentence) => {
            Some((verbs::third_person(word), "“who” is one until it is answered"))
        }
        _ if is_people(before)
            && is_of_many()
            && (has_object || PLACES.contains(&prose.word(at + 1)))
            && are_several(prose, at, sentence, tags) =>
        {
            Some((base()?, SEVERAL))
        }
        _ if is_of_many() && (has_object || PLACES.contains(&prose.word(at + 1))) && are_two(prose, at, sentence) => {
            Some((base()?, SEVERAL))
        }
        "book" | "story" | "trail" | "map"
            if is_plain_form(word) && (has_object || has_readers) && begins_with_one(prose, at, sentence) =>
        {
            Some((verbs::third_person(word), "there is one, and the verb tells of several"))
        }
        _ if is_being(before) && is_plain_form(word) && has_object && begins_with_one(prose, at, sentence) => {
            Some((verbs::third_person(word), "there is one, and the verb tells of several"))
        }
        "who" if is_plain_form(word) && tells_of_one(prose, at, sentence) => {
            Some((verbs::third_person(word), "there is one, and the verb tells of several"))
        }
        _ if TAKING.contains(&word) && has_object && are_several(prose, at, sentence, tags) => Some((base()?, SEVERAL)),
        _ => None,
    }
}

/// The plain form of a listed verb's past or of what one does.
pub(super) fn base_of(form: &str) -> Option<String> {
    let cuts = ["ied", "ies", "ed", "es", "d", "s"];
    let stems = cuts.iter().filter_map(|ending| Some((form.strip_suffix(ending)?, ending.starts_with('i'))));
    let regular = stems.map(|(stem, has_y)| if has_y { format!("{stem}y") } else { stem.to_owned() });
    let mut bases = regular.filter(|base| verbs::is_base(base));
    bases.next().or_else(|| irregular_base(form).map(str::to_owned))
}

/// Whether a word is a listed verb's plain form and cannot be its past.
fn is_plain_form(word: &str) -> bool {
    verbs::is_base(word)
        && !matches!(word, "put" | "cut" | "hit" | "let" | "set" | "shut" | "read" | "spread" | "burst")
}

/// Whether what is told is only supposed or asked for, where the plain form is right: `if he were`, `that she go`.
fn is_supposed(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> bool {
    (sentence.start..at).any(|before| {
        matches!(prose.word(before), "if" | "that" | "though" | "wish" | "wishes" | "wished" | "lest" | "let")
            || (matches!(prose.word(before), "or" | "nor" | "than") && before + 2 >= at)
            || (prose.word(before) == "as" && prose.word(at) == "were")
            || HELPERS.contains(&prose.word(before))
    })
}

/// Helpers behind which a second verb may stand in its plain form: `will she sink or she swim`.
const HELPERS: [&str; 12] =
    ["will", "can", "could", "would", "should", "must", "may", "might", "did", "does", "do", "make"];

/// Whether a word opens its clause.
pub(super) fn opens_clause(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> bool {
    at == sentence.start || !prose.is_joined(at - 1) || LINKS.contains(&prose.word(at - 1))
}

/// Whether the words before a verb are a group of nouns that opens its clause and is of several.
fn are_several(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>, tags: &[WordClass]) -> bool {
    let noun = verb - 1;
    let word = prose.word(noun);
    let stem = word.strip_suffix('s').filter(|stem| stem.len() > 2 && !stem.ends_with(['s', 'u', 'i', '\'']));
    let is_plural =
        (stem.is_some_and(tagger::may_be_noun) || is_people(word)) && !ONE.contains(&word) && !word.ends_with("ics");
    if !is_plural || prose.is_capital(noun) {
        return false;
    }
    // The group goes back over adjectives, nouns and what joins them to the word that opens the clause.
    let mut first = noun;
    while first > sentence.start && prose.gap(first - 1).trim_end_matches(' ').trim_start_matches(',').is_empty() {
        let class = tags[first - 1 - sentence.start];
        let joins = prose.word(first - 1) == "and" || !prose.is_joined(first - 1);
        let begins = LINKS.contains(&prose.word(first - 1)) && prose.word(first - 1) != "and";
        let is_part = !begins
            && matches!(class, WordClass::Adjective | WordClass::Noun | WordClass::Plural | WordClass::Determiner)
            || prose.word(first - 1) == "and";
        if !is_part || (joins && first - 1 > sentence.start && !is_plain_list(prose, first, sentence)) {
            break;
        }
        first -= 1;
    }
    let lead = prose.word(first);
    let is_open = first == sentence.start || LINKS.contains(&prose.word(first - 1));
    let is_counted = tags[first - sentence.start] == WordClass::Determiner
        && !ONE_LEADS.contains(&lead)
        && !matches!(lead, "what" | "which" | "whose" | "one" | "no");
    // `Finding friends is easy`: what is done is one thing.
    let is_bare = first == sentence.start && tagger::is_known(lead) && !lead.ends_with("ing");
    let has_name = (first + 1..verb).any(|at| prose.is_capital(at));
    is_open
        && !has_name
        && (is_counted || (is_bare && !ONE_LEADS.contains(&lead)))
        && !(first..verb).any(|at| matches!(prose.word(at), "or" | "nor" | "one" | "what" | "who" | "which"))
}

/// Words that begin what something is done to.
const OBJECTS: [&str; 15] =
    ["the", "a", "an", "this", "that", "it", "you", "your", "her", "his", "their", "others", "us", "them", "him"];

/// Words that begin a place behind a verb.
const PLACES: [&str; 9] = ["to", "into", "in", "out", "up", "away", "home", "through", "back"];

/// Whether a verb stands behind `one day he` or its like at the start of a sentence.
fn is_told_day(prose: &Prose<'_>, at: usize, sentence: &Range<usize>) -> bool {
    at == sentence.start + 3
        && matches!(prose.word(sentence.start), "one" | "every" | "each")
        && matches!(prose.word(sentence.start + 1), "day" | "night" | "morning" | "evening" | "summer" | "afternoon")
}

/// Whether the words before a verb are `each of the lamps` or `one of the eggs` at the start of a clause.
fn is_one_of(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>) -> bool {
    let Some(each) = verb.checked_sub(4).filter(|at| *at >= sentence.start) else { return false };
    let opens = opens_clause(prose, each, sentence)
        || (each == sentence.start + 1 && matches!(prose.word(sentence.start), "every" | "only"));
    opens
        && matches!(prose.word(each), "each" | "one")
        && prose.word(each + 1) == "of"
        && matches!(prose.word(each + 2), "the" | "his" | "her" | "their" | "these" | "those" | "our" | "my")
        && (prose.word(verb - 1).ends_with('s') || is_people(prose.word(verb - 1)))
        && (each..verb).all(|at| prose.is_joined(at))
}

/// Whether the words before a verb are `the bear and the fox` or `Lily and her brother` at the start of a sentence.
fn are_two(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>) -> bool {
    const ARTICLES: [&str; 4] = ["the", "a", "his", "her"];
    let start = sentence.start;
    let is_second = verb > start + 2 && ARTICLES.contains(&prose.word(verb - 2)) && prose.word(verb - 3) == "and";
    let is_joined = (start..verb).all(|at| prose.is_joined(at));
    let by_name = verb == start + 4
        && prose.is_capital(start)
        && prose.word(start + 1) == "and"
        && (tagger::may_be_noun(prose.word(start)) || !tagger::is_known(prose.word(start)))
        && matches!(prose.word(verb - 2), "his" | "her");
    let by_nouns = verb == start + 5 && ARTICLES.contains(&prose.word(start)) && is_being(prose.word(start + 1));
    is_second && is_joined && is_being(prose.word(verb - 1)) && (by_name || by_nouns)
}

/// Whether `the` and one being stand before a verb at the start of a sentence.
fn begins_with_one(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>) -> bool {
    verb == sentence.start + 2 && prose.word(sentence.start) == "the" && prose.is_joined(sentence.start)
}

/// Whether `a boy who` and its like stand before a verb.
fn tells_of_one(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>) -> bool {
    verb >= sentence.start + 3
        && is_being(prose.word(verb - 2))
        && matches!(prose.word(verb - 3), "a" | "an")
        && prose.is_joined(verb - 3)
        && prose.is_joined(verb - 2)
}

/// Whether all from the start of the sentence to a word are adjectives, nouns and what joins them.
fn is_plain_list(prose: &Prose<'_>, end: usize, sentence: &Range<usize>) -> bool {
    (sentence.start..end).all(|at| {
        let word = prose.word(at);
        word == "and" || ((tagger::may_be_noun(word) || tagger::is_adjective(word)) && !verbs::is_finite(word))
    })
}

/// Whether the words before a verb are an article for one thing, perhaps an adjective, and a noun for one, and open a
/// clause.
fn is_one_thing(prose: &Prose<'_>, verb: usize, sentence: &Range<usize>) -> bool {
    const MANY: [&str; 14] = [
        "number", "lot", "few", "couple", "handful", "pair", "group", "team", "family", "host", "dozen", "hundred",
        "thousand", "million",
    ];
    let noun = verb - 1;
    let is_joined = |at: usize| prose.is_joined(at);
    let begins =
        |at: usize| at >= sentence.start && ONE_LEADS.contains(&prose.word(at)) && opens_clause(prose, at, sentence);
    let word = prose.word(noun);
    let is_noun = tagger::may_be_noun(word) && !word.ends_with('s') && !MANY.contains(&word) && !prose.is_capital(noun);
    let lead = match noun.checked_sub(1).filter(|at| *at >= sentence.start) {
        Some(lead) if begins(lead) => Some(lead),
        Some(adjective) if adjective > sentence.start && is_joined(adjective - 1) && begins(adjective - 1) => {
            tagger::is_adjective(prose.word(adjective)).then_some(adjective - 1)
        }
        _ => None,
    };
    let is_relative = |lead: usize| prose.word(lead) == "that";
    // `Did a dog have`, `may each child do`: a helper before the group.
    let is_asked = |lead: usize| (sentence.start..lead).any(|at| HELPERS.contains(&prose.word(at)));
    is_noun && is_joined(noun) && lead.is_some_and(|lead| !is_relative(lead) && !is_asked(lead))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn verbs_that_do_not_agree_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/agreement.txt"));
    }
}
