//! Every rule on prose in French, German, Spanish, Italian and Dutch: the blurbs of tests/blurbs/LANGUAGE, each marked
//! by hand before a rule was tried on it.
//!
//! What an editor would ask about is marked by its rule and words; what a rule finds beside that is right or wrong, as
//! was judged afterwards. No rule may be wrong more than one time in ten, and the polished blurbs have at most one
//! query in three. How the marking was done stands at the head of each marks.txt.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "the table is read with --nocapture")]

use std::collections::BTreeMap;
use std::fs;
use std::ops::Range;
use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::queries::Rule;
use blurbwright::draft::Draft;
use blurbwright::queries::Query;
use blurbwright::setting::Faces;

use crate::queried;

const LANGUAGES: [(&str, &str); 5] =
    [("french", "fr"), ("german", "de"), ("spanish", "es"), ("italian", "it"), ("dutch", "nl")];
/// The blurbs with these numbers are polished.
const POLISHED: [&str; 5] = ["01", "02", "03", "04", "05"];
/// One hit in so many may be wrong.
const WRONG_IN: usize = 10;

/// What a rule finds, or an editor would: the rule and the bytes of the file.
struct Found {
    rule: String,
    span: Range<usize>,
}

/// One blurb with what is marked in it.
struct Blurb {
    number: String,
    source: String,
    brief: Brief,
    /// What an editor would ask about, by rule and words.
    marks: Vec<(String, String)>,
    /// What rules find beside that, and whether it is right.
    beside: Vec<(String, String, bool)>,
}

/// `@ picture book, 4-7; Mila, Theo: 06`, as a brief.
fn brief(about: &str, tag: &str) -> Brief {
    let (about, names) = about.split_once("; ").unwrap_or((about, ""));
    let (kind, readers) = about.split_once(", ").expect("a kind and readers");
    let book = format!("book: {{ kind: {kind}, readers: {readers}, language: {tag}, names: [{names}] }}");
    let panel = "panel: { trim: 8 x 10 in, margins: 1.5 in }";
    Brief::read(&format!("{book}\n{panel}\n"), Path::new("")).expect("the brief is one")
}

fn blurbs(folder: &str, tag: &str) -> Vec<Blurb> {
    let marks = fs::read_to_string(format!("tests/blurbs/{folder}/marks.txt")).expect("the marks can be read");
    let lines = || marks.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let about = |number: &str| {
        let line = lines().find(|line| line.starts_with('@') && line.ends_with(&format!(": {number}")));
        line.and_then(|line| line[2..].rsplit_once(": ")).expect("every blurb has a kind").0
    };
    let numbers = (1..=10).map(|number| format!("{number:02}"));
    let read = |number: String| {
        let mut blurb = Blurb {
            source: fs::read_to_string(format!("tests/blurbs/{folder}/{number}.md")).expect("a blurb can be read"),
            brief: brief(about(&number), tag),
            marks: Vec::new(),
            beside: Vec::new(),
            number,
        };
        for line in lines().filter_map(|line| line.strip_prefix(&format!("{} ", blurb.number))) {
            let (rule, words) = line.split_once(": ").expect("a rule and words");
            match (words.rsplit_once(" - right"), words.rsplit_once(" - wrong: ")) {
                (Some((words, _)), _) => blurb.beside.push((rule.to_owned(), words.to_owned(), true)),
                (_, Some((words, _))) => blurb.beside.push((rule.to_owned(), words.to_owned(), false)),
                _ => blurb.marks.push((rule.to_owned(), words.to_owned())),
            }
        }
        blurb
    };
    numbers.map(read).collect()
}

/// What the rules on words and marks find; those on set lines know no language.
fn hits(blurb: &Blurb, faces: &Faces) -> Vec<Found> {
    let (draft, brief) = (Draft::read(&blurb.source), &blurb.brief);
    let found = queried::queries_in(&draft, brief, faces);
    let of_words = found.iter().filter(|query| !matches!(query.rule, Rule::Runt | Rule::Rag));
    let place = |query: &Query| {
        let span = draft.blocks[query.block].span(query.range.clone());
        Found { rule: query.rule.name().to_owned(), span: span.start..span.end }
    };
    of_words.map(place).collect()
}

/// Every place where some words stand in a file, whatever blanks are between them.
fn places(source: &str, words: &str) -> Vec<Range<usize>> {
    let wanted: Vec<&str> = words.split(' ').collect();
    let stands = |at: usize| {
        let mut end = at;
        for (number, word) in wanted.iter().enumerate() {
            let rest = if number > 0 { source[end..].trim_start() } else { &source[end..] };
            end = source.len() - rest.strip_prefix(word)?.len();
        }
        Some(at..end)
    };
    source.match_indices(wanted[0]).filter_map(|(at, _)| stands(at)).collect()
}

/// Whether two rules speak of one thing: what is stock to one editor is praise to another.
fn is_of_kind(one: &str, other: &str) -> bool {
    const ONE_KIND: [&str; 2] = ["stock phrase", "praise"];
    one == other || (ONE_KIND.contains(&one) && ONE_KIND.contains(&other))
}

/// Marks that were found, marks that were missed, hits beside the marks that are right and wrong.
#[derive(Default, Clone, Copy)]
struct RuleTally {
    found: usize,
    missed: usize,
    right: usize,
    wrong: usize,
}

type Tallies = BTreeMap<String, RuleTally>;

/// Counts one blurb's marks and hits by rule; gives the hits that nobody has judged, and those judged that are gone.
fn judge(blurb: &Blurb, faces: &Faces, tallies: &mut Tallies) -> Vec<String> {
    let hits = hits(blurb, faces);
    let overlaps = |found: &Found, place: &Range<usize>| found.span.start < place.end && place.start < found.span.end;
    let mut is_marked = vec![false; hits.len()];
    let mut wrong = Vec::new();
    for (rule, words) in &blurb.marks {
        let places = places(&blurb.source, words);
        let mut is_found = false;
        for (at, hit) in hits.iter().enumerate() {
            if is_of_kind(&hit.rule, rule) && places.iter().any(|place| overlaps(hit, place)) {
                (is_marked[at], is_found) = (true, true);
            }
        }
        let tally = tallies.entry(rule.clone()).or_default();
        tally.found += usize::from(is_found);
        tally.missed += usize::from(!is_found);
        if places.is_empty() {
            wrong.push(format!("{}: \"{words}\" is marked and does not stand there", blurb.number));
        }
    }
    let words = |hit: &Found| {
        let there = blurb.source[hit.span.clone()].split_whitespace().collect::<Vec<_>>().join(" ");
        if there.is_empty() { "(blanks)".to_owned() } else { there }
    };
    let mut judged = blurb.beside.clone();
    for (hit, _) in hits.iter().zip(is_marked).filter(|(_, is_marked)| !is_marked) {
        let found = judged.iter().position(|(rule, there, _)| *rule == hit.rule && *there == words(hit));
        match found.map(|at| judged.remove(at)) {
            Some((rule, _, true)) => tallies.entry(rule).or_default().right += 1,
            Some((rule, _, false)) => tallies.entry(rule).or_default().wrong += 1,
            None => wrong.push(format!("to be judged: {} {}: {}", blurb.number, hit.rule, words(hit))),
        }
    }
    wrong.extend(judged.iter().map(|(rule, words, _)| format!("found no longer: {} {rule}: {words}", blurb.number)));
    wrong
}

#[test]
fn hits_abroad_are_right_nine_times_in_ten() {
    let faces = Faces::built_in();
    let (mut all, mut wrong): (Tallies, Vec<String>) = (Tallies::new(), Vec::new());
    for (folder, tag) in LANGUAGES {
        let mut own = Tallies::new();
        for blurb in blurbs(folder, tag) {
            wrong.extend(judge(&blurb, &faces, &mut own).into_iter().map(|told| format!("{folder} {told}")));
        }
        for (rule, tally) in &own {
            let sum = all.entry(rule.clone()).or_default();
            sum.found += tally.found;
            sum.missed += tally.missed;
            sum.right += tally.right;
            sum.wrong += tally.wrong;
        }
        println!("{folder}\n{}", table(&own));
    }
    println!("all\n{}", table(&all));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for (rule, tally) in &all {
        let hits = tally.found + tally.right + tally.wrong;
        // One wrong hit is let pass, for with few hits one says little.
        assert!(tally.wrong * WRONG_IN <= hits || tally.wrong <= 1, "{rule} is wrong more than one time in ten");
    }
}

#[test]
fn polished_blurbs_have_one_query_in_three_at_most() {
    let faces = Faces::built_in();
    for (folder, tag) in LANGUAGES {
        let polished = blurbs(folder, tag).into_iter().filter(|blurb| POLISHED.contains(&blurb.number.as_str()));
        let found: usize = polished.map(|blurb| hits(&blurb, &faces).len()).sum();
        assert!(found * 3 <= POLISHED.len(), "{folder}: {found}");
    }
}

fn table(tallies: &Tallies) -> String {
    let row = |(rule, tally): (&String, &RuleTally)| {
        let RuleTally { found, missed, right, wrong } = tally;
        format!("{rule:<24} marked and found {found:>3}, missed {missed:>2}; beside: right {right:>2}, wrong {wrong}\n")
    };
    tallies.iter().map(row).collect()
}
