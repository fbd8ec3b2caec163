//! What can go in a draft as JSON.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::fit_data::LegibilityJson;
use super::json::{SpanJson, Style, rounded, written};
use super::report_data::{EstimateJson, LanguageJson, MissingStyleJson};
use super::sizes_data::{PriceJson, price_json};
use super::tighten::{CutsPage, number};
use crate::draft::{Block, Edit};
use crate::report::cuts::PricedCut;
use crate::report::effects::Figures;
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
