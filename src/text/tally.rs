//! Counts the blurb for the formulas of reading level, sentence by sentence.
//!
//! Names are familiar in any position: those of the brief, and words that stand with a capital inside a sentence
//! (Dale and Chall 1948 and Spache 1953 both count names as familiar; how a program finds them is this one's rule).

use std::collections::{HashMap, HashSet};

use super::counts::{Count, Counts};
use super::familiar::{List, without_contraction};
use super::lists::Lists;
use super::spelling::{ByHash, Mark, Spelling};
use super::syllables::{self, Basis, fold};
use super::words::HYPHENS;
use super::{Sentence, Text, Word, gunning};

/// A word of more letters than this is long (Björnsson 1968).
const SHORT_WORD: usize = 6;

/// The counts of the blurb.
pub(super) struct Tally {
    /// Of the whole.
    pub(super) whole: Counts,
    /// Of each sentence. Different words ([`Count::UnfamiliarOnce`]) are counted in the whole alone.
    pub(super) sentences: Vec<Counts>,
    /// Each place where a word outside a list stands, in reading order.
    pub(super) unfamiliar: Vec<Unfamiliar>,
    /// How many different words those are.
    pub(super) different: usize,
}

/// A word of the blurb that is outside a list and no name.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unfamiliar {
    /// Its place among the words of the blurb.
    pub(super) at: usize,
    /// The place of its sentence among those of the blurb.
    pub(super) sentence: usize,
    /// The number of its spelling, the same in any case and with a possessive ending; from 0 on.
    pub(super) number: usize,
    said: Said,
}

/// Whether a word is outside each list.
#[derive(Debug, Clone, Copy)]
struct Said {
    is_outside_dale_chall: bool,
    is_outside_spache: bool,
}

impl Unfamiliar {
    /// Whether it is one list that the word is outside.
    pub(super) fn is_outside(&self, list: List) -> bool {
        match list {
            List::DaleChall => self.said.is_outside_dale_chall,
            List::Spache => self.said.is_outside_spache,
        }
    }
}

impl Tally {
    /// Counts the blurb of a text.
    pub(super) fn of(text: &Text, lists: Lists) -> Self {
        let (mut sentences, others) = count_all(text, lists);
        let room = text.blurb.words.len() / 4;
        let mut reader = Reader {
            lists,
            has_dale_chall: lists.has(List::DaleChall),
            has_spache: lists.has(List::Spache),
            names: names_in(text, &others),
            numbers: HashMap::with_capacity_and_hasher(room, ByHash::default()),
            once: 0,
            unfamiliar: Vec::with_capacity(room),
        };
        for (number, places) in others.by_sentence().enumerate() {
            reader.read(text, number, places, &mut sentences[number]);
        }
        let mut whole = sentences.iter().fold(Counts::default(), |whole, counts| whole.plus(counts));
        whole.add(Count::UnfamiliarOnce, reader.once);
        Self { whole, sentences, different: reader.numbers.len(), unfamiliar: reader.unfamiliar }
    }
}

/// What can be counted of each sentence without a look at its letters, as if all words were letters alone; and the places of
/// the words that have to be looked at, which are those with a capital and those of which not all was settled when the
/// program was built.
fn count_all(text: &Text, lists: Lists) -> (Vec<Counts>, Others) {
    // Each place is written, and kept where the word is another. So the processor has nothing to guess.
    let (mut others, mut left) = (vec![0; text.blurb.words.len()], 0);
    let mut ends = Vec::with_capacity(text.blurb.sentences.len());
    let are_carried = lists.are_carried();
    let count = |sentence: &Sentence| {
        let block = text.block(sentence.block).text();
        let (mut syllables, mut one, mut three, mut letters, mut long) = (0, 0, 0, 0, 0);
        for (at, word) in sentence.words.clone().zip(&text.blurb.words[sentence.words.clone()]) {
            let spoken = usize::try_from(word.syllables).unwrap_or(usize::MAX);
            syllables += spoken;
            one += usize::from(spoken == 1);
            three += usize::from(spoken >= 3);
            letters += word.range.len();
            long += usize::from(word.range.len() > SHORT_WORD);
            others[left] = at;
            let is_small = block.as_bytes().get(word.range.start).is_some_and(u8::is_ascii_lowercase);
            left += usize::from(!(is_small & are_carried & is_easy(word)));
        }
        ends.push(left);
        Counts::default()
            .with(Count::Words, sentence.words.len())
            .with(Count::Sentences, 1)
            .with(Count::SentencesAtColons, 1 + colons_in(text.sentence(sentence)))
            .with(Count::Syllables, syllables)
            .with(Count::SyllablesByFlesch, syllables)
            .with(Count::Letters, letters)
            .with(Count::LettersAndDigits, letters)
            .with(Count::OneSyllable, one)
            .with(Count::ThreeSyllables, three)
            .with(Count::Long, long)
    };
    let sentences = text.blurb.sentences.iter().map(count).collect();
    others.truncate(left);
    (sentences, Others { places: others, ends })
}

/// Places of words in order, with the end of those of each sentence.
struct Others {
    places: Vec<usize>,
    ends: Vec<usize>,
}

impl Others {
    /// Those of each sentence.
    fn by_sentence(&self) -> impl Iterator<Item = &[usize]> {
        let starts = [0].into_iter().chain(self.ends.iter().copied());
        starts.zip(&self.ends).map(|(start, end)| &self.places[start..*end])
    }
}

/// Whether it was settled when the program was built that a word is short, of letters, and on both lists.
fn is_easy(word: &Word) -> bool {
    word.is_plain
        & (word.basis == Basis::Listed)
        & (word.syllables < 3)
        & word.spelling.has(Mark::FamiliarToDaleChall)
        & word.spelling.has(Mark::FamiliarToSpache)
}

/// Looks at words one by one.
struct Reader<'t> {
    lists: Lists<'t>,
    has_dale_chall: bool,
    has_spache: bool,
    /// The keys of the names.
    names: HashSet<u64, ByHash>,
    /// The number of each unfamiliar spelling.
    numbers: HashMap<u64, usize, ByHash>,
    /// How many different words are outside the Spache list.
    once: usize,
    unfamiliar: Vec<Unfamiliar>,
}

impl Reader<'_> {
    /// Adds to the counts of a sentence what its words are of which only the first look was taken.
    fn read(&mut self, text: &Text, sentence: usize, places: &[usize], counts: &mut Counts) {
        let block = text.block(text.blurb.sentences[sentence].block).text();
        for at in places {
            let word = &text.blurb.words[*at];
            let written = &block[word.range.clone()];
            if !word.is_plain {
                let (letters, digits) = letters_and_digits(written);
                counts.take(Count::Letters, written.len() - letters);
                counts.take(Count::LettersAndDigits, written.len() - letters - digits);
                counts.take(Count::Long, usize::from(written.len() > SHORT_WORD && letters <= SHORT_WORD));
            }
            if word.is_short_by_flesch() {
                counts.take(Count::SyllablesByFlesch, usize::try_from(word.syllables).unwrap_or(usize::MAX) - 1);
            }
            counts.add(Count::Hard, usize::from(word.syllables >= 3 && self.is_hard(word, written)));
            if let Some(said) = self.is_unfamiliar(word, written) {
                counts.add(Count::Unfamiliar, usize::from(said.is_outside_dale_chall));
                self.note(word.spelling, *at, sentence, said);
            }
        }
    }

    /// What the lists say of a word that is outside one and no name; none of any other.
    fn is_unfamiliar(&self, word: &Word, written: &str) -> Option<Said> {
        let said = self.said(word, written);
        let is_outside = said.is_outside_dale_chall || said.is_outside_spache;
        (is_outside && !self.is_name(word, written)).then_some(said)
    }

    /// What the lists say of a word, whether it is a name or not.
    fn said(&self, word: &Word, written: &str) -> Said {
        let (lists, spelling) = (self.lists, word.spelling);
        // Words of other languages are not looked up.
        if word.basis != Basis::Rule && lists.are_settled_for(spelling) {
            return Said {
                is_outside_dale_chall: self.has_dale_chall && !spelling.has(Mark::FamiliarToDaleChall),
                is_outside_spache: self.has_spache && !spelling.has(Mark::FamiliarToSpache),
            };
        }
        let folded = fold(written);
        let [dale_chall, spache] = lists.are_familiar(syllables::without_possessive(&folded));
        Said {
            is_outside_dale_chall: self.has_dale_chall && !dale_chall,
            is_outside_spache: self.has_spache && !spache,
        }
    }

    fn note(&mut self, spelling: Spelling, at: usize, sentence: usize, said: Said) {
        let next = self.numbers.len();
        let number = *self.numbers.entry(spelling.key()).or_insert(next);
        self.once += usize::from(number == next && said.is_outside_spache);
        self.unfamiliar.push(Unfamiliar { at, sentence, number, said });
    }

    /// Gunning's rule for a word of three syllables or more.
    fn is_hard(&self, word: &Word, written: &str) -> bool {
        if word.is_short_by_flesch() || self.is_name(word, written) {
            return false;
        }
        // What has an ending after an apostrophe shares its spelling with the word before it.
        if word.basis == Basis::Listed && word.is_plain && self.lists.are_settled_for(word.spelling) {
            return word.spelling.has(Mark::Hard);
        }
        if written.contains(HYPHENS) {
            return written.split(HYPHENS).any(|part| syllables::of_part(part).0 >= 3);
        }
        gunning::is_hard(&fold(written), word.syllables, self.lists.of(List::DaleChall))
    }

    /// Whether a word stands with a capital and is a name.
    fn is_name(&self, word: &Word, written: &str) -> bool {
        if !starts_with_capital(written) {
            return false;
        }
        if self.names.contains(&word.spelling.key()) {
            return true;
        }
        let is_one = |spelling: &str| self.names.contains(&Spelling::unlisted(spelling).key());
        let has_ending = written.contains(['\'', '\u{2019}']);
        has_ending && {
            let folded = fold(written);
            is_one(&folded) || without_contraction(&folded).is_some_and(is_one)
        }
    }
}

impl Word {
    /// Whether Flesch counts it as one syllable: a figure, an abbreviation.
    fn is_short_by_flesch(&self) -> bool {
        matches!(self.basis, Basis::Figure | Basis::Abbreviation)
    }
}

/// How many colons with a blank behind them stand in a sentence; most have none.
fn colons_in(sentence: &str) -> usize {
    let may_be_one = sentence.bytes().fold(false, |found, byte| found | (byte == b':'));
    if may_be_one { sentence.matches(": ").count() } else { 0 }
}

fn starts_with_capital(written: &str) -> bool {
    match written.as_bytes() {
        [first, ..] if first.is_ascii() => first.is_ascii_uppercase(),
        _ => written.starts_with(char::is_uppercase),
    }
}

/// The letters of any script in a word, and its digits.
fn letters_and_digits(written: &str) -> (usize, usize) {
    let (mut letters, mut digits) = (0, 0);
    for character in written.chars() {
        letters += usize::from(character.is_alphabetic());
        digits += usize::from(character.is_numeric());
    }
    (letters, digits)
}

/// The keys of the words that stand with a capital inside a sentence, and of those of the names in the brief. `others` are all
/// words that stand with a capital, and more.
fn names_in(text: &Text, others: &Others) -> HashSet<u64, ByHash> {
    let mut names: HashSet<u64, ByHash> =
        HashSet::with_capacity_and_hasher(text.blurb.words.len() / 16, ByHash::default());
    names.extend(text.names.words().map(|name| Spelling::unlisted(name).key()));
    for (sentence, places) in text.blurb.sentences.iter().zip(others.by_sentence()) {
        let block = text.block(sentence.block).text();
        for at in places.iter().filter(|at| **at > sentence.words.start) {
            let word = &text.blurb.words[*at];
            let written = &block[word.range.clone()];
            let is_shouted = || written.chars().nth(1).is_some_and(char::is_uppercase);
            if starts_with_capital(written) && !is_shouted() && !opens_speech(text, sentence, *at) {
                names.insert(word.spelling.key());
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
    gap.len() > 1 && (gap.contains([':', '!', '?', '…', '"', '“', '‘', '«', '„', '(']) || gap.contains("..."))
}
