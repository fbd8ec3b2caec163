//! Every rule on prose that none was made for: the blurbs of tests/blurbs, each hit marked right or wrong by hand.
//!
//! A rule whose hits are wrong more than one time in ten is mended or leaves. One wrong hit more is let pass, for with
//! few hits one mark says little. How the marking was done stands at the head of tests/blurbs/marks.txt.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "the table is read with --nocapture")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::brief::Brief;
use blurbwright::brief::queries::Rule;
use blurbwright::draft::Draft;
use blurbwright::queries::Query;
use blurbwright::report::assess;
use blurbwright::setting::Faces;

use crate::queried;

const MARKS: &str = include_str!("blurbs/marks.txt");

/// A panel with room for any of the blurbs.
const PANEL: &str = "panel: { trim: 8 x 10 in, margins: 1.5 in }\n";

/// One hit in so many may be wrong.
const WRONG_IN: usize = 10;

/// A place that a rule found: the blurb's number, the rule's name, and the words there.
type Hit = (String, String, String);

/// The files of the blurbs, in the order of their numbers.
fn blurbs() -> Vec<PathBuf> {
    let entries = fs::read_dir("tests/blurbs").expect("the folder of the blurbs can be read");
    let paths = entries.map(|entry| entry.expect("an entry can be read").path());
    let mut blurbs: Vec<PathBuf> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "md")).collect();
    blurbs.sort();
    blurbs
}

/// The brief of each blurb by its number: its kind and readers stand among the marks, `@ board book, 0-3: 03 19`.
fn briefs() -> BTreeMap<String, Brief> {
    let mut briefs = BTreeMap::new();
    for line in MARKS.lines().filter_map(|line| line.strip_prefix("@ ")) {
        let (about, numbers) = line.split_once(": ").expect("a kind and numbers");
        let (kind, readers) = about.split_once(", ").expect("a kind and readers");
        for number in numbers.split(' ') {
            let book = format!("book: {{ kind: {kind}, readers: {readers} }}\n{PANEL}");
            briefs.insert(number.to_owned(), Brief::read(&book, Path::new("")).expect("the brief is one"));
        }
    }
    briefs
}

/// No author of these blurbs has set a limit. Where the panel has room, none is outside, whatever is usual for its
/// kind.
#[test]
fn no_blurb_is_outside_a_limit_that_its_author_has_not_set() {
    let faces = Faces::built_in();
    let roomy = PANEL.replace("8 x 10", "12 x 12");
    let mut beyond = 0;
    for line in MARKS.lines().filter_map(|line| line.strip_prefix("@ ")) {
        let (about, numbers) = line.split_once(": ").expect("a kind and numbers");
        let (kind, readers) = about.split_once(", ").expect("a kind and readers");
        for book in [format!("readers: {readers}"), format!("kind: {kind}, readers: {readers}")] {
            let brief = Brief::read(&format!("book: {{ {book} }}\n{roomy}"), Path::new("")).expect("the brief is one");
            for number in numbers.split(' ') {
                let source = fs::read_to_string(format!("tests/blurbs/{number}.md")).expect("a blurb can be read");
                let verdict = assess(&Draft::read(&source), &brief, &faces).verdict;
                let outside: Vec<&str> = verdict.outside().map(|check| check.subject.key()).collect();
                assert!(verdict.is_within() && outside.is_empty(), "{number} as {book}: {outside:?}");
                beyond += verdict.usual.iter().filter(|beside| beside.beyond().is_some()).count();
            }
        }
    }
    assert!(beyond > 20, "only {beyond} figures are beyond what is usual, which shows little");
}

/// What every rule finds in one blurb.
fn hits_in(path: &Path, briefs: &BTreeMap<String, Brief>, faces: &Faces) -> Vec<Hit> {
    let source = fs::read_to_string(path).expect("a blurb can be read");
    let number = path.file_stem().expect("a file has a name").to_string_lossy().into_owned();
    let brief = briefs.get(&number).unwrap_or_else(|| panic!("{number} has no kind"));
    let draft = Draft::read(&source);
    let found = queried::queries_in(&draft, brief, faces);
    let words = |query: &Query| {
        let there = &draft.blocks[query.block].text()[query.range.clone()];
        let words = there.split_whitespace().collect::<Vec<_>>().join(" ");
        if words.is_empty() { "(blanks)".to_owned() } else { words }
    };
    found.iter().map(|query| (number.clone(), query.rule.name().to_owned(), words(query))).collect()
}

/// `07 wordy phrase: in order to - wrong: why`, as a hit and whether it is right.
fn mark(line: &str) -> Option<(Hit, bool)> {
    let (place, verdict) = line.rsplit_once(" - ")?;
    let (number, rest) = place.split_once(' ')?;
    let (rule, words) = rest.split_once(": ")?;
    let is_right = match verdict.split_once(": ") {
        None if verdict == "right" => true,
        Some(("wrong", _)) => false,
        _ => return None,
    };
    Some(((number.to_owned(), rule.to_owned(), words.to_owned()), is_right))
}

/// Each hit as often as it is there; of marks, right ones and wrong ones.
fn marks() -> BTreeMap<Hit, Vec<bool>> {
    let mut marks: BTreeMap<Hit, Vec<bool>> = BTreeMap::new();
    for line in MARKS.lines().filter(|line| !line.is_empty() && !line.starts_with(['#', '@'])) {
        let form = || panic!("\"{line}\" is no mark; write: number rule: words - right, or - wrong: why");
        let (hit, is_right) = mark(line).unwrap_or_else(form);
        marks.entry(hit).or_default().push(is_right);
    }
    marks
}

#[test]
fn hits_are_right_nine_times_in_ten() {
    let briefs = briefs();
    let faces = Faces::built_in();
    let blurbs = blurbs();
    assert!(blurbs.len() >= 60, "{}", blurbs.len());
    let mut marks = marks();
    let mut unmarked = Vec::new();
    let mut by_rule: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    for (number, rule, words) in blurbs.iter().flat_map(|path| hits_in(path, &briefs, &faces)) {
        let hit = (number, rule, words);
        match marks.get_mut(&hit).and_then(Vec::pop) {
            Some(is_right) => {
                let (right, all) = by_rule.entry(hit.1).or_default();
                *right += usize::from(is_right);
                *all += 1;
            }
            None => unmarked.push(format!("{} {}: {}", hit.0, hit.1, hit.2)),
        }
    }
    assert!(unmarked.is_empty(), "to be marked:\n{}", unmarked.join("\n"));
    let unhit: Vec<_> = marks.iter().filter(|(_, left)| !left.is_empty()).map(|(hit, _)| hit).collect();
    assert!(unhit.is_empty(), "marked, and found no longer: {unhit:#?}");
    let table = table(&by_rule);
    println!("{table}");
    let poor = by_rule.values().any(|(right, all)| (all - right) * WRONG_IN > *all);
    assert!(!poor, "a rule is wrong more than one time in ten:\n{table}");
}

/// Right hits of all hits, a row for each rule.
fn table(by_rule: &BTreeMap<String, (usize, usize)>) -> String {
    let row = |name: &str| {
        let (right, all) = by_rule.get(name).copied().unwrap_or_default();
        let share = if all == 0 { "never".to_owned() } else { format!("{:.0} %", 100.0 * right as f64 / all as f64) };
        format!("{name:<24}{right:>4} of {all:<4}{share}\n")
    };
    Rule::ALL.iter().map(|(name, _)| row(name)).collect()
}
