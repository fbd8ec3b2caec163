//! `start`: a brief and a first draft for a new book, by questions on a terminal or by options from a script.

use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

use clap::Args;

use super::{Answer, print};
use crate::briefing::questions::{self, BlurbQuestion};
use crate::briefing::start::{self, Answers, Question};
use crate::files::{self, Error};
use crate::print::visible::visible;

/// What `start` can be asked. Each option answers a question.
#[derive(Debug, Args)]
#[command(after_help = "On a terminal, every question that no option answers is asked. In a script, the usual answer \
                        stands. What the blurb answers is asked last; the draft keeps it in comments.\n\n\
                        Examples:\n  blurbwright start my-book\n  \
                        blurbwright start my-book --title \"The Lamp at Gull Point\" --kind \"picture book\" --readers \
                        4-8 --trim \"8.5 x 8.5 in\"")]
pub(super) struct StartArgs {
    /// The folder of the book; it is made if it is not there
    folder: PathBuf,
    /// The book's title
    #[arg(long)]
    title: Option<String>,
    /// Who wrote it
    #[arg(long)]
    author: Option<String>,
    /// board book, picture book, early reader, chapter book, middle grade, young adult, adult fiction or non-fiction
    #[arg(long)]
    kind: Option<String>,
    /// The readers' ages, such as 4-8 or 12+
    #[arg(long, value_name = "AGES")]
    readers: Option<String>,
    /// The cut size of the back cover, such as "8.5 x 8.5 in"
    #[arg(long, value_name = "SIZE")]
    trim: Option<String>,
    /// paperback, case (boards) or jacket
    #[arg(long)]
    binding: Option<String>,
    /// none, plain or with price
    #[arg(long)]
    barcode: Option<String>,
    /// What is behind the words: plain, own picture, picture all round or small drawings
    #[arg(long)]
    art: Option<String>,
    /// one column, three places (headline, copy and foot) or flaps
    #[arg(long, value_name = "PLAN")]
    back: Option<String>,
    /// Words that the blurb should carry, with commas between them
    #[arg(long)]
    terms: Option<String>,
    /// The ISBN
    #[arg(long)]
    isbn: Option<String>,
}

/// The name of the first draft.
pub(super) const FIRST_DRAFT: &str = "first.md";

pub(super) fn run(args: &StartArgs) -> Result<Answer, Error> {
    // The files are checked first, so that nobody answers all questions in vain.
    files::check_shown(&args.folder)?;
    for name in [files::BRIEF_NAME, FIRST_DRAFT] {
        files::check_free(&args.folder.join(name))?;
    }
    let (answers, told) = if io::stdin().is_terminal() { asked(args)? } else { (answered(args)?, Vec::new()) };
    let brief_path = write_brief(&args.folder, &answers)?;
    let draft_path = write_first_draft(&args.folder, &answers, &told)?;
    let (brief, draft) = (brief_path.display().to_string(), draft_path.display().to_string());
    let (brief, draft) = (visible(&brief), visible(&draft));
    print(&format!(
        "Made {brief} and {draft}.\nOpen both in any editor; every key of the brief is explained in it. Then measure \
         the draft:\n  blurbwright measure {draft}\nor write at the desk, where its measures follow each word:\n  \
         blurbwright desk {draft}\n"
    ))?;
    Ok(Answer::Within)
}

/// Writes the brief of a new book, and makes its folder if it is not there. Whoever is stopped between the brief and
/// the draft has a book whose first draft is still to be begun.
pub(super) fn write_brief(folder: &Path, answers: &Answers) -> Result<PathBuf, Error> {
    let path = folder.join(files::BRIEF_NAME);
    files::make_folder(folder)?;
    files::write_new(&path, &start::brief(answers))?;
    Ok(path)
}

/// Writes the first draft of a book, with what was answered of the questions that a blurb answers.
pub(super) fn write_first_draft(
    folder: &Path,
    answers: &Answers,
    told: &[(BlurbQuestion, String)],
) -> Result<PathBuf, Error> {
    let path = folder.join(FIRST_DRAFT);
    files::write_new(&path, &questions::with_questions(start::first_draft(answers), answers.kind, told))?;
    Ok(path)
}

impl StartArgs {
    fn option(&self, question: Question) -> (&'static str, Option<&String>) {
        match question {
            Question::Title => ("title", self.title.as_ref()),
            Question::Author => ("author", self.author.as_ref()),
            Question::Kind => ("kind", self.kind.as_ref()),
            Question::Readers => ("readers", self.readers.as_ref()),
            Question::Trim => ("trim", self.trim.as_ref()),
            Question::Binding => ("binding", self.binding.as_ref()),
            Question::Barcode => ("barcode", self.barcode.as_ref()),
            Question::Art => ("art", self.art.as_ref()),
            Question::Back => ("back", self.back.as_ref()),
            Question::Terms => ("terms", self.terms.as_ref()),
            Question::Isbn => ("isbn", self.isbn.as_ref()),
        }
    }

    /// Takes the answer to a question from its option; false where that option is not given.
    fn answer_by_option(&self, question: Question, answers: &mut Answers) -> Result<bool, Error> {
        let (name, given) = self.option(question);
        let Some(text) = given else { return Ok(false) };
        question.answer(answers, text).map_err(|problem| Error::of_option(&format!("--{name}"), problem))?;
        Ok(true)
    }
}

/// The answers in a script: its options, and the default answers for the rest.
fn answered(args: &StartArgs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for question in Question::ALL {
        args.answer_by_option(question, &mut answers)?;
    }
    if answers.title.is_empty() {
        return Err(Error::new("a book needs a title: add --title \"...\", or run this on a terminal to be asked"));
    }
    Ok(answers)
}

/// The answers on a terminal: the options, and for the rest a question each, repeated until the answer is usable; then
/// what the author answers of the questions that a blurb answers.
fn asked(args: &StartArgs) -> Result<(Answers, Vec<(BlurbQuestion, String)>), Error> {
    let mut answers = Answers::default();
    let mut lines = io::stdin().lock().lines();
    for question in Question::ALL {
        while !args.answer_by_option(question, &mut answers)? {
            let standing = question.standing(&answers);
            let usual = if standing.is_empty() { String::new() } else { format!(" [{standing}]") };
            say(&format!("{}{usual} ", question.asked()))?;
            let line = match lines.next() {
                Some(Ok(line)) => line,
                Some(Err(_)) | None => return Err(unanswered()),
            };
            let text = if line.trim().is_empty() { standing } else { line };
            match question.answer(&mut answers, &text) {
                Ok(()) => break,
                Err(problem) => say(&format!("  {}. Please try again.\n", visible(&problem)))?,
            }
        }
    }
    say("\nWhat will the blurb answer? An empty line leaves a question for later. The answers stand in the draft as \
         comments, which are never printed.\n")?;
    let mut told = Vec::new();
    for question in BlurbQuestion::ALL {
        say(&format!("{} ", question.asked(answers.kind)))?;
        match lines.next() {
            Some(Ok(line)) => told.push((question, line)),
            Some(Err(_)) => return Err(unanswered()),
            // Whoever ends the input here leaves all further questions for later.
            None => {
                say("\n")?;
                break;
            }
        }
    }
    Ok((answers, told))
}

fn unanswered() -> Error {
    Error::new("nothing was made: the questions were not answered to the end")
}

fn say(text: &str) -> Result<(), Error> {
    let mut output = io::stdout().lock();
    let said = output.write_all(text.as_bytes()).and_then(|()| output.flush());
    said.map_err(|error| {
        let error = Error::new(error.to_string()).of_operation("ask");
        error.with_remedy("run this on a terminal, or answer by options")
    })
}
