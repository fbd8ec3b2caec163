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
pub mod documents;
pub mod artwork;
pub mod brief;
pub mod briefing;
pub mod values;
pub mod outlines;
pub mod text;
pub mod level;
pub mod terms;
pub mod setting;
pub mod art;
pub mod queries;
pub mod report;
pub mod handover;
pub mod print;
pub mod feeds;
pub mod pictures;
pub mod terminal;
pub mod proof;
pub mod editor;
pub mod trial;
pub mod desk;
pub mod beginning;
pub mod panes;
pub mod files;
pub mod cli;
