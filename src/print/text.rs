//! The report as a page of text that can be read aloud, line by line.

use super::findings;
use super::level;
use super::sheet::{LABEL, TextPage};
use super::visible::visible;
use super::words::{self, carried, counted, joined, limit_of, seconds, told};
use crate::brief::limits::Measure;
use crate::draft::{LinePlaces, Note};
use crate::level::{Formula, lacks_dictionary};
use crate::report::Report;
use crate::terms::coverage::CoveredTerm;
use crate::text::rules::RULES;
use crate::units::trimmed;

/// What a page needs beside the report.
#[derive(Debug, Clone, Copy)]
pub struct ReportPage<'a> {
    /// The draft as it was named.
    pub path: &'a str,
    /// The title of the book, which may be empty.
    pub title: &'a str,
    /// The text of the draft's file, for naming lines in it.
    pub source: &'a str,
    /// Columns that the page may take.
    pub columns: usize,
}

/// The report as text, its last line ended.
pub fn written(report: &Report, page: &ReportPage<'_>) -> String {
    let mut sheet = TextPage::new(page.columns);
    sheet.head(page);
    sheet.verdict(report);
    sheet.length(report);
    sheet.level(report);
    sheet.terms(report);
    sheet.fit(report);
    sheet.setting(report);
    sheet.notes(report, page.source);
    sheet.text()
}

/// The report's section on length alone, its last line ended.
pub fn length(report: &Report, columns: usize) -> String {
    section(columns, |sheet| sheet.length(report))
}

/// The report's section on terms alone, its last line ended.
pub fn terms(report: &Report, columns: usize) -> String {
    section(columns, |sheet| sheet.terms(report))
}

/// One section without the blank line that parts it from the next.
fn section(columns: usize, write: impl FnOnce(&mut TextPage)) -> String {
    let mut sheet = TextPage::new(columns);
    write(&mut sheet);
    format!("{}\n", sheet.text().trim_end())
}

/// Where the rules are, as the line below all pages.
pub fn where_counted(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.indented("`blurbwright measure --counted` says how everything is counted.", 0);
    sheet.text()
}

/// How everything on the pages before was counted: the last page, its last line ended.
pub fn rules(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.counted();
    sheet.text()
}

impl TextPage {
    fn head(&mut self, page: &ReportPage<'_>) {
        let title = visible(page.title);
        self.line(if title.is_empty() {
            visible(page.path).into_owned()
        } else {
            format!("{title}: {}", visible(page.path))
        });
        self.line(String::new());
    }

    fn verdict(&mut self, report: &Report) {
        let outside: Vec<String> = report.verdict.outside().map(|check| told(check, report)).collect();
        if outside.is_empty() {
            self.labelled("Verdict", "within every limit");
        } else {
            self.labelled("Verdict", &format!("outside {}:", counted(outside.len(), "limit")));
            for sentence in &outside {
                self.item(sentence);
            }
        }
        self.line(String::new());
    }

    fn length(&mut self, report: &Report) {
        let length = &report.length;
        let limit = |measure| limit_of(&report.verdict, measure);
        self.labelled("Length", &format!("{}{}", counted(length.words, "word"), limit(Measure::Words)));
        self.labelled(
            "",
            &format!(
                "{}{}, {}{}, {}{}",
                counted(length.characters, "character"),
                limit(Measure::Characters),
                counted(length.letters, "letter"),
                limit(Measure::Letters),
                counted(length.syllables as usize, "syllable"),
                limit(Measure::Syllables)
            ),
        );
        let mut sentences = format!(
            "{}{} in {}{}",
            counted(length.sentences, "sentence"),
            limit(Measure::Sentences),
            counted(length.paragraphs, "paragraph"),
            limit(Measure::Paragraphs)
        );
        if let (Some(longest), Some(average)) = (length.longest_sentence, length.words_per_sentence) {
            sentences.push_str(&format!(
                "; the longest has {}{}, on average {}{}",
                counted(longest.words, "word"),
                limit(Measure::LongestSentence),
                trimmed(average, 1),
                limit(Measure::WordsPerSentence)
            ));
        }
        self.labelled("", &sentences);
        let (silent, aloud) = (seconds(length.silent_seconds), seconds(length.aloud_seconds));
        self.labelled("", &format!("an adult reads it silently in {silent}, aloud in {aloud}"));
        self.line(String::new());
    }

    fn level(&mut self, report: &Report) {
        level::first(self, &report.level);
        let limit = limit_of(&report.verdict, Measure::Level);
        if let Some(grade) = report.level.grade().filter(|_| !limit.is_empty()) {
            self.labelled("", &format!("grade {}{limit}", trimmed(grade, 1)));
        }
        let ease = limit_of(&report.verdict, Measure::ReadingEase);
        if let Some(value) = report.level.value(Formula::FleschReadingEase).filter(|_| !ease.is_empty()) {
            self.labelled("", &format!("{} {}{ease}", Measure::ReadingEase.name(), trimmed(value, 1)));
        }
        if !report.level.guessed.is_empty() && !lacks_dictionary() {
            let guessed =
                report.level.guessed.iter().map(|word| format!("{} ({})", visible(&word.word), word.syllables));
            let list = joined(guessed.collect());
            self.labelled(
                "",
                &format!("syllables guessed of words that no list has: {list}; a name's can be set in the brief"),
            );
        }
        self.labelled("", "`blurbwright level` has every measure, and what drives it.");
        self.line(String::new());
    }

    fn terms(&mut self, report: &Report) {
        let coverage = &report.coverage;
        if coverage.wanted() == 0 && coverage.avoid.is_empty() {
            self.labelled("Terms", "the brief names none");
        } else {
            self.labelled("Terms", &carried(coverage.covered(), coverage.wanted()));
        }
        for item in &coverage.items {
            self.item(&term_line(item));
        }
        for avoided in coverage.avoid.iter().filter(|avoided| !avoided.spans.is_empty()) {
            let times = words::times(avoided.spans.len());
            self.item(&format!("to be avoided, and there {times}: {}", visible(&avoided.wording)));
        }
        self.line(String::new());
    }

    fn fit(&mut self, report: &Report) {
        let fit = &report.fit;
        let cast = &fit.castoff;
        self.labelled("Fit", &words::fit_sentence(report));
        self.labelled(
            "",
            &format!(
                "set in {} at {} on {}, x-height {} mm, in a live area of {} by {} mm",
                words::type_words(fit),
                fit.size,
                fit.leading,
                trimmed(fit.x_height.to_mm(), 2),
                trimmed(fit.live.width.to_mm(), 1),
                trimmed(fit.live.height.to_mm(), 1)
            ),
        );
        self.labelled(
            "",
            &format!(
                "depth used {} of {} mm; {}",
                trimmed(cast.depth_used.to_mm(), 1),
                trimmed(cast.depth_available.to_mm(), 1),
                fit.largest_size.map_or("no size from 4 to 40 pt fits".to_owned(), |size| format!(
                    "the largest size that fits is {size}"
                ))
            ),
        );
        for stand_in in &fit.estimated {
            self.labelled("", &words::estimate(stand_in));
        }
        for missing in &fit.styles_missing {
            self.labelled("", &words::style_missing(missing));
        }
        for stood_in in &fit.stood_in {
            self.labelled("", &words::stood_in(stood_in));
        }
        let lines: Vec<&str> = fit.lines.iter().map(|line| line.text.as_str()).collect();
        for sentence in findings::sentences(&fit.findings, &lines) {
            self.labelled("", &sentence);
        }
        self.labelled("", "The printer's own figures for margins and barcode come first.");
        self.line(String::new());
    }

    /// The copy as it is set, a row for each printed line, with a rule where the live area ends.
    fn setting(&mut self, report: &Report) {
        let mut label = "As set";
        let mut ruled = false;
        let mut foot = None;
        for line in &report.fit.lines {
            if line.set.over && !ruled {
                ruled = true;
                let words = "over: what is below does not fit";
                let dashes = "-".repeat(self.columns().saturating_sub(LABEL + words.len() + 1).min(12));
                self.line(format!("{:LABEL$}{dashes} {words}", ""));
            } else if foot.is_some_and(|foot| line.set.top > foot) {
                self.line(String::new());
            }
            foot = Some(line.set.foot());
            self.set_line(label, &visible(&line.text));
            label = "";
        }
        if !report.fit.lines.is_empty() {
            self.line(String::new());
        }
    }

    fn notes(&mut self, report: &Report, source: &str) {
        let places = LinePlaces::of(source);
        let of_draft = report.notes.iter().map(|Note { span, text }| {
            let (line, column) = places.place(span.start);
            format!("line {line}, column {column}: {}", visible(text))
        });
        let of_panel = report.panel_notes.iter().map(|note| visible(note).into_owned());
        let notes: Vec<String> = of_draft.chain(of_panel).collect();
        let labels = std::iter::once("Notes").chain(std::iter::repeat(""));
        for (note, label) in notes.iter().zip(labels) {
            self.labelled(label, note);
        }
        if !notes.is_empty() {
            self.line(String::new());
        }
    }

    fn counted(&mut self) {
        let mut label = "Counted";
        for rule in &RULES {
            self.labelled(label, &format!("{}: {}", rule.counts, rule.rule));
            label = "";
        }
    }
}

fn term_line(item: &CoveredTerm) -> String {
    let term = visible(&item.term.term);
    let place = item.first_in.map_or(String::new(), |place| format!(", first in {}", words::place(place)));
    let limit = match (item.is_missed(), item.is_overdone(), item.term.at_most) {
        (true, _, _) => ", and it must be there".to_owned(),
        (_, true, Some(most)) => format!(", which is more often than at most {}", words::times(most as usize)),
        _ => String::new(),
    };
    if item.is_present() {
        format!("{term}: {}{place}{limit}", words::times(item.count()))
    } else {
        format!("{term}: missing{limit}")
    }
}
