//! Terms: what the page and the JSON of `terms` say, and what is answered to the shell.

use serde_json::Value;

use super::book::{BRIEF, Book};
use super::schema::Schema;

const TERMS: &str = "book: { names: [Oona, Gull Point] }\n\
                     terms: [{ term: lighthouse, must: true }, bedtime story, { term: storm, at_most: 1 }]\n\
                     avoid: [magical journey]\n";

fn book(draft: &str) -> Book {
    Book::empty().file("brief.yaml", format!("{BRIEF}{TERMS}")).file("first.md", draft)
}

fn json(book: &Book, arguments: &[&str]) -> Value {
    let all = ["terms", "first.md", "--format", "json"].into_iter().chain(arguments.iter().copied());
    serde_json::from_str(&book.run(all).printed).expect("the output is JSON")
}

#[test]
fn the_answer_tells_what_is_outside() {
    for (draft, answer) in [
        ("Oona's lighthouse.\n", 0),
        ("Oona's lighthouses, a bedtime stroy and a magical book.\n", 0),
        ("No term at all.\n", 1),
        ("The lighthouse in the storm, a storm.\n", 1),
        ("The lighthouse on a magical journey.\n", 1),
        ("The lighthouse of Oonah.\n", 1),
        ("The lighthouse.\n\n> Oonna is a joy.\n> — A. Fenn\n", 1),
    ] {
        book(draft).run(["terms", "first.md"]).answers(answer);
    }
    book("").run(["terms", "none.md"]).answers(2);
    book("").run(["terms", "first.md", "--story", "none.txt"]).answers(2);
}

#[test]
fn the_page_names_every_place() {
    let draft =
        "# The lighthouse\n\nOona tells a story at\nbedtime in the *lighthose*.\n\n> \"Dear Oonah!\"\n> — A. Fenn\n";
    let page = book(draft).run(["terms", "first.md"]).answers(1).printed.clone();
    for part in [
        "1 of 3 wanted terms stands in the copy",
        "lighthouse, which must be there: once",
        "- 1:7 The [lighthouse]",
        "- 4:17 near, not counted: at bedtime in the [lighthose].",
        "- 3:14 near, not counted: Oona tells a [story at bedtime] in the lighthose.",
        "storm, at most once: missing",
        "Oona: once, line 3",
        "- 6:9 \"Dear [Oonah]!\" — A. Fenn",
        "Gull Point: not in this draft",
    ] {
        let line = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains(part), "{part}\n{page}");
    }
}

/// A place is told with what stands round it, and not with a paragraph that has no blank.
#[test]
fn a_place_among_dashes_is_told_in_two_lines() {
    let run = book(&"storm—rain—".repeat(200)).run(["terms", "first.md"]);
    assert_eq!(run.printed.matches("[storm]").count(), 200);
    let lines = run.printed.lines().count();
    assert!(lines < 200 * 4 + 20, "{lines} lines");
    let shown = "—rain—storm—rain—[storm]—rain—storm—rain—";
    assert!(run.printed.replace(['\n', ' '], "").contains(shown), "{}", &run.printed[..2000]);
}

#[test]
fn the_table_has_a_column_for_each_draft() {
    let book = book("The lighthouse.\n").file("second.md", "A storm, a lighthouse, a lighthouse.\n");
    let page = book.run(["terms", "."]).answers(0).printed.clone();
    let rows: Vec<Vec<&str>> = page.lines().map(|line| line.split_whitespace().collect()).collect();
    for row in [
        vec!["lighthouse", "1", "2"],
        vec!["bedtime", "story", "0", "0"],
        vec!["storm", "0", "1"],
        vec!["covered", "1/3", "2/3"],
    ] {
        assert!(rows.contains(&row), "{row:?}\n{page}");
    }
}

#[test]
fn the_manuscript_is_held_against_the_draft() {
    let story = "Gull Point is far. The lighthouse of Oona was dark and the gulls saw Oona there. One night the lamp \
                 of the lighthouse was out. Then Oona took the zither and Oonah played all night.\n";
    let book =
        book("The lighthouse of Oona was dark and the gulls saw Oona there. A zither!\n").file("story.txt", story);
    let report = &json(&book, &["--story", "story.txt"])["story"];
    assert_eq!(report["words"], 35);
    let written = |list: &str| -> Vec<&str> {
        let list = report[list].as_array().expect("a list").iter();
        list.map(|taken| taken["in_draft"]["written"].as_str().expect("text")).collect()
    };
    assert_eq!(written("late"), ["zither"]);
    assert_eq!(written("lifted"), ["The lighthouse of Oona was dark and the gulls saw Oona there"]);
    assert_eq!(report["candidates"][0]["wording"], "lighthouse");
    assert_eq!(report["candidates"][0]["in_brief"], true);
    assert_eq!(report["names"][0]["name"], "Oona");
    assert_eq!(report["names"][0]["variants"][0]["written"], "Oonah");
}

#[test]
fn the_page_is_right_of_none_one_and_many() {
    let page = |terms: &str, draft: &str, story: &str| {
        let book = Book::empty().file("brief.yaml", format!("{BRIEF}terms: [{terms}]\n"));
        let book = book.file("first.md", draft).file("story.txt", story);
        let page = book.run(["terms", "first.md", "--story", "story.txt"]).printed.clone();
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for (terms, draft, told) in [
        ("", "A quay.", "the brief wants none"),
        ("quay", "A quay.", "the one wanted term stands in the copy"),
        ("quay", "A barge.", "the one wanted term does not stand in the copy"),
        ("quay, otter", "A barge.", "none of 2 wanted terms stands in the copy"),
        ("quay, otter", "A quay.", "1 of 2 wanted terms stands in the copy"),
        ("quay, otter", "A quay, an otter.", "2 of 2 wanted terms stand in the copy"),
    ] {
        let page = page(terms, draft, "* * *\n");
        assert!(page.contains(told), "{told}: {page}");
        assert!(
            page.contains("story.txt holds no words") && page.contains("0 words") && page.contains("Names none"),
            "{page}"
        );
    }
    let one = page("quay", "A quay.", "Quay");
    assert!(one.contains("the story, 1 word Words") && one.contains("none stands in the story's last fifth"), "{one}");
}

#[test]
fn a_story_of_a_thousand_chapters_is_read_whole() {
    let chapter = |number: usize| format!("## Chapter {number}\n\nHessa scrubs the barge. Will it ever move?\n\n");
    let story: String = (1..=1_000).map(chapter).chain(["Bettina moored it.\n".to_owned()]).collect();
    let book = book("Will Bettina move the scrubbed barge to the lighthouse?\n").file("story.txt", story);
    let report = &json(&book, &["--story", "story.txt"])["story"];
    assert_eq!(report["words"], 8_003);
    assert_eq!(report["late"].as_array().map(Vec::len), Some(1));
    assert_eq!(report["late"][0]["in_draft"]["written"], "Bettina");
    let candidates = report["candidates"].as_array().expect("a list");
    assert!(candidates.iter().all(|candidate| candidate["wording"] != "chapter"), "{candidates:?}");
}

#[test]
fn the_json_is_valid_by_its_schema() {
    let schema = Schema::of("terms");
    let book = book("The lighthose in a storm. Oonah went on a magical journey, Gull Point.\n")
        .file("story.txt", "Oona saw Oona.\n");
    let mut reports = vec![json(&book, &[]), json(&book, &["--story", "story.txt"])];
    let lines = book.run(["terms", "first.md", "--format", "jsonl"]).printed.clone();
    assert_eq!(lines.lines().count(), 1);
    reports.push(serde_json::from_str(&lines).expect("JSON"));
    reports.iter().for_each(|report| schema.asserts(report));
    reports[0]["terms"][0]["count"] = "many".into();
    assert!(!schema.is_kept_by(&reports[0]));
    assert_eq!(json(&book, &["first.md"]).as_array().map(Vec::len), Some(2));
}
