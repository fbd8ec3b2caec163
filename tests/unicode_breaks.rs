//! Unicode's own test files for breaking lines, words and graphemes, version 17.
//!
//! Sources: Unicode Standard Annexes 14 and 29, LineBreakTest.txt, WordBreakTest.txt and GraphemeBreakTest.txt. Lines
//! are broken by the rules of version 15.1 and one of our own, so tests/data/line_break_departures.txt lists every pair
//! of characters between which we depart, by rule; no other departure passes, and no departure may vanish unseen.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::collections::BTreeMap;

use blurbwright::setting::breaks::opportunities;
use blurbwright::text::words;
use unicode_segmentation::UnicodeSegmentation;

/// One row of a test file: a text and the bytes at which it may be broken, its start left out.
struct Case {
    text: String,
    breaks: Vec<usize>,
}

fn cases(file: &str) -> Vec<Case> {
    file.lines().filter(|row| !row.starts_with('#')).map(Case::of).collect()
}

impl Case {
    fn of(row: &str) -> Self {
        let mut case = Self { text: String::new(), breaks: Vec::new() };
        for token in row.split(' ') {
            match token {
                "÷" if case.text.is_empty() => {}
                "÷" => case.breaks.push(case.text.len()),
                "×" => {}
                code => {
                    let code = u32::from_str_radix(code, 16).expect("a code point");
                    case.text.push(char::from_u32(code).expect("a character"));
                }
            }
        }
        case
    }

    /// The pieces into which the text may be broken, with their starts.
    fn pieces(&self) -> Vec<(usize, &str)> {
        let starts = std::iter::once(0).chain(self.breaks.iter().copied());
        starts.zip(&self.breaks).map(|(start, end)| (start, &self.text[start..*end])).collect()
    }
}

/// A place at which we depart: `÷` where we do not break and should, `×` the other way; and what stands round it.
type Departure = (char, char, char);

fn departures_of(case: &Case) -> Vec<Departure> {
    let ours: Vec<usize> = opportunities(&case.text).collect();
    let at = |mark: char, at: usize| -> Option<Departure> {
        // A combining diaeresis takes the place of the letter before it in many rows and changes nothing.
        let before = case.text[..at].chars().rev().find(|c| *c != '\u{308}')?;
        Some((mark, before, case.text[at..].chars().next()?))
    };
    let not_broken = case.breaks.iter().filter(|end| !ours.contains(end)).filter_map(|end| at('÷', *end));
    let broken = ours.iter().filter(|end| !case.breaks.contains(end)).filter_map(|end| at('×', *end));
    not_broken.chain(broken).collect()
}

/// The rule of each named departure, headed by how often the file meets its departures.
fn named_departures() -> BTreeMap<Departure, &'static str> {
    let mut named = BTreeMap::new();
    let mut rule = "";
    for row in include_str!("data/line_break_departures.txt").lines() {
        if let Some(heading) = row.strip_prefix("== ") {
            rule = heading;
            continue;
        }
        for pair in row.split(' ').filter(|_| !row.starts_with('#')) {
            let mut codes =
                pair[2..].split('|').map(|code| u32::from_str_radix(code, 16).ok().and_then(char::from_u32));
            let (Some(Some(before)), Some(Some(after))) = (codes.next(), codes.next()) else { panic!("{pair}") };
            let mark = if pair.starts_with('/') { '÷' } else { '×' };
            assert!(named.insert((mark, before, after), rule).is_none(), "{pair} stands there twice");
        }
    }
    named
}

#[test]
fn lines_end_where_the_annex_has_it_but_for_named_departures() {
    let named = named_departures();
    let cases = cases(include_str!("data/unicode/LineBreakTest.txt"));
    let mut met: BTreeMap<Departure, usize> = BTreeMap::new();
    for case in &cases {
        for departure in departures_of(case) {
            assert!(named.contains_key(&departure), "{departure:?} in {:?}", case.text);
            *met.entry(departure).or_default() += 1;
        }
    }
    assert_eq!(cases.len(), 19_338);
    let unmet: Vec<_> = named.keys().filter(|departure| !met.contains_key(departure)).collect();
    assert!(unmet.is_empty(), "we no longer depart: {unmet:?}");
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for (departure, count) in &met {
        *counts.entry(named[departure]).or_default() += count;
    }
    for (rule, count) in counts {
        assert!(rule.starts_with(&format!("{count} times: ")), "{count} are met of: {rule}");
    }
}

#[test]
fn graphemes_are_those_of_the_annex() {
    let cases = cases(include_str!("data/unicode/GraphemeBreakTest.txt"));
    for case in &cases {
        let found: Vec<(usize, &str)> = case.text.grapheme_indices(true).collect();
        assert_eq!(found, case.pieces(), "{:?}", case.text);
    }
    assert_eq!(cases.len(), 766);
}

#[test]
fn words_are_those_of_the_annex_joined_by_hyphens() {
    let cases = cases(include_str!("data/unicode/WordBreakTest.txt"));
    for case in &cases {
        let found: Vec<(usize, &str)> = case.text.split_word_bound_indices().collect();
        assert_eq!(found, case.pieces(), "{:?}", case.text);
        let words: Vec<&str> = words::find(&case.text).into_iter().map(|range| &case.text[range]).collect();
        assert_eq!(words, words_of(case), "{:?}", case.text);
    }
    assert_eq!(cases.len(), 1944);
}

/// The pieces of a row that hold a letter or a figure, two of them with a hyphen between as one.
fn words_of(case: &Case) -> Vec<&str> {
    let mut words: Vec<(usize, usize)> = Vec::new();
    for (start, piece) in case.pieces().into_iter().filter(|(_, piece)| piece.contains(char::is_alphanumeric)) {
        match words.last_mut() {
            Some((_, end)) if matches!(&case.text[*end..start], "-" | "\u{2010}" | "\u{2011}") => {
                *end = start + piece.len();
            }
            _ => words.push((start, start + piece.len())),
        }
    }
    words.into_iter().map(|(start, end)| &case.text[start..end]).collect()
}
