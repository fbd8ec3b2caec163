//! Copy as words alone: an empty line between blocks, a credit right below its quote.

use super::HandedCopy;
use crate::draft::BlockKind;

pub(super) fn written(copy: &HandedCopy) -> String {
    let mut text = String::new();
    for block in &copy.draft.blocks {
        if !text.is_empty() {
            text.push_str(if block.kind == BlockKind::Credit { "\n" } else { "\n\n" });
        }
        text.push_str(block.text());
    }
    if !text.is_empty() {
        text.push('\n');
    }
    text
}
