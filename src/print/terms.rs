//! The terms of a draft as a page of text, and the table of all drafts.

use unicode_segmentation::UnicodeSegmentation;

use super::sheet::{LABEL, TextPage};
use super::visible::visible;
use super::words::{carried, counted, joined, times};
use crate::brief::Terms;
use crate::draft::{LinePlaces, Span};
use crate::report::terms::{Manuscript, NameStanding, TermsReport};
use crate::terms::borrowed::{Borrowed, Taken};
use crate::terms::coverage::{Coverage, CoveredTerm, holds_a_term};
use crate::terms::near::{Near, NearKind};
use crate::terms::spellings::NameSpelling;
use crate::terms::story::{Candidate, Named};
use crate::units::nouns::in_number;

/// The words shown on either side of a term's place.
const WORDS_AROUND: usize = 4;
/// The bytes that are read on either side of a place to find those words.
const BYTES_AROUND: usize = 400;
/// The most bytes shown on either side, for words joined without blanks, as by dashes.
const MOST_BYTES_AROUND: usize = 60;
/// The most names of a story that a page lists; the JSON has all of them.
const MOST_NAMES: usize = 20;
/// The most candidates that a page lists; the JSON has all of them.
const MOST_CANDIDATES: usize = 12;
/// The most columns for a term in the table.
const WIDEST_TERM: usize = 28;

/// A text about which something is reported.
#[derive(Debug, Clone, Copy)]
pub struct SourceText<'a> {
    /// The file of the text, as it was named.
    pub path: &'a str,
    /// The whole text.
    pub text: &'a str,
    /// The lines of the text.
    pub lines: &'a LinePlaces<'a>,
}

/// A manuscript with its text, and the brief's terms, which show the candidates that the brief has already.
#[derive(Debug, Clone, Copy)]
pub struct ManuscriptText<'a> {
    /// The manuscript.
    pub manuscript: &'a Manuscript,
    /// The manuscript's file and text.
    pub source: SourceText<'a>,
    /// The brief's terms.
    pub terms: &'a Terms,
}

impl ManuscriptText<'_> {
    /// Whether the brief already has a candidate among its terms.
    pub(super) fn has(&self, candidate: &Candidate) -> bool {
        holds_a_term(&candidate.wording, self.terms)
    }
}

/// The page about one draft, ending with a line ending.
pub fn written(terms: &TermsReport, draft: SourceText, told: Option<ManuscriptText>, columns: usize) -> String {
    let mut page = TermsPage { sheet: TextPage::new(columns), draft };
    page.sheet.line(format!("{}: terms and names", visible(draft.path)));
    page.sheet.line(String::new());
    page.terms(terms);
    page.names(&terms.names);
    if let Some((told, borrowed)) = told.zip(terms.borrowed.as_ref()) {
        page.taken(borrowed, told);
    }
    page.sheet.text()
}

/// The page about the manuscript.
pub fn story(told: ManuscriptText, columns: usize) -> String {
    let mut page = TermsPage { sheet: TextPage::new(columns), draft: told.source };
    page.story(told);
    page.sheet.text()
}

/// The text below all pages.
pub fn rules(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(String::new());
    sheet.labelled(
        "Counted",
        "terms in headline and blurb, in any case, over line ends and markup, with regular endings and possessives; \
         names in all that is printed. What is near a term is shown and never counted.",
    );
    sheet.text()
}

struct TermsPage<'a> {
    sheet: TextPage,
    draft: SourceText<'a>,
}

impl TermsPage<'_> {
    fn terms(&mut self, terms: &TermsReport) {
        let coverage = &terms.coverage;
        self.sheet.labelled("Terms", &carried(coverage.covered(), coverage.wanted()));
        for (item, near) in coverage.items.iter().zip(&terms.near) {
            self.sheet.line(String::new());
            self.sheet.labelled("", &heading(item));
            item.spans.iter().for_each(|span| self.place(*span));
            near.iter().for_each(|near| self.near(near));
        }
        for avoided in coverage.avoid.iter().filter(|avoided| !avoided.spans.is_empty()) {
            self.sheet.line(String::new());
            self.sheet
                .labelled("", &format!("{}, to be avoided: {}", visible(&avoided.wording), times(avoided.spans.len())));
            avoided.spans.iter().for_each(|span| self.place(*span));
        }
    }

    /// A line such as `3:29 Oona climbs the [lighthouse] stairs with her`.
    fn place(&mut self, span: Span) {
        self.sheet.item(&format!("{} {}", at(self.draft, span), around(self.draft, span)));
    }

    fn near(&mut self, near: &Near) {
        let wording = visible(&near.wording);
        let why = match near.kind {
            NearKind::Spelling => format!("spelt nearly like {wording}"),
            NearKind::Broken => format!("the words of {wording}, apart or in another order"),
            NearKind::Family => format!("of the family of {wording}"),
        };
        self.sheet.item(&format!(
            "{} near, not counted: {} ({why})",
            at(self.draft, near.span),
            around(self.draft, near.span)
        ));
    }

    fn names(&mut self, names: &[NameSpelling]) {
        let mut label = "Names";
        self.sheet.line(String::new());
        if names.is_empty() {
            self.sheet.labelled(label, "the brief has none");
        }
        for name in names {
            let spelt = match name.spans.len() {
                0 => "not in this draft".to_owned(),
                count => format!("{}, {}", times(count), lines(&name.spans, self.draft)),
            };
            self.sheet.labelled(label, &format!("{}: {spelt}", visible(&name.name)));
            for twin in &name.twins {
                self.sheet.item(&format!(
                    "{} {} (spelt nearly like {}; if it is another name, put it among the brief's names)",
                    at(self.draft, twin.span),
                    around(self.draft, twin.span),
                    visible(&twin.near)
                ));
            }
            label = "";
        }
    }

    fn story(&mut self, told: ManuscriptText) {
        let story = &told.manuscript.story;
        self.sheet.line(format!("{}: the story, {}", visible(told.source.path), counted(story.len(), "word")));
        self.sheet.line(String::new());
        let lists = [("Words", &story.words), ("Phrases", &story.phrases)];
        for (label, candidates) in lists {
            self.sheet
                .labelled(label, &format!("its own, against English prose at large: {}", listed(candidates, told)));
        }
        if story.names.is_empty() {
            self.sheet.labelled("Names", "none");
        }
        let groups = [("in the brief", NameStanding::Declared), ("not in the brief", NameStanding::Unknown)];
        let mut label = "Names";
        for (name, standing) in groups {
            let of_group = names_with(told, |own| *own == standing);
            if !of_group.is_empty() {
                self.sheet.labelled(label, &format!("{name}: {}", first_of(&of_group, MOST_NAMES)));
                label = "";
            }
        }
        for near in names_with(told, |own| matches!(own, NameStanding::Near(_))) {
            self.sheet.item(&near);
        }
    }

    fn taken(&mut self, borrowed: &Borrowed, told: ManuscriptText) {
        self.sheet.line(String::new());
        if told.manuscript.story.is_empty() {
            self.sheet.labelled("Story", &format!("{} holds no words to compare with", visible(told.source.path)));
            return;
        }
        self.list("Late", "of the draft's wording, none stands in the story's last fifth alone", &borrowed.late, told);
        self.list("Lifted", "no sentence of the draft stands in the story word for word", &borrowed.sentences, told);
    }

    fn list(&mut self, label: &str, nothing: &str, found: &[Taken], told: ManuscriptText) {
        if found.is_empty() {
            self.sheet.labelled(label, nothing);
            return;
        }
        let about = match label {
            "Late" => "in the story's last fifth and nowhere before in any form, so it may give the end away:",
            _ => "in the story word for word:",
        };
        self.sheet.labelled(label, about);
        for taken in found {
            let (line, _) = told.source.lines.place(taken.in_story.start);
            self.sheet.item(&format!(
                "{} {} (line {line} of the story)",
                at(self.draft, taken.in_draft),
                around(self.draft, taken.in_draft)
            ));
        }
    }
}

/// A heading such as `lighthouse, which must be there: twice`.
fn heading(item: &CoveredTerm) -> String {
    let term = visible(&item.term.term);
    let must = if item.term.must { ", which must be there" } else { "" };
    let most = item.term.at_most.map_or(String::new(), |most| format!(", at most {}", times(most as usize)));
    let found = if item.is_present() { times(item.count()) } else { "missing".to_owned() };
    let over = if item.is_overdone() { ", which is too often" } else { "" };
    format!("{term}{must}{most}: {found}{over}")
}

fn at(source: SourceText, span: Span) -> String {
    let (line, column) = source.lines.place(span.start);
    format!("{line}:{column}")
}

/// Line numbers in words: `line 3`, `lines 3, 7 and 9`.
fn lines(spans: &[Span], source: SourceText) -> String {
    let mut lines: Vec<usize> = spans.iter().map(|span| source.lines.place(span.start).0).collect();
    lines.dedup();
    format!("{} {}", in_number(lines.len(), "line"), joined(lines.iter().map(usize::to_string).collect()))
}

/// A stretch of a file in square brackets, with a few words of its paragraph on either side, on one line and without
/// markup.
fn around(source: SourceText, span: Span) -> String {
    let text = source.text;
    let plain = |from: usize, to: usize| {
        let stretch = text.get(from..to).unwrap_or_default();
        stretch.replace("\r\n", "\n").replace('\r', "\n").replace(['*', '_', '#', '>'], "")
    };
    let first = text.floor_char_boundary(span.start.saturating_sub(BYTES_AROUND));
    let last = text.ceil_char_boundary((span.end + BYTES_AROUND).min(text.len()));
    let (before, found, after) = (plain(first, span.start), plain(span.start, span.end), plain(span.end, last));
    let before = before.rsplit("\n\n").next().unwrap_or_default();
    let after = after.split("\n\n").next().unwrap_or_default();
    let mut left: Vec<&str> = before.split_whitespace().rev().take(WORDS_AROUND).collect();
    left.reverse();
    let right: Vec<&str> = after.split_whitespace().take(WORDS_AROUND).collect();
    let (left, right) = (left.join(" "), right.join(" "));
    let blank = |beside: bool| if beside { " " } else { "" };
    let shown = format!(
        "{}{}[{}]{}{}",
        end_of(&left),
        blank(before.ends_with(char::is_whitespace)),
        found.split_whitespace().collect::<Vec<_>>().join(" "),
        blank(after.starts_with(char::is_whitespace)),
        beginning_of(&right)
    );
    visible(shown.trim()).into_owned()
}

/// The end of a text, from the start of a word on.
fn end_of(text: &str) -> &str {
    let mut bounds = text.split_word_bound_indices().map(|(at, _)| at);
    let from = bounds.find(|at| text.len() - at <= MOST_BYTES_AROUND).unwrap_or(text.len());
    &text[from..]
}

/// The start of a text, up to the end of a word.
fn beginning_of(text: &str) -> &str {
    let bounds = text.split_word_bound_indices().map(|(at, word)| at + word.len());
    &text[..bounds.take_while(|end| *end <= MOST_BYTES_AROUND).last().unwrap_or(0)]
}

/// A list such as `boats 10, stairs 8, lighthouse 4 (in the brief)`.
fn listed(candidates: &[Candidate], told: ManuscriptText) -> String {
    let one = |candidate: &Candidate| {
        let known = if told.has(candidate) { " (in the brief)" } else { "" };
        format!("{} {}{known}", visible(&candidate.wording), candidate.count)
    };
    first_of(&candidates.iter().map(one).collect::<Vec<_>>(), MOST_CANDIDATES)
}

/// The first few of a list, and how many more there are.
fn first_of(items: &[String], most: usize) -> String {
    let more = items.len().saturating_sub(most);
    let rest = if more > 0 { format!(", and {more} more") } else { String::new() };
    let shown = items[..items.len() - more].join(", ");
    if shown.is_empty() { "none".to_owned() } else { format!("{shown}{rest}") }
}

/// The story's names with a given standing: `Oona 13`, `Quilon 2 (line 40; spelt nearly like Quillon)`.
fn names_with(told: ManuscriptText, wanted: impl Fn(&NameStanding) -> bool) -> Vec<String> {
    let names = told.manuscript.story.names.iter().zip(&told.manuscript.standings);
    names
        .filter(|(_, standing)| wanted(standing))
        .map(|(name, standing)| told_name(name, standing, told.source))
        .collect()
}

fn told_name(name: &Named, standing: &NameStanding, source: SourceText) -> String {
    let line = |span: Span| source.lines.place(span.start).0;
    let near = match standing {
        NameStanding::Near(near) => {
            Some(format!("line {}; spelt nearly like {} in the brief", line(name.first), visible(near)))
        }
        NameStanding::Declared | NameStanding::Unknown => None,
    };
    let variants = name.variants.iter().map(|variant| {
        format!("also {}, {}, line {}", visible(&variant.written), times(variant.count), line(variant.first))
    });
    let remarks: Vec<String> = near.into_iter().chain(variants).collect();
    let remarks = if remarks.is_empty() { String::new() } else { format!(" ({})", remarks.join("; ")) };
    format!("{} {}{remarks}", visible(&name.name), name.count)
}

/// The table of several drafts: a row for each term of the brief, a column for each draft that has it.
pub fn table(drafts: &[(&str, &Coverage)], columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line("Terms in every draft".to_owned());
    for (number, (path, _)) in drafts.iter().enumerate() {
        sheet.labelled(&(number + 1).to_string(), &visible(path));
    }
    // Drafts may have briefs of their own: every term has a row, where it is first asked for.
    let mut rows: Vec<&str> = Vec::new();
    for item in drafts.iter().flat_map(|(_, coverage)| &coverage.items) {
        if !rows.contains(&item.term.term.as_str()) {
            rows.push(&item.term.term);
        }
    }
    let width = rows.iter().map(|row| row.chars().count()).max().unwrap_or(0).clamp(LABEL, WIDEST_TERM);
    let cell = CELL;
    // Drafts that find no room beside the others get another table below.
    let at_once = (sheet.columns().saturating_sub(width) / cell).max(1);
    let numbered: Vec<(usize, &Coverage)> =
        drafts.iter().enumerate().map(|(at, (_, coverage))| (at + 1, *coverage)).collect();
    for part in numbered.chunks(at_once) {
        sheet.line(String::new());
        let line = |name: &str, cells: Vec<String>| {
            let cells: String = cells.iter().map(|text| format!("{text:>cell$}")).collect();
            format!("{:width$}{cells}", cut(name, width))
        };
        sheet.line(line("", part.iter().map(|(number, _)| number.to_string()).collect()));
        for row in &rows {
            sheet.line(line(row, part.iter().map(|(_, coverage)| count_of(row, coverage)).collect()));
        }
        let covered = part.iter().map(|(_, coverage)| format!("{}/{}", coverage.covered(), coverage.wanted()));
        sheet.line(line("covered", covered.collect()));
    }
    sheet.text()
}

/// The columns of the table for one draft.
const CELL: usize = 7;

/// How often a draft has a term; a dash where the draft's brief does not ask for the term.
fn count_of(term: &str, coverage: &Coverage) -> String {
    coverage.items.iter().find(|item| item.term.term == term).map_or("-".to_owned(), |item| item.count().to_string())
}

/// A name, cut to so many columns.
fn cut(name: &str, width: usize) -> String {
    let shown = visible(name);
    if shown.chars().count() <= width {
        return shown.into_owned();
    }
    shown.chars().take(width - 1).chain(['…']).collect()
}
