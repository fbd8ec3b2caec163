//! The Dale-Chall formulas of 1948 and 1995, on the words outside a list of about 3,000 familiar ones.

use super::counts::Count::{Sentences, Unfamiliar, Words};
use super::facts::{Facts, Sample, ScoreScale};
use super::familiar::WordList;
use crate::text::language::Language;

/// Dale and Chall 1948. The constant is always added, as it was published.
pub(super) const DALE_CHALL_1948: Facts = Facts {
    key: "dale_chall_1948",
    name: "Dale-Chall 1948",
    scale: ScoreScale::Hardness,
    source: "E. Dale, J. S. Chall, A Formula for Predicting Readability, Educational Research Bulletin 27 (1948)",
    counting: "Unfamiliar words count each time. Familiar are the words of the list with regular endings (-s, -es, \
               -ies, -'s, -d, -ed, -ied, -ing, -n, -er, -est, -ly), names of persons and places, and figures (from \
               memory); a hyphened word where both parts are (from memory). A doer in -er is not, unless it is listed \
               (from memory). The list is the one published in 1995.",
    language: Some(Language::English),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((4, 16)),
    list: Some(WordList::DaleChall),
    counts: &[Unfamiliar, Words, Sentences],
    readings: &[
        (f64::NEG_INFINITY, "grade 4 and below"),
        (5.0, "grades 5 to 6"),
        (6.0, "grades 7 to 8"),
        (7.0, "grades 9 to 10"),
        (8.0, "grades 11 to 12"),
        (9.0, "grades 13 to 15"),
        (10.0, "grade 16 and above"),
    ],
    equation: |c| 0.1579 * c.percent(Unfamiliar) + 0.0496 * c.per(Words, Sentences) + 3.6365,
};

/// Chall and Dale 1995: a cloze score, and a level for each stretch of it.
pub(super) const NEW_DALE_CHALL_CLOZE: Facts = Facts {
    key: "new_dale_chall_cloze",
    name: "New Dale-Chall",
    scale: ScoreScale::Ease,
    source: "J. S. Chall, E. Dale, Readability Revisited: The New Dale-Chall Readability Formula (1995)",
    counting: "Counted as for Dale-Chall 1948, with whole sentences only.",
    grades: Some((1, 16)),
    readings: &[
        (f64::NEG_INFINITY, "grade 16 and above"),
        (16.0, "grades 13 to 15"),
        (22.0, "grades 11 to 12"),
        (28.0, "grades 9 to 10"),
        (34.0, "grades 7 to 8"),
        (40.0, "grades 5 to 6"),
        (45.0, "grade 4"),
        (50.0, "grade 3"),
        (54.0, "grade 2"),
        (58.0, "grade 1"),
    ],
    equation: |c| 64.0 - 0.95 * c.percent(Unfamiliar) - 0.69 * c.per(Words, Sentences),
    ..DALE_CHALL_1948
};

/// The grades, first and last, of each stretch of the cloze score, from its least value on: table 5-8 of the 1995 book.
pub(super) const GRADES: [(f64, u32, u32); 10] = [
    (f64::NEG_INFINITY, 16, 16),
    (16.0, 13, 15),
    (22.0, 11, 12),
    (28.0, 9, 10),
    (34.0, 7, 8),
    (40.0, 5, 6),
    (45.0, 4, 4),
    (50.0, 3, 3),
    (54.0, 2, 2),
    (58.0, 1, 1),
];
