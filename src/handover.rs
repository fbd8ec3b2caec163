//! Agreed copy in the forms in which others take it: clean text, a document with named styles, a page, and the texts
//! of an ONIX record. What is handed over is what a proof shows: the same blocks in the same order.

mod clean_text;
mod document;
mod page;
mod record;
mod markup;

use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::draft::{BlockKind, Draft, Edit, edited};
use crate::queries::mark_mends;

pub use record::{LONGEST_SHORT_DESCRIPTION, short_description};

/// Copy that is handed over.
#[derive(Debug, Clone)]
pub struct HandedCopy {
    /// The blocks, with the marks that a printer sets.
    pub draft: Draft,
    /// How many marks of a keyboard were set as a printer sets them.
    pub marks_set: usize,
    /// The title of the book.
    title: String,
    /// The BCP 47 tag of the book's language.
    language: String,
}

impl HandedCopy {
    /// The copy of a draft's text. Marks of a keyboard are set as a printer sets them, unless the brief lets them be.
    pub fn of(source: &str, brief: &Brief) -> Self {
        let draft = Draft::read(source);
        let is_asked = brief.queries.asks(Rule::StraightMarks);
        let mends = if is_asked { mark_mends(&draft, &brief.book.language) } else { Vec::new() };
        let edits: Vec<Edit> = mends.iter().filter_map(|mend| mend.edit(&draft)).collect();
        let (marks_set, title, language) = (edits.len(), brief.book.title.clone(), brief.book.language.clone());
        let draft = if edits.is_empty() { draft } else { Draft::read(&edited(source, &edits)) };
        Self { draft, marks_set, title, language }
    }
}

/// The forms in which copy is handed over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandedForm {
    /// Words alone, an empty line between blocks.
    CleanText,
    /// A .docx document with a style for each kind of block.
    Document,
    /// A page of HTML without a look of its own.
    Page,
    /// The texts of an ONIX record, with the blurb as its short description too where that is asked for.
    Record {
        /// Whether the blurb is the short description too.
        short: bool,
    },
}

impl HandedForm {
    /// The copy in this form, as the bytes of a file.
    pub fn written(self, copy: &HandedCopy) -> Vec<u8> {
        match self {
            Self::CleanText => clean_text::written(copy).into_bytes(),
            Self::Document => document::written(copy),
            Self::Page => page::written(copy).into_bytes(),
            Self::Record { short } => record::written(copy, short).into_bytes(),
        }
    }

    /// The kinds of blocks of some copy that have no place in this form, each once, in the order of the copy.
    pub fn left_out(self, copy: &HandedCopy) -> Vec<BlockKind> {
        let mut kinds = Vec::new();
        if let Self::Record { .. } = self {
            for block in copy.draft.blocks.iter().filter(|block| record::code_of(block.kind).is_none()) {
                if !kinds.contains(&block.kind) {
                    kinds.push(block.kind);
                }
            }
        }
        kinds
    }

    /// Whether blocks of some copy that stand apart are one text in this form.
    pub fn gathers(self, copy: &HandedCopy) -> bool {
        matches!(self, Self::Record { .. }) && record::gathers(copy)
    }
}
