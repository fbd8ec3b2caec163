//! `words`: other words for those of a draft, each with what it wins.

use std::path::{Path, PathBuf};

use clap::Args;

use super::setup::{SetupArgs, Setups, check_length, drafts_of, read_draft};
use super::{Answer, Format, columns, print_each};
use crate::draft::{Draft, LinePlaces};
use crate::files::{self, Error};
use crate::print::json::Style;
use crate::print::other_words::{OtherWordsPage, written};
use crate::print::tighten_data::words_json;
use crate::report;
use crate::report::other_words::{OtherWords, WhichWords};
use crate::report::tighten::DraftFile;

/// What `words` can be asked.
#[derive(Debug, Args)]
#[command(
    after_help = "Without a word: the words outside the list of words that are familiar to the readers, and the lines \
                  that are a few letters over with the words that would win them. With one: every place of it in the \
                  draft. Each other is tried by setting the copy again. Names, titles, terms of the brief, quotes and \
                  what stands (stet.yaml) are left as they are. The draft is not changed; at the desk Ctrl-L puts \
                  one in.\n\nExamples:\n  blurbwright words first.md\n  blurbwright words first.md perilous\n  \
                  blurbwright words first.md --format json"
)]
pub(super) struct WordsArgs {
    /// The draft, a folder of drafts, or - for standard input; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    draft: Option<PathBuf>,
    /// The word to find others for, in any form
    #[arg(value_name = "WORD")]
    word: Option<String>,
    /// What to print; a page to read where nothing is said
    #[arg(long, value_enum)]
    format: Option<Format>,
    #[command(flatten)]
    setup: SetupArgs,
}

pub(super) fn run(args: &WordsArgs) -> Result<Answer, Error> {
    let drafts = drafts_of(args.draft.as_slice())?;
    let setups = Setups::new(&args.setup)?;
    let (format, word) = (args.format.unwrap_or_default(), args.word.as_deref().map(str::trim));
    print_each(&drafts, format, |path| Ok((Answer::Within, page(path, &setups, word, format)?)))
}

fn page(path: &Path, setups: &Setups, word: Option<&str>, format: Format) -> Result<String, Error> {
    let source = read_draft(path)?;
    check_length(path, &source, "look for other words in")?;
    let setup = &*setups.of_draft(path)?;
    let draft = Draft::read(&source);
    setup.check_letters(&draft)?;
    let stet = files::read_stet(&setup.path)?;
    let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let file = DraftFile { name: &name, source: &source, stet: &stet };
    let which = word.map_or(WhichWords::Whole, WhichWords::Named);
    let (report, found) = setup.guarded(|| {
        let report = report::assess(&draft, &setup.brief, &setup.faces);
        let found = OtherWords::of(file, &draft, &setup.brief, (&setup.faces, &report), which);
        (report, found)
    })?;
    if let Some(word) = word.filter(|_| found.words.is_empty()) {
        return Err(Error::cannot("find other words in", path, format!("the word \"{word}\" does not stand in it"))
            .with_remedy("name a word of the draft, or none to see those that the readers may not know"));
    }
    let path = path.display().to_string();
    let page = OtherWordsPage {
        path: &path,
        source: LinePlaces::of(&source),
        draft: &draft,
        report: &report,
        found: &found,
        word,
    };
    Ok(match format {
        Format::Text => written(&page, columns()),
        Format::Json => words_json(&page, Style::Pretty),
        Format::Jsonl => words_json(&page, Style::Compact),
    })
}
