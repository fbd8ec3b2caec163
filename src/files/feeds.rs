//! Feeds and the briefs of their records: opened here and read piece by piece.

use std::io::{self, BufRead, Read};
use std::path::Path;

use super::error::FilePlace;
use super::{Error, filled_in, plain, read_brief_text};
use crate::brief::yaml::{Node, YamlStep};
use crate::brief::{BaseBrief, BaseFault, Brief};
use crate::documents;
use crate::feeds::FeedFault;
use crate::feeds::onix::{Feed, OnixRecord};
use crate::feeds::texts_alone::{OnixContent, TELLING};

const FEED_ENDINGS: [&str; 2] = ["xml", "onix"];

/// What is read at once of a file that is read piece by piece.
const PIECE: usize = 64 * 1024;

/// Opens a file to be read piece by piece; `what` names in a message what the file should hold.
pub fn open(path: &Path, what: &str) -> Result<impl BufRead + Send + use<>, Error> {
    let file = plain::open(path).map_err(|error| Error::io(&format!("read {what}"), path, &error))?;
    Ok(io::BufReader::with_capacity(PIECE, file))
}

/// Whether a file's name is that of a feed, and what is in it is not the copy of one book.
pub fn is_feed(path: &Path) -> bool {
    let is_named = |known: &&str| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(known));
    FEED_ENDINGS.iter().any(is_named) && !holds_copy(path)
}

/// Whether a file holds the texts of one record, or a document; what cannot be read is told when it is read whole.
fn holds_copy(path: &Path) -> bool {
    let mut beginning = Vec::new();
    let read = plain::open(path).and_then(|file| file.take(TELLING).read_to_end(&mut beginning));
    let is_copy = || OnixContent::of(&beginning) == Some(OnixContent::TextsAlone) || documents::is_packed(&beginning);
    read.is_ok() && is_copy()
}

/// Opens a feed. Its records are read as they are taken; where it cannot be read any further, an error is the last.
pub fn open_feed(path: &Path) -> Result<impl Iterator<Item = Result<OnixRecord, Error>> + use<>, Error> {
    let (input, path) = (open(path, "the feed")?, path.to_path_buf());
    Ok(Feed::new(input).map(move |record| {
        record.map_err(|FeedFault { line, problem }| {
            Error::cannot("read the feed", &path, problem).at(FilePlace::line(&path, line))
        })
    }))
}

/// Reads the brief that is the base of a feed's records.
pub fn read_base(path: &Path) -> Result<BaseBrief, Error> {
    let folder = path.parent().unwrap_or(Path::new(""));
    BaseBrief::read(read_brief_text(path)?, folder).map_err(|fault| Error::fault(path, fault))
}

/// The brief of a record: its base, which is the file `path`, with values of its own, and the files that it names.
pub fn read_brief_over(base: &BaseBrief, path: &Path, values: &[(Vec<YamlStep>, Node)]) -> Result<Brief, Error> {
    let brief = base.with(values).map_err(|fault| match fault {
        BaseFault::InText(fault) => Error::fault(path, fault),
        BaseFault::InValue { key, problem } => Error::new(problem).of_part(key),
    })?;
    filled_in(brief, base.text(), path)
}
