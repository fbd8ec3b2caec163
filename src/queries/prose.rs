//! The author's own sentences as rules on wording read them, and what in them is not for such rules to touch.
//!
//! Names, the title, the terms that the author wants, and what stands in quotation marks stay as they are: they are
//! somebody's choice or somebody's exact words.

use std::ops::Range;

use super::gathered::Gathered;
use super::query::Reading;
use super::quoted::Quoted;
use super::telling::{ToldSentence, WordForms};
use super::tongues::unelided;
use crate::brief::phrases::fold;
use crate::draft::{Block, BlockKind};
use crate::text::language::Language;
use crate::text::tagger::{TaggerWord, WordClass, tag};
use crate::text::verse::is_verse;
use crate::text::{CopyPart, Paragraph, Text, Word, words};

/// A paragraph of the author's own copy.
pub(super) struct Prose<'a> {
    /// The language by which rules read the copy.
    pub(super) language: Language,
    /// The number of the paragraph's block among the draft's blocks, from 0.
    pub(super) number: usize,
    /// The paragraph's block.
    pub(super) block: &'a Block,
    /// The paragraph's words, in order.
    pub(super) words: Vec<ProseWord<'a>>,
    /// The paragraph's sentences, as positions among the words; none is empty.
    pub(super) sentences: Vec<Range<usize>>,
    /// The paragraph's sentences as the narrator tells them.
    pub(super) told: Vec<ToldSentence<'a>>,
    /// Whether the paragraph is verse, or will be once its lines are ended as they should be.
    pub(super) is_verse: bool,
    /// The paragraph's quotation marks.
    quoted: Quoted,
    /// The words with a comma between them and the next, as positions.
    commas: Vec<usize>,
    /// What rules found in the paragraph; nothing yet while they look.
    pub(super) gathered: &'a Gathered,
}

/// A word in the form in which words are compared.
pub(super) struct ProseWord<'a> {
    /// Bytes of the block's text.
    pub(super) range: Range<usize>,
    /// The word, folded.
    pub(super) word: &'a str,
}

/// The author's own copy: the headline, the blurb and the note on the author.
pub(super) struct OwnCopy<'a> {
    /// The language by which rules read the copy.
    pub(super) language: Language,
    /// The paragraphs, in the order headline, blurb, note on the author.
    pub(super) paragraphs: Vec<Prose<'a>>,
}

impl<'a> OwnCopy<'a> {
    /// The paragraphs of the headline and the blurb.
    pub(super) fn copy(&self) -> &[Prose<'a>] {
        &self.paragraphs[..self.before(BlockKind::NoteOnTheAuthor)]
    }

    /// The paragraphs of the blurb alone.
    pub(super) fn blurb(&self) -> &[Prose<'a>] {
        &self.copy()[self.before(BlockKind::Blurb)..]
    }

    /// The sentences of the blurb as the narrator tells them, in order.
    pub(super) fn told(&self) -> Vec<&ToldSentence<'a>> {
        self.blurb().iter().flat_map(|prose| &prose.told).collect()
    }

    /// How many paragraphs stand before those of a kind.
    fn before(&self, kind: BlockKind) -> usize {
        let place = |kind: BlockKind| KINDS.iter().position(|known| *known == kind);
        self.paragraphs.partition_point(|prose| place(prose.block.kind) < place(kind))
    }
}

/// What is the author's own, in the order of the copy.
const KINDS: [BlockKind; 3] = [BlockKind::Headline, BlockKind::Blurb, BlockKind::NoteOnTheAuthor];

impl<'a> Prose<'a> {
    /// A paragraph of a part, with its words as rules read them, and what they found in it.
    pub(super) fn of(
        (text, language): (&'a Text<'_>, Language),
        part: &'a CopyPart,
        paragraph: &'a Paragraph,
        (known, gathered): (&'a WordForms, &'a Gathered),
    ) -> Self {
        let first = paragraph.words.start;
        let sentences = &part.sentences[paragraph.sentences.clone()];
        let text_of_block = text.block(paragraph.block).text();
        let in_order = &part.words[paragraph.words.clone()];
        let has_comma = |pair: &[Word]| text_of_block[pair[0].range.end..pair[1].range.start].contains(',');
        let commas = in_order.windows(2).enumerate().filter(|(_, pair)| has_comma(pair)).map(|(at, _)| at);
        Self {
            language,
            commas: commas.collect(),
            number: paragraph.block,
            block: text.block(paragraph.block),
            words: in_order
                .iter()
                .zip(&known.folded)
                .map(|(word, folded)| ProseWord { range: word.range.clone(), word: folded })
                .collect(),
            sentences: sentences.iter().map(|found| found.words.start - first..found.words.end - first).collect(),
            told: ToldSentence::all(text, part, paragraph, known),
            is_verse: is_verse(text_of_block) || text.block(paragraph.block).is_run_together(),
            quoted: Quoted::of(text_of_block, language),
            gathered,
        }
    }

    /// The words as the author wrote them.
    pub(super) fn text(&self) -> &'a str {
        self.block.text()
    }

    /// A word, folded; an empty one where there is none.
    pub(super) fn word(&self, at: usize) -> &str {
        self.words.get(at).map_or("", |word| word.word)
    }

    /// A word, folded, without an elided word before it: `aventure` of `l'aventure`.
    pub(super) fn behind_elided(&self, at: usize) -> &str {
        unelided(self.language, self.word(at)).1
    }

    /// A word as the author wrote it; an empty one where there is none.
    pub(super) fn written(&self, at: usize) -> &'a str {
        self.words.get(at).map_or("", |word| &self.text()[word.range.clone()])
    }

    /// Whether the author wrote a word with a capital.
    pub(super) fn is_capital(&self, at: usize) -> bool {
        self.written(at).starts_with(char::is_uppercase)
    }

    /// What stands between a word and the next; behind the last word, all that is left.
    pub(super) fn gap(&self, after: usize) -> &'a str {
        let start = self.words.get(after).map_or(self.text().len(), |word| word.range.end);
        let end = self.words.get(after + 1).map_or(self.text().len(), |word| word.range.start);
        &self.text()[start..end]
    }

    /// The first word from a position on, as a position, that a comma parts from the next.
    pub(super) fn first_comma_from(&self, at: usize) -> Option<usize> {
        self.commas.get(self.commas.partition_point(|comma| *comma < at)).copied()
    }

    /// Whether only blanks stand between a word and the next, which is there.
    pub(super) fn is_joined(&self, after: usize) -> bool {
        after + 1 < self.words.len() && self.gap(after).chars().all(char::is_whitespace)
    }

    /// The bytes from the first to the last of some words.
    pub(super) fn bytes(&self, words: &Range<usize>) -> Range<usize> {
        self.words[words.start].range.start..self.words[words.end - 1].range.end
    }

    /// The sentence that a word stands in.
    pub(super) fn sentence_of(&self, at: usize) -> Range<usize> {
        let sentence = self.sentences.get(self.sentences.partition_point(|sentence| sentence.end <= at));
        sentence.filter(|sentence| sentence.contains(&at)).cloned().unwrap_or(at..at + 1)
    }

    /// The parts of speech of a sentence's words.
    pub(super) fn tags(&self, sentence: &Range<usize>) -> Vec<WordClass> {
        let read = |at: usize| TaggerWord {
            word: self.word(at),
            is_capital: self.is_capital(at),
            follows_stop: at == sentence.start || !self.is_joined(at - 1),
        };
        tag(&sentence.clone().map(read).collect::<Vec<_>>())
    }

    /// Whether a sentence is a question.
    pub(super) fn is_question(&self, sentence: &Range<usize>) -> bool {
        self.gap(sentence.end - 1).contains('?')
    }

    /// Whether some words are not for rules on wording: inside a name, the title, a wanted term or quotation marks, or
    /// with a capital inside a sentence, as names have that the brief does not declare. The capital of a line's first
    /// word is the line's, as in verse.
    pub(super) fn is_kept(&self, reading: &Reading<'_>, words: &Range<usize>) -> bool {
        let covers = |wanted: &Range<usize>| wanted.start <= words.start && words.end <= wanted.end;
        // In German every noun has a capital.
        let is_named = self.language != Language::German
            && self.is_capital(words.start)
            && self.sentence_of(words.start).start != words.start
            && !words.start.checked_sub(1).is_some_and(|before| self.gap(before).contains('\n'));
        is_named
            || self.is_quoted(&self.bytes(words))
            || self.is_titled(words)
            || self.wanted_over(reading, words).iter().any(covers)
    }

    /// Whether some bytes stand in quotation marks.
    pub(super) fn is_quoted(&self, bytes: &Range<usize>) -> bool {
        self.quoted.holds(bytes)
    }

    /// The names, titles and wanted terms that share a word with some words.
    pub(super) fn wanted_over(&self, reading: &Reading<'_>, over: &Range<usize>) -> Vec<Range<usize>> {
        let brief = reading.brief;
        let names = brief.book.names.iter().map(|name| &name.name).chain([&brief.book.title]);
        let terms = brief.terms.wanted.iter().flat_map(|term| std::iter::once(&term.term).chain(&term.also));
        let mut found = Vec::new();
        for (wanted, is_name) in names.map(|name| (name, true)).chain(terms.map(|term| (term, false))) {
            let phrase: Vec<String> = words::find(wanted).into_iter().map(|word| fold(&wanted[word])).collect();
            let places = (over.start + 1).saturating_sub(phrase.len())..over.end;
            let stands = |at: &usize| self.stands_at(&phrase, *at) && (!is_name || self.is_capital(*at));
            found.extend(places.filter(stands).map(|at| at..at + phrase.len()));
        }
        found
    }

    /// Whether a phrase of folded words stands at a position.
    fn stands_at(&self, phrase: &[String], at: usize) -> bool {
        let there = self.words.get(at..at + phrase.len()).unwrap_or_default();
        !there.is_empty() && there.iter().zip(phrase).all(|(word, wanted)| is_same(word.word, wanted))
    }

    /// Whether a place is in italics that look like a title: all but its small words have a capital.
    pub(super) fn is_titled(&self, words: &Range<usize>) -> bool {
        let place = self.bytes(words);
        let runs = self.block.runs();
        let run = runs.get(runs.partition_point(|(run, _)| run.end <= place.start));
        let Some((run, _)) =
            run.filter(|(run, emphasis)| emphasis.italic && run.start <= place.start && place.end <= run.end)
        else {
            return false;
        };
        let before = |byte: usize| self.words.partition_point(|word| word.range.start < byte);
        let mut title = before(run.start)..before(run.end);
        title.len() > 1
            && self.is_capital(title.start)
            && title.all(|at| self.is_capital(at) || self.word(at).len() < 4)
    }
}

/// Whether a word is another, or its plural or possessive.
fn is_same(word: &str, wanted: &str) -> bool {
    word.strip_prefix(wanted).is_some_and(|rest| matches!(rest, "" | "s" | "'s" | "s'"))
}

/// Whether a word is wholly in capitals, a single letter aside.
pub(super) fn is_shouted(written: &str) -> bool {
    written.chars().filter(|c| c.is_alphabetic()).count() > 1 && !written.contains(char::is_lowercase)
}
