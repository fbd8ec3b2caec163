//! The copy at every size, as a page of text and as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::findings::{self, FindingsJson};
use super::json::{EstimateJson, MissingStyleJson};
use super::sheet::TextPage;
use super::visible::visible;
use super::words::{amount, counted, estimate, joined, style_missing};
use crate::report::sizes::{Priced, SizeRow, Sizes};
use crate::units::{Length, trimmed};

/// The name of the present form of the JSON.
pub(super) const SCHEMA: &str = "blurbwright-fit-1";

/// The page for a reader with so many columns, its last line ended.
pub fn written(sizes: &Sizes, path: &str, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(format!("{}: the copy at every size", visible(path)));
    sheet.line(String::new());
    sheet.line("   size leading lines  room  left or  characters  words x-height".to_owned());
    sheet.line("     pt      pt              over         a line   held       mm".to_owned());
    for row in &sizes.rows {
        sheet.line(table_line(row, sizes));
    }
    sheet.line(String::new());
    sheet.indented("* the size in use", 0);
    sheet.indented(&largest(sizes), 0);
    for stand_in in &sizes.estimated {
        sheet.indented(&estimate(stand_in), 0);
    }
    for missing in &sizes.styles_missing {
        sheet.indented(&style_missing(missing), 0);
    }
    let advice = &sizes.advice;
    let least = trimmed(advice.x_height.to_mm(), 1);
    sheet.indented(
        &format!("small: an x-height below {least} mm, advised for {} ({})", advice.readers, advice.source),
        0,
    );
    if !sizes.prices.is_empty() {
        sheet.line(String::new());
        sheet.indented("What a line costs at the size in use:", 0);
    }
    for priced in &sizes.prices {
        write_price(&mut sheet, priced);
    }
    let lines: Vec<&str> = sizes.lines.iter().map(String::as_str).collect();
    let found = findings::sentences(&sizes.findings, &lines);
    if !found.is_empty() {
        sheet.line(String::new());
        sheet.indented("How the lines fall at the size in use:", 0);
        for sentence in found {
            sheet.indented(&format!("- {sentence}"), 2);
        }
    }
    sheet.text()
}

fn table_line(row: &SizeRow, sizes: &Sizes) -> String {
    let cast = &row.castoff;
    let left = match (cast.lines_over, row.fits) {
        (0, true) => format!("{} left", cast.lines_spare),
        (0, false) => "too wide".to_owned(),
        (over, _) => format!("{over} over"),
    };
    let small = if row.x_height < sizes.advice.x_height { " small" } else { "" };
    format!(
        "{} {:>5} {:>7} {:>5} {:>5}  {left:<8} {:>10} {:>6} {:>8}{small}",
        if row.own { "*" } else { " " },
        points(row.size),
        points(row.leading),
        cast.lines,
        cast.lines_available,
        row.characters_a_line,
        row.words_held,
        format!("{:.2}", row.x_height.to_mm()),
    )
}

fn points(length: Length) -> String {
    trimmed(length.to_pt(), 1)
}

fn largest(sizes: &Sizes) -> String {
    let Some(largest) = sizes.largest else { return "No size from 4 to 40 pt fits.".to_owned() };
    if sizes.gaps.is_empty() {
        return format!("The largest size that fits is {largest}.");
    }
    let gaps = joined(sizes.gaps.iter().map(|size| points(*size)).collect());
    format!(
        "The largest size that fits is {largest}; below it, {gaps} pt does not fit, for lines fall otherwise beside a keep-out."
    )
}

pub(super) fn write_price(sheet: &mut TextPage, priced: &Priced) {
    let price = &priced.price;
    let opening = visible(&priced.opening);
    let dots = if priced.goes_on { " ..." } else { "" };
    let room = match price.letters_spare {
        0 => "no room for a letter more".to_owned(),
        letters => format!("room for {} more", counted(letters, "letter")),
    };
    sheet.indented(
        &format!("- {}, \"{opening}{dots}\": {}, {room}", priced.kind.name(), counted(price.lines, "line")),
        2,
    );
    if !price.searched {
        sheet.indented("  what would win a line back was not found: there is too much copy to try every stretch", 2);
    }
    if let Some(win) = &price.win {
        let whole = priced.stretch.as_ref().map_or(String::new(), |stretch| {
            let (text, copy) = (visible(&stretch.text), amount(stretch.words, stretch.letters));
            format!("; in whole words, \"{text}\" could go: {copy}")
        });
        let (letters, lines) = (counted(win.letters, "letter"), counted(price.lines.saturating_sub(1), "line"));
        sheet.indented(&format!("  {letters} too many for {lines}{whole}"), 2);
    }
}

/// The copy of one draft at every size.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SizesJson {
    /// The name of this form.
    schema: &'static str,
    /// The draft's file as it was named.
    path: String,
    /// The largest size that fits, from 4 to 40 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
    /// Smaller sizes that do not fit although the largest does.
    gaps_pt: Vec<f64>,
    /// The least x-height that is advised for the readers, in millimetres.
    advised_x_height_mm: f64,
    /// Where that is said.
    advice_source: &'static str,
    /// From the smallest size to the largest.
    sizes: Vec<RowJson>,
    /// What a line costs in each paragraph at the brief's size.
    paragraphs: Vec<PriceJson>,
    /// Styles that the copy asks for and its font has not.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts that are not at hand, for which the built-in serif stands in; all of it is an estimate where there is one.
    fonts_stood_in: Vec<EstimateJson>,
    /// How the lines fall at the brief's size.
    findings: FindingsJson,
}

/// The copy at one size.
#[derive(Debug, Serialize, JsonSchema)]
struct RowJson {
    /// The size of the blurb.
    size_pt: f64,
    /// From baseline to baseline.
    leading_pt: f64,
    /// Whether it is the brief's own size.
    own: bool,
    /// Whether every line has room.
    fits: bool,
    /// The lines that the copy takes.
    lines: usize,
    /// The lines that the room takes.
    lines_available: usize,
    /// The lines that have no room.
    lines_over: usize,
    /// The lines that are left.
    lines_spare: usize,
    /// Characters on a line of the blurb, on average over its lines but the last of each paragraph.
    characters_a_line: usize,
    /// About how many words of this author's the room holds.
    words_held: usize,
    /// The height of a small letter.
    x_height_mm: f64,
    /// Whether small letters are lower than is advised for the readers.
    small: bool,
}

/// What a line costs in one paragraph.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PriceJson {
    /// What part of the copy the paragraph belongs to.
    block: &'static str,
    /// Its first words.
    opening: String,
    /// The lines that it takes.
    lines: usize,
    /// How few letters must go to win a line back; null where only all of it would do.
    letters_to_win: Option<usize>,
    /// Whether every stretch was tried; false where there is too much copy for it, and nothing is known of what wins a line.
    all_tried: bool,
    /// Whole words that win it; null where only all of it would do.
    stretch: Option<String>,
    /// The letters of these words, which may be a few more.
    stretch_letters: Option<usize>,
    /// How many letters may be added before one more line spills.
    letters_spare: usize,
}

/// The JSON of one draft, without a line ending after it.
pub fn json(sizes: &Sizes, path: &str, style: super::json::Style) -> String {
    let row = |row: &SizeRow| RowJson {
        size_pt: row.size.to_pt(),
        leading_pt: row.leading.to_pt(),
        own: row.own,
        fits: row.fits,
        lines: row.castoff.lines,
        lines_available: row.castoff.lines_available,
        lines_over: row.castoff.lines_over,
        lines_spare: row.castoff.lines_spare,
        characters_a_line: row.characters_a_line,
        words_held: row.words_held,
        x_height_mm: row.x_height.to_mm(),
        small: row.x_height < sizes.advice.x_height,
    };
    let view = SizesJson {
        schema: SCHEMA,
        path: path.to_owned(),
        largest_size_pt: sizes.largest.map(Length::to_pt),
        gaps_pt: sizes.gaps.iter().map(|size| size.to_pt()).collect(),
        advised_x_height_mm: sizes.advice.x_height.to_mm(),
        advice_source: sizes.advice.source,
        sizes: sizes.rows.iter().map(row).collect(),
        paragraphs: sizes.prices.iter().map(price_json).collect(),
        findings: FindingsJson::of(&sizes.findings),
        styles_missing: sizes.styles_missing.iter().map(MissingStyleJson::of).collect(),
        fonts_stood_in: sizes.estimated.iter().map(EstimateJson::of).collect(),
    };
    super::json::written(&view, style)
}

/// What a line costs in one paragraph, as JSON.
pub(super) fn price_json(priced: &Priced) -> PriceJson {
    PriceJson {
        block: priced.kind.name(),
        opening: priced.opening.clone(),
        lines: priced.price.lines,
        letters_to_win: priced.price.win.as_ref().map(|win| win.letters),
        all_tried: priced.price.searched,
        stretch: priced.stretch.as_ref().map(|stretch| stretch.text.clone()),
        stretch_letters: priced.stretch.as_ref().map(|stretch| stretch.letters),
        letters_spare: priced.price.letters_spare,
    }
}
