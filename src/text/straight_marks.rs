//! Marks of a keyboard in the place of printed ones, and what a printer sets instead: quotation marks, apostrophes,
//! marks of feet and inches, dashes, dots, and the narrow blanks of French.
//!
//! A paragraph is walked once, with a note of the quotation that is open. A double mark opens behind a blank, a bracket
//! or a dash and before a word, and else closes; behind a figure, while no quotation is open, it measures inches. A
//! single mark inside a word, before a decade (`'90s`) and before a word that is known to be cut short (`'tis`) is an
//! apostrophe; another one before a word opens only if one that closes follows in the paragraph, and within the double
//! quotation that it stands in. Where that fails it may be a dropped letter of dialect or a quotation that never ends:
//! the author is asked, and nothing is changed.
//!
//! Source: the Chicago Manual of Style 6.115 to 6.118 and New Hart's Rules (from memory); the Lexique des règles
//! typographiques of the Imprimerie nationale has the blanks of French (from memory; all of them narrow here, common
//! practice). What an editor reads as a slip of another kind, such as a blank too many, is no matter of this file.

use std::ops::Range;

use super::dashes::{DashCustom, dash_for, runs};
use super::language::Language;
use super::paired_marks::unpaired;
use super::quotation_marks::QuotationMarks;
use super::single_marks::{SinglePlace, SinglePlaces, is_cut_short};

/// A stretch of a paragraph that a printer sets in another way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkChange {
    /// Bytes of the paragraph; none where something is put in.
    pub range: Range<usize>,
    /// What stands there in print.
    pub wording: String,
    /// What the stretch is.
    pub kind: MarkKind,
}

/// What a mark is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    /// A mark that opens or closes a quotation.
    Quote,
    /// A mark that stands for letters left out, or before the s of a possessive.
    Apostrophe,
    /// A mark of feet or inches.
    Prime,
    /// Hyphens in the place of a dash.
    Dash,
    /// Three stops in the place of an ellipsis.
    Dots,
    /// A blank that French sets narrow, beside a mark.
    Blank,
}

/// What was found in one paragraph.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FoundMarks {
    /// What is sure, in the order of the paragraph; no two share a byte.
    pub changes: Vec<MarkChange>,
    /// Single marks that may be an apostrophe or may open a quotation, as bytes of the paragraph.
    pub doubtful: Vec<Range<usize>>,
    /// Marks that open a quotation or a bracket that is never closed, or close one that was never opened.
    pub unpaired: Vec<Range<usize>>,
}

/// What the marks of a copy are set as: by its language, and by the printed marks that it has already.
#[derive(Debug, Clone, Copy)]
pub struct MarkCustom {
    quotes: QuotationMarks,
    dashes: DashCustom,
    language: Language,
    /// The blank inside a quotation's marks; empty where there is none.
    inside: &'static str,
    /// The blank before a colon and the like; empty where there is none.
    before_stop: &'static str,
}

/// A narrow blank at which no line ends.
const NARROW: &str = "\u{202f}";

impl MarkCustom {
    /// The custom of a copy by its language's BCP 47 tag and its paragraphs.
    pub fn of_copy<'t>(tag: &str, paragraphs: impl Iterator<Item = &'t str> + Clone) -> Self {
        let quotes = QuotationMarks::of_copy(tag, paragraphs.clone());
        let language = Language::of_tag(tag);
        let is_french = language == Language::French;
        // French of Canada has no blank before most stops (common practice).
        let is_canadian = tag.to_ascii_lowercase().starts_with("fr-ca");
        Self {
            quotes,
            dashes: DashCustom::of_copy(language, paragraphs),
            language,
            inside: if is_french && quotes.double.open == '«' { NARROW } else { "" },
            before_stop: if is_french && !is_canadian { NARROW } else { "" },
        }
    }
}

/// Finds the marks of a copy's paragraphs that a printer sets in another way, paragraph by paragraph. Speech that runs
/// over paragraphs is closed in the last of them, and each of the others opens it again.
pub fn find(tag: &str, paragraphs: &[&str]) -> Vec<FoundMarks> {
    let custom = MarkCustom::of_copy(tag, paragraphs.iter().copied());
    let opens = |text: &&str| text.starts_with(['"', '\'']) || text.starts_with(custom.quotes.double.open);
    let found = paragraphs.iter().enumerate().map(|(at, text)| {
        let goes_on = paragraphs.get(at + 1).is_some_and(opens);
        in_paragraph(text, &custom, goes_on)
    });
    found.collect()
}

/// Finds the marks of one paragraph; `goes_on` tells that the next one begins with a quotation mark.
pub fn in_paragraph(text: &str, custom: &MarkCustom, goes_on: bool) -> FoundMarks {
    let mut walk = MarkWalk::new(text, custom);
    for at in 0..walk.marks.len() {
        walk.step(at);
    }
    walk.end(goes_on);
    let mut found = walk.found;
    dashes_and_dots(text, custom, &mut found.changes);
    if !custom.before_stop.is_empty() {
        blanks_before_stops(text, custom.before_stop, &mut found.changes);
    }
    let quotes = custom.quotes;
    let own = [quotes.double.open, quotes.double.close, quotes.single.open, quotes.single.close];
    found.unpaired.extend(unpaired(text, &own, custom.language));
    found.changes.sort_by_key(|change| (change.range.start, change.range.end));
    found.changes.dedup_by(|next, last| next.range.start < last.range.end);
    found.unpaired.sort_by_key(|place| place.start);
    found
}

/// Hyphens for dashes and three stops in a row.
fn dashes_and_dots(text: &str, custom: &MarkCustom, changes: &mut Vec<MarkChange>) {
    for hyphens in runs(text, '-').filter(|hyphens| hyphens.len() <= 3) {
        let dash = dash_for(text, hyphens, custom.dashes);
        changes.extend(dash.map(|(range, wording)| MarkChange {
            range,
            wording: wording.to_owned(),
            kind: MarkKind::Dash,
        }));
    }
    let dots = runs(text, '.').filter(|dots| dots.len() == 3);
    changes.extend(dots.map(|range| MarkChange { range, wording: "…".to_owned(), kind: MarkKind::Dots }));
}

/// The blanks that French sets before `;`, `:`, `!` and `?`. A colon or a question mark inside an address or a time of
/// day has a letter or a figure behind it, and is left.
fn blanks_before_stops(text: &str, narrow: &str, changes: &mut Vec<MarkChange>) {
    const STOPS: [char; 4] = [';', ':', '!', '?'];
    for (at, _) in text.match_indices(STOPS) {
        let before = &text[..at];
        let stops = text[at..].trim_start_matches(STOPS);
        let stands_alone = !stops.starts_with(|c: char| c.is_alphanumeric() || c == '/');
        let word = before.trim_end_matches(' ');
        let follows_word = word.ends_with(|c: char| !c.is_whitespace() && !STOPS.contains(&c) && !"([¿¡".contains(c));
        if stands_alone && follows_word {
            changes.push(MarkChange { range: word.len()..at, wording: narrow.to_owned(), kind: MarkKind::Blank });
        }
    }
}

/// A mark of a paragraph that may open or close something.
#[derive(Debug, Clone, Copy)]
struct Mark {
    at: usize,
    mark: char,
    before: Option<char>,
    after: Option<char>,
}

impl Mark {
    fn range(self) -> Range<usize> {
        self.at..self.at + self.mark.len_utf8()
    }
}

/// A quotation that is open.
#[derive(Debug, Clone, Copy)]
struct OpenQuote {
    is_double: bool,
    mark: usize,
}

/// The walk over a paragraph's marks.
struct MarkWalk<'a> {
    text: &'a str,
    custom: &'a MarkCustom,
    marks: Vec<Mark>,
    singles: SinglePlaces,
    /// The double marks of the paragraph, printed ones too, by their bytes.
    doubles: Vec<usize>,
    quotes: Vec<OpenQuote>,
    brackets: Vec<usize>,
    /// The byte behind the last mark that opened a quotation: a mark right behind it opens too.
    opened: usize,
    found: FoundMarks,
}

impl<'a> MarkWalk<'a> {
    fn new(text: &'a str, custom: &'a MarkCustom) -> Self {
        let (double, single) = (custom.quotes.double, custom.quotes.single);
        let own = [double.open, double.close, single.open, single.close];
        let is_mark = |c: char| matches!(c, '"' | '\'' | '(' | ')' | '[' | ']' | '’' | '‘') || own.contains(&c);
        let (mut marks, mut before) = (Vec::new(), None);
        let mut letters = text.char_indices().peekable();
        while let Some((at, mark)) = letters.next() {
            if is_mark(mark) {
                marks.push(Mark { at, mark, before, after: letters.peek().map(|(_, after)| *after) });
            }
            before = Some(mark);
        }
        let is_double = |mark: &&Mark| mark.mark == '"' || [double.open, double.close].contains(&mark.mark);
        Self {
            text,
            custom,
            singles: SinglePlaces::of(text),
            doubles: marks.iter().filter(is_double).map(|mark| mark.at).collect(),
            marks,
            quotes: Vec::new(),
            brackets: Vec::new(),
            opened: usize::MAX,
            found: FoundMarks::default(),
        }
    }

    fn step(&mut self, number: usize) {
        let mark = self.marks[number];
        let (double, single) = (self.custom.quotes.double, self.custom.quotes.single);
        match mark.mark {
            '"' => self.double(mark),
            '\'' => self.single(mark),
            '(' | '[' => self.brackets.push(mark.at),
            ')' | ']' => self.close_bracket(mark),
            '‘' if double.close != '‘' && is_cut_short(self.after(mark), self.custom.language) => {
                self.change(mark, "’", MarkKind::Apostrophe);
            }
            // Where it may close a quotation too (Dutch), the apostrophe closes only what is open, and behind a word.
            '’' if double.close == '’' && (!self.is_open(true) || !self.may_close(mark)) => {}
            printed if printed == double.open || printed == double.close => {
                let opens = printed == double.open && (double.open != double.close || self.may_open(mark));
                if opens { self.open_printed(mark) } else { self.close(mark, true) }
            }
            // A printed single mark that closes looks like an apostrophe, so it is held against nothing.
            printed if printed == single.close && !self.is_inside_word(mark) => _ = self.pop(false),
            printed if printed == single.open => self.quotes.push(OpenQuote { is_double: false, mark: mark.at }),
            _ => {}
        }
    }

    fn double(&mut self, mark: Mark) {
        if self.is_inches(mark) {
            return self.change(mark, "″", MarkKind::Prime);
        }
        // Straight marks inside printed ones are a quotation inside the other.
        if self.quotes.last().is_some_and(|open| !open.is_double && self.text[open.mark..].starts_with('"')) {
            self.pop(false);
            return self.quote(mark, false, false);
        }
        if self.opens_within(mark) {
            self.quotes.push(OpenQuote { is_double: false, mark: mark.at });
            return self.quote(mark, false, true);
        }
        if self.opens_double(mark) {
            self.push_double(mark);
            self.quote(mark, true, true);
        } else {
            self.close(mark, true);
            self.quote(mark, true, false);
        }
    }

    /// Whether a straight double mark opens a quotation, by what stands beside it.
    fn opens_double(&self, mark: Mark) -> bool {
        let is_open = self.is_open(true);
        let before_word = mark.after.is_some_and(|c| !c.is_whitespace() && !",;:!?)]»”".contains(c));
        match mark.before {
            None => true,
            Some(_) if mark.at == self.opened => before_word,
            Some(c) if c.is_whitespace() => before_word || (!is_open && mark.after.is_some()),
            Some('(' | '[' | '{' | '¿' | '¡') => before_word,
            Some('-' | '–' | '—' | '/') => !is_open && before_word && mark.after.is_some_and(|c| c != '.'),
            Some(_) => !is_open && mark.after.is_some_and(char::is_alphanumeric),
        }
    }

    /// Whether a straight double mark opens a quotation within one that a printed mark has opened: it stands where one
    /// may open, a straight one closes it, and a printed one closes the other behind that.
    fn opens_within(&self, mark: Mark) -> bool {
        let double = self.custom.quotes.double;
        let is_printed = |at: usize| self.text[at..].starts_with(double.open);
        if double.open == double.close || !self.quotes.iter().any(|open| open.is_double && is_printed(open.mark)) {
            return false;
        }
        let ahead = &self.doubles[self.doubles.partition_point(|double| *double <= mark.at)..];
        let Some((next, behind)) = ahead.split_first() else { return false };
        let closes = self.text[*next..].starts_with('"') && !self.text[..*next].ends_with(char::is_whitespace);
        let printed = behind.iter().find(|at| !self.text[**at..].starts_with('"'));
        self.may_open(mark) && closes && printed.is_some_and(|at| self.text[*at..].starts_with(double.close))
    }

    fn single(&mut self, mark: Mark) {
        let place = self.singles.place(self.text, mark.at);
        if place == SinglePlace::Feet && !self.is_open(false) {
            return self.change(mark, "′", MarkKind::Prime);
        }
        if self.is_inside_word(mark) {
            return self.apostrophe(mark);
        }
        if !(self.may_open(mark) || mark.at == self.opened) {
            // Behind a word a mark closes what is open, but for the plural's possessive inside speech that goes on.
            let is_clipped = self.text[..mark.at].ends_with(['s', 'n', 'o', 'x', 'z', 'ß']);
            let is_possessive = place == SinglePlace::Weak && is_clipped && self.close_ahead(mark).is_some();
            return if self.is_open(false) && !is_possessive {
                self.pop(false);
                self.quote(mark, false, false);
            } else {
                self.apostrophe(mark);
            };
        }
        let after = self.after(mark);
        let begins_word = after.starts_with(|c: char| c.is_alphanumeric() || "…¿¡(\"“«.'".contains(c));
        let close = self.close_ahead(mark).filter(|_| begins_word && !self.is_open(false));
        if !begins_word {
            // Alone between blanks: `rock ' n ' roll`, or the end of speech that was spaced.
            return self.apostrophe(mark);
        }
        let cut_short = self.singles.cut_short(after, self.custom.language);
        if cut_short.is_some_and(|is_sure| is_sure || close.is_none()) {
            self.apostrophe(mark);
        } else if close.is_some() {
            self.quotes.push(OpenQuote { is_double: false, mark: mark.at });
            self.quote(mark, false, true);
        } else {
            self.found.doubtful.push(mark.range());
        }
    }

    /// The single mark that would close a quotation opened by this one: a sure one, or one that comes soon.
    fn close_ahead(&self, mark: Mark) -> Option<usize> {
        let end = if self.is_open(true) {
            let next = self.doubles.partition_point(|double| *double <= mark.at);
            self.doubles.get(next).copied().unwrap_or(self.text.len())
        } else {
            self.text.len()
        };
        self.singles.close_within(self.text, mark.at + 1, end)
    }

    fn is_inside_word(&self, mark: Mark) -> bool {
        mark.before.is_some_and(char::is_alphanumeric) && mark.after.is_some_and(char::is_alphanumeric)
    }

    /// Whether a mark stands where a quotation may close: behind something, and not before a word.
    fn may_close(&self, mark: Mark) -> bool {
        mark.before.is_some_and(|c| !c.is_whitespace() && !"([{—–".contains(c))
            && !mark.after.is_some_and(char::is_alphanumeric)
    }

    /// Whether a mark stands where a quotation may open: before a word, and behind none.
    fn may_open(&self, mark: Mark) -> bool {
        mark.before.is_none_or(|c| c.is_whitespace() || "([{—–-/¿¡“„«\"".contains(c))
            && mark.after.is_some_and(|c| !c.is_whitespace())
            && !(mark.before == Some('"') && mark.at != self.opened)
    }

    /// Whether a double mark measures: `6' 2"`, or a figure before it while no quotation is open or before a word such
    /// as `wide`.
    fn is_inches(&self, mark: Mark) -> bool {
        let before = &self.text[..mark.at];
        let ends_in_figure = before.ends_with(|c: char| c.is_ascii_digit() || "½¼¾".contains(c));
        let figure = before.trim_end_matches(|c: char| c.is_ascii_digit() || "./½¼¾".contains(c));
        if !ends_in_figure || mark.after.is_some_and(char::is_alphanumeric) {
            return false;
        }
        let has_feet = figure.trim_end().ends_with(['\'', '′']);
        let behind = self.text[mark.at + 1..].trim_start();
        let word = behind.split(|c: char| !c.is_alphabetic()).next().unwrap_or("");
        let is_measure = mark.after == Some(' ')
            && ["wide", "high", "tall", "long", "deep", "thick", "across", "x", "by"].contains(&word);
        has_feet || !self.is_open(true) || is_measure
    }

    fn after(&self, mark: Mark) -> &'a str {
        &self.text[mark.range().end..]
    }

    fn is_open(&self, double: bool) -> bool {
        self.quotes.iter().any(|quote| quote.is_double == double)
    }

    /// Opens a double quotation. One that is still open was never closed: nothing opens inside its own kind.
    fn push_double(&mut self, mark: Mark) {
        if let Some(open) = self.quotes.iter().position(|quote| quote.is_double) {
            let never_closed = self.quotes.remove(open).mark;
            self.unpaired(never_closed);
        }
        self.quotes.push(OpenQuote { is_double: true, mark: mark.at });
    }

    fn open_printed(&mut self, mark: Mark) {
        // One pair for both depths nests (French).
        if self.custom.quotes.double == self.custom.quotes.single {
            self.quotes.push(OpenQuote { is_double: true, mark: mark.at });
        } else {
            self.push_double(mark);
        }
        self.opened = mark.range().end;
        self.blank_inside(mark, true);
    }

    fn close(&mut self, mark: Mark, is_double: bool) {
        if !self.pop(is_double) && is_double {
            self.found.unpaired.push(mark.range());
        }
        if mark.mark == self.custom.quotes.double.close {
            self.blank_inside(mark, false);
        }
    }

    /// Closes the last quotation of a kind, with what is open inside it; gives whether there was one.
    fn pop(&mut self, is_double: bool) -> bool {
        let last = self.quotes.iter().rposition(|quote| quote.is_double == is_double);
        if let Some(last) = last {
            self.quotes.truncate(last);
        }
        last.is_some()
    }

    fn close_bracket(&mut self, mark: Mark) {
        let is_pair = |open: usize| self.text[open..].starts_with(if mark.mark == ')' { '(' } else { '[' });
        if self.brackets.last().is_some_and(|open| is_pair(*open)) {
            self.brackets.pop();
            return;
        }
        // A number of a list (`1)`) and a face made of marks (`:)`) have no other half.
        let before = &self.text[..mark.at];
        let is_list = before.len() <= 2 || before.ends_with(|c: char| c.is_ascii_digit() || ":;-".contains(c));
        if !is_list {
            self.found.unpaired.push(mark.range());
        }
    }

    /// What is still open at the paragraph's end was never closed, but for speech that the next paragraph goes on with.
    fn end(&mut self, goes_on: bool) {
        let open = std::mem::take(&mut self.quotes);
        // A single mark may as well be an apostrophe, unless it is one that can only open.
        let is_sure = |quote: &OpenQuote| quote.is_double || self.text[quote.mark..].starts_with(['“', '„', '«', '‚']);
        let left = open.into_iter().filter(|quote| is_sure(quote) && !goes_on).map(|quote| quote.mark);
        let is_face = |at: &usize| self.text[..*at].ends_with([':', ';', '-']);
        let brackets = std::mem::take(&mut self.brackets).into_iter().filter(|at| !is_face(at));
        left.chain(brackets.collect::<Vec<_>>()).for_each(|at| self.unpaired(at));
    }

    fn unpaired(&mut self, at: usize) {
        let long = self.text[at..].chars().next().map_or(0, char::len_utf8);
        self.found.unpaired.push(at..at + long);
    }

    fn apostrophe(&mut self, mark: Mark) {
        self.change(mark, "’", MarkKind::Apostrophe);
    }

    fn change(&mut self, mark: Mark, wording: &str, kind: MarkKind) {
        self.found.changes.push(MarkChange { range: mark.range(), wording: wording.to_owned(), kind });
    }

    /// Puts the printed mark, with the blank that its language has inside it, in the place of a straight one.
    fn quote(&mut self, mark: Mark, is_double: bool, opens: bool) {
        let pair = if is_double { self.custom.quotes.double } else { self.custom.quotes.single };
        let (Range { mut start, mut end }, printed) = (mark.range(), if opens { pair.open } else { pair.close });
        if opens {
            self.opened = end;
        }
        let inside = if matches!(printed, '«' | '»') { self.custom.inside } else { "" };
        let wording = match (inside.is_empty(), opens) {
            (true, _) => printed.to_string(),
            (false, true) => {
                end += usize::from(mark.after == Some(' '));
                format!("{printed}{inside}")
            }
            (false, false) => {
                start -= usize::from(mark.before == Some(' '));
                format!("{inside}{printed}")
            }
        };
        self.found.changes.push(MarkChange { range: start..end, wording, kind: MarkKind::Quote });
    }

    /// The blank inside a printed mark, where it is missing or as wide as one between words.
    fn blank_inside(&mut self, mark: Mark, opens: bool) {
        let Range { start, end } = mark.range();
        let beside = if opens { mark.after } else { mark.before };
        let range = match (beside, opens) {
            _ if self.custom.inside.is_empty() => return,
            (Some(' '), true) => end..end + 1,
            (Some(' '), false) => start - 1..start,
            (Some(c), _) if c.is_whitespace() => return,
            (_, true) => end..end,
            (_, false) => start..start,
        };
        let wording = self.custom.inside.to_owned();
        self.found.changes.push(MarkChange { range, wording, kind: MarkKind::Blank });
    }
}
