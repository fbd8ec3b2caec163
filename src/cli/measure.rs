//! `measure`, `fit` and `level`: drafts in, pages out, in the order in which they were named.

use std::path::Path;

use rayon::prelude::*;

use super::setup::{Setup, SetupArgs, Setups, check_length, drafts_of, read_draft};
use super::{Answer, Asked, Format, OutputReader, Unread, columns, complain, print};
use crate::draft::Draft;
use crate::files::Error;
use crate::level::familiar::FamiliarWords;
use crate::level::lists::Lists;
use crate::print::json::Style;
use crate::print::report_data::ReportJson;
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
    /// The report, and below it how everything is counted where that is asked for.
    Report(bool),
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
            Self::Levels(_, true) | Self::Sizes => String::new(),
        }
    }
}

pub(super) fn run(args: &Asked, setup: &SetupArgs, view: View) -> Result<Answer, Error> {
    let drafts = drafts_of(&args.drafts)?;
    let run = MeasureRun::new(args, setup, view)?;
    let mut printer = PagePrinter::new(args.format.unwrap_or_default(), drafts.len());
    let mut measured = Vec::new();
    for batch in drafts.chunks(AT_ONCE) {
        // The batch before is printed while this one is measured.
        let (next, reader) = rayon::join(
            || batch.par_iter().map(|draft| run.measured(draft)).collect(),
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
    fn new(args: &'a Asked, setup: &SetupArgs, view: View) -> Result<Self, Error> {
        let columns = columns();
        Ok(Self { args, view, setups: Setups::new(setup)?, columns })
    }

    fn measured(&self, path: &Path) -> Result<MeasuredPage, Unread> {
        let unread = |why| Unread { path: path.to_path_buf(), why };
        let source = read_draft(path).map_err(unread)?;
        self.measure(path, &source).map_err(unread)
    }

    fn measure(&self, path: &Path, source: &str) -> Result<MeasuredPage, Error> {
        if matches!(self.view, View::Sizes) {
            check_length(path, source, "try every size of")?;
        }
        let setup = self.setups.of_draft(path)?;
        let draft = Draft::read(source);
        setup.check_letters(&draft)?;
        setup.guarded(|| self.seen(&draft, path, source, &setup))
    }

    fn seen(&self, draft: &Draft, path: &Path, source: &str, setup: &Setup) -> MeasuredPage {
        match &self.view {
            View::Report(_) => {}
            View::Sizes => return self.sizes(draft, path, setup),
            View::Levels(familiar, is_counted) => {
                return self.levels(&levels(draft, setup, familiar.as_ref()), path, source, *is_counted);
            }
        }
        let report = report::assess(draft, &setup.brief, &setup.faces);
        let advice = ArtAdvice::of(&report, draft, &setup.brief, &setup.faces);
        let answers = answers::find(source, draft, &setup.brief.book);
        MeasuredPage {
            page: self.page((&report, &advice, &answers), path, source, setup),
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
        source: &str,
        setup: &Setup,
    ) -> String {
        let (name, brief) = (path.display().to_string(), setup.path.display().to_string());
        let as_json = |style| {
            let report = ReportJson::of(report, advice, &name, &brief).with_answers(answers);
            json::written(&report, style)
        };
        match self.args.format.unwrap_or_default() {
            Format::Text => {
                let page = text::ReportPage {
                    path: &name,
                    title: &setup.brief.book.title,
                    source,
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
    fn new(format: Format, drafts: usize) -> Self {
        let in_array = format == Format::Json && drafts > 1;
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
