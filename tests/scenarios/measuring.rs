//! Drafts that can be measured: which brief is used, in what order, with what answer.

use std::io::Read;

use super::book::{BRIEF, Book, DRAFT};

#[test]
fn the_sample_book_is_within_its_brief() {
    let outcome = Book::sample().run(["measure"]);
    outcome.answers(0).is_silent_on_errors();
    outcome.prints("The Lamp at Gull Point: first.md").prints("The Lamp at Gull Point: second.md");
    outcome.prints("Verdict  within every limit").prints("83 words (the brief has 40 to 100)");
}

#[test]
fn without_a_command_the_book_in_this_folder_is_measured() {
    Book::with_draft(DRAFT).run::<&str>([]).answers(0).prints("first.md\n");
    let below = Book::empty().file("drafts/brief.yaml", BRIEF).file("drafts/first.md", DRAFT);
    below.run::<&str>([]).answers(0).prints("drafts/first.md\n");
    Book::empty()
        .run::<&str>([])
        .answers(2)
        .complains("there is no book in this folder")
        .complains("blurbwright start");
}

#[test]
fn one_limit_that_is_not_kept_answers_1() {
    let long = "Oona climbs the stairs again. ".repeat(20);
    let outcome = Book::with_draft(long).run(["measure", "first.md"]);
    outcome.answers(1).is_silent_on_errors();
    outcome.prints("Verdict  outside 1 limit:\n").prints("- words: 100; the brief has 1 to 60");
}

#[test]
fn the_worst_answer_of_several_drafts_is_given_and_the_good_ones_are_still_printed() {
    let book = Book::new().file("a.md", DRAFT).file("b.md", "word ".repeat(61)).file("c.md", [0xff]);
    book.run(["measure", "a.md"]).answers(0);
    book.run(["measure", "a.md", "b.md"]).answers(1);
    let all = book.run(["measure", "c.md", "b.md", "a.md"]);
    all.answers(2).prints("b.md\n").prints("a.md\n").complains("c.md:1:1");
}

#[test]
fn drafts_and_folders_come_in_the_order_in_which_they_are_named() {
    let book = Book::new()
        .file("z.md", DRAFT)
        .file("list/b.md", DRAFT)
        .file("list/a/c.md", DRAFT)
        .file("list/d.txt", "not a draft")
        .file("list/.hidden.md", DRAFT)
        .file("a.MD", DRAFT);
    let measured = book.measured(["z.md", "list", "a.MD"]);
    let paths: Vec<&str> = measured.iter().map(|report| report["draft"]["path"].as_str().expect("a path")).collect();
    assert_eq!(paths, ["z.md", "list/a/c.md", "list/b.md", "a.MD"]);
}

#[test]
fn many_drafts_keep_their_order() {
    let names: Vec<String> = (0..600).map(|number| format!("draft-{number:03}.md")).collect();
    let book = names
        .iter()
        .enumerate()
        .fold(Book::new(), |book, (number, name)| book.file(name, "Oona waits. ".repeat(1 + number % 7)));
    let measured = book.measured(["."]);
    assert_eq!(measured.len(), names.len());
    for (number, (report, name)) in measured.iter().zip(&names).enumerate() {
        assert_eq!(report["draft"]["path"], format!("./{name}"));
        assert_eq!(report["length"]["sentences"], 1 + number % 7);
    }
}

#[test]
fn the_nearest_brief_above_is_used_unless_one_is_named() {
    let small = BRIEF.replace("1..60", "1..3");
    let book =
        Book::new().file("series/one/first.md", DRAFT).file("series/brief.yaml", &small).file("other.yaml", BRIEF);
    book.run(["measure", "series/one/first.md"]).answers(1).prints("the brief has 1 to 3");
    book.run(["measure", "series/one/first.md", "--brief", "other.yaml"]).answers(0);
    let report = &book.measured(["series/one/first.md"])[0];
    assert_eq!(report["draft"]["brief"], "series/brief.yaml");
}

#[test]
fn another_setting_is_tried_without_touching_the_brief() {
    let book = Book::with_draft(DRAFT);
    let report = &book.measured(["first.md", "--size", "20pt", "--leading", "30pt", "--font", "sans"])[0]["fit"];
    assert_eq!(
        (&report["size_pt"], &report["leading_pt"], &report["font"]),
        (&20.0.into(), &30.0.into(), &"sans".into())
    );
    let percent = &book.measured(["first.md", "--size", "20pt", "--leading", "120%"])[0]["fit"];
    assert_eq!(percent["leading_pt"], 24.0);
    let default = &book.measured(["first.md"])[0]["fit"];
    assert_eq!(default["size_pt"], 13.0);
}

#[test]
fn a_font_file_beside_the_brief_is_used() {
    let font = include_bytes!("../../src/fonts/Nunito-Regular.ttf");
    let brief = format!("{BRIEF}type: {{ font: own.ttf }}\n");
    let book = Book::empty().file("brief.yaml", brief).file("own.ttf", font).file("first.md", DRAFT);
    let own = &book.measured(["first.md"])[0]["fit"];
    let sans = &book.measured(["first.md", "--font", "sans"])[0]["fit"];
    assert_eq!(own["set_lines"], sans["set_lines"], "the same face gives the same lines");
}

#[test]
fn a_draft_comes_from_standard_input() {
    let book = Book::new().input("Oona waits.\n");
    let report = &book.measured(["-"])[0];
    assert_eq!((&report["draft"]["path"], &report["length"]["words"]), (&"-".into(), &2.into()));
    assert_eq!(report["draft"]["brief"], "brief.yaml");
}

#[test]
fn copy_that_is_not_there_is_measured_as_nothing() {
    for nothing in ["", "\n\n", " \t \u{a0}\n", "<!-- to be written -->\n", "\u{feff}", "\u{feff}<!-- -->"] {
        let outcome = Book::with_draft(nothing).run(["measure", "first.md"]);
        outcome.answers(1).prints("0 words (outside: the brief has 1 to 60)").is_silent_on_errors();
        let report = &Book::with_draft(nothing).measured(["first.md"])[0];
        assert_eq!((&report["length"]["words"], &report["fit"]["lines"]), (&0.into(), &0.into()), "{nothing:?}");
        assert!(report["level"]["scores"]["flesch_reading_ease"].is_null());
    }
}

#[test]
fn a_reader_that_goes_away_is_a_clean_end() {
    let book = (0..60).fold(Book::new(), |book, number| book.file(&format!("{number}.md"), DRAFT));
    for taken in [0, 1, 5000] {
        for format in ["text", "json", "jsonl"] {
            let mut child = book.command(["measure", ".", "--format", format]).spawn().expect("the program starts");
            let mut output = child.stdout.take().expect("output is a pipe");
            output.read_exact(&mut vec![0; taken]).expect("so much is printed");
            drop(output);
            let ended = child.wait_with_output().expect("the program ends");
            assert_eq!(ended.status.code(), Some(0), "{format} after {taken} bytes");
            assert_eq!(ended.stderr, b"");
        }
    }
}

#[test]
fn a_page_that_is_redirected_has_80_columns_and_no_colour() {
    for colour in [("NO_COLOR", "1"), ("CLICOLOR_FORCE", "1"), ("FORCE_COLOR", "1"), ("TERM", "dumb")] {
        let outcome = Book::sample().environment(colour.0, colour.1).environment("COLUMNS", "200").run(["measure"]);
        let widest = outcome.printed.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(80), "{widest:?}");
        outcome.answers(0);
    }
}

#[test]
fn line_endings_make_no_difference_to_what_is_measured() {
    let unix = "# Head\n\nOona climbs\nthe stairs.\n\nThe lamp is dark.\n\n> \"Fine.\"\n> — Ines\n";
    let expected = &Book::with_draft(unix).measured(["first.md"])[0];
    for other in [unix.replace('\n', "\r\n"), unix.replace('\n', "\r"), format!("\u{feff}{unix}")] {
        let report = &Book::with_draft(&other).measured(["first.md"])[0];
        assert_eq!(report["length"]["words"], expected["length"]["words"], "{other:?}");
        assert_eq!(report["length"]["paragraphs"], 2, "{other:?}");
        assert_eq!(report["fit"]["set_lines"], expected["fit"]["set_lines"], "{other:?}");
    }
}

/// A panel whose printed lines are longer than the page, and the pages of every command that prints one.
#[test]
fn no_page_is_wider_than_80_columns_however_long_the_printed_lines_are() {
    let brief = "panel: { trim: 250 x 250 mm }\n";
    let copy =
        "Tam has a kite made out of newspaper, a ball of red string, and absolutely nobody to fly it with. ".repeat(3);
    let book = Book::empty().file("brief.yaml", brief).file("first.md", copy);
    for command in ["measure", "fit", "level"] {
        let outcome = book.run([command, "first.md"]);
        let widest = outcome.printed.lines().map(|line| line.chars().count()).max();
        assert!(widest.is_some_and(|widest| (60..=80).contains(&widest)), "{command}: {widest:?}");
    }
}

/// The report on the copy is that of a draft without answers, and what is answered comes behind it.
#[test]
fn answers_in_comments_are_told_behind_the_report() {
    let asked = "<!-- Whom does the child meet?\nOona, a --\\> goat\n-->\n\n<!-- Where is Oona? A note. -->\n";
    for (line_end, copy) in [("\n", "Oona climbs.\n\n"), ("\r\n", "Oona climbs.\r\n\r\n"), ("\n", "")] {
        let book = Book::with_draft(copy)
            .file("answered.md", format!("{copy}{asked}").replace("\r", "").replace('\n', line_end));
        let plain = book.run(["measure", "first.md"]).printed.replace("first.md", "answered.md");
        let answered = book.run(["measure", "answered.md"]).printed;
        let (report, rest) = answered.split_once("Answers  ").expect("a section");
        assert!(plain.starts_with(report) && !report.is_empty(), "{answered}");
        assert!(rest.starts_with("1 of 6 questions is answered in comments of the draft\n"), "{rest}");
        assert!(rest.contains("Whom does the child meet? Not in the copy: ") && !rest.contains("Where is"), "{rest}");
        let json = &book.measured(["answered.md"])[0]["answers"];
        assert_eq!((&json["answered"], &json["items"][0]["answer"]), (&1.into(), &"Oona, a --> goat".into()));
        assert_eq!(json["items"][0]["words"][0]["present"], !copy.is_empty());
    }
}

/// A list of titles is set solid, below the room that parts it from the copy above.
#[test]
fn other_titles_are_a_list() {
    let draft = "Oona climbs.\n\n## Other titles\n\n- The Gull Who Stayed\n- Nine Boats Home\n";
    let brief = format!("{BRIEF}type: {{ size: 12 pt, leading: 18 pt, space_above: 9 pt }}\n");
    let book = Book::empty().file("brief.yaml", brief).file("first.md", draft);
    let report = &book.measured(["first.md"])[0];
    let lines = report["fit"]["set_lines"].as_array().expect("lines");
    let depths: Vec<f64> = lines.iter().map(|line| line["y_pt"].as_f64().expect("a depth")).collect();
    let steps: Vec<f64> = depths.windows(2).map(|pair| (pair[1] - pair[0]).round()).collect();
    assert_eq!(steps, [27.0, 18.0]);
}

/// A brief without places gives the pages that are kept beside the test, byte for byte.
#[test]
fn without_places_every_page_is_as_it_was() {
    let book = Book::sample().file("brief.yaml", include_str!("../data/one_column.yaml"));
    let pages = include_str!("../data/one_column.txt").split("$ blurbwright ").skip(1);
    let mut count = 0;
    for (command, page) in pages.filter_map(|page| page.split_once('\n')) {
        assert_eq!(book.run(command.split(' ')).printed, page, "{command}");
        count += 1;
    }
    assert_eq!(count, 5);
}
