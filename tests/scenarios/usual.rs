//! What is usual for a kind of book: told beside a measure, and never held against a draft.

use serde_json::Value;

use super::book::Book;

/// A picture book whose author has set no limit: 130 words where 40 to 100 are usual, and a sentence of 30.
fn long_for_a_picture_book() -> Book {
    let sentence = "Wilf the ferryman mends nets. ".repeat(20);
    let longest = format!("{} nets.", "Wilf mends ".repeat(14) + "old");
    Book::empty()
        .file("brief.yaml", "book: { readers: 4-7 }\npanel: { trim: 10 x 10 in }\n")
        .file("long.md", format!("{sentence}{longest}\n"))
        .file("short.md", "Wilf mends nets.\n")
}

#[test]
fn a_draft_beyond_what_is_usual_is_within_and_answers_0() {
    let book = long_for_a_picture_book();
    let page = book.run(["measure", "long.md"]);
    page.answers(0).is_silent_on_errors().prints("Verdict  within every limit");
    page.prints("130 words (above what is usual for a picture book: 40 to 100)");
    assert!(!page.printed.contains("outside"), "{}", page.printed);
    book.run(["measure", "short.md"])
        .answers(0)
        .prints("3 words (below what is usual for a picture book: 40 to 100)")
        .prints("the longest has 3 words (usual for a picture\n         book: at most 25)");
    book.run(["fit", "long.md"]).answers(0);
    book.run(["tighten", "long.md"]).prints("Nothing has to go.");
    let nothing = book.file("short.md", "\n");
    nothing.run(["measure", "short.md"]).answers(1).prints("lines are left\n").prints("0 words (below what is usual");
    let list = nothing.run(["measure", ".", "--list"]);
    list.answers(1).prints("2 drafts of 1 book: 1 is outside a limit and 1 is within every limit.\n");
}

#[test]
fn what_is_usual_makes_no_draft_better_than_another() {
    let book = long_for_a_picture_book().file("fitting.md", "Wilf mends nets. ".repeat(20));
    let page = book.run(["compare", "long.md", "fitting.md", "--format", "text"]);
    page.answers(0).prints("words                usual 40 to 100   130        60\n");
    page.prints("longest sentence     usual at most 25  30         3\n");
    page.prints("limits not kept                        0          0\n");
    let json: Value = serde_json::from_str(&book.run(["compare", "long.md", "fitting.md", "--format", "json"]).printed)
        .expect("JSON");
    let words = &json["rows"][0];
    assert_eq!((&words["row"], &words["origin"]), (&"words".into(), &"usual".into()));
    assert_eq!((&words["from"], &words["to"]), (&40.0.into(), &100.0.into()));
    for value in words["values"].as_array().expect("values") {
        assert_eq!((&value["within"], &value["best"]), (&Value::Null, &false.into()));
    }
    assert_eq!(
        (&json["drafts"][0]["verdict"], &json["drafts"][0]["outside"]),
        (&"within".into(), &Value::Array(vec![]))
    );
}

/// The JSON tells the brief's limits, the fit and what is usual apart, and names a source for what is usual alone.
#[test]
fn the_origin_of_a_range_is_told() {
    let book = long_for_a_picture_book().file(
        "brief.yaml",
        "limits: { words: ..120 }\nterms: [{ term: nets, must: true }]\npanel: { trim: 10 x 10 in }\n",
    );
    let report = &book.measured(["long.md"])[0];
    let limits = report["limits"].as_array().expect("limits");
    let origins: Vec<(&str, &str, bool, bool)> = limits
        .iter()
        .map(|limit| {
            let text = |key: &str| limit[key].as_str().expect(key);
            (text("limit"), text("origin"), limit["within"] == true, limit["source"].is_null())
        })
        .collect();
    assert_eq!(
        origins,
        [
            ("words", "brief", false, true),
            ("term", "brief", true, true),
            ("lines_over", "fit", true, true),
            ("lines_too_wide", "fit", true, true),
            ("missing_letters", "fit", true, true),
            ("longest_sentence", "usual", false, false),
        ]
    );
    assert_eq!((&report["verdict"], report["outside"].as_array().map(Vec::len)), (&"outside".into(), Some(1)));
    assert_eq!(report["outside"][0]["limit"], "words");
    let page = book.run(["measure", "long.md"]);
    page.answers(1).prints("Verdict  outside 1 limit:").prints("130 words (outside: the brief has at most 120)");
}

#[test]
fn a_measure_without_a_limit_by_the_brief_has_nothing_told() {
    let open = "limits: { words: .., longest_sentence: .. }\npanel: { trim: 10 x 10 in }\n";
    let book = long_for_a_picture_book().file("brief.yaml", open);
    let page = book.run(["measure", "long.md"]);
    page.answers(0).prints("Length   130 words\n");
    assert!(!page.printed.contains("usual"), "{}", page.printed);
    let limits = &book.measured(["long.md"])[0]["limits"];
    assert!(limits.as_array().expect("limits").iter().all(|limit| limit["origin"] == "fit"), "{limits}");
}

/// For books that a child reads alone a level is usual; for others none is.
#[test]
fn the_usual_level_is_the_readers() {
    let hard = "The extraordinary navigator investigates mysterious underwater civilisations. ".repeat(3);
    let brief = |kind: &str| format!("book: {{ kind: {kind}, readers: 6-8 }}\npanel: {{ trim: 6 x 9 in }}\n");
    let alone = Book::empty().file("brief.yaml", brief("chapter book")).file("a.md", &hard);
    alone.run(["measure", "a.md"]).answers(0).prints("(above what is usual for readers aged up to 8: at most 3)");
    let read_out = alone.file("brief.yaml", brief("picture book"));
    assert!(!read_out.run(["measure", "a.md"]).answers(0).printed.contains("readers aged"));
}
