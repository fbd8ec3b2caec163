//! Writes briefs: a new one by an author's answers, and single values in the text of one that is there.

pub mod rewrite;
pub mod start;
