//! What the program says, read aloud: numbers with their nouns and verbs, and phrases that an author understands.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::book::Book;
use crate::tried::step;

/// A panel in which about one line of a word or two has room.
const NARROW: &str = "book: { title: Wool, names: [Maro] }\npanel: { trim: 50 x 40 mm, margins: 5 mm }\n";
/// A panel in which a blurb has room.
const WIDE: &str = "book: { title: Wool, names: [Maro], readers: 4-8 }\npanel: { trim: 8 x 8 in }\n";
/// So many words in each sentence, of which one is a cut and one a term.
const SENTENCE: &str = "Maro knits a very long scarf for each and every sheep on the hill. ";

/// What follows a number of one without its ending, or a number of many with it, and yet is right.
const RIGHT: [&str; 4] = ["1 is", "1 was", "1 has", "1 stands"];

/// Briefs with no, one and many terms and limits.
fn briefs() -> Vec<String> {
    let wishes = [
        "",
        "terms: [scarf]\navoid: [sheep]\nlimits: { words: 1..1, sentences: ..0 }\n",
        "terms: [scarf, { term: wool, must: true }, { term: sheep, at_most: 1 }]\n\
         limits: { words: 2.., longest_sentence: ..1 }\n",
    ];
    let panels = [NARROW, WIDE];
    panels.iter().flat_map(|panel| wishes.iter().map(move |wishes| format!("{panel}{wishes}"))).collect()
}

/// Copy of no, one, two and many words, sentences and paragraphs.
fn drafts() -> Vec<String> {
    let two = "\"One.\" Is he “here”? Maro  knits ... I knitted, and you ran.";
    let many = format!("# Wool\n\n{}\n\n{two}\n\n> “Warm.”\n> — Ines Pell\n", SENTENCE.repeat(6));
    ["", "A", "Maro.", "Maro knits.", SENTENCE, &many, &format!("{SENTENCE}\n\n***\n\nKnit.\n")]
        .map(str::to_owned)
        .to_vec()
}

/// What is printed of a book by the commands that print a page of it: by every one, or where few cases are tried by the
/// one at `from`.
fn pages(brief: &str, draft: &str, from: usize) -> Vec<String> {
    let book = Book::empty().file("brief.yaml", brief).file("first.md", draft).file("other.md", "Maro knits.\n");
    let book = book.file("story.txt", SENTENCE);
    let commands: [&[&str]; 10] = [
        &["measure", "first.md"],
        &["measure", "--list", "first.md"],
        &["level", "first.md"],
        &["level", "first.md", "--counted"],
        &["fit", "first.md"],
        &["tighten", "first.md"],
        &["terms", "first.md", "--story", "story.txt"],
        &["compare", "first.md", "other.md"],
        &["keep", "first.md", "--list"],
        &["panel", "."],
    ];
    let tried = commands.iter().skip(from % commands.len()).step_by(step());
    tried.map(|command| format!("{}\n{}", command.join(" "), book.run(*command).printed)).collect()
}

/// Numbers whose noun or verb does not agree with them.
static DISAGREEING: LazyLock<[Regex; 6]> = LazyLock::new(|| {
    let nouns = "word|letter|line|cut|query|draft|term|copy|sentence|paragraph|syllable|character|change|limit|second|\
                 minute|grade";
    [
        r"(?:^|[^.0-9:–-])(1 [a-z]+s)(?-u:\b)".to_owned(),
        format!(r"(?:^|[^.0-9])((?:0|[2-9]|[0-9]{{2,}}) (?:more |wanted )?(?:{nouns}))(?-u:\b)"),
        format!(r"(?:^|[^.0-9])(1 (?:{nouns}) (?:are|were|stand|come|have|make|take|hold|win))(?-u:\b)"),
        format!(r"(?-u:\b)((?:1 of )?[0-9]+ (?:{nouns})s (?:is|was|stands|comes|has|makes|takes|holds|wins))(?-u:\b)"),
        format!(r"(?-u:\b)(of 1 (?:wanted )?(?:{nouns})s)(?-u:\b)"),
        format!(r"(?-u:\b)(1 of [0-9]+ (?:wanted )?(?:{nouns})s (?:stand|are|have))(?-u:\b)"),
    ]
    .map(|pattern| Regex::new(&pattern).unwrap_or_else(|fault| panic!("{fault}")))
});

/// Numbers of a page whose noun or verb does not agree with them.
fn disagreeing(page: &str) -> Vec<String> {
    // The cells of a table are no sentence together; a line of text may go on in the next.
    let line = |line: &str| match line.trim_start_matches(|c: char| c.is_alphabetic()).trim().replace("  ", " | ") {
        cells if cells.contains(" | ") => cells + " |",
        text => text,
    };
    let said = page.lines().map(line).collect::<Vec<_>>().join(" ");
    let found = DISAGREEING.iter().flat_map(|pattern| pattern.captures_iter(&said).map(|found| found[1].to_owned()));
    // The verb of "1 of 4 terms stands" goes with the 1.
    found
        .filter(|found| !found.starts_with("1 of ") || !found.ends_with('s'))
        .filter(|found| !RIGHT.contains(&found.as_str()))
        .collect()
}

#[test]
fn what_does_not_agree_is_found() {
    let check = |said: &str| disagreeing(said).len();
    for wrong in [
        "1 cuts",
        "It has 1 words.",
        "2 word",
        "0 line",
        "12 query",
        "1 cut come nearest",
        "3 cuts wins",
        "0 of 1 wanted terms",
        "1 of 4 terms stand",
    ] {
        assert_eq!(check(wrong), 1, "{wrong}");
    }
    for right in [
        "1 cut comes nearest",
        "0 lines are left",
        "11 words",
        "2.1 words",
        "1 of 4 terms stands",
        "1 is over",
        "grade 1 (1-12)",
    ] {
        assert_eq!(check(right), 0, "{right}");
    }
}

#[test]
fn numbers_agree_with_what_they_count_at_none_one_and_many() {
    for (row, brief) in briefs().iter().enumerate() {
        for (column, draft) in drafts().iter().enumerate() {
            for page in pages(brief, draft, if step() == 1 { 0 } else { row * 3 + column }) {
                assert_eq!(disagreeing(&page), Vec::<String>::new(), "{brief}\n{draft}\n{page}");
            }
        }
    }
}

/// A band of all grades says nothing; a script finds no band either, and why.
#[test]
fn a_level_of_a_few_words_is_not_told() {
    let book = Book::empty().file("brief.yaml", format!("{WIDE}limits: {{ level: ..1 }}\n"));
    let book = book.file("first.md", "Maro knits wool.\n").file("other.md", SENTENCE.repeat(2));
    let says = "3 words are too few to tell a level from; it takes 20";
    for command in ["measure", "level"] {
        book.run([command, "first.md"]).prints(says);
    }
    let page = book.run(["level", "first.md"]).printed;
    assert!(!page.contains("grade") && !page.contains("give or take"), "{page}");
    book.run(["compare", "."]).prints("not told");
    let level = &book.measured(["first.md", "--counted"])[0]["level"];
    assert_eq!((&level["headline"], &level["why_no_headline"]), (&Value::Null, &says.into()));
    assert!(level["scores"]["spache_revised"].is_number(), "the bare figure stays");
    for measure in level["measures"].as_array().expect("measures") {
        assert_eq!((&measure["spread"], &measure["reading"]), (&Value::Null, &Value::Null), "{measure}");
        assert_eq!(measure["applies"], false, "{measure}");
    }
    let level = &book.measured(["other.md"])[0]["level"];
    assert!(level["headline"]["low"].is_number() && level["why_no_headline"].is_null());
}

/// The page begins with what matters; the other measures take a line each, and the rules come when they are asked for.
#[test]
fn the_level_tells_one_measure_first_and_the_others_in_a_line() {
    let book = Book::empty().file("brief.yaml", WIDE).file("first.md", SENTENCE.repeat(3));
    let outcome = book.run(["level", "first.md"]);
    let page = &outcome.printed;
    let others = page.split_once("Others ").expect("the other measures").1;
    let rows: Vec<&str> = others.lines().take_while(|line| !line.is_empty()).collect();
    assert_eq!(rows.len(), 12, "{page}");
    assert!(rows.iter().all(|row| row.contains(": ") && row.len() <= 80), "one line each: {page}");
    assert!(!others.contains("Spache revised"), "what is told first is not told again: {page}");
    outcome.prints("Drivers  Spache revised is ").prints("a lower figure is easier to read");
    assert!(!page.contains("Made for adult"), "{page}");
    assert_eq!(page.matches("level --counted").count(), 1);
    let counted = book.run(["level", "first.md", "--counted"]);
    counted.prints("Made for adult readers.").prints("Spache revised: ");
    assert!(!counted.printed.contains("--counted"));
    let told = |options: &[&str]| -> Value {
        let all = ["level", "first.md", "--format", "json"].iter().chain(options);
        serde_json::from_str(&book.run(all.copied()).printed).expect("the output is one document")
    };
    let (plain, counted) = (told(&[]), told(&["--counted"]));
    assert!(plain["level"]["measures"][0]["source"].is_null() && counted["level"]["measures"][0]["source"].is_string());
    assert_eq!(plain["level"]["unfamiliar"], counted["level"]["unfamiliar"]);
}

#[test]
fn a_measure_whose_higher_figure_is_easier_says_so() {
    let brief = WIDE.replace("4-8", "9-12");
    let book = Book::empty().file("brief.yaml", brief).file("first.md", SENTENCE.repeat(3));
    book.run(["level", "first.md"]).prints("Drivers  New Dale-Chall is ").prints("a higher figure is easier to read");
}

#[test]
fn the_rules_of_measuring_come_when_they_are_asked_for() {
    let book = Book::with_draft(SENTENCE).file("other.md", SENTENCE);
    let plain = book.run(["measure", "first.md", "other.md"]).printed;
    assert!(plain.ends_with("\n`blurbwright measure --counted` says how everything is counted.\n"), "{plain}");
    assert_eq!(plain.matches("--counted").count(), 1);
    assert!(!plain.contains("Unicode"));
    let counted = book.run(["measure", "first.md", "other.md", "--counted"]).printed;
    assert_eq!(counted.matches("Counted  measured: Length and level").count(), 1);
    assert_eq!(counted.lines().next(), plain.lines().next());
    book.run(["measure", "--help"]).prints("--counted");
    book.run(["manual", "level"]).prints("counted");
    book.run(["completions", "bash"]).prints("--counted");
}

/// Messages about files that are not as they should be name no sign of a program's inside.
#[test]
fn a_file_that_cannot_be_read_is_told_in_plain_words() {
    let broken = [
        "panel: [\n",
        "panel: {\n",
        "a: !x y\n",
        "a: *b\n",
        "\ta: b\n",
        "a: b: c\n",
        "a: \"b\n",
        "--- \na: b\n---\nc: d\n",
        "panel:\n",
        "panel: 3\n",
        "book: [x]\npanel: { trim: 8 x 8 in }\n",
        "a: \u{7}\n",
        "? [a]\n: b\n",
        "- a\n- b\n",
        "%x\n",
        "a: |\n b\n  c\n d: [\n",
        "}",
        "[[[[",
    ];
    let words = "yaml|null|none|parser?|invalid|token|node|scalar|mapping|sequence|stream|anchor|alias|tag|byte|string";
    let jargon = Regex::new(&format!(r"(?i-u)\b({words})\b")).expect("a pattern");
    for brief in broken {
        let book = Book::empty().file("brief.yaml", brief).file("first.md", "Maro knits.\n");
        let outcome = book.run(["measure", "first.md"]);
        outcome.answers(2).complains("brief.yaml:");
        let said = outcome.complained.replace("brief.yaml", "");
        assert!(!jargon.is_match(&said), "{brief:?}: {said}");
    }
}

/// What was typed is told without the words of the library that reads it.
#[test]
fn what_was_typed_wrongly_is_told_in_plain_words() {
    let book = Book::with_draft("Maro knits.\n");
    let check = |typed: &[&str], said: &str| {
        book.run(typed).refuses(said);
    };
    check(&["mesure"], "there is no command mesure; did you mean measure? See `blurbwright --help`");
    check(&["--letters"], "--letters is an option of the desk: write `blurbwright desk --letters`");
    check(&["fit", "--siz", "3"], "--siz is not known here; did you mean --size? See `blurbwright fit --help`");
    check(
        &["measure", "--format", "word"],
        "--format: \"word\" is not known; write one of text, json, jsonl, csv, xlsx, html. See `blurbwright --help`",
    );
    check(&["measure", ""], "the name of the draft is empty; write one. See `blurbwright --help`");
    check(&["measure", "--size"], "--size needs a word behind it. See `blurbwright --help`");
    for size in ["-3", "-3pt", "--font"] {
        let said = "cannot be used; a size is a length above nought, such as 12pt. See `blurbwright --help`";
        check(&["measure", "--size", size], &format!("--size: \"{size}\" {said}"));
    }
    check(
        &["fit", "--leading=-10%"],
        "--leading: \"-10%\" cannot be used; a leading is a length or a percentage above nought, such as 16pt or 130%. \
         See `blurbwright --help`",
    );
    check(
        &["measure", "--list", "--format", "json"],
        "--list and --format do not go together; leave one of them out. See `blurbwright measure --help`",
    );
    check(&["proof", "first.md"], "--output is missing. See `blurbwright proof --help`");
    check(&["start"], "FOLDER is missing. See `blurbwright start --help`");
    check(
        &["panel", "--resolution", "3"],
        "--resolution: \"3\" cannot be used; write a whole number of pixels per inch from 10 to 2400. \
         See `blurbwright --help`",
    );
}

/// What a query says is understood by somebody who knows neither type nor programs.
#[test]
fn queries_speak_plainly() {
    let brief = "book: { names: [Maro Fenn] }\npanel: { trim: 60 x 60 mm, margins: 2 mm }\n";
    let divided = (0..30).find_map(|words| {
        let copy = format!("{}Maro Fenn knits.\n", "wool ".repeat(words));
        let page = Book::empty().file("brief.yaml", brief).file("first.md", copy).run(["tighten", "first.md"]).printed;
        page.contains("broken name").then(|| page.split_whitespace().collect::<Vec<_>>().join(" "))
    });
    let divided = divided.expect("a name at a line's end");
    assert!(divided.contains("a no-break space between its words keeps them on one"), "{divided}");

    let many = "When Maro meets Ines the badger and Tobin the toad, they run. So does Mr Plum. So does Mrs Lark.\n";
    let outcome = Book::with_draft(many).run(["tighten", "first.md"]);
    let page = outcome.printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("many names") && !page.contains("holds one or two"), "{page}");
}

/// A name begins a sentence with a capital.
#[test]
fn a_part_without_a_name_begins_its_line_with_a_capital() {
    let draft = format!("{SENTENCE}\n\n---\n\n{}\n", SENTENCE.repeat(2));
    Book::with_draft(draft)
        .run(["level", "first.md"])
        .prints("Sections Section 1, line 1")
        .prints(" Section 2, line 5");
    let room = "keep_out: [{ name: barcode box, size: 1 x 1 in, corner: foot-spine }]";
    let brief = format!("panel: {{ trim: 8 x 8 in, {room} }}\n");
    let book = Book::empty().file("brief.yaml", brief).file("first.md", SENTENCE);
    book.run(["measure", "first.md"]).prints("the box \"barcode box\" is ");
}
