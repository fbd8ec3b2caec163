//! Finds words in a draft as a person means them: in upper or lower case, with any shape of quotation marks, and across
//! line endings.

use std::ops::Range;

use unicode_normalization::UnicodeNormalization;
use unicode_segmentation::UnicodeSegmentation;

/// The first match for `needle` at or after byte `from`, or else the first in the text. A match never cuts a grapheme:
/// `e` is not found in `é`.
pub fn find(text: &str, needle: &str, from: usize) -> Option<Range<usize>> {
    let needle = FoldedText::new(needle).text;
    if needle.is_empty() {
        return None;
    }
    let hay = FoldedText::new(text);
    let from = hay.edges.partition_point(|edge| edge.original < from);
    let from = hay.edges.get(from).map_or(hay.text.len(), |edge| edge.folded);
    hay.first(&needle, from).or_else(|| hay.first(&needle, 0))
}

/// A text normalised for comparing, with the places of the original.
struct FoldedText {
    text: String,
    /// Where each grapheme begins, and where the last one ends.
    edges: Vec<Edge>,
}

struct Edge {
    folded: usize,
    original: usize,
}

impl FoldedText {
    fn new(original: &str) -> Self {
        let (mut text, mut edges) = (String::with_capacity(original.len()), Vec::with_capacity(original.len() + 1));
        for (at, grapheme) in original.grapheme_indices(true) {
            edges.push(Edge { folded: text.len(), original: at });
            if grapheme.chars().all(char::is_whitespace) {
                text.push(' ');
            } else {
                text.extend(grapheme.nfd().flat_map(char::to_lowercase).map(plain));
            }
        }
        edges.push(Edge { folded: text.len(), original: original.len() });
        Self { text, edges }
    }

    fn first(&self, needle: &str, from: usize) -> Option<Range<usize>> {
        let places = self.text[from..].match_indices(needle).map(|(at, _)| from + at);
        // A match that begins or ends inside a grapheme has no place in the original, and the next match is tried.
        places.filter_map(|at| Some(self.original(at)?..self.original(at + needle.len())?)).next()
    }

    fn original(&self, folded: usize) -> Option<usize> {
        let at = self.edges.binary_search_by_key(&folded, |edge| edge.folded).ok()?;
        Some(self.edges[at].original)
    }
}

/// The character on a keyboard that stands for a typographic one.
fn plain(character: char) -> char {
    match character {
        '‘' | '’' => '\'',
        '“' | '”' => '"',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Searches for `needle` from the caret `^`, and expects the match in brackets.
    fn check(shown: &str, needle: &str) {
        let text = shown.replace(['^', '[', ']'], "");
        let from = shown.replace(['[', ']'], "").find('^').unwrap_or(0);
        let shown = shown.replace('^', "");
        let expected = shown.find('[').zip(shown.find(']')).map(|(start, end)| start..end - 1);
        assert_eq!(find(&text, needle, from), expected, "{needle:?} in {shown:?}");
    }

    #[test]
    fn found_in_any_case_and_round_the_end() {
        check("The ^old lamp and [the LAMP]lighter", "the lamp");
        check("^The [Lamp] lit", "lamp");
        check("a [lamp], a ^light", "LAMP");
        check("a lamp, ^a [lamp]", "lamp");
        check("^nothing here", "lamp");
        check("^nothing here", "");
    }

    #[test]
    fn found_in_other_spellings_of_the_same() {
        check("^she [didn’t] say", "didn't");
        check("^the [old\nlamp] lit", "old lamp");
        check("^a [caf\u{e9}]", "CAFE\u{301}");
        check("^a cafe\u{301}", "cafe");
        check("^[ÉTÉ]", "été");
    }
}
