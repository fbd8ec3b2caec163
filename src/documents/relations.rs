//! Where the parts of a .docx stand: each part has a list of those that it needs, by kind.
//!
//! Source: ISO/IEC 29500-2, 6.5 (relationships); ISO/IEC 29500-1, 11.3.

use super::DocumentFault;
use super::xml::{XmlEvent, walk};

/// The name of the part of a kind that a part needs, by the list of that part; none where the list has no such kind.
/// `folder` is where the part stands: its path without its name, empty at the root.
pub(super) fn target(list: &str, kind: &str, folder: &str) -> Result<Option<String>, DocumentFault> {
    let mut found = None;
    walk(list, |_, event| {
        let XmlEvent::Start(element) = event else { return Ok(()) };
        let is_kind = |of: String| of.rsplit('/').next() == Some(kind);
        if found.is_none() && element.name == "Relationship" && element.attribute("Type").is_some_and(is_kind) {
            found = element.attribute("Target");
        }
        Ok(())
    })?;
    Ok(found.map(|target| match target.strip_prefix('/') {
        Some(from_root) => from_root.to_owned(),
        None if folder.is_empty() => target,
        None => format!("{folder}/{target}"),
    }))
}

/// The name of the list of a part.
pub(super) fn list_of(folder: &str, name: &str) -> String {
    if folder.is_empty() { format!("_rels/{name}.rels") } else { format!("{folder}/_rels/{name}.rels") }
}
