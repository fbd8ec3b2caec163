//! The copy as it is read: words with their syllables, sentences and paragraphs, each with its place.
//!
//! The blurb is what is measured. The headline is read by the same rules and kept apart, so that terms can be looked
//! up in it; quotes, credits and the other blocks are not read. The room knows nothing of type or paper.
//!
//! The counting rules stand once, in [`rules`], and are the same text that a report prints.

pub mod rules;
pub mod words;
mod sentences;
pub mod verse;
mod abbreviations;
pub mod syllables;
pub(crate) mod lexicon;
pub(crate) mod spelling;
pub(crate) mod places;
mod patterns;
mod figures;
mod names;
pub mod language;
mod vowels;
pub(crate) mod inflections;
pub mod length;

use std::ops::Range;

use crate::brief::Book;
use crate::brief::book::{Ages, Name};
use crate::draft::{Block, BlockKind, Draft, Remembered, Span};

use language::Language;
use names::Names;
use spelling::{Spelling, WordMark};
use syllables::Basis;

/// Room is made for as many sentences as there are of so many words.
const WORDS_IN_SHORT_SENTENCES: usize = 8;

/// The measured parts of a draft, read once; every measure of this room is taken from it.
#[derive(Debug)]
pub struct Text<'d> {
    draft: &'d Draft,
    pub(crate) names: Names,
    /// The language of the copy, by the brief.
    pub language: Language,
    /// The ages that the book is for.
    pub readers: Ages,
    /// The headline, which counts for terms alone.
    pub headline: CopyPart,
    /// The blurb: length, level and terms are measured on it.
    pub blurb: CopyPart,
    /// The note on the author, which is not measured.
    pub note: CopyPart,
}

/// The paragraphs, sentences and words of one part of the copy, in order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CopyPart {
    /// Every block that holds at least one word.
    pub paragraphs: Vec<Paragraph>,
    /// Every word belongs to exactly one sentence.
    pub sentences: Vec<Sentence>,
    /// The words, in reading order.
    pub words: Vec<Word>,
}

/// A block of the draft that holds words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paragraph {
    /// Its number among the draft's blocks, from 0.
    pub block: usize,
    /// Its sentences, as positions in [`CopyPart::sentences`].
    pub sentences: Range<usize>,
    /// Its words, as positions in [`CopyPart::words`].
    pub words: Range<usize>,
}

/// A sentence; it never runs on into another block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    /// The number of its block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text, with the stop and the closing marks and without blanks at either end.
    pub range: Range<usize>,
    /// Its words, as positions in [`CopyPart::words`]; never empty.
    pub words: Range<usize>,
}

/// A word of the copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The number of its block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text.
    pub range: Range<usize>,
    /// Syllables as spoken; at least 1.
    pub syllables: u32,
    /// How the syllables are known.
    pub basis: Basis,
    /// Its spelling without a possessive ending; before its syllables are counted only that of a plain word is known.
    pub(crate) spelling: Spelling,
    /// Whether it is letters of ASCII alone.
    pub(crate) is_plain: bool,
    /// Whether all that the formulas count of it was settled when the program was built and stands in its spelling: it is in the
    /// dictionary, of small letters of ASCII alone, and its syllables are those that the dictionary gives.
    pub(crate) is_settled: bool,
}

impl Word {
    /// A word that was found and has not been looked up.
    #[inline]
    fn found(block: usize, range: Range<usize>, spelling: Spelling, is_plain: bool) -> Self {
        Self { block, range, syllables: 0, basis: Basis::Guessed, spelling, is_plain, is_settled: false }
    }

    /// Whether the word was found in the dictionary and is neither an initial nor a word of the list of abbreviations.
    fn is_listed_and_no_abbreviation(&self) -> bool {
        self.is_plain && self.range.len() > 1 && self.spelling.is_there() && !self.spelling.has(WordMark::Abbreviation)
    }
}

/// The sentences of any text, without the blanks between them; the whole of it where it holds no word.
pub fn sentences_of(text: &str) -> Vec<Range<usize>> {
    let (mut words, mut found) = (Vec::new(), Vec::new());
    words::read(text, 0, &mut words);
    sentences::find(text, &words, |sentence| found.push(sentence.range));
    if found.is_empty() {
        found.push(0..text.len());
    }
    found
}

impl<'d> Text<'d> {
    /// Reads the headline and the blurb. The book gives the language, the readers' ages, and the names with the
    /// syllables that the author has counted.
    pub fn read(draft: &'d Draft, book: &Book) -> Self {
        let mut text = Self::unread(draft, book);
        for (number, block) in draft.blocks.iter().enumerate() {
            match block.kind {
                BlockKind::Headline => text.headline.take(number, block.text(), &text.names, text.language),
                BlockKind::Blurb => text.blurb.take(number, block.text(), &text.names, text.language),
                BlockKind::NoteOnTheAuthor => text.note.take(number, block.text(), &text.names, text.language),
                _ => {}
            }
        }
        text
    }

    /// The same, sooner: only the blocks are read that have changed since the memory was used last.
    pub fn read_again(draft: &'d Draft, book: &Book, memory: &mut TextMemory) -> Self {
        let mut text = Self::unread(draft, book);
        let part_of = |block: &Block| match block.kind {
            BlockKind::Headline => Some(0),
            BlockKind::Blurb => Some(1),
            BlockKind::NoteOnTheAuthor => Some(2),
            _ => None,
        };
        let blocks = || draft.blocks.iter().enumerate().filter_map(|(at, block)| Some((at, block, part_of(block)?)));
        let settings = (book.language.clone(), book.names.clone());
        let known = memory.0.renew(settings, blocks().map(|(_, block, _)| (block, ())), |block, ()| {
            let mut part = CopyPart::default();
            part.take(0, block.text(), &text.names, text.language);
            part
        });
        let mut parts = [CopyPart::default(), CopyPart::default(), CopyPart::default()];
        for ((number, _, part), known) in blocks().zip(known) {
            parts[part].add(number, known);
        }
        [text.headline, text.blurb, text.note] = parts;
        text
    }

    fn unread(draft: &'d Draft, book: &Book) -> Self {
        Self {
            draft,
            names: Names::read(&book.names),
            language: Language::of_tag(&book.language),
            readers: book.readers,
            headline: CopyPart::default(),
            blurb: CopyPart::default(),
            note: CopyPart::default(),
        }
    }

    /// The headline and the blurb, in this order.
    pub fn parts(&self) -> [&CopyPart; 2] {
        [&self.headline, &self.blurb]
    }

    /// A block of the draft by its number.
    pub fn block(&self, number: usize) -> &'d Block {
        &self.draft.blocks[number]
    }

    /// The draft's blocks of the blurb, also those without a word.
    pub fn blurb_blocks(&self) -> impl Iterator<Item = &'d Block> {
        self.draft.blocks_of(BlockKind::Blurb)
    }

    /// The letters of a word as the author wrote them.
    pub fn word(&self, word: &Word) -> &'d str {
        self.slice(word.block, &word.range)
    }

    /// The words of a sentence as the author wrote them.
    pub fn sentence(&self, sentence: &Sentence) -> &'d str {
        self.slice(sentence.block, &sentence.range)
    }

    /// Where a stretch of a block stands in the author's file.
    pub fn span(&self, block: usize, range: Range<usize>) -> Span {
        self.block(block).span(range)
    }

    fn slice(&self, block: usize, range: &Range<usize>) -> &'d str {
        &self.block(block).text()[range.clone()]
    }
}

/// The blocks as they were read last.
#[derive(Debug, Default)]
pub struct TextMemory(Remembered<(String, Vec<Name>), CopyPart>);

impl CopyPart {
    /// Adds a block that was read by itself.
    fn add(&mut self, block: usize, read: &Self) {
        let (word, sentence) = (self.words.len(), self.sentences.len());
        let behind = |range: &Range<usize>, first: usize| range.start + first..range.end + first;
        self.words.extend(read.words.iter().map(|word| Word { block, ..word.clone() }));
        let sentences = read.sentences.iter();
        self.sentences.extend(sentences.map(|found| Sentence {
            block,
            range: found.range.clone(),
            words: behind(&found.words, word),
        }));
        self.paragraphs.extend(read.paragraphs.iter().map(|found| Paragraph {
            block,
            sentences: behind(&found.sentences, sentence),
            words: behind(&found.words, word),
        }));
    }

    /// Reads one more block into the part.
    fn take(&mut self, block: usize, text: &str, names: &Names, language: Language) {
        let (first_word, first_sentence) = (self.words.len(), self.sentences.len());
        words::read(text, block, &mut self.words);
        let words = &mut self.words[first_word..];
        if words.is_empty() {
            return;
        }
        syllables::count_all(language, text, words);
        self.sentences.reserve(words.len() / WORDS_IN_SHORT_SENTENCES + 1);
        sentences::find(text, words, |found| {
            let words = first_word + found.words.start..first_word + found.words.end;
            self.sentences.push(Sentence { block, range: found.range, words });
        });
        names.count(text, words);
        self.paragraphs.push(Paragraph {
            block,
            sentences: first_sentence..self.sentences.len(),
            words: first_word..self.words.len(),
        });
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{TestCaseError, any, prop_assert, prop_assert_eq, proptest};

    use super::{CopyPart, Text, length, syllables};
    use crate::brief::Book;
    use crate::brief::book::{BookKind, Name};
    use crate::draft::Draft;

    /// Sentences share out the words without a gap, and every place is a stretch of its block, in order.
    fn check(text: &Text, part: &CopyPart) -> Result<(), TestCaseError> {
        let mut next = 0;
        for sentence in &part.sentences {
            prop_assert_eq!(sentence.words.start, next);
            prop_assert!(!sentence.words.is_empty());
            next = sentence.words.end;
            prop_assert_eq!(text.sentence(sentence).trim(), text.sentence(sentence));
            for word in &part.words[sentence.words.clone()] {
                prop_assert_eq!(word.block, sentence.block);
                prop_assert!(sentence.range.start <= word.range.start && word.range.end <= sentence.range.end);
                prop_assert!(!text.word(word).is_empty() && word.syllables > 0);
            }
        }
        prop_assert_eq!(next, part.words.len());
        let places = |at: usize| (part.words[at].block, part.words[at].range.start, part.words[at].range.end);
        for at in 1..part.words.len() {
            let ((block, _, end), (next_block, next_start, _)) = (places(at - 1), places(at));
            prop_assert!(block < next_block || end <= next_start);
        }
        let paragraphs = part.paragraphs.iter();
        prop_assert_eq!(paragraphs.map(|paragraph| paragraph.words.len()).sum::<usize>(), part.words.len());
        Ok(())
    }

    /// What is looked up for all words together is what a word by itself has.
    fn check_syllables(copy: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(copy);
        let text = Text::read(&draft, &Book::default());
        for word in text.parts().into_iter().flat_map(|part| &part.words) {
            let after = &text.block(word.block).text()[word.range.end..];
            let alone = syllables::count(text.word(word), after);
            prop_assert_eq!((word.syllables, word.basis), alone, "{}", text.word(word));
        }
        Ok(())
    }

    fn check_copy(copy: &str, word: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(copy);
        let names = vec![Name { name: word.to_owned(), syllables: Some(2) }];
        let book = Book { names, ..Book::default() };
        let text = Text::read(&draft, &book);
        for part in text.parts() {
            check(&text, part)?;
        }
        check_syllables(copy)?;
        let length = length::measure(&text, BookKind::PictureBook);
        prop_assert!(length.letters <= copy.chars().count());
        Ok(())
    }

    proptest! {
        #[test]
        fn any_draft_is_read_whole(copy in any::<String>(), word in any::<String>()) {
            check_copy(&copy, &word)?;
        }

        #[test]
        fn any_prose_is_read_whole(copy in "([A-Za-z]{1,7}|[0-9]{1,5}|é|犬|[.!?…,;—-]|[\"'“”‘’()]|\n\n|\n|  |# |> |\\*){0,60}") {
            check_copy(&copy, "story-time")?;
        }
    }

    /// Work that grows with the square of the length would take minutes here.
    #[test]
    fn very_long_copy_takes_little_time() {
        for unit in ["na", "a-", "a'", "1", "1,", "A.", "...", "é", "\u{301}", "\"", "犬", "no. ", "story time "] {
            let copy = unit.repeat(200_000 / unit.len());
            assert!(check_copy(&copy, "story time").is_ok(), "{unit}");
        }
    }
}
