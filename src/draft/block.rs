//! A block of a draft: its words, their emphasis, and the way back into the author's file.

use std::ops::Range;

use super::kind::BlockKind;

/// A stretch of the author's file, in bytes from its start (a byte-order mark counts).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// The byte behind the last one.
    pub end: usize,
}

/// Bold and italic, which a stretch of any block may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Emphasis {
    /// Set in the bold face.
    pub bold: bool,
    /// Set in the italic face.
    pub italic: bool,
}

/// A paragraph of copy: its text with the Markdown taken away, and the way back into the file.
///
/// The text has no line endings but those the author forced (`\n`); a line ending inside a paragraph is a space.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// What part of the copy it is.
    pub kind: BlockKind,
    /// The words to be set.
    pub(super) text: String,
    /// Stretches of one emphasis, in order, which cover the text.
    pub(super) runs: Vec<(Range<usize>, Emphasis)>,
    /// The way back into the file, in the order of the text. The pieces cover the text, except in a block made by
    /// [`Block::unplaced`], which has none.
    pub(super) pieces: Vec<SourcePiece>,
    /// Whether a heading or a block quotation of the file begins with the block.
    pub(super) begins_part: bool,
    /// Whether the file has the words in lines that look like verse and are printed as one paragraph.
    pub(super) is_run_together: bool,
}

/// A stretch of a block's text and the stretch of the file that it came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SourcePiece {
    /// Bytes of the block's text.
    pub(super) text: Range<usize>,
    /// Bytes of the file.
    pub(super) source: Range<usize>,
}

impl SourcePiece {
    /// The part of the piece inside a range of the text, if any.
    pub(super) fn part(&self, range: Range<usize>) -> Option<Self> {
        let text = self.text.start.max(range.start)..self.text.end.min(range.end);
        if text.is_empty() {
            return None;
        }
        let source = if self.is_verbatim() {
            let start = self.source.start + (text.start - self.text.start);
            start..start + text.len()
        } else {
            self.source.clone()
        };
        Some(Self { text, source })
    }

    /// Whether the text stands in the file byte for byte, so that a place inside it can be found by counting. Text and
    /// source of the same length are taken to be so.
    pub(super) fn is_verbatim(&self) -> bool {
        self.text.len() == self.source.len()
    }
}

impl Block {
    /// The words to be set.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether the file has the words in lines that look like verse and are printed as one paragraph.
    pub fn is_run_together(&self) -> bool {
        self.is_run_together
    }

    /// The text in stretches of one emphasis, in order, covering it whole.
    pub fn runs(&self) -> &[(Range<usize>, Emphasis)] {
        &self.runs
    }

    /// The emphasis of every letter and sign, in order; a blank has none.
    pub(super) fn faces(&self) -> impl Iterator<Item = Emphasis> {
        self.runs.iter().flat_map(|(run, emphasis)| {
            self.text[run.clone()].chars().filter(|letter| !letter.is_whitespace()).map(|_| *emphasis)
        })
    }

    /// Whether another block has the same kind, text and emphasis, and the same markup in its file, whatever the place
    /// in the file.
    pub(super) fn reads_like(&self, other: &Self) -> bool {
        let place = |block: &Self| block.pieces.first().map_or(0, |piece| piece.source.start);
        let (own, others) = (place(self), place(other));
        let at = |range: &Range<usize>, first: usize| (range.start.wrapping_sub(first), range.end.wrapping_sub(first));
        let is_like = |(one, other): (&SourcePiece, &SourcePiece)| {
            one.text == other.text && at(&one.source, own) == at(&other.source, others)
        };
        self.kind == other.kind
            && self.is_run_together == other.is_run_together
            && self.text == other.text
            && self.runs == other.runs
            && self.pieces.len() == other.pieces.len()
            && self.pieces.iter().zip(&other.pieces).all(is_like)
    }

    /// Where a stretch of the text stands in the file. Markup between its ends is inside the span.
    pub fn span(&self, range: Range<usize>) -> Span {
        let start = self.place(range.start, RangeEnd::Start);
        let end = if range.is_empty() { start } else { self.place(range.end, RangeEnd::End) };
        Span { start, end: end.max(start) }
    }

    /// Where the whole block stands in the file, without its markup at either end.
    pub fn whole_span(&self) -> Span {
        self.span(0..self.text.len())
    }

    /// Whether a stretch of the text may go, for a shorter wording or for none. Words of a quote and of its credit may
    /// not, for they are printed as they were given; nor may words on both sides of the end of a line that the author
    /// has ended.
    pub fn may_lose(&self, stretch: &Range<usize>) -> bool {
        let gone = &self.text[stretch.clone()];
        let is_given = matches!(self.kind, BlockKind::Quote | BlockKind::Credit);
        !(gone.contains('\n') || is_given && gone.contains(char::is_alphanumeric))
    }

    /// The block with a stretch of its text gone. What is left still points back into the file.
    pub fn without(&self, gone: Range<usize>) -> Self {
        let kept = |range: &Range<usize>| {
            let shifted = |at: usize| if at <= gone.start { at } else { at.max(gone.end) - gone.len() };
            let range = shifted(range.start)..shifted(range.end);
            (!range.is_empty()).then_some(range)
        };
        let runs = self.runs.iter().filter_map(|(run, emphasis)| Some((kept(run)?, *emphasis)));
        let halves =
            self.pieces.iter().flat_map(|piece| [piece.part(0..gone.start), piece.part(gone.end..self.text.len())]);
        let pieces =
            halves.flatten().filter_map(|piece| Some(SourcePiece { text: kept(&piece.text)?, source: piece.source }));
        let text = format!("{}{}", &self.text[..gone.start], &self.text[gone.end..]);
        let (kind, begins_part, is_run_together) = (self.kind, self.begins_part, self.is_run_together);
        Self { kind, runs: runs.collect(), pieces: pieces.collect(), text, begins_part, is_run_together }
    }

    /// The block with a stretch of its text in another wording. The wording has the emphasis of the stretch's start and
    /// points back to the whole stretch in the file.
    pub fn replaced(&self, range: Range<usize>, wording: &str) -> Self {
        let (at, long) = (range.start, wording.len());
        let mut block = self.without(range.clone());
        if wording.is_empty() {
            return block;
        }
        let run_at = self.runs.iter().rfind(|(run, _)| run.start <= at);
        let emphasis = run_at.or(self.runs.first()).map_or(Emphasis::default(), |(_, emphasis)| *emphasis);
        // Runs and pieces that lie across `at` are split there, and those behind it move on by the length of the new
        // wording.
        let moved = |range: Range<usize>| range.start + long..range.end + long;
        let mut runs: Vec<(Range<usize>, Emphasis)> = Vec::with_capacity(block.runs.len() + 2);
        runs.extend(
            block.runs.iter().filter(|(run, _)| run.start < at).map(|(run, own)| (run.start..run.end.min(at), *own)),
        );
        runs.push((at..at + long, emphasis));
        runs.extend(
            block
                .runs
                .iter()
                .filter(|(run, _)| run.end > at)
                .map(|(run, own)| (moved(run.start.max(at)..run.end), *own)),
        );
        // The pieces left by `without` still point into the file. The new wording need not stand in the file at all, so
        // its piece points to the whole stretch that it replaces.
        let span = self.span(range);
        let (text, end) = (at..at + long, block.text.len());
        let before = block.pieces.iter().filter_map(|piece| piece.part(0..at));
        let after = block.pieces.iter().filter_map(|piece| piece.part(at..end));
        let pieces: Vec<SourcePiece> = before
            .chain([SourcePiece { text, source: span.start..span.end }])
            .chain(after.map(|piece| SourcePiece { text: moved(piece.text), source: piece.source }))
            .collect();
        block.text.insert_str(at, wording);
        block.runs = runs;
        block.pieces = pieces;
        block
    }

    /// The block with `tail` added in the emphasis of its last run. The tail points to the block's end in the file.
    pub fn followed_by(&self, tail: &str) -> Self {
        let mut block = self.clone();
        let end = self.whole_span().end;
        let text = self.text.len()..self.text.len() + tail.len();
        match block.runs.last_mut() {
            Some((run, _)) => run.end = text.end,
            None => block.runs.push((text.clone(), Emphasis::default())),
        }
        block.text.push_str(tail);
        block.pieces.push(SourcePiece { text, source: end..end });
        block
    }

    /// A block without words, to be filled with parts of other blocks. Its text points to no place in a file.
    pub fn unplaced(kind: BlockKind) -> Self {
        let (text, runs, pieces) = (String::new(), Vec::new(), Vec::new());
        Self { kind, text, runs, pieces, begins_part: false, is_run_together: false }
    }

    /// Adds a stretch of another block with its emphasis to a block made by [`Block::unplaced`].
    pub fn take_part(&mut self, of: &Self, range: Range<usize>) {
        let first = of.runs.partition_point(|(run, _)| run.end <= range.start);
        for (run, emphasis) in of.runs[first..].iter().take_while(|(run, _)| run.start < range.end) {
            let part = run.start.max(range.start)..run.end.min(range.end);
            if part.start < part.end {
                self.take_words(&of.text[part], *emphasis);
            }
        }
    }

    /// Adds words to a block made by [`Block::unplaced`].
    pub fn take_words(&mut self, words: &str, emphasis: Emphasis) {
        let start = self.text.len();
        self.text.push_str(words);
        match self.runs.last_mut() {
            Some((run, same)) if *same == emphasis => run.end = self.text.len(),
            _ => self.runs.push((start..self.text.len(), emphasis)),
        }
    }

    /// The byte of the file at which an offset into the text stands, as the start or the end of a range.
    fn place(&self, offset: usize, side: RangeEnd) -> usize {
        let found = match side {
            RangeEnd::Start => Some(self.pieces.partition_point(|piece| piece.text.end <= offset)),
            RangeEnd::End => self.pieces.partition_point(|piece| piece.text.start < offset).checked_sub(1),
        };
        let Some(piece) = found.and_then(|found| self.pieces.get(found)) else {
            return match side {
                RangeEnd::Start => self.pieces.last().map_or(0, |piece| piece.source.end),
                RangeEnd::End => self.pieces.first().map_or(0, |piece| piece.source.start),
            };
        };
        match side {
            _ if piece.is_verbatim() => {
                let inside = offset.clamp(piece.text.start, piece.text.end) - piece.text.start;
                piece.source.start + inside
            }
            RangeEnd::Start => piece.source.start,
            RangeEnd::End => piece.source.end,
        }
    }
}

/// Which end of a range is looked for. Inside a piece that is not verbatim, the start of a range becomes the piece's
/// start and the end of a range the piece's end, so that the range in the file holds all of the text's source.
#[derive(Clone, Copy)]
enum RangeEnd {
    Start,
    End,
}

#[cfg(test)]
mod tests {
    use super::Block;
    use crate::draft::Draft;

    #[test]
    fn no_word_of_a_quote_and_no_end_of_a_line_may_go() {
        let draft = Draft::read("The snail\\\nis slow.\n\n> A  small book.\n>\n> — Ida Voss, librarian\n");
        let [verse, quote, credit] = &draft.blocks[..] else { panic!("{:?}", draft.blocks) };
        assert!(verse.may_lose(&(0..9)) && verse.may_lose(&(10..12)));
        assert!(!verse.may_lose(&(4..12)) && !verse.may_lose(&(9..10)));
        assert!(quote.may_lose(&(1..2)) && !quote.may_lose(&(2..8)) && !credit.may_lose(&(4..7)));
    }

    #[test]
    fn a_replaced_stretch_has_the_emphasis_of_its_start() {
        let draft = Draft::read("Oona *lights the* lamp.");
        let block = &draft.blocks[0];
        let shown = |block: &Block| -> Vec<(String, bool)> {
            block.runs().iter().map(|(run, own)| (block.text()[run.clone()].to_owned(), own.italic)).collect()
        };
        let other = block.replaced(5..20, "dims a light");
        assert_eq!(other.text(), "Oona dims a light.");
        let text: String = shown(&other).into_iter().map(|(text, _)| text).collect();
        assert_eq!(text, other.text());
        assert!(other.runs().iter().any(|(run, own)| own.italic && other.text()[run.clone()].starts_with("dims")));
        assert_eq!(other.span(17..18), block.span(20..21));
        assert_eq!(block.replaced(4..4, "!").text(), "Oona! lights the lamp.");
        assert_eq!(block.replaced(0..21, "").text(), "");
    }
}
