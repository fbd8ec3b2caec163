//! Finds the names of a manuscript with their spellings, by where words are capitalised.

use std::collections::{BTreeMap, HashMap, HashSet};

use crate::draft::Span;

use super::frequencies::{count, is_function_word};
use super::nearly_spelt::NearlySpelt;
use super::spellings::{bare, is_spelt, steps_between};
use super::tokens::Token;
use crate::text::syllables::fold;

/// Capitalised words that name no one: days, months, titles and `I`.
const NO_NAMES: [&str; 25] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
    "mr",
    "mrs",
    "ms",
    "miss",
    "dr",
    "i",
];

/// A name in a manuscript.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The name in its most frequent spelling.
    pub name: String,
    /// How often the name stands in that spelling.
    pub count: usize,
    /// Where the name first stands in that spelling.
    pub first: Span,
    /// Other spellings that are near to it, each with its count and its first place.
    pub variants: Vec<Variant>,
}

/// Another spelling of a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variant {
    /// The spelling as it is written.
    pub written: String,
    /// How often the spelling stands in the manuscript.
    pub count: usize,
    /// Where the spelling first stands.
    pub first: Span,
}

/// How a capitalised word stands in a story.
#[derive(Default)]
struct Capital {
    /// Every place of the word with its capital.
    places: Vec<Span>,
    /// How many of the places are inside a sentence, where a capital says something.
    inside: usize,
    /// How often the word stands with a small first letter.
    small: usize,
}

/// The names of a story: words that are capitalised inside sentences and hardly ever small. `declared` are the words of
/// the brief's names, which need no place inside a sentence.
pub(super) fn names(tokens: &[Token], declared: &HashSet<&str>) -> Vec<Named> {
    // All places of a word, with a capital or without, are counted before the word is judged. Words all in capitals say
    // nothing: they may be shouted.
    let mut capitals: BTreeMap<String, Capital> = BTreeMap::new();
    let mut small: HashMap<&str, usize> = HashMap::new();
    for token in tokens {
        let word = bare(&token.written);
        if !word.starts_with(char::is_uppercase) {
            *small.entry(bare(&token.folded)).or_default() += 1;
        } else if word.chars().skip(1).any(char::is_lowercase) {
            let capital = capitals.entry(word.to_owned()).or_default();
            capital.places.push(token.span);
            capital.inside += usize::from(!token.opens);
        }
    }
    for (word, capital) in &mut capitals {
        capital.small = small.get(word.to_lowercase().as_str()).copied().unwrap_or(0);
    }
    // The commonest first, so that of two near spellings the commoner is the name and the other its variant.
    let mut found: Vec<Named> = capitals.iter().filter_map(|(word, capital)| named(word, capital, declared)).collect();
    found.sort_by(|one, other| other.count.cmp(&one.count).then_with(|| one.name.cmp(&other.name)));
    joined(with_variants(found, &capitals), tokens)
}

/// A capitalised word as a name; none where the word is no name.
fn named(word: &str, capital: &Capital, declared: &HashSet<&str>) -> Option<Named> {
    let folded = word.to_lowercase();
    // A word that prose knows needs two places inside sentences, since it may stand in a heading or a list once.
    let fewest = if count(&folded) > 0 { 2 } else { 1 };
    // One place in ten may be small: a slip, or a word that is spelt like the name.
    let is_name = (capital.inside >= fewest || declared.contains(fold(word).as_ref()))
        && capital.places.len() >= 9 * capital.small
        && !is_function_word(&folded)
        && !NO_NAMES.contains(&folded.as_str());
    let first = *capital.places.first()?;
    is_name.then(|| Named { name: word.to_owned(), count: capital.places.len(), first, variants: Vec::new() })
}

/// Gives the rarer of two near spellings to the commoner as its variant, also where the rarer one only opens sentences.
/// The commonest name comes first in `found`.
fn with_variants(found: Vec<Named>, capitals: &BTreeMap<String, Capital>) -> Vec<Named> {
    let near = NearlySpelt::of(found.iter().map(|name| name.name.as_str()));
    // A name with its variants; none where it is a variant itself.
    let mut names: Vec<Option<Named>> = Vec::new();
    // `is_shown` says whether the word is known to be a name, as all of `found` are. A plural is no variant: it names
    // more people.
    let is_near = |name: &Named, written: &str, is_shown: bool| {
        let are_one_and_many = is_spelt(written, &name.name) || is_spelt(&name.name, written);
        !are_one_and_many && steps_between(written, &name.name, || is_shown).is_some()
    };
    let known = |names: &[Option<Named>], written: &str, is_shown: bool| {
        let is_known =
            |at: &usize| names.get(*at).and_then(Option::as_ref).is_some_and(|name| is_near(name, written, is_shown));
        near.places(written).into_iter().find(is_known)
    };
    // A name is held only against those before it, which are commoner. A variant keeps its place as none, so that the
    // positions of `near` stay right.
    for name in found {
        let known = known(&names, &name.name, true);
        let variant = Variant { written: name.name.clone(), count: name.count, first: name.first };
        names.push(known.is_none().then_some(name));
        if let Some(known) = known.and_then(|at| names[at].as_mut()) {
            known.variants.push(variant);
        }
    }
    // A word that is capitalised only where sentences open is no name by itself, but may be another spelling of one.
    for (word, capital) in capitals.iter().filter(|(_, capital)| capital.inside == 0 && capital.small == 0) {
        if let Some(known) = known(&names, word, false).and_then(|at| names[at].as_mut())
            && let Some(first) = capital.places.first()
        {
            known.variants.push(Variant { written: word.clone(), count: capital.places.len(), first: *first });
        }
    }
    names.into_iter().flatten().collect()
}

/// Joins two names that never stand but side by side into one: `Gull Point`, `Anne-Marie`.
fn joined(names: Vec<Named>, tokens: &[Token]) -> Vec<Named> {
    // A name with variants is joined to no other.
    let alone = names.iter().enumerate().filter(|(_, named)| named.variants.is_empty());
    let mut alone: HashMap<String, usize> = alone.map(|(at, named)| (named.name.clone(), at)).collect();
    let mut names: Vec<Option<Named>> = names.into_iter().map(Some).collect();
    let mut pairs: BTreeMap<(&str, &str, bool), Vec<Span>> = BTreeMap::new();
    for pair in tokens.windows(2) {
        if let [first, second] = pair
            && second.adjoins
        {
            let span = Span { start: first.span.start, end: second.span.end };
            let pair = (first.written.as_str(), bare(&second.written), second.is_hyphened);
            pairs.entry(pair).or_default().push(span);
        }
    }
    // Two names are one where each stands exactly as often as the two together.
    for ((first, second, is_hyphened), places) in pairs {
        let joint = if is_hyphened { '-' } else { ' ' };
        let (Some(&one), Some(&other)) = (alone.get(first), alone.get(second)) else { continue };
        let is_always_there = |at: usize| names[at].as_ref().is_some_and(|named| named.count == places.len());
        if one != other && is_always_there(one) && is_always_there(other) {
            let name = format!("{first}{joint}{second}");
            names[one] = names[one].take().map(|named| Named { name, first: places[0], ..named });
            names[other] = None;
            alone.remove(first);
            alone.remove(second);
        }
    }
    names.into_iter().flatten().collect()
}
