//! However the desk is ended, the terminal is as it was and the words are kept.

use std::thread;
use std::time::Duration;

use super::pty::{Desk, book, first, names};

#[test]
fn words_survive_signals_and_kills() {
    for (signal, code) in [("TERM", Some(143)), ("HUP", Some(129)), ("INT", Some(130)), ("KILL", None)] {
        let book = book();
        let before = first(&book);
        let mut desk = Desk::open(&book, 80, 24);
        desk.keys(b"Gone but kept. ");
        desk.shows("Gone but kept.");
        if code.is_none() {
            // At most the last second is lost to what cannot be caught.
            thread::sleep(Duration::from_millis(1500));
        }
        desk.signal(signal);
        let ended = desk.ends();
        if let Some(code) = code {
            assert_eq!(ended, code, "{signal}");
            desk.is_clean();
        }
        assert_eq!(first(&book), before, "{signal}: the file is as it was");
        let mut desk = Desk::run(&book, &["desk"], &[], 80, 24);
        desk.shows("Unsaved words were kept");
        desk.shows("{> Gone but kept.}");
        desk.keys(b"t");
        desk.shows("Gone but kept. # The light");
        desk.keys(b"\x13");
        desk.shows("Saved first.md.");
        desk.keys(b"\x11");
        assert_eq!(desk.ends(), 0);
        assert_eq!(names(&book), ["brief.yaml", "first.md", "second.md"], "{signal}");
    }
}
