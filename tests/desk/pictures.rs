//! Pictures on terminals that show them, in whatever way a terminal answers: whole, byte by byte, late, never, with
//! keys between.

use std::collections::HashSet;
use std::fs;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use blurbwright::desk::theme::Letters;
use blurbwright::panes;
use blurbwright::pictures::Raster;
use miniz_oxide::inflate::decompress_to_vec_zlib;

use super::pty::{Desk, PATIENCE, book, first};
use crate::{desk_art, desk_harness};

/// What a terminal answers that shows kitty's pictures, and one that shows sixels, both with cells of 9 x 19 pixels.
/// Sources: kitty's description of its protocol; the answers of xterm 379 as a VT340.
const KITTY: &[u8] = b"\x1b_Gi=31;OK\x1b\\\x1b[6;19;9t\x1b[?62;c";
const SIXEL: &[u8] = b"\x1b[6;19;9t\x1b[4;760;1080t\x1b[?1;0;1024S\x1b[?2;0;1000;1000S\x1b[?63;1;2;4;6;9;15;16;22;28c";
/// What a terminal answers that shows none.
const NONE: &[u8] = b"\x1b[?1;2c";

const CELL: (u16, u16) = (9, 19);
const QUESTION: &str = "\x1b[c";
/// What places a picture of kitty's, and what takes one away.
const PLACED: &str = "\x1b_Ga=p,i=";
const TAKEN_AWAY: &str = "\x1b_Ga=d,d=I,i=";
/// What begins a picture of sixels.
const SIXELS: &str = "\x1bP0;1;0q";

/// Waits until something was written to the terminal so many times.
fn writes(desk: &Desk, words: &str, times: usize) {
    let end = Instant::now() + PATIENCE;
    while desk.output().matches(words).count() < times {
        assert!(Instant::now() < end, "waited for {words:?}, {times} times");
        thread::sleep(Duration::from_millis(5));
    }
}

/// A desk on a terminal that answers at once.
fn answered(book: &tempfile::TempDir, answer: &[u8]) -> Desk {
    let mut desk = Desk::run(book, &["desk"], &[], 120, 40);
    writes(&desk, QUESTION, 1);
    desk.keys(answer);
    desk.shows("Ctrl-Q leave");
    desk
}

/// The pixels of kitty's pictures, in the order in which they were sent.
fn sent(output: &str) -> Vec<Raster> {
    let mut rasters = Vec::new();
    let mut letters = String::new();
    let mut size = (0, 0);
    for sequence in output.split("\x1b_G").skip(1).filter_map(|rest| rest.split_once("\x1b\\")) {
        let Some((control, data)) = sequence.0.split_once(';') else { continue };
        let value = |key: &str| {
            let found = control.split(',').find_map(|pair| pair.strip_prefix(key));
            found.and_then(|value| value.parse::<usize>().ok())
        };
        if control.starts_with("a=t") {
            size = (value("s=").expect("a width"), value("v=").expect("a height"));
            letters.clear();
        }
        letters.push_str(data);
        if value("m=") == Some(0) {
            let bytes = decompress_to_vec_zlib(&bytes(&letters)).expect("whole data");
            let pixels = bytes.chunks_exact(3).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
            rasters.push(Raster { width: size.0, height: size.1, pixels });
        }
    }
    rasters
}

/// The bytes that letters stand for. Source: RFC 4648, section 4.
fn bytes(letters: &str) -> Vec<u8> {
    let value = |letter: char| match letter {
        'A'..='Z' => Some(letter as u32 - 'A' as u32),
        'a'..='z' => Some(letter as u32 - 'a' as u32 + 26),
        '0'..='9' => Some(letter as u32 - '0' as u32 + 52),
        '+' => Some(62),
        '/' => Some(63),
        _ => None,
    };
    let values: Vec<u32> = letters.chars().filter_map(value).collect();
    let four = |four: &[u32]| {
        let bits = four.iter().enumerate().fold(0, |bits, (at, value)| bits | value << (18 - 6 * at));
        (0..four.len() * 6 / 8).map(move |at| (bits >> (16 - 8 * at)) as u8).collect::<Vec<u8>>()
    };
    values.chunks(4).flat_map(four).collect()
}

/// The panel of the sample as the proof draws it, in the pixels of its pane.
fn expected(words: &str) -> Raster {
    let mut state = desk_harness::desk_on(words, (120, 40));
    desk_harness::drawn(&mut state);
    let face = panes::pictures(&state).remove(0);
    let (width, height) = (face.area.width * CELL.0, face.area.height * CELL.1);
    face.raster(&state.faces, width, height)
}

#[test]
fn kitty_gets_the_proof_in_the_place_of_the_panel_and_again_after_a_change() {
    let book = book();
    let mut desk = answered(&book, KITTY);
    writes(&desk, PLACED, 1);
    let text = first(&book);
    assert_eq!(sent(&desk.output()), [expected(&text)]);
    desk.keys(b"\x1b[0nx");
    writes(&desk, PLACED, 2);
    assert_eq!(sent(&desk.output()).last(), Some(&expected(&format!("x{text}"))));
    // The second takes the place of the first, which is freed.
    writes(&desk, TAKEN_AWAY, 1);
}

/// A folder with the draft of the sample that stands on art.
fn book_on_art() -> tempfile::TempDir {
    let (folder, sample) = (tempfile::tempdir().expect("a folder"), Path::new("drafts/night-sea"));
    fs::create_dir(folder.path().join("art")).expect("a folder");
    for name in ["brief.yaml", "first.md", "art/back.jpg"] {
        fs::copy(sample.join(name), folder.path().join(name)).expect("a copy");
    }
    folder
}

#[test]
fn kitty_gets_the_art_under_the_copy() {
    let book = book_on_art();
    let desk = answered(&book, KITTY);
    writes(&desk, PLACED, 1);
    let mut state = desk_art::on_art(desk_art::AS_IT_IS, Letters::Unicode);
    desk_harness::drawn(&mut state);
    let face = panes::pictures(&state).remove(0);
    let expected = face.raster(&state.faces, face.area.width * CELL.0, face.area.height * CELL.1);
    let colours: HashSet<[u8; 3]> = expected.pixels.iter().copied().collect();
    assert!(colours.len() > 500, "art has many colours, not {}", colours.len());
    // Art is read beside the desk: where that takes long, copy on bare paper is shown before it.
    let end = Instant::now() + PATIENCE;
    while sent(&desk.output()).last() != Some(&expected) {
        assert!(Instant::now() < end, "the last of {} pictures is another", sent(&desk.output()).len());
        thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn sixels_come_in_strips_and_no_cell_is_written_over_them() {
    let book = book();
    let mut desk = answered(&book, SIXEL);
    writes(&desk, SIXELS, 2);
    desk.keys(b"\x1b[0n");
    desk.settle();
    let before = desk.output().len();
    // A mere move of the cursor changes no line of the panel but the marked one; the cells of the picture stay alone.
    let area = panes::pictures(&desk_harness::desk((120, 40)))[0].area;
    desk.keys(b"x");
    desk.shows("x# The light");
    let output = desk.output();
    let first_cells = output[before..].split(SIXELS).next().expect("what comes before the picture");
    for row in area.top()..area.bottom() {
        for column in area.left()..area.right() {
            assert!(!first_cells.contains(&format!("\x1b[{};{}H", row + 1, column + 1)), "{row} {column}");
        }
    }
    assert!(!desk.output().contains("\x1b_Ga=p"));
}

#[test]
fn answers_in_pieces_and_keys_between_them_are_told_apart() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk"], &[], 120, 40);
    writes(&desk, QUESTION, 1);
    for byte in b"A \x1b_Gi=31;OK\x1b\\lamp\x1b[6;19;9t, out\x1b[?62;c. " {
        desk.keys(&[*byte]);
        thread::sleep(Duration::from_millis(35));
    }
    writes(&desk, PLACED, 1);
    desk.shows("A lamp, out. # The light");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(first(&book).starts_with("A lamp, out. # The light"));
}

#[test]
fn a_late_answer_leaves_no_letter_and_is_heard_even_so() {
    let book = book();
    let mut desk = Desk::run(&book, &["desk"], &[], 120, 40);
    desk.shows("Ctrl-Q leave");
    thread::sleep(Duration::from_millis(2300));
    desk.keys(b"a");
    desk.keys(KITTY);
    desk.keys(b"b");
    writes(&desk, PLACED, 1);
    desk.shows("ab# The light");
}

#[test]
fn without_an_answer_or_without_pictures_the_panel_is_drawn_in_signs() {
    for answer in [&b""[..], NONE] {
        let book = book();
        let mut desk = answered(&book, answer);
        desk.keys(b"a");
        desk.shows("a# The light");
        desk.shows("\u{2502}");
        thread::sleep(Duration::from_millis(300));
        assert!(!desk.output().contains(SIXELS) && !desk.output().contains("\x1b_Ga=t"));
    }
}

#[test]
fn nobody_is_asked_who_would_print_the_question() {
    let check = |args: &[&str], variables: &[(&str, &str)]| {
        let book = book();
        let desk = Desk::run(&book, args, variables, 120, 40);
        desk.shows("Ctrl-Q leave");
        let output = desk.output();
        assert!(!output.contains(QUESTION) && !output.contains("\x1b_G"), "{variables:?}");
    };
    for variable in
        [("TMUX", "there"), ("STY", "there"), ("TERM", "tmux-256color"), ("TERM", "linux"), ("NO_COLOR", "1")]
    {
        check(&["desk"], &[variable]);
    }
    check(&["desk", "--pictures", "blocks"], &[]);
}

#[test]
fn another_size_another_page_and_leaving_take_pictures_away() {
    let book = book();
    let mut desk = answered(&book, KITTY);
    writes(&desk, PLACED, 1);
    desk.keys(b"\x1b[0n");
    // On its own page the panel stands in another place.
    desk.keys(b"\x1bOS");
    writes(&desk, TAKEN_AWAY, 1);
    writes(&desk, PLACED, 2);
    desk.keys(b"\x1b[0n");
    desk.resize(60, 20);
    writes(&desk, TAKEN_AWAY, 2);
    desk.keys(b"\x1b");
    desk.shows("Ctrl-Q leave");
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    writes(&desk, "\x1b_Ga=d,d=A,q=2\x1b\\", 1);
}

#[test]
fn a_picture_waits_for_the_one_before_it_and_for_no_key() {
    let book = book();
    let mut desk = answered(&book, KITTY);
    writes(&desk, PLACED, 1);
    // The terminal does not say that it took the first picture in.
    desk.keys(b"x");
    desk.shows("x# The light");
    thread::sleep(Duration::from_millis(400));
    assert_eq!(desk.output().matches(PLACED).count(), 1);
    desk.keys(b"y");
    desk.shows("xy# The light");
    desk.keys(b"\x1b[0n");
    writes(&desk, PLACED, 2);
    let text = first(&book);
    assert_eq!(sent(&desk.output()).last(), Some(&expected(&format!("xy{text}"))));
}

#[test]
fn a_terminal_that_is_slow_again_and_again_is_sent_less() {
    let book = book();
    let mut desk = answered(&book, KITTY);
    let whole = expected(&first(&book)).width;
    for times in 1..=4 {
        writes(&desk, PLACED, times);
        thread::sleep(Duration::from_millis(200));
        desk.keys(b"\x1b[0nx");
    }
    let widths: Vec<usize> = sent(&desk.output()).iter().map(|raster| raster.width).collect();
    assert_eq!(widths[..4], [whole, whole, whole, whole / 2]);
}
