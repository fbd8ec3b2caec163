//! The one door to YAML: text in, a plain tree out, and the place of any node in it.
//!
//! The parser behind this file (serde_yaml) is no longer developed. Nothing of the parser is seen outside this file, so
//! another parser can take its place here. What the parser finds wrong is told in words for an author; the parser
//! reports a problem only as a message, so a problem is recognised by a part of the message, here and nowhere else.

use std::cell::Cell;
use std::fmt;

use serde::de::{self, DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

use crate::draft::place;

/// A node of a YAML document.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// Nothing: `~`, `null` or an empty value.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// Keys with their values, in the order of the file.
    Map(Vec<(String, Node)>),
}

impl Node {
    /// The node at the end of a path.
    pub fn at(&self, path: &[YamlStep]) -> Option<&Self> {
        let Some((step, rest)) = path.split_first() else { return Some(self) };
        let next = match (self, step) {
            (Self::Map(entries), YamlStep::Key(key)) => {
                entries.iter().find(|(name, _)| name == key).map(|(_, node)| node)
            }
            (Self::List(items), YamlStep::Item(index)) => items.get(*index),
            _ => None,
        };
        next?.at(rest)
    }

    /// Puts another node at the end of a path; keys that are not there yet come after those that are, and the item past
    /// the last one of a list is added.
    pub fn put(&mut self, path: &[YamlStep], node: Self) {
        let Some((step, rest)) = path.split_first() else {
            *self = node;
            return;
        };
        if *self == Self::Null {
            *self = if matches!(step, YamlStep::Item(_)) { Self::List(Vec::new()) } else { Self::Map(Vec::new()) };
        }
        match (self, step) {
            (Self::Map(entries), YamlStep::Key(key)) => {
                if !entries.iter().any(|(name, _)| name == key) {
                    entries.push((key.clone(), Self::Null));
                }
                if let Some((_, inner)) = entries.iter_mut().find(|(name, _)| name == key) {
                    inner.put(rest, node);
                }
            }
            (Self::List(items), YamlStep::Item(index)) => {
                if *index == items.len() {
                    items.push(Self::Null);
                }
                if let Some(inner) = items.get_mut(*index) {
                    inner.put(rest, node);
                }
            }
            _ => {}
        }
    }

    /// Takes the key or the item at the end of a path away, if it is there.
    pub fn remove(&mut self, path: &[YamlStep]) {
        let Some((step, rest)) = path.split_first() else { return };
        let inner = match (self, step) {
            (Self::Map(entries), YamlStep::Key(key)) if rest.is_empty() => {
                entries.retain(|(name, _)| name != key);
                return;
            }
            (Self::List(items), YamlStep::Item(index)) if rest.is_empty() && *index < items.len() => {
                items.remove(*index);
                return;
            }
            (Self::Map(entries), YamlStep::Key(key)) => {
                entries.iter_mut().find(|(name, _)| name == key).map(|(_, node)| node)
            }
            (Self::List(items), YamlStep::Item(index)) => items.get_mut(*index),
            _ => None,
        };
        if let Some(inner) = inner {
            inner.remove(rest);
        }
    }
}

/// A step from a node to one inside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum YamlStep {
    /// To the value of a key.
    Key(String),
    /// To the key itself.
    Name(String),
    /// To an item of a list, counted from 0.
    Item(usize),
}

/// Why a text is not YAML.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// The line, from 1; none where the parser does not know it.
    pub line: Option<usize>,
    /// The character in the line, from 1; none where the parser does not know it.
    pub column: Option<usize>,
    /// What is wrong, without a stop.
    pub problem: String,
}

/// Reads a document.
///
/// # Errors
///
/// The first thing that is not YAML, or not what a brief may hold.
pub fn parse(text: &str) -> Result<Node, Unreadable> {
    if let Some((line, column)) = too_deep(text) {
        return Err(Unreadable { line: Some(line), column: Some(column), problem: TOO_DEEP.to_owned() });
    }
    let reading = Reading::default();
    NewNode(&reading).deserialize(serde_yaml::Deserializer::from_str(text)).map_err(|error| {
        let place = error.location().map(|place| (place.line(), place.column()));
        let (place, problem) = match reading.refused.get() {
            // Where the count ran out says nothing to an author: the fault is in the file as a whole.
            Some(OwnRefusal::TooManyNodes) => (None, UNFOLDS.to_owned()),
            Some(OwnRefusal::ExclamationMark) => (place, EXCLAIMED.to_owned()),
            Some(OwnRefusal::KeyIsNoWord) => (place, "a key must be a word, such as panel".to_owned()),
            Some(OwnRefusal::KeyTwice) => (place, without_place(&error)),
            None => told(&error, text),
        };
        Unreadable { line: place.map(|(line, _)| line), column: place.map(|(_, column)| column), problem }
    })
}

/// What this file refuses and the parser would accept. Kept beside the parser's error, which can carry only a text.
#[derive(Debug, Clone, Copy)]
enum OwnRefusal {
    TooManyNodes,
    ExclamationMark,
    KeyIsNoWord,
    KeyTwice,
}

/// What is known while a document is read.
#[derive(Default)]
struct Reading {
    nodes: Cell<usize>,
    refused: Cell<Option<OwnRefusal>>,
}

impl Reading {
    /// An error of the parser's type for what this file refuses. The reason is kept in `refused`, since the parser's
    /// error cannot carry it; `told` is the message, before which the parser may put the path to a key.
    fn refuse<E: de::Error>(&self, refusal: OwnRefusal, told: impl fmt::Display) -> E {
        self.refused.set(Some(refusal));
        E::custom(told)
    }
}

/// The most nodes of a document, far above what any brief needs. The parser limits how often it follows an alias, but
/// not how much each alias unfolds to: a list of many aliases to a list of many values would fill the memory.
const MOST_NODES: usize = 50_000;

/// How deep brackets may stand within each other: far deeper than any brief needs, and the parser's own limit.
const DEEPEST: usize = 128;

/// The place of the first bracket that opens inside 128 open ones. The parser would refuse the text too, but
/// only after a time that grows with the square of the number of brackets.
pub fn too_deep(text: &str) -> Option<(usize, usize)> {
    let mut depth = 0_usize;
    let at = text.bytes().position(|byte| {
        match byte {
            b'[' | b'{' => depth += 1,
            b']' | b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth > DEEPEST
    });
    at.map(|at| place(text, at))
}

const EXCLAIMED: &str = "a value cannot begin with an exclamation mark; put the text in quotation marks";

/// The line and the column, both from 1, at which the node at the end of `path` stands.
pub fn locate(text: &str, path: &[YamlStep]) -> Option<(usize, usize)> {
    let met = Cell::new(false);
    let finder = NodeFinder { path, met: &met };
    let error = finder.deserialize(serde_yaml::Deserializer::from_str(text)).err()?;
    let place = error.location().filter(|_| met.get())?;
    Some((place.line(), place.column()))
}

/// Reads a node, and counts it and the nodes inside it.
#[derive(Clone, Copy)]
struct NewNode<'a>(&'a Reading);

impl NewNode<'_> {
    fn counted<E: de::Error>(self, node: Node) -> Result<Node, E> {
        let Reading { nodes, .. } = self.0;
        nodes.set(nodes.get() + 1);
        if nodes.get() > MOST_NODES { Err(self.0.refuse(OwnRefusal::TooManyNodes, UNFOLDS)) } else { Ok(node) }
    }
}

impl<'de> DeserializeSeed<'de> for NewNode<'_> {
    type Value = Node;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Node, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for NewNode<'_> {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E: de::Error>(self) -> Result<Node, E> {
        self.counted(Node::Null)
    }

    /// A document with nothing in it.
    fn visit_none<E: de::Error>(self) -> Result<Node, E> {
        self.counted(Node::Null)
    }

    fn visit_bool<E: de::Error>(self, value: bool) -> Result<Node, E> {
        self.counted(Node::Bool(value))
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> Result<Node, E> {
        self.counted(Node::Number(value as f64))
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<Node, E> {
        self.counted(Node::Number(value as f64))
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<Node, E> {
        self.counted(Node::Number(value))
    }

    fn visit_str<E: de::Error>(self, value: &str) -> Result<Node, E> {
        self.counted(Node::Text(value.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Node, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element_seed(self)? {
            list.push(item);
        }
        self.counted(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Node, A::Error> {
        let mut map: Vec<(String, Node)> = Vec::new();
        while let Some(key) = entries.next_key_seed(NewKey { known: &map, reading: self.0 })? {
            map.push((key, entries.next_value_seed(self)?));
        }
        self.counted(Node::Map(map))
    }

    fn visit_enum<A: de::EnumAccess<'de>>(self, _: A) -> Result<Node, A::Error> {
        Err(self.0.refuse(OwnRefusal::ExclamationMark, EXCLAIMED))
    }
}

/// Reads a key as text, even if it looks like a number or a truth value, and refuses a key that is there already. Here
/// the parser still knows the place of the key.
struct NewKey<'a> {
    known: &'a [(String, Node)],
    reading: &'a Reading,
}

impl<'de> DeserializeSeed<'de> for NewKey<'_> {
    type Value = String;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<String, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for NewKey<'_> {
    type Value = String;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The parser asks what was expected only to refuse what was found.
        self.reading.refused.set(Some(OwnRefusal::KeyIsNoWord));
        f.write_str("a word as a key")
    }

    fn visit_str<E: de::Error>(self, key: &str) -> Result<String, E> {
        if self.known.iter().any(|(known, _)| known == key) {
            return Err(self.reading.refuse(OwnRefusal::KeyTwice, format_args!("there are two keys named \"{key}\"")));
        }
        Ok(key.to_owned())
    }

    fn visit_u64<E: de::Error>(self, key: u64) -> Result<String, E> {
        self.visit_str(&key.to_string())
    }

    fn visit_f64<E: de::Error>(self, key: f64) -> Result<String, E> {
        self.visit_str(&key.to_string())
    }

    fn visit_bool<E: de::Error>(self, key: bool) -> Result<String, E> {
        self.visit_str(&key.to_string())
    }
}

/// Walks down a path and fails on purpose at its end, since the parser tells the place of a failure and of nothing
/// else.
struct NodeFinder<'a> {
    path: &'a [YamlStep],
    met: &'a Cell<bool>,
}

impl NodeFinder<'_> {
    fn here<E: de::Error>(&self) -> E {
        self.met.set(true);
        E::custom("here")
    }
}

impl<'de> DeserializeSeed<'de> for NodeFinder<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for NodeFinder<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the node that is looked for")
    }

    fn visit_unit<E: de::Error>(self) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_bool<E: de::Error>(self, _: bool) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_i64<E: de::Error>(self, _: i64) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_u64<E: de::Error>(self, _: u64) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_f64<E: de::Error>(self, _: f64) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_str<E: de::Error>(self, _: &str) -> Result<(), E> {
        Err(self.here())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<(), A::Error> {
        let Some((YamlStep::Item(wanted), rest)) = self.path.split_first() else { return Err(self.here()) };
        for _ in 0..*wanted {
            items.next_element::<IgnoredAny>()?;
        }
        items.next_element_seed(NodeFinder { path: rest, met: self.met })?;
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        let Some((step, rest)) = self.path.split_first() else { return Err(self.here()) };
        let (YamlStep::Key(wanted) | YamlStep::Name(wanted)) = step else { return Err(self.here()) };
        let named = matches!(step, YamlStep::Name(_));
        while let Some(found) = entries.next_key_seed(KeyFinder { wanted, named, met: self.met })? {
            if found {
                return entries.next_value_seed(NodeFinder { path: rest, met: self.met });
            }
            entries.next_value::<IgnoredAny>()?;
        }
        Ok(())
    }
}

/// Tells whether a key is the wanted one; fails on purpose at the wanted key if the place of the key itself is looked
/// for.
struct KeyFinder<'a> {
    wanted: &'a str,
    named: bool,
    met: &'a Cell<bool>,
}

impl<'de> DeserializeSeed<'de> for KeyFinder<'_> {
    type Value = bool;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<bool, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for KeyFinder<'_> {
    type Value = bool;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a key")
    }

    fn visit_str<E: de::Error>(self, key: &str) -> Result<bool, E> {
        if key == self.wanted && self.named {
            self.met.set(true);
            return Err(E::custom("here"));
        }
        Ok(key == self.wanted)
    }

    fn visit_u64<E: de::Error>(self, key: u64) -> Result<bool, E> {
        self.visit_str(&key.to_string())
    }

    fn visit_bool<E: de::Error>(self, key: bool) -> Result<bool, E> {
        self.visit_str(&key.to_string())
    }

    fn visit_f64<E: de::Error>(self, key: f64) -> Result<bool, E> {
        self.visit_str(&key.to_string())
    }
}

/// The message for a document whose aliases unfold to too many values.
const UNFOLDS: &str = "names for repeated parts (& and *) make it far too long; write the parts out";

/// The message for a document that nests too deep.
const TOO_DEEP: &str = "too many brackets or groups stand within each other; take some away";

/// The message for a key and its value with no space between them, which make one word.
const NO_SPACE: &str = "there is no space behind the colon; a line is a key, a colon, a space and its value";

const NOT_YAML: &str =
    "a line is a key, a colon, a space and its value; put a text that holds other signs in quotation marks";

/// A problem that the parser reports, and its words for an author.
struct ParserProblem {
    /// The part of the message by which the problem is known.
    sign: &'static str,
    /// The problem without the parser's vocabulary.
    told: &'static str,
    /// Whether the place inside the message, where something was opened, helps more than the place of the error.
    is_told_where_opened: bool,
}

const fn problem(sign: &'static str, told: &'static str) -> ParserProblem {
    ParserProblem { sign, told, is_told_where_opened: false }
}

const PARSER_PROBLEMS: [ParserProblem; 10] = [
    problem("repetition limit", UNFOLDS),
    problem("recursion limit", TOO_DEEP),
    problem("more than one document", "a line of --- stands within it, which begins another text; take that line away"),
    problem(
        "found character that cannot start any token",
        "a tab or a special sign begins a value here; take the tab away, or put the text in quotation marks",
    ),
    ParserProblem {
        // The parser finds only at the end of the file that something was never closed; the author needs the place
        // where it was opened.
        is_told_where_opened: true,
        ..problem(
            "found unexpected end of stream",
            "a quotation mark or bracket is opened here and never closed; add the closing one",
        )
    },
    problem("mapping values are not allowed", "there is one colon too many; put the text in quotation marks"),
    problem("did not find expected key", "a key was expected here; look at the indentation and at quotation marks"),
    ParserProblem {
        // What follows an open bracket is read as one of its items, so the fault shows on a later line.
        is_told_where_opened: true,
        ..problem(
            "did not find expected ',' or",
            "a bracket is opened here, and its closing one or a comma in it is missing; add what is missing",
        )
    },
    problem(
        "unknown anchor",
        "a value that begins with * names a part that is not there; put the text in quotation marks",
    ),
    problem("control characters are not allowed", "a sign that cannot be printed stands here; take it away"),
];

/// The place and the words for an author of an error that the parser has found by itself.
fn told(error: &serde_yaml::Error, text: &str) -> (Option<(usize, usize)>, String) {
    let found = error.location().map_or(usize::MAX, |place| place.line());
    if let Some(place) = without_space(text, found) {
        return (Some(place), NO_SPACE.to_owned());
    }
    let problem = PARSER_PROBLEMS.iter().find(|problem| error.to_string().contains(problem.sign));
    let opened = problem.filter(|problem| problem.is_told_where_opened).and_then(|_| last_place(error));
    let place = opened.or_else(|| error.location().map(|place| (place.line(), place.column())));
    (place, problem.map_or(NOT_YAML, |problem| problem.told).to_owned())
}

/// The last place down to a line where a key's colon has no space behind it, line and column from 1. The parser takes
/// such a line for text that goes on, and finds fault only with a later one.
fn without_space(text: &str, to: usize) -> Option<(usize, usize)> {
    let fault = |(number, line): (usize, &str)| {
        let words = line.trim_start().trim_start_matches("- ");
        let (key, value) = words.split_once(':')?;
        let is_key = key.starts_with(|c: char| c.is_ascii_alphabetic())
            && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'));
        // The colon of an address or of a folder on a disk is no key's.
        let is_joined = value.starts_with(|c: char| !c.is_whitespace() && !matches!(c, '/' | '\\'));
        let column = line[..line.len() - value.len()].chars().count();
        (is_key && is_joined).then_some((number + 1, column))
    };
    text.lines().take(to).enumerate().filter_map(fault).last()
}

/// The last `at line 2 column 10` of the parser's message: the parser gives the place where something was opened in no
/// other way.
fn last_place(error: &serde_yaml::Error) -> Option<(usize, usize)> {
    let message = error.to_string();
    let (_, place) = message.rsplit_once("at line ")?;
    let (line, column) = place.split_once(" column ")?;
    Some((line.parse().ok()?, column.parse().ok()?))
}

/// The message of an error without its place, which the parser adds at the end.
fn without_place(error: &serde_yaml::Error) -> String {
    let message = error.to_string();
    let place = error.location().map(|place| format!(" at line {} column {}", place.line(), place.column()));
    place.and_then(|place| message.strip_suffix(&place)).unwrap_or(&message).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str =
        "book:\n  title: The Lamp\npanel:\n  margins: { head: 1 in, foot: 2 }\n  list:\n    - a\n    - { b: c }\n";

    fn key(name: &str) -> YamlStep {
        YamlStep::Key(name.to_owned())
    }

    #[test]
    fn a_node_is_found_by_its_path() {
        assert_eq!(locate(TEXT, &[key("book"), key("title")]), Some((2, 10)));
        assert_eq!(locate(TEXT, &[key("book"), YamlStep::Name("title".to_owned())]), Some((2, 3)));
        assert_eq!(locate(TEXT, &[key("panel"), key("margins"), key("foot")]), Some((4, 32)));
        assert_eq!(locate(TEXT, &[key("panel"), key("list"), YamlStep::Item(1), key("b")]), Some((7, 12)));
        assert_eq!(locate(TEXT, &[key("book"), key("author")]), None);
    }

    #[test]
    fn what_a_key_is_called_does_not_change_what_is_told_of_it() {
        for name in ["a at line 3", "recursion limit", "unknown anchor"] {
            let twice = parse(&format!("panel:\n  {name}: 1\n  {name}: 2\n")).unwrap_err();
            assert_eq!((twice.line, twice.column), (Some(3), Some(3)));
            assert_eq!(twice.problem, format!("panel: there are two keys named \"{name}\""));
        }
        for text in ["-1: x\n", "[a]: x\n", "~: x\n", "? { a: b }\n: x\n"] {
            assert_eq!(parse(text).unwrap_err().problem, "a key must be a word, such as panel", "{text}");
        }
    }

    #[test]
    fn what_is_not_yaml_is_told_in_plain_words() {
        let told = |text: &str| parse(text).err().map(|unreadable| unreadable.problem);
        assert_eq!(told("a: 1\na: 2\n"), Some("there are two keys named \"a\"".to_owned()));
        assert_eq!(told("a: b: c\n"), Some("there is one colon too many; put the text in quotation marks".to_owned()));
        let unclosed = "a quotation mark or bracket is opened here and never closed; add the closing one";
        assert_eq!(told("a: 'b\n"), Some(unclosed.to_owned()));
        let mut bomb = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
        for level in 1..12 {
            let row = vec![format!("*a{}", level - 1); 10].join(", ");
            bomb.push_str(&format!("a{level}: &a{level} [{row}]\n"));
        }
        let square = format!("a: &a [{}]\nb: [{}]\n", vec!["x"; 20_000].join(","), vec!["*a"; 20_000].join(","));
        for unfolding in [bomb, square] {
            assert_eq!(told(&unfolding), Some(UNFOLDS.to_owned()));
        }
        assert_eq!(told(&"[".repeat(100_000)), Some(TOO_DEEP.to_owned()));
    }
}
