//! Everything that the desk holds at one moment.

use std::borrow::Cow;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::event::Grip;
use super::keys::{self, Command};
use super::layout::Areas;
use super::mode::{LeftUnsaved, Mode, Prompt};
use super::papers::{DraftId, Paper, Papers, file_name};
use super::rows::Wrapping;
use super::sheet::{DraftContent, DraftSheet};
use super::theme::Theme;
use super::unpriced::{MeasuredBy, Unpriced};
use crate::brief::Brief;
use crate::brief::art::ArtPicture;
use crate::brief::box_values::PanelBox;
use crate::brief::panel_values::WrittenPanel;
use crate::brief::place::CoverFace;
use crate::brief::stet::Stet;
use crate::draft::BlockKind;
use crate::editor::mending::MendedText;
use crate::setting::Faces;
use crate::trial::told::TrialFit;
use crate::trial::{Tried, TriedBrief};
use crate::units::Length;

/// The longest text, in bytes, whose cuts are priced: some twenty blurbs.
const LONGEST_PRICED: usize = 20_000;

/// The desk: one book, its drafts, and what is being done.
#[derive(Debug)]
pub struct State {
    /// The brief, and what is tried in place of its type and panel.
    pub(super) trial: TriedBrief,
    /// The brief as another program has written it, while a panel is tried on the one before.
    pub(super) changed_brief: Option<(Box<Brief>, Faces)>,
    /// The state of the brief whose changes went to its recovery file last, and whether there were any.
    pub(super) brief_kept: (u64, bool),
    /// What an earlier desk has not written of the brief, until the author was asked about it.
    pub(super) brief_left: Option<LeftUnsaved>,
    /// The brief as it is on the disk, while it cannot be read.
    pub(super) unread_brief: Option<Box<MendedText>>,
    /// The text of a brief that is mended, as it went to its recovery file last; none where none is there.
    pub(super) mended_kept: Option<String>,
    /// Which of the brief's pictures are still to be read.
    pub(super) art: ArtReading,
    /// Whether the copy goes into quiet room as soon as the art behind it is read: it was asked for before.
    pub(super) awaits_quiet_room: bool,
    /// The fonts.
    pub faces: Arc<Faces>,
    /// The wordings that the author lets stand, as `stet.yaml` has them.
    pub stet: Stet,
    /// The drafts of the book, open or not.
    pub papers: Papers,
    /// The draft in front; it is open.
    pub front: DraftId,
    /// What keys do at the moment.
    pub mode: Mode,
    /// The box on the panel that the mouse holds.
    pub(super) held: Option<HeldBox>,
    /// Where rows end.
    pub wrapping: Wrapping,
    /// Which places are marked in the text.
    pub marked: Marked,
    /// What was copied or cut.
    pub clipboard: String,
    /// The words that were looked for last.
    pub sought: String,
    /// The path that was last asked for.
    pub path_asked: String,
    /// The name of a draft that was typed last, and what it was asked for.
    pub(super) name_asked: Option<(Prompt, String)>,
    /// The words of the story that are its own, each with how often it stands there, once it was read.
    pub(super) story: Vec<(String, usize)>,
    /// The words that were typed last for a new block that is not written yet: nothing typed is lost by a key.
    pub(super) words_asked: Option<(BlockKind, String)>,
    /// The message at the foot, until the next key.
    pub said: Option<String>,
    /// The terminal's columns and rows.
    pub size: (u16, u16),
    /// The styles and signs for the terminal.
    pub theme: Theme,
    /// Whether the desk writes files.
    pub writing: Writing,
}

/// A box on a face that the mouse holds.
#[derive(Debug, Clone)]
pub(super) struct HeldBox {
    /// What of it the mouse has hold of.
    pub(super) grip: Grip,
    /// The box as it was taken hold of.
    pub(super) found: PanelBox,
    /// Where on the face the mouse was then.
    pub(super) from: (Length, Length),
    /// The panel as it was then.
    pub(super) before: WrittenPanel,
    /// Whether the box has been moved since.
    pub(super) is_moved: bool,
}

/// The files of art that are not known as they are on the disk, by the names that the brief has for them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct ArtReading {
    /// The files that are being read.
    pub(super) waiting: Vec<PathBuf>,
    /// The files that could not be read, each with why, as a sentence.
    pub(super) unread: Vec<(PathBuf, String)>,
}

impl ArtReading {
    /// Whether a file could not be read.
    pub(super) fn is_unread(&self, file: &Path) -> bool {
        self.unread.iter().any(|(unread, _)| unread == file)
    }
}

/// Whether the desk writes files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Writing {
    /// To the book's folder.
    Book,
    /// To no file: the sample book is only looked at.
    Nowhere,
}

/// Which places are marked in the text, one kind at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Marked {
    /// Nothing.
    #[default]
    Nothing,
    /// Terms of the brief.
    Terms,
    /// Queries.
    Queries,
    /// Words that are unfamiliar by the level's list.
    Unfamiliar,
}

impl Marked {
    /// The next kind.
    pub fn next(self) -> Self {
        match self {
            Self::Nothing => Self::Terms,
            Self::Terms => Self::Queries,
            Self::Queries => Self::Unfamiliar,
            Self::Unfamiliar => Self::Nothing,
        }
    }

    /// The kind in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Terms => "terms",
            Self::Queries => "queries",
            Self::Unfamiliar => "unfamiliar words",
        }
    }
}

/// What the desk is opened with.
#[derive(Debug)]
pub struct OpenedBook {
    /// The brief.
    pub brief: Brief,
    /// The fonts that the brief names.
    pub faces: Faces,
    /// The wordings that the author lets stand.
    pub stet: Stet,
    /// Every draft of the book.
    pub drafts: Vec<PathBuf>,
    /// The draft to begin with, and its text.
    pub first: (PathBuf, String),
    /// Whether anything may be written.
    pub writing: Writing,
}

impl State {
    /// A desk with one draft open.
    pub fn new(book: OpenedBook, theme: Theme, size: (u16, u16)) -> Self {
        let OpenedBook { brief, faces, stet, drafts, first: (path, text), writing } = book;
        let sheet = DraftSheet::new(text, stet.of(&file_name(&path)), &brief, &faces);
        let mut papers = Papers::of(drafts);
        let front = papers.id_for(&path);
        papers.enter(front, path).sheet = Some(sheet);
        let mut state = Self {
            trial: TriedBrief::of(brief),
            changed_brief: None,
            brief_kept: (0, false),
            brief_left: None,
            unread_brief: None,
            mended_kept: None,
            art: ArtReading::default(),
            awaits_quiet_room: false,
            faces: Arc::new(faces),
            stet,
            papers,
            front,
            mode: Mode::Writing,
            held: None,
            wrapping: Wrapping::AsSet,
            marked: Marked::Nothing,
            clipboard: String::new(),
            sought: String::new(),
            path_asked: String::new(),
            name_asked: None,
            story: Vec::new(),
            words_asked: None,
            said: None,
            size,
            theme,
            writing,
        };
        state.assess();
        state
    }

    /// The brief, with what is tried in place of its own type and panel.
    pub fn brief(&self) -> &Brief {
        self.trial.brief()
    }

    /// The brief as its own page has it, without what is tried in the place of its type and panel.
    pub fn own_brief(&self) -> &Brief {
        self.trial.own()
    }

    /// The brief as its file has it.
    pub fn file_brief(&self) -> &Brief {
        self.trial.file()
    }

    /// Whether something was changed on the brief's own page that its file lacks.
    pub fn is_brief_changed(&self) -> bool {
        self.trial.is_changed()
    }

    /// Whether something was changed or is tried that the brief's file lacks.
    pub fn has_more_than_brief(&self) -> bool {
        !self.tried().is_nothing() || self.trial.is_changed()
    }

    /// What was typed to mend the brief and is not written; none where nothing was.
    pub(super) fn unwritten_mending(&self) -> Option<&str> {
        let text = match &self.mode {
            Mode::Mending(text) => Some(text),
            _ => self.unread_brief.as_ref(),
        };
        text.filter(|text| text.is_changed()).map(|text| text.editor.text())
    }

    /// What is told as long as the brief is not mended; none where it can be read.
    pub(super) fn told_of_unread_brief(&self) -> Option<&'static str> {
        let text = self.unread_brief.as_ref()?;
        Some(if text.is_changed() {
            "What you typed of the brief is not written:"
        } else {
            "The brief cannot be read:"
        })
    }

    /// Puts the page away on which the brief is mended, with all that was typed, before something else is asked.
    pub(super) fn put_mending_aside(&mut self) {
        match std::mem::take(&mut self.mode) {
            Mode::Mending(mut text) => {
                text.is_leaving = false;
                self.unread_brief = Some(text).filter(|text| text.is_changed() || !text.is_readable);
            }
            mode => self.mode = mode,
        }
    }

    /// What is tried in place of the brief's type and panel.
    pub fn tried(&self) -> &Tried {
        self.trial.tried()
    }

    /// The list entry of the draft in front.
    pub fn paper(&self) -> Option<&Paper> {
        self.papers.get(self.front)
    }

    /// The draft in front.
    pub fn sheet(&self) -> Option<&DraftSheet> {
        self.paper()?.sheet.as_ref()
    }

    /// The draft in front, to be changed.
    pub fn sheet_mut(&mut self) -> Option<&mut DraftSheet> {
        self.sheet_of(self.front)
    }

    /// An open draft, to be changed.
    pub(super) fn sheet_of(&mut self, draft: DraftId) -> Option<&mut DraftSheet> {
        self.papers.get_mut(draft)?.sheet.as_mut()
    }

    /// Whether copy of the draft in front stands on art.
    pub fn is_on_art(&self) -> bool {
        self.sheet().is_some_and(|sheet| sheet.now.report.legibility.is_some())
    }

    /// The name of the draft in front: its file's, without folder and ending.
    pub fn name(&self) -> String {
        self.paper().map_or_else(String::new, Paper::name)
    }

    /// The number of the draft with this file; a new one where the file is not listed.
    pub fn draft_with(&mut self, path: impl Into<PathBuf>) -> DraftId {
        self.papers.id_for(&path.into())
    }

    /// Where everything stands on the screen.
    pub fn areas(&self) -> Areas {
        Areas::of(self.size, self.sheet().map_or(0, |sheet| sheet.printed))
    }

    /// Measures the draft in front again if it has changed, and makes its rows.
    pub fn assess(&mut self) {
        let (wrapping, size) = (self.wrapping, self.size);
        let is_trying = self.is_trying() && !self.tried().is_nothing();
        if let Some(sheet) = self.papers.get_mut(self.front).and_then(|paper| paper.sheet.as_mut()) {
            sheet.measure(self.trial.brief(), &self.faces);
            if is_trying {
                sheet.measure_untried(&self.trial.shared_own(), &self.faces);
            }
            sheet.make_rows(wrapping, Areas::of(size, sheet.printed).text_columns());
        }
    }

    /// The draft in front, if its cuts have no prices for the current text. A text far longer than any blurb is not
    /// priced.
    pub fn unpriced(&self) -> Option<Unpriced> {
        let sheet = self.sheet()?;
        let revision = sheet.editor.revision();
        let is_priced = sheet.tighten.as_ref().is_some_and(|(priced, _)| *priced == revision);
        let text = sheet.editor.text();
        (!is_priced && text.len() <= LONGEST_PRICED).then(|| Unpriced {
            draft: self.front,
            revision,
            text: text.to_owned(),
            by: MeasuredBy { brief: self.trial.shared(), faces: Arc::clone(&self.faces) },
        })
    }

    /// Tries another type or panel, as a step that can be taken back; nothing where it is tried already.
    pub(super) fn try_step(&mut self, tried: Tried) {
        if tried != *self.tried() {
            self.trial.note();
            self.try_on(tried);
        }
    }

    /// Tries another type or panel as a part of the step before.
    pub(super) fn try_on(&mut self, tried: Tried) {
        self.trial.set(tried);
        self.forget_measures();
    }

    /// Takes the last step of what is tried back.
    pub(super) fn take_trial_back(&mut self) {
        if !self.trial.take_back() {
            self.said = Some("Nothing is left to take back here.".to_owned());
            return;
        }
        self.forget_measures();
        let last = self.values().len().saturating_sub(1);
        if let Mode::Values(at) = &mut self.mode {
            *at = (*at).min(last);
        }
    }

    /// Whether a step of what is tried can be taken back.
    pub fn can_take_trial_back(&self) -> bool {
        self.trial.can_take_back()
    }

    /// How the draft in front stands by the brief without what is tried; none where nothing is tried.
    pub fn untried(&self) -> Option<&TrialFit> {
        self.sheet()?.untried().filter(|_| !self.tried().is_nothing())
    }

    /// The name of a command's key in the present mode; from a page the first Escape leads back to writing.
    pub fn key_name(&self, command: Command) -> Cow<'static, str> {
        let lead = match self.mode {
            Mode::Writing => keys::ESCAPE.to_owned(),
            Mode::Letter => String::new(),
            _ => keys::ESCAPE.repeat(2),
        };
        keys::of(command).name_behind(&lead, self.theme.keyboard)
    }

    /// Whether another type or panel is being tried.
    pub fn is_trying(&self) -> bool {
        matches!(self.mode, Mode::Type) || self.mode.shows_values()
    }

    /// Whether the copy is read closely, as on the last read.
    pub fn is_close(&self) -> bool {
        self.trial.is_close()
    }

    /// Reads every draft closely, or no longer.
    pub(super) fn read_closely(&mut self, close: bool) {
        self.trial.set_close(close);
        self.forget_measures();
    }

    /// Marks every open draft as unmeasured, because the brief or the type has changed, and measures the one beside
    /// again.
    pub(super) fn forget_measures(&mut self) {
        for sheet in self.papers.iter_mut().filter_map(|paper| paper.sheet.as_mut()) {
            sheet.forget();
        }
        if let Mode::Beside(beside) = &mut self.mode {
            beside.measure(self.trial.brief(), &self.faces);
        }
    }

    /// Marks every open draft as unmeasured in fonts that were read again.
    pub(super) fn forget_fonts(&mut self) {
        for sheet in self.papers.iter_mut().filter_map(|paper| paper.sheet.as_mut()) {
            sheet.forget_fonts();
        }
        self.forget_measures();
    }

    /// What is to be told of the picture on a face, in a few words; none where it is shown as its file has it, and
    /// where there is none.
    pub fn art_told(&self, face: CoverFace) -> Option<&'static str> {
        let layout = self.brief().faces().find(|layout| layout.face == face)?;
        let told = |picture: &ArtPicture| match picture.read {
            None if self.art.is_unread(&picture.file) => Some("the art cannot be read"),
            None => Some("the art is being read"),
            Some(_) => self.art.is_unread(&picture.file).then_some("art as it was"),
        };
        { layout.arts() }.find_map(|art| told(&art.picture))
    }

    /// Why a picture that the brief names cannot be read, as a sentence; none for any other file.
    pub fn why_unread(&self, file: &str) -> Option<&str> {
        let found = self.art.unread.iter().find(|(unread, _)| unread == Path::new(file));
        found.map(|(_, why)| why.as_str())
    }

    /// Notes whether recovered words wait for a draft.
    pub(super) fn set_recovered_words(&mut self, draft: DraftId, has: bool) {
        if let Some(paper) = self.papers.get_mut(draft) {
            paper.has_recovered_words = has;
        }
    }

    /// The open drafts that differ from their files.
    pub fn changed(&self) -> impl Iterator<Item = (DraftId, &DraftSheet)> {
        self.sheets().filter(|(_, sheet)| sheet.is_changed())
    }

    /// The open drafts.
    pub(super) fn sheets(&self) -> impl Iterator<Item = (DraftId, &DraftSheet)> {
        self.papers.iter().filter_map(|paper| Some((paper.id, paper.sheet.as_ref()?)))
    }

    /// What the files of an open draft should contain; none for a draft that is not open.
    pub(super) fn content(&self, draft: DraftId) -> Option<DraftContent> {
        Some(self.papers.get(draft)?.sheet.as_ref()?.content())
    }
}
