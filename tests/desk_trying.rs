//! Trying another type or panel: what it makes of the copy is told in a line, each step is taken back, and each value
//! says what it is.

use blurbwright::desk::State;
use blurbwright::desk::mode::{Mode, Prompt};
use blurbwright::trial::explained::explained;
use blurbwright::trial::told::{TrialFit, told};
use ratatui::crossterm::event::KeyCode;

use super::desk_harness::{BRIEF, desk, desk_of, desk_of_words, desk_on, press, screen, typed};

const SIZES: [(u16, u16); 5] = [(60, 20), (80, 24), (100, 30), (120, 40), (200, 60)];

/// A cover with a keep-out, a barcode, two places, a flap and a spine.
const COVER: &str = "book: { title: The Lamp }
panel:
  trim: 8.5 x 8.5 in
  binding: jacket
  keep_out:
    - { barcode: EAN-13, scale: 80%, corner: foot-spine }
    - { name: imprint mark, size: 0.6 x 0.6 in, at: { foot: 0.5 in, fore-edge: 3.5 in } }
  places:
    - { name: praise, holds: quote, size: 90 x 50 mm, at: { head: 4 in, fore-edge: 0.5 in }, columns: 2 }
    - { name: top, holds: headline, edges: { foot: 7 in }, shape: { round: 5 mm } }
front_flap: { width: 90 mm, holds: blurb }
spine: { width: 10 mm }
";

fn over(size: (u16, u16)) -> State {
    desk_on(&"Every night Oona lights the lamp at the top of the stairs, alone. ".repeat(25), size)
}

/// The line under the head in which a trial is told.
fn line(state: &mut State) -> String {
    screen(state)[1].trim().trim_end_matches("room").trim_end().to_owned()
}

/// Before and now stand in one line with the largest size that fits, on every screen and on every page of a trial.
#[test]
fn what_a_trial_makes_of_the_copy_is_told_in_one_line() {
    for size in SIZES {
        let mut state = over(size);
        press(&mut state, KeyCode::F(7));
        let before = line(&mut state);
        assert!(before.contains("lines over") && before.contains("largest"), "{size:?} {before}");
        for _ in 0..8 {
            press(&mut state, KeyCode::Char('-'));
        }
        let now = line(&mut state);
        assert!(now.contains("over to ") && now.contains("largest"), "{size:?} {now}");
        assert!(size.0 < 80 || now.starts_with("13 to 9 pt, "), "{size:?} {now}");
        press(&mut state, KeyCode::Char('p'));
        assert!(line(&mut state).contains("over to "), "the page of the values tells it too");
        press(&mut state, KeyCode::Char('t'));
        press(&mut state, KeyCode::Esc);
        assert!(!line(&mut state).contains("largest"), "nothing is told to one who writes");
    }
}

/// What is told is what the brief and the trial measure, in as few words as there is room for.
#[test]
fn a_line_of_a_trial_names_what_differs() {
    let mut state = desk((120, 40));
    let told_of = |state: &State, columns: usize| {
        let now = TrialFit::of(&state.sheet().expect("a sheet").now.report);
        told((state.own_brief(), state.brief(), &state.faces), state.untried(), &now, columns)
    };
    press(&mut state, KeyCode::F(7));
    screen(&mut state);
    assert!(told_of(&state, 90).starts_with("the brief's own: 3 lines left; the largest that fits: "));
    press(&mut state, KeyCode::Char('f'));
    press(&mut state, KeyCode::Char('a'));
    press(&mut state, KeyCode::Up);
    screen(&mut state);
    let words = told_of(&state, 200);
    for part in ["leading 18 to 18.5 pt", "to sans", "left to centre", "the largest that fits: "] {
        assert!(words.to_lowercase().contains(part) || part == "to sans", "{part}: {words}");
    }
    for columns in [200, 80, 50, 30] {
        let words = told_of(&state, columns);
        assert!(words.chars().count() <= columns || columns < 50, "{columns}: {words}");
        assert!(words.contains("largest"), "{words}");
    }
    press(&mut state, KeyCode::Char('b'));
    screen(&mut state);
    assert_eq!(state.untried(), None);
    assert!(told_of(&state, 90).starts_with("the brief's own: "));
}

/// Each step of type and panel is taken back in its order, by one key on both pages; taking the brief's own is one too.
#[test]
fn every_step_of_a_trial_is_taken_back() {
    let mut state = desk((120, 40));
    let seen = |state: &State| (state.tried().clone(), state.brief().typography.blurb.size);
    press(&mut state, KeyCode::F(7));
    let mut steps = vec![seen(&state)];
    for key in ['+', '+', 'f', 'a', 'l', 'b', '-'] {
        press(&mut state, KeyCode::Char(key));
        steps.push(seen(&state));
    }
    press(&mut state, KeyCode::Char('p'));
    press(&mut state, KeyCode::Right);
    assert!(state.tried().panel.is_some());
    press(&mut state, KeyCode::Char('t'));
    while let Some(before) = steps.pop() {
        press(&mut state, KeyCode::Char('u'));
        assert_eq!(seen(&state), before);
    }
    assert!(!state.can_take_trial_back() && state.tried().is_nothing());
    press(&mut state, KeyCode::Char('u'));
    assert_eq!(state.said.as_deref(), Some("Nothing is left to take back here."));
}

/// The panel stays where it stands on its page when its values are changed, also while one is typed.
#[test]
fn the_values_have_the_form_of_the_panels_page() {
    for size in [(80, 24), (100, 30), (120, 40), (200, 60)] {
        let mut state = desk_of(BRIEF, size);
        press(&mut state, KeyCode::F(4));
        screen(&mut state);
        let page = blurbwright::panes::pictures(&state).into_iter().map(|face| face.area).collect::<Vec<_>>();
        press(&mut state, KeyCode::Enter);
        screen(&mut state);
        let areas =
            |state: &State| blurbwright::panes::pictures(state).into_iter().map(|face| face.area).collect::<Vec<_>>();
        assert_eq!(areas(&state), page, "{size:?}");
        press(&mut state, KeyCode::Home);
        press(&mut state, KeyCode::Enter);
        assert!(matches!(state.mode, Mode::Prompt(Prompt::Value(0), _)));
        let rows = screen(&mut state);
        assert!(rows[usize::from(size.1) - 1].contains("Another value:"), "{rows:#?}");
        assert_eq!(areas(&state), page, "{size:?}");
        typed(&mut state, "8 x 8 in");
        press(&mut state, KeyCode::Enter);
        let rows = screen(&mut state).join(" ");
        let rows = rows.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(rows.contains("*8 x 8 in") && rows.contains("The size of the cut book."), "{size:?} {rows}");
    }
}

/// Every value of every part of a cover is explained in words of its own, in a line.
#[test]
fn every_value_says_what_it_is() {
    for brief in [COVER, BRIEF, "panel: { trim: 210 x 210 mm, binding: case }\n"] {
        let mut state = desk_of_words(brief, "# Lamp\n\nOona climbs.\n\n> \"A lamp.\"\n> — Ida Voss\n", (100, 30));
        press(&mut state, KeyCode::F(4));
        press(&mut state, KeyCode::Enter);
        for _ in 0..state.panel_tried().parts().len() {
            press(&mut state, KeyCode::Home);
            for (at, value) in state.values().into_iter().enumerate() {
                let words = explained(&value);
                assert!(words.ends_with('.') && words.len() < 100, "{}: {words}", value.name);
                let is_edge = ["margin at", "from the"].iter().any(|edge| value.name.contains(edge));
                assert_eq!(words.contains("this edge"), is_edge, "{}: {words}", value.name);
                assert!(matches!(state.mode, Mode::Values(in_hand) if in_hand == at));
                let rows = screen(&mut state).join(" ");
                let first: Vec<&str> = words.split_whitespace().take(3).collect();
                assert!(rows.contains(&first.join(" ")), "{}: {words}\n{rows}", value.name);
                press(&mut state, KeyCode::Down);
            }
            press(&mut state, KeyCode::Char('f'));
        }
    }
}

/// What a place holds is a list to go on with; a refused one stands in its line still.
#[test]
fn what_a_place_holds_is_gone_on_with() {
    let brief = "panel: { trim: 8 x 8 in, places: [{ name: top, holds: headline, edges: { foot: 6 in } }] }\n";
    let mut state = desk_of(brief, (120, 40));
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    let at = state.values().iter().position(|value| value.name.ends_with("holds")).expect("what it holds");
    (0..at - state.mode.value_in_hand().expect("a value")).for_each(|_| drop(press(&mut state, KeyCode::Down)));
    press(&mut state, KeyCode::Enter);
    typed(&mut state, ", limericks");
    press(&mut state, KeyCode::Enter);
    assert!(matches!(&state.mode, Mode::Prompt(_, line) if line.text() == "headline, limericks"), "{:?}", state.mode);
    (0..9).for_each(|_| drop(press(&mut state, KeyCode::Backspace)));
    typed(&mut state, "quote");
    press(&mut state, KeyCode::Enter);
    assert!(matches!(state.mode, Mode::Values(_)), "{:?} {:?}", state.mode, state.said);
    assert_eq!(state.values()[at].value, "headline, quote");
}
