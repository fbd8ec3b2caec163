//! What is written beside a kept copy: when it was kept, under which name, and what was measured then.
//!
//! The form is YAML of one level, a key and a value a line.

use super::Report;
use crate::brief::yaml::{self, Node};
use crate::units::{Length, trimmed};

/// What is known of a kept copy.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// The date and the time, as `2026-11-25 14:10:32`, in the time zone in which the copy was kept.
    pub kept: String,
    /// What the author called it; may be empty.
    pub name: String,
    /// What was measured; none where it could not be.
    pub figures: Option<KeptFigures>,
}

/// What was measured when a copy was kept.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeptFigures {
    /// Words of the blurb.
    pub words: usize,
    /// Letters of the blurb.
    pub letters: usize,
    /// The grade with its band; none without words or in a language without a measure.
    pub level: Option<(f64, u32, u32)>,
    /// Wanted terms carried.
    pub terms_covered: usize,
    /// Wanted terms.
    pub terms_wanted: usize,
    /// Whether all of the copy fitted.
    pub fits: bool,
    /// Lines over.
    pub lines_over: usize,
    /// Lines left.
    pub lines_left: usize,
    /// The largest size that fits, in points; none where none does.
    pub largest_size: Option<f64>,
}

const HEADER: &str =
    "# What was measured when the copy of the same name was kept. Nothing is read from here but to be shown.\n";

impl KeptFigures {
    /// The figures of a report.
    pub fn of(report: &Report) -> Self {
        let Report { length, level, coverage, fit, .. } = report;
        // Rounded as they are written.
        let tenths = |number: f64| (number * 10.0).round() / 10.0;
        Self {
            words: length.words,
            letters: length.letters,
            level: level.headline.as_ref().map(|band| (tenths(band.grade()), band.low, band.high)),
            terms_covered: coverage.covered(),
            terms_wanted: coverage.wanted(),
            fits: fit.copy_fits(),
            lines_over: fit.castoff.lines_over,
            lines_left: fit.castoff.lines_spare,
            largest_size: fit.largest_size.map(Length::to_pt).map(tenths),
        }
    }

    fn lines(&self) -> Vec<(&'static str, String)> {
        let mut lines = vec![("words", self.words.to_string()), ("letters", self.letters.to_string())];
        if let Some((grade, low, high)) = self.level {
            lines.extend([
                ("level", trimmed(grade, 1)),
                ("level_low", low.to_string()),
                ("level_high", high.to_string()),
            ]);
        }
        lines.extend([
            ("terms_covered", self.terms_covered.to_string()),
            ("terms_wanted", self.terms_wanted.to_string()),
            ("fits", self.fits.to_string()),
            ("lines_over", self.lines_over.to_string()),
            ("lines_left", self.lines_left.to_string()),
        ]);
        lines.extend(self.largest_size.map(|size| ("largest_size_pt", trimmed(size, 1))));
        lines
    }

    fn read(fields: &RecordFields) -> Option<Self> {
        let count = |key: &str| fields.number(key).map(|number| number as usize);
        let grade = |key: &str| fields.number(key).map(|number| number as u32);
        let band = grade("level_low").zip(grade("level_high"));
        Some(Self {
            words: count("words")?,
            letters: count("letters")?,
            level: fields.number("level").zip(band).map(|(at, (low, high))| (at, low, high)),
            terms_covered: count("terms_covered")?,
            terms_wanted: count("terms_wanted")?,
            fits: fields.0.iter().any(|(key, value)| key == "fits" && *value == Node::Bool(true)),
            lines_over: count("lines_over")?,
            lines_left: count("lines_left")?,
            largest_size: fields.number("largest_size_pt"),
        })
    }
}

/// The keys of a record with their values.
struct RecordFields(Vec<(String, Node)>);

impl RecordFields {
    fn of(&self, key: &str) -> Option<&Node> {
        self.0.iter().find(|(known, _)| known == key).map(|(_, value)| value)
    }

    fn number(&self, key: &str) -> Option<f64> {
        match self.of(key)? {
            Node::Number(number) if *number >= 0.0 || key == "level" => Some(*number),
            _ => None,
        }
    }

    fn text(&self, key: &str) -> String {
        match self.of(key) {
            Some(Node::Text(text)) => text.clone(),
            _ => String::new(),
        }
    }
}

impl Record {
    /// The record as the text of a file.
    pub fn written(&self) -> String {
        let mut lines = vec![("kept", quoted(&self.kept)), ("name", quoted(&self.name))];
        lines.extend(self.figures.iter().flat_map(KeptFigures::lines));
        let lines = lines.into_iter().map(|(key, value)| format!("{key}: {value}\n"));
        std::iter::once(HEADER.to_owned()).chain(lines).collect()
    }

    /// Reads a record; what is not there or cannot be understood is left out.
    pub fn read(text: &str) -> Self {
        let fields = match yaml::parse(text) {
            Ok(Node::Map(fields)) => RecordFields(fields),
            _ => RecordFields(Vec::new()),
        };
        Self { kept: fields.text("kept"), name: fields.text("name"), figures: KeptFigures::read(&fields) }
    }
}

/// A text in quotation marks. A JSON string is one of YAML too, but for a few characters that YAML does not allow;
/// blanks stand in for these.
fn quoted(text: &str) -> String {
    let held = |letter: &char| {
        !letter.is_control() && !matches!(letter, '\u{feff}' | '\u{fffe}' | '\u{ffff}' | '\u{2028}' | '\u{2029}')
    };
    let text: String = text.chars().map(|letter| if held(&letter) { letter } else { ' ' }).collect();
    serde_json::to_string(&text).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{KeptFigures, Record, quoted};
    use crate::brief::yaml::{Node, parse};
    use proptest::prelude::{any, prop_assert_eq, proptest};

    fn record(name: &str, number: u32, fits: bool) -> Record {
        let tenths = f64::from(number % 1000) / 10.0;
        let figures = KeptFigures {
            words: number as usize,
            letters: 7,
            level: fits.then_some((tenths, 1, 4)),
            terms_covered: 1,
            terms_wanted: 2,
            fits,
            lines_over: 3,
            lines_left: 4,
            largest_size: (!fits).then_some(tenths),
        };
        let figures = (!number.is_multiple_of(7)).then_some(figures);
        Record { kept: "2026-11-25 14:10:32".to_owned(), name: name.to_owned(), figures }
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(name in any::<String>(), number in any::<u32>(), fits in any::<bool>()) {
            let Ok(Node::Text(name)) = parse(&quoted(&name)) else { panic!("{name:?}") };
            let record = record(&name, number, fits);
            prop_assert_eq!(Record::read(&record.written()), record);
        }

        #[test]
        fn any_text_can_be_read(text in any::<String>()) {
            prop_assert_eq!(Record::read(&text).figures, None);
        }
    }

    #[test]
    fn a_name_stands_as_it_was_given() {
        let name = "for \"Ines\" \\ 2: b # Übermut";
        assert_eq!(Record::read(&record(name, 3, true).written()).name, name);
    }
}
