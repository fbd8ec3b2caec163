//! First fit: each line takes what goes into its measure, and the next begins.
//!
//! A line that stands beside a keep-out is shorter. Where not even the first piece goes in beside it, the line moves
//! down to where the keep-out ends, as text flows round a float in CSS 2.1 (section 9.5.1). A piece that is wider than
//! the whole measure is divided between letters, so that nothing ever stands outside its measure, and is reported.

use super::breaks;
use super::filler::{Filler, LinePlace, UnplacedLine};
use super::lines::SetLine;
use super::room::LineSlot;
use super::shaped::Piece;
use crate::units::{Em, Length};

/// Adds the paragraph's lines from a depth down, the first of them indented, and gives the depth at which the last
/// ends.
pub(super) fn set(filler: &Filler<'_>, depth: Length, indent: Length, lines: &mut Vec<SetLine>) -> Length {
    fill(filler, depth, indent, |line, place| {
        lines.push(filler.place(line, place));
        true
    })
}

/// Gives the depth at which the paragraph's last line ends, and whether each of its lines fits, of which the first that
/// does not is the last that is looked at; no line is made.
pub(super) fn cast_off(filler: &Filler<'_>, depth: Length, indent: Length) -> (Length, bool) {
    let mut fits = true;
    let foot = fill(filler, depth, indent, |line, place| {
        fits = !line.too_wide && !filler.is_over(place);
        fits
    });
    (foot, fits)
}

/// How many lines the paragraph takes; no line is made.
pub(super) fn count(filler: &Filler<'_>, depth: Length, indent: Length) -> usize {
    let mut lines = 0;
    fill(filler, depth, indent, |_, _| {
        lines += 1;
        true
    });
    lines
}

/// Hands each line on with its place, as long as `take` asks for more, and gives the depth at which the last ends.
pub(super) fn fill(
    filler: &Filler<'_>,
    mut depth: Length,
    mut indent: Length,
    mut take: impl FnMut(&UnplacedLine, LinePlace) -> bool,
) -> Length {
    let mut rest = filler.pieces;
    // The tail of a piece that had to be divided stands before the rest, in the place of the whole piece, `rest[0]`.
    let mut tail: Option<Piece> = None;
    while let Some(first) = tail.or(rest.first().copied()) {
        let slot = filler.room.at(depth, filler.form.leading);
        // Where the measure is whole a line stands in any case: what does not go in there goes nowhere.
        let takes = |slot: LineSlot| !slot.narrowed || first.fits_alone(filler.room_for(&first, slot, indent));
        let room = filler.room_for(&first, slot, indent);
        let line;
        if first.fits_alone(room) {
            // Every line takes as much as it can, so what is left for the next begins where this one is full.
            let filled = fill_line(first, rest, room);
            line = filler.line(&first, &rest[1..filled.pieces], filled.width);
            rest = &rest[filled.pieces..];
            tail = None;
        } else if slot.narrowed
            && let Some(lower) = filler.room.next_change(depth, filler.form.leading, takes)
        {
            // Until the first of the keep-outs beside the line ends, the measure can only shrink: no depth between is
            // tried.
            depth = lower;
            continue;
        } else {
            // The measure is as wide as it gets, so the piece goes nowhere whole.
            let (head, remainder) = divide(filler, first, room);
            line = UnplacedLine { too_wide: true, ends: true, ..filler.line(&head, &[], head.inked) };
            tail = remainder;
            if tail.is_none() {
                rest = &rest[1..];
            }
        }
        let ends = line.ends || rest.is_empty() && tail.is_none();
        let goes_on = take(&UnplacedLine { ends, ..line }, LinePlace { slot, depth, indent });
        depth += filler.form.leading;
        if !goes_on {
            break;
        }
        indent = Length::ZERO;
    }
    depth
}

/// What goes into one line.
pub(super) struct Filled {
    /// How many pieces the line takes.
    pub(super) pieces: usize,
    /// The width of the line, hanging blanks aside.
    pub(super) width: Em,
}

/// Adds piece after piece while they go into `room`. The first, which stands for `rest[0]` or its tail, is taken in any
/// case.
pub(super) fn fill_line(first: Piece, rest: &[Piece], room: Em) -> Filled {
    // `before` holds every piece with its blanks, since another may follow; `width` is what the line has if none does.
    let mut before = first.at_line_start + first.full;
    let mut width = first.at_line_start + first.inked + first.at_line_end;
    let mut pieces = 1;
    let mut ended = first.forced;
    for piece in &rest[1..] {
        let candidate = before + piece.inked + piece.at_line_end;
        if ended || candidate > room {
            break;
        }
        width = candidate;
        before += piece.full;
        ended = piece.forced;
        pieces += 1;
    }
    Filled { pieces, width }
}

/// Cuts a piece after as many of its letters as go into `room`, one at the least, so that every line takes something;
/// gives the head and, where anything is left, the tail.
fn divide(filler: &Filler<'_>, piece: Piece, room: Em) -> (Piece, Option<Piece>) {
    let glyphs = filler.glyphs;
    let first = glyphs.partition_point(|glyph| (glyph.cluster as usize) < piece.start);
    let mut width = Em::ZERO;
    for glyph in &glyphs[first..] {
        let at = glyph.cluster as usize;
        if at >= piece.end {
            break;
        }
        // Blanks hang at the head's end: a tail of blanks alone would be a line without ink.
        if at > piece.start
            && width + glyph.advance > room
            && filler.text[at..piece.end].starts_with(|c| !breaks::hangs(c))
        {
            let head = Piece { start: piece.start, end: at, full: width, inked: width, ..Piece::default() };
            let tail = Piece {
                start: at,
                at_line_start: Em::ZERO,
                opening: Em::ZERO,
                full: piece.full - width,
                inked: piece.inked - width,
                ..piece
            };
            return (head, Some(tail));
        }
        width += glyph.advance;
    }
    (piece, None)
}
