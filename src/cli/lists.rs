//! The list that `measure` makes of many drafts: every one has a row, also a book without drafts or with a broken
//! brief.

use std::collections::HashSet;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use clap::ValueEnum;
use rayon::prelude::*;

use super::measure::AT_ONCE;
use super::setup::{INPUT, Setup, SetupArgs, Setups, drafts_of, read_draft};
use super::sources::{FeedSetup, Source, Sources, setups_of};
use super::{Answer, Unread, columns, print, print_bytes, say_aside};
use crate::draft::Draft;
use crate::feeds::onix::OnixRecord;
use crate::files::{self, Error};
use crate::lists::row::{ListRow, RowFigures, RowState, RowVerdict};
use crate::lists::{page, table, web};
use crate::print::text;
use crate::print::visible::visible;
use crate::report;
use crate::report::comparison::queries_left;
use crate::units::nouns::counted;

/// The forms of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ListForm {
    Text,
    Csv,
    Xlsx,
    Html,
}

impl ListForm {
    /// The form that was asked for, or else that of the file's ending.
    pub(super) fn of(output: &Path, asked: Option<Self>) -> Result<Self, Error> {
        let named = match output.extension().map(|ending| ending.to_string_lossy().to_lowercase()).as_deref() {
            Some("csv") => Some(Self::Csv),
            Some("xlsx") => Some(Self::Xlsx),
            Some("html") => Some(Self::Html),
            _ => None,
        };
        asked.or(named).ok_or_else(|| {
            Error::new(format!("cannot tell the form of {}", output.display()))
                .with_remedy("end the file's name in .csv, .xlsx or .html, or say --format csv, xlsx or html")
        })
    }

    /// The list that a form of `measure` is; none for pages and JSON.
    pub(super) fn asked(format: MeasureFormat) -> Option<Self> {
        match format {
            MeasureFormat::Csv => Some(Self::Csv),
            MeasureFormat::Xlsx => Some(Self::Xlsx),
            MeasureFormat::Html => Some(Self::Html),
            MeasureFormat::Text | MeasureFormat::Json | MeasureFormat::Jsonl => None,
        }
    }
}

/// The list of the drafts that are named, to a file or to standard output.
pub(super) fn run(
    named: &[PathBuf],
    setup: &SetupArgs,
    form: ListForm,
    output: Option<&Path>,
) -> Result<Answer, Error> {
    let output = output.filter(|output| output.as_os_str() != INPUT);
    if form == ListForm::Xlsx && output.is_none() && io::stdout().is_terminal() {
        return Err(Error::new("a spreadsheet's file cannot be shown in a terminal")
            .with_remedy("name the file to write, such as -o list.xlsx"));
    }
    if let Some(output) = output {
        files::check_folder_of(output)?;
        // Whether it may be written is known before anything is measured.
        if form == ListForm::Csv { files::check_free(output) } else { files::check_list(output) }?;
    }
    let drafts = each_once(drafts_of(named)?);
    let holds_feeds = drafts.iter().any(|draft| files::is_feed(draft));
    let (setups, progress) = (setups_of(&drafts, setup)?, Progress::of((!holds_feeds).then_some(drafts.len())));
    let mut rows: Vec<ListRow> = Vec::with_capacity(drafts.len());
    let mut sources = Sources::of(&drafts, setup);
    loop {
        let batch: Vec<Source> = sources.by_ref().take(AT_ONCE).collect();
        if batch.is_empty() {
            break;
        }
        let measured = batch.into_par_iter().with_max_len(1).map(|source| {
            let row = match source {
                Source::File(path) => row(&path, &setups, form),
                Source::Record(name, record, feed) => row_of_record(&name, &record, &feed, form),
                Source::Unread(Unread { path, why }) => row_of_nothing(&path, &why),
            };
            progress.step();
            row
        });
        rows.par_extend(measured);
        setups.clear();
    }
    progress.end();
    // Sorted once all are known, each kind in the order in which the drafts were named.
    rows.sort_by_key(ListRow::verdict);
    // On a screen the page tells it in its row; whoever reads a file or a pipe is told here too.
    if form != ListForm::Text || !io::stdout().is_terminal() {
        let named: HashSet<&Path> = drafts.iter().map(PathBuf::as_path).collect();
        rows.iter().filter_map(|row| unread(row, &named)).for_each(|told| say_aside(&visible(&told)));
    }
    write(&rows, form, output)?;
    Ok(match rows.first().map(ListRow::verdict) {
        Some(RowVerdict::Unread) => Answer::NotUnderstood,
        Some(RowVerdict::Outside) => Answer::Outside,
        Some(RowVerdict::Within) | None => Answer::Within,
    })
}

/// The drafts, each once: by its name in its folder, whichever way the folder is named.
fn each_once(drafts: Vec<PathBuf>) -> Vec<PathBuf> {
    let mut known = HashSet::new();
    let mut is_new = |draft: &PathBuf| {
        let folder = draft.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        known.insert((files::real_path(folder), draft.file_name().map(|name| name.to_os_string())))
    };
    drafts.into_iter().filter(|draft| is_new(draft)).collect()
}

/// Why the draft of a row could not be read. A record, which is not among the files that were named, is told by its
/// name.
fn unread(row: &ListRow, named: &HashSet<&Path>) -> Option<String> {
    match &row.state {
        RowState::Unread(why) if named.contains(Path::new(&row.draft)) => Some(why.clone()),
        RowState::Unread(why) => Some(format!("{}: {why}", row.draft)),
        RowState::Measured(_) => None,
    }
}

/// Writes or prints a list; beside a file that is written, what the list comes to is printed.
fn write(rows: &[ListRow], form: ListForm, output: Option<&Path>) -> Result<(), Error> {
    let written = match form {
        ListForm::Text => return print(&page::written(rows, columns())).map(|_| ()),
        ListForm::Csv => table::csv(rows).into_bytes(),
        ListForm::Xlsx => table::xlsx(rows),
        ListForm::Html => web::written(rows).into_bytes(),
    };
    match (output, form) {
        // A terminal would act on the mark and the line endings that a spreadsheet asks for.
        (None, ListForm::Csv) if io::stdout().is_terminal() => {
            let text = String::from_utf8_lossy(&written).replace("\r\n", "\n");
            return print(text.trim_start_matches('\u{feff}')).map(|_| ());
        }
        (None, _) => return print_bytes(&written).map(|_| ()),
        // CSV has no room for the mark by which a file of ours is known, so a file that is there is left as it is.
        (Some(path), ListForm::Csv) => files::write_new(path, &String::from_utf8_lossy(&written))?,
        (Some(path), _) => files::write_list(path, &written)?,
    }
    print(&page::below(rows, columns())).map(|_| ())
}

/// The row of a feed that cannot be read, or not any further.
fn row_of_nothing(path: &Path, why: &Error) -> ListRow {
    let (draft, state) = (path.display().to_string(), RowState::Unread(why.to_string()));
    ListRow { draft, brief: String::new(), title: String::new(), isbn: String::new(), is_record: false, state }
}

/// The row of a record of a feed.
fn row_of_record(name: &Path, record: &OnixRecord, feed: &FeedSetup, form: ListForm) -> ListRow {
    let book = record.book(&feed.base).map_err(Error::new);
    let found = book.and_then(|book| feed.of_record(&book).map(|setup| (book, setup)));
    let (book, setup) = match found {
        Ok(found) => found,
        // A record that cannot be measured still tells which book it is of.
        Err(why) => {
            let nothing = row_of_nothing(name, &why);
            return ListRow { title: record.title(), isbn: record.isbn(), is_record: true, ..nothing };
        }
    };
    let state = match figures(name, &book.draft, &setup, form) {
        Ok(figures) => RowState::Measured(Box::new(figures)),
        Err(why) => RowState::Unread(why.to_string()),
    };
    let (title, isbn) = (setup.brief.book.title.clone(), setup.brief.book.isbn.clone().unwrap_or_default());
    let (draft, brief) = (name.display().to_string(), setup.path.display().to_string());
    ListRow { draft, brief, title, isbn, is_record: true, state }
}

fn row(path: &Path, setups: &Setups, form: ListForm) -> ListRow {
    // A book without a draft is named by its folder.
    let folder = if path.is_dir() { path } else { path.parent().unwrap_or(Path::new("")) };
    let known = setups.of_folder(folder);
    let (brief, title, isbn) = match &known {
        Ok(setup) => {
            let book = &setup.brief.book;
            (setup.path.display().to_string(), book.title.clone(), book.isbn.clone().unwrap_or_default())
        }
        // A brief that cannot be used still tells which book the draft is of.
        Err(_) => {
            let brief = files::find_brief(folder);
            let title = brief.as_deref().map_or_else(|_| String::new(), files::title_of_broken);
            (brief.map_or_else(|_| String::new(), |brief| brief.display().to_string()), title, String::new())
        }
    };
    let measured = read_draft(path).and_then(|source| figures(path, &source, &*known?, form));
    let state = match measured {
        Ok(figures) => RowState::Measured(Box::new(figures)),
        Err(error) => RowState::Unread(error.to_string()),
    };
    ListRow { draft: path.display().to_string(), brief, title, isbn, is_record: false, state }
}

fn figures(path: &Path, source: &str, setup: &Setup, form: ListForm) -> Result<RowFigures, Error> {
    let draft = &Draft::read(source);
    setup.check_letters(draft)?;
    let stet = if form == ListForm::Text { None } else { Some(files::read_stet(&setup.path)?) };
    setup.guarded(|| {
        let (brief, faces) = (&setup.brief, &setup.faces);
        let report = report::assess(draft, brief, faces);
        let mut figures = RowFigures::of(&report);
        figures.notes = text::first_notes(&report.notes, source);
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        figures.queries = stet.as_ref().map(|stet| queries_left(draft, brief, faces, (&name, stet)));
        if form == ListForm::Html { figures.with_panel(&report, draft, brief, faces) } else { figures }
    })
}

/// How long a list may take before its progress is told.
const PATIENCE: Duration = Duration::from_secs(1);
/// How long one figure of the progress stands.
const STANDS: Duration = Duration::from_millis(200);

/// How far a list has come, told on standard error where somebody watches.
struct Progress {
    /// How many drafts there are; none where records are still to be read.
    all: Option<usize>,
    done: AtomicUsize,
    is_watched: bool,
    begun: Instant,
    /// When something was last told, and how long that line is.
    told: Mutex<(Option<Instant>, usize)>,
}

impl Progress {
    fn of(all: Option<usize>) -> Self {
        let (done, is_watched) = (AtomicUsize::new(0), io::stderr().is_terminal());
        Self { all, done, is_watched, begun: Instant::now(), told: Mutex::default() }
    }

    /// One more draft is done.
    fn step(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        if !self.is_watched || self.begun.elapsed() < PATIENCE {
            return;
        }
        let Ok(mut told) = self.told.try_lock() else { return };
        if told.0.is_none_or(|last| last.elapsed() >= STANDS) {
            let line = match self.all {
                Some(all) => format!("{done} of {} measured", counted(all, "draft")),
                None => format!("{} measured", counted(done, "record")),
            };
            // Where standard error is gone, nobody watches any more.
            let _ = write!(io::stderr(), "\r{line}");
            *told = (Some(Instant::now()), line.len());
        }
    }

    /// Takes the line away again.
    fn end(self) {
        let (_, length) = self.told.into_inner().unwrap_or_else(PoisonError::into_inner);
        if length > 0 {
            let _ = write!(io::stderr(), "\r{:length$}\r", "");
        }
    }
}

/// The forms of what `measure` prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum MeasureFormat {
    /// A page to read
    Text,
    /// One JSON object, or an array where there are several drafts
    Json,
    /// One JSON object a line
    Jsonl,
    /// A line for each draft, for a spreadsheet
    Csv,
    /// A spreadsheet's own file with a row for each draft
    Xlsx,
    /// A page for a browser with a small panel for each draft
    Html,
}
