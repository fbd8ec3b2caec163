//! Counts the blurb for the formulas of reading level, sentence by sentence.
//!
//! Names are familiar in any position: those of the brief, and words that stand with a capital inside a sentence
//! (Dale and Chall 1948 and Spache 1953 both count names as familiar; how a program finds them is this one's rule).

use std::collections::{HashMap, HashSet};

use super::counts::{Count, Counts};
use super::familiar::{FamiliarWords, Lists, Question, without_contraction};
use super::formula::List;
use super::syllables::{self, Basis, fold, without_possessive};
use super::words::HYPHENS;
use super::{ByHash, Sentence, Text, Word, lexicon};

/// A word of more letters than this is long (Björnsson 1968).
const SHORT_WORD: usize = 6;
/// Longer words are not parted in two; no compound of two words of at most two syllables each has more letters.
const LONGEST_COMPOUND: usize = 24;

/// Room for so many spellings is made at once.
const MOST_EXPECTED: usize = 1000;

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
        let listed = HashMap::with_capacity_and_hasher(blurb.words.len().min(MOST_EXPECTED), ByHash::default());
        let mut reader = Reader { text, lists, names: names_in(text), spellings: HashMap::default(), listed, met: 0 };
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
        let mut seen = vec![false; reader.met];
        let once = tally
            .words
            .iter()
            .filter(|word| word.unfamiliar_to_spache && !std::mem::replace(&mut seen[word.spelling], true));
        tally.whole.add(Count::UnfamiliarOnce, once.count());
        tally
    }
}

/// Reads one word after another.
struct Reader<'t> {
    text: &'t Text<'t>,
    lists: Lists<'t>,
    names: HashSet<String, ByHash>,
    /// Each spelling that was met and is not in the pronouncing dictionary, with what the lists say of it.
    spellings: HashMap<String, Known, ByHash>,
    /// The same for each place of the dictionary that was met.
    listed: HashMap<u32, Known, ByHash>,
    /// How many spellings were met.
    met: usize,
}

impl Reader<'_> {
    /// Adds a word to the counts of its sentence.
    fn read(&mut self, word: &Word, counts: &mut Counts) -> Known {
        let written = self.text.word(word);
        let mut known = self.known(word, written);
        let is_unfamiliar = known.unfamiliar_to_dale_chall || known.unfamiliar_to_spache;
        if is_unfamiliar && is_name(written, &self.names) {
            (known.unfamiliar_to_dale_chall, known.unfamiliar_to_spache) = (false, false);
        }
        let (letters, digits) = letters_and_digits(written);
        let spoken = usize::try_from(word.syllables).unwrap_or(usize::MAX);
        let is_short_by_flesch = matches!(word.basis, Basis::Figure | Basis::Abbreviation);
        let is_hard = spoken >= 3 && !is_name(written, &self.names) && self.is_hard(word, written);
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

    /// What the lists say of a word.
    fn known(&mut self, word: &Word, written: &str) -> Known {
        if let Some(place) = word.place {
            if let Some(known) = self.listed.get(&place) {
                return *known;
            }
            let known = self.look_up(word.place, without_possessive(&folded(written)));
            self.listed.insert(place, known);
            return known;
        }
        let folded = folded(written);
        let spelling = without_possessive(&folded);
        if let Some(known) = self.spellings.get(spelling) {
            return *known;
        }
        let known = self.look_up(None, spelling);
        self.spellings.insert(spelling.to_owned(), known);
        known
    }

    /// Numbers a new spelling and asks the lists.
    fn look_up(&mut self, place: Option<u32>, spelling: &str) -> Known {
        let is_outside = |list| {
            let is_familiar = |words: &FamiliarWords| words.is_familiar(spelling, list);
            self.lists.of(list).is_some_and(|words| !words.answer(Question::Familiar(list), place, is_familiar))
        };
        let known = Known {
            spelling: self.met,
            unfamiliar_to_dale_chall: is_outside(List::DaleChall),
            unfamiliar_to_spache: is_outside(List::Spache),
        };
        self.met += 1;
        known
    }

    /// Gunning's rule for a word of three syllables or more that is no name.
    fn is_hard(&self, word: &Word, written: &str) -> bool {
        if matches!(word.basis, Basis::Figure | Basis::Abbreviation) {
            return false;
        }
        if written.contains(HYPHENS) {
            return written.split(HYPHENS).any(|part| syllables::count(part, "").0 >= 3);
        }
        let folded = folded(written);
        // What has an apostrophe shares its place with the word before it, and is no compound itself.
        let place = word.place.filter(|_| !folded.contains('\''));
        let is_compound = |words: &FamiliarWords| is_compound(words, &folded);
        let is_compound =
            self.lists.dale_chall.is_some_and(|words| words.answer(Question::Compound, place, is_compound));
        !(is_compound || (word.syllables == 3 && is_made_long_by_an_ending(&folded)))
    }
}

/// Whether a word is two easy ones written together, as Gunning's `bookkeeper` and `manpower` are.
fn is_compound(words: &FamiliarWords, folded: &str) -> bool {
    if folded.len() > LONGEST_COMPOUND {
        return false;
    }
    let is_short = |part: &str| lexicon::syllables(part).is_some_and(|count| count < 3);
    let is_doer = |part: &str| part.strip_suffix("er").is_some_and(|verb| words.has(verb));
    let is_easy = |part: &str| (words.is_familiar(part, List::DaleChall) || is_doer(part)) && is_short(part);
    (3..folded.len().saturating_sub(2))
        .filter_map(|at| folded.split_at_checked(at))
        .any(|(front, back)| words.has(front) && is_short(front) && is_easy(back))
}

/// A word in small letters, with straight apostrophes and hyphens.
fn folded(written: &str) -> String {
    let folded = fold(written);
    if folded.is_ascii() { folded } else { folded.replace(['\u{2010}', '\u{2011}'], "-") }
}

/// The letters of any script in a word, and its digits.
fn letters_and_digits(written: &str) -> (usize, usize) {
    if written.bytes().all(|byte| byte.is_ascii_alphabetic()) {
        return (written.len(), 0);
    }
    let count = |is_counted: fn(char) -> bool| written.chars().filter(|letter| is_counted(*letter)).count();
    (count(char::is_alphabetic), count(char::is_numeric))
}

/// Whether a word reaches three syllables by -es or -ed (`created`, `expanses`).
fn is_made_long_by_an_ending(folded: &str) -> bool {
    let stems = ["es", "s", "ed", "d"].into_iter().filter_map(|ending| folded.strip_suffix(ending));
    folded.ends_with(['s', 'd']) && stems.filter_map(lexicon::syllables).any(|count| count < 3)
}

/// Whether a word stands with a capital and is a name.
fn is_name(written: &str, names: &HashSet<String, ByHash>) -> bool {
    if !written.starts_with(char::is_uppercase) {
        return false;
    }
    let folded = folded(written);
    names.contains(&folded) || without_contraction(&folded).is_some_and(|stem| names.contains(stem))
}

/// The words that stand with a capital inside a sentence, and those of the names in the brief, in small letters.
fn names_in(text: &Text) -> HashSet<String, ByHash> {
    let mut names: HashSet<String, ByHash> = text.names.words().map(str::to_owned).collect();
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
