//! Art beside what it must cost: a first look, lines judged, quiet room, a tint, and a key with art and without.
//!
//! Use: `cargo bench -p workshop -- art`. Asked: a first look within 150 ms beside decoding; a thousand lines judged
//! within 2 ms; quiet room within 10 ms; and a key at the desk at most half a millisecond more with art than without.
//! The machine may be shared: the fastest round counts.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::art::Ground;
use blurbwright::art::lines::{InkedLine, LineLetters, LineWord, judged};
use blurbwright::art::mends::least_tint;
use blurbwright::art::placement::PlacedArt;
use blurbwright::art::quiet::{CalmMap, QuietType};
use blurbwright::artwork::decoded;
use blurbwright::artwork::light::InkLight;
use blurbwright::artwork::picture::{ColourModel, Picture};
use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::desk::state::Writing;
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::desk::{Event, OpenedBook, State, settle, update};
use blurbwright::draft::Draft;
use blurbwright::files;
use blurbwright::panes;
use blurbwright::pictures::blocks::ColourDepth;
use blurbwright::report::{Assessment, ReportMemory};
use blurbwright::setting::Faces;
use blurbwright::units::{Length, Rect};
use divan::{Bencher, black_box};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// Pixels along each side: 8.75 in at 300 an inch.
const SIDE: usize = 2625;
/// The sample that stands on art.
const SAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../drafts/night-sea");

/// The picture where it lies on the panel, and its light.
fn looked_at(picture: &Picture) -> Ground {
    let area = square(Length::inches(-0.125), Length::inches(8.75));
    let placed = PlacedArt::covering((SIDE, SIDE), area).expect("a picture");
    Ground::of(picture, &placed.source, placed.rect)
}

/// A JPEG of the sample, decoded.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn decode(bencher: Bencher<'_, '_>) {
    let bytes = fs::read(Path::new(SAMPLE).join("art/back.jpg")).expect("the sample's art");
    bencher.bench(|| decoded(black_box(&bytes)).map(|file| file.picture.width));
}

#[divan::bench(sample_count = 9, sample_size = 1)]
fn first_look(bencher: Bencher<'_, '_>) {
    let picture = sea();
    bencher.bench(|| looked_at(black_box(&picture)));
}

#[divan::bench(args = [30, 1000])]
fn lines_judged(bencher: Bencher<'_, '_>, count: usize) {
    let (ground, ink) = (looked_at(&sea()), InkLight::press_black());
    let lines: Vec<LineLetters> = (0..count).map(line).collect();
    bencher.bench(|| black_box(&lines).iter().map(|line| judged(line, &ink, &ground)).collect::<Vec<_>>());
}

const LIVE: f64 = 7.5;

fn calm_map(ground: &Ground) -> CalmMap {
    let form = QuietType { ink: InkLight::press_black(), x_height: Length::pt(5.6), is_large: false };
    CalmMap::of(ground, &form, square(Length::inches(0.5), Length::inches(LIVE)), &[])
}

#[divan::bench]
fn cells_of_the_live_area(bencher: Bencher<'_, '_>) {
    let ground = looked_at(&sea());
    bencher.bench(|| calm_map(black_box(&ground)));
}

#[divan::bench]
fn ten_quiet_rooms_and_one_with_specks(bencher: Bencher<'_, '_>) {
    let map = calm_map(&looked_at(&sea()));
    bencher.bench(|| (black_box(&map).rooms(10), map.room_with_specks()));
}

#[divan::bench]
fn least_tint_behind_eight_lines(bencher: Bencher<'_, '_>) {
    let (ground, ink) = (looked_at(&sea()), InkLight::press_black());
    let lines: Vec<LineLetters> = (0..8).map(line).collect();
    let inked: Vec<InkedLine<'_>> = lines.iter().map(|letters| InkedLine { letters, ink }).collect();
    bencher.bench(|| least_tint(black_box(&inked), &ground, [255; 3]));
}

/// The sample by one of its briefs, or without its art.
fn book(art: &str) -> (Brief, String) {
    let draft = fs::read_to_string(Path::new(SAMPLE).join("first.md")).expect("the sample's draft");
    if art != "no art" {
        return (files::read_brief(&Path::new(SAMPLE).join(art)).expect("the sample's brief"), draft);
    }
    let yaml = fs::read_to_string(Path::new(SAMPLE).join("brief.yaml")).expect("the sample's brief");
    let rest: Vec<&str> = yaml.lines().filter(|line| !line.starts_with("  art:")).collect();
    (Brief::read(&rest.join("\n"), Path::new("")).expect("a brief without art"), draft)
}

/// All that the desk finds after a key in the sample, by each of its briefs, and in the same book without its art. A
/// word is added and taken off again.
#[divan::bench(args = ["no art", "brief.yaml", "round.yaml", "spot.yaml"], sample_count = 300, sample_size = 2)]
fn key(bencher: Bencher<'_, '_>, art: &str) {
    let ((brief, draft), faces) = (book(art), Faces::built_in());
    let texts = [draft.clone(), format!("{draft} Or so.")];
    let (mut memory, mut turn) = (ReportMemory::default(), 0);
    let mut assessed = || {
        turn += 1;
        Assessment::of(&Draft::read(black_box(&texts[turn % 2])), &brief, &faces, &mut memory)
    };
    assert_eq!(assessed().report.legibility.is_some(), art != "no art");
    bencher.bench_local(assessed);
}

/// A key at the desk, from the event to the drawn screen. A letter is typed and taken off again.
#[divan::bench(args = ["no art", "brief.yaml", "round.yaml", "spot.yaml"], sample_count = 300, sample_size = 2)]
fn key_at_the_desk(bencher: Bencher<'_, '_>, art: &str) {
    let (brief, draft) = book(art);
    let book = OpenedBook {
        brief,
        faces: Faces::built_in(),
        stet: Stet::default(),
        drafts: vec![PathBuf::from("first.md")],
        first: (PathBuf::from("first.md"), draft),
        writing: Writing::Nowhere,
    };
    let theme = Theme::new(Colours::Sixteen, Letters::Unicode).with_art(Some(ColourDepth::True));
    let mut state = State::new(book, theme, (120, 40));
    let mut terminal = Terminal::new(TestBackend::new(120, 40)).expect("a screen");
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        let event = match turn % 2 {
            1 => Event::Typed("x".to_owned()),
            _ => Event::Key(KeyEvent::new(KeyCode::Backspace, KeyModifiers::NONE)),
        };
        black_box(update(&mut state, event));
        settle(&mut state);
        terminal.draw(|frame| panes::draw(&state, frame)).map(|_| ())
    });
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
