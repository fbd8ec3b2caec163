//! The release program on many drafts and on many books: how many a second and the peak memory at 1,000, 5,000 and
//! 10,000, time of a cold start, and the size of the binary, each beside what is asked of it.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "a bench prints what it saw")]

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use std::{env, fs};

const DRAFT: &str = include_str!("blurb.md");
const BRIEF: &str = include_str!("../../drafts/brief.yaml");

/// One line of JSON for each draft of a book.
const DRAFTS: [&str; 4] = ["measure", ".", "--format", "jsonl"];
/// One line for each book of a list.
const LIST: [&str; 3] = ["measure", ".", "--list"];

const TURNS: usize = 5;
const COLD_STARTS: usize = 40;

/// The release program, built first. A bench lies in the folder `deps` beside the program that was built like it.
static PROGRAM: LazyLock<PathBuf> = LazyLock::new(|| {
    let built = Command::new(env!("CARGO"))
        .args(["build", "--release", "--locked", "--quiet", "--package", "blurbwright"])
        .status()
        .expect("cargo runs");
    assert!(built.success(), "the program cannot be built");
    let bench = env::current_exe().expect("the bench has a place");
    let folder = bench.parent().and_then(Path::parent).expect("the bench lies in the folder deps");
    folder.join("blurbwright").with_extension(env::consts::EXE_EXTENSION)
});

/// Times and prints all of it.
pub(crate) fn run() {
    let folder = tempfile::tempdir().expect("a folder can be made");
    println!("drafts  best of {TURNS}  a second  peak memory   (asked: 8000 a second on two cores, memory flat)");
    for count in [1_000, 5_000, 10_000] {
        let book = folder.path().join(count.to_string());
        write_book(&book, count);
        let best = (0..TURNS).map(|_| time(&book, &DRAFTS)).min().unwrap_or_default();
        let memory =
            peak_memory(&book, &DRAFTS).map_or("unknown".to_owned(), |kib| format!("{:.1} MiB", kib as f64 / 1024.0));
        println!("{count:6}  {:7.3} s  {:8.0}  {memory:>11}", best.as_secs_f64(), count as f64 / best.as_secs_f64());
    }
    println!("books   best of {TURNS}  a second  peak memory   (asked: thousands in seconds, memory flat)");
    for count in [1_000, 5_000, 10_000] {
        let books = folder.path().join(format!("{count}-books"));
        write_books(&books, count);
        let best = (0..TURNS).map(|_| time(&books, &LIST)).min().unwrap_or_default();
        let memory =
            peak_memory(&books, &LIST).map_or("unknown".to_owned(), |kib| format!("{:.1} MiB", kib as f64 / 1024.0));
        println!("{count:6}  {:7.3} s  {:8.0}  {memory:>11}", best.as_secs_f64(), count as f64 / best.as_secs_f64());
    }
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../drafts");
    let mut starts: Vec<Duration> = (0..COLD_STARTS).map(|_| time(&sample, &["measure", "first.md"])).collect();
    starts.sort();
    println!("cold start on the sample: median {:.1} ms (asked: 30)", starts[COLD_STARTS / 2].as_secs_f64() * 1000.0);
    let size = fs::metadata(&*PROGRAM).map_or(0, |about| about.len());
    println!("binary: {:.2} MiB (asked: 14)", size as f64 / (1024.0 * 1024.0));
}

/// Books with a brief and a draft each; every seventh is over.
fn write_books(folder: &Path, count: usize) {
    for number in 0..count {
        let book = folder.join(format!("book-{number:05}"));
        fs::create_dir_all(&book).expect("a folder can be made");
        fs::write(book.join("brief.yaml"), BRIEF.replace("Gull Point", &format!("Point {number}")))
            .expect("a file can be written");
        let draft = if number % 7 == 0 { DRAFT.repeat(3) } else { format!("{DRAFT} It is book {number}.\n") };
        fs::write(book.join("first.md"), draft).expect("a file can be written");
    }
}

/// Every draft differs from all others in its words and their number.
fn write_book(folder: &Path, count: usize) {
    fs::create_dir(folder).expect("a folder can be made");
    fs::write(folder.join("brief.yaml"), BRIEF).expect("a file can be written");
    let words: Vec<&str> = DRAFT.split(' ').collect();
    for number in 0..count {
        let kept = words.iter().enumerate().filter(|(at, _)| (at + number) % (7 + number % 31) != 0);
        let copy: Vec<&str> = kept.map(|(_, word)| *word).collect();
        let draft = format!("{} Draft number {number}.\n", copy.join(" "));
        fs::write(folder.join(format!("{number:05}.md")), draft).expect("a file can be written");
    }
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(&*PROGRAM);
    command.args(arguments).current_dir(folder).stdout(Stdio::null());
    command
}

fn time(folder: &Path, arguments: &[&str]) -> Duration {
    let start = Instant::now();
    let status = command(folder, arguments).status().expect("the program runs");
    let taken = start.elapsed();
    assert!(matches!(status.code(), Some(0 | 1)), "the program answers {status}");
    taken
}

/// The most memory in KiB that was seen to be in use, where the system tells it while a program runs.
fn peak_memory(folder: &Path, arguments: &[&str]) -> Option<u64> {
    let mut child = command(folder, arguments).spawn().expect("the program runs");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    while child.try_wait().is_ok_and(|ended| ended.is_none()) {
        let told = fs::read_to_string(&status).ok();
        let line = told.as_deref().and_then(|text| text.lines().find(|line| line.starts_with("VmHWM:")));
        let kib = line.and_then(|line| line.split_whitespace().nth(1)).and_then(|kib| kib.parse().ok());
        peak = peak.max(kib);
        std::thread::sleep(Duration::from_millis(1));
    }
    peak
}
