//! The values of a brief, each with the path to it, and the message for a value that cannot be used: where it stands
//! and what was expected.

use std::fmt;

use super::bounds::Bound;
use super::lengths::{self, Unit};
use super::yaml::{self, Node, Unreadable, YamlStep};
use crate::units::{Length, Size};

/// What is wrong in a brief, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The line in the file, from 1.
    pub line: usize,
    /// The character in the line, from 1.
    pub column: usize,
    /// The key with the keys above it, `panel.margins.head`; empty where the file is not YAML at all.
    pub key: String,
    /// What was found, what was expected and what to do, without a full stop.
    pub problem: String,
}

/// `12:3: panel.margins.head: ...`, to stand behind the name of the file and a colon.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, column, key, problem } = self;
        if key.is_empty() {
            write!(f, "{line}:{column}: {problem}")
        } else {
            write!(f, "{line}:{column}: {key}: {problem}")
        }
    }
}

impl std::error::Error for Fault {}

/// Reads a YAML text with `read`; `what` names in a message what the text should hold.
pub(super) fn whole<T>(
    text: &str,
    what: &str,
    read: impl FnOnce(NodeAt<'_>) -> Result<T, Refusal>,
) -> Result<T, Fault> {
    let node = tree(text, what)?;
    read(NodeAt::top(&node)).map_err(|refusal| refusal.in_text(text))
}

/// Reads a YAML text; `what` names in a message what it should hold.
pub(super) fn tree(text: &str, what: &str) -> Result<Node, Fault> {
    yaml::parse(text).map_err(|unreadable| unread(unreadable, what))
}

/// The fault of a text that is no YAML; `what` names what it should hold.
pub(super) fn unread(unreadable: Unreadable, what: &str) -> Fault {
    Fault {
        line: unreadable.line.unwrap_or(1),
        column: unreadable.column.unwrap_or(1),
        key: String::new(),
        problem: format!("this cannot be read as {what}: {}", unreadable.problem),
    }
}

/// A value that cannot be used, and the way to it.
#[derive(Debug)]
pub(super) struct Refusal {
    path: Vec<YamlStep>,
    pub(super) problem: String,
}

impl Refusal {
    /// Whether the value is at the end of a path, or inside what stands there.
    pub(super) fn is_inside(&self, path: &[YamlStep]) -> bool {
        self.path.starts_with(path)
    }

    /// The keys on the way to the value, as a message shows them.
    pub(super) fn key(&self) -> String {
        dotted(&self.path)
    }

    /// The refusal with its place in the text that the value was read from.
    pub(super) fn in_text(self, text: &str) -> Fault {
        let (line, column) = yaml::locate(text, &self.path).unwrap_or((1, 1));
        Fault { line, column, key: dotted(&self.path), problem: self.problem }
    }
}

/// `panel.keep_outs[2].size`: items are counted from 1, as a reader counts.
fn dotted(path: &[YamlStep]) -> String {
    let mut key = String::new();
    for step in path {
        match step {
            YamlStep::Key(name) | YamlStep::Name(name) if key.is_empty() => key.push_str(name),
            YamlStep::Key(name) | YamlStep::Name(name) => key.push_str(&format!(".{name}")),
            YamlStep::Item(index) => key.push_str(&format!("[{}]", index + 1)),
        }
    }
    key
}

/// The way from a node to one that is inside it, or is that node itself.
fn path_to(wanted: &Node, from: &Node) -> Option<Vec<YamlStep>> {
    if std::ptr::eq(wanted, from) {
        return Some(Vec::new());
    }
    let inside = |step: YamlStep, node: &Node| {
        let mut path = path_to(wanted, node)?;
        path.insert(0, step);
        Some(path)
    };
    match from {
        Node::Map(entries) => entries.iter().find_map(|(key, node)| inside(YamlStep::Key(key.clone()), node)),
        Node::List(items) => items.iter().enumerate().find_map(|(index, node)| inside(YamlStep::Item(index), node)),
        _ => None,
    }
}

/// A node of a tree. The way to it is looked for only where it is refused.
#[derive(Debug, Clone, Copy)]
pub(super) struct NodeAt<'a> {
    pub(super) node: &'a Node,
    root: &'a Node,
}

/// The keys of a map, all of them known.
#[derive(Debug, Clone, Copy)]
pub(super) struct KeyGroup<'a> {
    entries: &'a [(String, Node)],
    map: NodeAt<'a>,
}

impl<'a> NodeAt<'a> {
    /// The value at the top of a text or of a group.
    pub(super) fn top(node: &'a Node) -> Self {
        Self { node, root: node }
    }

    /// Refuses the value.
    pub(super) fn refuse(&self, problem: impl Into<String>) -> Refusal {
        Refusal { path: path_to(self.node, self.root).unwrap_or_default(), problem: problem.into() }
    }

    /// Reads the value as a map of no other keys than `known`.
    pub(super) fn fields(&self, known: &[&str]) -> Result<KeyGroup<'a>, Refusal> {
        let Node::Map(entries) = self.node else {
            return Err(self.refuse(format!(
                "{} was found, but keys with values were expected; the keys are {}",
                self.shown(),
                known.join(", ")
            )));
        };
        let fields = KeyGroup { entries, map: *self };
        match entries.iter().find(|(key, _)| !known.contains(&key.as_str())) {
            Some((key, _)) if let Some(refusal) = self.with_comma(entries, key) => Err(refusal),
            Some((key, _)) => Err(fields.refuse_key(key, format!("there is no such key{}", nearest(key, known)))),
            None => Ok(fields),
        }
    }

    /// The refusal of a number with a comma in a group of one line, `{ trim: 8,5 x 8,5 in }`, where YAML takes what is
    /// behind each comma for a key; none where the key is anything else.
    fn with_comma(&self, entries: &[(String, Node)], key: &str) -> Option<Refusal> {
        let is_figure = |letter: char| letter.is_ascii_digit();
        let at = entries.iter().position(|(known, _)| known == key)?;
        let (_, before) = entries.get(at.checked_sub(1)?)?;
        let whole = match before {
            Node::Number(number) => number.to_string(),
            Node::Text(text) => text.clone(),
            _ => return None,
        };
        let is_behind = |(key, node): &&(String, Node)| *node == Node::Null && key.starts_with(is_figure);
        let behind: Vec<&str> = entries[at..].iter().take_while(is_behind).map(|(key, _)| key.as_str()).collect();
        let is_number = whole.ends_with(is_figure) && !behind.is_empty();
        let told = || lengths::with_comma(&[&[whole.as_str()], &behind[..]].concat().join(","));
        is_number.then(|| self.inside(before).refuse(told()))
    }

    /// Whether the value is nothing at all.
    pub(super) fn is_nothing(&self) -> bool {
        *self.node == Node::Null
    }

    /// Reads the keys of the value, whatever they are, with their values.
    pub(super) fn entries(&self) -> Result<Vec<(&'a str, NodeAt<'a>)>, Refusal> {
        match self.node {
            Node::Map(entries) => Ok(entries.iter().map(|(key, node)| (key.as_str(), self.inside(node))).collect()),
            Node::Null => Ok(Vec::new()),
            _ => Err(self.refuse(format!("{} was found, but keys with values were expected", self.shown()))),
        }
    }

    /// Whether the value is a list.
    pub(super) fn is_list(&self) -> bool {
        matches!(self.node, Node::List(_))
    }

    /// Whether the value is a group of keys.
    pub(super) fn is_map(&self) -> bool {
        matches!(self.node, Node::Map(_))
    }

    /// Reads the value as text; a number is text as it is written.
    pub(super) fn text(&self) -> Result<String, Refusal> {
        match self.node {
            Node::Text(text) if !text.trim().is_empty() => Ok(text.trim().to_owned()),
            Node::Number(number) => Ok(number.to_string()),
            Node::Bool(value) => Ok(value.to_string()),
            _ => Err(self.refuse(format!("{} was found, but text was expected", self.shown()))),
        }
    }

    /// Reads the value as a whole number from `least` up.
    pub(super) fn whole(&self, least: u32) -> Result<u32, Refusal> {
        match self.node {
            Node::Number(number) if number.fract() == 0.0 && *number >= f64::from(least) && *number <= 1e6 => {
                Ok(*number as u32)
            }
            _ => {
                Err(self.refuse(format!("{} was found, but a whole number from {least} up was expected", self.shown())))
            }
        }
    }

    /// Reads the value as `true` or `false`.
    pub(super) fn truth(&self) -> Result<bool, Refusal> {
        match self.node {
            Node::Bool(value) => Ok(*value),
            _ => Err(self.refuse(format!("{} was found, but true or false was expected", self.shown()))),
        }
    }

    /// Reads the items of the value, which is a list or empty.
    pub(super) fn items(&self) -> Result<Vec<NodeAt<'a>>, Refusal> {
        match self.node {
            Node::List(items) => Ok(items.iter().map(|node| self.inside(node)).collect()),
            Node::Null => Ok(Vec::new()),
            _ => Err(self.refuse(format!(
                "{} was found, but a list was expected: one entry a line, each after a dash",
                self.shown()
            ))),
        }
    }

    /// Reads the value as one of the words in `choices`.
    pub(super) fn choice<T: Copy>(&self, choices: &[(&str, T)]) -> Result<T, Refusal> {
        chosen(&self.text()?, choices).map_err(|problem| self.refuse(problem))
    }

    /// Reads the value as a length inside its bound.
    pub(super) fn length(&self, bound: Bound) -> Result<Length, Refusal> {
        bound.length(&self.text()?).map_err(|problem| self.refuse(problem))
    }

    /// Reads the value as a size, both sides inside the bound.
    pub(super) fn size(&self, bound: Bound) -> Result<Size, Refusal> {
        bound.size(&self.text()?).map_err(|problem| self.refuse(problem))
    }

    /// The unit in which the value, or the first length in a group of them, is written.
    pub(super) fn unit(&self) -> Option<Unit> {
        let of = |node: &Node| if let Node::Text(text) = node { Unit::of(text) } else { None };
        match self.node {
            Node::Map(entries) => entries.iter().find_map(|(_, node)| of(node)),
            node => of(node),
        }
    }

    /// Reads the value as a percentage inside a range.
    pub(super) fn percent(&self, (least, most): (f64, f64)) -> Result<f64, Refusal> {
        let text = self.text()?;
        let percent = lengths::percent(&text).map_err(|problem| self.refuse(problem))?;
        if (least..=most).contains(&percent) {
            return Ok(percent);
        }
        Err(self.refuse(format!("\"{text}\" cannot be used: it must be from {least}% to {most}%")))
    }

    fn inside(&self, node: &'a Node) -> NodeAt<'a> {
        NodeAt { node, root: self.root }
    }

    /// How a message names what was found.
    fn shown(&self) -> String {
        match self.node {
            Node::Null => "nothing".to_owned(),
            Node::Bool(value) => format!("\"{value}\""),
            Node::Number(number) => format!("\"{number}\""),
            Node::Text(text) if text.trim().is_empty() => "an empty text".to_owned(),
            Node::Text(text) => format!("\"{}\"", beginning(text)),
            Node::List(_) => "a list".to_owned(),
            Node::Map(_) => "a group of keys".to_owned(),
        }
    }
}

/// The beginning of a text, in one line, as a message shows it.
fn beginning(text: &str) -> String {
    const SHOWN: usize = 60;
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.char_indices().nth(SHOWN) {
        Some((end, _)) => format!("{}...", line[..end].trim_end()),
        None if text.contains('\n') => line,
        None => text.to_owned(),
    }
}

impl<'a> KeyGroup<'a> {
    /// The value of a key that may be left out or left empty.
    pub(super) fn optional(&self, key: &str) -> Option<NodeAt<'a>> {
        let (_, node) = self.entries.iter().find(|(name, _)| name == key)?;
        let is_empty = matches!(node, Node::Null) || matches!(node, Node::Text(text) if text.trim().is_empty());
        (!is_empty).then(|| self.map.inside(node))
    }

    /// The value of a key that must be there.
    pub(super) fn required(&self, key: &str, example: &str) -> Result<NodeAt<'a>, Refusal> {
        self.optional(key).ok_or_else(|| self.map.refuse(format!("the key {key} is missing; write one, {example}")))
    }

    /// Whether a key is there, even if it is empty.
    pub(super) fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|(name, _)| name == key)
    }

    /// The keys with their values, in the order of the file.
    pub(super) fn values(&self) -> impl Iterator<Item = (&'a str, NodeAt<'a>)> {
        self.entries.iter().filter_map(|(key, _)| Some((key.as_str(), self.optional(key)?)))
    }

    /// Refuses a key itself, whatever its value is.
    pub(super) fn refuse_key(&self, key: &str, problem: String) -> Refusal {
        let mut refusal = self.map.refuse(problem);
        refusal.path.push(YamlStep::Name(key.to_owned()));
        refusal
    }
}

/// The choice that a text names in letters of any case; the error is the problem as a message tells it.
pub fn chosen<T: Copy>(text: &str, choices: &[(&str, T)]) -> Result<T, String> {
    let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
    // The American spelling is the same word.
    let plain = if text.eq_ignore_ascii_case("center") { "centre" } else { text };
    let found = choices.iter().find(|(name, _)| name.eq_ignore_ascii_case(plain));
    found.map(|(_, choice)| *choice).ok_or_else(|| format!("\"{text}\" is not known{}", nearest(text, &names)))
}

/// The end of a message about an unknown word: the nearest known word, if one is near, and all known words.
pub(super) fn nearest(word: &str, known: &[&str]) -> String {
    let likeness = |candidate: &str| strsim::jaro_winkler(&word.to_lowercase(), candidate);
    let best = known.iter().copied().max_by(|a, b| likeness(a).total_cmp(&likeness(b)));
    match best.filter(|best| likeness(best) > 0.75) {
        Some(best) => format!("; did you mean {best}? The choice is {}", known.join(", ")),
        None => format!("; the choice is {}", known.join(", ")),
    }
}
