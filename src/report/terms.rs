//! The terms of a draft as an editor reads them: where each stands, what is nearly one, how the names are spelt, and
//! what the draft takes from its manuscript.

use crate::brief::{Book, Brief};
use crate::draft::{BlockKind, Draft};
use crate::terms::borrowed;
use crate::terms::borrowed::Borrowed;
use crate::terms::coverage;
use crate::terms::coverage::Coverage;
use crate::terms::near;
use crate::terms::near::Near;
use crate::terms::spellings;
use crate::terms::spellings::{Likeness, NameSpelling};
use crate::terms::story::{Named, Story};
use crate::text::Text;

/// What is known of a draft's terms and names.
#[derive(Debug, Clone)]
pub struct TermsReport {
    /// Which terms the copy carries and where.
    pub coverage: Coverage,
    /// For each item of the coverage what is nearly that term.
    pub near: Vec<Vec<Near>>,
    /// The names of the brief as they are spelt in all that is printed.
    pub names: Vec<NameSpelling>,
    /// What the draft takes from its manuscript; none without one.
    pub borrowed: Option<Borrowed>,
}

/// A manuscript and how its names stand in the brief.
#[derive(Debug)]
pub struct Manuscript {
    /// What was read.
    pub story: Story,
    /// One for each name of the story, in the order of the story's names.
    pub standings: Vec<NameStanding>,
}

/// How a name of the manuscript stands in the brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameStanding {
    /// The brief has the name, in this spelling.
    Declared,
    /// The brief lacks the name, but has this one, which is spelt nearly like it.
    Near(String),
    /// The brief has no such name.
    Unknown,
}

impl TermsReport {
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
    /// The paragraphs of a manuscript: all of them are story, also below a heading that names a block of a draft, and
    /// in quotations.
    pub fn paragraphs(text: &str) -> Draft {
        let mut draft = Draft::read(text);
        let below_headings = draft.blocks.iter_mut().filter(|block| block.kind != BlockKind::Headline);
        below_headings.for_each(|block| block.kind = BlockKind::Blurb);
        draft
    }

    /// Reads a manuscript.
    pub fn read(draft: &Draft, book: &Book) -> Self {
        let story = Story::read(&Text::read(draft, book));
        let standings = story.names.iter().map(|name| NameStanding::of(name, book)).collect();
        Self { story, standings }
    }
}

impl NameStanding {
    fn of(name: &Named, book: &Book) -> Self {
        let with = |wanted: Likeness| {
            book.names.iter().find(|declared| spellings::likeness(&name.name, &declared.name) == wanted)
        };
        if with(Likeness::Same).is_some() {
            return Self::Declared;
        }
        with(Likeness::Near).map_or(Self::Unknown, |near| Self::Near(near.name.clone()))
    }
}

#[cfg(test)]
mod tests {
    use super::{Manuscript, NameStanding};
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;

    #[test]
    fn names_of_the_story_are_known_in_any_form_of_the_brief_s() {
        let story = "See the Dillings. See O’Grady, Lise-Lotte, Fenja and Fennja, Marlow and Wick.";
        let names = ["Mr Dilling", "O'Grady", "Lise-Lotte", "Fenja", "Marlo"]
            .map(|name| Name { name: name.to_owned(), syllables: None });
        let book = Book { names: names.to_vec(), ..Book::default() };
        let manuscript = Manuscript::read(&Draft::read(story), &book);
        let unknown = manuscript.story.names.iter().zip(&manuscript.standings);
        let unknown: Vec<_> = unknown
            .filter(|(_, standing)| **standing != NameStanding::Declared)
            .map(|(name, standing)| (name.name.as_str(), standing.clone()))
            .collect();
        assert_eq!(unknown, [("Marlow", NameStanding::Near("Marlo".to_owned()))]);
    }

    #[test]
    fn all_of_a_manuscript_is_story() {
        let draft =
            Manuscript::paragraphs("# Wick\n\nOne.\n\n## Credit\n\nTwo.\n\n> Three.\n> — Four\n\n## Quote\n\nFive.\n");
        assert_eq!(Manuscript::read(&draft, &Book::default()).story.len(), 5);
    }
}
