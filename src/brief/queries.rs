//! Which rules look for queries in this book's copy, and what a brief changes in their lists of phrases.

use std::path::{Path, PathBuf};

use super::nodes::{NodeAt, Refusal, chosen};
use super::phrases::{Phrase, fold};

/// What the brief says about queries.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Queries {
    /// Rules that are switched off.
    pub off: Vec<Rule>,
    /// What changes in the lists of phrases.
    pub lists: Vec<ListChange>,
    /// The line on the front cover besides the title; empty where there is none.
    pub front_cover: String,
    /// Whether the rules of the last read look too. The author asks for that where the copy is read, never in a brief.
    pub close: bool,
}

/// What a brief changes in the list of a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListChange {
    /// The rule whose list it is.
    pub rule: Rule,
    /// Phrases that the rule looks for as well.
    pub add: Vec<Phrase>,
    /// Phrases of the list that the rule does not look for, folded.
    pub drop: Vec<String>,
    /// A file with a list that stands in the place of the built-in one.
    pub file: Option<PathBuf>,
    /// The phrases of `file`, once it has been read.
    pub instead: Vec<Phrase>,
}

/// A rule that looks for one kind of place in the copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// A phrase that says in several words what one word says.
    WordyPhrase,
    /// Two words that say the same thing.
    Doublet,
    /// A modifier that adds nothing.
    EmptyModifier,
    /// An action put into a noun.
    HiddenVerb,
    /// A phrase that stands on many back covers.
    StockPhrase,
    /// Wording that calls to buy.
    CallToBuy,
    /// Praise of the book in place of telling of it.
    Praise,
    /// A sentence in the passive voice.
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
    /// A quote that praises what the copy does not have.
    StrayQuote,
    /// A claim that needs evidence.
    BareClaim,
    /// An age line that the level contradicts.
    AgeLine,
    /// The front cover's line said again.
    FrontCoverLine,
    /// British and American spelling mixed.
    MixedSpelling,
    /// A word spelt wrong, or written for one that sounds alike: `its` for `it's`.
    MisspeltWord,
    /// Exclamation marks in a row.
    ExclamationMarks,
    /// Marks of a keyboard in the place of printed ones.
    StraightMarks,
    /// A single mark that may be an apostrophe or may open a quotation.
    DoubtfulMark,
    /// A quotation mark or a bracket without a partner.
    UnpairedMark,
    /// Two blanks where one belongs.
    DoubleSpace,
    /// A blank before a stop.
    SpaceBeforeStop,
    /// A content word heard again soon after.
    Echo,
    /// A pale verb in front of the one that acts.
    WeakVerb,
    /// A single word of stress.
    Intensifier,
    /// A name divided over two printed lines.
    BrokenName,
    /// A paragraph whose last line is one short word.
    Runt,
    /// Lines that end alike, or much shorter than their neighbours.
    Rag,
    /// Words whose ink is too near to the art's lightness.
    FaintInk,
    /// Words on art that is too uneven.
    BusyGround,
    /// Light type on dark art whose thinnest strokes may fill in.
    FineReversed,
}

impl Rule {
    /// Every rule with its name in briefs and reports, in the order of a report.
    pub const ALL: [(&str, Self); 40] = [
        ("wordy phrase", Self::WordyPhrase),
        ("doublet", Self::Doublet),
        ("empty modifier", Self::EmptyModifier),
        ("hidden verb", Self::HiddenVerb),
        ("stock phrase", Self::StockPhrase),
        ("call to buy", Self::CallToBuy),
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
        ("stray quote", Self::StrayQuote),
        ("bare claim", Self::BareClaim),
        ("age line", Self::AgeLine),
        ("front cover line", Self::FrontCoverLine),
        ("mixed spelling", Self::MixedSpelling),
        ("misspelt word", Self::MisspeltWord),
        ("exclamation marks", Self::ExclamationMarks),
        ("straight marks", Self::StraightMarks),
        ("doubtful mark", Self::DoubtfulMark),
        ("unpaired mark", Self::UnpairedMark),
        ("double space", Self::DoubleSpace),
        ("space before stop", Self::SpaceBeforeStop),
        ("echo", Self::Echo),
        ("weak verb", Self::WeakVerb),
        ("intensifier", Self::Intensifier),
        ("broken name", Self::BrokenName),
        ("runt", Self::Runt),
        ("rag", Self::Rag),
        ("faint ink", Self::FaintInk),
        ("busy ground", Self::BusyGround),
        ("fine reversed type", Self::FineReversed),
    ];

    /// Whether the rule is for the last read alone: it tells many places that most good copy has too.
    pub fn is_for_last_read(self) -> bool {
        matches!(self, Self::Echo | Self::WeakVerb | Self::Intensifier | Self::RepeatedOpening)
    }

    /// The rule's name.
    pub fn name(self) -> &'static str {
        Self::ALL.iter().find(|(_, rule)| *rule == self).map_or("", |(name, _)| name)
    }
}

/// The rules that look for the phrases of a list.
pub const LISTED: [(&str, Rule); 13] = [
    ("wordy phrase", Rule::WordyPhrase),
    ("doublet", Rule::Doublet),
    ("empty modifier", Rule::EmptyModifier),
    ("hidden verb", Rule::HiddenVerb),
    ("stock phrase", Rule::StockPhrase),
    ("call to buy", Rule::CallToBuy),
    ("praise", Rule::Praise),
    ("weak opening", Rule::WeakOpening),
    ("bare claim", Rule::BareClaim),
    ("misspelt word", Rule::MisspeltWord),
    ("plot to the end", Rule::PlotToTheEnd),
    ("weak verb", Rule::WeakVerb),
    ("intensifier", Rule::Intensifier),
];

impl Queries {
    /// Whether a rule looks: it is not switched off, and is not kept for a last read that was not asked for.
    pub fn asks(&self, rule: Rule) -> bool {
        !self.off.contains(&rule) && (self.close || !rule.is_for_last_read())
    }

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
            close: false,
        })
    }
}

impl ListChange {
    /// Reads the group `lists`, whose keys are rules. Paths in it are taken from `folder`.
    pub(super) fn read_all(value: &NodeAt<'_>, folder: &Path) -> Result<Vec<Self>, Refusal> {
        let fields = value.fields(&LISTED.map(|(name, _)| name))?;
        fields.values().map(|(name, value)| Self::read(name, &value, folder)).collect()
    }

    fn read(name: &str, value: &NodeAt<'_>, folder: &Path) -> Result<Self, Refusal> {
        let fields = value.fields(&["add", "drop", "file"])?;
        let items = |key| fields.optional(key).map_or_else(|| Ok(Vec::new()), |list: NodeAt<'_>| list.items());
        let phrase = |item: &NodeAt<'_>| Phrase::read(&item.text()?).map_err(|problem| item.refuse(problem));
        Ok(Self {
            rule: chosen(name, &LISTED).map_err(|problem| value.refuse(problem))?,
            add: items("add")?.iter().map(phrase).collect::<Result<_, _>>()?,
            drop: items("drop")?.iter().map(|item| Ok(fold(&item.text()?))).collect::<Result<_, _>>()?,
            file: fields.optional("file").map(|file| file.text()).transpose()?.map(|file| folder.join(file)),
            instead: Vec::new(),
        })
    }
}
