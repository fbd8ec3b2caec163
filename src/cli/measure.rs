//! `measure`, `fit` and `level`: drafts in, pages out, in the order in which they were named.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;

use super::{Answer, Asked, Format, Reader, complain, print};
use crate::brief::typography::{Font, Leading};
use crate::brief::{Brief, bounds, lengths};
use crate::draft::Draft;
use crate::files::{self, Error};
use crate::print::json::{ReportJson, Style};
use crate::print::{json, level, sizes, text};
use crate::report::levels::Levels;
use crate::report::sizes::Sizes;
use crate::report::{self, Report};
use crate::setting::Faces;
use crate::text::familiar::{FamiliarWords, Lists};
use crate::units::Length;

/// Drafts measured before any of them is printed: enough to keep every core busy, few enough to hold at once.
const AT_ONCE: usize = 256;

/// Columns of a page that does not go to a terminal.
const COLUMNS: usize = 80;

/// The name under which standard input is asked for.
const INPUT: &str = "-";

/// What is printed of each draft.
#[derive(Debug)]
pub(super) enum View {
    /// The report.
    Report,
    /// The copy at every size, and what a line costs.
    Sizes,
    /// The reading level, by the familiar words that are named or by the lists that are built in.
    Levels(Option<FamiliarWords>),
}

pub(super) fn run(args: &Asked, tried: Tried, view: View) -> Result<Answer, Error> {
    let drafts = drafts_of(args)?;
    let bench = Bench::new(args, tried, view)?;
    let mut press = Press::new(args.format, drafts.len());
    let mut answer = Answer::Within;
    for batch in drafts.chunks(AT_ONCE) {
        let measured: Vec<_> = batch.par_iter().map(|draft| bench.measure(draft)).collect();
        for result in measured {
            match result {
                Ok(measured) => {
                    answer = answer.max(measured.answer);
                    if press.print(&measured.page)? == Reader::IsGone {
                        return Ok(Answer::Within);
                    }
                }
                Err(error) => {
                    complain(&error);
                    answer = Answer::NotUnderstood;
                }
            }
        }
        bench.clear();
    }
    let rules = if matches!(bench.view, View::Report) { text::rules(bench.columns) } else { String::new() };
    press.finish(&rules)?;
    Ok(answer)
}

/// Every draft that is asked for, folders opened.
fn drafts_of(args: &Asked) -> Result<Vec<PathBuf>, Error> {
    if args.drafts.is_empty() {
        return book_here();
    }
    let mut drafts = Vec::new();
    for named in &args.drafts {
        if named.as_os_str() == INPUT || !named.is_dir() {
            drafts.push(named.clone());
        } else {
            drafts.extend(some(files::drafts_in(named)?, named)?);
        }
    }
    Ok(drafts)
}

/// The drafts of the book in the working folder, or in its folder `drafts`.
fn book_here() -> Result<Vec<PathBuf>, Error> {
    let folders = [Path::new("."), Path::new("drafts")];
    let Some(folder) = folders.into_iter().find(|folder| folder.join(files::BRIEF_NAME).is_file()) else {
        return Err(Error::new(
            "there is no book in this folder: no brief.yaml here or in drafts. Go to the book's folder, or make a new book with \
             `blurbwright start FOLDER`, or see `blurbwright --help`",
        ));
    };
    let drafts = some(files::drafts_in(folder)?, folder)?;
    Ok(drafts.into_iter().map(|draft| draft.strip_prefix(".").map(Path::to_path_buf).unwrap_or(draft)).collect())
}

fn some(drafts: Vec<PathBuf>, folder: &Path) -> Result<Vec<PathBuf>, Error> {
    if drafts.is_empty() {
        return Err(Error::new(format!(
            "there is no draft in {}; a draft is a file that ends in .md",
            folder.display()
        )));
    }
    Ok(drafts)
}

/// A brief with its fonts, ready for measuring.
struct Setup {
    brief: Brief,
    faces: Faces,
    path: PathBuf,
}

/// Where drafts are measured: what was asked of all of them, and the briefs that were read for some.
struct Bench<'a> {
    args: &'a Asked,
    view: View,
    tried: Tried,
    named: Option<Arc<Setup>>,
    by_folder: Mutex<HashMap<PathBuf, Arc<Setup>>>,
    columns: usize,
}

/// Another setting than the brief's.
#[derive(Debug, Default)]
pub(super) struct Tried {
    size: Option<Length>,
    leading: Option<Leading>,
    font: Option<Font>,
}

/// One draft, measured.
struct Measured {
    page: String,
    answer: Answer,
}

impl<'a> Bench<'a> {
    fn new(args: &'a Asked, tried: Tried, view: View) -> Result<Self, Error> {
        let named = args.brief.as_deref().map(|path| Setup::read(path, &tried)).transpose()?.map(Arc::new);
        let columns = terminal_size::terminal_size().map_or(COLUMNS, |(width, _)| usize::from(width.0));
        Ok(Self { args, view, tried, named, by_folder: Mutex::default(), columns })
    }

    fn measure(&self, path: &Path) -> Result<Measured, Error> {
        let is_input = path.as_os_str() == INPUT;
        let source = if is_input { files::read_draft_from_input()? } else { files::read_draft(path)? };
        let setup = self.setup_for(if is_input { Path::new("") } else { path.parent().unwrap_or(Path::new("")) })?;
        let draft = Draft::read(&source);
        match &self.view {
            View::Report => {}
            View::Sizes => return Ok(self.sizes(&draft, path, &setup)),
            View::Levels(familiar) => return Ok(self.levels(&draft, path, &source, &setup, familiar.as_ref())),
        }
        let report = report::assess(&draft, &setup.brief, &setup.faces);
        let answer = if report.verdict.is_within() { Answer::Within } else { Answer::Outside };
        Ok(Measured { page: self.page(&report, path, &source, &setup), answer })
    }

    fn sizes(&self, draft: &Draft, path: &Path, setup: &Setup) -> Measured {
        let found = Sizes::of(draft, &setup.brief, &setup.faces);
        let name = path.display().to_string();
        let page = match self.args.format {
            Format::Text => sizes::written(&found, &name),
            Format::Json => sizes::json(&found, &name, Style::Pretty),
            Format::Jsonl => sizes::json(&found, &name, Style::Compact),
        };
        let fits = found.rows.iter().all(|row| row.fits || !row.own);
        Measured { page, answer: if fits { Answer::Within } else { Answer::Outside } }
    }

    fn levels(
        &self,
        draft: &Draft,
        path: &Path,
        source: &str,
        setup: &Setup,
        familiar: Option<&FamiliarWords>,
    ) -> Measured {
        let lists = match familiar {
            Some(words) => Lists { dale_chall: Some(words), spache: Some(words) },
            None => Lists::built_in(),
        };
        let found = Levels::of(draft, &setup.brief.book, lists);
        let name = path.display().to_string();
        let page = match self.args.format {
            Format::Text => level::written(&found, &name, source, self.columns),
            Format::Json => level::json(&found, &name, Style::Pretty),
            Format::Jsonl => level::json(&found, &name, Style::Compact),
        };
        Measured { page, answer: Answer::Within }
    }

    fn page(&self, report: &Report, path: &Path, source: &str, setup: &Setup) -> String {
        let name = path.display().to_string();
        let as_json = |style| json::written(&ReportJson::of(report, &name, &setup.path.display().to_string()), style);
        match self.args.format {
            Format::Text => {
                let page = text::Page { path: &name, title: &setup.brief.book.title, source, columns: self.columns };
                text::written(report, &page)
            }
            Format::Json => as_json(Style::Pretty),
            Format::Jsonl => as_json(Style::Compact),
        }
    }

    /// The brief that was named, or the one of the draft's folder.
    fn setup_for(&self, folder: &Path) -> Result<Arc<Setup>, Error> {
        if let Some(named) = &self.named {
            return Ok(Arc::clone(named));
        }
        if let Some(known) = self.known().get(folder) {
            return Ok(Arc::clone(known));
        }
        let setup = Arc::new(Setup::read(&files::find_brief(folder)?, &self.tried)?);
        self.known().insert(folder.to_path_buf(), Arc::clone(&setup));
        Ok(setup)
    }

    /// Forgets the briefs, so that a list of thousands of books takes no more room than a short one.
    fn clear(&self) {
        self.known().clear();
    }

    fn known(&self) -> std::sync::MutexGuard<'_, HashMap<PathBuf, Arc<Setup>>> {
        self.by_folder.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Setup {
    fn read(path: &Path, tried: &Tried) -> Result<Self, Error> {
        let mut brief = files::read_brief(path)?;
        brief.typography = brief.typography.tried(tried.size, tried.leading, tried.font.as_ref());
        let faces = files::read_faces(&brief)?;
        Ok(Self { brief, faces, path: path.to_path_buf() })
    }
}

impl Tried {
    /// What was asked for by options, each of which may be missing.
    pub(super) fn of(size: Option<&str>, leading: Option<&str>, font: Option<&str>) -> Result<Self, Error> {
        let refuse = |option: &str, problem: String| Error::new(format!("--{option}: {problem}"));
        let read_size = |text| lengths::length(text).and_then(|size| bounds::SIZE.check(size));
        Ok(Self {
            size: size.map(read_size).transpose().map_err(|problem| refuse("size", problem))?,
            leading: leading.map(Leading::parse).transpose().map_err(|problem| refuse("leading", problem))?,
            font: font.map(|name| Font::named(name, Path::new(""))),
        })
    }
}

/// Prints pages one after another, in the form that was asked for.
struct Press {
    format: Format,
    /// Several objects of JSON stand in an array.
    in_array: bool,
    printed: usize,
}

impl Press {
    fn new(format: Format, drafts: usize) -> Self {
        Self { format, in_array: format == Format::Json && drafts > 1, printed: 0 }
    }

    fn print(&mut self, page: &str) -> Result<Reader, Error> {
        let before = match (self.format, self.in_array, self.printed) {
            (Format::Json, true, 0) => "[\n",
            (Format::Json, true, _) => ",\n",
            _ => "",
        };
        let after = if self.format == Format::Text || self.in_array { "" } else { "\n" };
        self.printed += 1;
        print(&format!("{before}{page}{after}"))
    }

    /// Prints what stands below all pages of text, or ends the array.
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
