//! The rows of the queries: which rules are not asked, the front cover's line, and the lists of phrases.

use super::build::{RowFacts, RowGroup, count, keys};
use super::row::{Added, BriefRow, RowForm};
use crate::brief::queries::Rule;
use crate::brief::yaml::{Node, YamlStep};

/// The rules that are off, the front cover's line, and what changes in lists of phrases.
pub(super) fn rows(tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Queries", tree, Some(Added::RuleOff));
    let says = "The line on the front cover besides the title; the blurb need not say it again.";
    let facts = RowFacts { name: "front cover's line", form: RowForm::Words, usual: "none".to_owned(), says };
    group.add(keys(&["queries", "front_cover"]), facts);
    let off = keys(&["queries", "off"]);
    let says = "A rule that is not asked in this book: nothing that it finds is told.";
    for number in 0..count(tree, &off) {
        let place = off.iter().cloned().chain([YamlStep::Item(number)]).collect();
        let form = RowForm::Choice(Rule::ALL.map(|(name, _)| name).to_vec());
        group.add(place, RowFacts { name: "rule not asked", form, usual: String::new(), says });
    }
    if group.rows.len() == 1 {
        let (form, usual) = (RowForm::Nothing, "none: every rule is asked".to_owned());
        group.add(off, RowFacts { name: "rule not asked", form, usual, says }).own = None;
    }
    let mut rows = group.rows;
    rows.extend(lists(tree));
    rows
}

fn lists(tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Phrases that rules look for", tree, Some(Added::Phrases));
    let lists = match tree.at(&keys(&["queries", "lists"])) {
        Some(Node::Map(lists)) => lists.as_slice(),
        _ => &[],
    };
    for (rule, _) in lists {
        for (key, name, form, says) in [
            (
                "add",
                "looked for as well",
                RowForm::Several,
                "Phrases that the rule looks for as well, with a ; between two; wordy = short gives a shorter wording.",
            ),
            (
                "drop",
                "left alone",
                RowForm::Several,
                "Phrases of the rule's list that may stand, with a ; between two.",
            ),
            (
                "file",
                "own list",
                RowForm::Words,
                "A file that stands in the place of the rule's list, one phrase a line.",
            ),
        ] {
            let named = format!("{rule}: {name}");
            let facts = RowFacts { name: &named, form, usual: "none".to_owned(), says };
            let row = group.add(keys(&["queries", "lists", rule, key]), facts);
            if key == "add" {
                row.whole.pop();
            } else {
                (row.is_part, row.name) = (true, name.to_owned());
            }
        }
    }
    group.or_nothing("queries", "Phrases of your own that a rule looks for as well, or leaves alone.")
}
