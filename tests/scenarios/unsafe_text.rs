//! Text that a terminal would act on: shown, never sent. [`Book::run`] looks at every character of every run; these
//! scenarios bring such text in by every way there is.

use super::book::{BRIEF, Book, DRAFT};

/// Sets the colour, the window's title and the cursor; rings; turns the direction of writing; 8-bit forms of the same.
const ACTS: &str = "a\u{1b}[31mb\u{1b}]0;t\u{7}c\u{8}d\u{9b}2Je\u{202e}f\u{2066}g\u{7f}h\u{0}i\u{85}j";

const FORMATS: [&str; 3] = ["text", "json", "jsonl"];

#[test]
fn in_the_copy() {
    let copies = [
        format!("Oona {ACTS} waits.\n"),
        format!("# {ACTS}\n\nOona waits.\n\n> {ACTS}\n> — {ACTS}\n\n## {ACTS}\n\n{ACTS}\n"),
        format!(
            "![{ACTS}]({ACTS}) [{ACTS}](http://{ACTS}) <b {ACTS}>`{ACTS}`</b>\n\n- {ACTS}\n\n```{ACTS}\n{ACTS}\n```\n"
        ),
        "Oona &#27;[31m waits &#x9b; here &#8238; now.\n".to_owned(),
        ('\u{0}'..'\u{a0}').chain('\u{200b}'..'\u{2070}').map(|character| format!("x{character}y ")).collect(),
    ];
    for copy in copies {
        for format in FORMATS {
            let outcome = Book::with_draft(&copy).run(["measure", "first.md", "--format", format]);
            assert!(outcome.printed.contains("waits") || outcome.printed.contains('x'), "{copy:?}");
        }
    }
}

#[test]
fn in_the_brief() {
    let quoted = "a\\e[31mb\\e]0;t\\ac\\x9b2Jd\\u202Ee\\x7f\\0";
    let brief = format!(
        "book: {{ title: \"{quoted}\", author: \"{quoted}\", names: [\"{quoted}\"] }}\nterms: [\"{quoted}\"]\navoid: \
         [\"{quoted} x\"]\n{BRIEF}"
    );
    let book = Book::empty().file("brief.yaml", brief).file("first.md", DRAFT);
    for format in FORMATS {
        let outcome = book.run(["measure", "first.md", "--format", format]);
        assert!(!outcome.printed.is_empty(), "{}", outcome.complained);
    }
    book.run(["measure", "first.md"]).prints("a<U+001B>[31mb<U+001B>]0;t<U+0007>c<U+009B>2Jd<U+202E>e<U+007F><U+0000>");
}

#[test]
fn in_a_fault_of_the_brief() {
    let quoted = "\"a\\e[31mb\\x9bc\\u202Ed\\n\\re\"";
    for brief in [
        format!("{quoted}: 1\n"),
        format!("panel: {{ trim: {quoted} }}\n"),
        format!("panel: {{ {quoted}: 8 in }}\n"),
        format!("book: {{ kind: {quoted} }}\n{BRIEF}"),
        format!("type: {{ font: {quoted} }}\n{BRIEF}"),
        format!("limits: {{ {quoted}: 1..2 }}\npanel: {{ trim: 8 x 8 in }}\n"),
    ] {
        let book = Book::empty().file("brief.yaml", &brief).file("first.md", DRAFT);
        book.run(["measure", "first.md"]).answers(2).complains("<U+");
    }
    for brief in [format!("panel: {ACTS}\n"), format!("{ACTS}: *{ACTS}\n"), "panel: 'a\u{202e}\n".to_string()] {
        let book = Book::empty().file("brief.yaml", &brief).file("first.md", DRAFT);
        book.run(["measure", "first.md"]).answers(2).complains("brief.yaml:");
    }
}

#[cfg(unix)]
#[test]
fn in_the_names_of_files() {
    let name = "a\u{1b}[31mb\u{7}c\u{9b}d\u{202e}.md";
    let book = Book::new().file(name, DRAFT);
    for format in FORMATS {
        let outcome = book.run(["measure", name, "--format", format]);
        outcome.answers(0);
    }
    book.run(["measure", name]).prints("a<U+001B>[31mb<U+0007>c<U+009B>d<U+202E>.md\n");
    book.run(["measure", &format!("no{name}")]).answers(2).complains("noa<U+001B>[31mb");
    book.run(["measure", name, "--brief", name]).answers(2).complains("a<U+001B>[31mb");
    book.run(["measure", name, "--font", name]).answers(2).complains("a<U+001B>[31mb");
    Book::new().folder(name).run(["measure", name]).answers(2).complains("a<U+001B>[31mb");
}

#[cfg(unix)]
#[test]
fn in_names_of_files_that_are_no_text() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let name = OsStr::from_bytes(b"a\xff\x1b\x9b.md");
    Book::new().run([OsStr::new("measure"), name]).answers(2).complains("<U+001B>");
}

#[test]
fn in_the_command_itself() {
    let book = Book::with_draft(DRAFT);
    // A NUL cannot stand in an argument.
    let acts = ACTS.replace('\u{0}', "");
    for arguments in [
        vec![acts.clone()],
        vec![format!("--{acts}")],
        vec!["measure".to_owned(), format!("--{acts}")],
        vec!["measure".to_owned(), "--format".to_owned(), acts.clone()],
        vec!["measure".to_owned(), "first.md".to_owned(), "--size".to_owned(), acts.clone()],
        vec!["measure".to_owned(), "first.md".to_owned(), "--leading".to_owned(), acts.clone()],
        vec!["manual".to_owned(), acts.clone()],
        vec!["completions".to_owned(), acts],
    ] {
        book.run(&arguments).answers(2);
    }
}
