//! What is to be known of the art of a face before it is printed: whether it has the pixels, the shape, the bleed and
//! the inks that a press needs, and whether copy keeps clear of its folds and its drawings.
//!
//! Sources: the figures for pixels, inks and distances are common practice of printers, 225 to 350 pixels to the inch
//! for a screen of 150 lines, and 280 to 320 % of ink in all; how light bare paper is at least, and how far two halves
//! of a picture may differ, are this project's own.

use std::path::PathBuf;
use std::sync::Arc;

use super::placement::PlacedArt;
use crate::artwork::light::WindowLight;
use crate::artwork::picture::{ColourModel, Picture};
use crate::artwork::{ArtFile, Ground, GroundOf};
use crate::brief::art::{Art, ArtExtent, ArtKind, RoundArt};
use crate::brief::panel::{FaceLayout, KeepOutOrigin};
use crate::brief::place::{CoverFace, Place};
use crate::units::{Length, Rect};

/// With fewer pixels to the inch, art looks soft in print.
pub const USUAL_PPI: f64 = 300.0;
/// With fewer pixels to the inch, art shows its pixels in print.
pub const LEAST_PPI: f64 = 225.0;
/// The most ink that paper takes, all inks together, in percent of one full ink.
pub const MOST_INK: usize = 300;
/// How far the shape of art may be off that of its area, as a share of its own width or height.
const OFF_SHAPE: f64 = 0.005;
/// The least lightness L* of bare paper, and the most by which it varies: as much as in an unpacked JPEG.
const PAPER: (f64, f64) = (98.0, 2.0);
/// How far a cut may be off, in millimetres: a drawing that ends nearer to the trim may be cut.
const NEAR_TRIM_MM: f64 = 3.0;
/// How far, in L*, two halves of a picture may differ where they meet.
const SEAM: f64 = 5.0;
/// How far the box of a line keeps away from a drawing, as a fraction of its leading: copy keeps a whole leading away,
/// of which the box has about a quarter above and below its letters.
const CLEAR_LEADING: (i64, i64) = (3, 4);

/// The art of one face or one place, in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct ArtFacts {
    /// The face that the art is on.
    pub face: CoverFace,
    /// The place that it fills, by its name; none where it is the face's own.
    pub place: Option<String>,
    /// The picture's file as the brief names it.
    pub file: PathBuf,
    /// What the art is to the face: `scene`, `round`, `spot`.
    pub kind: &'static str,
    /// How far the art goes.
    pub placed: ArtExtent,
    /// The columns and rows of the picture.
    pub pixels: (usize, usize),
    /// The picture's pixels to the inch as it is printed.
    pub ppi: f64,
    /// What the picture's own colours are.
    pub model: ColourModel,
    /// The name of its colour profile where that is not sRGB's.
    pub profile: Option<String>,
    /// The most ink that a pixel takes, in percent of one full ink; none where it is not in four inks.
    pub most_ink: Option<usize>,
    /// What its shape cuts off, at the sides together, and at head and foot.
    pub cut: (Length, Length),
    /// What should be looked at.
    pub findings: Vec<ArtFinding>,
}

/// Something about art that should be looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum ArtFinding {
    /// Too few pixels go to the inch.
    TooSmall,
    /// The picture's shape is another than that of its area, so that some of it is cut off.
    OtherShape,
    /// The art stops at the trim, since the brief places it so.
    StopsAtTrim,
    /// Nothing is printed past the trim at some edges, though the art goes up to them.
    BlankBleed(Vec<&'static str>),
    /// So large a share of the picture, from 0 to 1, takes more ink than paper takes.
    TooMuchInk(f64),
    /// The paper round the drawings is no bare paper, but of this lightness L*.
    GreyPaper(f64),
    /// Drawings end so near to the trim at some edges that a cut may touch them.
    NearTrim(Vec<&'static str>),
    /// The back and the front differ by so much lightness, in L*, where they meet at the spine.
    Seam(f64),
    /// The tint behind copy reaches over the fold at the spine, or into the joint.
    OverFold,
    /// Lines, by their numbers from 0, that stand closer to a drawing than a leading.
    Crowded(Vec<usize>),
}

impl ArtFinding {
    /// The finding's name in a report.
    pub fn name(&self) -> &'static str {
        match self {
            Self::TooSmall => "art too small",
            Self::OtherShape => "art shape",
            Self::StopsAtTrim | Self::BlankBleed(_) => "no bleed",
            Self::TooMuchInk(_) => "too much ink",
            Self::GreyPaper(_) => "grey paper",
            Self::NearTrim(_) => "near the trim",
            Self::Seam(_) => "seam",
            Self::OverFold => "over the fold",
            Self::Crowded(_) => "crowded by art",
        }
    }
}

/// A set line as art sees it: a box on a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineBox {
    /// The line's number among all set lines, from 0.
    pub number: usize,
    /// The face that it stands on.
    pub face: CoverFace,
    /// From the line's first letter to its last, and as high as its leading.
    pub rect: Rect,
    /// How far a tint behind it goes past it; none where it has no tint.
    pub pad: Option<Length>,
}

impl ArtFacts {
    /// The pixels to the inch as a whole number, by which they are judged and told.
    pub fn whole_ppi(&self) -> f64 {
        self.ppi.round()
    }

    /// The facts of a face's art and of that of its places, with the lines of copy on all faces; none of art that was
    /// not read. The first time for a picture this takes some tens of milliseconds.
    pub fn of(layout: &FaceLayout<'_>, lines: &[LineBox]) -> Vec<Self> {
        let place = |place: &Place| {
            Self::of_picture(layout.face, place.art.as_ref()?, &PlacedArt::in_place(place)?, Some(place.name.clone()))
        };
        Self::of_face(layout, lines).into_iter().chain(layout.places.iter().filter_map(place)).collect()
    }

    fn of_face(layout: &FaceLayout<'_>, lines: &[LineBox]) -> Option<Self> {
        let (art, placed) = (layout.art?, PlacedArt::on(layout)?);
        let mut facts = Self::of_picture(layout.face, art, &placed, None)?;
        let file = art.picture.read.as_ref()?;
        let ground = file.ground(&GroundOf { rect: placed.rect, source: placed.source, tint: None });
        let lines: Vec<LineBox> = lines.iter().filter(|line| line.face == layout.face).copied().collect();
        // What is found of the pixels stands before the bleed, and what is found of the ink behind it.
        let of_ink = facts.findings.iter().position(|finding| matches!(finding, ArtFinding::TooMuchInk(_)));
        let at = of_ink.unwrap_or(facts.findings.len());
        facts.findings.splice(at..at, bleed(layout, art, &ground));
        facts.findings.extend(match &art.kind {
            ArtKind::Scene => Vec::new(),
            ArtKind::Round(round) => of_round(layout, art, (round, &ground), &lines),
            ArtKind::Spot => of_spots(layout, &ground, &lines),
        });
        Some(facts)
    }

    /// What is known of a picture where it lies, whatever is round it.
    fn of_picture(face: CoverFace, art: &Art, placed: &PlacedArt, place: Option<String>) -> Option<Self> {
        let ArtFile { picture: Picture { width, height, model, .. }, profile, inks, .. } =
            &**art.picture.read.as_ref()?;
        let mut findings = Vec::new();
        if placed.ppi.round() < USUAL_PPI {
            findings.push(ArtFinding::TooSmall);
        }
        let is_off = |cut: Length, pixels: usize| cut.to_inches() * placed.ppi > pixels as f64 * OFF_SHAPE;
        if is_off(placed.cut.0, *width) || is_off(placed.cut.1, *height) {
            findings.push(ArtFinding::OtherShape);
        }
        let ink = inks.as_ref().map(|inks| inks.share_above(MOST_INK)).filter(|share| *share > 0.0);
        findings.extend(ink.map(ArtFinding::TooMuchInk));
        Some(Self {
            face,
            place,
            file: art.picture.file.clone(),
            kind: art.kind.name(),
            placed: art.placed,
            pixels: (*width, *height),
            ppi: placed.ppi,
            model: *model,
            profile: profile.clone(),
            most_ink: inks.as_ref().map(|inks| inks.most()),
            cut: placed.cut,
            findings,
        })
    }
}

fn is_paper(light: &WindowLight) -> bool {
    light.lightness >= PAPER.0 && light.spread <= PAPER.1
}

/// An edge of a face, with what is printed past it.
struct PrintedEdge {
    name: &'static str,
    /// What lies past the edge, as far as art goes there; without a width or a height where nothing does.
    past: Rect,
    /// What lies inside the edge, as deep as a cut may be off.
    inside: Rect,
}

/// The edges of a face: head, foot, and the two at its sides.
fn edges(layout: &FaceLayout<'_>) -> [PrintedEdge; 4] {
    let (face, printed, deep) = (layout.edges, layout.printed, Length::mm(NEAR_TRIM_MM));
    let [left, right] = layout.face.sides();
    let across = |y, height| Rect { y, height, ..face };
    let down = |x, width| Rect { x, width, ..face };
    [
        PrintedEdge {
            name: "head",
            past: across(printed.y, (face.y - printed.y).or_zero()),
            inside: across(face.y, deep),
        },
        PrintedEdge {
            name: "foot",
            past: across(face.foot(), (printed.foot() - face.foot()).or_zero()),
            inside: across(face.foot() - deep, deep),
        },
        PrintedEdge { name: left, past: down(printed.x, (face.x - printed.x).or_zero()), inside: down(face.x, deep) },
        PrintedEdge {
            name: right,
            past: down(face.right(), (printed.right() - face.right()).or_zero()),
            inside: down(face.right() - deep, deep),
        },
    ]
}

impl PrintedEdge {
    fn has_bleed(&self) -> bool {
        self.past.width > Length::ZERO && self.past.height > Length::ZERO
    }
}

/// Whether the bleed is really covered: bare past an edge up to which art goes, it is not.
fn bleed(layout: &FaceLayout<'_>, art: &Art, ground: &Ground) -> Option<ArtFinding> {
    let edges = edges(layout);
    let touched = |edge: &&PrintedEdge| edge.has_bleed() && !is_paper(&ground.light_in(&edge.inside));
    match (art.placed, &art.kind) {
        (_, ArtKind::Spot) => None,
        (ArtExtent::Trim, _) => edges.iter().any(|edge| touched(&edge)).then_some(ArtFinding::StopsAtTrim),
        (ArtExtent::Bleed, _) => {
            let blank = edges.iter().filter(touched).filter(|edge| is_paper(&ground.light_in(&edge.past)));
            let blank: Vec<&'static str> = blank.map(|edge| edge.name).collect();
            (!blank.is_empty()).then_some(ArtFinding::BlankBleed(blank))
        }
    }
}

/// Windows of the depth of a strip along its longer side.
fn windows(strip: Rect, step: Length) -> impl Iterator<Item = Rect> {
    let is_wide = strip.width > strip.height;
    let long = if is_wide { strip.width } else { strip.height };
    (0..long.count_of(step) as i64).map(move |number| match is_wide {
        true => Rect { x: strip.x + step * number, width: step, ..strip },
        false => Rect { y: strip.y + step * number, height: step, ..strip },
    })
}

/// Checks of drawings on plain paper.
fn of_spots(layout: &FaceLayout<'_>, ground: &Ground, lines: &[LineBox]) -> Vec<ArtFinding> {
    let step = Length::mm(NEAR_TRIM_MM);
    // A third of the face tells what its paper is.
    let rows = windows(Rect { width: step, ..layout.edges }, step).skip(1).step_by(3);
    let lights = rows.flat_map(|row| {
        let cells = ground.between(row.y, row.foot());
        let along = windows(Rect { width: layout.edges.width, ..row }, step);
        along.map(move |window| cells.light(window.x, window.right()).lightness)
    });
    let paper = median(lights).filter(|lightness| *lightness < PAPER.0);
    let mut findings: Vec<ArtFinding> = paper.map(ArtFinding::GreyPaper).into_iter().collect();
    let ends = |edge: &PrintedEdge| {
        let pairs = windows(edge.inside, step).zip(windows_past(edge, step));
        { pairs }.any(|(inside, past)| {
            !is_paper(&ground.light_in(&inside)) && past.is_none_or(|past| is_paper(&ground.light_in(&past)))
        })
    };
    // On paper that is not white every window would be taken for a drawing.
    if findings.is_empty() {
        let edges = edges(layout);
        let near: Vec<&'static str> = edges.iter().filter(|edge| ends(edge)).map(|edge| edge.name).collect();
        if !near.is_empty() {
            findings.push(ArtFinding::NearTrim(near));
        }
        let crowded = |line: &&LineBox| {
            let leading = line.rect.height;
            let room = line.rect.grown(leading * CLEAR_LEADING.0 / CLEAR_LEADING.1);
            !is_paper(&ground.light_in(&room.within(&layout.printed)))
        };
        let crowded: Vec<usize> = lines.iter().filter(crowded).map(|line| line.number).collect();
        if !crowded.is_empty() {
            findings.push(ArtFinding::Crowded(crowded));
        }
    }
    findings
}

/// What lies past an edge beside each window inside it, and beside those next to it, since a drawing may run on aslant;
/// none where nothing is printed there.
fn windows_past(edge: &PrintedEdge, step: Length) -> impl Iterator<Item = Option<Rect>> {
    let (past, is_wide) = (edge.past, edge.inside.width > edge.inside.height);
    let has_bleed = edge.has_bleed();
    windows(edge.inside, step).map(move |window| {
        let beside = match is_wide {
            true => Rect { x: window.x - step, width: step * 3, ..past },
            false => Rect { y: window.y - step, height: step * 3, ..past },
        };
        has_bleed.then_some(beside)
    })
}

/// Checks of a picture that runs round the cover.
fn of_round(
    layout: &FaceLayout<'_>,
    art: &Art,
    (round, ground): (&RoundArt, &Ground),
    lines: &[LineBox],
) -> Vec<ArtFinding> {
    let mut findings = Vec::new();
    let joint = layout.keep_outs.iter().find(|out| out.origin == KeepOutOrigin::Joint).map(|out| out.rect);
    let over = |line: &LineBox| {
        let tinted = line.pad.map(|pad| line.rect.grown(pad));
        let is_over = |rect: Rect| !rect.right().fits(layout.edges.right());
        tinted.is_some_and(|rect| is_over(rect) || joint.is_some_and(|joint| joint.overlaps(&rect)))
    };
    if lines.iter().any(over) {
        findings.push(ArtFinding::OverFold);
    }
    if let RoundArt::Apart { front } = round
        && let Some(front) = &front.read
    {
        let seam = front_ground(layout, art, front).and_then(|front| seam(layout.edges, ground, &front));
        findings.extend(seam.filter(|off| *off > SEAM).map(ArtFinding::Seam));
    }
    findings
}

/// The front cover's art, on a face that is the panel's mirror image.
fn front_ground(layout: &FaceLayout<'_>, art: &Art, front: &ArtFile) -> Option<Arc<Ground>> {
    let area = match art.placed {
        ArtExtent::Bleed => Rect { x: layout.edges.width - layout.printed.right(), ..layout.printed },
        ArtExtent::Trim => layout.edges,
    };
    let Picture { width, height, .. } = front.picture;
    let PlacedArt { rect, source, .. } = PlacedArt::covering((width, height), area)?;
    Some(front.ground(&GroundOf { rect, source, tint: None }))
}

/// By how much lightness, row by row, the last millimetre of the back and the first of the front differ: the median.
fn seam(face: Rect, back: &Ground, front: &Ground) -> Option<f64> {
    let step = Length::mm(1.0);
    let strip = |x| windows(Rect { x, width: step, ..face }, step);
    let pairs = strip(face.right() - step).zip(strip(face.x));
    median(pairs.map(|(one, other)| back.light_in(&one).lightness - front.light_in(&other).lightness).map(f64::abs))
}

/// The middle of some numbers; none where there are none.
fn median(numbers: impl IntoIterator<Item = f64>) -> Option<f64> {
    let mut numbers: Vec<f64> = numbers.into_iter().collect();
    let middle = numbers.len() / 2;
    (middle < numbers.len()).then(|| *numbers.select_nth_unstable_by(middle, f64::total_cmp).1)
}
