//! What the brief says about the book: title, kind, readers, names, ISBN.

use std::fmt;

use super::nodes::{NodeAt, Refusal};

/// The book that the copy sells.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Book {
    /// The title as it stands on the front.
    pub title: String,
    /// Who wrote it.
    pub author: String,
    /// The kind of book, on which it depends what is usual for the copy.
    pub kind: BookKind,
    /// The readers' ages.
    pub readers: Ages,
    /// BCP 47 tag of the copy's language, `en` unless the brief says otherwise.
    pub language: String,
    /// The ISBN with its hyphens as the author wrote them; its check digit is right.
    pub isbn: Option<String>,
    /// Names of persons and places in the book.
    pub names: Vec<Name>,
}

/// A name of a person or place, and its syllables where the author has counted them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Name {
    /// The right spelling.
    pub name: String,
    /// Syllables as spoken.
    pub syllables: Option<u32>,
}

/// The kinds of book whose copy has habits of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BookKind {
    /// Stiff pages, for the youngest.
    BoardBook,
    /// Told by words and pictures together.
    #[default]
    PictureBook,
    /// For children who begin to read alone.
    EarlyReader,
    /// Short chapters.
    ChapterBook,
    /// For about eight to twelve.
    MiddleGrade,
    /// For about twelve and over.
    YoungAdult,
    /// Novels and stories for adults.
    AdultFiction,
    /// Facts, for any age.
    NonFiction,
}

/// The ages that a book is meant for, in years.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Ages {
    /// The youngest.
    pub from: u32,
    /// The oldest; none where the book is for that age and over.
    pub to: Option<u32>,
}

const KEYS: [&str; 7] = ["title", "author", "kind", "readers", "language", "isbn", "names"];

/// The most names that a brief may give, and the most characters of a name: each name is compared with every word of
/// the copy.
const MOST_NAMES: usize = 200;
const LONGEST_NAME: usize = 200;

impl Book {
    /// Reads the group `book`.
    pub(super) fn read(value: NodeAt<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        let text = |key| fields.optional(key).map_or(Ok(String::new()), |value: NodeAt<'_>| value.text());
        let names = fields.optional("names").map_or_else(|| Ok(Vec::new()), |list| list.items())?;
        if let Some(one_more) = names.get(MOST_NAMES) {
            return Err(one_more.refuse(format!(
                "there are more than {MOST_NAMES} names; leave out those that stand on no back cover"
            )));
        }
        let kind = fields
            .optional("kind")
            .map_or(Ok(BookKind::default()), |value| value.choice(&BookKind::ALL.map(|kind| (kind.name(), kind))))?;
        Ok(Self {
            title: text("title")?,
            author: text("author")?,
            kind,
            readers: fields.optional("readers").map_or(Ok(kind.usual_readers()), |value| read_ages(&value))?,
            language: fields.optional("language").map_or(Ok("en".to_owned()), |value| read_language(&value))?,
            isbn: fields.optional("isbn").map(|value| read_isbn(&value)).transpose()?,
            names: names.iter().map(Name::read).collect::<Result<_, _>>()?,
        })
    }
}

impl Name {
    /// Reads a name: its spelling alone, or a group of keys.
    fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        if !value.is_map() {
            return Ok(Self { name: read_name(value)?, syllables: None });
        }
        let fields = value.fields(&["name", "syllables"])?;
        Ok(Self {
            name: read_name(&fields.required("name", "such as name: Oona")?)?,
            syllables: fields.optional("syllables").map(|value| value.whole(1)).transpose()?,
        })
    }
}

fn read_name(value: &NodeAt<'_>) -> Result<String, Refusal> {
    let name = value.text()?;
    if name.chars().count() > LONGEST_NAME {
        return Err(value.refuse(format!(
            "this name is longer than {LONGEST_NAME} characters; write each name in an entry of its own"
        )));
    }
    Ok(name)
}

fn read_ages(value: &NodeAt<'_>) -> Result<Ages, Refusal> {
    Ages::checked(&value.text()?).map_err(|problem| value.refuse(problem))
}

fn read_isbn(value: &NodeAt<'_>) -> Result<String, Refusal> {
    let text = value.text()?;
    check_isbn(&text).map_err(|problem| value.refuse(problem))?;
    Ok(text)
}

/// A language tag by BCP 47 (RFC 5646): a language of two or three letters, and further parts after hyphens.
fn read_language(value: &NodeAt<'_>) -> Result<String, Refusal> {
    let text = value.text()?;
    let mut parts = text.split('-');
    let is_language =
        parts.next().is_some_and(|part| (2..=3).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphabetic()));
    let is_tag = parts.all(|part| (1..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric()));
    if is_language && is_tag {
        return Ok(text);
    }
    Err(value.refuse(format!("\"{text}\" is not a language tag; write one such as en, en-GB or fr")))
}

impl BookKind {
    /// Every kind, the youngest readers first.
    pub const ALL: [Self; 8] = [
        Self::BoardBook,
        Self::PictureBook,
        Self::EarlyReader,
        Self::ChapterBook,
        Self::MiddleGrade,
        Self::YoungAdult,
        Self::AdultFiction,
        Self::NonFiction,
    ];

    /// The kind as a brief writes it: `picture book`.
    pub fn name(self) -> &'static str {
        match self {
            Self::BoardBook => "board book",
            Self::PictureBook => "picture book",
            Self::EarlyReader => "early reader",
            Self::ChapterBook => "chapter book",
            Self::MiddleGrade => "middle grade",
            Self::YoungAdult => "young adult",
            Self::AdultFiction => "adult fiction",
            Self::NonFiction => "non-fiction",
        }
    }

    /// The readers' ages where the brief does not say them. Common practice.
    pub fn usual_readers(self) -> Ages {
        let (from, to) = match self {
            Self::BoardBook => (0, Some(3)),
            Self::PictureBook => (3, Some(7)),
            Self::EarlyReader => (5, Some(7)),
            Self::ChapterBook => (6, Some(9)),
            Self::MiddleGrade => (8, Some(12)),
            Self::YoungAdult => (12, None),
            Self::AdultFiction | Self::NonFiction => (16, None),
        };
        Ages { from, to }
    }
}

impl Ages {
    /// Reads `4-8`, `12+` or `7`; nothing where the text has another form or the youngest is older than the oldest.
    pub fn parse(text: &str) -> Option<Self> {
        let age = |part: &str| part.trim().parse::<u32>().ok().filter(|age| *age <= 120);
        let text = text.trim();
        if let Some(from) = text.strip_suffix('+') {
            return Some(Self { from: age(from)?, to: None });
        }
        match text.split_once(['-', '–']) {
            Some((from, to)) => {
                Some(Self { from: age(from)?, to: Some(age(to)?) }).filter(|ages| Some(ages.from) <= ages.to)
            }
            None => age(text).map(|only| Self { from: only, to: Some(only) }),
        }
    }

    /// Reads ages; the error is the problem as a message tells it.
    pub fn checked(text: &str) -> Result<Self, String> {
        Self::parse(text).ok_or_else(|| {
            format!("\"{text}\" is not a range of ages; write one such as 4-8, 12+ or 7, the youngest first")
        })
    }

    /// The ages as a brief writes them: `4-8`, `12+`, `7`.
    pub fn written(self) -> String {
        match self.to {
            Some(to) if to == self.from => to.to_string(),
            Some(to) => format!("{}-{to}", self.from),
            None => format!("{}+", self.from),
        }
    }
}

/// `4 to 8`, `12 and over`.
impl fmt::Display for Ages {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.to {
            Some(to) if to == self.from => write!(f, "{to}"),
            Some(to) => write!(f, "{} to {to}", self.from),
            None => write!(f, "{} and over", self.from),
        }
    }
}

/// Whether the thirteen digits of an ISBN are right; blanks and hyphens between them do not count.
///
/// Source: International ISBN Agency, ISBN Users' Manual, appendix on the check digit: the thirteen digits, weighted 1
/// and 3 in turn, add up to a multiple of ten.
///
/// # Errors
///
/// A sentence without its stop that says what is wrong and what to do.
pub fn check_isbn(isbn: &str) -> Result<(), String> {
    let digits: Vec<u32> =
        isbn.chars().filter(|c| !matches!(c, '-' | ' ' | '‐' | '‑' | '–')).map_while(|c| c.to_digit(10)).collect();
    let other = isbn.chars().any(|c| !c.is_ascii_digit() && !matches!(c, '-' | ' ' | '‐' | '‑' | '–'));
    if digits.len() == 10 || (digits.len() == 9 && isbn.ends_with(['X', 'x'])) {
        return Err(format!("\"{isbn}\" is an ISBN of ten digits; books carry thirteen, beginning with 978 or 979"));
    }
    if other || digits.len() != 13 {
        return Err(format!("\"{isbn}\" is not an ISBN; write its thirteen digits, with or without hyphens"));
    }
    if digits[..3] != [9, 7, 8] && digits[..3] != [9, 7, 9] {
        return Err(format!("\"{isbn}\" is not an ISBN; one begins with 978 or 979"));
    }
    let sum: u32 = digits[..12].iter().zip([1, 3].iter().cycle()).map(|(digit, weight)| digit * weight).sum();
    let right = (10 - sum % 10) % 10;
    if digits[12] != right {
        return Err(format!(
            "the last digit of \"{isbn}\" should be {right} if the others are right; compare it with the paper from \
             your agency"
        ));
    }
    Ok(())
}

/// The title in the text of a brief that is not sound, found line by line: in `book: { title: ... }`, or in a line of
/// the group `book`; none where no line has one.
pub fn title_in_lines(text: &str) -> Option<String> {
    let mut is_in_book = false;
    text.lines().find_map(|line| {
        let group = line.strip_prefix("book:");
        is_in_book = group.is_some() || is_in_book && (line.starts_with(' ') || line.trim().is_empty());
        let in_braces = group.and_then(|rest| rest.trim_start().strip_prefix('{'));
        let value = in_braces.unwrap_or(line).split_once("title:").filter(|(before, _)| before.trim().is_empty())?.1;
        let value = value.trim();
        let title = match value.chars().next()? {
            mark @ ('"' | '\'') => value[1..].split(mark).next(),
            _ if in_braces.is_some() => value.split([',', '}']).next(),
            _ => value.split(" #").next(),
        };
        title.map(|title| title.trim().to_owned()).filter(|title| is_in_book && !title.is_empty())
    })
}

#[cfg(test)]
mod tests {
    use super::check_isbn;

    /// Sources: BISG's own example, and the example of the ISBN Users' Manual.
    #[test]
    fn published_examples_are_right() {
        for isbn in ["978-1-4028-9462-6", "978-0-330-28987-0", "9780330289870"] {
            assert_eq!(check_isbn(isbn), Ok(()), "{isbn}");
        }
    }

    #[test]
    fn a_slip_is_told() {
        assert_eq!(
            check_isbn("978-1-4028-9462-5"),
            Err("the last digit of \"978-1-4028-9462-5\" should be 6 if the others are right; compare it with the \
                 paper from your agency"
                .to_owned())
        );
        assert!(check_isbn("0-330-28987-X").is_err_and(|told| told.contains("ten digits")));
        assert!(check_isbn("978-1-4028-946").is_err_and(|told| told.contains("thirteen digits")));
        assert!(check_isbn("123-1-4028-9462-6").is_err_and(|told| told.contains("978 or 979")));
    }
}
