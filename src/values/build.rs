//! Makes rows: finds the value of each in a brief's tree.

use super::row::{Added, BriefRow, RowForm, told};
use crate::brief::yaml::{Node, YamlStep};

/// A group of rows while it is made.
pub(super) struct RowGroup<'a> {
    name: &'a str,
    tree: &'a Node,
    adds: Option<Added>,
    /// The rows so far.
    pub(super) rows: Vec<BriefRow>,
}

/// What is said of a row beside its value.
pub(super) struct RowFacts<'a> {
    /// The value's name.
    pub(super) name: &'a str,
    /// How the value is written.
    pub(super) form: RowForm,
    /// What is in force where the brief does not say it.
    pub(super) usual: String,
    /// What the value is for.
    pub(super) says: &'a str,
}

impl<'a> RowGroup<'a> {
    /// A group without rows.
    pub(super) fn of(name: &'a str, tree: &'a Node, adds: Option<Added>) -> Self {
        Self { name, tree, adds, rows: Vec::new() }
    }

    /// Adds the row of a value at a place.
    pub(super) fn add(&mut self, place: Vec<YamlStep>, facts: RowFacts<'_>) -> &mut BriefRow {
        self.add_alone(place, "", facts)
    }

    /// Adds the row of a value whose group may be written as this value alone, where `alone` is the value's key.
    pub(super) fn add_alone(
        &mut self,
        place: Vec<YamlStep>,
        alone: &'static str,
        facts: RowFacts<'_>,
    ) -> &mut BriefRow {
        let own = value_at(self.tree, &place, alone).and_then(told);
        let RowFacts { name, form, usual, says } = facts;
        let whole = place.clone();
        let (group, name, says) = (self.name.to_owned(), name.to_owned(), says.to_owned());
        let (is_part, adds) = (false, self.adds);
        let row = BriefRow { group, name, is_part, own, usual, says, form, adds, place, whole, alone };
        let at = self.rows.len();
        self.rows.push(row);
        &mut self.rows[at]
    }

    /// The rows, or where there are none one that says how to begin.
    pub(super) fn or_nothing(mut self, key: &str, says: &str) -> Vec<BriefRow> {
        if self.rows.is_empty() {
            let usual = "press a to add the first".to_owned();
            self.add(keys(&[key]), RowFacts { name: "none", form: RowForm::Nothing, usual, says }).own = None;
        }
        self.rows
    }
}

/// The value at a place; of a group that is written as one value alone, that value at the key `alone`.
pub(super) fn value_at<'a>(tree: &'a Node, place: &[YamlStep], alone: &str) -> Option<&'a Node> {
    if let Some(found) = tree.at(place) {
        return Some(found);
    }
    let (last, group) = place.split_last()?;
    let is_alone = *last == YamlStep::Key(alone.to_owned());
    tree.at(group).filter(|found| is_alone && !matches!(found, Node::Map(_) | Node::List(_)))
}

/// The way along some keys.
pub(super) fn keys(keys: &[&str]) -> Vec<YamlStep> {
    keys.iter().map(|key| YamlStep::Key((*key).to_owned())).collect()
}

/// The way to a key of an item of a list.
pub(super) fn in_item(list: &str, number: usize, key: &str) -> Vec<YamlStep> {
    vec![YamlStep::Key(list.to_owned()), YamlStep::Item(number), YamlStep::Key(key.to_owned())]
}

/// The number of items of a list.
pub(super) fn count(tree: &Node, list: &[YamlStep]) -> usize {
    match tree.at(list) {
        Some(Node::List(items)) => items.len(),
        _ => 0,
    }
}
