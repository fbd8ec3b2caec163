//! The values of a brief as rows that are read and changed one by one: what each is called, how it is written, what it
//! means in an author's words, and a change of one as a change of the brief's tree.
//!
//! What a panel, its boxes and its places have by themselves is told by `brief::panel_values`.

pub mod row;
mod build;
mod book;
mod wordings;
mod limits;
mod rules;
mod block_type;
mod cover;
pub mod change;

use crate::brief::Brief;
use crate::brief::yaml::Node;
use row::BriefRow;

/// Every row of a brief, group by group; `tree` is how the brief is written.
pub fn rows(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let groups = [
        book::rows(brief, tree),
        wordings::names(tree),
        wordings::terms(tree),
        wordings::avoided(tree),
        limits::rows(brief, tree),
        block_type::of_blurb(brief, tree),
        block_type::of_others(brief, tree),
        cover::art(brief, tree),
        cover::beside(brief, tree),
        rules::rows(tree),
    ];
    groups.into_iter().flatten().collect()
}
