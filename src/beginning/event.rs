//! What happens on the pages before there is a draft, and what they ask to have done.

use std::path::PathBuf;

use ratatui::crossterm::event::KeyEvent;

use super::books::{BookStanding, ListedBook};
use crate::briefing::start::Answers;
use crate::desk::event::Turn;
use crate::editor::mending::MendedText;

/// Something that happened.
#[derive(Debug)]
pub enum BeginningEvent {
    /// A key was pressed.
    Key(KeyEvent),
    /// Words came from the terminal's own clipboard.
    Paste(String),
    /// Something on the screen was clicked.
    Click(BeginningTarget),
    /// The wheel of the mouse was turned.
    Wheel(Turn),
    /// The terminal has another size, in columns and rows.
    Resize(u16, u16),
    /// The folder was looked through: the books in it.
    Found(Vec<ListedBook>),
    /// A book of the list, by its number, was measured or could not be.
    Measured(usize, BookStanding),
    /// The brief that is mended was written, or another program has written it, and cannot be read.
    Unmended(Box<MendedText>),
    /// Why something could not be done, as a sentence.
    Failed(String),
}

/// What can be clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BeginningTarget {
    /// A key at the foot.
    Key(KeyEvent),
    /// A row of the page that begins a book, by its number.
    Row(usize),
    /// A choice of the row in hand, by its number.
    Choice(usize),
    /// A row of the list of books, counted from the first that is listed.
    Book(usize),
}

/// Something that is asked to be done.
#[derive(Debug, Clone, PartialEq)]
pub enum Wish {
    /// Write a new book, and open it at the desk.
    Begin {
        /// The folder in the present one for the book; none for the present one itself.
        folder: Option<String>,
        /// What was answered.
        answers: Box<Answers>,
        /// Whether a first draft is written too.
        with_draft: bool,
    },
    /// Write the first draft of a book that has a brief, and open the book at the desk.
    BeginDraft {
        /// The book's folder.
        folder: PathBuf,
    },
    /// Open a book at the desk.
    Open {
        /// The book's number in the list.
        number: usize,
    },
    /// Show the brief of a book that cannot be read, so that it can be mended.
    Mend {
        /// The book's number in the list.
        number: usize,
        /// Why the book cannot be read, which is told where its brief is not at fault.
        why: String,
    },
    /// Write a brief that was mended, and go on if it can be read.
    WriteMended {
        /// The brief's file.
        path: PathBuf,
        /// The number of its book in the list; none where no list led here.
        number: Option<usize>,
        /// The text that the file had when it was read.
        read: String,
        /// The text as it was mended.
        text: String,
    },
    /// Look through the folder again, and measure every book in it.
    LookAgain,
    /// Stop until the shell continues.
    Suspend,
    /// End.
    Leave,
}
