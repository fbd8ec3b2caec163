//! The art on which copy stands: pictures as pixels, and what of them lies behind the letters.
//!
//! The room knows pictures and boxes on paper, and no words.

pub mod picture;
pub mod placement;
mod fault;
mod directory;
mod turning;
mod samples;
mod profile;
mod art_file;
mod decoding;
mod from_jpeg;
mod from_png;
mod from_tiff;
pub mod light;
pub mod ground;
pub mod lines;
pub mod quiet;
pub mod mends;
mod artwork;

pub use art_file::ArtFile;
pub use artwork::Artwork;
pub use decoding::decoded;
pub use fault::ArtFault;
pub use ground::Ground;
pub use samples::InkTotals;
