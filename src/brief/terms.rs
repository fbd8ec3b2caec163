//! The words and phrases that the copy should carry, and those it should not.

use super::read::{Refusal, Value};

/// What the brief says of wording.
#[derive(Debug, Clone, PartialEq, Default)]
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

impl Terms {
    /// Reads the lists `terms` and `avoid`.
    pub(super) fn read(wanted: Option<Value<'_>>, avoid: Option<Value<'_>>) -> Result<Self, Refusal> {
        let mut terms = Self::default();
        for item in wanted.map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let term = Term::read(&item)?;
            if terms.wanted.iter().any(|known| known.term.to_lowercase() == term.term.to_lowercase()) {
                return Err(item.refuse(format!("the term \"{}\" is there twice; leave one of them out", term.term)));
            }
            terms.wanted.push(term);
        }
        for item in avoid.map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let wording = wording(&item)?;
            if terms.wanted.iter().any(|term| term.term.to_lowercase() == wording.to_lowercase()) {
                return Err(
                    item.refuse(format!("\"{wording}\" is among the terms too; it cannot be both wanted and avoided"))
                );
            }
            terms.avoid.push(wording);
        }
        Ok(terms)
    }
}

impl Term {
    /// A term is its wording, or a group of keys.
    fn read(value: &Value<'_>) -> Result<Self, Refusal> {
        if !value.is_map() {
            return Ok(Self { term: wording(value)?, ..Self::default() });
        }
        let fields = value.fields(&["term", "must", "at_most", "also"])?;
        let also = fields.optional("also").map_or_else(|| Ok(Vec::new()), |list| list.items())?;
        Ok(Self {
            term: wording(&fields.required("term", "such as term: bedtime story")?)?,
            must: fields.optional("must").map_or(Ok(false), |value| value.truth())?,
            at_most: fields.optional("at_most").map(|value| value.whole(1)).transpose()?,
            also: also.iter().map(wording).collect::<Result<_, _>>()?,
        })
    }
}

/// Text that holds at least one letter or figure, or it could never be found.
fn wording(value: &Value<'_>) -> Result<String, Refusal> {
    let text = value.text()?;
    if text.chars().any(char::is_alphanumeric) {
        return Ok(text);
    }
    Err(value.refuse(format!("\"{text}\" holds no word; write a word or a phrase")))
}
