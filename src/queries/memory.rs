//! What the rules found last: a paragraph that stands as it stood is not read again by rules that look at it alone.

use super::finders::{RuleFinder, looking};
use super::gathered::Gathered;
use super::mixed_person::persons;
use super::mixed_tense::verbs;
use super::modifiers::empty_modifiers;
use super::passive::passives;
use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::repeats::is_tired;
use super::telling::WordForms;
use super::tongues::language_of;
use crate::brief::{Book, Limits, Queries, Terms};
use crate::draft::{Block, BlockKind, Remembered};
use crate::text::language::Language;
use crate::text::{CopyPart, Paragraph};

/// The author's own copy as it was read last, and what was found in whatever is printed.
#[derive(Debug, Default)]
pub struct QueryMemory {
    own: Remembered<Settings, KnownParagraph>,
    printed: Remembered<(Language, Queries), Vec<Query>>,
}

/// The part of a brief that the rules for one paragraph go by; they know nothing of its type and its panel.
#[derive(Debug, PartialEq)]
struct Settings {
    book: Book,
    terms: Terms,
    limits: Limits,
    queries: Queries,
    language: Language,
}

/// What is known of a paragraph, whatever stands in the others.
#[derive(Debug)]
struct KnownParagraph {
    words: WordForms,
    gathered: Gathered,
}

impl KnownParagraph {
    /// Reads a paragraph and has every rule look at it that looks at one paragraph alone.
    fn read(reading: &Reading<'_>, language: Language, part: &CopyPart, paragraph: &Paragraph) -> Self {
        let words = WordForms::of(reading, language, part, paragraph);
        let nothing = Gathered::default();
        let gathered = gather(reading, &Prose::of((reading.text, language), part, paragraph, (&words, &nothing)));
        Self { words, gathered }
    }
}

fn gather(reading: &Reading<'_>, prose: &Prose<'_>) -> Gathered {
    let is_english = prose.language == Language::English;
    let mut gathered = Gathered {
        tired: (0..prose.words.len()).filter(|at| is_tired(prose.language, prose.word(*at))).collect(),
        verbs: if is_english { verbs(prose) } else { Vec::new() },
        persons: if is_english { persons(prose) } else { Vec::new() },
        passives: if is_english { passives(reading, prose) } else { Vec::new() },
        modifiers: empty_modifiers(reading, prose),
        ..Gathered::default()
    };
    let is_of = |kinds: &[BlockKind]| kinds.contains(&prose.block.kind);
    for finder in looking(prose.language, &reading.brief.queries) {
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
        let (language, switches) = (language_of(reading.text), &reading.brief.queries);
        let look = |block: &Block, number| {
            let mut queries = Vec::new();
            for finder in looking(language, switches) {
                if let RuleFinder::Block(find) = finder {
                    find(language, number, block, &mut queries);
                }
            }
            queries
        };
        let blocks = reading.draft.blocks.iter().enumerate().map(|(number, block)| (block, number));
        let found = self.printed.renew((language, switches.clone()), blocks, look).enumerate();
        found
            .flat_map(|(number, found)| found.iter().map(move |query| Query { block: number, ..query.clone() }))
            .collect()
    }

    /// Reads the author's own copy: those of its paragraphs that have changed.
    pub(super) fn read<'a>(&'a mut self, reading: &Reading<'a>) -> OwnCopy<'a> {
        let (text, brief, language) = (reading.text, reading.brief, language_of(reading.text));
        let settings = Settings {
            book: brief.book.clone(),
            terms: brief.terms.clone(),
            limits: brief.limits.clone(),
            queries: brief.queries.clone(),
            language,
        };
        let parts = [&text.headline, &text.blurb, &text.note];
        let paragraphs = || parts.into_iter().flat_map(|part| part.paragraphs.iter().map(move |found| (part, found)));
        let blocks = paragraphs().map(|(part, paragraph)| (text.block(paragraph.block), (part, paragraph)));
        let known = self
            .own
            .renew(settings, blocks, |_, (part, paragraph)| KnownParagraph::read(reading, language, part, paragraph));
        let read = |((part, paragraph), known): ((&'a CopyPart, &'a Paragraph), &'a KnownParagraph)| {
            Prose::of((text, language), part, paragraph, (&known.words, &known.gathered))
        };
        OwnCopy { language, paragraphs: paragraphs().zip(known).map(read).collect() }
    }
}
