//! The desk on a book whose copy stands on art: the art is seen, what cannot be read on it is marked, and the copy goes
//! into quiet room by a key.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{OpenedBook, State};
use blurbwright::files;
use blurbwright::panes;
use blurbwright::pictures::Raster;
use blurbwright::pictures::blocks::ColourDepth;
use blurbwright::setting::Faces;
use ratatui::crossterm::event::KeyCode;
use ratatui::style::{Color, Modifier};

use crate::desk_harness::{desk, drawn, press, screen};

/// The sample on its night sea, with something in its brief replaced.
pub(crate) fn on_art(replaced: (&str, &str), letters: Letters) -> State {
    let folder = tempfile::tempdir().expect("a folder");
    let sample = Path::new("drafts/night-sea");
    fs::create_dir(folder.path().join("art")).expect("a folder");
    fs::copy(sample.join("art/back.jpg"), folder.path().join("art/back.jpg")).expect("the art");
    let brief = fs::read_to_string(sample.join("brief.yaml")).expect("the brief");
    assert!(brief.contains(replaced.0));
    let path = folder.path().join("brief.yaml");
    fs::write(&path, brief.replace(replaced.0, replaced.1)).expect("a brief");
    let book = OpenedBook {
        brief: files::read_brief(&path).expect("a brief with its art"),
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: vec![PathBuf::from("first.md")],
        first: (PathBuf::from("first.md"), fs::read_to_string(sample.join("first.md")).expect("the draft")),
        writing: Writing::Book,
    };
    let theme = Theme::new(Colours::Sixteen, letters).with_art(Some(ColourDepth::True));
    State::new(book, theme, (120, 40))
}

pub(crate) const AS_IT_IS: (&str, &str) = ("ink: white", "ink: white");
const BLACK: (&str, &str) = ("ink: white", "ink: black");

#[test]
fn the_panel_is_drawn_on_its_art_and_the_true_picture_has_both_inks() {
    let mut state = on_art(AS_IT_IS, Letters::Unicode);
    let buffer = drawn(&mut state);
    let area = panes::pictures(&state)[0].area;
    let is_art = |x: u16, y: u16| matches!(buffer[(x, y)].bg, Color::Rgb(..));
    assert!((area.top()..area.bottom()).all(|y| (area.left()..area.right()).all(|x| is_art(x, y))));
    assert!(!is_art(area.x - 1, area.y));
    let raster = |state: &State| panes::pictures(state)[0].raster(&state.faces, 400, 400);
    let bright = |raster: &Raster| raster.pixels.iter().filter(|pixel| pixel.iter().all(|step| *step > 170)).count();
    // Letters of white on a sky that is dark, and no paper at the edges.
    let (white, black) = (raster(&state), raster(&on_art(BLACK, Letters::Unicode)));
    assert!(bright(&white) > bright(&black) + 500, "{} {}", bright(&white), bright(&black));
    assert!(white.pixels[400 * 20 + 5].iter().all(|step| *step < 120));
}

#[test]
fn lines_that_are_lost_are_marked_by_a_sign_and_told_in_words() {
    let mut state = on_art(BLACK, Letters::Unicode);
    let lines = screen(&mut state);
    assert!(lines.iter().any(|line| line.contains("× ") && line.contains(" lost")), "{lines:#?}");
    let area = panes::pictures(&state)[0].area;
    let buffer = drawn(&mut state);
    let signs = area.positions().filter(|position| buffer[*position].symbol() == "×").count();
    assert!(signs > 20, "{signs} signs");
    let mut ascii = on_art(BLACK, Letters::Ascii);
    let buffer = drawn(&mut ascii);
    assert!(area.positions().all(|position| buffer[position].symbol().is_ascii()));
    // On a page with room for words, those that are lost are underlined.
    let mut wide = on_art(BLACK, Letters::Unicode);
    wide.size = (300, 100);
    press(&mut wide, KeyCode::F(4));
    let buffer = drawn(&mut wide);
    assert!(buffer.content.iter().any(|cell| cell.modifier.contains(Modifier::UNDERLINED)));
    let clear = screen(&mut on_art(AS_IT_IS, Letters::Unicode));
    assert!(clear.iter().all(|line| !line.contains('×')), "{clear:#?}");
}

#[test]
fn the_copy_goes_into_quiet_room_and_back_by_keys() {
    let mut state = on_art(AS_IT_IS, Letters::Unicode);
    let own = state.brief().panel.clone();
    press(&mut state, KeyCode::F(4));
    assert!(screen(&mut state).iter().any(|line| line.contains("quiet")));
    press(&mut state, KeyCode::Enter);
    assert!(screen(&mut state).join(" ").contains("quiet room"));
    press(&mut state, KeyCode::Char('q'));
    let said = state.said.clone().expect("the room is told");
    assert!(said.starts_with("Quiet room 1 of ") && said.contains("all fits, and every line is clear"), "{said}");
    let first = state.brief().panel.clone();
    assert_ne!(first.margins, own.margins);
    press(&mut state, KeyCode::Char('q'));
    let second = state.brief().panel.clone();
    assert!(second != first || state.said.clone().is_some_and(|said| said.starts_with("Quiet room 1 of 1")));
    press(&mut state, KeyCode::Char('u'));
    press(&mut state, KeyCode::Char('u'));
    assert_eq!(state.brief().panel, own);
}

#[test]
fn without_art_no_quiet_room_is_offered_and_asking_is_answered() {
    let mut state = desk((120, 40));
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    assert!(!screen(&mut state).join(" ").contains("quiet room"));
    press(&mut state, KeyCode::Char('q'));
    assert!(state.said.clone().is_some_and(|said| said.contains("no art behind the blurb")));
    assert!(state.tried().is_nothing());
}
