//! The editor: what each action does, shown in the text itself, and what holds whatever is done.
//!
//! In the cases `|` is the cursor, and `[` the other end of the selection.

use std::ops::Range;
use std::time::{Duration, Instant};

use blurbwright::draft::{Edit, Span};
use blurbwright::editor::graphemes::{cells, is_edge};
use blurbwright::editor::motion::Motion;
use blurbwright::editor::wrap::wrap;
use blurbwright::editor::{Action, Editor};
use proptest::prelude::*;

use crate::tried::law;

/// An editor in the state that is shown.
fn editor(shown: &str) -> Editor {
    let mut editor = Editor::new(shown.replace(['|', '['], ""));
    let cursor = shown.replace('[', "").find('|').unwrap_or(0);
    let anchor = shown.replace('|', "").find('[').unwrap_or(cursor);
    editor.apply(Action::PlaceCursor(anchor), &[]);
    if anchor != cursor {
        editor.apply(Action::DragTo(cursor), &[]);
    }
    editor
}

fn shown(editor: &Editor) -> String {
    let mut text = editor.text().to_owned();
    let cursor = editor.cursor();
    let anchor = editor.selection().map(|range| if range.start == cursor { range.end } else { range.start });
    match anchor {
        Some(anchor) if anchor > cursor => {
            text.insert(anchor, '[');
            text.insert(cursor, '|');
        }
        Some(anchor) => {
            text.insert(cursor, '|');
            text.insert(anchor, '[');
        }
        None => text.insert(cursor, '|'),
    }
    text
}

/// Does the actions one after another, with the text wrapped at nine cells, and compares.
fn check(before: &str, actions: &[Action], after: &str) {
    let mut editor = editor(before);
    for action in actions {
        let rows = wrap(editor.text(), 9);
        editor.apply(action.clone(), &rows);
    }
    assert_eq!(shown(&editor), after, "{actions:?} on {before:?}");
}

fn typed(words: &str) -> Vec<Action> {
    words.chars().map(|character| Action::Insert(character.to_string())).collect()
}

fn moves(motion: Motion, before: &str, after: &str) {
    check(before, &[Action::Move(motion)], after);
}

#[test]
fn characters_go_in_and_out_at_the_cursor() {
    check("the | lamp", &typed("old"), "the old| lamp");
    check("the [old| lamp", &typed("new"), "the new| lamp");
    check("lamp|oil", &[Action::Newline], "lamp\n|oil");
    check("the cafe\u{301}|", &[Action::Backspace], "the caf|");
    check("|🇳🇬🇫🇷", &[Action::Delete], "|🇫🇷");
    check("👨\u{200d}👩\u{200d}👧|", &[Action::Backspace], "|");
    check("|lamp", &[Action::Backspace], "|lamp");
    check("lamp|", &[Action::Delete], "lamp|");
    check("the |old [lamp", &[Action::Backspace], "the |lamp");
    check("the [old| lamp", &[Action::Cut], "the | lamp");
    check("the| lamp", &[Action::Cut], "the| lamp");
}

#[test]
fn words_and_lines_go_at_once() {
    check("the old lamp|", &[Action::DeleteWordBack], "the old |");
    check("the old   |lamp", &[Action::DeleteWordBack], "the |lamp");
    check("lamp\n|oil", &[Action::DeleteWordBack], "lamp|oil");
    check("the| old lamp", &[Action::DeleteWordForward], "the| lamp");
    check("lamp|\noil", &[Action::DeleteWordForward], "lamp|oil");
    check("one\ntw|o\nthree", &[Action::DeleteLine], "one\n|three");
    check("one\ntw|o", &[Action::DeleteLine], "one|");
    check("only|", &[Action::DeleteLine], "|");
    check("one\ntw|o\n", &[Action::DeleteToLineEnd], "one\ntw|\n");
    check("one|\ntwo", &[Action::DeleteToLineEnd], "one|two");
    check("one\ntw|o", &[Action::DeleteToLineStart], "one\n|o");
    check("one\n|two", &[Action::DeleteToLineStart], "one|two");
}

#[test]
fn the_cursor_goes_by_words_rows_and_paragraphs() {
    moves(Motion::WordRight, "|the old", "the| old");
    moves(Motion::WordRight, "the| old", "the old|");
    moves(Motion::WordLeft, "the old |", "the |old ");
    moves(Motion::WordLeft, "don’t|", "|don’t");
    // In nine cells: `the lamp ` and `went out`.
    moves(Motion::RowEnd, "th|e lamp went out", "the lamp| went out");
    moves(Motion::RowStart, "the lamp we|nt out", "the lamp |went out");
    moves(Motion::RowEnd, "the lamp we|nt out", "the lamp went out|");
    moves(Motion::ParagraphDown, "o|ne\ntwo\n\n\nthree", "one\ntwo\n\n\n|three");
    moves(Motion::ParagraphDown, "one\n\nth|ree", "one\n\nthree|");
    moves(Motion::ParagraphUp, "one\n\ntwo\nth|ree", "one\n\n|two\nthree");
    moves(Motion::ParagraphUp, "one\ntwo\n\n|three", "|one\ntwo\n\nthree");
    moves(Motion::ParagraphUp, "\n\n|", "|\n\n");
    moves(Motion::TextEnd, "on|e", "one|");
    moves(Motion::TextStart, "on|e", "|one");
    moves(Motion::Left, "the |old [lamp", "the |old lamp");
    moves(Motion::Right, "the |old [lamp", "the old |lamp");
}

#[test]
fn up_and_down_hold_to_the_column_in_cells() {
    use Motion::{Down, PageDown, PageUp, Up};
    moves(Down, "the la|mp went out", "the lamp went o|ut");
    moves(Up, "the lamp went o|ut", "the la|mp went out");
    moves(Down, "日本|\nlantern", "日本\nlant|ern");
    moves(Down, "e\u{301}e\u{301}|e\nlantern", "e\u{301}e\u{301}e\nla|ntern");
    moves(Down, "lan|tern\n日本", "lantern\n日|本");
    moves(Up, "la|mp", "|lamp");
    moves(Down, "la|mp", "lamp|");
    moves(PageDown(3), "a|a\nbb\ncc\ndd\nee", "aa\nbb\ncc\nd|d\nee");
    moves(PageDown(30), "a|a\nbb\ncc", "aa\nbb\nc|c");
    moves(PageUp(30), "aa\nbb\nc|c", "a|a\nbb\ncc");
    let over_a_short_row = [Action::Move(Down), Action::Move(Down)];
    check("lanter|n\no\nlantern", &over_a_short_row, "lantern\no\nlanter|n");
    let and_a_turn = [Action::Move(Down), Action::Move(Motion::Left), Action::Move(Down)];
    check("lanter|n\nox\nlantern", &and_a_turn, "lantern\nox\nl|antern");
}

#[test]
fn what_is_selected() {
    check("the |old", &[Action::Select(Motion::WordRight)], "the [old|");
    check("the |old lamp", &[Action::Select(Motion::TextEnd), Action::Select(Motion::WordLeft)], "the [old |lamp");
    check("t|he old", &[Action::SelectAll], "[the old|");
    check("|the old lamp", &[Action::SelectWordAt(5)], "the [old| lamp");
    check("|the, old", &[Action::SelectWordAt(3)], "the[,| old");
    check("|the old\n", &[Action::SelectWordAt(7)], "the [old|\n");
    check("|", &[Action::SelectWordAt(0)], "|");
    check("the |old", &[Action::DragTo(6), Action::DragTo(1)], "t|he [old");
    check("the [old|", &[Action::PlaceCursor(1)], "t|he old");
    assert_eq!(editor("the [old| lamp").selected(), Some("old"));
}

#[test]
fn a_place_inside_a_character_is_brought_to_its_start() {
    check("|cafe\u{301}", &[Action::PlaceCursor(4)], "caf|e\u{301}");
    check("|👨\u{200d}👩", &[Action::PlaceCursor(7)], "|👨\u{200d}👩");
    check("|lamp", &[Action::PlaceCursor(70)], "lamp|");
}

#[test]
fn pasted_words_are_cleaned_and_one_step() {
    let paste = Action::Paste("one\r\ntwo\rthree\u{1b}31m\u{7}\tfour\u{9b}".to_owned());
    check("|", std::slice::from_ref(&paste), "one\ntwo\nthree31m\tfour|");
    check("a |b", &[paste, Action::Undo], "a |b");
}

#[test]
fn undone_by_words_and_done_again() {
    let undo = |count: usize| vec![Action::Undo; count];
    check("|", &[typed("the old lamp"), undo(1)].concat(), "the old |");
    check("|", &[typed("the old lamp"), undo(2)].concat(), "the |");
    check("|", &[typed("the old lamp"), undo(2), vec![Action::Redo]].concat(), "the old |");
    check("|", &[typed("the old"), undo(1), typed("x"), vec![Action::Redo; 3]].concat(), "the x|");
    check("the lamp|", &[vec![Action::Backspace; 6], undo(1)].concat(), "the |");
    check("the [old| lamp", &[Action::Backspace, Action::Undo], "the [old| lamp");
    check("the lamp|", &[Action::Undo, Action::Redo], "the lamp|");
}

fn edit(start: usize, end: usize, text: &str) -> Edit {
    Edit { span: Span { start, end }, text: text.to_owned() }
}

#[test]
fn edits_are_one_step_and_the_cursor_stays_with_its_words() {
    let cuts = Action::Replace(vec![edit(0, 4, ""), edit(8, 12, "light")]);
    check("the old lamp| went", std::slice::from_ref(&cuts), "old light| went");
    check("the old lamp we|nt", std::slice::from_ref(&cuts), "old light we|nt");
    check("the o|ld lamp went", std::slice::from_ref(&cuts), "o|ld light went");
    check("the old lamp we|nt", &[cuts, Action::Undo], "the old lamp we|nt");
    check("la|mp", &[Action::Replace(vec![edit(0, 9, "far too long"), edit(3, 1, "x")])], "la|mp");
}

#[test]
fn the_revision_is_another_after_each_change_only() {
    let mut editor = editor("lamp|");
    let mut last = editor.revision();
    let mut changes = |action: Action, expected: bool| {
        editor.apply(action.clone(), &[]);
        assert_eq!(editor.revision() != last, expected, "{action:?}");
        last = editor.revision();
    };
    changes(Action::Insert("s".to_owned()), true);
    changes(Action::Move(Motion::Left), false);
    changes(Action::Undo, true);
    changes(Action::Undo, false);
    changes(Action::Redo, true);
    changes(Action::Insert(String::new()), false);
    changes(Action::Replace(Vec::new()), false);
}

#[test]
fn a_long_text_stays_quick_under_the_hands() {
    let mut editor = Editor::new("The lamp at the point went out again.\n".repeat(28_000));
    assert!(editor.text().len() > 1_000_000);
    let rows: Vec<Range<usize>> = (0..28_000).map(|line| line * 38..line * 38 + 37).collect();
    editor.apply(Action::PlaceCursor(500_000), &rows);
    let start = Instant::now();
    for action in
        typed("a hundred characters, typed into the middle of a very long text: ").into_iter().cycle().take(500)
    {
        editor.apply(action, &rows);

        editor.apply(Action::Move(Motion::Down), &rows);

        editor.apply(Action::Move(Motion::WordLeft), &rows);
    }
    // Copies of the whole text at each key would take some seconds in a build without optimisation.
    assert!(start.elapsed() < Duration::from_secs(1), "{:?}", start.elapsed());
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-c \n.,’\u{301}-]{0,6}",
        1 => prop::sample::select(vec![
            "👨\u{200d}👩\u{200d}👧", "\u{200d}", "🇫🇷", "🇫", "👍", "🏽", "日本", "한", "\u{1112}", "\u{1161}", "\r\n", "\r",
            "\u{7}", "\t", "\u{94d}", "क", "ﾞ", "\u{200b}", "\u{202e}", "שלום",
        ]).prop_map(str::to_owned),
        1 => any::<String>(),
    ]
}

fn motion() -> impl Strategy<Value = Motion> {
    use Motion::*;
    prop_oneof![
        prop::sample::select(vec![
            Left,
            Right,
            Up,
            Down,
            WordLeft,
            WordRight,
            RowStart,
            RowEnd,
            ParagraphUp,
            ParagraphDown,
            TextStart,
            TextEnd,
        ]),
        (0_usize..9).prop_map(PageUp),
        (0_usize..9).prop_map(PageDown),
    ]
}

fn action() -> impl Strategy<Value = Action> {
    use Action::*;
    let at = || 0_usize..60;
    let edits = prop::collection::vec((at(), at(), words()), 0..4);
    prop_oneof![
        4 => words().prop_map(Insert),
        1 => words().prop_map(Paste),
        4 => motion().prop_map(Move),
        3 => motion().prop_map(Select),
        1 => at().prop_map(SelectWordAt),
        1 => at().prop_map(PlaceCursor),
        1 => at().prop_map(DragTo),
        1 => edits.prop_map(|edits| Replace(edits.iter().map(|(start, end, text)| edit(*start, *end, text)).collect())),
        6 => prop::sample::select(vec![
            Newline, Backspace, Delete, DeleteWordBack, DeleteWordForward, DeleteLine, DeleteToLineEnd,
            DeleteToLineStart, SelectAll, Cut, Undo, Undo, Redo, Redo,
        ]),
    ]
}

/// Rows as wrapped, or as no display would have them.
fn rows_of(text: &str, width: usize) -> Vec<Range<usize>> {
    match width {
        0 => Vec::new(),
        1 => vec![1..4, 5..70, Range { start: 9, end: 6 }],
        width => wrap(text, width),
    }
}

proptest! {
    #![proptest_config(law(1500))]

    #[test]
    fn whatever_is_done_can_be_undone_and_no_character_is_cut(
        start in words(),
        actions in prop::collection::vec((action(), 0_usize..12), 0..40),
    ) {
        let mut editor = Editor::new(start.clone());
        for (action, width) in actions {
            let (before, revision) = (editor.text().to_owned(), editor.revision());
            editor.apply(action.clone(), &rows_of(&before, width));
            let text = editor.text();
            prop_assert!(is_edge(text, editor.cursor()), "{action:?}: cursor {} in {text:?}", editor.cursor());
            if let Some(range) = editor.selection() {
                let is_whole = is_edge(text, range.start) && is_edge(text, range.end);
                prop_assert!(!range.is_empty() && is_whole, "{range:?} in {text:?}");
            }
            prop_assert!(text == before || editor.revision() != revision);
        }
        redo_all(&mut editor);
        let end = editor.text().to_owned();
        undo_all(&mut editor);
        prop_assert_eq!(editor.text(), &start);
        redo_all(&mut editor);
        prop_assert_eq!(editor.text(), &end);
        undo_all(&mut editor);
        prop_assert_eq!(editor.text(), &start);
    }

    #[test]
    fn left_and_right_are_each_others_way_back(text in words(), at in 0_usize..40) {
        let mut editor = Editor::new(text);
        editor.apply(Action::PlaceCursor(at), &[]);
        let place = editor.cursor();
        editor.apply(Action::Move(Motion::Right), &[]);
        if editor.cursor() != place {
            prop_assert!(cells(&editor.text()[place..editor.cursor()]) <= 40);
            editor.apply(Action::Move(Motion::Left), &[]);
            prop_assert_eq!(editor.cursor(), place);
        }
    }

    #[test]
    fn what_is_found_reads_as_what_was_sought(text in words(), needle in "[a-c \u{301}]{1,2}", from in 0_usize..20) {
        let editor = Editor::new(text);
        if let Some(range) = editor.find(&needle, from) {
            prop_assert!(is_edge(editor.text(), range.start) && is_edge(editor.text(), range.end));
            prop_assert!(!range.is_empty());
        }
    }
}

fn did(editor: &mut Editor, action: Action) -> bool {
    let revision = editor.revision();
    editor.apply(action, &[]);
    editor.revision() != revision
}

fn undo_all(editor: &mut Editor) {
    while did(editor, Action::Undo) {}
}

fn redo_all(editor: &mut Editor) {
    while did(editor, Action::Redo) {}
}
