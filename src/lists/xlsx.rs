//! A table as the file of a spreadsheet: one sheet, its first row kept in sight and set bold, and every text written so
//! that none is ever taken for a formula.
//!
//! Source: ISO/IEC 29500-1 (Office Open XML), 18.2 and 18.3; 18.18.11, the type `inlineStr`.

use crate::packing::zip_writer::{Packing, ZipWriter};
use crate::proof::svg::escaped;
use crate::proof::{MARK, seal};
use crate::units::trimmed;

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum TableCell {
    /// Nothing at all.
    Nothing,
    /// Words.
    Text(String),
    /// A figure.
    Number(f64),
}

/// The most letters that a spreadsheet takes in a cell are 32,767; what is longer ends with dots.
const LONGEST: usize = 32_000;
/// The widest column, in letters.
const WIDEST: usize = 48;
/// The narrowest column, in letters.
const NARROWEST: usize = 8;

const HEAD: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";
const TYPES: &str = "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
    <Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
    <Default Extension=\"xml\" ContentType=\"application/xml\"/>\
    <Override PartName=\"/xl/workbook.xml\" \
    ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/>\
    <Override PartName=\"/xl/worksheets/sheet1.xml\" \
    ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/>\
    <Override PartName=\"/xl/styles.xml\" \
    ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml\"/>\
    <Override PartName=\"/docProps/app.xml\" \
    ContentType=\"application/vnd.openxmlformats-officedocument.extended-properties+xml\"/></Types>";
const RELATIONS: &str = "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
    <Relationship Id=\"rId1\" \
    Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" \
    Target=\"xl/workbook.xml\"/><Relationship Id=\"rId2\" \
    Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/extended-properties\" \
    Target=\"docProps/app.xml\"/></Relationships>";
const WORKBOOK: &str = "<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" \
    xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets>\
    <sheet name=\"List\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>";
const WORKBOOK_RELATIONS: &str = "<Relationships \
    xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
    <Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" \
    Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"rId2\" \
    Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles\" Target=\"styles.xml\"/>\
    </Relationships>";
/// Two forms of a cell: plain, and bold for the names of the columns.
const STYLES: &str = "<styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\">\
    <fonts count=\"2\"><font><sz val=\"11\"/><name val=\"Calibri\"/></font>\
    <font><b/><sz val=\"11\"/><name val=\"Calibri\"/></font></fonts>\
    <fills count=\"2\"><fill><patternFill patternType=\"none\"/></fill>\
    <fill><patternFill patternType=\"gray125\"/></fill></fills>\
    <borders count=\"1\"><border><left/><right/><top/><bottom/><diagonal/></border></borders>\
    <cellStyleXfs count=\"1\"><xf/></cellStyleXfs>\
    <cellXfs count=\"2\"><xf xfId=\"0\"/><xf xfId=\"0\" fontId=\"1\" applyFont=\"1\"/></cellXfs>\
    <cellStyles count=\"1\"><cellStyle name=\"Normal\" xfId=\"0\" builtinId=\"0\"/></cellStyles></styleSheet>";

/// The bytes of a spreadsheet's file with these lines, of which the first has the names of the columns.
pub(super) fn written(lines: impl Iterator<Item = Vec<TableCell>>) -> Vec<u8> {
    let mut zip = ZipWriter::default();
    let parts = [
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELATIONS),
        ("xl/workbook.xml", WORKBOOK),
        ("xl/_rels/workbook.xml.rels", WORKBOOK_RELATIONS),
        ("xl/styles.xml", STYLES),
        ("xl/worksheets/sheet1.xml", &sheet(lines)),
    ];
    for (name, part) in parts {
        zip.add(name, format!("{HEAD}{part}").as_bytes(), Packing::Deflated);
    }
    let app = format!(
        "{HEAD}<Properties xmlns=\"http://schemas.openxmlformats.org/officeDocument/2006/extended-properties\">\
         <Application>{MARK}</Application></Properties>"
    );
    zip.add("docProps/app.xml", app.as_bytes(), Packing::Deflated);
    // The comment of the whole file is in no sum of a part. A spreadsheet's own program leaves it out.
    seal::sealed(zip.written_with(seal::BLANK))
}

fn sheet(lines: impl Iterator<Item = Vec<TableCell>>) -> String {
    let mut widths: Vec<usize> = Vec::new();
    let (mut rows, mut last) = (String::new(), 0);
    for (number, cells) in lines.enumerate() {
        last = number + 1;
        rows.push_str(&format!("<row r=\"{last}\">"));
        for (column, cell) in cells.iter().enumerate() {
            if widths.len() <= column {
                widths.push(NARROWEST);
            }
            widths[column] = widths[column].max(length(cell));
            rows.push_str(&written_cell(cell, &format!("{}{last}", letters(column)), number == 0));
        }
        rows.push_str("</row>");
    }
    let columns: String = widths
        .iter()
        .enumerate()
        .map(|(column, width)| {
            let number = column + 1;
            format!("<col min=\"{number}\" max=\"{number}\" width=\"{}\" customWidth=\"1\"/>", width + 2)
        })
        .collect();
    let corner = letters(widths.len().saturating_sub(1));
    format!(
        "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetViews>\
         <sheetView workbookViewId=\"0\"><pane ySplit=\"1\" topLeftCell=\"A2\" activePane=\"bottomLeft\" \
         state=\"frozen\"/></sheetView></sheetViews><cols>{columns}</cols><sheetData>{rows}</sheetData>\
         <autoFilter ref=\"A1:{corner}{last}\"/></worksheet>"
    )
}

/// How wide a cell asks its column to be, in letters.
fn length(cell: &TableCell) -> usize {
    match cell {
        TableCell::Text(text) => text.chars().count().min(WIDEST),
        TableCell::Nothing | TableCell::Number(_) => 0,
    }
}

fn written_cell(cell: &TableCell, place: &str, is_head: bool) -> String {
    let style = if is_head { " s=\"1\"" } else { "" };
    match cell {
        TableCell::Nothing => String::new(),
        TableCell::Number(number) => format!("<c r=\"{place}\"{style}><v>{}</v></c>", trimmed(*number, 4)),
        TableCell::Text(text) => {
            let text = match text.char_indices().nth(LONGEST) {
                Some((end, _)) => format!("{}…", &text[..end]),
                None => text.clone(),
            };
            format!(
                "<c r=\"{place}\"{style} t=\"inlineStr\"><is><t xml:space=\"preserve\">{}</t></is></c>",
                escaped(&text)
            )
        }
    }
}

/// The letters of a column, counted from 0: `A`, `Z`, `AA`.
fn letters(column: usize) -> String {
    let last = char::from(b'A' + (column % 26) as u8);
    if column < 26 { last.to_string() } else { format!("{}{last}", letters(column / 26 - 1)) }
}

#[cfg(test)]
mod tests {
    use super::{TableCell, letters, sheet};

    #[test]
    fn columns_are_lettered_as_in_a_spreadsheet() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(letters), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }

    #[test]
    fn a_formula_is_written_as_words_and_markup_as_it_is_read() {
        let line = vec![TableCell::Text("=1+1".to_owned()), TableCell::Nothing, TableCell::Number(-1.5)];
        let sheet = sheet([line, vec![TableCell::Text("a<b & \u{1}c".to_owned())]].into_iter());
        assert!(sheet.contains("<c r=\"A1\" s=\"1\" t=\"inlineStr\"><is><t xml:space=\"preserve\">=1+1</t></is></c>"));
        assert!(sheet.contains("<c r=\"C1\" s=\"1\"><v>-1.5</v></c>"));
        assert!(sheet.contains(">a&lt;b &amp; c</t>") && sheet.contains("<autoFilter ref=\"A1:C2\"/>"));
        assert!(!sheet.contains("<f>"));
    }
}
