//! The report as a page of text that can be read aloud line by line.

use super::art;
use super::findings;
use super::level;
use super::sheet::{LABEL, TextPage};
use super::visible::visible;
use super::words::{self, carried, counted, joined, limit_of, seconds, told};
use crate::brief::limits::Measure;
use crate::draft::{LinePlaces, Note};
use crate::level::{Formula, lacks_dictionary};
use crate::report::Report;
use crate::report::mends::ArtAdvice;
use crate::terms::answers::{AnswerInCopy, AnswerWord, AnswersInCopy, LinePlace};
use crate::terms::coverage::CoveredTerm;
use crate::text::rules::RULES;
use crate::units::nouns::{agrees, in_number, some_of};
use crate::units::trimmed;

/// The most words of an answer that a page lists of those that the copy has, and of those that it lacks, and the most
/// lines of a word; the JSON has all.
const MOST_WORDS: usize = 40;
const MOST_LINES: usize = 6;

/// What a page needs in addition to the report.
#[derive(Debug, Clone, Copy)]
pub struct ReportPage<'a> {
    /// The draft as it was named.
    pub path: &'a str,
    /// The title of the book, which may be empty.
    pub title: &'a str,
    /// The text of the draft's file, for finding line numbers.
    pub source: &'a str,
    /// The width of the page, in columns.
    pub columns: usize,
    /// What was tried for lines on art.
    pub advice: &'a ArtAdvice,
}

/// The report as text, ending with a line ending: every section that has something to say, and an empty line after
/// each.
pub fn written(report: &Report, page: &ReportPage<'_>) -> String {
    let columns = page.columns;
    let [ink, quiet] = findings::on_art(report.legibility.as_ref(), page.advice, columns);
    let sections = [
        head(page),
        verdict(report, columns),
        length(report, columns),
        level(report, columns),
        terms(report, columns),
        fit(report, columns),
        art(report, columns),
        ink,
        quiet,
        setting(report, columns),
        notes(report, page),
    ];
    sections.iter().filter(|section| !section.is_empty()).map(|section| format!("{section}\n")).collect()
}

/// Where to find the rules of counting, as the line below all pages.
pub fn where_counted(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.indented("`blurbwright measure --counted` says how everything is counted.", 0);
    sheet.text()
}

/// How everything on the pages above was counted: the last page, ending with a line ending.
pub fn rules(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let labels = std::iter::once("Counted").chain(std::iter::repeat(""));
    for (rule, label) in RULES.iter().zip(labels) {
        sheet.labelled(label, &format!("{}: {}", rule.counts, rule.rule));
    }
    sheet.text()
}

/// The head of the report: the book's title, and the draft as it was named.
fn head(page: &ReportPage<'_>) -> String {
    let mut sheet = TextPage::new(page.columns);
    let title = visible(page.title);
    sheet.line(if title.is_empty() {
        visible(page.path).into_owned()
    } else {
        format!("{title}: {}", visible(page.path))
    });
    sheet.text()
}

/// The section of the verdict: each limit that is not kept, with the value that breaks it.
fn verdict(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let outside: Vec<String> = report.verdict.outside().map(|check| told(check, report)).collect();
    if outside.is_empty() {
        sheet.labelled("Verdict", "within every limit");
    } else {
        sheet.labelled("Verdict", &format!("outside {}:", counted(outside.len(), "limit")));
        for sentence in &outside {
            sheet.item(sentence);
        }
    }
    sheet.text()
}

/// The section on length: the counts of the blurb with their limits, and its reading times.
pub fn length(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let length = &report.length;
    let limit = |measure| limit_of(&report.verdict, measure);
    sheet.labelled("Length", &format!("{}{}", counted(length.words, "word"), limit(Measure::Words)));
    sheet.labelled(
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
    sheet.labelled("", &sentences);
    let (silent, aloud) = (seconds(length.silent_seconds), seconds(length.aloud_seconds));
    sheet.labelled("", &format!("an adult reads it silently in {silent}, aloud in {aloud}"));
    sheet.text()
}

/// The section on the reading level: the headline, and the measures that have a limit.
fn level(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    level::first(&mut sheet, &report.level);
    let limit = limit_of(&report.verdict, Measure::Level);
    if let Some(grade) = report.level.grade().filter(|_| !limit.is_empty()) {
        sheet.labelled("", &format!("grade {}{limit}", trimmed(grade, 1)));
    }
    let ease = limit_of(&report.verdict, Measure::ReadingEase);
    if let Some(value) = report.level.value(Formula::FleschReadingEase).filter(|_| !ease.is_empty()) {
        sheet.labelled("", &format!("{} {}{ease}", Measure::ReadingEase.name(), trimmed(value, 1)));
    }
    if !report.level.guessed.is_empty() && !lacks_dictionary() {
        let guessed = report.level.guessed.iter().map(|word| format!("{} ({})", visible(&word.word), word.syllables));
        let list = joined(guessed.collect());
        sheet.labelled(
            "",
            &format!("syllables guessed of words that no list has: {list}; a name's can be set in the brief"),
        );
    }
    sheet.labelled("", "`blurbwright level` has every measure, and what drives it.");
    sheet.text()
}

/// The section on terms: each term that the brief wants, then the terms to avoid that occur.
pub fn terms(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let coverage = &report.coverage;
    if coverage.wanted() == 0 && coverage.avoid.is_empty() {
        sheet.labelled("Terms", "the brief names none");
    } else {
        sheet.labelled("Terms", &carried(coverage.covered(), coverage.wanted()));
    }
    for item in &coverage.items {
        sheet.item(&term_line(item));
    }
    for avoided in coverage.avoid.iter().filter(|avoided| !avoided.spans.is_empty()) {
        let times = words::times(avoided.spans.len());
        sheet.item(&format!("to be avoided, and there {times}: {}", visible(&avoided.wording)));
    }
    sheet.text()
}

/// The section on the fit: the type, the depth, the largest size that fits, and how the lines fall.
fn fit(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let fit = &report.fit;
    let cast = &fit.castoff;
    // The answer comes first, and behind it the figures on which it rests.
    sheet.labelled("Fit", &words::fit_sentence(report));
    sheet.labelled(
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
    sheet.labelled(
        "",
        &format!(
            "depth used {} of {} mm; {}",
            trimmed(cast.depth_used.to_mm(), 1),
            trimmed(cast.depth_available.to_mm(), 1),
            words::largest_size(fit)
        ),
    );
    if fit.has_places {
        for place in fit.told_places() {
            sheet.item(&words::place_line(place));
        }
    }
    if let Some(title) = &fit.spine {
        sheet.item(&words::spine_line(title));
    }
    // What makes those figures less than exact is told right below them.
    for stand_in in &fit.estimated {
        sheet.labelled("", &words::estimate(stand_in));
    }
    for missing in &fit.styles_missing {
        sheet.labelled("", &words::style_missing(missing));
    }
    for stood_in in &fit.stood_in {
        sheet.labelled("", &words::stood_in(stood_in));
    }
    let lines: Vec<&str> = fit.lines.iter().map(|line| line.text.as_str()).collect();
    for sentence in findings::sentences(&fit.findings, &lines) {
        sheet.labelled("", &sentence);
    }
    sheet.labelled("", "The printer's own figures for margins and barcode come first.");
    sheet.text()
}

/// The copy as it is set, a row for each printed line, with a rule where its place ends; empty where there is no
/// copy.
fn setting(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let mut label = "As set";
    let mut ruled = false;
    let mut foot = None;
    let mut place = None;
    for line in &report.fit.lines {
        if report.fit.has_places && place != Some(line.set.place) {
            // Each place has a foot of its own, and opens with its name.
            (place, foot, ruled) = (Some(line.set.place), None, false);
            if let Some(place) = report.fit.places.get(line.set.place) {
                sheet.labelled(label, &format!("in {}:", words::place_name(place)));
                label = "";
            }
        }
        if line.set.over && !ruled {
            ruled = true;
            let words = "over: what is below does not fit";
            let dashes = "-".repeat(sheet.columns().saturating_sub(LABEL + words.len() + 1).min(12));
            sheet.line(format!("{:LABEL$}{dashes} {words}", ""));
        } else if foot.is_some_and(|foot| line.set.top > foot) {
            sheet.line(String::new());
        }
        foot = Some(line.set.foot());
        sheet.set_line(label, &visible(&line.text));
        label = "";
    }
    sheet.text()
}

/// The section on the art; empty where no face has some.
fn art(report: &Report, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    art::write(&mut sheet, &report.art);
    sheet.text()
}

/// The section of notes on the draft's form and on the panel; empty where there are none.
fn notes(report: &Report, page: &ReportPage<'_>) -> String {
    let mut sheet = TextPage::new(page.columns);
    let of_draft = placed(&report.notes, page.source).into_iter();
    let of_panel = report.panel_notes.iter().map(|note| visible(note).into_owned());
    let of_language = words::silent_rules(&report.silent_rules).into_iter();
    let notes: Vec<String> = of_language.chain(of_draft).chain(of_panel).collect();
    let labels = std::iter::once("Notes").chain(std::iter::repeat(""));
    for (note, label) in notes.iter().zip(labels) {
        sheet.labelled(label, note);
    }
    sheet.text()
}

/// The notes on a draft's form, each with its place in the text of the file.
fn placed(notes: &[Note], source: &str) -> Vec<String> {
    let places = LinePlaces::of(source);
    let told = |Note { span, text }: &Note| {
        let (line, column) = places.place(span.start);
        format!("line {line}, column {column}: {}", visible(text))
    };
    notes.iter().map(told).collect()
}

/// How many notes are told where a page has no section of them.
const MOST_NOTES: usize = 5;

/// The first notes on a draft's form, each with its place, and behind them how many more there are.
pub fn first_notes(notes: &[Note], source: &str) -> Vec<String> {
    let more = notes.len().saturating_sub(MOST_NOTES);
    let more = (more > 0).then(|| format!("{}; `blurbwright measure` tells all", counted(more, "more note")));
    placed(&notes[..notes.len().min(MOST_NOTES)], source).into_iter().chain(more).collect()
}

/// The section on the questions that a blurb answers, with an empty line after it: each question, and what of its
/// answer stands in the copy; empty where the draft answers none.
pub fn answers(found: &AnswersInCopy, columns: usize) -> String {
    if found.is_empty() {
        return String::new();
    }
    let mut sheet = TextPage::new(columns);
    let (answered, asked) = (found.answered(), found.all.len());
    let are = agrees(answered, "is", "are");
    sheet.labelled(
        "Answers",
        &format!("{} {are} answered in comments of the draft", some_of(answered, asked, "question")),
    );
    for item in &found.all {
        sheet.item(&format!("{} {}", item.answer.asked, answer_sentences(item).join(" ")));
    }
    for (near, line) in &found.near {
        let written = visible(near.written.trim()).replace("<U+000A>", " ");
        sheet.item(&format!(
            "Line {line} asks \"{written}?\", which is not read as an answer; where \"{}\" is meant, write it so.",
            near.meant
        ));
    }
    format!("{}\n", sheet.text())
}

/// What there is to say of one answer, in sentences: which of its names and words do not stand in the copy, which do
/// and on which lines of the file, and what else answers the question.
pub fn answer_sentences(item: &AnswerInCopy) -> Vec<String> {
    if !item.answer.is_answered() {
        return vec!["Not answered.".to_owned()];
    }
    let (there, missing): (Vec<&AnswerWord>, Vec<&AnswerWord>) =
        item.words.iter().partition(|word| !word.places.is_empty());
    let mut told = Vec::new();
    if item.words.is_empty() {
        told.push("Answered, with no name or word to look for.".to_owned());
    }
    // What is missing comes first: it asks for something, and where there is little room the rest is cut short.
    if !missing.is_empty() {
        told.push(format!("Not in the copy: {}.", listed(&missing)));
    }
    if !there.is_empty() {
        told.push(format!("In the copy: {}.", listed(&there)));
    }
    if item.untried > 0 {
        told.push(format!("Not looked for: {}.", counted(item.untried, "further word")));
    }
    if !item.again_lines.is_empty() {
        let again = agrees(item.again_lines.len(), "answers it again and is", "answer it again and are");
        let lines = lines(&item.again_lines).replacen('l', "L", 1);
        told.push(format!("{lines} {again} not read: one comment holds the answer."));
    }
    told
}

/// Words with the lines on which they stand, or what stands there in place of one.
fn listed(words: &[&AnswerWord]) -> String {
    let of = |places: &[LinePlace]| lines(&places.iter().map(|place| place.line).collect::<Vec<_>>());
    let told = |word: &&AnswerWord| {
        let kin = word.kin.iter().map(|(form, place)| format!("{} in {}", visible(form), of(&[*place])));
        let kin = joined(kin.take(MOST_LINES).collect());
        match (word.places.is_empty(), kin.is_empty()) {
            (false, _) => format!("{} ({})", visible(&word.wording), of(&word.places)),
            (true, false) => format!("{} (only {kin})", visible(&word.wording)),
            (true, true) => visible(&word.wording).into_owned(),
        }
    };
    let mut list: Vec<String> = words.iter().take(MOST_WORDS).map(told).collect();
    if words.len() > MOST_WORDS {
        list.push(format!("{} more", words.len() - MOST_WORDS));
    }
    joined(list)
}

/// Lines of the file, each once: `line 3`, `lines 3 and 5`, `lines 1, 2, 3, 4, 5, 6 and 12 more`.
fn lines(of: &[usize]) -> String {
    let mut lines = of.to_vec();
    lines.dedup();
    let mut list: Vec<String> = lines.iter().take(MOST_LINES).map(usize::to_string).collect();
    if lines.len() > MOST_LINES {
        list.push(format!("{} more", lines.len() - MOST_LINES));
    }
    format!("{} {}", in_number(lines.len(), "line"), joined(list))
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
