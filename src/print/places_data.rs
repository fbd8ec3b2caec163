//! The shape of the JSON of a place of copy, and of the title on the spine, as they stand in a report.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::json::rounded;
use crate::report::places::FitPlace;
use crate::setting::SpineTitle;
use crate::units::Length as Distance;

/// A place of copy with what it holds, takes and leaves. Lengths are from the head left corner of its face.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct PlaceJson {
    /// What the brief calls the place; `live area` for the part of the panel where all stands that no place holds.
    name: String,
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// The parts of the draft that stand in the place: `blurb`, `quote 2`.
    blocks: Vec<String>,
    /// `box`, `ellipse`, `round`, `polygon` or, of a file, `outline`; the next four are then the box that the shape
    /// fills.
    shape: &'static str,
    /// The left edge of the place, less its inset where it is a box.
    x_pt: f64,
    /// The upper edge; that of the copy's beginning where the place follows another.
    y_pt: f64,
    /// From the left edge to the right one.
    width_pt: f64,
    /// From the upper edge to the foot.
    height_pt: f64,
    /// Whether every line stands in the place and none is wider than its measure.
    fits: bool,
    /// Lines set, those over included.
    lines: usize,
    /// Lines that the place holds.
    lines_available: usize,
    /// Lines that do not fit.
    lines_over: usize,
    /// Lines that are left, of the type of the place's last block.
    lines_spare: usize,
    /// Words on the lines that are over.
    words_over: usize,
    /// Letters on the lines that are over.
    letters_over: usize,
    /// About how many words would still go in, by the copy's own average.
    words_spare: usize,
    /// About how many letters would still go in, by the copy's own average.
    letters_spare: usize,
    /// From the head of the place to the foot of the last line, all columns in a row.
    depth_used_pt: f64,
    /// The height of the place, times its columns.
    depth_available_pt: f64,
}

impl PlaceJson {
    pub(super) fn of(place: &FitPlace) -> Self {
        let (live, cast) = (place.live, &place.castoff);
        Self {
            name: place.name.clone(),
            face: place.face.name(),
            blocks: place.blocks.clone(),
            shape: place.shape,
            x_pt: points(live.x),
            y_pt: points(live.y),
            width_pt: points(live.width),
            height_pt: points(live.height),
            fits: place.fits(),
            lines: cast.lines,
            lines_available: cast.lines_available,
            lines_over: cast.lines_over,
            lines_spare: cast.lines_spare,
            words_over: place.over.words,
            letters_over: place.over.letters,
            words_spare: place.spare.words,
            letters_spare: place.spare.letters,
            depth_used_pt: points(cast.depth_used),
            depth_available_pt: points(cast.depth_available),
        }
    }
}

/// The book's title on its spine, in one line.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct SpineJson {
    /// What is printed.
    title: String,
    /// Whether the title goes between head and foot, and its letters between the folds.
    fits: bool,
    /// `descending`, from head to foot, or `ascending`, from foot to head.
    direction: &'static str,
    /// The size of the title.
    size_pt: f64,
    /// How long the title is.
    length_pt: f64,
    /// The height of the spine less its margins at head and foot.
    room_pt: f64,
    /// From the highest ink of the letters to the lowest.
    height_pt: f64,
    /// The width of the spine less the room that stays clear of either fold.
    width_room_pt: f64,
    /// The largest size that fits, from 3 to 200 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
}

impl SpineJson {
    pub(super) fn of(title: &SpineTitle) -> Self {
        Self {
            title: title.text.clone(),
            fits: title.fits(),
            direction: title.direction.name(),
            size_pt: points(title.set.size),
            length_pt: points(title.length()),
            room_pt: points(title.live.width),
            height_pt: points(title.height()),
            width_room_pt: points(title.live.height),
            largest_size_pt: title.largest_size().map(points),
        }
    }
}

fn points(length: Distance) -> f64 {
    rounded(length.to_pt())
}
