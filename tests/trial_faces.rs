//! Flaps and the spine on the page of trial values: which face is in hand, what keys and the mouse make of it, and what
//! is written.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::panel_values::{BoxId, CoverPart, WrittenPanel};
use blurbwright::brief::place::CoverFace;
use blurbwright::briefing::rewrite::{panel_changes, rewritten};
use blurbwright::desk::mode::Mode;
use blurbwright::desk::{Effect, Event, State, Target, settle, update};
use blurbwright::panes;
use blurbwright::trial::Tried;
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;
use ratatui::crossterm::event::{KeyCode, MouseButton, MouseEventKind};

use super::desk_harness::{desk_of_words, mouse, press, screen};
use crate::tried::law;

/// A jacket whose groups have lines of their own: the front flap holds copy by itself, the back flap has a place.
const JACKET: &str = "\
# Mine
book: { title: Snail Post }
panel:
  trim: 210 x 260 mm
  binding: jacket # by hand
  places: [{ name: top, holds: headline, edges: { foot: 200 mm } }]

front_flap: { width: 90 mm, holds: blurb } # what it tells
back_flap:
  width: 90 mm
  margins: { head: 18 mm, foot: 18 mm, fold: 12 mm, edge: 8 mm } # all four
  places:
    - { name: life, holds: note on the author, size: 60 x 80 mm, corner: foot-fold } # who wrote it
# The printer's own.
spine: { width: 10 mm, clear: 2 mm, type: { size: 16 pt } }
type: { size: 12 pt }
";

/// The cover of a jacket in other forms: braces, keys in another order, margins in one length.
const BRACES: &str = "book: { title: Snail Post }\nspine: { width: 1 cm, margins: 12 mm }\npanel: { trim: 210 x 260 \
                      mm, \
                      binding: jacket }\nfront_flap: { holds: [blurb], align: centre, width: 90 mm, margins: 12 mm, \
                      keep_out: [{ name: mark, size: 15 x 15 mm, corner: foot-edge }] }\nback_flap: { width: 3.5 in, \
                      places: [{ name: life, holds: headline, edges: { head: 2 in, fold: 1 in } }] }\n";

const WORDS: &str = "# Out\n\nOona climbs the stairs.\n\n## Note on the author\n\nMaren keeps snails.\n";

fn read(text: &str) -> WrittenPanel {
    Brief::read(text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{text}")).written_panel()
}

/// The page of trial values with the cursor some lines down, on a brief.
fn page(brief: &str, down: usize, size: (u16, u16)) -> State {
    let mut state = desk_of_words(brief, WORDS, size);
    for _ in 0..down {
        press(&mut state, KeyCode::Down);
    }
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    state
}

/// The number of a value by its name.
fn select(state: &mut State, name: &str) {
    let values = state.values();
    let names: Vec<&str> = values.iter().map(|value| value.name.as_str()).collect();
    state.mode = Mode::Values(names.iter().position(|known| *known == name).unwrap_or_else(|| panic!("{names:?}")));
}

fn type_value(state: &mut State, name: &str, typed: &str) -> String {
    select(state, name);
    press(state, KeyCode::Enter);
    update(state, Event::Typed(typed.to_owned()));
    press(state, KeyCode::Enter);
    screen(state).join("\n")
}

/// The brief's text with what is tried.
fn written(state: &mut State, text: &str) -> String {
    match press(state, KeyCode::Char('w')).as_slice() {
        [Effect::WriteBrief { changes, .. }] => rewritten(text, changes).expect("it can be changed"),
        other => panic!("{other:?}"),
    }
}

/// The lines of a text that another has not.
fn changed<'a>(text: &'a str, other: &str) -> Vec<&'a str> {
    text.lines().filter(|line| other.lines().all(|known| known != *line)).collect()
}

proptest! {
    #![proptest_config(law(120))]

    /// What is written reads back to the cover that was tried, whatever part of it was changed.
    #[test]
    fn what_was_tried_on_any_part_is_what_is_read_again(
        is_in_braces in any::<bool>(),
        steps in prop::collection::vec((0_usize..4, 0_usize..4, 0_usize..60, -3_i32..4), 1..8),
    ) {
        let text = if is_in_braces { BRACES } else { JACKET };
        let brief = Brief::read(text, Path::new("")).expect("a brief");
        let own = brief.written_panel();
        let mut wanted = own.clone();
        for (part, kind, which, by) in steps {
            let panel = wanted.clone().with_part(own.parts()[part]);
            let (values, boxes) = (panel.values(), panel.boxes());
            let by_points = Length::pt(f64::from(by) * 9.0);
            let after = match (kind, boxes.get(which % boxes.len().max(1))) {
                (0, Some(found)) => panel.with_box(found.id, Rect { y: found.rect.y + by_points, ..found.rect }),
                (1, Some(found)) => {
                    let rect = Rect { x: found.rect.x - by_points, width: found.rect.width + by_points, ..found.rect };
                    panel.with_box(found.id, rect)
                }
                _ => panel.stepped(&values[which % values.len()], by),
            };
            let is_possible = |panel: &WrittenPanel| Tried::default().set_panel(panel.clone(), &brief).is_ok();
            wanted = after.ok().filter(is_possible).unwrap_or(wanted);
        }
        let new = rewritten(text, &panel_changes(&own, &wanted));
        prop_assert!(new.is_ok(), "{:?}", new);
        let new = new.unwrap_or_default();
        prop_assert!(read(&new).is_as(&wanted), "{}", new);
        let comments = ["# Mine", "# by hand", "# what it tells", "# who wrote it", "# The printer's own."];
        for comment in comments {
            prop_assert_eq!(new.contains(comment), text.contains(comment), "{}", new);
        }
    }
}

/// The page opens on the face of the copy in hand; a key that the foot names, or a click on it, goes on to the next
/// part.
#[test]
fn the_face_in_hand_is_that_of_the_cursor_and_a_key_takes_the_next() {
    for (down, first) in [(0, "top: name"), (2, "front flap: holds"), (4, "life: name")] {
        let state = page(JACKET, down, (120, 40));
        let Mode::Values(at) = state.mode else { panic!("{:?}", state.mode) };
        assert_eq!(state.values()[at].name, first);
    }
    let mut state = page(JACKET, 0, (120, 40));
    for (part, name) in [
        (CoverPart::Face(CoverFace::FrontFlap), "width of the flap"),
        (CoverPart::Face(CoverFace::BackFlap), "width of the flap"),
        (CoverPart::Spine, "width of the spine"),
        (CoverPart::Face(CoverFace::Panel), "trim"),
    ] {
        let rows = screen(&mut state);
        let (y, row) = rows.iter().enumerate().find(|(_, row)| row.contains("f other face")).expect("the foot");
        let before = &row[..row.find("f other face").expect("the key")];
        let x = before.chars().count() as u16;
        mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (x, y as u16), 1);
        assert_eq!(state.panel_tried().part, part);
        assert_eq!(state.values()[0].name, name);
        let rows = screen(&mut state).join("\n");
        assert!(rows.contains(&format!("These are the values of the {}.", part.name())), "{rows}");
        // The message stands in the foot until the next key.
        press(&mut state, KeyCode::Home);
    }
    let mut state = page("panel: { trim: 8 x 8 in }\n", 0, (80, 24));
    press(&mut state, KeyCode::Char('f'));
    assert!(screen(&mut state).join("\n").contains("The brief has no flap and no spine"));
}

/// One value of each part is changed by keys, and only its key in the file.
#[test]
fn only_the_changed_key_of_a_flap_or_the_spine_is_written() {
    for (part, name, typed, line) in [
        (1, "width of the flap", "95", "front_flap: { width: 95 mm, holds: blurb } # what it tells"),
        (1, "front flap: align", "centre", "front_flap: { align: centre, width: 90 mm, holds: blurb } # what it tells"),
        (2, "margin at the fold", "14", "  margins: { head: 18 mm, foot: 18 mm, fold: 14 mm, edge: 8 mm } # all four"),
        (
            2,
            "life: height",
            "90",
            "    - { name: life, holds: note on the author, size: 60 x 90 mm, corner: foot-fold } # who wrote it",
        ),
        (3, "width of the spine", "11", "spine: { width: 11 mm, clear: 2 mm, type: { size: 16 pt } }"),
        (3, "clear of either fold", "2.5", "spine: { width: 10 mm, clear: 2.5 mm, type: { size: 16 pt } }"),
    ] {
        let mut state = page(JACKET, 0, (120, 40));
        for _ in 0..part {
            press(&mut state, KeyCode::Char('f'));
        }
        if name.ends_with("align") {
            select(&mut state, name);
            press(&mut state, KeyCode::Right);
            press(&mut state, KeyCode::Right);
        } else {
            type_value(&mut state, name, typed);
        }
        let new = written(&mut state, JACKET);
        assert_eq!(changed(&new, JACKET), [line], "{new}");
    }
}

/// What a flap holds by itself becomes a place of that flap once it has edges of its own.
#[test]
fn a_flap_that_holds_copy_by_itself_is_pulled_to_a_place() {
    let mut state = page(JACKET, 2, (120, 40));
    settle(&mut state);
    let cells = (0..state.size.1).flat_map(|y| (0..state.size.0).map(move |x| (x, y)));
    let is_box = |target: &Target| matches!(target, Target::Box(BoxId::Place(0), ..));
    let holding: Vec<(u16, u16)> =
        cells.filter(|(x, y)| panes::hit(&state, *x, *y).is_some_and(|target| is_box(&target))).collect();
    // From its foot right corner up, so that room is left below.
    let last = *holding.last().expect("the flap in the picture");
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), last, 1);
    mouse(&mut state, MouseEventKind::Drag(MouseButton::Left), (last.0, last.1 - 8), 1);
    let found = state.panel_tried().boxes();
    assert_eq!(found.iter().map(|found| found.name.as_str()).collect::<Vec<_>>(), ["front flap"]);
    let new = written(&mut state, JACKET);
    let lines = changed(&new, JACKET);
    assert!(
        lines.len() == 1
            && lines[0].contains("places: [{ name: front flap, holds: blurb, edges: { foot: ")
            && lines[0].ends_with("} }], width: 90 mm } # what it tells"),
        "{new}"
    );
    // Below it there is room for another place, which takes two answers.
    press(&mut state, KeyCode::Char('a'));
    press(&mut state, KeyCode::End);
    press(&mut state, KeyCode::Enter);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("in the corner foot-edge"), "{rows}");
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('u'));
    assert!(state.tried().is_nothing());
    assert_eq!(state.panel_tried().part, CoverPart::Face(CoverFace::FrontFlap), "its step is its own");
}

#[test]
fn what_a_flap_or_the_spine_cannot_be_is_told() {
    let mut state = page(JACKET, 0, (120, 40));
    press(&mut state, KeyCode::Char('f'));
    let rows = type_value(&mut state, "width of the flap", "300");
    assert!(rows.contains("a flap of 300 mm is wider than the panel of 213 mm"), "{rows}");
    // The line stays, with what was typed.
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('x'));
    assert!(screen(&mut state).join("\n").contains("Only a place or a keep-out is taken away"));
    select(&mut state, "front flap: holds");
    press(&mut state, KeyCode::Char('x'));
    assert!(screen(&mut state).join("\n").contains("the flap holds nothing"));
    press(&mut state, KeyCode::Char('a'));
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('f'));
    press(&mut state, KeyCode::Char('f'));
    let rows = type_value(&mut state, "width of the spine", "4");
    let said = state.said.clone().unwrap_or_default();
    assert!(said.contains("a spine of 4 mm with 2 mm clear of either fold has no room for letters"), "{said}");
    assert!(rows.contains("a spine of 4 mm with 2 mm clear"), "{rows}");
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('a'));
    assert!(screen(&mut state).join("\n").contains("The spine carries the title of the book and no other copy."));
    assert!(state.tried().is_nothing());
}

/// The spine is as high as the panel that is tried: its margins are held against that one, whichever changes.
#[test]
fn the_margins_of_the_spine_are_held_against_the_tried_panel() {
    let text = "book: { title: A }\npanel: { trim: 100 x 100 mm }\nspine: { width: 9 mm, margins: 45 mm }\n";
    let mut state = page(text, 0, (120, 40));
    let rows = type_value(&mut state, "height", "80");
    let said = state.said.clone().unwrap_or_default();
    assert!(said.contains("the margins at head and foot add up to 90 mm, and the spine has only 80 mm"), "{said}");
    assert!(rows.contains("the margins at head and foot add up to 90 mm"), "{rows}");
    type_value(&mut state, "height", "120");
    press(&mut state, KeyCode::Char('f'));
    type_value(&mut state, "margins", "55");
    settle(&mut state);
    let spine = state.sheet().and_then(|sheet| sheet.now.report.fit.spine.clone()).expect("a title");
    assert_eq!(spine.live.width, Length::mm(10.0));
    let new = written(&mut state, text);
    assert_eq!(new, text.replace("100 x 100", "100 x 120").replace("45 mm", "55 mm"));
}
