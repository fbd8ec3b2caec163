//! What the rules found last: a paragraph that stands as it stood is not read again by rules that look at it alone.

use super::finders::{FINDERS, RuleFinder};
use super::gathered::Gathered;
use super::mixed_person::persons;
use super::mixed_tense::verbs;
use super::modifiers::empty_modifiers;
use super::passive::passives;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::repeats::is_tired;
use super::telling::WordForms;
use crate::brief::queries::Rule;
use crate::brief::{Book, Limits, Queries, Terms};
use crate::draft::{Block, BlockKind, Remembered};
use crate::text::language::Language;
use crate::text::{CopyPart, Paragraph};

/// The author's own copy as it was read last, and what was found in whatever is printed.
#[derive(Debug, Default)]
pub struct QueryMemory {
    own: Remembered<Settings, KnownParagraph>,
    printed: Remembered<(Language, Vec<Rule>), Vec<Query>>,
}

/// The part of a brief that the rules for one paragraph go by; they know nothing of its type and its panel.
#[derive(Debug, PartialEq)]
struct Settings {
    book: Book,
    terms: Terms,
    limits: Limits,
    queries: Queries,
}

/// What is known of a paragraph, whatever stands in the others.
#[derive(Debug)]
struct KnownParagraph {
    words: WordForms,
    gathered: Gathered,
}

impl KnownParagraph {
    /// Reads a paragraph and has every rule look at it that looks at one paragraph alone.
    fn read(reading: &Reading<'_>, part: &CopyPart, paragraph: &Paragraph) -> Self {
        let words = WordForms::of(reading, part, paragraph);
        let nothing = Gathered::default();
        let gathered = gather(reading, &Prose::of(reading.text, part, paragraph, (&words, &nothing)));
        Self { words, gathered }
    }
}

fn gather(reading: &Reading<'_>, prose: &Prose<'_>) -> Gathered {
    let mut gathered = Gathered {
        tired: (0..prose.words.len()).filter(|at| is_tired(prose.word(*at))).collect(),
        verbs: verbs(prose),
        persons: persons(prose),
        passives: passives(reading, prose),
        modifiers: empty_modifiers(reading, prose),
        ..Gathered::default()
    };
    let is_of = |kinds: &[BlockKind]| kinds.contains(&prose.block.kind);
    for (_, finder) in FINDERS.iter().filter(|(rule, _)| reading.brief.queries.asks(*rule)) {
        match finder {
            RuleFinder::Paragraph(kinds, find) if is_of(kinds) => find(reading, prose, &mut gathered.queries),
            _ => {}
        }
    }
    gathered
}

impl QueryMemory {
    /// The queries of the rules that look at one block alone, in whatever is printed.
    pub(super) fn look(&mut self, reading: &Reading<'_>) -> Vec<Query> {
        let (language, off) = (reading.text.language, &reading.brief.queries.off);
        let look = |block: &Block, number| {
            let mut queries = Vec::new();
            for (_, finder) in FINDERS.iter().filter(|(rule, _)| !off.contains(rule)) {
                if let RuleFinder::Block(find) = finder {
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

    /// Reads the author's own copy: those of its paragraphs that have changed.
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
        let known =
            self.own.renew(settings, blocks, |_, (part, paragraph)| KnownParagraph::read(reading, part, paragraph));
        let read = |((part, paragraph), known): ((&'a CopyPart, &'a Paragraph), &'a KnownParagraph)| {
            Prose::of(text, part, paragraph, (&known.words, &known.gathered))
        };
        OwnCopy { paragraphs: paragraphs().zip(known).map(read).collect() }
    }
}
