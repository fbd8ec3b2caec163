//! What can go in a draft, and other words for its own, as JSON: changes of the file with what they win.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::fit_data::LegibilityJson;
use super::json::{SpanJson, Style, rounded, written};
use super::other_words::OtherWordsPage;
use super::report_data::{EstimateJson, LanguageJson, MissingStyleJson};
use super::sizes_data::{PriceJson, price_json};
use super::tighten::{CutsPage, number};
use crate::draft::{Block, Edit};
use crate::report::cuts::PricedCut;
use crate::report::effects::Figures;
use crate::report::other_words::TriedWord;
use crate::report::tighten::wording;

/// The name of the present form of the JSON of `tighten`.
pub(super) const SCHEMA: &str = "blurbwright-tighten-1";

/// What can go in one draft.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct TightenJson {
    /// The name of this form.
    schema: &'static str,
    /// The draft as it was named.
    path: String,
    /// `within` or `outside`, as in the report.
    verdict: &'static str,
    /// Whether the draft was read closely: echoes, pale verbs and single words of stress are then among the queries.
    close: bool,
    /// The fewest cuts that make the draft fit and meet its limits.
    plan: PlanJson,
    /// Every cut that is ready, the cheapest line first.
    cuts: Vec<CutJson>,
    /// Cuts beside these that were not tried, where the draft is too long to try each.
    cuts_untried: usize,
    /// Every query that does not stand, in the order of the copy.
    queries: Vec<QueryJson>,
    /// The language of the copy, and the rules that do not know it.
    language: LanguageJson,
    /// The changes that set printed marks in the place of a keyboard's; `--apply marks` makes them.
    marks: Vec<MarkJson>,
    /// Queries that the author lets stand.
    standing: usize,
    /// What a line costs in each paragraph.
    paragraphs: Vec<PriceJson>,
    /// Styles that the copy asks for and its font has not.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts that are not at hand, for which the built-in serif stands in; all lines are an estimate where there is
    /// one.
    fonts_stood_in: Vec<EstimateJson>,
    /// Whether the copy can be read on its art, and what mends it; left out where no copy stands on art.
    #[serde(skip_serializing_if = "Option::is_none")]
    art: Option<LegibilityJson>,
}

/// The plan.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PlanJson {
    /// The names of its cuts, in the order of the copy.
    cuts: Vec<String>,
    /// Whether the draft is within every limit when they are made.
    reaches: bool,
    /// Limits that are still not kept, by their keys.
    outside: Vec<&'static str>,
    /// Whether every choice of cuts that might have been shorter was tried; false where there are too many of them.
    all_tried: bool,
}

/// A mark of a keyboard, and what is printed instead.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct MarkJson {
    /// The bytes of the file that go; none where something is put in.
    span: SpanJson,
    /// What stands there instead.
    wording: String,
}

/// A shorter wording of a place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct CutJson {
    /// What `--apply` calls it.
    cut: String,
    /// The number of its query.
    query: usize,
    /// The bytes of the file that go.
    span: SpanJson,
    /// What stands there instead; often nothing.
    wording: String,
    /// The sentence before.
    before: String,
    /// The sentence after.
    after: String,
    /// Letters won back; below zero where it is longer.
    letters: i64,
    /// Words won back.
    words: i64,
    /// Lines won back.
    lines: i64,
    /// The place whose lines they are; null where the brief has no places.
    place: Option<String>,
    /// The level before and after; null without one.
    level: Option<[f64; 2]>,
    /// Wanted terms that the copy has only with the cut.
    terms_gained: Vec<String>,
    /// Terms and names that the copy loses by it.
    lost: Vec<String>,
}

/// A place that the author should look at.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct QueryJson {
    /// What `--stet` calls it.
    query: usize,
    /// The rule that found it.
    rule: &'static str,
    /// The line in the file, from 1.
    line: usize,
    /// The character in the line, from 1.
    column: usize,
    /// The place's bytes in the file.
    span: SpanJson,
    /// What stands there.
    text: String,
    /// What may be wrong with it and why.
    says: String,
    /// What its cuts are called.
    cuts: Vec<String>,
}

/// The JSON of one draft, without a line ending after it.
pub fn json(page: &CutsPage<'_>, style: Style) -> String {
    let tighten = page.tighten;
    let names = |cuts: &[usize]| cuts.iter().map(|cut| number(&tighten.cuts[*cut])).collect();
    let view = TightenJson {
        schema: SCHEMA,
        path: page.path.to_owned(),
        verdict: if page.report.verdict.is_within() { "within" } else { "outside" },
        close: page.close,
        plan: PlanJson {
            cuts: names(&tighten.plan.cuts),
            reaches: tighten.plan.reaches,
            outside: tighten.plan.outside.iter().map(|check| check.subject.key()).collect(),
            all_tried: tighten.plan.all_tried,
        },
        cuts: tighten.by_price.iter().map(|cut| cut_json(&tighten.cuts[*cut], page)).collect(),
        cuts_untried: tighten.untried,
        queries: (0..tighten.queries.len()).map(|query| query_json(query, page)).collect(),
        language: LanguageJson::of(&page.report.silent_rules),
        marks: tighten.marks.iter().map(mark_json).collect(),
        standing: tighten.standing,
        paragraphs: tighten.prices.iter().map(price_json).collect(),
        styles_missing: page.report.fit.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: page.report.fit.estimated.iter().map(EstimateJson::of).collect(),
        art: LegibilityJson::of_report(page.report, page.advice),
    };
    written(&view, style)
}

fn mark_json(edit: &Edit) -> MarkJson {
    MarkJson { span: SpanJson::from(edit.span), wording: edit.text.clone() }
}

fn cut_json(cut: &PricedCut, page: &CutsPage<'_>) -> CutJson {
    let block: &Block = &page.draft.blocks[cut.block];
    let text = block.text();
    let (before, after) = (&text[cut.sentence.start..cut.cut.range.start], &text[cut.cut.range.end..cut.sentence.end]);
    let grade = |figures: &Figures| figures.grade.map(rounded);
    CutJson {
        cut: number(cut),
        query: cut.query + 1,
        span: SpanJson::from(cut.edit.span),
        wording: cut.cut.wording.clone(),
        before: text[cut.sentence.clone()].to_owned(),
        after: format!("{before}{}{after}", cut.cut.wording),
        letters: cut.price.letters(),
        words: cut.price.words(),
        lines: cut.price.lines(),
        place: cut.place.clone(),
        level: grade(&cut.price.before).zip(grade(&cut.price.after)).map(|(before, after)| [before, after]),
        terms_gained: cut.price.terms_gained.clone(),
        lost: cut.price.lost.clone(),
    }
}

fn query_json(number_of: usize, page: &CutsPage<'_>) -> QueryJson {
    let query = &page.tighten.queries[number_of];
    let span = page.draft.blocks[query.block].span(query.range.clone());
    let (line, column) = page.source.place(span.start);
    QueryJson {
        query: number_of + 1,
        rule: query.rule.name(),
        line,
        column,
        span: SpanJson::from(span),
        text: wording(query, page.draft).to_owned(),
        says: query.says.clone(),
        cuts: page.tighten.cuts_of(number_of).map(number).collect(),
    }
}

/// The name of the present form of the JSON of `words`.
pub(super) const WORDS_SCHEMA: &str = "blurbwright-words-1";

/// Words of one draft with others that could stand in their place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct WordsJson {
    /// The name of this form.
    schema: &'static str,
    /// The draft as it was named.
    path: String,
    /// The word that was asked about; null where the whole draft was.
    asked: Option<String>,
    /// The words, in the order of the copy: every place of the word that was asked about, or else the words outside the
    /// list of words that are familiar to the readers.
    words: Vec<WordJson>,
    /// Paragraphs that are a few letters over a line, with the words that would win it; empty where a word was asked
    /// about.
    lines: Vec<LineJson>,
    /// Others that were not tried, where the draft is too long to try each.
    untried: usize,
}

/// A word with its others.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct WordJson {
    /// The word as it is written.
    word: String,
    /// The line in the file, from 1.
    line: usize,
    /// The character in the line, from 1.
    column: usize,
    /// The word's bytes in the file.
    span: SpanJson,
    /// Whether the word is outside the list of words that are familiar to the readers.
    unfamiliar: bool,
    /// At most three others, the nearest in meaning first.
    others: Vec<OtherJson>,
    /// Why there is no other; null where there is one.
    why_none: Option<&'static str>,
}

/// Another word, and what it wins.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct OtherJson {
    /// The bytes of the file that go: the word, with its article where that changes.
    span: SpanJson,
    /// What stands there instead.
    wording: String,
    /// Letters won back; below zero where it is longer.
    letters: i64,
    /// Words won back.
    words: i64,
    /// Lines won back.
    lines: i64,
    /// The place whose lines they are; null where the brief has no places.
    place: Option<String>,
    /// The level before and after; null without one.
    level: Option<[f64; 2]>,
    /// The value of the level's measure before and after; null without one.
    measure: Option<[f64; 2]>,
}

/// A paragraph that is a few letters over a line.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LineJson {
    /// The paragraph, and what a line costs in it.
    paragraph: PriceJson,
    /// The other words each of which wins a line.
    winners: Vec<OtherJson>,
}

/// The JSON of one draft, without a line ending after it.
pub fn words_json(page: &OtherWordsPage<'_>, style: Style) -> String {
    let view = WordsJson {
        schema: WORDS_SCHEMA,
        path: page.path.to_owned(),
        asked: page.word.map(str::to_owned),
        words: page.found.words.iter().map(|word| word_json(word, page)).collect(),
        lines: page
            .found
            .lines
            .iter()
            .map(|line| LineJson {
                paragraph: price_json(&line.priced),
                winners: line.winners.iter().map(other_json).collect(),
            })
            .collect(),
        untried: page.found.untried,
    };
    written(&view, style)
}

fn word_json(word: &TriedWord, page: &OtherWordsPage<'_>) -> WordJson {
    let asked = &word.asked;
    let (line, column) = page.place_of(asked);
    WordJson {
        word: page.word_of(asked).to_owned(),
        line,
        column,
        span: SpanJson::from(page.draft.blocks[asked.block].span(asked.range.clone())),
        unfamiliar: asked.is_outside,
        others: word.others.iter().map(other_json).collect(),
        why_none: word.others.is_empty().then(|| page.why(word)),
    }
}

fn other_json(other: &PricedCut) -> OtherJson {
    let (before, after) = (&other.price.before, &other.price.after);
    let pair = |value: fn(&Figures) -> Option<f64>| {
        value(before).zip(value(after)).map(|(before, after)| [rounded(before), rounded(after)])
    };
    OtherJson {
        span: SpanJson::from(other.edit.span),
        wording: other.cut.wording.clone(),
        letters: other.price.letters(),
        words: other.price.words(),
        lines: other.price.lines(),
        place: other.place.clone(),
        level: pair(|figures| figures.grade),
        measure: pair(|figures| figures.measure.map(|(_, value)| value)),
    }
}
