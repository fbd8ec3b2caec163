//! How long the panel takes as a picture for a terminal: drawn, and put into each of the forms that terminals take.
//!
//! `pane` is the panel's pane on a screen of 120 by 40, `page` its own page on one of 200 by 60, in cells of 9 by 19.
//! From a pause in typing to the picture the desk has a tenth of a second, of which 40 ms are the pause.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use std::path::{Path, PathBuf};

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{OpenedBook, State, settle};
use blurbwright::panes::{self, FacePicture};
use blurbwright::pictures::blocks::{self, ColourDepth};
use blurbwright::pictures::{Raster, kitty, sixel};
use blurbwright::setting::Faces;
use divan::{Bencher, black_box};

const BRIEF: &str = include_str!("../../drafts/brief.yaml");
const DRAFT: &str = include_str!("../../drafts/first.md");
const SIZES: [(&str, (u16, u16)); 2] = [("pane", (360, 378)), ("page", (900, 948))];

fn panel() -> (State, FacePicture) {
    let book = OpenedBook {
        brief: Brief::read(BRIEF, Path::new("")).expect("the sample's brief"),
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: vec![PathBuf::from("first.md")],
        first: (PathBuf::from("first.md"), DRAFT.to_owned()),
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

/// The panel with its copy, and a picture in which no two pixels side by side are of one colour.
fn rasters(name: &str) -> [Raster; 2] {
    let (state, face) = panel();
    let drawn = face.raster(&state.faces, size(name).0, size(name).1);
    let mut grainy = drawn.clone();
    for (at, pixel) in grainy.pixels.iter_mut().enumerate() {
        let (x, y) = (at % drawn.width, at / drawn.width);
        *pixel = [(x * 255 / drawn.width) as u8, (y * 255 / drawn.height) as u8, (at * 31 % 64) as u8];
    }
    [drawn, grainy]
}

#[divan::bench(args = ["pane", "page"])]
fn drawn(bencher: Bencher<'_, '_>, name: &str) {
    let (state, face) = panel();
    let (width, height) = size(name);
    bencher.bench(|| face.raster(&state.faces, black_box(width), height));
}

#[divan::bench(args = ["pane", "page"])]
fn kitty_of_copy(bencher: Bencher<'_, '_>, name: &str) {
    let [copy, _] = rasters(name);
    bencher.bench(|| kitty::data(black_box(&copy), 1));
}

#[divan::bench(args = ["pane", "page"])]
fn kitty_of_art(bencher: Bencher<'_, '_>, name: &str) {
    let [_, art] = rasters(name);
    bencher.bench(|| kitty::data(black_box(&art), 1));
}

#[divan::bench(args = ["pane", "page"])]
fn sixels_of_copy(bencher: Bencher<'_, '_>, name: &str) {
    let [copy, _] = rasters(name);
    bencher.bench(|| sixel::sequence(black_box(&copy), 0..copy.height, sixel::COLOURS));
}

#[divan::bench(args = ["pane", "page"])]
fn sixels_of_art(bencher: Bencher<'_, '_>, name: &str) {
    let [_, art] = rasters(name);
    bencher.bench(|| sixel::sequence(black_box(&art), 0..art.height, sixel::COLOURS));
}

/// What a key pays for art in cells: the panel's pane, 40 by 20.
#[divan::bench]
fn cells_of_art(bencher: Bencher<'_, '_>) {
    let [_, art] = rasters("pane");
    let pixels = art.pixels[..80 * 40].to_vec();
    let art = Raster { width: 80, height: 40, pixels };
    bencher.bench(|| blocks::cells(black_box(&art), ColourDepth::True));
}
