//! Drafts side by side as data: JSON, and CSV for a spreadsheet.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::compare::{ComparisonPage, sort_of};
use super::csv;
use super::fit_data::PlaceJson;
use super::json::{Style, rounded, written};
use super::report_data::UnreadJson;
use super::report_data::{EstimateJson, LimitJson, MissingStyleJson};
use super::visible::visible;
use crate::art::lines::Grade;
use crate::level::Formula;
use crate::report::Report;
use crate::report::art_effects::{GradedWord, LineOnArt, lines_with};
use crate::report::comparison::{Cell, Comparison, ComparisonRow, Entry, RowSubject, RowValue};
use crate::report::effects::{Effects, Figures, PlaceFigures};

/// The name of the present form.
pub(super) const SCHEMA: &str = "blurbwright-compare-2";

/// Drafts side by side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct ComparisonJson {
    /// The name of this form: `blurbwright-compare-2`.
    schema: &'static str,
    /// The measure of reading level by which every grade here is told, so that they can be compared; null where no
    /// draft has a level. `outside` has what each draft's own measure tells.
    level_measure: Option<&'static str>,
    /// The drafts, in the order that was asked for.
    drafts: Vec<ComparedJson>,
    /// The measures, one value for each draft in each.
    rows: Vec<RowJson>,
    /// The drafts that another beats: nowhere better than it, and somewhere worse.
    beaten: Vec<BeatenJson>,
    /// The drafts that could not be read, and are not among `drafts`.
    unread: Vec<UnreadJson>,
    /// For two drafts what makes them differ; else null.
    differences: Option<DifferencesJson>,
}

/// One draft.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ComparedJson {
    /// The draft's file as it was named.
    path: String,
    /// `within` where all that is printed fits and every limit of the brief is kept, `outside` where not.
    verdict: &'static str,
    /// The limits that are not kept.
    outside: Vec<LimitJson>,
    /// Words of the blurb.
    words: usize,
    /// Letters of the blurb.
    letters: usize,
    /// Sentences of the blurb.
    sentences: usize,
    /// Words of the longest sentence; 0 where there is none.
    longest_sentence_words: usize,
    /// The grade by `level_measure`; null without words, or in a language without a measure.
    grade: Option<f64>,
    /// The lowest grade of its band.
    grade_low: Option<u32>,
    /// The highest grade of its band.
    grade_high: Option<u32>,
    /// Wanted terms that are carried.
    terms_covered: usize,
    /// Wanted terms.
    terms_wanted: usize,
    /// Terms that must be there and are not.
    must_missing: Vec<String>,
    /// Whether all that is printed fits at the brief's size.
    fits: bool,
    /// Lines that do not fit.
    lines_over: usize,
    /// Lines of the blurb's type that are left.
    lines_spare: usize,
    /// The largest size of the blurb that fits; null where none does.
    largest_size_pt: Option<f64>,
    /// The places that keep a larger size from fitting.
    held_by: Vec<String>,
    /// Every place of copy; the live area alone where the brief has no places.
    places: Vec<PlaceJson>,
    /// Styles that the copy asks for and its font has not.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts that are not at hand, for which the built-in serif stands in; the fit is an estimate where there is one.
    fonts_stood_in: Vec<EstimateJson>,
    /// Queries that are left.
    queries: usize,
}

/// One measure of every draft.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct RowJson {
    /// A measure's key, `terms`, `must_missing`, `term`, `fit`, `place`, `largest_size`, `lines_lost`,
    /// `title_lost`, `lines_hard`, `limits_outside` or `queries`.
    row: &'static str,
    /// The term or the place, in a row about one.
    wording: Option<String>,
    /// The least that is within, or usual.
    from: Option<f64>,
    /// The most that is within, or usual.
    to: Option<f64>,
    /// `brief` where the author has set the range, `usual` where it is only told; null where there is none, or it is
    /// not the same for every draft.
    origin: Option<&'static str>,
    /// The values of the drafts, in their order.
    values: Vec<ValueJson>,
}

/// One draft's value in a row.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ValueJson {
    /// The number: lines over are below zero in `fit` and `place`; null where there is none.
    value: Option<f64>,
    /// Whether it is within its limit; null where it has none.
    within: Option<bool>,
    /// Whether the value is the best of its row, and some other is worse.
    best: bool,
}

/// A draft that another beats.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct BeatenJson {
    /// The draft's file.
    path: String,
    /// The other's file.
    by: String,
    /// The rows in which it is worse, by their number from 0.
    worse_rows: Vec<usize>,
}

/// What makes two drafts differ.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct DifferencesJson {
    /// The figures of the first draft.
    first: FiguresJson,
    /// The figures of the second draft.
    last: FiguresJson,
    /// The changes from the first draft to the second, in the order of the copy.
    changes: Vec<ChangeJson>,
    /// The changes, from 1, by which on the way it came to fit or spilled.
    turning_changes: Vec<usize>,
    /// The changes, from 1, each of which alone makes the first draft fit or spill.
    changes_enough_alone: Vec<usize>,
}

/// Figures of all that is printed, the grade of the blurb, the terms of headline and blurb.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct FiguresJson {
    /// Lines set.
    lines: usize,
    /// Lines that are over.
    lines_over: usize,
    /// Words.
    words: usize,
    /// Letters.
    letters: usize,
    /// The grade by `level_measure`; null without words, in a language without a measure, and where the measure tells
    /// no grade so high.
    grade: Option<f64>,
    /// Wanted terms that are carried.
    terms: usize,
    /// Whether everything fits.
    fits: bool,
    /// Every place, in the order in which copy is set; the live area is the last, and alone where the brief has no
    /// places.
    places: Vec<PlaceFiguresJson>,
    /// How many lines on art have each grade; left out where no copy stands on art.
    #[serde(skip_serializing_if = "Option::is_none")]
    on_art: Option<GradesJson>,
}

/// How many lines on art have each grade.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct GradesJson {
    /// Lines that are clear.
    clear: usize,
    /// Lines that are hard to read.
    hard: usize,
    /// Lines that are lost.
    lost: usize,
}

/// What became of a line on art by a change.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LineOnArtJson {
    /// The line's number among all set lines, from 0: with the change, or before it where its words stand on no art any
    /// more.
    line: usize,
    /// `clear`, `hard` or `lost` before the change; null where most of its words are new.
    before: Option<&'static str>,
    /// `clear`, `hard` or `lost` with the change; null where most of those that were not clear are gone.
    after: Option<&'static str>,
    /// The words of the line that make the difference.
    words: String,
}

/// What is followed of one place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PlaceFiguresJson {
    /// What the brief calls the place.
    name: String,
    /// Lines set in it.
    lines: usize,
    /// Lines that are over.
    lines_over: usize,
    /// Whether its copy fits.
    fits: bool,
}

/// One change.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ChangeJson {
    /// `inserted`, `deleted`, `replaced` or `moved`.
    kind: &'static str,
    /// What part of the copy it is made in.
    block: &'static str,
    /// What is gone, emphasis in stars.
    gone: String,
    /// What is new, emphasis in stars.
    new: String,
    /// The figures with this change and all before it made; null where there are too many to tell.
    after: Option<FiguresJson>,
    /// The figures with this change alone; null where there are too many to tell.
    alone: Option<FiguresJson>,
    /// The lines on art that became clear, hard or lost by this change, all before it made; left out where no copy
    /// stands on art.
    #[serde(skip_serializing_if = "Option::is_none")]
    on_art: Option<Vec<LineOnArtJson>>,
}

/// The comparison as JSON, without a line ending after it.
pub fn json(page: &ComparisonPage<'_>, entries: &[Entry<'_>], unread: &[UnreadJson]) -> String {
    let name = |draft: usize| page.names.get(draft).cloned().unwrap_or_default();
    let comparison = page.comparison;
    let beaten = comparison.beaten.iter().map(|beaten| BeatenJson {
        path: name(beaten.draft),
        by: name(beaten.by),
        worse_rows: beaten.worse.clone(),
    });
    let view = ComparisonJson {
        schema: SCHEMA,
        level_measure: comparison.level_measure.map(|measure| measure.facts().name),
        drafts: entries.iter().map(|entry| ComparedJson::of(entry, comparison.level_measure)).collect(),
        rows: comparison.rows.iter().map(RowJson::of).collect(),
        beaten: beaten.collect(),
        unread: unread.to_vec(),
        differences: page.between.map(|between| DifferencesJson::of(&between)),
    };
    written(&view, Style::Pretty)
}

impl ComparedJson {
    fn of(entry: &Entry<'_>, measure: Option<Formula>) -> Self {
        let Report { length, level, coverage, fit, verdict, .. } = entry.report;
        let band = measure.and_then(|measure| level.headline_by(measure));
        let band = band.as_ref();
        let must_missing = coverage.items.iter().filter(|item| item.is_missed());
        Self {
            path: entry.name.to_owned(),
            verdict: if verdict.is_within() { "within" } else { "outside" },
            outside: verdict.outside().map(LimitJson::of).collect(),
            words: length.words,
            letters: length.letters,
            sentences: length.sentences,
            longest_sentence_words: length.longest_sentence.map_or(0, |sentence| sentence.words),
            grade: band.map(|band| rounded(band.grade())),
            grade_low: band.map(|band| band.low),
            grade_high: band.map(|band| band.high),
            terms_covered: coverage.covered(),
            terms_wanted: coverage.wanted(),
            must_missing: must_missing.map(|item| item.term.term.clone()).collect(),
            fits: fit.fits(),
            lines_over: fit.castoff.lines_over,
            lines_spare: fit.castoff.lines_spare,
            largest_size_pt: fit.largest_size.map(|size| rounded(size.to_pt())),
            held_by: fit.held_by.clone(),
            places: fit.told_places().map(PlaceJson::of).collect(),
            styles_missing: fit.styles_missing.iter().map(MissingStyleJson::of).collect(),
            fonts_stood_in: fit.estimated.iter().map(EstimateJson::of).collect(),
            queries: entry.queries,
        }
    }
}

impl RowJson {
    fn of(row: &ComparisonRow) -> Self {
        let (key, wording) = match &row.subject {
            RowSubject::Measure(measure) => (measure.key(), None),
            RowSubject::Terms => ("terms", None),
            RowSubject::MustMissing => ("must_missing", None),
            RowSubject::Term(term) => ("term", Some(term.clone())),
            RowSubject::Fit => ("fit", None),
            RowSubject::Place(place) => ("place", Some(place.clone())),
            RowSubject::LargestSize => ("largest_size", None),
            RowSubject::LinesLost => ("lines_lost", None),
            RowSubject::TitleLost => ("title_lost", None),
            RowSubject::LinesHard => ("lines_hard", None),
            RowSubject::LimitsOutside => ("limits_outside", None),
            RowSubject::Queries => ("queries", None),
        };
        let value =
            |cell: &Cell| ValueJson { value: number(cell.value).map(rounded), within: cell.within, best: cell.best };
        let range = row.limit.or(row.usual);
        Self {
            row: key,
            wording,
            from: range.and_then(|range| range.from),
            to: range.and_then(|range| range.to),
            origin: row.limit.map(|_| "brief").or(row.usual.map(|_| "usual")),
            values: row.cells.iter().map(value).collect(),
        }
    }
}

fn number(value: RowValue) -> Option<f64> {
    match value {
        RowValue::Number(number) => number,
        RowValue::Level(level) => level.map(|(grade, ..)| grade),
        RowValue::OutOf(some, _) => Some(some as f64),
        RowValue::Fit { over: 0, spare, .. } => Some(spare as f64),
        RowValue::Fit { over, .. } => Some(-(over as f64)),
        RowValue::Size(size) => size.map(|size| size.to_pt()),
    }
}

impl DifferencesJson {
    fn of(between: &super::compare::Between<'_>) -> Self {
        let effects = between.effects;
        let figures = |figures: &Figures| FiguresJson::of(figures);
        let changes = between.differences.changes.iter().enumerate().map(|(number, change)| ChangeJson {
            kind: sort_of(change.kind),
            block: change.block.name(),
            gone: change.gone.clone(),
            new: change.new.clone(),
            after: effects.after.get(number).map(figures),
            alone: effects.alone.get(number).map(figures),
            on_art: effects.step(number).and_then(|(before, after)| LineOnArtJson::of_step(before, after)),
        });
        let from_one = |changes: Vec<usize>| changes.into_iter().map(|change| change + 1).collect();
        Self {
            first: figures(&effects.first),
            last: figures(&effects.last),
            changes: changes.collect(),
            turning_changes: from_one(effects.turns()),
            changes_enough_alone: from_one(effects.enough_alone()),
        }
    }
}

impl FiguresJson {
    fn of(figures: &Figures) -> Self {
        let Figures { lines, lines_over, words, letters, grade, terms, fits, .. } = *figures;
        let places = figures.places.iter().map(PlaceFiguresJson::of).collect();
        let on_art = figures.on_art.as_deref().map(GradesJson::of);
        Self { lines, lines_over, words, letters, grade: grade.map(rounded), terms, fits, places, on_art }
    }
}

impl GradesJson {
    fn of(words: &[GradedWord]) -> Self {
        let [clear, hard, lost] = [Grade::Clear, Grade::Hard, Grade::Lost].map(|grade| lines_with(words, grade));
        Self { clear, hard, lost }
    }
}

impl LineOnArtJson {
    fn of_step(before: &Figures, after: &Figures) -> Option<Vec<Self>> {
        after.on_art.as_ref()?;
        Some(Effects::on_art(before, after).into_iter().map(Self::of).collect())
    }

    fn of(changed: LineOnArt) -> Self {
        let LineOnArt { line, before, after, words } = changed;
        Self { line, before: before.map(Grade::name), after: after.map(Grade::name), words }
    }
}

impl PlaceFiguresJson {
    fn of(figures: &PlaceFigures) -> Self {
        let PlaceFigures { name, lines, lines_over, fits } = figures.clone();
        Self { name, lines, lines_over, fits }
    }
}

/// The columns of the CSV.
const COLUMNS: [&str; 19] = [
    "draft",
    "verdict",
    "words",
    "letters",
    "sentences",
    "longest_sentence_words",
    "level_measure",
    "grade",
    "grade_low",
    "grade_high",
    "terms_covered",
    "terms_wanted",
    "must_missing",
    "fits",
    "lines_over",
    "lines_spare",
    "largest_size_pt",
    "limits_outside",
    "queries",
];

/// The comparison as CSV (RFC 4180, with the line endings of the terminal): names of columns, then a line for each
/// draft.
pub fn csv(entries: &[Entry<'_>], comparison: &Comparison) -> String {
    let head = COLUMNS.map(str::to_owned).to_vec();
    let lines = std::iter::once(head).chain(entries.iter().map(|entry| csv_line(entry, comparison.level_measure)));
    lines.map(|line| csv::line(line.into_iter()) + "\n").collect()
}

fn csv_line(entry: &Entry<'_>, measure: Option<Formula>) -> Vec<String> {
    let draft = ComparedJson::of(entry, measure);
    let or_empty = |number: Option<f64>| number.map_or(String::new(), |number| number.to_string());
    let grade = |grade: Option<u32>| grade.map_or(String::new(), |grade| grade.to_string());
    vec![
        visible(&draft.path).into_owned(),
        draft.verdict.to_owned(),
        draft.words.to_string(),
        draft.letters.to_string(),
        draft.sentences.to_string(),
        draft.longest_sentence_words.to_string(),
        measure.filter(|_| draft.grade.is_some()).map_or(String::new(), |measure| measure.facts().name.to_owned()),
        or_empty(draft.grade),
        grade(draft.grade_low),
        grade(draft.grade_high),
        draft.terms_covered.to_string(),
        draft.terms_wanted.to_string(),
        visible(&draft.must_missing.join("; ")).into_owned(),
        if draft.fits { "yes" } else { "no" }.to_owned(),
        draft.lines_over.to_string(),
        draft.lines_spare.to_string(),
        or_empty(draft.largest_size_pt),
        draft.outside.len().to_string(),
        draft.queries.to_string(),
    ]
}
