//! Measures the blurb of a book, sets it in real type inside the panel round the barcode, and says what is over.
//!
//! The rooms stand in the order in which they may import: each knows only those above it.

/// The text of a list of words as it was when the program was built; empty where its file was taken away.
macro_rules! wordlist {
    ($file:literal) => {
        include_str!(concat!(env!("OUT_DIR"), "/", $file))
    };
}

pub mod units;
pub mod packing;
pub mod draft;
pub mod artwork;
pub mod brief;
pub mod briefing;
pub mod outlines;
pub mod text;
pub mod level;
pub mod terms;
pub mod setting;
pub mod art;
pub mod queries;
pub mod report;
pub mod print;
pub mod pictures;
pub mod proof;
pub mod editor;
pub mod desk;
pub mod panes;
pub mod files;
pub mod cli;
