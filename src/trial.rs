//! Trying another type or panel than the brief's: what is tried, step by step, and what it makes of the copy.

pub mod tried;
pub mod tried_brief;
pub mod told;
pub mod explained;

pub use tried::Tried;
pub use tried_brief::TriedBrief;
