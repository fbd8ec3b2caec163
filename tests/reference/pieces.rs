//! Prints what a paragraph is made of and where its lines end, for another engine to break it from the same material.
//!
//! Use: pieces BRIEF DRAFT..., each draft one paragraph. A row of JSON for each: `pieces`, each with its width without
//! blanks, the blank after it, how much of that may widen, the blank within it, what it gains at a line's start and
//! end, and whether a hyphen is printed; `rooms`, the measure at each depth by lines from the first line on; `ends`,
//! the last piece of each line; `fits`, whether all of it stands in its place. All widths are in 1/2,048,000 em.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::fs;
use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::draft::{BlockKind, Draft};
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use blurbwright::units::Em;
use serde_json::{Value, json};

const PARTS_PER_EM: f64 = 2_048_000.0;

/// Depths for which the measure is told.
const DEPTHS: i64 = 100;

/// Prints a row for each draft.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let (brief, drafts) = arguments.split_first().ok_or("the brief's path is missing")?;
    let yaml = fs::read_to_string(brief)?;
    let brief = Brief::read(&yaml, Path::new("")).map_err(|fault| fault.to_string())?;
    for path in drafts {
        println!("{}", told(&Draft::read(&fs::read_to_string(path)?), &brief));
    }
    Ok(())
}

fn told(draft: &Draft, brief: &Brief) -> Value {
    let faces = Faces::built_in();
    let copy = ShapedCopy::shape(draft, &brief.typography, &faces, &mut SettingMemory::default());
    let rooms = Rooms::of(brief);
    let room = rooms.places()[rooms.blurb()].room();
    let setting = Setting::new(&copy, copy.forms(), &rooms);
    let form = copy.forms().form(BlockKind::Blurb);
    let pieces = &copy.paragraphs[0].shaped.pieces;
    let rows = pieces.iter().map(|piece| {
        json!({
            "ink": parts(piece.inked - piece.blanks_within), "after": parts(piece.full - piece.inked),
            "widens": parts(piece.blanks_after), "within": parts(piece.blanks_within),
            "at_start": parts(piece.at_line_start), "at_end": parts(piece.at_line_end), "hyphen": piece.hyphen,
        })
    });
    let first = setting.lines.first().map_or(room.live().y, |line| line.top);
    let rooms = (0..DEPTHS).map(|line| {
        let slot = room.at(first + form.leading * line, form.leading);
        parts(Em::filling(slot.width, form.size))
    });
    let ends = setting.lines.iter().map(|line| pieces.partition_point(|piece| piece.end < line.text.end));
    json!({
        "pieces": rows.collect::<Vec<_>>(), "rooms": rooms.collect::<Vec<_>>(), "ends": ends.collect::<Vec<_>>(),
        "fits": setting.fits(),
    })
}

fn parts(width: Em) -> i64 {
    (width.to_f64() * PARTS_PER_EM).round() as i64
}
