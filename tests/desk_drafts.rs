//! The drafts of a book and their kept copies: listed with their figures, looked at side by side, and brought back.

use std::path::PathBuf;

use blurbwright::desk::event::CopyUse;
use blurbwright::desk::hints::{hints, ways_to};
use blurbwright::desk::mode::{Mode, Prompt};
use blurbwright::desk::papers::{ListedCopy, PaperFacts};
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{DraftId, Effect, Event, Outcome, State, update};
use blurbwright::panes;
use blurbwright::report::kept::{KeptFigures, Record};
use ratatui::crossterm::event::{KeyCode, MouseEventKind};

use super::desk_harness::{DRAFT, click, control, desk, done, draft, mouse, opened, press, screen, text, typed};

fn figures(words: usize) -> KeptFigures {
    KeptFigures {
        words,
        letters: words * 4,
        level: Some((2.5, 2, 3)),
        terms_covered: 3,
        terms_wanted: 4,
        fits: words < 100,
        lines_over: if words < 100 { 0 } else { 6 },
        lines_left: 5,
        largest_size: None,
    }
}

fn copy(moment: &str, name: &str, words: usize) -> ListedCopy {
    let record = Record { kept: moment.to_owned(), name: name.to_owned(), figures: Some(figures(words)) };
    ListedCopy { path: PathBuf::from(format!("kept/second/{moment}.md")), record }
}

/// The list of drafts, of which the second is measured and has two copies.
fn listed(size: (u16, u16)) -> (State, DraftId) {
    let mut state = desk(size);
    let asked = control(&mut state, 'o');
    assert!(matches!(asked.as_slice(), [Effect::ListDrafts { drafts, .. }] if drafts.len() == 3), "{asked:?}");
    let second = draft(&mut state, "second.md");
    let copies = vec![copy("2026-11-27 09:30:00", "", 61), copy("2026-11-25 14:10:32", "for the designer", 140)];
    let facts = PaperFacts { figures: Some(figures(62)), written: "2026-11-28 10:00".to_owned(), copies };
    done(&mut state, Outcome::Listed { draft: second, facts: Box::new(facts) });
    (state, second)
}

/// How many drafts there are is told, whatever of them is in sight, and a long name leaves the title some room.
#[test]
fn many_drafts_are_counted_and_a_long_name_leaves_room() {
    let (mut state, _) = listed((80, 24));
    assert!(row_with(&mut state, "words").contains("3 drafts"));
    let found = (0..200).map(|number| PathBuf::from(format!("draft-{number}.md"))).collect();
    done(&mut state, Outcome::Found { drafts: found });
    assert!(row_with(&mut state, "words level").contains("203 drafts"));
    let long = "a name that goes on and on until nobody can read it any more in one row of the screen.md";
    opened(&mut state, long, "The lamp is out.\n");
    let head = screen(&mut state).swap_remove(0);
    assert!(head.contains("The Lamp at") && head.contains("a name that goes on"), "{head}");
}

fn row_with(state: &mut State, words: &str) -> String {
    let rows = screen(state);
    rows.iter().find(|row| row.contains(words)).unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n"))).clone()
}

/// Each row has words, level, terms, fit, date and kept copies; the draft in front as it stands at the desk.
#[test]
fn each_draft_is_listed_with_its_figures() {
    for size in [(80, 24), (100, 30), (120, 40), (200, 60)] {
        let (mut state, _) = listed(size);
        let head = row_with(&mut state, "words level");
        assert!(["terms", "fit", "date", "kept"].iter().all(|name| head.contains(name)), "{head}");
        let told = |state: &mut State, words: &str| {
            row_with(state, words).split_whitespace().map(str::to_owned).collect::<Vec<_>>().join(" ")
        };
        let rows = told(&mut state, "second.md");
        assert!(rows.contains("second.md 62 2.5 3 of 4 5 left 2026-11-28 2"), "{rows}");
        let copy = told(&mut state, "for the designer");
        assert!(copy.contains("kept 14:10 for the designer 140 2.5 3 of 4 6 over 2026-11-25"), "{copy}");
        assert!(told(&mut state, "first.md").contains("first.md, in front 83 3 4 of 4 3 left"));
        assert!(told(&mut state, "third.md").contains("third.md - - - -"), "what is not known yet is no figure");
    }
    let (mut narrow, _) = listed((40, 14));
    let row = row_with(&mut narrow, "second.md");
    assert!(row.contains("62") && !row.contains("2026"), "{row}");
}

/// The row in hand stays with its draft while copies come in above it, and however many rows there are all are reached.
#[test]
fn the_row_in_hand_stays_with_its_draft() {
    let mut state = desk((80, 24));
    control(&mut state, 'o');
    press(&mut state, KeyCode::End);
    let first = draft(&mut state, "first.md");
    let copies: Vec<ListedCopy> =
        (0..1000).map(|at| copy("2026-11-25 14:10:32", &format!("number {at}"), 80)).collect();
    done(&mut state, Outcome::Listed { draft: first, facts: Box::new(PaperFacts { copies, ..PaperFacts::default() }) });
    assert!(row_with(&mut state, "▸").contains("third.md"));
    press(&mut state, KeyCode::Home);
    assert!(row_with(&mut state, "▸").contains("first.md, in front"));
    for _ in 0..200 {
        press(&mut state, KeyCode::PageDown);
    }
    assert!(row_with(&mut state, "▸").contains("third.md"));
    press(&mut state, KeyCode::Up);
    press(&mut state, KeyCode::Up);
    assert!(row_with(&mut state, "▸").contains("number 999"));
}

/// A copy is looked at beside its draft, which comes to the front; what differs is taken over, or all of it.
#[test]
fn a_kept_copy_is_looked_at_beside_its_draft_and_brought_back() {
    let (mut state, second) = listed((120, 40));
    click(&mut state, "for the designer", 1);
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("Enter look at it beside") && rows.contains("t bring it back"), "{rows}");
    assert!(!rows.contains("Enter open") && !rows.contains("r rename"), "{rows}");
    let asked = press(&mut state, KeyCode::Enter);
    let [Effect::Open { draft: opened, path }, Effect::ReadCopy { of, copy, what_for: CopyUse::Beside }] =
        asked.as_slice()
    else {
        panic!("{asked:?}")
    };
    assert_eq!((*opened, *of), (second, second));
    let text_there = "The lamp is out. Oona climbs.\n".to_owned();
    done(&mut state, Outcome::Opened { draft: second, path: path.clone(), text: text_there, said: Vec::new() });
    let kept = "The lamp is dark. Oona climbs the stairs.\n";
    let (of, copy) = (*of, copy.clone());
    done(&mut state, Outcome::CopyRead { of, copy, text: kept.to_owned(), what_for: CopyUse::Beside });
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("the copy of 2026-11-25 14:10, \"for the designer\""), "{rows}");
    press(&mut state, KeyCode::Enter);
    assert!(text(&state).contains("dark"));
    press(&mut state, KeyCode::Char('t'));
    assert_eq!(text(&state), kept);
    assert!(state.said.as_deref().is_some_and(|said| said.contains("Ctrl-Z takes that back")));
    control(&mut state, 'z');
    assert_eq!(text(&state), "The lamp is dark. Oona climbs.\n", "one step brings back what was there");
    control(&mut state, 'z');
    assert_eq!(text(&state), "The lamp is out. Oona climbs.\n");
}

/// Bringing back writes nothing, is one step, and never comes over a question about other words.
#[test]
fn bringing_a_copy_back_loses_nothing() {
    let mut state = desk((80, 24));
    typed(&mut state, "Mine. ");
    control(&mut state, 'o');
    let first = draft(&mut state, "first.md");
    let facts = PaperFacts { copies: vec![copy("", "", 5)], ..PaperFacts::default() };
    done(&mut state, Outcome::Listed { draft: first, facts: Box::new(facts) });
    press(&mut state, KeyCode::Down);
    let asked = press(&mut state, KeyCode::Char('t'));
    let [Effect::ReadCopy { of, copy, what_for: CopyUse::Back }] = asked.as_slice() else { panic!("{asked:?}") };
    let (of, copy) = (*of, copy.clone());
    let read =
        |text: &str| Outcome::CopyRead { of, copy: copy.clone(), text: text.to_owned(), what_for: CopyUse::Back };
    assert_eq!(done(&mut state, read("As it was.\n")), []);
    assert_eq!(text(&state), "As it was.\n");
    assert_eq!(state.changed().count(), 1, "the file is as it was until the author saves");
    control(&mut state, 'z');
    assert_eq!(text(&state), format!("Mine. {DRAFT}"));
    done(&mut state, Outcome::Recovered { draft: first, text: "Others.\n".to_owned() });
    done(&mut state, read("As it was.\n"));
    assert!(matches!(state.mode, Mode::Recovered(..)) && text(&state).starts_with("Mine. "));
    press(&mut state, KeyCode::Esc);
    let same = text(&state).to_owned();
    done(&mut state, read(&same));
    assert!(state.said.as_deref().is_some_and(|said| said.contains("has the words of that copy already")));
}

/// Drafts that stand nearest to the draft in front are looked at first.
#[test]
fn what_is_in_sight_is_asked_for_first() {
    let mut state = desk((80, 24));
    let third = draft(&mut state, "third.md");
    done(
        &mut state,
        Outcome::Opened { draft: third, path: PathBuf::from("third.md"), text: "Oona.\n".to_owned(), said: Vec::new() },
    );
    let asked = control(&mut state, 'o');
    let [Effect::ListDrafts { drafts, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    let names: Vec<String> = drafts.iter().map(|(_, path)| path.display().to_string()).collect();
    assert_eq!(names, ["third.md", "second.md", "first.md"]);
}

#[test]
fn a_copy_that_was_just_kept_stands_in_the_list() {
    let (mut state, second) = listed((100, 30));
    done(&mut state, Outcome::Kept { of: PathBuf::from("second.md"), copy: copy("2026-11-30 08:00:00", "new", 9) });
    assert!(row_with(&mut state, "second.md").trim_end().ends_with('3'));
    assert!(row_with(&mut state, "kept 08:00 new").contains("2026-11-30"));
    assert!(state.said.as_deref().is_some_and(|said| said.starts_with("Kept a copy:")));
    click(&mut state, "second.md", 1);
    assert_eq!(
        press(&mut state, KeyCode::Char('b')),
        [Effect::LookAt { draft: second, path: PathBuf::from("second.md") }],
        "any draft of the list is seen beside the one in front"
    );
}

/// Two long drafts side by side.
fn beside(size: (u16, u16), sentences: usize) -> State {
    let mut state = desk(size);
    control(&mut state, 'a');
    let own: String = (0..sentences).map(|at| format!("Oona counts stair number {at} aloud.\n\n")).collect();
    typed(&mut state, &own);
    press(&mut state, KeyCode::F(9));
    let second = draft(&mut state, "second.md");
    done(&mut state, Outcome::LookedAt { draft: second, text: own.replace("0 aloud", "0 softly") });
    state
}

/// Both drafts scroll together by pages and by the wheel; what is out of sight is told, and the difference in hand is
/// one that is seen.
#[test]
fn two_drafts_scroll_together_and_tell_what_is_out_of_sight() {
    for size in [(80, 24), (100, 30), (120, 40), (200, 60)] {
        let mut state = beside(size, 60);
        let first = screen(&mut state);
        let Mode::Beside(page) = &state.mode else { panic!("{:?}", state.mode) };
        let (rows, height) = (page.row_count(), page.in_sight().len());
        assert!(height + 8 >= usize::from(size.1), "{size:?}: the copy has {height} rows");
        assert!(first.iter().any(|row| row.contains(&format!("{} rows below", rows - height))), "{first:#?}");
        press(&mut state, KeyCode::PageDown);
        let told = format!("{} rows above, {} below", height - 1, rows - 2 * height + 1);
        let shown = screen(&mut state);
        assert!(shown.iter().any(|row| row.contains(&told)), "{size:?} {told}\n{}", shown.join("\n"));
        assert!(shown.iter().any(|row| row.contains('⟨')) || size.1 < 30, "the one in hand is in sight");
        press(&mut state, KeyCode::End);
        press(&mut state, KeyCode::PageDown);
        press(&mut state, KeyCode::PageUp);
        let shown = screen(&mut state);
        assert!(shown.iter().any(|row| row.contains(&format!(", {} below", height - 1))), "{}", shown.join("\n"));
        mouse(&mut state, MouseEventKind::ScrollDown, (5, 8), 1);
        let shown = screen(&mut state);
        assert!(shown.iter().any(|row| row.contains(&format!(", {} below", height - 4))), "{}", shown.join("\n"));
        press(&mut state, KeyCode::Home);
        press(&mut state, KeyCode::Up);
        assert_eq!(screen(&mut state), first);
    }
}

/// The panels of both stand where there is room for them, and take none of it from the copy.
#[test]
fn two_panels_stand_where_there_is_room() {
    for (size, sentences, count) in [
        ((80, 24), 4, 0),
        ((120, 40), 4, 2),
        ((120, 40), 60, 0),
        ((200, 60), 60, 2),
        ((200, 60), 4, 2),
        ((40, 12), 4, 0),
    ] {
        let mut state = beside(size, sentences);
        screen(&mut state);
        let pictures = panes::pictures(&state);
        assert_eq!(pictures.len(), count, "{size:?} {sentences}");
        let text = state.areas().beside(match &state.mode {
            Mode::Beside(page) => page.row_count(),
            mode => panic!("{mode:?}"),
        });
        assert!(pictures.iter().all(|face| !face.area.intersects(text.text)), "{size:?} {sentences}");
    }
}

/// On every screen each key of the list and of two drafts is whole, or the foot says where the rest is; and the list of
/// keys finds them by a word.
#[test]
fn no_key_of_the_drafts_is_cut_off() {
    let is_whole = |state: &mut State| {
        let rows = screen(state);
        let foot = rows[rows.len() - 3..].join("\n");
        let (_, hints) = hints(state);
        let is_there = hints.iter().all(|hint| foot.contains(&format!("{} {}", hint.shown, hint.does)));
        assert!(is_there || foot.contains("F1 all keys"), "{:?}\n{foot}", state.size);
        is_there
    };
    for size in [(40, 12), (60, 16), (80, 24), (100, 30), (120, 40), (200, 60)] {
        let (mut state, _) = listed(size);
        for _ in 0..5 {
            assert!(is_whole(&mut state) || size.0 < 80, "{size:?}");
            press(&mut state, KeyCode::Down);
        }
        let mut state = beside(size, 20);
        assert!(is_whole(&mut state) || size.0 < 80, "{size:?}");
    }
    for words in ["kept copies", "bring back", "older versions", "compare"] {
        assert!(!ways_to(words, Keyboard::Whole).is_empty(), "{words}");
    }
    let (mut state, _) = listed((80, 24));
    press(&mut state, KeyCode::Char('t'));
    assert!(state.said.as_deref().is_some_and(|said| said.starts_with("Choose a kept copy first")));
}

/// A name that is refused at the desk or at the disk stands in its line still, to be changed; none leads to a folder.
#[test]
fn a_refused_name_is_asked_for_again_as_it_was_typed() {
    for (key, name) in [('n', "first"), ('d', "first"), ('r', "second")] {
        let mut state = desk((80, 24));
        control(&mut state, 'o');
        press(&mut state, KeyCode::Char(key));
        typed(&mut state, name);
        assert_eq!(press(&mut state, KeyCode::Enter).len(), 1, "{key}");
        done(&mut state, Outcome::NameRefused { why: "There is such a draft.".to_owned() });
        typed(&mut state, "er");
        let Mode::Prompt(_, line) = &state.mode else { panic!("{key}: {:?}", state.mode) };
        assert_eq!((line.text(), state.said.as_deref()), (&*format!("{name}er"), Some("There is such a draft.")));
        for outside in ["../../evil", "/evil", "a/b", "..", "evil/"] {
            control(&mut state, 'a');
            typed(&mut state, outside);
            assert_eq!(press(&mut state, KeyCode::Enter), [], "{outside}");
            assert!(state.said.as_ref().is_some_and(|said| said.contains("names a folder")), "{outside}");
            assert!(matches!(&state.mode, Mode::Prompt(Prompt::New(_) | Prompt::Double(_) | Prompt::Rename(_), line)
                if line.text() == outside));
        }
    }
}

/// A draft that no list would show is not written, and what becomes of another ending is told.
#[test]
fn a_name_that_hides_a_draft_is_refused_in_words() {
    for key in ['n', 'd', 'r'] {
        for (name, told) in
            [(".hid", "begins with a dot"), (".hid.md", "begins with a dot"), ("draft .", "ends with a dot")]
        {
            let mut state = desk((80, 24));
            control(&mut state, 'o');
            press(&mut state, KeyCode::Char(key));
            typed(&mut state, name);
            assert_eq!(press(&mut state, KeyCode::Enter), [], "{key} {name}");
            assert!(state.said.as_ref().is_some_and(|said| said.contains(told)), "{key} {name}: {:?}", state.said);
            assert!(matches!(&state.mode, Mode::Prompt(_, line) if line.text() == name));
        }
    }
    let mut state = desk((80, 24));
    control(&mut state, 'o');
    press(&mut state, KeyCode::Char('n'));
    typed(&mut state, "other.txt");
    let asked = press(&mut state, KeyCode::Enter);
    let [Effect::Create { draft, path }] = asked.as_slice() else { panic!("{asked:?}") };
    let said = Vec::new();
    done(&mut state, Outcome::Opened { draft: *draft, path: path.clone(), text: String::new(), said });
    assert_eq!(state.said.as_deref(), Some("The draft is other.txt.md: the file of a draft ends in .md."));
}

/// Drafts of another program come into the open list, and the selected row stays with its draft.
#[test]
fn drafts_that_another_program_writes_are_listed() {
    let (mut state, second) = listed((80, 24));
    press(&mut state, KeyCode::Down);
    let Mode::Drafts(at) = state.mode else { panic!("{:?}", state.mode) };
    let in_hand = state.papers.listed()[at];
    let found = ["a new one.md", "second.md"].map(PathBuf::from).to_vec();
    let asked = update(&mut state, Event::Done(Outcome::Found { drafts: found }));
    assert!(matches!(asked.as_slice(), [Effect::ListDrafts { drafts, .. }] if drafts.len() == 1), "{asked:?}");
    let Mode::Drafts(at) = state.mode else { panic!("{:?}", state.mode) };
    assert_eq!((state.papers.listed()[at], state.papers.iter().count()), (in_hand, 4));
    assert!(row_with(&mut state, "a new one.md").contains("a new one.md"));
    assert_eq!(draft(&mut state, "second.md"), second);
}

/// A line of input takes no command that saves, and says so.
#[test]
fn a_line_of_input_says_that_it_comes_first() {
    let mut state = desk((80, 24));
    control(&mut state, 'f');
    assert_eq!(control(&mut state, 's'), []);
    assert!(screen(&mut state).join("\n").contains("This line comes first: Enter takes it, Esc leaves it."));
}

/// What ends a line of input is told beside it, and can be clicked.
#[test]
fn a_line_of_input_has_its_keys_beside_it() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut state = desk(size);
        control(&mut state, 'p');
        let rows = screen(&mut state);
        let foot = &rows[usize::from(size.1) - 1];
        assert!(foot.contains("Write the proof to: first.pdf") && foot.contains("Enter done  Esc back"), "{foot}");
        let long = "a name that is longer than the room that is left beside the keys of the line it is typed in";
        typed(&mut state, long);
        let rows = screen(&mut state);
        let foot = &rows[usize::from(size.1) - 1];
        assert!(foot.contains("typed in") && foot.contains("Esc back"), "{foot}");
        click(&mut state, "Esc back", 1);
        assert!(matches!(state.mode, Mode::Writing), "{:?}", state.mode);
    }
}
