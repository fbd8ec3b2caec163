//! Kept copies as pages of text: the list of them, and how the measures went from one to the next.

use super::sheet::TextPage;
use super::visible::visible;
use super::words::counted;
use crate::report::kept::{KeptFigures, Record};
use crate::units::nouns::some_of;
use crate::units::trimmed;

/// One kept copy, or the present draft.
pub struct KeptRow {
    /// Its file.
    pub path: String,
    /// What is known of it.
    pub record: Record,
}

/// A list of copies, the oldest first.
pub fn list(draft: &str, copies: &[KeptRow], columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.indented(&format!("{}: {} kept", visible(draft), counted(copies.len(), "copy")), 2);
    for copy in copies {
        sheet.line(String::new());
        sheet.indented(&format!("  {}", visible(&copy.path)), 4);
        sheet.indented(&format!("    {}", told(&copy.record)), 4);
    }
    sheet.text()
}

/// When and under which name a copy was kept, and what was measured.
pub fn told(record: &Record) -> String {
    let name = if record.name.is_empty() { String::new() } else { format!("\"{}\", ", visible(&record.name)) };
    let when = if record.kept.is_empty() { String::new() } else { format!("{}: ", visible(&record.kept)) };
    let figures = record.figures.as_ref().map_or("not measured".to_owned(), figures);
    format!("{name}{when}{figures}")
}

/// What was measured, in a row.
pub fn figures(figures: &KeptFigures) -> String {
    let level = figures
        .level
        .map_or(String::new(), |(grade, low, high)| format!("level {} ({low}-{high}), ", trimmed(grade, 1)));
    let size =
        figures.largest_size.map_or("no size fits".to_owned(), |size| format!("largest size {} pt", trimmed(size, 1)));
    format!(
        "{}, {}, {level}{}, {}, {size}",
        counted(figures.words, "word"),
        counted(figures.letters, "letter"),
        some_of(figures.terms_covered, figures.terms_wanted, "term"),
        fit(figures)
    )
}

fn fit(figures: &KeptFigures) -> String {
    match (figures.fits, figures.lines_over) {
        (true, _) => format!("{} left", counted(figures.lines_left, "line")),
        (false, 0) => "too wide".to_owned(),
        (false, over) => format!("{} over", counted(over, "line")),
    }
}

/// The measures of a history.
pub struct Series {
    /// What is measured.
    pub name: &'static str,
    /// One for each copy, the oldest first; none where it was not measured.
    pub values: Vec<Option<f64>>,
}

/// Length, level, coverage and fit of copies, the oldest first. Lines over are below zero.
pub fn series(copies: &[KeptRow]) -> Vec<Series> {
    let of = |name, value: fn(&KeptFigures) -> Option<f64>| Series {
        name,
        values: copies.iter().map(|copy| copy.record.figures.as_ref().and_then(value)).collect(),
    };
    vec![
        of("words", |figures| Some(figures.words as f64)),
        of("letters", |figures| Some(figures.letters as f64)),
        of("level", |figures| figures.level.map(|(grade, ..)| grade)),
        of("terms", |figures| Some(figures.terms_covered as f64)),
        of("lines", |figures| Some(lines(figures))),
        of("size", |figures| figures.largest_size),
    ]
}

fn lines(figures: &KeptFigures) -> f64 {
    if figures.lines_over > 0 { -(figures.lines_over as f64) } else { figures.lines_left as f64 }
}

/// The heights of a chart of one row of characters.
const HEIGHTS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/// Where there is no value.
const NO_VALUE: char = '·';
/// Copies in a chart; older ones are left out.
const MOST_COPIES: usize = 30;

/// The history of a draft: the last copies and the present draft, a row for each measure.
pub fn history(draft: &str, copies: &[KeptRow], columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let shown = &copies[copies.len().saturating_sub(MOST_COPIES)..];
    let left_out = copies.len() - shown.len();
    sheet.indented(&format!("{}: the oldest copy on the left, the present draft on the right", visible(draft)), 2);
    if left_out > 0 {
        sheet.indented(&format!("({} before these left out)", counted(left_out, "copy")), 2);
    }
    sheet.line(String::new());
    for series in series(shown) {
        let values: Vec<String> =
            series.values.iter().map(|value| value.map_or("none".to_owned(), |value| trimmed(value, 1))).collect();
        sheet.labelled(series.name, &format!("{}  {}", heights(&series.values), values.join(" ")));
    }
    sheet.line(String::new());
    sheet.indented("terms: those carried; lines: those left, or over below zero; size: the largest in pt that fits", 0);
    sheet.line(String::new());
    for (number, copy) in shown.iter().enumerate() {
        let name =
            if copy.record.name.is_empty() { String::new() } else { format!("  {}", visible(&copy.record.name)) };
        sheet.indented(&format!("{:>3}  {}{name}", number + 1, visible(&copy.record.kept)), 5);
    }
    sheet.text()
}

/// Values as heights from the least to the greatest; the middle where all are the same.
fn heights(values: &[Option<f64>]) -> String {
    let known = || values.iter().flatten().copied();
    let (least, most) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
    let height = |value: f64| {
        let part = if most > least { (value - least) / (most - least) } else { 0.5 };
        HEIGHTS[(part * (HEIGHTS.len() - 1) as f64).round() as usize]
    };
    values.iter().map(|value| value.map_or(NO_VALUE, height)).collect()
}

#[cfg(test)]
mod tests {
    use super::heights;

    #[test]
    fn the_least_is_the_lowest_and_the_most_the_highest() {
        assert_eq!(heights(&[Some(83.0), Some(61.0), None, Some(72.0)]), "█▁·▅");
        assert_eq!(heights(&[Some(3.0), Some(3.0)]), "▅▅");
        assert_eq!(heights(&[None]), "·");
        assert_eq!(heights(&[]), "");
    }
}
