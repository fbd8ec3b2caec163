//! Drafts and manuscripts as text, from files of text and from documents of word processors, which are only read.

use std::io::{self, Read};
use std::path::Path;

use super::error::FilePlace;
use super::feeds::is_feed;
use super::kind;
use super::{Error, LARGEST_DRAFT, drafts_in, guard, has_brief, read_up_to, text_of, too_large, without_drafts};
use crate::documents::{self, DocumentFault};
use crate::feeds::FeedFault;
use crate::feeds::texts_alone::{OnixContent, read_texts_alone};
use crate::units::nouns::{agrees, counted};

/// A draft as it was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadDraft {
    /// The text of the draft in Markdown.
    pub text: String,
    /// What there is to tell of the document that the draft was read from, a clause each; none where it is a file of
    /// text already.
    pub document: Option<Vec<String>>,
}

impl ReadDraft {
    /// One line that tells what became of a document that was named so; none where the draft is a file of text.
    pub fn told(&self, name: &str) -> Option<String> {
        let told = self.document.as_ref()?;
        let lines = "lines are counted as in the draft that the desk saves of it".to_owned();
        let told: Vec<String> = told.iter().cloned().chain([lines]).collect();
        Some(format!("{name}: {}", told.join("; ")))
    }
}

/// Reads a draft: a file of text, or a document.
pub fn read_copy(path: &Path) -> Result<ReadDraft, Error> {
    if path.is_dir() {
        let is_without = has_brief(path) && drafts_in(path).is_ok_and(|drafts| drafts == [path]);
        return Err(if is_without {
            without_drafts(path)
        } else {
            Error::cannot("read", path, "it is a folder").with_remedy("name a draft in it")
        });
    }
    if is_feed(path) {
        let remedy = "measure, fit and level take feeds; name a draft, which is a text file that ends in .md";
        return Err(Error::cannot("read the draft", path, "by its name it is a feed").with_remedy(remedy));
    }
    let file = draft_of(path, "the draft", read_up_to(path, "the draft", LARGEST_DRAFT)?)?;
    let remedy = "name a draft, which is a text file that ends in .md, or the book's folder";
    let text = no_brief(path, "the draft", remedy, file.text)?;
    Ok(ReadDraft { text, ..file })
}

/// The text of a draft: of a file of text as it is, of a document as Markdown.
pub fn read_draft(path: &Path) -> Result<String, Error> {
    read_copy(path).map(|file| file.text)
}

/// Reads a draft from standard input.
pub fn read_copy_from_input() -> Result<ReadDraft, Error> {
    let path = Path::new("standard input");
    let mut bytes = Vec::new();
    let read = io::stdin().lock().take(LARGEST_DRAFT + 1).read_to_end(&mut bytes);
    read.map_err(|error| Error::io("read the draft from", path, &error))?;
    if bytes.len() as u64 > LARGEST_DRAFT {
        return Err(too_large(path, "the draft", LARGEST_DRAFT));
    }
    let file = draft_of(path, "the draft", bytes)?;
    let text = no_brief(path, "the draft from", "hand over a draft, and name the brief with --brief", file.text)?;
    Ok(ReadDraft { text, ..file })
}

/// Reads a manuscript: a file of text, or a document.
pub fn read_manuscript(path: &Path) -> Result<ReadDraft, Error> {
    let file = draft_of(path, "the manuscript", read_up_to(path, "the manuscript", LARGEST_DRAFT)?)?;
    if file.text.trim().is_empty() {
        return Err(Error::cannot("use the manuscript", path, "it is empty").with_remedy("name the story"));
    }
    let text = no_brief(path, "the manuscript", "name the story, which is a text file or a document", file.text)?;
    Ok(ReadDraft { text, ..file })
}

/// The draft that bytes are: those of a document, or text as UTF-8 or, where its first two bytes say so, as UTF-16.
pub(super) fn draft_of(path: &Path, what: &str, bytes: Vec<u8>) -> Result<ReadDraft, Error> {
    if documents::is_packed(&bytes) {
        let refuse = |DocumentFault { problem, remedy }| {
            Error::cannot(format!("read {what}"), path, problem).with_remedy(remedy)
        };
        let copy = guard::caught(|| documents::read(&bytes)).map_err(|_| {
            Error::cannot(format!("read {what}"), path, "the document is damaged")
                .with_remedy("take another copy of it")
        })?;
        let copy = copy.map_err(refuse)?;
        return Ok(ReadDraft { text: copy.markdown, document: Some(copy.told) });
    }
    if documents::is_of_another_form(&bytes) {
        let problem = "it is a document of another form than .docx and .odt, or locked by a password";
        let remedy = "in your word processor save it as .docx or .odt, without a password, and try that";
        return Err(Error::cannot(format!("read {what}"), path, problem).with_remedy(remedy));
    }
    if is_named_as_document(path) && kind::of_bytes(&bytes).is_none() {
        let problem = "it is no document of a word processor";
        let remedy = "save it in your word processor as .docx or .odt; if it is plain text, end its name in .md";
        return Err(Error::cannot(format!("read {what}"), path, problem).with_remedy(remedy));
    }
    if let Some(text) = documents::text_of_utf16(&bytes) {
        return Ok(ReadDraft { text, document: Some(vec!["its letters are saved as UTF-16".to_owned()]) });
    }
    let text = text_of(path, what, bytes)?;
    if is_page(&text) {
        let problem = "it is a page of HTML, whose marks would be read as copy";
        let remedy = "save its words as .docx, .odt or .txt, and try that";
        return Err(Error::cannot(format!("read {what}"), path, problem).with_remedy(remedy));
    }
    match OnixContent::of(text.as_bytes()) {
        None => Ok(ReadDraft { text, document: None }),
        Some(OnixContent::Feed) => {
            let remedy = "end its name in .xml; measure, fit and level take feeds";
            Err(Error::cannot(format!("read {what}"), path, "it is a feed of ONIX for Books").with_remedy(remedy))
        }
        Some(OnixContent::TextsAlone) => {
            let texts = read_texts_alone(&text).map_err(|FeedFault { line, problem }| {
                Error::cannot(format!("read {what}"), path, problem).at(FilePlace::line(path, line))
            })?;
            Ok(ReadDraft { text: texts.draft, document: Some(told_of_texts(texts.left_out)) })
        }
    }
}

/// What there is to tell of the texts of an ONIX record.
fn told_of_texts(left_out: usize) -> Vec<String> {
    let mut told = vec!["the texts of an ONIX record are read as one draft".to_owned()];
    if left_out > 0 {
        let were = agrees(left_out, "was", "were");
        told.push(format!("{} of other types {were} left out", counted(left_out, "text")));
    }
    told
}

/// Whether a file's name is that of a document.
fn is_named_as_document(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ["docx", "odt"].iter().any(|known| ending.eq_ignore_ascii_case(known)))
}

/// Whether a text is a whole page of HTML by its beginning.
fn is_page(text: &str) -> bool {
    let text = text.trim_start_matches('\u{feff}').trim_start();
    ["<!doctype html", "<html"]
        .iter()
        .any(|begins| text.get(..begins.len()).is_some_and(|beginning| beginning.eq_ignore_ascii_case(begins)))
}

/// Returns the text, unless it is a brief, which is an error.
pub(super) fn no_brief(path: &Path, what: &str, remedy: &str, text: String) -> Result<String, Error> {
    if kind::is_brief(&text) {
        return Err(Error::cannot(format!("read {what}"), path, "it is a brief").with_remedy(remedy));
    }
    Ok(text)
}
