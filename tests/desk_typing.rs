//! What an author types at the desk: quotes one after the other, and headings that name a block.

use blurbwright::desk::hints::ways_to;
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{Event, update};
use blurbwright::draft::{BlockKind, Draft};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::desk_harness::{control, desk_on, press, screen, text};

/// Two quotes typed one after the other as an author would, with or without marks of one's own, and a heading below
/// them.
#[test]
fn typed_quotes_stay_apart_and_a_heading_stands_alone() {
    let lines = ["> “Salt.”", "— Ida Voss", "“Bold.”", "— Per Lund"];
    for with_marks in [false, true] {
        let mut state = desk_on("", (80, 24));
        for (number, line) in lines.iter().enumerate() {
            let mark = if with_marks && number > 0 { "> " } else { "" };
            for letter in format!("{mark}{line}").chars() {
                press(&mut state, KeyCode::Char(letter));
            }
            press(&mut state, KeyCode::Enter);
        }
        press(&mut state, KeyCode::Enter);
        update(&mut state, Event::Typed("## Praise".to_owned()));
        let file = text(&state);
        assert!(file.contains("\n\n## Praise") && !file.contains("> >") && !file.contains(">>"), "{file:?}");
        let draft = Draft::read(file);
        let blocks: Vec<(BlockKind, &str)> = draft.blocks.iter().map(|block| (block.kind, block.text())).collect();
        let wanted = [
            (BlockKind::Quote, "“Salt.”"),
            (BlockKind::Credit, "— Ida Voss"),
            (BlockKind::Quote, "“Bold.”"),
            (BlockKind::Credit, "— Per Lund"),
        ];
        assert_eq!(blocks, wanted, "{file:?}");
    }
}

#[test]
fn a_heading_that_names_nothing_is_told_beside_its_row_as_it_is_typed() {
    for size in [(80, 24), (120, 40)] {
        let mut state = desk_on("The tide is out.\n\n", size);
        control(&mut state, 'e');
        press(&mut state, KeyCode::Down);
        press(&mut state, KeyCode::Down);
        update(&mut state, Event::Typed("## About the sea".to_owned()));
        let rows = screen(&mut state);
        let row = rows.iter().find(|row| row.contains("## About the sea")).expect("the row");
        assert!(row.contains("no block is named"), "{row}");
        for _ in 0..3 {
            press(&mut state, KeyCode::Backspace);
        }
        update(&mut state, Event::Typed("author".to_owned()));
        let rows = screen(&mut state).join("\n");
        assert!(!rows.contains("no block is named"), "{rows}");
    }
}

/// A headline is centred in the sample and in each brief that `start` makes: its row has little room behind it.
#[test]
fn what_a_heading_may_be_called_is_told_in_whole_on_a_narrow_screen_and_of_a_centred_one() {
    for below in ["", "\n\nThe Paper Boats", "\n\nThe Paper Boats\n\n£7.99"] {
        let mut state = desk_on(&format!("## Other books of hers{below}"), (80, 24));
        let rows = screen(&mut state);
        let at = rows.iter().position(|row| row.contains("## Other books of hers")).expect("the row");
        assert!(rows[at].contains("no block is named so; the names are"), "{}", rows[at]);
        let told: Vec<&str> = rows[at..at + 2].iter().flat_map(|row| row.split_whitespace()).collect();
        let told = told.join(" ");
        for name in ["price line", "age line", "other titles", "note on the author"] {
            assert!(told.contains(name), "{told}");
        }
    }
}

/// Alt-Enter, a letter behind Escape, and a backslash with Enter all end a line of verse.
#[test]
fn a_stanza_can_be_typed_at_the_desk() {
    let mut state = desk_on("", (80, 24));
    update(&mut state, Event::Typed("Good dog Biscuit".to_owned()));
    update(&mut state, Event::Key(KeyEvent::new(KeyCode::Enter, KeyModifiers::ALT)));
    update(&mut state, Event::Typed("Sits when told".to_owned()));
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Char('/'));
    update(&mut state, Event::Typed("Bad dog Duke\\".to_owned()));
    press(&mut state, KeyCode::Enter);
    update(&mut state, Event::Typed("Ate the gold.".to_owned()));
    assert_eq!(text(&state), "Good dog Biscuit\\\nSits when told\\\nBad dog Duke\\\nAte the gold.");
    let draft = Draft::read(text(&state));
    assert!(draft.notes.is_empty() && draft.blocks[0].text().lines().count() == 4, "{draft:?}");
    for words in ["verse", "line verse"] {
        assert!(ways_to(words, Keyboard::Whole).iter().any(|way| way.shown == "Alt-Enter, or Esc /"), "{words}");
    }
}

/// Between two paragraphs of several rows a note has no room behind its row.
#[test]
fn what_is_said_of_verse_is_read_in_whole_below_its_stanza() {
    let stanza = "Good dog Biscuit sits when told.\nBad dog Duke ate Grandma's gold.\nExtremely bad dog Mabel \
                  Brown\nHas just been voted Mayor of Town.\n";
    for size in [(80, 24), (80, 40)] {
        let mut state = desk_on(&format!("{stanza}\nOne more.\n\n{stanza}"), size);
        let rows = screen(&mut state);
        let told: Vec<&str> = rows.iter().flat_map(|row| row.split_whitespace()).collect();
        let told = told.join(" ");
        let whole = told.matches("these lines are printed as one paragraph;").count();
        assert!(whole >= 1 && (whole == 2 || size.1 == 24), "{}", rows.join("\n"));
        assert!(told.contains("with a backslash (\\); at the desk Alt-Enter, or Esc /, does"), "{}", rows.join("\n"));
    }
}
