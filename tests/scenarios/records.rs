//! Records: lines of JSON in, one answer a line out, in order; and the records of a feed as pages, lists and JSON.

use std::io::{BufRead, BufReader, Write};
use std::slice::from_ref;

use serde_json::{Value, json};

use super::book::{BRIEF, Book, DRAFT, Outcome};
use super::schema::Schema;

const ASKED: [&str; 2] = ["measure", "--records"];

fn answers(outcome: &Outcome) -> Vec<Value> {
    outcome.printed.lines().map(|line| serde_json::from_str(line).expect("a line is one object")).collect()
}

fn message(answer: &Value) -> &str {
    answer["error"]["message"].as_str().unwrap_or_default()
}

/// A line as a script writes it, with a brief that is no file.
fn line(id: impl Into<Value>, draft: &str) -> String {
    json!({ "id": id.into(), "brief": BRIEF, "draft": draft }).to_string()
}

#[test]
fn every_line_is_answered_in_order_with_what_measure_prints_of_its_draft() {
    let drafts = [DRAFT, "", "Oona climbs. She is out of breath, and the lamp is dark.\n"];
    let lines: Vec<String> = (0..300).map(|number| line(number, drafts[number % 3])).collect();
    let outcome = Book::empty().input(lines.join("\n")).run(ASKED);
    outcome.answers(0).is_silent_on_errors();
    let (answers, schema) = (answers(&outcome), Schema::of("answer"));
    assert_eq!(answers.len(), 300);
    for (number, answer) in answers.iter().enumerate() {
        assert_eq!((&answer["line"], &answer["id"], &answer["v"]), (&json!(number + 1), &json!(number), &json!(1)));
    }
    for (answer, draft) in answers.iter().zip(drafts) {
        schema.asserts(answer);
        let mut alone = Book::with_draft(draft).measured(["first.md"]).remove(0);
        alone["draft"] = json!({ "path": "-", "brief": "-" });
        assert_eq!(answer["report"], alone);
    }
}

#[test]
fn what_is_no_record_is_answered_too_and_keeps_what_it_is_known_by() {
    let bad = [
        "{",
        "[1]",
        r#"{"id": 3, "drafts": "a"}"#,
        r#"{"id": 4, "draft": 1}"#,
        r#"{"id": 5, "draft": "\ud800"}"#,
        r#"{"id": "six", "draft": "a"}"#,
        r#"{"id": 7, "brief": "none.yaml", "draft": "a"}"#,
        r#"{"id": 8, "brief": "panel: { trim: none }", "draft": "a"}"#,
        "{\"id\": [9,\t\"\u{7f}\"], \"draft\": 1}",
    ];
    let lines = bad.join("\n\n") + "\n" + &line(10, DRAFT);
    let outcome = Book::empty().input("\u{feff}".to_owned() + &lines + "\r\n \r\n").run(ASKED);
    outcome.answers(0).is_silent_on_errors();
    let (answers, schema) = (answers(&outcome), Schema::of("answer"));
    answers.iter().for_each(|answer| schema.asserts(answer));
    let found: Vec<(&Value, &Value)> = answers.iter().map(|answer| (&answer["line"], &answer["id"])).collect();
    let ids = json!([null, null, 3, 4, 5, "six", 7, 8, [9, "\u{7f}"], 10]);
    let lines = json!([1, 3, 5, 7, 9, 11, 13, 15, 17, 18]);
    let both = |value: &Value| value.as_array().expect("a list").clone();
    assert_eq!(found, both(&lines).iter().zip(&both(&ids)).collect::<Vec<_>>());
    assert!(answers[..9].iter().all(|answer| !message(answer).is_empty() && answer["report"].is_null()));
    assert!(message(&answers[6]).starts_with("cannot read the brief none.yaml: there is no such file"));
    assert!(message(&answers[7]).starts_with("brief:1:16: panel.trim: \"none\" is not a size"));
    assert!(answers[9]["report"].is_object());
}

#[test]
fn bytes_that_are_no_text_and_lines_without_an_end_harm_no_other_line() {
    let long = "a".repeat(2 << 20);
    let mut input = [line(1, DRAFT).as_bytes(), b"\n\xff\xfe{}\n", long.as_bytes(), b"\n"].concat();
    input.extend(line(4, DRAFT).bytes());
    let outcome = Book::empty().input(input).run(ASKED);
    let answers = answers(outcome.answers(0));
    assert_eq!(answers.len(), 4);
    assert!(message(&answers[1]).starts_with("byte 1 of the line is no part of a letter in UTF-8"));
    assert!(message(&answers[2]).starts_with("the line has more than 1048576 bytes"));
    assert_eq!((&answers[0]["report"]["length"], &answers[0]["id"]), (&answers[3]["report"]["length"], &json!(1)));
}

#[test]
fn a_brief_is_named_in_the_record_or_for_all_records_and_files_are_told_by_name() {
    let records =
        format!("{}\n{}\n", json!({ "id": 1, "draft": DRAFT }), json!({ "brief": "brief.yaml", "draft": DRAFT }));
    let book = Book::new().file("books.jsonl", records);
    let named = answers(book.run(["measure", "--records", "books.jsonl", "--brief", "brief.yaml"]).answers(0));
    for answer in &named {
        Schema::of("answer").asserts(answer);
        assert_eq!(answer["path"], "books.jsonl");
        assert_eq!(answer["report"]["draft"], json!({ "path": "-", "brief": "brief.yaml" }));
    }
    let without = answers(book.run(["measure", "--records", "books.jsonl"]).answers(0));
    assert!(message(&without[0]).starts_with("the record has no brief; add the key brief"));
    assert!(without[1]["report"].is_object() && without[1]["report"]["level"]["measures"].is_null());
    let counted = answers(book.run(["measure", "--records", "books.jsonl", "--counted"]).answers(0));
    assert!(counted[1]["report"]["level"]["measures"].is_array(), "{}", counted[1]);
    book.run(["measure", "--records", "other.jsonl"])
        .refuses("cannot read the records other.jsonl: there is no such file; check the name and the folder");
    for other in ["--list", "--watch", "--format=json"] {
        book.run(["measure", "--records", other]).answers(2);
    }
}

#[test]
fn a_caller_has_its_answer_before_it_writes_the_next_record() {
    let book = Book::empty();
    let mut command = book.command(ASKED);
    // As engines start it: without a path, a home or a language.
    let mut child = command.env_clear().spawn().expect("the program starts");
    let (mut input, output) = (child.stdin.take().expect("a pipe"), child.stdout.take().expect("a pipe"));
    let mut output = BufReader::new(output);
    for number in 1..4 {
        writeln!(input, "{}", line(number, DRAFT)).expect("the program reads");
        let mut answer = String::new();
        output.read_line(&mut answer).expect("an answer");
        assert!(answer.starts_with(&format!("{{\"v\":1,\"line\":{number},\"id\":{number},\"report\":{{")), "{answer}");
    }
    drop(input);
    assert!(child.wait().expect("it ends").success());
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_a_reader_that_has_gone_is_not() {
    let book = Book::empty().file("books.jsonl", (line(1, DRAFT) + "\n").repeat(400));
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("a device that is full");
    let asked = ["measure", "--records", "books.jsonl"];
    let output = book.command(asked).stdout(full).output().expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    let complained = String::from_utf8_lossy(&output.stderr);
    assert!(complained.starts_with("cannot write the report: ") && complained.lines().count() == 1, "{complained}");

    let mut child = book.command(asked).spawn().expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &[][..]));
}

/// A line of a Linear congruential generator's bytes, of which many are signs of JSON.
fn any_line(seed: &mut u64) -> Vec<u8> {
    let mut next = |most: u64| {
        *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (*seed >> 33) % most
    };
    let pieces: [&[u8]; 12] =
        [b"{", b"}", b"\"id\":", b"\"draft\":", b"\"a\"", b"7", b",", b" ", b"\xff", b"\"brief\":", b"\\ud800", b"[]"];
    (0..next(9)).flat_map(|_| pieces[next(12) as usize].iter().copied()).collect()
}

#[test]
fn any_bytes_are_answered_line_for_line() {
    let mut seed = 17;
    let lines: Vec<Vec<u8>> = (0..3000).map(|_| any_line(&mut seed)).collect();
    let outcome = Book::new().input(lines.join(&b'\n')).run(["measure", "--records", "--brief", "brief.yaml"]);
    let filled = (1..).zip(&lines).filter(|(_, line)| !line.trim_ascii().is_empty()).map(|(number, _)| json!(number));
    let answers = answers(outcome.answers(0));
    assert_eq!(answers.iter().map(|answer| answer["line"].clone()).collect::<Vec<_>>(), filled.collect::<Vec<_>>());
    assert!(answers.iter().all(|answer| answer["report"].is_object() != answer["error"].is_object()));
}

/// A record of a feed: its name, its trim in inches, its form, and the text of its blurb.
fn record(name: &str, trim: &str, form: &str, text: &str) -> String {
    let (width, height) = trim.split_once('x').expect("a trim");
    let measure = |code: &str, number: &str| {
        format!("<measure><x315>{code}</x315><c094>{number}</c094><c095>in</c095></measure>")
    };
    format!(
        "<product><a001>{name}</a001><descriptivedetail><b012>{form}</b012>{}{}<audiencerange><b074>17</b074><b075>03\
         </b075><b076>4</b076><b075>04</b075><b076>8</b076></audiencerange></descriptivedetail>\
         <collateraldetail><textcontent><x426>05</x426><d104 textformat=\"05\">{text}</d104></textcontent>\
         </collateraldetail></product>\n",
        measure("05", width),
        measure("04", height)
    )
}

fn house(records: &[String]) -> Book {
    let feed = format!("<ONIXmessage release=\"3.1\">\n{}</ONIXmessage>\n", records.concat());
    let brief = "panel: { margins: 0.5 in }\nlimits: { words: 3..60, level: .. }\n";
    Book::empty().file("season.xml", feed).file("house.yaml", brief)
}

fn season() -> Book {
    house(&[
        record("gull-1", "8x10", "BC", "<p>Oona climbs the stairs.</p><p>The <em>lamp</em> is dark.</p>"),
        record("gull-2", "8x10", "BB", "<p>Oona climbs.</p>"),
        record("gull-3", "8x0", "BC", "<p>Oona climbs the stairs.</p>"),
        record("gull-4", "8x10", "BC", ""),
        record("gull-5", "1x1", "BC", "<p>Oona climbs the stairs.</p>"),
    ])
}

#[test]
fn the_records_of_a_feed_are_a_list_by_their_names() {
    let outcome = season().run(["measure", "season.xml", "--brief", "house.yaml", "--list"]);
    let page = outcome.answers(2).printed.split_whitespace().collect::<Vec<_>>().join(" ");
    let order: Vec<usize> = [
        "season.xml, gull-3 - panel.trim: ",
        "season.xml, gull-4 - it has no copy: no text of type 05",
        "season.xml, gull-5 - ",
        "outside season.xml, gull-2 ",
        "within season.xml, gull-1 ",
        "5 drafts of 5 books: 3 could not be read, 1 is outside a limit and 1 is within every limit.",
    ]
    .map(|words| page.find(words).unwrap_or_else(|| panic!("{words:?} is not in {page}")))
    .into();
    assert!(order.is_sorted(), "{page}");
}

#[test]
fn the_records_of_a_feed_are_one_object_each_with_their_own_briefs() {
    let book = season();
    let drafts = book.measured(["season.xml", "--brief", "house.yaml"]);
    assert_eq!(drafts.len(), 5);
    let (report, unread) = (Schema::of("report"), Schema::of("unread"));
    drafts[..2].iter().for_each(|one| report.asserts(one));
    drafts[2..].iter().for_each(|one| unread.asserts(one));
    assert_eq!(drafts[0]["draft"], json!({ "path": "season.xml, gull-1", "brief": "house.yaml" }));
    assert_eq!(drafts[0]["length"]["words"], 8);
    let all = book.run(["measure", "season.xml", "--brief", "house.yaml", "--format", "json"]).printed.clone();
    assert_eq!(serde_json::from_str::<Vec<Value>>(&all).expect("one array"), drafts);
    // A file of one record is an array too, so that a script need not count first.
    let one = house(&[record("gull-1", "8x10", "BC", "<p>Oona climbs the stairs.</p>")]);
    let one = one.run(["measure", "season.xml", "--brief", "house.yaml", "--format", "json"]).printed.clone();
    assert_eq!(serde_json::from_str::<Vec<Value>>(&one).expect("one array").len(), 1);
}

#[test]
fn the_other_pages_of_drafts_are_of_records_too_and_a_brief_beside_the_feed_is_found() {
    let book = house(&[record("gull-1", "8x10", "BC", "<p>Oona climbs the stairs.</p>")]);
    let book = book.file("brief.yaml", "panel: { margins: 0.5 in }\n");
    book.run(["measure", "season.xml"]).answers(0).prints("season.xml, gull-1");
    book.run(["fit", "season.xml"]).answers(0).prints("season.xml, gull-1");
    book.run(["level", "season.xml", "--brief", "house.yaml"]).answers(0).prints("season.xml, gull-1");
    let book = book.file("brief.yaml", BRIEF);
    for other in ["tighten", "terms"] {
        let outcome = book.run([other, "season.xml"]);
        outcome.complains("by its name it is a feed; measure, fit and level take feeds").answers(2);
    }
}

#[test]
fn a_feed_that_cannot_be_used_is_told_in_a_line() {
    let at = |book: &Book| book.run(["measure", "season.xml", "--brief", "house.yaml", "--list"]);
    let good = record("gull-1", "8x10", "BC", "<p>Oona climbs the stairs.</p>");
    at(&house(&[])).prints("- cannot measure season.xml: there is no record in it").answers(2);
    let broken = at(&house(&[good.clone(), "<product>".to_owned()]));
    broken.prints("- cannot read the feed season.xml, line 3: it is no XML: </ONIXmessage>");
    broken.prints("2 drafts of 1 book: 1 could not be read and 1 is within every limit.\n").answers(2);
    let fault = at(&house(from_ref(&good)).file("house.yaml", "panel: { margin: 1 in }\n"));
    fault.prints("- house.yaml:1:10: panel.margin: there is no such key").answers(2);
    at(&house(from_ref(&good)).file("house.yaml", "a: [\n"))
        .prints("house.yaml:2:1: this cannot be read as a brief")
        .answers(2);
    house(&[good]).run(["measure", "season.xml"]).complains("there is no brief.yaml in").answers(2);
    Book::new()
        .file("season.xml", [0xff, 0xfe, 0])
        .run(["measure", "season.xml"])
        .complains("season.xml, line 1")
        .answers(2);
}

#[test]
fn a_case_whose_trim_is_that_of_its_cover_says_so() {
    let of_cover = record("gull-1", "8x10", "BB", "<p>Oona climbs the stairs.</p>")
        .replace("<x315>05", "<x315>02")
        .replace("<x315>04", "<x315>01");
    let outcome = house(&[of_cover]).run(["measure", "season.xml", "--brief", "house.yaml"]);
    outcome.answers(0).prints("the record has only the size of the whole cover");
}

#[test]
fn the_sample_of_a_season_is_measured() {
    let files = ["season.xml", "house.yaml"];
    let book = files.into_iter().fold(Book::empty(), |book, name| {
        book.file(name, std::fs::read(std::path::Path::new("drafts").join(name)).expect(name))
    });
    let outcome = book.run(["measure", "season.xml", "--brief", "house.yaml", "--list"]);
    outcome
        .answers(1)
        .prints("3 drafts of 3 books: 1 is outside a limit and 2 are within every limit.\n")
        .is_silent_on_errors();
}
