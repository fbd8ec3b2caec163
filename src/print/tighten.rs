//! What can go in a draft, as a page of text: the plan, the other cuts by price, the queries without a ready cut, and
//! what a line costs in each paragraph.

use super::findings;
use super::sheet::TextPage;
use super::sizes::write_price;
use super::visible::{in_a_row, visible};
use super::words::{counted, estimate, in_place, joined, silent_rules, style_missing, told};
use crate::brief::queries::Rule;
use crate::draft::{Draft, LinePlaces};
use crate::report::cuts::{CutPrice, PricedCut};
use crate::report::mends::ArtAdvice;
use crate::report::tighten::{Tighten, wording};
use crate::report::{Report, Verdict};
use crate::units::nouns::agrees;

/// The indentation of the lines of an entry.
const ENTRY: usize = 6;

/// What a page is made from.
pub struct CutsPage<'a> {
    /// The draft as it was named.
    pub path: &'a str,
    /// The draft's text, with its lines.
    pub source: LinePlaces<'a>,
    /// The draft's text, parsed.
    pub draft: &'a Draft,
    /// The report on the draft.
    pub report: &'a Report,
    /// What can go.
    pub tighten: &'a Tighten,
    /// What was tried for lines on art.
    pub advice: &'a ArtAdvice,
    /// Whether the rules of the last read looked too.
    pub close: bool,
}

/// The page, ending with a line ending.
pub fn written(page: &CutsPage<'_>, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let read = if page.close { ", read closely" } else { "" };
    sheet.line(format!("{}: what can go{read}", visible(page.path)));
    let fit = &page.report.fit;
    if !fit.estimated.is_empty() || !fit.styles_missing.is_empty() {
        sheet.line(String::new());
    }
    for stand_in in &fit.estimated {
        sheet.indented(&estimate(stand_in), 0);
    }
    for missing in &fit.styles_missing {
        sheet.indented(&style_missing(missing), 0);
    }
    page.plan(&mut sheet);
    page.further(&mut sheet);
    page.untried(&mut sheet);
    page.without_wording(&mut sheet);
    page.lines(&mut sheet);
    page.on_art(&mut sheet);
    page.language(&mut sheet);
    let standing = page.tighten.standing;
    if standing > 0 {
        sheet.line(String::new());
        let verb = agrees(standing, "stands", "stand");
        sheet.indented(&format!("{} {verb} as you asked (stet.yaml).", counted(standing, "query")), 0);
    }
    sheet.text()
}

/// The number by which a cut is asked for: that of its query, with a letter for each wording but the first.
pub fn number(cut: &PricedCut) -> String {
    let letter = u8::try_from(cut.wording).ok().filter(|at| (1..26).contains(at)).map(|at| char::from(b'a' + at));
    format!("{}{}", cut.query + 1, letter.map_or(String::new(), String::from))
}

/// What a plan has to achieve.
enum Goal {
    Fit,
    Limits,
    Both,
}

impl Goal {
    /// What a draft that is outside has to achieve.
    fn of(verdict: &Verdict) -> Self {
        let fit = verdict.outside().filter(|check| check.subject.is_fit()).count();
        match (fit, verdict.outside().count() - fit) {
            (0, _) => Self::Limits,
            (_, 0) => Self::Fit,
            _ => Self::Both,
        }
    }

    /// What cuts that reach the goal do, with verbs that agree with the number of cuts.
    fn reached(&self, make: &str, bring: &str) -> String {
        match self {
            Self::Fit => format!("{make} it fit"),
            Self::Limits => format!("{bring} it within its limits"),
            Self::Both => format!("{make} it fit and {bring} it within its limits"),
        }
    }
}

impl CutsPage<'_> {
    /// What would make the lines on art clear: no cut does.
    fn on_art(&self, sheet: &mut TextPage) {
        let Some(art) = self.report.legibility.as_ref().filter(|_| !self.advice.mends.is_empty()) else { return };
        sheet.line(String::new());
        sheet.indented("Lines that cannot be read with ease on the art:", 0);
        for sentence in
            findings::lines_not_clear(art).into_iter().chain(self.advice.mends.iter().flat_map(findings::mends))
        {
            sheet.indented(&format!("- {sentence}"), 2);
        }
    }

    /// What the rules that found the places make of the copy's language; nothing of English.
    fn language(&self, sheet: &mut TextPage) {
        let told = silent_rules(&self.report.silent_rules);
        if !told.is_empty() {
            sheet.line(String::new());
            sheet.indented("The language of the copy:", 0);
        }
        for sentence in told {
            sheet.indented(&format!("- {sentence}"), 2);
        }
    }

    fn plan(&self, sheet: &mut TextPage) {
        let Tighten { plan, cuts, planned, .. } = self.tighten;
        sheet.line(String::new());
        if self.report.verdict.is_within() {
            sheet.indented("It fits and is within every limit. Nothing has to go.", 0);
            return;
        }
        let count = counted(plan.cuts.len(), "cut");
        let goal = Goal::of(&self.report.verdict);
        let come = agrees(plan.cuts.len(), "comes", "come");
        let said = match (plan.cuts.is_empty(), plan.reaches) {
            (_, true) if !plan.all_tried => format!(
                "{count} {}; there are too many choices to try each, so fewer might do:",
                if plan.cuts.len() == 1 { goal.reached("makes", "brings") } else { goal.reached("make", "bring") }
            ),
            (_, true) => format!("The least that {} is {count}:", goal.reached("makes", "brings")),
            (false, false) => {
                format!("No cuts that are ready {}. {count} {come} nearest:", goal.reached("make", "bring"))
            }
            (true, false) => {
                format!("No cut that is ready {}, or comes nearer to that.", goal.reached("makes", "brings"))
            }
        };
        sheet.indented(&said, 0);
        for cut in &plan.cuts {
            self.cut(sheet, &cuts[*cut]);
        }
        if let Some(after) = planned {
            sheet.line(String::new());
            sheet.indented(&format!("Together: {}.", together(self.report, after)), 0);
        }
        if !plan.reaches {
            sheet.line(String::new());
            sheet.indented("What is left to do by hand:", 0);
            let after = planned.as_deref().unwrap_or(self.report);
            for check in &plan.outside {
                sheet.indented(&format!("- {}", told(check, after)), 2);
            }
        }
    }

    fn further(&self, sheet: &mut TextPage) {
        let Tighten { plan, cuts, by_price, .. } = self.tighten;
        let others: Vec<usize> = by_price.iter().copied().filter(|cut| !plan.cuts.contains(cut)).collect();
        if others.is_empty() {
            return;
        }
        sheet.line(String::new());
        sheet.indented(
            if plan.cuts.is_empty() {
                "Cuts, the cheapest line first:"
            } else {
                "Further cuts, the cheapest line first:"
            },
            0,
        );
        for cut in others {
            self.cut(sheet, &cuts[cut]);
        }
    }

    /// Says how many cuts were not tried, if there are any.
    fn untried(&self, sheet: &mut TextPage) {
        let untried = self.tighten.untried;
        if untried > 0 {
            sheet.line(String::new());
            let (count, verb) = (counted(untried, "more cut"), agrees(untried, "was", "were"));
            sheet.indented(
                &format!(
                    "{count} {verb} not tried: the draft is too long for it. Tighten the first part, and look again."
                ),
                0,
            );
        }
    }

    fn cut(&self, sheet: &mut TextPage, cut: &PricedCut) {
        let query = &self.tighten.queries[cut.query];
        let text = self.draft.blocks[cut.block].text();
        let (line, column) = self.place_of(cut.query);
        let before = &text[cut.sentence.start..cut.cut.range.start];
        let after = &text[cut.cut.range.end..cut.sentence.end];
        let gone = &text[cut.cut.range.clone()];
        sheet.line(String::new());
        sheet.line(format!("{:>4}  {}, {line}:{column}", number(cut), query.rule.name()));
        let entry = |sheet: &mut TextPage, label: &str, said: &str| {
            sheet.beside(&format!("{:ENTRY$}{label:<7}", ""), said);
        };
        if cut.wording == 0 {
            entry(sheet, "before", &format!("{}{}{}", in_a_row(before), marked(gone), in_a_row(after)));
        }
        entry(
            sheet,
            if cut.wording == 0 { "after" } else { "or" },
            &in_a_row(&format!("{before}{}{after}", cut.cut.wording)),
        );
        entry(sheet, "wins", &won(&cut.price, cut.place.as_deref()));
        if cut.wording == 0 {
            entry(sheet, "why", &visible(&query.says));
        }
    }

    fn without_wording(&self, sheet: &mut TextPage) {
        let asked = |query: &usize| self.tighten.cuts_of(*query).next().is_none();
        let left: Vec<usize> = (0..self.tighten.queries.len()).filter(asked).collect();
        if left.is_empty() {
            return;
        }
        sheet.line(String::new());
        sheet.indented("Places to look at, without a ready wording:", 0);
        for number in left {
            let query = &self.tighten.queries[number];
            let (line, column) = self.place_of(number);
            sheet.line(String::new());
            sheet.line(format!("{:>4}  {}, {line}:{column}", number + 1, query.rule.name()));
            // A single mark says nothing, and the mend of all is made together.
            if query.rule == Rule::StraightMarks {
                let says = format!("{}; --apply marks sets them in a new draft", visible(&query.says));
                sheet.beside(&" ".repeat(ENTRY), &says);
                continue;
            }
            sheet.beside(&" ".repeat(ENTRY), &format!("\"{}\"", shortened(&in_a_row(wording(query, self.draft)))));
            sheet.beside(&" ".repeat(ENTRY), &visible(&query.says));
        }
    }

    fn lines(&self, sheet: &mut TextPage) {
        if self.tighten.prices.is_empty() {
            return;
        }
        sheet.line(String::new());
        sheet.indented("What a line costs in each paragraph:", 0);
        for priced in &self.tighten.prices {
            write_price(sheet, priced);
        }
    }

    fn place_of(&self, query: usize) -> (usize, usize) {
        let query = &self.tighten.queries[query];
        let span = self.draft.blocks[query.block].span(query.range.clone());
        self.source.place(span.start)
    }
}

/// The most characters of a wording that a page quotes.
const LONGEST_QUOTED: usize = 72;

/// A wording, with its middle left out where it is long.
fn shortened(wording: &str) -> String {
    let count = wording.chars().count();
    if count <= LONGEST_QUOTED {
        return wording.to_owned();
    }
    let half = LONGEST_QUOTED / 2;
    let head: String = wording.chars().take(half).collect();
    let tail: String = wording.chars().skip(count - half).collect();
    format!("{} ... {}", head.trim_end(), tail.trim_start())
}

/// The words that go, in braces; blanks at their ends stand outside the braces.
fn marked(gone: &str) -> String {
    let gone = in_a_row(gone);
    let inner = gone.trim();
    let lead = &gone[..gone.len() - gone.trim_start().len()];
    let tail = if inner.is_empty() { "" } else { &gone[gone.trim_end().len()..] };
    format!("{lead}{{{inner}}}{tail}")
}

/// What a cut saves, in words; lines with the place that they are won in.
fn won(price: &CutPrice, place: Option<&str>) -> String {
    let amounts = [(price.lines(), "line", place), (price.words(), "word", None), (price.letters(), "letter", None)];
    let counted_where = |is_told: fn(&i64) -> bool| -> Vec<String> {
        let told = amounts.iter().filter(|(count, ..)| is_told(count));
        told.map(|(count, thing, place)| counted(count.unsigned_abs() as usize, thing) + &in_place(*place)).collect()
    };
    let (mut won, added) = (counted_where(|count| *count > 0), counted_where(|count| *count < 0));
    if price.lines() == 0 {
        won.push("no line alone".to_owned());
    } else if won.is_empty() {
        won.push("nothing".to_owned());
    }
    if !added.is_empty() {
        won.push(format!("but adds {}", joined(added)));
    }
    if let (Some(before), Some(after)) = (price.before.grade, price.after.grade)
        && (before - after).abs() >= 0.05
    {
        won.push(format!("level {before:.1} becomes {after:.1}"));
    }
    let named = |names: &[String]| joined(names.iter().map(|name| visible(name).into_owned()).collect());
    if !price.terms_gained.is_empty() {
        won.push(format!("gains the term {}", named(&price.terms_gained)));
    }
    if !price.lost.is_empty() {
        won.push(format!("loses {}", named(&price.lost)));
    }
    won.join(", ")
}

/// What a plan saves altogether.
fn together(before: &Report, after: &Report) -> String {
    let lines = before.fit.castoff.lines as i64 - after.fit.castoff.lines as i64;
    let words = before.length.words as i64 - after.length.words as i64;
    let fit = match after.fit.castoff.lines_over {
        0 if !after.fit.copy_fits() => "a word is still wider than its line".to_owned(),
        0 if !after.fit.fits() => "the title is still too large for the spine".to_owned(),
        0 if after.fit.castoff.lines_spare == 0 => "it fits, with no line left".to_owned(),
        0 => format!("it fits, with {} left", counted(after.fit.castoff.lines_spare, "line")),
        over => format!("{} still over", counted(over, "line")),
    };
    let won = |count: i64, thing: &str| {
        let number = match count {
            0 => format!("no {thing}"),
            _ => counted(count.unsigned_abs() as usize, thing),
        };
        if count < 0 { format!("{number} added") } else { format!("{number} won back") }
    };
    let level = match (before.level.grade(), after.level.grade()) {
        (Some(before), Some(after)) if (before - after).abs() >= 0.05 => {
            format!("; level {before:.1} becomes {after:.1}")
        }
        _ => String::new(),
    };
    format!("{}, {}; {fit}{level}", won(lines, "line"), won(words, "word"))
}
