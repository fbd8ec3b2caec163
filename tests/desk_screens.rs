//! What the desk shows, screen by screen: every mode at every size, and what the keys of each mode change.

use std::path::{Path, PathBuf};

use blurbwright::brief::queries::Rule;
use blurbwright::desk::hints::hints;
use blurbwright::desk::mode::{DetailsPage, Mode};
use blurbwright::desk::sheet::DraftContent;
use blurbwright::desk::theme::Letters;
use blurbwright::desk::{Effect, Event, Outcome, State, Target, settle, update};
use blurbwright::draft::Draft;
use blurbwright::panes;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEventKind};

use super::desk_harness::{
    DRAFT, control, desk, desk_of, desk_of_words, desk_with, done, draft, mouse, opened, press, screen, text, typed,
};

fn row_with<'a>(rows: &'a [String], words: &str) -> &'a str {
    rows.iter().find(|row| row.contains(words)).unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n")))
}

#[test]
fn every_mode_is_drawn_at_every_size() {
    let mut keys: Vec<KeyCode> = (1..=10).map(KeyCode::F).collect();
    keys.push(KeyCode::Esc);
    for letters in [Letters::Unicode, Letters::Ascii] {
        for key in &keys {
            for size in
                [(0, 0), (1, 1), (20, 5), (40, 12), (80, 24), (99, 13), (100, 12), (120, 40), (200, 60), (230, 13)]
            {
                let mut state = desk_with("# H\n\nThe lamp  is out. 日本 👩\u{200d}👧 e\u{301}.\n", size, letters);
                for effect in press(&mut state, *key) {
                    if let Effect::LookAt { draft, .. } = effect {
                        done(&mut state, Outcome::LookedAt { draft, text: "# H\n\nAnother lamp.\n".to_owned() });
                    }
                }
                let rows = screen(&mut state);
                assert_eq!(rows.len(), usize::from(size.1));
                if letters == Letters::Ascii && size.0 >= 40 {
                    let kept: String = rows.concat().replace(['日', '本', '👩', '\u{200d}', '👧', 'é', '\u{301}'], "");
                    assert!(kept.is_ascii(), "{key:?} {size:?} {kept}");
                }
            }
        }
    }
}

#[test]
fn rows_are_printed_lines_with_the_room_left_and_the_foot() {
    let rows = screen(&mut desk((120, 40)));
    assert!(row_with(&rows, "Every night, Oona").contains("stairs with her"), "the line ends where it is printed");
    assert!(row_with(&rows, "foot of the panel").contains("3 lines left"));
    assert!(row_with(&rows, "length").contains("83 words"));
    assert!(row_with(&rows, "a barcode").contains("b imprint mark"));
    assert!(rows[39].contains("Ctrl-Q leave"));
}

/// Copy at the far side of the panel is shown whole, each place with its own foot.
#[test]
fn places_open_at_the_left_and_end_with_their_own_foot() {
    let place = "{ name: corner, holds: headline, size: 2.5 x 1 in, corner: head-spine, align: centre }";
    let brief = format!("panel: {{ trim: 8.5 x 8.5 in, places: [{place}] }}\n");
    for size in [(80, 24), (120, 40)] {
        let mut state = desk_of(&brief, size);
        let rows = screen(&mut state);
        let first = text(&state).lines().next().expect("a headline").trim_start_matches("# ").to_owned();
        let words: Vec<&str> = first.split(' ').collect();
        assert!(words.iter().all(|word| rows[..8].concat().contains(word)), "{first}\n{}", rows.join("\n"));
        assert!(row_with(&rows, "foot of corner").contains("left"));
        assert!(!rows.concat().contains("foot of the panel"));
    }
}

/// A jacket whose copy stands on the panel and on a flap.
const JACKET: &str = "panel:
  trim: 8.5 x 8.5 in
  binding: jacket
  places: [{ name: praise, holds: quote, size: 90 x 50 mm, at: { head: 4 in, fore-edge: 0.5 in } }]
front_flap: { width: 90 mm, holds: blurb }
";

/// Rows stand in the order of the draft, each place under its name, and the copy of a place that goes on behind that of
/// another is named again; a heading belongs to what it heads.
#[test]
fn each_place_is_opened_by_its_name_and_closed_by_its_foot() {
    let words = "# The lamp is out\n\nOona climbs.\n\n> \"A lamp.\"\n> — Ida Voss\n\n## Age line\n\nAges 4 to 8\n";
    let mut state = desk_of_words(JACKET, words, (80, 40));
    let rows = screen(&mut state);
    let told: Vec<&str> = rows.iter().map(|row| row.trim()).filter(|row| !row.is_empty()).collect();
    let order = [
        "in the live area",
        "# The lamp is out",
        "on the front flap",
        "Oona climbs.",
        "foot of the front flap",
        "in praise",
        "A lamp.",
        "Ida Voss",
        "foot of praise",
        "in the live area",
        "## Age line",
        "Ages 4 to 8",
        "foot of the live area",
    ];
    let mut left = told.iter();
    for words in order {
        assert!(left.any(|row| row.contains(words)), "{words} in its order in\n{}", told.join("\n"));
    }
    assert!(!screen(&mut desk((80, 40))).concat().contains("in the live area"), "without places none is named");
}

/// The picture shows the face that the cursor's copy stands on, with that copy's lines.
#[test]
fn the_picture_shows_the_face_of_the_cursor() {
    let picture = |state: &mut State| {
        let (rows, area) = (screen(state), state.areas().panel);
        let row =
            |row: &String| row.chars().skip(usize::from(area.x)).take(usize::from(area.width)).collect::<String>();
        rows[usize::from(area.y)..usize::from(area.bottom())].iter().map(row).collect::<Vec<_>>().join("\n")
    };
    for size in [(120, 40), (200, 60)] {
        let mut state = desk_of(JACKET, size);
        assert!(!picture(&mut state).contains("front flap"));
        let at = text(&state).find("Every night").expect("the blurb");
        control(&mut state, 'f');
        typed(&mut state, "Every night");
        press(&mut state, KeyCode::Enter);
        assert!(picture(&mut state).contains("front flap"), "{}", picture(&mut state));
        let area = state.areas().panel;
        let target = |state: &State| {
            (area.top()..area.bottom()).flat_map(|y| (area.left()..area.right()).map(move |x| (x, y))).find_map(
                |(x, y)| match panes::hit(state, x, y) {
                    Some(Target::PanelLine(line)) => Some(line),
                    _ => None,
                },
            )
        };
        let line = target(&state).expect("a line on the flap");
        let fit = &state.sheet().expect("a sheet").now.report.fit;
        assert_eq!(fit.places[fit.lines[line].set.place].name, "front flap");
        assert!(state.sheet().expect("a sheet").editor.cursor() >= at);
    }
}

const SECOND: &str = include_str!("../drafts/second.md");

/// The desk with the second draft beside the first.
fn beside(size: (u16, u16)) -> State {
    let mut state = desk(size);
    let effects = press(&mut state, KeyCode::F(9));
    let second = draft(&mut state, "second.md");
    assert_eq!(effects, [Effect::LookAt { draft: second, path: PathBuf::from("second.md") }]);
    done(&mut state, Outcome::LookedAt { draft: second, text: SECOND.to_owned() });
    state
}

#[test]
fn two_drafts_stand_side_by_side_with_what_differs_in_braces() {
    let rows = screen(&mut beside((120, 40)));
    let measures = row_with(&rows, "83 words");
    assert!(measures.contains("61 words") || measures.matches("words").count() == 2, "{measures}");
    assert!(measures.matches("terms 4 of 4").count() == 2 && !measures.contains('!'), "{measures}");
    let row = row_with(&rows, "Every night, Oona");
    assert!(row.matches("Every night, Oona").count() == 2 && row.contains('⟨'), "{row}");
    assert!(row_with(&rows, "climb the stairs").contains('{'));
    assert!(rows[39].contains("Enter take it over"));
}

/// Each difference is one step; when all are taken the two say the same, and as many steps back bring the first again.
#[test]
fn differences_are_taken_over_one_by_one() {
    let mut state = beside((120, 40));
    let mut taken = 0;
    while state.said.is_none() {
        press(&mut state, KeyCode::Enter);
        taken += 1;
        assert!(taken < 60);
    }
    assert_eq!(state.said.as_deref(), Some("The two say the same."));
    assert!(Draft::read(text(&state)).prints_like(&Draft::read(SECOND)));
    for _ in 0..taken {
        press(&mut state, KeyCode::Char('u'));
    }
    assert_eq!(text(&state), DRAFT);
    press(&mut state, KeyCode::Esc);
    assert!(matches!(state.mode, Mode::Writing));
}

/// A sentence with two differences shows which of them is in hand, and the key that opened the other draft closes it.
#[test]
fn the_difference_in_hand_has_brackets_of_its_own_and_moves_no_words() {
    let mut state = beside((120, 40));
    let told = screen(&mut state).join("\n");
    assert!(told.contains("in { } what differs, in ⟨ ⟩ what Enter takes over"), "{told}");
    // Below the names, the measures and what the brackets mean stand the drafts.
    let texts = |state: &mut State| screen(state).split_off(5).join("\n");
    let first = texts(&mut state);
    assert_eq!((first.matches('⟨').count(), first.matches('⟩').count()), (2, 2), "on either side\n{first}");
    press(&mut state, KeyCode::Down);
    let second = texts(&mut state);
    assert!(second.find('⟨') > first.find('⟨'), "{second}");
    let in_braces = |rows: &str| rows.replace('⟨', "{").replace('⟩', "}").replace('▸', " ");
    assert_eq!(in_braces(&first), in_braces(&second));
    press(&mut state, KeyCode::F(9));
    assert!(matches!(state.mode, Mode::Writing));
}

/// Each line of verse is a row of its own on both sides, also where only one of the drafts ends a line.
#[test]
fn verse_stands_in_its_lines_beside_another_draft() {
    let own = "The lamp is out,\\\nthe tide is in. The gulls\\\nare home at last.\n";
    let other = "The lamp is out,\\\nthe sea is in. The gulls\\\nare home at last.\n";
    let mut state = desk_with(own, (120, 40), Letters::Unicode);
    press(&mut state, KeyCode::F(9));
    let second = draft(&mut state, "second.md");
    done(&mut state, Outcome::LookedAt { draft: second, text: other.to_owned() });
    let rows = screen(&mut state);
    let at = rows.iter().position(|row| row.contains("The lamp is out,")).expect("the verse");
    let halves = |row: &str| row.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(halves(&rows[at]), "The lamp is out, The lamp is out,");
    assert_eq!(halves(&rows[at + 1]), "▸ the ⟨tide⟩ is in. The gulls the ⟨sea⟩ is in. The gulls");
    assert_eq!(halves(&rows[at + 2]), "are home at last. are home at last.");
    // A line that only the other draft ends stays beside the words that go on here.
    done(&mut state, Outcome::LookedAt { draft: second, text: own.replace("in. The", "in.\\\nThe") });
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("the tide is in. ⟨⟩The gulls"), "{rows}");
}

#[test]
fn a_sentence_that_was_moved_has_one_number_at_both_places() {
    let own = "Oona climbs the dark stairs alone. The lamp is out tonight. Nobody has seen it.\n";
    let other = "The lamp is out tonight. Nobody has seen it. Oona climbs the dark stairs alone.\n";
    let mut state = desk_with(own, (120, 40), Letters::Unicode);
    press(&mut state, KeyCode::F(9));
    let second = draft(&mut state, "second.md");
    done(&mut state, Outcome::LookedAt { draft: second, text: other.to_owned() });
    let rows = screen(&mut state).join("\n");
    assert_eq!(rows.matches("⟨moved 1: Oona climbs").count(), 2, "{rows}");
    press(&mut state, KeyCode::Enter);
    let text = state.sheet().expect("a sheet").editor.text();
    assert!(Draft::read(text).prints_like(&Draft::read(other)), "{text}");
}

#[test]
fn a_copy_is_kept_under_a_name_or_none() {
    for name in ["for the designer", ""] {
        let mut state = desk((80, 24));
        control(&mut state, 'o');
        press(&mut state, KeyCode::Char('k'));
        assert!(screen(&mut state)[23].contains("Keep a dated copy"));
        typed(&mut state, name);
        let asked = press(&mut state, KeyCode::Enter);
        let [Effect::KeepCopy { path, name: given, .. }] = asked.as_slice() else { panic!("{asked:?}") };
        assert_eq!((path.as_path(), given.as_str()), (Path::new("first.md"), name));
    }
}

#[test]
fn a_screen_that_is_too_small_says_what_is_needed_and_keeps_the_words() {
    let mut state = desk((20, 5));
    typed(&mut state, "x");
    assert!(screen(&mut state).join(" ").contains("needs 40 columns"));
    update(&mut state, Event::Resize(80, 24));
    assert!(row_with(&screen(&mut state), "The light is out").contains("x# The light"));
}

#[test]
fn what_is_typed_moves_the_measures_and_the_foot() {
    let mut state = desk((120, 40));
    control(&mut state, 'e');
    press(&mut state, KeyCode::Down);
    press(&mut state, KeyCode::Down);
    typed(&mut state, &"The sea comes in over the wall. ".repeat(8));
    let rows = screen(&mut state);
    assert!(row_with(&rows, "foot of the panel").contains("over"));
    assert!(row_with(&rows, "length").contains("139 words") && row_with(&rows, "length").contains("+56"));
    assert!(row_with(&rows, "too many").contains("39 too many"));
    assert!(row_with(&rows, "Gull Point ·").contains("not saved"));
    control(&mut state, 'z');
    assert!(row_with(&screen(&mut state), "length").contains("83 words"));
}

#[test]
fn a_cut_is_one_step_and_stet_stays_with_the_draft() {
    let mut state = desk_with("The lamp  is out. The sea  is in.\n", (120, 40), Letters::Unicode);
    assert!(row_with(&screen(&mut state), "quer").contains("quer"));
    press(&mut state, KeyCode::F(6));
    press(&mut state, KeyCode::Enter);
    assert_eq!(state.sheet().expect("a sheet").editor.text(), "The lamp is out. The sea  is in.\n");
    assert_eq!(press(&mut state, KeyCode::Char('s')), [], "it is written with the draft");
    assert_eq!(state.sheet().map(|sheet| sheet.editor.stood().len()), Some(1));
    let rest = state.sheet().expect("a sheet").offers();
    assert!(rest.iter().all(|offer| offer.query.rule != Rule::DoubleSpace), "{rest:?}");
    press(&mut state, KeyCode::Esc);
    control(&mut state, 'z');
    assert_eq!(state.sheet().map(|sheet| sheet.editor.stood().len()), Some(0));
    control(&mut state, 'z');
    assert_eq!(state.sheet().expect("a sheet").editor.text(), "The lamp  is out. The sea  is in.\n");
}

#[test]
fn cuts_come_with_their_prices_and_the_plan_is_one_step() {
    let copy = "At this point in time the lamp is dark. ".repeat(2) + &"Somebody has to climb the stairs. ".repeat(26);
    let mut state = desk_with(&copy, (120, 40), Letters::Unicode);
    let unpriced = state.unpriced().expect("nothing has a price yet");
    let tighten = Box::new(unpriced.priced(&|| true));
    done(&mut state, Outcome::Priced { draft: unpriced.draft, revision: unpriced.revision, tighten });
    assert!(state.unpriced().is_none());
    press(&mut state, KeyCode::F(6));
    let offers = state.sheet().expect("a sheet").offers();
    assert!(offers.iter().any(|offer| offer.price.is_some_and(|price| price.letters() > 0)), "{offers:?}");
    let planned = offers.iter().filter(|offer| offer.is_planned).count();
    press(&mut state, KeyCode::Char('p'));
    let text = state.sheet().expect("a sheet").editor.text().to_owned();
    assert_eq!(text != copy, planned > 0);
    press(&mut state, KeyCode::Char('u'));
    assert_eq!(state.sheet().expect("a sheet").editor.text(), copy);
}

#[test]
fn every_answer_to_a_question_stands_at_the_foot_of_80_columns() {
    let mut state = desk((80, 24));
    for mode in [Mode::Leaving, Mode::Outside] {
        state.mode = mode;
        let (_, hints) = hints(&state);
        let foot = screen(&mut state)[23].clone();
        assert!(hints.iter().all(|hint| foot.contains(hint.does)), "{foot}");
    }
}

/// On a screen that is high enough, every key of writing stands whole at its foot, in one row or in two; on a lower one
/// the list of keys is named, and a message hides none of them.
#[test]
fn no_key_is_cut_off_while_writing() {
    let keys = |state: &State| hints(state).1.into_iter().map(|hint| format!("{} {}", hint.shown, hint.does));
    for (size, foot) in [((80, 24), 2), ((100, 30), 2), ((120, 40), 2), ((200, 60), 1), ((40, 12), 1), ((40, 30), 2)] {
        let mut state = desk(size);
        typed(&mut state, "x");
        for said in [None, Some("Something was done that is told in a message of more than one row. ".repeat(3))] {
            state.said = said;
            let rows = screen(&mut state);
            let shown = rows[rows.len() - foot..].join("  ");
            assert!(shown.contains("F1 keys"), "{shown}");
            let esc = "Esc all by letter".to_owned();
            let missing: Vec<String> = keys(&state).filter(|key| !shown.contains(key) && *key != esc).collect();
            assert!(missing.is_empty() || size.0 < 80, "{size:?} {missing:?} in\n{}", rows.join("\n"));
            // What is there is whole.
            let words = shown.split("  ").map(str::trim).filter(|word| !word.is_empty());
            let known: Vec<String> = keys(&state).collect();
            for word in words {
                assert!(known.iter().any(|key| key == word), "{word} in\n{}", rows.join("\n"));
            }
        }
    }
}

#[test]
fn leaving_with_unsaved_words_asks_first() {
    let mut state = desk((80, 24));
    assert_eq!(control(&mut state, 'q'), [Effect::Leave]);
    typed(&mut state, "x");
    assert_eq!(control(&mut state, 'q'), []);
    assert!(matches!(state.mode, Mode::Leaving));
    assert!(screen(&mut state)[23].contains("Not all is saved."));
    let first = draft(&mut state, "first.md");
    let text = text(&state).to_owned();
    let content = DraftContent { text: text.clone(), stood: Vec::new(), saved_stood: Vec::new() };
    assert_eq!(press(&mut state, KeyCode::Char('s')), [Effect::Save { draft: first, content }, Effect::Leave]);
    done(&mut state, Outcome::Saved { draft: first, text });
    assert_eq!(control(&mut state, 'q'), [Effect::Leave]);
}

#[test]
fn another_type_is_tried_and_written_only_when_asked() {
    let mut state = desk((120, 40));
    press(&mut state, KeyCode::F(7));
    press(&mut state, KeyCode::Right);
    assert!(screen(&mut state)[0].contains("trying serif 13.5 on"));
    press(&mut state, KeyCode::Char('l'));
    let largest = state.sheet().and_then(|sheet| sheet.now.report.fit.largest_size).expect("a size fits");
    assert_eq!(state.brief().typography.blurb.size, largest);
    let asked = press(&mut state, KeyCode::Char('w'));
    let [Effect::WriteBrief { changes, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(changes.iter().map(|change| change.key().to_owned()).collect::<Vec<_>>(), ["size", "leading"]);
    press(&mut state, KeyCode::Char('b'));
    assert!(state.tried().is_nothing());
}

#[test]
fn every_letter_of_the_draft_can_be_clicked() {
    let mut state = desk((120, 40));
    let rows = screen(&mut state);
    let y = rows.iter().position(|row| row.contains("lights the lamp")).expect("the row") as u16;
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (3, y), 2);
    assert_eq!(state.sheet().and_then(|sheet| sheet.editor.selected()), Some("lights"));
}

/// Scrolling, drawing and waiting find nothing anew: only another text or another screen does.
#[test]
fn a_page_that_is_read_is_laid_out_once_for_each_change() {
    let mut state = desk((80, 24));
    let first = draft(&mut state, "first.md");
    done(&mut state, Outcome::Recovered { draft: first, text: DRAFT.replacen("Quillon", "Old Quillon", 1) });
    let lines = |state: &mut State| {
        screen(state);
        let page = state.mode.page().expect("a page").in_sight();
        (page.as_ptr(), page.join("\n"))
    };
    let (place, shown) = lines(&mut state);
    assert!(shown.contains("Old"), "{shown}");
    assert_eq!(lines(&mut state), (place, shown.clone()));
    done(&mut state, Outcome::Reread { draft: first, text: DRAFT.replacen("Oona", "Una", 1) });
    let (_, changed) = lines(&mut state);
    assert!(changed.contains("Una") && changed != shown, "{changed}");
    update(&mut state, Event::Resize(50, 24));
    assert!(lines(&mut state).1.lines().all(|line| line.chars().count() <= 48));
}

#[test]
fn an_outcome_finds_its_draft_at_another_row_and_under_another_name() {
    let mut state = desk((80, 24));
    let first = draft(&mut state, "first.md");
    typed(&mut state, "Mine. ");
    let asked = update(&mut state, Event::Pause);
    let [Effect::Autosave { draft: of, text: words, revision }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!((*of, words.as_str()), (first, text(&state)));
    // Another draft comes before it in the list, and its own file has another name by then.
    opened(&mut state, "earlier.md", "Earlier.\n");
    let asked = done(&mut state, Outcome::Renamed { draft: first, path: PathBuf::from("tide.md") });
    let is_first = |effect: &Effect| matches!(effect, Effect::Autosave { draft, .. } if *draft == first);
    assert!(matches!(asked.as_slice(), [effect] if is_first(effect)), "the new name has a recovery file at once");
    done(&mut state, Outcome::Autosaved { draft: first, revision: *revision });
    assert_eq!(update(&mut state, Event::Pause), [], "the words are at no risk any more");
    done(&mut state, Outcome::Saved { draft: first, text: words.clone() });
    assert_eq!(state.said.as_deref(), Some("Saved tide.md."));
    assert_eq!(state.changed().count(), 0);
}

/// Words that are taken back to what is saved need no recovery file, and the one that is there goes.
#[test]
fn words_that_are_taken_back_leave_no_recovery_file() {
    let mut state = desk((80, 24));
    let saved = text(&state).to_owned();
    typed(&mut state, "M");
    let asked = update(&mut state, Event::Pause);
    let [Effect::Autosave { draft, revision, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    done(&mut state, Outcome::Autosaved { draft: *draft, revision: *revision });
    control(&mut state, 'z');
    assert!(state.changed().next().is_none() && state.is_at_risk());
    let asked = update(&mut state, Event::Pause);
    let [Effect::Autosave { draft, revision, text }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(*text, saved);
    done(&mut state, Outcome::Autosaved { draft: *draft, revision: *revision });
    assert_eq!(update(&mut state, Event::Pause), []);
}

#[test]
fn what_another_program_wrote_is_read_where_nothing_unsaved_would_be_lost() {
    let mut state = desk((80, 24));
    let first = draft(&mut state, "first.md");
    assert_eq!(done(&mut state, Outcome::WrittenOutside { draft: first }), [Effect::Reread { draft: first }]);
    typed(&mut state, "x");
    assert_eq!(done(&mut state, Outcome::WrittenOutside { draft: first }), []);
    assert!(matches!(state.mode, Mode::Outside), "{:?}", state.mode);
}

#[test]
fn each_place_of_the_screen_has_its_target() {
    let mut state = desk((120, 40));
    let rows = screen(&mut state);
    let place = |words: &str| {
        let found = rows.iter().enumerate().find_map(|(y, row)| Some((row.find(words)?, y, row)));
        let (at, y, row) = found.unwrap_or_else(|| panic!("{words}"));
        (row[..at].chars().count() as u16, y as u16)
    };
    let at = |words: &str| {
        let (x, y) = place(words);
        panes::hit(&state, x, y)
    };
    let byte = text(&state).find("lights the lamp").expect("the words");
    assert_eq!(at("lights the lamp"), Some(Target::Copy(byte)));
    assert_eq!(at("level "), Some(Target::Measure(DetailsPage::Level)));
    assert_eq!(at("Ctrl-S"), Some(Target::Key(KeyEvent::new(KeyCode::Char('s'), KeyModifiers::CONTROL))));
    assert_eq!(panes::hit(&state, 0, 39), None, "between the keys of the foot");
    assert_eq!(at("The Lamp at Gull Point"), Some(Target::Ground));
    press(&mut state, KeyCode::F(6));
    update(&mut state, Event::Resize(80, 40));
    settle(&mut state);
    let strip = state.areas().strip(&state.mode).expect("a list below the copy");
    assert_eq!(panes::hit(&state, strip.x + 1, strip.bottom() - 1), Some(Target::List), "below the last query");
}

/// The sample book, whose panel has places.
const PLACES: &str = include_str!("../drafts/brief.yaml");

/// The name of the first place stands in sight again once the cursor is back in the first row.
#[test]
fn the_first_place_is_named_wherever_the_draft_begins() {
    let mut state = desk_of_words(PLACES, DRAFT, (80, 24));
    let is_named = |state: &mut State| screen(state).iter().any(|row| row.contains("in quiet part"));
    let go = |state: &mut State, code: KeyCode| {
        settle(state);
        update(state, Event::Key(KeyEvent::new(code, KeyModifiers::CONTROL)));
    };
    assert!(is_named(&mut state));
    go(&mut state, KeyCode::End);
    assert!(!is_named(&mut state), "the draft is longer than the pane");
    go(&mut state, KeyCode::Home);
    assert!(is_named(&mut state), "{}", screen(&mut state).join("\n"));
}

/// However narrow the list of values is, it says which edge a distance is from.
#[test]
fn the_edge_that_a_value_is_of_is_never_cut_off() {
    let small = PLACES.replace("size: 13 pt", "size: 8 pt");
    for columns in [72, 80, 112, 120] {
        let mut state = desk_of_words(&small, DRAFT, (columns, 40));
        press(&mut state, KeyCode::F(4));
        press(&mut state, KeyCode::Enter);
        press(&mut state, KeyCode::Home);
        for _ in 0..30 {
            let rows = screen(&mut state).join("\n");
            assert!(!rows.contains("from the...") && !rows.contains("at the..."), "{columns}\n{rows}");
            press(&mut state, KeyCode::Down);
        }
    }
}

#[test]
fn a_measure_beside_another_draft_stands_in_one_row() {
    let mut state = desk((80, 24));
    for effect in press(&mut state, KeyCode::F(9)) {
        if let Effect::LookAt { draft, .. } = effect {
            done(&mut state, Outcome::LookedAt { draft, text: DRAFT.to_owned() });
        }
    }
    let rows = screen(&mut state);
    assert!(row_with(&rows, "· 3 lines left").contains("terms 4 of 4"), "{}", rows.join("\n"));
}

/// What the row in hand is for is not told of a list of something else.
#[test]
fn what_can_be_added_is_not_told_to_be_the_title() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(10));
    row_with(&screen(&mut state), "The title as it stands on the front");
    press(&mut state, KeyCode::Char('a'));
    let rows = screen(&mut state);
    row_with(&rows, "What is to be added?");
    assert!(!rows.iter().any(|row| row.contains("The title as it stands")), "{}", rows.join("\n"));
}

/// A page that is in sight as a whole has no key for more of it.
#[test]
fn only_a_page_that_goes_on_offers_more() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(5));
    assert!(matches!(state.mode, Mode::Details(DetailsPage::Length, _)));
    let has_more = |state: &mut State| screen(state).last().is_some_and(|foot| foot.contains("Down, Up"));
    assert!(!has_more(&mut state), "{}", screen(&mut state).join("\n"));
    press(&mut state, KeyCode::Right);
    assert!(has_more(&mut state), "{}", screen(&mut state).join("\n"));
}

#[test]
fn the_longest_question_does_not_touch_what_is_told_of_an_answer() {
    let mut state = desk((80, 24));
    control(&mut state, 'n');
    typed(&mut state, "Oona and the lighthouse");
    let rows = screen(&mut state);
    let told = row_with(&rows, "ask for it again?").split("again?").nth(1).unwrap_or_default();
    assert!(told.starts_with("  ") && told.contains("In the copy"), "{}", rows.join("\n"));
}
