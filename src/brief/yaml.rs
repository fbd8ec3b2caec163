//! The one door to YAML: text in, a plain tree out, and the place of any node in it.
//!
//! The parser behind it (serde_yaml) is no longer developed. Nothing of it is seen outside this file, so another can take
//! its place here.

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
    /// A number, as it is shown.
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

    /// Puts another node at the end of a path; keys that are not there yet come after those that are.
    pub fn put(&mut self, path: &[YamlStep], node: Self) {
        let Some((step, rest)) = path.split_first() else {
            *self = node;
            return;
        };
        if *self == Self::Null {
            *self = Self::Map(Vec::new());
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
                if let Some(inner) = items.get_mut(*index) {
                    inner.put(rest, node);
                }
            }
            _ => {}
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
    /// From 1; none where the parser does not know.
    pub line: Option<usize>,
    /// From 1.
    pub column: Option<usize>,
    /// What is wrong, without a stop.
    pub problem: String,
}

/// Reads a document.
pub fn parse(text: &str) -> Result<Node, Unreadable> {
    if let Some((line, column)) = too_deep(text) {
        return Err(Unreadable { line: Some(line), column: Some(column), problem: TOO_DEEP.to_owned() });
    }
    let nodes = Cell::new(0);
    NewNode(&nodes).deserialize(serde_yaml::Deserializer::from_str(text)).map_err(|error| {
        let message = error.to_string();
        // Where the count ran out says nothing to an author: the fault is in the file as a whole.
        let place =
            error.location().filter(|_| !message.contains(TOO_MANY)).map(|place| (place.line(), place.column()));
        // What is never closed is met at the end of the file; the author needs the place where it was opened.
        let place = if message.contains(NEVER_CLOSED) { last_place(&message).or(place) } else { place };
        Unreadable {
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
            problem: in_plain_words(&message),
        }
    })
}

/// Far above what any brief needs. The parser limits how often it follows an alias but not how much each unfolds to, so
/// that a list of many aliases to a list of many values fills the memory with their product.
const MOST_NODES: usize = 50_000;

const TOO_MANY: &str = "too many nodes";

const TOO_DEEP: &str = "too many brackets or groups stand within each other; take some away";

const UNFOLDS: &str = "names for repeated parts (& and *) make it far too long; write the parts out";

/// Far above what any brief needs, and the parser's own limit.
const DEEPEST: usize = 128;

/// The place of the first bracket that opens more than [`DEEPEST`] others within each other. The parser would refuse it
/// too, but only after a time that grows with the square of their number.
fn too_deep(text: &str) -> Option<(usize, usize)> {
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

const NO_WORD: &str = "a word as a key";

const NEVER_CLOSED: &str = "found unexpected end of stream";

/// The last `at line 2 column 10` of a message.
fn last_place(message: &str) -> Option<(usize, usize)> {
    let (_, place) = message.rsplit_once("at line ")?;
    let (line, column) = place.split_once(" column ")?;
    Some((line.parse().ok()?, column.parse().ok()?))
}

/// The line and the column, both from 1, at which the node at the end of `path` stands.
pub fn locate(text: &str, path: &[YamlStep]) -> Option<(usize, usize)> {
    let met = Cell::new(false);
    let finder = Finder { path, met: &met };
    let error = finder.deserialize(serde_yaml::Deserializer::from_str(text)).err()?;
    let place = error.location().filter(|_| met.get())?;
    Some((place.line(), place.column()))
}

/// What the parser says, without its own vocabulary and without the place, which is told apart.
fn in_plain_words(message: &str) -> String {
    let told = message.split(" at line ").next().unwrap_or(message);
    let known = [
        ("repetition limit", UNFOLDS),
        (TOO_MANY, UNFOLDS),
        ("recursion limit", TOO_DEEP),
        (EXCLAIMED, EXCLAIMED),
        (NO_WORD, "a key must be a word, such as panel"),
        ("more than one document", "a line of --- stands within it, which begins another text; take that line away"),
        ("duplicate entry", ""),
        (
            "found character that cannot start any token",
            "a tab or a special sign begins a value here; take the tab away, or put the text in quotation marks",
        ),
        (NEVER_CLOSED, "a quotation mark or bracket is opened here and never closed; add the closing one"),
        ("mapping values are not allowed", "there is one colon too many; put the text in quotation marks"),
        ("did not find expected key", "a key was expected here; look at the indentation and at quotation marks"),
        ("did not find expected ',' or", "a comma or a closing bracket is missing before this"),
        (
            "unknown anchor",
            "a value that begins with * names a part that is not there; put the text in quotation marks",
        ),
        ("control characters are not allowed", "a sign that cannot be printed stands here; take it away"),
    ];
    match known.iter().find(|(sign, _)| told.contains(sign)) {
        Some((_, plain)) if !plain.is_empty() => (*plain).to_owned(),
        Some(_) => told.replace("duplicate entry with key", "there are two keys named"),
        None => "a line is a key, a colon, a space and its value; put a text that holds other signs in quotation marks"
            .to_owned(),
    }
}

/// Reads a node and counts it, and those inside it.
#[derive(Clone, Copy)]
struct NewNode<'a>(&'a Cell<usize>);

impl NewNode<'_> {
    fn counted<E: de::Error>(self, node: Node) -> Result<Node, E> {
        self.0.set(self.0.get() + 1);
        if self.0.get() > MOST_NODES { Err(E::custom(TOO_MANY)) } else { Ok(node) }
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
        while let Some(key) = entries.next_key_seed(NewKey { known: &map })? {
            map.push((key, entries.next_value_seed(self)?));
        }
        self.counted(Node::Map(map))
    }

    fn visit_enum<A: de::EnumAccess<'de>>(self, _: A) -> Result<Node, A::Error> {
        Err(de::Error::custom(EXCLAIMED))
    }
}

/// Reads a key as text, whatever it looks like, and refuses one that is there already: here, where its place is known.
struct NewKey<'a> {
    known: &'a [(String, Node)],
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
        f.write_str(NO_WORD)
    }

    fn visit_str<E: de::Error>(self, key: &str) -> Result<String, E> {
        if self.known.iter().any(|(known, _)| known == key) {
            return Err(E::custom(format!("duplicate entry with key \"{key}\"")));
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

/// Walks down a path and fails on purpose at its end, since the parser tells the place of a failure and of nothing else.
struct Finder<'a> {
    path: &'a [YamlStep],
    met: &'a Cell<bool>,
}

impl Finder<'_> {
    fn here<E: de::Error>(&self) -> E {
        self.met.set(true);
        E::custom("here")
    }
}

impl<'de> DeserializeSeed<'de> for Finder<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Finder<'_> {
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
        items.next_element_seed(Finder { path: rest, met: self.met })?;
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        let Some((step, rest)) = self.path.split_first() else { return Err(self.here()) };
        let (YamlStep::Key(wanted) | YamlStep::Name(wanted)) = step else { return Err(self.here()) };
        let named = matches!(step, YamlStep::Name(_));
        while let Some(found) = entries.next_key_seed(KeyFinder { wanted, named, met: self.met })? {
            if found {
                return entries.next_value_seed(Finder { path: rest, met: self.met });
            }
            entries.next_value::<IgnoredAny>()?;
        }
        Ok(())
    }
}

/// Reads a key and fails on purpose where it is the one whose own place is looked for.
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
