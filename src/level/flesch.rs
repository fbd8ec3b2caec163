//! The two formulas on syllables and sentences: Flesch Reading Ease and the Flesch-Kincaid grade.
//!
//! Both count words, sentences and syllables. A hyphened word is one word. Figures and abbreviations count one syllable
//! each, however they are spoken, and of two accepted pronunciations the shorter counts (both: R. Flesch, How to Write
//! Plain English, 1979, chapter 2). Headings are left out. Flesch also ends a sentence at a colon, semicolon or dash
//! that marks off a full unit of speech. Which of them do is a matter of judgement; here none ends a sentence.

use super::counts::Count::{Sentences, SyllablesByFlesch, Words};
use super::facts::{Facts, Sample, ScoreScale};
use crate::text::language::Language;

/// Flesch 1948; easier text scores higher. The highest possible value is 121.22, and there is no lowest.
pub(super) const READING_EASE: Facts = Facts {
    key: "flesch_reading_ease",
    name: "Flesch Reading Ease",
    scale: ScoreScale::Ease,
    source: "R. Flesch, A New Readability Yardstick, Journal of Applied Psychology 32 (1948)",
    counting: "A hyphened word is one word; a figure or an abbreviation is one syllable; \
               of two pronunciations the shorter counts (Flesch 1979). Made for adult readers.",
    language: Some(Language::English),
    sample: Sample::HundredWordsOrWhole,
    grades: Some((4, 16)),
    list: None,
    counts: &[Words, Sentences, SyllablesByFlesch],
    readings: &[
        (f64::NEG_INFINITY, "very difficult"),
        (30.0, "difficult"),
        (50.0, "fairly difficult"),
        (60.0, "standard"),
        (70.0, "fairly easy"),
        (80.0, "easy"),
        (90.0, "very easy"),
    ],
    equation: |c| 206.835 - 1.015 * c.per(Words, Sentences) - 84.6 * c.per(SyllablesByFlesch, Words),
};

/// Kincaid and others 1975; a school grade. The lowest possible value is -3.40.
pub(super) const KINCAID_GRADE: Facts = Facts {
    key: "flesch_kincaid_grade",
    name: "Flesch-Kincaid grade",
    scale: ScoreScale::Grade,
    source: "J. P. Kincaid, R. P. Fishburne, R. L. Rogers, B. S. Chissom, Navy Research Branch Report 8-75 (1975)",
    counting: "Counted as for Flesch Reading Ease. Fitted on 531 Navy trainees and 18 passages of manuals.",
    readings: &[],
    equation: |c| 0.39 * c.per(Words, Sentences) + 11.8 * c.per(SyllablesByFlesch, Words) - 15.59,
    ..READING_EASE
};
