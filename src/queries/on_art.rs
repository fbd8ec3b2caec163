//! Words that stand on art and cannot be read with ease: faint ink, a busy ground, and light type with strokes that
//! fill in.
//!
//! How lines are judged is [`crate::art::lines`]; this file says what the author should look at. Sources: WCAG 2.2,
//! success criterion 1.4.3 and technique G18; the stand-out ratio is this project's own, and says so; for strokes that
//! are left out of a dark ground SWOP, 11th edition: none thinner than .007 in, which is half a point.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use crate::art::lines::{CLEAR_STAND_OUT, Cause, Grade, Stretch, contrast_wanted};
use crate::art::on_art::JudgedLine;
use crate::brief::place::{CoverFace, LIVE_AREA};
use crate::brief::queries::Rule;
use crate::units::trimmed;

/// Finds words whose ink is too near to the lightness of the art behind them, told once for each place.
pub(super) fn faint(reading: &Reading<'_>, _: &OwnCopy<'_>, anywhere: &mut Vec<Vec<Query>>) {
    stretches(reading, Cause::Faint, Rule::FaintInk, anywhere);
}

/// Finds words behind which the art is too uneven, told once for each place.
pub(super) fn busy(reading: &Reading<'_>, _: &OwnCopy<'_>, anywhere: &mut Vec<Vec<Query>>) {
    stretches(reading, Cause::Busy, Rule::BusyGround, anywhere);
}

/// Finds paragraphs in light type on dark art whose thinnest strokes may fill in with ink, each at its first such line.
pub(super) fn fine_reversed(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let mut last = None;
    for judged in reading.art {
        let (Some(stroke), Some(line)) = (judged.fine_reversed, reading.setting.lines.get(judged.line)) else {
            continue;
        };
        if last.replace(line.paragraph) == Some(line.paragraph) {
            continue;
        }
        let says = format!(
            "light type on dark art, and the thinnest strokes are {} pt; ink may close what is under 0.5 pt, so set it \
             larger, bolder or in a face of even strokes",
            trimmed(stroke.to_pt(), 2)
        );
        queries.push(Query {
            rule: Rule::FineReversed,
            block: line.paragraph,
            range: line.text.clone(),
            says,
            cuts: Vec::new(),
        });
    }
}

/// At how many stretches of a place a query may be told, of which the first free one is taken.
const MOST_STRETCHES: usize = 16;

/// A stretch of a line that is not clear.
#[derive(Clone, Copy)]
struct UnclearWords<'a> {
    line: &'a JudgedLine,
    stretch: &'a Stretch,
    words: &'a str,
}

impl UnclearWords<'_> {
    fn is_whole_line(&self) -> bool {
        let all = &self.line.letters.words;
        let whole = all.first().zip(all.last()).map(|(first, last)| first.text.start..last.text.end);
        whole.as_ref() == Some(&self.stretch.text)
    }
}

/// Finds what is not clear for one reason. The lines of a place are one query: they have one cure, and ten of them are
/// no ten faults.
fn stretches(reading: &Reading<'_>, cause: Cause, rule: Rule, anywhere: &mut Vec<Vec<Query>>) {
    let mut of_places: BTreeMap<usize, Vec<UnclearWords<'_>>> = BTreeMap::new();
    for line in reading.art {
        let all = line.judgement.stretches.iter().zip(&line.words).filter(|(stretch, _)| stretch.cause == cause);
        let all: Vec<_> = all.map(|(stretch, words)| UnclearWords { line, stretch, words }).collect();
        if !all.is_empty() {
            of_places.entry(line.place).or_default().extend(all);
        }
    }
    for mut all in of_places.into_values() {
        let says = said(reading, cause, &all);
        // The worst first, in the order of the copy.
        all.sort_by_key(|unclear| Reverse(unclear.stretch.grade));
        let query = |unclear: &UnclearWords<'_>| {
            let block = reading.setting.lines.get(unclear.line.line)?.paragraph;
            Some(Query { rule, block, range: unclear.stretch.text.clone(), says: says.clone(), cuts: Vec::new() })
        };
        anywhere.push(all.iter().take(MOST_STRETCHES).filter_map(query).collect());
    }
}

fn said(reading: &Reading<'_>, cause: Cause, all: &[UnclearWords<'_>]) -> String {
    let by_ratio = |one: &&UnclearWords<'_>, other: &&UnclearWords<'_>| {
        let (one, other) = (one.stretch, other.stretch);
        other.grade.cmp(&one.grade).then(one.stand_out.total_cmp(&other.stand_out))
    };
    let Some(worst) = all.iter().min_by(by_ratio) else { return String::new() };
    let told = |ratio: f64| trimmed((ratio * 10.0).floor() / 10.0, 1);
    let ratios = format!(
        "stand-out {} of {}, contrast {}:1 of {}:1",
        told(worst.stretch.stand_out),
        trimmed(CLEAR_STAND_OUT, 1),
        told(worst.stretch.contrast),
        trimmed(contrast_wanted(worst.line.letters.is_large), 1)
    );
    let why = match cause {
        Cause::Faint => "the ink is too near to the art's lightness",
        Cause::Busy => "the art is too busy",
    };
    let of_grade = |grade: Grade| all.iter().filter(|unclear| unclear.stretch.grade == grade).collect::<Vec<_>>();
    let grades = [(Grade::Lost, "lost"), (Grade::Hard, "hard to read")];
    if all.len() == 1 {
        let is = grades.iter().find(|(grade, _)| *grade == worst.stretch.grade).map_or("", |(_, is)| is);
        return format!("{is} on the art, since {why}: {ratios}");
    }
    let grades = grades.into_iter().map(|(grade, is)| (of_grade(grade), is)).filter(|(found, _)| !found.is_empty());
    let name = Some(&worst.line.place_name).filter(|name| reading.setting.places.len() > 1 && *name != LIVE_AREA);
    let place = name.map_or_else(String::new, |name| match [CoverFace::FrontFlap, CoverFace::BackFlap] {
        flaps if flaps.iter().any(|flap| flap.name() == name) => format!(" of the {name}"),
        _ => format!(" in “{name}”"),
    });
    let told = grades.enumerate().map(|(at, (found, is))| {
        let place = if at == 0 { format!(" on the art{place}") } else { String::new() };
        format!("{is}{place}: {}", lines(&found))
    });
    format!("{}, since {why}; the worst has {ratios}", told.collect::<Vec<_>>().join("; "))
}

/// Lines by their numbers, those that are not clear throughout in one row, the others with their words: `lines 1 to 4,
/// line 6 (“the pier”)`.
fn lines(all: &[&UnclearWords<'_>]) -> String {
    let mut told: Vec<(usize, usize, Vec<&str>)> = Vec::new();
    for unclear in all {
        let number = unclear.line.line + 1;
        let is_whole = unclear.is_whole_line();
        match told.last_mut() {
            Some((_, last, words)) if words.is_empty() && is_whole && *last + 1 == number => *last = number,
            Some((_, last, words)) if !words.is_empty() && *last == number => words.push(unclear.words),
            _ => told.push((number, number, if is_whole { Vec::new() } else { vec![unclear.words] })),
        }
    }
    let lines = told.into_iter().map(|(first, last, words)| match (last - first, words.is_empty()) {
        (0, true) => format!("line {first}"),
        (0, false) => format!("line {first} (“{}”)", words.join("”, “")),
        (1, _) => format!("lines {first} and {last}"),
        _ => format!("lines {first} to {last}"),
    });
    lines.collect::<Vec<_>>().join(", ")
}
