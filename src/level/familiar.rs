//! Knows familiar words: the lists that the Dale-Chall and Spache formulas stand on, with their rules for endings.
//!
//! A list can be replaced by another, and the program works without one: the formulas that need a missing list have no
//! value. Names are not looked for here; the code that counts words decides which words are names.
//!
//! The file is compiled twice: into the program, and into its build script, which stores with each word of the
//! dictionary what the carried lists say about it. So the dictionary is passed in as `syllables`, and the file uses
//! nothing that only one of the two has.
//!
//! Dale and Chall 1948 take comparatives as familiar and doers (`keeper` from `keep`) as not, unless they are listed
//! (from memory). Spelling does not tell the two apart; here a form in -er is a comparative where the pronouncing
//! dictionary also has the superlative, which verbs lack.

use std::collections::HashSet;

use crate::text::inflections;
use crate::text::spelling::{ByHash, Spelling};

/// Which list of familiar words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WordList {
    /// The list of Dale and Chall.
    DaleChall,
    /// The list of Spache.
    Spache,
}

/// Comparatives whose superlative the pronouncing dictionary lacks.
const OTHER_COMPARATIVES: [&str; 14] = [
    "cleverer",
    "cozier",
    "dimmer",
    "emptier",
    "flatter",
    "fuzzier",
    "hungrier",
    "looser",
    "madder",
    "merrier",
    "muddier",
    "readier",
    "stiller",
    "straighter",
];

/// The words of a list of familiar words.
#[derive(Debug)]
pub struct FamiliarWords {
    /// The keys of the words' spellings.
    words: HashSet<u64, ByHash>,
}

impl FamiliarWords {
    /// Reads a list: one word a line; a line that begins with `#` is a comment. None where it holds no word.
    pub fn read(text: &str) -> Option<Self> {
        let lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
        let key = |line: &str| Spelling::unlisted(line.trim_end_matches('.')).key();
        let words: HashSet<u64, ByHash> = lines.map(key).collect();
        (!words.is_empty()).then_some(Self { words })
    }

    /// How many words the list holds.
    pub fn len(&self) -> usize {
        self.words.len()
    }

    /// Whether the list holds no word; never so for a list that was read.
    pub fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    /// Whether the list has a word just as it is written.
    pub fn has(&self, word: &str) -> bool {
        self.words.contains(&Spelling::unlisted(word).key())
    }

    /// Whether a word in small letters with straight apostrophes is familiar by the rules of a formula's list.
    pub(crate) fn is_familiar(&self, word: &str, rules: WordList, syllables: impl Fn(&str) -> Option<u32>) -> bool {
        let is_familiar = |part: &str| self.is_familiar_part(part, rules, &syllables);
        is_familiar(word) || (word.contains('-') && word.split('-').all(is_familiar))
    }

    /// Whether a word without hyphens, or a part of a hyphened one, is familiar.
    fn is_familiar_part(&self, part: &str, rules: WordList, syllables: impl Fn(&str) -> Option<u32>) -> bool {
        let is_letter =
            rules == WordList::Spache && matches!(part.as_bytes(), [letter] if letter.is_ascii_alphabetic());
        is_letter
            || self.has(part)
            || self.has_with_ending(part, rules, &syllables)
            || part.bytes().any(|byte| byte.is_ascii_digit())
            || without_contraction(part)
                .is_some_and(|stem| self.has(stem) || self.has_with_ending(stem, rules, &syllables))
    }

    /// Whether a word is made from a word of the list by one of the endings that a formula's rules allow.
    fn has_with_ending(&self, part: &str, rules: WordList, syllables: impl Fn(&str) -> Option<u32>) -> bool {
        self.has_inflected(part, part)
            || (rules == WordList::DaleChall && (self.has_compared(part, syllables) || self.has_stem_of_ly_or_n(part)))
    }

    /// Whether `form` is a plural or a verb form of a word of the list. The stems to try are the beginnings of `part`.
    fn has_inflected(&self, part: &str, form: &str) -> bool {
        if !form.ends_with(['s', 'd', 'g']) {
            return false;
        }
        let stem = |cut: usize| part.len().checked_sub(cut).and_then(|end| part.get(..end));
        let made = |cut, end| stem(cut).is_some_and(|stem| self.is_base(&[stem, end].concat(), form));
        (1..=4).filter_map(stem).any(|stem| self.is_base(stem, form))
            || ((form.ends_with("ies") || form.ends_with("ied")) && made(3, "y"))
            || (form.ends_with("ing") && (made(3, "e") || made(4, "ie")))
    }

    /// Whether the list has `base`, and `form` is made from it by an ending.
    fn is_base(&self, base: &str, form: &str) -> bool {
        base.len() > 1 && self.has(base) && inflections::is_inflected(form, base)
    }

    /// Whether a word is a comparative or superlative of a word of the list, and no doer. Both are spelt as the past of
    /// a verb would be (`bigger` as `bigged`, `happiest` as `happied`), so the rules for -ed find the stem.
    fn has_compared(&self, part: &str, syllables: impl Fn(&str) -> Option<u32>) -> bool {
        let comparative = part
            .strip_suffix("er")
            .filter(|stem| OTHER_COMPARATIVES.contains(&part) || syllables(&[stem, "est"].concat()).is_some());
        let stem = comparative.or_else(|| part.strip_suffix("est"));
        stem.map(|stem| [stem, "ed"].concat()).is_some_and(|form| self.has_inflected(&form, &form))
    }

    /// Whether a word is made from a word of the list by -ly or -n.
    fn has_stem_of_ly_or_n(&self, part: &str) -> bool {
        let adjective = part.strip_suffix("ily").map(|stem| [stem, "y"].concat());
        adjective.is_some_and(|stem| self.has(&stem))
            || part
                .strip_suffix("ly")
                .or_else(|| part.strip_suffix('n'))
                .is_some_and(|stem| stem.len() > 2 && self.has(stem))
    }
}

/// A word of a list, and everything that the rules of either list might take for a form of the word. Every form that
/// the rules do accept is among them, besides forms that they do not.
#[allow(dead_code, reason = "for the build script alone")]
pub(crate) fn forms_of(base: &str) -> Vec<String> {
    let last = base.chars().next_back().map(String::from).unwrap_or_default();
    let made = |cut: &str, ending: &str| base.strip_suffix(cut).map(|stem| [stem, ending].concat());
    let endings = ["", "s", "es", "d", "ed", "ing", "ked", "king", "ly", "n"].map(|ending| made("", ending));
    let doubled = ["ed", "ing"].map(|ending| made("", &[&last, ending].concat()));
    let others = [("y", "ies"), ("y", "ied"), ("y", "ily"), ("e", "ing"), ("ie", "ying")];
    let others = others.map(|(cut, ending)| made(cut, ending));
    let mut forms: Vec<String> = endings.into_iter().chain(doubled).chain(others).flatten().collect();
    let compared = |form: &String| form.strip_suffix("ed").map(|stem| ["er", "est"].map(|end| [stem, end].concat()));
    forms.extend(forms.iter().filter_map(compared).flatten().collect::<Vec<_>>());
    forms
}

/// The letters of the longest ending of a contraction.
const LONGEST_ENDING: usize = 2;

/// The word before a possessive ending or the end of a contraction: `gull's`, `gulls'`, `who'll`. That contractions of
/// a familiar word are familiar is this program's reading; the publications name possessives.
pub(super) fn without_contraction(word: &str) -> Option<&str> {
    let behind = word.bytes().rev().take(LONGEST_ENDING + 1).position(|byte| byte == b'\'')?;
    let (stem, ending) = word.split_at_checked(word.len() - behind - 1)?;
    match ending.get(1..)? {
        "t" => stem.strip_suffix('n'),
        "" | "s" | "d" | "m" | "ll" | "re" | "ve" => Some(stem),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{FamiliarWords, WordList};
    use crate::level::lists::Lists;
    use crate::text::lexicon::syllables;

    fn check(list: WordList, familiar: &str, unfamiliar: &str) {
        let words = Lists::Carried.of(list).unwrap();
        for word in familiar.split(' ') {
            assert!(words.is_familiar(word, list, syllables), "{word}");
        }
        for word in unfamiliar.split(' ') {
            assert!(!words.is_familiar(word, list, syllables), "{word}");
        }
    }

    #[test]
    fn the_lists_are_whole() {
        for (text, list) in [
            (include_str!("../../wordlists/dale-chall.txt"), WordList::DaleChall),
            (include_str!("../../wordlists/spache.txt"), WordList::Spache),
        ] {
            let entries = Lists::Carried.of(list).unwrap().len();
            assert!(text.contains(&format!("# Entries: {entries}\n")), "{entries}");
        }
    }

    /// Dale and Chall 1948, the rules for endings.
    #[test]
    fn regular_endings_are_familiar_to_dale_and_chall() {
        let familiar = "dog dogs dog's dogs' boxes cities hopped hoping cried known bigger biggest happier nicest \
                        colder merrier slowly happily 1984 21st aren't who'll cross-eyed lamp-post mr";
        let unfamiliar = "lighthouse quillonia's adventurous da sunglasses lamp-quillonia keeper finder smoker copier";
        check(WordList::DaleChall, familiar, unfamiliar);
    }

    /// Spache: endings of nouns and verbs alone.
    #[test]
    fn regular_endings_are_familiar_to_spache() {
        check(
            WordList::Spache,
            "dog dogs goes jumped hopping baby babies b 12 can't boy's",
            "slowly lighthouse quillonia",
        );
    }

    #[test]
    fn another_list_can_be_read() {
        let words = FamiliarWords::read("# own list\nLamp\n\ngull\n").unwrap();
        assert_eq!(words.len(), 2);
        assert!(
            words.is_familiar("lamps", WordList::Spache, syllables)
                && !words.is_familiar("dog", WordList::Spache, syllables)
        );
        assert!(FamiliarWords::read("# nothing\n").is_none());
    }
}
