//! What a person can do on the desk beside writing, without a terminal: another panel, any file, the mouse, and what is
//! said.

use std::path::{Path, PathBuf};

use blurbwright::briefing::rewrite::rewritten;
use blurbwright::desk::mode::Mode;
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{DraftId, Effect, Event, Outcome, State, hints, settle, update};
use blurbwright::units::Length;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEventKind};

use super::desk_harness::{
    BRIEF, DRAFT, click, control, desk, desk_of, desk_on, done, draft, drawn, mouse, opened, press, screen, text,
};
use crate::tried::step;

#[test]
fn another_panel_is_tried_and_written_only_when_asked() {
    for size in [(80, 24), (120, 40)] {
        let mut state = desk(size);
        press(&mut state, KeyCode::F(4));
        press(&mut state, KeyCode::Enter);
        press(&mut state, KeyCode::Down);
        let live = |state: &State| state.sheet().expect("a sheet").now.report.fit.live;
        let before = live(&state);
        for _ in 0..4 {
            press(&mut state, KeyCode::Right);
        }
        let rows = screen(&mut state);
        assert!(rows[0].contains("trying another panel"), "{}", rows[0]);
        assert!(rows.iter().any(|row| row.contains("width") && row.contains("9 in")), "{}", rows.join("\n"));
        assert_eq!(live(&state).width, before.width + Length::inches(0.5));
        let asked = press(&mut state, KeyCode::Char('w'));
        let [Effect::WriteBrief { changes, .. }] = asked.as_slice() else { panic!("{asked:?}") };
        assert_eq!(rewritten(BRIEF, changes), Ok(BRIEF.replacen("8.5 x 8.5 in", "9 x 8.5 in", 1)));
        press(&mut state, KeyCode::Char('b'));
        settle(&mut state);
        assert!(state.tried().is_nothing());
        assert_eq!(live(&state), before);
    }
}

#[test]
fn a_panel_and_a_type_that_are_tried_are_written_together() {
    let mut state = desk((120, 40));
    for key in [KeyCode::F(7), KeyCode::Char('a'), KeyCode::Char('p'), KeyCode::End] {
        press(&mut state, key);
    }
    // The last value is the room round the imprint mark.
    press(&mut state, KeyCode::Enter);
    update(&mut state, Event::Typed("4".to_owned()));
    press(&mut state, KeyCode::Enter);
    let asked = press(&mut state, KeyCode::Char('w'));
    let [Effect::WriteBrief { changes, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    let written = BRIEF.replacen("align: left", "align: centre", 1).replacen("clearance: 3 mm", "clearance: 4 mm", 1);
    assert_eq!(rewritten(BRIEF, changes), Ok(written));
}

#[test]
fn what_cannot_be_tried_is_told_in_place_and_changes_nothing() {
    let mut state = desk((80, 24));
    for key in [KeyCode::F(4), KeyCode::Enter, KeyCode::Down, KeyCode::Enter] {
        press(&mut state, key);
    }
    update(&mut state, Event::Typed("4 in".to_owned()));
    press(&mut state, KeyCode::Enter);
    assert!(matches!(&state.mode, Mode::Prompt(_, line) if line.text() == "4 in"), "{:?}", state.mode);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("This cannot be tried: the margins at fore-edge and spine add up"), "{rows}");
    press(&mut state, KeyCode::Esc);
    assert!(matches!(state.mode, Mode::Values(1)), "{:?}", state.mode);
    assert!(state.tried().is_nothing());
}

/// However far a value goes, the desk goes on, whether there is room for copy or not.
#[test]
fn no_value_of_the_panel_can_stop_the_desk() {
    let small = "panel: { trim: 30 x 40 mm, binding: case, joint: 2 mm }\n";
    let ways = [(BRIEF, KeyCode::Left), (BRIEF, KeyCode::Right), (small, KeyCode::Left), (small, KeyCode::Right)];
    for (turn, (brief, steps)) in ways.into_iter().enumerate() {
        let mut state = desk_of(brief, (80, 24));
        press(&mut state, KeyCode::F(4));
        press(&mut state, KeyCode::Enter);
        for row in 0..22 {
            // Where few cases are tried, each row is gone along in one direction of one brief.
            for _ in 0..if step() == 1 || row % 4 == turn { 24 } else { 1 } {
                press(&mut state, steps);
            }
            assert_eq!(screen(&mut state).len(), 24);
            press(&mut state, KeyCode::Down);
        }
    }
}

#[test]
fn a_file_from_anywhere_is_opened_by_its_path() {
    let mut state = desk((80, 24));
    update(&mut state, Event::Typed("Mine. ".to_owned()));
    control(&mut state, 'o');
    press(&mut state, KeyCode::Char('o'));
    assert!(screen(&mut state)[23].contains("Open the file:"));
    update(&mut state, Event::Typed("~/far.md".to_owned()));
    let asked = press(&mut state, KeyCode::Enter);
    let [Effect::OpenByPath { typed, here, new, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!((typed.as_str(), here.as_path()), ("~/far.md", Path::new("first.md")));
    // Where it cannot be opened the path can be mended.
    done(&mut state, Outcome::NotOpened { why: "There is no such file.".to_owned() });
    let rows = screen(&mut state);
    assert!(rows[22].contains("There is no such file.") && rows[23].contains("Open the file: ~/far.md"), "{rows:?}");
    press(&mut state, KeyCode::Esc);
    let far = PathBuf::from("/far/far.md");
    let (path, text_there) = (far, "Far away.\n".to_owned());
    done(&mut state, Outcome::Opened { draft: *new, path, text: text_there, said: Vec::new() });
    done(&mut state, Outcome::Elsewhere { draft: *new });
    assert!(screen(&mut state)[0].contains("by this book's brief"));
    control(&mut state, 'o');
    assert!(screen(&mut state).join("\n").contains("/far/far.md, in front, not in the book's folder"));
    press(&mut state, KeyCode::Esc);
    // One that is open comes to the front as it stands.
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::InFront { draft: first });
    assert!(text(&state).starts_with("Mine. "));
    assert!(!screen(&mut state)[0].contains("by this book's brief"));
}

#[test]
fn all_that_is_to_be_said_of_a_draft_is_said_whole() {
    let mut state = desk((80, 24));
    let notices = [
        "This draft may be read and not written: change its permissions, or save your changes under another name.",
        "Unsaved words cannot be kept on the disk: if the desk is cut off, what was not saved is lost.",
    ];
    let said = notices.map(str::to_owned).to_vec();
    let second = draft(&mut state, "second.md");
    let (path, text) = (PathBuf::from("second.md"), "Two.\n".to_owned());
    done(&mut state, Outcome::Opened { draft: second, path, text, said });
    let shown = screen(&mut state)[12..17].iter().map(|row| row.trim().to_owned()).collect::<Vec<_>>().join(" ");
    assert!(notices.iter().all(|notice| shown.contains(notice)), "{shown}");
    // A question keeps its keys below what is said.
    done(&mut state, Outcome::Recovered { draft: second, text: "Two and three.\n".to_owned() });
    let rows = screen(&mut state);
    assert!(rows[16].contains("saved is lost.") && rows[23].contains("t take them"), "{rows:?}");
    assert!(rows.join("\n").contains("Two {> and three}."), "{rows:?}");
}

#[test]
fn kept_words_are_taken_where_they_differ_and_the_next_are_offered() {
    let mut state = desk((80, 24));
    let kept = DRAFT.replacen("Quillon", "Old Quillon", 1);
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::Recovered { draft: first, text: kept.clone() });
    assert_eq!(click(&mut state, "take them", 1), [Effect::AcceptRecovered { draft: first }]);
    assert_eq!(text(&state), kept);
    let cursor = state.sheet().expect("a sheet").editor.cursor();
    assert!(text(&state)[cursor..].starts_with("Old"));
    done(&mut state, Outcome::Recovered { draft: first, text: DRAFT.to_owned() });
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("{Old >}"), "{rows}");
    assert_eq!(click(&mut state, "let them go", 1), [Effect::DropRecovered { draft: first }]);
    assert_eq!(text(&state), kept);
}

#[test]
fn a_click_chooses_in_every_list_and_a_second_opens() {
    let mut state = desk((120, 40));
    control(&mut state, 'o');
    click(&mut state, "third.md", 1);
    assert!(matches!(state.mode, Mode::Drafts(2)), "{:?}", state.mode);
    mouse(&mut state, MouseEventKind::ScrollUp, (5, 5), 1);
    assert!(matches!(state.mode, Mode::Drafts(1)), "{:?}", state.mode);
    let [first, second] = ["first.md", "second.md"].map(|path| draft(&mut state, path));
    let open = Effect::Open { draft: second, path: PathBuf::from("second.md") };
    assert_eq!(click(&mut state, "second.md", 1), [open]);
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    click(&mut state, "margins", 1);
    assert!(matches!(state.mode, Mode::Values(4)), "{:?}", state.mode);
    click(&mut state, "binding", 2);
    assert!(screen(&mut state).join("\n").contains("case"), "a word goes on to the next");
    click(&mut state, "height", 2);
    assert!(screen(&mut state)[39].contains("Another value: 8.5 in"));
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::Esc);
    for (words, page) in [("length ", "Length"), ("level ", "Level"), ("terms ", "Terms"), ("fit ", "Fit")] {
        click(&mut state, words, 1);
        assert!(screen(&mut state)[39].starts_with(&format!(" {page}")), "{words}");
        press(&mut state, KeyCode::Esc);
    }
    let asked = click(&mut state, "Ctrl-S", 1);
    assert!(matches!(asked.as_slice(), [Effect::Save { draft, .. }] if *draft == first), "{asked:?}");
    let asked = press(&mut state, KeyCode::F(9));
    assert!(matches!(asked.as_slice(), [Effect::LookAt { draft, .. }] if *draft == second));
    let other = DRAFT.replacen("girl", "child", 1).replacen("Quillon", "Old Quillon", 1);
    done(&mut state, Outcome::LookedAt { draft: second, text: other });
    click(&mut state, "{girl", 1);
    assert!(matches!(&state.mode, Mode::Beside(beside) if beside.at == 1), "{:?}", state.mode);
}

#[test]
fn a_click_on_a_query_walks_to_it_wherever_it_stands() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut state = desk(size);
        update(&mut state, Event::Typed("The lamp  is dark.\n\nThe  sea.\n\n".to_owned()));
        click(&mut state, "length ", 1);
        press(&mut state, KeyCode::Esc);
        press(&mut state, KeyCode::F(6));
        press(&mut state, KeyCode::Down);
        press(&mut state, KeyCode::Up);
        assert!(matches!(state.mode, Mode::Queries(0)), "{:?}", state.mode);
        let sheet = state.sheet().expect("a sheet");
        let offers = sheet.offers();
        let words: String = sheet.words_of(offers[1].query).trim().chars().take(4).collect();
        let rows = screen(&mut state);
        // On a narrow screen they are walked in the lower half of the copy's pane.
        let areas = state.areas();
        let (left, top) = if size.0 < 100 {
            (0, areas.copy.bottom() - areas.copy.height / 2)
        } else {
            (areas.queries.x, areas.queries.y)
        };
        let found = rows.iter().enumerate().skip(usize::from(top)).find_map(|(y, row)| {
            let row: String = row.chars().skip(usize::from(left)).collect();
            let at = row.find(&format!("? {words}"))?;
            Some((left + row[..at].chars().count() as u16, y as u16))
        });
        let place = found.unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n")));
        mouse(&mut state, MouseEventKind::Down(MouseButton::Left), place, 1);
        let Mode::Queries(at) = state.mode else { panic!("{:?}", state.mode) };
        let sheet = state.sheet().expect("a sheet");
        let found = sheet.words_of(sheet.offers()[at].query).trim().to_owned();
        assert!(at > 0 && found.starts_with(&words), "{size:?} {words} {found}");
        click(&mut state, "is dark", 1);
        assert!(matches!(state.mode, Mode::Writing), "{size:?} back in the words");
    }
}

#[test]
fn a_click_on_the_panel_puts_the_cursor_in_that_line() {
    let mut state = desk((120, 40));
    let before = state.sheet().expect("a sheet").editor.cursor();
    let rows = screen(&mut state);
    let strokes = |row: &&String| row.chars().skip(84).any(|sign| ('\u{2801}'..='\u{28ff}').contains(&sign));
    let last = rows.iter().rposition(|row| strokes(&row)).expect("a stroke") as u16;
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (100, last), 1);
    let after = state.sheet().expect("a sheet").editor.cursor();
    assert!(after > before && text(&state)[after..].len() < 80, "{}", &text(&state)[after..]);
}

#[test]
fn moving_and_letting_go_of_the_mouse_does_nothing() {
    let mut state = desk((120, 40));
    let rows = screen(&mut state);
    for kind in [MouseEventKind::Moved, MouseEventKind::Up(MouseButton::Left), MouseEventKind::Drag(MouseButton::Right)]
    {
        assert!(mouse(&mut state, kind, (100, 20), 1).is_empty());
    }
    assert_eq!(screen(&mut state), rows);
}

#[test]
fn every_key_of_every_page_is_in_the_list_of_keys() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(1));
    let mut seen = String::new();
    for _ in 0..24 {
        seen.push_str(&screen(&mut state).join("\n"));
        press(&mut state, KeyCode::PageDown);
    }
    for page in hints::PAGES {
        let name = page.heading(Keyboard::Whole);
        assert!(seen.contains(&name), "{name}");
        for hint in page.hints {
            let is_listed = seen.lines().any(|row| row.contains(&*hint.shown) && row.contains(hint.does));
            assert!(is_listed, "{name}: {} {}", hint.shown, hint.does);
        }
    }
}

/// The keys that a first-time user cannot do without stand at the foot of the narrowest usual screen.
#[test]
fn the_foot_shows_what_is_needed_on_a_narrow_screen() {
    let foot = |keys: &[KeyCode]| {
        let mut state = desk((80, 24));
        for key in keys {
            press(&mut state, *key);
        }
        screen(&mut state).pop().expect("a foot")
    };
    for (keys, needed) in [
        (vec![], vec!["F1 keys", "Ctrl-S save", "Ctrl-Q leave", "F6 queries", "F7 type"]),
        (vec![KeyCode::F(6)], vec!["Esc back", "s let it stand"]),
        (vec![KeyCode::F(7)], vec!["Esc back", "size", "leading", "f font", "a align", "l largest", "p panel"]),
        (vec![KeyCode::F(7), KeyCode::Right], vec!["+ - size", "w write to brief"]),
        (vec![KeyCode::F(4)], vec!["Esc back", "Enter change the panel"]),
        (vec![KeyCode::F(4), KeyCode::Enter], vec!["Left Right change", "Enter type it", "a add"]),
        (
            vec![KeyCode::F(4), KeyCode::Enter, KeyCode::Right],
            vec!["Left Right change", "Enter type it", "w write to brief", "b brief's own"],
        ),
    ] {
        let shown = foot(&keys);
        assert!(needed.iter().all(|hint| shown.contains(hint)), "{shown}");
    }
    let mut state = desk((80, 24));
    control(&mut state, 'o');
    let shown = screen(&mut state).pop().expect("a foot");
    assert!(
        ["n new", "d double", "r rename", "k keep", "o other file"].iter().all(|hint| shown.contains(hint)),
        "{shown}"
    );
}

fn second_opened(size: (u16, u16)) -> State {
    let mut state = desk(size);
    opened(&mut state, "second.md", "Two.\n");
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::InFront { draft: first });
    state
}

#[test]
fn every_key_of_the_drafts_acts_on_the_row_in_hand() {
    let at = |row: usize| {
        let mut state = second_opened((80, 24));
        control(&mut state, 'o');
        for _ in 0..row {
            press(&mut state, KeyCode::Down);
        }
        state
    };
    for (row, name) in [(0, "first"), (1, "second"), (2, "third")] {
        let path = |name: &str| PathBuf::from(format!("{name}.md"));
        let asked = |key: char, typed: &str| {
            let mut state = at(row);
            press(&mut state, KeyCode::Char(key));
            let rows = screen(&mut state);
            assert!(rows.join("\n").contains("\"In front\" is the draft"), "the list stays in sight");
            let question = rows[23].clone();
            assert!(row == 0 || key == 'n' || question.contains(name), "{question}");
            update(&mut state, Event::Typed(typed.to_owned()));
            (press(&mut state, KeyCode::Enter), state)
        };
        let in_hand = draft(&mut at(row), &format!("{name}.md"));
        let (effects, state) = asked('r', "tide");
        assert_eq!(effects, [Effect::Rename { draft: in_hand, from: path(name), to: path("tide") }]);
        assert!(matches!(state.mode, Mode::Drafts(_)), "what was asked for in the list is seen in the list");
        let (effects, mut state) = asked('d', "tide");
        let [Effect::Double { draft: of, from, text, new, path: to, .. }] = effects.as_slice() else {
            panic!("{effects:?}")
        };
        assert_eq!((*of, from, to), (in_hand, &path(name), &path("tide")));
        assert_eq!(text.is_some(), row < 2, "only what is open has words at the desk");
        assert_ne!(*new, draft(&mut state, &format!("{name}.md")), "the double is a draft of its own");
        let (effects, _) = asked('k', "tide");
        let [Effect::KeepCopy { path: of, name: given, .. }] = effects.as_slice() else { panic!("{effects:?}") };
        assert_eq!((of, given.as_str()), (&path(name), "tide"));
        let mut state = at(row);
        press(&mut state, KeyCode::Char('d'));
        assert!(screen(&mut state)[23].contains(&format!("{name} 2 ")));
        press(&mut state, KeyCode::Esc);
        assert!(matches!(state.mode, Mode::Drafts(in_hand) if in_hand == row), "{:?}", state.mode);
        let effects = control(&mut state, 's');
        let saved: Vec<DraftId> = effects
            .iter()
            .filter_map(|effect| match effect {
                Effect::Save { draft, .. } => Some(*draft),
                _ => None,
            })
            .collect();
        assert_eq!(saved, if row < 2 { vec![in_hand] } else { Vec::new() }, "what is not open has nothing to save");
    }
}

/// What the desk shows is never selected, so that the next key adds to the words and takes none away.
#[test]
fn nothing_is_selected_but_by_the_author() {
    let words = "The tide  is out. The boat  is in.\n";
    for leave in [vec![KeyCode::Esc], vec![KeyCode::F(5), KeyCode::Esc], vec![KeyCode::Down, KeyCode::Esc]] {
        let mut state = desk_on(words, (80, 24));
        press(&mut state, KeyCode::F(6));
        let reversed = |state: &mut State| {
            let cells = drawn(state).content;
            cells.iter().filter(|cell| cell.modifier.contains(ratatui::style::Modifier::REVERSED)).count()
        };
        assert!(reversed(&mut state) > 0, "the words of the query in hand are shown");
        for key in &leave {
            press(&mut state, *key);
        }
        if !matches!(state.mode, Mode::Writing) {
            press(&mut state, KeyCode::Esc);
        }
        assert_eq!(reversed(&mut state), 0);
        update(&mut state, Event::Typed("new".to_owned()));
        assert_eq!(text(&state).replacen("new", "", 1), words, "{leave:?}");
    }
    // The last query was let stand, or its cut taken.
    for key in ['s', 't'] {
        let mut state = desk_on("The tide  is out.\n", (80, 24));
        press(&mut state, KeyCode::F(6));
        for _ in 0..4 {
            press(&mut state, KeyCode::Char(key));
        }
        let before = text(&state).to_owned();
        press(&mut state, KeyCode::Esc);
        press(&mut state, KeyCode::Esc);
        press(&mut state, KeyCode::Esc);
        if !matches!(state.mode, Mode::Writing) {
            press(&mut state, KeyCode::Esc);
        }
        update(&mut state, Event::Typed("new".to_owned()));
        assert_eq!(text(&state).replacen("new", "", 1), before, "{key}");
    }
    let mut state = desk_on(words, (80, 24));
    control(&mut state, 'f');
    update(&mut state, Event::Typed("boat".to_owned()));
    press(&mut state, KeyCode::Enter);
    update(&mut state, Event::Typed("s".to_owned()));
    assert_eq!(text(&state), words.replacen("boat", "boats", 1));
}

#[test]
fn what_is_let_stand_and_what_is_changed_are_undone_in_one_order() {
    let words = "The tide  is out. The boat  is in.\n";
    let mut state = desk_on(words, (120, 40));
    let stood = |state: &State| state.sheet().map_or(0, |sheet| sheet.editor.stood().len());
    press(&mut state, KeyCode::F(6));
    press(&mut state, KeyCode::Char('t'));
    let cut = text(&state).to_owned();
    assert_ne!(cut, words);
    assert_eq!(press(&mut state, KeyCode::Char('s')), []);
    assert!(state.said.as_deref().is_some_and(|said| said.contains("no query") || said.contains("saving the draft")));
    assert_eq!((stood(&state), text(&state)), (1, cut.as_str()));
    let undo = |state: &mut State| match state.mode {
        Mode::Queries(_) => press(state, KeyCode::Char('u')),
        _ => control(state, 'z'),
    };
    undo(&mut state);
    assert_eq!((stood(&state), text(&state)), (0, cut.as_str()), "what was let stand last goes first");
    undo(&mut state);
    assert_eq!((stood(&state), text(&state)), (0, words));
    press(&mut state, KeyCode::Esc);
    control(&mut state, 'y');
    control(&mut state, 'y');
    assert_eq!((stood(&state), text(&state)), (1, cut.as_str()));
    // It is something unsaved until it is written with the draft.
    assert!(screen(&mut state)[0].contains("not saved"));
    assert_eq!(control(&mut state, 'q'), []);
    assert_eq!(press(&mut state, KeyCode::Char('l')), [Effect::Leave], "nothing is written");
    let stood = state.sheet().expect("a sheet").editor.stood().to_vec();
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::Saved { draft: first, text: cut });
    assert!(screen(&mut state)[0].contains("not saved"));
    done(&mut state, Outcome::Standing { draft: first, name: "first.md".to_owned(), stood });
    assert!(!screen(&mut state)[0].contains("not saved"));
}

#[test]
fn kept_words_can_wait_and_nothing_of_them_is_lost() {
    for key in [KeyEvent::from(KeyCode::Esc), KeyEvent::new(KeyCode::Char('q'), KeyModifiers::CONTROL)] {
        let mut state = second_opened((80, 24));
        let first = draft(&mut state, "first.md");
        done(&mut state, Outcome::Recovered { draft: first, text: "Other words.\n".to_owned() });
        assert!(screen(&mut state)[23].contains("Esc later"));
        let asked = update(&mut state, Event::Key(key));
        if key.code == KeyCode::Esc {
            assert!(asked.is_empty() && state.said.as_deref().is_some_and(|said| said.contains("stay kept")));
        } else {
            assert_eq!(asked, [Effect::Leave], "nothing here is unsaved, and nothing kept is let go");
        }
        assert_eq!(text(&state), DRAFT);
        control(&mut state, 'o');
        let rows = screen(&mut state).join("\n");
        assert!(rows.contains("first.md, in front, unsaved words are kept"), "{rows}");
        assert_eq!(
            press(&mut state, KeyCode::Enter),
            [Effect::OfferRecovered { draft: first }],
            "they are offered again"
        );
    }
    // Typed words are asked about before the desk is left.
    let mut state = desk((80, 24));
    update(&mut state, Event::Typed("Mine. ".to_owned()));
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::Recovered { draft: first, text: "Other words.\n".to_owned() });
    assert_eq!(control(&mut state, 'q'), []);
    assert!(matches!(state.mode, Mode::Leaving), "{:?}", state.mode);
    // Of a draft that is not in front the list says so.
    let mut state = desk((80, 24));
    let third = draft(&mut state, "third.md");
    done(&mut state, Outcome::HasRecovered { draft: third });
    control(&mut state, 'o');
    let rows = screen(&mut state);
    let marked: Vec<&String> = rows.iter().filter(|row| row.contains("unsaved words are kept")).collect();
    assert!(matches!(marked.as_slice(), [row] if row.contains("third.md")), "{rows:?}");
}

#[test]
fn only_what_was_tried_is_written_and_in_its_own_form() {
    let panel = "panel: { trim: 8 x 8 in }\n";
    for (own, keys, after) in [
        ("size: 13 pt # shop\n  leading: 135%", vec!['+'], "size: 13.5 pt # shop\n  leading: 135%"),
        ("leading: 135%\n  size: 5 mm", vec!['-'], "leading: 135%\n  size: 4.8235 mm"),
        ("size: 13 pt\n  align: left", vec!['a'], "size: 13 pt\n  align: centre"),
    ] {
        let brief = |own: &str| format!("# Mine\n{panel}type:\n  {own}\n");
        let mut state = desk_of(&brief(own), (120, 40));
        press(&mut state, KeyCode::F(7));
        for key in keys {
            press(&mut state, KeyCode::Char(key));
        }
        let asked = press(&mut state, KeyCode::Char('w'));
        let [Effect::WriteBrief { changes, .. }] = asked.as_slice() else { panic!("{asked:?}") };
        assert_eq!(rewritten(&brief(own), changes), Ok(brief(after)));
    }
}

/// Ctrl-T, or Enter on the query, sets every mark of the draft in one step of undo, and says how many.
#[test]
fn marks_are_set_in_one_step() {
    let typed = "# It's the \"lamp\"\n\nWait... <!-- don't -->\n";
    let set = "# It’s the “lamp”\n\nWait… <!-- don't -->\n";
    let mut state = desk_on(typed, (120, 40));
    control(&mut state, 't');
    assert_eq!(text(&state), set);
    assert!(screen(&mut state).iter().any(|row| row.contains("1 row of three dots")));
    control(&mut state, 't');
    assert!(screen(&mut state).iter().any(|row| row.contains("Every mark is a printed one already")));
    control(&mut state, 'z');
    assert_eq!(text(&state), typed);
    press(&mut state, KeyCode::F(6));
    while !matches!(&state.mode, Mode::Queries(at) if is_of_marks(&state, *at)) {
        press(&mut state, KeyCode::Down);
    }
    press(&mut state, KeyCode::Enter);
    assert_eq!(text(&state), set);
}

fn is_of_marks(state: &State, at: usize) -> bool {
    let is_named = |name: &str| name == "straight marks";
    state.sheet().is_some_and(|sheet| sheet.offers().get(at).is_some_and(|offer| is_named(offer.query.rule.name())))
}
