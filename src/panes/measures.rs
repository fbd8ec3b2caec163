//! The four measures: length, level, terms and fit, each with its limit or usual range, and the change since the draft
//! was opened.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::gauge::{Gauge, GaugeScale, Held};
use super::put::put;
use crate::brief::limits::{Measure, Range};
use crate::desk::assessed::Assessed;
use crate::desk::mode::DetailsPage;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::desk::theme::Signs;
use crate::editor::graphemes::cells;
use crate::print::words::{amount, joined};
use crate::report::Report;
use crate::report::verdict::value_of;
use crate::terms::coverage::CoveredTerm;
use crate::units::nouns::{agrees, counted};
use crate::units::trimmed;

/// The measures that may limit the length, each with the noun that it counts, and words after the noun. The first that
/// is outside its limit is shown, or else the first of all.
const LENGTHS: [(Measure, &str, &str); 6] = [
    (Measure::Words, "word", ""),
    (Measure::Characters, "character", ""),
    (Measure::Letters, "letter", ""),
    (Measure::Sentences, "sentence", ""),
    (Measure::Paragraphs, "paragraph", ""),
    (Measure::LongestSentence, "word", " in a sentence"),
];

/// Draws the four measures, each in as many lines as there is room for.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    let gauges = gauges(&sheet.now, &sheet.opened, &state.theme.signs);
    for (gauge, place) in gauges.iter().zip(places(&gauges, area)) {
        match (area.height, place.height) {
            (_, 0) => {}
            (1..=3, _) => {
                // The value alone, with a sign if it is outside.
                let style = if gauge.outside.is_some() { state.theme.accent } else { Style::new() };
                put(buffer, place.x, place.y, &gauge.in_short(), style, area);
            }
            (_, 1) => gauge.line(&state.theme, place, buffer),
            _ => gauge.lines(&state.theme, place, buffer),
        }
    }
}

/// Which of the four measures stands at a place of the screen.
pub(super) fn at(state: &State, sheet: &DraftSheet, area: Rect, at: Position) -> Option<DetailsPage> {
    let gauges = gauges(&sheet.now, &sheet.opened, &state.theme.signs);
    let number = places(&gauges, area).iter().position(|place| place.contains(at))?;
    DetailsPage::ALL.get(number).copied()
}

/// The rows of an area in which a measure stands: where all four are told in short they may need fewer than there are.
pub(super) fn rows_taken(state: &State, sheet: &DraftSheet, area: Rect) -> Rect {
    let gauges = gauges(&sheet.now, &sheet.opened, &state.theme.signs);
    let bottom = places(&gauges, area).iter().map(|place| place.bottom()).max().unwrap_or(area.y);
    Rect { height: bottom.saturating_sub(area.y).min(area.height), ..area }
}

/// The area of each measure; a measure without room has an empty area.
fn places(gauges: &[Gauge; 4], area: Rect) -> [Rect; 4] {
    let rows = |height: u16| {
        [0, 1, 2, 3].map(|number| Rect { y: area.y + number * height, height, ..area }.intersection(area))
    };
    match area.height {
        0 => [Rect::default(); 4],
        1..=3 => {
            let (mut x, mut y) = (area.x, area.y);
            gauges.each_ref().map(|gauge| {
                let width = cells(&gauge.in_short()) as u16;
                if x > area.x && x.saturating_add(width) > area.right() {
                    (x, y) = (area.x, y + 1);
                }
                let place = Rect { x, y, width, height: 1 }.intersection(area);
                x = x.saturating_add(width + 3);
                place
            })
        }
        4..=7 => rows(1),
        _ => rows(2),
    }
}

/// The four measures, in their order.
pub(super) fn gauges(now: &Assessed, opened: &Assessed, signs: &Signs) -> [Gauge; 4] {
    let (now, opened) = (&now.report, &opened.report);
    [length(now, opened, signs), level(now, opened, signs), terms(now, opened, signs), fit(now, opened, signs)]
}

fn length(now: &Report, opened: &Report, signs: &Signs) -> Gauge {
    let outside =
        |(measure, ..): &(Measure, _, _)| now.verdict.of_measure(*measure).is_some_and(|check| !check.is_within());
    let (measure, noun, behind) = LENGTHS.into_iter().find(outside).unwrap_or(LENGTHS[0]);
    let value = |report: &Report| value_of(measure, &report.length, &report.level).unwrap_or_default();
    let held = held(now, measure);
    let (at, before) = (value(now), value(opened));
    Gauge {
        name: "length",
        value: format!("{}{behind}", counted(at as usize, noun)),
        limit: limit(held, Some(at), signs),
        outside: outside_by(at, held, 0),
        change: change(at - before, 0, signs),
        scale: GaugeScale::Line { at, held, band: None },
    }
}

fn level(now: &Report, opened: &Report, signs: &Signs) -> Gauge {
    let held = held(now, Measure::Level);
    let Some(headline) = &now.level.headline else {
        let value = match now.length.words {
            0 => "no words yet",
            words if words == now.level.verse_words => "not told of verse",
            _ if now.level.is_too_short() => "too few words",
            _ => "no measure",
        };
        return Gauge {
            name: "level",
            value: value.to_owned(),
            limit: limit(held, None, signs),
            outside: None,
            change: String::new(),
            scale: GaugeScale::Nothing,
        };
    };
    let at = headline.grade();
    let (low, high) = (f64::from(headline.low), f64::from(headline.high));
    let before = opened.level.grade().unwrap_or(at);
    let dash = signs.dash;
    let band = format!(" ({}{dash}{})", headline.low, headline.high);
    let band = if headline.low == headline.high { "" } else { band.as_str() };
    let of_prose = if now.level.verse_words > 0 { ", prose" } else { "" };
    Gauge {
        name: "level",
        value: format!("grade {}{band}{of_prose}", trimmed(at, 1)),
        limit: limit(held, Some(at), signs),
        outside: outside_by(at, held, 1),
        change: change(at - before, 1, signs),
        scale: GaugeScale::Line { at, held, band: Some((low, high)) },
    }
}

fn terms(now: &Report, opened: &Report, signs: &Signs) -> Gauge {
    let coverage = &now.coverage;
    let terms = |wanted: fn(&CoveredTerm) -> bool| {
        joined(coverage.items.iter().filter(|item| wanted(item)).map(|item| item.term.term.clone()).collect())
    };
    let avoided = coverage.avoid.iter().filter(|avoided| !avoided.spans.is_empty());
    let avoided = joined(avoided.map(|avoided| avoided.wording.clone()).collect());
    let said = |words: String, said: fn(String) -> String| (!words.is_empty()).then(|| said(words));
    let outside = [
        said(terms(CoveredTerm::is_missed), |words| format!("needs {words}")),
        said(terms(CoveredTerm::is_overdone), |words| format!("{words} too often")),
        said(avoided, |words| format!("avoid {words}")),
    ];
    let outside: Vec<String> = outside.into_iter().flatten().collect();
    Gauge {
        name: "terms",
        value: format!("{} of {}", coverage.covered(), coverage.wanted()),
        limit: String::new(),
        outside: (!outside.is_empty()).then(|| outside.join("; ")),
        change: change(coverage.covered() as f64 - opened.coverage.covered() as f64, 0, signs),
        scale: GaugeScale::Terms(coverage.items.iter().map(|item| item.is_present()).collect()),
    }
}

fn fit(now: &Report, opened: &Report, signs: &Signs) -> Gauge {
    let cast = &now.fit.castoff;
    let balance = |report: &Report| report.fit.castoff.lines_spare as f64 - report.fit.castoff.lines_over as f64;
    let value = match cast.lines_over {
        0 => format!("{} left", counted(cast.lines_spare, "line")),
        over => format!("{} over", counted(over, "line")),
    };
    let outside = if cast.lines_over > 0 {
        Some(amount(now.fit.words_over, now.fit.letters_over))
    } else if !now.fit.copy_fits() {
        Some("a word is too wide".to_owned())
    } else if !now.fit.fits() {
        Some("title too large for its spine".to_owned())
    } else {
        let letter = now.fit.missing.first().map(char::to_string);
        letter.map(|letter| format!("no letter for {}", crate::print::visible::visible(&letter)))
    };
    Gauge {
        name: "fit",
        value,
        limit: format!("{} {}", counted(cast.lines_available, "line"), agrees(cast.lines_available, "fits", "fit")),
        outside,
        change: change(balance(now) - balance(opened), 0, signs),
        scale: GaugeScale::Room { used: cast.lines, available: cast.lines_available },
    }
}

/// The limit of a measure, or its usual range.
fn held(report: &Report, measure: Measure) -> Held {
    let usual = || report.verdict.usual_of(measure).map_or(Held::Nothing, |beside| Held::Usual(beside.usual.range));
    report.verdict.of_measure(measure).map_or_else(usual, |check| Held::Limit(check.range))
}

/// `40–100`, `at most 4`; for a usual range `usual 40–100`, or `above usual 40–100` where the value is not in it.
fn limit(held: Held, at: Option<f64>, signs: &Signs) -> String {
    match held {
        Held::Limit(range) => ends(range, signs),
        Held::Usual(range) => {
            let beyond = at.and_then(|at| range.beyond(at)).map_or(String::new(), |beyond| format!("{beyond} "));
            format!("{beyond}usual {}", ends(range, signs))
        }
        Held::Nothing => String::new(),
    }
}

fn ends(range: Range, signs: &Signs) -> String {
    let shown = |number| trimmed(number, 1);
    match (range.from, range.to) {
        (Some(from), Some(to)) => format!("{}{}{}", shown(from), signs.dash, shown(to)),
        (Some(from), None) => format!("at least {}", shown(from)),
        (None, Some(to)) => format!("at most {}", shown(to)),
        (None, None) => String::new(),
    }
}

/// `12 too many`, `3 too few`; none inside the limit, or without one.
fn outside_by(at: f64, held: Held, decimals: usize) -> Option<String> {
    let Held::Limit(range) = held else { return None };
    let (more, less) = if decimals == 0 { ("too many", "too few") } else { ("too high", "too low") };
    // What is outside by less than is shown is told in words.
    let shown = |by: f64| match trimmed(by, decimals.max(1)) {
        by if by == "0" => "just".to_owned(),
        by => by,
    };
    match (range.from, range.to) {
        (_, Some(to)) if at > to => Some(format!("{} {more}", shown(at - to))),
        (Some(from), _) if at < from => Some(format!("{} {less}", shown(from - at))),
        _ => None,
    }
}

/// `+3`, `−0.2`; empty where the change would be shown as zero.
fn change(by: f64, decimals: usize, signs: &Signs) -> String {
    let shown = trimmed(by.abs(), decimals);
    match shown.as_str() {
        "0" => String::new(),
        _ if by < 0.0 => format!("{}{shown}", signs.minus),
        _ => format!("+{shown}"),
    }
}
