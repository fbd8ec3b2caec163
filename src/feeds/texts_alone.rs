//! The texts of a record that stand alone in a file, as copy is handed over, and as one draft again.

use super::FeedFault;
use super::copy_texts;
use super::xml::{XmlRecords, begins_with_texts};

/// How many bytes of a file tell whether it holds the texts of a record: with room for comments above the first tag.
pub const TELLING: u64 = 4096;

/// Texts of a record as a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextsAlone {
    /// The draft as its file would hold it.
    pub draft: String,
    /// How many texts were left out, since their kind is no copy.
    pub left_out: usize,
}

/// Whether a file holds the texts of a record and no feed, by its beginning.
pub fn are_texts_alone(beginning: &[u8]) -> bool {
    begins_with_texts(beginning.strip_prefix(b"\xef\xbb\xbf").unwrap_or(beginning))
}

/// Reads texts that are all of the copy: what is not there is not in the draft.
///
/// # Errors
///
/// XML that breaks off, or that no record needs.
pub fn read_texts_alone(text: &str) -> Result<TextsAlone, FeedFault> {
    let collateral = XmlRecords::texts_alone(text.as_bytes()).next_record()?.unwrap_or_default();
    let (draft, left_out) = copy_texts::whole_draft(&collateral);
    Ok(TextsAlone { draft, left_out })
}
