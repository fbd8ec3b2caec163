//! The desk on a book whose copy stands on art: the art is seen, what cannot be read on it is marked, and the copy goes
//! into quiet room by a key.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use blurbwright::artwork::ArtFile;
use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::desk::mode::{BookPage, Mode};
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{Effect, OpenedBook, Outcome, State};
use blurbwright::files;
use blurbwright::panes;
use blurbwright::pictures::Raster;
use blurbwright::pictures::blocks::ColourDepth;
use blurbwright::setting::Faces;
use ratatui::crossterm::event::KeyCode;
use ratatui::style::{Color, Modifier};
use tempfile::TempDir;

use crate::desk_harness::{desk, done, drawn, press, screen};

/// The sample's art, unpacked once for all tests, of which it would take most of the time.
static ART: LazyLock<Arc<ArtFile>> = LazyLock::new(|| {
    files::read_art(Path::new("drafts/night-sea/brief.yaml"), Path::new(FILE)).expect("the art of the sample")
});

/// The sample on its night sea, with something in its brief replaced.
pub(crate) fn on_art(replaced: (&str, &str), letters: Letters) -> State {
    let (_folder, path) = book(replaced);
    let mut brief = files::read_brief_without_art(&path).expect("a brief");
    for picture in brief.arts_mut().flat_map(|art| art.pictures_mut()) {
        picture.read = Some(ART.clone());
    }
    opened(brief, letters)
}

/// The sample as the desk opens it: its art is not read yet.
fn before_its_art(path: &Path) -> State {
    opened(files::read_brief_without_art(path).expect("a brief"), Letters::Unicode)
}

/// A folder with the sample and the path of its brief, in which something is replaced.
fn book(replaced: (&str, &str)) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let sample = Path::new("drafts/night-sea");
    fs::create_dir(folder.path().join("art")).expect("a folder");
    fs::copy(sample.join("art/back.jpg"), folder.path().join("art/back.jpg")).expect("the art");
    let brief = fs::read_to_string(sample.join("brief.yaml")).expect("the brief");
    assert!(brief.contains(replaced.0));
    let path = folder.path().join("brief.yaml");
    fs::write(&path, brief.replace(replaced.0, replaced.1)).expect("a brief");
    (folder, path)
}

fn opened(brief: Brief, letters: Letters) -> State {
    let sample = Path::new("drafts/night-sea");
    let book = OpenedBook {
        brief,
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

const FILE: &str = "art/back.jpg";

/// The outcome of reading the art of a book, whose file is the sample's.
fn art_read() -> Outcome {
    Outcome::ArtRead { file: PathBuf::from(FILE), art: ART.clone() }
}

fn has_art(state: &State) -> bool {
    state.brief().panel.art.as_ref().is_some_and(|art| art.picture.read.is_some())
}

fn is_told(state: &mut State, words: &str) -> bool {
    screen(state).iter().any(|line| line.contains(words))
}

#[test]
fn copy_is_set_at_once_and_its_art_comes_when_it_is_read() {
    let (_folder, path) = book(BLACK);
    let mut state = before_its_art(&path);
    let effects = done(&mut state, Outcome::ArtWaits);
    assert!(matches!(&effects[..], [Effect::ReadArt { .. }]), "{effects:?}");
    assert!(is_told(&mut state, "the art is being read") && is_told(&mut state, "Every night"));
    assert!(!state.is_on_art());
    // Keys are taken meanwhile, and quiet room is not denied.
    press(&mut state, KeyCode::Char('x'));
    assert!(is_told(&mut state, "xThe light is out") || is_told(&mut state, "x# The light is out"));
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Char('q'));
    assert!(state.said.as_deref().is_some_and(|said| said.contains("still being read")), "{:?}", state.said);
    done(&mut state, art_read());
    assert!(state.said.as_deref().is_some_and(|said| said.contains("quiet enough")), "{:?}", state.said);
    press(&mut state, KeyCode::F(4));
    assert!(!is_told(&mut state, "being read") && is_told(&mut state, "lost"));
    assert!(state.is_on_art());
}

#[test]
fn a_picture_that_cannot_be_read_is_told_and_the_last_good_one_stays() {
    let (folder, path) = book(AS_IT_IS);
    let mut state = before_its_art(&path);
    let unread = |path: &Path| {
        let why = files::read_art(path, Path::new(FILE)).expect_err("half a picture").to_string();
        Outcome::ArtUnread { file: PathBuf::from(FILE), why }
    };
    let whole = fs::read(folder.path().join(FILE)).expect("the picture");
    let half = &whole[..whole.len() / 2];
    fs::write(folder.path().join(FILE), half).expect("half of it");
    done(&mut state, Outcome::ArtWaits);
    done(&mut state, unread(&path));
    assert!(is_told(&mut state, "the art cannot be read"));
    assert!(state.said.as_deref().is_some_and(|said| said.contains("the picture ends")), "{:?}", state.said);
    // Its row of the brief tells it too, with the reason, for as long as it is so.
    for size in [(80, 24), (120, 40)] {
        let before = std::mem::replace(&mut state.size, size);
        press(&mut state, KeyCode::F(10));
        let at = state.book_rows().iter().position(|row| row.own.as_deref() == Some(FILE)).expect("the row of the art");
        state.mode = Mode::Book(BookPage { at, choosing: None });
        assert!(is_told(&mut state, "art/back.jpg: cannot be read") && is_told(&mut state, "the picture ends"));
        press(&mut state, KeyCode::Esc);
        state.size = before;
    }
    fs::write(folder.path().join(FILE), &whole).expect("all of it");
    done(&mut state, Outcome::ArtWaits);
    done(&mut state, art_read());
    assert!(has_art(&state) && state.said.is_none_or(|said| !said.contains("Another program")));
    // Written again by another program, which has got half way.
    let mut state = before_its_art(&path);
    done(&mut state, art_read());
    fs::write(folder.path().join(FILE), half).expect("half of it");
    done(&mut state, Outcome::ArtWaits);
    done(&mut state, unread(&path));
    assert!(has_art(&state) && is_told(&mut state, "art as it was"));
    assert!(state.said.as_deref().is_some_and(|said| said.ends_with("The picture before it is shown.")));
    fs::write(folder.path().join(FILE), &whole).expect("all of it");
    done(&mut state, art_read());
    assert!(!is_told(&mut state, "art as it was"));
    // What is no art of the brief comes too late, and says nothing.
    state.said = None;
    let (file, why) = (PathBuf::from("art/other.jpg"), "It is not there.".to_owned());
    done(&mut state, Outcome::ArtUnread { file, why });
    assert_eq!(state.said, None);
}

#[test]
fn a_panel_that_was_tried_before_the_art_came_has_it_too() {
    let (_folder, path) = book(AS_IT_IS);
    let mut state = before_its_art(&path);
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Right);
    press(&mut state, KeyCode::Right);
    assert!(!state.tried().is_nothing());
    done(&mut state, art_read());
    assert!(has_art(&state));
    press(&mut state, KeyCode::Char('u'));
    assert!(!state.tried().is_nothing() && has_art(&state), "the panel of a step back");
    press(&mut state, KeyCode::Char('u'));
    assert!(state.tried().is_nothing() && has_art(&state));
}

#[test]
fn a_brief_that_another_program_changes_is_taken_over_with_the_art_that_is_known() {
    let (folder, path) = book(AS_IT_IS);
    let changed = |from: &str, to: &str| {
        let text = fs::read_to_string(&path).expect("the brief");
        assert!(text.contains(from), "{from}");
        fs::write(&path, text.replace(from, to)).expect("a brief");
        let brief = Box::new(files::read_brief_without_art(&path).expect("a brief"));
        Outcome::BriefChanged { brief, faces: Faces::built_in() }
    };
    let mut state = before_its_art(&path);
    done(&mut state, art_read());
    // A file that was written again as it was is no news.
    state.said = None;
    assert!(done(&mut state, changed("14 pt", "14 pt")).is_empty());
    assert_eq!(state.said, None);
    // Several times in a row: each time the art is asked for, and meanwhile the one that is known is there.
    for (from, to) in [("14 pt", "15 pt"), ("15 pt", "13 pt"), ("13 pt", "16 pt")] {
        let effects = done(&mut state, changed(from, to));
        assert!(matches!(&effects[..], [Effect::ReadArt { .. }]), "{effects:?}");
        assert!(has_art(&state) && !is_told(&mut state, "being read"));
        assert!(state.said.as_deref().is_some_and(|said| said.starts_with("Another program has changed the brief")));
    }
    assert_eq!(state.brief().typography.blurb.size.to_pt(), 16.0);
    // What is tried of the panel goes first; once it is taken back, the brief is the new one.
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Right);
    done(&mut state, changed("16 pt", "12 pt"));
    assert_eq!(state.brief().typography.blurb.size.to_pt(), 16.0);
    assert!(state.said.as_deref().is_some_and(|said| said.contains("once you take back")), "{:?}", state.said);
    let effects = press(&mut state, KeyCode::Char('u'));
    assert!(matches!(&effects[..], [Effect::ReadArt { .. }]), "{effects:?}");
    assert_eq!(state.brief().typography.blurb.size.to_pt(), 12.0);
    screen(&mut state);
    // Art of another name is not known yet.
    fs::copy(folder.path().join(FILE), folder.path().join("art/other.jpg")).expect("a copy");
    done(&mut state, changed("art/back.jpg", "art/other.jpg"));
    assert!(is_told(&mut state, "the art is being read"));
    assert!(!has_art(&state));
}
