//! The page of the book and its brief at the desk: rows are changed, tried at once, taken back and written.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::briefing::rewrite::rewritten;
use blurbwright::desk::mode::{BookPage, Mode, Prompt};
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{Effect, Event, Outcome, State, settle, update};
use blurbwright::editor::mending::MendedText;
use blurbwright::setting::Faces;
use ratatui::crossterm::event::KeyCode;

use super::desk_harness::{BRIEF, click, control, desk, desk_of, done, press, screen, typed};

/// Stands on a row of the page, by its group and its name.
fn stand(state: &mut State, group: &str, name: &str) {
    let at = state.book_rows().iter().position(|row| row.group == group && row.name == name).expect(name);
    state.mode = Mode::Book(BookPage { at, choosing: None });
}

fn fill_in(state: &mut State, words: &str) -> Vec<Effect> {
    press(state, KeyCode::Enter);
    control(state, 'a');
    typed(state, words);
    press(state, KeyCode::Enter)
}

fn told(state: &mut State) -> String {
    screen(state).join("\n")
}

/// The brief's text after what was asked for.
fn written(text: &str, asked: &[Effect]) -> String {
    let [Effect::WriteBrief { changes, .. }] = asked else { panic!("{asked:?}") };
    rewritten(text, changes).expect("it can be changed")
}

#[test]
fn a_changed_row_is_measured_at_once_taken_back_and_written() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut state = desk(size);
        press(&mut state, KeyCode::F(10));
        stand(&mut state, "Limits of the blurb", "words");
        fill_in(&mut state, "40..60");
        assert!(told(&mut state).contains("brief: 40..100"), "{}", told(&mut state));
        assert!(told(&mut state).contains("23 too many"), "{}", told(&mut state));
        assert_eq!(
            written(BRIEF, &press(&mut state, KeyCode::Char('w'))),
            BRIEF.replace("words: 40..100", "words: 40..60")
        );
        press(&mut state, KeyCode::Char('u'));
        assert!(!told(&mut state).contains("too many") && !state.is_brief_changed());
        assert!(press(&mut state, KeyCode::Char('w')).is_empty());
    }
}

/// No name of a row is shortened where the screen has 80 columns.
#[test]
fn every_name_of_a_row_is_whole() {
    for size in [(80, 24), (100, 30), (120, 40), (200, 60)] {
        let mut state = desk(size);
        press(&mut state, KeyCode::F(10));
        for at in 0..state.book_rows().len() {
            let rows = screen(&mut state);
            let name = &state.book_rows()[at].name;
            let row = rows.iter().find(|row| row.starts_with(" ▸")).expect("the row in hand");
            assert!(row.contains(name.as_str()), "{size:?}: {name} in {row}");
            press(&mut state, KeyCode::Down);
        }
    }
}

#[test]
fn what_cannot_be_is_told_in_place_and_can_be_mended() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(10));
    stand(&mut state, "Book", "ISBN");
    fill_in(&mut state, "978-1-4028-9462-5");
    assert!(told(&mut state).contains("This cannot be: the last digit of \"978-1-4028-9462-5\" should be 6"));
    assert!(matches!(&state.mode, Mode::Prompt(Prompt::Row(_), line) if line.text() == "978-1-4028-9462-5"));
    control(&mut state, 'a');
    typed(&mut state, "978-1-4028-9462-6");
    press(&mut state, KeyCode::Enter);
    assert_eq!(state.brief().book.isbn.as_deref(), Some("978-1-4028-9462-6"));
    // Whose fault it is in another group is named.
    let mut state = desk_of("panel: { trim: 8 x 8 in }\ntype: { hyphenate: true }\n", (80, 24));
    press(&mut state, KeyCode::F(10));
    stand(&mut state, "Book", "language");
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::End);
    press(&mut state, KeyCode::Enter);
    typed(&mut state, "tlh");
    press(&mut state, KeyCode::Enter);
    assert!(told(&mut state).contains("type.hyphenate: there are no hyphenation patterns"), "{}", told(&mut state));
}

#[test]
fn terms_names_and_wordings_are_added_taken_from_the_copy_and_taken_away() {
    let mut state = desk((120, 40));
    let terms = |state: &State| state.brief().terms.wanted.iter().map(|term| term.term.clone()).collect::<Vec<_>>();
    let before = terms(&state);
    press(&mut state, KeyCode::Down);
    press(&mut state, KeyCode::Down);
    press(&mut state, KeyCode::F(10));
    // Outside a list what is to be added is asked first.
    press(&mut state, KeyCode::Char('a'));
    assert!(told(&mut state).contains("What is to be added?"));
    click(&mut state, "a wording to avoid", 1);
    typed(&mut state, "once upon");
    press(&mut state, KeyCode::Enter);
    assert_eq!(state.brief().terms.avoid.last().map(String::as_str), Some("once upon"));
    stand(&mut state, "Terms", "term");
    press(&mut state, KeyCode::Char('c'));
    assert_eq!(terms(&state).last().map(String::as_str), Some("Every"));
    assert!(told(&mut state).contains("\"Every\" is a term now."));
    press(&mut state, KeyCode::Delete);
    assert!(told(&mut state).contains("term: Every is taken away; u brings it back."));
    assert_eq!(terms(&state), before);
    press(&mut state, KeyCode::Char('u'));
    assert_eq!(terms(&state).len(), before.len() + 1);
    stand(&mut state, "Names in the book", "name");
    press(&mut state, KeyCode::Char('c'));
    assert!(state.brief().book.names.iter().any(|name| name.name == "Every"));
}

#[test]
fn terms_are_taken_from_the_storys_own_words() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(10));
    let asked = press(&mut state, KeyCode::Char('s'));
    assert!(matches!(asked.as_slice(), [Effect::ReadStory { typed, .. }] if typed.is_empty()), "{asked:?}");
    done(&mut state, Outcome::NoStory { why: "No text stands beside the brief: name the file.".to_owned() });
    assert!(told(&mut state).contains("The file of the story:"));
    typed(&mut state, "tide.txt");
    let asked = press(&mut state, KeyCode::Enter);
    assert!(matches!(asked.as_slice(), [Effect::ReadStory { typed, .. }] if typed == "tide.txt"), "{asked:?}");
    done(&mut state, Outcome::StoryRead { words: vec![("teapot".to_owned(), 3), ("kelp".to_owned(), 1)] });
    assert!(told(&mut state).contains("teapot, 3 times") && told(&mut state).contains("kelp, 1 time"));
    press(&mut state, KeyCode::Enter);
    assert!(told(&mut state).contains("\"teapot\" is a term now.") && !told(&mut state).contains("teapot, 3"));
    press(&mut state, KeyCode::Esc);
    assert!(matches!(&state.mode, Mode::Book(page) if page.choosing.is_none()));
    assert!(state.brief().terms.wanted.iter().any(|term| term.term == "teapot"));
}

/// What is tried on the pages of type and panel goes along with a changed row, and is written with it.
#[test]
fn what_is_tried_elsewhere_stays_and_is_written_together() {
    let mut state = desk((120, 40));
    for key in [KeyCode::F(7), KeyCode::Char('+'), KeyCode::Char('p'), KeyCode::Down, KeyCode::Right] {
        press(&mut state, key);
    }
    press(&mut state, KeyCode::F(10));
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::F(10));
    let size = state.brief().typography.blurb.size;
    let trim = state.brief().panel.trim;
    stand(&mut state, "Limits of the blurb", "words");
    fill_in(&mut state, "40..90");
    assert_eq!((state.brief().typography.blurb.size, state.brief().panel.trim), (size, trim));
    let text = written(BRIEF, &press(&mut state, KeyCode::Char('w')));
    let read = Brief::read(&text, Path::new("")).expect("a brief");
    assert_eq!((read.typography.blurb.size, read.panel.trim), (size, trim));
    assert!(text.contains("words: 40..90"));
    // A row of the type has the last word, and the page of type goes on from it.
    stand(&mut state, "Type of the blurb", "size");
    fill_in(&mut state, "11");
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::F(7));
    assert_eq!(state.brief().typography.blurb.size.to_pt().round() as i64, 11);
    press(&mut state, KeyCode::Char('+'));
    assert!(written(BRIEF, &press(&mut state, KeyCode::Char('w'))).contains("size: 11.5 pt"));
}

#[test]
fn a_brief_that_another_program_changed_waits_until_changes_are_taken_back() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(10));
    stand(&mut state, "Book", "title");
    fill_in(&mut state, "The Tide");
    let other = Brief::read(&BRIEF.replace("40..100", "40..99"), Path::new("")).expect("a brief");
    done(&mut state, Outcome::BriefChanged { brief: Box::new(other), faces: Faces::built_in() });
    assert!(told(&mut state).contains("Another program has changed the brief."));
    assert_eq!(state.brief().book.title, "The Tide");
    press(&mut state, KeyCode::Char('u'));
    assert!(state.book_rows().iter().any(|row| row.own.as_deref() == Some("40..99")));
}

/// A changed brief is not lost by leaving; fonts that are named are read before they are gone by.
#[test]
fn leaving_asks_and_a_font_is_read_first() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(10));
    stand(&mut state, "Type of the blurb", "font");
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::End);
    press(&mut state, KeyCode::Enter);
    typed(&mut state, "face.ttf");
    let asked = press(&mut state, KeyCode::Enter);
    assert!(matches!(asked.as_slice(), [Effect::ReadNamed { .. }]), "{asked:?}");
    assert!(!state.is_brief_changed());
    done(&mut state, Outcome::Failed("There is no such file.".to_owned()));
    assert!(matches!(&state.mode, Mode::Prompt(Prompt::Row(_), line) if line.text() == "face.ttf"));
    let Some(Effect::ReadNamed { brief }) = press(&mut state, KeyCode::Enter).pop() else { panic!("it is read again") };
    done(&mut state, Outcome::NamedRead { brief, faces: Faces::built_in() });
    assert!(state.is_brief_changed() && matches!(state.mode, Mode::Book(_)));
    // The draft, which is not in sight, is neither selected nor changed from here.
    control(&mut state, 'a');
    assert!(matches!(state.mode, Mode::Book(_)) && state.sheet().expect("a sheet").editor.selected().is_none());
    control(&mut state, 'z');
    assert!(!state.is_brief_changed());
    stand(&mut state, "Book", "author");
    fill_in(&mut state, "N. N.");
    assert!(control(&mut state, 'q').is_empty() && matches!(state.mode, Mode::Leaving));
    let asked = press(&mut state, KeyCode::Char('s'));
    assert!(matches!(asked.as_slice(), [Effect::WriteBrief { .. }, Effect::Leave]), "{asked:?}");
}

#[test]
fn any_keys_on_the_page_leave_a_brief_that_can_be_written_at_every_size() {
    let keys = ['a', 'c', 'u', 'x', '\r', '\t', '>', '<', 'v', '^', 'e', 'p'];
    for (turn, size) in [(40, 12), (80, 24), (120, 40), (200, 60)].into_iter().enumerate() {
        let mut state = desk(size);
        press(&mut state, KeyCode::F(10));
        let mut dice = turn as u32 * 7919 + 17;
        for _ in 0..60 {
            dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let code = match keys[(dice >> 16) as usize % keys.len()] {
                '\r' => KeyCode::Enter,
                '\t' => KeyCode::PageDown,
                '>' => KeyCode::Right,
                '<' => KeyCode::Left,
                'v' => KeyCode::Down,
                '^' => KeyCode::Up,
                'e' => KeyCode::Esc,
                'p' => KeyCode::End,
                letter => KeyCode::Char(letter),
            };
            press(&mut state, code);
            if matches!(state.mode, Mode::Writing) {
                press(&mut state, KeyCode::F(10));
            }
            settle(&mut state);
        }
        drop(screen(&mut state));
        press(&mut state, KeyCode::Esc);
        press(&mut state, KeyCode::Esc);
        press(&mut state, KeyCode::F(10));
        if state.has_more_than_brief() {
            let text = written(BRIEF, &press(&mut state, KeyCode::Char('w')));
            Brief::read(&text, Path::new("")).expect("a brief");
        }
    }
}

/// Changes that are not written go to the recovery file as unsaved words do, and what is written leaves it.
#[test]
fn changes_of_the_brief_that_are_not_written_are_kept_and_asked_about() {
    let mut state = desk((80, 24));
    assert!(update(&mut state, Event::Pause).is_empty() && !state.is_at_risk());
    press(&mut state, KeyCode::F(10));
    stand(&mut state, "Limits of the blurb", "words");
    fill_in(&mut state, "40..60");
    assert!(state.is_at_risk());
    let kept = update(&mut state, Event::Pause);
    let [Effect::AutosaveBrief { changes, revision }] = kept.as_slice() else { panic!("{kept:?}") };
    assert_eq!(rewritten(BRIEF, changes), Ok(BRIEF.replace("40..100", "40..60")));
    done(&mut state, Outcome::BriefAutosaved { revision: *revision, has_some: true });
    assert!(update(&mut state, Event::Pause).is_empty() && !state.is_at_risk());
    // Taken back, there is nothing to keep.
    press(&mut state, KeyCode::Char('u'));
    let kept = update(&mut state, Event::Pause);
    let [Effect::AutosaveBrief { changes, revision }] = kept.as_slice() else { panic!("{kept:?}") };
    assert!(changes.is_empty());
    done(&mut state, Outcome::BriefAutosaved { revision: *revision, has_some: false });
    assert!(!state.is_at_risk());
    assert_eq!(control(&mut state, 'q'), [Effect::Leave]);
    // A panel that is tried is asked about as well, and written where that is the answer.
    press(&mut state, KeyCode::F(4));
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Right);
    assert!(state.is_at_risk());
    assert_eq!(control(&mut state, 'q'), []);
    assert!(matches!(state.mode, Mode::Leaving), "{}", told(&mut state));
    let asked = press(&mut state, KeyCode::Char('s'));
    assert!(matches!(asked.as_slice(), [Effect::WriteBrief { .. }, Effect::Leave]), "{asked:?}");
}

#[test]
fn changes_of_an_earlier_desk_are_offered_once_nothing_else_is_asked() {
    let kept = BRIEF.replace("40..100", "40..60");
    let mut state = desk((80, 24));
    let first = state.front;
    done(&mut state, Outcome::Recovered { draft: first, text: "Others.\n".to_owned() });
    done(&mut state, Outcome::BriefRecovered { here: BRIEF.to_owned(), kept: kept.clone() });
    assert!(told(&mut state).contains("Unsaved words were kept:"));
    press(&mut state, KeyCode::Esc);
    assert!(told(&mut state).contains("Changes of the brief were kept:"), "{}", told(&mut state));
    assert!(told(&mut state).contains("what only the brief here has"), "{}", told(&mut state));
    assert!(told(&mut state).contains("{100 > 60}") || told(&mut state).contains("60"), "{}", told(&mut state));
    assert_eq!(press(&mut state, KeyCode::Char('t')), [Effect::AcceptBrief]);
    let brief = Brief::read(&kept, Path::new("")).expect("a brief");
    done(&mut state, Outcome::NamedRead { brief: Box::new(brief), faces: Faces::built_in() });
    assert!(state.is_brief_changed() && told(&mut state).contains("brief not written"));
}

/// A brief that another program has broken does not stop the desk, and is mended in it.
#[test]
fn a_brief_that_breaks_while_the_desk_is_open_is_mended_there() {
    let broken = "book:\n  titel: Gull\n";
    let found =
        |text: &str| Outcome::BriefUnread(Box::new(MendedText::new(text.to_owned(), Some(2), "No key.".into())));
    for size in [(80, 24), (120, 40), (200, 60), (40, 12)] {
        let mut state = desk(size);
        done(&mut state, found(broken));
        assert!(state.said.as_deref().is_some_and(|said| said.contains("F10 mends it")));
        state.theme = state.theme.with_keyboard(Keyboard::Short);
        done(&mut state, found(broken));
        assert!(state.said.as_deref().is_some_and(|said| said.contains("Esc 0 mends it")));
        press(&mut state, KeyCode::F(10));
        let shown = screen(&mut state);
        assert!(shown.iter().any(|row| row.contains("▸") && row.contains("titel: Gull")), "{}", shown.join("\n"));
        typed(&mut state, "xy");
        assert!(update(&mut state, Event::Paste("z".to_owned())).is_empty());
        let text = "book:\nxyz  titel: Gull\n";
        let asked = control(&mut state, 's');
        assert_eq!(asked, [Effect::MendBrief { read: broken.to_owned(), text: text.to_owned() }]);
        done(&mut state, found(text));
        assert_eq!(state.said.as_deref(), Some("The brief is written, and cannot be read yet."));
        // What another program has written meanwhile is shown, and what was typed is a step back.
        done(&mut state, found("other: 1\n"));
        assert!(matches!(&state.mode, Mode::Mending(mended) if mended.editor.text() == "other: 1\n"));
        control(&mut state, 'z');
        assert!(matches!(&state.mode, Mode::Mending(mended) if mended.editor.text() == text));
        let brief = Brief::read(BRIEF, Path::new("")).expect("a brief");
        // A brief that another program has put right takes nothing from what was typed.
        done(&mut state, Outcome::BriefChanged { brief: Box::new(brief.clone()), faces: Faces::built_in() });
        assert!(matches!(&state.mode, Mode::Mending(mended) if mended.editor.text() == text));
        done(&mut state, Outcome::BriefMended { brief: Box::new(brief), faces: Faces::built_in() });
        assert_eq!(state.said.as_deref(), Some("The brief is written, and can be read now."));
        assert!(matches!(state.mode, Mode::Writing));
    }
}

/// What is typed to mend a brief goes to its recovery file, and stays on its page when that is left.
#[test]
fn what_is_typed_to_mend_a_brief_is_kept() {
    let broken = "book:\n  titel: Gull\n";
    let found = || Outcome::BriefUnread(Box::new(MendedText::new(broken.to_owned(), Some(2), "No key.".into())));
    let mut state = desk((80, 24));
    done(&mut state, found());
    press(&mut state, KeyCode::F(10));
    assert!(!state.is_at_risk());
    typed(&mut state, "xy");
    let typed_text = "book:\nxy  titel: Gull\n".to_owned();
    let text = Some(typed_text.clone());
    assert!(state.is_at_risk());
    assert_eq!(update(&mut state, Event::Pause), [Effect::AutosaveMended { text: text.clone() }]);
    done(&mut state, Outcome::MendedAutosaved { text: text.clone() });
    assert!(!state.is_at_risk());
    for leaves in ["Esc", "another program"] {
        let front = state.front;
        let asked = match leaves {
            "Esc" => press(&mut state, KeyCode::Esc),
            _ => done(&mut state, Outcome::ChangedOutside { draft: front }),
        };
        assert_eq!(asked, [], "{leaves}");
        assert!(!matches!(state.mode, Mode::Mending(_)) && !state.is_at_risk(), "{leaves}");
        if leaves == "another program" {
            press(&mut state, KeyCode::Esc);
        }
        assert!(told(&mut state).contains("What you typed of the brief is not written:"), "{}", told(&mut state));
        press(&mut state, KeyCode::F(10));
        assert!(matches!(&state.mode, Mode::Mending(mended) if Some(mended.editor.text()) == text.as_deref()));
    }
    press(&mut state, KeyCode::Esc);
    assert!(control(&mut state, 'q').is_empty() && matches!(state.mode, Mode::Leaving), "{:?}", state.mode);
    let asked = press(&mut state, KeyCode::Char('s'));
    let written = Effect::MendBrief { read: broken.to_owned(), text: typed_text };
    assert_eq!(asked, [written, Effect::Leave]);
}

/// As long as the brief cannot be read, the desk says so.
#[test]
fn a_brief_that_is_not_mended_is_told_until_it_is() {
    for size in [(80, 24), (120, 40)] {
        let mut state = desk(size);
        done(&mut state, Outcome::BriefUnread(Box::new(MendedText::new("{".to_owned(), None, "No brief.".into()))));
        for key in [KeyCode::F(10), KeyCode::Esc, KeyCode::Right, KeyCode::Left] {
            press(&mut state, key);
        }
        let shown = told(&mut state);
        assert!(shown.contains("The brief cannot be read:") && shown.contains("F10 mends it"), "{shown}");
        let brief = Brief::read(BRIEF, Path::new("")).expect("a brief");
        done(&mut state, Outcome::BriefChanged { brief: Box::new(brief), faces: Faces::built_in() });
        assert!(!told(&mut state).contains("cannot be read"), "{}", told(&mut state));
    }
}

/// A type that is tried is no more lost by leaving than a panel.
#[test]
fn a_type_that_is_tried_is_kept_and_asked_about() {
    let mut state = desk((80, 24));
    for key in [KeyCode::F(7), KeyCode::Char('+'), KeyCode::Char('+'), KeyCode::Esc] {
        press(&mut state, key);
    }
    let kept = update(&mut state, Event::Pause);
    let [Effect::AutosaveBrief { changes, .. }] = kept.as_slice() else { panic!("{kept:?}") };
    assert!(rewritten(BRIEF, changes).is_ok_and(|text| text != BRIEF));
    assert!(control(&mut state, 'q').is_empty() && matches!(state.mode, Mode::Leaving));
    let asked = press(&mut state, KeyCode::Char('s'));
    assert!(matches!(asked.as_slice(), [Effect::WriteBrief { .. }, Effect::Leave]), "{asked:?}");
}
