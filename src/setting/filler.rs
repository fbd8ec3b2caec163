//! A paragraph while its lines are filled: the room that a line has, the line that some pieces make, and its place.
//!
//! Both ways to choose where lines end, first fit and total fit, ask here how much goes into a line and where it
//! stands, so that the same pieces make the same line whoever chose them.

use super::breaks;
use super::copy::BlockMetrics;
use super::lines::SetLine;
use super::room::{LineSlot, Room};
use super::shaped::Piece;
use super::shaping::Glyph;
use crate::brief::typography::Align;
use crate::units::{Em, Length};

/// One paragraph, with all that the places of its lines depend on.
pub(super) struct Filler<'a> {
    /// The number of the paragraph's block in the draft, counted from 0.
    pub(super) paragraph: usize,
    /// The number of its place.
    pub(super) place: usize,
    /// The type.
    pub(super) form: &'a BlockMetrics,
    /// The room of the place.
    pub(super) room: &'a Room,
    /// What a line cannot divide, in order.
    pub(super) pieces: &'a [Piece],
    /// The glyphs of the text.
    pub(super) glyphs: &'a [Glyph],
    /// The text.
    pub(super) text: &'a str,
}

/// Where a line goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct LinePlace {
    /// Where the line may stand, and how long it may be.
    pub(super) slot: LineSlot,
    /// The depth at which the line begins, as the room counts depth.
    pub(super) depth: Length,
    /// The room before the line.
    pub(super) indent: Length,
}

/// A line before it has its place.
#[derive(Clone, Copy)]
pub(super) struct UnplacedLine {
    /// The first byte of the line in the text.
    pub(super) start: usize,
    /// One past the last byte, hanging blanks included.
    pub(super) end: usize,
    /// The width, hanging blanks aside.
    pub(super) width: Em,
    /// The width of the blanks that a justified line may widen.
    pub(super) blanks: Em,
    /// The width of the opening quotation mark that the line begins with; zero where it begins with none.
    pub(super) opening: Em,
    /// Whether a hyphen is printed at the end.
    pub(super) hyphen: bool,
    /// Whether the line is part of a word that is wider than the measure.
    pub(super) too_wide: bool,
    /// Whether the paragraph, or a part of it that the author ended, ends with the line.
    pub(super) ends: bool,
}

impl Filler<'_> {
    /// The line, `width` wide, that a piece or the tail of a piece makes with the pieces behind it. Blanks are counted
    /// in justified lines alone, where they may be widened.
    pub(super) fn line(&self, first: &Piece, behind: &[Piece], width: Em) -> UnplacedLine {
        let last = behind.last().unwrap_or(first);
        // The blanks after the last piece hang in the margin, so they take no part in filling the measure.
        let blanks = if self.form.align == Align::Justified {
            let all = std::iter::once(first).chain(behind).map(|piece| piece.blanks_within + piece.blanks_after);
            all.sum::<Em>() - last.blanks_after
        } else {
            Em::ZERO
        };
        let Piece { start, opening, .. } = *first;
        let Piece { end, hyphen, forced, .. } = *last;
        UnplacedLine { start, end, width, blanks, opening, hyphen, too_wide: false, ends: forced }
    }

    /// The room of a line that begins with a piece, with what hangs before the line.
    pub(super) fn room_for(&self, first: &Piece, slot: LineSlot, indent: Length) -> Em {
        let room = Em::filling(slot.width - indent, self.form.size);
        if self.hangs(first.opening, slot, indent) { room + first.opening } else { room }
    }

    /// Whether the quotation mark that a line begins with hangs: only into the margin, never into a keep-out's
    /// clearance.
    fn hangs(&self, opening: Em, slot: LineSlot, indent: Length) -> bool {
        let at_margin = slot.at_edge && indent == Length::ZERO;
        self.form.hang_quotes && at_margin && self.form.align != Align::Centre && opening > Em::ZERO
    }

    /// Whether a line reaches below the room.
    pub(super) fn is_over(&self, place: LinePlace) -> bool {
        !(place.depth + self.form.leading).fits(self.room.foot())
    }

    /// Gives a line its place: where its ink begins, how much its blanks are widened, and whether it is over.
    pub(super) fn place(&self, line: &UnplacedLine, place: LinePlace) -> SetLine {
        let LinePlace { slot, depth, indent } = place;
        let top = self.room.top_at(depth);
        let form = self.form;
        let hung = if self.hangs(line.opening, slot, indent) { line.opening.at(form.size) } else { Length::ZERO };
        let natural = line.width.at(form.size);
        let measure = slot.width - indent;
        // What hangs stands outside the measure, so the measure has that much more to fill.
        let left = measure + hung - natural;
        let stretches = form.align == Align::Justified && line.blanks > Em::ZERO && !line.too_wide;
        // The last line of a paragraph keeps its blanks, unless they have to be narrowed for it to go in.
        let widened = if stretches && (!line.ends || left < Length::ZERO) { left } else { Length::ZERO };
        let shift = match form.align {
            Align::Left | Align::Justified => Length::ZERO,
            Align::Centre => left.or_zero() / 2,
        };
        let text = self.text[line.start..line.end].trim_end_matches(breaks::hangs);
        SetLine {
            paragraph: self.paragraph,
            place: self.place,
            text: line.start..line.start + text.len(),
            slot_x: slot.x,
            x: slot.x + indent + shift - hung,
            top,
            baseline: top + form.baseline(),
            width: natural + widened,
            measure,
            hung,
            widened,
            blanks: line.blanks,
            leading: form.leading,
            align: form.align,
            hyphen: line.hyphen,
            over: self.is_over(place),
            too_wide: line.too_wide,
        }
    }
}
