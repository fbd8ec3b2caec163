//! A part of a document as events, with the elements that are open round each. The rules against XML that is made to
//! harm stand here alone: no document type, so no entities of its own, and a limit to how deep elements nest.
//!
//! Source: Extensible Markup Language (XML) 1.0, Fifth Edition.

use quick_xml::events::{BytesRef, BytesStart, Event};
use quick_xml::{Reader, XmlVersion};

use super::DocumentFault;

/// How deep elements may nest; documents stay below fifty.
const DEEPEST: usize = 256;

/// What stands in a part of a document, one thing after another.
#[derive(Debug)]
pub(super) enum XmlEvent<'a> {
    /// An element begins. One that is empty begins and ends.
    Start(XmlElement<'a>),
    /// The element that was opened last ends. Its name is no longer among the open ones.
    End(&'a str),
    /// Letters.
    Text(&'a str),
}

/// An element with its attributes.
#[derive(Debug)]
pub(super) struct XmlElement<'a> {
    /// The name without its prefix.
    pub(super) name: &'a str,
    start: &'a BytesStart<'a>,
}

impl XmlElement<'_> {
    /// The value of an attribute, by its name without its prefix.
    pub(super) fn attribute(&self, name: &str) -> Option<String> {
        let mut all = self.start.attributes();
        let found = all.with_checks(false).flatten().find(|found| found.key.local_name().into_inner() == name)?;
        found.normalized_value(XmlVersion::Explicit1_0).ok().map(|value| value.into_owned())
    }

    /// Whether a switch is on: one that names no value is.
    pub(super) fn is_on(&self) -> bool {
        !matches!(self.attribute("val").as_deref(), Some("0" | "false" | "off" | "none"))
    }
}

/// Gives each event of a part to `take`, with the names of the elements that are open round it, the outermost first.
pub(super) fn walk(
    xml: &str,
    mut take: impl FnMut(&[String], XmlEvent<'_>) -> Result<(), DocumentFault>,
) -> Result<(), DocumentFault> {
    let mut reader = Reader::from_str(xml);
    let mut open: Vec<String> = Vec::new();
    loop {
        match reader.read_event().map_err(|_| DocumentFault::damaged("it is damaged inside"))? {
            Event::Eof if open.is_empty() => return Ok(()),
            Event::Eof => return Err(DocumentFault::damaged("it ends too early")),
            // Entities can be nested until a small file fills the memory, so none are read.
            Event::DocType(_) => {
                return Err(DocumentFault::damaged("it declares entities, which word processors do not"));
            }
            Event::Start(start) => {
                let name = start.local_name().into_inner();
                take(&open, XmlEvent::Start(XmlElement { name, start: &start }))?;
                open.push(name.to_owned());
                // A file made to nest without end is refused before its names fill the memory.
                if open.len() > DEEPEST {
                    return Err(DocumentFault::damaged("its parts nest deeper than those of any document"));
                }
            }
            Event::Empty(start) => {
                let name = start.local_name().into_inner();
                take(&open, XmlEvent::Start(XmlElement { name, start: &start }))?;
                take(&open, XmlEvent::End(name))?;
            }
            Event::End(end) => {
                open.pop();
                take(&open, XmlEvent::End(end.local_name().into_inner()))?;
            }
            Event::Text(text) => take(&open, XmlEvent::Text(&text.xml10_content()))?,
            Event::CData(text) => take(&open, XmlEvent::Text(&text.xml10_content()))?,
            Event::GeneralRef(reference) => {
                take(&open, XmlEvent::Text(character(&reference)?.encode_utf8(&mut [0; 4])))?
            }
            Event::Comment(_) | Event::Decl(_) | Event::PI(_) => {}
        }
    }
}

/// The character that a reference by number stands for, or one of the five names that XML itself has.
fn character(reference: &BytesRef<'_>) -> Result<char, DocumentFault> {
    if let Ok(Some(character)) = reference.resolve_char_ref() {
        return Ok(character);
    }
    match reference.xml10_content().as_ref() {
        "amp" => Ok('&'),
        "lt" => Ok('<'),
        "gt" => Ok('>'),
        "quot" => Ok('"'),
        "apos" => Ok('\''),
        _ => Err(DocumentFault::damaged("it has an entity that XML does not know")),
    }
}
