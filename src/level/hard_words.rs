//! The formulas on words of many or few syllables: Gunning fog, SMOG and FORCAST.

use super::counts::Count::{Hard, OneSyllable, Sentences, ThreeSyllables, Words};
use super::facts::{Facts, Sample, ScoreScale};
use crate::text::language::Language;

/// Gunning 1952.
pub(super) const GUNNING_FOG: Facts = Facts {
    key: "gunning_fog",
    name: "Gunning fog",
    scale: ScoreScale::Grade,
    source: "R. Gunning, The Technique of Clear Writing (1952, 1968)",
    counting: "Hard words have three syllables or more. Names, figures, compounds of easy words, and words that reach \
               three by -es or -ed are not hard. A hyphened word is one word. Gunning's early editions counted \
               independent clauses as sentences; here sentences count, as in the later ones.",
    language: Some(Language::English),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((6, 17)),
    list: None,
    counts: &[Words, Sentences, Hard],
    readings: &[],
    equation: |c| 0.4 * (c.per(Words, Sentences) + c.percent(Hard)),
};

/// McLaughlin 1969. Made to predict full comprehension, so its grades are one or two above those of other formulas.
pub(super) const SMOG: Facts = Facts {
    key: "smog",
    name: "SMOG grade",
    source: "G. H. McLaughlin, SMOG Grading, Journal of Reading 12 (1969)",
    counting: "Words of three syllables or more as read aloud; repeats count, figures are counted as spoken, a \
               hyphened word is one. The publication asks for 30 sentences: ten each from the beginning, the middle \
               and the end. Here all sentences count.",
    sample: Sample::Sentences(30),
    grades: Some((3, 18)),
    counts: &[ThreeSyllables, Sentences],
    equation: |c| 1.0430 * (30.0 * c.per(ThreeSyllables, Sentences)).sqrt() + 3.1291,
    ..GUNNING_FOG
};

/// Caylor, Sticht, Fox and Ford 1973. Sentences are not counted; the lowest possible grade is 5.
pub(super) const FORCAST: Facts = Facts {
    key: "forcast",
    name: "FORCAST",
    source: "J. S. Caylor, T. G. Sticht, L. C. Fox, J. P. Ford, HumRRO Technical Report 73-5 (1973)",
    counting: "Words of one syllable in 150 words; no sentences, so that it also suits lists and fragments.",
    sample: Sample::Words(150),
    grades: Some((5, 12)),
    counts: &[OneSyllable, Words],
    equation: |c| 20.0 - 150.0 * c.per(OneSyllable, Words) / 10.0,
    ..GUNNING_FOG
};
