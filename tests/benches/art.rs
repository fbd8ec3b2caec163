//! Art beside what it must cost: a first look, a thousand lines judged, quiet room, and a key with art and without.
//!
//! Use: `cargo bench -p workshop -- art`. Each time is the least of several rounds, since the machine is shared.

#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a bench tells its times and stops where it cannot go on"
)]

use std::hint::black_box;
use std::time::Instant;

use blurbwright::art::Ground;
use blurbwright::art::lines::{InkedLine, LineLetters, LineWord, judged};
use blurbwright::art::mends::least_tint;
use blurbwright::art::placement::PlacedArt;
use blurbwright::art::quiet::{CalmMap, QuietType};
use blurbwright::artwork::light::InkLight;
use blurbwright::artwork::picture::{ColourModel, Picture};
use blurbwright::units::{Length, Rect};

/// Pixels along each side: 8.75 in at 300 an inch.
const SIDE: usize = 2625;
const LINES: usize = 1000;
const ROUNDS: usize = 7;

/// Times and prints all of it.
pub(crate) fn run() {
    let picture = sea();
    let area = square(Length::inches(-0.125), Length::inches(8.75));
    let placed = PlacedArt::covering((SIDE, SIDE), area).expect("a picture");
    let ground = told("first look", 150.0, || Ground::of(&picture, &placed.source, placed.rect));
    let lines: Vec<LineLetters> = (0..LINES).map(line).collect();
    let ink = InkLight::press_black();
    told("1,000 lines judged", 2.0, || lines.iter().map(|line| judged(line, &ink, &ground)).collect::<Vec<_>>());
    told("30 lines judged, at a key", 0.5, || {
        lines.iter().take(30).map(|line| judged(line, &ink, &ground)).collect::<Vec<_>>()
    });
    let form = QuietType { ink, x_height: Length::pt(5.6), is_large: false };
    let live = square(Length::inches(0.5), Length::inches(7.5));
    let map = told("cells of the live area", 5.0, || CalmMap::of(&ground, &form, live, &[]));
    told("ten quiet rooms and one with specks", 5.0, || (map.rooms(10), map.room_with_specks()));
    let inked: Vec<InkedLine<'_>> = lines.iter().take(8).map(|letters| InkedLine { letters, ink }).collect();
    told("the least tint behind 8 lines", 100.0, || least_tint(&inked, &ground, [255; 3]));
}

/// The least time of some work in milliseconds, beside what is asked.
fn told<T>(what: &str, asked: f64, work: impl Fn() -> T) -> T {
    let mut least = f64::INFINITY;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        black_box(work());
        least = least.min(start.elapsed().as_secs_f64() * 1e3);
    }
    println!("{what:36}{least:9.3} ms (asked: {asked} ms){}", if least <= asked { "" } else { " MISSED" });
    work()
}

fn square(corner: Length, side: Length) -> Rect {
    Rect { x: corner, y: corner, width: side, height: side }
}

/// A dark sea below a light sky, with waves.
fn sea() -> Picture {
    let colour = |at: usize| {
        let (x, y) = ((at % SIDE) as f64, (at / SIDE) as f64 / SIDE as f64);
        let wave = ((x / 37.0).sin() * (y * 900.0).sin() * 20.0 * y) as i32;
        let shade = |base: f64| (base * (1.0 - 0.7 * y) + f64::from(wave)).clamp(0.0, 255.0) as u8;
        [shade(210.0), shade(220.0), shade(240.0)]
    };
    Picture { width: SIDE, height: SIDE, pixels: (0..SIDE * SIDE).map(colour).collect(), model: ColourModel::Rgb }
}

/// A line of nine words of five letters at 13 pt, somewhere on the face.
fn line(number: usize) -> LineLetters {
    let (words, x_height) = (9, Length::pt(5.6));
    let letter = |word: usize, at: usize| {
        let from = Length::inches(0.6) + x_height * (word * 6 + at) as i64;
        (from, from + x_height)
    };
    LineLetters {
        baseline: Length::inches(0.6) + Length::pt(0.5) * (number % 900) as i64,
        x_height,
        is_large: false,
        letters: (0..words).flat_map(|word| (0..5).map(move |at| letter(word, at))).collect(),
        words: (0..words)
            .map(|word| LineWord { letters: word * 5..word * 5 + 5, text: word * 6..word * 6 + 5 })
            .collect(),
    }
}
