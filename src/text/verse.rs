//! Verse: paragraphs whose lines the author has ended, each of which counts as a sentence, and the copy without them.
//!
//! What verse is, `draft/verse_lines.rs` says. Line ends that only the file has end no sentence: such lines are set as
//! one.

use super::copy::{CopyPart, Paragraph, Sentence, Text};
use super::sentences::trimmed;
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

/// The text without the verse of its blurb whose sentences its stops do not show; none where all sentences are shown.
/// The measures of reading level count sentences by their stops, and were made on prose (R. Flesch 1948 and E. Dale and
/// J. S. Chall 1948 on the prose of the McCall-Crabbs lessons; G. Spache 1953 on readers for schools).
pub fn without_verse<'d>(text: &Text<'d>) -> Option<Text<'d>> {
    let is_prose = |paragraph: &Paragraph| !runs_on(text, paragraph);
    let has_verse = !text.blurb.paragraphs.iter().all(is_prose);
    has_verse.then(|| text.with_blurb(text.blurb.only(is_prose)))
}

/// Whether a paragraph of the blurb is verse, and a sentence runs on over the end of a line. Lines that each end with
/// a stop are sentences by any count.
fn runs_on(text: &Text<'_>, paragraph: &Paragraph) -> bool {
    let sentences = &text.blurb.sentences[paragraph.sentences.clone()];
    is_verse(text.block(paragraph.block).text())
        && sentences.iter().any(|sentence| text.sentence(sentence).contains('\n'))
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

#[cfg(test)]
mod tests {
    use super::{is_verse, sentences, without_verse};
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

    #[test]
    fn verse_is_left_out_where_a_sentence_runs_on_over_a_line() {
        for (copy, left) in [
            ("The tide comes in\\\nAnd out again.\n\nOne plain one. Two.\n\nWren ran.", Some("One Two Wren")),
            ("The tide comes in\\\nAnd out again", Some("")),
            // What is printed as one paragraph is measured as one, however the file has it.
            ("The tide comes in\nAnd out again\nAnd Wren has gone\nTo look for Len", None),
            ("One map.\\\nNo boat.\\\nAll night to find the lamp.", None),
            ("The tide comes in,\\\nand out again.", None),
            ("", None),
        ] {
            let draft = Draft::read(copy);
            let text = Text::read(&draft, &Book::default());
            let prose = without_verse(&text);
            let found = prose.as_ref().map(|prose| {
                let first = |words: &std::ops::Range<usize>| prose.word(&prose.blurb.words[words.start]);
                prose.blurb.sentences.iter().map(|found| first(&found.words)).collect::<Vec<_>>().join(" ")
            });
            assert_eq!(found.as_deref(), left, "{copy}");
            if let Some(prose) = &prose {
                let ends = prose.blurb.paragraphs.iter().map(|paragraph| paragraph.words.end);
                assert_eq!(ends.max().unwrap_or_default(), prose.blurb.words.len(), "{copy}");
            }
        }
    }
}
