//! Spelling that two houses would print in two ways, and `its` and `it's`, which are taken for each other.
//!
//! Sources: SCOWL's lists of British and of American words; the grammar of English: a possessive has no apostrophe, and
//! `it's` is `it is` or `it has`. A form is told only where the words beside it leave no other reading.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::mend;
use super::prose::{OwnCopy, Prose};
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::tagger::{self, WordClass};

/// On which side of the ocean a spelling is at home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SpellingSide {
    British,
    American,
}

/// Each listed spelling with its side and the other spelling.
static SPELLINGS: LazyLock<HashMap<&str, (SpellingSide, &str)>> = LazyLock::new(|| {
    let lines = wordlist!("british-american.txt").lines().filter(|line| !line.starts_with('#'));
    let of_pair = |(british, american)| {
        [(british, (SpellingSide::British, american)), (american, (SpellingSide::American, british))]
    };
    lines.filter_map(|line| line.split_once(' ')).flat_map(of_pair).collect()
});

/// Whether a word, folded, is a spelling of either side.
pub(super) fn is_listed(word: &str) -> bool {
    SPELLINGS.contains_key(word)
}

/// Words of one side that stand on the other too, and so count only where the brief's language is of one side: a
/// British word, and the American one.
const ELSEWHERE: [(&str, &str); 3] = [("grey", "gray"), ("mum", "mom"), ("mums", "moms")];

/// The side of a word and its other spelling; of some words only where the side is declared.
fn side_of(word: &str, is_declared: bool) -> Option<(SpellingSide, &'static str)> {
    let elsewhere = || {
        ELSEWHERE.iter().find_map(|(british, american)| match word {
            _ if word == *british => Some((SpellingSide::British, *american)),
            _ if word == *american => Some((SpellingSide::American, *british)),
            _ => None,
        })
    };
    SPELLINGS.get(word).copied().or_else(|| is_declared.then(elsewhere).flatten())
}

/// Regions whose houses spell as Britain does, and those that spell as the United States do.
const REGIONS: [(&str, SpellingSide); 9] = [
    ("gb", SpellingSide::British),
    ("ie", SpellingSide::British),
    ("au", SpellingSide::British),
    ("nz", SpellingSide::British),
    ("za", SpellingSide::British),
    ("in", SpellingSide::British),
    ("uk", SpellingSide::British),
    ("us", SpellingSide::American),
    ("ph", SpellingSide::American),
];

/// A wording in small letters as it is spelt in the region of a language tag; as it is where the tag names none of
/// them.
pub(super) fn spelt_for(wording: &str, tag: &str) -> String {
    let Some(side) = declared_side(tag) else { return wording.to_owned() };
    let spelt = |word| match SPELLINGS.get(word) {
        Some((own, other)) if *own != side => *other,
        _ => word,
    };
    wording.split(' ').map(spelt).collect::<Vec<_>>().join(" ")
}

/// A word that is spelt otherwise on the other side.
struct SideWord<'a> {
    prose: &'a Prose<'a>,
    at: usize,
    side: SpellingSide,
    other: &'static str,
}

/// Finds British spelling beside American: the first word of the side that the copy has less often.
pub(super) fn mixed<'a>(reading: &Reading<'_>, own: &'a OwnCopy<'a>, queries: &mut Vec<Query>) {
    let declared = declared_side(&reading.brief.book.language);
    let words = own.paragraphs.iter().flat_map(|prose| (0..prose.words.len()).map(move |at| (prose, at)));
    let found: Vec<SideWord<'_>> = words
        .filter_map(|(prose, at)| {
            let (side, other) = side_of(prose.word(at), declared.is_some())?;
            // Inside a sentence a capital makes a name, which is spelt as its bearer spells it.
            let is_name = prose.is_capital(at) && prose.sentence_of(at).start != at;
            (!is_name).then_some(SideWord { prose, at, side, other })
        })
        .collect();
    if let Some(own_side) = declared {
        return foreign(reading, &found, own_side, queries);
    }
    let british = found.iter().filter(|word| word.side == SpellingSide::British).count();
    let (rare, name, other) = if british * 2 < found.len() {
        (SpellingSide::British, "British", "American")
    } else {
        (SpellingSide::American, "American", "British")
    };
    let of_side = |is_rare: bool| found.iter().find(|word| (word.side == rare) == is_rare);
    let (Some(word), Some(beside)) = (of_side(true), of_side(false)) else { return };
    let is_capital = word.prose.is_capital(word.at);
    let wording = if is_capital { mend::capitalised(word.other) } else { word.other.to_owned() };
    let range = word.prose.words[word.at].range.clone();
    queries.push(Query {
        rule: Rule::MixedSpelling,
        block: word.prose.number,
        says: format!(
            "this is {name} spelling, and “{}” is {other}; a house keeps to one of them",
            beside.prose.written(beside.at)
        ),
        cuts: vec![Cut { range: range.clone(), wording }],
        range,
    });
}

/// The side that the brief's language names: `en-GB` and its kin, `en-US`.
fn declared_side(language: &str) -> Option<SpellingSide> {
    let side_of = |part: &str| REGIONS.iter().find(|(region, _)| part.eq_ignore_ascii_case(region));
    language.split('-').skip(1).find_map(side_of).map(|(_, side)| *side)
}

/// Adds the first place of each word that is spelt as on the side that the brief's language is not of.
fn foreign(reading: &Reading<'_>, found: &[SideWord<'_>], own: SpellingSide, queries: &mut Vec<Query>) {
    let mut told: Vec<&str> = Vec::new();
    let (there, here) = match own {
        SpellingSide::British => ("American", "British"),
        SpellingSide::American => ("British", "American"),
    };
    for word in found.iter().filter(|word| word.side != own) {
        let range = word.prose.words[word.at].range.clone();
        if told.contains(&word.prose.word(word.at)) || word.prose.is_kept(reading, &(word.at..word.at + 1)) {
            continue;
        }
        told.push(word.prose.word(word.at));
        let wording =
            if word.prose.is_capital(word.at) { mend::capitalised(word.other) } else { word.other.to_owned() };
        queries.push(Query {
            rule: Rule::MixedSpelling,
            block: word.prose.number,
            says: format!("this is {there} spelling, and the brief's language is {here} English"),
            cuts: vec![Cut { range: range.clone(), wording }],
            range,
        });
    }
}

/// Words that somebody has; behind `it is` they want an article, but for `best` and the like.
const OWNED: [&str; 8] = ["own", "way", "name", "place", "head", "tail", "heart", "eyes"];
/// Words that stand behind `it is`, and never behind a possessive.
const SAID: [&str; 9] = ["a", "an", "the", "not", "been", "about", "up", "too", "what"];
/// Words that may stand behind either, which the word behind them decides.
const EITHER: [&str; 7] = ["only", "just", "time", "that", "so", "never", "always"];

/// Finds `its` where `it's` belongs, and `it's` where `its` does.
pub(super) fn its_or_its(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let forms = (0..prose.words.len()).filter(|at| matches!(prose.word(*at), "its" | "it's") && prose.is_joined(*at));
    for at in forms.filter(|at| !prose.is_quoted(&prose.words[*at].range)) {
        let has_apostrophe = prose.word(at) != "its";
        if !(if has_apostrophe { wants_possessive(prose, at) } else { wants_verb(prose, at) }) {
            continue;
        }
        let first = &prose.written(at)[..2];
        let (right, says) = if has_apostrophe {
            (format!("{first}s"), "“it’s” is “it is” or “it has”; whose something is takes no apostrophe")
        } else {
            let mark = if prose.text().contains('’') { '’' } else { '\'' };
            (format!("{first}{mark}s"), "“its” says whose something is; “it is” and “it has” take an apostrophe")
        };
        let range = prose.words[at].range.clone();
        let cuts = vec![Cut { range: range.clone(), wording: right }];
        queries.push(Query { rule: Rule::MisspeltWord, block: prose.number, says: says.to_owned(), cuts, range });
    }
}

/// Whether a verb must be in an `its`, by the words behind it.
fn wants_verb(prose: &Prose<'_>, at: usize) -> bool {
    let (next, behind) = (prose.word(at + 1), prose.word(at + 2));
    // `Its literally a`: an adverb with an article behind it belongs to a verb; `its personal.`: no noun follows.
    let is_adverb = next.ends_with("ly") && matches!(behind, "a" | "an" | "the" | "his" | "her" | "their" | "my");
    let ends = at + 2 >= prose.sentence_of(at).end || !prose.is_joined(at + 1);
    let is_alone = ends && tagger::is_only_adjective(next);
    is_adverb
        || is_alone
        || SAID.contains(&next)
        || (tagger::is_adjective(next) && is_judged(prose, at))
        || (EITHER.contains(&next) && matches!(behind, "a" | "an" | "the" | "to" | "for"))
}

/// Whether a clause begins with an `its`, and what stands behind the adjective leaves no room for a noun:
/// `its easy to`.
fn is_judged(prose: &Prose<'_>, at: usize) -> bool {
    const BEHIND: [&str; 8] = ["to", "when", "if", "that", "because", "enough", "for", "being"];
    const LINKS: [&str; 9] = ["and", "but", "so", "because", "that", "when", "if", "think", "thinks"];
    let opens = at == prose.sentence_of(at).start || !prose.is_joined(at - 1) || LINKS.contains(&prose.word(at - 1));
    opens && prose.is_joined(at + 1) && BEHIND.contains(&prose.word(at + 2))
}

/// Whether an `it's` must be a possessive: `own` follows, or a thing that is had, and before it stands a preposition or
/// a verb that does something to that.
fn wants_possessive(prose: &Prose<'_>, at: usize) -> bool {
    let next = prose.word(at + 1);
    let sentence = prose.sentence_of(at);
    let has_object = || {
        let tags = prose.tags(&sentence);
        at > sentence.start
            && prose.is_joined(at - 1)
            && matches!(
                tags[at - 1 - sentence.start],
                WordClass::Preposition | WordClass::Present | WordClass::Past | WordClass::Gerund
            )
    };
    let before = if at > sentence.start && prose.is_joined(at - 1) { prose.word(at - 1) } else { "" };
    let follows_place = matches!(
        before,
        "by" | "in" | "on" | "of" | "from" | "with" | "under" | "behind" | "inside" | "into" | "within"
    );
    let is_thing = || !SAID.contains(&next) && !EITHER.contains(&next) && prose.is_joined(at) && has_noun(prose, at);
    next == "own"
        || (follows_place && is_thing())
        || (OWNED.contains(&next) && prose.word(at + 2) != "of" && has_object())
}

/// Whether the word behind a place may be a noun, or is an adjective with one behind it.
fn has_noun(prose: &Prose<'_>, at: usize) -> bool {
    let is_noun = |at: usize| tagger::may_be_noun(prose.word(at));
    is_noun(at + 1) || (tagger::is_adjective(prose.word(at + 1)) && prose.is_joined(at + 1) && is_noun(at + 2))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn spellings_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/spelling.txt"));
    }
}
