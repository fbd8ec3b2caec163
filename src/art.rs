//! The art on which copy stands: which pixels lie where on a face, and what of them lies behind the letters.
//!
//! The room knows pictures and boxes on paper, and no words.

pub mod placement;
pub mod lying;
pub mod facts;
pub mod lines;
pub mod lettering;
pub mod quiet;
pub mod mends;
pub mod on_art;

pub use crate::artwork::picture;
pub use crate::artwork::{ArtFault, ArtFile, Ground, decoded};
