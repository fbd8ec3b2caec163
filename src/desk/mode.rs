//! What keys are for at the desk: one mode at a time.

use ratatui::crossterm::event::KeyCode;

use super::beside::Beside;
use super::keys::Way;
use super::papers::DraftId;
use crate::draft::{BlockKind, Edit, Span};
use crate::editor::Editor;
use crate::editor::mending::MendedText;
use crate::terms::answers::AnswersInCopy;
use crate::values::row::Added;

/// What keys do at the moment.
#[derive(Debug, Default)]
pub enum Mode {
    /// Writing.
    #[default]
    Writing,
    /// Waiting for the letter of a command.
    Letter,
    /// The list of keys.
    Keys(KeysPage),
    /// A measure in detail.
    Details(DetailsPage, ReadPage),
    /// The panel on its own, with its figures.
    Panel(ReadPage),
    /// The queries, with the number of the selected one.
    Queries(usize),
    /// Other words for the one at the cursor, or for those of the whole draft.
    OtherWords(Box<WordPage>),
    /// Trying another type.
    Type,
    /// Trying another panel, with the number of the selected value.
    Values(usize),
    /// The questions about a new box on the panel.
    Adding(NewBox),
    /// The list of blocks that can be written, with the number of the selected one.
    Inserting(usize),
    /// The book and its brief, row by row.
    Book(BookPage),
    /// The drafts, with the selected row.
    Drafts(usize),
    /// Another draft beside the one in front.
    Beside(Box<Beside>),
    /// The questions that a blurb answers, with an answer to be typed.
    Answers(Box<AnswersPage>),
    /// A line to be filled in.
    Prompt(Prompt, Editor),
    /// The question before leaving with something unsaved.
    Leaving,
    /// The file was changed by another program: which one shall stand?
    Outside,
    /// The question whether what an earlier desk left unsaved is wanted.
    Recovered(LeftUnsaved, ReadPage),
    /// The text of a brief that cannot be read, to be mended.
    Mending(Box<MendedText>),
}

/// What an earlier desk left unsaved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LeftUnsaved {
    /// Words of the draft in front.
    Words(String),
    /// Changes of the brief.
    Brief {
        /// The text of the brief's file.
        here: String,
        /// The text read, with the changes.
        kept: String,
    },
}

/// The questions that a blurb answers, one of them in hand, whose answer is written into the draft as it is typed.
#[derive(Debug)]
pub struct AnswersPage {
    /// The number of the question in hand.
    pub at: usize,
    /// The answer to it.
    pub field: Editor,
    /// What the draft answers, and what of it stands in the copy.
    pub found: AnswersInCopy,
    /// The draft and the revision of its text that `found` is about.
    pub(super) read: (DraftId, u64),
    /// The revision at which the last step of the draft is this answer; none where nothing was typed yet.
    pub(super) step: Option<u64>,
}

/// The page of the book and its brief.
#[derive(Debug, Default)]
pub struct BookPage {
    /// The number of the row in hand.
    pub at: usize,
    /// What is chosen from a list at the moment.
    pub choosing: Option<RowChoice>,
}

/// A list from which something of the brief is chosen.
#[derive(Debug)]
pub struct RowChoice {
    /// What is asked.
    pub heading: String,
    /// What can be chosen.
    pub options: Vec<String>,
    /// The number of the selected one.
    pub at: usize,
    /// What becomes of it.
    pub(super) for_what: ChosenFor,
}

impl RowChoice {
    /// Whether the list has the values of the row in hand, and not something else of the brief.
    pub fn is_of_row(&self) -> bool {
        self.for_what == ChosenFor::Value
    }
}

/// What becomes of what is chosen from a list on the page of the brief.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ChosenFor {
    /// The value of the row in hand.
    Value,
    /// What is to be added.
    Adding,
    /// The rule that a new value is about.
    Rule(Added),
    /// A word of the story, which becomes a term.
    Story,
}

/// Other words that can be put in.
#[derive(Debug, Default)]
pub struct WordPage {
    /// Which words they are for.
    pub scope: WordScope,
    /// The number of the selected row.
    pub at: usize,
    /// What stands above the rows.
    pub heading: String,
    /// The other words; never empty.
    pub rows: Vec<WordRow>,
    /// The number of the draft's assessment for which they were found.
    pub(super) found_for: u64,
}

/// Which words of a draft others are shown for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WordScope {
    /// The word at the cursor.
    #[default]
    Here,
    /// The words that the readers may not know, and those that would win a line.
    Whole,
}

/// Another word, and what it wins.
#[derive(Debug, Clone, PartialEq)]
pub struct WordRow {
    /// The word as it is written.
    pub word: String,
    /// The word's place in the file.
    pub span: Span,
    /// What would stand there instead, with the article where that changes.
    pub other: String,
    /// What it wins, in a few words.
    pub wins: String,
    /// The change of the file.
    pub edit: Edit,
}

/// A new box on the panel, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NewBox {
    /// The answer to the first question, what it holds, by its number in the list; none while that is asked.
    pub what: Option<usize>,
    /// The selected answer to the question that is asked.
    pub at: usize,
}

impl NewBox {
    /// The question that is asked.
    pub fn question(self) -> &'static str {
        if self.what.is_none() { "What does the new place hold?" } else { "Where does it go?" }
    }
}

impl Mode {
    /// Whether the mode is a question that has to be answered first.
    pub fn asks(&self) -> bool {
        matches!(self, Self::Leaving | Self::Outside | Self::Recovered(..))
    }

    /// The number of the value of the panel that is changed or typed.
    pub fn value_in_hand(&self) -> Option<usize> {
        match self {
            Self::Values(at) | Self::Prompt(Prompt::Value(at), _) => Some(*at),
            _ => None,
        }
    }

    /// Whether the mode shows the values of the panel, or the questions about a new box in their place.
    pub fn shows_values(&self) -> bool {
        self.value_in_hand().is_some() || matches!(self, Self::Adding(_))
    }

    /// The page of text that the mode shows, if any.
    pub fn page(&self) -> Option<&ReadPage> {
        match self {
            Self::Keys(KeysPage { page, .. }) => Some(page),
            Self::Panel(page) | Self::Details(_, page) | Self::Recovered(_, page) => Some(page),
            _ => None,
        }
    }

    /// The page of text that the mode shows, to be laid out or scrolled.
    pub(super) fn page_mut(&mut self) -> Option<&mut ReadPage> {
        match self {
            Self::Keys(KeysPage { page, .. }) => Some(page),
            Self::Panel(page) | Self::Details(_, page) | Self::Recovered(_, page) => Some(page),
            _ => None,
        }
    }
}

/// The list of keys, and what is looked for in it.
#[derive(Debug, Default)]
pub struct KeysPage {
    /// The words that tell what is wanted; empty where all keys are listed.
    pub sought: String,
    /// The number of the selected way among those that were found.
    pub at: usize,
    /// The lines of the list.
    pub page: ReadPage,
    /// For each line the way that it tells; none for a line that tells none.
    pub(super) ways: Vec<Option<Way>>,
}

impl KeysPage {
    /// The number of the line in a row of the page, counted from the first row in sight, where it tells a way.
    pub fn way_in_row(&self, row: usize) -> Option<usize> {
        let line = self.page.from + row;
        self.ways.get(line)?.as_ref().filter(|way| !way.presses.is_empty()).map(|_| line)
    }

    /// The way that a line tells, by the number of the line.
    pub(super) fn way(&self, line: usize) -> Option<&Way> {
        self.ways.get(line)?.as_ref()
    }
}

/// A page of text in lines, and how far it is scrolled.
#[derive(Debug, Default)]
pub struct ReadPage {
    /// The number of lines scrolled past above the screen.
    pub(super) from: usize,
    /// The lines, from head to foot.
    pub(super) lines: Vec<String>,
    /// The rows that the page has on the screen.
    pub(super) rows: usize,
    /// What the lines were laid out for; none before the first layout.
    pub(super) laid_for: Option<LaidFor>,
}

/// What the lines of a page depend on, apart from the mode that holds the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct LaidFor {
    pub(super) draft: DraftId,
    pub(super) assessment: u64,
    pub(super) columns: usize,
}

/// The number of lines that PageDown and PageUp scroll.
const TURN: usize = 10;

impl ReadPage {
    /// The lines from the first in sight on.
    pub fn in_sight(&self) -> &[String] {
        self.lines.get(self.from..).unwrap_or_default()
    }

    /// Whether the page has lines above or below those that fit on it.
    pub fn goes_on(&self) -> bool {
        self.from > 0 || self.lines.len() > self.rows
    }

    /// Scrolls as a key asks, and returns whether the page stays open.
    pub(super) fn scroll(&mut self, code: KeyCode) -> bool {
        self.from = match code {
            KeyCode::Down => self.from + 1,
            KeyCode::PageDown | KeyCode::Char(' ') => self.from + TURN,
            KeyCode::Up => self.from.saturating_sub(1),
            KeyCode::PageUp => self.from.saturating_sub(TURN),
            KeyCode::Home => 0,
            _ => return false,
        };
        true
    }
}

/// The measure that a page of details is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DetailsPage {
    /// How long the blurb is.
    Length,
    /// How hard the blurb is to read, by every measure.
    Level,
    /// Which terms the copy carries, and where.
    Terms,
    /// How the copy fits, at every size, and what a line costs.
    Fit,
}

impl DetailsPage {
    /// The pages in their order.
    pub const ALL: [Self; 4] = [Self::Length, Self::Level, Self::Terms, Self::Fit];

    /// The next page.
    pub fn next(self) -> Self {
        Self::ALL[(self as usize + 1) % Self::ALL.len()]
    }

    /// The page before.
    pub fn before(self) -> Self {
        Self::ALL[(self as usize + Self::ALL.len() - 1) % Self::ALL.len()]
    }

    /// The name of the page.
    pub fn name(self) -> &'static str {
        match self {
            Self::Length => "Length",
            Self::Level => "Level",
            Self::Terms => "Terms",
            Self::Fit => "Fit",
        }
    }
}

/// What a line of input is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Prompt {
    /// The words of a new block.
    Words(BlockKind),
    /// Who gave the quote that was typed last, and their standing.
    Credit,
    /// Words to find.
    Find,
    /// Another name for a draft.
    Rename(DraftId),
    /// A name to save the draft in front under.
    SaveAs,
    /// A name for a new draft in the folder of this draft.
    New(DraftId),
    /// A name for a duplicate of a draft.
    Double(DraftId),
    /// A name for the proof.
    Proof,
    /// A name for a kept copy of a draft; may be empty.
    Keep(DraftId),
    /// The path of a file to open.
    Open,
    /// Another value for the panel, given by the number of the value.
    Value(usize),
    /// Another value for a row of the brief, by its number.
    Row(usize),
    /// The words of something new in the brief, asked for from a row.
    Added(Added, usize),
    /// Phrases that a rule looks for as well, by the rule's number among those with a list, asked for from a row.
    Phrases(usize, usize),
    /// The file of the story, asked for from a row of the brief.
    Story(usize),
}

impl Prompt {
    /// The draft that the line of input is about, if it is about one.
    pub fn draft(self) -> Option<DraftId> {
        match self {
            Self::Rename(draft) | Self::New(draft) | Self::Double(draft) | Self::Keep(draft) => Some(draft),
            _ => None,
        }
    }

    /// The row of the brief that the line of input was opened from, if it is one of that page.
    pub fn row(self) -> Option<usize> {
        match self {
            Self::Row(at) | Self::Added(_, at) | Self::Phrases(_, at) | Self::Story(at) => Some(at),
            _ => None,
        }
    }
}
