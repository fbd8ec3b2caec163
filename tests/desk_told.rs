//! What the desk tells of itself: what is usual, what is missing, and what another program did.

use std::path::{Path, PathBuf};

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::desk::mode::Mode;
use blurbwright::desk::state::{State, Writing};
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{Effect, OpenedBook, Outcome, hints};
use blurbwright::setting::Faces;
use blurbwright::setting::face::Face;
use ratatui::crossterm::event::{KeyCode, MouseButton, MouseEventKind};
use ratatui::style::Color;

use super::desk_harness::{BRIEF, control, desk_of, desk_on, done, drawn, mouse, opened, press, screen, typed};

/// A range that is only usual has no ends, no sign and no accent, however far the draft is beyond it; a limit has them.
#[test]
fn what_is_usual_is_told_quietly() {
    let panel = "book: { kind: board book }\npanel: { trim: 8.5 x 8.5 in }\n";
    let looks = |brief: &str, size: (u16, u16)| {
        let mut state = desk_of(brief, size);
        let buffer = drawn(&mut state);
        let row = |y: u16| (0..size.0).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        let y = (0..size.1).rfind(|y| row(*y).contains(" words")).expect("the words are told");
        let is_red = (0..size.0).any(|x| buffer[(x, y)].fg == Color::Red);
        (row(y), is_red)
    };
    let (usual, is_red) = looks(panel, (80, 24));
    assert!(usual.contains("above usual 15–40") && !usual.contains(['├', '┤']) && !is_red, "{usual}");
    let long = panel.replace("board book", "middle grade");
    assert!(looks(&long, (80, 24)).0.contains("below usual"), "{}", looks(&long, (80, 24)).0);
    let (limit, is_red) = looks(&format!("limits: {{ words: 15..40 }}\n{panel}"), (80, 24));
    assert!(limit.contains("43 too many") && limit.contains('├') && limit.contains('┤') && is_red, "{limit}");
    let (short, _) = looks(panel, (60, 12));
    assert!(short.contains("83 words ") && !short.contains('!'), "{short}");
}

/// The colour of a fault is for faults: a draft that keeps its brief shows it on no page, whatever is marked there.
#[test]
fn what_keeps_its_brief_is_red_on_no_page() {
    use KeyCode::{Char, Enter, Esc, F};
    let pages: [&[KeyCode]; 15] = [
        &[],
        &[F(1)],
        &[F(2)],
        &[F(4)],
        &[F(4), Enter],
        &[F(4), Enter, Char('a')],
        &[F(5)],
        &[F(6)],
        &[F(7)],
        &[F(9)],
        &[F(10)],
        &[F(10), Char('a')],
        &[F(12)],
        &[Esc, Char('n')],
        &[Esc, Char('o')],
    ];
    for size in [(80, 24), (120, 40), (200, 60)] {
        for keys in pages {
            let mut state = desk_of(BRIEF, size);
            for effect in keys.iter().flat_map(|key| press(&mut state, *key)).collect::<Vec<_>>() {
                if let Effect::LookAt { draft, .. } = effect {
                    done(&mut state, Outcome::LookedAt { draft, text: "# H\n\nAnother lamp.\n".to_owned() });
                }
            }
            let buffer = drawn(&mut state);
            let red = buffer.area.positions().find(|at| buffer[*at].fg == Color::Red);
            assert_eq!(red, None, "{size:?} {keys:?}\n{}", screen(&mut state).join("\n"));
        }
    }
}

/// Where there is no plan, a draft that fits is not told that no cut helps.
#[test]
fn why_there_is_no_plan_is_told() {
    for (brief, said) in [
        (BRIEF.to_owned(), "It fits and is within every limit: nothing has to go."),
        (BRIEF.replace("words: 40..100", "words: ..9"), "The plan for this text is being found: press p again"),
    ] {
        let mut state = desk_of(&brief, (120, 40));
        press(&mut state, KeyCode::F(6));
        press(&mut state, KeyCode::Char('p'));
        let screen = screen(&mut state).join("\n");
        assert!(screen.contains(said), "{said}\n{screen}");
    }
}

/// Every missing term is named, however small the screen is.
#[test]
fn the_desk_names_every_term_that_must_be_there_and_is_missing() {
    let terms = "terms: [{ term: kelp, must: true }, { term: anchor chain, must: true }]";
    let brief = format!("panel: {{ trim: 8.5 x 8.5 in }}\n{terms}\n");
    for size in [(80, 24), (120, 40), (160, 45), (200, 50)] {
        let mut state = desk_of(&brief, size);
        let shown = screen(&mut state);
        let areas = state.areas();
        let beside = if areas.panel.is_empty() { 0 } else { usize::from(areas.copy.right()) };
        let words = |row: &String| row.chars().skip(beside).collect::<String>();
        let shown = shown.iter().map(words).collect::<Vec<_>>().join(" ");
        let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(shown.contains("needs kelp and anchor chain"), "{size:?}: {shown}");
    }
}

#[test]
fn the_desk_names_the_font_and_the_style_that_it_has_not() {
    let brief = "panel: { trim: 8.5 x 8.5 in }\ntype: { font: own.ttf, style: italic }\n";
    let mut faces = Faces::built_in();
    let font = Brief::read(brief, Path::new("")).expect("a brief").typography.blurb.font;
    faces.add(font, Face::read(include_bytes!("../src/fonts/Nunito-Regular.ttf").to_vec()).expect("a font"));
    let book = OpenedBook {
        brief: Brief::read(brief, Path::new("")).expect("a brief"),
        faces,
        stet: Stet::default(),
        drafts: vec![PathBuf::from("first.md")],
        first: (PathBuf::from("first.md"), "The weir is open.\n".to_owned()),
        writing: Writing::Book,
    };
    let mut state = State::new(book, Theme::new(Colours::Sixteen, Letters::Unicode), (120, 40));
    let shown = screen(&mut state).join("\n");
    assert!(shown.contains("Nunito Regular 13 on 17.55 pt, left, no italic"), "{shown}");
}

#[test]
fn a_file_that_another_program_changed_is_spoken_of_in_plain_words() {
    let words: Vec<&str> = hints::PAGES.iter().flat_map(|page| page.hints).map(|hint| hint.does).collect();
    assert!(words.contains(&"take the other") && words.contains(&"save this one"), "{words:?}");
    let of_versions = |does: &&&str| does.split(' ').any(|word| ["mine", "theirs", "ours", "yours"].contains(&word));
    assert_eq!(words.iter().find(of_versions), None);
}

#[test]
fn every_key_of_a_page_is_shown_on_a_narrow_screen_and_can_be_pressed_there() {
    for keys in [&[KeyCode::F(6)][..], &[KeyCode::F(7)], &[KeyCode::F(4)], &[KeyCode::F(4), KeyCode::Enter]] {
        let mut state = desk_of(BRIEF, (80, 24));
        for key in keys {
            press(&mut state, *key);
        }
        let rows = screen(&mut state);
        let foot = rows[21..].join("\n");
        let (_, hints) = hints::hints(&state);
        for hint in &hints {
            assert!(foot.contains(&format!("{} {}", hint.shown, hint.does)), "{keys:?}: {}\n{foot}", hint.does);
        }
    }
    let mut state = desk_of(BRIEF, (80, 24));
    press(&mut state, KeyCode::F(7));
    press(&mut state, KeyCode::Right);
    let row = screen(&mut state).swap_remove(22);
    let column = row.find("p panel").expect("the key") as u16;
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (column, 22), 1);
    assert!(matches!(state.mode, Mode::Values(_)), "{:?}", state.mode);
}

#[test]
fn a_line_break_in_the_name_of_a_file_is_told_and_breaks_no_message() {
    let mut state = desk_of(BRIEF, (80, 24));
    let draft = opened(&mut state, "a\nlamp.md", "The lamp is out.\n");
    for (outcome, told) in [
        (Outcome::Saved { draft, text: String::new() }, "Saved a<U+000A>lamp.md."),
        (Outcome::Reread { draft, text: String::new() }, "Another program has written a<U+000A>lamp.md;"),
        (Outcome::Failed("Cannot read a\nlamp.md: it is a folder.".to_owned()), "Cannot read a<U+000A>lamp.md: it is"),
    ] {
        done(&mut state, outcome);
        let rows = screen(&mut state);
        assert!(rows[16].trim_start().starts_with(told), "{:?}", &rows[15..]);
        assert!(rows[23].contains("Ctrl-Q leave"), "a message hides no key: {:?}", &rows[21..]);
    }
}

/// However long a message is: the keys, the four measures and the cursor's row are in sight beside it, on every page.
#[test]
fn a_message_hides_no_measure_no_key_and_no_cursor() {
    let long = "Cannot write the proof to a folder that is not there: make the folder first. ".repeat(3);
    let words = format!("{}The end of it.", "The lamp is out.\n\n".repeat(30));
    for size in [(60, 16), (80, 24), (100, 30), (120, 40), (200, 60)] {
        for key in [None, Some(KeyCode::F(7)), Some(KeyCode::F(10)), Some(KeyCode::F(12))] {
            let mut state = desk_on(&words, size);
            control(&mut state, 'f');
            typed(&mut state, "The end of it");
            press(&mut state, KeyCode::Enter);
            key.map(|key| press(&mut state, key));
            let before = screen(&mut state);
            done(&mut state, Outcome::Failed(long.clone()));
            let rows = screen(&mut state);
            let all = rows.join("\n");
            let told = rows.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(size.0 > 100 || told.contains(long.trim()), "{size:?} {key:?}\n{all}");
            let areas = state.areas();
            let measures = (areas.measures.top()..areas.measures.bottom()).map(usize::from);
            assert!(measures.clone().all(|y| rows[y] == before[y]), "{size:?} {key:?}\n{all}");
            assert_eq!(rows.last(), before.last(), "{size:?} {key:?}\n{all}");
            let hides_copy = matches!(key, Some(KeyCode::F(10 | 12)));
            assert!(hides_copy || all.contains("The end of it"), "{size:?} {key:?}\n{all}");
        }
    }
}

/// Copy without a query can be read closely too, and `c` ends the close read again.
#[test]
fn the_copy_is_read_closely_by_a_key_among_the_queries() {
    let mut state = desk_on("Oona begins to climb the stairs.\n", (100, 30));
    let told = |state: &State| state.sheet().map_or(0, |sheet| sheet.offers().len());
    press(&mut state, KeyCode::F(6));
    let plain = told(&state);
    press(&mut state, KeyCode::Char('c'));
    assert!(screen(&mut state).join(" ").contains("Read closely"));
    assert_eq!(told(&state), plain + 1);
    press(&mut state, KeyCode::Char('c'));
    assert_eq!(told(&state), plain);
}
