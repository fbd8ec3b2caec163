//! Other words of a draft as a page of text: each word with at most three others and what they win, then the lines that
//! a word would win.

use super::sheet::TextPage;
use super::visible::{in_a_row, visible};
use super::words::{counted, in_place, joined};
use crate::draft::{Draft, LinePlaces};
use crate::level::ScoreScale;
use crate::queries::other_words::{AskedWord, NoOthers};
use crate::report::Report;
use crate::report::cuts::{CutPrice, PricedCut};
use crate::report::other_words::{NearLine, OtherWords, TriedWord};
use crate::units::nouns::agrees;
use crate::units::trimmed;

/// The indentation of the others below their word.
const OTHER: usize = 6;

/// What a page is made from.
pub struct OtherWordsPage<'a> {
    /// The draft as it was named.
    pub path: &'a str,
    /// The draft's text, with its lines.
    pub source: LinePlaces<'a>,
    /// The draft's text, parsed.
    pub draft: &'a Draft,
    /// The report on the draft.
    pub report: &'a Report,
    /// The words with their others.
    pub found: &'a OtherWords,
    /// The word that was asked about; none where the whole draft was.
    pub word: Option<&'a str>,
}

/// The page, ending with a line ending.
pub fn written(page: &OtherWordsPage<'_>, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let of = page.word.map_or(String::new(), |word| format!(" for \"{}\"", visible(word)));
    sheet.line(format!("{}: other words{of}", visible(page.path)));
    page.words(&mut sheet);
    page.lines(&mut sheet);
    let untried = page.found.untried;
    if untried > 0 {
        sheet.line(String::new());
        let (count, were) = (counted(untried, "more word"), agrees(untried, "was", "were"));
        sheet.indented(&format!("{count} {were} not tried: the draft is too long for it. Ask for one by name."), 0);
    }
    sheet.text()
}

/// Why no other word is offered, as a sentence without its capital and its stop.
pub fn why_none(why: NoOthers) -> &'static str {
    match why {
        NoOthers::Language => "the lists of other words are of English, and this book is in another language",
        NoOthers::NotOwn => "it stands in somebody else's words, or in a line that is no running text",
        NoOthers::Quoted => "it stands in quotation marks, and what somebody says is left as it is",
        NoOthers::Wanted => "it belongs to a name, a title or a term of the brief, which stay as they are",
        NoOthers::Stands => "it stands as you asked (stet.yaml)",
        NoOthers::Rhyme => "it ends a line of verse, and may rhyme",
        NoOthers::Unlisted => "no other word is known that could stand there",
    }
}

/// What another word does to the level.
enum LevelMove {
    /// The grade before and after.
    Grade(String, String),
    /// Where the grade stays the same, the measure by its name with its value after, and whether that is easier.
    Value(&'static str, String, bool),
}

/// What another word wins in a few words: lines, or else letters; then the level, where it changes.
pub fn wins(other: &PricedCut) -> String {
    told(other, |name, value, _| format!("{name} {value}"))
}

/// What another word wins as [`wins`] tells it, for who does not know the measures of level by their figures.
pub fn wins_in_words(other: &PricedCut) -> String {
    told(other, |_, _, is_easier| format!("a little {} to read", if is_easier { "easier" } else { "harder" }))
}

/// What another word wins; `of_value` tells of a level that changes within its grade.
fn told(other: &PricedCut, of_value: impl Fn(&str, &str, bool) -> String) -> String {
    let price = &other.price;
    let many = |count: i64, thing: &str| counted(count.unsigned_abs() as usize, thing);
    let letters = match price.letters() {
        0 => "as long".to_owned(),
        fewer @ 1.. => format!("{} fewer", many(fewer, "letter")),
        more => format!("{} more", many(more, "letter")),
    };
    let place = in_place(other.place.as_deref());
    let first = match price.lines() {
        0 => letters,
        won @ 1.. => format!("wins {}{place} ({letters})", many(won, "line")),
        taken => format!("takes {} more{place} ({letters})", many(taken, "line")),
    };
    match level_move(price) {
        Some(LevelMove::Grade(before, after)) => format!("{first}, level {before} becomes {after}"),
        Some(LevelMove::Value(name, after, is_easier)) => format!("{first}, {}", of_value(name, &after, is_easier)),
        None => first,
    }
}

/// The level before and after; none where a reader would see no difference.
fn level_move(price: &CutPrice) -> Option<LevelMove> {
    let told = |(before, after): (f64, f64)| (format!("{before:.1}"), format!("{after:.1}"));
    let grades = price.before.grade.zip(price.after.grade).map(told);
    if let Some((before, after)) = grades.filter(|(before, after)| before != after) {
        return Some(LevelMove::Grade(before, after));
    }
    let ((measure, before), (after_by, after)) = (price.before.measure?, price.after.measure?);
    let is_easier = (after > before) == (measure.facts().scale == ScoreScale::Ease);
    let (before, after) = (trimmed(before, 1), trimmed(after, 1));
    (measure == after_by && before != after).then(|| LevelMove::Value(measure.facts().name, after, is_easier))
}

impl OtherWordsPage<'_> {
    fn words(&self, sheet: &mut TextPage) {
        let words = &self.found.words;
        sheet.line(String::new());
        if self.word.is_none() {
            let says = match (self.report.level.list, words.len()) {
                (None, _) => "No list of familiar words suits this copy, so no word is outside of one.".to_owned(),
                (_, 0) => "No word is outside the list of words that are familiar to the readers.".to_owned(),
                (_, count) => format!(
                    "{} {} outside the list of words that are familiar to the readers.",
                    counted(count, "word"),
                    agrees(count, "is", "are")
                ),
            };
            sheet.indented(&says, 0);
        }
        self.level(sheet);
        if self.word.is_none() && words.iter().any(|word| !word.others.is_empty()) {
            sheet.indented("What could stand there, the nearest in meaning first:", 0);
        }
        let is_told_apart = |word: &&TriedWord| self.word.is_some() || !word.others.is_empty();
        for word in words.iter().filter(is_told_apart) {
            self.one(sheet, word);
        }
        if self.word.is_none() {
            self.without_others(sheet);
        }
    }

    /// The words of the whole draft that have no other, by the reason.
    fn without_others(&self, sheet: &mut TextPage) {
        let words = self.found.words.iter().filter(|word| word.others.is_empty());
        let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
        for word in words {
            let (line, column) = self.place_of(&word.asked);
            let told = format!("{} ({line}:{column})", in_a_row(self.word_of(&word.asked)));
            let why = self.why(word);
            match reasons.iter_mut().find(|(known, _)| *known == why) {
                Some((_, told_before)) => told_before.push(told),
                None => reasons.push((why, vec![told])),
            }
        }
        for (why, told) in reasons {
            sheet.line(String::new());
            let them = if told.len() == 1 { "One word has none" } else { "Others have none" };
            sheet.indented(&format!("{them}, for {why}: {}", joined(told)), 0);
        }
    }

    /// Why a word has no other.
    pub(super) fn why(&self, word: &TriedWord) -> &'static str {
        match word.asked.others {
            Err(why) => why_none(why),
            Ok(_) if word.is_untried => "the draft is too long to try each",
            Ok(_) => why_none(NoOthers::Unlisted),
        }
    }

    /// The measure of the level as it is now, where others may change it.
    fn level(&self, sheet: &mut TextPage) {
        let has_others = self.found.words.iter().any(|word| !word.others.is_empty());
        let Some(headline) = self.report.level.headline.as_ref().filter(|_| has_others) else { return };
        let facts = headline.measure.facts();
        let easier = match facts.scale {
            ScoreScale::Ease => "higher",
            ScoreScale::Grade | ScoreScale::Hardness => "lower",
        };
        let value = trimmed(headline.value, 1);
        sheet.indented(&format!("{} is {value} now; a {easier} figure is easier to read.", facts.name), 0);
    }

    fn one(&self, sheet: &mut TextPage, word: &TriedWord) {
        let TriedWord { asked, others, .. } = word;
        sheet.line(String::new());
        let (line, column) = self.place_of(asked);
        let written = in_a_row(self.word_of(asked));
        if others.is_empty() {
            sheet.beside("  ", &format!("{line}:{column} {written}: {}", self.why(word)));
            return;
        }
        sheet.line(format!("  {line}:{column} {written}"));
        for other in others {
            let label = format!("{:OTHER$}{}: ", "", in_a_row(&other.cut.wording));
            sheet.beside(&label, &wins(other));
        }
    }

    fn lines(&self, sheet: &mut TextPage) {
        if self.found.lines.is_empty() {
            return;
        }
        sheet.line(String::new());
        sheet.indented("Lines that are a few letters over, and words each of which would win one:", 0);
        for NearLine { priced, winners } in &self.found.lines {
            sheet.line(String::new());
            let over = priced.price.win.as_ref().map_or(0, |win| win.letters);
            let dots = if priced.goes_on { "..." } else { "" };
            let place = in_place(priced.place.as_deref());
            let opening = in_a_row(&priced.opening);
            sheet.beside("  ", &format!("\"{opening}{dots}\"{place}, {} over", counted(over, "letter")));
            for winner in winners {
                let (line, column) =
                    self.source.place(self.draft.blocks[winner.block].span(winner.cut.range.clone()).start);
                let gone = in_a_row(&self.draft.blocks[winner.block].text()[winner.cut.range.clone()]);
                let label = format!("{:OTHER$}{line}:{column} {gone}: {}: ", "", in_a_row(&winner.cut.wording));
                sheet.beside(&label, &wins(winner));
            }
        }
    }

    /// The word as the author wrote it.
    pub(super) fn word_of(&self, asked: &AskedWord) -> &str {
        self.draft.blocks.get(asked.block).and_then(|block| block.text().get(asked.range.clone())).unwrap_or_default()
    }

    /// The line and the character in it where a word begins, both from 1.
    pub(super) fn place_of(&self, asked: &AskedWord) -> (usize, usize) {
        self.source.place(self.draft.blocks[asked.block].span(asked.range.clone()).start)
    }
}
