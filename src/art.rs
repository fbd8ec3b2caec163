//! The art on which copy stands: pictures as pixels, and what of them lies behind the letters.
//!
//! The room knows pictures and boxes on paper, and no words.

pub mod picture;
pub mod light;
pub mod ground;
pub mod lines;
pub mod quiet;
pub mod mends;

pub use ground::Ground;
