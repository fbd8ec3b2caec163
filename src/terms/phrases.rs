//! Finds phrases in the copy, whatever their case, hyphens, apostrophes and regular inflections.
//!
//! A phrase and a block are both cut into pieces: the words of Unicode Standard Annex #29, hyphened words at their
//! hyphens. Pieces are compared in small letters after NFC, with straight apostrophes. Between two pieces stands a
//! joint. A blank and a hyphen are the same joint, so `bed-time story` finds `bed time-story`. A joint may also be
//! missing on one side, so `bedtime`, `bed-time` and `bed time` find one another; but a blank may be missing only where
//! both pieces have three letters or more, so that `to get her` is not found by `together`. Any other joint (a comma,
//! an ampersand) must be the same on both sides.

use std::borrow::Cow;
use std::ops::Range;

use unicode_normalization::UnicodeNormalization;

use crate::text::inflections::{is_form_of, may_be_forms};
use crate::text::words::{is_hyphen, parts};

/// Letters that both sides of a blank must have for the blank to be left out.
const SHORTEST_JOINED: usize = 3;
/// The most pieces that may be written as one word: `merry-go-round`, `merrygoround`.
const MOST_JOINED: usize = 3;

/// A text cut into the pieces that phrases are compared by.
#[derive(Debug)]
pub(super) struct CutText<'t> {
    pieces: Vec<CutPiece<'t>>,
}

/// A word, or a part of a hyphened one.
#[derive(Debug)]
struct CutPiece<'t> {
    /// Bytes of the text.
    range: Range<usize>,
    /// The piece in the form in which pieces are compared: most stand in the text so already.
    folded: Cow<'t, str>,
    /// What stands between this piece and the next, or the end of the text.
    joint: Joint<'t>,
}

/// What stands between two pieces.
#[derive(Debug, PartialEq, Eq)]
enum Joint<'t> {
    /// Only blanks.
    Blank,
    /// One joining hyphen.
    Hyphen,
    /// Two words with nothing between them, as scripts without blanks have them.
    Nothing,
    /// Anything else, folded.
    Other(Cow<'t, str>),
}

impl<'t> CutText<'t> {
    /// Cuts a text into pieces.
    pub(super) fn cut(text: &'t str) -> Self {
        let ranges = parts(text);
        let gap = |at: usize| &text[ranges[at].end..ranges.get(at + 1).map_or(text.len(), |next| next.start)];
        let pieces = ranges.iter().enumerate().map(|(at, range)| CutPiece {
            range: range.clone(),
            folded: fold(&text[range.clone()]),
            joint: Joint::of(gap(at)),
        });
        Self { pieces: pieces.collect() }
    }

    /// The pieces in order: where each stands in the text, and the piece in small letters with straight apostrophes.
    pub(super) fn iter(&self) -> impl ExactSizeIterator<Item = (&Range<usize>, &str)> {
        self.pieces.iter().map(|piece| (&piece.range, &*piece.folded))
    }

    /// The places in the text where one of the phrases stands, in order, without overlaps: the longest of those
    /// that begin at one place counts.
    pub(super) fn find(&self, phrases: &[CutText<'_>]) -> Vec<Range<usize>> {
        let mut found = Vec::new();
        let mut at = 0;
        while at < self.pieces.len() {
            let rest = &self.pieces[at..];
            let longest = phrases.iter().filter_map(|phrase| matched(&phrase.pieces, rest)).max().unwrap_or(0);
            if let Some(last) = longest.checked_sub(1) {
                found.push(rest[0].range.start..rest[last].range.end);
            }
            at += longest.max(1);
        }
        found
    }
}

impl<'t> Joint<'t> {
    fn of(gap: &'t str) -> Self {
        if gap.is_empty() {
            Self::Nothing
        } else if is_hyphen(gap) {
            Self::Hyphen
        } else if gap.chars().all(char::is_whitespace) {
            Self::Blank
        } else {
            let mut marks = gap.split_whitespace();
            match (marks.next(), marks.next()) {
                (Some(mark), None) if mark.is_ascii() => Self::Other(fold(mark)),
                _ => Self::Other(fold(gap).split_whitespace().collect::<Vec<_>>().join(" ").into()),
            }
        }
    }

    /// Whether a joint of a phrase and one of the copy are the same.
    fn agrees_with(&self, other: &Self) -> bool {
        self == other || matches!((self, other), (Self::Blank, Self::Hyphen) | (Self::Hyphen, Self::Blank))
    }
}

/// How many pieces at the start of `copy` the phrase matches; none where it does not stand there.
fn matched(phrase: &[CutPiece<'_>], copy: &[CutPiece<'_>]) -> Option<usize> {
    // Inflections change the end of a word alone, so a phrase begins with the same letter wherever it stands.
    let (word, written) = (&*phrase.first()?.folded, &*copy.first()?.folded);
    if word.chars().next() != written.chars().next() || !may_be_forms(written, word) {
        return None;
    }
    // One piece for one is tried first, then pieces joined on either side; a step that was taken is not taken back.
    let (mut of_phrase, mut of_copy) = (0, 0);
    while of_phrase < phrase.len() {
        let (phrase, copy) = (&phrase[of_phrase..], &copy[of_copy..]);
        let step = steps().find(|step| takes(phrase, copy, *step))?;
        (of_phrase, of_copy) = (of_phrase + step.0, of_copy + step.1);
    }
    Some(of_copy)
}

/// Whether the first `of_phrase` pieces of the phrase make the same word as the first `of_copy` of the copy, with the
/// same joint behind them.
fn takes(phrase: &[CutPiece<'_>], copy: &[CutPiece<'_>], (of_phrase, of_copy): (usize, usize)) -> bool {
    let (Some(term), Some(written)) = (phrase.get(..of_phrase), copy.get(..of_copy)) else { return false };
    let (Some(word), Some(form)) = (joined(term), joined(written)) else { return false };
    let joints = term.last().zip(written.last());
    is_form_of(&form, &word)
        && (of_phrase == phrase.len() || joints.is_some_and(|(term, written)| term.joint.agrees_with(&written.joint)))
}

/// How many pieces of the phrase may stand for how many of the copy: one for one, one for several, or several for one.
fn steps() -> impl Iterator<Item = (usize, usize)> {
    let several = (2..=MOST_JOINED).flat_map(|count| [(1, count), (count, 1)]);
    std::iter::once((1, 1)).chain(several)
}

/// The pieces written as one word; none where a joint does not allow it.
fn joined(pieces: &[CutPiece<'_>]) -> Option<String> {
    let (last, front) = pieces.split_last()?;
    let mut word = String::new();
    for (piece, next) in front.iter().zip(&pieces[1..]) {
        let long_enough = |piece: &CutPiece<'_>| piece.folded.chars().count() >= SHORTEST_JOINED;
        let joins = match piece.joint {
            Joint::Hyphen => true,
            Joint::Blank => long_enough(piece) && long_enough(next),
            Joint::Nothing | Joint::Other(_) => false,
        };
        if !joins {
            return None;
        }
        word.push_str(&piece.folded);
    }
    word.push_str(&last.folded);
    Some(word)
}

/// A text in small letters after NFC, with straight apostrophes and without soft hyphens.
fn fold(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        let has_capital = text.bytes().any(|byte| byte.is_ascii_uppercase());
        return if has_capital { text.to_ascii_lowercase().into() } else { text.into() };
    }
    let lower = text.nfc().flat_map(char::to_lowercase).filter(|character| *character != '\u{ad}');
    lower.map(|character| if character == '\u{2019}' { '\'' } else { character }).nfc().collect()
}

#[cfg(test)]
mod tests {
    use super::CutText;

    /// Each line: the phrase, the copy with each place it should be found at in [brackets].
    #[test]
    fn phrases_are_found_as_marked() {
        for case in include_str!("../../tests/cases/phrases.txt").lines() {
            if case.is_empty() || case.starts_with('#') {
                continue;
            }
            let (phrase, marked) = case.split_once(" : ").unwrap();
            let copy = marked.replace(['[', ']'], "").replace('\\', "\n");
            let found = CutText::cut(&copy).find(&[CutText::cut(phrase)]);
            let mut shown = copy.clone();
            for range in found.into_iter().rev() {
                shown.insert(range.end, ']');
                shown.insert(range.start, '[');
            }
            assert_eq!(shown.replace('\n', "\\"), marked, "{phrase}");
        }
    }

    #[test]
    fn the_longest_of_several_phrases_counts_once() {
        let phrases = [CutText::cut("lamp"), CutText::cut("lamp oil")];
        assert_eq!(CutText::cut("Lamp oil, lamps").find(&phrases), [0..8, 10..15]);
    }
}
