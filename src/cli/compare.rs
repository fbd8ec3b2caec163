//! `compare`: drafts side by side, and for two of them every difference with what it did.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::keep::with_present;
use super::proof::{ProofDraft, drawn, on_face};
use super::setup::{SetupArgs, Setups, check_length, drafts_of, read_draft};
use super::{Answer, Unread, columns, each, print};
use crate::brief::place::CoverFace;
use crate::draft::Draft;
use crate::files::kept::copies_of;
use crate::files::{self, Error};
use crate::print::compare::{self, Between, ComparisonPage};
use crate::print::compare_data;
use crate::print::kept::KeptRow;
use crate::print::report_data::UnreadJson;
use crate::proof::page::{self, Compared};
use crate::proof::sheet::Sheet;
use crate::proof::{leaf, pdf, slug};
use crate::report::comparison::{self, Comparison, Entry, Order, queries_left};
use crate::report::differences::Differences;
use crate::report::effects::Effects;
use crate::setting::Faces;

/// What `compare` can be asked.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  blurbwright compare first.md second.md\n  blurbwright compare my-book --sort fit\n  \
                  blurbwright compare my-book --format csv"
)]
pub(super) struct CompareArgs {
    /// Drafts or folders of drafts; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    #[command(flatten)]
    setup: SetupArgs,
    /// What to print
    #[arg(long, value_enum, default_value_t)]
    format: ComparisonFormat,
    /// Put the kept copies of each draft beside it
    #[arg(long)]
    kept: bool,
    /// Write one page to send or to print, ending in .html or .pdf, and print nothing
    #[arg(short, long, value_name = "FILE", conflicts_with = "format")]
    output: Option<PathBuf>,
    /// The order of the drafts; without it, the order in which they are named
    #[arg(long, value_enum)]
    sort: Option<Sort>,
}

/// The forms of a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum ComparisonFormat {
    /// A page to read
    #[default]
    Text,
    /// One JSON object
    Json,
    /// A line for each draft, for a spreadsheet
    Csv,
}

/// What drafts can be sorted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Sort {
    /// The fewest words first
    Words,
    /// The lowest level first
    Level,
    /// The most terms first
    Terms,
    /// The most room left first
    Fit,
    /// By name
    Name,
}

impl Sort {
    fn order(self) -> Order {
        match self {
            Self::Words => Order::Words,
            Self::Level => Order::Level,
            Self::Terms => Order::Terms,
            Self::Fit => Order::Fit,
            Self::Name => Order::Name,
        }
    }
}

impl CompareArgs {
    /// Every draft that was asked for; with `--kept`, the kept copies of a draft stand before the draft.
    fn paths(&self) -> Result<Vec<PathBuf>, Error> {
        let drafts = drafts_of(&self.drafts)?;
        if !self.kept {
            return Ok(drafts);
        }
        let mut paths = Vec::new();
        for draft in drafts {
            paths.extend(copies_of(&draft)?.into_iter().map(|copy| copy.path));
            paths.push(draft);
        }
        Ok(paths)
    }
}

pub(super) fn run(args: &CompareArgs) -> Result<Answer, Error> {
    let output = args.output.as_deref().map(|output| PageForm::of(output).map(|form| (form, output))).transpose()?;
    if let Some((_, output)) = output {
        files::check_folder_of(output)?;
    }
    let paths = args.paths()?;
    if paths.len() < 2 {
        // What is one name and can be no draft at all is told first.
        paths.iter().filter(|path| files::is_feed(path)).try_for_each(|feed| read_draft(feed).map(|_| ()))?;
        let problem = "there is one draft alone, and nothing to hold it against";
        return Err(Error::new(problem).with_remedy("name two drafts or more"));
    }
    let setups = Setups::new(&args.setup)?;
    let (mut drafts, unread) = each(&paths, |path| {
        let source = read_draft(path)?;
        check_length(path, &source, "compare")?;
        ProofDraft::of(path, &source, &setups)
    });
    if drafts.len() < 2 {
        return Err(Error::new(match drafts.first() {
            Some(read) => format!("{} alone could be read, and there is nothing to hold it against", read.name),
            None => "no draft could be read, so there is nothing to compare".to_owned(),
        }));
    }
    // The order is settled before anything is compared, since the page numbers the drafts in this order.
    if let Some(sort) = args.sort {
        let order = comparison::ordered(&entries(&drafts)?, sort.order());
        drafts = in_order(drafts, &order);
    }
    let entries = entries(&drafts)?;
    let comparison = Comparison::of(&entries);
    // Drafts of several books have no common title, so their page has none.
    let names: Vec<String> = drafts.iter().map(|draft| draft.name.clone()).collect();
    let title = &drafts[0].setup.brief.book.title;
    let is_one_book = drafts.iter().all(|draft| draft.setup.brief.book.title == *title);
    let differences = match drafts.as_slice() {
        // The effect of a change is measured by one brief, so two drafts with different briefs have no differences to
        // show.
        [before, after] if before.setup.path == after.setup.path => Some(Differences::of(&before.draft, &after.draft)),
        _ => None,
    };
    let setup = &drafts[0].setup;
    let effects = differences.as_ref().map(|differences| Effects::of(differences, &setup.brief, &setup.faces));
    let between =
        differences.as_ref().zip(effects.as_ref()).map(|(differences, effects)| Between { differences, effects });
    let page =
        ComparisonPage { title: if is_one_book { title } else { "" }, names: &names, comparison: &comparison, between };
    if let Some((form, output)) = output {
        form.write(&drafts, &page, output)?;
        return Ok(answer(&drafts, &unread));
    }
    let unread_json: Vec<UnreadJson> = unread.iter().map(Unread::as_json).collect();
    print(&match args.format {
        ComparisonFormat::Text => compare::written(&page, columns()),
        ComparisonFormat::Json => format!("{}\n", compare_data::json(&page, &entries, &unread_json)),
        ComparisonFormat::Csv => compare_data::csv(&entries, &comparison),
    })?;
    Ok(answer(&drafts, &unread))
}

fn answer(drafts: &[ProofDraft], unread: &[Unread]) -> Answer {
    if !unread.is_empty() {
        return Answer::NotUnderstood;
    }
    drafts.iter().map(|draft| Answer::from_verdict(&draft.report.verdict)).max().unwrap_or(Answer::Within)
}

/// The file formats of a comparison page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum PageForm {
    Html,
    Pdf,
}

impl PageForm {
    fn of(output: &Path) -> Result<Self, Error> {
        match output.extension().map(|ending| ending.to_string_lossy().to_lowercase()).as_deref() {
            Some("html") => Ok(Self::Html),
            Some("pdf") => Ok(Self::Pdf),
            _ => Err(Error::new(format!("cannot tell the form of {}", output.display()))
                .with_remedy("end the file's name in .html or .pdf")),
        }
    }

    fn write(self, drafts: &[ProofDraft], page: &ComparisonPage<'_>, output: &Path) -> Result<(), Error> {
        let (captions, panels): (Vec<String>, Vec<Sheet<'_>>) = faces_alone(drafts)?.into_iter().unzip();
        let copies: Vec<&Draft> = drafts.iter().map(|draft| &draft.draft).collect();
        let histories = histories(drafts)?;
        let compared = Compared {
            page,
            drafts: &copies,
            panels: &panels,
            captions: &captions,
            histories: &histories,
            cautions: &slug::CAUTIONS[1..],
        };
        let faces = faces_of(drafts)?;
        let bytes = drawn(&panels, || match self {
            Self::Html => Ok(page::written(&compared).into_bytes()),
            Self::Pdf => Ok(pdf::written(&[leaf::sheet(&compared, &faces)])),
        })?;
        files::write_proof(output, &bytes)
    }
}

/// The panels of all drafts, then their front flaps, their back flaps and their spines, each with its caption.
fn faces_alone(drafts: &[ProofDraft]) -> Result<Vec<(String, Sheet<'_>)>, Error> {
    let mut all = Vec::new();
    for (number, draft) in drafts.iter().enumerate() {
        all.extend(draft.faces_alone()?.into_iter().map(|(face, sheet)| (face, number, sheet)));
    }
    let flaps = [CoverFace::FrontFlap, CoverFace::BackFlap].map(|flap| Some(flap.name()));
    let is_behind = |face: &Option<&str>| flaps.iter().position(|flap| flap == face).unwrap_or(flaps.len());
    all.sort_by_key(|(face, number, _)| (face.is_some(), is_behind(face), *number));
    let captioned = |(face, number, sheet): (Option<&'static str>, usize, _)| {
        (format!("{}. {}", number + 1, on_face(&drafts[number].name, face)), sheet)
    };
    Ok(all.into_iter().map(captioned).collect())
}

/// The fonts of every draft's brief.
fn faces_of(drafts: &[ProofDraft]) -> Result<Faces, Error> {
    let mut faces = Faces::built_in();
    for draft in drafts {
        faces.join(files::read_faces(&draft.setup.brief, &draft.setup.path)?);
    }
    Ok(faces)
}

/// The kept copies of every draft that has some, each list ending with the present draft.
fn histories(drafts: &[ProofDraft]) -> Result<Vec<(String, Vec<KeptRow>)>, Error> {
    let mut histories = Vec::new();
    for draft in drafts {
        let copies = with_present(Path::new(&draft.name), &draft.report)?;
        if copies.len() > 1 {
            histories.push((draft.name.clone(), copies));
        }
    }
    Ok(histories)
}

fn entries(drafts: &[ProofDraft]) -> Result<Vec<Entry<'_>>, Error> {
    drafts.iter().map(entry).collect()
}

fn entry(draft: &ProofDraft) -> Result<Entry<'_>, Error> {
    let stet = files::read_stet(&draft.setup.path)?;
    let name = Path::new(&draft.name).file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let queries = queries_left(&draft.draft, &draft.setup.brief, &draft.setup.faces, (&name, &stet));
    Ok(Entry { name: &draft.name, report: &draft.report, queries })
}

/// Reorders `things`: position `i` of the result takes the element at `order[i]`.
fn in_order<T>(things: Vec<T>, order: &[usize]) -> Vec<T> {
    let mut things: Vec<Option<T>> = things.into_iter().map(Some).collect();
    order.iter().filter_map(|at| things[*at].take()).collect()
}
