//! `measure`, `fit` and `level`: drafts and the records of feeds in, pages out, in the order in which they were named.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::setup::{FeedSetup, Setup, SetupArgs, Setups, check_length, drafts_of, read_copy};
use super::{Answer, Asked, Format, OutputReader, Unread, columns, complain, print};
use crate::draft::Draft;
use crate::feeds::onix::OnixRecord;
use crate::files::{self, Error, ReadDraft};
use crate::level::familiar::FamiliarWords;
use crate::level::lists::Lists;
use crate::print::json::Style;
use crate::print::list::ListPage;
use crate::print::report_data::ReportJson;
use crate::print::{json, level, level_data, list, sizes, sizes_data, text};
use crate::report::levels::Levels;
use crate::report::mends::ArtAdvice;
use crate::report::sizes::Sizes;
use crate::report::{self, Report};
use crate::terms::answers::{self, AnswersInCopy};

/// Drafts measured before any of them is printed: enough to keep every core busy, few enough to hold in memory.
const AT_ONCE: usize = 128;

/// What is printed of each draft.
#[derive(Debug)]
pub(super) enum View {
    /// The report, and below it how everything is counted where that is asked for.
    Report(bool),
    /// One line for each draft, failing drafts first.
    List,
    /// The copy at every size, and what a line costs.
    Sizes,
    /// The reading level, by the familiar words that are named or by the lists that are built in, and how each measure
    /// counts where that is asked for.
    Levels(Option<FamiliarWords>, bool),
}

impl View {
    /// The text below all pages.
    fn below(&self, columns: usize) -> String {
        match self {
            Self::Report(true) => text::rules(columns),
            Self::Report(false) => text::where_counted(columns),
            Self::Levels(_, false) => level::where_counted(columns),
            Self::Levels(_, true) | Self::List | Self::Sizes => String::new(),
        }
    }
}

pub(super) fn run(args: &Asked, setup: &SetupArgs, view: View) -> Result<Answer, Error> {
    let drafts = drafts_of(&args.drafts)?;
    let run = MeasureRun::new(args, setup, view, &drafts)?;
    let mut printer = PagePrinter::new(args.format.unwrap_or_default(), &run.view, &drafts);
    let mut sources = Sources { drafts: drafts.iter(), setup, feed: None };
    let mut measured = Vec::new();
    loop {
        let batch: Vec<Source> = sources.by_ref().take(AT_ONCE).collect();
        if batch.is_empty() {
            break;
        }
        // The batch before is printed while this one is measured.
        let (next, reader) = rayon::join(
            || batch.into_par_iter().map(|source| run.measured(source)).collect(),
            || printer.print(std::mem::take(&mut measured)),
        );
        if reader? == OutputReader::IsGone {
            return Ok(Answer::Within);
        }
        measured = next;
        run.setups.clear();
    }
    if printer.print(measured)? == OutputReader::IsGone {
        return Ok(Answer::Within);
    }
    printer.finish(&run.view.below(run.columns))?;
    Ok(printer.answer)
}

/// What one page is of.
enum Source {
    /// A draft's file, or standard input.
    File(PathBuf),
    /// A record of a feed, by the name of both.
    Record(PathBuf, OnixRecord, Arc<FeedSetup>),
    /// A feed that cannot be read, or not any further.
    Unread(Unread),
}

/// What was asked for, in order: files, and for each feed its records.
struct Sources<'a> {
    drafts: std::slice::Iter<'a, PathBuf>,
    setup: &'a SetupArgs,
    feed: Option<OpenFeed>,
}

/// A feed that is being read.
struct OpenFeed {
    path: PathBuf,
    setup: Arc<FeedSetup>,
    records: Box<dyn Iterator<Item = Result<OnixRecord, Error>>>,
    is_empty: bool,
}

impl OpenFeed {
    fn of(path: &Path, setup: &SetupArgs) -> Result<Self, Error> {
        let setup = Arc::new(FeedSetup::of(path, setup)?);
        Ok(Self { path: path.to_path_buf(), setup, records: Box::new(files::open_feed(path)?), is_empty: true })
    }

    fn next(&mut self) -> Option<Source> {
        let unread = |why| Source::Unread(Unread { path: self.path.clone(), why });
        let was_empty = std::mem::take(&mut self.is_empty);
        match self.records.next() {
            Some(Ok(record)) => {
                let name = format!("{}, {}", self.path.display(), record.name);
                Some(Source::Record(name.into(), record, Arc::clone(&self.setup)))
            }
            Some(Err(why)) => Some(unread(why)),
            None => was_empty.then(|| unread(Error::cannot("measure", &self.path, "there is no record in it"))),
        }
    }
}

impl Iterator for Sources<'_> {
    type Item = Source;

    fn next(&mut self) -> Option<Source> {
        loop {
            if let Some(feed) = &mut self.feed {
                if let Some(source) = feed.next() {
                    return Some(source);
                }
                self.feed = None;
            }
            let path = self.drafts.next()?;
            if !files::is_feed(path) {
                return Some(Source::File(path.clone()));
            }
            match OpenFeed::of(path, self.setup) {
                Ok(feed) => self.feed = Some(feed),
                Err(why) => return Some(Source::Unread(Unread { path: path.clone(), why })),
            }
        }
    }
}

/// One run over many drafts: what was asked for all of them, and the briefs read so far.
struct MeasureRun<'a> {
    args: &'a Asked,
    view: View,
    setups: Setups,
    columns: usize,
}

/// One draft, measured.
struct MeasuredPage {
    page: String,
    answer: Answer,
}

impl<'a> MeasureRun<'a> {
    fn new(args: &'a Asked, setup: &SetupArgs, view: View, drafts: &[PathBuf]) -> Result<Self, Error> {
        let columns = columns();
        let is_feeds = drafts.iter().all(|draft| files::is_feed(draft));
        let setups = if is_feeds { Setups::of_feeds(setup)? } else { Setups::new(setup)? };
        Ok(Self { args, view, setups, columns })
    }

    fn measured(&self, source: Source) -> Result<MeasuredPage, Unread> {
        match source {
            Source::File(path) => self.measured_file(&path),
            Source::Record(name, record, feed) => {
                let found = self.measured_record(&name, &record, &feed);
                found.map_err(|why| Unread { why: why.of_draft(&name), path: name })
            }
            Source::Unread(unread) => Err(unread),
        }
    }

    /// Measures a draft. In a list, an error names the draft that it stopped, since an error in one brief may stop
    /// several drafts.
    fn measured_file(&self, path: &Path) -> Result<MeasuredPage, Unread> {
        let unread = |why| Unread { path: path.to_path_buf(), why };
        let file = read_copy(path).map_err(unread)?;
        self.measure(path, &file, || self.setups.of_draft(path)).map_err(|error| match self.view {
            View::List => unread(error.of_draft(path)),
            _ => unread(error),
        })
    }

    fn measured_record(&self, name: &Path, record: &OnixRecord, feed: &FeedSetup) -> Result<MeasuredPage, Error> {
        let book = record.book(&feed.base).map_err(Error::new)?;
        let file = ReadDraft { text: book.draft.clone(), document: None };
        self.measure(name, &file, || feed.of_record(&book))
    }

    fn measure(
        &self,
        path: &Path,
        file: &ReadDraft,
        setup: impl FnOnce() -> Result<Arc<Setup>, Error>,
    ) -> Result<MeasuredPage, Error> {
        if matches!(self.view, View::Sizes) {
            check_length(path, &file.text, "try every size of")?;
        }
        let setup = setup()?;
        let draft = Draft::read(&file.text);
        setup.check_letters(&draft)?;
        setup.guarded(|| self.seen(&draft, path, file, &setup))
    }

    fn seen(&self, draft: &Draft, path: &Path, file: &ReadDraft, setup: &Setup) -> MeasuredPage {
        let source = &file.text;
        match &self.view {
            View::Report(_) | View::List => {}
            View::Sizes => return self.sizes(draft, path, setup),
            View::Levels(familiar, is_counted) => {
                return self.levels(&levels(draft, setup, familiar.as_ref()), path, source, *is_counted);
            }
        }
        let mut report = report::assess(draft, &setup.brief, &setup.faces);
        report.panel_notes.extend(setup.panel_note.clone());
        if matches!(self.view, View::List) {
            let line = list::line(&report, &path.display().to_string());
            return MeasuredPage { page: line, answer: Answer::from_verdict(&report.verdict) };
        }
        let advice = ArtAdvice::of(&report, draft, &setup.brief, &setup.faces);
        let answers = answers::find(source, draft, &setup.brief.book);
        MeasuredPage {
            page: self.page((&report, &advice, &answers), path, file, setup),
            answer: Answer::from_verdict(&report.verdict),
        }
    }

    fn sizes(&self, draft: &Draft, path: &Path, setup: &Setup) -> MeasuredPage {
        let found = Sizes::of(draft, &setup.brief, &setup.faces);
        let name = path.display().to_string();
        let page = match self.args.format.unwrap_or_default() {
            Format::Text => sizes::written(&found, &name, self.columns),
            Format::Json => sizes_data::json(&found, &name, Style::Pretty),
            Format::Jsonl => sizes_data::json(&found, &name, Style::Compact),
        };
        MeasuredPage { page, answer: if found.fits() { Answer::Within } else { Answer::Outside } }
    }

    fn levels(&self, found: &Levels, path: &Path, source: &str, is_counted: bool) -> MeasuredPage {
        let name = path.display().to_string();
        let page = match self.args.format.unwrap_or_default() {
            Format::Text => level::written(found, &name, source, is_counted, self.columns),
            Format::Json => level_data::json(found, &name, Style::Pretty),
            Format::Jsonl => level_data::json(found, &name, Style::Compact),
        };
        MeasuredPage { page, answer: Answer::Within }
    }

    fn page(
        &self,
        (report, advice, answers): (&Report, &ArtAdvice, &AnswersInCopy),
        path: &Path,
        file: &ReadDraft,
        setup: &Setup,
    ) -> String {
        let (name, brief) = (path.display().to_string(), setup.path.display().to_string());
        let as_json = |style| {
            let report = ReportJson::of(report, advice, &name, &brief).with_answers(answers);
            json::written(&report.with_document(file.document.as_deref()), style)
        };
        match self.args.format.unwrap_or_default() {
            Format::Text => {
                let page = text::ReportPage {
                    path: &name,
                    title: &setup.brief.book.title,
                    source: &file.text,
                    columns: self.columns,
                    advice,
                };
                text::written(report, &page) + &text::answers(answers, self.columns)
            }
            Format::Json => as_json(Style::Pretty),
            Format::Jsonl => as_json(Style::Compact),
        }
    }
}

fn levels(draft: &Draft, setup: &Setup, familiar: Option<&FamiliarWords>) -> Levels {
    let lists = match familiar {
        Some(words) => Lists::Own(words),
        None => Lists::Carried,
    };
    Levels::of(draft, &setup.brief.book, lists)
}

/// Prints pages one after another, in the form that was asked for.
struct PagePrinter {
    format: Format,
    /// Whether several JSON objects are printed as one array.
    in_array: bool,
    printed: usize,
    /// Lines of a list, held back until all are known, since failing drafts are printed first.
    list: Option<ListPage>,
    /// The worst answer of all drafts printed so far.
    answer: Answer,
}

impl PagePrinter {
    fn new(format: Format, view: &View, drafts: &[PathBuf]) -> Self {
        let list = matches!(view, View::List).then(ListPage::default);
        let are_many = drafts.len() > 1 || drafts.iter().any(|draft| files::is_feed(draft));
        let in_array = format == Format::Json && are_many;
        Self { format, in_array, printed: 0, list, answer: Answer::Within }
    }

    /// Prints the pages of a batch at once, and reports the drafts that could not be measured.
    fn print(&mut self, batch: Vec<Result<MeasuredPage, Unread>>) -> Result<OutputReader, Error> {
        let mut pages = String::new();
        for result in batch {
            self.answer = self.answer.max(result.as_ref().map_or(Answer::NotUnderstood, |measured| measured.answer));
            match (result, &mut self.list) {
                (Ok(measured), Some(list)) if measured.answer == Answer::Within => list.take_within(measured.page),
                (Ok(measured), Some(list)) => list.take_outside(measured.page),
                (Err(unread), Some(list)) => list.take_unread(&unread.why.to_string()),
                (Ok(measured), None) => self.add(&measured.page, &mut pages),
                (Err(unread), None) => {
                    complain(&unread.why);
                    if let Some(page) = unread.page(self.format) {
                        self.add(&page, &mut pages);
                    }
                }
            }
        }
        print(&pages)
    }

    fn add(&mut self, page: &str, pages: &mut String) {
        if self.in_array {
            pages.push_str(if self.printed == 0 { "[\n" } else { ",\n" });
        }
        self.printed += 1;
        pages.push_str(page);
        if self.format != Format::Text && !self.in_array {
            pages.push('\n');
        }
    }

    /// Ends the output: prints the text below all pages, closes the JSON array, or prints the list.
    fn finish(&mut self, below: &str) -> Result<(), Error> {
        if let Some(list) = self.list.take() {
            return print(&list.written()).map(|_| ());
        }
        if self.format == Format::Text && self.printed > 0 {
            print(below)?;
        }
        if self.in_array {
            print(if self.printed == 0 { "[]\n" } else { "\n]\n" })?;
        }
        Ok(())
    }
}
