//! What keys are for at the desk: one mode at a time.

use super::beside::Beside;
use super::papers::DraftId;
use super::reading::ReadPage;
use crate::editor::Editor;

/// What keys are for.
#[derive(Debug, Default)]
pub enum Mode {
    /// Writing.
    #[default]
    Writing,
    /// A letter for a command.
    Letter,
    /// The list of keys.
    Keys(ReadPage),
    /// A measure in detail.
    Details(DetailsPage, ReadPage),
    /// The panel on its own.
    Panel,
    /// The queries, with the number of the one in hand.
    Queries(usize),
    /// Another type.
    Type,
    /// Another panel, with the number of the value in hand.
    Values(usize),
    /// The drafts, with the row of the one in hand.
    Drafts(usize),
    /// Another draft beside the one in front.
    Beside(Box<Beside>),
    /// A line to be filled in.
    Prompt(Prompt, Editor),
    /// A last word before leaving with something unsaved.
    Leaving,
    /// The file was changed by another program: which one shall stand?
    Outside,
    /// Unsaved words of an earlier desk: are they wanted?
    Recovered(String, ReadPage),
}

impl Mode {
    /// Whether something is asked that has to be answered first.
    pub fn asks(&self) -> bool {
        matches!(self, Self::Leaving | Self::Outside | Self::Recovered(..))
    }

    /// The page that is read from head to foot in this mode, where there is one.
    pub fn page(&self) -> Option<&ReadPage> {
        match self {
            Self::Keys(page) | Self::Details(_, page) | Self::Recovered(_, page) => Some(page),
            _ => None,
        }
    }
}

/// The measure of a page of details.
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

/// What a line is filled in for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Prompt {
    /// Words to find.
    Find,
    /// Another name for a draft.
    Rename(DraftId),
    /// A name to save the draft in front under.
    SaveAs,
    /// A name for a new draft beside this one.
    New(DraftId),
    /// A name for a double of a draft.
    Double(DraftId),
    /// A name for the proof.
    Proof,
    /// A name, which may be none, for a kept copy of a draft.
    Keep(DraftId),
    /// The path of a file to open.
    Open,
    /// Another value of the panel, by its number.
    Value(usize),
}

impl Prompt {
    /// The draft of the list that the line is about, where it is about one.
    pub fn draft(self) -> Option<DraftId> {
        match self {
            Self::Rename(draft) | Self::New(draft) | Self::Double(draft) | Self::Keep(draft) => Some(draft),
            _ => None,
        }
    }
}
