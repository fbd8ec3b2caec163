//! The reading level, as a page of text and as JSON.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::json::{SpanJson, Style, rounded};
use super::sheet::TextPage;
use super::visible::visible;
use super::words::{counted, times};
use crate::draft::{self, LinePlaces};
use crate::level::counts::Count;
use crate::level::drivers::{HardSentence, UnfamiliarWord};
use crate::level::facts::ScoreScale;
use crate::level::headline::{Headline, LEAST_WORDS};
use crate::level::lists;
use crate::level::{GuessedWord, Level, Score, WhyNot, WordList};
use crate::report::levels::{Levels, Section};
use crate::units::nouns::agrees;
use crate::units::trimmed;

/// The name of the present form of the JSON of `level`.
pub(super) const SCHEMA: &str = "blurbwright-level-1";

/// Reading level.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LevelJson {
    /// The one measure that suits the readers' age, as a band; null of fewer than 20 words, which are too few to tell,
    /// without its list, or in a language that has none.
    pub headline: Option<HeadlineJson>,
    /// Why there is no headline, in plain words; null where there is one. `scores` has the bare figures of any length.
    pub why_no_headline: Option<String>,
    /// Published measures by name; null where one has no value for this text, and left out where it is of another language.
    pub scores: BTreeMap<&'static str, Option<f64>>,
    /// The same measures with what is known of each.
    pub measures: Vec<MeasureJson>,
    /// What the measures counted.
    pub counts: BTreeMap<&'static str, usize>,
    /// The sentences that cost most on the headline's measure, the costliest first.
    pub costliest_sentences: Vec<CostlySentenceJson>,
    /// Words outside the list of the headline's measure, once each, in reading order.
    pub unfamiliar: Vec<UnfamiliarJson>,
    /// Words whose syllables were guessed, once each.
    pub guessed_words: Vec<GuessedJson>,
}

/// The reading level to name first.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HeadlineJson {
    /// The measure's name.
    pub measure: &'static str,
    /// Its value.
    pub value: f64,
    /// The lowest grade of the band.
    pub low: u32,
    /// The highest grade of the band.
    pub high: u32,
    /// The words it was measured on.
    pub words: usize,
    /// The band in plain words.
    pub sentence: String,
}

/// One published measure.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MeasureJson {
    /// Its name in `scores`.
    pub measure: &'static str,
    /// Its name in a report.
    pub name: &'static str,
    /// Its value; null where it has none.
    pub value: Option<f64>,
    /// The standard deviation between passages of this length; null where it was not measured, and of fewer than 20 words.
    pub spread: Option<f64>,
    /// The value in the words of the measure's own table; null where it has none, and of fewer than 20 words.
    pub reading: Option<&'static str>,
    /// Whether the value says something about this text.
    pub applies: bool,
    /// Why not.
    pub why_not: Option<String>,
    /// What it counts, by name.
    pub counts: Vec<&'static str>,
    /// How it counts.
    pub counting: &'static str,
    /// Where it was published.
    pub source: &'static str,
}

/// A sentence that costs the level.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CostlySentenceJson {
    /// Its words.
    pub words: usize,
    /// How much further off the copy's level is with it, in the unit of the headline's measure.
    pub cost: f64,
    /// The measure without it; null where nothing would be left.
    pub without: Option<f64>,
    /// The measure with it parted in two.
    pub split: f64,
    /// Where it stands.
    pub span: SpanJson,
}

/// A word outside the list of the headline's measure.
#[derive(Debug, Serialize, JsonSchema)]
pub struct UnfamiliarJson {
    /// As it is written where it first stands.
    pub word: String,
    /// How often it stands in the blurb.
    pub times: usize,
    /// The measure if a familiar word stood in its place each time.
    pub replaced: f64,
    /// Where it first stands.
    pub span: SpanJson,
}

/// A word that no list knows.
#[derive(Debug, Serialize, JsonSchema)]
pub struct GuessedJson {
    /// As it is written where it first stands.
    pub word: String,
    /// The count that was used.
    pub syllables: u32,
    /// Where it first stands.
    pub span: SpanJson,
}

impl LevelJson {
    /// The level of one text.
    pub fn of(level: &Level) -> Self {
        let score = |score: &Score| (score.formula.facts().key, score.value.map(rounded));
        Self {
            headline: level.headline.as_ref().map(HeadlineJson::of),
            why_no_headline: level.headline.is_none().then(|| untold(level)),
            scores: level.scores.iter().map(score).collect(),
            measures: level.scores.iter().map(MeasureJson::of).collect(),
            counts: Count::ALL.iter().map(|count| (count.key(), level.counts.of(*count))).collect(),
            costliest_sentences: level.hardest_sentences.iter().map(CostlySentenceJson::of).collect(),
            unfamiliar: level.unfamiliar.iter().map(UnfamiliarJson::of).collect(),
            guessed_words: level.guessed.iter().map(GuessedJson::of).collect(),
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
    fn of(score: &Score) -> Self {
        let facts = score.formula.facts();
        Self {
            measure: facts.key,
            name: facts.name,
            value: score.value.map(rounded),
            spread: score.spread.map(rounded),
            reading: score.reading(),
            applies: score.applies(),
            why_not: score.why_not.map(|reason| reason.to_string()),
            counts: facts.counts.iter().map(|count| count.key()).collect(),
            counting: facts.counting,
            source: facts.source,
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
#[derive(Debug, Serialize, JsonSchema)]
pub struct LevelsJson {
    /// The name of this form.
    schema: &'static str,
    /// The file as it was named.
    path: String,
    /// Of the whole text.
    level: LevelJson,
    /// Of each section, where there are several.
    sections: Vec<SectionJson>,
}

/// The reading level of one section.
#[derive(Debug, Serialize, JsonSchema)]
struct SectionJson {
    /// Its heading or number.
    name: String,
    /// Where its first words stand in the file.
    span: SpanJson,
    /// Its level.
    level: LevelJson,
}

/// The JSON of one text, without a line ending after it.
pub fn json(levels: &Levels, path: &str, style: Style) -> String {
    let section = |section: &Section| SectionJson {
        name: section.name.clone(),
        span: section.span.into(),
        level: LevelJson::of(&section.level),
    };
    let view = LevelsJson {
        schema: SCHEMA,
        path: path.to_owned(),
        level: LevelJson::of(&levels.whole),
        sections: levels.sections.iter().map(section).collect(),
    };
    super::json::written(&view, style)
}

/// How many unfamiliar words a page lists; the JSON has them all.
const MOST_WORDS: usize = 40;

/// The page about one text, its last line ended. Where it is asked for, each measure tells how it counts.
pub fn written(levels: &Levels, path: &str, source: &str, is_counted: bool, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(format!("{}: reading level", visible(path)));
    sheet.line(String::new());
    first(&mut sheet, &levels.whole);
    drivers(&mut sheet, &levels.whole, source);
    if is_counted {
        counted_measures(&mut sheet, &levels.whole)
    } else {
        others(&mut sheet, &levels.whole)
    }
    sections(&mut sheet, levels, source);
    sheet.text()
}

/// Where the rules are, as the line below all pages.
pub fn where_counted(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(String::new());
    sheet.indented("`blurbwright level --counted` says how each measure counts, and from what.", 0);
    sheet.text()
}

/// The band first, with where it comes from.
pub(super) fn first(sheet: &mut TextPage, level: &Level) {
    match &level.headline {
        Some(headline) => {
            sheet.labelled("Level", &headline.sentence());
            let facts = headline.measure.facts();
            sheet.labelled("", &format!("by {}, which suits the readers and the copy ({})", facts.name, facts.source));
        }
        None => sheet.labelled("Level", &untold(level)),
    }
    for missing in level.missing_lists() {
        let without = match missing {
            WhyNot::NoList(WordList::DaleChall) => " Without it Gunning fog counts compounds of easy words as hard.",
            _ => "",
        };
        let remedy = "Put that file back and build it again, or name a list of your own with `level --familiar`.";
        sheet.labelled("", &format!("Missing: {missing}.{without} {remedy}"));
    }
    for (file, without) in lists::taken_away().filter_map(|file| Some((file, without(file)?))) {
        let says = format!(
            "Missing: this program was built without the list wordlists/{file}, so that {without}. Put that file back and build it \
             again."
        );
        sheet.labelled("", &says);
    }
    sheet.labelled("", "A rough guide for the copy, not for the book, and no judgement of a reader.");
}

/// Why there is no level to tell.
fn untold(level: &Level) -> String {
    let words = level.counts.of(Count::Words);
    if words == 0 {
        return "there are no words to measure".to_owned();
    }
    if level.missing_lists().next().is_some() {
        return "not told, since the measure that suits the readers stands on a list that is missing".to_owned();
    }
    if level.is_too_short() {
        let are = agrees(words, "is", "are");
        return format!("{} {are} too few to tell a level from; it takes {LEAST_WORDS}", counted(words, "word"));
    }
    "no measure with a known band suits this text".to_owned()
}

/// What the program does without a list that was taken away; none where a measure tells that itself.
fn without(file: &str) -> Option<&'static str> {
    Some(match file {
        "dale-chall.txt" | "spache.txt" => return None,
        "cmudict-syllables.txt" => "all syllables are guessed",
        "syllable-patterns.txt" => "syllables of words that no list knows are counted by their vowels alone",
        "abbreviations.txt" => "the stop of an abbreviation ends a sentence, and its syllables are guessed",
        "sentence-openers.txt" => "a sentence that ends in an abbreviation runs on into the next",
        "speech-verbs.txt" => "speech before a name and a verb of saying ends a sentence",
        "level-spread.txt" => "no level has a band",
        "word-frequencies.txt" | "function-words.txt" => "a story's own words are not told from common ones",
        "irregular-forms.txt" => "irregular forms of a term are not taken for it",
        _ => "some queries are missed or raised in vain",
    })
}

/// What drives the level; nothing where none is told.
fn drivers(sheet: &mut TextPage, level: &Level, source: &str) {
    let Some(headline) = &level.headline else { return };
    sheet.line(String::new());
    let facts = headline.measure.facts();
    let easier = match facts.scale {
        ScoreScale::Ease => "higher",
        ScoreScale::Grade | ScoreScale::Hardness => "lower",
    };
    let now = format!("{} is {} now; a {easier} figure is easier to read.", facts.name, trimmed(headline.value, 2));
    sheet.labelled("Drivers", &now);
    hard_sentences(sheet, &level.hardest_sentences, source);
    unfamiliar_words(sheet, &level.unfamiliar, source);
    if level.hardest_sentences.is_empty() && level.unfamiliar.is_empty() {
        sheet.labelled("", "No sentence and no word stands out.");
    }
}

/// The sentences that cost most. Whichever is parted in two, the measure is the same then.
fn hard_sentences(sheet: &mut TextPage, sentences: &[HardSentence], source: &str) {
    let Some(first) = sentences.first() else { return };
    let costliest = agrees(sentences.len(), "This one costs", "These cost");
    let parted = trimmed(first.split, 2);
    sheet.labelled("", &format!("A sentence parted in two would make it {parted}. {costliest} most:"));
    for sentence in sentences {
        let (line, _) = draft::place(source, sentence.span.start);
        let words = source.get(sentence.span.start..sentence.span.end).unwrap_or_default();
        let than = if sentence.without.is_some() { "without it" } else { "parted in two" };
        sheet.item(&format!(
            "line {line}, {}, {} harder than {than}: {}",
            counted(sentence.words, "word"),
            trimmed(sentence.cost, 2),
            visible(&words.split_whitespace().collect::<Vec<_>>().join(" "))
        ));
    }
}

/// The words outside the measure's list, each with what a familiar one would make of it where that is not the same for all.
fn unfamiliar_words(sheet: &mut TextPage, words: &[UnfamiliarWord], source: &str) {
    let Some(first) = words.first() else { return };
    let made = |word: &UnfamiliarWord| trimmed(word.replaced, 2);
    let are_alike = words.iter().all(|word| made(word) == made(first));
    let told = |word: &UnfamiliarWord| {
        let (line, _) = draft::place(source, word.span.start);
        let often = if word.times > 1 { format!(", {}", times(word.times)) } else { String::new() };
        let makes = if are_alike { String::new() } else { format!(" {}", made(word)) };
        format!("{} (line {line}{often}){makes}", visible(&word.word))
    };
    let listed: Vec<String> = words.iter().take(MOST_WORDS).map(told).collect();
    let more = words.len() - listed.len();
    let rest = if more > 0 { format!(", and {}", counted(more, "more word")) } else { String::new() };
    let would = if are_alike {
        format!(
            "A familiar word in the place of {} would make it {}",
            agrees(words.len(), "this one", "one of these"),
            made(first)
        )
    } else {
        "A familiar word in its place would make it what stands behind each of these".to_owned()
    };
    sheet.labelled("", &format!("{would}: {}{rest}", listed.join(", ")));
}

/// Every measure but the one that is told first, in a line; none of so few words that no figure says anything.
fn others(sheet: &mut TextPage, level: &Level) {
    if level.is_too_short() || level.counts.of(Count::Words) == 0 {
        return;
    }
    sheet.line(String::new());
    let first = level.headline.as_ref().map(|headline| headline.measure);
    let mut label = if first.is_some() { "Others" } else { "Measures" };
    for score in level.scores.iter().filter(|score| Some(score.formula) != first) {
        sheet.labelled(label, &format!("{}: {}", score.formula.facts().name, in_short(score)));
        label = "";
    }
}

/// The value of a measure in a few words; where it says nothing of this text, what the measure is for.
fn in_short(score: &Score) -> String {
    let Some(value) = score.value else {
        return match score.why_not {
            Some(WhyNot::Language(language)) => format!("no value; made for {}", language.name()),
            Some(WhyNot::NoList(_)) => "no value; its list is missing".to_owned(),
            _ => "no value".to_owned(),
        };
    };
    let value = trimmed(value, 2);
    match score.why_not {
        None => format!("{value}{}", reading_and_spread(score)),
        Some(WhyNot::Words { needed, .. }) => format!("{value}, but it needs {}", counted(needed, "word")),
        Some(WhyNot::Sentences { needed, .. }) => format!("{value}, but it needs {}", counted(needed, "sentence")),
        Some(WhyNot::Readers { first, last } | WhyNot::Grades { first, last }) => {
            format!("{value}, but made for grades {first} to {last}")
        }
        Some(reason) => format!("{value}, but {reason}"),
    }
}

fn reading_and_spread(score: &Score) -> String {
    let reading = score.reading().map_or(String::new(), |reading| format!(" ({reading})"));
    let spread = score.spread.map_or(String::new(), |spread| format!(", give or take {}", trimmed(spread, 1)));
    format!("{reading}{spread}")
}

/// Every measure with what it counted and how, those that do not apply included.
fn counted_measures(sheet: &mut TextPage, level: &Level) {
    sheet.line(String::new());
    let mut label = "Measures";
    for score in &level.scores {
        let facts = score.formula.facts();
        let value = score.value.map_or("no value".to_owned(), |value| trimmed(value, 2));
        let validity = score.why_not.map_or(String::new(), |reason| format!("; does not apply: {reason}"));
        sheet.labelled(label, &format!("{}: {value}{}{validity}", facts.name, reading_and_spread(score)));
        let counts = score.counts(&level.counts);
        let counts: Vec<String> = counts.iter().map(|(count, number)| format!("{}: {number}", count.name())).collect();
        sheet.labelled("", &format!("  from {}. {} {}", counts.join("; "), facts.counting, facts.source));
        label = "";
    }
}

fn sections(sheet: &mut TextPage, levels: &Levels, source: &str) {
    if levels.sections.is_empty() {
        return;
    }
    sheet.line(String::new());
    let places = LinePlaces::of(source);
    let mut label = "Sections";
    for section in &levels.sections {
        let (line, _) = places.place(section.span.start);
        let words = section.level.counts.of(Count::Words);
        let level = match &section.level.headline {
            Some(headline) => format!("{}: {}", counted(words, "word"), headline.sentence()),
            None => untold(&section.level),
        };
        sheet.labelled(label, &format!("{}, line {line}, {level}", visible(&section.name)));
        label = "";
    }
}
