//! What the rules find of editors' marks in four times sixty blurbs that no rule was made for, held to a kept table.
//!
//! A mark is found where a query of a rule that speaks of its category shares a byte with it, and touched where any
//! query does. A query is right where it is on a mark of a category that its rule speaks of, and on a mark where it is
//! on any. Ends of printed lines are facts of the setting, and a keyboard's marks facts of the typing, which the editor
//! did not mark one by one: as queries they do not count. The last read, which tells more, has a table of its own.
//! Where a rule changes, the table that the test prints is read, judged and kept in tests/data/recall.txt.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

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

/// Each set of blurbs by its folder, with its marks.
const SETS: [(&str, &str); 4] = [
    ("unseen", include_str!("blurbs/unseen/marks.txt")),
    ("second", include_str!("blurbs/second/marks.txt")),
    ("third", include_str!("blurbs/third/marks.txt")),
    ("fourth", include_str!("blurbs/fourth/marks.txt")),
];
const KEPT: &str = include_str!("data/recall.txt");
const PANEL: &str = "panel: { trim: 12 x 12 in, margins: 1 in }\n";

/// The rules that speak of each category of marks; of `other` any does.
const CATEGORIES: [(&str, &[Rule]); 29] = [
    ("age", &[Rule::AgeLine]),
    ("call", &[Rule::CallToBuy]),
    // An editor's cliche is any worn wording: of an opening, of praise, of a call to buy, of `all ages`.
    ("cliche", &[Rule::StockPhrase, Rule::WeakOpening, Rule::Praise, Rule::CallToBuy, Rule::AgeLine]),
    // `By a child psychologist`: a claim that names nobody is a credit without a name.
    ("credit", &[Rule::CreditWithoutStanding, Rule::BareClaim]),
    // Three words for one are adjectives in a row.
    ("doublet", &[Rule::Doublet, Rule::Praise, Rule::WordyPhrase, Rule::AdjectivesInARow]),
    ("echo", &[Rule::Echo, Rule::RepeatedWord]),
    ("ending", &[Rule::PlotToTheEnd, Rule::ClosedQuestion]),
    ("exclaim", &[Rule::ExclamationMarks]),
    ("front cover", &[Rule::FrontCoverLine]),
    ("hype", &[Rule::Praise, Rule::CallToBuy, Rule::BareClaim, Rule::StockPhrase]),
    // `Very unique` and `many many` are told as saying one thing twice.
    ("intensifier", &[Rule::EmptyModifier, Rule::Intensifier, Rule::Doublet]),
    ("long sentence", &[Rule::LongSentence]),
    (
        "marks",
        &[
            Rule::StraightMarks,
            Rule::DoubtfulMark,
            Rule::UnpairedMark,
            Rule::DoubleSpace,
            Rule::SpaceBeforeStop,
            Rule::ExclamationMarks,
            Rule::MisspeltWord,
        ],
    ),
    ("moral", &[Rule::StockPhrase, Rule::PlotToTheEnd]),
    // `Maddy` where it was `Maddie`: a name in two spellings.
    ("names", &[Rule::ManyNames, Rule::MisspeltWord]),
    ("opening", &[Rule::WeakOpening, Rule::ClosedQuestion]),
    ("other", &[]),
    ("passive", &[Rule::Passive]),
    ("person", &[Rule::MixedPerson]),
    ("quote", &[Rule::StrayQuote, Rule::CreditWithoutStanding]),
    ("repeat", &[Rule::RepeatedWord, Rule::RepeatedOpening, Rule::Echo]),
    ("self-praise", &[Rule::Praise, Rule::BareClaim]),
    // A hyphen that is missing is a doubtful mark.
    ("spelling", &[Rule::MixedSpelling, Rule::MisspeltWord, Rule::DoubtfulMark]),
    ("spoiler", &[Rule::PlotToTheEnd]),
    ("tautology", &[Rule::Doublet, Rule::WordyPhrase, Rule::EmptyModifier]),
    ("tense", &[Rule::MixedTense]),
    // `Award-winning`, by which award?
    ("vague", &[Rule::StockPhrase, Rule::Praise, Rule::CallToBuy, Rule::BareClaim]),
    ("weak verb", &[Rule::WeakVerb, Rule::HiddenVerb, Rule::WordyPhrase]),
    ("wordy", &[Rule::WordyPhrase, Rule::HiddenVerb, Rule::Doublet, Rule::EmptyModifier, Rule::WeakVerb]),
];

/// A mark: its category, whether the place must change, and its bytes in the file.
struct EditorsMark {
    category: &'static str,
    is_must: bool,
    place: Range<usize>,
}

/// A blurb, with its book and its marks.
struct MarkedBlurb {
    source: String,
    brief: Brief,
    marks: Vec<EditorsMark>,
}

/// How many marks of a category there are, and how many are found and touched.
#[derive(Default, Clone, Copy)]
struct FoundMarks {
    all: usize,
    found: usize,
    touched: usize,
}

/// What a reading of all blurbs came to.
#[derive(Default)]
struct ReadBlurbs {
    /// By category: the marks that must, and those that should.
    marks: BTreeMap<&'static str, [FoundMarks; 2]>,
    queries: usize,
    right: usize,
    on_a_mark: usize,
    polished: usize,
    in_polished: usize,
}

/// Every blurb of a set.
fn blurbs((folder, marks): (&str, &'static str)) -> Vec<MarkedBlurb> {
    let mut blurbs = Vec::new();
    let lines = || marks.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    for (number, book) in lines().filter_map(|line| line.strip_prefix("@ ")?.split_once('\t')) {
        let source = fs::read_to_string(format!("tests/blurbs/{folder}/{number}.md")).expect("a blurb can be read");
        let book = if book == "-" { String::new() } else { format!("book: {book}\n") };
        let brief = Brief::read(&format!("{book}{PANEL}"), Path::new("")).expect("the brief is one");
        let own = lines().filter_map(|line| line.split_once('\t')).filter(|(of, _)| *of == number);
        let marks = own.map(|(_, mark)| read(mark, &source)).collect();
        blurbs.push(MarkedBlurb { source, brief, marks });
    }
    blurbs
}

/// A mark as its line has it, without the number.
fn read(mark: &'static str, source: &str) -> EditorsMark {
    let fields: Vec<&str> = mark.split('\t').collect();
    let [level, category, words, _] = fields[..] else { panic!("\"{mark}\" has not its four fields") };
    let start = source.find(words).unwrap_or_else(|| panic!("\"{words}\" is not there"));
    EditorsMark { category, is_must: level == "must", place: start..start + words.len() }
}

/// Whether a rule speaks of a category of marks.
fn speaks_of(rule: Rule, category: &str) -> bool {
    let known = CATEGORIES.iter().find(|(name, _)| *name == category);
    let (_, rules) = known.unwrap_or_else(|| panic!("\"{category}\" is no category of marks"));
    category == "other" || rules.contains(&rule)
}

/// What all blurbs of a set come to when they are read, closely or not.
fn reading(set: (&str, &'static str), close: bool) -> ReadBlurbs {
    let (faces, mut all) = (Faces::built_in(), ReadBlurbs::default());
    for mut blurb in blurbs(set) {
        blurb.brief.queries.close = close;
        let found = queries_in(&blurb, &faces);
        if blurb.marks.is_empty() {
            all.polished += 1;
            all.in_polished += found.iter().filter(|(rule, _)| *rule != Rule::StraightMarks).count();
        }
        // Straight marks are told once for the whole draft, wherever they stand.
        let is_on = |rule: Rule, place: &Range<usize>, mark: &EditorsMark| {
            (place.start < mark.place.end && mark.place.start < place.end)
                || (rule == Rule::StraightMarks && mark.category == "marks")
        };
        for (rule, place) in found.iter().filter(|(rule, _)| *rule != Rule::StraightMarks) {
            let on: Vec<_> = blurb.marks.iter().filter(|mark| is_on(*rule, place, mark)).collect();
            all.queries += 1;
            all.on_a_mark += usize::from(!on.is_empty());
            all.right += usize::from(on.iter().any(|mark| speaks_of(*rule, mark.category)));
        }
        for mark in &blurb.marks {
            let on = || found.iter().filter(|(rule, place)| is_on(*rule, place, mark));
            let counts = &mut all.marks.entry(mark.category).or_default()[usize::from(!mark.is_must)];
            counts.all += 1;
            counts.touched += usize::from(on().next().is_some());
            counts.found += usize::from(on().any(|(rule, _)| speaks_of(*rule, mark.category)));
        }
    }
    all
}

/// Every query of a blurb, with its rule and its bytes in the file; without those on ends of lines.
fn queries_in(blurb: &MarkedBlurb, faces: &Faces) -> Vec<(Rule, Range<usize>)> {
    let brief = &blurb.brief;
    let draft = Draft::read(&blurb.source);
    let found = queried::queries_in(&draft, brief, faces);
    let of_lines = |rule: Rule| matches!(rule, Rule::Runt | Rule::Rag | Rule::BrokenName);
    let place = |query: &Query| {
        let span = draft.blocks[query.block].span(query.range.clone());
        (query.rule, span.start..span.end)
    };
    found.iter().filter(|query| !of_lines(query.rule)).map(place).collect()
}

/// The table of a reading, a row for each category.
fn table(title: &str, read: &ReadBlurbs) -> String {
    let share = |part: usize, all: usize| 100.0 * part as f64 / all.max(1) as f64;
    let cell = |marks: FoundMarks| format!("{:>3} of {:<3} ({:>3})", marks.found, marks.all, marks.touched);
    let mut lines = vec![format!("{title:<16}{:<17}should", "must")];
    let mut sums = [FoundMarks::default(); 2];
    for (category, both) in &read.marks {
        lines.push(format!("{category:<16}{}  {}", cell(both[0]), cell(both[1])));
        for (sum, marks) in sums.iter_mut().zip(both) {
            sum.all += marks.all;
            sum.found += marks.found;
            sum.touched += marks.touched;
        }
    }
    lines.push(format!("{:<16}{}  {}", "all", cell(sums[0]), cell(sums[1])));
    lines.push(format!(
        "{} queries, {:.1} in 100 right, {:.1} in 100 on a mark; {} in {} polished blurbs",
        read.queries,
        share(read.right, read.queries),
        share(read.on_a_mark, read.queries),
        read.in_polished,
        read.polished
    ));
    lines.iter().map(|line| format!("{}\n", line.trim_end())).collect()
}

#[test]
fn what_is_found_of_an_editors_marks_is_what_the_kept_table_says() {
    let [first, second, third, fourth] = SETS;
    let tables = [
        table("first reads", &reading(first, false)),
        table("close read", &reading(first, true)),
        table("second set", &reading(second, false)),
        table("third set", &reading(third, false)),
        table("fourth set", &reading(fourth, false)),
    ];
    let found = tables.concat();
    let kept: String = KEPT
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .map(|line| format!("{line}\n"))
        .collect();
    assert_eq!(found, kept, "what is found has changed; read the table, and keep it:\n{found}");
}
