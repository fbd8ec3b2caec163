//! Watching: the report again at each save.

use std::io::{BufRead, BufReader};
use std::sync::mpsc;
use std::time::Duration;
use std::{fs, thread};

use super::book::{Book, DRAFT};

/// How long a page may take to come.
const PATIENCE: Duration = Duration::from_secs(20);

#[test]
fn each_save_brings_the_report_again() {
    let book = Book::with_draft(DRAFT);
    let mut child = book.command(["measure", "first.md", "--watch"]).spawn().expect("the program starts");
    let (sender, lines) = mpsc::channel();
    let output = child.stdout.take().expect("output is a pipe");
    thread::spawn(move || BufReader::new(output).lines().map_while(Result::ok).try_for_each(|line| sender.send(line)));
    let length = || loop {
        match lines.recv_timeout(PATIENCE) {
            Ok(line) if line.starts_with("Length") => return line,
            Ok(_) => {}
            Err(_) => return "no page came".to_owned(),
        }
    };
    let first = length();
    fs::write(book.path("first.md"), format!("{DRAFT}Nobody calls.\n")).expect("the draft can be written");
    let second = length();
    child.kill().and_then(|()| child.wait()).expect("the program ends");
    assert!(first.contains("13 words") && second.contains("15 words"), "{first}\n{second}");
}
