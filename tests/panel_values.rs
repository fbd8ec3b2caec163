//! The values of a panel, a flap and a spine one by one: the next one up or down, what was typed, and what is refused.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::panel_values::WrittenPanel;

fn panel(lines: &str) -> WrittenPanel {
    Brief::read(lines, Path::new("")).expect("a brief").written_panel()
}

/// The panel after one value was moved on by some steps, and that value as it is written then.
fn stepped(panel: &WrittenPanel, name: &str, steps: i32) -> (WrittenPanel, String) {
    let value = panel.values().into_iter().find(|value| value.name == name).expect("a value");
    let after = panel.stepped(&value, steps).expect("a panel");
    let shown = after.values().into_iter().find(|value| value.name == name).expect("a value").value;
    (after, shown)
}

const BOOK: &str = "panel:\n  trim: 8.5 x 8.5 in\n  keep_out:\n    - { barcode: EAN-13, corner: foot-spine }\n    \
                    - { name: mark, size: 20 x 10 mm, at: { spine: 1 in, head: 2 cm } }\n";

#[test]
fn each_value_has_a_next_one_in_its_own_unit() {
    let panel = panel(BOOK);
    for (name, steps, shown) in [
        ("trim", 1, "8 x 10 in"),
        ("trim", -1, "7 x 10 in"),
        ("width", 1, "8.625 in"),
        ("height", -1, "8.375 in"),
        ("binding", -1, "jacket"),
        ("margins", 1, "0.625 in"),
        ("margin at the head", -4, "0 in"),
        ("bleed", -1, "0 in"),
        ("round corners", 2, "0.25 in"),
        ("barcode: scale", -1, "95%"),
        ("barcode: add-on", 2, "price"),
        ("barcode: corner", 1, "foot-fore-edge"),
        ("mark: width", 1, "21 mm"),
        ("mark: from the head", 1, "2.1 cm"),
        ("mark: clearance", 1, "0.125 in"),
        ("barcode: clearance", 1, "3 mm"),
    ] {
        assert_eq!(stepped(&panel, name, steps).1, shown, "{name}");
    }
}

#[test]
fn a_binding_has_its_own_edges() {
    let names = |binding: &str| {
        let panel = panel(&format!("panel: {{ trim: 200 x 250 mm, binding: {binding} }}\n"));
        let values = panel.values().into_iter().skip(9).map(|value| (value.name, value.value));
        values.map(|(name, value)| format!("{name} {value}")).collect::<Vec<_>>().join(", ")
    };
    assert_eq!(names("paperback"), "bleed 3.175 mm, round corners 0 mm");
    assert_eq!(names("case"), "square 3 mm, turn-in 16 mm, joint 9 mm, round corners 0 mm");
    assert_eq!(names("jacket"), "square 3 mm, bleed 3.175 mm, round corners 0 mm");
}

#[test]
fn a_board_book_has_the_binding_board_and_no_other() {
    let panel = panel(&format!("book: {{ kind: board book }}\n{BOOK}"));
    let binding = panel.values().into_iter().find(|value| value.name == "binding").expect("a value");
    assert_eq!((binding.value.as_str(), binding.is_choice()), ("board", true));
    let refused = Err("a board book has the binding board, and no other".to_owned());
    for tried in [panel.stepped(&binding, 1), panel.stepped(&binding, -1), panel.typed(&binding, "case")] {
        assert_eq!(tried.map(|panel| panel.panel), refused);
    }
    // Every other value of the panel can be changed, and the binding is still a board book's.
    let (wider, _) = stepped(&panel, "width", 1);
    assert!(wider.values().iter().any(|value| (value.name.as_str(), value.value.as_str()) == ("binding", "board")));
}

/// One margin for all edges becomes four where one of them is changed, and four margins of one length stay four.
#[test]
fn margins_change_together_or_alone() {
    let (four, head) = stepped(&panel(BOOK), "margin at the head", 2);
    assert_eq!(head, "0.75 in");
    assert_eq!(stepped(&four, "margins", 1).1, "each its own");
    assert_eq!(stepped(&stepped(&four, "margins", 1).0, "margin at the spine", 0).1, "0.625 in");
    let all = four.values().into_iter().find(|value| value.name == "margins").expect("a value");
    let typed = four.typed(&all, "12 mm").expect("a panel");
    assert_eq!(stepped(&typed, "margin at the foot", 1).1, "13 mm");
}

#[test]
fn what_cannot_be_is_refused_in_the_words_of_a_brief() {
    let panel = panel(BOOK);
    let refused = |name: &str, text: &str| {
        let value = panel.values().into_iter().find(|value| value.name == name).expect("a value");
        panel.typed(&value, text).expect_err("it cannot be")
    };
    assert!(refused("width", "1").starts_with("barcode is"));
    assert!(refused("width", "0.5").contains("each side, it must be from 1 in to 30 in"));
    assert!(refused("height", "wide").starts_with("\"wide\" is not a length"));
    assert!(refused("margin at the head", "8 in").starts_with("the margins at head and foot add up to"));
    assert!(refused("barcode: scale", "70").contains("from 80% to 200%"));
    assert!(refused("barcode: corner", "middle").contains("is not known"));
    assert!(refused("mark: width", "9 in").contains("does not lie inside the panel"));
}
