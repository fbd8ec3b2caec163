//! The rows of the cover that the cover's own page lacks: the art behind the copy, its tint and ink, and the flaps and
//! the spine as a whole.

use super::block_type::{COLOURS, form_of};
use super::build::{RowFacts, RowGroup, count, keys};
use super::row::{BriefRow, RowForm};
use crate::brief::Brief;
use crate::brief::art::words_of_art;
use crate::brief::place::CoverFace;
use crate::brief::yaml::{Node, YamlStep};
use crate::draft::BlockKind;
use crate::units::trimmed;

/// The art, the tint and the ink of every face that the brief has, and of its places.
pub(super) fn art(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let faces = brief.faces().map(|layout| layout.face);
    faces.flat_map(|face| [art_of(face, tree), art_of_places(face, tree)].concat()).collect()
}

/// The art, the tint and the ink of every place of a face, in the order of the brief.
fn art_of_places(face: CoverFace, tree: &Node) -> Vec<BriefRow> {
    let list = keys(&[face.key(), "places"]);
    let of_place = |number: usize| {
        let place: Vec<YamlStep> = list.iter().cloned().chain([YamlStep::Item(number)]).collect();
        let at = |parts: &[&str]| place.iter().cloned().chain(keys(parts)).collect::<Vec<_>>();
        let Some(Node::Text(name)) = tree.at(&at(&["name"])) else { return Vec::new() };
        let name = format!("Art of the place \"{name}\"");
        let mut group = RowGroup::of(&name, tree, None);
        // Where a place begins that follows another, no art can be laid.
        if tree.at(&at(&["follows"])).is_none() {
            let says = "A picture that fills the place, cut to its form: its path from the brief on: art/bubble.png.";
            let facts = RowFacts { name: "art", form: RowForm::Words, usual: "none".to_owned(), says };
            group.add_alone(at(&["art", "file"]), "file", facts).whole.pop();
        }
        tint(&mut group, &at);
        let says = "The colour of the letters in this place: black, white, or one such as #1f3a5f.";
        let facts = RowFacts { name: "ink", form: form_of("ink"), usual: "the face's".to_owned(), says };
        group.add(at(&["ink"]), facts);
        group.rows
    };
    (0..count(tree, &list)).flat_map(of_place).collect()
}

/// The rows of a tint; `at` has the way to its parts.
fn tint(group: &mut RowGroup<'_>, at: &dyn Fn(&[&str]) -> Vec<YamlStep>) {
    let says = "How much of the art a colour behind the copy hides: 30%. 0% hides nothing.";
    let facts = RowFacts { name: "tint: how much", form: RowForm::Length("%"), usual: "no tint".to_owned(), says };
    group.add(at(&["tint", "opacity"]), facts).whole.pop();
    for (part, name, form, usual, says) in [
        (
            "colour",
            "colour",
            RowForm::Suggested(COLOURS.to_vec()),
            "white",
            "The tint's colour: black, white, or one such as #1f3a5f.",
        ),
        ("pad", "past the lines", RowForm::Length("pt"), "6 pt", "How far the tint goes past the lines on each side."),
    ] {
        let facts = RowFacts { name, form, usual: usual.to_owned(), says };
        group.add(at(&["tint", part]), facts).is_part = true;
    }
}

fn art_of(face: CoverFace, tree: &Node) -> Vec<BriefRow> {
    let name = format!("Art of the {}", face.name());
    let mut group = RowGroup::of(&name, tree, None);
    let key = face.key();
    let says = "The picture behind the copy, a PNG, JPEG or TIFF: its path from the brief on, such as art/back.jpg.";
    let facts = RowFacts { name: "art", form: RowForm::Words, usual: "none".to_owned(), says };
    // Art is there by its file, and may be written as that alone: the whole group goes with this row.
    group.add_alone(keys(&[key, "art", "file"]), "file", facts).whole.pop();
    let is_panel = face == CoverFace::Panel;
    let kind = "scene is a picture of its own, spot is drawings on plain paper, round runs on from the front cover.";
    for (part, name, form, usual, says) in [
        (
            "placed",
            "goes to",
            RowForm::Choice(words_of_art("placed")),
            "bleed",
            "bleed: past the cut, so that no white edge is left; trim: up to the cut.",
        ),
        ("kind", "kind", RowForm::Choice(words_of_art("kind")), "scene", kind),
        (
            "spine",
            "spine in it",
            RowForm::Length("mm"),
            "none",
            "Of a file of the whole cover: how wide the spine is in it. The art then runs round.",
        ),
        (
            "front",
            "front cover's file",
            RowForm::Words,
            "none",
            "Of art that runs round in two files: the file of the front cover.",
        ),
    ] {
        // Only the panel's art runs round the cover, so only there is a spine in it, or a front cover beside it.
        if is_panel || !matches!(part, "spine" | "front") {
            let facts = RowFacts { name, form, usual: usual.to_owned(), says };
            group.add_alone(keys(&[key, "art", part]), "file", facts).is_part = true;
        }
    }
    tint(&mut group, &|parts| keys(&[&[key][..], parts].concat()));
    // The panel has no ink of its own: its copy goes by the type of the blurb.
    if !is_panel {
        let says = "The colour of this flap's letters: black, white, or one such as #1f3a5f.";
        let facts = RowFacts { name: "ink", form: form_of("ink"), usual: "the blurb's".to_owned(), says };
        group.add(keys(&[key, "ink"]), facts);
    }
    group.rows
}

/// The flaps and the spine by their widths, with which each begins, and the type on the spine.
pub(super) fn beside(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Flaps and spine", tree, None);
    for (key, name, says) in [
        ("front_flap", "front flap", "How wide the jacket's front flap is: 90 mm. The panel's page has the rest."),
        ("back_flap", "back flap", "How wide the jacket's back flap is: 90 mm. The panel's page has the rest."),
        ("spine", "spine", "How wide the spine is, as the printer gave it: 9 mm. The panel's page has the rest."),
    ] {
        let facts = RowFacts { name, form: RowForm::Length("mm"), usual: "none".to_owned(), says };
        // A flap or a spine is there by its width, and goes with this row as a whole.
        group.add(keys(&[key, "width"]), facts).whole.pop();
    }
    // The type of the title is of use only where there is a spine for it.
    let Some(spine) = &brief.spine else { return group.rows };
    let headline = brief.typography.of(BlockKind::Headline);
    for (key, name, says) in [
        ("font", "font", "The font of the title on the spine: serif, sans, or the file of a font."),
        ("size", "size", "How large the title on the spine is: 14 pt."),
        ("weight", "weight", "regular or bold; a font file may have others, such as semibold or 650."),
        ("style", "style", "roman, which stands upright, or italic, which leans."),
    ] {
        // In force where the brief says nothing: the type of the headline, but for the size.
        let usual = match key {
            "font" => spine.font.to_string(),
            "size" => format!("{} pt", trimmed(spine.size.to_pt(), 2)),
            "weight" => headline.weight().to_string(),
            _ => if spine.emphasis.italic { "italic" } else { "roman" }.to_owned(),
        };
        let facts = RowFacts { name, form: form_of(key), usual, says };
        let row = match key {
            "font" => group.add_alone(keys(&["spine", "type", "font", "regular"]), "regular", facts),
            key => group.add(keys(&["spine", "type", key]), facts),
        };
        row.is_part = true;
        if key == "font" {
            row.whole.pop();
        }
    }
    group.rows
}
