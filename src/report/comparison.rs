//! Drafts side by side: every measure of every draft, which value is the best of its row, and which draft another
//! beats.
//!
//! A value is called better only where that means something: nearer to a limit of the brief, more terms, fewer lines
//! over, a larger size, fewer queries. Values within their limit are equally good. No draft gets a mark of its own, and
//! no measure weighs more than another.

use std::cmp::Ordering;

use super::Report;
use super::fit::MissingStyle;
use super::legibility::Legibility;
use super::tighten::wording;
use super::verdict::{Check, Subject, value_of};
use crate::art::lines::Grade;
use crate::art::on_art::{grounds_of, judged_lines};
use crate::brief::Brief;
use crate::brief::limits::{Measure, Range};
use crate::brief::stet::Stet;
use crate::brief::typography::StandIn;
use crate::draft::Draft;
use crate::level::headline::Headline;
use crate::level::{self, Formula};
use crate::queries::{self, QueryMemory, Reading};
use crate::setting::lines::Setting;
use crate::setting::{Faces, Rooms, SettingMemory, ShapedCopy};
use crate::text::Text;
use crate::units::{Length, names};

/// One draft with what is known of it.
#[derive(Debug, Clone, Copy)]
pub struct Entry<'a> {
    /// The draft's name.
    pub name: &'a str,
    /// What was measured.
    pub report: &'a Report,
    /// How many queries the author does not let stand.
    pub queries: usize,
}

/// Drafts side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The measures, one value for each draft in each.
    pub rows: Vec<ComparisonRow>,
    /// The measure by which all levels are told; none where no draft has a level.
    pub level_measure: Option<Formula>,
    /// Whether the level of some draft alone is told by another measure.
    pub has_other_measures: bool,
    /// The drafts that another beats, each once.
    pub beaten: Vec<Beaten>,
    /// Styles that any draft asks for and its font lacks, each once.
    pub styles_missing: Vec<MissingStyle>,
    /// Fonts of any draft that are not at hand, for which the built-in serif stands in, once each: fits are an
    /// estimate.
    pub estimated: Vec<StandIn>,
}

/// One measure of every draft.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparisonRow {
    /// What is measured.
    pub subject: RowSubject,
    /// The limit, where there is one and it is the same for every draft.
    pub limit: Option<Range>,
    /// What is usual, where there is no limit and the same is usual for every draft. No value is better or worse for
    /// it.
    pub usual: Option<Range>,
    /// One for each draft.
    pub cells: Vec<Cell>,
}

/// What a row is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RowSubject {
    /// A measure of the blurb.
    Measure(Measure),
    /// Wanted terms that are carried.
    Terms,
    /// Terms that must be there and are missing.
    MustMissing,
    /// How often one term is there.
    Term(String),
    /// Lines left or over at the brief's size.
    Fit,
    /// Lines left or over in one place. No value is better or worse for it, since the row of the whole has it already.
    Place(String),
    /// The largest size that fits.
    LargestSize,
    /// Lines that are lost on their art, without the title on the spine.
    LinesLost,
    /// Titles that are lost on the art of their spine.
    TitleLost,
    /// Lines that are hard to read on their art.
    LinesHard,
    /// Limits that are not kept.
    LimitsOutside,
    /// Queries that are left.
    Queries,
}

/// One draft's value in a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// The value.
    pub value: RowValue,
    /// Whether the value is within its limit; none without a limit.
    pub within: Option<bool>,
    /// Whether the value is the best of its row, and some other is worse.
    pub best: bool,
    /// What the values of a row are compared by, the less the better; none where no value is better than another.
    cost: Option<f64>,
}

/// The values that a row may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RowValue {
    /// A number of things; none where there is nothing to measure.
    Number(Option<f64>),
    /// A grade and its band; none without words or in a language without a measure.
    Level(Option<(f64, u32, u32)>),
    /// So many out of so many.
    OutOf(usize, usize),
    /// How the copy stands in the panel.
    Fit {
        /// Whether everything fits.
        fits: bool,
        /// Lines that do not.
        over: usize,
        /// Lines that are left.
        spare: usize,
    },
    /// A size; none where none fits.
    Size(Option<Length>),
}

/// A draft that another beats: nowhere better than the other, and somewhere worse.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beaten {
    /// The beaten draft's number among the drafts, from 0.
    pub draft: usize,
    /// The number of the other.
    pub by: usize,
    /// The rows in which the beaten draft is worse.
    pub worse: Vec<usize>,
}

/// The orders in which drafts can stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// The fewest words first.
    Words,
    /// The lowest level first.
    Level,
    /// The most terms first.
    Terms,
    /// The most room left first, the most lines over last.
    Fit,
    /// By the name.
    Name,
}

/// The measures of the blurb that are always shown; others are shown where they have a limit.
const ALWAYS: [Measure; 5] =
    [Measure::Words, Measure::Letters, Measure::Sentences, Measure::LongestSentence, Measure::Level];

/// The queries of a draft that the author does not let stand; `name` is that of its file, without its folder.
pub fn queries_left(draft: &Draft, brief: &Brief, faces: &Faces, (name, stet): (&str, &Stet)) -> usize {
    let text = Text::read(draft, &brief.book);
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
    let rooms = Rooms::of(brief);
    let setting = Setting::new(&copy, copy.forms(), &rooms);
    let art = judged_lines(setting.lines.iter(), (&copy, brief), &grounds_of(brief, &rooms));
    let reading = Reading { draft, text: &text, level: &level::measure(&text), setting: &setting, art: &art, brief };
    let left = |query: &&queries::Query| !stet.holds(name, query.rule, wording(query, draft));
    queries::find(&reading, &mut QueryMemory::default()).iter().filter(left).count()
}

/// The positions of drafts in an order; drafts that are equal in it keep the order they have.
pub fn ordered(entries: &[Entry<'_>], order: Order) -> Vec<usize> {
    let measure = measure_of(entries);
    let grade = |entry: &Entry<'_>| level_by(measure, entry).map_or(f64::INFINITY, |headline| headline.grade());
    let room = |entry: &Entry<'_>| {
        let fit = &entry.report.fit;
        (!fit.copy_fits(), fit.castoff.lines_over, std::cmp::Reverse((fit.castoff.lines_spare, fit.castoff.spare)))
    };
    let mut positions: Vec<usize> = (0..entries.len()).collect();
    positions.sort_by(|a, b| {
        let (a, b) = (&entries[*a], &entries[*b]);
        match order {
            Order::Words => a.report.length.words.cmp(&b.report.length.words),
            Order::Level => grade(a).total_cmp(&grade(b)),
            Order::Terms => b.report.coverage.covered().cmp(&a.report.coverage.covered()),
            Order::Fit => room(a).cmp(&room(b)),
            Order::Name => names::in_order(a.name, b.name),
        }
    });
    positions
}

impl Comparison {
    /// Compares drafts with one another.
    pub fn of(entries: &[Entry<'_>]) -> Self {
        // Rows stand in the order of a report: measures, terms, fit, art, limits, queries.
        let has_limit =
            |measure: &Measure| entries.iter().any(|entry| entry.report.verdict.of_measure(*measure).is_some());
        let measures = Measure::ALL.into_iter().filter(|measure| ALWAYS.contains(measure) || has_limit(measure));
        let level_measure = measure_of(entries);
        let of_measure = |measure| match measure {
            Measure::Level => level_row(level_measure, entries),
            _ => measure_row(measure, entries),
        };
        let mut rows: Vec<ComparisonRow> = measures.map(of_measure).collect();
        let carries_terms = entries.iter().any(|entry| entry.report.coverage.wanted() > 0);
        if carries_terms {
            rows.push(row(RowSubject::Terms, entries, |report| {
                let (covered, wanted) = (report.coverage.covered(), report.coverage.wanted());
                (RowValue::OutOf(covered, wanted), Some((wanted - covered) as f64))
            }));
            rows.push(row(RowSubject::MustMissing, entries, |report| {
                counted(report.coverage.items.iter().filter(|item| item.is_missed()).count())
            }));
            rows.extend(term_rows(entries));
        }
        rows.push(row(RowSubject::Fit, entries, |report| {
            let (fits, castoff) = (report.fit.copy_fits(), &report.fit.castoff);
            let value = RowValue::Fit { fits, over: castoff.lines_over, spare: castoff.lines_spare };
            // What is too wide does not fit although no line is over.
            (value, Some(if fits { 0.0 } else { castoff.lines_over as f64 + 1.0 }))
        }));
        rows.extend(place_rows(entries));
        rows.push(row(RowSubject::LargestSize, entries, |report| {
            let size = report.fit.largest_size;
            (RowValue::Size(size), Some(size.map_or(0.0, |size| -size.to_pt())))
        }));
        if entries.iter().any(|entry| entry.report.legibility.is_some()) {
            let on_art = |subject, count: &dyn Fn(&Legibility) -> usize| {
                row(subject, entries, |report| match &report.legibility {
                    Some(art) => counted(count(art)),
                    None => (RowValue::Number(None), None),
                })
            };
            rows.push(on_art(RowSubject::LinesLost, &|art| art.lines_of(Grade::Lost)));
            if entries.iter().filter_map(|entry| entry.report.legibility.as_ref()).any(Legibility::is_title_lost) {
                rows.push(on_art(RowSubject::TitleLost, &|art| usize::from(art.is_title_lost())));
            }
            rows.push(on_art(RowSubject::LinesHard, &|art| art.count(Grade::Hard)));
        }
        rows.push(row(RowSubject::LimitsOutside, entries, |report| counted(report.verdict.outside().count())));
        let queries = entries.iter().map(|entry| cell(counted(entry.queries))).collect();
        rows.push(ComparisonRow { subject: RowSubject::Queries, limit: None, usual: None, cells: queries });
        // The best of a row, and which draft another beats, is known only over all drafts and all rows.
        rows.iter_mut().for_each(mark_best);
        let beaten = (0..entries.len()).filter_map(|draft| Beaten::find(draft, entries.len(), &rows)).collect();
        // What is said of the fonts is said once, however many drafts it is true of.
        let mut estimated: Vec<StandIn> = Vec::new();
        for stand_in in entries.iter().flat_map(|entry| &entry.report.fit.estimated) {
            if !estimated.contains(stand_in) {
                estimated.push(stand_in.clone());
            }
        }
        let mut styles_missing: Vec<MissingStyle> = Vec::new();
        for style in entries.iter().flat_map(|entry| &entry.report.fit.styles_missing) {
            if !styles_missing.contains(style) {
                styles_missing.push(style.clone());
            }
        }
        let others = entries.iter().filter_map(|entry| entry.report.level.headline.as_ref());
        let has_other_measures = others.map(|own| Some(own.measure)).any(|own| own != level_measure);
        Self { rows, level_measure, has_other_measures, beaten, styles_missing, estimated }
    }
}

fn row(
    subject: RowSubject,
    entries: &[Entry<'_>],
    value: impl Fn(&Report) -> (RowValue, Option<f64>),
) -> ComparisonRow {
    ComparisonRow {
        subject,
        limit: None,
        usual: None,
        cells: entries.iter().map(|entry| cell(value(entry.report))).collect(),
    }
}

fn cell((value, cost): (RowValue, Option<f64>)) -> Cell {
    let within = matches!(value, RowValue::Fit { .. }).then(|| cost == Some(0.0));
    Cell { value, within, best: false, cost }
}

/// A count, of which less is better.
fn counted(count: usize) -> (RowValue, Option<f64>) {
    (RowValue::Number(Some(count as f64)), Some(count as f64))
}

fn measure_row(measure: Measure, entries: &[Entry<'_>]) -> ComparisonRow {
    let cell = |entry: &Entry<'_>| {
        let Report { length, level, verdict, .. } = entry.report;
        let number = value_of(measure, length, level);
        limited(RowValue::Number(number), verdict.of_measure(measure))
    };
    measured_row(measure, entries, cell)
}

/// The levels by one measure. The limit is kept as the verdict of each draft has it, which holds the draft's own
/// measure against it; of those that do not keep it, that which is nearest by the one measure is the best.
fn level_row(measure: Option<Formula>, entries: &[Entry<'_>]) -> ComparisonRow {
    let cell = |entry: &Entry<'_>| {
        let headline = level_by(measure, entry);
        let value = RowValue::Level(headline.as_ref().map(|headline| (headline.grade(), headline.low, headline.high)));
        let check = entry.report.verdict.of_measure(Measure::Level);
        let cell = limited(value, check);
        let outside = check.filter(|check| !check.is_within()).zip(headline);
        Cell { cost: outside.map(|(check, level)| distance(level.grade(), check.range)).or(cell.cost), ..cell }
    };
    measured_row(Measure::Level, entries, cell)
}

/// The measure by which the levels of all drafts are compared.
fn measure_of(entries: &[Entry<'_>]) -> Option<Formula> {
    Headline::in_common(entries.iter().filter_map(|entry| entry.report.level.headline.as_ref()))
}

fn level_by(measure: Option<Formula>, entry: &Entry<'_>) -> Option<Headline> {
    entry.report.level.headline_by(measure?)
}

fn measured_row(measure: Measure, entries: &[Entry<'_>], cell: impl Fn(&Entry<'_>) -> Cell) -> ComparisonRow {
    ComparisonRow {
        subject: RowSubject::Measure(measure),
        limit: same_limit(entries, |check| check.subject == Subject::Measure(measure)),
        usual: same(entries, |entry| entry.report.verdict.usual_of(measure).map(|beside| beside.usual.range)),
        cells: entries.iter().map(cell).collect(),
    }
}

/// One row for each term, where all drafts are measured by the same terms.
fn term_rows(entries: &[Entry<'_>]) -> Vec<ComparisonRow> {
    let terms = |entry: &Entry<'_>| -> Vec<String> {
        entry.report.coverage.items.iter().map(|item| item.term.term.clone()).collect()
    };
    let Some(shared) = entries.first().map(terms).filter(|first| entries.iter().all(|entry| terms(entry) == *first))
    else {
        return Vec::new();
    };
    let row = |(at, term): (usize, String)| {
        let is_about = |check: &Check| check.subject == Subject::Term(term.clone());
        let cell = |entry: &Entry<'_>| {
            let count = entry.report.coverage.items[at].count();
            limited(
                RowValue::Number(Some(count as f64)),
                entry.report.verdict.checks.iter().find(|check| is_about(check)),
            )
        };
        let cells = entries.iter().map(cell).collect();
        ComparisonRow { limit: same_limit(entries, is_about), usual: None, cells, subject: RowSubject::Term(term) }
    };
    shared.into_iter().enumerate().map(row).collect()
}

/// One row for each place that has copy in some draft, where all drafts have the same places and others than the live
/// area.
fn place_rows(entries: &[Entry<'_>]) -> Vec<ComparisonRow> {
    let names =
        |entry: &Entry<'_>| -> Vec<String> { entry.report.fit.places.iter().map(|place| place.name.clone()).collect() };
    let Some(shared) = entries.first().map(names).filter(|first| entries.iter().all(|entry| names(entry) == *first))
    else {
        return Vec::new();
    };
    let row = |(at, name): (usize, String)| {
        let cell = |entry: &Entry<'_>| {
            let place = &entry.report.fit.places[at];
            let (fits, castoff) = (place.fits(), &place.castoff);
            let value = RowValue::Fit { fits, over: castoff.lines_over, spare: castoff.lines_spare };
            Cell { value, within: Some(fits), best: false, cost: None }
        };
        let has_copy = entries.iter().any(|entry| !entry.report.fit.places[at].blocks.is_empty());
        let cells = entries.iter().map(cell).collect();
        has_copy.then_some(ComparisonRow { subject: RowSubject::Place(name), limit: None, usual: None, cells })
    };
    let has_places = shared.len() > 1;
    shared.into_iter().enumerate().filter(|_| has_places).filter_map(row).collect()
}

/// A value that is as good as it is near to its limit.
fn limited(value: RowValue, check: Option<&Check>) -> Cell {
    let within = check.map(Check::is_within);
    let cost = check.map(|check| check.value.map_or(f64::INFINITY, |value| distance(value, check.range)));
    Cell { value, within, best: false, cost }
}

/// How far a value is outside a range; 0 within.
fn distance(value: f64, range: Range) -> f64 {
    let below = range.from.map_or(0.0, |from| from - value);
    let above = range.to.map_or(0.0, |to| value - to);
    below.max(above).max(0.0)
}

fn same_limit(entries: &[Entry<'_>], is_about: impl Fn(&Check) -> bool) -> Option<Range> {
    let check = |entry: &Entry<'_>| entry.report.verdict.checks.iter().find(|check| is_about(check)).map(|it| it.range);
    same(entries, check)
}

fn same(entries: &[Entry<'_>], range: impl Fn(&Entry<'_>) -> Option<Range>) -> Option<Range> {
    let first = entries.first().and_then(&range)?;
    entries.iter().all(|entry| range(entry) == Some(first)).then_some(first)
}

fn mark_best(row: &mut ComparisonRow) {
    let costs = || row.cells.iter().filter_map(|cell| cell.cost);
    let (Some(least), Some(most)) = (costs().min_by(f64::total_cmp), costs().max_by(f64::total_cmp)) else { return };
    // Where all values are as good, none is the best.
    if least < most {
        row.cells.iter_mut().for_each(|cell| cell.best = cell.cost == Some(least));
    }
}

impl Beaten {
    /// The first other draft that beats this one.
    fn find(draft: usize, count: usize, rows: &[ComparisonRow]) -> Option<Self> {
        (0..count).filter(|by| *by != draft).find_map(|by| {
            let against = |row: &ComparisonRow| Some(row.cells[draft].cost?.total_cmp(&row.cells[by].cost?));
            let orders: Vec<Option<Ordering>> = rows.iter().map(against).collect();
            let worse: Vec<usize> = (0..rows.len()).filter(|row| orders[*row] == Some(Ordering::Greater)).collect();
            (!worse.is_empty() && !orders.contains(&Some(Ordering::Less))).then_some(Self { draft, by, worse })
        })
    }
}
