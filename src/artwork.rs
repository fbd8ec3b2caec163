//! Pictures as pixels, from the bytes of the files that hold the art of a book, and their light on paper.
//!
//! A file may come from anywhere: whatever its bytes are, reading it ends in bounded time and memory, with a picture or
//! with what is wrong and what to do.

pub mod picture;
mod fault;
mod directory;
mod turning;
mod samples;
mod profile;
mod art_file;
mod decoding;
mod scans;
mod from_jpeg;
mod from_png;
mod from_tiff;
pub mod light;
pub mod ground;
mod grounds;

pub use art_file::ArtFile;
pub use decoding::decoded;
pub use fault::ArtFault;
pub use ground::Ground;
pub use grounds::{GroundMade, GroundOf, KeptGrounds};
pub use samples::InkTotals;
