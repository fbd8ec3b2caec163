//! `desk`: the draft and its measures side by side on the whole screen; the door through which the desk reads and writes.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use clap::Args;

use super::proof::{Picture, PictureFormat};
use super::setup::{drafts_of, folder_here};
use super::{Answer, screen, terminal};
use crate::brief::Brief;
use crate::brief::rewrite::{self, ValueChange};
use crate::brief::stet::{Stet, Stood};
use crate::desk::state::Writing;
use crate::desk::theme::{Colours, Letters, Theme};
use crate::desk::{Effect, OpenedBook, Outcome, State};
use crate::draft::Draft;
use crate::files::desk::{self as open, Notice, OpenDraft, Outside, RecoveryWrite, Saved};
use crate::files::kept;
use crate::files::typed;
use crate::files::{self, Error};
use crate::proof::{self, Proof, png, slug};
use crate::report::kept::{KeptFigures, Record};
use crate::report::{self, Drawing};
use crate::setting::Faces;

/// What `desk` can be asked.
#[derive(Debug, Args, Default)]
#[command(
    after_help = "Examples:\n  blurbwright desk\n  blurbwright desk first.md second.md\n  blurbwright desk --tour\n\nF1 shows every key, \
                  Ctrl-Q leaves. Where there is no terminal, or for a screen reader, `blurbwright measure --watch` prints the \
                  report again at each save."
)]
pub(super) struct DeskArgs {
    /// Drafts of one book, or folders of them; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
    /// Look round on the sample book; nothing is written
    #[arg(long, conflicts_with_all = ["drafts", "brief"])]
    tour: bool,
    /// Leave the mouse to the terminal
    #[arg(long)]
    no_mouse: bool,
}

/// The sample book, for looking round.
const SAMPLE_BRIEF: &str = include_str!("../../drafts/brief.yaml");
const SAMPLE: [(&str, &str); 2] =
    [("first.md", include_str!("../../drafts/first.md")), ("second.md", include_str!("../../drafts/second.md"))];

/// Whether the desk can be opened here without being asked for by name: a book on a terminal.
pub(super) fn suits() -> bool {
    check_terminal().is_ok() && folder_here().is_ok()
}

pub(super) fn run(args: &DeskArgs) -> Result<Answer, Error> {
    check_terminal()?;
    let (mut door, state, first) = set_up(args)?;
    screen::run(state, &mut door, first, terminal::Modes { mouse: !args.no_mouse })
}

/// The desk before anything has happened at it, and what is to happen first.
pub(super) fn set_up(args: &DeskArgs) -> Result<(Door, State, Vec<Outcome>), Error> {
    let (door, book, first) = if args.tour { Door::tour()? } else { Door::open(args)? };
    Ok((door, State::new(book, theme(), terminal::size()), first))
}

fn check_terminal() -> Result<(), Error> {
    let dumb = std::env::var("TERM").is_ok_and(|term| term == "dumb");
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() && !dumb {
        return Ok(());
    }
    Err(Error::new(
        "the desk needs a terminal that it can draw on, and here is none; `blurbwright measure` prints the same as text",
    ))
}

/// The looks for this terminal.
fn theme() -> Theme {
    let is_set = |name: &str| std::env::var(name).is_ok_and(|value| !value.is_empty());
    let colours = if is_set("NO_COLOR") { Colours::None } else { Colours::Sixteen };
    // The first of these that is set holds (POSIX, Environment Variables, section 8.2).
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(|name| std::env::var(name).ok());
    let locale = locale.into_iter().find(|value| !value.is_empty()).unwrap_or_default().to_lowercase();
    let letters = if locale.contains("utf-8") || locale.contains("utf8") { Letters::Unicode } else { Letters::Ascii };
    Theme::new(colours, letters)
}

/// What the desk reads and writes.
pub(super) struct Door {
    open: Vec<OpenDraft>,
    /// None on the tour.
    brief: Option<PathBuf>,
}

impl Door {
    /// The sample book, which is written nowhere.
    fn tour() -> Result<(Self, OpenedBook, Vec<Outcome>), Error> {
        let brief = Brief::read(SAMPLE_BRIEF, Path::new("")).map_err(|fault| Error::new(fault.to_string()))?;
        let (name, text) = SAMPLE[0];
        let book = OpenedBook {
            brief,
            faces: Faces::built_in(),
            stet: Stet::default(),
            drafts: SAMPLE.iter().map(|(name, _)| PathBuf::from(name)).collect(),
            first: (PathBuf::from(name), text.to_owned()),
            writing: Writing::Nowhere,
        };
        Ok((Self { open: Vec::new(), brief: None }, book, Vec::new()))
    }

    fn open(args: &DeskArgs) -> Result<(Self, OpenedBook, Vec<Outcome>), Error> {
        let mut drafts = drafts_of(&args.drafts)?;
        let folder = drafts.first().cloned().unwrap_or_default();
        drafts.retain(|draft| !draft.is_dir());
        let Some(first) = drafts.first().cloned() else { return Err(files::without_drafts(&folder)) };
        let folder = first.parent().unwrap_or(Path::new(""));
        let brief_path = args.brief.clone().map_or_else(|| files::find_brief(folder), Ok)?;
        let brief = files::read_brief(&brief_path)?;
        let faces = files::read_faces(&brief, &brief_path)?;
        let stet = files::read_stet(&brief_path)?;
        let mut door = Self { open: Vec::new(), brief: Some(brief_path) };
        let mut outcomes = door.read(&first)?;
        let text = match outcomes.remove(0) {
            Outcome::Opened(_, text, said) => {
                outcomes.insert(0, Outcome::Said(said.join("\n")));
                text
            }
            _ => String::new(),
        };
        // Named drafts bring the others of their folder with them.
        let drafts = if args.drafts.is_empty() { drafts } else { with_neighbours(drafts, folder) };
        let others = drafts.iter().filter(|path| **path != first && open::has_kept_words(path));
        outcomes.extend(others.cloned().map(Outcome::KeptWords));
        let book = OpenedBook { brief, faces, stet, drafts, first: (first, text), writing: Writing::Book };
        Ok((door, book, outcomes))
    }

    /// The text of a draft that is not opened.
    fn text_of(&self, path: &Path) -> Result<String, Error> {
        if self.brief.is_some() {
            return files::read_draft(path);
        }
        let found = SAMPLE.iter().find(|(name, _)| Path::new(name) == path);
        Ok(found.map(|(_, text)| (*text).to_owned()).unwrap_or_default())
    }

    /// Opens a draft: its text first, then whatever else there is to say.
    fn read(&mut self, path: &Path) -> Result<Vec<Outcome>, Error> {
        if self.brief.is_none() {
            return Ok(vec![Outcome::Opened(path.to_path_buf(), self.text_of(path)?, Vec::new())]);
        }
        if let Some(draft) = self.open.iter_mut().find(|draft| draft.path() == path) {
            let text = draft.reload()?.to_owned();
            return Ok(vec![Outcome::Opened(path.to_path_buf(), text, Vec::new())]);
        }
        let draft = open::open(path)?;
        let mut said: Vec<String> = draft.notices().iter().map(|notice| sentence(&notice.to_string())).collect();
        let is_elsewhere = self.brief.as_deref().is_some_and(|brief| typed::is_outside(path, brief));
        if is_elsewhere {
            said.insert(0, "This draft is not in the book's folder; it is measured by this book's brief.".to_owned());
        }
        let mut outcomes = vec![Outcome::Opened(path.to_path_buf(), draft.text().to_owned(), said)];
        outcomes.extend(is_elsewhere.then(|| Outcome::Elsewhere(path.to_path_buf())));
        outcomes.extend(draft.recovered().map(|found| Outcome::Recovered(path.to_path_buf(), found.text)));
        self.open.push(draft);
        Ok(outcomes)
    }

    /// Does what the desk asks for; an error is something to say as well.
    pub(super) fn perform(&mut self, effect: &Effect, state: &State) -> Vec<Outcome> {
        self.tried(effect, state).unwrap_or_else(|error| vec![Outcome::Failed(sentence(&error.to_string()))])
    }

    fn tried(&mut self, effect: &Effect, state: &State) -> Result<Vec<Outcome>, Error> {
        let done = |outcome| Ok(vec![outcome]);
        match effect {
            Effect::Save(at) => self.save(*at, state),
            Effect::SaveAnyway(at) => {
                let Some((path, text, _)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                self.draft(&path)?.save_over(&text)?;
                Ok(self.saved(*at, path, text, state))
            }
            Effect::Keep(at) => {
                let Some((path, text, revision)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                let said = kept(&self.draft(&path)?.keep(&text));
                Ok([Outcome::Kept(path, revision)].into_iter().chain(said).collect())
            }
            Effect::SaveAs(at, path) => {
                let Some((from, text, _)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                self.draft(&from)?.save_copy(path, &text)?;
                let mut outcomes = self.with_what_stands(*at, path, state)?;
                if let Some(at) = self.open.iter().position(|draft| draft.path() == from) {
                    self.open.remove(at).close();
                }
                outcomes.push(Outcome::PutAway(from));
                Ok(outcomes)
            }
            Effect::KeepCopy(at, name) => keep_copy(*at, name, state),
            Effect::Open(path) => self.read(path),
            Effect::LookAt(path) => Ok(vec![Outcome::LookedAt(path.clone(), self.text_of(path)?)]),
            Effect::OpenByPath(typed) => Ok(self.open_by_path(typed, state)),
            Effect::Create(path) => {
                files::write_new(path, "")?;
                self.read(path)
            }
            Effect::Double(at, path) => {
                match (on_sheet(*at, state), state.drafts.get(*at)) {
                    (Some((from, text, _)), _) => self.draft(&from)?.save_copy(path, &text)?,
                    (None, Some(closed)) => {
                        let closed = open::open(&closed.path)?;
                        closed.save_copy(path, closed.text())?;
                    }
                    (None, None) => return Ok(Vec::new()),
                }
                self.with_what_stands(*at, path, state)
            }
            Effect::Rename(from, to) => self.rename(from, to),
            Effect::WriteProof(path) => {
                write_proof(path, state)?;
                done(Outcome::Said(format!("The proof is in {}.", path.display())))
            }
            Effect::WriteBrief(changes) => self.write_brief(changes, state),
            Effect::OfferKept(at) => {
                let Some((path, ..)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                Ok(also_recovered(self.draft(&path)?))
            }
            Effect::TakeKept(at) => {
                let Some((path, ..)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                let draft = self.draft(&path)?;
                draft.recovered().map_or(Ok(()), |found| draft.restore(&found))?;
                Ok(also_recovered(draft))
            }
            Effect::DropKept(at) => {
                let Some((path, ..)) = on_sheet(*at, state) else { return Ok(Vec::new()) };
                let draft = self.draft(&path)?;
                if let Some(found) = draft.recovered() {
                    draft.discard(&found);
                }
                Ok(also_recovered(draft))
            }
            Effect::Discard | Effect::Copy(_) | Effect::Suspend | Effect::Leave => Ok(Vec::new()),
        }
    }

    /// Opens a file by its path as it was typed; one that is open already comes to the front as it stands.
    fn open_by_path(&mut self, typed: &str, state: &State) -> Vec<Outcome> {
        let here = state.sheet().map(|sheet| sheet.path.clone()).unwrap_or_default();
        let path = typed::meant(typed, &here);
        let known = state.drafts.iter().find(|paper| paper.path == path || typed::is_same(&paper.path, &path));
        if let Some(paper) = known.filter(|paper| paper.sheet.is_some()) {
            return vec![Outcome::InFront(paper.path.clone())];
        }
        let path = known.map_or(path, |paper| paper.path.clone());
        self.read(&path).unwrap_or_else(|error| vec![Outcome::NotOpened(sentence(&error.to_string()))])
    }

    /// The words of a draft for another thread to keep, with their revision.
    pub(super) fn keeping(&mut self, at: usize, state: &State) -> Option<(PathBuf, u64, RecoveryWrite)> {
        let (path, text, revision) = on_sheet(at, state)?;
        let keeping = self.draft(&path).ok()?.keeping(&text);
        Some((path, revision, keeping))
    }

    fn draft(&mut self, path: &Path) -> Result<&mut OpenDraft, Error> {
        let found = self.open.iter_mut().find(|draft| draft.path() == path);
        found.ok_or_else(|| Error::new(format!("cannot write {}: it is not open here", path.display())))
    }

    fn save(&mut self, at: usize, state: &State) -> Result<Vec<Outcome>, Error> {
        let Some((path, text, _)) = on_sheet(at, state) else { return Ok(Vec::new()) };
        let draft = self.draft(&path)?;
        match draft.save(&text)? {
            Saved::Written => Ok(self.saved(at, path, text, state)),
            Saved::ChangedOutside(Outside::Changed(_)) => Ok(vec![Outcome::ChangedOutside(path)]),
            // There are no words of others to be asked about.
            Saved::ChangedOutside(Outside::Removed) => {
                draft.save_over(&text)?;
                let said = format!("{} was gone from its folder, and is written again.", path.display());
                let mut outcomes = self.saved(at, path, text, state);
                outcomes.push(Outcome::Said(said));
                Ok(outcomes)
            }
        }
    }

    /// After a draft was written: what stands in it is written too, where that is not in its file yet.
    fn saved(&self, at: usize, path: PathBuf, text: String, state: &State) -> Vec<Outcome> {
        let sheet = state.drafts.get(at).and_then(|paper| paper.sheet.as_ref());
        let stood = sheet.map(|sheet| (sheet.saved_stood.as_slice(), sheet.editor.stood()));
        let written = stood.filter(|(before, now)| before != now).map(|(before, now)| self.stand(&path, before, now));
        let told = written.map(|done| done.unwrap_or_else(|error| Outcome::Failed(sentence(&error.to_string()))));
        [Outcome::Saved(path, text)].into_iter().chain(told).collect()
    }

    /// Writes what stands in a draft. What another program has let stand meanwhile is left.
    fn stand(&self, path: &Path, before: &[Stood], now: &[Stood]) -> Result<Outcome, Error> {
        if let Some(brief) = &self.brief {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            files::change_stet(brief, |stet| stet.change(&name, before, now))?;
        }
        Ok(Outcome::Standing(path.to_path_buf(), now.to_vec()))
    }

    /// Reads a new draft that has the words of another, in which the same stands.
    fn with_what_stands(&mut self, of: usize, path: &Path, state: &State) -> Result<Vec<Outcome>, Error> {
        let stood = state.drafts.get(of).map_or_else(Vec::new, |paper| match &paper.sheet {
            Some(sheet) => sheet.editor.stood().to_vec(),
            None => state.stet.of(&paper.path.file_name().unwrap_or_default().to_string_lossy()),
        });
        let mut outcomes = if stood.is_empty() { Vec::new() } else { vec![self.stand(path, &[], &stood)?] };
        outcomes.extend(self.read(path)?);
        Ok(outcomes)
    }

    /// A draft's file under another name, which no file may have yet. What stands in it goes with it.
    fn rename(&mut self, from: &Path, to: &Path) -> Result<Vec<Outcome>, Error> {
        let mut closed = None;
        let draft = match self.open.iter_mut().find(|draft| draft.path() == from) {
            Some(draft) => draft,
            None => closed.insert(open::open(from)?),
        };
        if draft.recovered().is_some() {
            return Err(Error::new(format!(
                "cannot rename {}: unsaved words are kept of it under this name; open it, and take them or let them go first",
                from.display()
            )));
        }
        draft.rename(to)?;
        let name = |path: &Path| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let mut outcomes = vec![Outcome::Renamed(from.to_path_buf(), to.to_path_buf())];
        if let Some(brief) = &self.brief {
            let moved = files::change_stet(brief, |stet| {
                let stood = stet.of(&name(from));
                stet.change(&name(from), &stood, &[]);
                stet.change(&name(to), &[], &stood);
            });
            outcomes.extend(moved.err().map(|error| Outcome::Failed(sentence(&error.to_string()))));
        }
        Ok(outcomes)
    }

    fn write_brief(&mut self, changes: &[ValueChange], state: &State) -> Result<Vec<Outcome>, Error> {
        let Some(path) = &self.brief else { return Ok(Vec::new()) };
        let refuse = |problem: String| Error::new(format!("cannot write the brief {}: {problem}", path.display()));
        let folder = path.parent().unwrap_or(Path::new(""));
        files::change_brief(path, |text| {
            // A place in the panel's group means the same value only where that group is as it was read.
            let is_same = Brief::read(text, folder).is_ok_and(|now| now.panel_written == state.own.panel_written);
            if !is_same {
                return Err(refuse("another program has changed it; leave the desk and open it again".to_owned()));
            }
            let text = rewrite::rewritten(text, changes).map_err(refuse)?;
            Brief::read(&text, folder).map_err(|fault| refuse(fault.to_string()))?;
            Ok(text)
        })?;
        let brief = files::read_brief(path)?;
        let faces = files::read_faces(&brief, path)?;
        Ok(vec![Outcome::BriefWritten(Box::new(brief), faces)])
    }

    /// What other programs have done to the open drafts.
    pub(super) fn outside(&mut self, state: &State) -> Vec<Outcome> {
        let mut outcomes = Vec::new();
        for draft in &mut self.open {
            let path = draft.path().to_path_buf();
            let sheets = state.drafts.iter().filter_map(|paper| paper.sheet.as_ref());
            let is_changed = sheets.filter(|sheet| sheet.path == path).any(|sheet| sheet.has_unsaved_words());
            match draft.outside() {
                Ok(Some(Outside::Changed(_))) if is_changed => outcomes.push(Outcome::ChangedOutside(path)),
                Ok(Some(Outside::Changed(_))) => {
                    if let Ok(text) = draft.reload() {
                        outcomes.push(Outcome::Reread(path, text.to_owned()));
                    }
                }
                Ok(Some(Outside::Removed)) => outcomes.push(Outcome::Said(format!(
                    "{} is gone from its folder; saving writes it again.",
                    path.display()
                ))),
                Ok(None) | Err(_) => {}
            }
        }
        outcomes
    }

    /// The folders in which something may change, for watching them.
    pub(super) fn folders(&self) -> Vec<PathBuf> {
        let here =
            |folder: &Path| if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.to_path_buf() };
        let mut folders: Vec<PathBuf> = self.open.iter().filter_map(|draft| draft.path().parent()).map(here).collect();
        folders.dedup();
        folders
    }

    /// Lets every draft go that was not left: what was kept of it stays, the sign that it is open does not.
    pub(super) fn let_go(&mut self) {
        self.open.clear();
    }

    /// Leaves every draft for good; what is unsaved was let go.
    pub(super) fn close(&mut self) {
        for draft in self.open.drain(..) {
            draft.close();
        }
    }
}

/// What is to say of words that were kept, or could not be: once for each change, since they are not tried again before.
pub(super) fn kept(kept: &Result<Option<Notice>, Error>) -> Option<Outcome> {
    match kept {
        Ok(notice) => notice.as_ref().map(|notice| Outcome::Said(sentence(&notice.to_string()))),
        Err(error) => Some(Outcome::Failed(sentence(&error.to_string()))),
    }
}

/// The file, the text and the revision of a draft.
fn on_sheet(at: usize, state: &State) -> Option<(PathBuf, String, u64)> {
    let sheet = state.drafts.get(at)?.sheet.as_ref()?;
    Some((sheet.path.clone(), sheet.editor.text().to_owned(), sheet.editor.revision()))
}

/// Other unsaved words of an earlier desk, once those before are taken or let go.
fn also_recovered(draft: &OpenDraft) -> Vec<Outcome> {
    let path = draft.path().to_path_buf();
    draft.recovered().map(|found| Outcome::Recovered(path, found.text)).into_iter().collect()
}

/// Keeps a copy of a draft as it stands on the desk, or in its file where it is not open, measured by the brief and not by what is tried.
fn keep_copy(at: usize, name: &str, state: &State) -> Result<Vec<Outcome>, Error> {
    let Some(paper) = state.drafts.get(at) else { return Ok(Vec::new()) };
    let path = paper.path.clone();
    let text = match &paper.sheet {
        Some(sheet) => sheet.editor.text().to_owned(),
        None => files::read_draft(&path)?,
    };
    let report = report::assess(&Draft::read(&text), &state.own, &state.faces);
    let record = Record { name: name.to_owned(), figures: Some(KeptFigures::of(&report)), ..Record::default() };
    let copy = kept::keep(&path, &text, record)?;
    Ok(vec![Outcome::Said(format!("Kept a copy: {}", copy.path.display()))])
}

fn with_neighbours(named: Vec<PathBuf>, folder: &Path) -> Vec<PathBuf> {
    let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let found = files::drafts_in(here).unwrap_or_default();
    let bare = |path: PathBuf| path.strip_prefix(".").map(Path::to_path_buf).unwrap_or(path);
    let mut drafts = named;
    for path in found.into_iter().filter(|path| !path.is_dir()).map(bare) {
        if !drafts.iter().any(|known| known.file_name() == path.file_name() && known.parent() == path.parent()) {
            drafts.push(path);
        }
    }
    drafts
}

/// Writes the proof of the draft in front.
fn write_proof(path: &Path, state: &State) -> Result<(), Error> {
    let Some(sheet) = state.sheet() else { return Ok(()) };
    let name = sheet.path.display().to_string();
    let proof = Proof {
        drawing: &Drawing::of(&sheet.now.report, &sheet.now.draft, &state.brief, &state.faces),
        title: &state.brief.book.title,
        subject: &name,
        facts: &slug::facts(&sheet.now.report, &state.brief),
        cautions: &slug::CAUTIONS,
    };
    let picture = Picture { output: path, form: PictureFormat::of(path, None)?, resolution: png::USUAL_RESOLUTION };
    picture.write(&[proof::sheet(&proof, &state.faces)])
}

/// With a capital and a stop.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}
