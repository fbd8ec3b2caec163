//! The list of the books in a folder: what is known of each, in which order they stand, and which are looked for.

use std::cmp::Ordering;
use std::path::{Path, PathBuf};

use crate::units::names;
use crate::units::nouns::{agrees, counted};

/// The books of a folder.
#[derive(Debug, Default)]
pub struct BookList {
    /// The books in the order of their folders.
    books: Vec<ListedBook>,
    /// The letters that are looked for in titles and folders; empty where all are listed.
    pub sought: String,
    /// In which order they stand.
    pub order: BookOrder,
    /// The numbers of the books that are listed, in their order.
    rows: Vec<usize>,
    /// The row in hand.
    pub at: usize,
    /// Whether the author has chosen that row; until then the first row stays in hand, whatever comes to stand there.
    is_chosen: bool,
}

/// A book of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedBook {
    /// The folder.
    pub folder: PathBuf,
    /// The folder's name as it is shown.
    pub name: String,
    /// What is known of it.
    pub standing: BookStanding,
}

/// What is known of a book.
#[derive(Debug, Clone, PartialEq)]
pub enum BookStanding {
    /// Nothing yet: it is still to be measured.
    Waiting,
    /// The brief or the draft cannot be read or used; why, as a sentence.
    Unread(String),
    /// The brief has no draft yet; the title in it.
    WithoutDrafts(String),
    /// What its first draft measures.
    Measured(BookFigures),
}

/// What the list says of a book's first draft.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BookFigures {
    /// The title.
    pub title: String,
    /// The draft's name, without folder and ending.
    pub draft: String,
    /// How many drafts the book has.
    pub drafts: usize,
    /// What is outside, each in a few words; empty where the draft is within every limit.
    pub outside: Vec<String>,
    /// The words of the blurb.
    pub words: usize,
    /// The lines that are left; below zero the lines over.
    pub lines_left: i64,
    /// How many of the wanted terms the copy carries, and how many are wanted.
    pub terms: (usize, usize),
}

/// The orders of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BookOrder {
    /// What cannot be read first, then what has no draft, what is outside, what is not measured yet, what is within.
    #[default]
    Verdict,
    /// By the title.
    Title,
    /// The longest blurb first.
    Words,
    /// The tightest fit first.
    Fit,
    /// The one that lacks the most terms first.
    Terms,
}

impl BookOrder {
    const ALL: [Self; 5] = [Self::Verdict, Self::Title, Self::Words, Self::Fit, Self::Terms];

    /// The order in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Verdict => "failures first",
            Self::Title => "by title",
            Self::Words => "most words first",
            Self::Fit => "tightest fit first",
            Self::Terms => "most terms missing first",
        }
    }

    fn next(self) -> Self {
        Self::ALL[(self as usize + 1) % Self::ALL.len()]
    }
}

impl ListedBook {
    /// The title, or the folder's name where no title is known.
    pub fn title(&self) -> &str {
        let title = match &self.standing {
            BookStanding::Measured(figures) => figures.title.as_str(),
            BookStanding::WithoutDrafts(title) => title,
            BookStanding::Waiting | BookStanding::Unread(_) => "",
        };
        if title.is_empty() { &self.name } else { title }
    }

    fn figures(&self) -> Option<&BookFigures> {
        match &self.standing {
            BookStanding::Measured(figures) => Some(figures),
            _ => None,
        }
    }

    fn holds(&self, sought: &str) -> bool {
        let own = format!("{} {}", self.title(), self.name).to_lowercase();
        sought.to_lowercase().split_whitespace().all(|part| own.contains(part))
    }

    fn rank(&self) -> u8 {
        match &self.standing {
            BookStanding::Unread(_) => 0,
            BookStanding::WithoutDrafts(_) => 1,
            BookStanding::Measured(figures) if !figures.outside.is_empty() => 2,
            BookStanding::Waiting => 3,
            BookStanding::Measured(_) => 4,
        }
    }
}

impl BookStanding {
    /// The verdict in a word or two.
    pub fn verdict(&self) -> &'static str {
        match self {
            Self::Waiting => "not yet",
            Self::Unread(_) => "cannot be read",
            Self::WithoutDrafts(_) => "no draft yet",
            Self::Measured(figures) if figures.outside.is_empty() => "within",
            Self::Measured(_) => "outside",
        }
    }
}

impl BookList {
    /// A list of books, the first of them in hand.
    pub fn new(books: Vec<ListedBook>) -> Self {
        let mut list = Self { books, ..Self::default() };
        list.arrange(None);
        list
    }

    /// The books that are listed, in their order.
    pub fn listed(&self) -> impl ExactSizeIterator<Item = &ListedBook> {
        self.rows.iter().map(|number| &self.books[*number])
    }

    /// The folder of a book, by its number.
    pub fn folder(&self, number: usize) -> Option<&Path> {
        Some(&self.books.get(number)?.folder)
    }

    /// The books that are still to be measured, by their numbers and folders, those that are listed first.
    pub fn waiting(&self) -> Vec<(usize, PathBuf)> {
        let is_waiting = |number: &usize| self.books[*number].standing == BookStanding::Waiting;
        let listed = self.rows.iter().copied();
        let others = (0..self.books.len()).filter(|number| !self.rows.contains(number));
        listed.chain(others).filter(is_waiting).map(|number| (number, self.books[number].folder.clone())).collect()
    }

    /// How many books there are, listed or not.
    pub fn count(&self) -> usize {
        self.books.len()
    }

    /// The book in hand, with its number.
    pub fn in_hand(&self) -> Option<(usize, &ListedBook)> {
        let number = *self.rows.get(self.at)?;
        Some((number, self.books.get(number)?))
    }

    /// Takes in what was found of a book.
    pub(super) fn take(&mut self, number: usize, standing: BookStanding) {
        let held = self.held();
        if let Some(book) = self.books.get_mut(number) {
            book.standing = standing;
            self.arrange(held);
        }
    }

    /// Puts other books in the place of these, and keeps the one in hand if it is still there.
    pub(super) fn renew(&mut self, books: Vec<ListedBook>) {
        let folder = self.held().and_then(|number| self.folder(number));
        let held = folder.and_then(|folder| books.iter().position(|book| book.folder == folder));
        self.books = books;
        self.arrange(held);
    }

    /// Looks for other letters.
    pub(super) fn seek(&mut self, sought: String) {
        let held = self.held();
        self.sought = sought;
        self.arrange(held);
    }

    /// Goes on to the next order, with its first book in hand.
    pub(super) fn turn(&mut self) {
        self.order = self.order.next();
        (self.at, self.is_chosen) = (0, false);
        self.arrange(None);
    }

    /// Moves by rows, as far as there are any.
    pub(super) fn go(&mut self, rows: isize) {
        self.at = self.at.saturating_add_signed(rows).min(self.rows.len().saturating_sub(1));
        self.is_chosen = true;
    }

    /// Chooses the row in hand, so that its book stays in hand.
    pub(super) fn choose(&mut self) {
        self.is_chosen = true;
    }

    /// The number of the book that stays in hand, wherever it comes to stand.
    fn held(&self) -> Option<usize> {
        self.in_hand().filter(|_| self.is_chosen).map(|(number, _)| number)
    }

    /// Makes the rows anew, with a book in hand.
    fn arrange(&mut self, held: Option<usize>) {
        let books = &self.books;
        let mut rows: Vec<usize> = (0..books.len()).filter(|number| books[*number].holds(&self.sought)).collect();
        let titles: Vec<String> = books.iter().map(|book| book.title().to_lowercase()).collect();
        let sought = self.sought.trim().to_lowercase();
        // What is typed as a whole title, or as its beginning, is most likely meant.
        let is_meant_less = |number: usize| (titles[number] != sought, !titles[number].starts_with(&sought));
        rows.sort_by(|one, other| {
            let by_sought = || is_meant_less(*one).cmp(&is_meant_less(*other));
            let by_title = || names::in_order(&titles[*one], &titles[*other]).then_with(|| one.cmp(other));
            let by_order = || compare(self.order, &books[*one], &books[*other]);
            by_sought().then_with(by_order).then_with(by_title)
        });
        self.rows = rows;
        let row = held.and_then(|held| self.rows.iter().position(|number| *number == held));
        self.at = row.unwrap_or(self.at).min(self.rows.len().saturating_sub(1));
    }

    /// How the books stand, all of them, in one sentence without its stop.
    pub fn summary(&self) -> String {
        let count = |rank: u8| self.books.iter().filter(|book| book.rank() == rank).count();
        let [unread, without, outside, waiting, within] = [0, 1, 2, 3, 4].map(count);
        let told = [
            (unread, format!("{unread} cannot be read")),
            (without, format!("{without} {} no draft yet", agrees(without, "has", "have"))),
            (outside, format!("{outside} outside")),
            (within, format!("{within} within")),
            (waiting, format!("{waiting} still to be measured")),
        ];
        let told: Vec<String> = told.into_iter().filter(|(count, _)| *count > 0).map(|(_, words)| words).collect();
        let colon = if told.is_empty() { "" } else { ": " };
        format!("{}{colon}{}", counted(self.books.len(), "book"), told.join(", "))
    }
}

/// Which of two books stands first, if it is not for their titles to say. What has no figures stands behind what has
/// them, but for the order by verdicts.
fn compare(order: BookOrder, one: &ListedBook, other: &ListedBook) -> Ordering {
    let by = |value: fn(&BookFigures) -> i64| {
        let of = |book: &ListedBook| book.figures().map_or(i64::MAX, value);
        of(one).cmp(&of(other))
    };
    match order {
        BookOrder::Verdict => one.rank().cmp(&other.rank()),
        BookOrder::Title => Ordering::Equal,
        BookOrder::Words => by(|figures| -(figures.words as i64)),
        BookOrder::Fit => by(|figures| figures.lines_left),
        BookOrder::Terms => by(|figures| figures.terms.0 as i64 - figures.terms.1 as i64),
    }
}
