//! The rows of a brief: each is set, refused, taken away and written, and all else in the file stays as it was.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::collections::BTreeSet;
use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::panel_values::WrittenPanel;
use blurbwright::brief::yaml::{Node, YamlStep};
use blurbwright::briefing::differing::in_order;
use blurbwright::briefing::rewrite::{rewritten, tree_changes};
use blurbwright::values::change::{added, stepped, taken_away, typed};
use blurbwright::values::row::{Added, BriefRow, RowForm};
use blurbwright::values::rows;

/// A brief with something of every kind, a comment at every line, and groups in braces and in lines.
const WHOLE: &str = include_str!("data/every_row.yaml");

fn read(text: &str) -> Brief {
    Brief::read(text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{text}"))
}

fn rows_of(text: &str) -> Vec<BriefRow> {
    let brief = read(text);
    rows(&brief, &brief.written.tree)
}

/// The row of a group with a name; the first where several have it.
fn row_of(text: &str, group: &str, name: &str) -> BriefRow {
    let found = rows_of(text).into_iter().find(|row| row.group == group && row.name == name);
    found.unwrap_or_else(|| panic!("{group}, {name}"))
}

/// The text of a brief after its tree was changed.
fn written(text: &str, tree: Node) -> Result<String, String> {
    let own = read(text);
    let brief = own.written.read_as(tree).map_err(|fault| fault.problem)?;
    let new = rewritten(text, &tree_changes(&own.written.tree, &brief.written.tree))?;
    assert_eq!(in_order(&read(&new).written.tree), in_order(&brief.written.tree), "{new}");
    Ok(new)
}

fn set(text: &str, group: &str, name: &str, value: &str) -> Result<String, String> {
    written(text, typed(&read(text).written.tree, &row_of(text, group, name), value)?)
}

fn with(text: &str, what: Added, value: &str) -> Result<String, String> {
    written(text, added(&read(text).written.tree, what, value)?)
}

/// A value that the row may have and has not.
fn other_value(row: &BriefRow) -> String {
    let own = row.own.as_deref().unwrap_or_default();
    let first = |values: &[&str]| values.iter().find(|value| **value != own).map(|value| (*value).to_owned());
    let choices = row.choices();
    let found = match &row.form {
        RowForm::Length("%") => first(&["45%"]),
        RowForm::Length("mm") => first(&["11 mm"]),
        RowForm::Length(_) => first(&["15 pt"]),
        RowForm::Several => first(&["one thing; another"]),
        RowForm::StandIn => first(&["Some Face, 128 pt at 12 pt"]),
        RowForm::Figure if row.name == "readers" => first(&["5-9"]),
        RowForm::Figure => first(&["7"]),
        RowForm::Words if row.name == "ISBN" => first(&["978-1-4028-9462-6"]),
        _ if !choices.is_empty() => first(&choices.into_iter().rev().collect::<Vec<_>>()),
        _ => first(&["other words"]),
    };
    found.expect("a value")
}

/// The lines of a text that are in another too, in their order, are all but so many.
fn lines_lost(before: &str, after: &str) -> usize {
    let mut left = after.lines();
    before
        .lines()
        .filter(|line| !left.clone().any(|other| other == *line) || left.find(|it| it == line).is_none())
        .count()
}

#[test]
fn every_row_is_set_and_taken_away_where_it_stands() {
    let rows = rows_of(WHOLE);
    assert!(rows.len() > 140, "{}", rows.len());
    let (mut were_set, mut were_taken) = (0, 0);
    for row in &rows {
        let place = format!("{}, {}", row.group, row.name);
        assert!(!row.says.is_empty() && row.says.ends_with('.'), "{place}");
        if row.form == RowForm::Nothing {
            continue;
        }
        let tree = &read(WHOLE).written.tree;
        let value = other_value(row);
        // Some values ask for another of their group, and say so.
        if let Ok(new) = written(WHOLE, typed(tree, row, &value).expect(&place)) {
            assert_ne!(new, WHOLE, "{place}");
            assert!(lines_lost(WHOLE, &new) <= 1, "{place}: {value}\n{new}");
            let again = rows_of(&new);
            assert!(again.iter().any(|it| it.is_same_value(row) && it.own.is_some()), "{place}\n{new}");
            were_set += 1;
        }
        let without = taken_away(tree, row);
        if row.own.is_some()
            && let Ok(new) = written(WHOLE, without)
        {
            let comments = |text: &str| text.lines().filter(|line| line.trim_start().starts_with('#')).count();
            assert_eq!(comments(&new), comments(WHOLE), "{place}\n{new}");
            were_taken += 1;
        }
    }
    assert!(were_set > 130 && were_taken > 40, "{were_set} and {were_taken}");
}

#[test]
fn what_cannot_be_is_refused_in_the_words_of_a_brief_that_is_read() {
    let problem = |group: &str, name: &str, value: &str| set(WHOLE, group, name, value).expect_err(value);
    let isbn = problem("Book", "ISBN", "978-1-4028-9462-5");
    assert!(isbn.starts_with("the last digit of \"978-1-4028-9462-5\" should be 6"), "{isbn}");
    assert!(problem("Book", "kind of book", "pictures").starts_with("\"pictures\" is not known; did you mean picture"));
    assert!(problem("Terms", "at most", "often").contains("a whole number from 1 up was expected"));
    assert!(problem("Limits of the blurb", "words", "100..40").contains("is not a range"));
    assert!(problem("Type of the blurb", "size", "13 in").contains("it must be"));
    assert!(problem("Type of the blurb", "ink", "grey").contains("is no colour"));
    assert!(problem("Art of the back panel", "kind", "round").contains("in one file or in two"));
    assert!(with(WHOLE, Added::Term, "STORM").expect_err("twice").contains("is there twice"));
    assert!(with(WHOLE, Added::Avoided, "storm").expect_err("both").contains("among the terms too"));
    assert!(with(WHOLE, Added::Term, "?!").expect_err("no word").contains("holds no word"));
    assert!(with(WHOLE, Added::RuleOff, "passives").expect_err("no rule").contains("did you mean passive"));
}

/// Only the characters of the value differ; what is new stands at the end of its list or below its example.
#[test]
fn a_brief_of_any_form_is_changed_in_its_own() {
    let panel = "panel: { trim: 8 x 8 in }";
    for (before, after, change) in [
        // No book section, and none of terms: each goes to the end.
        (format!("{panel}\n"), format!("{panel}\n\nbook:\n  title: The Tide\n"), ("Book", "title", "The Tide")),
        (format!("# A\n{panel}"), format!("# A\n{panel}\n\nterms:\n  - tide\n"), ("+", "a term", "tide")),
        (format!("{{ {panel} }}\n"), format!("{{ terms: [tide], {panel} }}\n"), ("+", "a term", "tide")),
        // A group with nothing but examples.
        (
            format!("limits:\n  # In words.\n  #words: 40..100\n  # The rest.\n{panel}\n"),
            format!("limits:\n  # In words.\n  #words: 40..100\n  words: 50..90\n  # The rest.\n{panel}\n"),
            ("Limits of the blurb", "words", "50..90"),
        ),
        (
            format!("# The terms.\n#terms: [lamp]\n{panel}\n"),
            format!("# The terms.\n#terms: [lamp]\nterms:\n  - tide\n{panel}\n"),
            ("+", "a term", "tide"),
        ),
        (format!("terms: # none\n{panel}\n"), format!("terms: # none\n  - tide\n{panel}\n"), ("+", "a term", "tide")),
        (
            format!("book: {{names: }}\n{panel}\n"),
            format!("book: {{names: [Oona] }}\n{panel}\n"),
            ("+", "a name", "Oona"),
        ),
        (format!("avoid: []\n{panel}\n"), format!("avoid: [so so]\n{panel}\n"), ("+", "a wording to avoid", "so so")),
        // Marks round a value, and a value that needs some.
        (
            format!("book: {{ title: \"A \\\"lamp\\\", lit\", author: 'B''s' }} # mine\n{panel}\n"),
            format!("book: {{ title: Tide, author: 'B''s' }} # mine\n{panel}\n"),
            ("Book", "title", "Tide"),
        ),
        (
            format!("book:\n  title: Tide # short\n{panel}\n"),
            format!("book:\n  title: \"Tide: a \\\"lamp\\\" #2\" # short\n{panel}\n"),
            ("Book", "title", "Tide: a \"lamp\" #2"),
        ),
        (
            format!("book:\n  title: A\n{panel}\n"),
            format!("book:\n  title: \"1984\"\n{panel}\n"),
            ("Book", "title", "1984"),
        ),
        // A text in lines of its own.
        (
            format!("book:\n  title: >\n    The Lamp\n    at Gull Point\n  author: B\n{panel}\n"),
            format!("book:\n  title: Tide\n  author: B\n{panel}\n"),
            ("Book", "title", "Tide"),
        ),
        // An item that gets a second key.
        (
            format!("book: {{ names: [Oona, Quillon] }}\n{panel}\n"),
            format!("book: {{ names: [{{ name: Oona, syllables: 2 }}, Quillon] }}\n{panel}\n"),
            ("Names in the book", "syllables", "2"),
        ),
        (
            format!("terms:\n- storm   # it rages\n- lamp\n{panel}\n"),
            format!("terms:\n- {{ term: storm, at_most: 2 }}   # it rages\n- lamp\n{panel}\n"),
            ("Terms", "at most", "2"),
        ),
        (
            format!("{panel}\ntype: {{ font: face.ttf }}\n"),
            format!("{panel}\ntype: {{ font: {{ regular: face.ttf, italic: lean.ttf }} }}\n"),
            ("Type of the blurb", "its italic", "lean.ttf"),
        ),
        (
            "panel: { trim: 8 x 8 in, art: { file: a.png, kind: spot } }\n".to_owned(),
            "panel: { trim: 8 x 8 in, art: { spine: 9 mm, file: a.png, kind: round } }\n".to_owned(),
            ("Art of the back panel", "spine in it", "9"),
        ),
    ] {
        let (group, name, value) = change;
        for ending in ["\n", "\r\n"] {
            let [before, after] = [&before, &after].map(|text| text.replace('\n', ending));
            let what = Added::ALL.into_iter().find(|what| what.name() == name);
            let new = match what.filter(|_| group == "+") {
                Some(what) => with(&before, what, value),
                None => set(&before, group, name, value),
            };
            assert_eq!(new, Ok(after), "{before}");
        }
    }
}

#[test]
fn what_is_chosen_goes_on_word_by_word_and_ends() {
    let text = "book: { kind: board book }\npanel: { trim: 8 x 8 in }\ntype: { hyphenate: true }\n";
    let step = |group: &str, name: &str, by: isize| {
        let tree =
            stepped(&read(text).written.tree, &row_of(text, group, name), by).expect("a choice").expect("a tree");
        written(text, tree).expect("it can be changed")
    };
    assert_eq!(step("Book", "kind of book", 1), text.replace("board book", "picture book"));
    assert_eq!(step("Book", "kind of book", -1), text);
    assert_eq!(step("Type of the blurb", "words divided", -1), text.replace("true", "false"));
    assert!(stepped(&read(text).written.tree, &row_of(text, "Book", "title"), 1).is_none());
}

#[test]
fn a_flap_begins_with_its_width_and_goes_whole() {
    let jacket = "panel: { trim: 8 x 8 in, binding: jacket }\n";
    let with_flap = set(jacket, "Flaps and spine", "back flap", "90").expect("a flap");
    assert_eq!(with_flap, format!("{jacket}\nback_flap:\n  width: 90 mm\n  holds: note on the author\n"));
    let row = row_of(&with_flap, "Flaps and spine", "back flap");
    assert_eq!(written(&with_flap, taken_away(&read(&with_flap).written.tree, &row)), Ok(format!("{jacket}\n")));
    let boards = "panel: { trim: 8 x 8 in, binding: case }\n";
    assert!(set(boards, "Flaps and spine", "back flap", "90").expect_err("none").contains("a case has no flaps"));
    assert!(set(jacket, "Flaps and spine", "spine", "9").expect_err("no title").contains("write title under book"));
}

/// Every key that a row of the README's table names, with the keys of a block of type.
fn keys_of_the_readme() -> BTreeSet<(String, String)> {
    let readme = include_str!("../README.md");
    let table = readme.lines().skip_while(|line| !line.starts_with("| key | form")).skip(2);
    let names = |cell: &str| cell.split('`').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>();
    let mut found = BTreeSet::new();
    for row in table.take_while(|line| line.starts_with('|')) {
        let cells: Vec<&str> = row.split('|').collect();
        let named = names(cells[1]);
        match cells[1].split_once("`: `") {
            Some(_) => found.extend(named[1..].iter().map(|key| (named[0].clone(), key.clone()))),
            None => found.extend(named.into_iter().map(|section| (section, String::new()))),
        }
        if cells[1].contains("`limits`") {
            found.extend(
                names(cells[2]).into_iter().filter(|key| !key.contains('.')).map(|key| ("limits".to_owned(), key)),
            );
        }
    }
    found
}

/// The keys of what the panel's own page has: its group, and the key in it.
fn keys_of_the_panel(panel: &WrittenPanel) -> BTreeSet<(String, String)> {
    let mut found = BTreeSet::new();
    for part in panel.parts() {
        let of_part = panel.clone().with_part(part);
        let group = part.name().replace("back panel", "panel").replace(' ', "_");
        let first = |place: &[YamlStep]| match place.first() {
            Some(YamlStep::Key(key)) => key.clone(),
            _ => String::new(),
        };
        found.extend(of_part.values().iter().map(|value| (group.clone(), first(&value.place))));
        found.insert((group, String::new()));
    }
    found
}

/// No key of the README's table is missing from both pages; places and keep-outs are added and shaped on the panel's.
#[test]
fn every_key_of_the_readme_is_on_a_page() {
    let mut found: BTreeSet<(String, String)> = BTreeSet::new();
    for text in [WHOLE, include_str!("../drafts/snail-post/brief.yaml"), "panel: { trim: 8 x 8 in, binding: case }\n"] {
        found.extend(keys_of_the_panel(&read(text).written_panel()));
        for row in rows_of(text) {
            let steps: Vec<&str> = row.keys().collect();
            found.insert((steps[0].to_owned(), steps.get(1).copied().unwrap_or_default().to_owned()));
            found.insert((steps[0].to_owned(), String::new()));
        }
    }
    let wanted = keys_of_the_readme();
    assert!(wanted.len() > 55 && wanted.contains(&("limits".to_owned(), "reading_ease".to_owned())), "{wanted:?}");
    let missing: Vec<_> = wanted.difference(&found).collect();
    assert!(missing.is_empty(), "{missing:?}");
}
