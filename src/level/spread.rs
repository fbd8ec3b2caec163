//! How far a measure can be off at a length: `wordlists/level-spread.txt`, which tells the origin of its figures.
//!
//! The spread of an average is proportional to the reciprocal of the square root of the number of words. So between two
//! lengths the spread is interpolated over that reciprocal; below the shortest length it grows in proportion to the
//! reciprocal, and above the longest it stays constant. Worked by hand: at 74 words revised Spache lies 0.030 of the
//! way from 75 words (1.01) to 50 (1.24), that is 1.017.

use std::sync::LazyLock;

use super::formula::Formula;
use crate::text::length::as_number;

static TABLE: LazyLock<SpreadTable> = LazyLock::new(|| SpreadTable::read(wordlist!("level-spread.txt")));

/// The spreads of the list by the lengths at which they were measured.
struct SpreadTable {
    /// The reciprocal of the square root of each length in words, from the shortest length on.
    roots: Vec<f64>,
    /// For each formula the spread at each length; empty where the formula's spread was not measured.
    spreads: [Vec<f64>; Formula::ALL.len()],
}

impl SpreadTable {
    fn read(text: &str) -> Self {
        let mut lines = text.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(' '));
        let keys: Vec<&str> = lines.next().map(Iterator::collect).unwrap_or_default();
        let rows: Vec<Vec<f64>> = lines.map(|row| row.filter_map(|number| number.parse().ok()).collect()).collect();
        let column = |key: &str| {
            let at = keys.iter().position(|name| *name == key);
            at.map(|at| rows.iter().filter_map(|row| row.get(at).copied()).collect::<Vec<f64>>()).unwrap_or_default()
        };
        let roots = column("words").into_iter().map(|words| 1.0 / words.sqrt()).collect();
        Self { roots, spreads: Formula::ALL.map(|formula| column(formula.facts().key)) }
    }
}

/// A length of text as the table knows it.
#[derive(Debug, Clone, Copy)]
pub(super) enum SampleLength {
    /// Shorter than the shortest length, or as long, with the factor by which the spread is greater.
    Shorter(f64),
    /// Between two lengths: the position of the longer length in the table, and how far the text lies on the way from
    /// the longer to the shorter, from 0 to 1.
    Between(usize, f64),
    /// The longest length of the table, or more.
    Longest,
}

impl SampleLength {
    /// The length of a text of so many words; none where there are no words.
    pub(super) fn of(words: usize) -> Option<Self> {
        let root = (words > 0).then(|| 1.0 / as_number(words).sqrt())?;
        let roots = &TABLE.roots;
        if root >= *roots.first()? {
            return Some(Self::Shorter(root / roots.first()?));
        }
        let Some(at) = roots.iter().position(|shorter| root > *shorter) else { return Some(Self::Longest) };
        Some(Self::Between(at, (root - roots[at]) / (roots[at - 1] - roots[at])))
    }

    /// The standard deviation of a measure between passages of this length from one text, in the measure's own unit;
    /// none where it was not measured.
    pub(super) fn spread(self, formula: Formula) -> Option<f64> {
        let spreads = TABLE.spreads.get(formula as usize)?;
        match self {
            Self::Shorter(factor) => Some(spreads.first()? * factor),
            Self::Between(at, part) => {
                let (shorter, longer) = (spreads.get(at - 1)?, spreads.get(at)?);
                Some(longer + part * (shorter - longer))
            }
            Self::Longest => spreads.last().copied(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Formula, SampleLength, TABLE};

    fn of(formula: Formula, words: usize) -> Option<f64> {
        SampleLength::of(words)?.spread(formula)
    }

    fn check(words: usize, expected: f64) {
        let spread = of(Formula::SpacheRevised, words).unwrap();
        assert!((spread - expected).abs() < 0.0005, "{words}: {spread}");
    }

    #[test]
    fn lengths_of_the_table_and_between() {
        check(50, 1.24);
        check(100, 0.89);
        check(75, 1.01);
        check(74, 1.017);
        check(1000, 0.30);
        check(50_000, 0.30);
        check(25, 1.24 * 2.0_f64.sqrt());
    }

    #[test]
    fn what_was_not_measured_has_none() {
        assert_eq!((of(Formula::Amstad, 100), of(Formula::Smog, 0)), (None, None));
    }

    #[test]
    fn the_table_is_whole() {
        let measured = TABLE.spreads.iter().filter(|column| !column.is_empty());
        assert!(measured.clone().all(|column| column.len() == TABLE.roots.len()));
        assert_eq!((measured.count(), TABLE.roots.len()), (13, 7));
    }
}
