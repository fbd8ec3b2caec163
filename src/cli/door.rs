//! The desk's door to the outside: performs the effects that the desk asks for, and returns their outcomes.
//!
//! Nothing here looks at the desk's state: an effect carries all that it needs, and names a draft by its number.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::proof::{Picture, PictureFormat, sheets_of};
use super::setup::{drafts_of, folder_here, neighbours, with_neighbours};
use crate::artwork::ArtFile;
use crate::brief::stet::{Stet, Stood};
use crate::brief::{Brief, WrittenBrief};
use crate::briefing::rewrite::{self, ValueChange};
use crate::desk::papers::{ListedCopy, PaperFacts};
use crate::desk::sheet::DraftContent;
use crate::desk::state::Writing;
use crate::desk::theme::Theme;
use crate::desk::unpriced::MeasuredBy;
use crate::desk::{DraftId, Effect, OpenedBook, Outcome, State};
use crate::draft::Draft;
use crate::files::book_outside::WatchedBook;
use crate::files::brief_recovery::BriefRecovery;
use crate::files::desk::{self as open, Notice, OpenDraft, Outside, RecoveryWrite, Saved};
use crate::files::kept::{self, KeptCopy};
use crate::files::story;
use crate::files::typed;
use crate::files::{self, Error};
use crate::proof::png;
use crate::report;
use crate::report::kept::Record;
use crate::setting::Faces;
use crate::terminal;
use crate::units::nouns::sentence;

/// The sample book, for looking round.
const SAMPLE_BRIEF: &str = include_str!("../../drafts/brief.yaml");
const SAMPLE: [(&str, &str); 2] =
    [("first.md", include_str!("../../drafts/first.md")), ("second.md", include_str!("../../drafts/second.md"))];

/// What a kept copy is called that holds unsaved words which were let go.
const LET_GO: &str = "let go";

/// A desk ready to run: its door, its first state, and the outcomes to feed it first.
pub(super) type SetUp = (Door, State, Vec<Outcome>);

/// What the desk reads and writes.
pub(super) struct Door {
    /// The drafts that are open for writing; none on the tour.
    open: Vec<(DraftId, OpenDraft)>,
    /// The brief and its art; none on the tour.
    book: Option<WatchedBook>,
    /// Where changes of the brief go that are not written; none on the tour.
    brief_recovery: Option<BriefRecovery>,
    /// The folder of the drafts, and those in it that the desk knows of; empty on the tour.
    folder: PathBuf,
    listed: BTreeSet<PathBuf>,
}

/// A brief whose art is to be read, with its file.
pub(super) struct ArtWish {
    pub(super) brief: Arc<Brief>,
    pub(super) path: PathBuf,
}

impl Door {
    /// Sets up a desk with the sample book, of which nothing is ever written to disk.
    pub(super) fn tour(theme: Theme) -> Result<SetUp, Error> {
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
        let (folder, listed) = (PathBuf::new(), BTreeSet::new());
        let door = Self { open: Vec::new(), book: None, brief_recovery: None, folder, listed };
        Ok((door, State::new(book, theme, terminal::size()), Vec::new()))
    }

    /// Sets up a desk with the named drafts of one book, or with the book in this folder where none is named.
    pub(super) fn set_up(named: &[PathBuf], brief: Option<&Path>, theme: Theme) -> Result<SetUp, Error> {
        let mut drafts = drafts_of(named)?;
        let folder = drafts.first().cloned().unwrap_or_default();
        drafts.retain(|draft| !draft.is_dir());
        let Some(first) = drafts.first().cloned() else { return Err(files::without_drafts(&folder)) };
        let folder = first.parent().unwrap_or(Path::new(""));
        let brief_path = brief.map_or_else(|| files::find_brief(folder), |brief| Ok(brief.to_path_buf()))?;
        // The art comes later: it may take longer than an author waits for a screen.
        let brief = files::read_brief_without_art(&brief_path)?;
        let faces = files::read_faces(&brief, &brief_path)?;
        let stet = files::read_stet(&brief_path)?;
        let book = Some(WatchedBook::of(&brief_path, &brief));
        let brief_recovery = Some(BriefRecovery::of(&brief_path));
        let draft = open::open(&first)?;
        // A document's draft has a file of its own.
        let first = draft.path().to_path_buf();
        drafts[0].clone_from(&first);
        // Named drafts bring the others of their folder with them.
        let drafts = if named.is_empty() { drafts } else { with_neighbours(drafts, folder) };
        let folder = if named.is_empty() { folder_here()? } else { folder };
        let (folder, listed) = (folder.to_path_buf(), neighbours(folder).into_iter().collect());
        let mut door = Self { open: Vec::new(), book, brief_recovery, folder, listed };
        let text = draft.text().to_owned();
        let book = OpenedBook { brief, faces, stet, drafts, first: (first, text), writing: Writing::Book };
        // The desk numbers the drafts, so outcomes that name a draft can be made only after its state exists.
        let state = State::new(book, theme, terminal::size());
        let (said, more) = door.hold(state.front, draft);
        let mut outcomes = vec![Outcome::ArtWaits, Outcome::Said(said.join("\n"))];
        outcomes.extend(more);
        let others = state.papers.iter().filter(|paper| paper.id != state.front);
        let others = others.filter(|paper| open::has_recovered_words(&paper.path));
        outcomes.extend(others.map(|paper| Outcome::HasRecovered { draft: paper.id }));
        outcomes.extend(door.brief_recovery.as_ref().and_then(BriefRecovery::offer));
        Ok((door, state, outcomes))
    }

    /// Performs an effect; an error becomes an outcome that the desk shows.
    pub(super) fn perform(&mut self, effect: Effect) -> Vec<Outcome> {
        let names = matches!(
            effect,
            Effect::Create { .. }
                | Effect::Double { .. }
                | Effect::Rename { .. }
                | Effect::SaveAs { .. }
                | Effect::WriteProof { .. }
        );
        self.tried(effect).unwrap_or_else(|error| match names {
            true => vec![Outcome::NameRefused { why: sentence(&error.to_string()) }],
            false => vec![failed(&error)],
        })
    }

    fn tried(&mut self, effect: Effect) -> Result<Vec<Outcome>, Error> {
        match effect {
            Effect::Save { draft, content } => self.save(draft, content),
            Effect::SaveAnyway { draft, content } => {
                self.draft(draft)?.save_over(&content.text)?;
                self.saved(draft, content)
            }
            Effect::SaveAs { draft, content, new, path } => self.save_as(draft, &content, new, path),
            Effect::Autosave { draft, text, revision } => {
                let said = autosaved(&self.draft(draft)?.autosave(&text));
                Ok([Outcome::Autosaved { draft, revision }].into_iter().chain(said).collect())
            }
            Effect::AutosaveBrief { changes, revision } => {
                let (written, has_some) = self.queue_brief(&changes);
                let said = written.and_then(|write| autosaved(&write.write()));
                Ok([Outcome::BriefAutosaved { revision, has_some }].into_iter().chain(said).collect())
            }
            Effect::AutosaveMended { text } => {
                let said = self.queue_mended(text.clone()).and_then(|write| autosaved(&write.write()));
                Ok([Outcome::MendedAutosaved { text }].into_iter().chain(said).collect())
            }
            Effect::AcceptBrief => self.brief_recovery.as_mut().map_or(Ok(Vec::new()), BriefRecovery::accept),
            Effect::DropBrief => self.brief_recovery.as_ref().map_or(Ok(Vec::new()), BriefRecovery::let_go),
            Effect::MendBrief { read, text } => self.mend_brief(&read, &text),
            Effect::KeepCopy { path, text, name, by } => keep_copy(&path, text, name, &by),
            Effect::Open { draft, path } => self.read(draft, path),
            Effect::Reread { draft } => self.reread(draft),
            Effect::LookAt { draft, path } => Ok(vec![Outcome::LookedAt { draft, text: self.text_of(&path)? }]),
            Effect::ListDrafts { drafts, by } => Ok(self.listed(drafts, &by)),
            Effect::ReadCopy { of, copy, what_for } => {
                let text = kept::text_of_copy(&copy.path)?;
                Ok(vec![Outcome::CopyRead { of, copy, text, what_for }])
            }
            Effect::OpenByPath { typed, here, listed, new } => Ok(self.open_by_path(&typed, &here, listed, new)),
            Effect::Create { draft, path } => {
                files::write_new(&path, "")?;
                self.read(draft, path)
            }
            Effect::Double { draft, from, text, stood, new, path } => {
                match text {
                    Some(text) => self.draft(draft)?.save_copy(&path, &text)?,
                    None => {
                        let closed = open::open(&from)?;
                        closed.save_copy(&path, closed.text())?;
                    }
                }
                self.read_with(new, path, &stood)
            }
            Effect::Rename { draft, from, to } => self.rename(draft, &from, to),
            Effect::WriteProof { path, of, text, by } => {
                write_proof(&path, &of, &text, &self.with_art(by)?)?;
                Ok(vec![Outcome::Said(format!("The proof is in {}.", path.display()))])
            }
            Effect::WriteBrief { changes, read } => self.write_brief(&changes, &read),
            Effect::ReadNamed { mut brief } => {
                let path = self.book.as_ref().map_or(Path::new(""), WatchedBook::path);
                let faces = files::read_named(&mut brief, path)?;
                Ok(vec![Outcome::NamedRead { brief, faces }])
            }
            Effect::ReadStory { typed, here, book } => {
                let beside = self.book.as_ref().map(WatchedBook::path);
                let words = story::words_of_story(&typed, &here, beside, &book);
                Ok(vec![match words {
                    Ok(words) => Outcome::StoryRead { words },
                    Err(error) => Outcome::NoStory { why: sentence(&error.to_string()) },
                }])
            }
            Effect::OfferRecovered { draft } => Ok(recovered(draft, self.draft(draft)?)),
            Effect::AcceptRecovered { draft } => {
                let open = self.draft(draft)?;
                open.recovered().map_or(Ok(()), |found| open.restore(&found))?;
                Ok(recovered(draft, open))
            }
            Effect::DropRecovered { draft } => self.let_words_go(draft),
            Effect::Copy { .. } | Effect::ReadArt { .. } | Effect::Suspend | Effect::Leave => Ok(Vec::new()),
        }
    }

    /// The text of a draft, read without opening the draft.
    fn text_of(&self, path: &Path) -> Result<String, Error> {
        if self.book.is_some() {
            return files::read_draft(path);
        }
        let found = SAMPLE.iter().find(|(name, _)| Path::new(name) == path);
        Ok(found.map(|(_, text)| (*text).to_owned()).unwrap_or_default())
    }

    /// Whether the drafts are files of a book, and not those of the sample.
    pub(super) fn has_files(&self) -> bool {
        self.book.is_some()
    }

    /// What is known of the sample's drafts, which have no files.
    fn listed(&self, drafts: Vec<(DraftId, PathBuf)>, by: &MeasuredBy) -> Vec<Outcome> {
        let known = |(draft, path): (DraftId, PathBuf)| {
            let figures = self.text_of(&path).ok().map(|text| by.figures(&text));
            Outcome::Listed { draft, facts: Box::new(PaperFacts { figures, ..PaperFacts::default() }) }
        };
        drafts.into_iter().map(known).collect()
    }

    /// Opens a draft, or reads it again if it is open: the outcome with the text first, then any others.
    fn read(&mut self, draft: DraftId, path: PathBuf) -> Result<Vec<Outcome>, Error> {
        if self.book.is_none() {
            let text = self.text_of(&path)?;
            return Ok(vec![Outcome::Opened { draft, path, text, said: Vec::new() }]);
        }
        if let Some((_, open)) = self.open.iter_mut().find(|(id, _)| *id == draft) {
            let text = open.reload()?.to_owned();
            return Ok(vec![Outcome::Opened { draft, path, text, said: Vec::new() }]);
        }
        let open = open::open(&path)?;
        let (path, text) = (open.path().to_path_buf(), open.text().to_owned());
        let (said, more) = self.hold(draft, open);
        Ok([Outcome::Opened { draft, path, text, said }].into_iter().chain(more).collect())
    }

    /// Adds a newly opened draft to the open ones. Returns what to tell the author, and the outcomes for the desk.
    fn hold(&mut self, draft: DraftId, open: OpenDraft) -> (Vec<String>, Vec<Outcome>) {
        let mut said: Vec<String> = open.notices().iter().map(|notice| sentence(&notice.to_string())).collect();
        let is_elsewhere = self.book.as_ref().is_some_and(|book| typed::is_outside(open.path(), book.path()));
        if is_elsewhere {
            said.insert(0, "This draft is not in the book's folder; it is measured by this book's brief.".to_owned());
        }
        let mut outcomes = Vec::from_iter(is_elsewhere.then_some(Outcome::Elsewhere { draft }));
        outcomes.extend((!open.is_on_disk()).then_some(Outcome::NotOnDisk { draft }));
        outcomes.extend(recovered(draft, &open));
        self.open.push((draft, open));
        (said, outcomes)
    }

    fn reread(&mut self, draft: DraftId) -> Result<Vec<Outcome>, Error> {
        // A file that cannot be read just now is looked at again when the draft is saved.
        let text = self.draft(draft)?.reload().map(str::to_owned).ok();
        Ok(text.map(|text| Outcome::Reread { draft, text }).into_iter().collect())
    }

    /// Opens a file by the path that was typed; a draft that is already open comes to the front unchanged.
    fn open_by_path(
        &mut self,
        typed: &str,
        here: &Path,
        listed: Vec<(DraftId, PathBuf)>,
        new: DraftId,
    ) -> Vec<Outcome> {
        let path = typed::meant(typed, here);
        if let Some((draft, _)) = self.open.iter().find(|(_, open)| open.is_unsaved_from(&path)) {
            return vec![Outcome::InFront { draft: *draft }];
        }
        let known = listed.into_iter().find(|(_, known)| *known == path || typed::is_same(known, &path));
        let (draft, path) = known.unwrap_or((new, path));
        if self.open.iter().any(|(id, _)| *id == draft) {
            return vec![Outcome::InFront { draft }];
        }
        let read = self.read(draft, path);
        read.unwrap_or_else(|error| vec![Outcome::NotOpened { why: sentence(&error.to_string()) }])
    }

    /// The words of a draft for another thread to write to the recovery file.
    pub(super) fn queue_autosave(&mut self, draft: DraftId, text: &str) -> Option<RecoveryWrite> {
        Some(self.draft(draft).ok()?.queue_autosave(text))
    }

    /// Changes of the brief that are not written, for another thread to write to its recovery file, and whether there
    /// will be any in that.
    pub(super) fn queue_brief(&mut self, changes: &[ValueChange]) -> (Option<RecoveryWrite>, bool) {
        self.brief_recovery.as_mut().map_or((None, false), |recovery| recovery.queue_changes(changes))
    }

    /// The text of a brief that is mended, for another thread to write to its recovery file.
    pub(super) fn queue_mended(&mut self, text: Option<String>) -> Option<RecoveryWrite> {
        self.brief_recovery.as_mut()?.queue_mended(text)
    }

    /// Writes the text of a brief that was mended, and goes by it if it can be read.
    fn mend_brief(&mut self, read: &str, text: &str) -> Result<Vec<Outcome>, Error> {
        let Some(book) = &mut self.book else { return Ok(Vec::new()) };
        let path = book.path().to_path_buf();
        let found = match files::write_mended_brief(&path, read, text)? {
            true => files::unread_brief(&path),
            false => files::mended_elsewhere(&path),
        };
        if let Some(found) = found {
            return Ok(vec![Outcome::BriefUnread(Box::new(found))]);
        }
        let brief = files::read_brief_without_art(&path)?;
        let faces = files::read_faces(&brief, &path)?;
        book.saw(&brief);
        Ok(vec![Outcome::BriefMended { brief: Box::new(brief), faces }])
    }

    fn draft(&mut self, draft: DraftId) -> Result<&mut OpenDraft, Error> {
        let found = self.open.iter_mut().find(|(id, _)| *id == draft);
        found.map(|(_, open)| open).ok_or_else(|| Error::new("cannot write the draft: it is not open here"))
    }

    fn save(&mut self, draft: DraftId, content: DraftContent) -> Result<Vec<Outcome>, Error> {
        let open = self.draft(draft)?;
        match open.save(&content.text)? {
            Saved::Written => self.saved(draft, content),
            Saved::ChangedOutside(Outside::Changed(_)) => Ok(vec![Outcome::ChangedOutside { draft }]),
            // The file is gone, so there are no words of another program that saving could overwrite.
            Saved::ChangedOutside(Outside::Removed) => {
                open.save_over(&content.text)?;
                let said = format!("{} was gone from its folder, and is written again.", open.path().display());
                let mut outcomes = self.saved(draft, content)?;
                outcomes.push(Outcome::Said(said));
                Ok(outcomes)
            }
        }
    }

    /// After a draft was written: also writes to `stet.yaml` the wordings that are let stand, if they have changed.
    fn saved(&mut self, draft: DraftId, content: DraftContent) -> Result<Vec<Outcome>, Error> {
        let DraftContent { text, stood, saved_stood } = content;
        let path = self.draft(draft)?.path().to_path_buf();
        let told = (stood != saved_stood).then(|| {
            let standing = self.stand(draft, &path, &saved_stood, stood);
            standing.unwrap_or_else(|error| failed(&error))
        });
        Ok([Outcome::Saved { draft, text }].into_iter().chain(told).collect())
    }

    /// Writes to `stet.yaml` the wordings that are let stand in a draft. Wordings that another program has added since
    /// are left alone.
    fn stand(&self, draft: DraftId, path: &Path, before: &[Stood], stood: Vec<Stood>) -> Result<Outcome, Error> {
        let name = file_name(path);
        if let Some(book) = &self.book {
            files::change_stet(book.path(), |stet| stet.change(&name, before, &stood))?;
        }
        Ok(Outcome::Standing { draft, name, stood })
    }

    fn save_as(
        &mut self,
        draft: DraftId,
        content: &DraftContent,
        new: DraftId,
        path: PathBuf,
    ) -> Result<Vec<Outcome>, Error> {
        self.draft(draft)?.save_copy(&path, &content.text)?;
        let mut outcomes = self.read_with(new, path, &content.stood)?;
        if let Some(at) = self.open.iter().position(|(id, _)| *id == draft) {
            self.open.remove(at).1.close();
        }
        outcomes.push(Outcome::PutAway { draft });
        Ok(outcomes)
    }

    /// Reads a new draft that has the words of another, after giving the new draft the same wordings to let stand.
    fn read_with(&mut self, draft: DraftId, path: PathBuf, stood: &[Stood]) -> Result<Vec<Outcome>, Error> {
        let standing = (!stood.is_empty()).then(|| self.stand(draft, &path, &[], stood.to_vec())).transpose()?;
        let mut outcomes = Vec::from_iter(standing);
        outcomes.extend(self.read(draft, path)?);
        Ok(outcomes)
    }

    /// Lets unsaved words of an earlier desk go. One letter asks for that, so they go to the kept copies, from which
    /// they can be brought back; where no copy can be kept they stay where they are.
    fn let_words_go(&mut self, draft: DraftId) -> Result<Vec<Outcome>, Error> {
        let open = self.draft(draft)?;
        let Some(found) = open.recovered() else { return Ok(Vec::new()) };
        let record = Record { name: LET_GO.to_owned(), ..Record::default() };
        let told = match kept::keep(open.path(), &found.text, record) {
            Ok(KeptCopy { path, record }) => {
                open.discard(&found);
                let said = format!("The words are in {}: Ctrl-O brings them back.", path.display());
                let kept = Outcome::Kept { of: open.path().to_path_buf(), copy: ListedCopy { path, record } };
                recovered(draft, open).into_iter().chain([kept, Outcome::Said(said)]).collect()
            }
            Err(error) => vec![Outcome::HasRecovered { draft }, failed(&error)],
        };
        Ok(told)
    }

    /// Renames a draft's file; the new name must be free. Its kept copies move along, and so do its wordings that are
    /// let stand in `stet.yaml`.
    fn rename(&mut self, draft: DraftId, from: &Path, to: PathBuf) -> Result<Vec<Outcome>, Error> {
        let mut closed = None;
        let open = match self.open.iter_mut().find(|(id, _)| *id == draft) {
            Some((_, open)) => open,
            None => closed.insert(open::open(from)?),
        };
        if open.recovered().is_some() {
            // No other name would do, so none is asked for.
            return Ok(vec![Outcome::Failed(format!(
                "Cannot rename {}: unsaved words are kept of it under this name; open it, and take them or let them go \
                 first.",
                from.display()
            ))]);
        }
        open.rename(&to)?;
        let copies = kept::move_along(from, &to).err().map(|error| failed(&error));
        let moved = self.book.as_ref().map(|book| {
            files::change_stet(book.path(), |stet| {
                let stood = stet.of(&file_name(from));
                stet.change(&file_name(from), &stood, &[]);
                stet.change(&file_name(&to), &[], &stood);
            })
        });
        let told = moved.and_then(Result::err).map(|error| failed(&error));
        Ok([Outcome::Renamed { draft, path: to }].into_iter().chain(copies).chain(told).collect())
    }

    /// The brief for another thread that reads its art; none on the tour, whose brief has none.
    pub(super) fn art_wish(&self, brief: Arc<Brief>) -> Option<ArtWish> {
        Some(ArtWish { brief, path: self.book.as_ref()?.path().to_path_buf() })
    }

    /// What a draft is measured by, with all art: a proof is not without it because it is still being read.
    fn with_art(&self, by: MeasuredBy) -> Result<MeasuredBy, Error> {
        let Some(book) = &self.book else { return Ok(by) };
        let mut brief = Brief::clone(&by.brief);
        files::fill_in_art(&mut brief, book.path())?;
        Ok(MeasuredBy { brief: Arc::new(brief), ..by })
    }

    fn write_brief(&mut self, changes: &[ValueChange], read: &WrittenBrief) -> Result<Vec<Outcome>, Error> {
        let Some(book) = &mut self.book else { return Ok(Vec::new()) };
        let path = &book.path().to_path_buf();
        let refuse = |problem: String| Error::new(format!("cannot write the brief {}: {problem}", path.display()));
        let folder = path.parent().unwrap_or(Path::new(""));
        files::change_brief(path, |text| {
            // A change names its place in a group of the brief, which means the same value only while that group is as
            // it was read.
            let now = Brief::read(text, folder).map(|now| now.written);
            let is_same = |change: &ValueChange| {
                let group = &change.path[..change.path.len().min(1)];
                now.as_ref().is_ok_and(|now| now.tree.at(group) == read.tree.at(group))
            };
            if !changes.iter().all(is_same) {
                return Err(refuse(
                    "another program has changed it; take back what you try, and begin again".to_owned(),
                ));
            }
            let text = rewrite::rewritten(text, changes).map_err(refuse)?;
            Brief::read(&text, folder).map_err(|fault| refuse(fault.to_string()))?;
            Ok(text)
        })?;
        let brief = files::read_brief_without_art(path)?;
        let faces = files::read_faces(&brief, path)?;
        book.saw(&brief);
        Ok(vec![Outcome::BriefWritten { brief: Box::new(brief), faces }])
    }

    /// The outcomes for new drafts, and for open ones, the brief and its art, whose files other programs have changed.
    pub(super) fn outside(&mut self) -> Vec<Outcome> {
        let told = self.open.iter().filter_map(|(draft, open)| match open.outside() {
            Ok(Some(Outside::Changed(_))) => Some(Outcome::WrittenOutside { draft: *draft }),
            Ok(Some(Outside::Removed)) => Some(Outcome::Said(format!(
                "{} is gone from its folder; saving writes it again.",
                open.path().display()
            ))),
            Ok(None) | Err(_) => None,
        });
        let new: Vec<PathBuf> = match self.book {
            Some(_) => neighbours(&self.folder).into_iter().filter(|draft| !self.listed.contains(draft)).collect(),
            None => Vec::new(),
        };
        self.listed.extend(new.iter().cloned());
        let found = (!new.is_empty()).then_some(Outcome::Found { drafts: new });
        let told: Vec<Outcome> = told.chain(found).collect();
        let brief = self.book.as_ref().map(|book| book.path().to_path_buf()).unwrap_or_default();
        let unread = |error: Error| {
            let why = sentence(&error.to_string());
            let said = || Outcome::Said(format!("{why} The desk goes on with the brief as it was."));
            files::unread_brief(&brief).map_or_else(said, |found| Outcome::BriefUnread(Box::new(found)))
        };
        let changes = self.book.iter_mut().flat_map(WatchedBook::changes);
        told.into_iter().chain(changes.map(|change| change.unwrap_or_else(unread))).collect()
    }

    /// The folders in which something may change, for watching them.
    pub(super) fn folders(&self) -> BTreeSet<PathBuf> {
        let here =
            |folder: &Path| if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.to_path_buf() };
        let folders = self.open.iter().filter_map(|(_, open)| open.path().parent());
        let drafts = self.book.iter().map(|_| self.folder.as_path());
        folders.chain(drafts).chain(self.book.iter().flat_map(WatchedBook::folders)).map(here).collect()
    }

    /// Drops every open draft without closing it: recovery files stay, the signs that the drafts are open are removed.
    pub(super) fn let_go(&mut self) {
        self.open.clear();
        self.brief_recovery = None;
    }

    /// Closes every draft for good; the author has let any unsaved words go.
    pub(super) fn close(&mut self) {
        if let Some(recovery) = self.brief_recovery.take() {
            recovery.forget();
        }
        for (_, open) in self.open.drain(..) {
            open.close();
        }
    }
}

/// What to tell the author about a write to the recovery file: a notice or an error. There is one message for each
/// change of the text, since a failed write is not tried again before the next change.
pub(super) fn autosaved(written: &Result<Option<Notice>, Error>) -> Option<Outcome> {
    match written {
        Ok(notice) => notice.as_ref().map(|notice| Outcome::Said(sentence(&notice.to_string()))),
        Err(error) => Some(failed(error)),
    }
}

/// The outcome of reading a file of art.
pub(super) fn art_read(file: PathBuf, read: Result<Arc<ArtFile>, Error>) -> Outcome {
    match read {
        Ok(art) => Outcome::ArtRead { file, art },
        Err(error) => Outcome::ArtUnread { file, why: sentence(&error.to_string()) },
    }
}

/// The outcome that offers unsaved words of an earlier desk; none where no such words are left.
fn recovered(draft: DraftId, open: &OpenDraft) -> Vec<Outcome> {
    open.recovered().map(|found| Outcome::Recovered { draft, text: found.text }).into_iter().collect()
}

/// Keeps a dated copy of a draft: of `text` where the draft is open at the desk, else of its file.
fn keep_copy(path: &Path, text: Option<String>, name: String, by: &MeasuredBy) -> Result<Vec<Outcome>, Error> {
    let text = text.map_or_else(|| files::read_draft(path), Ok)?;
    let record = Record { name, figures: Some(by.figures(&text)), ..Record::default() };
    let KeptCopy { path: copy, record } = kept::keep(path, &text, record)?;
    Ok(vec![Outcome::Kept { of: path.to_path_buf(), copy: ListedCopy { path: copy, record } }])
}

/// What is known of a draft from its files. What cannot be read is left out: the list tells of it when it is opened.
pub(super) fn known_of(path: &Path, by: &MeasuredBy) -> PaperFacts {
    let copies = kept::copies_of(path).unwrap_or_default().into_iter().rev();
    PaperFacts {
        figures: files::read_draft(path).ok().map(|text| by.figures(&text)),
        written: kept::written_at(path),
        copies: copies.map(|copy| ListedCopy { path: copy.path, record: copy.record }).collect(),
    }
}

/// Writes the proof of a draft's text.
fn write_proof(path: &Path, of: &Path, text: &str, MeasuredBy { brief, faces }: &MeasuredBy) -> Result<(), Error> {
    let draft = Draft::read(text);
    let report = report::assess(&draft, brief, faces);
    let picture = Picture { output: path, form: PictureFormat::of(path, None)?, resolution: png::USUAL_RESOLUTION };
    picture.write(&sheets_of(&report, &draft, (brief, faces), &of.display().to_string()))
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn failed(error: &Error) -> Outcome {
    Outcome::Failed(sentence(&error.to_string()))
}
