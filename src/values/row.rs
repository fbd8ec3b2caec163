//! One row of a brief: its name, its value, what it means, and what may be written there.

use crate::brief::yaml::{Node, YamlStep};
use crate::units::trimmed;

/// A value of the brief, or the place for one.
#[derive(Debug, Clone, PartialEq)]
pub struct BriefRow {
    /// The group that the row stands in: `Book`, `Terms`, `Type of the headline`.
    pub group: String,
    /// The value's name: `title`, `at most`.
    pub name: String,
    /// Whether the row tells more of the row above it, as the syllables of a name do.
    pub is_part: bool,
    /// The value as the brief has it; none where the brief does not say it.
    pub own: Option<String>,
    /// What is in force where the brief does not say it: `3-7`, `no limit`.
    pub usual: String,
    /// What the value is for, in one line.
    pub says: String,
    /// How the value is written.
    pub form: RowForm,
    /// What can be added to the row's group.
    pub adds: Option<Added>,
    /// Where the value stands in the brief.
    pub(super) place: Vec<YamlStep>,
    /// What is taken away with the row: the whole item that it names, or else the value alone.
    pub(super) whole: Vec<YamlStep>,
    /// The key for which a value that stands alone in the place of a group is meant; empty where none is.
    pub(super) alone: &'static str,
}

/// How a value is written.
#[derive(Debug, Clone, PartialEq)]
pub enum RowForm {
    /// Any words.
    Words,
    /// A figure, a range or a tag, which is no text where it is a number.
    Figure,
    /// A length, with the unit that is meant where none is typed.
    Length(&'static str),
    /// Yes or no.
    YesNo,
    /// One of a few words.
    Choice(Vec<&'static str>),
    /// One of a few words, or another that is typed.
    Suggested(Vec<&'static str>),
    /// Several wordings, with a semicolon between two.
    Several,
    /// A built-in font, or the file of one.
    Font,
    /// A font that is not at hand, by its name, the length of its alphabet and the size.
    StandIn,
    /// Nothing yet: the row stands for a group without a value.
    Nothing,
}

/// What can be added to a brief.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Added {
    /// A name of a person or place.
    Name,
    /// A term.
    Term,
    /// A wording to avoid.
    Avoided,
    /// A rule that is not asked.
    RuleOff,
    /// Phrases that a rule looks for as well.
    Phrases,
}

impl Added {
    /// Everything that can be added, in the order of the page.
    pub const ALL: [Self; 5] = [Self::Name, Self::Term, Self::Avoided, Self::RuleOff, Self::Phrases];

    /// What is added, in words: `a term`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Name => "a name",
            Self::Term => "a term",
            Self::Avoided => "a wording to avoid",
            Self::RuleOff => "a rule that is not asked",
            Self::Phrases => "phrases for a rule",
        }
    }
}

impl BriefRow {
    /// The value that is in force.
    pub fn value(&self) -> &str {
        self.own.as_deref().unwrap_or(&self.usual)
    }

    /// The words that can be chosen; empty where the value is typed.
    pub fn choices(&self) -> Vec<&'static str> {
        match &self.form {
            RowForm::YesNo => YES_NO.to_vec(),
            RowForm::Choice(words) | RowForm::Suggested(words) => words.clone(),
            RowForm::Font => BUILT_IN.to_vec(),
            _ => Vec::new(),
        }
    }

    /// Whether another value than those that can be chosen may be typed.
    pub fn is_typed(&self) -> bool {
        !matches!(self.form, RowForm::YesNo | RowForm::Choice(_) | RowForm::Nothing)
    }

    /// Whether the two are rows for one value, whatever it is.
    pub fn is_same_value(&self, other: &Self) -> bool {
        self.place == other.place && self.form == other.form
    }

    /// The group of the brief that the value is in: `book`, `limits`.
    pub fn section(&self) -> &str {
        match self.place.first() {
            Some(YamlStep::Key(section)) => section,
            _ => "",
        }
    }

    /// Whether the row is one of an item of a list, whose place is another once an item before it goes.
    pub fn is_of_item(&self) -> bool {
        self.place.iter().any(|step| matches!(step, YamlStep::Item(_)))
    }

    /// The keys of the brief on the way to the value: `book`, `title`.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.place.iter().filter_map(|step| match step {
            YamlStep::Key(key) => Some(key.as_str()),
            _ => None,
        })
    }

    /// Whether the row's value lies under some keys of a brief: `book`, `title`.
    pub fn is_at(&self, keys: &[&str]) -> bool {
        self.keys().eq(keys.iter().copied())
    }
}

/// The words for what is true and what is not, the one that nothing written means first.
pub(super) const YES_NO: [&str; 2] = ["no", "yes"];

/// The fonts that are part of the program.
pub(super) const BUILT_IN: [&str; 2] = ["serif", "sans"];

/// A value of a tree in words; none where there is none. Items of a list have a semicolon between two.
pub(super) fn told(node: &Node) -> Option<String> {
    match node {
        Node::Text(text) if text.trim().is_empty() => None,
        Node::Text(text) => Some(text.trim().to_owned()),
        Node::Number(number) => Some(trimmed(*number, 6)),
        Node::Bool(value) => Some(YES_NO[usize::from(*value)].to_owned()),
        Node::List(items) => Some(items.iter().filter_map(told).collect::<Vec<_>>().join("; ")),
        Node::Map(_) | Node::Null => None,
    }
}
