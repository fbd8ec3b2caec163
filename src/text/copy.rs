//! Reads a draft into words, sentences and paragraphs: the headline, the blurb and the note on the author.

use std::ops::Range;

use crate::brief::Book;
use crate::brief::book::{Ages, Name};
use crate::draft::{Block, BlockKind, Draft, Remembered, Span};

use super::language::Language;
use super::names::Names;
use super::word::Word;
use super::{sentences, syllables, words};

/// Words of a short sentence: room is made for as many sentences as a block of short sentences has.
const WORDS_IN_SHORT_SENTENCES: usize = 8;

/// The headline, the blurb and the note on the author, read once; every measure of length, level and terms is taken
/// from here.
#[derive(Debug)]
pub struct Text<'d> {
    draft: &'d Draft,
    pub(crate) names: Names,
    /// The language of the copy, as the brief gives it.
    pub language: Language,
    /// The ages that the book is for.
    pub readers: Ages,
    /// The headline, which counts for terms alone.
    pub headline: CopyPart,
    /// The blurb, which counts for length, level and terms.
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
    /// The block's number among the draft's blocks, from 0.
    pub block: usize,
    /// The paragraph's sentences, as positions in [`CopyPart::sentences`].
    pub sentences: Range<usize>,
    /// The paragraph's words, as positions in [`CopyPart::words`].
    pub words: Range<usize>,
}

/// A sentence; it never runs on into another block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    /// The number of the sentence's block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text, with the stop and the closing marks and without blanks at either end.
    pub range: Range<usize>,
    /// The sentence's words, as positions in [`CopyPart::words`]; never empty.
    pub words: Range<usize>,
}

impl<'d> Text<'d> {
    /// Reads the headline, the blurb and the note on the author. The book gives the language, the readers' ages, and
    /// the names with the syllables that the author has counted.
    pub fn read(draft: &'d Draft, book: &Book) -> Self {
        let mut text = Self::unread(draft, book);
        for (number, block) in draft.blocks.iter().enumerate() {
            match block.kind {
                BlockKind::Headline => text.headline.read_block(number, block.text(), &text.names, text.language),
                BlockKind::Blurb => text.blurb.read_block(number, block.text(), &text.names, text.language),
                BlockKind::NoteOnTheAuthor => text.note.read_block(number, block.text(), &text.names, text.language),
                _ => {}
            }
        }
        text
    }

    /// Incremental [`Text::read`]: re-reads only the blocks that have changed since the memory was last used.
    ///
    /// With an empty memory both find the same. They stay two, since reading straight into the parts spares a copy of
    /// every block and word: a quarter of the time of a blurb, nearly half of that of a long text.
    pub fn read_again(draft: &'d Draft, book: &Book, memory: &mut TextMemory) -> Self {
        let mut text = Self::unread(draft, book);
        let part_of = |block: &Block| match block.kind {
            BlockKind::Headline => Some(0),
            BlockKind::Blurb => Some(1),
            BlockKind::NoteOnTheAuthor => Some(2),
            _ => None,
        };
        let blocks = || draft.blocks.iter().enumerate().filter_map(|(at, block)| Some((at, block, part_of(block)?)));
        // Besides its own text, a block's reading depends only on the language and on the names with the syllables that
        // the author has counted.
        let settings = (book.language.clone(), book.names.clone());
        // Each block is remembered as a part of its own whose positions begin at zero, so that the part stays right
        // wherever the block moves to.
        let known = memory.0.renew(settings, blocks().map(|(_, block, _)| (block, ())), |block, ()| {
            let mut part = CopyPart::default();
            part.read_block(0, block.text(), &text.names, text.language);
            part
        });
        let mut parts = [CopyPart::default(), CopyPart::default(), CopyPart::default()];
        for ((number, _, part), known) in blocks().zip(known) {
            parts[part].append(number, known);
        }
        [text.headline, text.blurb, text.note] = parts;
        text
    }

    /// A text of this draft with another blurb.
    pub(super) fn with_blurb(&self, blurb: CopyPart) -> Self {
        let Self { draft, language, readers, .. } = *self;
        let (names, headline, note) = (self.names.clone(), self.headline.clone(), self.note.clone());
        Self { draft, names, language, readers, headline, blurb, note }
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

    /// The draft's blocks of the blurb, those without a word included.
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

/// What the last [`Text::read_again`] read of each block.
#[derive(Debug, Default)]
pub struct TextMemory(Remembered<(String, Vec<Name>), CopyPart>);

impl CopyPart {
    /// Appends a block that was read as a part of its own; `block` is the block's present number.
    fn append(&mut self, block: usize, read: &Self) {
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

    /// Some of the paragraphs, with their sentences and words.
    pub(super) fn only(&self, is_kept: impl Fn(&Paragraph) -> bool) -> Self {
        let mut kept = Self::default();
        for paragraph in self.paragraphs.iter().filter(|paragraph| is_kept(paragraph)) {
            let (word, sentence) = (kept.words.len(), kept.sentences.len());
            kept.words.extend_from_slice(&self.words[paragraph.words.clone()]);
            let from_here = |words: &Range<usize>| {
                words.start - paragraph.words.start + word..words.end - paragraph.words.start + word
            };
            let sentences = self.sentences[paragraph.sentences.clone()].iter();
            kept.sentences.extend(sentences.map(|found| Sentence { words: from_here(&found.words), ..found.clone() }));
            kept.paragraphs.push(Paragraph {
                block: paragraph.block,
                sentences: sentence..kept.sentences.len(),
                words: word..kept.words.len(),
            });
        }
        kept
    }

    /// Reads one more block into the part.
    fn read_block(&mut self, block: usize, text: &str, names: &Names, language: Language) {
        let (first_word, first_sentence) = (self.words.len(), self.sentences.len());
        words::read(text, block, &mut self.words);
        let words = &mut self.words[first_word..];
        // A block of marks alone is no paragraph, and has no sentence.
        if words.is_empty() {
            return;
        }
        // The syllables come before the sentences: counting them looks each word up, and the dictionary's entry helps
        // to tell the stop of an abbreviation from the end of a sentence.
        syllables::count_all(language, text, words);
        self.sentences.reserve(words.len() / WORDS_IN_SHORT_SENTENCES + 1);
        sentences::find(text, words, |found| {
            let words = first_word + found.words.start..first_word + found.words.end;
            self.sentences.push(Sentence { block, range: found.range, words });
        });
        // The author's own counts come last and overrule the dictionary's.
        names.count(text, words);
        self.paragraphs.push(Paragraph {
            block,
            sentences: first_sentence..self.sentences.len(),
            words: first_word..self.words.len(),
        });
    }
}
