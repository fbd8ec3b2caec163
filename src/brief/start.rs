//! The brief and the first draft of a new book, from a few answers.
//!
//! The brief explains every key that a brief can have. Values that are only usual, or not yet known, stand in it as
//! examples behind a `#`. Whatever the answers are, the brief made of them can be read.

use super::book::{Ages, Book, BookKind, check_isbn};
use super::bounds;
use super::lengths::Unit;
use super::limits::{Limits, Range, usual_for};
use super::nodes::chosen;
use super::typography::BlockType;
use crate::units::{Length, trimmed};

/// What an author can say about a book at the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answers {
    /// The title.
    pub title: String,
    /// Who wrote it; may be empty.
    pub author: String,
    /// What kind of book it is.
    pub kind: BookKind,
    /// The readers' ages.
    pub readers: Ages,
    /// The trim as the author wrote it, such as `8.5 x 8.5 in`.
    pub trim: String,
    /// The terms that the copy should carry; may be none.
    pub terms: Vec<String>,
    /// The ISBN; may be empty.
    pub isbn: String,
}

impl Default for Answers {
    fn default() -> Self {
        let kind = BookKind::default();
        Self {
            title: String::new(),
            author: String::new(),
            kind,
            readers: kind.usual_readers(),
            trim: usual_trim(kind).to_owned(),
            terms: Vec::new(),
            isbn: String::new(),
        }
    }
}

/// A question, for a terminal to ask and for a script to answer by an option of the same name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// The title.
    Title,
    /// Who wrote it.
    Author,
    /// What kind of book it is.
    Kind,
    /// The readers' ages.
    Readers,
    /// The trim.
    Trim,
    /// The terms.
    Terms,
    /// The ISBN.
    Isbn,
}

impl Question {
    /// Every question, in the order in which they are asked.
    pub const ALL: [Self; 7] =
        [Self::Title, Self::Author, Self::Kind, Self::Readers, Self::Trim, Self::Terms, Self::Isbn];

    /// The question as it is asked.
    pub fn asked(self) -> String {
        match self {
            Self::Title => "What is the book's title?".to_owned(),
            Self::Author => "Who wrote it?".to_owned(),
            Self::Kind => format!("What kind of book is it? ({})", BookKind::ALL.map(BookKind::name).join(", ")),
            Self::Readers => "How old are its readers? (such as 4-8 or 12+)".to_owned(),
            Self::Trim => {
                "How large is the back cover once it is cut? (width x height, such as 8.5 x 8.5 in)".to_owned()
            }
            Self::Terms => {
                "Which words should the blurb carry? (with commas between them; they can be added later)".to_owned()
            }
            Self::Isbn => "What is its ISBN? (it can be added later)".to_owned(),
        }
    }

    /// The answer that holds if the author gives none; empty where there is no such answer.
    pub fn standing(self, answers: &Answers) -> String {
        match self {
            Self::Title => answers.title.clone(),
            Self::Author => answers.author.clone(),
            Self::Kind => answers.kind.name().to_owned(),
            Self::Readers => answers.readers.written(),
            Self::Trim => answers.trim.clone(),
            Self::Terms => answers.terms.join(", "),
            Self::Isbn => answers.isbn.clone(),
        }
    }

    /// Checks an answer and puts it among the others.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected.
    pub fn answer(self, answers: &mut Answers, text: &str) -> Result<(), String> {
        let text = clean(text);
        match self {
            Self::Title if text.is_empty() => return Err("a book needs a title; a working title will do".to_owned()),
            Self::Title => answers.title = text,
            Self::Author => answers.author = text,
            Self::Kind => {
                answers.kind = chosen(&text, &BookKind::ALL.map(|kind| (kind.name(), kind)))?;
                answers.readers = answers.kind.usual_readers();
                usual_trim(answers.kind).clone_into(&mut answers.trim);
            }
            Self::Readers => answers.readers = Ages::checked(&text)?,
            Self::Trim => answers.trim = checked_trim(text)?,
            Self::Terms => answers.terms = checked_terms(&text)?,
            Self::Isbn if text.is_empty() => answers.isbn.clear(),
            Self::Isbn => {
                check_isbn(&text)?;
                answers.isbn = text;
            }
        }
        Ok(())
    }
}

/// The text as one line: without control characters and characters that YAML does not allow in a file, each stretch of
/// blanks made a single space.
fn clean(text: &str) -> String {
    let dropped =
        |c: &char| !c.is_whitespace() && (c.is_control() || matches!(c, '\u{feff}' | '\u{fffe}' | '\u{ffff}'));
    let kept: String = text.chars().filter(|c| !dropped(c)).collect();
    kept.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The usual trim for a kind of book. Common practice.
fn usual_trim(kind: BookKind) -> &'static str {
    match kind {
        BookKind::BoardBook => "7 x 7 in",
        BookKind::PictureBook => "8.5 x 8.5 in",
        BookKind::EarlyReader | BookKind::NonFiction => "6 x 9 in",
        BookKind::ChapterBook => "5.25 x 7.5 in",
        BookKind::MiddleGrade | BookKind::YoungAdult => "5.5 x 8.25 in",
        BookKind::AdultFiction => "5.5 x 8.5 in",
    }
}

/// The radius of the corners of a board book. Common practice.
const USUAL_CORNERS: &str = "8 mm";

/// The shortest side of a trim: on a smaller panel no copy has room beside a barcode inside the usual margins.
const SMALLEST_SIDE_INCHES: f64 = 2.5;

fn checked_trim(text: String) -> Result<String, String> {
    let size = bounds::TRIM.size(&text)?;
    for side in [size.width, size.height] {
        if !Length::inches(SMALLEST_SIDE_INCHES).fits(side) {
            let least = Unit::of(&text).unwrap_or(Unit::Inches).written(Length::inches(SMALLEST_SIDE_INCHES));
            return Err(format!(
                "\"{text}\" leaves no room for copy beside a barcode; each side must be {least} or more"
            ));
        }
    }
    Ok(text)
}

/// The terms between the commas, each once.
fn checked_terms(text: &str) -> Result<Vec<String>, String> {
    let mut terms: Vec<String> = Vec::new();
    for term in text.split(',').map(str::trim).filter(|term| !term.is_empty()) {
        if !term.chars().any(char::is_alphanumeric) {
            return Err(format!("\"{term}\" holds no word; write words or phrases with commas between them"));
        }
        if !terms.iter().any(|known| known.to_lowercase() == term.to_lowercase()) {
            terms.push(term.to_owned());
        }
    }
    Ok(terms)
}

/// A new brief with every key explained.
pub fn brief(answers: &Answers) -> String {
    let filled = filled_lines(answers);
    // The template is filled line by line, so that nothing in an answer is taken for a place to be filled.
    let mut text = String::new();
    for line in include_str!("start/brief.yaml").lines() {
        let key = line.trim_start();
        let indent = &line[..line.len() - key.len()];
        let name = key.split(':').next().unwrap_or(key);
        match filled.iter().find(|(key, _)| name.strip_prefix('#') == Some(*key)) {
            Some((_, filled)) => text.extend([indent, filled]),
            None => text.push_str(line),
        }
        text.push('\n');
    }
    text
}

/// The lines that take the place of an example, by the example's key, without their indentation.
fn filled_lines(answers: &Answers) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    let mut fill = |key, value: &str| {
        if !value.is_empty() {
            lines.push((key, format!("{key}: {value}")));
        }
    };
    // Common practice: 3 mm and 10 to 13 mm in metric shops, an eighth and half an inch in American ones.
    let is_metric = answers.trim.ends_with(['m', 'M']);
    let (bleed, margins) = if is_metric { ("3 mm", "12 mm") } else { ("0.125 in", "0.5 in") };
    fill("title", &quoted(&answers.title));
    fill("author", &quoted(&answers.author));
    fill("kind", answers.kind.name());
    fill("readers", &answers.readers.written());
    fill("isbn", &quoted(&answers.isbn));
    fill("trim", &quoted(&answers.trim));
    fill("bleed", bleed);
    fill("margins", margins);
    let terms: String = answers.terms.iter().map(|term| format!("\n  - {}", quoted(term))).collect();
    fill("terms", &terms);
    if answers.kind == BookKind::BoardBook {
        fill("round_corners", USUAL_CORNERS);
    }
    let size = BlockType::usual(answers.kind).size;
    lines.push(("size", format!("#size: {size}")));
    lines.extend(usual_ranges(answers));
    lines
}

/// The ranges that are usual for the book, as examples of limits behind a `#`.
fn usual_ranges(answers: &Answers) -> impl Iterator<Item = (&'static str, String)> {
    let book = Book { kind: answers.kind, readers: answers.readers, ..Book::default() };
    usual_for(&book, &Limits::default()).into_iter().map(|usual| {
        let Range { from, to } = usual.range;
        let end = |end: Option<f64>| end.map_or(String::new(), |end| trimmed(end, 2));
        (usual.measure.key(), format!("#{}: {}..{}", usual.measure.key(), end(from), end(to)))
    })
}

/// A first draft, which measures and prints as it stands.
pub fn first_draft() -> &'static str {
    include_str!("start/first.md")
}

/// Text in double quotation marks, so that YAML reads any text as it is. An empty text stays empty, without marks.
fn quoted(text: &str) -> String {
    if text.is_empty() {
        return String::new();
    }
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
