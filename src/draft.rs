//! A draft: one version of the copy, as blocks of plain text that point back into the author's file.
//!
//! A draft is Markdown in its simplest form. A first-level heading is the headline; paragraphs are the blurb; a
//! block quotation holds review quotes, each ended by a line that opens with a dash, its credit; a second-level heading
//! names the block below it (`## Note on the author`) and is not printed; a comment is neither measured nor set.
//!
//! Reading cannot fail: whatever has no place in copy (a picture, a control character) is left out and noted.

mod credits;
mod markdown;
mod remembered;
mod places;

use std::ops::Range;

pub use places::{LinePlaces, place};
pub use remembered::Remembered;

/// A stretch of the author's file, in bytes from its start (a byte-order mark counts).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A change of the author's file: a stretch of it, and what stands there instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// The stretch; an empty one is a place.
    pub span: Span,
    /// What stands there instead.
    pub text: String,
}

/// A file with changes made. Of two that share a byte the earlier in the file is made and the other is not; one whose span
/// is no stretch of the file is not made either.
pub fn edited(source: &str, edits: &[Edit]) -> String {
    let mut ordered: Vec<&Edit> = edits.iter().collect();
    ordered.sort_by_key(|edit| edit.span);
    let (mut text, mut done) = (String::with_capacity(source.len()), 0);
    for Edit { span, text: wording } in ordered {
        let (Some(kept), Some(_)) = (source.get(done..span.start), source.get(span.start..span.end)) else { continue };
        text.push_str(kept);
        text.push_str(wording);
        done = span.end;
    }
    text.push_str(&source[done..]);
    text
}

/// The copy of one draft, in the order in which it is printed.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    /// What is printed.
    pub blocks: Vec<Block>,
    /// Where a rule (`---`) stands between two blocks, as the number of the block below it. Rules are not printed.
    pub rules: Vec<usize>,
    /// What was left out or could not be understood.
    pub notes: Vec<Note>,
}

impl Draft {
    /// Reads a draft from the text of its file.
    pub fn read(source: &str) -> Self {
        markdown::read(source)
    }

    /// The blocks of one kind, in order.
    pub fn blocks_of(&self, kind: BlockKind) -> impl Iterator<Item = &Block> {
        self.blocks.iter().filter(move |block| block.kind == kind)
    }

    /// Whether two drafts print the same: the same blocks of the same words in the same faces. A blank has no face.
    pub fn prints_like(&self, other: &Self) -> bool {
        let is_same = |(one, other): (&Block, &Block)| {
            one.kind == other.kind && one.text == other.text && one.faces().eq(other.faces())
        };
        self.blocks.len() == other.blocks.len() && self.blocks.iter().zip(&other.blocks).all(is_same)
    }
}

/// Something about the draft's form that the author should know; never a judgement of the words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Where it stands in the file.
    pub span: Span,
    /// What was found and what was done about it, as a sentence without its stop.
    pub text: String,
}

/// A part of the copy with its own type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BlockKind {
    /// The line or lines that stand over the blurb.
    Headline,
    /// The selling copy itself: what length, level and terms are measured on.
    Blurb,
    /// Words taken from a review or given as an endorsement.
    Quote,
    /// Who said the quote, and their standing.
    Credit,
    /// The note on the author.
    NoteOnTheAuthor,
    /// Other titles or a series list.
    OtherTitles,
    /// For whom the book is, by age.
    AgeLine,
    /// The price in words.
    PriceLine,
}

impl BlockKind {
    /// Every kind, in the order of this list.
    pub const ALL: [Self; 8] = [
        Self::Headline,
        Self::Blurb,
        Self::Quote,
        Self::Credit,
        Self::NoteOnTheAuthor,
        Self::OtherTitles,
        Self::AgeLine,
        Self::PriceLine,
    ];

    /// The kind's name as a draft's heading and a report write it: `note on the author`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Headline => "headline",
            Self::Blurb => "blurb",
            Self::Quote => "quote",
            Self::Credit => "credit",
            Self::NoteOnTheAuthor => "note on the author",
            Self::OtherTitles => "other titles",
            Self::AgeLine => "age line",
            Self::PriceLine => "price line",
        }
    }
}

impl BlockKind {
    /// Other names that the trade has for the kind and a draft's heading may have, in small letters. A heading that begins with
    /// `praise for` names quotes too.
    pub fn other_names(self) -> &'static [&'static str] {
        match self {
            Self::Headline | Self::Blurb | Self::Credit => &[],
            Self::Quote => &["quotes", "praise", "reviews"],
            Self::NoteOnTheAuthor => &[
                "about the author",
                "the author",
                "about the illustrator",
                "the illustrator",
                "about the authors",
                "the authors",
                "about the illustrators",
                "the illustrators",
                "about the author and illustrator",
                "about the author and the illustrator",
            ],
            Self::OtherTitles => &["also by", "by the same author"],
            Self::AgeLine => &["age", "ages"],
            Self::PriceLine => &["price"],
        }
    }
}

/// Bold and italic, which paragraphs of any block may carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Emphasis {
    /// Set in the bold face.
    pub bold: bool,
    /// Set in the italic face.
    pub italic: bool,
}

/// One paragraph of copy: its text with the Markdown taken away, and the way back into the file.
///
/// The text has no line endings but those the author forced (`\n`); a line ending inside a paragraph is a space.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// What part of the copy it is.
    pub kind: BlockKind,
    text: String,
    runs: Vec<(Range<usize>, Emphasis)>,
    pieces: Vec<Piece>,
}

/// A stretch of a block's text and the stretch of the file that it came from.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Piece {
    text: Range<usize>,
    source: Range<usize>,
}

impl Piece {
    /// The part of the piece inside a range of the text, if any.
    fn part(&self, range: Range<usize>) -> Option<Self> {
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

    /// Whether the text stands in the file byte for byte, so that a place inside it can be found by counting.
    fn is_verbatim(&self) -> bool {
        self.text.len() == self.source.len()
    }
}

impl Block {
    /// The words to be set.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text in stretches of one emphasis, in order, covering it whole.
    pub fn runs(&self) -> &[(Range<usize>, Emphasis)] {
        &self.runs
    }

    /// The emphasis of every letter and sign, in order; a blank has none.
    fn faces(&self) -> impl Iterator<Item = Emphasis> {
        self.runs.iter().flat_map(|(run, emphasis)| {
            self.text[run.clone()].chars().filter(|letter| !letter.is_whitespace()).map(|_| *emphasis)
        })
    }

    /// Whether another block is of the same kind and stands in its file with the same markup, wherever that is.
    fn reads_like(&self, other: &Self) -> bool {
        let place = |block: &Self| block.pieces.first().map_or(0, |piece| piece.source.start);
        let (own, others) = (place(self), place(other));
        let at = |range: &Range<usize>, first: usize| (range.start.wrapping_sub(first), range.end.wrapping_sub(first));
        let is_like = |(one, other): (&Piece, &Piece)| {
            one.text == other.text && at(&one.source, own) == at(&other.source, others)
        };
        self.kind == other.kind
            && self.text == other.text
            && self.runs == other.runs
            && self.pieces.len() == other.pieces.len()
            && self.pieces.iter().zip(&other.pieces).all(is_like)
    }

    /// Where a stretch of the text stands in the file. Markup between its ends is inside the span.
    pub fn span(&self, range: Range<usize>) -> Span {
        let start = self.place(range.start, Side::Start);
        let end = if range.is_empty() { start } else { self.place(range.end, Side::End) };
        Span { start, end: end.max(start) }
    }

    /// Where the whole block stands in the file, without its markup at either end.
    pub fn whole_span(&self) -> Span {
        self.span(0..self.text.len())
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
            halves.flatten().filter_map(|piece| Some(Piece { text: kept(&piece.text)?, source: piece.source }));
        let text = format!("{}{}", &self.text[..gone.start], &self.text[gone.end..]);
        Self { kind: self.kind, runs: runs.collect(), pieces: pieces.collect(), text }
    }

    /// The block with a stretch of its text in another wording, which has the emphasis of the stretch's start and points back
    /// to the whole stretch.
    pub fn replaced(&self, range: Range<usize>, wording: &str) -> Self {
        let (at, long) = (range.start, wording.len());
        let mut block = self.without(range.clone());
        if wording.is_empty() {
            return block;
        }
        let run_at = self.runs.iter().rfind(|(run, _)| run.start <= at);
        let emphasis = run_at.or(self.runs.first()).map_or(Emphasis::default(), |(_, emphasis)| *emphasis);
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
        let span = self.span(range);
        let (text, end) = (at..at + long, block.text.len());
        let before = block.pieces.iter().filter_map(|piece| piece.part(0..at));
        let after = block.pieces.iter().filter_map(|piece| piece.part(at..end));
        let pieces: Vec<Piece> = before
            .chain([Piece { text, source: span.start..span.end }])
            .chain(after.map(|piece| Piece { text: moved(piece.text), source: piece.source }))
            .collect();
        block.text.insert_str(at, wording);
        block.runs = runs;
        block.pieces = pieces;
        block
    }

    /// The block with more text behind its end, in the emphasis of its end; the tail points to that end in the file.
    pub fn followed_by(&self, tail: &str) -> Self {
        let mut block = self.clone();
        let end = self.whole_span().end;
        let text = self.text.len()..self.text.len() + tail.len();
        match block.runs.last_mut() {
            Some((run, _)) => run.end = text.end,
            None => block.runs.push((text.clone(), Emphasis::default())),
        }
        block.text.push_str(tail);
        block.pieces.push(Piece { text, source: end..end });
        block
    }

    /// A block without words, to be filled with parts of others. It points nowhere into a file.
    pub fn unplaced(kind: BlockKind) -> Self {
        Self { kind, text: String::new(), runs: Vec::new(), pieces: Vec::new() }
    }

    /// Adds a stretch of another block with its emphasis to a block that points nowhere.
    pub fn take_part(&mut self, of: &Self, range: Range<usize>) {
        for (run, emphasis) in &of.runs {
            let part = run.start.max(range.start)..run.end.min(range.end);
            if part.start < part.end {
                self.take_words(&of.text[part], *emphasis);
            }
        }
    }

    /// Adds words to a block that points nowhere.
    pub fn take_words(&mut self, words: &str, emphasis: Emphasis) {
        let start = self.text.len();
        self.text.push_str(words);
        match self.runs.last_mut() {
            Some((run, same)) if *same == emphasis => run.end = self.text.len(),
            _ => self.runs.push((start..self.text.len(), emphasis)),
        }
    }

    fn place(&self, offset: usize, side: Side) -> usize {
        let found = match side {
            Side::Start => Some(self.pieces.partition_point(|piece| piece.text.end <= offset)),
            Side::End => self.pieces.partition_point(|piece| piece.text.start < offset).checked_sub(1),
        };
        let Some(piece) = found.and_then(|found| self.pieces.get(found)) else {
            return match side {
                Side::Start => self.pieces.last().map_or(0, |piece| piece.source.end),
                Side::End => self.pieces.first().map_or(0, |piece| piece.source.start),
            };
        };
        match side {
            _ if piece.is_verbatim() => {
                let inside = offset.clamp(piece.text.start, piece.text.end) - piece.text.start;
                piece.source.start + inside
            }
            Side::Start => piece.source.start,
            Side::End => piece.source.end,
        }
    }
}

/// Which end of a range is looked for: inside what is not verbatim, a start goes down and an end goes up.
#[derive(Clone, Copy)]
enum Side {
    Start,
    End,
}

#[cfg(test)]
mod tests {
    use super::{Block, Draft, Edit, Span, edited};

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

    #[test]
    fn edits_are_made_in_the_order_of_the_file_and_never_over_one_another() {
        let edit = |start, end, text: &str| Edit { span: Span { start, end }, text: text.to_owned() };
        assert_eq!(edited("the old lamp", &[edit(8, 12, "light"), edit(3, 7, "")]), "the light");
        assert_eq!(edited("the old lamp", &[edit(3, 7, ""), edit(4, 8, "new ")]), "the lamp");
        assert_eq!(edited("lamp", &[edit(4, 4, "s"), edit(0, 0, "a ")]), "a lamps");
        assert_eq!(edited("lamp", &[edit(3, 1, "x"), edit(2, 9, "x")]), "lamp");
        assert_eq!(edited("lé", &[edit(2, 3, "x")]), "lé");
    }
}
