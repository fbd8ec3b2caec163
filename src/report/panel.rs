//! The panel's figures for those who draw on it and those who check it: its parts, and the place that has to stay
//! quiet.

use super::fit::{Fit, MissingStyle};
use crate::brief::barcode::{self, AddOn};
use crate::brief::cover::Spine;
use crate::brief::lengths::Unit;
use crate::brief::panel::{FaceLayout, KeepOut, KeepOutOrigin};
use crate::brief::place::Shape;
use crate::brief::typography::StandIn;
use crate::brief::{Brief, Panel};
use crate::units::{Length, Rect, Size};

/// How far the proportions of a picture may be off those of its box, as a share: less is a matter of rounding.
const STRETCHED: f64 = 0.02;
/// A spine under this width is seldom lettered, in millimetres.
const THINNEST_LETTERED_MM: f64 = 6.0;

/// A panel in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelFigures {
    /// The parts from the outside in, the keep-outs in the order of the brief, the quiet place last. Places are from
    /// the panel's head fore-edge corner.
    pub parts: Vec<PartFigures>,
    /// What should be known of the panel, a sentence each.
    pub notes: Vec<String>,
    /// Styles that the draft's words ask for and their fonts have not; none without a draft.
    pub styles_missing: Vec<MissingStyle>,
    /// Fonts of the draft that are not at hand, so that its place is an estimate; none without a draft.
    pub estimated: Vec<StandIn>,
}

/// One part of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PartFigures {
    /// What the part is.
    pub name: String,
    /// Where the part is.
    pub rect: Rect,
    /// The room that stays empty round it, where it is a keep-out.
    pub clearance: Option<Length>,
}

impl PanelFigures {
    /// The figures of a brief's panel, and of its spine beside it; with a draft's fit, what stays quiet is the place of
    /// its lines, else the live area.
    pub fn of(brief: &Brief, fit: Option<&Fit>) -> Self {
        let panel = &brief.panel;
        let part = |name: &str, rect| PartFigures { name: name.to_owned(), rect, clearance: None };
        let (name, quiet) = quiet(panel, fit);
        let mut parts = vec![
            part(panel.binding.art(), panel.art()),
            part(panel.binding.edges(), panel.face()),
            part("live area", panel.live_area()),
        ];
        parts.extend(panel.keep_outs.iter().map(|keep_out| PartFigures {
            clearance: Some(keep_out.clearance),
            ..part(&keep_out.name, keep_out.rect)
        }));
        if let Some(spine) = &brief.spine {
            let beside = Rect { x: panel.face().right(), width: spine.width, ..panel.face() };
            let title = Rect {
                x: beside.x + spine.clear,
                y: spine.head,
                width: spine.width - spine.clear * 2,
                height: beside.height - spine.head - spine.foot,
            };
            parts.extend([part("spine", beside), part("title on the spine", title)]);
        }
        parts.push(part(name, quiet));
        Self {
            parts,
            notes: symbols(panel).chain(notes(brief)).collect(),
            styles_missing: fit.map_or_else(Vec::new, |fit| fit.styles_missing.clone()),
            estimated: fit.map_or_else(Vec::new, |fit| fit.estimated.clone()),
        }
    }

    /// What has to stay quiet.
    pub fn quiet(&self) -> Rect {
        self.parts.last().map_or(Rect::default(), |part| part.rect)
    }

    /// How far art goes.
    pub fn art(&self) -> Rect {
        self.parts.first().map_or(Rect::default(), |part| part.rect)
    }
}

/// What has to stay quiet behind the copy: the least rectangle that holds every line of the draft that fits; without
/// such a line, the live area, in which any copy stands.
fn quiet(panel: &Panel, fit: Option<&Fit>) -> (&'static str, Rect) {
    let boxes = fit.iter().flat_map(|fit| &fit.lines).filter(|line| !line.set.over).map(|line| Rect {
        x: line.set.x,
        y: line.set.top,
        width: line.set.width,
        height: line.set.leading,
    });
    match boxes.reduce(|all, line| around(&all, &line)) {
        Some(rect) => ("quiet behind this draft", rect),
        None => ("quiet behind any copy", panel.live_area()),
    }
}

fn around(one: &Rect, other: &Rect) -> Rect {
    let (x, y) = (one.x.min(other.x), one.y.min(other.y));
    Rect { x, y, width: one.right().max(other.right()) - x, height: one.foot().max(other.foot()) - y }
}

/// What should be known of a cover: how each box that is named for a barcode compares with the standard, which pictures
/// are stretched, and whether its spine is too thin for letters.
pub fn notes(brief: &Brief) -> Vec<String> {
    let barcodes = brief.panel.keep_outs.iter().filter(|keep_out| is_for_barcode(keep_out)).map(barcode_note);
    let stretched = brief.faces().flat_map(|face| stretched(&face));
    barcodes.chain(stretched).chain(brief.spine.as_ref().and_then(thin_spine)).collect()
}

/// A note on each shape of a face whose picture has other proportions than its box.
fn stretched(face: &FaceLayout<'_>) -> Vec<String> {
    let of_places = face.places.iter().map(|place| (&place.name, &place.shape, place.bounds, place.unit));
    let of_keep_outs = face.keep_outs.iter().map(|out| (&out.name, &out.shape, out.rect, out.unit));
    of_keep_outs
        .chain(of_places)
        .filter_map(|(name, shape, rect, unit)| stretched_note(name, shape, rect, unit))
        .collect()
}

fn stretched_note(name: &str, shape: &Shape, rect: Rect, unit: Unit) -> Option<String> {
    let Shape::File(shape) = shape else { return None };
    let proportions = shape.outline.as_ref()?.proportions?;
    let height = Length::pt(rect.width.to_pt() / proportions);
    if (height.to_pt() / rect.height.to_pt() - 1.0).abs() <= STRETCHED {
        return None;
    }
    Some(format!(
        "the picture {} is stretched in \"{name}\", which is {} by {}; {} by {} is as it is drawn",
        shape.file.display(),
        unit.told(rect.width),
        unit.told(rect.height),
        unit.told(rect.width),
        unit.told(height)
    ))
}

/// A caution on a spine that is narrower than printers letter. The figure is from memory.
fn thin_spine(spine: &Spine) -> Option<String> {
    (spine.width < Length::mm(THINNEST_LETTERED_MM)).then(|| {
        format!(
            "the spine is {} wide; printers seldom letter one under 5 to 6 mm (from memory), so ask yours",
            spine.unit.told(spine.width)
        )
    })
}

/// What the height of each barcode that is asked for by its symbol is made up of.
pub fn symbols(panel: &Panel) -> impl Iterator<Item = String> + '_ {
    panel.keep_outs.iter().filter(|keep_out| keep_out.origin == KeepOutOrigin::Symbol).map(|keep_out| {
        let height = keep_out.rect.height;
        let line = barcode::isbn_line();
        format!(
            "{} is {} high: {} for its bars and figures, and {} for the line of the ISBN above them",
            keep_out.name,
            keep_out.unit.told(height),
            keep_out.unit.told(height - line),
            keep_out.unit.told(line)
        )
    })
}

/// Whether a keep-out is a box that is named for a barcode. A barcode that is asked for by its symbol has the
/// standard's own size, so there is nothing to compare.
fn is_for_barcode(keep_out: &KeepOut) -> bool {
    keep_out.origin == KeepOutOrigin::Named && keep_out.name.to_lowercase().contains("barcode")
}

fn barcode_note(keep_out: &KeepOut) -> String {
    let name = format!("the box \"{}\"", keep_out.name);
    let room = Size { width: keep_out.rect.width, height: keep_out.rect.height };
    let told = |size: Size| format!("{} by {}", keep_out.unit.told(size.width), keep_out.unit.told(size.height));
    let up_to = |add_on| barcode::largest_percent(room, add_on).map(|percent| format!("up to {percent} %"));
    let Some(alone) = up_to(AddOn::None) else {
        let least = barcode::size(80.0, AddOn::None);
        return format!(
            "{name} is {}, too small for an EAN-13: the smallest allowed, at 80 %, needs {} with its quiet zones and \
             the ISBN's line",
            told(room),
            told(least)
        );
    };
    let price = up_to(AddOn::Price).unwrap_or_else(|| "not at all".to_owned());
    format!("{name} is {}: it holds an EAN-13 {alone}, with a price add-on {price}", told(room))
}
