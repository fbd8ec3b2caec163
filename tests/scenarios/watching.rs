//! Watching: the report again at each save.

use std::io::{BufRead, BufReader};
use std::process::Child;
use std::sync::mpsc::{self, Receiver};
use std::time::Duration;
use std::{fs, thread};

use super::book::{Book, DRAFT};

/// How long a page may take to come.
const PATIENCE: Duration = Duration::from_secs(20);

/// A program that watches, and the lines of its pages.
struct Watching {
    child: Child,
    lines: Receiver<String>,
}

impl Watching {
    fn begin(book: &Book, arguments: &[&str]) -> Self {
        let mut child = book.command(arguments).spawn().expect("the program starts");
        let (sender, lines) = mpsc::channel();
        let output = child.stdout.take().expect("output is a pipe");
        thread::spawn(move || {
            BufReader::new(output).lines().map_while(Result::ok).try_for_each(|line| sender.send(line))
        });
        Self { child, lines }
    }

    /// The next line that begins with some words.
    fn next(&self, words: &str) -> String {
        loop {
            match self.lines.recv_timeout(PATIENCE) {
                Ok(line) if line.trim_start().starts_with(words) => return line,
                Ok(_) => {}
                Err(_) => return "no page came".to_owned(),
            }
        }
    }

    fn end(mut self) {
        self.child.kill().and_then(|()| self.child.wait()).expect("the program ends");
    }
}

#[test]
fn each_save_brings_the_report_again() {
    let book = Book::with_draft(DRAFT);
    let watching = Watching::begin(&book, &["measure", "first.md", "--watch"]);
    let first = watching.next("Length");
    fs::write(book.path("first.md"), format!("{DRAFT}Nobody calls.\n")).expect("the draft can be written");
    let second = watching.next("Length");
    watching.end();
    assert!(first.contains("13 words") && second.contains("15 words"), "{first}\n{second}");
}

/// A shape, a list of phrases and the brief itself are heeded wherever they stand, also one that the brief names later.
#[test]
fn a_change_of_any_file_that_the_brief_names_brings_the_report_again() {
    let book = Book::with_draft(DRAFT);
    for folder in ["drafts", "art", "words", "later"] {
        fs::create_dir(book.path(folder)).expect("a folder can be made");
    }
    let drawing =
        |side: u32| format!("<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0h{side}v100h-{side}z'/></svg>");
    let brief = |shape: &str| {
        format!(
            "panel:\n  trim: 8 x 8 in\n  places:\n    - {{ name: bubble, holds: blurb, shape: {shape}, edges: {{ \
             foot: 4 in }} \
             }}\nqueries: {{ lists: {{ stock phrase: {{ file: words/stock.txt }} }} }}\n"
        )
    };
    let write = |path: &str, text: &str| fs::write(book.path(path), text).expect("a file can be written");
    write("drafts/one.md", DRAFT);
    write("art/a.svg", &drawing(100));
    write("later/b.svg", &drawing(90));
    write("words/stock.txt", "once upon a time\n");
    write("brief.yaml", &brief("art/a.svg"));
    let watching = Watching::begin(&book, &["measure", "drafts/one.md", "--watch"]);
    let mut pages = vec![watching.next("Length")];
    let changes = [
        ("art/a.svg", drawing(50)),
        ("words/stock.txt", "in a land\n".to_owned()),
        ("brief.yaml", brief("later/b.svg")),
    ];
    for (path, text) in changes.iter().chain([&("later/b.svg", drawing(40))]) {
        // The page that tells of a change may come before the folders of a new brief are watched.
        thread::sleep(Duration::from_millis(300));
        write(path, text);
        pages.push(watching.next("Length"));
    }
    watching.end();
    assert!(pages.iter().all(|page| page.contains("13 words")), "{pages:?}");
}
