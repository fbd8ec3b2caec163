//! The rows of wordings: the names in the book, the terms, and what is to be avoided.

use super::build::{RowFacts, RowGroup, count, in_item, keys};
use super::row::{Added, BriefRow, RowForm};
use crate::brief::yaml::{Node, YamlStep};

/// The names of persons and places, each with its syllables.
pub(super) fn names(tree: &Node) -> Vec<BriefRow> {
    let list = keys(&["book", "names"]);
    let mut group = RowGroup::of("Names in the book", tree, Some(Added::Name));
    for number in 0..count(tree, &list) {
        let item: Vec<YamlStep> = list.iter().cloned().chain([YamlStep::Item(number)]).collect();
        let at = |key: &str| item.iter().cloned().chain(keys(&[key])).collect::<Vec<_>>();
        let says = "A person or a place in the book; its spelling is watched over in every draft.";
        let facts = RowFacts { name: "name", form: RowForm::Words, usual: String::new(), says };
        group.add_alone(at("name"), "name", facts).whole.clone_from(&item);
        let says = "How many syllables are spoken, where that is not plain from the letters; the level counts them.";
        let usual = "as its letters say".to_owned();
        let facts = RowFacts { name: "syllables", form: RowForm::Figure, usual, says };
        let row = group.add_alone(at("syllables"), "name", facts);
        row.is_part = true;
    }
    group.or_nothing("names", "Persons and places in the book: their spelling is watched over in every draft.")
}

/// The terms, each with what the brief says of it.
pub(super) fn terms(tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Terms", tree, Some(Added::Term));
    for number in 0..count(tree, &keys(&["terms"])) {
        let says = "A word or a phrase that the copy should carry, as readers and librarians look for it; its regular \
                    forms count.";
        let facts = RowFacts { name: "term", form: RowForm::Words, usual: String::new(), says };
        group.add_alone(in_item("terms", number, "term"), "term", facts).whole.pop();
        for (key, name, form, usual, says) in [
            ("must", "must be there", RowForm::YesNo, "no", "Yes: a draft without it is outside its limits."),
            (
                "at_most",
                "at most",
                RowForm::Figure,
                "as often as you like",
                "The most times that it may stand in the copy before it sounds stuffed.",
            ),
            (
                "also",
                "other wordings",
                RowForm::Several,
                "none",
                "Wordings that count as this term, with a ; between two: story at bedtime; bedtime tale.",
            ),
        ] {
            let facts = RowFacts { name, form, usual: usual.to_owned(), says };
            let row = group.add_alone(in_item("terms", number, key), "term", facts);
            row.is_part = true;
        }
    }
    group.or_nothing("terms", "Words and phrases that the copy should carry, as readers and librarians look for them.")
}

/// The wordings to avoid.
pub(super) fn avoided(tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Wordings to avoid", tree, Some(Added::Avoided));
    let says = "A wording that should not be in the copy; wherever it stands, it is told.";
    for number in 0..count(tree, &keys(&["avoid"])) {
        let place = vec![YamlStep::Key("avoid".to_owned()), YamlStep::Item(number)];
        group.add(place, RowFacts { name: "wording", form: RowForm::Words, usual: String::new(), says });
    }
    group.or_nothing("avoid", "Wordings that should not be in the copy; wherever one stands, it is told.")
}
