//! A book on a large picture: the desk is there before its art, and goes on whatever happens to the file meanwhile.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use jpeg_encoder::{ColorType, Encoder};
use tempfile::TempDir;

use super::pty::{Desk, PATIENCE, first};

/// The sample on a picture of its own that takes a while to read, with black copy: some of it is lost on the dark half.
fn book(side: u16) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("art")).expect("a folder");
    for name in ["brief.yaml", "first.md"] {
        fs::copy(Path::new("drafts/night-sea").join(name), folder.path().join(name)).expect("a copy");
    }
    replace(&folder, "ink: white", "ink: black");
    fs::write(folder.path().join("art/back.jpg"), picture(side, 30)).expect("the art");
    folder
}

/// A square picture of one shade, as JPEG.
fn picture(side: u16, shade: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let pixels = vec![shade; usize::from(side) * usize::from(side)];
    Encoder::new(&mut bytes, 80).encode(&pixels, side, side, ColorType::Luma).expect("a JPEG");
    bytes
}

fn replace(book: &TempDir, from: &str, to: &str) {
    let path = book.path().join("brief.yaml");
    let text = fs::read_to_string(&path).expect("the brief");
    assert!(text.contains(from), "{from}");
    fs::write(path, text.replace(from, to)).expect("the brief");
}

/// Waits for a message, which may take several rows.
fn says(desk: &Desk, words: &str) {
    let in_a_row = |contents: String| contents.split_whitespace().collect::<Vec<_>>().join(" ");
    desk.until(words, |screen| in_a_row(screen.contents()).contains(words));
}

const READING: &str = "the art is being read";

#[test]
fn the_desk_is_there_and_takes_keys_before_a_large_picture_is() {
    let book = book(6000);
    let mut desk = Desk::unasked(&book, 120, 40);
    desk.shows(READING);
    desk.keys(b"Oh! ");
    desk.until("words before the picture", |screen| {
        let contents = screen.contents();
        contents.contains("Oh! # The light") && contents.contains(READING)
    });
    desk.until("the picture", |screen| !screen.contents().contains(READING));
    desk.shows(" lost");
    // What was typed is as it was, and is saved.
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    assert!(first(&book).starts_with("Oh! # The light"));
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
}

#[test]
fn leaving_and_a_kill_while_a_picture_is_read_lose_nothing() {
    let book = book(9000);
    let mut desk = Desk::unasked(&book, 120, 40);
    desk.shows(READING);
    let asked = Instant::now();
    desk.keys(b"\x11");
    assert_eq!(desk.ends(), 0);
    desk.is_clean();
    assert!(asked.elapsed() < PATIENCE / 2, "nobody waits for the picture");
    let mut desk = Desk::unasked(&book, 120, 40);
    desk.keys(b"Oh! ");
    desk.shows("Oh! # The light");
    let kept = book.path().join(".first.md.recovery");
    let end = Instant::now() + PATIENCE;
    while !fs::read_to_string(&kept).is_ok_and(|kept| kept.contains("Oh! # The light")) {
        assert!(Instant::now() < end, "the words are kept while the picture is read");
        std::thread::sleep(Duration::from_millis(10));
    }
    desk.signal("KILL");
    desk.ends();
    let desk = Desk::run(&book, &["desk", "--pictures", "blocks"], &[], 120, 40);
    desk.shows("Unsaved words were kept");
}

#[test]
fn a_picture_that_another_program_writes_is_told_and_then_shown() {
    let book = book(300);
    let art = book.path().join("art/back.jpg");
    let desk = Desk::unasked(&book, 120, 40);
    desk.shows(" lost");
    // A light picture comes, in two steps.
    let light = picture(600, 240);
    fs::write(&art, &light[..light.len() / 2]).expect("half a picture");
    says(&desk, "The picture before it is shown.");
    desk.shows("art as it was");
    desk.shows(" lost");
    fs::write(&art, &light).expect("a picture");
    says(&desk, "Another program has written art/back.jpg");
    desk.until("clear lines", |screen| !screen.contents().contains(" lost"));
    // Taken away, the file leaves the picture as it was.
    fs::remove_file(&art).expect("no picture");
    says(&desk, "The picture before it is shown.");
}

#[test]
fn a_brief_that_another_program_changes_is_read_again_with_its_art() {
    let book = book(300);
    let desk = Desk::unasked(&book, 120, 40);
    desk.shows(" lost");
    replace(&book, "ink: black", "ink: white");
    says(&desk, "Another program has changed the brief");
    desk.until("clear lines", |screen| !screen.contents().contains(" lost"));
    // A brief that cannot be read is told, and the one before stays.
    replace(&book, "trim: 8.5 x 8.5 in", "trim: soon");
    says(&desk, "The desk goes on with the brief as it was; F10 mends it.");
    // Art in a folder that is not there yet.
    replace(&book, "trim: soon", "trim: 8.5 x 8.5 in");
    replace(&book, "art/back.jpg", "new/back.jpg");
    desk.shows("the art cannot be read");
    fs::create_dir(book.path().join("new")).expect("a folder");
    fs::write(book.path().join("new/back.jpg"), picture(400, 240)).expect("a picture");
    desk.until("the picture", |screen| {
        let contents = screen.contents();
        !contents.contains("cannot be read") && contents.contains(" lost")
    });
}
