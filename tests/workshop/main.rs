//! The programs that the reference checks ask, in one binary, so that a check waits for one link: `workshop NAME
//! ARGUMENT...`. What each takes and prints stands at the head of its file.

use std::error::Error;

#[path = "../reference/art/trials.rs"]
mod art_trials;
#[path = "../reference/full_disk/main.rs"]
mod full_disk;
#[path = "../reference/level_reasons/parts.rs"]
mod level_parts;
#[path = "../reference/level_spread/main.rs"]
mod level_spread;
#[path = "../reference/pictures/pixels.rs"]
mod panel_pixels;
#[path = "../reference/pieces.rs"]
mod pieces;
#[path = "../sample_art/main.rs"]
mod sample_art;
#[path = "../reference/straight_marks/main.rs"]
mod straight_marks;
#[path = "../reference/syllable_folds/main.rs"]
mod syllable_folds;
#[path = "../reference/syllables_abroad/main.rs"]
mod syllables_abroad;
#[path = "../reference/tagger/main.rs"]
mod tagger;

/// What a program does with what stands behind its name.
type Program = fn(&[String]) -> Result<(), Box<dyn Error>>;

const PROGRAMS: [(&str, Program); 11] = [
    ("art_trials", art_trials::run),
    ("full_disk", full_disk::run),
    ("level_parts", level_parts::run),
    ("level_spread", level_spread::run),
    ("panel_pixels", panel_pixels::run),
    ("pieces", pieces::run),
    ("sample_art", sample_art::run),
    ("straight_marks", straight_marks::run),
    ("syllable_folds", syllable_folds::run),
    ("syllables_abroad", syllables_abroad::run),
    ("tagger", tagger::run),
];

fn main() -> Result<(), Box<dyn Error>> {
    let given: Vec<String> = std::env::args().skip(1).collect();
    let named = given.split_first().and_then(|(asked, arguments)| {
        PROGRAMS.iter().find(|(name, _)| name == asked).map(|(_, program)| (program, arguments))
    });
    let Some((program, arguments)) = named else {
        return Err(format!("name one of {}", PROGRAMS.map(|(name, _)| name).join(", ")).into());
    };
    program(arguments)
}
