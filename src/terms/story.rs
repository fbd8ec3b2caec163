//! Finds what is characteristic of a manuscript: candidate terms, and names with their spellings.
//!
//! A word or a phrase of two words is characteristic when it stands in the story far oftener than in English prose at
//! large. The measure is the log-likelihood ratio of T. Dunning, Accurate Methods for the Statistics of Surprise and
//! Coincidence, 1993: it holds for rare words and short texts, where a ratio of frequencies does not. A phrase is held
//! against the frequency that its words would have side by side by chance. Regular forms of a word are counted
//! together. Candidates are not chosen terms: which of them a reader looks for is for the author to say.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::ops::Range;
use std::sync::LazyLock;

use crate::draft::Span;

use super::family::stems;
use super::frequencies::{count, is_function_word, running_words};
use super::named::names;
use super::phrases::CutText;
use super::spellings::bare;
use super::tokens::{Token, tokens};
use crate::text::Text;
use crate::text::inflections::is_form_of;

pub use super::named::{Named, Variant};

/// The value of chi-squared with one degree of freedom that one text in a thousand passes by chance.
const SURPRISING: f64 = 10.83;
/// The fewest places of a word or phrase that is characteristic of a story.
const FEWEST: usize = 2;
/// The fewest letters of a word that may be a term.
const SHORTEST: usize = 3;
/// A manuscript, read for its words.
#[derive(Debug)]
pub struct Story {
    /// The story's words in order.
    pub(super) tokens: Vec<Token>,
    /// The words of the story's headings, in small letters with straight apostrophes.
    pub(super) headings: Vec<String>,
    /// The names in the story, the most frequent first.
    pub names: Vec<Named>,
    /// Single words that are characteristic of the story, the most characteristic first.
    pub words: Vec<Candidate>,
    /// Phrases of two words that are characteristic of the story, the most characteristic first.
    pub phrases: Vec<Candidate>,
}

/// A word or a phrase that is characteristic of a manuscript.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The form in which it stands in the manuscript most often.
    pub wording: String,
    /// How often it stands in the manuscript, in all its forms.
    pub count: usize,
    /// Dunning's log-likelihood ratio; the higher, the more characteristic.
    pub likelihood: f64,
    /// Where the candidate first stands in the manuscript's file.
    pub first: Span,
}

impl Story {
    /// Reads a manuscript.
    pub fn read(text: &Text) -> Self {
        let tokens = tokens(text, &[&text.blurb]);
        let names = names(&tokens, &text.names.words().collect());
        // Names are found first, to be left out of the terms: the people of any story are characteristic of it.
        let groups = Groups::of(&tokens);
        let known = words_of(&names);
        let (words, phrases) = (groups.words(&tokens, &known), groups.phrases(&tokens, &known));
        let headings = text.headline.sentences.iter().map(|sentence| CutText::cut(text.sentence(sentence)));
        let headings = headings.flat_map(|pieces| pieces.iter().map(|(_, word)| word.to_owned()).collect::<Vec<_>>());
        Self { tokens, headings: headings.collect(), names, words, phrases }
    }

    /// How many words the story has.
    pub fn len(&self) -> usize {
        self.tokens.len()
    }

    /// Whether the story has no word.
    pub fn is_empty(&self) -> bool {
        self.tokens.is_empty()
    }
}

/// The distinct words of a story, grouped by their regular forms.
struct Groups<'a> {
    /// The group of each word.
    of_word: HashMap<&'a str, usize>,
    /// The words of each group; all are forms of its first, which is the shortest.
    words: Vec<Vec<&'a str>>,
}

impl<'a> Groups<'a> {
    fn of(tokens: &'a [Token]) -> Self {
        // The shortest come first, so that a word is a form of the group's first, and never the other way about.
        let mut distinct: Vec<&str> = tokens.iter().map(|token| bare(&token.folded)).collect();
        distinct.sort_by_key(|word| (word.len(), *word));
        distinct.dedup();
        let mut groups = Self { of_word: HashMap::new(), words: Vec::new() };
        // Words of one family have a stem in common, so each is compared with the few groups that share one of its own.
        let mut bases: HashMap<String, Vec<usize>> = HashMap::new();
        for word in distinct {
            let stems = stems(word);
            let alike = stems.iter().filter_map(|stem| bases.get(stem)).flatten().copied();
            let known = alike.filter(|group| is_form_of(word, groups.words[*group][0])).min();
            let group = known.unwrap_or_else(|| {
                stems.into_iter().for_each(|stem| bases.entry(stem).or_default().push(groups.words.len()));
                groups.words.push(Vec::new());
                groups.words.len() - 1
            });
            groups.words[group].push(word);
            groups.of_word.insert(word, group);
        }
        groups
    }

    fn group(&self, token: &Token) -> usize {
        self.of_word[bare(&token.folded)]
    }

    /// How often the words of a group stand in prose at large.
    fn at_large(&self, group: usize) -> f64 {
        self.words[group].iter().map(|word| f64::from(count(word))).sum()
    }

    /// The single words that are characteristic of a story, without its names.
    fn words(&self, tokens: &[Token], names: &HashSet<String>) -> Vec<Candidate> {
        let mut places: BTreeMap<usize, Vec<Range<usize>>> = BTreeMap::new();
        for (at, token) in tokens.iter().enumerate().filter(|(_, token)| tells(token, names)) {
            places.entry(self.group(token)).or_default().push(at..at + 1);
        }
        places.retain(|_, places| !is_cry(tokens, places));
        let candidates = places.into_iter().map(|(group, places)| (self.at_large(group), places));
        let mut words = ranked(tokens, candidates.collect());
        words.retain(|word| !is_past(&word.wording));
        words
    }

    /// The phrases of two words that are characteristic of a story, without its names.
    fn phrases(&self, tokens: &[Token], names: &HashSet<String>) -> Vec<Candidate> {
        let mut places: BTreeMap<(usize, usize), Vec<Range<usize>>> = BTreeMap::new();
        for (at, pair) in tokens.windows(2).enumerate() {
            let [first, second] = pair else { continue };
            if second.adjoins && tells(first, names) && tells(second, names) {
                places.entry((self.group(first), self.group(second))).or_default().push(at..at + 2);
            }
        }
        // A pair that always goes on into a third word is no phrase: `old red` of an old red chair.
        let goes_on =
            |place: &Range<usize>| tokens.get(place.end).is_some_and(|next| next.adjoins && tells(next, names));
        // A pair that ends with what somebody did is no phrase either: `fox crept`.
        let is_deed = |place: &Range<usize>| is_past(&tokens[place.end - 1].folded);
        places.retain(|_, places| !places.iter().all(goes_on) && !places.iter().any(is_deed));
        let by_chance = |(first, second)| self.at_large(first) * self.at_large(second) / running_words() as f64;
        ranked(tokens, places.into_iter().map(|(groups, places)| (by_chance(groups), places)).collect())
    }
}

/// Past tenses that are made without -ed.
static PASTS: LazyLock<HashSet<&str>> = LazyLock::new(|| {
    let lines = wordlist!("verbs.txt").lines().filter(|line| !line.starts_with('#'));
    lines
        .filter_map(|line| line.split_once(' '))
        .map(|(_, past)| past)
        .filter(|past| !ALSO_THINGS.contains(past))
        .collect()
});
/// Past tenses that name a thing or tell what it is like as well: `a rose`, `felt boots`, `the lost boat`.
const ALSO_THINGS: [&str; 12] =
    ["bent", "bit", "felt", "found", "lay", "left", "lost", "rose", "saw", "shot", "spoke", "wound"];

/// Whether a word stands at every place alone in its sentence or beside itself (`Plop! Plop, plop.`): a sound, and no
/// term.
fn is_cry(tokens: &[Token], places: &[Range<usize>]) -> bool {
    let is_beside = |at: usize, beside: Option<&Token>| {
        beside.is_none_or(|beside| beside.sentence != tokens[at].sentence || beside.folded == tokens[at].folded)
    };
    places.iter().map(|place| place.start).all(|at| {
        is_beside(at, at.checked_sub(1).and_then(|before| tokens.get(before))) && is_beside(at, tokens.get(at + 1))
    })
}

/// Whether a word is no more than a sound written down: it has no vowel (`brrr`), or one letter three times in a row
/// (`whooo`).
fn is_sound(word: &str) -> bool {
    let has_vowel = !word.is_ascii() || word.contains(['a', 'e', 'i', 'o', 'u', 'y']);
    !has_vowel || word.as_bytes().windows(3).any(|letters| letters[0] == letters[1] && letters[1] == letters[2])
}

/// Whether a word tells what was done (`climbed`, `lived`, `grabbed`, `crept`): no term that anybody looks for.
fn is_past(word: &str) -> bool {
    if PASTS.contains(word) {
        return true;
    }
    let Some(stem) = word.strip_suffix("ed") else { return false };
    let undoubled: String = stem.chars().take(stem.chars().count().saturating_sub(1)).collect();
    let bases = [stem.to_owned(), format!("{stem}e"), undoubled];
    bases.iter().any(|base| base.len() >= SHORTEST && count(base) > 0 && is_form_of(word, base))
}

/// Every word of every name in every spelling, in small letters.
fn words_of(names: &[Named]) -> HashSet<String> {
    let spellings = |name: &Named| {
        let variants = name.variants.iter().map(|variant| variant.written.clone());
        std::iter::once(name.name.clone()).chain(variants).collect::<Vec<_>>()
    };
    let spellings: Vec<String> = names.iter().flat_map(spellings).map(|name| name.to_lowercase()).collect();
    spellings.iter().flat_map(|name| name.split([' ', '-'])).map(str::to_owned).collect()
}

/// Whether a word says something of the story and is no name.
fn tells(token: &Token, names: &HashSet<String>) -> bool {
    let word = bare(&token.folded);
    word.chars().count() >= SHORTEST
        && word.chars().all(|letter| letter.is_alphabetic() || letter == '\'')
        && !is_function_word(&token.folded)
        && !is_function_word(word)
        && !is_sound(word)
        && !names.contains(word)
}

/// The candidates that are surprisingly frequent, the most surprising first. Each is given as its count in prose at
/// large, and its places in the story.
fn ranked(tokens: &[Token], candidates: Vec<(f64, Vec<Range<usize>>)>) -> Vec<Candidate> {
    let all = tokens.len() as f64;
    let mut found: Vec<Candidate> = candidates
        .into_iter()
        .filter(|(_, places)| places.len() >= FEWEST)
        .filter_map(|(at_large, places)| {
            let likelihood = log_likelihood(places.len() as f64, all, at_large, running_words() as f64)?;
            let first = places.first()?;
            let first = Span { start: tokens[first.start].span.start, end: tokens[first.end - 1].span.end };
            Some(Candidate { wording: commonest(tokens, &places), count: places.len(), likelihood, first })
        })
        .collect();
    found.sort_by(|one, other| {
        other.likelihood.total_cmp(&one.likelihood).then_with(|| one.wording.cmp(&other.wording))
    });
    found
}

/// Dunning's ratio for a word that stands `here` times among `all_here` words and `there` times among `all_there`; none
/// where it is not surprisingly frequent here.
fn log_likelihood(here: f64, all_here: f64, there: f64, all_there: f64) -> Option<f64> {
    let rate = (here + there) / (all_here + all_there);
    let part = |seen: f64, expected: f64| if seen > 0.0 { seen * (seen / expected).ln() } else { 0.0 };
    let of = |seen: f64, all: f64| part(seen, all * rate) + part(all - seen, all * (1.0 - rate));
    let likelihood = 2.0 * (of(here, all_here) + of(there, all_there));
    (here / all_here > there / all_there && likelihood >= SURPRISING).then_some(likelihood)
}

/// The form in which something stands most often; of two that are as frequent, the first in the order of their letters.
fn commonest(tokens: &[Token], places: &[Range<usize>]) -> String {
    let mut forms: BTreeMap<String, usize> = BTreeMap::new();
    for place in places {
        *forms.entry(wording(&tokens[place.clone()])).or_default() += 1;
    }
    let best = forms.into_iter().max_by(|one, other| one.1.cmp(&other.1).then_with(|| other.0.cmp(&one.0)));
    best.map(|(form, _)| form).unwrap_or_default()
}

/// Words as they stand, with their hyphens, and with a capital where it does not just open a sentence; the last word
/// without its possessive.
fn wording(tokens: &[Token]) -> String {
    let mut found = String::new();
    for (at, token) in tokens.iter().enumerate() {
        let is_name = !token.opens && token.written.contains(char::is_lowercase);
        let word = if is_name { token.written.as_str() } else { token.folded.as_str() };
        if at > 0 {
            found.push(if token.is_hyphened { '-' } else { ' ' });
        }
        found.push_str(if at + 1 == tokens.len() { bare(word) } else { word });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{Story, is_past, log_likelihood};
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;
    use crate::text::Text;

    fn read(copy: &str) -> Story {
        Story::read(&Text::read(&Draft::read(copy), &Book::default()))
    }

    /// Source: T. Dunning 1993, table of bigrams, "the swiss": 110, 2442, 111 and 29114 give 270.72.
    #[test]
    fn the_ratio_is_dunning_s() {
        let ratio = log_likelihood(110.0, 110.0 + 2442.0, 111.0, 111.0 + 29_114.0).unwrap();
        assert!((ratio - 270.72).abs() < 0.005, "{ratio}");
        assert_eq!(log_likelihood(1.0, 1000.0, 1000.0, 1_000_000.0), None);
        assert_eq!(log_likelihood(1.0, 1000.0, 100_000.0, 1_000_000.0), None);
    }

    #[test]
    fn the_sample_s_manuscript() {
        let story = read(include_str!("../../drafts/manuscript.txt"));
        let words: Vec<&str> = story.words.iter().map(|word| word.wording.as_str()).collect();
        assert!(
            words[..4].contains(&"boats") && words[..8].contains(&"stairs") && words.contains(&"lighthouse"),
            "{words:?}"
        );
        assert!(!words.contains(&"oona") && !words.contains(&"the"), "{words:?}");
        let phrases: Vec<&str> = story.phrases.iter().map(|phrase| phrase.wording.as_str()).collect();
        assert!(phrases.contains(&"red chair"), "{phrases:?}");
        let names: Vec<(&str, usize)> = story.names.iter().map(|name| (name.name.as_str(), name.count)).collect();
        assert_eq!(names, [("Oona", 13), ("Quillon", 7), ("Gull Point", 2)]);
    }

    #[test]
    fn spellings_of_a_name_are_told_together() {
        let story = read("We saw Quillon. Then Quillon saw Quilon. Quilloon sang. A Rose rose. The rose.");
        let quillon = &story.names[0];
        let variants: Vec<(&str, usize)> =
            quillon.variants.iter().map(|variant| (variant.written.as_str(), variant.count)).collect();
        assert_eq!((quillon.name.as_str(), quillon.count), ("Quillon", 2));
        assert_eq!(variants, [("Quilon", 1), ("Quilloon", 1)]);
        assert_eq!(story.names.len(), 1, "{:?}", story.names);
    }

    #[test]
    fn a_name_of_the_brief_is_one_wherever_it_stands() {
        let names = ["Quinby", "Aunt Zoë"].map(|name| Name { name: name.to_owned(), syllables: None });
        let book = Book { names: names.to_vec(), ..Book::default() };
        let copy = "Quinby rows. Quinby sleeps. Aunt Zoë rows. Rain fell. Rain stops.";
        let story = Story::read(&Text::read(&Draft::read(copy), &book));
        let found: Vec<_> = story.names.iter().map(|name| (name.name.as_str(), name.count)).collect();
        assert_eq!(found, [("Quinby", 2), ("Aunt Zoë", 1)]);
        assert!(story.words.iter().all(|word| word.wording != "quinby"), "{:?}", story.words);
    }

    #[test]
    fn nothing_is_found_in_nothing() {
        let story = read("");
        assert!(story.is_empty() && story.words.is_empty() && story.names.is_empty());
    }

    #[test]
    fn phrases_stand_as_they_are_written() {
        let story = read(
            "Wim met the old red kettle. The kettle, red and round, sang. Grandmother's shed is by the owl-house. \
             *Old red\nkettle*! Grandmother’s shed and the owl\u{2011}house, and on Monday morning, a Monday morning. \
             Red, kettle; red. Kettle. Climbed and climbed.\n\nWim sang: moon  \nboat, moon  \nboat.",
        );
        let mut phrases: Vec<_> = story.phrases.iter().map(|phrase| (phrase.wording.as_str(), phrase.count)).collect();
        phrases.sort_unstable();
        assert_eq!(phrases, [("Monday morning", 2), ("grandmother's shed", 2), ("owl-house", 2), ("red kettle", 2)]);
        assert!(story.words.iter().all(|word| word.wording != "climbed"), "{:?}", story.words);
    }

    #[test]
    fn what_somebody_did_and_sounds_are_no_candidates() {
        let story = read(
            "The fox lit a lantern and crept in. Plop! The fox lit a lantern and crept out. Plop, plop. Brrr, said a \
             felt owl, brrr. Whooo, said the owl in felt, whooo. A plum fell with a plop of a plum. Moo. Moo.",
        );
        let mut words: Vec<_> = story.words.iter().map(|word| word.wording.as_str()).collect();
        words.sort_unstable();
        assert_eq!(words, ["fox", "lantern", "owl", "plop", "plum"]);
        assert!(is_past("crept") && !is_past("rose"), "a rose is a thing too");
        assert!(story.phrases.is_empty(), "{:?}", story.phrases);
    }

    #[test]
    fn words_that_only_look_like_forms_are_not_counted_together() {
        let story = read(
            "The shed. She saw the shed. She has a seed; see the seed. She sat in the shed in the evening, even so, \
             evening.",
        );
        let words: Vec<_> = story.words.iter().map(|word| (word.wording.as_str(), word.count)).collect();
        assert!(words.contains(&("shed", 3)) && words.contains(&("seed", 2)), "{words:?}");
    }

    #[test]
    fn a_plural_and_another_apostrophe_are_no_other_spelling() {
        let story = read("See the Dillings and Bo Dilling. O’Grady met O'Grady, and a Dilling met Lise-Lotte.");
        let names: Vec<_> =
            story.names.iter().map(|name| (name.name.as_str(), name.count, name.variants.len())).collect();
        assert_eq!(
            names,
            [("Dilling", 2, 0), ("O'Grady", 2, 0), ("Bo", 1, 0), ("Dillings", 1, 0), ("Lise-Lotte", 1, 0)]
        );
    }
}
