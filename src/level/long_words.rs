//! The formulas on words of more than six letters, for any language: LIX and RIX.

use super::counts::Count::{Long, Sentences, SentencesAtColons, Words};
use super::facts::{Facts, Sample, ScoreScale};

/// Björnsson 1968.
pub(super) const LIX: Facts = Facts {
    key: "lix",
    name: "LIX",
    scale: ScoreScale::Hardness,
    source: "C.-H. Björnsson, Läsbarhet (1968)",
    counting: "Long words have more than six letters. A colon also ends a sentence.",
    language: None,
    sample: Sample::Any,
    grades: None,
    list: None,
    counts: &[Words, SentencesAtColons, Long],
    readings: &[
        (f64::NEG_INFINITY, "very easy"),
        (24.5, "easy"),
        (34.5, "standard"),
        (44.5, "difficult"),
        (54.5, "very difficult"),
    ],
    equation: |c| c.per(Words, SentencesAtColons) + c.percent(Long),
};

/// Anderson 1983.
pub(super) const RIX: Facts = Facts {
    key: "rix",
    name: "RIX",
    source: "J. Anderson, Lix and Rix: Variations on a Little-Known Readability Index, Journal of Reading 26 (1983)",
    counting: "Long words have more than six letters; a hyphened word and an abbreviation are one word.",
    counts: &[Long, Sentences],
    readings: &[
        (f64::NEG_INFINITY, "grade 1"),
        (0.2, "grade 2"),
        (0.5, "grade 3"),
        (0.8, "grade 4"),
        (1.3, "grade 5"),
        (1.8, "grade 6"),
        (2.4, "grade 7"),
        (3.0, "grade 8"),
        (3.7, "grade 9"),
        (4.5, "grade 10"),
        (5.3, "grade 11"),
        (6.2, "grade 12"),
        (7.2, "college"),
    ],
    equation: |c| c.per(Long, Sentences),
    ..LIX
};
