//! Kept copies as pages of text: a list of them, and how the measures changed from one to the next.

use super::sheet::TextPage;
use super::visible::visible;
use super::words::counted;
use crate::report::kept::{KeptFigures, Record};
use crate::units::nouns::some_of;
use crate::units::trimmed;

/// One kept copy, or the present draft.
pub struct KeptRow {
    /// The file of the copy or draft.
    pub path: String,
    /// What was recorded about the copy or draft.
    pub record: Record,
}

/// The page that lists copies, the oldest first.
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

/// When and under which name a copy was kept, and its measures.
pub fn told(record: &Record) -> String {
    let name = if record.name.is_empty() { String::new() } else { format!("\"{}\", ", visible(&record.name)) };
    let when = if record.kept.is_empty() { String::new() } else { format!("{}: ", visible(&record.kept)) };
    let figures = record.figures.as_ref().map_or("not measured".to_owned(), figures);
    format!("{name}{when}{figures}")
}

/// The measures of a copy, on one line.
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

/// One measure through a history.
pub struct Series {
    /// The name of the measure.
    pub name: &'static str,
    /// One value for each copy, the oldest first; none where it was not measured.
    pub values: Vec<Option<f64>>,
}

/// The measures of copies, the oldest first. For lines, the number that is left, or the number that is over as a
/// negative number.
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

/// The characters of a bar chart one row high, from the lowest bar to the highest.
const HEIGHTS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/// Stands in the chart where there is no value.
const NO_VALUE: char = '·';
/// The most copies in a chart; older ones are left out.
const MOST_COPIES: usize = 30;

/// The history of a draft: its latest copies and the present draft, a row for each measure.
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

/// Values as bars from the least to the greatest; all bars are of middle height where all values are equal.
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
