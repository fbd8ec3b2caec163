//! The desk: the full-screen program on which a draft is written while its measures move beside it.
//!
//! Nothing here reads or writes a disk.

pub mod graphemes;
pub mod wrap;
pub mod motion;
pub mod find;
pub mod history;
pub mod difference;
pub mod editor;
