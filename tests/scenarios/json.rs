//! The JSON that scripts rely on: valid by the published schema, every path there, every span exact.

use serde_json::Value;

use super::book::{BRIEF, Book, DRAFT};
use super::schema::Schema;

/// The bytes of the draft's file at a span of the report.
fn at<'a>(source: &'a [u8], span: &Value) -> &'a str {
    let edge = |key: &str| usize::try_from(span[key].as_u64().expect("an edge is a number")).expect("it is small");
    std::str::from_utf8(&source[edge("start")..edge("end")]).expect("a span ends between characters")
}

#[test]
fn every_report_is_valid_by_the_schema() {
    let schema = Schema::of("report");
    let drafts = [
        "",
        DRAFT,
        "# Head\n\nWord 灯 \u{1b} &amp; &eacute; *it*.\n\n> q\n> — c\n\n## Other titles\n\nOne\n",
        "# Only\n",
    ];
    for draft in drafts {
        schema.asserts(&Book::with_draft(draft).measured(["first.md"])[0]);
    }
    for report in Book::sample().measured(["."]).iter().chain(&Book::sample().measured([".", "--counted"])) {
        schema.asserts(report);
    }
}

#[test]
fn the_schema_is_that_of_the_report_where_none_is_named() {
    let book = Book::empty();
    assert_eq!(book.run(["schema"]).answers(0).printed, book.run(["schema", "report"]).answers(0).printed);
}

/// A draft in each state that has forms of its own, and each language with measures of its own.
#[test]
fn what_the_other_commands_print_is_valid_by_their_schemas() {
    let empty = Book::with_draft("");
    let two_sections = Book::with_draft("Zxqyw saw an extraordinary lighthouse.\n\n---\n\nIt was 7.\n");
    let german =
        Book::with_draft("Alle meine Entchen.\n").file("brief.yaml", format!("book: {{ language: de }}\n{BRIEF}"));
    for book in [Book::sample(), Book::with_draft(DRAFT), empty, two_sections, german] {
        keeps_to_its_schema(&book, "level", &["first.md"]);
        keeps_to_its_schema(&book, "fit", &["first.md"]);
        keeps_to_its_schema(&book, "panel", &[]);
        keeps_to_its_schema(&book, "panel", &["--draft", "first.md"]);
    }
}

#[track_caller]
fn keeps_to_its_schema(book: &Book, command: &str, arguments: &[&str]) {
    let schema = Schema::of(command);
    let all = [command, "--format", "json"].into_iter().chain(arguments.iter().copied());
    let mut view: Value = serde_json::from_str(&book.run(all).printed).expect("the output is one document");
    schema.asserts(&view);
    assert_eq!(view["schema"], *schema.title());
    view.as_object_mut().expect("it is an object").remove("schema");
    assert!(!schema.is_kept_by(&view), "{command}: a key is missing and nothing says so");
}

#[test]
fn what_is_no_report_is_not_valid() {
    let schema = Schema::of("report");
    let mut report = Book::sample().measured(["first.md"]).remove(0);
    report["length"]["words"] = "many".into();
    assert!(!schema.is_kept_by(&report));
    report.as_object_mut().expect("a report is an object").remove("length");
    assert!(!schema.is_kept_by(&report));
}

#[test]
fn every_path_that_scripts_rely_on_is_there() {
    let report = &Book::sample().measured(["first.md", "--counted"])[0];
    let is_text = |path: &str| assert!(report.pointer(path).is_some_and(Value::is_string), "{path}");
    let is_count = |path: &str| assert!(report.pointer(path).is_some_and(Value::is_u64), "{path}");
    let is_number = |path: &str| assert!(report.pointer(path).is_some_and(Value::is_number), "{path}");
    let is_list = |path: &str| assert!(report.pointer(path).is_some_and(Value::is_array), "{path}");
    let is_yes_or_no = |path: &str| assert!(report.pointer(path).is_some_and(Value::is_boolean), "{path}");
    ["/schema", "/draft/path", "/verdict", "/terms/items/0/term", "/terms/items/0/first_in"]
        .into_iter()
        .for_each(is_text);
    ["characters", "letters", "words", "sentences", "paragraphs", "syllables", "longest_sentence_words"]
        .into_iter()
        .for_each(|key| is_count(&format!("/length/{key}")));
    ["flesch_reading_ease", "flesch_kincaid_grade"]
        .into_iter()
        .for_each(|key| is_number(&format!("/level/scores/{key}")));
    [
        "/level/guessed_words",
        "/level/costliest_sentences",
        "/terms/missing",
        "/outside",
        "/fit/set_lines",
        "/terms/items/0/spans",
        "/fit/letters_stood_in",
        "/fit/fonts_stood_in",
        "/fit/styles_missing",
    ]
    .into_iter()
    .for_each(is_list);
    ["/terms/wanted", "/terms/covered", "/terms/items/0/count"].into_iter().for_each(is_count);
    ["/terms/items/0/present", "/fit/fits"].into_iter().for_each(is_yes_or_no);
    ["weight", "lines", "lines_available", "lines_over", "lines_spare", "words_over"]
        .into_iter()
        .for_each(|key| is_count(&format!("/fit/{key}")));
    ["size_pt", "leading_pt", "depth_used_pt", "depth_available_pt", "largest_size_pt"]
        .into_iter()
        .for_each(|key| is_number(&format!("/fit/{key}")));
    is_text("/fit/set_lines/0/text");
    ["x_pt", "y_pt", "width_pt", "measure_pt"]
        .into_iter()
        .for_each(|key| is_number(&format!("/fit/set_lines/0/{key}")));
}

/// How measures count and what stands behind them is told where it is asked for, and not in each of ten thousand
/// answers.
#[test]
fn a_report_without_its_lines_is_short_and_counted_adds_what_is_behind_it() {
    let book = Book::sample().file("long.md", include_str!("../benches/blurb.md"));
    let counted = book.measured(["first.md", "second.md", "long.md", "--counted"]);
    for (report, counted) in book.measured(["first.md", "second.md", "long.md"]).iter().zip(counted) {
        let mut less = report.clone();
        less["fit"].as_object_mut().expect("it is an object").remove("set_lines");
        let bytes = less.to_string().len();
        assert!(bytes < 4096, "{}: {bytes} bytes", report["draft"]["path"]);
        let measures = counted["level"]["measures"].as_array().expect("a list");
        assert_eq!(measures.len(), report["level"]["scores"].as_object().expect("it is an object").len());
        for measure in measures {
            assert!(["name", "counting", "source"].iter().all(|key| measure[key].is_string()), "{measure}");
            assert_eq!(measure["value"], report["level"]["scores"][measure["measure"].as_str().expect("a name")]);
        }
        let mut same = counted.clone();
        let level = same["level"].as_object_mut().expect("it is an object");
        level.retain(|key, _| ["headline", "why_no_headline", "scores", "verse_words"].contains(&key.as_str()));
        assert_eq!(same, *report, "all else is the same");
    }
}

#[test]
fn a_list_has_no_room_for_how_all_is_counted() {
    let book = Book::sample();
    for form in ["csv", "xlsx", "html"] {
        book.run(["measure", "first.md", "--counted", "--format", form]).answers(2).complains("no room");
    }
}

#[test]
fn what_is_outside_has_its_value_and_limit() {
    let report = &Book::with_draft("word ".repeat(61)).measured(["first.md"])[0];
    assert_eq!(report["verdict"], "outside");
    let outside = report["outside"].as_array().expect("a list");
    assert_eq!(outside.len(), 1);
    assert_eq!(
        (&outside[0]["limit"], &outside[0]["value"], &outside[0]["to"]),
        (&"words".into(), &61.0.into(), &60.0.into())
    );
}

#[test]
fn one_draft_is_an_object_and_several_are_an_array() {
    let book = Book::sample();
    let parsed = |arguments: &[&str]| -> Value {
        let all = ["measure", "--format", "json"].into_iter().chain(arguments.iter().copied());
        serde_json::from_str(&book.run(all).printed).expect("the output is one document")
    };
    assert!(parsed(&["first.md"]).is_object());
    let both = parsed(&["second.md", "first.md"]);
    let paths: Vec<&Value> = both.as_array().expect("an array").iter().map(|report| &report["draft"]["path"]).collect();
    assert_eq!(paths, ["second.md", "first.md"]);
    assert_eq!(both[1], parsed(&["first.md"]));
    assert_eq!(book.measured(["second.md", "first.md"]), *both.as_array().expect("an array"));
}

#[test]
fn an_array_stays_one_document_when_a_draft_cannot_be_read() {
    let book = Book::with_draft(DRAFT);
    for drafts in [["none.md", "first.md"], ["first.md", "none.md"], ["none.md", "no.md"]] {
        let outcome = book.run(["measure", "--format", "json"].into_iter().chain(drafts));
        let array: Value = serde_json::from_str(&outcome.answers(2).printed).expect("the output is one document");
        assert_eq!(array.as_array().map(Vec::len), Some(2));
    }
}

#[test]
fn json_lines_are_one_line_a_draft() {
    let outcome = Book::sample().run(["measure", ".", "--format", "jsonl"]);
    assert_eq!(outcome.answers(0).printed.lines().count(), 2);
    assert!(outcome.printed.ends_with("}\n"));
}

#[test]
fn spans_are_the_bytes_of_the_file_in_every_form_of_it() {
    let brief = "panel: { trim: 8 x 8 in }\nterms: [lighthouse, bedtime story, café]\navoid: [magical journey]\n";
    let unix = "# The lighthouse\n\nA *bedtime\nstory* told in the café, é&eacute;, 😀 by Zxqyw.\n\nNo magical\n\
                journey, no lighthouse but this longest sentence of them all here.\n";
    let forms = [unix.to_owned(), unix.replace('\n', "\r\n"), unix.replace('\n', "\r"), format!("\u{feff}{unix}")];
    for source in forms {
        let book = Book::empty().file("brief.yaml", brief).file("first.md", &source);
        let report = &book.measured(["first.md", "--counted"])[0];
        let words = |spans: &Value| -> Vec<String> {
            let spans = spans.as_array().expect("spans are a list").iter();
            spans
                .map(|span| {
                    at(source.as_bytes(), span).replace(['*'], "").split_whitespace().collect::<Vec<_>>().join(" ")
                })
                .collect()
        };
        assert_eq!(words(&report["terms"]["items"][0]["spans"]), ["lighthouse", "lighthouse"], "{source:?}");
        assert_eq!(words(&report["terms"]["items"][1]["spans"]), ["bedtime story"], "{source:?}");
        assert_eq!(words(&report["terms"]["items"][2]["spans"]), ["café"], "{source:?}");
        assert_eq!(words(&report["terms"]["avoid"][0]["spans"]), ["magical journey"], "{source:?}");
        let guessed = report["level"]["guessed_words"].as_array().expect("a list").iter();
        let guessed: Vec<&str> = guessed.map(|word| at(source.as_bytes(), &word["span"])).collect();
        assert!(guessed.contains(&"Zxqyw"), "{guessed:?}");
        let longest = at(source.as_bytes(), &report["length"]["longest_sentence_span"]);
        assert!(longest.starts_with("No magical") && longest.ends_with("all here."), "{longest:?}");
    }
}
