//! `measure`, `fit` and `level`: drafts and the records of feeds in, pages out, in the order in which they were named.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::setup::{Setup, SetupArgs, Setups, check_length, drafts_of, read_copy};
use super::sources::{FeedSetup, Source, Sources, setups_of};
use super::{Answer, Asked, Format, OutputReader, Unread, columns, complain, print, say_aside};
use crate::draft::Draft;
use crate::feeds::onix::OnixRecord;
use crate::files::{self, Error, ReadDraft};
use crate::level::familiar::FamiliarWords;
use crate::level::lists::Lists;
use crate::print::json::Style;
use crate::print::level_data::LevelDetail;
use crate::print::report_data::ReportJson;
use crate::print::visible::visible;
use crate::print::{json, level, level_data, sizes, sizes_data, text};
use crate::report::levels::Levels;
use crate::report::mends::ArtAdvice;
use crate::report::sizes::Sizes;
use crate::report::{self, Report};
use crate::terms::answers::{self, AnswersInCopy};

/// Drafts measured before any of them is printed: enough to keep every core busy, few enough to hold in memory.
pub(super) const AT_ONCE: usize = 128;

/// What is printed of each draft.
#[derive(Debug)]
pub(super) enum View {
    /// The report, and how everything is counted where that is asked for: below a page, and within JSON.
    Report(bool),
    /// The copy at every size, and what a line costs.
    Sizes,
    /// The reading level, by the familiar words that are named or by the lists that are built in, and how each measure
    /// counts where that is asked for.
    Levels(Option<FamiliarWords>, bool),
}

impl View {
    /// How much JSON tells of a level.
    pub(super) fn detail(&self) -> LevelDetail {
        match self {
            Self::Report(true) | Self::Levels(_, true) => LevelDetail::Counted,
            Self::Levels(_, false) => LevelDetail::Behind,
            Self::Report(false) | Self::Sizes => LevelDetail::Values,
        }
    }

    /// The text below all pages.
    fn below(&self, columns: usize) -> String {
        match self {
            Self::Report(true) => text::rules(columns),
            Self::Report(false) => text::where_counted(columns),
            Self::Levels(_, false) => level::where_counted(columns),
            Self::Levels(_, true) | Self::Sizes => String::new(),
        }
    }
}

pub(super) fn run(args: &Asked, setup: &SetupArgs, view: View) -> Result<Answer, Error> {
    let drafts = drafts_of(&args.drafts)?;
    let run = MeasureRun::new(args, setup, view, &drafts)?;
    let mut printer = PagePrinter::new(args.format.unwrap_or_default(), &drafts);
    let mut sources = Sources::of(&drafts, setup);
    let mut measured = Vec::new();
    loop {
        let batch: Vec<Source> = sources.by_ref().take(AT_ONCE).collect();
        if batch.is_empty() {
            break;
        }
        // The batch before is printed while this one is measured.
        let (next, reader) = rayon::join(
            || batch.into_par_iter().with_max_len(1).map(|source| run.measured(source)).collect(),
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
        Ok(Self { args, view, setups: setups_of(drafts, setup)?, columns })
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

    /// Measures a draft.
    fn measured_file(&self, path: &Path) -> Result<MeasuredPage, Unread> {
        let unread = |why| Unread { path: path.to_path_buf(), why };
        let file = read_copy(path).map_err(unread)?;
        self.measure(path, &file, || self.setups.of_draft(path)).map_err(unread)
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
            View::Report(_) => {}
            View::Sizes => return self.sizes(draft, path, setup),
            View::Levels(familiar, is_counted) => {
                return self.levels(&levels(draft, setup, familiar.as_ref()), path, source, *is_counted);
            }
        }
        let mut report = report::assess(draft, &setup.brief, &setup.faces);
        report.panel_notes.extend(setup.panel_note.clone());
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
        if !draft.has_copy() {
            say_aside(&visible(&format!("{name}: there is no copy to set")));
        }
        MeasuredPage { page, answer: if found.fits() && draft.has_copy() { Answer::Within } else { Answer::Outside } }
    }

    fn levels(&self, found: &Levels, path: &Path, source: &str, is_counted: bool) -> MeasuredPage {
        let name = path.display().to_string();
        let page = match self.args.format.unwrap_or_default() {
            Format::Text => level::written(found, &name, source, is_counted, self.columns),
            Format::Json => level_data::json(found, &name, self.view.detail(), Style::Pretty),
            Format::Jsonl => level_data::json(found, &name, self.view.detail(), Style::Compact),
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
            let report = ReportJson::of(report, advice, self.view.detail(), (&name, &brief)).with_answers(answers);
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
    /// The worst answer of all drafts printed so far.
    answer: Answer,
}

impl PagePrinter {
    fn new(format: Format, drafts: &[PathBuf]) -> Self {
        let are_many = drafts.len() > 1 || drafts.iter().any(|draft| files::is_feed(draft));
        let in_array = format == Format::Json && are_many;
        Self { format, in_array, printed: 0, answer: Answer::Within }
    }

    /// Prints the pages of a batch at once, and reports the drafts that could not be measured.
    fn print(&mut self, batch: Vec<Result<MeasuredPage, Unread>>) -> Result<OutputReader, Error> {
        let mut pages = String::new();
        for result in batch {
            self.answer = self.answer.max(result.as_ref().map_or(Answer::NotUnderstood, |measured| measured.answer));
            match result {
                Ok(measured) => self.add(&measured.page, &mut pages),
                Err(unread) => {
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

    /// Ends the output: prints the text below all pages, or closes the JSON array.
    fn finish(&self, below: &str) -> Result<(), Error> {
        if self.format == Format::Text && self.printed > 0 {
            print(below)?;
        }
        if self.in_array {
            print(if self.printed == 0 { "[]\n" } else { "\n]\n" })?;
        }
        Ok(())
    }
}
