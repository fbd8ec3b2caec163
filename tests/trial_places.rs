//! Places and keep-outs on the page of trial values: what keys and the mouse make of them, and what is written.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::panel_values::{BoxId, WrittenPanel};
use blurbwright::briefing::rewrite::{panel_changes, rewritten};
use blurbwright::desk::mode::Mode;
use blurbwright::desk::{Effect, Event, State, Target, settle, update};
use blurbwright::panes;
use blurbwright::trial::Tried;
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEventKind};

use super::desk_harness::{DRAFT, desk_of, desk_of_words, mouse, press, screen};
use crate::tried::law;

/// A panel whose groups have lines of their own.
const LINES: &str = "\
# Mine
panel:
  # The trim.
  trim: 8 x 8 in # as printed
  keep_out:
    - barcode: EAN-13 # quiet
      corner: foot-spine
    # The gull.
    - { name: gull, size: 20 x 30 mm, at: { head: 1 in, spine: 1 in } }
  places:
    # First.
    - name: top # a
      holds: headline
      edges: { foot: 6.5 in, spine: 3 in }
    - name: praise
      # both
      holds:
        - quote 1
        - quote 2
      edges:
        head: 2.5 in
        foot: 3.5 in # c
    - { name: ages, holds: [age line], above: barcode, edges: { head: 5.5 in } } # d

# The type.
type: { size: 12 pt }
";

/// A panel in braces, in one line.
const BRACES: &str = "panel: { trim: 8 x 8 in, keep_out: [{ barcode: EAN-13, corner: foot-spine }, { name: gull, size: \
                      20 x 30 mm, at: { head: 1 in, spine: 1 in } }], places: [{ name: top, holds: headline, edges: { \
                      foot: 6.5 in, spine: 3 in } }, { name: praise, holds: [quote 1, quote 2], edges: { head: 2.5 in, \
                      foot: 3.5 in } }, { name: ages, holds: [age line], above: barcode, edges: { head: 5.5 in } }] } \
                      # mine\ntype: { size: 12 pt }\n";

/// A panel with brackets over several lines, dashes in the column of their key, and quotation marks.
const MIXED: &str = "\
panel:
  trim: 8 x 8 in
  keep_out: [
    { barcode: EAN-13, corner: foot-spine }, # a
    { name: \"gull\", size: 20 x 30 mm,
      at: { head: 1 in, spine: 1 in } } # b
  ]
  places:
  - { name: 'top', holds: headline,
      edges: { foot: 6.5 in, spine: 3 in } } # c
  - name: praise
    holds: [quote 1,
      quote 2]
    edges: { head: 2.5 in, foot: 3.5 in }
  - above: barcode
    name: ages
    holds:
    - age line
    edges: { head: 5.5 in }
";

/// A panel without boxes.
const BARE: &str = "\
# Bare
book: { title: A Lamp }
panel:
  trim: 200 x 200 mm
  # no place yet

limits:
  words: 40..100
";

/// The panels, of which the last has no box.
const FORMS: [&str; 4] = [LINES, BRACES, MIXED, BARE];

fn read(text: &str) -> WrittenPanel {
    Brief::read(text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{text}")).written_panel()
}

/// One step on the page: a kind of step, and which value, box or place it is about.
type Step = (u8, usize, i32);

/// The panel after a step; the panel itself where the step is refused.
fn stepped(panel: &WrittenPanel, (kind, which, by): Step) -> WrittenPanel {
    let (values, boxes) = (panel.values(), panel.boxes());
    let value = &values[which % values.len()];
    let found = boxes.get(which % boxes.len().max(1));
    let by_points = Length::pt(f64::from(by) * 9.0);
    let moved = match (kind % 8, found) {
        (0, Some(found)) => panel.without_box(found.id),
        (1, Some(found)) => panel.with_box(found.id, Rect { x: found.rect.x + by_points, ..found.rect }),
        (2, Some(found)) => panel.with_box(
            found.id,
            Rect { y: found.rect.y - by_points, height: found.rect.height + by_points, ..found.rect },
        ),
        (3, _) => {
            let held = ["blurb", "note on the author", "quote 1", "other titles"][which % 4];
            let positions = panel.positions(held, &|_| Length::pt(40.0), Length::pt(15.0));
            positions.into_iter().nth(by.unsigned_abs() as usize % 5).map(|(_, panel)| panel).ok_or_else(String::new)
        }
        (4, _) => {
            panel.corners(!panel.has_barcode()).into_iter().next().map(|(_, panel)| panel).ok_or_else(String::new)
        }
        (5, Some(found)) => {
            match values.iter().find(|value| value.of == Some(found.id) && value.name.ends_with(": name")) {
                Some(name) => panel.typed(name, ["a, b: c", "7", "it's # 1", "\"x\"", "true", "{y"][which % 6]),
                None => Err(String::new()),
            }
        }
        _ => panel.stepped(value, by),
    };
    moved.unwrap_or_else(|_| panel.clone())
}

proptest! {
    #![proptest_config(law(200))]

    /// What is written reads back to what was tried, and no comment and no line of another group is touched.
    #[test]
    fn what_was_tried_is_what_is_read_again(
        form in 0..FORMS.len(),
        steps in prop::collection::vec((0_u8..8, 0_usize..60, -3_i32..4), 1..9),
        crlf in any::<bool>(),
    ) {
        let text = if crlf { FORMS[form].replace('\n', "\r\n") } else { FORMS[form].to_owned() };
        let own = read(&text);
        let brief = Brief::read(&text, Path::new("")).expect("a brief");
        let can_be = |panel: &WrittenPanel| Tried::default().set_panel(panel.clone(), &brief).is_ok();
        let wanted = steps.iter().fold(own.clone(), |panel, step| {
            Some(stepped(&panel, *step)).filter(can_be).unwrap_or(panel)
        });
        let new = rewritten(&text, &panel_changes(&own, &wanted));
        prop_assert!(new.is_ok(), "{:?} of\n{text}\nto\n{:?}", new, wanted.written);
        let new = new.unwrap_or_default();
        prop_assert_eq!(read(&new).panel, wanted.panel, "{}", new);
        let others = ["# Mine", "# The type", "type:", "# Bare", "book:", "limits:", "  words:"];
        for line in text.lines().filter(|line| others.iter().any(|start| line.starts_with(start))) {
            prop_assert!(new.lines().any(|other| other == line), "{line} in\n{new}");
        }
        // A comment goes with the box that it stands beside, and with nothing else.
        let is_taken_away = steps.iter().any(|(kind, ..)| kind % 8 == 0);
        for line in text.lines().filter(|line| line.contains('#') && !is_taken_away) {
            let comment = &line[line.find('#').unwrap_or(0)..];
            prop_assert!(new.lines().any(|other| other.ends_with(comment)), "{comment} in\n{new}");
        }
    }

    /// A box that is moved is where it was moved to, and every other box is where it was, but those given by it.
    #[test]
    fn a_moved_box_is_where_it_was_moved_to(
        form in 0..3_usize,
        which in 0_usize..5,
        (x, y) in (-20_i32..20, -20_i32..20),
    ) {
        let panel = read(FORMS[form]);
        let boxes = panel.boxes();
        let found = &boxes[which % boxes.len()];
        let by = |number: i32| Length::pt(f64::from(number) * 9.0);
        let rect = Rect { x: found.rect.x + by(x), y: found.rect.y + by(y), ..found.rect };
        if let Ok(moved) = panel.with_box(found.id, rect) {
            let at = |panel: &WrittenPanel, id: BoxId| panel.box_of(id).map(|found| found.rect);
            prop_assert_eq!(at(&moved, found.id), Some(rect));
            for other in boxes.iter().filter(|other| other.id != found.id && panel.relation(other.id).is_none()) {
                prop_assert_eq!(at(&moved, other.id), Some(other.rect));
            }
        }
    }
}

proptest! {
    #![proptest_config(law(48))]

    /// No key on the page, in any order, stops the desk or leaves a panel that the brief could not have.
    #[test]
    fn any_keys_on_the_page_leave_a_panel_that_can_be_written(
        form in 0..FORMS.len(),
        keys in prop::collection::vec(0_usize..18, 1..60),
    ) {
        const KEYS: [KeyCode; 18] = [
            KeyCode::Up, KeyCode::Down, KeyCode::Down, KeyCode::Left, KeyCode::Right, KeyCode::PageDown,
            KeyCode::PageUp,
            KeyCode::Enter, KeyCode::Enter, KeyCode::Esc, KeyCode::End, KeyCode::Char('a'), KeyCode::Char('x'),
            KeyCode::Char('u'), KeyCode::Char('<'), KeyCode::Char('>'), KeyCode::Char('b'), KeyCode::F(4),
        ];
        let mut state = desk_of(FORMS[form], (80, 24));
        press(&mut state, KeyCode::F(4));
        for key in keys {
            press(&mut state, KEYS[key]);
        }
        prop_assert_eq!(screen(&mut state).len(), 24);
        let changes = state.tried().changes(state.own_brief());
        let new = rewritten(FORMS[form], &changes);
        prop_assert!(new.is_ok(), "{:?}", new);
        let new = new.unwrap_or_default();
        let now = Brief::read(&new, Path::new("")).map(|brief| brief.panel);
        prop_assert_eq!(now.as_ref(), Ok(&state.brief().panel), "{}", new);
    }
}

/// The page of trial values, on a brief.
fn page(brief: &str, size: (u16, u16)) -> State {
    let mut state = desk_of(brief, size);
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    state
}

/// The brief's text with what is tried.
fn written(state: &mut State, text: &str) -> String {
    match press(state, KeyCode::Char('w')).as_slice() {
        [Effect::WriteBrief { changes, .. }] => rewritten(text, changes).expect("it can be changed"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_first_place_takes_two_answers() {
    let brief =
        "panel:\n  trim: 8 x 8 in\n  margins: 0.5 in\n  keep_out: [{ barcode: EAN-13, corner: foot-spine }]\n# end\n";
    for size in [(80, 24), (120, 40)] {
        let mut state = page(brief, size);
        press(&mut state, KeyCode::Char('a'));
        let rows = screen(&mut state).join("\n");
        assert!(
            ["What does the new place hold?", "headline", "blurb", "quote"].iter().all(|it| rows.contains(it)),
            "{rows}"
        );
        press(&mut state, KeyCode::Enter);
        let rows = screen(&mut state).join("\n");
        let all = ["at the head", "in the middle", "at the foot", "beside the barcode", "above the barcode"];
        assert!(all.iter().all(|it| rows.contains(it)), "{rows}");
        press(&mut state, KeyCode::Enter);
        assert!(matches!(state.mode, Mode::Values(_)), "{:?}", state.mode);
        let fit = |state: &State| state.sheet().expect("a sheet").now.report.fit.clone();
        settle(&mut state);
        let rows = screen(&mut state).join("\n");
        assert!(rows.contains("headline: name"), "{rows}");
        assert_eq!(fit(&state).places[0].blocks, ["headline"]);
        assert!(fit(&state).places[0].fits(), "the place is as high as its copy asks");
        let new = written(&mut state, brief);
        let (head, added) = new.split_once("  places:\n").expect("places");
        assert_eq!(format!("{head}# end\n"), brief, "{new}");
        assert!(added.starts_with("    - { name: headline, holds: headline, edges: { foot: "), "{new}");
        // One key takes it away, one brings it back, and none is left in the end.
        press(&mut state, KeyCode::Char('x'));
        assert!(state.tried().is_nothing());
        press(&mut state, KeyCode::Char('u'));
        assert_eq!(written(&mut state, brief), new);
        press(&mut state, KeyCode::Char('u'));
        assert!(state.tried().is_nothing());
    }
}

/// What is held is not offered again, and of two quotes each can have a place of its own.
#[test]
fn only_copy_without_a_place_is_offered() {
    let words = "# Out\n\nOona climbs.\n\n> \"A lamp.\"\n> — Ida Voss\n\n> \"Bright.\"\n> — Per Lund\n";
    let offered = |places: &str| {
        let mut state = desk_of_words(&format!("panel: {{ trim: 8 x 8 in{places} }}\n"), words, (120, 40));
        for key in [KeyCode::F(4), KeyCode::Enter, KeyCode::Char('a')] {
            press(&mut state, key);
        }
        let Mode::Adding(new) = state.mode else { panic!("{:?}", state.mode) };
        state.answers(new).join(", ")
    };
    let rest = "no copy: a keep-out, no copy: the barcode";
    assert_eq!(offered(""), format!("headline, blurb, quote, quote 1, quote 2, {rest}"));
    let one = ", places: [{ name: one, holds: [headline, quote 1], edges: { foot: 6 in } }]";
    assert_eq!(offered(one), format!("blurb, quote 2, {rest}"));
    let all = ", places: [{ name: one, holds: [headline, quote, blurb], edges: { foot: 6 in } }]";
    assert_eq!(offered(all), rest);
}

/// A place given by another is shown so; an edge that the other gives makes all edges its own, which is told, and one
/// that is open does not.
#[test]
fn a_place_by_another_gets_edges_of_its_own_when_it_is_moved() {
    let mut state = page(FORMS[0], (120, 40));
    let select = |state: &mut State, name: &str| {
        let at = state.values().iter().position(|value| value.name == name).unwrap_or_else(|| panic!("{name}"));
        state.mode = Mode::Values(at);
    };
    select(&mut state, "ages: from the head");
    press(&mut state, KeyCode::Right);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("above barcode"), "{rows}");
    assert_eq!(written(&mut state, FORMS[0]), FORMS[0].replace("head: 5.5 in", "head: 5.625 in"));
    select(&mut state, "ages: from the spine");
    press(&mut state, KeyCode::Left);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("ages has edges of its own now and no longer stands above barcode."), "{rows}");
    let new = written(&mut state, FORMS[0]);
    assert!(!new.contains("above") && new.contains("stack: foot"), "{new}");
    press(&mut state, KeyCode::Char('u'));
    assert!(state.panel_tried().relation(BoxId::Place(2)).is_some());
}

#[test]
fn what_cannot_be_is_told_in_a_line_and_not_taken() {
    let mut state = page(FORMS[0], (120, 40));
    let at = state.values().iter().position(|value| value.name == "top: from the foot").expect("a value");
    state.mode = Mode::Values(at);
    let before = state.panel_tried();
    for (typed, told) in [("2 in", "overlap by"), ("9 in", "leave no box"), ("wide", "is not a length")] {
        press(&mut state, KeyCode::Enter);
        update(&mut state, Event::Typed(typed.to_owned()));
        press(&mut state, KeyCode::Enter);
        let rows = screen(&mut state).join("\n");
        assert!(rows.contains("This cannot be tried:") && rows.contains(told), "{typed}: {rows}");
        assert_eq!(state.panel_tried(), before);
        // The line stays, with what was typed.
        press(&mut state, KeyCode::Esc);
    }
    // What another stands by cannot go.
    state.mode = Mode::Values(state.values().iter().position(|value| value.name == "barcode: scale").expect("a value"));
    press(&mut state, KeyCode::Char('x'));
    assert!(screen(&mut state).join("\n").contains("there is no \"barcode\" on the panel"));
}

/// Shift, or the signs for less and more, take four steps at once.
#[test]
fn a_coarse_step_is_four_fine_ones() {
    let after = |keys: &[KeyEvent]| {
        let mut state = page(FORMS[0], (80, 24));
        state.mode =
            Mode::Values(state.values().iter().position(|value| value.name == "gull: width").expect("a value"));
        for key in keys {
            update(&mut state, Event::Key(*key));
        }
        state.panel_tried()
    };
    let fine = after(&[KeyEvent::from(KeyCode::Right); 4]);
    assert_eq!(after(&[KeyEvent::from(KeyCode::Char('>'))]), fine);
    assert_eq!(after(&[KeyEvent::new(KeyCode::Right, KeyModifiers::SHIFT)]), fine);
    assert_eq!(fine.boxes()[1].rect.width, Length::mm(24.0));
}

/// The first cell of the picture, from the head and by every so many columns, where the mouse has a hold of a box that
/// `is_wanted`.
fn cell(state: &mut State, columns: usize, is_wanted: impl Fn(&Target) -> bool) -> (u16, u16) {
    settle(state);
    let cells = (0..state.size.1).flat_map(|y| (0..state.size.0).step_by(columns).map(move |x| (x, y)));
    let mut found = cells.filter(|(x, y)| panes::hit(state, *x, *y).is_some_and(|target| is_wanted(&target)));
    found.next().expect("the box in the picture")
}

#[test]
fn a_box_is_pulled_in_the_picture() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut state = page(FORMS[0], size);
        let is_praise = |target: &Target| matches!(target, Target::Box(BoxId::Place(1), ..));
        let before = state.panel_tried().box_of(BoxId::Place(1)).expect("a place").rect;
        let (x, y) = cell(&mut state, 4, is_praise);
        // The whole of it from its middle, in two pulls of one step.
        let (x, y) = (x + 5, y + 1);
        mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (x, y), 1);
        assert!(
            state.values()[match state.mode {
                Mode::Values(at) => at,
                _ => 0,
            }]
            .name
            .starts_with("praise: ")
        );
        for to in [(x, y + 1), (x, y + 2)] {
            mouse(&mut state, MouseEventKind::Drag(MouseButton::Left), to, 1);
        }
        let after = state.panel_tried().box_of(BoxId::Place(1)).expect("a place").rect;
        assert!(after.y > before.y && after.height == before.height && after.x == before.x, "{before:?} {after:?}");
        mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (0, 0), 1);
        press(&mut state, KeyCode::Char('u'));
        assert!(state.tried().is_nothing(), "one pull is one step");
        // Off the panel it is refused, and stays.
        mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (x, y), 1);
        mouse(&mut state, MouseEventKind::Drag(MouseButton::Left), (x, size.1 - 1), 1);
        assert!(screen(&mut state).join("\n").contains("This cannot be tried:"));
        assert!(state.tried().is_nothing());
    }
}

/// A corner of a keep-out sizes it, and the corner across from it stays.
#[test]
fn a_corner_is_pulled_to_another_size() {
    let brief = "panel: { trim: 8 x 8 in, keep_out: [{ name: sea, size: 3 x 3 in, corner: head-fore-edge }] }\n";
    let mut state = page(brief, (120, 40));
    let before = state.panel_tried().boxes()[0].rect;
    let is_foot_right = |target: &Target| {
        let corner = blurbwright::desk::event::Grip::Corner { head: false, left: false };
        matches!(target, Target::Box(_, grip, _) if *grip == corner)
    };
    let (x, y) = cell(&mut state, 1, is_foot_right);
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (x, y), 1);
    mouse(&mut state, MouseEventKind::Drag(MouseButton::Left), (x + 3, y + 2), 1);
    let after = state.panel_tried().boxes()[0].rect;
    assert_eq!((after.x, after.y), (before.x, before.y));
    assert!(after.width > before.width && after.height > before.height, "{after:?}");
    let new = written(&mut state, brief);
    assert!(
        new.contains("corner: head-fore-edge") && !new.contains("3 x 3 in"),
        "what is in its corner stays so: {new}"
    );
}

/// The copy follows at once: the fit is that of the panel that is tried.
#[test]
fn the_fit_follows_a_place_as_it_is_changed() {
    let brief =
        "panel: { trim: 8 x 8 in, places: [{ name: top, holds: blurb, size: 6 x 3 in, corner: head-spine }] }\n";
    let mut state = desk_of_words(brief, DRAFT, (120, 40));
    for key in [KeyCode::F(4), KeyCode::Enter] {
        press(&mut state, key);
    }
    state.mode = Mode::Values(state.values().iter().position(|value| value.name == "top: height").expect("a value"));
    let over = |state: &mut State| {
        state.assess();
        state.sheet().expect("a sheet").now.report.fit.places[0].castoff.lines_over
    };
    assert_eq!(over(&mut state), 0);
    for _ in 0..4 {
        press(&mut state, KeyCode::Char('<'));
    }
    assert!(over(&mut state) > 0);
}

/// The page opens where the author is: at the place that holds the copy in hand.
#[test]
fn the_page_opens_at_the_place_of_the_cursor() {
    let words = "# Out\n\nOona climbs.\n\n> \"A lamp.\"\n> — Ida Voss\n";
    let mut state = desk_of_words(FORMS[0], words, (80, 24));
    for (name, moves) in [("top: name", 0), ("trim", 2), ("praise: name", 2)] {
        for _ in 0..moves {
            press(&mut state, KeyCode::Down);
        }
        press(&mut state, KeyCode::F(4));
        press(&mut state, KeyCode::Enter);
        let Mode::Values(at) = state.mode else { panic!("{:?}", state.mode) };
        assert_eq!(state.values()[at].name, name);
        press(&mut state, KeyCode::Esc);
    }
}
