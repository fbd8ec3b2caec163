//! The Spache formulas of 1953 and 1974, for the first three grades.

use super::counts::Count::{Sentences, UnfamiliarOnce, Words};
use super::facts::{Facts, Sample, ScoreScale};
use super::familiar::WordList;
use crate::text::language::Language;

/// Spache 1953.
pub(super) const SPACHE_1953: Facts = Facts {
    key: "spache_1953",
    name: "Spache 1953",
    scale: ScoreScale::Grade,
    source: "G. Spache, A New Readability Formula for Primary-Grade Reading Materials, Elementary School Journal 53 \
             (1953)",
    counting: "Each unfamiliar word counts once. Familiar are the words of the list with regular endings (-s, -es, \
               -ies, -'s, -d, -ed, -ied, -ing), names, figures and single letters (these two from memory). The list \
               of 1953 is not carried: the revised one stands in for it.",
    language: Some(Language::English),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((1, 3)),
    list: Some(WordList::Spache),
    counts: &[Words, Sentences, UnfamiliarOnce],
    readings: &[],
    equation: |c| 0.141 * c.per(Words, Sentences) + 0.086 * c.percent(UnfamiliarOnce) + 0.839,
};

/// Spache 1974, with the list of 1,041 words.
pub(super) const SPACHE_REVISED: Facts = Facts {
    key: "spache_revised",
    name: "Spache revised",
    source: "G. Spache, Good Reading for Poor Readers (1974)",
    counting: "Each unfamiliar word counts once. Familiar are the words of the list with regular endings (-s, -es, \
               -ies, -'s, -d, -ed, -ied, -ing), names, figures and single letters (these two from memory).",
    equation: |c| 0.121 * c.per(Words, Sentences) + 0.082 * c.percent(UnfamiliarOnce) + 0.659,
    ..SPACHE_1953
};
