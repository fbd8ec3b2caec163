//! `keep`: dated, named copies of a draft with their measures, the list and the history of the copies, and bringing one
//! back.

use std::path::{Path, PathBuf};

use clap::Args;

use super::proof::ProofDraft;
use super::setup::{SetupArgs, Setups, drafts_of};
use super::{Answer, columns, each, print};
use crate::files::kept::{self, KeptCopy};
use crate::files::{Error, read_draft};
use crate::print::kept as page;
use crate::print::visible::visible;
use crate::report::Report;
use crate::report::kept::{KeptFigures, Record};

/// What `keep` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  blurbwright keep first.md --name \"for the designer\"\n  \
                  blurbwright keep first.md --list\n  blurbwright keep first.md --history\n  \
                  blurbwright keep first.md --bring-back kept/first/2026-11-25-1410-for-the-designer.md\n\n\
                  Copies are plain files in the folder kept beside the draft. The present draft is kept before another \
                  is brought back.")]
pub(super) struct KeepArgs {
    /// The draft; every draft of the book in this folder where none is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// What to call the copy
    #[arg(long, value_name = "NAME", conflicts_with_all = ["list", "history", "bring_back"])]
    name: Option<String>,
    /// List what was kept, and keep nothing
    #[arg(long, conflicts_with_all = ["history", "bring_back"])]
    list: bool,
    /// Show how length, level, terms and fit went from copy to copy, and keep nothing
    #[arg(long, conflicts_with = "bring_back")]
    history: bool,
    /// Put a kept copy in the place of the draft, which is kept first
    #[arg(long, value_name = "COPY")]
    bring_back: Option<PathBuf>,
}

pub(super) fn run(args: &KeepArgs) -> Result<Answer, Error> {
    let setups = Setups::new(&SetupArgs::default())?;
    if let Some(copy) = &args.bring_back {
        let [draft] = args.drafts.as_slice() else {
            return Err(Error::new(
                "name the draft in whose place the copy comes: blurbwright keep DRAFT --bring-back COPY",
            ));
        };
        return bring_back(copy, draft, &setups);
    }
    let (pages, unread) = each(&drafts_of(&args.drafts)?, |draft| args.page(draft, &setups));
    print(&pages.join("\n"))?;
    Ok(if unread.is_empty() { Answer::Within } else { Answer::NotUnderstood })
}

impl KeepArgs {
    /// Does what was asked for with one draft, and returns the text to print.
    fn page(&self, draft: &Path, setups: &Setups) -> Result<String, Error> {
        let name = draft.display().to_string();
        if self.list {
            let copies = copies(draft)?;
            if copies.is_empty() {
                // The copies of a draft may outlast its file. Without copies the file has to exist, or the name is
                // wrong.
                read_draft(draft)?;
            }
            return Ok(page::list(&name, &copies, columns()));
        }
        if self.history {
            let report = ProofDraft::read(draft, setups)?.report;
            return Ok(page::history(&name, &with_present(draft, &report)?, columns()));
        }
        Ok(said(&keep(draft, &read_draft(draft)?, self.name.as_deref().unwrap_or_default(), setups)?))
    }
}

/// The kept copies of a draft, in the form that the printed pages take.
fn copies(draft: &Path) -> Result<Vec<page::KeptRow>, Error> {
    let copy = |kept: KeptCopy| page::KeptRow { path: kept.path.display().to_string(), record: kept.record };
    Ok(kept::copies_of(draft)?.into_iter().map(copy).collect())
}

/// The kept copies of a draft, followed by the present draft.
pub(super) fn with_present(draft: &Path, report: &Report) -> Result<Vec<page::KeptRow>, Error> {
    let mut copies = copies(draft)?;
    let figures = Some(KeptFigures::of(report));
    let record = Record { kept: "the present draft".to_owned(), figures, ..Record::default() };
    copies.push(page::KeptRow { path: draft.display().to_string(), record });
    Ok(copies)
}

/// Keeps a text as a copy of a draft, without figures where it cannot be measured.
fn keep(draft: &Path, text: &str, name: &str, setups: &Setups) -> Result<KeptCopy, Error> {
    let figures = ProofDraft::of(draft, text, setups).map(|assessed| KeptFigures::of(&assessed.report)).ok();
    kept::keep(draft, text, Record { name: name.to_owned(), figures, ..Record::default() })
}

fn said(kept: &KeptCopy) -> String {
    format!("kept {}\n     {}\n", visible(&kept.path.display().to_string()), page::told(&kept.record))
}

fn bring_back(copy: &Path, draft: &Path, setups: &Setups) -> Result<Answer, Error> {
    let text = read_draft(copy)?;
    let present = if draft.exists() { Some(read_draft(draft)?) } else { None };
    let name = visible(&draft.display().to_string()).into_owned();
    if present.as_ref() == Some(&text) {
        print(&format!("{name} is that copy already\n"))?;
        return Ok(Answer::Within);
    }
    if let Some(present) = &present {
        print(&keep_unless_kept(draft, present, setups)?)?;
    }
    kept::replace(draft, present.as_deref(), &text)?;
    print(&format!("brought back {} as {name}\n", visible(&copy.display().to_string())))?;
    Ok(Answer::Within)
}

/// Keeps the present draft, unless a kept copy has the same text.
fn keep_unless_kept(draft: &Path, present: &str, setups: &Setups) -> Result<String, Error> {
    for copy in kept::copies_of(draft)? {
        if read_draft(&copy.path).is_ok_and(|text| text == present) {
            return Ok(format!("the present draft is kept already: {}\n", visible(&copy.path.display().to_string())));
        }
    }
    Ok(said(&keep(draft, present, "before another was brought back", setups)?))
}
