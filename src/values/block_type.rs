//! The rows of type: how the blurb is set, and what each other block has of its own.

use super::build::{RowFacts, RowGroup, keys};
use super::row::{BriefRow, RowForm, YES_NO};
use crate::brief::Brief;
use crate::brief::typography::{Align, BlockType, Breaks, Font, Leading, Stack, words_of_type};
use crate::brief::yaml::{Node, YamlStep};
use crate::draft::BlockKind;
use crate::units::{Length, trimmed};

/// The weights that every font has, or something near.
const WEIGHTS: [&str; 2] = ["regular", "bold"];
/// The colours that have a name.
pub(super) const COLOURS: [&str; 2] = ["black", "white"];

/// The keys of a block's type in the order of the page: key, name, and what it is for.
const KEYS: [(&str, &str, &str); 12] = [
    ("font", "font", "serif or sans, which are built in, or the file of a font: its path from the brief on."),
    ("size", "size", "How large the letters are: 13 pt. What has no size of its own goes along with the blurb."),
    ("leading", "leading", "From one line down to the next: 18 pt, or a share of the size such as 135%."),
    ("weight", "weight", "regular or bold; a font file may have others, such as semibold or 650."),
    ("style", "style", "roman, which stands upright, or italic, which leans."),
    ("align", "align", "left, centre, or justified, which is even at both sides."),
    ("space_above", "space above", "The room above each paragraph but the first: 9 pt."),
    ("indent", "indent", "The room before the first line of a paragraph that follows another: 12 pt."),
    ("ink", "ink", "The colour of the letters: black, white, or one such as #1f3a5f."),
    ("breaks", "line breaks", "first-fit fills line by line; total-fit chooses all lines of a paragraph together."),
    (
        "hyphenate",
        "words divided",
        "Yes: words may be divided at a line's end, by the patterns of the book's language.",
    ),
    ("hang_quotes", "marks that hang", "Yes: an opening quotation mark at a line's start hangs in the margin."),
];

/// The files of a font's family beside the regular one: key, name, and what it is for.
const SISTERS: [(&str, &str, &str); 3] = [
    ("bold", "its bold", "The file of the bold; without it, it is found beside the font by what the files say."),
    ("italic", "its italic", "The file of the italic; without it, it is found beside the font by what the files say."),
    ("bold_italic", "its bold italic", "The file that is both; without it, it is found beside the font."),
];

const STAND_IN: &str = "For a font that is not here: its name, how long its a to z is, and at which size: Some Face, \
                        128 pt at 12 pt. Its lines are then an estimate.";

/// The type of the blurb, and where all of the copy stands.
pub(super) fn of_blurb(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Type of the blurb", tree, None);
    let place = keys(&["type"]);
    add_type(&mut group, tree, &place, &brief.typography.blurb);
    let stack = match brief.typography.stack {
        Stack::Head => "head",
        Stack::Centre => "centre",
        Stack::Foot => "foot",
    };
    let says = "Where all of the copy stands in the live area: from its head, in the middle, or down to its foot.";
    let facts =
        RowFacts { name: "stack", form: RowForm::Choice(words_of_type("stack")), usual: stack.to_owned(), says };
    group.add(keys(&["type", "stack"]), facts);
    group.rows
}

/// The type of every other block.
pub(super) fn of_others(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let others = BlockKind::ALL.into_iter().filter(|kind| *kind != BlockKind::Blurb);
    let rows = others.flat_map(|kind| {
        let name = format!("Type of the {}", kind.name());
        let mut group = RowGroup::of(&name, tree, None);
        add_type(&mut group, tree, &keys(&["type", &kind.name().replace(' ', "_")]), brief.typography.of(kind));
        group.rows
    });
    rows.collect()
}

/// Adds the rows of a group of type.
fn add_type(group: &mut RowGroup<'_>, tree: &Node, place: &[YamlStep], set: &BlockType) {
    let at = |path: &[&str]| place.iter().cloned().chain(keys(path)).collect::<Vec<_>>();
    for (key, name, says) in KEYS {
        let facts = RowFacts { name, form: form_of(key), usual: usual(key, set), says };
        if key == "font" {
            let row = group.add_alone(at(&["font", "regular"]), "regular", facts);
            row.whole.pop();
            add_family(group, tree, place);
        } else {
            group.add(at(&[key]), facts);
        }
    }
}

/// Adds the rows of the files of a font's family, where the group names a file, and that of a font that is not at hand.
fn add_family(group: &mut RowGroup<'_>, tree: &Node, place: &[YamlStep]) {
    let at = |path: &[&str]| place.iter().cloned().chain(keys(path)).collect::<Vec<_>>();
    let font = tree.at(&at(&["font"]));
    let is_file = match font {
        Some(Node::Map(entries)) => entries.iter().any(|(key, _)| key == "regular"),
        Some(Node::Text(name)) => !super::row::BUILT_IN.contains(&name.trim().to_lowercase().as_str()),
        _ => false,
    };
    for (key, name, says) in SISTERS.into_iter().filter(|_| is_file) {
        let facts = RowFacts { name, form: RowForm::Words, usual: "found by itself".to_owned(), says };
        group.add_alone(at(&["font", key]), "regular", facts).is_part = true;
    }
    let text = |key: &str| font.and_then(|font| font.at(&keys(&[key]))).and_then(super::row::told);
    let known = text("name").zip(text("alphabet")).zip(text("at"));
    let facts =
        RowFacts { name: "a font not at hand", form: RowForm::StandIn, usual: "none".to_owned(), says: STAND_IN };
    let row = group.add(at(&["font"]), facts);
    (row.is_part, row.own) = (true, known.map(|((name, alphabet), at)| format!("{name}, {alphabet} at {at}")));
}

/// How a key of type is written.
pub(super) fn form_of(key: &str) -> RowForm {
    match key {
        "font" => RowForm::Font,
        "weight" => RowForm::Suggested(WEIGHTS.to_vec()),
        "ink" => RowForm::Suggested(COLOURS.to_vec()),
        "hyphenate" | "hang_quotes" => RowForm::YesNo,
        "style" | "align" | "breaks" => RowForm::Choice(words_of_type(key)),
        _ => RowForm::Length("pt"),
    }
}

/// What is in force for a key of type.
fn usual(key: &str, set: &BlockType) -> String {
    let points = |length: Length| format!("{} pt", trimmed(length.to_pt(), 2));
    let yes = |is: bool| YES_NO[usize::from(is)].to_owned();
    match key {
        "font" => match &set.font {
            Font::StandIn(font) => format!("an estimate of {}", font.name),
            font => font.to_string(),
        },
        "size" => points(set.size),
        "leading" => match set.leading {
            Leading::Percent(percent) => format!("{}%", trimmed(percent, 2)),
            Leading::Fixed(leading) => points(leading),
        },
        "weight" => set.weight().to_string(),
        "style" => if set.italic { "italic" } else { "roman" }.to_owned(),
        "align" => match set.align {
            Align::Left => "left",
            Align::Centre => "centre",
            Align::Justified => "justified",
        }
        .to_owned(),
        "space_above" => points(set.space_above),
        "indent" => points(set.indent),
        "ink" => set.ink.to_string(),
        "breaks" => if set.breaks == Breaks::TotalFit { "total-fit" } else { "first-fit" }.to_owned(),
        "hyphenate" => yes(set.hyphenate.is_some()),
        _ => yes(set.hang_quotes),
    }
}
