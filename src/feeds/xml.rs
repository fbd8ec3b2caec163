//! A feed in XML, cut into its records: one tree at a time, in bounded memory, whatever the feed holds.
//!
//! A document type may be named, as feeds do that name the standard's own, and is never fetched; one that declares
//! anything is refused, so that no entity can unfold. Nesting, tags and bytes of a record have limits.

use std::io::{self, BufRead, Read};

use quick_xml::Reader;
use quick_xml::errors::{Error as XmlError, IllFormedError};
use quick_xml::events::{BytesRef, BytesStart, Event};

use super::tags::reference_name;

/// How deep tags may stand within each other: records of the standard have about ten levels, and their copy a few more.
const DEEPEST: usize = 256;
/// The most bytes of a record, or of what stands between two: the longest that publishers send have a tenth of it.
const LONGEST_RECORD: u64 = 4 << 20;
/// The most tags of a record.
const MOST_TAGS: usize = 50_000;

/// An element with all that is in it.
#[derive(Debug, Default)]
pub(super) struct XmlElement {
    /// The reference name, also where the feed has the short tag.
    pub(super) name: String,
    pub(super) attributes: Vec<(String, String)>,
    pub(super) inside: Vec<XmlNode>,
}

/// What may be in an element.
#[derive(Debug)]
pub(super) enum XmlNode {
    Element(XmlElement),
    Text(String),
}

/// Why a feed cannot be read any further.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FeedFault {
    /// The line to which the feed was read, from 1.
    pub line: usize,
    /// What is wrong and what to do, without a full stop.
    pub problem: String,
}

impl XmlElement {
    /// The elements of one name that stand in this one itself, in order.
    pub(super) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Self> {
        let elements = self.inside.iter().filter_map(|node| match node {
            XmlNode::Element(element) => Some(element),
            XmlNode::Text(_) => None,
        });
        elements.filter(move |element| element.name == name)
    }

    /// The text of the first element of one name, without blanks at its ends; empty where there is none.
    pub(super) fn value(&self, name: &str) -> String {
        self.all(name).next().map_or_else(String::new, |element| element.text().trim().to_owned())
    }

    pub(super) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }

    /// All text in the element, without its tags.
    pub(super) fn text(&self) -> String {
        let text = |node: &XmlNode| match node {
            XmlNode::Element(element) => element.text(),
            XmlNode::Text(text) => text.clone(),
        };
        self.inside.iter().map(text).collect()
    }

    fn push_text(&mut self, more: &str) {
        match self.inside.last_mut() {
            Some(XmlNode::Text(text)) => text.push_str(more),
            _ => self.inside.push(XmlNode::Text(more.to_owned())),
        }
    }
}

/// The reference name of the first tag of a text that is XML by its beginning.
pub(super) fn first_tag(beginning: &[u8]) -> Option<String> {
    let mut reader = Reader::from_reader(beginning);
    loop {
        match reader.read_event() {
            Ok(Event::Start(tag) | Event::Empty(tag)) => {
                return Some(reference_name(tag.local_name().into_inner()).to_owned());
            }
            Ok(Event::Decl(_) | Event::Comment(_) | Event::PI(_) | Event::DocType(_)) => {}
            Ok(Event::Text(text)) if text.xml10_content().trim().is_empty() => {}
            _ => return None,
        }
    }
}

/// The records of a feed, as they are read.
pub(super) struct XmlRecords<R> {
    reader: Reader<MeteredInput<R>>,
    buffer: Vec<u8>,
    /// How many elements are open around the present place, without those of a record.
    around: usize,
    /// The elements of a record that are open, from the record on.
    open: Vec<XmlElement>,
    /// The tags of the record so far.
    tags: usize,
    /// Whether the feed's first tag was met.
    has_begun: bool,
    /// Whether the texts of one record are all that there is.
    are_texts_alone: bool,
}

impl<R: BufRead> XmlRecords<R> {
    pub(super) fn new(input: R) -> Self {
        let reader = Reader::from_reader(MeteredInput { input, lines: 0, left: LONGEST_RECORD });
        let (buffer, open) = (Vec::new(), Vec::new());
        Self { reader, buffer, around: 0, open, tags: 0, has_begun: false, are_texts_alone: false }
    }

    /// The texts of one record, which stand alone in an input.
    pub(super) fn texts_alone(input: R) -> Self {
        Self { are_texts_alone: true, ..Self::new(input) }
    }

    /// The next record; none at the end of the feed.
    pub(super) fn next_record(&mut self) -> Result<Option<XmlElement>, FeedFault> {
        self.read_record().map_err(|problem| {
            let reference = self.open.first().map(|record| record.value("RecordReference")).unwrap_or_default();
            let record = match shortened(&reference) {
                name if name.is_empty() => name,
                name => format!(", in the record {name}"),
            };
            FeedFault { line: self.reader.get_ref().lines + 1, problem: format!("{problem}{record}") }
        })
    }

    fn read_record(&mut self) -> Result<Option<XmlElement>, String> {
        loop {
            let mut buffer = std::mem::take(&mut self.buffer);
            buffer.clear();
            let event = self.reader.read_event_into(&mut buffer);
            let found = match event {
                Err(error) => Err(self.told(&error)),
                Ok(Event::Eof) if !self.has_begun => Err(NO_TAG.to_owned()),
                Ok(Event::Eof) if self.around + self.open.len() > 0 => Err(BROKEN_OFF.to_owned()),
                Ok(Event::Eof) => return Ok(None),
                Ok(event) => self.take(event),
            };
            self.buffer = buffer;
            if let Some(record) = found? {
                self.reader.get_mut().left = LONGEST_RECORD;
                self.tags = 0;
                return Ok(Some(record));
            }
        }
    }

    /// Takes the next piece of the feed in; the record, where the piece ends one.
    fn take(&mut self, event: Event<'_>) -> Result<Option<XmlElement>, String> {
        match event {
            Event::Start(tag) => self.begin(&tag)?,
            Event::Empty(tag) => {
                self.begin(&tag)?;
                return Ok(self.end());
            }
            Event::End(_) => return Ok(self.end()),
            Event::Text(text) => self.text(&text.xml10_content()),
            Event::CData(text) => self.text(&text.xml10_content()),
            Event::GeneralRef(reference) => {
                let text = referred(&reference)?;
                self.text(&text);
            }
            Event::DocType(declared) if declared.xml10_content().contains('[') => {
                return Err(DECLARES.to_owned());
            }
            Event::Decl(declared) => check_encoding(&declared.encoding().and_then(Result::ok).unwrap_or_default())?,
            Event::DocType(_) | Event::Comment(_) | Event::PI(_) | Event::Eof => {}
        }
        Ok(None)
    }

    fn begin(&mut self, tag: &BytesStart<'_>) -> Result<(), String> {
        let name = reference_name(tag.local_name().into_inner()).to_owned();
        if self.around + self.open.len() >= DEEPEST {
            return Err(format!("its tags stand more than {DEEPEST} deep within each other"));
        }
        if self.around == 0 && !self.are_texts_alone {
            check_root(&name, attribute_of(tag, "release"))?;
        }
        self.has_begun = true;
        if self.open.is_empty() && !self.are_texts_alone && (self.around != 1 || name != "Product") {
            self.around += 1;
            return Ok(());
        }
        self.tags += 1;
        if self.tags > MOST_TAGS {
            return Err(format!("there are more than {MOST_TAGS} tags, which no record needs"));
        }
        let attributes = ["textformat", "language"].into_iter();
        let attributes = attributes.filter_map(|name| Some((name.to_owned(), attribute_of(tag, name)?))).collect();
        self.open.push(XmlElement { name, attributes, inside: Vec::new() });
        Ok(())
    }

    fn end(&mut self) -> Option<XmlElement> {
        let Some(element) = self.open.pop() else {
            self.around = self.around.saturating_sub(1);
            return None;
        };
        match self.open.last_mut() {
            Some(outer) => {
                outer.inside.push(XmlNode::Element(element));
                None
            }
            None => Some(element),
        }
    }

    fn text(&mut self, text: &str) {
        if let Some(open) = self.open.last_mut() {
            open.push_text(text);
        }
    }

    fn told(&self, error: &XmlError) -> String {
        match error {
            XmlError::Io(_) if self.reader.get_ref().left == 0 => {
                format!("there are more than {LONGEST_RECORD} bytes, which no record needs")
            }
            XmlError::Io(error) => error.to_string(),
            XmlError::Encoding(_) => NO_UTF_8.to_owned(),
            XmlError::IllFormed(IllFormedError::MismatchedEndTag { expected, found }) => {
                format!("it is no XML: </{found}> stands where </{expected}> was expected")
            }
            XmlError::Syntax(_) => BROKEN_OFF.to_owned(),
            other => format!("it is no XML: {other}"),
        }
    }
}

const NO_TAG: &str = "it is no feed, since there is no tag in it";
const BROKEN_OFF: &str = "it breaks off here; have it sent again, whole";
const DECLARES: &str = "its document type declares something of its own, which no feed needs and is not read";
const NO_UTF_8: &str = "it is not saved as UTF-8; have it sent in that encoding";

fn check_root(name: &str, release: Option<String>) -> Result<(), String> {
    if name != "ONIXMessage" {
        return Err(format!("it is XML, but no feed of ONIX for Books: its first tag is {}", shortened(name)));
    }
    match release {
        Some(release) if release.starts_with("3.") => Ok(()),
        Some(release) => {
            Err(format!("it is of release {} of ONIX for Books; have it sent in release 3", shortened(&release)))
        }
        None => Err("it does not say its release of ONIX for Books; have it sent in release 3".to_owned()),
    }
}

/// The beginning of a text of the feed, as a message shows it.
fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

fn check_encoding(name: &str) -> Result<(), String> {
    let is_known = ["", "utf-8", "utf8", "us-ascii"].iter().any(|known| name.eq_ignore_ascii_case(known));
    if is_known { Ok(()) } else { Err(NO_UTF_8.to_owned()) }
}

/// The value of an attribute as it is written: those that are read here are codes and numbers.
fn attribute_of(tag: &BytesStart<'_>, name: &str) -> Option<String> {
    let mut attributes = tag.attributes();
    let found = attributes.with_checks(false).flatten().find(|found| found.key.local_name().into_inner() == name);
    found.map(|attribute| attribute.value.trim().to_owned())
}

/// What a reference stands for: a character by its number, or by a name that web pages know. XML itself knows five of
/// them; feeds have others too, and there is one thing that they can mean.
fn referred(reference: &BytesRef<'_>) -> Result<String, String> {
    if let Ok(Some(character)) = reference.resolve_char_ref() {
        return Ok(character.to_string());
    }
    let name = reference.xml10_content();
    named_character(&name).ok_or_else(|| format!("there is no character named &{};", shortened(&name)))
}

/// The character that web pages call by a name, such as `eacute`.
pub(super) fn named_character(name: &str) -> Option<String> {
    if name.is_empty() || !name.bytes().all(|byte| byte.is_ascii_alphanumeric()) {
        return None;
    }
    let written = format!("&{name};");
    let mut read = pulldown_cmark::Parser::new(&written);
    let found = read.find_map(|event| if let pulldown_cmark::Event::Text(text) = event { Some(text) } else { None })?;
    // A name that means nothing stays as it is, and is read in pieces, of which the first is its sign.
    let is_meant = *found != *written && (*found != *"&" || name == "amp");
    is_meant.then(|| found.into_string())
}

/// An input that counts its lines, and ends with an error where a record is too long.
struct MeteredInput<R> {
    input: R,
    /// The line endings read so far.
    lines: usize,
    /// The bytes that the record may still have.
    left: u64,
}

impl<R: BufRead> Read for MeteredInput<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let found = self.fill_buf()?;
        let length = found.len().min(into.len());
        into[..length].copy_from_slice(&found[..length]);
        self.consume(length);
        Ok(length)
    }
}

impl<R: BufRead> BufRead for MeteredInput<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.left == 0 {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        let most = usize::try_from(self.left).unwrap_or(usize::MAX);
        self.input.fill_buf().map(|bytes| &bytes[..bytes.len().min(most)])
    }

    fn consume(&mut self, length: usize) {
        // What is consumed was filled in before, so that this reads nothing new.
        let taken = self.input.fill_buf().map_or(0, |bytes| count_lines(&bytes[..length.min(bytes.len())]));
        self.lines += taken;
        self.left = self.left.saturating_sub(length as u64);
        self.input.consume(length);
    }
}

fn count_lines(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte == b'\n').count()
}
