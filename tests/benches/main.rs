//! All benches in one binary, each by its name: `cargo bench -p workshop -- NAME`; without a name, those of divan.

#![allow(missing_docs, reason = "a bench has no readers of its documentation")]

mod art;
mod level;
mod pictures;
mod places;
mod report;
mod setting;
mod throughput;
mod tighten;
#[path = "../random.rs"]
mod random;

fn main() {
    let name = std::env::args().nth(1);
    let texts = std::env::var_os("LEVEL_TEXTS").map(|path| std::fs::read_to_string(path).unwrap_or_default());
    // What takes turns with something else stands by itself; all the others are divan's, which reads the whole line.
    match (name.as_deref(), texts) {
        (Some("pictures"), _) => {
            pictures::from_pause();
            divan::main();
        }
        (Some("places"), _) => places::run(),
        (Some("setting"), _) => setting::run(),
        (Some("throughput"), _) => throughput::run(),
        (Some("level"), Some(texts)) => level::time(&texts),
        _ => divan::main(),
    }
}
