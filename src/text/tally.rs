//! Counts the blurb for the formulas of reading level, sentence by sentence.
//!
//! Names are familiar in any position: those of the brief, and words that stand with a capital inside a sentence
//! (Dale and Chall 1948 and Spache 1953 both count names as familiar; how a program finds them is this one's rule).

use std::collections::{HashMap, HashSet};

use super::counts::{Count, Counts};
use super::familiar::{FamiliarWords, Lists, without_contraction};
use super::formula::List;
use super::syllables::{self, Basis, fold};
use super::words::HYPHENS;
use super::{Sentence, Text, Word, lexicon};

/// A word of more letters than this is long (Björnsson 1968).
const SHORT_WORD: usize = 6;
/// Longer words are not parted in two; no compound of two words of at most two syllables each has more letters.
const LONGEST_COMPOUND: usize = 24;

/// The counts of the blurb.
pub(super) struct Tally {
    /// Of the whole.
    pub(super) whole: Counts,
    /// Of each sentence. Different words ([`Count::UnfamiliarOnce`]) are counted in the whole alone.
    pub(super) sentences: Vec<Counts>,
    /// What is known of each word, in reading order.
    pub(super) words: Vec<Known>,
}

/// What is known of a word of the blurb.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// A number for its spelling, the same in any case and with a possessive ending.
    pub(super) spelling: usize,
    /// Outside the Dale-Chall list, and no name.
    pub(super) unfamiliar_to_dale_chall: bool,
    /// Outside the Spache list, and no name.
    pub(super) unfamiliar_to_spache: bool,
}

impl Known {
    /// Whether the word is outside one list, and no name.
    pub(super) fn is_unfamiliar_to(&self, list: List) -> bool {
        match list {
            List::DaleChall => self.unfamiliar_to_dale_chall,
            List::Spache => self.unfamiliar_to_spache,
        }
    }
}

impl Tally {
    /// Counts the blurb of a text.
    pub(super) fn of(text: &Text, lists: Lists) -> Self {
        let blurb = &text.blurb;
        let mut reader = Reader { text, lists, names: names_in(text), spellings: HashMap::new() };
        let mut tally = Self {
            whole: Counts::default(),
            sentences: Vec::with_capacity(blurb.sentences.len()),
            words: Vec::with_capacity(blurb.words.len()),
        };
        for sentence in &blurb.sentences {
            let mut counts = Counts::default().with(Count::Sentences, 1);
            counts.add(Count::SentencesAtColons, 1 + text.sentence(sentence).matches(": ").count());
            for word in &blurb.words[sentence.words.clone()] {
                tally.words.push(reader.read(word, &mut counts));
            }
            tally.whole = tally.whole.plus(&counts);
            tally.sentences.push(counts);
        }
        let mut seen = HashSet::new();
        let once = tally.words.iter().filter(|word| word.unfamiliar_to_spache && seen.insert(word.spelling));
        tally.whole.add(Count::UnfamiliarOnce, once.count());
        tally
    }
}

/// Reads one word after another.
struct Reader<'t> {
    text: &'t Text<'t>,
    lists: Lists<'t>,
    names: HashSet<String>,
    /// Each spelling that was met, with what the lists say of it.
    spellings: HashMap<String, Known>,
}

impl Reader<'_> {
    /// Adds a word to the counts of its sentence.
    fn read(&mut self, word: &Word, counts: &mut Counts) -> Known {
        let written = self.text.word(word);
        let folded = fold(written).replace(['\u{2010}', '\u{2011}'], "-");
        let known = self.known(written, &folded);
        let letters = written.chars().filter(|letter| letter.is_alphabetic()).count();
        let digits = written.chars().filter(|letter| letter.is_numeric()).count();
        let spoken = usize::try_from(word.syllables).unwrap_or(usize::MAX);
        let is_short_by_flesch = matches!(word.basis, Basis::Figure | Basis::Abbreviation);
        let is_hard = spoken >= 3 && !is_name(written, &folded, &self.names) && self.is_hard(word, written, &folded);
        counts.add(Count::Words, 1);
        counts.add(Count::Syllables, spoken);
        counts.add(Count::SyllablesByFlesch, if is_short_by_flesch { 1 } else { spoken });
        counts.add(Count::Letters, letters);
        counts.add(Count::LettersAndDigits, letters + digits);
        counts.add(Count::OneSyllable, usize::from(spoken == 1));
        counts.add(Count::ThreeSyllables, usize::from(spoken >= 3));
        counts.add(Count::Hard, usize::from(is_hard));
        counts.add(Count::Long, usize::from(letters > SHORT_WORD));
        counts.add(Count::Unfamiliar, usize::from(known.unfamiliar_to_dale_chall));
        known
    }

    /// What the lists and the names say of a word.
    fn known(&mut self, written: &str, folded: &str) -> Known {
        let spelling = without_possessive(folded);
        let mut known = if let Some(known) = self.spellings.get(spelling) {
            *known
        } else {
            let is_outside =
                |list| self.lists.of(list).is_some_and(|words: &FamiliarWords| !words.is_familiar(spelling, list));
            let known = Known {
                spelling: self.spellings.len(),
                unfamiliar_to_dale_chall: is_outside(List::DaleChall),
                unfamiliar_to_spache: is_outside(List::Spache),
            };
            self.spellings.insert(spelling.to_owned(), known);
            known
        };
        if (known.unfamiliar_to_dale_chall || known.unfamiliar_to_spache) && is_name(written, folded, &self.names) {
            (known.unfamiliar_to_dale_chall, known.unfamiliar_to_spache) = (false, false);
        }
        known
    }

    /// Gunning's rule for a word of three syllables or more that is no name.
    fn is_hard(&self, word: &Word, written: &str, folded: &str) -> bool {
        if matches!(word.basis, Basis::Figure | Basis::Abbreviation) {
            return false;
        }
        if written.contains(HYPHENS) {
            return written.split(HYPHENS).any(|part| syllables::count(part, "").0 >= 3);
        }
        !(self.is_compound(folded) || (word.syllables == 3 && is_made_long_by_an_ending(folded)))
    }

    /// Whether a word is two easy ones written together, as Gunning's `bookkeeper` and `manpower` are.
    fn is_compound(&self, folded: &str) -> bool {
        let Some(words) = self.lists.dale_chall.filter(|_| folded.len() <= LONGEST_COMPOUND) else { return false };
        let is_short = |part: &str| lexicon::syllables(part).is_some_and(|count| count < 3);
        let is_easy = |part: &str| words.is_familiar(part, List::DaleChall) && is_short(part);
        (3..folded.len().saturating_sub(2))
            .filter_map(|at| folded.split_at_checked(at))
            .any(|(front, back)| words.has(front) && is_short(front) && is_easy(back))
    }
}

/// Whether a word reaches three syllables by -es or -ed (`created`, `expanses`).
fn is_made_long_by_an_ending(folded: &str) -> bool {
    let stems = ["es", "s", "ed", "d"].into_iter().filter_map(|ending| folded.strip_suffix(ending));
    folded.ends_with(['s', 'd']) && stems.filter_map(lexicon::syllables).any(|count| count < 3)
}

fn without_possessive(folded: &str) -> &str {
    folded.strip_suffix("'s").or_else(|| folded.strip_suffix('\'')).unwrap_or(folded)
}

/// Whether a word stands with a capital and is a name.
fn is_name(written: &str, folded: &str, names: &HashSet<String>) -> bool {
    written.starts_with(char::is_uppercase)
        && (names.contains(folded) || without_contraction(folded).is_some_and(|stem| names.contains(stem)))
}

/// The words that stand with a capital inside a sentence, and those of the names in the brief, in small letters.
fn names_in(text: &Text) -> HashSet<String> {
    let mut names: HashSet<String> = text.names.words().map(str::to_owned).collect();
    for sentence in &text.blurb.sentences {
        for at in sentence.words.clone().skip(1) {
            let written = text.word(&text.blurb.words[at]);
            let is_shouted = written.chars().nth(1).is_some_and(char::is_uppercase);
            if written.starts_with(char::is_uppercase) && !is_shouted && !opens_speech(text, sentence, at) {
                names.insert(without_possessive(&fold(written)).to_owned());
            }
        }
    }
    names
}

/// Whether a quotation, a bracket, a colon or a stop stands before the word, so that its capital may mean no name.
fn opens_speech(text: &Text, sentence: &Sentence, at: usize) -> bool {
    let words = &text.blurb.words;
    let gap = words[at - 1].range.end..words[at].range.start;
    let gap = &text.block(sentence.block).text()[gap];
    gap.contains([':', '!', '?', '…', '"', '“', '‘', '«', '„', '(']) || gap.contains("...")
}
