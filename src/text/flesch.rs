//! The two formulas on syllables and sentences: Flesch Reading Ease and the Flesch-Kincaid grade.
//!
//! Both count words, sentences and syllables. A hyphened word is one word. Figures and abbreviations count one
//! syllable each, whatever they are in speech (R. Flesch, How to Write Plain English, 1979, chapter 2), and of two
//! accepted pronunciations the shorter counts (the same place). Headings are left out.

use super::Part;
use super::length::as_number;
use super::level::{Facts, Scale};
use super::syllables::Basis;

/// Flesch 1948; easier text is higher. 121.22 at most, no least value.
pub(super) const READING_EASE: Facts = Facts {
    key: "flesch_reading_ease",
    name: "Flesch Reading Ease",
    scale: Scale::Ease,
    source: "R. Flesch, A New Readability Yardstick, Journal of Applied Psychology 32 (1948)",
    counting: "A hyphened word is one word; a figure or an abbreviation is one syllable; \
               of two pronunciations the shorter counts (Flesch 1979).",
    score: |part| Some(reading_ease(&Counts::of(part)?)),
};

/// Kincaid and others 1975; a school grade, -3.40 at least.
pub(super) const KINCAID_GRADE: Facts = Facts {
    key: "flesch_kincaid_grade",
    name: "Flesch-Kincaid grade",
    scale: Scale::Grade,
    source: "J. P. Kincaid, R. P. Fishburne, R. L. Rogers, B. S. Chissom, Navy Research Branch Report 8-75 (1975)",
    counting: "Counted as for Flesch Reading Ease.",
    score: |part| Some(kincaid_grade(&Counts::of(part)?)),
};

/// What the two formulas stand on.
struct Counts {
    /// Words per sentence.
    sentence_length: f64,
    /// Syllables per word.
    word_length: f64,
}

impl Counts {
    /// None where there is no word.
    fn of(part: &Part) -> Option<Self> {
        let syllables = part.words.iter().map(|word| match word.basis {
            Basis::Figure | Basis::Abbreviation => 1.0,
            Basis::Given | Basis::Listed | Basis::Guessed => f64::from(word.syllables),
        });
        Self::from_counts(part.words.len(), part.sentences.len(), syllables.sum())
    }

    fn from_counts(words: usize, sentences: usize, syllables: f64) -> Option<Self> {
        let words = as_number(words);
        (words > 0.0 && sentences > 0)
            .then(|| Self { sentence_length: words / as_number(sentences), word_length: syllables / words })
    }
}

fn reading_ease(counts: &Counts) -> f64 {
    206.835 - 1.015 * counts.sentence_length - 84.6 * counts.word_length
}

fn kincaid_grade(counts: &Counts) -> f64 {
    0.39 * counts.sentence_length + 11.8 * counts.word_length - 15.59
}

#[cfg(test)]
mod tests {
    use super::{Counts, kincaid_grade, reading_ease};

    #[test]
    fn published_examples_come_out_as_stated() {
        let rows = include_str!("../../tests/cases/level.txt").lines().filter(|row| !row.starts_with('#'));
        let mut checked = 0;
        for row in rows {
            let fields: Vec<&str> = row.split(" | ").collect();
            let number = |at: usize| fields[at].parse::<f64>().unwrap();
            let (words, sentences, syllables) = (number(2), number(3), number(4));
            let counts = Counts { sentence_length: words / sentences, word_length: syllables / words };
            let value = match fields[1] {
                "flesch_reading_ease" => reading_ease(&counts),
                "flesch_kincaid_grade" => kincaid_grade(&counts),
                _ => continue,
            };
            assert!((value - number(5)).abs() <= number(6), "{row}: {value}");
            checked += 1;
        }
        assert_eq!(checked, 11);
    }

    #[test]
    fn no_words_no_score() {
        assert!(Counts::from_counts(0, 0, 0.0).is_none());
    }
}
