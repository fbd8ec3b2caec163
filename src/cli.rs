//! The command line: what can be asked for, and what the program answers to the shell.

mod setup;
mod measure;
mod sources;
mod records;
mod lists;
mod proof;
mod desk;
mod lobby;
mod books;
mod door;
mod screen;
mod aside;
mod fault;
mod graphics;
mod panel;
mod compare;
mod keep;
mod start;
mod watch;
mod terms;
mod tighten;
mod papers;
mod typed;
mod words;
mod handover;

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, CommandFactory, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use rayon::prelude::*;

use crate::files;
use crate::print::json::Style;
use crate::print::report_data::UnreadJson;
use crate::print::visible::visible;
use crate::report::Verdict;
use crate::system;
use lists::{ListForm, MeasureFormat};
use measure::View;

/// What the program answers to the shell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Answer {
    /// Everything fits and is within the brief's limits, or the command did what was asked.
    Within,
    /// Something does not fit, or is outside a limit of the brief.
    Outside,
    /// Something could not be read or understood.
    NotUnderstood,
}

impl Answer {
    /// `Within` where the blurb keeps every limit, `Outside` where it breaks one.
    fn from_verdict(verdict: &Verdict) -> Self {
        if verdict.is_within() { Self::Within } else { Self::Outside }
    }
}

impl From<Answer> for ExitCode {
    fn from(answer: Answer) -> Self {
        match answer {
            Answer::Within => Self::SUCCESS,
            Answer::Outside => Self::from(1),
            Answer::NotUnderstood => Self::from(2),
        }
    }
}

/// Measures the blurb on a children's book's back cover, sets it in real type round the barcode, and says what is over.
#[derive(Debug, Parser)]
#[command(
    name = "blurbwright",
    // Not as its file is called: on Windows that has an ending.
    bin_name = "blurbwright",
    version,
    max_term_width = 96,
    before_help = "Try it:\n  blurbwright start my-book             make a brief and a first draft in a new folder\n  \
                   blurbwright measure my-book/first.md  measure the draft and set it in its panel\n  \
                   blurbwright                           begin a book here, or open the one that is here at the \
                   desk",
    after_help = "Answers to the shell: 0 all fits and keeps the brief's limits, 1 something does not, 2 something \
                  could not be read.\nNothing leaves this machine: the program has no network code."
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Write drafts on the whole screen, their measures beside them
    Desk(desk::DeskArgs),
    /// Measure drafts and set them in their panel
    Measure(MeasureArgs),
    /// Set drafts at every size, and say what a line costs in each paragraph
    Fit(FitArgs),
    /// Tell the reading level of drafts or of a whole manuscript, by every published measure
    Level(LevelArgs),
    /// Put drafts side by side: every measure, and for two of them every difference with what it did
    Compare(compare::CompareArgs),
    /// Keep dated copies of a draft with their measures, list them, and bring one back
    Keep(keep::KeepArgs),
    /// Show what can go: the fewest cuts that make a draft fit, every cut with its price, and places to look at
    Tighten(tighten::TightenArgs),
    /// Show other words for those that the readers may not know, or for one word, each with what it wins
    Words(words::WordsArgs),
    /// Show every place of the brief's terms and names in drafts, what is nearly one, and what the manuscript says of
    /// them
    Terms(terms::TermsArgs),
    /// Draw drafts in their panel at true size, to print, read and sign
    Proof(proof::ProofArgs),
    /// Hand over agreed copy to a designer or a list: clean text, a document, a page or the texts of an ONIX record
    Handover(handover::HandoverArgs),
    /// Print or draw the figures of the panel for its illustrator and editor
    Panel(panel::PanelArgs),
    /// Make a brief and a first draft for a new book
    Start(start::StartArgs),
    /// Print the JSON Schema of the report or of what another command prints
    Schema {
        /// Of what
        #[arg(value_enum, default_value_t)]
        of: papers::Described,
    },
    /// Print the licences of the fonts and word lists that are built in
    Licences,
    /// Print what your shell needs to complete commands and options
    Completions {
        /// Your shell
        shell: Shell,
    },
    /// Print the manual page of the program or of one command
    Manual {
        /// The command; the whole program where none is named
        command: Option<String>,
    },
}

/// What `measure` can be asked.
#[derive(Debug, Args, Default)]
#[command(after_help = "Examples:\n  blurbwright measure first.md second.md\n  \
                  blurbwright measure first.md --size 12pt --leading 16pt\n  \
                  blurbwright measure my-book --format jsonl\n  blurbwright measure my-list -o list.xlsx\n  \
                  blurbwright measure - < first.md\n  blurbwright measure season.xml --brief house.yaml --list\n  \
                  blurbwright measure --records < books.jsonl\n\n\
                  A folder that is no book, but holds books, is measured as a list. A feed of ONIX for Books 3 (.xml) \
                  is measured record by record, each with its own values over the brief.")]
struct MeasureArgs {
    /// Drafts, folders of drafts, or - for standard input; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// What to print; a page to read where nothing is said, or the list of a folder of books
    #[arg(long, value_enum)]
    format: Option<MeasureFormat>,
    /// Print a row for each draft: first what cannot be read, then what is outside a limit, then the rest
    #[arg(long, conflicts_with = "format")]
    list: bool,
    /// Write the list to a file, ending in .csv, .xlsx or .html, and print what it comes to; - for standard output
    #[arg(short, long, value_name = "FILE", conflicts_with = "list")]
    output: Option<PathBuf>,
    /// Print how everything is counted too: below a page, and in JSON what stands behind each level and where it was
    /// published
    #[arg(long, conflicts_with_all = ["list", "output"])]
    counted: bool,
    #[command(flatten)]
    setup: setup::SetupArgs,
    /// Print it again at each save, until Ctrl-C
    #[arg(long)]
    watch: bool,
    /// Read records from standard input or files, one JSON object a line with id, brief and draft, and answer each in a
    /// line
    #[arg(long, conflicts_with_all = ["format", "list", "output", "watch"])]
    records: bool,
}

/// What `fit` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  blurbwright fit first.md\n  blurbwright fit first.md --font sans")]
struct FitArgs {
    #[command(flatten)]
    asked: Asked,
    #[command(flatten)]
    setup: setup::SetupArgs,
}

/// What `level` can be asked.
#[derive(Debug, Args)]
#[command(
    after_help = "A manuscript is measured whole and section by section; a section begins at a heading or at a rule \
                  (---).\n\nExamples:\n  blurbwright level first.md\n  blurbwright level manuscript.md --format json"
)]
struct LevelArgs {
    #[command(flatten)]
    asked: Asked,
    /// Print with each measure how it counts, from what, and where it was published
    #[arg(long)]
    counted: bool,
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
    /// A list of words that are familiar to your readers, one a line, in place of the lists that are built in
    #[arg(long, value_name = "FILE")]
    familiar: Option<PathBuf>,
}

/// What every command that prints something of drafts can be asked.
#[derive(Debug, Args, Default)]
struct Asked {
    /// Drafts, folders of drafts, or - for standard input; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// What to print; a page to read where nothing is said
    #[arg(long, value_enum)]
    format: Option<Format>,
}

/// The forms of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum Format {
    /// A page to read
    #[default]
    Text,
    /// One JSON object, or an array where there are several drafts
    Json,
    /// One JSON object a line
    Jsonl,
}

/// Reads the command line and does what it asks.
pub fn run() -> Answer {
    let done = match Cli::try_parse() {
        Ok(cli) => cli.run(),
        Err(error) if error.use_stderr() => {
            say_aside(&visible(&typed::in_plain_words(&error, &Cli::command())));
            return Answer::NotUnderstood;
        }
        Err(help) => print(&help.to_string()).map(|_| Answer::Within),
    };
    done.unwrap_or_else(|error| {
        complain(&error);
        Answer::NotUnderstood
    })
}

impl Cli {
    fn run(self) -> Result<Answer, files::Error> {
        match self.command {
            None if desk::suits() => desk::run(&desk::DeskArgs::default()),
            Some(Command::Desk(args)) => desk::run(&args),
            None => MeasureArgs::default().run(),
            Some(Command::Measure(args)) => args.run(),
            Some(Command::Fit(args)) => measure::run(&args.asked, &args.setup, View::Sizes),
            Some(Command::Level(args)) => args.run(),
            Some(Command::Compare(args)) => compare::run(&args),
            Some(Command::Keep(args)) => keep::run(&args),
            Some(Command::Tighten(args)) => tighten::run(&args),
            Some(Command::Words(args)) => words::run(&args),
            Some(Command::Terms(args)) => terms::run(&args),
            Some(Command::Proof(args)) => proof::run(&args),
            Some(Command::Handover(args)) => handover::run(&args),
            Some(Command::Panel(args)) => panel::run(&args),
            Some(Command::Start(args)) => start::run(&args),
            Some(Command::Schema { of }) => papers::schema(of),
            Some(Command::Licences) => papers::licences(),
            Some(Command::Completions { shell }) => papers::completions(shell),
            Some(Command::Manual { command }) => papers::manual(command.as_deref()),
        }
    }
}

impl MeasureArgs {
    fn run(&self) -> Result<Answer, files::Error> {
        if self.records {
            return records::run(&self.drafts, &self.setup, View::Report(self.counted).detail());
        }
        let form = self.list_form()?;
        let report = || match form {
            Some(form) => lists::run(&self.drafts, &self.setup, form, self.output.as_deref()),
            None => measure::run(&self.asked(), &self.setup, View::Report(self.counted)),
        };
        if self.watch { watch::again(&self.drafts, self.setup.brief(), report) } else { report() }
    }

    /// The form of the list that is asked for; none where each draft has a page.
    fn list_form(&self) -> Result<Option<ListForm>, files::Error> {
        let asked = self.format.and_then(ListForm::asked);
        if let Some(output) = &self.output {
            if self.format.is_some() && asked.is_none() {
                return Err(files::Error::of_option(
                    "--format",
                    "a file is written of a list alone: csv, xlsx or html",
                )
                .with_remedy("leave out -o and print it, or ask for one of these"));
            }
            return ListForm::of(output, asked).map(Some);
        }
        let form = match asked {
            Some(form) => form,
            None if self.format.is_some() => return Ok(None),
            None if self.list || setup::are_lists_of_books(&self.drafts) => return Ok(Some(ListForm::Text)),
            None => return Ok(None),
        };
        if self.counted {
            return Err(files::Error::of_option("--counted", "a list has no room for how everything is counted")
                .with_remedy("leave it out, or ask for a page or for JSON"));
        }
        Ok(Some(form))
    }

    /// The pages that are asked for.
    fn asked(&self) -> Asked {
        let format = match self.format {
            Some(MeasureFormat::Json) => Some(Format::Json),
            Some(MeasureFormat::Jsonl) => Some(Format::Jsonl),
            _ => self.format.map(|_| Format::Text),
        };
        Asked { drafts: self.drafts.clone(), format }
    }
}

impl LevelArgs {
    fn run(self) -> Result<Answer, files::Error> {
        let familiar = self.familiar.as_deref().map(files::read_familiar).transpose()?;
        measure::run(&self.asked, &setup::SetupArgs::with_brief(self.brief), View::Levels(familiar, self.counted))
    }
}

/// A draft that could not be read or understood.
struct Unread {
    /// The draft as it was named.
    path: PathBuf,
    why: files::Error,
}

impl Unread {
    /// The JSON object printed in place of this draft; none on a page of text, where standard error has told of the
    /// draft already.
    fn page(&self, format: Format) -> Option<String> {
        let style = match format {
            Format::Text => return None,
            Format::Json => Style::Pretty,
            Format::Jsonl => Style::Compact,
        };
        Some(self.as_json().written(style))
    }

    fn as_json(&self) -> UnreadJson {
        UnreadJson::of(&self.path.display().to_string(), &self.why.to_string())
    }
}

/// Calls `done` with every draft in order. Returns its results for the drafts that could be read, and the drafts that
/// could not be read, each of which is also reported on standard error.
fn each<T>(drafts: &[PathBuf], mut done: impl FnMut(&Path) -> Result<T, files::Error>) -> (Vec<T>, Vec<Unread>) {
    let (mut read, mut unread) = (Vec::new(), Vec::new());
    for path in drafts {
        match done(path) {
            Ok(thing) => read.push(thing),
            Err(why) => {
                complain(&why);
                unread.push(Unread { path: path.clone(), why });
            }
        }
    }
    (read, unread)
}

/// Prints the page of every draft in order, with the worst answer of all; the pages are made on all cores. A draft that
/// could not be read is told on standard error, and has its own object in JSON.
fn print_each(
    drafts: &[PathBuf],
    format: Format,
    page: impl Fn(&Path) -> Result<(Answer, String), files::Error> + Sync,
) -> Result<Answer, files::Error> {
    let (mut answer, mut pages) = (Answer::Within, Vec::new());
    let made: Vec<_> = drafts.par_iter().map(|path| page(path)).collect();
    for (path, made) in drafts.iter().zip(made) {
        match made {
            Ok((own, page)) => {
                answer = answer.max(own);
                pages.push(page);
            }
            Err(why) => {
                complain(&why);
                answer = Answer::NotUnderstood;
                pages.extend(Unread { path: path.clone(), why }.page(format));
            }
        }
    }
    print(&match format {
        Format::Text => pages.join("\n"),
        Format::Json if drafts.len() > 1 => format!("[\n{}\n]\n", pages.join(",\n")),
        Format::Json | Format::Jsonl => pages.iter().map(|page| format!("{page}\n")).collect(),
    })?;
    Ok(answer)
}

/// Reports an error on standard error in one line, with line breaks and control characters in names and values made
/// visible.
fn complain(error: &files::Error) {
    say_aside(&visible(&error.to_string()));
}

/// Writes a line to standard error.
fn say_aside(text: &str) {
    // A failure to write to standard error is ignored: there is nowhere left to report it.
    let _ = writeln!(io::stderr(), "{text}");
}

/// The width of a page, in columns, where no terminal tells its own.
const COLUMNS: usize = 80;

/// The width of the terminal in columns, or `COLUMNS` where there is no terminal.
fn columns() -> usize {
    terminal_size::terminal_size().map_or(COLUMNS, |(width, _)| usize::from(width.0))
}

/// Writes to standard output. A reader that has closed the pipe is not an error; the result tells the caller to stop.
fn print(text: &str) -> Result<OutputReader, files::Error> {
    print_bytes(text.as_bytes())
}

/// Writes bytes that are not text to standard output, under the rule of `print`.
fn print_bytes(bytes: &[u8]) -> Result<OutputReader, files::Error> {
    let mut output = io::stdout().lock();
    match output.write_all(bytes).and_then(|()| output.flush()) {
        Ok(()) => Ok(OutputReader::Listens),
        Err(error) if system::reader_is_gone(&error) => Ok(OutputReader::IsGone),
        Err(error) => {
            let error = files::Error::new(error.to_string()).of_operation("write the report");
            Err(error.with_remedy("see where the output goes"))
        }
    }
}

/// Whether anyone still reads what is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum OutputReader {
    Listens,
    IsGone,
}
