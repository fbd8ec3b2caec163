//! Measures the reading level of the blurb by published formulas.
//!
//! Each formula stands in a file of its own with its source and its counting rules; this file knows only their list.
//! A level is a rough guide for the copy, not for the book, and no judgement of a reader.

use std::collections::HashSet;

use crate::draft::Span;

use super::syllables::{Basis, fold};
use super::{Part, Text, flesch};

/// The published measures that the program computes, in the order of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Formula {
    /// Flesch 1948.
    FleschReadingEase,
    /// Kincaid and others 1975.
    FleschKincaidGrade,
}

/// What is published of a formula.
#[derive(Debug)]
pub struct Facts {
    /// Its name in data: `flesch_reading_ease`.
    pub key: &'static str,
    /// Its name in a report.
    pub name: &'static str,
    /// What its number means.
    pub scale: Scale,
    /// Where it was published.
    pub source: &'static str,
    /// How it counts, where that differs from the program's own counts.
    pub counting: &'static str,
    pub(super) score: fn(&Part) -> Option<f64>,
}

/// What the number of a measure means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Scale {
    /// Higher is easier.
    Ease,
    /// A grade of United States schools; higher is harder.
    Grade,
}

impl Formula {
    /// Every formula, in the order of a report.
    pub const ALL: [Self; 2] = [Self::FleschReadingEase, Self::FleschKincaidGrade];

    /// What is published of it.
    pub fn facts(self) -> &'static Facts {
        match self {
            Self::FleschReadingEase => &flesch::READING_EASE,
            Self::FleschKincaidGrade => &flesch::KINCAID_GRADE,
        }
    }
}

/// The reading level of a blurb.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// One score for each formula, in the order of [`Formula::ALL`].
    pub scores: Vec<Score>,
    /// The words whose syllables were guessed, once each, in reading order.
    pub guessed: Vec<GuessedWord>,
}

/// What a formula makes of the blurb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// Which formula.
    pub formula: Formula,
    /// Its value, not rounded; none where the blurb has no words.
    pub value: Option<f64>,
}

/// A word that no list knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GuessedWord {
    /// As it is written where it first stands.
    pub word: String,
    /// The count that was used.
    pub syllables: u32,
    /// Where it first stands in the file.
    pub span: Span,
}

impl Level {
    /// The value of one formula; none where the blurb has no words.
    pub fn value(&self, formula: Formula) -> Option<f64> {
        self.scores.iter().find(|score| score.formula == formula).and_then(|score| score.value)
    }
}

/// Measures the blurb of a text.
pub fn measure(text: &Text) -> Level {
    let scores = Formula::ALL.map(|formula| Score { formula, value: (formula.facts().score)(&text.blurb) });
    Level { scores: scores.to_vec(), guessed: guessed(text) }
}

fn guessed(text: &Text) -> Vec<GuessedWord> {
    let mut seen = HashSet::new();
    let unknown = text.blurb.words.iter().filter(|word| word.basis == Basis::Guessed);
    let first = unknown.filter(|word| seen.insert(fold(text.word(word))));
    first
        .map(|word| GuessedWord {
            word: text.word(word).to_owned(),
            syllables: word.syllables,
            span: text.span(word.block, word.range.clone()),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Formula, measure};
    use crate::brief::Book;
    use crate::draft::Draft;
    use crate::text::Text;

    #[test]
    fn published_texts_come_out_as_stated() {
        let rows = include_str!("../../tests/cases/level.txt").lines().filter(|row| !row.starts_with('#'));
        let mut checked = 0;
        for row in rows {
            let fields: Vec<&str> = row.split(" | ").collect();
            let formula = Formula::ALL.into_iter().find(|formula| formula.facts().key == fields[1]);
            let (Some(formula), Some(copy)) = (formula, fields.get(9)) else { continue };
            let draft = Draft::read(copy);
            let value = measure(&Text::read(&draft, &Book::default())).value(formula).unwrap();
            let (stated, tolerance) = (fields[5].parse::<f64>().unwrap(), fields[6].parse::<f64>().unwrap());
            assert!((value - stated).abs() <= tolerance, "{row}: {value}");
            checked += 1;
        }
        assert_eq!(checked, 6);
    }

    #[test]
    fn guessed_words_are_listed_once_with_their_place() {
        let copy = "# Xyrrin\n\nThe *Quillonia* sails. QUILLONIA sank, said Xyrrin.";
        let draft = Draft::read(copy);
        let level = measure(&Text::read(&draft, &Book::default()));
        let words: Vec<(&str, u32)> = level.guessed.iter().map(|word| (word.word.as_str(), word.syllables)).collect();
        assert_eq!(words, [("Quillonia", 4), ("Xyrrin", 2)]);
        assert_eq!(&copy[level.guessed[0].span.start..level.guessed[0].span.end], "Quillonia");
    }

    /// How to Write Plain English (Flesch 1979), chapter 2: a figure is one syllable.
    #[test]
    fn a_figure_is_one_syllable_for_flesch() {
        let value = |copy: &str| {
            let draft = Draft::read(copy);
            measure(&Text::read(&draft, &Book::default())).value(Formula::FleschReadingEase)
        };
        assert_eq!(value("In 1984 Mr. Fox sat."), value("In June Bob Fox sat."));
    }

    #[test]
    fn no_words_no_score() {
        let draft = Draft::read("# A headline alone");
        let level = measure(&Text::read(&draft, &Book::default()));
        assert!(level.scores.iter().all(|score| score.value.is_none()));
    }
}
