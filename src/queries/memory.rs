//! What the rules found last: a paragraph that stands as it stood is not read again by rules that look at it alone.

use std::ops::Range;

use super::mixed_person::Persons;
use super::mixed_tense::verbs;
use super::prose::{OwnCopy, Prose};
use super::repeats::is_tired;
use super::telling::{not_narrated, plain};
use super::verbs::Tense;
use super::{COPY, FINDERS, Finder, Place, Query, Reading};
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::brief::{Book, Limits, Queries, Terms};
use crate::draft::{Block, BlockKind, Remembered};
use crate::text::language::Language;
use crate::text::{CopyPart, Paragraph};

/// The author's own copy as it was read last, and what was found in whatever is printed.
#[derive(Debug, Default)]
pub struct QueryMemory {
    own: Remembered<Settings, Known>,
    printed: Remembered<(Language, Vec<Rule>), Vec<Query>>,
}

/// What of a brief the rules go by, beside its type and its panel, which those do not know that look at one paragraph.
#[derive(Debug, PartialEq)]
struct Settings {
    book: Book,
    terms: Terms,
    limits: Limits,
    queries: Queries,
}

/// What is known of a paragraph, whatever stands in the others.
#[derive(Debug)]
struct Known {
    words: Words,
    gathered: Gathered,
}

/// A paragraph's words in the forms in which rules read them.
#[derive(Debug)]
pub(super) struct Words {
    /// In the form in which words are compared.
    pub(super) folded: Vec<Box<str>>,
    /// In small letters, with a straight apostrophe.
    pub(super) plain: Vec<Box<str>>,
    /// What the narrator does not say, in bytes of the block's text: speech, messages and titles.
    pub(super) spoken: Vec<Range<usize>>,
}

/// What rules find in a paragraph.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    /// What is told whatever stands in the other paragraphs.
    queries: Vec<Query>,
    /// What is told where it is a habit of the whole copy, or in any case.
    places: Vec<Place>,
    /// The words that say little by themselves, as positions among all.
    pub(super) tired: Vec<usize>,
    /// The verbs of its main clauses, in bytes of the block's text.
    pub(super) verbs: Vec<(Range<usize>, Tense)>,
    /// The persons of its sentences.
    pub(super) persons: Vec<Persons>,
}

impl Known {
    fn of(reading: &Reading<'_>, part: &CopyPart, paragraph: &Paragraph) -> Self {
        let words = || part.words[paragraph.words.clone()].iter().map(|word| reading.text.word(word));
        let words = Words {
            folded: words().map(|word| fold(word).into_boxed_str()).collect(),
            plain: words().map(|word| plain(word).into_boxed_str()).collect(),
            spoken: not_narrated(reading, part, paragraph),
        };
        let nothing = Gathered::default();
        let gathered = Gathered::of(reading, &Prose::of(reading.text, part, paragraph, (&words, &nothing)));
        Self { words, gathered }
    }
}

impl Gathered {
    fn of(reading: &Reading<'_>, prose: &Prose<'_>) -> Self {
        let mut gathered = Self {
            tired: (0..prose.words.len()).filter(|at| is_tired(prose.word(*at))).collect(),
            verbs: verbs(prose),
            persons: Persons::of(prose),
            ..Self::default()
        };
        let is_of = |kinds: &[BlockKind]| kinds.contains(&prose.block.kind);
        for (_, finder) in FINDERS.iter().filter(|(rule, _)| !reading.brief.queries.off.contains(rule)) {
            match finder {
                Finder::Paragraph(kinds, find) if is_of(kinds) => find(reading, prose, &mut gathered.queries),
                Finder::Habit(_, find) if is_of(COPY) => find(reading, prose, &mut gathered.places),
                _ => {}
            }
        }
        gathered
    }

    /// Every query of the rules that look at one paragraph, and every place that may be a habit; the block has this number now.
    pub(super) fn found(&self, number: usize) -> (impl Iterator<Item = Query>, impl Iterator<Item = Place>) {
        let numbered = move |query: &Query| Query { block: number, ..query.clone() };
        let places = self.places.iter().map(move |place| Place { query: numbered(&place.query), ..*place });
        (self.queries.iter().map(numbered), places)
    }
}

impl QueryMemory {
    /// What the rules find that look at one block.
    pub(super) fn look(&mut self, reading: &Reading<'_>) -> Vec<Query> {
        let (language, off) = (reading.text.language, &reading.brief.queries.off);
        let look = |block: &Block, number| {
            let mut queries = Vec::new();
            for (_, finder) in FINDERS.iter().filter(|(rule, _)| !off.contains(rule)) {
                if let Finder::Block(find) = finder {
                    find(language, number, block, &mut queries);
                }
            }
            queries
        };
        let blocks = reading.draft.blocks.iter().enumerate().map(|(number, block)| (block, number));
        let found = self.printed.renew((language, off.clone()), blocks, look).enumerate();
        found
            .flat_map(|(number, found)| found.iter().map(move |query| Query { block: number, ..query.clone() }))
            .collect()
    }

    /// Reads the author's own copy.
    pub(super) fn read<'a>(&'a mut self, reading: &Reading<'a>) -> OwnCopy<'a> {
        let (text, brief) = (reading.text, reading.brief);
        let settings = Settings {
            book: brief.book.clone(),
            terms: brief.terms.clone(),
            limits: brief.limits.clone(),
            queries: brief.queries.clone(),
        };
        let parts = [&text.headline, &text.blurb, &text.note];
        let paragraphs = || parts.into_iter().flat_map(|part| part.paragraphs.iter().map(move |found| (part, found)));
        let blocks = paragraphs().map(|(part, paragraph)| (text.block(paragraph.block), (part, paragraph)));
        let known = self.own.renew(settings, blocks, |_, (part, paragraph)| Known::of(reading, part, paragraph));
        let read = |((part, paragraph), known): ((&'a CopyPart, &'a Paragraph), &'a Known)| {
            Prose::of(text, part, paragraph, (&known.words, &known.gathered))
        };
        OwnCopy { paragraphs: paragraphs().zip(known).map(read).collect() }
    }
}
