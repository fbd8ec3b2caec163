//! An .odt document as paragraphs.
//!
//! Source: ISO/IEC 26300-3 (OpenDocument 1.3), 5 (text), 6 (blanks, fields and notes), 5.5 (tracked changes), 16
//! (styles).

use std::collections::HashMap;

use super::paragraph::{Paragraph, ParagraphKind};
use super::skipped::Skipped;
use super::styles::{Styles, kind_of_name};
use super::xml::{XmlElement, XmlEvent, walk};
use super::{DocumentFault, ReadDocument};
use crate::draft::{BlockKind, Emphasis};

/// The most blanks that one element stands for here; more are no copy.
const MOST_BLANKS: usize = 16;

/// Reads the parts of a document: its content, and its named styles, which may be empty.
pub(super) fn read(content: &str, styles: &str) -> Result<ReadDocument, DocumentFault> {
    let mut reader = OpenDocumentReader::default();
    if !styles.is_empty() {
        walk(styles, |open, event| {
            reader.take(open, event);
            Ok(())
        })?;
    }
    // What stands in the part with the styles is heads and feet of pages.
    reader = OpenDocumentReader { styles: reader.styles, lists: reader.lists, ..OpenDocumentReader::default() };
    walk(content, |open, event| {
        reader.take(open, event);
        Ok(())
    })?;
    Ok(reader.read)
}

/// The document as it has been read so far.
#[derive(Default)]
struct OpenDocumentReader {
    styles: Styles,
    /// Whether the items of a list of a style have numbers.
    lists: HashMap<String, bool>,
    /// The key of the style that is being read, and the list style.
    style: String,
    list_style: String,
    read: ReadDocument,
    /// The paragraphs that are open: one, and those of boxes that stand in it.
    open: Vec<Paragraph>,
    /// How the stretches that are open look.
    looks: Vec<Look>,
    /// The lists that are open: whether each has numbers.
    open_lists: Vec<bool>,
    /// Whether the next paragraph is the first of an item.
    begins_item: bool,
    skipped: Skipped,
}

/// How a stretch looks.
#[derive(Debug, Default, Clone, Copy)]
struct Look {
    emphasis: Emphasis,
    is_hidden: bool,
    is_crossed_out: bool,
}

/// The key of a style, since styles of paragraphs and of letters may share a name.
fn key(family: &str, name: &str) -> String {
    format!("{family}/{name}")
}

impl OpenDocumentReader {
    fn take(&mut self, open: &[String], event: XmlEvent<'_>) {
        match event {
            XmlEvent::Start(_) if self.skipped.is_on() => self.skipped.enter(),
            XmlEvent::End(_) if self.skipped.is_on() => self.skipped.leave(),
            XmlEvent::Text(_) if self.skipped.is_on() => {}
            XmlEvent::Start(element) => {
                let outer = open.last().map_or("", String::as_str);
                if open.iter().any(|name| name == "body" || name == "master-styles") {
                    self.start(outer, &element);
                } else {
                    self.define(outer, &element);
                }
            }
            XmlEvent::End(name) => self.end(name),
            XmlEvent::Text(text) => self.text(text),
        }
    }

    /// Reads a definition of a style.
    fn define(&mut self, outer: &str, element: &XmlElement<'_>) {
        let named = |attribute: &str| element.attribute(attribute).unwrap_or_default();
        match element.name {
            "style" => {
                let (family, name) = (named("family"), named("name"));
                self.style = key(&family, &name);
                let shown = element.attribute("display-name").unwrap_or_else(|| name.replace("_20_", " "));
                let style = self.styles.style(&self.style);
                style.base = element.attribute("parent-style-name").map(|base| key(&family, &base));
                style.kind = kind_of_name(&shown);
            }
            "text-properties" if outer == "style" => {
                let style = self.styles.style(&self.style);
                let is_bold =
                    |weight: String| weight == "bold" || weight.parse::<u32>().is_ok_and(|weight| weight >= 600);
                style.bold = element.attribute("font-weight").map(is_bold).or(style.bold);
                style.italic = element.attribute("font-style").map(|slant| slant != "normal").or(style.italic);
                let crosses = |line: String| line != "none";
                style.crossed_out = element.attribute("text-line-through-style").map(crosses).or(style.crossed_out);
                style.hidden = element.attribute("display").map(|shown| shown == "none").or(style.hidden);
            }
            "list-style" => self.list_style = named("name"),
            "list-level-style-number" | "list-level-style-bullet" if named("level") == "1" => {
                let has_number = element.name.ends_with("number") && !named("num-format").is_empty();
                self.lists.insert(self.list_style.clone(), has_number);
            }
            _ => {}
        }
    }

    fn start(&mut self, outer: &str, element: &XmlElement<'_>) {
        let left = &mut self.read.left;
        match element.name {
            "p" | "h" => self.begin_paragraph(element),
            // A span adds to the look of what it stands in; what is hidden or crossed out within such a stretch counts
            // once.
            "span" => {
                let id = key("text", &element.attribute("style-name").unwrap_or_default());
                let outer = self.looks.last().copied().unwrap_or_default();
                let look = Look {
                    emphasis: self.styles.changed(&id, outer.emphasis),
                    is_hidden: outer.is_hidden || self.styles.is_hidden(&id),
                    is_crossed_out: self.styles.crosses_out(&id).unwrap_or(outer.is_crossed_out),
                };
                left.hidden += usize::from(look.is_hidden && !outer.is_hidden);
                left.crossed_out += usize::from(look.is_crossed_out && !outer.is_crossed_out && !look.is_hidden);
                self.looks.push(look);
            }
            "s" => {
                let count = element.attribute("c").and_then(|count| count.parse().ok()).unwrap_or(1);
                self.push(&" ".repeat(MOST_BLANKS.min(count)));
            }
            "tab" => self.push(" "),
            "line-break" => self.push("\n"),
            "list" => {
                let own = element.attribute("style-name").and_then(|name| self.lists.get(&name).copied());
                self.open_lists.push(own.or(self.open_lists.last().copied()).unwrap_or_default());
            }
            "list-item" => self.begins_item = true,
            "table" => left.tables += 1,
            "text-box" => left.boxes += 1,
            "image" => left.pictures += 1,
            // From here on: what is counted, if it is told, and passed over with all that is in it.
            "insertion" => {
                left.inserted += 1;
                self.skipped.begin();
            }
            "deletion" => {
                left.struck_out += 1;
                self.skipped.begin();
            }
            "annotation" => {
                left.comments += 1;
                self.skipped.begin();
            }
            "note" => {
                left.notes += 1;
                self.skipped.begin();
            }
            "hidden-text" | "hidden-paragraph" => {
                left.hidden += 1;
                self.skipped.begin();
            }
            "section" if element.attribute("display").as_deref() == Some("none") => {
                left.hidden += 1;
                self.skipped.begin();
            }
            "format-change" | "binary-data" | "ruby-text" | "forms" | "scripts" => self.skipped.begin(),
            // What a picture is called. A field may have this name too, and stands in a paragraph.
            "title" | "desc" if !matches!(outer, "p" | "h" | "span" | "a") => self.skipped.begin(),
            _ => {}
        }
    }

    fn begin_paragraph(&mut self, element: &XmlElement<'_>) {
        let id = key("paragraph", &element.attribute("style-name").unwrap_or_default());
        let mut kind = self.styles.kind(&id);
        if element.name == "h" && !matches!(kind, ParagraphKind::Block(_)) {
            let is_first = element.attribute("outline-level").is_none_or(|level| level == "1");
            kind = if is_first { ParagraphKind::Block(BlockKind::Headline) } else { ParagraphKind::Name };
        }
        if kind == ParagraphKind::Body && std::mem::take(&mut self.begins_item) {
            kind = ParagraphKind::Item { is_numbered: self.open_lists.last() == Some(&true) };
        }
        // How a headline or a quote looks is the matter of its style; in running copy a look is the author's emphasis.
        let emphasis = if kind == ParagraphKind::Body { self.styles.emphasis(&id) } else { Emphasis::default() };
        let is_hidden = self.styles.is_hidden(&id);
        self.read.left.hidden += usize::from(is_hidden);
        let is_crossed_out = self.styles.crosses_out(&id) == Some(true);
        self.read.left.crossed_out += usize::from(is_crossed_out && !is_hidden);
        self.looks.push(Look { emphasis, is_hidden, is_crossed_out });
        self.open.push(Paragraph { kind, runs: Vec::new() });
    }

    fn end(&mut self, name: &str) {
        match name {
            "p" | "h" => {
                self.looks.pop();
                self.read.paragraphs.extend(self.open.pop());
            }
            "span" => drop(self.looks.pop()),
            "list" => drop(self.open_lists.pop()),
            "list-item" => self.begins_item = false,
            _ => {}
        }
    }

    /// Adds letters of the file, in which any number of blanks in a row are one.
    fn text(&mut self, text: &str) {
        let mut spaced = self.open.last().and_then(|open| open.runs.last()).is_some_and(|run| run.text.ends_with(' '));
        let mut kept = String::with_capacity(text.len());
        for letter in text.chars() {
            let is_blank = matches!(letter, ' ' | '\t' | '\n' | '\r');
            if !(is_blank && spaced) {
                kept.push(if is_blank { ' ' } else { letter });
            }
            spaced = is_blank;
        }
        self.push(&kept);
    }

    fn push(&mut self, text: &str) {
        let Look { emphasis, is_hidden, is_crossed_out } = self.looks.last().copied().unwrap_or_default();
        if let Some(open) = self.open.last_mut().filter(|_| !is_hidden && !is_crossed_out) {
            open.push(emphasis, text);
        }
    }
}
