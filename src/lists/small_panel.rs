//! The back panel as a small drawing: its edges, its keep-outs, and a bar for each line of the copy where it is set.
//! At this size letters cannot be read, so none are drawn, and a page of a thousand books can be sent.

use crate::brief::Brief;
use crate::brief::place::CoverFace;
use crate::proof::shapes::points;
use crate::proof::sheet::Ink;
use crate::proof::svg::colour;
use crate::report::Report;
use crate::units::{Length, Rect, trimmed};

/// How many times smaller than in print a panel is drawn.
pub(super) const SCALE: f64 = 6.0;
/// The height of a line's bar, as a share of its leading.
const BAR: f64 = 0.4;
/// The room round the panel, in points of the panel.
const ROOM: f64 = 6.0;

/// The drawing as SVG within HTML.
pub(super) fn drawn(report: &Report, brief: &Brief) -> String {
    let face = brief.panel.face();
    let foot = face.foot() + face.height / 4;
    let lines: Vec<_> = report.fit.lines_on(CoverFace::Panel).filter(|(_, line)| line.set.foot() < foot).collect();
    let deepest = lines.iter().map(|(_, line)| line.set.foot()).fold(face.foot(), Length::max);
    let room = Length::pt(ROOM);
    let (left, top) = (face.x - room, face.y - room);
    let (width, height) = (face.width + room * 2, deepest - face.y + room * 2);
    let has_art = brief.panel.layout().art.is_some();
    let paper = if has_art { Some(Ink::Light) } else { Some(Ink::Given([255; 3])) };
    let mut drawing = rect(&face, paper, Some(Ink::Grey));
    for keep_out in &brief.panel.keep_outs {
        drawing.push_str(&rect(&keep_out.rect, Some(Ink::Pale), Some(Ink::Grey)));
    }
    for (_, line) in lines {
        let set = &line.set;
        let height = Length::pt(set.leading.to_pt() * BAR);
        let bar = Rect { x: set.x, y: set.baseline - height, width: set.width, height };
        let ink = if set.fits() { Ink::Black } else { Ink::Accent };
        drawing.push_str(&rect(&bar, Some(ink), None));
    }
    format!(
        "<svg class=\"small\" style=\"width:{}mm\" viewBox=\"{} {} {} {}\" aria-hidden=\"true\">{drawing}</svg>",
        trimmed(width.to_mm() / SCALE, 1),
        place(left),
        place(top),
        place(width),
        place(height)
    )
}

fn place(length: Length) -> String {
    trimmed(f64::from(points(length)), 1)
}

fn rect(area: &Rect, fill: Option<Ink>, stroke: Option<Ink>) -> String {
    let [fill, stroke] = [fill, stroke].map(|ink| ink.map_or_else(|| "none".to_owned(), colour));
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{fill}\" stroke=\"{stroke}\"/>",
        place(area.x),
        place(area.y),
        place(area.width),
        place(area.height)
    )
}
