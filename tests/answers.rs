//! What a blurb answers: an answer changes nothing that is printed, comes back as it was typed, and survives whatever
//! the copy goes through.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::book::BookKind;
use blurbwright::brief::stet::Stet;
use blurbwright::briefing::questions::{BlurbAnswers, BlurbQuestion, answer_edits, kept, with_questions};
use blurbwright::briefing::start::{Answers, first_draft};
use blurbwright::desk::mode::{AnswersPage, Mode};
use blurbwright::desk::{Effect, Event, Outcome, State, update};
use blurbwright::draft::{Draft, edited};
use blurbwright::print::json::{self, Style};
use blurbwright::print::level_data::LevelDetail;
use blurbwright::print::report_data::ReportJson;
use blurbwright::print::text::{self, ReportPage};
use blurbwright::report::differences::Differences;
use blurbwright::report::mends::ArtAdvice;
use blurbwright::report::tighten::{DraftFile, Tighten, mark_edits};
use blurbwright::report::{Assessment, ReportMemory, assess};
use blurbwright::setting::Faces;
use blurbwright::terms::answers;
use proptest::prelude::*;
use ratatui::crossterm::event::{KeyCode, MouseButton, MouseEventKind};
use ratatui::style::Modifier;

use crate::desk_harness::{
    BRIEF, DRAFT, click, control, desk, desk_on, done, draft, drawn, mouse, press, screen, text as words, typed,
};
use crate::tried::law;

const KIND: BookKind = BookKind::PictureBook;

fn brief() -> Brief {
    Brief::read(BRIEF, Path::new("")).expect("a brief")
}

fn answer(source: &str, question: BlurbQuestion) -> String {
    BlurbAnswers::of(&Draft::read(source), KIND).all[question as usize].text.clone()
}

fn with_answer(source: &str, question: BlurbQuestion, answer: &str) -> String {
    edited(source, &answer_edits(source, question, KIND, answer).expect("a place for the comment"))
}

/// Whatever the copy is made of, and whatever is left open in it.
fn source() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        6 => "[a-zA-Zéя]{1,9}[,.!?]? ",
        6 => prop::sample::select(vec![
            "\n", "\n\n", "\n\n", "\r\n", "# ", "\n\n# Head\n\n", "\n\n## Other titles\n\n", "> ",
            "\n\n> \"Said.\"\n> — Who\n\n",
            "\n- ", "\n1. ", "    ", "\t", "*", "_", "`", "\n```\n", "<!-- ", " -->", "-->", "\n<!-- Own. -->\n",
            "<div>", "<b>",
            "\n<div>\n", "\n<script>\n", "&amp;", "[a]: b\n", "---\n", "===\n", "\\", "\u{feff}", "\0",
            "very big ", "\"Yes\" ",
            "\n\n<!-- What goes wrong? The storm. -->\n\n", "<!-- What goes wrong? -->", "The lamp ", "Oona ",
        ]).prop_map(str::to_owned),
    ];
    prop::collection::vec(piece, 0..30).prop_map(|pieces| pieces.concat())
}

/// Whatever an author may type or paste, and all that might break a comment.
fn typed_answer() -> impl Strategy<Value = String> {
    let pieces = vec![
        "-->",
        "--",
        ">",
        "\\",
        "--\\>",
        "<!--",
        "?",
        "\n",
        "\n\n",
        "\r\n",
        " ",
        "Oona ",
        "маяк ",
        "灯台",
        "```",
        "<b>",
        "# ",
        "What goes wrong?",
        "\u{feff}",
        "\u{85}",
    ];
    let made = prop::collection::vec(prop::sample::select(pieces), 0..12).prop_map(|pieces| pieces.concat());
    prop_oneof![4 => made, 1 => any::<String>()]
}

/// The page of a report without its notes, whose lines move on where a comment stands above them, and the queries.
fn told(source: &str) -> (String, Vec<String>, String) {
    let (draft, advice) = (Draft::read(source), ArtAdvice::default());
    let found = Assessment::of(&draft, &brief(), &Faces::built_in(), &mut ReportMemory::default());
    let mut report = found.report;
    let notes = std::mem::take(&mut report.notes).into_iter().map(|note| note.text).collect();
    let page = ReportPage { path: "draft.md", title: "", source, columns: 80, advice: &advice };
    (text::written(&report, &page), notes, format!("{:?}{:?}", found.queries, found.drawings))
}

proptest! {
    #![proptest_config(law(300))]

    /// With and without an answer the copy is measured, set, drawn and queried alike, byte for byte, and the answer
    /// comes back; so it is with another answer in its place, and with none.
    #[test]
    fn an_answer_changes_nothing_that_is_printed_and_comes_back(
        source in source(), one in typed_answer(), other in typed_answer(), number in 0..6_usize
    ) {
        let question = BlurbQuestion::ALL[number];
        let mut file = source.clone();
        let before = told(&source);
        for typed in [one.as_str(), other.as_str()] {
            let edits = answer_edits(&file, question, KIND, typed);
            prop_assert!(edits.is_some(), "no place in {:?} for {:?}", file, typed);
            file = edited(&file, &edits.unwrap_or_default());
            // Where the answer goes, another comment on the same question may come forward.
            let read = answer(&file, question);
            prop_assert!(read == kept(typed) || kept(typed).is_empty(), "{:?} of {:?} in {:?}", read, typed, file);
            prop_assert_eq!(&told(&file), &before, "{:?}", file);
        }
    }

    /// Every other comment stands as it was.
    #[test]
    fn an_answer_leaves_other_comments_alone(source in source(), typed in typed_answer(), number in 0..6_usize) {
        let question = BlurbQuestion::ALL[number];
        let own = BlurbAnswers::of(&Draft::read(&source), KIND).all[number].span;
        let draft = Draft::read(&source);
        let others: Vec<&str> =
            draft.comments.iter().filter(|comment| Some(comment.span) != own).map(|one| one.text.as_str()).collect();
        let file = with_answer(&source, question, &typed);
        let read = Draft::read(&file);
        let mut left = others.iter();
        let mut wanted = left.next();
        for comment in &read.comments {
            if wanted.is_some_and(|text| *text == comment.text) {
                wanted = left.next();
            }
        }
        // A comment at the head may take its place before or behind them, and never out of their order.
        prop_assert_eq!(wanted, None, "{:?}", file);
    }
}

#[test]
fn a_report_says_nothing_of_answers_where_there_are_none() {
    let found = answers::find(DRAFT, &Draft::read(DRAFT), &brief().book);
    assert_eq!(text::answers(&found, 80), "");
    let report = assess(&Draft::read(DRAFT), &brief(), &Faces::built_in());
    let as_json = || ReportJson::of(&report, &ArtAdvice::default(), LevelDetail::Values, ("a.md", "brief.yaml"));
    let plain = json::written(&as_json(), Style::Compact);
    assert_eq!(json::written(&as_json().with_answers(&found), Style::Compact), plain);
    let answered = with_answer(DRAFT, BlurbQuestion::Who, "Oona");
    let found = answers::find(&answered, &Draft::read(&answered), &brief().book);
    let more = json::written(&as_json().with_answers(&found), Style::Compact);
    let rest = more.strip_prefix(plain.trim_end_matches('}')).expect("the report comes first and is as it was");
    assert!(rest.starts_with(",\"answers\":{\"asked\":6,\"answered\":1,"), "{rest}");
}

#[test]
fn a_page_tells_each_question_with_what_of_its_answer_stands_in_the_copy() {
    let mut file =
        with_answer("# Wool\n\nMaro kept sheep.\n", BlurbQuestion::Who, "Maro, who keeps a sheep and a goat");
    file = with_answer(&file, BlurbQuestion::Obstacle, "знает --> она");
    file.push_str("\n<!-- What gose wrong? x -->\n\n<!-- Whom does the child meet? A goat. -->\n");
    let told = text::answers(&answers::find(&file, &Draft::read(&file), &brief().book), 200);
    let lines: Vec<&str> = told.split("- ").map(str::trim).collect();
    assert_eq!(
        lines[1..=3].iter().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect::<Vec<_>>(),
        [
            "Whom does the child meet? Not in the copy: goat. In the copy: Maro (line 3) and sheep (line 3). Line 15 \
             answers it again and is not read: one comment holds the answer.",
            "What do they want or do? Not answered.",
            "What goes wrong? Not in the copy: знает.",
        ],
        "{told}"
    );
    assert!(told.starts_with("Answers  2 of 6 questions are answered"), "{told}");
    assert!(told.contains("Line 13 asks \"What gose wrong?\""), "{told}");
}

/// All cuts, all marks and all differences that can be taken over are made in the file, and no comment goes with them.
#[test]
fn what_is_answered_stands_whatever_happens_to_the_copy() {
    let comments = |source: &str| -> Vec<String> {
        Draft::read(source).comments.into_iter().map(|comment| comment.text).collect()
    };
    let copy = "# The the lamp\n\nIn order to see, each and every gull waits.\n\n\"Really,\" she makes a decision.\n";
    let mut file =
        copy.replace("\n\n\"", "\n\n<!-- Why will a child ask for it again?\nThe the very \"light\".\n-->\n\n\"");
    file = with_answer(&file, BlurbQuestion::Stakes, "In order to see -- very 'brave'...");
    let (draft, brief, faces) = (Draft::read(&file), brief(), Faces::built_in());
    let own = comments(&file);
    assert_eq!(own.len(), 2);
    let report = assess(&draft, &brief, &faces);
    let stet = Stet::default();
    let found = Tighten::of(DraftFile { name: "a.md", source: &file, stet: &stet }, &draft, &brief, &faces, &report);
    assert!(found.cuts.len() > 1, "{:?}", found.cuts);
    let cuts: Vec<_> = found.cuts.iter().map(|cut| cut.edit.clone()).collect();
    for changed in [edited(&file, &cuts), edited(&file, &mark_edits(&draft, &brief))] {
        assert!(changed != file && comments(&changed) == own, "{changed}");
    }
    for other in ["# A lamp\n\nOona.\n", "New.\n\n\"Really,\" she makes a decision.\n\n> A quote.\n> — Bo\n", ""] {
        let after = Draft::read(other);
        let differences = Differences::of(&draft, &after);
        let edits = differences.edits(&file, |_| true).expect("all can be taken over");
        assert_eq!(comments(&edited(&file, &edits)), own, "{other}");
    }
    assert!(Draft::read(copy).prints_like(&draft), "two drafts that differ in answers alone are the same copy");
}

#[test]
fn a_first_draft_asks_every_question_and_has_the_answers_that_were_given() {
    for kind in BookKind::ALL {
        let answers = Answers { kind, ..Answers::default() };
        let told =
            [(BlurbQuestion::Want, " To light --> the lamp. ".to_owned()), (BlurbQuestion::Reason, String::new())];
        let draft = with_questions(first_draft(&answers), kind, &told);
        let read = Draft::read(&draft);
        assert!(read.prints_like(&Draft::read(&first_draft(&answers))) && read.notes.is_empty(), "{draft}");
        let found = BlurbAnswers::of(&read, kind);
        assert!(found.all.iter().all(|answer| answer.span.is_some() && answer.asked == answer.question.asked(kind)));
        let texts: Vec<&str> = found.all.iter().map(|answer| answer.text.as_str()).collect();
        assert_eq!(texts, ["", "To light --> the lamp.", "", "", "", ""]);
    }
}

fn page(state: &State) -> &AnswersPage {
    match &state.mode {
        Mode::Answers(page) => page,
        other => panic!("{other:?}"),
    }
}

fn open(state: &mut State) {
    control(state, 'n');
    assert!(matches!(state.mode, Mode::Answers(_)));
}

#[test]
fn an_answer_typed_at_the_desk_is_in_the_draft_and_one_step_of_undo() {
    let mut state = desk((80, 24));
    open(&mut state);
    typed(&mut state, "Oona and her");
    press(&mut state, KeyCode::Enter);
    typed(&mut state, "lamps");
    press(&mut state, KeyCode::Backspace);
    assert!(
        words(&state).ends_with("\n\n<!-- Whom does the child meet?\nOona and her\nlamp\n-->\n"),
        "{}",
        words(&state)
    );
    press(&mut state, KeyCode::Tab);
    typed(&mut state, "Light.");
    let both = words(&state).to_owned();
    press(&mut state, KeyCode::Esc);
    assert!(matches!(state.mode, Mode::Writing));
    control(&mut state, 'z');
    assert!(words(&state).ends_with("lamp\n-->\n"));
    control(&mut state, 'z');
    assert_eq!(words(&state), DRAFT);
    control(&mut state, 'y');
    control(&mut state, 'y');
    assert_eq!(words(&state), both);
    // What is there is changed in its place, as one step too, and the page opens at what is not answered.
    open(&mut state);
    assert_eq!(page(&state).at, 2);
    press(&mut state, KeyCode::PageUp);
    assert_eq!(page(&state).field.text(), "Light.");
    typed(&mut state, " And");
    typed(&mut state, " oil.");
    assert_eq!(words(&state), both.replace("Light.", "Light. And oil."));
    press(&mut state, KeyCode::Esc);
    control(&mut state, 'z');
    assert_eq!(words(&state), both);
}

#[test]
fn whatever_is_pasted_is_kept_and_saved_as_everything_is() {
    let mut state = desk_on("The lamp.\n", (80, 24));
    let front = state.front;
    open(&mut state);
    update(&mut state, Event::Paste("Уна --> маяк\r\n\r\n犬 --\\> \u{1b}x".to_owned()));
    assert!(matches!(&update(&mut state, Event::Pause)[..], [Effect::Autosave { text, .. }] if text.contains("маяк")));
    let saved = control(&mut state, 's');
    let [Effect::Save { content, .. }] = &saved[..] else { panic!("{saved:?}") };
    assert_eq!(answer(&content.text, BlurbQuestion::Who), "Уна --> маяк\n\n犬 --\\> x");
    assert_eq!(page(&state).at, 0, "the page stays open");
    // Another program writes the file meanwhile: its answer is shown.
    let other = with_answer("The lamp.\n", BlurbQuestion::Who, "Maro");
    done(&mut state, Outcome::Reread { draft: front, text: other.clone() });
    screen(&mut state);
    assert_eq!((page(&state).field.text(), words(&state)), ("Maro", other.as_str()));
    // An answer without words leaves its question, and undo in the page goes step by step.
    control(&mut state, 'a');
    press(&mut state, KeyCode::Delete);
    assert_eq!(words(&state), "The lamp.\n\n<!-- Whom does the child meet? -->\n");
    control(&mut state, 'z');
    assert_eq!((page(&state).field.text(), words(&state)), ("Maro", other.as_str()));
}

#[test]
fn what_stands_in_the_copy_is_marked_and_told_beside_it() {
    let mut state = desk((80, 24));
    open(&mut state);
    typed(&mut state, "Oona and a goat");
    let rows = screen(&mut state);
    let row = rows.iter().position(|row| row.contains("Every night, Oona climbs")).expect("the copy is in sight");
    let column = rows[row].chars().collect::<String>().find("Oona").expect("a name");
    let buffer = drawn(&mut state);
    let is_marked = |x: usize| buffer[(x as u16, row as u16)].modifier.contains(Modifier::UNDERLINED);
    assert!(is_marked(column) && is_marked(column + 3) && !is_marked(column + 5));
    assert!(rows.iter().any(|row| row.contains("Not in the copy: goat.")), "{}", rows.join("\n"));
    click(&mut state, "What goes wrong?", 1);
    assert_eq!(page(&state).at, 2);
    typed(&mut state, "A storm");
    screen(&mut state);
    let (field, row) = (state.areas().answers().field, state.areas().answers().field.y);
    mouse(&mut state, MouseEventKind::Down(MouseButton::Left), (field.x + 2, row), 1);
    typed(&mut state, "big ");
    assert_eq!(answer(words(&state), BlurbQuestion::Obstacle), "A big storm");
    // A click in the copy is back in the copy, and another command closes the page.
    click(&mut state, "Every night", 1);
    assert!(matches!(state.mode, Mode::Writing));
    open(&mut state);
    press(&mut state, KeyCode::F(6));
    assert!(!matches!(state.mode, Mode::Answers(_)));
}

#[test]
fn the_page_is_drawn_on_every_screen_whatever_the_answer_and_the_copy() {
    let long = "слово --> word ".repeat(500);
    for copy in ["", ".", "犬が灯台にいる。", DRAFT, "The lamp.\n\n<!-- open\n"] {
        for size in [(40, 12), (80, 24), (120, 40), (200, 60), (10, 4)] {
            let mut state = desk_on(copy, size);
            let second = draft(&mut state, "second.md");
            assert_ne!(second, state.front);
            open(&mut state);
            screen(&mut state);
            update(&mut state, Event::Paste(long.clone()));
            for code in [KeyCode::Up, KeyCode::End, KeyCode::Home, KeyCode::BackTab, KeyCode::Tab] {
                press(&mut state, code);
                screen(&mut state);
            }
            assert_eq!(answer(words(&state), BlurbQuestion::Who), long.trim());
            assert!(Draft::read(copy).prints_like(&Draft::read(words(&state))), "{copy}");
        }
    }
}
