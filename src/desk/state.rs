//! Everything that the desk is at one moment.

use std::hash::{Hash, Hasher};
use std::path::PathBuf;
use std::sync::Arc;

use super::beside::Beside;
use super::details::DetailsPage;
use super::layout::Areas;
use super::rows::Wrapping;
use super::sheet::DraftSheet;
use super::theme::Theme;
use super::tried::Tried;
use crate::brief::Brief;
use crate::brief::stet::Stet;
use crate::draft::Draft;
use crate::editor::Editor;
use crate::report;
use crate::report::tighten::{DraftFile, Tighten};
use crate::setting::Faces;

/// The desk: one book, its drafts, and what is being done.
#[derive(Debug)]
pub struct State {
    /// The brief as its file has it.
    pub own: Brief,
    /// What is tried in place of the brief's type.
    pub tried: Tried,
    /// The brief with what is tried.
    pub brief: Brief,
    /// The fonts.
    pub faces: Arc<Faces>,
    /// What the author lets stand, as its file has it.
    pub stet: Stet,
    /// The drafts of the book, open or not.
    pub drafts: Vec<Paper>,
    /// The one in front; it is open.
    pub front: usize,
    /// What keys are for.
    pub mode: Mode,
    /// How rows end.
    pub wrapping: Wrapping,
    /// What is marked in the text.
    pub marked: Marked,
    /// What was copied or cut.
    pub clipboard: String,
    /// What was looked for last.
    pub sought: String,
    /// The path that was asked for last.
    pub path_asked: String,
    /// What the foot says until the next key.
    pub said: Option<String>,
    /// The terminal's columns and rows.
    pub size: (u16, u16),
    /// The looks.
    pub theme: Theme,
    /// Whether anything is ever written.
    pub writing: Writing,
}

/// A draft of the book.
#[derive(Debug)]
pub struct Paper {
    /// Its file.
    pub path: PathBuf,
    /// Where it comes from.
    pub origin: DraftOrigin,
    /// Unsaved words of an earlier desk are kept for it, which are neither taken nor let go.
    pub has_kept_words: bool,
    /// What is on it, once it was opened.
    pub sheet: Option<DraftSheet>,
}

/// Where a draft comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DraftOrigin {
    /// From the book's folder.
    Book,
    /// From another place, though it is measured by this book's brief.
    Elsewhere,
}

impl Paper {
    /// A draft that is not opened yet.
    pub(super) fn new(path: PathBuf) -> Self {
        Self { path, origin: DraftOrigin::Book, has_kept_words: false, sheet: None }
    }

    /// The file's name without its ending.
    pub(super) fn name(&self) -> String {
        super::sheet::name(&self.path)
    }
}

/// Whether the desk writes files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Writing {
    /// To the book's folder.
    Book,
    /// Nowhere: the sample book is only looked at.
    Nowhere,
}

/// What keys are for.
#[derive(Debug, Default)]
pub enum Mode {
    /// Writing.
    #[default]
    Writing,
    /// A letter for a command.
    Letter,
    /// The list of keys, from a line of it on.
    Keys(usize),
    /// A measure in detail, from a line of it on.
    Details(DetailsPage, usize),
    /// The panel on its own.
    Panel,
    /// The queries, with the number of the one in hand.
    Queries(usize),
    /// Another type.
    Type,
    /// Another panel, with the number of the value in hand.
    Values(usize),
    /// The drafts, with the number of the one in hand.
    Drafts(usize),
    /// Another draft beside the one in front.
    Beside(Box<Beside>),
    /// A line to be filled in.
    Prompt(Prompt, Editor),
    /// A last word before leaving with something unsaved.
    Leaving,
    /// The file was changed by another program: which one shall stand?
    Outside,
    /// Unsaved words of an earlier desk: are they wanted? From a line of the difference on.
    Recovered(String, usize),
}

impl Mode {
    /// Whether it asks something that has to be answered first.
    pub(super) fn asks(&self) -> bool {
        matches!(self, Self::Leaving | Self::Outside | Self::Recovered(..))
    }

    /// Whether it shows a page that is read from head to foot.
    pub(super) fn is_read(&self) -> bool {
        matches!(self, Self::Keys(_) | Self::Details(..) | Self::Recovered(..))
    }
}

/// What a line is filled in for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Prompt {
    /// Words to find.
    Find,
    /// Another name for the draft in this row of the list.
    Rename(usize),
    /// A name to save it under.
    SaveAs,
    /// A name for a new draft beside the one in this row of the list.
    New(usize),
    /// A name for a double of the draft in this row of the list.
    Double(usize),
    /// A name for the proof.
    Proof,
    /// A name, which may be none, for a kept copy of the draft in this row of the list.
    Keep(usize),
    /// The path of a file to open.
    Open,
    /// Another value of the panel, by its number.
    Value(usize),
}

impl Prompt {
    /// The row of the list of drafts that it is about, where it is about one.
    pub(super) fn row(self) -> Option<usize> {
        match self {
            Self::Rename(row) | Self::New(row) | Self::Double(row) | Self::Keep(row) => Some(row),
            _ => None,
        }
    }
}

/// What is marked in the text, one kind at a time.
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

/// A draft whose cuts have to be tried: that takes longer than a key may, and is done aside.
#[derive(Debug)]
pub struct Unpriced {
    /// Its file.
    pub path: PathBuf,
    /// The revision of its text.
    pub revision: u64,
    text: String,
    brief: Brief,
    faces: Arc<Faces>,
}

/// Bytes of the longest text that is priced: some twenty blurbs.
const LONGEST_PRICED: usize = 20_000;

impl Unpriced {
    /// A number that is another for another text, another type of it or another panel.
    pub fn key(&self) -> u64 {
        let mut hasher = std::hash::DefaultHasher::new();
        (self.revision, format!("{:?}", (&self.brief.typography, &self.brief.panel))).hash(&mut hasher);
        hasher.finish()
    }

    /// Tries every cut, as long as anybody wants to know: once it is no longer wanted it ends soon, and is not whole.
    pub fn priced(&self, is_wanted: &dyn Fn() -> bool) -> Tighten {
        let draft = Draft::read(&self.text);
        let report = report::assess(&draft, &self.brief, &self.faces);
        // What stands is left out where queries are shown, so that nothing is found anew for it.
        let file = DraftFile { name: "", source: &self.text, stet: &Stet::default() };
        Tighten::while_wanted(file, &draft, &self.brief, (&self.faces, &report), is_wanted)
    }
}

/// What the desk is opened with.
#[derive(Debug)]
pub struct OpenedBook {
    /// The brief.
    pub brief: Brief,
    /// The fonts that it names.
    pub faces: Faces,
    /// What the author lets stand.
    pub stet: Stet,
    /// Every draft of the book.
    pub drafts: Vec<PathBuf>,
    /// The one to begin with, and its text.
    pub first: (PathBuf, String),
    /// Whether anything may be written.
    pub writing: Writing,
}

impl State {
    /// A desk with one draft open.
    pub fn new(book: OpenedBook, theme: Theme, size: (u16, u16)) -> Self {
        let OpenedBook { brief, faces, stet, drafts, first: (path, text), writing } = book;
        let sheet = DraftSheet::new(path.clone(), text, (&brief, &stet), &faces);
        let mut drafts: Vec<Paper> = drafts.into_iter().map(Paper::new).collect();
        let front = drafts.iter().position(|paper| paper.path == path).unwrap_or_else(|| {
            drafts.insert(0, Paper::new(path));
            0
        });
        drafts[front].sheet = Some(sheet);
        let mut state = Self {
            own: brief.clone(),
            tried: Tried::default(),
            brief,
            faces: Arc::new(faces),
            stet,
            drafts,
            front,
            mode: Mode::Writing,
            wrapping: Wrapping::AsSet,
            marked: Marked::Nothing,
            clipboard: String::new(),
            sought: String::new(),
            path_asked: String::new(),
            said: None,
            size,
            theme,
            writing,
        };
        state.assess();
        state
    }

    /// The draft in front.
    pub fn sheet(&self) -> Option<&DraftSheet> {
        self.drafts.get(self.front)?.sheet.as_ref()
    }

    /// The draft in front, to be changed.
    pub fn sheet_mut(&mut self) -> Option<&mut DraftSheet> {
        self.drafts.get_mut(self.front)?.sheet.as_mut()
    }

    /// Where everything stands on the screen.
    pub fn areas(&self) -> Areas {
        Areas::of(self.size)
    }

    /// Measures the draft in front again where it has changed, and makes its rows.
    pub fn assess(&mut self) {
        let columns = self.areas().text_columns();
        let (wrapping, front) = (self.wrapping, self.front);
        if let Some(sheet) = self.drafts.get_mut(front).and_then(|paper| paper.sheet.as_mut()) {
            sheet.assess(&self.brief, &self.faces, wrapping, columns);
        }
    }

    /// What has to be priced: the draft in front, where its cuts have no price for the text as it is. A text far longer than
    /// any blurb is not priced.
    pub fn unpriced(&self) -> Option<Unpriced> {
        let sheet = self.sheet()?;
        let revision = sheet.editor.revision();
        let is_priced = sheet.tighten.as_ref().is_some_and(|(priced, _)| *priced == revision);
        (!is_priced && sheet.editor.text().len() <= LONGEST_PRICED).then(|| Unpriced {
            path: sheet.path.clone(),
            revision,
            text: sheet.editor.text().to_owned(),
            brief: self.brief.clone(),
            faces: Arc::clone(&self.faces),
        })
    }

    /// Tries another type or panel.
    pub fn try_type(&mut self, tried: Tried) {
        self.tried = tried;
        self.brief = self.tried.on(&self.own);
        for sheet in self.drafts.iter_mut().filter_map(|paper| paper.sheet.as_mut()) {
            sheet.forget();
        }
    }

    /// Notes whether kept words wait for a draft.
    pub(super) fn set_kept_words(&mut self, at: usize, has: bool) {
        if let Some(paper) = self.drafts.get_mut(at) {
            paper.has_kept_words = has;
        }
    }

    /// The drafts with something that their files have not.
    pub fn changed(&self) -> impl Iterator<Item = (usize, &DraftSheet)> {
        let sheets = self.drafts.iter().enumerate();
        sheets.filter_map(|(at, paper)| Some((at, paper.sheet.as_ref().filter(|sheet| sheet.is_changed())?)))
    }
}
