//! Letters and emphasis as XML and HTML have them.

use crate::draft::Block;

/// Text as it stands between tags and in attributes.
pub(super) fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            letter => escaped.push(letter),
        }
    }
    escaped
}

/// The words of a block with `em`, `strong` and `line_end` where its lines are forced.
pub(super) fn marked_up(block: &Block, line_end: &str) -> String {
    let mut text = String::new();
    for (range, emphasis) in block.runs() {
        let words = escaped(&block.text()[range.clone()]).replace('\n', line_end);
        let words = if emphasis.italic { format!("<em>{words}</em>") } else { words };
        text.push_str(&if emphasis.bold { format!("<strong>{words}</strong>") } else { words });
    }
    text
}
