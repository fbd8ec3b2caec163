//! The words and phrases that the copy should carry, and those it should not.

/// What the brief says of wording.
#[derive(Debug, Clone, Default)]
pub struct Terms {
    /// What the copy should carry.
    pub wanted: Vec<Term>,
    /// What the copy should not carry.
    pub avoid: Vec<String>,
}

/// A word or phrase that the copy should carry.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Term {
    /// As the author wrote it; not empty.
    pub term: String,
    /// The draft is outside its limits without it.
    pub must: bool,
    /// The most times it may stand in the copy.
    pub at_most: Option<u32>,
    /// Other wordings that count as this term.
    pub also: Vec<String>,
}
