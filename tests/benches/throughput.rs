//! The release program on many drafts and on many books: how many a second and the peak memory, time of a cold start,
//! and the size of the binary, each beside what is asked of it, and beside the program that `BEFORE` names, as that of
//! the commit before, which takes turns with it.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "a bench prints what it saw")]

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use std::{env, fs};

use super::random::Random;

const DRAFT: &str = include_str!("blurb.md");
const BRIEF: &str = include_str!("../../drafts/brief.yaml");

/// One line of JSON for each draft of a book.
const DRAFTS: [&str; 4] = ["measure", ".", "--format", "jsonl"];
/// What can go in each draft.
const CUTS: [&str; 4] = ["tighten", ".", "--format", "jsonl"];
/// One line for each book of a list.
const LIST: [&str; 3] = ["measure", ".", "--list"];

const TURNS: usize = 5;
const DRAFTS_TIMED: usize = 10_000;
const BOOKS_TIMED: usize = 5_000;
/// How many words a draft has before its last sentence.
const WORDS: usize = 140;
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

/// A program that is timed, and what it is called.
type Timed = (&'static str, PathBuf);

/// The program, and the one that it is held against.
fn programs() -> Vec<Timed> {
    let before = env::var_os("BEFORE").map(|path| ("before", PathBuf::from(path)));
    std::iter::once(("now", PROGRAM.clone())).chain(before).collect()
}

/// Times and prints all of it.
pub(crate) fn run() {
    let folder = tempfile::tempdir().expect("a folder can be made");
    let (few, many, most) = (folder.path().join("few"), folder.path().join("many"), folder.path().join("most"));
    for (book, count) in [(&few, 1_000), (&many, DRAFTS_TIMED), (&most, 100_000)] {
        write_book(book, count);
    }
    println!("{DRAFTS_TIMED} drafts  best of {TURNS}  a second   (asked: on two cores 1.85 times one, twice before)");
    for cores in ["2", "1"] {
        for ((name, _), best) in best_of(&many, &DRAFTS, cores) {
            println!("{cores} cores {name:6}  {:7.3} s  {:8.0}", best.as_secs_f64(), a_second(DRAFTS_TIMED, best));
        }
    }
    let peaks = [&few, &most].map(|book| peak_memory(book, &DRAFTS));
    let told = peaks.map(|peak| peak.map_or("unknown".to_owned(), |kib| format!("{:.1} MiB", kib as f64 / 1024.0)));
    println!("peak memory of 1,000 and of 100,000 drafts: {}   (asked: within 4 MiB)", told.join(" and "));
    let books = folder.path().join("books");
    write_books(&books, BOOKS_TIMED);
    println!("{BOOKS_TIMED} books   best of {TURNS}  a second   (asked: 8000)");
    for ((name, _), best) in best_of(&books, &LIST, "2") {
        println!("2 cores {name:6}  {:7.3} s  {:8.0}", best.as_secs_f64(), a_second(BOOKS_TIMED, best));
    }
    println!("1000 drafts with what can go  best of {TURNS}  a second   (asked: 100)");
    for ((name, _), best) in best_of(&few, &CUTS, "2") {
        println!("2 cores {name:6}  {:7.3} s  {:8.0}", best.as_secs_f64(), a_second(1_000, best));
    }
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../drafts");
    for program in programs() {
        let start = || time(&program.1, &sample, &["measure", "first.md"], "2");
        let mut starts: Vec<Duration> = (0..COLD_STARTS).map(|_| start()).collect();
        starts.sort();
        let median = starts[COLD_STARTS / 2].as_secs_f64() * 1000.0;
        println!("cold start on the sample, {}: median {median:.1} ms (asked: 5)", program.0);
    }
    let size = fs::metadata(&*PROGRAM).map_or(0, |about| about.len());
    println!("binary: {:.2} MiB (asked: 14)", size as f64 / (1024.0 * 1024.0));
}

fn a_second(count: usize, taken: Duration) -> f64 {
    count as f64 / taken.as_secs_f64()
}

/// The best time of each program, which take turns.
fn best_of(folder: &Path, arguments: &[&str], cores: &str) -> Vec<(Timed, Duration)> {
    let mut best: Vec<(Timed, Duration)> = programs().into_iter().map(|timed| (timed, Duration::MAX)).collect();
    for _ in 0..TURNS {
        for ((_, program), best) in &mut best {
            *best = time(program, folder, arguments, cores).min(*best);
        }
    }
    best
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

/// Drafts of so many words and a sentence, of held sentences in random order, so that none is like another.
fn write_book(folder: &Path, count: usize) {
    fs::create_dir(folder).expect("a folder can be made");
    fs::write(folder.join("brief.yaml"), BRIEF).expect("a file can be written");
    let sentences = held_sentences();
    let mut random = Random(22);
    for number in 0..count {
        let (mut draft, mut words, mut told) = (String::from("# "), 0, 0);
        while words < WORDS {
            let sentence = &sentences[random.place(sentences.len())];
            words += sentence.split_whitespace().count();
            told += 1;
            draft.push_str(sentence);
            draft.push_str(if told % 4 == 1 { "\n\n" } else { " " });
        }
        fs::write(folder.join(format!("{number:06}.md")), draft + "\n").expect("a file can be written");
    }
}

/// The sentences of the blurbs that are held for the rules.
fn held_sentences() -> Vec<String> {
    let blurbs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../blurbs");
    let files = fs::read_dir(blurbs).expect("the blurbs are there").flatten().map(|entry| entry.path());
    let mut files: Vec<PathBuf> = files.filter(|path| path.extension().is_some_and(|end| end == "md")).collect();
    files.sort();
    let texts = files.iter().map(|file| fs::read_to_string(file).expect("a blurb can be read"));
    let sentences = texts.flat_map(|text| {
        let blurb = text.lines().filter(|line| line.starts_with(char::is_alphabetic)).collect::<Vec<_>>().join(" ");
        blurb.split_inclusive(". ").map(|sentence| sentence.trim().to_owned()).collect::<Vec<_>>()
    });
    sentences.filter(|sentence| sentence.split(' ').count() > 3).collect()
}

/// A program that runs on so many cores.
fn command(program: &Path, folder: &Path, arguments: &[&str], cores: &str) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(folder).env("RAYON_NUM_THREADS", cores).stdout(Stdio::null());
    command
}

fn time(program: &Path, folder: &Path, arguments: &[&str], cores: &str) -> Duration {
    let start = Instant::now();
    let status = command(program, folder, arguments, cores).status().expect("the program runs");
    let taken = start.elapsed();
    assert!(matches!(status.code(), Some(0 | 1)), "the program answers {status}");
    taken
}

/// The most memory in KiB that was seen to be in use, where the system tells it while a program runs.
fn peak_memory(folder: &Path, arguments: &[&str]) -> Option<u64> {
    let mut child = command(&PROGRAM, folder, arguments, "2").spawn().expect("the program runs");
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
