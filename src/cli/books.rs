//! What is in a folder before the desk opens: a book, books, drafts without a brief, or nothing; and the measuring of
//! the books for their list, beside the screen.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::Sender;
use std::thread;

use super::aside::Message;
use super::setup::{SetupArgs, Setups};
use crate::beginning::books::{BookFigures, BookStanding, ListedBook};
use crate::draft::Draft;
use crate::files::{self, Error};
use crate::print::words::told;
use crate::report;
use crate::units::nouns::sentence;

/// What a folder holds.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum FolderContent {
    /// A book with its drafts, or drafts of a book above.
    Book,
    /// A book without a draft; its folder.
    WithoutDrafts(PathBuf),
    /// Books, one folder below or in this folder too.
    Books(PathBuf),
    /// No book: the names of the drafts that are there, and whether there are other files.
    Nothing {
        /// The names of the drafts.
        drafts: Vec<String>,
        /// Whether there is anything else that is not hidden.
        has_other_files: bool,
    },
}

/// Says what a folder holds. In a folder that is no book, one book in a folder `drafts` counts as the folder's own.
pub(super) fn look(folder: &Path) -> Result<FolderContent, Error> {
    let below = below(folder)?;
    let (is_book, drafts_folder) = (files::has_brief(folder), folder.join("drafts"));
    if !is_book && below == [drafts_folder.clone()] {
        return look(&drafts_folder);
    }
    if !below.is_empty() {
        return Ok(FolderContent::Books(folder.to_path_buf()));
    }
    if is_book {
        let has_drafts = !files::own_drafts(folder)?.is_empty();
        let without = || FolderContent::WithoutDrafts(folder.to_path_buf());
        return Ok(if has_drafts { FolderContent::Book } else { without() });
    }
    let (drafts, others): (Vec<PathBuf>, Vec<PathBuf>) =
        files::entries_of(folder)?.into_iter().partition(|path| files::is_draft_name(path) && !path.is_dir());
    if !drafts.is_empty() && files::find_brief(folder).is_ok() {
        return Ok(FolderContent::Book);
    }
    let name = |path: PathBuf| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let drafts = drafts.into_iter().map(name).collect();
    Ok(FolderContent::Nothing { drafts, has_other_files: !others.is_empty() })
}

/// The folders of books one below a folder, in the order of their names.
fn below(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    // A link to a folder is not followed: it may lead back up.
    let is_folder = |path: &PathBuf| fs::symlink_metadata(path).is_ok_and(|there| there.is_dir());
    Ok(files::entries_of(folder)?.into_iter().filter(|path| is_folder(path) && files::has_brief(path)).collect())
}

/// The books of a folder for their list, none of them measured: the folder's own first.
pub(super) fn books_in(folder: &Path) -> Result<Vec<ListedBook>, Error> {
    let own = files::has_brief(folder).then(|| folder.to_path_buf());
    let listed = |path: PathBuf| ListedBook {
        name: path.file_name().map_or("this folder".into(), |name| name.to_string_lossy()).into_owned(),
        folder: path,
        standing: BookStanding::Waiting,
    };
    Ok(own.into_iter().chain(below(folder)?).map(listed).collect())
}

/// Measures the first draft of a book, the one that the desk opens with.
fn standing(folder: &Path) -> Result<BookStanding, Error> {
    let setup = Setups::new(&SetupArgs::default())?.of_folder(folder)?;
    let drafts = files::own_drafts(folder)?;
    let Some(first) = drafts.first() else {
        return Ok(BookStanding::WithoutDrafts(setup.brief.book.title.clone()));
    };
    let draft = Draft::read(&files::read_draft(first)?);
    setup.check_letters(&draft)?;
    let report = setup.guarded(|| report::assess(&draft, &setup.brief, &setup.faces))?;
    let cast = &report.fit.castoff;
    Ok(BookStanding::Measured(BookFigures {
        title: setup.brief.book.title.clone(),
        draft: first.file_stem().unwrap_or_default().to_string_lossy().into_owned(),
        drafts: drafts.len(),
        outside: report.verdict.outside().map(|check| told(check, &report)).collect(),
        words: report.length.words,
        lines_left: cast.lines_spare as i64 - cast.lines_over as i64,
        terms: (report.coverage.covered(), report.coverage.wanted()),
    }))
}

/// Books that are measured on threads of their own, until the value is dropped.
pub(super) struct BookMeasurer {
    is_over: Arc<AtomicBool>,
}

impl BookMeasurer {
    /// Starts to measure books, given by their numbers and folders. One core is left to the screen.
    pub(super) fn start(books: Vec<(usize, PathBuf)>, sender: &Sender<Message>) -> Self {
        let is_over = Arc::new(AtomicBool::new(false));
        let (books, next) = (Arc::new(books), Arc::new(AtomicUsize::new(0)));
        let cores = thread::available_parallelism().map_or(1, usize::from);
        for _ in 0..cores.saturating_sub(1).clamp(1, books.len().max(1)) {
            let (books, next, is_over) = (Arc::clone(&books), Arc::clone(&next), Arc::clone(&is_over));
            let sender = sender.clone();
            thread::spawn(move || {
                while let Some((number, folder)) = books.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let found = measured(folder);
                    let is_over = is_over.load(Ordering::Relaxed);
                    if is_over || sender.send(Message::BookMeasured(*number, found)).is_err() {
                        return;
                    }
                }
            });
        }
        Self { is_over }
    }
}

impl Drop for BookMeasurer {
    fn drop(&mut self) {
        self.is_over.store(true, Ordering::Relaxed);
    }
}

/// What is found of a book, also where the program itself is at fault.
fn measured(folder: &Path) -> BookStanding {
    let found = catch_unwind(AssertUnwindSafe(|| standing(folder)));
    match found {
        Ok(Ok(standing)) => standing,
        Ok(Err(error)) => BookStanding::Unread(sentence(&error.to_string())),
        Err(_) => BookStanding::Unread("It could not be measured, by a fault of the program.".to_owned()),
    }
}
