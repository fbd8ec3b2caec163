//! `handover`: agreed copy in the forms in which others take it.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::setup::{SetupArgs, Setups, read_draft, tell_notes};
use super::{Answer, print, print_bytes, say_aside};
use crate::draft::{BlockKind, Draft};
use crate::files::{self, Error};
use crate::handover::{HandedCopy, HandedForm, LONGEST_SHORT_DESCRIPTION, short_description};
use crate::print::visible::visible;
use crate::report;
use crate::units::nouns::{agrees, counted};

/// What `handover` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  blurbwright handover first.md -o for-the-designer.docx\n  \
                  blurbwright handover first.md -o blurb.txt\n  \
                  blurbwright handover first.md -o blurb.xml --short\n\n\
                  What is handed over is what the proof shows: the same blocks in the same order. Marks of a keyboard \
                  are set as a printer sets them, unless the brief turns that query off; the draft is not changed. A \
                  file that is there already is never overwritten.")]
pub(super) struct HandoverArgs {
    /// The draft, or - for standard input
    #[arg(value_name = "DRAFT")]
    draft: PathBuf,
    /// The file to write, ending in .txt, .docx, .html or .xml; - for standard output
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// The form, where the file's ending does not say it
    #[arg(long, value_enum)]
    format: Option<CopyFormat>,
    /// In an ONIX record give the blurb as the short description too, which has 350 characters at most
    #[arg(long)]
    short: bool,
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
}

/// The forms of agreed copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum CopyFormat {
    /// Words alone
    Text,
    /// A document with a style for each kind of block
    Docx,
    /// A page without a look of its own
    Html,
    /// The texts of an ONIX 3 record: blurb 05, headline 10, quotes 06, note on the author 12
    Onix,
}

impl CopyFormat {
    /// The form that was asked for, or else that of the file's ending.
    fn of(output: &Path, asked: Option<Self>) -> Result<Self, Error> {
        let ending = output.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        let named = match ending.as_deref() {
            Some("txt") => Some(Self::Text),
            Some("docx") => Some(Self::Docx),
            Some("html") => Some(Self::Html),
            Some("xml") => Some(Self::Onix),
            _ => None,
        };
        asked.or(named).ok_or_else(|| {
            Error::new(format!("cannot tell the form of {}", output.display())).with_remedy(
                "end the file's name in .txt, .docx, .html or .xml, or say --format text, docx, html or onix",
            )
        })
    }

    fn handed(self, short: bool) -> HandedForm {
        match self {
            Self::Text => HandedForm::CleanText,
            Self::Docx => HandedForm::Document,
            Self::Html => HandedForm::Page,
            Self::Onix => HandedForm::Record { short },
        }
    }
}

pub(super) fn run(args: &HandoverArgs) -> Result<Answer, Error> {
    let format = CopyFormat::of(&args.output, args.format)?;
    if args.short && format != CopyFormat::Onix {
        return Err(Error::of_option("--short", "only an ONIX record has a short description"));
    }
    files::check_folder_of(&args.output)?;
    let source = read_draft(&args.draft)?;
    let setup = Setups::new(&SetupArgs::with_brief(args.brief.clone()))?.of_draft(&args.draft)?;
    let copy = HandedCopy::of(&source, &setup.brief);
    if copy.draft.blocks.is_empty() {
        let problem = "there is no copy in it";
        return Err(Error::cannot("hand over", &args.draft, problem).with_remedy("name a draft with copy"));
    }
    if args.short {
        check_short(&copy)?;
    }
    setup.check_letters(&copy.draft)?;
    tell_notes(&args.draft, &source, &report::notes_of(&Draft::read(&source)));
    let report = setup.guarded(|| report::assess(&copy.draft, &setup.brief, &setup.faces))?;
    let form = format.handed(args.short);
    let told = told(args, &copy, form, report.verdict.is_within());
    let bytes = form.written(&copy);
    if args.output.as_os_str() == "-" {
        print_bytes(&bytes)?;
        // Standard output is the copy's, and what is told of it would be taken for more of it.
        say_aside(told.trim_end());
    } else {
        files::write_new_bytes(&args.output, &bytes)?;
        print(&told)?;
    }
    Ok(Answer::from_verdict(&report.verdict))
}

/// Refuses a blurb that is too long for a short description, and copy without one.
fn check_short(copy: &HandedCopy) -> Result<(), Error> {
    if copy.draft.blocks_of(BlockKind::Blurb).next().is_none() {
        return Err(Error::of_option("--short", "there is no blurb that could be the short description")
            .with_remedy("leave it out, or name a draft with a blurb"));
    }
    let characters = short_description(copy).chars().count();
    if characters <= LONGEST_SHORT_DESCRIPTION {
        return Ok(());
    }
    let problem = format!(
        "the blurb has {}, and a short description has {LONGEST_SHORT_DESCRIPTION} at most",
        counted(characters, "character")
    );
    Err(Error::of_option("--short", problem).with_remedy("leave it out, or name a draft with a shorter blurb"))
}

/// What is told of copy that was handed over, a sentence a line.
fn told(args: &HandoverArgs, copy: &HandedCopy, form: HandedForm, is_within: bool) -> String {
    let draft = visible(&args.draft.display().to_string()).into_owned();
    let place = if args.output.as_os_str() == "-" {
        "standard output".to_owned()
    } else {
        visible(&args.output.display().to_string()).into_owned()
    };
    let mut told = format!("{place} holds the copy of {draft}: {}.\n", counted(copy.draft.blocks.len(), "block"));
    if copy.marks_set > 0 {
        let marks = counted(copy.marks_set, "mark");
        let (were, them) = (agrees(copy.marks_set, "was", "were"), agrees(copy.marks_set, "it", "them"));
        told.push_str(&format!("{marks} of a keyboard {were} set as a printer sets {them}; {draft} is as it was.\n"));
    }
    for kind in form.left_out(copy) {
        told.push_str(&format!("Left out: the {}, for which an ONIX record has no text.\n", kind.name()));
    }
    if form.gathers(copy) {
        told.push_str(
            "An ONIX record has one text of each kind, so blocks of a kind that stand apart in the draft are together \
             there.\n",
        );
    }
    if !copy.draft.has_copy() {
        told.push_str("There is no copy in it but a headline.\n");
    }
    if !is_within {
        told.push_str(&format!(
            "The copy does not keep the brief: something is over, or outside a limit. `blurbwright measure {draft}` \
             says what.\n"
        ));
    }
    told
}
