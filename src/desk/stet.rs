//! Stet: queries that the author has dismissed, remembered with the draft.
//!
//! Each is a comment at the draft's end, `<!-- stet: double space: lamp  is -->`, which is neither measured nor set. It holds
//! for those words under that rule, wherever they stand; taking the comment out brings the query back.

use crate::brief::queries::Rule;

const OPEN: &str = "<!-- stet: ";
const CLOSE: &str = " -->";

/// What is remembered of a dismissed query.
pub fn mark(rule: Rule, words: &str) -> String {
    // Two hyphens would end the comment early, and a line's end would part it.
    let words = words.replace("--", "- -").replace('\n', " ");
    format!("{}: {}", rule.name(), words.trim())
}

/// The comment to be added at the end of a draft.
pub fn comment(text: &str, mark: &str) -> String {
    let gap = match text {
        _ if text.is_empty() || text.ends_with("\n\n") || text.ends_with(CLOSE_OF_LINE) => "",
        _ if text.ends_with('\n') => "\n",
        _ => "\n\n",
    };
    format!("{gap}{OPEN}{mark}{CLOSE}\n")
}

/// A comment's end, after which the next may follow at once.
const CLOSE_OF_LINE: &str = "-->\n";

/// What a draft remembers, in its order.
pub fn read(text: &str) -> Vec<String> {
    let marks = text.lines().filter_map(|line| line.trim().strip_prefix(OPEN)?.strip_suffix(CLOSE));
    marks.map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::{comment, mark, read};
    use crate::brief::queries::Rule;
    use crate::draft::Draft;

    #[test]
    fn what_is_remembered_is_read_again_and_is_no_copy() {
        let mut text = "The lamp  is out -- again.".to_owned();
        let marks = [mark(Rule::DoubleSpace, "lamp  is"), mark(Rule::HyphenForDash, "out -- again")];
        for mark in &marks {
            text += &comment(&text, mark);
        }
        assert_eq!(read(&text), marks);
        assert_eq!(Draft::read(&text).blocks.len(), 1);
        assert!(text.ends_with("-->\n") && text.contains("again.\n\n<!-- stet: "), "{text}");
    }
}
