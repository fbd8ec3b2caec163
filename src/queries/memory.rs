//! What the rules found last: a paragraph that stands as it stood is not read again by rules that look at it alone.

use std::ops::Range;

use super::prose::{OwnCopy, Prose};
use super::telling::{plain, spoken};
use super::{FINDERS, Finder, Query, Reading};
use crate::brief::phrases::fold;
use crate::brief::{Book, Limits, Queries, Terms};
use crate::draft::{Block, Remembered};
use crate::text::{Paragraph, Part};

/// The author's own copy as it was read last.
#[derive(Debug, Default)]
pub struct Memory(Remembered<Settings, Known>);

/// What of a brief the rules go by, beside its type and its panel, which those do not know that look at one paragraph.
#[derive(Debug, PartialEq)]
struct Settings {
    book: Book,
    terms: Terms,
    limits: Limits,
    queries: Queries,
}

/// What is known of a paragraph, whatever stands in the others.
#[derive(Debug, Default)]
pub(super) struct Known {
    /// Its words in the form in which words are compared.
    pub(super) folded: Vec<Box<str>>,
    /// Its words in small letters, with a straight apostrophe.
    pub(super) plain: Vec<Box<str>>,
    /// What stands in quotation marks, in bytes of the block's text.
    pub(super) spoken: Vec<Range<usize>>,
    /// What rules found that look at it alone.
    queries: Vec<Query>,
}

impl Known {
    fn of(reading: &Reading<'_>, block: &Block, part: &Part, paragraph: &Paragraph) -> Self {
        let words = || part.words[paragraph.words.clone()].iter().map(|word| reading.text.word(word));
        let mut known = Self {
            folded: words().map(|word| fold(word).into_boxed_str()).collect(),
            plain: words().map(|word| plain(word).into_boxed_str()).collect(),
            spoken: spoken(block.text()),
            queries: Vec::new(),
        };
        let mut queries = Vec::new();
        let prose = Prose::of(reading.text, part, paragraph, &known);
        for (rule, finder) in FINDERS {
            if let Finder::Paragraph(kinds, find) = finder
                && kinds.contains(&block.kind)
                && !reading.brief.queries.off.contains(&rule)
            {
                find(reading, &prose, &mut queries);
            }
        }
        known.queries = queries;
        known
    }
}

impl Memory {
    /// Reads the author's own copy, and adds the queries of the rules that look at one paragraph.
    pub(super) fn read<'a>(&'a mut self, reading: &Reading<'a>, queries: &mut Vec<Query>) -> OwnCopy<'a> {
        let text = reading.text;
        let brief = reading.brief;
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
            self.0.renew(settings, blocks, |block, (part, paragraph)| Known::of(reading, block, part, paragraph));
        let read = |((part, paragraph), known): ((&'a Part, &'a Paragraph), &'a Known)| {
            let found = known.queries.iter();
            queries.extend(found.map(|query| Query { block: paragraph.block, ..query.clone() }));
            Prose::of(text, part, paragraph, known)
        };
        OwnCopy { paragraphs: paragraphs().zip(known).map(read).collect() }
    }
}
