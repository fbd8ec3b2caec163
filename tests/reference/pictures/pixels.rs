//! Prints the panel of a book as the desk shows it to a terminal of sixels, for another program to find it on the
//! terminal's screen.
//!
//! Use: panel_pixels BRIEF DRAFT COLUMNS ROWS CELL_WIDTH CELL_HEIGHT. A row with the panel's left and top in cells and
//! its width and height in pixels, then a row for each of its own, as hexadecimal colours.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{OpenedBook, State, settle};
use blurbwright::files;
use blurbwright::panes;
use blurbwright::pictures::sixel;
use blurbwright::setting::Faces;

/// Prints where the panel stands, and its pixels.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let [brief, draft, sizes @ ..] = arguments else { return Err("a brief and a draft are missing".into()) };
    let sizes = sizes.iter().map(|size| size.parse()).collect::<Result<Vec<u16>, _>>()?;
    let [columns, rows, wide, high] = sizes[..] else { return Err("four sizes are wanted".into()) };
    let path = PathBuf::from(draft);
    let book = OpenedBook {
        brief: files::read_brief(Path::new(brief))?,
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: vec![path.clone()],
        first: (path, fs::read_to_string(draft)?),
        writing: Writing::Nowhere,
    };
    let mut state = State::new(book, Theme::new(Colours::Sixteen, Letters::Unicode), (columns, rows));
    settle(&mut state);
    let faces = panes::pictures(&state);
    let face = faces.first().ok_or("there is no panel on a screen of this size")?;
    let height = face.area.height * high;
    let raster = face.raster(&state.faces, face.area.width * wide, height - height % sixel::BAND as u16);
    println!("{} {} {} {}", face.area.x, face.area.y, raster.width, raster.height);
    for row in raster.pixels.chunks(raster.width) {
        let colours = row.iter().map(|[red, green, blue]| format!("{red:02x}{green:02x}{blue:02x}"));
        println!("{}", colours.collect::<Vec<_>>().concat());
    }
    Ok(())
}
