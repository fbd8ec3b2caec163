//! What each value of the cover is, in a line for an author who meets its name for the first time.

use crate::brief::panel_values::{BoxId, PanelValue};

/// What a value is.
pub fn explained(value: &PanelValue) -> &'static str {
    let part = value.of.and_then(|_| value.name.rsplit_once(": ")).map_or(value.name.as_str(), |(_, part)| part);
    match value.of {
        None => of_the_cover(part),
        Some(BoxId::KeepOut(_)) => of_a_keep_out(part),
        Some(BoxId::Place(_)) => of_a_place(part),
    }
}

fn of_the_cover(name: &str) -> &'static str {
    match name {
        "trim" => "The size of the cut book. Left and Right take the usual ones in turn.",
        "width" => "How wide the panel is once it is cut.",
        "height" => "How high the panel is once it is cut.",
        "binding" => "How the book is bound, which says what lies past the cut.",
        "bleed" => "How far the art is printed past the cut.",
        "square" => "How far the boards stand out past the pages.",
        "turn-in" => "How far the art goes on round the edges of the boards.",
        "joint" => "The groove beside the spine: a keep-out, where no copy may stand.",
        "round corners" => "The radius of the corners as they are cut; 0 where they are square.",
        "margins" => "How far copy stays from all edges. What is left inside is the live area.",
        "width of the flap" => "From the flap's fold to its edge.",
        "width of the spine" => "As thick as the book is; the printer tells it by the number of pages.",
        "clear of either fold" => "How far the title stays from the folds, which may move in binding.",
        "direction" => "Whether the title on the spine reads downwards or upwards.",
        _ => "How far copy stays from this edge.",
    }
}

fn of_a_keep_out(part: &str) -> &'static str {
    match part {
        "scale" => "How large the barcode is, in hundredths of the standard's own size.",
        "add-on" => "A second, short symbol beside the barcode, such as one for the price.",
        "width" | "height" => "The size of the keep-out, the box that copy may not enter.",
        "corner" => "The corner of the face in which it stands.",
        "clearance" => "The room round the keep-out that copy leaves clear too.",
        _ => "How far the keep-out stands from this edge.",
    }
}

fn of_a_place(part: &str) -> &'static str {
    match part {
        "name" => "What you call the place: a box of its own for some of the copy.",
        "holds" => "The blocks that stand in the place, with a comma between two. A block stands in one place only.",
        "width" | "height" => "The size of the place.",
        "corner" => "The corner of the face in which it stands.",
        "stands" => "The place is given by another, and goes where that one goes.",
        "space before it" => "How far its copy stands below that of the place which it follows.",
        "shape" => "The form of the place: a box, an ellipse, or a box with round corners.",
        "radius" => "The radius of its round corners.",
        "inset" => "How far copy stays inside the edge of the place.",
        "align" => "Where its lines stand across: as the type has it, left, in the centre, or at both sides.",
        "stack" => "Where copy stands that does not fill the place: at its head, in its centre, or at its foot.",
        "columns" => "In how many columns its copy is set, side by side.",
        "gutter" => "The room between two columns.",
        _ => "How far its edge is from this edge of the face.",
    }
}
