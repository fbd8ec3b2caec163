//! Words with the stars that mark emphasis, as a file has them and as a change is shown.

use std::ops::Range;

use crate::draft::{Block, Emphasis};

/// The words of a block as they are written, with the stars that mark emphasis; the stars touch no blank, as in
/// Markdown.
pub(super) fn in_stars(block: &Block, written: impl Fn(&str) -> String) -> String {
    let run = |(range, emphasis): &(Range<usize>, Emphasis)| {
        let text = &block.text()[range.clone()];
        let words = text.trim();
        let stars = if words.is_empty() { 0 } else { usize::from(emphasis.italic) + 2 * usize::from(emphasis.bold) };
        let stars = "*".repeat(stars);
        let (lead, rest) = text.split_at(text.len() - text.trim_start().len());
        format!("{}{stars}{}{stars}{}", written(lead), written(words), written(&rest[words.len()..]))
    };
    block.runs().iter().map(run).collect()
}
