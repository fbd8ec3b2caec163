//! The lists of a .docx: whether the items of each have numbers.
//!
//! Source: ISO/IEC 29500-1, 17.9.

use std::collections::HashMap;

use super::DocumentFault;
use super::xml::{XmlEvent, walk};

/// How the items of a list are marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ListMark {
    Number,
    Bullet,
    Nothing,
}

/// The lists of a document by their ids.
#[derive(Debug, Default)]
pub(super) struct Numbering {
    forms: HashMap<String, ListMark>,
    form_of: HashMap<String, String>,
}

impl Numbering {
    /// Reads the part that defines the lists; an empty text has none.
    pub(super) fn read(xml: &str) -> Result<Self, DocumentFault> {
        let (mut lists, mut own, mut level) = (Self::default(), String::new(), String::new());
        if xml.is_empty() {
            return Ok(lists);
        }
        walk(xml, |open, event| {
            let XmlEvent::Start(element) = event else { return Ok(()) };
            let value = || element.attribute("val").unwrap_or_default();
            match element.name {
                "abstractNum" => own = element.attribute("abstractNumId").unwrap_or_default(),
                "num" => own = element.attribute("numId").unwrap_or_default(),
                "lvl" => level = element.attribute("ilvl").unwrap_or_default(),
                "numFmt" if level == "0" && open.iter().any(|name| name == "abstractNum") => {
                    let mark = match value().as_str() {
                        "bullet" => ListMark::Bullet,
                        "none" => ListMark::Nothing,
                        _ => ListMark::Number,
                    };
                    lists.forms.insert(own.clone(), mark);
                }
                "abstractNumId" => drop(lists.form_of.insert(own.clone(), value())),
                _ => {}
            }
            Ok(())
        })?;
        Ok(lists)
    }

    /// How the items of a list are marked; none for the list 0, by which a paragraph says that it is no item.
    pub(super) fn mark(&self, list: &str) -> ListMark {
        if list == "0" {
            return ListMark::Nothing;
        }
        let form = self.form_of.get(list).and_then(|form| self.forms.get(form));
        form.copied().unwrap_or(ListMark::Bullet)
    }
}
