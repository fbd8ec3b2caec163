//! Measures the blurb of a book, sets it in real type inside the panel round the barcode, and says what is over.
//!
//! The program `blurbwright` is the command line and the desk of this library. From here the same is had as values: a
//! [`Brief`](brief::Brief) and a [`Draft`](draft::Draft) are read from text, [`report::assess`] makes a
//! [`Report`](report::Report) of them, and everything that is shown anywhere is read from that. No file is opened and
//! nothing is sent; [`files`] is the only door to the disk, for those who want briefs, fonts and art read from there.
//!
//! ```
//! use std::path::Path;
//! use blurbwright::{brief::Brief, draft::Draft, print::words::told, report, setting::Faces};
//!
//! let brief = Brief::read("panel: { trim: 8.5 x 8.5 in }\nlimits: { words: 12..40 }\n", Path::new(""))?;
//! let draft = Draft::read("# Light the lamp\n\nEvery night Oona climbs the stairs to the lamp.\n");
//! let report = report::assess(&draft, &brief, &Faces::built_in());
//! assert_eq!((report.length.words, report.fit.castoff.lines, report.fit.fits()), (9, 2, true));
//! for check in report.verdict.outside() {
//!     assert_eq!(told(check, &report), "words: 9; the brief has 12 to 40");
//! }
//! # Ok::<(), blurbwright::brief::Fault>(())
//! ```
//!
//! Bad copy is no error: it is a report that says so. From [`text`] to [`report`] nothing can fail; errors are in
//! [`brief`], for what cannot be used, and in [`files`], for what cannot be read or written. Lengths are
//! [`Length`](units::Length)s, whole numbers of a unit that points, millimetres and inches are all whole numbers of.
//! A picture of the copy is a [`Drawing`](report::Drawing), which [`proof`] makes into PDF, SVG and PNG.
//!
//! The rooms stand in the order in which they may import: each knows only those above it.

/// The text of a list of words as it was when the program was built; empty where its file was taken away.
macro_rules! wordlist {
    ($file:literal) => {
        include_str!(concat!(env!("OUT_DIR"), "/", $file))
    };
}

pub mod system;
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
pub mod lists;
pub mod editor;
pub mod trial;
pub mod desk;
pub mod beginning;
pub mod panes;
pub mod files;
pub mod cli;
