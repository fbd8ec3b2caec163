//! `tighten`: what can be cut from drafts, making cuts in a new draft, and letting queries stand.

use std::path::{Path, PathBuf};

use clap::Args;

use super::setup::{Setup, SetupArgs, Setups, check_length, drafts_of, read_draft};
use super::{Answer, Asked, Format, columns, print, print_each};
use crate::draft::{Draft, Edit, LinePlaces, edited};
use crate::files::{self, Error};
use crate::print::json::Style;
use crate::print::tighten::{CutsPage, number, written};
use crate::print::tighten_data::json;
use crate::print::visible::visible;
use crate::print::words::counted;
use crate::report::mends::ArtAdvice;
use crate::report::tighten::{DraftFile, Tighten, wording};
use crate::report::{self, Report};

/// What `tighten` can be asked.
#[derive(Debug, Args)]
#[command(
    after_help = "Cuts are made in a new draft; the old one stays as it is. What stands is remembered in stet.yaml \
                  beside the brief.\n\nExamples:\n  blurbwright tighten first.md\n  \
                  blurbwright tighten first.md --apply plan\n  \
                  blurbwright tighten first.md --apply 2,5b --to shorter.md\n  blurbwright tighten first.md --stet 4"
)]
pub(super) struct TightenArgs {
    #[command(flatten)]
    asked: Asked,
    #[command(flatten)]
    setup: SetupArgs,
    /// Read closely, as on the last read: also tell echoes, pale verbs and single words of stress
    #[arg(long)]
    close: bool,
    /// Make cuts in a new draft: plan, marks (set the book's own quotation marks, apostrophes, dashes and dots), or the
    /// numbers of cuts, with commas between them
    #[arg(long, value_name = "CUTS", value_delimiter = ',')]
    apply: Vec<String>,
    /// The new draft; without it, the draft's name with -cut behind it
    #[arg(long, value_name = "FILE", requires = "apply")]
    to: Option<PathBuf>,
    /// Let queries stand: their numbers with commas between them
    #[arg(long, value_name = "QUERIES", value_delimiter = ',', conflicts_with = "apply")]
    stet: Vec<usize>,
}

/// The options that take numbers, as an error message names them.
const APPLY: &str = "--apply";
const STET: &str = "--stet";
/// What `--apply` calls the mend of all straight marks.
const MARKS: &str = "marks";

/// A draft with its possible cuts and queries.
struct DraftWithCuts {
    path: PathBuf,
    source: String,
    draft: Draft,
    report: Report,
    tighten: Tighten,
    advice: ArtAdvice,
    brief: PathBuf,
    close: bool,
}

pub(super) fn run(args: &TightenArgs) -> Result<Answer, Error> {
    let drafts = drafts_of(&args.asked.drafts)?;
    let setups = Setups::new(&args.setup)?;
    if !args.apply.is_empty() || !args.stet.is_empty() {
        let [draft] = drafts.as_slice() else {
            return Err(Error::new("name the one draft in which cuts are made or queries stand"));
        };
        let found = DraftWithCuts::at(draft, &setups, args.close)?;
        return if args.stet.is_empty() {
            found.apply(&args.apply, args.to.as_deref())
        } else {
            found.stet(&args.stet)
        };
    }
    let format = args.asked.format.unwrap_or_default();
    print_each(&drafts, format, |path| {
        let found = DraftWithCuts::at(path, &setups, args.close)?;
        Ok((Answer::from_verdict(&found.report.verdict), found.page(format)))
    })
}

impl DraftWithCuts {
    fn at(path: &Path, setups: &Setups, close: bool) -> Result<Self, Error> {
        let source = read_draft(path)?;
        check_length(path, &source, "look for cuts in")?;
        let setup: &Setup = &*setups.of_draft(path)?;
        let draft = Draft::read(&source);
        setup.check_letters(&draft)?;
        let stet = files::read_stet(&setup.path)?;
        let name = name_of(path);
        let file = DraftFile { name: &name, source: &source, stet: &stet };
        let mut brief = setup.brief.clone();
        brief.queries.close = close;
        let (report, tighten, advice) = setup.guarded(|| {
            let report = report::assess(&draft, &brief, &setup.faces);
            let tighten = Tighten::of(file, &draft, &brief, &setup.faces, &report);
            let advice = ArtAdvice::of(&report, &draft, &brief, &setup.faces);
            (report, tighten, advice)
        })?;
        let (path, brief) = (path.to_path_buf(), setup.path.clone());
        Ok(Self { path, source, draft, report, tighten, advice, brief, close })
    }

    fn page(&self, format: Format) -> String {
        let path = self.path.display().to_string();
        let page = CutsPage {
            path: &path,
            source: LinePlaces::of(&self.source),
            draft: &self.draft,
            report: &self.report,
            tighten: &self.tighten,
            advice: &self.advice,
            close: self.close,
        };
        match format {
            Format::Text => written(&page, columns()),
            Format::Json => json(&page, Style::Pretty),
            Format::Jsonl => json(&page, Style::Compact),
        }
    }

    /// Writes a new draft with the cuts made.
    fn apply(&self, asked: &[String], to: Option<&Path>) -> Result<Answer, Error> {
        let (marks, asked): (Vec<&str>, Vec<&str>) =
            asked.iter().map(|name| name.trim()).partition(|name| *name == MARKS);
        let mends: &[Edit] = if marks.is_empty() { &[] } else { &self.tighten.marks };
        if !marks.is_empty() && mends.is_empty() {
            return Err(Error::of_option(APPLY, "every mark is a printed one already, so there is nothing to make"));
        }
        let cuts = if asked.is_empty() { Vec::new() } else { self.cuts_asked(&asked)? };
        let new = to.map_or_else(|| self.path_with("-cut"), Path::to_path_buf);
        // A mark inside a cut goes with it: the cut begins first, or has the mark's place.
        let cut = cuts.iter().map(|cut| self.tighten.cuts[*cut].edit.clone());
        let edits: Vec<Edit> = cut.chain(mends.iter().cloned()).collect();
        files::write_new(&new, &edited(&self.source, &edits))?;
        let made = [(cuts.len(), "cut", "made"), (mends.len(), "mark", "set")];
        let made = made.iter().filter(|(count, ..)| *count > 0);
        let made = made.map(|(count, thing, done)| format!("{} {done}", counted(*count, thing)));
        let count = made.collect::<Vec<_>>().join(" and ");
        let (new, old) = (new.display().to_string(), self.path.display().to_string());
        print(&format!("{} is the draft with {count}; {} is as it was.\n", visible(&new), visible(&old)))?;
        Ok(Answer::Within)
    }

    fn path_with(&self, ending: &str) -> PathBuf {
        let stem = self.path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
        self.path.with_file_name(format!("{stem}{ending}.md"))
    }

    /// The cuts whose numbers were given; none may overlap another.
    fn cuts_asked(&self, asked: &[&str]) -> Result<Vec<usize>, Error> {
        let Tighten { cuts, plan, .. } = &self.tighten;
        let mut chosen: Vec<usize> = Vec::new();
        for name in asked.iter().copied() {
            if name == "plan" {
                chosen.extend(&plan.cuts);
                continue;
            }
            let found = cuts.iter().position(|cut| number(cut) == name).ok_or_else(|| {
                Error::of_option(APPLY, format!("there is no cut {name}")).with_remedy(self.where_told())
            })?;
            chosen.push(found);
        }
        chosen.sort_unstable();
        chosen.dedup();
        if chosen.is_empty() {
            return Err(Error::of_option(APPLY, "the plan has no cut, so there is nothing to make"));
        }
        for pair in chosen.windows(2) {
            let (one, other) = (&cuts[pair[0]], &cuts[pair[1]]);
            if one.edit.span.end > other.edit.span.start && other.edit.span.end > one.edit.span.start {
                let problem = format!("cuts {} and {} are in the same place", number(one), number(other));
                return Err(Error::of_option(APPLY, problem).with_remedy("take one of them"));
            }
        }
        Ok(chosen)
    }

    /// A hint that names the command which lists the numbers of cuts and queries.
    fn where_told(&self) -> String {
        let option = if self.close { " --close" } else { "" };
        format!("see `blurbwright tighten {}{option}`", self.path.display())
    }

    /// Lets queries stand, by their numbers.
    fn stet(&self, asked: &[usize]) -> Result<Answer, Error> {
        let mut standing = Vec::new();
        for number in asked {
            let query = number.checked_sub(1).and_then(|at| self.tighten.queries.get(at)).ok_or_else(|| {
                Error::of_option(STET, format!("there is no query {number}")).with_remedy(self.where_told())
            })?;
            standing.push((query.rule, wording(query, &self.draft)));
        }
        let name = name_of(&self.path);
        files::change_stet(&self.brief, |stet| {
            standing.iter().for_each(|(rule, wording)| stet.add(&name, *rule, wording));
        })?;
        let said =
            standing.iter().map(|(rule, wording)| format!("stands: {}, \"{}\"\n", rule.name(), visible(wording)));
        print(&said.collect::<String>())?;
        Ok(Answer::Within)
    }
}

/// The name of a draft's file, without its folder.
fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}
