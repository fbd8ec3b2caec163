//! Tighten: what can go, cuts that are made in a new draft, and queries that stand.

use serde_json::Value;

use super::book::{BRIEF, Book};
use super::schema::Schema;

const DRAFT: &str = "Oona climbs the stair in order to *light* the lamp. At this point in time nobody else can.\n\n> \
                     \"A light.\"\n> — A. Fenn\n";

fn book() -> Book {
    Book::empty().file("brief.yaml", BRIEF.replace("1..60", "1..14")).file("first.md", DRAFT)
}

/// Runs the program where it is to write.
fn done(book: &Book, arguments: &[&str]) {
    let output = book.output(arguments);
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
}

fn json(book: &Book) -> Value {
    serde_json::from_str(&book.run(["tighten", "first.md", "--format", "json"]).printed).expect("the output is JSON")
}

#[test]
fn the_page_shows_each_cut_in_its_sentence() {
    let page = book().run(["tighten", "first.md"]).answers(1).printed.clone();
    let flat = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "The least that brings it within its limits is 1 cut:",
        "2 wordy phrase, 1:53 before {At this point in time} nobody else can.",
        "after Now nobody else can.",
        "wins 4 words, 14 letters, no line alone",
        "Further cuts, the cheapest line first: 1 wordy phrase, 1:23 before Oona climbs the stair {in order to} light \
         the lamp.",
        "Places to look at, without a ready wording: 3 straight marks, 3:3 2 quotation marks are a typewriter's; in \
         print they are “ ”; --apply marks sets them in a new draft 4 credit without standing, 4:5 \"A. Fenn\"",
        "What a line costs in each paragraph:",
    ] {
        assert!(flat.contains(part), "{part}\n{page}");
    }
}

/// A draft without a word has no paragraph, and a heading over nothing is not printed.
#[test]
fn a_draft_without_a_word_has_no_prices() {
    let book = Book::empty().file("brief.yaml", BRIEF).file("first.md", "\n");
    for command in ["tighten", "fit"] {
        let page = book.run([command, "first.md"]).printed.clone();
        assert!(page.starts_with("first.md: ") && !page.contains("What a line costs"), "{page}");
    }
}

/// What is asked of the cuts is told as the draft has it: to fit, to keep its limits, or both; and one cut is one.
#[test]
fn the_plan_says_what_it_is_for() {
    let flat = |brief: &str, draft: &str| {
        let book = Book::empty().file("brief.yaml", brief).file("a.md", draft);
        let page = book.run(["tighten", "a.md"]).answers(1).printed.clone();
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let low = |height: u32| {
        format!("panel: {{ trim: 300 x {height} pt, margins: 20 pt }}\ntype: {{ size: 12 pt, leading: 16 pt }}\n")
    };
    let wordy = "At this point in time the ferry is late.\n";
    for (brief, draft, said) in [
        (
            format!("limits: {{ words: ..5 }}\n{}", low(300)),
            wordy,
            "The least that brings it within its limits is 1 cut: ",
        ),
        (
            format!("limits: {{ words: ..2 }}\n{}", low(300)),
            wordy,
            "No cuts that are ready bring it within its limits. 1 cut comes nearest: ",
        ),
        (
            low(74),
            "The ferry is late and the gulls are quiet, and nobody at all is on the quay.\n\nWilf waits.\n",
            "No cut that is ready makes it fit, or comes nearer to that.",
        ),
        (
            format!("limits: {{ words: ..3 }}\n{}", low(74)),
            "The ferry is late and the gulls are quiet, and nobody at all is on the quay.\n\nWilf waits.\n",
            "No cut that is ready makes it fit and brings it within its limits, or comes nearer to that.",
        ),
    ] {
        let page = flat(&brief, draft);
        assert!(page.contains(said), "{said}\n{page}");
    }
}

/// Copy that is over, has room or can go is told in one way: lines, words, and their letters behind them.
#[test]
fn what_is_over_and_what_is_spare_are_told_alike() {
    let copy = "Wilf the ferryman has a bell that nobody rings, three cats that nobody counts, and a boat.\n";
    let brief = |height: u32| {
        format!("panel: {{ trim: 260 x {height} pt, margins: 20 pt }}\ntype: {{ size: 12 pt, leading: 16 pt }}\n")
    };
    let book = Book::empty().file("brief.yaml", brief(72)).file("a.md", copy);
    let over = book.run(["measure", "a.md"]).answers(1).printed.clone();
    assert!(over.contains("1 line is over: 1 word (4 letters) too many at this size"), "{over}");
    let ages = book.file("b.md", format!("{copy}\n## Age line\n\nAges 3 to 6\n"));
    ages.run(["fit", "b.md"])
        .prints("- blurb, \"Wilf the ferryman has ...\": ")
        .prints("- age line, \"Ages 3 to 6\": 1 line");
    let book = ages;
    for command in ["fit", "tighten"] {
        let page = book.run([command, "a.md"]).printed.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            page.contains("1 letter too many for 2 lines; in whole words, \"a\" could go: 1 word (1 letter)"),
            "{page}"
        );
    }
    let book = book.file("brief.yaml", brief(300));
    let spare = book.run(["measure", "a.md"]).answers(0).printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(spare.contains(" lines are left, room for about ") && spare.contains(" letters) more"), "{spare}");
}

/// A wording that is longer in words is told as what it adds, and never as a win.
#[test]
fn what_a_cut_adds_is_no_win() {
    let price = |before: &str, after: &str| {
        let brief = format!("{BRIEF}queries: {{ lists: {{ wordy phrase: {{ add: ['{before} = {after}'] }} }} }}\n");
        let book = Book::empty().file("brief.yaml", brief).file("a.md", format!("Wilf has {before} here.\n"));
        let page = book.run(["tighten", "a.md"]).printed.clone();
        page.lines()
            .find(|line| line.trim_start().starts_with("wins"))
            .expect("a cut")
            .split(", level")
            .next()
            .expect("a line")
            .trim()
            .to_owned()
    };
    assert_eq!(price("nevertheless", "all of it"), "wins   5 letters, no line alone, but adds 2 words");
    assert_eq!(price("all of it", "everything"), "wins   2 words, no line alone, but adds 3 letters");
}

#[test]
fn cuts_are_made_in_a_new_draft_and_never_over_the_old_one() {
    let book = book();
    done(&book, &["tighten", "first.md", "--apply", "plan"]);
    let cut = book.read("first-cut.md");
    assert_eq!(cut, DRAFT.replace("At this point in time", "Now"));
    assert_eq!(book.read("first.md"), DRAFT);
    book.run(["measure", "first-cut.md"]).answers(0);
    let again = book.run(["tighten", "first.md", "--apply", "1"]).answers(2).complained.clone();
    assert!(again.contains("first-cut.md: there is one already"), "{again}");
    done(&book, &["tighten", "first.md", "--apply", "1,2", "--to", "both.md"]);
    assert_eq!(book.read("both.md"), DRAFT.replace("in order to", "to").replace("At this point in time", "Now"));
    let none = book.run(["tighten", "first.md", "--apply", "9"]).answers(2).complained.clone();
    assert!(none.contains("there is no cut 9"), "{none}");
}

#[test]
fn what_stands_is_asked_again_only_when_its_wording_changes() {
    let book = book();
    let queries = |book: &Book| json(book)["queries"].as_array().expect("queries").len();
    assert_eq!(queries(&book), 4);
    done(&book, &["tighten", "first.md", "--stet", "1,4"]);
    assert!(book.read("stet.yaml").contains("wording: \"in order to\""));
    assert_eq!((queries(&book), json(&book)["standing"].as_u64()), (2, Some(2)));
    let book = book.file("first.md", DRAFT.replace("in order to", "in order\nto").replace("Fenn", "Fern"));
    assert_eq!((queries(&book), json(&book)["standing"].as_u64()), (3, Some(1)));
    // Another draft is another matter.
    let book = book.file("second.md", DRAFT);
    let compared = book.run(["compare", "first.md", "second.md"]).printed.clone();
    let row = compared.lines().find(|line| line.starts_with("queries")).expect("a row of the queries");
    assert_eq!(
        row.split_whitespace().filter(|word| word.parse::<u32>().is_ok()).collect::<Vec<_>>(),
        ["3", "4"],
        "{row}"
    );
    let other: Value =
        serde_json::from_str(&book.run(["tighten", "second.md", "--format", "json"]).printed).expect("JSON");
    assert_eq!(other["standing"], 0);
    let book = book.file("stet.yaml", "first.md:\n  - { rule: prays, wording: x }\n");
    let complained = book.run(["tighten", "first.md"]).answers(2).complained.clone();
    assert!(complained.contains("stet.yaml:2:13") && complained.contains("did you mean praise"), "{complained}");
}

#[test]
fn the_json_keeps_to_its_schema() {
    let book = book();
    let found = json(&book);
    Schema::of("tighten").asserts(&found);
    assert_eq!(found["plan"]["cuts"], serde_json::json!(["2"]));
    let span = &found["cuts"][0]["span"];
    let place = |key: &str| span[key].as_u64().expect("a place") as usize;
    assert!(["in order to", "At this point in time"].contains(&&DRAFT[place("start")..place("end")]));
}

#[test]
fn a_blank_that_keeps_a_name_whole_loses_no_name() {
    let brief = "book: { names: [Otto Fenn] }\npanel: { trim: 8.5 x 8.5 in }\ntype: { size: 36 pt }\n";
    let draft = "The best of all the friends of Otto Fenn is a seal who sings.\n";
    let book = Book::empty().file("brief.yaml", brief).file("first.md", draft);
    let found = json(&book);
    let query = &found["queries"][0];
    assert_eq!(query["rule"], "broken name", "{found}");
    assert!(found.to_string().contains('\u{a0}'), "{found}");
    assert!(!found.to_string().contains("\"lost\":[\"Otto Fenn\"]"), "{found}");
}

/// Straight marks are mended together, in a new draft, and nothing else of the file changes.
#[test]
fn marks_are_set_in_a_new_draft() {
    let typed = "# It's the \"lamp\"\n\n*Wait*... <!-- don't -->\n\n> 'A light.'\n> -- A. Fenn, \"The Gull\"\n";
    let set = "# It’s the “lamp”\n\n*Wait*… <!-- don't -->\n\n> ‘A light.’\n> — A. Fenn, “The Gull”\n";
    let book = Book::empty().file("brief.yaml", BRIEF).file("first.md", typed);
    done(&book, &["tighten", "first.md", "--apply", "marks", "--to", "set.md"]);
    assert_eq!((book.read("set.md").as_str(), book.read("first.md").as_str()), (set, typed));
    let again = book.run(["tighten", "set.md", "--apply", "marks"]).answers(2).complained.clone();
    assert!(again.contains("every mark is a printed one already"), "{again}");
    assert_eq!(json(&book)["marks"].as_array().map(Vec::len), Some(9));
}

/// Echoes, pale verbs and words of stress are for the last read: told where it is asked for, and only there.
#[test]
fn a_close_read_tells_more_and_only_when_asked() {
    let draft = "Oona begins to climb. The storm is so cold, and a storm like that sinks boats.\n";
    let book = Book::empty().file("brief.yaml", BRIEF).file("first.md", draft);
    let rules = |arguments: &[&str]| -> Vec<String> {
        let printed = book.run(arguments).printed.clone();
        let page: Value = serde_json::from_str(&printed).expect("the output is JSON");
        assert_eq!(page["close"], arguments.contains(&"--close"), "{printed}");
        let queries = page["queries"].as_array().expect("queries");
        queries.iter().map(|query| query["rule"].as_str().expect("a rule").to_owned()).collect()
    };
    let plain = rules(&["tighten", "first.md", "--format", "json"]);
    let close = rules(&["tighten", "first.md", "--close", "--format", "json"]);
    for rule in ["echo", "weak verb", "intensifier"] {
        assert!(close.iter().any(|found| found == rule), "{rule}: {close:?}");
        assert!(plain.iter().all(|found| found != rule), "{rule}: {plain:?}");
    }
    assert!(book.run(["tighten", "first.md", "--close"]).printed.contains("first.md: what can go, read closely"));
}
