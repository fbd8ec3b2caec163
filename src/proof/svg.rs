//! Sheets as an SVG: side by side in one drawing at true size, with letters as outlines so that they look alike
//! everywhere.

use std::fmt::Write;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::packed_art::{PackedArt, packed};
use super::pdf_stream::fingerprint;
use super::seal;
use super::shapes::{letters, points};
use super::sheet::{Ink, Sheet, SheetMark, side_by_side};
use super::sheet_art::SheetArt;
use crate::setting::outline::PathStep;
use crate::units::{Length, Rect};

/// The most bytes of one picture; in base64, as the drawing has them, they are a third more.
const MOST_BYTES: usize = 3_000_000;

/// The sheets as one SVG; equal sheets give equal text.
pub fn written(sheets: &[Sheet<'_>]) -> String {
    let (whole, places) = side_by_side(sheets);
    let (width, height) = (points(whole.width), points(whole.height));
    let titles: Vec<&str> = sheets.iter().map(|sheet| sheet.title.as_str()).collect();
    let described: Vec<&str> = sheets.iter().map(|sheet| sheet.description.as_str()).collect();
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}pt\" height=\"{height}pt\" viewBox=\"0 0 {width} \
         {height}\" role=\"img\" aria-labelledby=\"title description\">\n<title id=\"title\">{}</title>\n\
         <desc id=\"description\">{}</desc>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n",
        escaped(&titles.join("; ")),
        escaped(&described.join(" "))
    );
    for (sheet, left) in sheets.iter().zip(places) {
        append(&mut svg, format_args!("<g transform=\"translate({} 0)\">\n", points(left)));
        for mark in &sheet.marks {
            put(&mut svg, mark, sheet, None);
        }
        svg.push_str("</g>\n");
    }
    append(&mut svg, format_args!("<metadata>{}</metadata>\n</svg>\n", seal::BLANK));
    seal::sealed_text(svg)
}

/// The pictures of an HTML page, each of which is in it once, however many of its drawings show it.
#[derive(Default)]
pub struct SharedPictures {
    pictures: Vec<SheetArt>,
    definitions: String,
}

impl SharedPictures {
    /// A drawing without a size, for the page's beginning, in which every picture is defined.
    pub fn defined(&self) -> String {
        if self.definitions.is_empty() {
            return String::new();
        }
        format!("<svg class=\"pictures\" width=\"0\" height=\"0\" aria-hidden=\"true\">\n{}</svg>\n", self.definitions)
    }

    /// The number of a picture, which is defined where none before is the same part of the same file as large.
    fn number(&mut self, art: &SheetArt) -> usize {
        let is_same = |known: &SheetArt| {
            let size = |art: &SheetArt| (art.rect.width, art.rect.height);
            known.file == art.file && known.source == art.source && size(known) == size(art)
        };
        if let Some(known) = self.pictures.iter().position(is_same) {
            return known;
        }
        let number = self.pictures.len();
        let at_zero = SheetArt { rect: Rect { x: Length::ZERO, y: Length::ZERO, ..art.rect }, ..art.clone() };
        let (width, height) = (points(art.rect.width), points(art.rect.height));
        append(
            &mut self.definitions,
            format_args!("<symbol id=\"picture-{number}\" viewBox=\"0 0 {width} {height}\">\n"),
        );
        put_image(&mut self.definitions, &at_zero);
        self.definitions.push_str("</symbol>\n");
        self.pictures.push(art.clone());
        number
    }
}

/// A sheet as a drawing inside an HTML page, `millimetres` wide, labelled with its description.
pub fn inline(sheet: &Sheet<'_>, millimetres: f64, pictures: &mut SharedPictures) -> String {
    let (width, height) = (points(sheet.size.width), points(sheet.size.height));
    let mut svg = format!(
        "<svg style=\"width:{millimetres}mm\" viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{}\">\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n",
        escaped(&sheet.description)
    );
    for mark in &sheet.marks {
        put(&mut svg, mark, sheet, Some(pictures));
    }
    svg.push_str("</svg>\n");
    svg
}

/// A sheet as a small drawing inside an HTML page, `millimetres` wide, that says nothing which the page does not say in
/// words. Its pictures lie in it.
pub fn small(sheet: &Sheet<'_>, millimetres: f64) -> String {
    let (width, height) = (points(sheet.size.width), points(sheet.size.height));
    let mut svg = format!(
        "<svg class=\"small\" style=\"width:{millimetres}mm\" viewBox=\"0 0 {width} {height}\" aria-hidden=\"true\">\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n"
    );
    for mark in &sheet.marks {
        put(&mut svg, mark, sheet, None);
    }
    svg.push_str("</svg>");
    svg
}

/// Puts a mark; a picture by its number among shared ones, where there are such.
fn put(svg: &mut String, mark: &SheetMark, sheet: &Sheet<'_>, pictures: Option<&mut SharedPictures>) {
    match mark {
        SheetMark::Tint(shape, ink) => {
            append(svg, format_args!("<path fill=\"{}\" d=\"{}\"/>\n", colour(*ink), path(shape)));
        }
        SheetMark::Veil(shape, ink, opacity) => append(
            svg,
            format_args!("<path fill=\"{}\" fill-opacity=\"{opacity:.3}\" d=\"{}\"/>\n", colour(*ink), path(shape)),
        ),
        SheetMark::Art(art) => in_form(svg, art, |svg| match pictures {
            None => put_art(svg, art),
            Some(pictures) => {
                let number = pictures.number(art);
                let [x, y, width, height] = corners(art);
                append(
                    svg,
                    format_args!(
                        "<use href=\"#picture-{number}\" x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/>\n"
                    ),
                );
            }
        }),
        SheetMark::Drawn(shape, stroke) => {
            let dash = stroke.dash.map_or(String::new(), |dash| format!(" stroke-dasharray=\"{}\"", points(dash)));
            append(
                svg,
                format_args!(
                    "<path fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{dash} d=\"{}\"/>\n",
                    colour(stroke.ink),
                    points(stroke.width),
                    path(shape)
                ),
            );
        }
        SheetMark::Glyphs(run, ink) => {
            // Letters are drawn as outlines, so that a browser needs no fonts; the label says them to who cannot see
            // them.
            let shape = letters(run, sheet.faces);
            if !shape.is_empty() {
                append(
                    svg,
                    format_args!(
                        "<path fill=\"{}\" aria-label=\"{}\" d=\"{}\"/>\n",
                        colour(*ink),
                        escaped(&run.text),
                        path(&shape)
                    ),
                );
            }
        }
    }
}

/// Where a picture lies: its left and upper edge, width and height in points.
fn corners(art: &SheetArt) -> [f32; 4] {
    [art.rect.x, art.rect.y, art.rect.width, art.rect.height].map(points)
}

/// Puts a picture as far as its form goes, where it has one. The form's name is made of what it is, so that one that
/// stands twice on a page is the same.
fn in_form(svg: &mut String, art: &SheetArt, put: impl FnOnce(&mut String)) {
    let Some(form) = &art.form else { return put(svg) };
    let form = path(form);
    let name = fingerprint(form.as_bytes());
    append(svg, format_args!("<clipPath id=\"form-{name:032x}\"><path d=\"{form}\"/></clipPath>\n"));
    append(svg, format_args!("<g clip-path=\"url(#form-{name:032x})\">\n"));
    put(svg);
    svg.push_str("</g>\n");
}

/// Puts a picture, cut by a drawing within the drawing.
fn put_art(svg: &mut String, art: &SheetArt) {
    let [x, y, width, height] = corners(art);
    append(
        svg,
        format_args!(
            "<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" viewBox=\"{x} {y} {width} {height}\">\n"
        ),
    );
    put_image(svg, art);
    svg.push_str("</svg>\n");
}

/// Puts the pixels of a picture, with those that its frame cuts off.
fn put_image(svg: &mut String, art: &SheetArt) {
    let Some(packed) = packed(art, MOST_BYTES) else { return };
    let (kind, bytes, whole) = match &packed {
        PackedArt::Jpeg(bytes) => ("jpeg", &bytes[..], art.whole().map(|points| points as f32)),
        PackedArt::Png(pixels) => ("png", &pixels.bytes[..], corners(art)),
    };
    let [left, top, wide, high] = whole;
    append(
        svg,
        format_args!(
            "<image x=\"{left}\" y=\"{top}\" width=\"{wide}\" height=\"{high}\" preserveAspectRatio=\"none\" \
             href=\"data:image/{kind};base64,{}\"/>\n",
            STANDARD.encode(bytes)
        ),
    );
}

/// Appends formatted text; writing to a string cannot fail.
fn append(svg: &mut String, part: std::fmt::Arguments<'_>) {
    let _ = svg.write_fmt(part);
}

fn path(steps: &[PathStep]) -> String {
    let mut path = String::with_capacity(steps.len() * 16);
    for step in steps {
        match step {
            PathStep::Move(to) => command(&mut path, 'M', &[*to]),
            PathStep::Line(to) => command(&mut path, 'L', &[*to]),
            PathStep::Quad(by, to) => command(&mut path, 'Q', &[*by, *to]),
            PathStep::Curve(from, by, to) => command(&mut path, 'C', &[*from, *by, *to]),
            PathStep::Close => path.push('Z'),
        }
    }
    path
}

/// Writes a path command with its coordinates rounded to hundredths of a point (0.004 mm).
fn command(path: &mut String, letter: char, places: &[[f32; 2]]) {
    path.push(letter);
    for (index, number) in places.iter().flatten().enumerate() {
        if index > 0 {
            path.push(' ');
        }
        let hundredths = (number * 100.0).round() / 100.0;
        append(path, format_args!("{hundredths}"));
    }
}

/// An ink as SVG and HTML write it.
pub fn colour(ink: Ink) -> String {
    let [red, green, blue] = ink.rgb();
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Text that XML and HTML can hold: markup characters are escaped, line breaks and tabs become blanks, and control
/// characters are left out.
pub fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\n' | '\t' => escaped.push(' '),
            '\u{fffe}' | '\u{ffff}' => {}
            control if control.is_control() => {}
            other => escaped.push(other),
        }
    }
    escaped
}
