//! The reading level as JSON: of a blurb, and of a text with its sections.

use std::collections::BTreeMap;

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::json::{SpanJson, Style, rounded, written};
use super::level::untold;
use crate::level::counts::Count;
use crate::level::drivers::{HardSentence, UnfamiliarWord};
use crate::level::headline::Headline;
use crate::level::{GuessedWord, Level, Score};
use crate::report::levels::{Levels, Section};

/// The name of the present form of the JSON of `level`.
pub(super) const SCHEMA: &str = "blurbwright-level-2";

/// Reading level.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct LevelJson {
    /// The one measure that suits the readers' age, as a band; null of fewer than 20 words of prose, which are too few
    /// to tell, without its list, or in a language that has none.
    headline: Option<HeadlineJson>,
    /// Why there is no headline, in plain words; left out where there is one. `scores` has the bare figures of any
    /// length.
    #[serde(skip_serializing_if = "Option::is_none")]
    why_no_headline: Option<String>,
    /// Published measures by name; null where one has no value for this text, and left out where it is of another
    /// language.
    scores: BTreeMap<&'static str, Option<f64>>,
    /// The words of verse that no measure counted, since a sentence of it runs on over the end of a line; left out
    /// where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    verse_words: Option<usize>,
    /// The published measures with what is known of each. `measure` leaves out these and all below without `--counted`.
    #[serde(skip_serializing_if = "Option::is_none")]
    measures: Option<Vec<MeasureJson>>,
    /// What the measures counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    counts: Option<BTreeMap<&'static str, usize>>,
    /// The sentences that cost most on the headline's measure, the costliest first.
    #[serde(skip_serializing_if = "Option::is_none")]
    costliest_sentences: Option<Vec<CostlySentenceJson>>,
    /// Words outside the list of the headline's measure, once each, in reading order.
    #[serde(skip_serializing_if = "Option::is_none")]
    unfamiliar: Option<Vec<UnfamiliarJson>>,
    /// Words whose syllables were guessed, once each.
    #[serde(skip_serializing_if = "Option::is_none")]
    guessed_words: Option<Vec<GuessedJson>>,
}

/// How much of a level is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LevelDetail {
    /// The headline and the value of every measure.
    Values,
    /// What stands behind the values of this text too.
    Behind,
    /// How each measure counts and where it was published too, which is the same for every text.
    Counted,
}

/// The reading level to name first.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct HeadlineJson {
    /// The measure's name.
    measure: &'static str,
    /// The measure's value.
    value: f64,
    /// The lowest grade of the band.
    low: u32,
    /// The highest grade of the band.
    high: u32,
    /// The words it was measured on.
    words: usize,
    /// The band in plain words.
    sentence: String,
}

/// One published measure.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct MeasureJson {
    /// The measure's name in `scores`.
    measure: &'static str,
    /// The measure's name in a report; this and the last two are told with `--counted` alone, and once of a text.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'static str>,
    /// The value; null where the measure has none for this text.
    value: Option<f64>,
    /// The standard deviation between passages of this length; null where it was not measured, and of fewer than 20
    /// words.
    spread: Option<f64>,
    /// The value in the words of the measure's own table; null where it has none, and of fewer than 20 words.
    reading: Option<&'static str>,
    /// Whether the value says something about this text.
    applies: bool,
    /// Why the value says nothing about this text; null where it does.
    why_not: Option<String>,
    /// What the measure counts, by name.
    counts: Vec<&'static str>,
    /// How the measure counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    counting: Option<&'static str>,
    /// Where the measure was published.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<&'static str>,
}

/// A sentence that costs the level.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct CostlySentenceJson {
    /// How many words the sentence has.
    words: usize,
    /// How much further off the copy's level is with the sentence, in the unit of the headline's measure.
    cost: f64,
    /// The measure without the sentence; null where nothing would be left.
    without: Option<f64>,
    /// The measure with the sentence parted in two.
    split: f64,
    /// Where it stands.
    span: SpanJson,
}

/// A word outside the list of the headline's measure.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct UnfamiliarJson {
    /// The word as it is written where it first stands.
    word: String,
    /// How often the word stands in the blurb.
    times: usize,
    /// The measure if a familiar word stood in its place each time.
    replaced: f64,
    /// Where it first stands.
    span: SpanJson,
}

/// A word that no list knows.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct GuessedJson {
    /// The word as it is written where it first stands.
    word: String,
    /// How many syllables were counted for the word.
    syllables: u32,
    /// Where it first stands.
    span: SpanJson,
}

impl LevelJson {
    /// The level of one text, in so much detail.
    pub(super) fn of(level: &Level, detail: LevelDetail) -> Self {
        let is_behind = detail != LevelDetail::Values;
        let measures = || level.scores.iter().map(|score| MeasureJson::of(score, detail)).collect();
        let counts = || Count::ALL.iter().map(|count| (count.key(), level.counts.of(*count))).collect();
        let score = |score: &Score| (score.formula.facts().key, score.value.map(rounded));
        Self {
            headline: level.headline.as_ref().map(HeadlineJson::of),
            why_no_headline: level.headline.is_none().then(|| untold(level)),
            scores: level.scores.iter().map(score).collect(),
            verse_words: (level.verse_words > 0).then_some(level.verse_words),
            measures: is_behind.then(measures),
            counts: is_behind.then(counts),
            costliest_sentences: is_behind
                .then(|| level.hardest_sentences.iter().map(CostlySentenceJson::of).collect()),
            unfamiliar: is_behind.then(|| level.unfamiliar.iter().map(UnfamiliarJson::of).collect()),
            guessed_words: is_behind.then(|| level.guessed.iter().map(GuessedJson::of).collect()),
        }
    }
}

impl HeadlineJson {
    fn of(headline: &Headline) -> Self {
        let Headline { measure, value, low, high, words, .. } = headline;

        let (measure, value) = (measure.facts().key, rounded(*value));
        Self { measure, value, low: *low, high: *high, words: *words, sentence: headline.sentence() }
    }
}

impl MeasureJson {
    fn of(score: &Score, detail: LevelDetail) -> Self {
        let facts = score.formula.facts();
        let if_counted = |told: &'static str| (detail == LevelDetail::Counted).then_some(told);
        Self {
            measure: facts.key,
            name: if_counted(facts.name),
            value: score.value.map(rounded),
            spread: score.spread.map(rounded),
            reading: score.reading(),
            applies: score.applies(),
            why_not: score.why_not.map(|reason| reason.to_string()),
            counts: facts.counts.iter().map(|count| count.key()).collect(),
            counting: if_counted(facts.counting),
            source: if_counted(facts.source),
        }
    }
}

impl CostlySentenceJson {
    fn of(sentence: &HardSentence) -> Self {
        Self {
            words: sentence.words,
            cost: rounded(sentence.cost),
            without: sentence.without.map(rounded),
            split: rounded(sentence.split),
            span: sentence.span.into(),
        }
    }
}

impl UnfamiliarJson {
    fn of(word: &UnfamiliarWord) -> Self {
        Self { word: word.word.clone(), times: word.times, replaced: rounded(word.replaced), span: word.span.into() }
    }
}

impl GuessedJson {
    fn of(guessed: &GuessedWord) -> Self {
        Self { word: guessed.word.clone(), syllables: guessed.syllables, span: guessed.span.into() }
    }
}

/// The reading level of a text and of each of its sections.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct LevelsJson {
    /// The name of this form.
    schema: &'static str,
    /// The file as it was named.
    path: String,
    /// The level of the whole text.
    level: LevelJson,
    /// The level of each section, where there are several.
    sections: Vec<SectionJson>,
}

/// The reading level of one section.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct SectionJson {
    /// The section's heading, or its number where it has none.
    name: String,
    /// Where its first words stand in the file.
    span: SpanJson,
    /// The section's level.
    level: LevelJson,
}

/// The JSON of one text, without a line ending after it: the whole text in so much detail, its sections without what is
/// the same for every text.
pub fn json(levels: &Levels, path: &str, detail: LevelDetail, style: Style) -> String {
    let section = |section: &Section| SectionJson {
        name: section.name.clone(),
        span: section.span.into(),
        level: LevelJson::of(&section.level, LevelDetail::Behind),
    };
    let view = LevelsJson {
        schema: SCHEMA,
        path: path.to_owned(),
        level: LevelJson::of(&levels.whole, detail),
        sections: levels.sections.iter().map(section).collect(),
    };
    written(&view, style)
}
