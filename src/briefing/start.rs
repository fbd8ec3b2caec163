//! The brief and the first draft of a new book, from a few answers.
//!
//! The brief explains every key that a brief can have. Values that are only usual, or not yet known, stand in it as
//! examples behind a `#`. Whatever the answers are, the brief made of them can be read.

use super::covers::{BINDINGS, BackArt, BarcodePlan, usual_trims};
use crate::brief::book::{Ages, Book, BookKind, check_isbn};
use crate::brief::lengths::Unit;
use crate::brief::limits::{Limits, Range, usual_for};
use crate::brief::panel::Binding;
use crate::brief::typography::BlockType;
use crate::brief::{Brief, bounds, chosen};
use crate::units::{Length, trimmed};

/// What an author can say about a book at the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answers {
    /// The title.
    pub title: String,
    /// Who wrote it; may be empty.
    pub author: String,
    /// What kind of book it is.
    pub kind: BookKind,
    /// The readers' ages.
    pub readers: Ages,
    /// The trim as the author wrote it, such as `8.5 x 8.5 in`.
    pub trim: String,
    /// How the book is bound where its back asks for nothing else; see [`Answers::bound`].
    pub binding: Binding,
    /// The barcode.
    pub barcode: BarcodePlan,
    /// What is behind the copy.
    pub art: BackArt,
    /// How the back is made.
    pub back: BackPlan,
    /// The terms that the copy should carry; may be none.
    pub terms: Vec<String>,
    /// The ISBN; may be empty.
    pub isbn: String,
}

/// How the back of a cover is made: where its pieces of copy stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BackPlan {
    /// All copy in one column down the panel.
    #[default]
    OneColumn,
    /// The headline, the copy, and a foot with the note on the author, other titles, age and price, each in a place.
    ThreePlaces,
    /// A jacket, with the blurb on its front flap and the note on the author on its back flap.
    Flaps,
}

impl BackPlan {
    /// Every plan.
    pub const ALL: [Self; 3] = [Self::OneColumn, Self::ThreePlaces, Self::Flaps];

    /// The plan as an author answers it.
    pub fn name(self) -> &'static str {
        match self {
            Self::OneColumn => "one column",
            Self::ThreePlaces => "three places",
            Self::Flaps => "flaps",
        }
    }
}

impl Answers {
    /// How the book is bound: flaps are those of a jacket for as long as they are chosen.
    pub fn bound(&self) -> Binding {
        if self.back == BackPlan::Flaps { Binding::Jacket } else { self.binding }
    }

    /// What a brief that is there answers of the questions on which a first draft depends: the kind of book, its
    /// readers, and how its back is made.
    pub fn of(brief: &Brief) -> Self {
        let back = match (brief.flaps.is_empty(), brief.panel.places.is_empty()) {
            (false, _) => BackPlan::Flaps,
            (true, false) => BackPlan::ThreePlaces,
            (true, true) => BackPlan::OneColumn,
        };
        Self {
            title: brief.book.title.clone(),
            kind: brief.book.kind,
            readers: brief.book.readers,
            back,
            ..Self::default()
        }
    }
}

impl Default for Answers {
    fn default() -> Self {
        let kind = BookKind::default();
        Self {
            title: String::new(),
            author: String::new(),
            kind,
            readers: kind.usual_readers(),
            trim: usual_trim(kind).to_owned(),
            binding: Binding::default(),
            barcode: BarcodePlan::default(),
            art: BackArt::default(),
            back: BackPlan::default(),
            terms: Vec::new(),
            isbn: String::new(),
        }
    }
}

/// A question, for a terminal to ask and for a script to answer by an option of the same name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// The title.
    Title,
    /// Who wrote it.
    Author,
    /// What kind of book it is.
    Kind,
    /// The readers' ages.
    Readers,
    /// The trim.
    Trim,
    /// How the book is bound.
    Binding,
    /// The barcode.
    Barcode,
    /// What is behind the copy.
    Art,
    /// How the back is made.
    Back,
    /// The terms.
    Terms,
    /// The ISBN.
    Isbn,
}

impl Question {
    /// Every question, in the order in which they are asked.
    pub const ALL: [Self; 11] = [
        Self::Title,
        Self::Author,
        Self::Kind,
        Self::Readers,
        Self::Trim,
        Self::Binding,
        Self::Barcode,
        Self::Art,
        Self::Back,
        Self::Terms,
        Self::Isbn,
    ];

    /// The question as it is asked.
    pub fn asked(self) -> String {
        match self {
            Self::Title => "What is the book's title?".to_owned(),
            Self::Author => "Who wrote it?".to_owned(),
            Self::Kind => format!("What kind of book is it? ({})", BookKind::ALL.map(BookKind::name).join(", ")),
            Self::Readers => "How old are its readers? (such as 4-8 or 12+)".to_owned(),
            Self::Trim => {
                "How large is the back cover once it is cut? (width x height, such as 8.5 x 8.5 in)".to_owned()
            }
            Self::Binding => {
                "How is it bound? (paperback; case, which is boards; jacket, a paper jacket round boards)".to_owned()
            }
            Self::Barcode => "Which barcode stands on the back? (none, plain, with price)".to_owned(),
            Self::Art => "What is behind the words? (plain, for paper or one colour; own picture; picture all round, \
                          which runs on from the front; small drawings)"
                .to_owned(),
            Self::Back => "How is the back made? (one column; three places, for the headline, the copy and the foot; \
                           flaps, with the blurb on a jacket's front flap)"
                .to_owned(),
            Self::Terms => {
                "Which words should the blurb carry? (with commas between them; they can be added later)".to_owned()
            }
            Self::Isbn => "What is its ISBN? (it can be added later)".to_owned(),
        }
    }

    /// The answer that holds if the author gives none; empty where there is no such answer.
    pub fn standing(self, answers: &Answers) -> String {
        match self {
            Self::Title => answers.title.clone(),
            Self::Author => answers.author.clone(),
            Self::Kind => answers.kind.name().to_owned(),
            Self::Readers => answers.readers.written(),
            Self::Trim => answers.trim.clone(),
            Self::Binding => answers.bound().name().to_owned(),
            Self::Barcode => answers.barcode.name().to_owned(),
            Self::Art => answers.art.name().to_owned(),
            Self::Back => answers.back.name().to_owned(),
            Self::Terms => answers.terms.join(", "),
            Self::Isbn => answers.isbn.clone(),
        }
    }

    /// Checks an answer and puts it among the others.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected.
    pub fn answer(self, answers: &mut Answers, text: &str) -> Result<(), String> {
        let text = clean(text);
        match self {
            Self::Title if text.is_empty() => return Err("a book needs a title; a working title will do".to_owned()),
            Self::Title => answers.title = text,
            Self::Author => answers.author = text,
            Self::Kind => {
                answers.kind = chosen(&text, &BookKind::ALL.map(|kind| (kind.name(), kind)))?;
                answers.readers = answers.kind.usual_readers();
                usual_trim(answers.kind).clone_into(&mut answers.trim);
                if answers.kind == BookKind::BoardBook && answers.back == BackPlan::Flaps {
                    answers.back = BackPlan::OneColumn;
                }
            }
            Self::Readers => answers.readers = Ages::checked(&text)?,
            Self::Trim => answers.trim = checked_trim(text)?,
            Self::Binding => {
                answers.binding = chosen(&text, &BINDINGS.map(|binding| (binding.name(), binding)))?;
                // Only a jacket has flaps.
                if answers.binding != Binding::Jacket && answers.back == BackPlan::Flaps {
                    answers.back = BackPlan::OneColumn;
                }
            }
            Self::Barcode => {
                answers.barcode = chosen(&text, &BarcodePlan::ALL.map(|barcode| (barcode.name(), barcode)))?;
            }
            Self::Art => answers.art = chosen(&text, &BackArt::ALL.map(|art| (art.name(), art)))?,
            Self::Back => {
                answers.back = checked_back(&text, answers.kind)?;
            }
            Self::Terms => answers.terms = checked_terms(&text)?,
            Self::Isbn if text.is_empty() => answers.isbn.clear(),
            Self::Isbn => {
                check_isbn(&text)?;
                answers.isbn = text;
            }
        }
        Ok(())
    }
}

/// The text as one line: without control characters and characters that YAML does not allow in a file, each stretch of
/// blanks made a single space.
fn clean(text: &str) -> String {
    let dropped =
        |c: &char| !c.is_whitespace() && (c.is_control() || matches!(c, '\u{feff}' | '\u{fffe}' | '\u{ffff}'));
    let kept: String = text.chars().filter(|c| !dropped(c)).collect();
    kept.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The commonest trim for a kind of book.
fn usual_trim(kind: BookKind) -> &'static str {
    usual_trims(kind).first().copied().unwrap_or_default()
}

/// The radius of the corners of a board book. Common practice.
const USUAL_CORNERS: &str = "8 mm";

/// The shortest side of a trim: on a smaller panel no copy has room beside a barcode inside the usual margins.
const SMALLEST_SIDE_INCHES: f64 = 2.5;

fn checked_trim(text: String) -> Result<String, String> {
    let size = bounds::TRIM.size(&text)?;
    for side in [size.width, size.height] {
        if !Length::inches(SMALLEST_SIDE_INCHES).fits(side) {
            let least = Unit::of(&text).unwrap_or(Unit::Inches).written(Length::inches(SMALLEST_SIDE_INCHES));
            return Err(format!(
                "\"{text}\" leaves no room for copy beside a barcode; each side must be {least} or more"
            ));
        }
    }
    Ok(text)
}

fn checked_back(text: &str, kind: BookKind) -> Result<BackPlan, String> {
    let back = chosen(text, &BackPlan::ALL.map(|back| (back.name(), back)))?;
    if back == BackPlan::Flaps && kind == BookKind::BoardBook {
        return Err("a board book has no flaps; write one column or three places".to_owned());
    }
    Ok(back)
}

/// The terms between the commas, each once.
fn checked_terms(text: &str) -> Result<Vec<String>, String> {
    let mut terms: Vec<String> = Vec::new();
    for term in text.split(',').map(str::trim).filter(|term| !term.is_empty()) {
        if !term.chars().any(char::is_alphanumeric) {
            return Err(format!("\"{term}\" holds no word; write words or phrases with commas between them"));
        }
        if !terms.iter().any(|known| known.to_lowercase() == term.to_lowercase()) {
            terms.push(term.to_owned());
        }
    }
    Ok(terms)
}

/// A new brief with every key explained.
pub fn brief(answers: &Answers) -> String {
    let filled = filled_lines(answers);
    // The template is filled line by line, so that nothing in an answer is taken for a place to be filled.
    let mut text = String::new();
    for line in include_str!("start/brief.yaml").lines() {
        let key = line.trim_start();
        let indent = &line[..line.len() - key.len()];
        let name = key.split(':').next().unwrap_or(key);
        match filled.iter().find(|(key, _)| name.strip_prefix('#') == Some(*key)) {
            Some((_, filled)) => text.extend([indent, filled]),
            None => text.push_str(line),
        }
        text.push('\n');
    }
    text
}

fn is_metric(answers: &Answers) -> bool {
    answers.trim.ends_with(['m', 'M'])
}

/// The lines that take the place of an example, by the example's key, without their indentation.
fn filled_lines(answers: &Answers) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    let mut fill = |key, value: &str| {
        if !value.is_empty() {
            lines.push((key, format!("{key}: {value}")));
        }
    };
    // Common practice: 3 mm and 10 to 13 mm in metric shops, an eighth and half an inch in American ones.
    let (bleed, margins) = if is_metric(answers) { ("3 mm", "12 mm") } else { ("0.125 in", "0.5 in") };
    fill("title", &quoted(&answers.title));
    fill("author", &quoted(&answers.author));
    fill("kind", answers.kind.name());
    fill("readers", &answers.readers.written());
    fill("isbn", &quoted(&answers.isbn));
    fill("trim", &quoted(&answers.trim));
    fill("bleed", bleed);
    fill("margins", margins);
    let terms: String = answers.terms.iter().map(|term| format!("\n  - {}", quoted(term))).collect();
    fill("terms", &terms);
    fill("binding", answers.bound().name());
    let add_on = match answers.barcode {
        BarcodePlan::None => None,
        BarcodePlan::Plain => Some("none"),
        BarcodePlan::WithPrice => Some("price"),
    };
    let barcode = |add_on| format!("EAN-13, scale: 80%, add_on: {add_on}, corner: foot-spine, clearance: 2 mm }}");
    fill("- { barcode", &add_on.map(barcode).unwrap_or_default());
    if answers.kind == BookKind::BoardBook {
        fill("round_corners", USUAL_CORNERS);
    }
    // What is only usual stays an example behind a `#` until the author puts it in force.
    let size = BlockType::usual(answers.kind).size;
    lines.push(("size", format!("#size: {size}")));
    lines.extend(usual_ranges(answers));
    lines.extend(back_lines(answers));
    // A picture that is not there yet cannot be read: it waits behind its # until its file is there.
    let art = |entry| {
        let wait = "# Once the picture is in its file, take the # away from the next line.";
        ("art", format!("{wait}\n  #art: {{ file: art/back.jpg, placed: bleed, {entry} }}"))
    };
    lines.extend(answers.art.entry().map(art));
    lines
}

/// The share of the live area's height that the foot's copy has, and how far down the headline may go.
const FOOT_SHARE: f64 = 0.22;
const HEADLINE_SHARE: f64 = 0.3;

/// Common practice: a flap of 75 to 100 mm, where the panel is as wide.
const FLAP_MM: [f64; 2] = [75.0, 100.0];

/// The lines on how the back is made: what the plan asks for is in force, and the rest an example behind a `#`.
fn back_lines(answers: &Answers) -> Vec<(&'static str, String)> {
    let Ok(trim) = bounds::TRIM.size(&answers.trim) else { return Vec::new() };
    let (width, height) = (trim.width.to_mm(), trim.height.to_mm());
    let margin = if is_metric(answers) { 12.0 } else { 12.7 };
    let written = |mm: f64| {
        let length = Length::mm(mm);
        let (number, unit) = if is_metric(answers) { (length.to_mm(), "mm") } else { (length.to_inches(), "in") };
        format!("{} {unit}", trimmed(number, if is_metric(answers) { 0 } else { 2 }))
    };
    let live = height - 2.0 * margin;
    let to_foot = |share: f64| written(margin + live * (1.0 - share));
    let head = format!("{{ name: headline, holds: headline, edges: {{ foot: {} }} }}", to_foot(HEADLINE_SHARE));
    let copy = format!(
        "{{ name: copy, holds: [blurb, quote], follows: headline, space: 12 pt, edges: {{ foot: {} }} }}",
        to_foot(1.0 - FOOT_SHARE)
    );
    let foot = format!(
        "{{ name: closing lines, holds: [note on the author, other titles, age line, price line], \
         edges: {{ head: {} }}, stack: foot }}",
        written(margin + live * (1.0 - FOOT_SHARE))
    );
    let flap = written((width * 0.45).clamp(FLAP_MM[0], FLAP_MM[1]).min(width * 0.95));
    let flap = |key: &str, held: &str| format!("{key}: {{ width: {flap}, holds: {held} }}");
    let flaps = [("front_flap", "blurb"), ("back_flap", "note on the author")];
    // What a book cannot have is no example.
    let mark = if answers.kind == BookKind::BoardBook { "# " } else { "#" };
    let mut lines: Vec<_> = flaps.iter().map(|(key, held)| (*key, format!("{mark}{}", flap(key, held)))).collect();
    let mut places = format!("#places: [{head}]");
    match answers.back {
        BackPlan::OneColumn => {}
        BackPlan::ThreePlaces => places = format!("places:\n    - {head}\n    - {copy}\n    - {foot}"),
        BackPlan::Flaps => lines = flaps.iter().map(|(key, held)| (*key, flap(key, held))).collect(),
    }
    lines.push(("places", places));
    lines
}

/// The ranges that are usual for the book, as examples of limits behind a `#`.
fn usual_ranges(answers: &Answers) -> impl Iterator<Item = (&'static str, String)> {
    let book = Book { kind: answers.kind, readers: answers.readers, ..Book::default() };
    usual_for(&book, &Limits::default()).into_iter().map(|usual| {
        let Range { from, to } = usual.range;
        let end = |end: Option<f64>| end.map_or(String::new(), |end| trimmed(end, 2));
        (usual.measure.key(), format!("#{}: {}..{}", usual.measure.key(), end(from), end(to)))
    })
}

/// A first draft, which measures and prints as it stands, with what the places of the back hold.
pub fn first_draft(answers: &Answers) -> String {
    let note = "## Note on the author\n\nWho made the book, in a line or two.\n\n";
    let parts = match answers.back {
        BackPlan::OneColumn => String::new(),
        BackPlan::ThreePlaces => {
            // A range takes an en dash in print.
            format!("{note}## Age line\n\nAges {}\n\n", answers.readers.written().replace('-', "–"))
        }
        BackPlan::Flaps => note.to_owned(),
    };
    include_str!("start/first.md").replacen("<!--", &format!("{parts}<!--"), 1)
}

/// What is told of copy that is still the text of a new draft.
pub const UNTOUCHED: &str = "this is still the text that a new draft begins with, and not copy";

/// Whether a block's words are those that a new draft begins with.
pub fn begins_a_draft(words: &str) -> bool {
    let page = include_str!("start/first.md");
    let copy = page.split("<!--").next().unwrap_or_default();
    copy.lines().any(|line| !line.is_empty() && line.trim_start_matches("# ") == words)
}

/// Text in double quotation marks, so that YAML reads any text as it is. An empty text stays empty, without marks.
fn quoted(text: &str) -> String {
    if text.is_empty() {
        return String::new();
    }
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
