//! What the brief says of the book: title, kind, readers, names.

/// The book that the copy sells.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// The title as it stands on the front.
    pub title: String,
    /// Who wrote it.
    pub author: String,
    /// What kind of book it is; sets the usual limits.
    pub kind: Kind,
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

/// The kinds of book that have their own habits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Kind {
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
