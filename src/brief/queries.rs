//! Which rules look for queries in this book's copy.

use std::path::Path;

use super::phrases::ListChange;
use super::read::{NodeAt, Refusal, chosen};

/// What the brief says of queries.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Queries {
    /// Rules that are not asked.
    pub off: Vec<Rule>,
    /// What changes in the lists of phrases.
    pub lists: Vec<ListChange>,
    /// The line on the front cover besides the title; empty where there is none.
    pub front_cover: String,
}

/// A rule that looks for one kind of place in the copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// A phrase that says in several words what one says.
    WordyPhrase,
    /// Two words that say the same thing.
    Doublet,
    /// A modifier that adds nothing.
    EmptyModifier,
    /// An action put into a noun.
    HiddenVerb,
    /// A phrase that stands on many back covers.
    StockPhrase,
    /// Praise of the book in place of telling of it.
    Praise,
    /// A sentence whose subject suffers what is done.
    Passive,
    /// A first sentence that talks of the book.
    WeakOpening,
    /// The story told to its end.
    PlotToTheEnd,
    /// More people named than a reader can hold.
    ManyNames,
    /// Three adjectives before one noun.
    AdjectivesInARow,
    /// A content word said again and again.
    RepeatedWord,
    /// Sentences that begin alike.
    RepeatedOpening,
    /// A sentence longer than the limit or the usual one.
    LongSentence,
    /// Past and present mixed.
    MixedTense,
    /// `you`, `I` and `she` mixed.
    MixedPerson,
    /// A question that can be answered with no.
    ClosedQuestion,
    /// A quote whose giver has no standing.
    CreditWithoutStanding,
    /// A claim that needs evidence.
    BareClaim,
    /// An age line that the level contradicts.
    AgeLine,
    /// The front cover's line said again.
    FrontCoverLine,
    /// Straight and curly quotation marks mixed.
    MixedQuotes,
    /// Two blanks where one belongs.
    DoubleSpace,
    /// A hyphen in the place of a dash.
    HyphenForDash,
    /// A blank before a stop.
    SpaceBeforeStop,
    /// Three stops in the place of an ellipsis.
    ThreeDots,
    /// A name divided over two printed lines.
    BrokenName,
    /// A paragraph whose last line is one short word.
    Runt,
    /// Lines that end alike, or much shorter than their neighbours.
    Rag,
}

impl Rule {
    /// Every rule with its name in briefs and reports, in the order in which rules are told.
    pub const ALL: [(&str, Self); 29] = [
        ("wordy phrase", Self::WordyPhrase),
        ("doublet", Self::Doublet),
        ("empty modifier", Self::EmptyModifier),
        ("hidden verb", Self::HiddenVerb),
        ("stock phrase", Self::StockPhrase),
        ("praise", Self::Praise),
        ("passive", Self::Passive),
        ("weak opening", Self::WeakOpening),
        ("plot to the end", Self::PlotToTheEnd),
        ("many names", Self::ManyNames),
        ("adjectives in a row", Self::AdjectivesInARow),
        ("repeated word", Self::RepeatedWord),
        ("repeated opening", Self::RepeatedOpening),
        ("long sentence", Self::LongSentence),
        ("mixed tense", Self::MixedTense),
        ("mixed person", Self::MixedPerson),
        ("closed question", Self::ClosedQuestion),
        ("credit without standing", Self::CreditWithoutStanding),
        ("bare claim", Self::BareClaim),
        ("age line", Self::AgeLine),
        ("front cover line", Self::FrontCoverLine),
        ("mixed quotes", Self::MixedQuotes),
        ("double space", Self::DoubleSpace),
        ("hyphen for dash", Self::HyphenForDash),
        ("space before stop", Self::SpaceBeforeStop),
        ("three dots", Self::ThreeDots),
        ("broken name", Self::BrokenName),
        ("runt", Self::Runt),
        ("rag", Self::Rag),
    ];

    /// The rule's name.
    pub fn name(self) -> &'static str {
        Self::ALL.iter().find(|(_, rule)| *rule == self).map_or("", |(name, _)| name)
    }
}

impl Queries {
    /// Reads the section `queries`. Paths in it are taken from `folder`.
    pub(super) fn read(value: NodeAt<'_>, folder: &Path) -> Result<Self, Refusal> {
        let fields = value.fields(&["off", "lists", "front_cover"])?;
        let off = fields.optional("off").map_or_else(|| Ok(Vec::new()), |list| list.items())?;
        let rule = |item: &NodeAt<'_>| chosen(&item.text()?, &Rule::ALL).map_err(|problem| item.refuse(problem));
        let lists = fields.optional("lists").map(|lists| ListChange::read_all(&lists, folder)).transpose()?;
        Ok(Self {
            off: off.iter().map(rule).collect::<Result<_, _>>()?,
            lists: lists.unwrap_or_default(),
            front_cover: fields.optional("front_cover").map_or(Ok(String::new()), |line| line.text())?,
        })
    }
}
