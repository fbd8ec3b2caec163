//! How long the panel takes as a picture for a terminal: drawn, and put into each of the forms that terminals take.
//!
//! `pane` is the panel's pane on a screen of 120 by 40, `page` its own page on one of 200 by 60, in cells of 9 by 19.
//! From the last key to the picture the desk has a tenth of a second, of which a part is the pause that is waited for.
//! `cargo bench -p workshop -- pictures` tells first how long that is, pause and all, until the terminal has the first
//! byte of the picture, and then where the time goes.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a bench stops where it cannot go on, and prints what it measured"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{OpenedBook, State, settle};
use blurbwright::files;
use blurbwright::panes::{self, CALM, FacePicture};
use blurbwright::pictures::blocks::{self, Blocks, ColourDepth};
use blurbwright::pictures::{Raster, kitty, sixel};
use blurbwright::setting::Faces;
use divan::{Bencher, black_box};

const DRAFTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../drafts");
const SIZES: [(&str, (u16, u16)); 2] = [("pane", (360, 378)), ("page", (900, 948))];

/// The panel of the sample on plain paper, or of the sample on art.
fn panel(book: &str) -> (State, FacePicture) {
    let folder = if book == "art" { Path::new(DRAFTS).join("night-sea") } else { PathBuf::from(DRAFTS) };
    let book = OpenedBook {
        brief: files::read_brief(&folder.join("brief.yaml")).expect("the sample's brief"),
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: vec![PathBuf::from("first.md")],
        first: (PathBuf::from("first.md"), fs::read_to_string(folder.join("first.md")).expect("the sample's draft")),
        writing: Writing::Nowhere,
    };
    let mut state = State::new(book, Theme::new(Colours::Sixteen, Letters::Unicode), (120, 40));
    settle(&mut state);
    let face = panes::pictures(&state).remove(0);
    (state, face)
}

fn size(name: &str) -> (u16, u16) {
    SIZES.iter().find(|(known, _)| *known == name).map_or((1, 1), |(_, size)| *size)
}

/// The panel with its copy, on paper or on art, or a picture in which no two pixels side by side are of one colour.
fn raster(name: &str, book: &str) -> Raster {
    let (state, face) = panel(book);
    let drawn = face.raster(&state.faces, size(name).0, size(name).1);
    if book == "grain" { grained(drawn) } else { drawn }
}

/// A picture as large in which no two pixels side by side are of one colour.
fn grained(mut drawn: Raster) -> Raster {
    for (at, pixel) in drawn.pixels.iter_mut().enumerate() {
        let (x, y) = (at % drawn.width, at / drawn.width);
        *pixel = [(x * 255 / drawn.width) as u8, (y * 255 / drawn.height) as u8, (at * 31 % 64) as u8];
    }
    drawn
}

const DRAWN: [(&str, &str); 4] = [("pane", "plain"), ("pane", "art"), ("page", "plain"), ("page", "art")];
const PACKED: [(&str, &str); 6] =
    [("pane", "plain"), ("pane", "art"), ("pane", "grain"), ("page", "plain"), ("page", "art"), ("page", "grain")];

/// What a picture may take from the last key on.
const MOST: Duration = Duration::from_millis(100);
/// How often each is timed.
const TIMES: usize = 15;

/// Prints how long each picture takes from the last key on, the pause in typing and all, beside what it may take.
pub(crate) fn from_pause() {
    println!("from the last key to the picture, of {TIMES} the middle and the longest, of at most {MOST:.0?}:");
    for (name, book) in PACKED {
        for form in ["kitty", "sixels"] {
            let (state, face) = panel(book);
            let (width, height) = size(name);
            let mut times: Vec<Duration> = (0..TIMES)
                .map(|_| {
                    let began = Instant::now();
                    // Grain has no face of its own: what is drawn is the panel, and what is packed the picture of it.
                    let drawn = face.raster(&state.faces, width, height);
                    let drawn = if book == "grain" { grained(drawn) } else { drawn };
                    if form == "kitty" {
                        black_box(kitty::data(&drawn, 1));
                    } else {
                        black_box(sixel::sequence(&drawn, 0..drawn.height, sixel::COLOURS));
                    }
                    CALM + began.elapsed()
                })
                .collect();
            times.sort();
            let longest = times[TIMES - 1];
            let held = if longest <= MOST { "within" } else { "OVER" };
            println!("  {name} {book:<5} {form:<6} {:>8.1?} {longest:>8.1?}  {held}", times[TIMES / 2]);
        }
    }
}

#[divan::bench(args = DRAWN)]
fn drawn(bencher: Bencher<'_, '_>, (name, book): (&str, &str)) {
    let (state, face) = panel(book);
    let (width, height) = size(name);
    bencher.bench(|| face.raster(&state.faces, black_box(width), height));
}

#[divan::bench(args = PACKED)]
fn for_kitty(bencher: Bencher<'_, '_>, (name, book): (&str, &str)) {
    let raster = raster(name, book);
    bencher.bench(|| kitty::data(black_box(&raster), 1));
}

#[divan::bench(args = PACKED)]
fn as_sixels(bencher: Bencher<'_, '_>, (name, book): (&str, &str)) {
    let raster = raster(name, book);
    bencher.bench(|| sixel::sequence(black_box(&raster), 0..raster.height, sixel::COLOURS));
}

/// What a key pays for art in cells: the panel's pane, 40 by 20.
#[divan::bench]
fn cells_of_art(bencher: Bencher<'_, '_>) {
    let art = Raster { width: 80, height: 40, pixels: raster("pane", "grain").pixels[..80 * 40].to_vec() };
    bencher.bench(|| blocks::cells(black_box(&art), ColourDepth::True, Blocks::Quarters));
}
