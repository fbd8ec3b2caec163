//! The words of a text in the form in which drafts and stories are compared: each with its place and what parts it from
//! the word before.

use std::ops::Range;

use crate::draft::Span;

use super::phrases::CutText;
use super::spellings::plain;
use crate::text::words::is_hyphen;
use crate::text::{CopyPart, Sentence, Text};

/// A word of a manuscript or a draft.
#[derive(Debug)]
pub(super) struct Token {
    /// In small letters with straight apostrophes.
    pub(super) folded: String,
    /// Where the word stands in the file.
    pub(super) span: Span,
    /// The number of its sentence.
    pub(super) sentence: usize,
    /// In composed letters with straight apostrophes.
    pub(super) written: String,
    /// Whether a sentence or speech begins with it, so that its capital says nothing.
    pub(super) opens: bool,
    /// Whether nothing but a blank or a hyphen parts it from the word before.
    pub(super) adjoins: bool,
    /// Whether a hyphen is all that parts it from the word before.
    pub(super) is_hyphened: bool,
}

/// The words of every paragraph of some parts.
pub(super) fn tokens(text: &Text, parts: &[&CopyPart]) -> Vec<Token> {
    let sentences = parts.iter().flat_map(|part| &part.sentences).enumerate();
    sentences.flat_map(|(number, sentence)| tokens_of(text, sentence, number)).collect()
}

/// The words of the sentence that has this number.
fn tokens_of(text: &Text, sentence: &Sentence, number: usize) -> Vec<Token> {
    let source = text.sentence(sentence);
    let mut end = 0;
    let token = |(range, folded): (&Range<usize>, &str)| {
        let gap = &source[end..range.start];
        let first = end == 0;
        end = range.end;
        let start = sentence.range.start;
        Token {
            folded: folded.to_owned(),
            span: text.span(sentence.block, start + range.start..start + range.end),
            sentence: number,
            written: plain(&source[range.clone()]),
            opens: first || gap.contains(['"', '“', '‘', '«', '(', ':']),
            // The end of a line of verse parts two words, even if nothing else stands between them.
            adjoins: !first && (is_hyphen(gap) || gap.chars().all(|sign| sign.is_whitespace() && sign != '\n')),
            is_hyphened: is_hyphen(gap),
        }
    };
    CutText::cut(source).iter().map(token).collect()
}
