//! Drafts side by side as a page of text: a table, what beats what, and for two drafts every difference with what it
//! did.

use super::sheet::TextPage;
use super::visible::{in_a_row, visible};
use super::words::{counted, estimate, joined, named, style_missing};
use crate::art::lines::Grade;
use crate::report::art_effects::LineOnArt;
use crate::report::comparison::{Comparison, ComparisonRow, RowSubject, RowValue};
use crate::report::differences::{ChangeKind, DifferenceMark, Differences, ShownStretch};
use crate::report::effects::{Effects, Figures, PlaceFigures};
use crate::units::nouns::{agrees, in_number};
use crate::units::trimmed;

/// The sign after the best value of a row.
pub const BEST: &str = "*";
/// The sign after a value outside its limit.
pub const OUTSIDE: &str = "!";

/// What a page shows.
pub struct ComparisonPage<'a> {
    /// The title of the book; empty where the drafts belong to several books.
    pub title: &'a str,
    /// The drafts, in the order of the table.
    pub names: &'a [String],
    /// The comparison.
    pub comparison: &'a Comparison,
    /// The differences, where exactly two drafts are compared.
    pub between: Option<Between<'a>>,
}

/// The changes between two drafts, and their effects.
#[derive(Clone, Copy)]
pub struct Between<'a> {
    /// The changes.
    pub differences: &'a Differences<'a>,
    /// The effects of the changes.
    pub effects: &'a Effects,
}

/// Blanks between the columns of the table.
const GAP: usize = 2;
/// The narrowest column of a draft.
const NARROWEST: usize = 7;

/// The page for a width of `columns` columns, ending with a line ending.
pub fn written(page: &ComparisonPage<'_>, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let title = visible(page.title);
    let heading = format!("{} side by side", counted(page.names.len(), "draft"));
    sheet.line(if title.is_empty() { heading } else { format!("{title}: {heading}") });
    sheet.line(String::new());
    for (number, name) in page.names.iter().enumerate() {
        sheet.indented(&format!("{:>3}  {}", number + 1, visible(name)), 5);
    }
    sheet.line(String::new());
    table(&mut sheet, page);
    for sentence in signs(page.comparison) {
        sheet.indented(&sentence, 2);
    }
    sheet.line(String::new());
    for sentence in beaten(page.comparison) {
        sheet.indented(&sentence, 2);
    }
    if let Some(between) = page.between {
        sheet.line(String::new());
        differences(&mut sheet, between);
    }
    sheet.text()
}

/// The table, split into several tables one below another where the page is too narrow for all drafts at once.
fn table(sheet: &mut TextPage, page: &ComparisonPage<'_>) {
    let rows = &page.comparison.rows;
    let labels: Vec<String> = rows.iter().map(label).collect();
    let limits: Vec<String> = rows.iter().map(limit).collect();
    let cells: Vec<Vec<String>> = rows.iter().map(signed).collect();
    let widest = |texts: &mut dyn Iterator<Item = &String>| texts.map(|text| text.chars().count()).max().unwrap_or(0);
    let label_width = widest(&mut labels.iter());
    let limit_width = widest(&mut limits.iter()).max("limit".len());
    let width = widest(&mut cells.iter().flatten()).max(NARROWEST);
    let beside = label_width + GAP + limit_width;
    let at_once = (sheet.columns().saturating_sub(beside) / (width + GAP)).max(1);
    let numbers: Vec<usize> = (0..page.names.len()).collect();
    for group in numbers.chunks(at_once) {
        let mut line = |label: &str, limit: &str, cell: &dyn Fn(usize) -> String| {
            let cells: String = group.iter().map(|draft| format!("{:GAP$}{:<width$}", "", cell(*draft))).collect();
            sheet.line(format!("{label:<label_width$}{:GAP$}{limit:<limit_width$}{cells}", ""));
        };
        line("", "limit", &|draft| format!("{}", draft + 1));
        for row in 0..rows.len() {
            line(&labels[row], &limits[row], &|draft| cells[row][draft].clone());
        }
        sheet.line(String::new());
    }
}

/// What a row is called.
pub fn label(row: &ComparisonRow) -> String {
    match &row.subject {
        RowSubject::Measure(crate::brief::limits::Measure::Level) => "level, grade (band)".to_owned(),
        RowSubject::Measure(crate::brief::limits::Measure::LongestSentence) => "longest sentence".to_owned(),
        RowSubject::Measure(measure) => measure.name().to_owned(),
        RowSubject::Terms => "terms carried".to_owned(),
        RowSubject::MustMissing => "must terms missing".to_owned(),
        RowSubject::Term(term) => format!("- {}", visible(term)),
        RowSubject::Fit => "lines left or over".to_owned(),
        RowSubject::Place(place) => format!("- {}", named(place)),
        RowSubject::LargestSize => "largest size".to_owned(),
        RowSubject::LinesLost => "lines lost on art".to_owned(),
        RowSubject::TitleLost => "spine title lost on art".to_owned(),
        RowSubject::LinesHard => "lines hard on art".to_owned(),
        RowSubject::LimitsOutside => "limits not kept".to_owned(),
        RowSubject::Queries => "queries left".to_owned(),
    }
}

/// The limit of a row, or its usual range: `40 to 100`, `usual 40 to 100`; empty where there is neither.
pub fn limit(row: &ComparisonRow) -> String {
    let usual = || row.usual.map_or(String::new(), |range| format!("usual {range}"));
    row.limit.map_or_else(usual, |range| range.to_string())
}

/// A value as it is shown.
pub fn shown(value: RowValue) -> String {
    match value {
        RowValue::Number(None) => "none".to_owned(),
        RowValue::Level(None) => "not told".to_owned(),
        RowValue::Number(Some(number)) => trimmed(number, 1),
        RowValue::Level(Some((grade, low, high))) if low == high => format!("{} ({low})", trimmed(grade, 1)),
        RowValue::Level(Some((grade, low, high))) => format!("{} ({low}-{high})", trimmed(grade, 1)),
        RowValue::OutOf(some, all) => format!("{some} of {all}"),
        RowValue::Fit { over: 0, fits: false, .. } => "too wide".to_owned(),
        RowValue::Fit { over: 0, spare, .. } => format!("{spare} left"),
        RowValue::Fit { over, .. } => format!("{over} over"),
        RowValue::Size(None) => "none fits".to_owned(),
        RowValue::Size(Some(size)) => size.to_string(),
    }
}

/// The values of a row with their signs.
pub fn signed(row: &ComparisonRow) -> Vec<String> {
    let cell = |cell: &crate::report::comparison::Cell| {
        let best = if cell.best { " *" } else { "" };
        let outside = if cell.within == Some(false) { " !" } else { "" };
        format!("{}{best}{outside}", shown(cell.value))
    };
    row.cells.iter().map(cell).collect()
}

/// What the signs in the table mean, for the signs that occur in it, by which measure its levels are, and whether any
/// fit in the table is an estimate.
pub fn signs(comparison: &Comparison) -> Vec<String> {
    let cells = || comparison.rows.iter().flat_map(|row| &row.cells);
    let mut signs = Vec::new();
    if cells().any(|cell| cell.best) {
        signs.push(format!(
            "{BEST} the best of its row: within the limit or nearest to it; more terms, fewer lines over, a larger \
             size, fewer limits not kept, fewer queries. Where no value is better, and where all are as good, none is \
             marked."
        ));
    }
    if cells().any(|cell| cell.within == Some(false)) {
        signs.push(format!("{OUTSIDE} outside its limit"));
    }
    signs.extend(comparison.level_measure.map(|measure| {
        let name = measure.facts().name;
        if comparison.has_other_measures {
            format!(
                "Levels are told by {name} here, so that they can be compared; the limit is held against the measure \
                 that `measure` tells of each draft."
            )
        } else {
            format!("Levels are by {name}.")
        }
    }));
    signs.extend(comparison.estimated.iter().map(estimate));
    signs.extend(comparison.styles_missing.iter().map(style_missing));
    signs
}

/// The drafts that are beaten, a sentence each: another draft is nowhere worse, and better in what the sentence lists.
pub fn beaten(comparison: &Comparison) -> Vec<String> {
    if comparison.beaten.is_empty() {
        return vec![
            "No draft is beaten by another on every measure: each is better somewhere, or as good.".to_owned(),
        ];
    }
    let sentence = |beaten: &crate::report::comparison::Beaten| {
        let worse = beaten.worse.iter().map(|row| {
            let row = &comparison.rows[*row];
            let value = |draft: usize| shown(row.cells[draft].value);
            format!("{} ({} against {})", label(row).trim_start_matches("- "), value(beaten.draft), value(beaten.by))
        });
        format!(
            "Draft {} is beaten by draft {}: it is nowhere better, and worse in {}.",
            beaten.draft + 1,
            beaten.by + 1,
            joined(worse.collect())
        )
    };
    comparison.beaten.iter().map(sentence).collect()
}

/// The differences of two drafts, and the effect of each.
fn differences(sheet: &mut TextPage, between: Between<'_>) {
    let Between { differences, effects } = between;
    let changes = &differences.changes;
    if changes.is_empty() {
        sheet.line("The two drafts print the same.".to_owned());
        return;
    }
    sheet.line(format!("From draft 1 to draft 2: {}", counted(changes.len(), "change")));
    sheet.line(String::new());
    for (kind, sentences) in differences.shown() {
        let words: Vec<String> = sentences.iter().map(|sentence| in_signs(sentence, differences)).collect();
        sheet.indented(&format!("[{}] {}", kind.name(), words.concat()), 2);
    }
    sheet.line(String::new());
    sheet.indented(LEGEND, 0);
    sheet.line(String::new());
    if effects.after.is_empty() {
        sheet.indented("There are too many changes in too long a text to tell what each of them did.", 0);
    } else {
        steps(sheet, between);
    }
    for sentence in turns(effects) {
        sheet.indented(&sentence, 2);
    }
}

/// Explains how a difference is marked.
const LEGEND: &str = "{3: old > new} is change 3: before the > stands what is gone, behind it what is new. A \
                          sentence that was moved has the same number at both places.";

/// A sentence with its changes marked.
pub fn in_signs(sentence: &[ShownStretch], differences: &Differences<'_>) -> String {
    let mut text = String::new();
    let mut rest = sentence;
    while let Some((first, behind)) = rest.split_first() {
        rest = behind;
        let words = in_a_row(&first.text);
        match first.mark {
            DifferenceMark::Kept => text.push_str(&words),
            DifferenceMark::New(change) => text.push_str(&altered(change, "", &words, differences)),
            DifferenceMark::Gone(change) => {
                let replaced = rest.first().filter(|next| next.mark == DifferenceMark::New(change));
                rest = &rest[usize::from(replaced.is_some())..];
                let new = replaced.map_or(String::new(), |next| in_a_row(&next.text));
                text.push_str(&altered(change, &words, &new, differences));
            }
        }
    }
    text
}

/// `{3: old > new}`; blanks at the ends of the words stand outside the braces.
fn altered(change: usize, gone: &str, new: &str, differences: &Differences<'_>) -> String {
    let nothing = if is_moved(differences, change) { " elsewhere" } else { "" };
    in_braces(&format!("{}:", change + 1), gone, new, nothing)
}

/// `{old > new}` after a label. Blanks at the ends of the words stand outside the braces, and `nothing` stands for no
/// words.
pub(crate) fn in_braces(label: &str, gone: &str, new: &str, nothing: &str) -> String {
    let longer = if gone.is_empty() { new } else { gone };
    let lead = if longer.starts_with(' ') { " " } else { "" };
    let tail = if longer.ends_with(' ') { " " } else { "" };
    let said = |words: &str| match words.trim() {
        "" => nothing.to_owned(),
        words => format!(" {words}"),
    };
    let inner = format!("{label}{} >{}", said(gone), said(new));
    format!("{lead}{{{}}}{tail}", inner.trim_start())
}

fn is_moved(differences: &Differences<'_>, change: usize) -> bool {
    differences.changes.get(change).is_some_and(|change| change.kind == ChangeKind::Moved)
}

/// One line for each change, and one for all changes together.
fn steps(sheet: &mut TextPage, Between { differences, effects }: Between<'_>) {
    sheet.line("change             lines letters  words  level  terms".to_owned());
    let mut line = |name: String, before: &Figures, after: &Figures, end: &str| {
        let [lines, letters, words, level, terms] = moved_by(before, after);
        sheet.line(format!("{name:<17} {lines:>6} {letters:>7} {words:>6} {level:>6} {terms:>6}{end}"));
        for sentence in in_places(before, after).into_iter().chain(on_art(before, after)) {
            sheet.indented(&format!("    {sentence}"), 6);
        }
    };
    for (number, change) in differences.changes.iter().enumerate() {
        let Some((before, after)) = effects.step(number) else { continue };
        line(format!("{:>3} {}", number + 1, sort_of(change.kind)), before, after, &turned(before, after));
    }
    line("    together".to_owned(), &effects.first, &effects.last, "");
    sheet.line(String::new());
    sheet.indented(
        "Lines, letters and words are of all that is printed; the level is that of the blurb. Each change is measured \
         with those above it made.",
        0,
    );
}

/// What a change did in each place that it let copy into or pushed copy out of: `"praise": 2 lines over, then it fits`.
pub fn in_places(before: &Figures, after: &Figures) -> Vec<String> {
    let state = |place: &PlaceFigures| match (place.lines_over, place.fits) {
        (0, true) => "it fits".to_owned(),
        (0, false) => "a word wider than its line".to_owned(),
        (over, _) => format!("{} over", counted(over, "line")),
    };
    let told = Effects::moved(before, after).into_iter();
    told.map(|(before, after)| format!("{}: {}, then {}", named(&before.name), state(before), state(after))).collect()
}

/// What a change did to lines on art, a sentence for each grade that lines have now: `lost on the art now: line 7 ("the
/// pier")`.
pub fn on_art(before: &Figures, after: &Figures) -> Vec<String> {
    let changed = Effects::on_art(before, after);
    let told = |grade: Option<Grade>| {
        let line = |line: &LineOnArt| format!("line {} (\"{}\")", line.line + 1, visible(&line.words));
        let lines: Vec<String> = changed.iter().filter(|line| line.after == grade).map(line).collect();
        let now = grade.map_or_else(
            || "no longer on the art, and not clear before".to_owned(),
            |grade| format!("{} on the art now", grade.name()),
        );
        (!lines.is_empty()).then(|| format!("{now}: {}", joined(lines)))
    };
    [Some(Grade::Lost), Some(Grade::Hard), Some(Grade::Clear), None].into_iter().filter_map(told).collect()
}

/// What the changes did to lines on art: a sentence for each change that did something, with those above it made, and
/// one for all of them together.
pub fn art_by_change(effects: &Effects) -> Vec<String> {
    let of_step = |number: usize| {
        let (before, after) = effects.step(number)?;
        Some((format!("Change {}", number + 1), on_art(before, after)))
    };
    let steps = (0..).map_while(of_step);
    let together = ("All changes together".to_owned(), on_art(&effects.first, &effects.last));
    let told = steps.chain([together]).filter(|(_, told)| !told.is_empty());
    told.map(|(what, told)| format!("{what}: {}.", told.join("; "))).collect()
}

fn turned(before: &Figures, after: &Figures) -> String {
    match (before.fits, after.fits) {
        (false, true) => "  now it fits".to_owned(),
        (true, false) => "  now it spills".to_owned(),
        _ => String::new(),
    }
}

/// A kind of change in a word: `inserted`, `deleted`, `replaced`, `moved`.
pub fn sort_of(kind: ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Inserted => "inserted",
        ChangeKind::Deleted => "deleted",
        ChangeKind::Replaced => "replaced",
        ChangeKind::Moved => "moved",
    }
}

/// The differences in lines, letters, words, level and terms, with plus and minus signs.
pub fn moved_by(before: &Figures, after: &Figures) -> [String; 5] {
    let count = |before: usize, after: usize| signed_number(after as f64 - before as f64);
    let level = match (before.grade, after.grade) {
        (Some(before), Some(after)) => signed_number(after - before),
        (None, None) => "0".to_owned(),
        _ => "?".to_owned(),
    };
    [
        count(before.lines, after.lines),
        count(before.letters, after.letters),
        count(before.words, after.words),
        level,
        count(before.terms, after.terms),
    ]
}

fn signed_number(number: f64) -> String {
    let rounded = trimmed(number.abs(), 2);
    match (rounded.as_str(), number < 0.0) {
        ("0", _) => "0".to_owned(),
        (_, true) => format!("-{rounded}"),
        (_, false) => format!("+{rounded}"),
    }
}

/// Which changes made the draft fit or stop fitting, a sentence each.
pub fn turns(effects: &Effects) -> Vec<String> {
    let numbers = |changes: &[usize]| joined(changes.iter().map(|change| (change + 1).to_string()).collect());
    let became = |fits: bool| if fits { "fit" } else { "spill" };
    let mut sentences = Vec::new();
    for change in effects.turns() {
        let fits = effects.after[change].fits;
        sentences.push(format!("Change {} made it {}.", change + 1, became(fits)));
    }
    let alone = effects.enough_alone();
    if !alone.is_empty() {
        sentences.push(format!(
            "{} {} {} draft 1 {} without any other.",
            in_number(alone.len(), "Change"),
            numbers(&alone),
            agrees(alone.len(), "makes", "each make"),
            became(!effects.first.fits)
        ));
    }
    sentences
}
