//! The terms of a draft as an editor reads them: where each stands, what is nearly one, how the names are spelt, and
//! how the draft stands to its manuscript.

use crate::brief::{Book, Brief};
use crate::draft::Draft;
use crate::text::Text;
use crate::text::borrowed::{self, Borrowed};
use crate::text::coverage::{self, Coverage};
use crate::text::near::{self, Near};
use crate::text::spellings::{self, Spelling};
use crate::text::story::{Named, Story};

/// What is known of a draft's terms and names.
#[derive(Debug, Clone)]
pub struct Terms {
    /// Which terms the copy carries and where.
    pub coverage: Coverage,
    /// For each item of the coverage what is nearly that term.
    pub near: Vec<Vec<Near>>,
    /// The names of the brief as they are spelt in all that is printed.
    pub names: Vec<Spelling>,
    /// What the draft takes from its manuscript; none without one.
    pub borrowed: Option<Borrowed>,
}

/// A manuscript and how its names stand in the brief.
#[derive(Debug)]
pub struct Manuscript {
    /// What was read.
    pub story: Story,
    /// One for each name of the story, in its order.
    pub standings: Vec<Standing>,
}

/// How a name of the manuscript stands in the brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// It is there, in this spelling.
    Declared,
    /// A name that is spelt nearly so is there.
    Near(String),
    /// It is not there.
    Unknown,
}

impl Terms {
    /// Looks up the brief's terms and names in a draft.
    pub fn of(draft: &Draft, brief: &Brief, manuscript: Option<&Manuscript>) -> Self {
        let text = Text::read(draft, &brief.book);
        let coverage = coverage::find(&text, &brief.terms);
        let near = near::find(&text, &coverage);
        let names = spellings::find(draft, &brief.book);
        let borrowed = manuscript.map(|manuscript| borrowed::find(&text, &manuscript.story, &brief.book.title));
        Self { coverage, near, names, borrowed }
    }

    /// Whether every term is within what the brief asks, nothing to be avoided is there, and no name has a near-twin.
    pub fn is_within(&self) -> bool {
        self.coverage.items.iter().all(|item| !item.is_missed() && !item.is_overdone())
            && self.coverage.avoid.iter().all(|avoided| avoided.spans.is_empty())
            && self.names.iter().all(|name| name.twins.is_empty())
    }
}

impl Manuscript {
    /// Reads a manuscript.
    pub fn read(draft: &Draft, book: &Book) -> Self {
        let story = Story::read(&Text::read(draft, book));
        let standings = story.names.iter().map(|name| Standing::of(name, book)).collect();
        Self { story, standings }
    }
}

impl Standing {
    fn of(name: &Named, book: &Book) -> Self {
        let words = |name: &str| name.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        let own = words(&name.name);
        let declared = || book.names.iter().map(|name| (words(&name.name), &name.name));
        if declared().any(|(words, _)| own.iter().all(|word| words.contains(word))) {
            return Self::Declared;
        }
        let near = declared().find(|(words, _)| words.iter().any(|word| spellings::are_twins(&name.name, word)));
        near.map_or(Self::Unknown, |(_, name)| Self::Near(name.clone()))
    }
}
