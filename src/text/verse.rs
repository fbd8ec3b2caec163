//! Verse: paragraphs whose lines the author has ended, and whose lines count as sentences for the longest sentence.
//!
//! What verse is, `draft/verse_lines.rs` says. Line ends that only the file has do not count: such lines are set as
//! one.

use std::ops::Range;

use super::copy::{CopyPart, Sentence, Text};
use crate::draft::verse_lines::are_verse;

/// Whether a block's text is verse.
pub fn is_verse(text: &str) -> bool {
    text.contains('\n') && are_verse(text.lines())
}

/// The sentences of a part of the copy; sentences of verse are divided at the ends of their lines.
pub fn sentences(text: &Text<'_>, part: &CopyPart) -> Vec<Sentence> {
    let mut found = Vec::with_capacity(part.sentences.len());
    for paragraph in &part.paragraphs {
        let sentences = &part.sentences[paragraph.sentences.clone()];
        match is_verse(text.block(paragraph.block).text()) {
            true => sentences.iter().for_each(|sentence| part_at_lines(text, part, sentence, &mut found)),
            false => found.extend_from_slice(sentences),
        }
    }
    found
}

/// Adds the lines of a sentence of verse as sentences of their own; those without a word are left out.
fn part_at_lines(text: &Text<'_>, part: &CopyPart, sentence: &Sentence, found: &mut Vec<Sentence>) {
    let block = text.block(sentence.block).text();
    let mut start = sentence.range.start;
    let mut words = sentence.words.start;
    for line in block[sentence.range.clone()].split('\n') {
        let range = trimmed(block, start..start + line.len());
        start += line.len() + 1;
        let end = words + part.words[words..sentence.words.end].partition_point(|word| word.range.start < range.end);
        if end > words {
            found.push(Sentence { block: sentence.block, range, words: words..end });
        }
        words = end;
    }
}

/// A stretch of a text without the blanks at either end.
fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let line = &text[range.clone()];
    let start = range.start + line.len() - line.trim_start().len();
    start..start + line.trim().len()
}

#[cfg(test)]
mod tests {
    use super::{is_verse, sentences};
    use crate::brief::Book;
    use crate::draft::Draft;
    use crate::text::Text;

    #[test]
    fn short_lines_with_capitals_are_verse() {
        for verse in [
            "The tide comes in, the tide goes out,\nAnd Wren has hidden with her trout.",
            "“Who lit the lamp?” the gulls all cry,\n“And who has eaten all the pie,\nAnd who will sing\n“us all to \
             bed?”",
        ] {
            assert!(is_verse(verse), "{verse}");
        }
        for prose in [
            "The tide comes in, and the tide goes out.",
            "The tide comes in,\nand the tide goes out.",
            "Wren\n",
            "Wren has hidden under the old boat with her trout, her trumpet and a lamp,\nAnd nobody knows.",
        ] {
            assert!(!is_verse(prose), "{prose}");
        }
    }

    #[test]
    fn a_line_of_verse_is_told_as_a_sentence() {
        let draft = Draft::read(
            "The tide comes in\\\nAnd out again.  \nHush! The gulls\\\nAre fast asleep.\n\nOne plain one. Two.\n",
        );
        let text = Text::read(&draft, &Book::default());
        let found: Vec<&str> = sentences(&text, &text.blurb).iter().map(|found| text.sentence(found)).collect();
        let lines = ["The tide comes in", "And out again.", "Hush!", "The gulls", "Are fast asleep."];
        assert_eq!(found, [&lines[..], &["One plain one.", "Two."]].concat());
        assert_eq!(text.blurb.sentences.len(), 5);
    }
}
