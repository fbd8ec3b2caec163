//! The copy at every size as a page of text.

use super::findings;
use super::sheet::TextPage;
use super::visible::visible;
use super::words::{
    amount, counted, estimate, held_by, in_place, joined, place_and_blocks, place_sentence, spine_line, style_missing,
};
use crate::report::sizes::{Priced, SizeRow, SizedPlace, Sizes};
use crate::units::{Length, trimmed};

/// The page for a width of `columns` columns, ending with a line ending.
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
    // What the signs in the table mean, and what is true of the copy at any size.
    sheet.indented("* the size in use", 0);
    sheet.indented(&largest(sizes), 0);
    if let Some(title) = &sizes.spine {
        sheet.indented(&spine_line(title), 0);
    }
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
    if sizes.has_places {
        places(&mut sheet, sizes);
    }
    // The rest of the page is about the size in use alone.
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
    if let Some(art) = &sizes.legibility {
        sheet.line(String::new());
        sheet.indented("How the lines can be read on the art at the size in use:", 0);
        for sentence in findings::inks(art).into_iter().chain(findings::lines_not_clear(art)) {
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

/// Each place that holds copy, with the largest size at which it does, and how it stands at the size in use.
fn places(sheet: &mut TextPage, sizes: &Sizes) {
    let held: Vec<&SizedPlace> = sizes.places.iter().filter(|it| !it.place.blocks.is_empty()).collect();
    if held.is_empty() {
        return;
    }
    sheet.line(String::new());
    sheet.indented("Each place by itself, and how it stands at the size in use:", 0);
    for SizedPlace { place, largest } in held {
        let up_to = match largest {
            Some(largest) => format!("fits up to {largest}"),
            None => "fits at no size from 4 to 40 pt".to_owned(),
        };
        sheet.indented(&format!("- {}: {up_to}; {}", place_and_blocks(place), place_sentence(place)), 2);
    }
}

fn points(length: Length) -> String {
    trimmed(length.to_pt(), 1)
}

fn largest(sizes: &Sizes) -> String {
    let Some(largest) = sizes.largest else { return "No size from 4 to 40 pt fits.".to_owned() };
    let places = sizes.places.iter().map(|it| &it.place);
    let held = if sizes.has_places { held_by(&sizes.held_by, places) } else { String::new() };
    if sizes.gaps.is_empty() {
        return format!("The largest size that fits is {largest}{held}.");
    }
    let gaps = joined(sizes.gaps.iter().map(|size| points(*size)).collect());
    format!(
        "The largest size that fits is {largest}{held}; below it, {gaps} pt does not fit, for lines fall otherwise \
         beside a keep-out."
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
        &format!(
            "- {}, \"{opening}{dots}\": {}{}, {room}",
            priced.kind.name(),
            counted(price.lines, "line"),
            in_place(priced.place.as_deref())
        ),
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
