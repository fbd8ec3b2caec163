//! Everything that the pages before there is a draft hold at one moment.

use std::path::PathBuf;

use super::books::BookList;
use super::form::BookForm;
use crate::desk::theme::Theme;
use crate::editor::mending::MendedText;

/// The pages before there is a draft.
#[derive(Debug)]
pub struct Beginning {
    /// The page in front.
    pub page: BeginningPage,
    /// The books of the folder; none where the folder is no folder of books.
    pub books: Option<BookList>,
    /// The folder as it is shown.
    pub folder: String,
    /// The message at the foot, until the next key.
    pub said: Option<String>,
    /// The terminal's columns and rows.
    pub size: (u16, u16),
    /// The styles and signs for the terminal.
    pub theme: Theme,
}

/// The page in front.
#[derive(Debug)]
pub enum BeginningPage {
    /// The list of books.
    Books,
    /// A book is begun.
    Form(Box<BookForm>),
    /// The first draft of a book is offered.
    Draft(DraftOffer),
    /// The brief of a book, which cannot be read, is mended.
    Mend(Box<BriefMending>),
}

/// A brief that cannot be read, while its text is mended.
#[derive(Debug)]
pub struct BriefMending {
    /// The brief's file.
    pub path: PathBuf,
    /// The number of its book in the list; none where no list led here.
    pub number: Option<usize>,
    /// Its text.
    pub text: MendedText,
}

/// The offer of a first draft for a book that has a brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DraftOffer {
    /// The book's folder.
    pub folder: PathBuf,
    /// The book's title; may be empty.
    pub title: String,
}

impl Beginning {
    /// The page that is shown first.
    pub fn new(page: BeginningPage, folder: String, theme: Theme, size: (u16, u16)) -> Self {
        Self { page, books: None, folder, said: None, size, theme }
    }

    /// The list of the books in a folder.
    pub fn of_books(books: BookList, folder: String, theme: Theme, size: (u16, u16)) -> Self {
        Self { books: Some(books), ..Self::new(BeginningPage::Books, folder, theme, size) }
    }
}
