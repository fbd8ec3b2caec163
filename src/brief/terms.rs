//! The words and phrases that the copy should carry, and those it should not.

use super::nodes::{NodeAt, Refusal};

/// What the brief says about wording.
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
    /// The term as the author wrote it; not empty.
    pub term: String,
    /// Whether the draft is outside its limits without the term.
    pub must: bool,
    /// The most times it may stand in the copy.
    pub at_most: Option<u32>,
    /// Other wordings that count as this term.
    pub also: Vec<String>,
}

/// The most wordings that a brief may name, counting terms, their other wordings and the wordings to avoid. Each is
/// compared with every word of the copy; a back cover has room for twenty.
const MOST_WORDINGS: usize = 200;

/// The most characters of a wording: far more than any phrase that a reader searches for has.
const LONGEST_WORDING: usize = 200;

impl Terms {
    /// Reads the lists `terms` and `avoid`.
    pub(super) fn read(wanted: Option<NodeAt<'_>>, avoid: Option<NodeAt<'_>>) -> Result<Self, Refusal> {
        let mut terms = Self::default();
        let mut left = MOST_WORDINGS;
        for item in wanted.map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let term = Term::read(&item)?;
            left = count_off(left, 1 + term.also.len(), &item)?;
            if terms.wanted.iter().any(|known| known.term.to_lowercase() == term.term.to_lowercase()) {
                return Err(item.refuse(format!("the term \"{}\" is there twice; leave one of them out", term.term)));
            }
            terms.wanted.push(term);
        }
        for item in avoid.map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            let wording = wording(&item)?;
            left = count_off(left, 1, &item)?;
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
    /// Reads a term: its wording alone, or a group of keys.
    fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
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

/// How many more wordings a brief may name after `counted` of them; refused where too many are named.
fn count_off(left: usize, counted: usize, at: &NodeAt<'_>) -> Result<usize, Refusal> {
    left.checked_sub(counted).ok_or_else(|| {
        at.refuse(format!(
            "there are more than {MOST_WORDINGS} wordings in terms and avoid, their other wordings counted; leave \
             some of them out"
        ))
    })
}

/// Reads a wording: text with at least one letter or figure, since nothing else could be found in the copy.
fn wording(value: &NodeAt<'_>) -> Result<String, Refusal> {
    let text = value.text()?;
    if text.chars().count() > LONGEST_WORDING {
        return Err(value.refuse(format!(
            "this wording is longer than {LONGEST_WORDING} characters; write a word or a phrase, and each in an entry \
             of its own"
        )));
    }
    if text.chars().any(char::is_alphanumeric) {
        return Ok(text);
    }
    Err(value.refuse(format!("\"{text}\" holds no word; write a word or a phrase")))
}
