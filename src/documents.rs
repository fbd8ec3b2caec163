//! Documents of word processors as drafts: the bytes of a .docx or an .odt file become the Markdown of a draft, and
//! what was left out on the way is told. Documents are only read.
//!
//! A file may come from anywhere, so every reader here ends in bounded time and memory, whatever the bytes are.

mod xml;
mod left_out;
mod paragraph;
mod styles;
mod relations;
mod skipped;
mod numbering;
mod word;
mod open_document;
mod habits;
mod escapes;
mod written;
mod encodings;

use crate::packing::zip_reader::{ZipFault, ZipReader};
use left_out::LeftOut;
use paragraph::Paragraph;

pub use encodings::text_of_utf16;

/// The largest part of a document that is unpacked, in bytes: far above a manuscript of 100,000 words.
const LARGEST_PART: usize = 16 * 1024 * 1024;

/// The signature with which a document's file begins.
const SIGN: &[u8] = b"PK\x03\x04";

/// A document as the text of a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DocumentCopy {
    /// The copy, as the Markdown of a draft's file.
    pub markdown: String,
    /// What was left out or read in one of several ways, each a clause without its stop: `2 comments and 1 picture were
    /// left out`.
    pub told: Vec<String>,
}

/// Why a document cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DocumentFault {
    /// What was found, without a full stop.
    pub problem: String,
    /// What to do, without a full stop.
    pub remedy: &'static str,
}

/// What to do about a damaged document.
const SAVE_AGAIN: &str = "open it in your word processor, save it again, and try that";

impl DocumentFault {
    fn new(problem: impl Into<String>, remedy: &'static str) -> Self {
        Self { problem: problem.into(), remedy }
    }

    /// A document whose XML is not as word processors write it.
    fn damaged(problem: impl Into<String>) -> Self {
        Self::new(problem, SAVE_AGAIN)
    }

    fn of_zip(fault: ZipFault) -> Self {
        match fault {
            ZipFault::NoDirectory => Self::damaged("it is cut short, or no document"),
            ZipFault::Broken | ZipFault::Damaged => Self::damaged("it is damaged"),
            ZipFault::TooManyParts => Self::damaged("it has more parts than any document"),
            ZipFault::Twice => Self::damaged("a part of it is there twice, so that it can be read in two ways"),
            ZipFault::UnknownPacking => Self::damaged("it is packed in a way that word processors do not use"),
            ZipFault::Encrypted => Self::new("it is locked by a password", "save it without one, and try that"),
            ZipFault::TooLarge => {
                let most = LARGEST_PART / (1024 * 1024);
                Self::new(
                    format!("unpacked it is larger than {most} MB, which no draft needs"),
                    "check that it is the \
                     file you meant",
                )
            }
        }
    }
}

/// The paragraphs of a document in their order, and what was left out among them.
#[derive(Debug, Default)]
struct ReadDocument {
    paragraphs: Vec<Paragraph>,
    left: LeftOut,
}

/// Whether bytes are a document's, or those of another packed file.
pub fn is_packed(bytes: &[u8]) -> bool {
    bytes.starts_with(SIGN)
}

/// Whether bytes are a document's of a form that is not read: RTF, or the form of older word processors, in which
/// documents with a password are kept too.
///
/// Sources: RTF 1.9; MS-CFB, 2.2.
pub fn is_of_another_form(bytes: &[u8]) -> bool {
    bytes.starts_with(b"{\\rtf") || bytes.starts_with(b"\xd0\xcf\x11\xe0")
}

/// Reads a document.
pub fn read(bytes: &[u8]) -> Result<DocumentCopy, DocumentFault> {
    let zip = ZipReader::open(bytes).map_err(DocumentFault::of_zip)?;
    let document = match word_document(&zip)? {
        Some(document) => document,
        None => match part(&zip, "content.xml")? {
            Some(body) => open_document::read(&body, &part(&zip, "styles.xml")?.unwrap_or_default())?,
            None => {
                let remedy = "save the copy as .docx, .odt or .md";
                return Err(DocumentFault::new("it is neither a .docx nor an .odt document", remedy));
            }
        },
    };
    Ok(copy_of(document))
}

/// The folder of a .docx in which its copy stands.
const WORD: &str = "word";

/// The document in a .docx; none where the file is of another kind.
fn word_document(zip: &ZipReader<'_>) -> Result<Option<ReadDocument>, DocumentFault> {
    let needed = |folder: &str, name: &str, kind: &str, usual: &str| {
        let list = part(zip, &relations::list_of(folder, name))?.unwrap_or_default();
        let found = if list.is_empty() { None } else { relations::target(&list, kind, folder)? };
        Ok(found.unwrap_or_else(|| usual.to_owned()))
    };
    let main = needed("", "", "officeDocument", "word/document.xml")?;
    let Some(name) = main.strip_prefix(WORD).and_then(|rest| rest.strip_prefix('/')) else { return Ok(None) };
    let Some(body) = part(zip, &main)? else { return Ok(None) };
    let styles = part(zip, &needed(WORD, name, "styles", "word/styles.xml")?)?.unwrap_or_default();
    let lists = part(zip, &needed(WORD, name, "numbering", "word/numbering.xml")?)?.unwrap_or_default();
    word::read(&body, &styles, &lists).map(Some)
}

/// The text of a part; none where there is no such part.
fn part(zip: &ZipReader<'_>, name: &str) -> Result<Option<String>, DocumentFault> {
    let Some(bytes) = zip.part(name, LARGEST_PART).map_err(DocumentFault::of_zip)? else { return Ok(None) };
    let text = String::from_utf8(bytes).map_err(|_| DocumentFault::damaged("its letters are not saved as UTF-8"))?;
    Ok(Some(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text)))
}

/// The draft that a document's paragraphs are.
fn copy_of(document: ReadDocument) -> DocumentCopy {
    let paragraphs = habits::by_plain_habits(document.paragraphs);
    DocumentCopy { markdown: written::markdown(&paragraphs), told: document.left.told() }
}
