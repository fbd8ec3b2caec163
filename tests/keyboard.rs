//! A keyboard that sends no function keys and nothing with Alt: what is named on it, and that it does what it says.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::mem::discriminant;

use blurbwright::desk::hints::{self, hints, ways_to};
use blurbwright::desk::keys::{Command, KEYS, Way, of};
use blurbwright::desk::mode::Mode;
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{Event, State, update};
use ratatui::crossterm::event::{KeyCode, KeyModifiers};

use super::desk_harness::{BRIEF, desk_of, press, screen};

fn desk(size: (u16, u16)) -> State {
    let mut state = desk_of(BRIEF, size);
    state.theme = state.theme.with_keyboard(Keyboard::Short);
    state
}

/// The desk after a command.
fn after(command: Command, size: (u16, u16)) -> State {
    let mut state = desk(size);
    update(&mut state, Event::Key(of(command).event()));
    state
}

/// The names of keys that such a keyboard does not send.
fn unsent() -> impl Iterator<Item = &'static str> {
    KEYS.iter().filter(|key| key.event().modifiers != KeyModifiers::CONTROL).map(|key| key.shown)
}

/// Presses what a hint says: `Esc Esc k`.
fn press_as_told(state: &mut State, told: &str) {
    for key in told.split(' ') {
        let letter = key.chars().next().expect("a letter");
        press(state, if key == "Esc" { KeyCode::Esc } else { KeyCode::Char(letter) });
    }
}

#[test]
fn no_page_names_a_key_that_the_keyboard_does_not_send() {
    assert_eq!(unsent().count(), 13);
    for key in KEYS {
        for size in [(80, 24), (100, 30), (120, 40)] {
            let mut state = after(key.command, size);
            let is_list = matches!(state.mode, Mode::Keys(_));
            for _ in 0..if is_list { 20 } else { 1 } {
                let shown = screen(&mut state).join("\n");
                let named = |name: &&str| shown.split([' ', '\n', ',', ':']).any(|word| word == *name);
                assert_eq!(unsent().find(named), None, "{} at {size:?}:\n{shown}", key.says);
                press(&mut state, KeyCode::PageDown);
            }
        }
    }
}

/// From every page too, where the first Escape leads back to writing.
#[test]
fn what_is_named_behind_escape_does_what_its_own_key_does() {
    let mut tried = 0;
    let pages = KEYS.iter().filter(|key| !matches!(after(key.command, (80, 24)).mode, Mode::Writing));
    for command in pages.map(|key| key.command).chain([Command::Save]) {
        let open = || after(command, (80, 24));
        let state = open();
        // A question, a line that is typed and an answer take letters as they are.
        let takes_letters = matches!(state.mode, Mode::Prompt(..) | Mode::Answers(_)) || state.mode.asks();
        let (_, mut shown) = hints(&state);
        if !takes_letters {
            shown.push(hints::all_keys(&state));
        }
        for hint in shown.iter().filter(|hint| hint.shown.starts_with("Esc ")) {
            let (mut by_letter, mut by_key) = (open(), open());
            press_as_told(&mut by_letter, &hint.shown);
            update(&mut by_key, Event::Key(hint.press));
            // The key of the list closes it; the letter opens it anew.
            if !matches!(by_key.mode, Mode::Writing) {
                let modes = (&by_letter.mode, &by_key.mode);
                assert_eq!(discriminant(modes.0), discriminant(modes.1), "{} on {modes:?}", hint.shown);
            }
            tried += 1;
        }
    }
    assert!(tried > 15, "{tried}");
}

#[test]
fn the_foot_of_a_narrow_screen_holds_whole_keys() {
    let mut state = desk((80, 24));
    let rows = screen(&mut state);
    let foot = rows[23].trim();
    let (_, all) = hints(&state);
    let told: Vec<String> = all.iter().map(|hint| format!("{} {}", hint.shown, hint.does)).collect();
    let held = (1..=told.len()).find(|count| told[..*count].join("  ") == foot);
    assert!(held.is_some_and(|count| count >= 6), "{foot}");
    assert!(foot.starts_with("Esc k keys  Ctrl-S save  Ctrl-Q leave  Esc q queries  Esc t type"), "{foot}");
    // What helps a draft that is over stands in one line, whole.
    let mut state = desk_of(&BRIEF.replacen("leading: 18 pt", "leading: 26 pt", 1), (80, 24));
    state.theme = state.theme.with_keyboard(Keyboard::Short);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains(" over:  Esc t a smaller size   Esc p more room"), "{rows}");
}

#[test]
fn the_list_of_keys_names_every_command_by_its_letter() {
    let mut state = after(Command::Keys, (80, 24));
    let mut seen = String::new();
    let mut shown = screen(&mut state);
    loop {
        seen.push_str(&shown.join("\n"));
        press(&mut state, KeyCode::PageDown);
        let before = std::mem::replace(&mut shown, screen(&mut state));
        if shown == before {
            break;
        }
    }
    for key in KEYS {
        let way = Way::to(key.command, Keyboard::Short);
        assert!(way.shown.ends_with(&format!("Esc {}", key.letter)), "{}", way.shown);
        assert!(seen.contains(&way.shown), "{}", way.shown);
    }
    for page in hints::PAGES {
        assert!(seen.contains(&page.heading(Keyboard::Short)), "{}", page.name);
    }
    let ways: Vec<String> = ways_to("smaller", Keyboard::Short).into_iter().map(|way| way.shown).collect();
    assert_eq!(ways.first().map(String::as_str), Some("Esc t"), "{ways:?}");
}

#[test]
fn what_is_said_names_the_letters_too() {
    let mut state = after(Command::Panel, (80, 24));
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Char('f'));
    let said = state.said.clone().expect("a message");
    assert_eq!(said, "The brief has no flap and no spine: Esc Esc 0 begins one, under \"Flaps and spine\".");
    press_as_told(&mut state, "Esc Esc 0");
    assert!(matches!(state.mode, Mode::Book(_)), "{:?}", state.mode);
}
