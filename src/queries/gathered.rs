//! What is found in one paragraph, whatever stands in the others, so that it can be kept while the paragraph stands.

use std::ops::Range;

use super::query::Query;
use super::verbs::Tense;

/// What rules find in a paragraph.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    /// Queries that are told whatever stands in the other paragraphs.
    pub(super) queries: Vec<Query>,
    /// The words that say little by themselves, as positions among the paragraph's words.
    pub(super) tired: Vec<usize>,
    /// The verbs of the main clauses, in bytes of the block's text.
    pub(super) verbs: Vec<(Range<usize>, Tense)>,
    /// The persons of each sentence.
    pub(super) persons: Vec<Persons>,
    /// Modifiers that are told where the copy has several, or is read closely.
    pub(super) modifiers: Vec<Query>,
    /// The passives.
    pub(super) passives: Vec<FoundPassive>,
}

/// The persons of one sentence, as the narrator tells it.
#[derive(Debug)]
pub(super) struct Persons {
    /// Whether the sentence tells of a hero: `he`, `she`.
    pub(super) hero: bool,
    /// Whether the sentence speaks to the reader: `you`.
    pub(super) reader: bool,
    /// The first word of the narrator's own person, in bytes of the block's text.
    pub(super) narrator: Option<Range<usize>>,
    /// Whether there is such a word, in no question and in nobody's thoughts.
    pub(super) is_narrators_own: bool,
}

/// A passive of a paragraph.
#[derive(Debug)]
pub(super) struct FoundPassive {
    /// Bytes of the block's text.
    pub(super) range: Range<usize>,
    /// Whether a hero is its subject, or what is done is what befalls a hero.
    pub(super) is_heros: bool,
    /// Whether it stands in a clause that hangs on another.
    pub(super) is_aside: bool,
    /// Whether what is done is no thing that is done on purpose, or whoever does it may be named behind it.
    pub(super) befalls: bool,
    /// Whether `by` and somebody who does it follow.
    pub(super) has_doer: bool,
}

impl Gathered {
    /// The modifiers, with the number that the block has now.
    pub(super) fn modifiers_numbered(&self, number: usize) -> impl Iterator<Item = Query> {
        self.modifiers.iter().map(move |query| Query { block: number, ..query.clone() })
    }

    /// The queries, with the number that the block has now.
    pub(super) fn numbered(&self, number: usize) -> impl Iterator<Item = Query> {
        self.queries.iter().map(move |query| Query { block: number, ..query.clone() })
    }
}
