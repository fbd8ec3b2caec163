//! What the author is asked: writes a new brief by the answers, keeps the answers on the blurb in its draft, and
//! changes single values in the text of a brief that is there.

pub mod covers;
pub mod questions;
pub mod differing;
pub mod rewrite;
pub mod start;
