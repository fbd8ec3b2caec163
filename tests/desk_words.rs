//! Other words at the desk: for the word at the cursor, and for the whole draft.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use blurbwright::desk::State;
use blurbwright::desk::mode::{Mode, WordScope};
use blurbwright::editor::Action;
use ratatui::crossterm::event::KeyCode;

use super::desk_harness::{click, control, desk_of_words, press, screen, text};

const BRIEF: &str = "book: { title: The Lamp, readers: 4-8 }\nterms: [lighthouse]\npanel: { trim: 8.5 x 8.5 in }\n";
const DRAFT: &str = "On an eerie night Oona embarks on a perilous voyage to the lighthouse. Her companion, a timid \
                     fox, is terrified of the dark, and the sea is calm.\n";
const SIZES: [(u16, u16); 4] = [(80, 24), (100, 30), (120, 40), (200, 60)];

/// The desk with its cursor inside the first place of a word.
fn desk_at(word: &str, size: (u16, u16)) -> State {
    let mut state = desk_of_words(BRIEF, DRAFT, size);
    let at = DRAFT.find(word).expect("the word") + 1;
    state.sheet_mut().expect("a sheet").editor.apply(Action::PlaceCursor(at), &[]);
    state
}

fn rows(state: &State) -> Vec<(String, String)> {
    let Mode::OtherWords(page) = &state.mode else { panic!("{:?}", state.mode) };
    page.rows.iter().map(|row| (row.word.clone(), row.other.clone())).collect()
}

#[test]
fn the_word_at_the_cursor_is_replaced_in_one_step() {
    for size in SIZES {
        let mut state = desk_at("eerie", size);
        control(&mut state, 'l');
        let others: Vec<String> = rows(&state).into_iter().map(|(_, other)| other).collect();
        assert_eq!(others, ["a spooky", "a creepy", "a strange"]);
        let shown = screen(&mut state).join("\n");
        assert!(shown.contains("eerie: a spooky") && shown.contains("put it in"), "{shown}");
        assert!(!shown.contains("Dale-Chall"), "an author need not know a measure by its figure\n{shown}");
        press(&mut state, KeyCode::Down);
        press(&mut state, KeyCode::Enter);
        assert_eq!(text(&state), DRAFT.replacen("an eerie", "a creepy", 1));
        assert!(matches!(state.mode, Mode::Writing), "{:?}", state.mode);
        control(&mut state, 'z');
        assert_eq!(text(&state), DRAFT);
    }
}

#[test]
fn escape_leaves_the_words_as_they_are() {
    let mut state = desk_at("timid", (80, 24));
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('l'));
    assert!(matches!(state.mode, Mode::OtherWords(_)), "{:?}", state.mode);
    press(&mut state, KeyCode::Esc);
    assert!(matches!(state.mode, Mode::Writing), "{:?}", state.mode);
    assert_eq!(text(&state), DRAFT);
}

#[test]
fn the_whole_draft_is_gone_through_word_by_word() {
    for size in SIZES {
        let mut state = desk_at("timid", size);
        control(&mut state, 'l');
        press(&mut state, KeyCode::Tab);
        let before = rows(&state);
        assert!(before.iter().any(|(word, _)| word == "perilous"), "{before:?}");
        press(&mut state, KeyCode::Enter);
        let Mode::OtherWords(page) = &state.mode else { panic!("{:?}", state.mode) };
        assert_eq!(page.scope, WordScope::Whole);
        assert!(rows(&state).len() < before.len());
        press(&mut state, KeyCode::Char('u'));
        assert_eq!((rows(&state), text(&state)), (before, DRAFT));
        press(&mut state, KeyCode::Tab);
        let Mode::OtherWords(page) = &state.mode else { panic!("{:?}", state.mode) };
        assert_eq!(page.scope, WordScope::Here);
    }
}

#[test]
fn a_word_without_another_says_why() {
    let mut state = desk_at("lighthouse", (120, 40));
    control(&mut state, 'l');
    let said = state.said.clone().unwrap_or_default();
    assert!(said.starts_with("No other word for \"lighthouse\": it belongs to a name"), "{said}");
    assert!(matches!(&state.mode, Mode::OtherWords(page) if page.scope == WordScope::Whole), "{:?}", state.mode);
    let mut plain = desk_of_words(BRIEF, ".", (80, 24));
    control(&mut plain, 'l');
    assert_eq!(plain.said.as_deref(), Some("The cursor stands on no word. Nor has another word one."));
    assert!(matches!(plain.mode, Mode::Writing));
}

#[test]
fn a_click_selects_another_word_and_a_second_one_puts_it_in() {
    let mut state = desk_at("eerie", (120, 40));
    control(&mut state, 'l');
    click(&mut state, "eerie: a strange", 1);
    assert_eq!(text(&state), DRAFT);
    click(&mut state, "eerie: a strange", 1);
    assert_eq!(text(&state), DRAFT.replacen("an eerie", "a strange", 1));
}
