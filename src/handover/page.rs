//! Copy as a page of HTML without a look of its own, so that it takes that of where it is put.
//!
//! Source: HTML Living Standard, 4.3 to 4.5.

use super::HandedCopy;
use super::markup::{escaped, marked_up};
use crate::draft::{Block, BlockKind};

/// How a forced line ends.
const LINE_END: &str = "<br>\n";

pub(super) fn written(copy: &HandedCopy) -> String {
    let blocks = &copy.draft.blocks;
    let mut body = String::new();
    let is_quoted = |block: &Block| matches!(block.kind, BlockKind::Quote | BlockKind::Credit);
    let parts = copy.draft.part_numbers();
    for (at, block) in blocks.iter().enumerate() {
        let begins = is_quoted(block) && (at == 0 || !is_quoted(&blocks[at - 1]) || parts[at] != parts[at - 1]);
        let ends =
            is_quoted(block) && blocks.get(at + 1).is_none_or(|next| !is_quoted(next) || parts[at + 1] != parts[at]);
        let words = marked_up(block, LINE_END);
        body.push_str(if begins { "<blockquote>\n" } else { "" });
        body.push_str(&match block.kind {
            BlockKind::Headline => format!("<h1>{words}</h1>\n"),
            BlockKind::Credit => format!("<p><cite>{words}</cite></p>\n"),
            _ => format!("<p>{words}</p>\n"),
        });
        body.push_str(if ends { "</blockquote>\n" } else { "" });
    }
    let (language, title) = (escaped(&copy.language), escaped(&copy.title));
    format!(
        "<!DOCTYPE html>\n<html lang=\"{language}\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n\
         </head>\n<body>\n{body}</body>\n</html>\n"
    )
}
