//! What differs between two trees of a brief, as changes of single values, and a tree with such changes made.

use crate::brief::lengths::{self, Unit};
use crate::brief::panel_values::WrittenPanel;
use crate::brief::typography::{Align, BlockType, Leading};
use crate::brief::yaml::{Node, YamlStep};
use crate::units::{Length, trimmed};

/// A place in a brief and the value to be written there.
#[derive(Debug, Clone, PartialEq)]
pub struct ValueChange {
    /// The way to the value from the top of the brief; the item past the last one of a list is a new one.
    pub path: Vec<YamlStep>,
    /// The new value; none where the key or the item is taken away.
    pub value: Option<Node>,
}

impl ValueChange {
    /// The last key on the way.
    pub fn key(&self) -> &str {
        match self.path.last() {
            Some(YamlStep::Key(key)) => key,
            _ => "",
        }
    }
}

/// The changes that turn one type of the blurb into another. A length is written in the unit that the brief's tree has
/// at its place, and in points where it has none.
pub fn changes(own: &BlockType, wanted: &BlockType, tree: &Node) -> Vec<ValueChange> {
    let points = |key: &str, length: Length| {
        let points = format!("{} pt", trimmed(length.to_pt(), 3));
        match tree.at(&[step("type"), step(key)]) {
            Some(Node::Text(own)) => {
                let found = Unit::of(own).zip(lengths::length(&points).ok());
                found.map_or(points, |(unit, length)| unit.written(length))
            }
            _ => points,
        }
    };
    let mut changes = Vec::new();
    let mut add =
        |key, value| changes.push(ValueChange { path: vec![step("type"), step(key)], value: Some(Node::Text(value)) });
    if own.font != wanted.font {
        add("font", wanted.font.to_string());
    }
    // The weight may have to change with the font: not every font has every weight.
    if own.weight() != wanted.weight() {
        add("weight", wanted.weight().to_string());
    }
    if own.size != wanted.size {
        add("size", points("size", wanted.size));
    }
    // Leading that the brief gives as a percentage stays a percentage, so that it still follows the size.
    if own.leading != wanted.leading {
        let leading = match own.leading {
            Leading::Percent(_) => format!("{}%", trimmed(wanted.leading_in_hundredths(), 2)),
            Leading::Fixed(_) => points("leading", wanted.leading()),
        };
        add("leading", leading);
    }
    if own.align != wanted.align {
        let align = match wanted.align {
            Align::Left => "left",
            Align::Centre => "centre",
            Align::Justified => "justified",
        };
        add("align", align.to_owned());
    }
    changes
}

/// The changes that turn the groups of one cover into those of another that has the same parts.
pub fn panel_changes(own: &WrittenPanel, wanted: &WrittenPanel) -> Vec<ValueChange> {
    let mut changes = Vec::new();
    for ((key, own), (_, wanted)) in own.groups().into_iter().zip(wanted.groups()) {
        compare(own, wanted, &mut vec![step(key)], &mut changes);
    }
    changes
}

/// The changes that turn one tree of a whole brief into another.
pub fn tree_changes(own: &Node, wanted: &Node) -> Vec<ValueChange> {
    let mut changes = Vec::new();
    compare(own, wanted, &mut Vec::new(), &mut changes);
    changes
}

/// A tree with some changes made.
pub fn applied(tree: &Node, changes: &[ValueChange]) -> Node {
    let mut wanted = tree.clone();
    for ValueChange { path, value } in changes {
        match value {
            Some(value) => wanted.put(path, value.clone()),
            None => wanted.remove(path),
        }
    }
    wanted
}

/// Finds the smallest values that differ. What goes is named behind what changes, the last item of a list first, and
/// what is new behind that, so that each path is right when its turn comes.
fn compare(own: &Node, wanted: &Node, path: &mut Vec<YamlStep>, changes: &mut Vec<ValueChange>) {
    match (own, wanted) {
        _ if own == wanted => {}
        (Node::Map(olds), Node::Map(entries)) => {
            for (key, new) in entries {
                let old = own.at(&[step(key)]).unwrap_or(&Node::Null);
                path.push(step(key));
                compare(old, new, path, changes);
                path.pop();
            }
            for (key, _) in olds.iter().filter(|(key, _)| wanted.at(&[step(key)]).is_none()) {
                let path = path.iter().cloned().chain([step(key)]).collect();
                changes.push(ValueChange { path, value: None });
            }
        }
        (Node::List(olds), Node::List(news)) => compare_items(olds, news, path, changes),
        _ => changes.push(ValueChange { path: path.clone(), value: Some(wanted.clone()) }),
    }
}

/// Finds what differs in two lists: items that are left stand in their order, and new ones behind them.
fn compare_items(olds: &[Node], news: &[Node], path: &mut Vec<YamlStep>, changes: &mut Vec<ValueChange>) {
    let name = |node: &Node| ["name", "term"].iter().find_map(|key| node.at(&[step(key)])).unwrap_or(node).clone();
    let (mut kept, mut gone) = (0, Vec::new());
    for (number, old) in olds.iter().enumerate() {
        let is_there = news[kept..].iter().any(|new| name(new) == name(old));
        let Some(new) = news.get(kept).filter(|_| is_there || olds.len() - number <= news.len() - kept) else {
            gone.push(number);
            continue;
        };
        path.push(YamlStep::Item(number));
        compare(old, new, path, changes);
        path.pop();
        kept += 1;
    }
    let mut add = |number: usize, value: Option<Node>| {
        let path = path.iter().cloned().chain([YamlStep::Item(number)]).collect();
        changes.push(ValueChange { path, value });
    };
    gone.iter().rev().for_each(|number| add(*number, None));
    news.iter().enumerate().skip(kept).for_each(|(number, new)| add(number, Some(new.clone())));
}

pub(super) fn step(key: &str) -> YamlStep {
    YamlStep::Key(key.to_owned())
}

/// A node with the keys of every group sorted, and nothing in the place of an empty group or list, so that two nodes
/// can be compared however they are written.
pub fn in_order(node: &Node) -> Node {
    match node {
        Node::Map(entries) if entries.is_empty() => Node::Null,
        Node::List(items) if items.is_empty() => Node::Null,
        Node::Map(entries) => {
            let mut entries: Vec<(String, Node)> =
                entries.iter().map(|(key, node)| (key.clone(), in_order(node))).collect();
            entries.sort_by(|(one, _), (other, _)| one.cmp(other));
            Node::Map(entries)
        }
        Node::List(items) => Node::List(items.iter().map(in_order).collect()),
        other => other.clone(),
    }
}
