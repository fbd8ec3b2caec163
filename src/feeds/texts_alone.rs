//! The texts of a record that stand alone in a file, as copy is handed over, and as one draft again.

use super::FeedFault;
use super::copy_texts;
use super::xml::{XmlRecords, first_tag};

/// How many bytes of a file tell what it holds: with room for comments above the first tag.
pub const TELLING: u64 = 4096;

/// Texts of a record as a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextsAlone {
    /// The draft as its file would hold it.
    pub draft: String,
    /// How many texts were left out, since their kind is no copy.
    pub left_out: usize,
}

/// What a file of ONIX for Books holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnixContent {
    /// Records, each of a book.
    Feed,
    /// The texts of one record.
    TextsAlone,
}

impl OnixContent {
    /// What a file holds by its beginning; none where it is no file of ONIX for Books.
    pub fn of(beginning: &[u8]) -> Option<Self> {
        match first_tag(beginning.strip_prefix(b"\xef\xbb\xbf").unwrap_or(beginning))?.as_str() {
            "ONIXMessage" => Some(Self::Feed),
            "CollateralDetail" => Some(Self::TextsAlone),
            _ => None,
        }
    }
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
