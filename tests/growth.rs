//! No shape of copy takes time that grows faster than the copy, and what is sought without end is not.
//!
//! Each shape of tests/cases/growth.txt is measured, set, drawn, looked through and compared at one length and at four
//! times that length. Work that grows with the square of the copy takes sixteen times as long then, and the bound is
//! ten. What counts is the time that the processor gave to the thread, the least of some runs. tests/reference/growth
//! runs whole commands on a megabyte.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;
use std::sync::LazyLock;
use std::time::Instant;

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::draft::Draft;
use blurbwright::level::lists::Lists;
use blurbwright::report::differences::Differences;
use blurbwright::report::levels::Levels;
use blurbwright::report::terms::{Manuscript, TermsReport};
use blurbwright::report::tighten::Tighten;
use blurbwright::report::{self, Assessment, ReportMemory, assess};
use blurbwright::setting::price::prices;
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy, Work};
use blurbwright::terms::answers;

use crate::tried::step;

const BRIEF: &str = "book: { title: The Tide Clock, names: [Imme] }\nterms: [tide clock, tide]\n\
                     limits: { words: 40..100 }\n\
                     panel: { trim: 8.5 x 8.5 in }\n";

/// Bytes of the shorter copy.
const SHORT: usize = 1_200;
const TIMES_AS_LONG: usize = 4;
const MOST_TIMES_AS_SLOW: u64 = 10;
/// What takes no longer than this at the greater length tells nothing, in nanoseconds.
const NOISE: u64 = 20_000_000;
const RUNS: usize = 4;

fn brief() -> Brief {
    Brief::read(BRIEF, Path::new("")).expect("a brief")
}

static FACES: LazyLock<Faces> = LazyLock::new(Faces::built_in);
static BEGAN: LazyLock<Instant> = LazyLock::new(Instant::now);

/// The time that the processor has given to this thread, in nanoseconds; where no system tells it, the time that has
/// gone by.
///
/// Source: Linux, Documentation/scheduler/sched-stats.rst, the first number of a task's schedstat.
fn processor_time() -> u64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let time = told.split(' ').next().and_then(|time| time.parse().ok());
    time.unwrap_or_else(|| u64::try_from(BEGAN.elapsed().as_nanos()).expect("not that long"))
}

/// The shapes by their names, each with what it begins with and what it goes on with.
fn shapes() -> impl Iterator<Item = (&'static str, String, String)> {
    let rows = include_str!("cases/growth.txt").lines().filter(|row| !row.starts_with('#'));
    rows.map(|row| {
        let columns: Vec<&str> = row.split('\t').collect();
        let [name, first, unit] = columns[..] else { panic!("three columns: {row}") };
        (name, plain(first), plain(unit))
    })
}

fn plain(written: &str) -> String {
    let (mut text, mut rest) = (String::new(), written);
    while let Some((before, behind)) = rest.split_once('\\') {
        text.push_str(before);
        let (sign, length) = match behind.as_bytes()[0] {
            b'n' => ('\n', 1),
            b'u' => (u32::from_str_radix(&behind[1..5], 16).ok().and_then(char::from_u32).expect("a character"), 5),
            _ => ('\\', 1),
        };
        text.push(sign);
        rest = &behind[length..];
    }
    text + rest
}

/// A word that is another for another number.
fn word(mut number: usize) -> String {
    let mut word = String::new();
    loop {
        word.push(char::from(b"bcdfghklmnprst"[number % 14]));
        word.push(char::from(b"aeiou"[number % 5]));
        number /= 14;
        if number == 0 {
            return word;
        }
    }
}

fn filled(unit: &str, number: usize) -> String {
    let small = word(number);
    let capital = format!("{}{}", small[..1].to_uppercase(), &small[1..]);
    let sign = char::from_u32(0x20000 + number as u32 % 0x8000).expect("a character").to_string();
    let filled = unit.replace("{word}", &small).replace("{Word}", &capital).replace("{sign}", &sign);
    filled.replace("{deeper}", &"  ".repeat(number)).replace("{ticks}", &"`".repeat(number + 1))
}

fn copy(first: &str, unit: &str, length: usize) -> String {
    let mut text = first.to_owned();
    for number in 0.. {
        let part = filled(unit, number);
        if text.len() + part.len() > length {
            break;
        }
        text.push_str(&part);
    }
    text
}

fn told_with_its_story(copy: &str) -> TermsReport {
    let (draft, brief) = (Draft::read(copy), brief());
    TermsReport::of(&draft, &brief, Some(&Manuscript::read(&draft, &brief.book)))
}

/// What is done with a copy, by its name.
type Done = (&'static str, fn(&str));

const DONE: [Done; 5] = [
    ("measure", |copy| drop(Assessment::of(&Draft::read(copy), &brief(), &FACES, &mut ReportMemory::default()))),
    ("level", |copy| drop(Levels::of(&Draft::read(copy), &brief().book, Lists::Carried))),
    ("answers", |copy| drop(answers::find(copy, &Draft::read(copy), &brief().book))),
    ("terms and story", |copy| drop(told_with_its_story(copy))),
    ("compare", |copy| {
        let other = copy.replacen("i", "more i", copy.len() / 2000);
        drop(Differences::of(&Draft::read(copy), &Draft::read(&other)).shown());
    }),
];

#[test]
fn no_shape_takes_time_that_grows_faster_than_the_copy() {
    let mut slow = Vec::new();
    for (number, (name, first, unit)) in shapes().enumerate() {
        let (short, long) = (copy(&first, &unit, SHORT), copy(&first, &unit, SHORT * TIMES_AS_LONG));
        // Where few cases are tried each shape is held to one of what is done, and the next shape to the next.
        for (what, done) in DONE.into_iter().skip(if step() == 1 { 0 } else { number % DONE.len() }).step_by(step()) {
            let taken = |copy: &str| {
                let began = processor_time();
                done(copy);
                processor_time() - began
            };
            // One that is within the bound in any run is not slow.
            let is_slow = (0..RUNS).all(|_| {
                let long = taken(&long);
                long > NOISE && long > MOST_TIMES_AS_SLOW * taken(&short)
            });
            if is_slow {
                slow.push(format!("{name}: {what}: {} ms, {} ms", taken(&short) / 1_000_000, taken(&long) / 1_000_000));
            }
        }
    }
    assert!(slow.is_empty(), "{slow:#?}");
}

/// A hundred doublets in one paragraph, of which nearly all have to go: more choices than there are grains of sand.
#[test]
fn a_plan_of_very_many_cuts_ends_and_says_so() {
    let copy = "The the tide is is in at at the quay. ".repeat(34);
    let brief =
        Brief::read(&BRIEF.replace("words: 40..100", "words: ..245, level: .., longest_sentence: .."), Path::new(""))
            .unwrap();
    let (draft, faces) = (Draft::read(&copy), Faces::built_in());
    let report = assess(&draft, &brief, &faces);
    let file = report::tighten::DraftFile { name: "a.md", source: &copy, stet: &Stet::default() };
    let found = Tighten::of(file, &draft, &brief, &faces, &report);
    assert!(found.cuts.len() > 90, "{}", found.cuts.len());
    assert!(found.plan.reaches && !found.plan.all_tried, "{:?}", found.plan);
    assert!(found.plan.cuts.len() < found.cuts.len());
    // Nobody waits for it any more.
    let given_up = Tighten::while_wanted(file, &draft, &brief, (&faces, &report), &|| false);
    assert_eq!((given_up.cuts.len(), given_up.untried), (0, found.cuts.len()));
    assert!(given_up.prices.iter().all(|priced| !priced.price.searched));
}

/// What wins a line back is looked for as long as there is work left, and only what was found is told.
#[test]
fn a_price_is_not_known_where_the_work_gives_out() {
    let (draft, brief, faces) = (Draft::read(&"The tide is in at the quay. ".repeat(40)), brief(), Faces::built_in());
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let room = Rooms::of(&brief);
    let setting = Setting::new(&copy, copy.forms(), &room);
    let searched = |steps| prices(&copy, &setting, &room, &Work::of(steps, &|| true)).remove(0);
    let (enough, little) = (searched(usize::MAX), searched(1000));
    assert!(enough.searched && enough.win.is_some());
    assert!(!little.searched && little.win.is_none());
    assert_eq!(enough.letters_spare, little.letters_spare);
}
