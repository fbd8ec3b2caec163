//! Counts the blurb for the formulas of reading level, sentence by sentence.
//!
//! Names are familiar in any position: those of the brief, and words that stand with a capital inside a sentence
//! (Dale and Chall 1948 and Spache 1953 both count names as familiar; how a program finds them is this one's rule).

use super::counts::{Count, Counts};
use super::familiar::{WordList, without_contraction};
use super::gunning;
use super::keys::Keys;
use super::lists::Lists;
use crate::text::lexicon;
use crate::text::places::WordPlaces;
use crate::text::spelling::{Spelling, WordMark};
use crate::text::syllables;
use crate::text::syllables::{Basis, fold};
use crate::text::words::HYPHENS;
use crate::text::{Sentence, Text, Word};

/// A word of more letters than this is long (Björnsson 1968).
const SHORT_WORD: usize = 6;

/// What an ending stands behind.
const APOSTROPHES: [char; 2] = ['\'', '\u{2019}'];

/// What ends a sentence besides stops for Björnsson.
const COLON: &str = ": ";

/// The counts of the blurb, and what they are made of.
pub(super) struct Tally {
    /// Of the whole.
    pub(super) whole: Counts,
    /// Of each sentence. Different words ([`Count::UnfamiliarOnce`]) are counted in the whole alone.
    pub(super) sentences: Vec<Counts>,
    /// Each place where a word outside a list stands, in reading order.
    pub(super) unfamiliar: Vec<Unfamiliar>,
}

/// A word of the blurb that is outside a list and no name.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unfamiliar {
    /// Its place among the words of the blurb.
    pub(super) at: usize,
    /// The key of its spelling, the same in any case and with a possessive ending.
    pub(super) key: u64,
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
    pub(super) fn is_outside(&self, list: WordList) -> bool {
        match list {
            WordList::DaleChall => self.said.is_outside_dale_chall,
            WordList::Spache => self.said.is_outside_spache,
        }
    }
}

impl Tally {
    /// Counts the blurb of a text.
    pub(super) fn of(text: &Text, lists: Lists) -> Self {
        let (mut sentences, mut unfamiliar) = (vec![Counts::default(); text.blurb.sentences.len()], Vec::new());
        let once = count(text, lists, 1, &mut sentences, |word| unfamiliar.push(word));
        unfamiliar.sort_by_key(|word| word.at);
        let whole = sentences.iter().fold(Counts::default(), |whole, counts| whole.plus(counts));
        Self { whole: whole.with(Count::UnfamiliarOnce, once), sentences, unfamiliar }
    }

    /// The counts of the whole blurb alone, sooner.
    pub(super) fn whole(text: &Text, lists: Lists) -> Counts {
        let mut whole = Counts::default();
        let once = count(text, lists, text.blurb.sentences.len(), std::slice::from_mut(&mut whole), |_| {});
        whole.with(Count::UnfamiliarOnce, once)
    }
}

/// Counts each part of the blurb of so many sentences, and tells of each word outside a list. Returns how many different words
/// are outside the Spache list.
fn count(text: &Text, lists: Lists, each: usize, parts: &mut [Counts], mut note: impl FnMut(Unfamiliar)) -> usize {
    let words = &text.blurb.words;
    let (marks, mut outside, mut others) = (Marks::of(lists), WordPlaces::among(words), WordPlaces::among(words));
    let has_colons = text.blurb.paragraphs.iter().any(|paragraph| text.block(paragraph.block).text().contains(COLON));
    let of_part = || text.blurb.sentences.chunks(each.max(1));
    for (sentences, counts) in of_part().zip(parts.iter_mut()) {
        *counts = count_settled(text, &marks, sentences, has_colons, &mut outside, &mut others);
    }
    let (mut seen, mut once) = (Keys::with_room_for(outside.taken().len() + others.taken().len()), 0);
    let mut tell = |at: usize, said: Said| {
        let key = words[at].spelling.key();
        once += usize::from(said.is_outside_spache && seen.insert(key));
        note(Unfamiliar { at, key, said });
    };
    for at in outside.taken() {
        tell(*at, marks.said(words[*at].spelling));
    }
    let reader = Reader { lists, marks, names: names_in(text, others.taken()) };
    let mut others = others.taken().iter().peekable();
    for (sentences, counts) in of_part().zip(parts) {
        let end = sentences.last().map_or(0, |sentence| sentence.words.end);
        while let Some(at) = others.next_if(|at| **at < end) {
            if let Some(said) = reader.read(text, &words[*at], counts) {
                counts.add(Count::Unfamiliar, usize::from(said.is_outside_dale_chall));
                tell(*at, said);
            }
        }
    }
    once
}

/// What can be counted of some sentences by what was settled when the program was built. `outside` takes the places of settled
/// words that are outside a list, and `others` those of words that are not settled, of which only the syllables and the bytes
/// are counted here.
fn count_settled(
    text: &Text,
    marks: &Marks,
    sentences: &[Sentence],
    has_colons: bool,
    outside: &mut WordPlaces,
    others: &mut WordPlaces,
) -> Counts {
    let ([first, ..], [.., last]) = (sentences, sentences) else { return Counts::default() };
    let places = first.words.start..last.words.end;
    let (mut syllables, mut one, mut three, mut letters, mut long, mut hard, mut unfamiliar) = (0, 0, 0, 0, 0, 0, 0);
    for (at, word) in places.clone().zip(&text.blurb.words[places.clone()]) {
        let spoken = usize::try_from(word.syllables).unwrap_or(usize::MAX);
        syllables += spoken;
        one += usize::from(spoken == 1);
        three += usize::from(spoken >= 3);
        letters += word.range.len();
        long += usize::from(word.range.len() > SHORT_WORD);
        let is_settled = word.is_settled & marks.are_settled;
        let said = marks.said(word.spelling);
        hard += usize::from(is_settled & word.spelling.has(WordMark::Hard));
        unfamiliar += usize::from(is_settled & said.is_outside_dale_chall);
        outside.take(at, is_settled & (said.is_outside_dale_chall | said.is_outside_spache));
        others.take(at, !is_settled);
    }
    let colons: usize = if has_colons {
        sentences.iter().map(|sentence| text.sentence(sentence).matches(COLON).count()).sum()
    } else {
        0
    };
    Counts::default()
        .with(Count::Words, places.len())
        .with(Count::Sentences, sentences.len())
        .with(Count::SentencesAtColons, sentences.len() + colons)
        .with(Count::Syllables, syllables)
        .with(Count::SyllablesByFlesch, syllables)
        .with(Count::Letters, letters)
        .with(Count::LettersAndDigits, letters)
        .with(Count::OneSyllable, one)
        .with(Count::ThreeSyllables, three)
        .with(Count::Hard, hard)
        .with(Count::Long, long)
        .with(Count::Unfamiliar, unfamiliar)
}

/// What the marks of a word in the dictionary mean with some lists.
struct Marks {
    /// Whether they tell what the lists say.
    are_settled: bool,
    has_dale_chall: bool,
    has_spache: bool,
}

impl Marks {
    fn of(lists: Lists) -> Self {
        Self {
            are_settled: lists.are_carried(),
            has_dale_chall: lists.has(WordList::DaleChall),
            has_spache: lists.has(WordList::Spache),
        }
    }

    /// What the lists say of a word of which that is settled.
    fn said(&self, spelling: Spelling) -> Said {
        Said {
            is_outside_dale_chall: self.has_dale_chall & !spelling.has(WordMark::FamiliarToDaleChall),
            is_outside_spache: self.has_spache & !spelling.has(WordMark::FamiliarToSpache),
        }
    }
}

/// Looks at words one by one.
struct Reader<'t> {
    lists: Lists<'t>,
    marks: Marks,
    /// The keys of the names.
    names: Keys,
}

impl Reader<'_> {
    /// Adds to the counts what a word is, of which only the first look was taken. Returns what the lists say of one that is
    /// outside a list and no name.
    fn read(&self, text: &Text, word: &Word, counts: &mut Counts) -> Option<Said> {
        let written = text.word(word);
        if !(word.is_plain & self.marks.are_settled & matches!(word.basis, Basis::Listed | Basis::Guessed)) {
            return self.read_slowly(word, written, counts);
        }
        let said = self.marks.said(word.spelling);
        let is_outside = said.is_outside_dale_chall | said.is_outside_spache;
        let is_long = word.syllables >= 3;
        if !(is_outside | is_long) || self.is_name(word, written) {
            return None;
        }
        counts.add(Count::Hard, usize::from(is_long && self.is_hard(word, written)));
        is_outside.then_some(said)
    }

    /// The same of any word.
    #[inline(never)]
    fn read_slowly(&self, word: &Word, written: &str, counts: &mut Counts) -> Option<Said> {
        if !word.is_plain {
            let (letters, digits) = letters_and_digits(written);
            counts.take(Count::Letters, written.len() - letters);
            counts.take(Count::LettersAndDigits, written.len() - letters - digits);
            counts.take(Count::Long, usize::from(written.len() > SHORT_WORD && letters <= SHORT_WORD));
        }
        if word.is_short_by_flesch() {
            counts.take(Count::SyllablesByFlesch, usize::try_from(word.syllables).unwrap_or(usize::MAX) - 1);
        }
        if self.is_name(word, written) {
            return None;
        }
        counts.add(Count::Hard, usize::from(word.syllables >= 3 && self.is_hard(word, written)));
        let said = self.said(word, written);
        (said.is_outside_dale_chall || said.is_outside_spache).then_some(said)
    }

    /// What the lists say of a word, whether it is a name or not.
    fn said(&self, word: &Word, written: &str) -> Said {
        let lists = self.lists;
        // Words of other languages are not looked up.
        if word.basis != Basis::Rule && lists.are_settled_for(word.spelling) {
            return self.marks.said(word.spelling);
        }
        let folded = fold(written);
        let [dale_chall, spache] = lists.are_familiar(syllables::without_possessive(&folded));
        Said {
            is_outside_dale_chall: self.marks.has_dale_chall && !dale_chall,
            is_outside_spache: self.marks.has_spache && !spache,
        }
    }

    /// Gunning's rule for a word of three syllables or more that is no name.
    fn is_hard(&self, word: &Word, written: &str) -> bool {
        if word.is_short_by_flesch() {
            return false;
        }
        // What has an ending after an apostrophe shares its spelling with the word before it.
        let has_ending = || written.contains(APOSTROPHES);
        if word.basis == Basis::Listed && self.lists.are_settled_for(word.spelling) && (word.is_plain || !has_ending())
        {
            return word.spelling.has(WordMark::Hard);
        }
        if written.contains(HYPHENS) {
            return written.split(HYPHENS).any(|part| syllables::of_part(part).0 >= 3);
        }
        gunning::is_hard(&fold(written), word.syllables, self.lists.of(WordList::DaleChall), lexicon::syllables)
    }

    /// Whether a word stands with a capital and is a name.
    fn is_name(&self, word: &Word, written: &str) -> bool {
        if !starts_with_capital(written) {
            return false;
        }
        if self.names.has(word.spelling.key()) {
            return true;
        }
        let is_one = |spelling: &str| self.names.has(Spelling::unlisted(spelling).key());
        !word.is_plain && written.contains(APOSTROPHES) && {
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
fn names_in(text: &Text, others: &[usize]) -> Keys {
    let given = || text.names.words().map(|name| Spelling::unlisted(name).key());
    let mut names = Keys::with_room_for(given().count() + others.len());
    given().for_each(|name| {
        names.insert(name);
    });
    let mut sentences = text.blurb.sentences.iter().peekable();
    for at in others {
        let word = &text.blurb.words[*at];
        let written = text.word(word);
        if !starts_with_capital(written) {
            continue;
        }
        while sentences.next_if(|sentence| sentence.words.end <= *at).is_some() {}
        let opens_sentence = sentences.peek().is_none_or(|sentence| sentence.words.start == *at);
        let is_shouted = || written.chars().nth(1).is_some_and(char::is_uppercase);
        if !opens_sentence && !is_shouted() && !opens_speech(text, *at) {
            names.insert(word.spelling.key());
        }
    }
    names
}

/// Whether a quotation, a bracket, a colon or a stop stands before the word, so that its capital may mean no name.
fn opens_speech(text: &Text, at: usize) -> bool {
    let words = &text.blurb.words;
    let gap = words[at - 1].range.end..words[at].range.start;
    let gap = &text.block(words[at].block).text()[gap];
    gap.len() > 1 && (gap.contains([':', '!', '?', '…', '"', '“', '‘', '«', '„', '(']) || gap.contains("..."))
}
