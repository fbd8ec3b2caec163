//! The formulas on the letters of a word: the Automated Readability Index, Coleman-Liau, and Gulpease for Italian.

use super::counts::Count::{Letters, LettersAndDigits, Sentences, Words};
use super::facts::{Facts, Sample, ScoreScale};
use crate::text::language::Language;

/// Smith and Senter 1967. Their strokes came from a wired typewriter.
pub(super) const AUTOMATED_READABILITY_INDEX: Facts = Facts {
    key: "automated_readability_index",
    name: "Automated Readability Index",
    scale: ScoreScale::Grade,
    source: "E. A. Smith, R. J. Senter, Automated Readability Index, AMRL-TR-66-220 (1967)",
    counting: "Strokes are letters and digits. Whether the machine that counted them also took marks is disputed; \
               with marks the index is about 0.6 to 1.1 higher.",
    language: Some(Language::English),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((4, 14)),
    list: None,
    counts: &[LettersAndDigits, Words, Sentences],
    readings: &[],
    equation: |c| 4.71 * c.per(LettersAndDigits, Words) + 0.5 * c.per(Words, Sentences) - 21.43,
};

/// Coleman and Liau 1975, the short form, which agrees with the full one within 0.001.
pub(super) const COLEMAN_LIAU_INDEX: Facts = Facts {
    key: "coleman_liau_index",
    name: "Coleman-Liau index",
    source: "M. Coleman, T. L. Liau, A Computer Readability Formula Designed for Machine Scoring, \
             Journal of Applied Psychology 60 (1975)",
    counting: "Letters and digits, and sentences, per hundred words.",
    grades: Some((4, 16)),
    equation: |c| 0.0588 * c.percent(LettersAndDigits) - 0.296 * c.percent(Sentences) - 15.8,
    ..AUTOMATED_READABILITY_INDEX
};

/// Lucisano and Piemontese 1988; easier text is higher.
pub(super) const GULPEASE: Facts = Facts {
    key: "gulpease",
    name: "Gulpease",
    scale: ScoreScale::Ease,
    source: "P. Lucisano, M. E. Piemontese, GULPEASE, Scuola e Città 39 (1988)",
    counting: "Letters alone, without marks and digits.",
    language: Some(Language::Italian),
    sample: Sample::Any,
    grades: None,
    list: None,
    counts: &[Sentences, Letters, Words],
    readings: &[
        (f64::NEG_INFINITY, "hard with upper secondary school"),
        (40.0, "hard with lower secondary school"),
        (60.0, "hard with primary school"),
        (80.0, "easy with primary school"),
    ],
    equation: |c| 89.0 + 300.0 * c.per(Sentences, Words) - 10.0 * c.per(Letters, Words),
};
