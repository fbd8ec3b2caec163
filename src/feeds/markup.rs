//! Copy with the tags of web pages, or without any, as paragraphs of Markdown.
//!
//! Paragraphs, items of lists and headings become paragraphs; line breaks and emphasis stay; other tags go, and their
//! text stays. What Markdown would take for a mark of its own is escaped. Emphasis that Markdown cannot write, as in
//! the midst of a word beside a stop, is left out rather than its marks printed.

use super::xml::{XmlElement, XmlNode, named_character};
use crate::draft::{BlockKind, Draft};

/// The paragraphs of a text as Markdown, without those that are empty.
pub(super) fn paragraphs(text: &XmlElement) -> Vec<String> {
    let mut paper = MarkdownPaper::default();
    let has_tags = text.inside.iter().any(|node| matches!(node, XmlNode::Element(_)));
    // XHTML and HTML are also sent as text in which the tags are escaped.
    let is_escaped = !has_tags && matches!(text.attribute("textformat"), Some("02" | "03" | "05"));
    if has_tags {
        inside(text, &mut paper);
    } else if is_escaped {
        web_page(&text.text(), &mut paper);
    } else {
        plain(&text.text(), &mut paper);
    }
    paper.end_paragraph();
    paper.done
}

/// The words of a text in one line, escaped, without emphasis.
pub(super) fn line(text: &str) -> String {
    let mut paper = MarkdownPaper::default();
    paper.text(text);
    paper.end_paragraph();
    paper.done.concat()
}

fn inside(element: &XmlElement, paper: &mut MarkdownPaper) {
    for node in &element.inside {
        match node {
            XmlNode::Text(text) => paper.text(text),
            XmlNode::Element(inner) => {
                paper.begin(&inner.name);
                inside(inner, paper);
                paper.end(&inner.name);
            }
        }
    }
}

/// Text without tags: a line with nothing in it ends a paragraph.
fn plain(text: &str, paper: &mut MarkdownPaper) {
    for line in text.lines() {
        if line.trim().is_empty() {
            paper.end_paragraph();
        } else {
            paper.text(line);
            paper.text("\n");
        }
    }
}

/// Text with the tags of a web page, which need not be well formed.
fn web_page(text: &str, paper: &mut MarkdownPaper) {
    let mut rest = text;
    while let Some(at) = rest.find(['<', '&']) {
        paper.text(&rest[..at]);
        rest = &rest[at..];
        rest = if rest.starts_with('&') { character(rest, paper) } else { tag(rest, paper) };
    }
    paper.text(rest);
}

/// Takes a character by its name or number from the beginning of a text; the text behind it.
fn character<'a>(text: &'a str, paper: &mut MarkdownPaper) -> &'a str {
    const LONGEST_NAME: usize = 32;
    let end = text.bytes().take(LONGEST_NAME).position(|byte| byte == b';');
    let found = end.and_then(|end| Some((end, meant(&text[1..end])?)));
    match found {
        Some((end, found)) => {
            paper.text(&found);
            &text[end + 1..]
        }
        None => {
            paper.text("&");
            &text[1..]
        }
    }
}

fn meant(name: &str) -> Option<String> {
    let Some(number) = name.strip_prefix('#') else { return named_character(name) };
    let number = match number.strip_prefix(['x', 'X']) {
        Some(digits) => u32::from_str_radix(digits, 16),
        None => number.parse(),
    };
    number.ok().and_then(char::from_u32).map(String::from)
}

/// Takes a tag or a comment from the beginning of a text; the text behind it.
fn tag<'a>(text: &'a str, paper: &mut MarkdownPaper) -> &'a str {
    if let Some(comment) = text.strip_prefix("<!--") {
        return comment.split_once("-->").map_or("", |(_, behind)| behind);
    }
    let name = text[1..].trim_start_matches('/');
    let is_tag = name.starts_with(|first: char| first.is_ascii_alphabetic() || first == '!');
    let Some(end) = text.find('>').filter(|_| is_tag) else {
        paper.text("<");
        return &text[1..];
    };
    let name = name.split(|other: char| !other.is_ascii_alphanumeric()).next().unwrap_or_default();
    if text.starts_with("</") {
        paper.end(name);
    } else {
        paper.begin(name);
    }
    &text[end + 1..]
}

/// What a tag means for copy.
enum TagMeaning {
    /// A paragraph begins and ends with the tag.
    Paragraph,
    LineBreak,
    Italic,
    Bold,
    /// What is inside is no copy.
    NoCopy,
    Nothing,
}

fn meaning(tag: &str) -> TagMeaning {
    match tag.to_ascii_lowercase().as_str() {
        "p" | "div" | "li" | "ul" | "ol" | "dl" | "dt" | "dd" | "h1" | "h2" | "h3" | "h4" | "h5" | "h6" | "hr"
        | "blockquote" | "section" | "article" | "table" | "tr" | "td" | "th" => TagMeaning::Paragraph,
        "br" => TagMeaning::LineBreak,
        "em" | "i" | "cite" => TagMeaning::Italic,
        "strong" | "b" => TagMeaning::Bold,
        "script" | "style" | "head" => TagMeaning::NoCopy,
        _ => TagMeaning::Nothing,
    }
}

/// A stretch of one face: its text, in which a line break is `\n`, and whether it is bold and italic.
struct FaceRun {
    text: String,
    bold: bool,
    italic: bool,
}

/// Collects paragraphs.
#[derive(Default)]
struct MarkdownPaper {
    done: Vec<String>,
    /// The paragraph that is open.
    runs: Vec<FaceRun>,
    /// How many bold and italic tags are open, and how many whose text is no copy.
    bold: usize,
    italic: usize,
    skipped: usize,
}

impl MarkdownPaper {
    fn begin(&mut self, tag: &str) {
        match meaning(tag) {
            TagMeaning::Paragraph => self.end_paragraph(),
            TagMeaning::LineBreak => self.break_line(),
            TagMeaning::Italic => self.italic += 1,
            TagMeaning::Bold => self.bold += 1,
            TagMeaning::NoCopy => self.skipped += 1,
            TagMeaning::Nothing => {}
        }
    }

    fn end(&mut self, tag: &str) {
        match meaning(tag) {
            TagMeaning::Paragraph => self.end_paragraph(),
            TagMeaning::Italic => self.italic = self.italic.saturating_sub(1),
            TagMeaning::Bold => self.bold = self.bold.saturating_sub(1),
            TagMeaning::NoCopy => self.skipped = self.skipped.saturating_sub(1),
            TagMeaning::LineBreak | TagMeaning::Nothing => {}
        }
    }

    /// Adds text; any blanks in a row are one, and a blank at the beginning of a line is none.
    fn text(&mut self, text: &str) {
        if self.skipped > 0 {
            return;
        }
        for character in text.chars() {
            if !character.is_ascii_whitespace() {
                self.push(character);
            } else if self.last().is_some_and(|last| last != ' ' && last != '\n') {
                self.push(' ');
            }
        }
    }

    fn break_line(&mut self) {
        self.trim(&[' ']);
        if self.skipped == 0 && self.last().is_some() {
            self.push('\n');
        }
    }

    fn push(&mut self, character: char) {
        let (bold, italic) = (self.bold > 0, self.italic > 0);
        match self.runs.last_mut() {
            Some(run) if (run.bold, run.italic) == (bold, italic) => run.text.push(character),
            _ => self.runs.push(FaceRun { text: character.into(), bold, italic }),
        }
    }

    fn last(&self) -> Option<char> {
        self.runs.last()?.text.chars().last()
    }

    /// Takes the characters of `ends` away from the end of the open paragraph.
    fn trim(&mut self, ends: &[char]) {
        while let Some(run) = self.runs.last_mut() {
            run.text.truncate(run.text.trim_end_matches(ends).len());
            if !run.text.is_empty() {
                return;
            }
            self.runs.pop();
        }
    }

    fn end_paragraph(&mut self) {
        self.trim(&[' ', '\n']);
        if self.runs.is_empty() {
            return;
        }
        let words: String = self.runs.iter().map(|run| run.text.as_str()).collect();
        let marked: String = written(&self.runs, true);
        self.done.push(if is_read_as(&marked, &words) { marked } else { written(&self.runs, false) });
        self.runs.clear();
    }
}

/// Whether Markdown is read as one paragraph of some words.
fn is_read_as(markdown: &str, words: &str) -> bool {
    let draft = Draft::read(markdown);
    matches!(draft.blocks.as_slice(), [block] if block.kind == BlockKind::Blurb && block.text() == words)
}

/// The runs as Markdown, with emphasis or without.
fn written(runs: &[FaceRun], is_marked: bool) -> String {
    let mut markdown = String::new();
    for run in runs {
        let mark = match (is_marked, run.bold, run.italic) {
            (false, ..) | (_, false, false) => "",
            (_, true, false) => "**",
            (_, false, true) => "*",
            (_, true, true) => "***",
        };
        // Marks hold only where they touch what they emphasise.
        let words = run.text.trim_matches([' ', '\n']);
        let (before, behind) = run.text.split_once(words).filter(|_| !words.is_empty()).unwrap_or((&run.text, ""));
        let mark = if words.is_empty() { "" } else { mark };
        escape(before, &mut markdown);
        markdown.push_str(mark);
        escape(words, &mut markdown);
        markdown.push_str(mark);
        escape(behind, &mut markdown);
    }
    markdown
}

/// Adds text so that Markdown reads it as it stands.
fn escape(text: &str, markdown: &mut String) {
    for (at, character) in text.char_indices() {
        let begins_line = |before: &str| before.is_empty() || before.ends_with('\n');
        let means_more = match character {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' => true,
            '&' => text[at + 1..].starts_with(|next: char| next == '#' || next.is_ascii_alphanumeric()),
            // Behind a blank it may end a headline.
            '#' => begins_line(markdown) || markdown.ends_with(' '),
            '>' | '+' | '-' | '=' | '~' => begins_line(markdown),
            '.' | ')' => {
                let before = markdown.trim_end_matches(|digit: char| digit.is_ascii_digit());
                before.len() < markdown.len() && begins_line(before)
            }
            _ => false,
        };
        if character == '\n' || means_more {
            markdown.push('\\');
        }
        markdown.push(character);
    }
}
