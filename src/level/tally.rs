//! Counts the blurb for the formulas of reading level, sentence by sentence.
//!
//! Names are familiar in any position: those of the brief, and words that stand with a capital inside a sentence
//! (Dale and Chall 1948 and Spache 1953 both count names as familiar; how names are found is this program's own rule).
//!
//! The counting goes over the words twice. What the build script has stored about a word stands in its spelling, so the
//! first pass ([`count_settled`]) counts most words by their spellings alone, in one loop without a branch. The second
//! pass ([`UnsettledWords`]) looks at the other words one by one: words with a capital, which may be names, and words
//! that the dictionary lacks. A name counts as one wherever it stands, so all names are collected before the second
//! pass judges any word. The test `the_marks_of_the_dictionary_are_what_the_rules_say` compares the stored marks with
//! the rules.

use super::counts::{Count, Counts};
use super::familiar::{WordList, without_contraction};
use super::gunning;
use super::keys::Keys;
use super::lists::Lists;
use crate::text::lexicon;
use crate::text::places::PickedWords;
use crate::text::spelling::{Spelling, WordMark};
use crate::text::syllables;
use crate::text::syllables::fold;
use crate::text::words::HYPHENS;
use crate::text::{Basis, Sentence, Text, Word};

/// The most letters of a word that is not long (Björnsson 1968).
const SHORT_WORD: usize = 6;

/// The apostrophes behind which the ending of a possessive or a contraction stands.
const APOSTROPHES: [char; 2] = ['\'', '\u{2019}'];

/// What also ends a sentence in Björnsson's counting, besides stops.
const COLON: &str = ": ";

/// The counts of the blurb, whole and by sentences, and its unfamiliar words.
pub(super) struct Tally {
    /// The counts of the whole blurb.
    pub(super) whole: Counts,
    /// The counts of each sentence. Different words ([`Count::UnfamiliarOnce`]) are counted in the whole alone.
    pub(super) sentences: Vec<Counts>,
    /// Each place where a word outside a list stands, in reading order.
    pub(super) unfamiliar: Vec<Unfamiliar>,
}

/// A word of the blurb that is outside a list and no name.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unfamiliar {
    /// The word's position among the words of the blurb.
    pub(super) at: usize,
    /// The key of the word's spelling, the same in any case and with a possessive ending.
    pub(super) key: u64,
    outside: OutsideLists,
}

/// Which lists a word is outside of.
#[derive(Debug, Clone, Copy)]
struct OutsideLists {
    dale_chall: bool,
    spache: bool,
}

impl OutsideLists {
    /// Whether the word is outside one list or both.
    #[inline]
    fn any(self) -> bool {
        self.dale_chall | self.spache
    }
}

impl Unfamiliar {
    /// Whether the word is outside a list.
    pub(super) fn is_outside(&self, list: WordList) -> bool {
        match list {
            WordList::DaleChall => self.outside.dale_chall,
            WordList::Spache => self.outside.spache,
        }
    }
}

impl Tally {
    /// Counts the blurb of a text, the whole and sentence by sentence.
    pub(super) fn of(text: &Text, lists: Lists) -> Self {
        let (mut sentences, mut unfamiliar) = (vec![Counts::default(); text.blurb.sentences.len()], Vec::new());
        let once = count(text, lists, 1, &mut sentences, |word| unfamiliar.push(word));
        // `count` reports the settled words first and then the others, so the places have to be sorted.
        unfamiliar.sort_by_key(|word| word.at);
        let whole = sentences.iter().fold(Counts::default(), |whole, counts| whole.plus(counts));
        Self { whole: whole.with(Count::UnfamiliarOnce, once), sentences, unfamiliar }
    }

    /// [`Tally::whole`] of the blurb alone, without the counts of sentences: the blurb is counted as one part.
    pub(super) fn whole(text: &Text, lists: Lists) -> Counts {
        let mut whole = Counts::default();
        let once = count(text, lists, text.blurb.sentences.len(), std::slice::from_mut(&mut whole), |_| {});
        whole.with(Count::UnfamiliarOnce, once)
    }
}

/// Counts the blurb into `parts`, of which each takes `sentences_each` sentences in order. `note` is called for each
/// place of a word outside a list. Returns how many different words are outside the Spache list.
fn count(
    text: &Text,
    lists: Lists,
    sentences_each: usize,
    parts: &mut [Counts],
    mut note: impl FnMut(Unfamiliar),
) -> usize {
    let words = &text.blurb.words;
    let of_parts = || text.blurb.sentences.chunks(sentences_each.max(1));
    // First pass: all that is settled. A colon is rare, so one search of each block spares a search of each sentence.
    let marks = Marks::of(lists);
    let has_colons = text.blurb.paragraphs.iter().any(|paragraph| text.block(paragraph.block).text().contains(COLON));
    let mut outside = PickedWords::with_room_for(words.len());
    let mut unsettled = PickedWords::with_room_for(words.len());
    for (sentences, counts) in of_parts().zip(parts.iter_mut()) {
        *counts = count_settled(text, &marks, sentences, has_colons, &mut outside, &mut unsettled);
    }
    // Settled words outside a list begin with a small letter, so none of them can be a name: they are reported at once.
    let (mut seen, mut once) = (Keys::with_room_for(outside.as_slice().len() + unsettled.as_slice().len()), 0);
    let mut tell = |at: usize, outside: OutsideLists| {
        let key = words[at].spelling.key();
        once += usize::from(outside.spache && seen.insert(key));
        note(Unfamiliar { at, key, outside });
    };
    for at in outside.as_slice() {
        tell(*at, marks.outside(words[*at].spelling));
    }
    // Second pass: what is not settled, part by part, now that the names of the whole blurb are known.
    let judge = UnsettledWords { lists, marks, names: names_in(text, unsettled.as_slice()) };
    let mut unsettled = unsettled.as_slice().iter().peekable();
    for (sentences, counts) in of_parts().zip(parts) {
        let end = sentences.last().map_or(0, |sentence| sentence.words.end);
        while let Some(at) = unsettled.next_if(|at| **at < end) {
            if let Some(outside) = judge.count(text, &words[*at], counts) {
                counts.add(Count::Unfamiliar, usize::from(outside.dale_chall));
                tell(*at, outside);
            }
        }
    }
    once
}

/// The first pass over some sentences: counts all that the build script has settled. `outside` takes the positions of
/// settled words that are outside a list, and `unsettled` the positions of unsettled words. Of an unsettled word only
/// syllables and bytes are counted here; the second pass adds the rest and subtracts what was counted too much.
fn count_settled(
    text: &Text,
    marks: &Marks,
    sentences: &[Sentence],
    has_colons: bool,
    outside: &mut PickedWords,
    unsettled: &mut PickedWords,
) -> Counts {
    let ([first, ..], [.., last]) = (sentences, sentences) else { return Counts::default() };
    let places = first.words.start..last.words.end;
    // Local variables, unlike fields of `Counts`, stay in registers. Everything is added as zero or one: the result for
    // a word depends on the copy, and the processor would predict a branch on it wrong too often.
    let (mut syllables, mut one, mut three, mut letters, mut long, mut hard, mut unfamiliar) = (0, 0, 0, 0, 0, 0, 0);
    for (at, word) in places.clone().zip(&text.blurb.words[places.clone()]) {
        let spoken = usize::try_from(word.syllables).unwrap_or(usize::MAX);
        syllables += spoken;
        one += usize::from(spoken == 1);
        three += usize::from(spoken >= 3);
        // A settled word is letters of ASCII, a byte each.
        letters += word.range.len();
        long += usize::from(word.range.len() > SHORT_WORD);
        // With other lists than the carried ones the marks say nothing, and every word is looked at by itself.
        let is_settled = word.is_settled & marks.are_settled;
        let of_word = marks.outside(word.spelling);
        hard += usize::from(is_settled & word.spelling.has(WordMark::Hard));
        unfamiliar += usize::from(is_settled & of_word.dale_chall);
        outside.push_if(at, is_settled & of_word.any());
        unsettled.push_if(at, !is_settled);
    }
    // Colons stand between words, so the text itself is searched for them.
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

/// How the marks of a word in the dictionary are read with some lists.
struct Marks {
    /// Whether the marks tell what the lists say.
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

    /// The lists that a word is outside of, by the marks of its spelling. No word is outside a list that is missing.
    fn outside(&self, spelling: Spelling) -> OutsideLists {
        OutsideLists {
            dale_chall: self.has_dale_chall & !spelling.has(WordMark::FamiliarToDaleChall),
            spache: self.has_spache & !spelling.has(WordMark::FamiliarToSpache),
        }
    }
}

/// The second pass: counts the words that the build script has not settled, one by one.
struct UnsettledWords<'t> {
    lists: Lists<'t>,
    marks: Marks,
    /// The keys of the names of the whole blurb.
    names: Keys,
}

impl UnsettledWords<'_> {
    /// Completes the counts for a word of which only the syllables and the bytes were counted. Returns the lists that
    /// the word is outside of; none for a name, and for a word that is outside no list.
    fn count(&self, text: &Text, word: &Word, counts: &mut Counts) -> Option<OutsideLists> {
        let written = text.word(word);
        // Most such words are letters of ASCII with a capital: their marks are right, and nothing was counted too much.
        if !(word.is_plain & self.marks.are_settled & matches!(word.basis, Basis::Listed | Basis::Guessed)) {
            return self.count_with_corrections(word, written, counts);
        }
        let outside = self.marks.outside(word.spelling);
        let is_long = word.syllables >= 3;
        // Whether a word is a name takes a look-up, and matters only where the word would count.
        if !(outside.any() | is_long) || self.is_name(word, written) {
            return None;
        }
        counts.add(Count::Hard, usize::from(is_long && self.is_hard(word, written)));
        outside.any().then_some(outside)
    }

    /// [`UnsettledWords::count`] for any word, also for one whose bytes are not all letters, or whose syllables Flesch
    /// counts in another way. Kept out of line, so that the code for common words stays short.
    #[inline(never)]
    fn count_with_corrections(&self, word: &Word, written: &str, counts: &mut Counts) -> Option<OutsideLists> {
        // The first pass took every byte for a letter.
        if !word.is_plain {
            let (letters, digits) = letters_and_digits(written);
            counts.subtract(Count::Letters, written.len() - letters);
            counts.subtract(Count::LettersAndDigits, written.len() - letters - digits);
            counts.subtract(Count::Long, usize::from(written.len() > SHORT_WORD && letters <= SHORT_WORD));
        }
        // The first pass counted the syllables as spoken.
        if word.is_short_by_flesch() {
            counts.subtract(Count::SyllablesByFlesch, usize::try_from(word.syllables).unwrap_or(usize::MAX) - 1);
        }
        if self.is_name(word, written) {
            return None;
        }
        counts.add(Count::Hard, usize::from(word.syllables >= 3 && self.is_hard(word, written)));
        let outside = self.outside(word, written);
        outside.any().then_some(outside)
    }

    /// The lists that a word is outside of, whether it is a name or not.
    fn outside(&self, word: &Word, written: &str) -> OutsideLists {
        let lists = self.lists;
        // Words of other languages are not looked up, so their spellings have no marks.
        if word.basis != Basis::Rule && lists.are_settled_for(word.spelling) {
            return self.marks.outside(word.spelling);
        }
        let folded = fold(written);
        let [dale_chall, spache] = lists.are_familiar(syllables::without_possessive(&folded));
        OutsideLists { dale_chall: self.marks.has_dale_chall && !dale_chall, spache: self.marks.has_spache && !spache }
    }

    /// Whether a word of three syllables or more that is no name is hard by Gunning's rule.
    fn is_hard(&self, word: &Word, written: &str) -> bool {
        if word.is_short_by_flesch() {
            return false;
        }
        // A word with an ending behind an apostrophe has the spelling of the word without the ending, whose mark may be
        // wrong for it.
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
        // A name may stand with an ending that is no possessive (`Oona'll`), or have an apostrophe of its own.
        let is_one = |spelling: &str| self.names.has(Spelling::unlisted(spelling).key());
        !word.is_plain && written.contains(APOSTROPHES) && {
            let folded = fold(written);
            is_one(&folded) || without_contraction(&folded).is_some_and(is_one)
        }
    }
}

impl Word {
    /// Whether Flesch counts the word as one syllable: a figure or an abbreviation.
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

/// The keys of the names of the blurb: the words that stand with a capital inside a sentence, and the words of the
/// brief's names. `unsettled` are the positions of all words that stand with a capital, and of more.
fn names_in(text: &Text, unsettled: &[usize]) -> Keys {
    let given = || text.names.words().map(|name| Spelling::unlisted(name).key());
    let mut names = Keys::with_room_for(given().count() + unsettled.len());
    given().for_each(|name| {
        names.insert(name);
    });
    let mut sentences = text.blurb.sentences.iter().peekable();
    for at in unsettled {
        let word = &text.blurb.words[*at];
        let written = text.word(word);
        if !starts_with_capital(written) {
            continue;
        }
        // The positions ascend, so the sentences are walked along with them.
        while sentences.next_if(|sentence| sentence.words.end <= *at).is_some() {}
        // A capital at the start of a sentence or of speech shows nothing, nor does a word that is all in capitals.
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
