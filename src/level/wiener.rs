//! The four formulas for German non-fiction by Bamberger and Vanecek, in school years from 4 to 15.

use super::counts::Count::{Long, OneSyllable, Sentences, ThreeSyllables, Words};
use super::facts::{Facts, Sample, ScoreScale};
use crate::text::language::Language;

/// The first formula.
pub(super) const FIRST: Facts = Facts {
    key: "wiener_sachtextformel_1",
    name: "Wiener Sachtextformel 1",
    scale: ScoreScale::Hardness,
    source: "R. Bamberger, E. Vanecek, Lesen, Verstehen, Lernen, Schreiben (1984)",
    counting: "Words of three syllables or more, of more than six letters, and of one syllable, per hundred words.",
    language: Some(Language::German),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((4, 15)),
    list: None,
    counts: &[ThreeSyllables, Words, Sentences, Long, OneSyllable],
    readings: &[],
    equation: |c| {
        0.1935 * c.percent(ThreeSyllables) + 0.1672 * c.per(Words, Sentences) + 0.1297 * c.percent(Long)
            - 0.0327 * c.percent(OneSyllable)
            - 0.875
    },
};

/// The second formula.
pub(super) const SECOND: Facts = Facts {
    key: "wiener_sachtextformel_2",
    name: "Wiener Sachtextformel 2",
    counting: "Words of three syllables or more, and of more than six letters, per hundred words.",
    counts: &[ThreeSyllables, Words, Sentences, Long],
    equation: |c| {
        0.2007 * c.percent(ThreeSyllables) + 0.1682 * c.per(Words, Sentences) + 0.1373 * c.percent(Long) - 2.779
    },
    ..FIRST
};

/// The third formula.
pub(super) const THIRD: Facts = Facts {
    key: "wiener_sachtextformel_3",
    name: "Wiener Sachtextformel 3",
    counting: "Words of three syllables or more per hundred words.",
    counts: &[ThreeSyllables, Words, Sentences],
    equation: |c| 0.2963 * c.percent(ThreeSyllables) + 0.1905 * c.per(Words, Sentences) - 1.1144,
    ..FIRST
};

/// The fourth formula.
pub(super) const FOURTH: Facts = Facts {
    key: "wiener_sachtextformel_4",
    name: "Wiener Sachtextformel 4",
    equation: |c| 0.2744 * c.percent(ThreeSyllables) + 0.2656 * c.per(Words, Sentences) - 1.693,
    ..THIRD
};
