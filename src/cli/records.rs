//! `measure --records`: lines of JSON in, one answer a line out, in order, for scripts that measure very many drafts.
//!
//! The answer to the shell is 0 where every line was answered, whatever the verdicts: what calls the program for each
//! part of a large set takes any other answer for a fault, and runs that part again.

use std::collections::HashMap;
use std::io::{self, BufRead};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;

use super::setup::{INPUT, Setup, SetupArgs, TypeOptions, named_by};
use super::{Answer, OutputReader, print};
use crate::draft::Draft;
use crate::feeds::answer_data::{AnswerJson, AnsweredLine};
use crate::feeds::records::{JsonRecord, RecordBrief, RecordLine};
use crate::feeds::{InputLine, next_line};
use crate::files::{self, Error};
use crate::print::level_data::LevelDetail;
use crate::print::report_data::ReportJson;
use crate::report;
use crate::report::mends::ArtAdvice;
use crate::terms::answers;

/// The most records that are measured before their answers are printed.
const AT_ONCE: usize = 128;
/// The bytes of lines with which a batch is full, however few they are.
const BYTES_AT_ONCE: usize = 8 << 20;
/// The most lines that are read before the ones in front of them are measured: as many as a batch takes.
const WAITING: usize = AT_ONCE;

/// The name of a record's own brief in errors.
const OWN_BRIEF: &str = "brief";

/// A line with its number, or why the input cannot be read any further.
type NumberedLine = Result<(usize, InputLine), Error>;

/// Answers every record of the files, or of standard input where none is named, with so much of each level.
pub(super) fn run(named: &[PathBuf], setup: &SetupArgs, detail: LevelDetail) -> Result<Answer, Error> {
    let briefs = RecordBriefs::new(setup, detail)?;
    let named = if named.is_empty() { vec![PathBuf::from(INPUT)] } else { named_by(named) };
    for path in &named {
        let is_input = path.as_os_str() == INPUT;
        let name = (!is_input).then(|| path.display().to_string());
        if answer_all(&lines_of(path)?, name.as_deref(), &briefs)? == OutputReader::IsGone {
            break;
        }
    }
    Ok(Answer::Within)
}

/// Answers the lines of one input. The answers of a batch are printed while the next one is measured, where its lines
/// are there already; where the next line has still to come, they are printed at once.
fn answer_all(
    lines: &Receiver<NumberedLine>,
    path: Option<&str>,
    briefs: &RecordBriefs,
) -> Result<OutputReader, Error> {
    let mut measured: Vec<String> = Vec::new();
    loop {
        let first = match lines.try_recv() {
            Ok(line) => line,
            Err(_) => {
                if print(&std::mem::take(&mut measured).concat())? == OutputReader::IsGone {
                    return Ok(OutputReader::IsGone);
                }
                let Ok(line) = lines.recv() else { return Ok(OutputReader::Listens) };
                line
            }
        };
        let (batch, broken) = batch_of(first, lines);
        let answer = |(number, line): &(usize, InputLine)| briefs.answer(path, *number, line);
        let (answers, reader) =
            rayon::join(|| batch.par_iter().with_max_len(1).filter_map(answer).collect(), || print(&measured.concat()));
        if reader? == OutputReader::IsGone {
            return Ok(OutputReader::IsGone);
        }
        measured = answers;
        if let Some(error) = broken {
            return match print(&measured.concat())? {
                OutputReader::IsGone => Ok(OutputReader::IsGone),
                OutputReader::Listens => Err(error),
            };
        }
    }
}

/// The lines of an input, read by a thread of its own: who writes records one at a time, and waits for each answer, has
/// it before the next line comes.
fn lines_of(path: &Path) -> Result<Receiver<NumberedLine>, Error> {
    let (sender, lines) = sync_channel(WAITING);
    if path.as_os_str() == INPUT {
        std::thread::spawn(move || send_lines(io::stdin().lock(), Path::new("standard input"), &sender));
    } else {
        let (input, path) = (files::open(path, "the records")?, path.to_path_buf());
        std::thread::spawn(move || send_lines(input, &path, &sender));
    }
    Ok(lines)
}

fn send_lines(mut input: impl BufRead, path: &Path, sender: &SyncSender<NumberedLine>) {
    for number in 1.. {
        let line = match next_line(&mut input) {
            Ok(None) => return,
            Ok(Some(line)) => Ok((number, line)),
            Err(error) => Err(Error::cannot("read the records", path, error.to_string())
                .with_remedy("see where they come from, then try again")),
        };
        let is_last = line.is_err();
        // Where nobody takes lines any more, the answers' reader has gone.
        if sender.send(line).is_err() || is_last {
            return;
        }
    }
}

/// The lines that are there already, at most a batch of them, and behind these why no more can be read.
fn batch_of(first: NumberedLine, lines: &Receiver<NumberedLine>) -> (Vec<(usize, InputLine)>, Option<Error>) {
    let (mut batch, mut bytes, mut next) = (Vec::new(), 0, Some(first));
    while let Some(line) = next {
        match line {
            Ok((number, line)) => {
                bytes += if let InputLine::Bytes(bytes) = &line { bytes.len() } else { 0 };
                batch.push((number, line));
            }
            Err(error) => return (batch, Some(error)),
        }
        next = if batch.len() < AT_ONCE && bytes < BYTES_AT_ONCE { lines.try_recv().ok() } else { None };
    }
    (batch, None)
}

/// The briefs of records: that which was named for all without one, and those that were met last.
struct RecordBriefs {
    options: TypeOptions,
    named: Option<Arc<Setup>>,
    known: Mutex<KnownBriefs>,
    detail: LevelDetail,
}

/// What was made of briefs, by the brief as records have it.
#[derive(Default)]
struct KnownBriefs {
    setups: HashMap<RecordBrief, Result<Arc<Setup>, Error>>,
    /// The bytes of the briefs' texts.
    bytes: usize,
}

impl KnownBriefs {
    /// The most briefs that are kept, and the bytes of their texts: those of a house's list, of which each record of a
    /// book has the same.
    const MOST: usize = 256;
    const MOST_BYTES: usize = 4 << 20;

    fn take(&mut self, brief: &RecordBrief, setup: &Result<Arc<Setup>, Error>) {
        let bytes = if let RecordBrief::Text(text) = brief { text.len() } else { 0 };
        if self.setups.len() >= Self::MOST || self.bytes + bytes > Self::MOST_BYTES {
            *self = Self::default();
        }
        self.bytes += bytes;
        self.setups.insert(brief.clone(), setup.clone());
    }
}

impl RecordBriefs {
    fn new(args: &SetupArgs, detail: LevelDetail) -> Result<Self, Error> {
        let options = TypeOptions::of(args)?;
        let named = args.brief().map(|path| Setup::read(path, &options)).transpose()?.map(Arc::new);
        Ok(Self { options, named, known: Mutex::default(), detail })
    }

    /// The answer to a line with its ending; none to a line without anything in it.
    fn answer(&self, path: Option<&str>, number: usize, line: &InputLine) -> Option<String> {
        let RecordLine { id, record } = RecordLine::read(line)?;
        let found = record.and_then(|record| self.measured(&record).map_err(|error| error.to_string()));
        let line = AnsweredLine { path, number, id: id.as_deref() };
        Some(AnswerJson::of(line, found).written())
    }

    fn measured(&self, record: &JsonRecord) -> Result<ReportJson, Error> {
        let setup = self.setup(record.brief.as_ref())?;
        let draft = Draft::read(&record.draft);
        setup.check_letters(&draft)?;
        let brief = match &record.brief {
            Some(RecordBrief::Text(_)) => INPUT.to_owned(),
            _ => setup.path.display().to_string(),
        };
        setup.guarded(|| {
            let report = report::assess(&draft, &setup.brief, &setup.faces);
            let advice = ArtAdvice::of(&report, &draft, &setup.brief, &setup.faces);
            let answers = answers::find(&record.draft, &draft, &setup.brief.book);
            ReportJson::of(&report, &advice, self.detail, (INPUT, &brief)).with_answers(&answers)
        })
    }

    /// What a record's brief was made into, the first time that it is met.
    fn setup(&self, brief: Option<&RecordBrief>) -> Result<Arc<Setup>, Error> {
        let Some(brief) = brief else {
            let missing = || {
                Error::new("the record has no brief")
                    .with_remedy("add the key brief with its text or its file, or name one for all with --brief")
            };
            return self.named.clone().ok_or_else(missing);
        };
        let known = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(setup) = known().setups.get(brief) {
            return setup.clone();
        }
        let setup = self.read(brief).map(Arc::new);
        known().take(brief, &setup);
        setup
    }

    fn read(&self, brief: &RecordBrief) -> Result<Setup, Error> {
        match brief {
            RecordBrief::File(path) => Setup::read(path, &self.options),
            RecordBrief::Text(text) => {
                let name = Path::new(OWN_BRIEF);
                Setup::of(files::read_brief_in(text, name)?, name, &self.options)
            }
        }
    }
}
