//! Pipes, sockets and devices in the place of files: the program tells of them, and never waits for what may have no
//! end.

#![cfg(unix)]

use std::io::Read;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::process::Command;
use std::thread;
use std::time::{Duration, Instant};

use super::book::{BRIEF, Book, DRAFT};

/// Far above what any command here takes on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

fn pipe(book: &Book, name: &str) {
    assert!(Command::new("mkfifo").arg(book.path(name)).status().expect("mkfifo").success());
}

/// The answer and what was printed and complained of, in time.
#[track_caller]
fn ends(book: &Book, arguments: &[&str]) -> (i32, String, String) {
    let mut child = book.command(arguments).spawn().expect("the program starts");
    drop(child.stdin.take());
    let end = Instant::now() + PATIENCE;
    let status = loop {
        if let Some(status) = child.try_wait().expect("a process") {
            break status;
        }
        if Instant::now() > end {
            drop(child.kill());
            panic!("{arguments:?} does not end");
        }
        thread::sleep(Duration::from_millis(5));
    };
    let (mut printed, mut complained) = (String::new(), String::new());
    child.stdout.take().expect("a pipe").read_to_string(&mut printed).expect("UTF-8");
    child.stderr.take().expect("a pipe").read_to_string(&mut complained).expect("UTF-8");
    (status.code().expect("it ends by itself"), printed, complained)
}

#[track_caller]
fn tells_of_a_pipe(book: &Book, arguments: &[&str], operation: &str) {
    let (answer, printed, complained) = ends(book, arguments);
    assert_eq!(complained.lines().count(), 1, "{complained}");
    let told = format!("{operation}: it is a named pipe and no plain file; name a plain file");
    assert!(complained.contains(&told), "{complained}");
    assert_eq!((answer, printed.as_str()), (2, ""), "{arguments:?}");
}

#[test]
fn a_pipe_is_told_wherever_a_file_is_read() {
    let book = Book::with_draft(DRAFT);
    pipe(&book, "pipe");
    for command in ["measure", "fit", "level", "terms", "tighten", "keep"] {
        tells_of_a_pipe(&book, &[command, "pipe"], "cannot read the draft pipe");
    }
    tells_of_a_pipe(&book, &["proof", "pipe", "-o", "new.pdf"], "cannot read the draft pipe");
    tells_of_a_pipe(&book, &["panel", "--draft", "pipe"], "cannot read the draft pipe");
    tells_of_a_pipe(&book, &["panel", "pipe"], "cannot read the brief pipe");
    tells_of_a_pipe(&book, &["measure", "first.md", "--brief", "pipe"], "cannot read the brief pipe");
    tells_of_a_pipe(&book, &["measure", "first.md", "--font", "pipe"], "cannot read the font pipe");
    tells_of_a_pipe(&book, &["terms", "first.md", "--story", "pipe"], "cannot read the manuscript pipe");
    tells_of_a_pipe(&book, &["level", "first.md", "--familiar", "pipe"], "cannot read the list of words pipe");
    tells_of_a_pipe(&book, &["keep", "first.md", "--bring-back", "pipe"], "cannot read the draft pipe");
    let lists = format!("{BRIEF}queries: {{ lists: {{ praise: {{ file: pipe }} }} }}\n");
    let book = book.file("brief.yaml", lists);
    tells_of_a_pipe(&book, &["measure", "first.md"], "cannot read the list of phrases pipe");
}

#[test]
fn a_pipe_in_the_place_of_a_books_own_files_is_told() {
    let book = Book::empty().file("first.md", DRAFT);
    pipe(&book, "brief.yaml");
    tells_of_a_pipe(&book, &["measure", "first.md"], "brief.yaml");
    tells_of_a_pipe(&book, &["panel"], "brief.yaml");
    let book = Book::with_draft(DRAFT);
    pipe(&book, "stet.yaml");
    tells_of_a_pipe(&book, &["tighten", "first.md"], "cannot read what stands stet.yaml");
}

#[test]
fn what_is_no_plain_file_in_a_folder_stops_nothing_else() {
    let book = Book::with_draft(DRAFT);
    pipe(&book, "pipe.md");
    symlink("/dev/zero", book.path("zero.md")).expect("a link");
    let _socket = UnixListener::bind(book.path("socket.md")).expect("a socket");
    let (answer, printed, _) = ends(&book, &["measure", "--list", "."]);
    assert_eq!(answer, 2);
    for (name, kind) in [("pipe", "a named pipe"), ("zero", "a device"), ("socket", "a socket")] {
        let told = format!("- cannot read the draft ./{name}.md: it is {kind} and no plain file");
        let flat = printed.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&told), "{printed}");
    }
    assert!(printed.lines().any(|line| line.starts_with("within ") && line.contains("./first.md")), "{printed}");
}

#[test]
fn a_pipe_is_never_written_over() {
    let book = Book::with_draft(DRAFT).file("second.md", DRAFT);
    for name in ["new.pdf", "new.html"] {
        pipe(&book, name);
    }
    tells_of_a_pipe(&book, &["proof", "first.md", "-o", "new.pdf"], "cannot write the proof new.pdf");
    tells_of_a_pipe(&book, &["panel", "-o", "new.pdf"], "cannot write the proof new.pdf");
    for name in ["new.pdf", "new.html"] {
        let told = format!("cannot write the proof {name}");
        tells_of_a_pipe(&book, &["compare", "first.md", "second.md", "-o", name], &told);
    }
    pipe(&book, "draft.md");
    let (answer, _, complained) = ends(&book, &["keep", "draft.md", "--bring-back", "first.md"]);
    assert_eq!(answer, 2, "{complained}");
    assert!(complained.contains("a named pipe"), "{complained}");
}
