//! Measures the blurb of a book, sets it in real type inside the panel round the barcode, and says what is over.
//!
//! The rooms stand in the order in which they may import: each knows only those above it.

pub mod units;
pub mod draft;
pub mod brief;
pub mod text;
pub mod setting;
pub mod queries;
pub mod report;
pub mod print;
pub mod proof;
pub mod desk;
pub mod files;
pub mod cli;
