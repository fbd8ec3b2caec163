//! The panel's figures as a page: each length in inches, millimetres, points and pixels.

use super::art;
use super::sheet::TextPage;
use super::visible::visible;
use super::words::{estimate, joined, style_missing};
use crate::brief::Brief;
use crate::brief::place::CoverFace;
use crate::report::panel::{FaceFigures, PanelFigures, PartFigures};
use crate::units::{Length, Rect, trimmed};

/// What a page of figures is written from.
#[derive(Debug, Clone, Copy)]
pub struct PanelPage<'a> {
    /// The brief.
    pub brief: &'a Brief,
    /// The figures of the brief's panel.
    pub figures: &'a PanelFigures,
    /// Pixels per inch.
    pub resolution: u32,
    /// The width of the page, in columns.
    pub columns: usize,
}

/// The units in which each length is given, in the order of the page.
const UNITS: [&str; 4] = ["in", "mm", "pt", "px"];

/// The figures as text, ending with a line ending.
pub fn written(page: &PanelPage<'_>) -> String {
    let PanelPage { brief, figures, resolution, columns } = *page;
    let mut sheet = TextPage::new(columns);
    let title = visible(&brief.book.title);
    let title = if title.is_empty() { "The back panel".into() } else { title };
    sheet.line(format!("{title}: the back panel of a {}", brief.bound_as()));
    sheet.line(String::new());
    for face in &figures.faces {
        write_face(&mut sheet, face, resolution);
    }
    sheet.labelled("Pixels", &canvas(page));
    art::write(&mut sheet, &figures.art);
    let notes: Vec<String> =
        figures.notes.iter().map(|note| visible(note).into_owned()).chain(of_type(figures)).collect();
    for (index, note) in notes.iter().enumerate() {
        sheet.labelled(if index == 0 { "Notes" } else { "" }, note);
    }
    sheet.labelled("", "The printer's own figures for bleed, margins, joint and barcode come first.");
    sheet.text()
}

/// The parts of a face, below words that say how it is seen.
fn write_face(sheet: &mut TextPage, face: &FaceFigures, resolution: u32) {
    let seen = match face.face {
        CoverFace::Panel => {
            "Seen from outside: the spine is the right edge. Places are from the fore-edge and the head."
        }
        CoverFace::FrontFlap => "Seen from outside: the fold is the left edge. Places are from the fold and the head.",
        CoverFace::BackFlap => {
            "Seen from outside: the fold is the right edge. Places are from the free edge and the head."
        }
    };
    if face.face != CoverFace::Panel {
        sheet.line(format!("The {}", face.face.name()));
        sheet.line(String::new());
    }
    sheet.labelled("", seen);
    sheet.line(String::new());
    sheet.line(format!("{:<26}{:>4}{:>11}{:>11}{:>11}{:>11}", "", "", "across", "down", "from left", "from head"));
    for part in &face.parts {
        write_part(sheet, part, resolution);
        sheet.line(String::new());
    }
}

fn write_part(sheet: &mut TextPage, part: &PartFigures, resolution: u32) {
    let mut name = visible(&part.name).into_owned();
    for unit in UNITS {
        let length = |length| format!("{:>11}", shown(length, unit, resolution));
        let Rect { x, y, width, height } = part.rect;
        sheet.line(format!("{name:<26}{unit:>4}{}{}{}{}", length(width), length(height), length(x), length(y)));
        name = String::new();
    }
    let mut distance = |words: &str, distance: Option<Length>| {
        if let Some(distance) = distance.filter(|distance| *distance > Length::ZERO) {
            let lengths = UNITS.map(|unit| format!("{} {unit}", shown(distance, unit, resolution)));
            sheet.line(format!("{:<30}{words}: {}", "", lengths.join(", ")));
        }
    };
    distance("clear round it", part.clearance);
    distance("clear inside it", part.inset);
    let shape = match part.shape {
        "box" => None,
        "ellipse" => Some("an ellipse that fills this box".to_owned()),
        "round" => Some("with rounded corners".to_owned()),
        "polygon" => Some("a polygon in this box".to_owned()),
        shape => Some(format!("an {shape} in this box")),
    };
    let holds = (!part.holds.is_empty()).then(|| format!("holds {}", joined(part.holds.clone())));
    let follows = part.follows.as_ref().map(|other| format!("its copy follows that in \"{}\"", visible(other)));
    for told in [holds, follows, shape].into_iter().flatten() {
        sheet.indented(&format!("{:<30}{told}", ""), 30);
    }
}

/// Notes on the type of the draft whose place has to stay quiet, a sentence each.
pub fn of_type(figures: &PanelFigures) -> impl Iterator<Item = String> + '_ {
    figures.estimated.iter().map(estimate).chain(figures.styles_missing.iter().map(style_missing))
}

/// The size of an illustrator's file, and where the panel lies in it.
fn canvas(page: &PanelPage<'_>) -> String {
    let PanelPage { brief, figures, resolution, .. } = *page;
    let art = figures.art();
    let pixels = |length| shown(length, "px", resolution);
    format!(
        "at {resolution} per inch. Art with its {} is {} x {} pixels, and the panel begins {} pixels in from its left \
         edge and {} from its head",
        brief.panel.binding.art(),
        pixels(art.width),
        pixels(art.height),
        pixels(-art.x),
        pixels(-art.y)
    )
}

fn shown(length: Length, unit: &str, resolution: u32) -> String {
    match unit {
        "in" => trimmed(length.to_inches(), 3),
        "mm" => trimmed(length.to_mm(), 2),
        "pt" => trimmed(length.to_pt(), 2),
        _ => pixels(length, resolution).to_string(),
    }
}

pub(super) fn pixels(length: Length, resolution: u32) -> i64 {
    (length.to_inches() * f64::from(resolution)).round() as i64
}
