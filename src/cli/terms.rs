//! `terms`: every place of the brief's terms and names in drafts, and what the manuscript says of them.

use std::path::{Path, PathBuf};

use clap::Args;
use rayon::prelude::*;

use super::setup::{Setup, SetupArgs, Setups, check_length, drafts_of, read_draft, tell};
use super::{Answer, Asked, Format, Unread, columns, complain, print};
use crate::draft::{Draft, LinePlaces};
use crate::files::{self, Error};
use crate::print::json::Style;
use crate::print::terms::{ManuscriptText, SourceText, rules, story, table, written};
use crate::print::terms_data::json;
use crate::report::terms::{Manuscript, TermsReport};

/// What `terms` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Terms, wordings to avoid and names are those of the brief.\n\nExamples:\n  \
                        blurbwright terms first.md\n  blurbwright terms first.md second.md\n  \
                        blurbwright terms first.md --story manuscript.txt\n  blurbwright terms . --format json")]
pub(super) struct TermsArgs {
    #[command(flatten)]
    asked: Asked,
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
    /// The manuscript, as text or Markdown: what is its own, how its names are spelt, and what the drafts take from it
    #[arg(long, value_name = "FILE")]
    story: Option<PathBuf>,
}

/// A manuscript's file.
struct StoryFile {
    name: String,
    text: String,
    draft: Draft,
}

/// One draft, searched through.
struct SearchedDraft {
    name: String,
    terms: TermsReport,
    page: String,
    /// The page about the manuscript, by this draft's brief; empty where no manuscript was named.
    story: String,
}

pub(super) fn run(args: &TermsArgs) -> Result<Answer, Error> {
    let drafts = drafts_of(&args.asked.drafts)?;
    let setups = Setups::new(&SetupArgs::with_brief(args.brief.clone()))?;
    let manuscript = args.story.as_deref().map(StoryFile::read).transpose()?;
    let format = args.asked.format.unwrap_or_default();
    let searched: Vec<Result<SearchedDraft, Error>> =
        drafts.par_iter().map(|path| searched(path, &setups, manuscript.as_ref(), format)).collect();
    let mut answer = Answer::Within;
    let (mut pages, mut read) = (Vec::new(), Vec::new());
    for (path, searched) in drafts.iter().zip(searched) {
        match searched {
            Ok(searched) => {
                answer = answer.max(if searched.terms.is_within() { Answer::Within } else { Answer::Outside });
                pages.push(searched.page.clone());
                read.push(searched);
            }
            Err(why) => {
                complain(&why);
                answer = Answer::NotUnderstood;
                pages.extend(Unread { path: path.clone(), why }.page(format));
            }
        }
    }
    print(&whole(&pages, &read, format, drafts.len()))?;
    Ok(answer)
}

impl StoryFile {
    fn read(path: &Path) -> Result<Self, Error> {
        let file = files::read_manuscript(path)?;
        tell(&file, path);
        let text = file.text;
        let draft = Manuscript::paragraphs(&text);
        Ok(Self { name: path.display().to_string(), text, draft })
    }
}

fn searched(path: &Path, setups: &Setups, file: Option<&StoryFile>, format: Format) -> Result<SearchedDraft, Error> {
    let text = read_draft(path)?;
    if file.is_some() {
        check_length(path, &text, "hold against a story")?;
    }
    let setup: &Setup = &*setups.of_draft(path)?;
    let brief = &setup.brief;
    let manuscript = file.map(|file| Manuscript::read(&file.draft, &brief.book));
    let terms = TermsReport::of(&Draft::read(&text), brief, manuscript.as_ref());
    let name = path.display().to_string();
    let lines = LinePlaces::of(&text);
    let draft = SourceText { path: &name, text: &text, lines: &lines };
    let story_lines = file.map(|file| LinePlaces::of(&file.text));
    let told =
        file.zip(manuscript.as_ref()).zip(story_lines.as_ref()).map(|((file, manuscript), lines)| ManuscriptText {
            manuscript,
            source: SourceText { path: &file.name, text: &file.text, lines },
            terms: &brief.terms,
        });
    let page = match format {
        Format::Text => written(&terms, draft, told, columns()),
        Format::Json => json(&terms, draft, told, Style::Pretty),
        Format::Jsonl => json(&terms, draft, told, Style::Compact),
    };
    let story = told.map_or(String::new(), |told| story(told, columns()));
    Ok(SearchedDraft { name, terms, page, story })
}

/// All pages joined, with what stands between them and below the last.
fn whole(pages: &[String], read: &[SearchedDraft], format: Format, asked: usize) -> String {
    match (format, read.first()) {
        (Format::Text, Some(first)) => {
            let coverages: Vec<_> =
                read.iter().map(|searched| (searched.name.as_str(), &searched.terms.coverage)).collect();
            let table = if read.len() > 1 { table(&coverages, columns()) } else { String::new() };
            let parts = pages.iter().map(String::as_str).chain([table.as_str(), &first.story]);
            let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
            format!("{}{}", parts.join("\n"), rules(columns()))
        }
        (Format::Text, None) => String::new(),
        (Format::Json, _) if asked > 1 => format!("[\n{}\n]\n", pages.join(",\n")),
        (Format::Json | Format::Jsonl, _) => pages.iter().map(|text| format!("{text}\n")).collect(),
    }
}
