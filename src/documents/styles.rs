//! The styles of a document: what each makes of a paragraph and of its letters, by itself or by the style that it is
//! based on.
//!
//! Source: ISO/IEC 29500-1, 17.7.4 (styles by name and base) and 17.7.3 (switches of nested styles); ISO/IEC 26300-3,
//! 16.2.

use std::collections::HashMap;

use super::paragraph::ParagraphKind;
use crate::draft::{BlockKind, Emphasis};

/// How many bases of a style are followed; a chain that leads back into itself ends there.
const LONGEST_CHAIN: usize = 16;

/// One style, as far as the document says something of it.
#[derive(Debug, Default, Clone)]
pub(super) struct Style {
    pub(super) base: Option<String>,
    pub(super) kind: Option<ParagraphKind>,
    pub(super) bold: Option<bool>,
    pub(super) italic: Option<bool>,
    pub(super) hidden: Option<bool>,
    /// Whether a line is drawn through the letters.
    pub(super) crossed_out: Option<bool>,
    /// The list that paragraphs of the style are items of, by its number in a .docx.
    pub(super) list: Option<String>,
}

/// All styles of a document by their ids.
#[derive(Debug, Default)]
pub(super) struct Styles {
    all: HashMap<String, Style>,
}

impl Styles {
    /// The style of an id, which is made where it is new.
    pub(super) fn style(&mut self, id: &str) -> &mut Style {
        self.all.entry(id.to_owned()).or_default()
    }

    /// What a style says of one matter, or the nearest of its bases that says something.
    fn ask<T>(&self, id: &str, what: impl Fn(&Style) -> Option<T>) -> Option<T> {
        let mut style = self.all.get(id)?;
        for _ in 0..LONGEST_CHAIN {
            if let Some(found) = what(style) {
                return Some(found);
            }
            style = self.all.get(style.base.as_deref()?)?;
        }
        None
    }

    /// What paragraphs of a style are.
    pub(super) fn kind(&self, id: &str) -> ParagraphKind {
        self.ask(id, |style| style.kind).unwrap_or_default()
    }

    /// The emphasis of letters in a style.
    pub(super) fn emphasis(&self, id: &str) -> Emphasis {
        let is_on = |what: fn(&Style) -> Option<bool>| self.ask(id, what) == Some(true);
        Emphasis { bold: is_on(|style| style.bold), italic: is_on(|style| style.italic) }
    }

    /// The emphasis of letters in a style of letters that changes only what it names.
    pub(super) fn changed(&self, id: &str, before: Emphasis) -> Emphasis {
        Emphasis {
            bold: self.ask(id, |style| style.bold).unwrap_or(before.bold),
            italic: self.ask(id, |style| style.italic).unwrap_or(before.italic),
        }
    }

    /// Whether letters in a style are hidden.
    pub(super) fn is_hidden(&self, id: &str) -> bool {
        self.ask(id, |style| style.hidden) == Some(true)
    }

    /// Whether a line is drawn through letters in a style; none where the style does not say.
    pub(super) fn crosses_out(&self, id: &str) -> Option<bool> {
        self.ask(id, |style| style.crossed_out)
    }

    /// The list that paragraphs of a style are items of.
    pub(super) fn list(&self, id: &str) -> Option<String> {
        self.ask(id, |style| style.list.clone())
    }
}

/// What a style's name makes of a paragraph; none where the name says nothing. The names that word processors give
/// their own styles are English in the file, whatever the language on the screen.
pub(super) fn kind_of_name(name: &str) -> Option<ParagraphKind> {
    let name = name.to_lowercase().replace(['_', '-'], " ");
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    if matches!(name.as_str(), "title" | "heading 1" | "heading1") {
        return Some(ParagraphKind::Block(BlockKind::Headline));
    }
    if name.strip_prefix("heading").is_some_and(|rest| rest.trim().parse::<u8>().is_ok()) {
        return Some(ParagraphKind::Name);
    }
    if name.starts_with("list bullet") {
        return Some(ParagraphKind::Item { is_numbered: false });
    }
    if name.starts_with("list number") {
        return Some(ParagraphKind::Item { is_numbered: true });
    }
    if let Some(kind) = BlockKind::named(&name) {
        return Some(ParagraphKind::Block(kind));
    }
    match name.as_str() {
        "attribution" | "quote credit" => Some(ParagraphKind::Block(BlockKind::Credit)),
        name if name.contains("quot") => Some(ParagraphKind::Block(BlockKind::Quote)),
        _ => None,
    }
}
