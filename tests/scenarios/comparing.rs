//! Drafts side by side, as a page, as data, and as a file to send; and lists of books.

use std::fs;
use std::path::Path;

use blurbwright::brief::queries::Rule;
use serde_json::Value;

use super::book::{BRIEF, Book, DRAFT};
use super::schema::Schema;
use crate::pdf_letters;

/// The sample book, with every rule off that looks for queries: what is compared here is all but them.
fn sample_without_queries() -> Book {
    let brief = fs::read_to_string("drafts/brief.yaml").expect("the sample's brief");
    Book::sample().file("brief.yaml", without_queries(&brief))
}

fn without_queries(brief: &str) -> String {
    let names: Vec<&str> = Rule::ALL.iter().map(|(name, _)| *name).collect();
    format!("{brief}\nqueries: {{ off: [{}] }}\n", names.join(", "))
}

#[test]
fn the_sample_book_is_compared() {
    let page = sample_without_queries().run(["compare"]);
    page.answers(0).is_silent_on_errors();
    page.prints("The Lamp at Gull Point: 2 drafts side by side\n\n  1  first.md\n  2  second.md\n");
    page.prints("words                40 to 100   83         60\n");
    page.prints("largest size                     14.4 pt    16.6 pt *\n");
    page.prints("Draft 1 is beaten by draft 2: it is nowhere better, and worse in largest size");
    page.prints("From draft 1 to draft 2: 16 changes");
    page.prints("[blurb] Somebody {12: has to > must} climb the stairs{13: , and there is only\n  Oona >}.");
    page.prints("change             lines letters  words  level  terms\n");
}

#[test]
fn what_a_change_did_to_the_fit_is_told() {
    let spilling = Book::sample().run(["compare", "first.md", "second.md", "--size", "14.6pt"]);
    spilling.answers(1).prints("lines left or over               1 over !   3 left *\n");
    spilling.prints("  4 replaced          -2     -44    -10  -0.01      0  now it fits\n");
    spilling.prints("Change 4 made it fit.\nChanges 2, 4, 6, 10, 13 and 14 each make draft 1 fit without any other.\n");
}

#[test]
fn drafts_that_are_each_better_somewhere_are_not_beaten() {
    let book = Book::empty()
        .file("brief.yaml", without_queries(&format!("terms: [lamp, storm, boats]\n{BRIEF}")))
        .file("a.md", "The lamp is lit, the storm is gone, and the boats are home.\n".repeat(6))
        .file("b.md", "The lamp is lit.\n")
        .file("c.md", "The lamp is lit.\n");
    let page = book.run(["compare", "a.md", "b.md"]);
    page.answers(1).prints(" 3 of 3 *  1 of 3\n");
    page.prints("No draft is beaten by another on every measure: each is better somewhere, or as\n");
    book.run(["compare", "b.md", "c.md"]).answers(0).prints("The two drafts print the same.\n");
}

#[test]
fn drafts_stand_in_the_order_that_is_asked_for() {
    let book =
        Book::new().file("b.md", "One two three. Four.\n").file("c.md", "One two.\n").file("a.md", "One two three.\n");
    let order = |sort: &[&str]| -> Vec<String> {
        let arguments = ["compare", "b.md", "c.md", "a.md", "--format", "json"].into_iter().chain(sort.iter().copied());
        let json: Value = serde_json::from_str(&book.run(arguments).answers(0).printed).expect("JSON");
        let drafts = json["drafts"].as_array().expect("a list").iter();
        drafts.map(|draft| draft["path"].as_str().expect("a path").to_owned()).collect()
    };
    assert_eq!(order(&[]), ["b.md", "c.md", "a.md"]);
    assert_eq!(order(&["--sort", "name"]), ["a.md", "b.md", "c.md"]);
    assert_eq!(order(&["--sort", "words"]), ["c.md", "a.md", "b.md"]);
    assert_eq!(order(&["--sort", "fit"]), ["c.md", "a.md", "b.md"]);
}

#[test]
fn fewer_queries_are_better() {
    let book = Book::new().file("a.md", "The lamp  is lit .\n").file("b.md", "The lamp is lit.\n");
    let json = book.run(["compare", "a.md", "b.md", "--format", "json"]);
    let json: Value = serde_json::from_str(&json.answers(0).printed).expect("JSON");
    let count = |draft: usize| json["drafts"][draft]["queries"].as_u64().expect("a number");
    assert!(count(0) >= count(1) + 2, "{} and {}", count(0), count(1));
    assert_eq!(json["beaten"][0]["path"], "a.md");
}

#[test]
fn many_drafts_stand_in_turns_that_are_not_too_wide() {
    let book = (0..12).fold(Book::new(), |book, number| book.file(&format!("draft-{number:02}.md"), DRAFT));
    let page = book.run(["compare", "."]);
    assert!(page.answers(0).printed.lines().all(|line| line.chars().count() <= 80), "{}", page.printed);
    assert!(page.printed.matches("\nwords ").count() > 1, "{}", page.printed);
}

#[test]
fn the_json_keeps_to_its_schema_and_adds_up() {
    let book = sample_without_queries();
    let schema = Schema::of("compare");
    let two = book.run(["compare", "first.md", "second.md", "--format", "json"]);
    let two: Value = serde_json::from_str(&two.answers(0).printed).expect("JSON");
    schema.asserts(&two);
    let differences = &two["differences"];
    let last = differences["changes"].as_array().and_then(|changes| changes.last()).expect("a change");
    assert_eq!(last["after"], differences["last"]);
    let three = book.run(["compare", "first.md", "second.md", "first.md", "--format", "json"]);
    let three: Value = serde_json::from_str(&three.answers(0).printed).expect("JSON");
    schema.asserts(&three);
    assert!(three["differences"].is_null());
    assert_eq!(three["beaten"].as_array().map(Vec::len), Some(2));
}

#[test]
fn the_csv_has_a_line_for_each_draft() {
    let book = Book::new().file("a, \"b\".md", DRAFT).file("c.md", DRAFT);
    let csv = book.run(["compare", ".", "--format", "csv"]);
    let lines: Vec<&str> = csv.answers(0).printed.lines().collect();
    assert_eq!(lines.len(), 3);
    assert!(lines[0].starts_with("draft,verdict,words,letters,"), "{}", lines[0]);
    assert!(lines[1].starts_with("\"./a, \"\"b\"\".md\",within,13,"), "{}", lines[1]);
    assert!(lines[2].starts_with("./c.md,within,13,"), "{}", lines[2]);
}

#[test]
fn a_page_to_send_stands_by_itself() {
    let book = Book::sample().file("brief.yaml", format!("book: {{ title: \"A <b> & \\\"c\\\"\" }}\n{BRIEF}"));
    let mut written = Vec::new();
    for _ in 0..2 {
        let done = book.output(["compare", "first.md", "second.md", "-o", "page.html"]);
        assert!(done.stdout.is_empty() && done.stderr.is_empty(), "{done:?}");
        written.push(fs::read_to_string(book.path("page.html")).expect("a page"));
    }
    let html = &written[0];
    assert_eq!(*html, written[1]);
    assert!(html.contains("<h1>A &lt;b&gt; &amp; &quot;c&quot;: drafts side by side</h1>"));
    assert!(html.contains("<th scope=\"row\">words</th>") && html.contains("<th scope=\"col\">2. second.md</th>"));
    assert!(html.contains("<del>has to</del><ins>must</ins><sup>"), "{html}");
    assert_eq!(html.matches("<svg style=").count(), 2);
    for fetched in ["<script", "src=", "href=", "url(", "@import", "http:", "https:"] {
        assert!(!html.contains(fetched), "{fetched}");
    }
    // The page is well formed, so that every program that reads XML can read it.
    let body = &html[html.find("<body>").expect("a body")..html.find("</html>").expect("an end")];
    roxmltree::Document::parse(body).expect("well formed");
}

#[test]
fn a_leaf_is_a_pdf_and_other_files_are_left_alone() {
    let book = Book::sample().file("letter.pdf", "from Ines");
    let done = book.output(["compare", "first.md", "second.md", "-o", "leaf.pdf"]);
    assert_eq!(done.status.code(), Some(0));
    assert!(fs::read(book.path("leaf.pdf")).expect("a leaf").starts_with(b"%PDF"));
    let arguments = |file| ["compare", "first.md", "second.md", "-o", file];
    book.run(arguments("letter.pdf")).answers(2).complains("never overwritten");
    book.run(arguments("page.doc")).refuses("cannot tell the form of page.doc; end the file's name in .html or .pdf");
    book.run(["compare", "first.md"])
        .refuses("there is one draft alone, and nothing to hold it against; name two drafts or more");
}

#[test]
fn a_list_of_books_has_what_fails_first() {
    let book = Book::empty()
        .file("list/a/brief.yaml", BRIEF)
        .file("list/a/first.md", DRAFT)
        .file("list/b/brief.yaml", BRIEF)
        .file("list/b/first.md", "word ".repeat(61))
        .file("list/c/brief.yaml", "panel: {}\n")
        .file("list/c/first.md", DRAFT);
    for arguments in [vec!["measure", "list"], vec!["measure", "list", "--list"]] {
        let list = book.run(arguments);
        let lines: Vec<&str> = list.answers(2).printed.lines().collect();
        assert!(lines[1].starts_with("unread   c      list/c/first.md"), "{}", list.printed);
        assert!(lines[2].starts_with("         - list/c/brief.yaml:1:8: "), "{}", list.printed);
        assert!(lines.contains(&"         - words: 61; the brief has 1 to 60"), "{}", list.printed);
        let within = lines.iter().position(|line| line.starts_with("within "));
        let outside = lines.iter().position(|line| line.starts_with("outside "));
        assert!(outside.is_some() && outside < within, "{}", list.printed);
        let below = "3 drafts of 3 books: 1 could not be read, 1 is outside a limit and 1 is within\nevery limit.\n\
                     What they are outside of: words (1 draft).\n";
        list.prints(below);
    }
    book.run(["measure", "list/b", "--list"]).answers(1).prints("\n1 draft of 1 book: 1 is outside a limit.\n");
    assert!(!book.run(["measure", "list/a"]).answers(0).printed.contains("1 draft"));
    book.run(["measure", "list/a", "--list", "--format", "json"]).answers(2);
}

/// The sample on its night sea in black copy, and another draft of it without its last sentences.
fn on_night_sea() -> Book {
    let sample = |name: &str| fs::read(Path::new("drafts/night-sea").join(name)).expect("the sample");
    let brief = String::from_utf8(sample("brief.yaml")).expect("a text").replace("ink: white", "ink: black");
    let draft = String::from_utf8(sample("first.md")).expect("a text");
    let shorter = draft.replace("Somebody has to climb the stairs, and there is only Oona. ", "");
    assert_ne!(shorter, draft);
    let book = Book::empty().file("brief.yaml", brief).file("art/back.jpg", sample("art/back.jpg"));
    book.file("first.md", &draft).file("second.md", shorter)
}

#[test]
fn a_page_to_send_carries_a_picture_once() {
    let book = on_night_sea();
    let done = book.output(["compare", "first.md", "second.md", "-o", "page.html"]);
    assert!(done.stderr.is_empty(), "{done:?}");
    let html = fs::read_to_string(book.path("page.html")).expect("a page");
    let shown = |words: &str| html.matches(words).count();
    assert_eq!((shown("data:image/"), shown("<use href=\"#picture-0\"")), (1, 2));
    // A page that may load nothing shows its own pictures only where it says so (Content Security Policy Level 3, 6.1).
    assert!(html.contains("img-src data:"));
    let art = html.split("base64,").nth(1).and_then(|data| data.split('"').next()).map_or(0, str::len);
    assert!(art > 100_000, "{} bytes, {art} of them art", html.len());
    let body = &html[html.find("<body>").expect("a body")..html.find("</html>").expect("an end")];
    roxmltree::Document::parse(body).expect("well formed");
    // Three drafts need no more.
    let three = book.file("third.md", "The lamp is out.\n");
    three.output(["compare", ".", "-o", "three.html"]);
    let html = fs::read_to_string(three.path("three.html")).expect("a page");
    assert_eq!((html.matches("data:image/").count(), html.matches("<use href=").count()), (1, 3));
}

#[test]
fn what_a_change_does_to_lines_on_art_is_told() {
    let book = on_night_sea();
    let told = book.run(["compare", "second.md", "first.md"]);
    assert!(told.printed.contains("lost on the art now: line "), "{}", told.printed);
    book.output(["compare", "second.md", "first.md", "-o", "leaf.pdf"]);
    let leaf = pdf_letters::pages(&fs::read(book.path("leaf.pdf")).expect("a leaf"));
    let leaf: String = leaf[0].iter().map(|letter| letter.text.as_str()).collect();
    assert!(leaf.contains("All changes together: lost on the art now: line "), "{leaf}");
    let data = |drafts: [&str; 2]| -> Value {
        let told = book.run(["compare", drafts[0], drafts[1], "--format", "json"]);
        serde_json::from_str(&told.printed).expect("JSON")
    };
    let forth = data(["second.md", "first.md"]);
    let differences = &forth["differences"];
    let lost = |figures: &Value| figures["on_art"]["lost"].as_u64().expect("a count");
    assert!(lost(&differences["last"]) > lost(&differences["first"]), "{differences}");
    let changes = differences["changes"].as_array().expect("changes");
    let new = changes.iter().flat_map(|change| change["on_art"].as_array().expect("lines"));
    assert!(new.clone().count() > 0 && new.clone().all(|line| line["after"] != line["before"]), "{differences}");
    // Backwards it is the other way round.
    let back = data(["first.md", "second.md"]);
    let back = &back["differences"];
    assert_eq!((lost(&back["first"]), lost(&back["last"])), (lost(&differences["last"]), lost(&differences["first"])));
    // Without art nothing is said of it.
    let plain = Book::sample().run(["compare", "first.md", "second.md", "--format", "json"]);
    assert!(!plain.printed.contains("on_art"));
}

#[test]
fn the_title_stands_on_the_spine_of_a_comparison() {
    let brief = format!("book: {{ title: Zephyr }}\nspine: {{ width: 0.5 in }}\n{BRIEF}");
    let book = Book::empty().file("brief.yaml", brief).file("a.md", DRAFT).file("b.md", "Oona climbs the stairs.\n");
    book.output(["compare", "a.md", "b.md", "-o", "leaf.pdf"]);
    let leaf = pdf_letters::pages(&fs::read(book.path("leaf.pdf")).expect("a leaf"));
    let leaf: String = leaf[0].iter().map(|letter| letter.text.as_str()).collect();
    assert_eq!(leaf.matches("Zephyr").count(), 3, "the heading and two spines: {leaf}");
}

/// A draft that revised Spache reaches, and one that stands above its grades.
fn of_two_measures() -> Book {
    let easy = "The cat sat on the mat. The dog ran to the cat. They had a good day and went home to bed. ".repeat(2);
    let hard = "Extraordinary meteorological phenomena perpetually bewildered the venerable cartographer, whose \
                meticulous observations nevertheless contradicted every established hypothesis concerning celestial \
                navigation, again and again. ";
    Book::empty()
        .file("brief.yaml", "book: { readers: 5-7 }\npanel: { trim: 8.5 x 8.5 in }\n")
        .file("easy.md", easy)
        .file("hard.md", hard)
}

#[test]
fn levels_are_compared_by_one_measure_which_is_named() {
    let book = of_two_measures();
    let own = |draft: &str| book.measured([draft])[0]["level"]["headline"]["measure"].clone();
    assert_ne!(own("easy.md"), own("hard.md"), "each draft alone is told by its own measure");
    book.run(["compare", "easy.md", "hard.md"]).prints("Levels are told by New Dale-Chall here");
    let told: Value =
        serde_json::from_str(&book.run(["compare", "easy.md", "hard.md", "--format", "json"]).printed).expect("JSON");
    assert_eq!(told["level_measure"], "New Dale-Chall");
    Schema::of("compare").asserts(&told);
    let grades = [&told["drafts"][0], &told["drafts"][1]].map(|draft| draft["grade"].as_f64().expect("a grade"));
    assert!(grades[0] < grades[1], "{grades:?}");
    let differences = ["first", "last"].map(|end| told["differences"][end]["grade"].as_f64().expect("a grade"));
    assert_eq!(differences, grades);
    let csv = book.run(["compare", ".", "--format", "csv"]).printed;
    assert_eq!(csv.matches(",New Dale-Chall,").count(), 2, "{csv}");
    // Two drafts of one measure are told by that.
    let same = book.run(["compare", "easy.md", "easy.md"]);
    assert!(same.printed.contains("Levels are by Spache revised."), "{}", same.printed);
}

#[test]
fn a_list_says_by_which_measures_its_levels_are() {
    let book = of_two_measures();
    let list = book.run(["measure", ".", "--list"]).printed;
    let flat = list.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("Levels are by New Dale-Chall, those with a star by Spache revised"), "{list}");
    let level = |draft: &str| {
        let row = list.lines().find(|line| line.contains(draft)).expect("a row");
        row.split_whitespace().any(|cell| cell.ends_with('*'))
    };
    assert!(level("easy.md") && !level("hard.md"), "{list}");
    assert!(!book.run(["measure", "easy.md", "--list"]).printed.contains('*'));
    assert!(book.run(["measure", ".", "--format", "html"]).printed.contains("those with a star by Spache revised"));
}

#[test]
fn a_feed_is_told_to_be_none_of_two_drafts() {
    let told = "cannot read the draft season.xml: by its name it is a feed; measure, fit and level take feeds; name a \
                draft, which is a text file that ends in .md";
    Book::new().file("season.xml", "<ONIXMessage/>").run(["compare", "season.xml"]).refuses(told);
}
