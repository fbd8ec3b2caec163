//! The brief and the first draft of a new book, from a few answers.

use super::book::{Ages, Kind};
use super::bounds;
use super::{isbn, lengths};

/// What an author can say of a book at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answers {
    /// The title.
    pub title: String,
    /// Who wrote it; may be empty.
    pub author: String,
    /// What kind of book it is.
    pub kind: Kind,
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
        let kind = Kind::default();
        Self {
            title: String::new(),
            author: String::new(),
            kind,
            readers: kind.usual_readers(),
            trim: "8.5 x 8.5 in".to_owned(),
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
            Self::Kind => format!("What kind of book is it? ({})", Kind::ALL.map(Kind::name).join(", ")),
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

    /// The answer that stands if nothing is said; empty where there is none.
    pub fn standing(self, answers: &Answers) -> String {
        match self {
            Self::Title => answers.title.clone(),
            Self::Author => answers.author.clone(),
            Self::Kind => answers.kind.name().to_owned(),
            Self::Readers => written_ages(answers.readers),
            Self::Trim => answers.trim.clone(),
            Self::Terms => answers.terms.join(", "),
            Self::Isbn => answers.isbn.clone(),
        }
    }

    /// Takes an answer.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected.
    pub fn answer(self, answers: &mut Answers, text: &str) -> Result<(), String> {
        let text: String = text.trim().chars().filter(|character| !character.is_control()).collect();
        match self {
            Self::Title if text.is_empty() => return Err("a book needs a title; a working title will do".to_owned()),
            Self::Title => answers.title = text,
            Self::Author => answers.author = text,
            Self::Kind => {
                let kind = Kind::ALL.into_iter().find(|kind| kind.name().eq_ignore_ascii_case(&text));
                let names = Kind::ALL.map(Kind::name).join(", ");
                answers.kind = kind.ok_or_else(|| format!("\"{text}\" is not one of {names}"))?;
                answers.readers = answers.kind.usual_readers();
            }
            Self::Readers => {
                let problem = || format!("\"{text}\" is not a range of ages; write one such as 4-8, 12+ or 7");
                answers.readers = Ages::parse(&text).ok_or_else(problem)?;
            }
            Self::Trim => {
                let size = lengths::size(&text)?;
                bounds::TRIM
                    .check(size.width)
                    .and(bounds::TRIM.check(size.height))
                    .map_err(|problem| format!("each side: {problem}"))?;
                answers.trim = text;
            }
            Self::Terms => {
                let terms = text.split(',').map(str::trim).filter(|term| term.chars().any(char::is_alphanumeric));
                answers.terms.clear();
                for term in terms {
                    if !answers.terms.iter().any(|known| known.to_lowercase() == term.to_lowercase()) {
                        answers.terms.push(term.to_owned());
                    }
                }
            }
            Self::Isbn if text.is_empty() => answers.isbn.clear(),
            Self::Isbn => {
                isbn::check(&text)?;
                answers.isbn = text;
            }
        }
        Ok(())
    }
}

/// Ages in the form of a brief.
fn written_ages(ages: Ages) -> String {
    match ages.to {
        Some(to) => format!("{}-{to}", ages.from),
        None => format!("{}+", ages.from),
    }
}

/// A new brief with every key explained.
pub fn brief(answers: &Answers) -> String {
    let isbn = if answers.isbn.is_empty() {
        "# isbn: 978-0-00-000000-2".to_owned()
    } else {
        format!("isbn: {}", quoted(&answers.isbn))
    };
    let terms = if answers.terms.is_empty() {
        "terms: []\n".to_owned()
    } else {
        let rows: String = answers.terms.iter().map(|term| format!("  - {}\n", quoted(term))).collect();
        format!("terms:\n{rows}")
    };
    let mut text = include_str!("start/brief.yaml").to_owned();
    for (mark, value) in [
        ("<title>", quoted(&answers.title)),
        ("<author>", quoted(&answers.author)),
        ("<kind>", answers.kind.name().to_owned()),
        ("<kinds>", Kind::ALL.map(Kind::name).join(" | ")),
        ("<readers>", written_ages(answers.readers)),
        ("<isbn>", isbn),
        ("<terms>\n", terms),
        ("<trim>", answers.trim.clone()),
    ] {
        text = text.replacen(mark, &value, 1);
    }
    text
}

/// A first draft, which measures and prints as it stands.
pub fn first_draft() -> &'static str {
    include_str!("start/first.md")
}

/// Text as YAML takes it whatever it holds: in double quotation marks.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;

    fn answered(pairs: &[(Question, &str)]) -> Answers {
        let mut answers = Answers::default();
        for (question, text) in pairs {
            question.answer(&mut answers, text).unwrap();
        }
        answers
    }

    #[test]
    fn a_new_brief_says_what_was_answered() {
        for kind in Kind::ALL {
            let title = "Who's \"that\": a \\ tale # of <title> & söñg";
            let answers = answered(&[
                (Question::Title, title),
                (Question::Author, "- R. Okafor-Lind"),
                (Question::Kind, kind.name()),
                (Question::Trim, "210 x 297 mm"),
                (Question::Terms, "lighthouse, bedtime story, , Lighthouse, yes"),
                (Question::Isbn, "978-0-330-28987-0"),
            ]);
            let brief = Brief::read(&brief(&answers), Path::new("")).unwrap();
            assert_eq!(brief.book.title, title);
            assert_eq!(brief.book.author, "- R. Okafor-Lind");
            assert_eq!((brief.book.kind, brief.book.readers), (kind, kind.usual_readers()));
            let terms: Vec<&str> = brief.terms.wanted.iter().map(|term| term.term.as_str()).collect();
            assert_eq!(terms, ["lighthouse", "bedtime story", "yes"]);
            assert_eq!(brief.book.isbn.as_deref(), Some("978-0-330-28987-0"));
            assert!((brief.panel.trim.width.to_mm() - 210.0).abs() < 1e-6);
        }
    }

    #[test]
    fn every_key_of_a_brief_is_in_a_new_one() {
        let text = brief(&answered(&[(Question::Title, "The Lamp")]));
        let bare = text.lines().filter(|line| line.contains(": ") || line.trim_end().ends_with(':'));
        let uncommented: String = bare
            .map(|line| format!("{}\n", line.replacen("# ", "", usize::from(line.trim_start().starts_with("# ")))))
            .collect();
        for key in [
            "title",
            "author",
            "kind",
            "readers",
            "language",
            "isbn",
            "names",
            "terms",
            "avoid",
            "words",
            "level",
            "longest_sentence",
            "trim",
            "binding",
            "bleed",
            "margins",
            "keep_outs",
            "barcode",
            "font",
            "size",
            "leading",
            "align",
            "weight",
            "style",
            "space_above",
            "indent",
            "headline",
            "quote",
            "credit",
            "note_on_the_author",
            "other_titles",
            "age_line",
            "price_line",
            "must",
            "also",
            "at_most",
            "clearance",
            "add_on",
            "scale",
            "corner",
            "at",
        ] {
            assert!(uncommented.contains(&format!("{key}:")), "{key} is not explained");
        }
    }

    #[test]
    fn an_answer_that_cannot_be_used_is_told_why() {
        let told = |question: Question, text: &str| question.answer(&mut Answers::default(), text);
        assert_eq!(told(Question::Title, "  "), Err("a book needs a title; a working title will do".to_owned()));
        assert_eq!(
            told(Question::Readers, "old"),
            Err("\"old\" is not a range of ages; write one such as 4-8, 12+ or 7".to_owned())
        );
        assert!(told(Question::Kind, "novella").is_err_and(|told| told.contains("chapter book")));
        assert!(told(Question::Trim, "8 x 8").is_err_and(|told| told.contains("no unit")));
        assert!(told(Question::Trim, "8 x 800 in").is_err_and(|told| told.contains("from 1 in to 30 in")));
        assert!(told(Question::Isbn, "978-0-330-28987-1").is_err_and(|told| told.contains("should be 0")));
    }
}
