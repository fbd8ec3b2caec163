//! The copy broken into lines, first fit: each line takes what goes into its measure, and the next begins.
//!
//! A line that stands beside a keep-out is shorter. Where not even the first piece goes in beside it, the line moves down
//! to where the keep-out ends, as text flows round a float in CSS 2.1 (section 9.5.1). A piece that is wider than
//! the whole measure is divided between letters, so that nothing ever stands outside its measure, and is reported.

use std::ops::Range;

use super::breaks;
use super::copy::{BlockMetrics, Forms, ShapedBlock, ShapedCopy};
use super::face::Glyph;
use super::room::{LineSlot, Room};
use super::shaped::{Piece, Shaped};
use super::total_fit::{self, Chosen};
use crate::brief::typography::{Align, Breaks, Stack};
use crate::draft::Block;
use crate::units::{Em, Length};

/// One line in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// Which block of the draft it belongs to, counted from 0.
    pub paragraph: usize,
    /// Its bytes in the block's text, without the blanks that hang at its end.
    pub text: Range<usize>,
    /// Where its ink begins, from the panel's left edge.
    pub x: Length,
    /// The upper edge of its box, from the panel's head.
    pub top: Length,
    /// The baseline, from the panel's head.
    pub baseline: Length,
    /// How long it is.
    pub width: Length,
    /// How long it may be.
    pub measure: Length,
    /// How much of it hangs before its measure: an opening quotation mark.
    pub hung: Length,
    /// What its blanks gain or lose, in all, for it to fill its measure.
    pub widened: Length,
    /// How wide its blanks are by themselves, in all.
    pub blanks: Em,
    /// The height of its box.
    pub leading: Length,
    /// A hyphen is printed at its end.
    pub hyphen: bool,
    /// Its box reaches below the live area.
    pub over: bool,
    /// It holds a word, or a part of one, that is wider than the measure.
    pub too_wide: bool,
}

impl SetLine {
    /// The lower edge of its box.
    pub fn foot(&self) -> Length {
        self.top + self.leading
    }
}

/// The copy in lines, from the head of the live area.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Setting {
    /// From the first to the last, those that are over included.
    pub lines: Vec<SetLine>,
    /// The depth that it takes when it is set from the head of the live area.
    pub depth: Length,
}

/// The most places that a stack is tried at before it stands.
const MOST_STANDS: usize = 12;

impl Setting {
    /// Sets the copy in a room.
    pub fn new(copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) -> Self {
        let mut setting = Self::default();
        setting.set_again(copy, forms, room);
        setting
    }

    /// Sets the copy anew in the place of this setting.
    pub fn set_again(&mut self, copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) {
        self.set_at_head(copy, forms, room);
        if copy.stack != Stack::Head && self.fits() {
            self.stand(copy, forms, room);
        }
    }

    /// Moves a stack that fits to the middle or the foot of the live area. Lower down other lines stand beside keep-outs, so
    /// it may take another depth there: places are tried until one is right, and the nearest one stands.
    fn stand(&mut self, copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) {
        let (head, foot) = (room.live().y, room.live().foot());
        let mut nearest = (foot - head, head);
        let mut top = head;
        for _ in 0..MOST_STANDS {
            let left = foot - self.lines.last().map_or(top, SetLine::foot);
            let next = match copy.stack {
                Stack::Head => head,
                Stack::Centre => (top + head + left) / 2,
                Stack::Foot => top + left,
            };
            let off = (next - top).or_zero() + (top - next).or_zero();
            if self.fits() && off < nearest.0 {
                nearest = (off, top);
            }
            if off <= Length::TOLERANCE {
                break;
            }
            top = next.max(head);
            self.set_from(top, copy, forms, room);
        }
        self.set_from(nearest.1, copy, forms, room);
    }

    /// Sets the copy from the head of the live area, wherever its stack is to stand.
    pub(super) fn set_at_head(&mut self, copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) {
        let head = room.live().y;
        self.set_from(head, copy, forms, room);
        self.depth = self.lines.last().map_or(Length::ZERO, |line| line.foot() - head);
    }

    fn set_from(&mut self, top: Length, copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) {
        self.set_paragraphs(
            top,
            copy.paragraphs.iter().map(|paragraph| (paragraph.block, &*paragraph.shaped)),
            forms,
            room,
        );
    }

    /// Sets blocks that are shaped, from `top` down.
    fn set_paragraphs<'b>(
        &mut self,
        mut top: Length,
        paragraphs: impl Iterator<Item = (&'b Block, &'b Shaped)>,
        forms: &Forms,
        room: &Room,
    ) {
        self.lines.clear();
        let mut before = None;
        for (index, (block, shaped)) in paragraphs.enumerate() {
            let form = forms.form(block.kind);
            top += form.above(before, block.kind);
            let filler = Filler { form, room, pieces: &shaped.pieces, glyphs: &shaped.glyphs, text: block.text() };
            top = filler.fill(index, top, form.indent_after(before, block.kind), &mut self.lines);
            before = Some(block.kind);
        }
    }

    /// Sets the copy at the head of the live area, with blocks in another wording in the place of its own: each with its
    /// number, in the order of the copy, and shaped by [`ShapedCopy::shape_other`].
    pub fn set_with(&mut self, copy: &ShapedCopy<'_>, others: &[(usize, &Block, &Shaped)], room: &Room) {
        let head = room.live().y;
        let own = copy.paragraphs.iter().enumerate();
        let paragraphs = own.map(|(index, paragraph)| {
            let other = others.binary_search_by_key(&index, |(number, ..)| *number);
            other.map_or((paragraph.block, &*paragraph.shaped), |at| (others[at].1, others[at].2))
        });
        self.set_paragraphs(head, paragraphs, copy.forms(), room);
        self.depth = self.lines.last().map_or(Length::ZERO, |line| line.foot() - head);
    }

    /// How many lines do not fit.
    pub fn lines_over(&self) -> usize {
        self.lines.iter().filter(|line| line.over).count()
    }

    /// Whether every line stands in the live area and no word is wider than its measure.
    pub fn fits(&self) -> bool {
        self.lines.iter().all(|line| !line.over && !line.too_wide)
    }
}

/// Fills the lines of one paragraph.
pub(super) struct Filler<'a> {
    /// The type.
    pub(super) form: &'a BlockMetrics,
    /// The panel's room.
    pub(super) room: &'a Room,
    /// What a line cannot divide, in order.
    pub(super) pieces: &'a [Piece],
    /// The glyphs of the text.
    pub(super) glyphs: &'a [Glyph],
    /// The text.
    pub(super) text: &'a str,
}

/// What goes into one line.
pub(super) struct Filled {
    /// How many pieces it takes.
    pub(super) pieces: usize,
    /// Its width, hanging blanks aside.
    pub(super) width: Em,
}

impl Filler<'_> {
    /// Adds the paragraph's lines from `top` down and gives the depth at which it ends.
    pub(super) fn fill(&self, paragraph: usize, top: Length, indent: Length, lines: &mut Vec<SetLine>) -> Length {
        let chosen = match self.form.breaks {
            Breaks::FirstFit => None,
            Breaks::TotalFit => total_fit::choose(self, top, indent),
        };
        let Some(chosen) = chosen else { return self.fill_each(paragraph, top, indent, lines) };
        let mut foot = top;
        for Chosen { pieces, top, slot, indent } in chosen {
            let (first, behind) = (&self.pieces[pieces.start], &self.pieces[pieces.start + 1..pieces.end]);
            let line = self.line(first, behind, width_of(first, behind));
            let ends = line.ends || pieces.end == self.pieces.len();
            lines.push(self.place(paragraph, &Line { ends, ..line }, Place { slot, top, indent }));
            foot = top + self.form.leading;
        }
        foot
    }

    /// Fills line after line, each with what goes into it.
    fn fill_each(&self, paragraph: usize, mut top: Length, mut indent: Length, lines: &mut Vec<SetLine>) -> Length {
        let mut rest = self.pieces;
        // The tail of a piece that had to be divided stands before the rest.
        let mut tail: Option<Piece> = None;
        while let Some(first) = tail.or(rest.first().copied()) {
            let slot = self.room.at(top, self.form.leading);
            let room = self.room_for(&first, slot, indent);
            let (line, foot);
            if first.fits_alone(room) {
                let filled = fill_line(first, rest, room);
                line = self.line(&first, &rest[1..filled.pieces], filled.width);
                rest = &rest[filled.pieces..];
                tail = None;
                foot = top + self.form.leading;
            } else if slot.narrowed
                && let Some(lower) = self.room.next_change(top, self.form.leading)
            {
                top = lower;
                continue;
            } else {
                let (head, remainder) = self.divide(first, room);
                line = Line { too_wide: true, ends: true, ..self.line(&head, &[], head.inked) };
                tail = remainder;
                if tail.is_none() {
                    rest = &rest[1..];
                }
                foot = top + self.form.leading;
            }
            let ends = line.ends || rest.is_empty() && tail.is_none();
            lines.push(self.place(paragraph, &Line { ends, ..line }, Place { slot, top, indent }));
            top = foot;
            indent = Length::ZERO;
        }
        top
    }

    /// A line of a piece, or its tail, and those behind it. Its blanks are counted where they may be widened.
    fn line(&self, first: &Piece, behind: &[Piece], width: Em) -> Line {
        let last = behind.last().unwrap_or(first);
        let blanks = if self.form.align == Align::Justified {
            let all = std::iter::once(first).chain(behind).map(|piece| piece.blanks_within + piece.blanks_after);
            all.sum::<Em>() - last.blanks_after
        } else {
            Em::ZERO
        };
        let Piece { start, opening, .. } = *first;
        Line { start, end: last.end, width, blanks, opening, hyphen: last.hyphen, too_wide: false, ends: last.forced }
    }

    /// The room that a line beginning with a piece has, with what hangs before it.
    pub(super) fn room_for(&self, first: &Piece, slot: LineSlot, indent: Length) -> Em {
        let room = Em::filling(slot.width - indent, self.form.size);
        if self.hangs(first.opening, slot, indent) { room + first.opening } else { room }
    }

    /// Whether the quotation mark that a line begins with hangs: only into the margin, never into a keep-out's clearance.
    fn hangs(&self, opening: Em, slot: LineSlot, indent: Length) -> bool {
        let at_margin = slot.x == self.room.live().x && indent == Length::ZERO;
        self.form.hang_quotes && at_margin && self.form.align != Align::Centre && opening > Em::ZERO
    }

    /// Takes as many letters from the start of a piece as go into `room`, one at the least.
    fn divide(&self, piece: Piece, room: Em) -> (Piece, Option<Piece>) {
        let glyphs = self.glyphs;
        let first = glyphs.partition_point(|glyph| (glyph.cluster as usize) < piece.start);
        let mut width = Em::ZERO;
        for glyph in &glyphs[first..] {
            let at = glyph.cluster as usize;
            if at >= piece.end {
                break;
            }
            if at > piece.start
                && width + glyph.advance > room
                && self.text[at..piece.end].starts_with(|c| !breaks::hangs(c))
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

    fn place(&self, paragraph: usize, line: &Line, place: Place) -> SetLine {
        let Place { slot, top, indent } = place;
        let form = self.form;
        let hung = if self.hangs(line.opening, slot, indent) { line.opening.at(form.size) } else { Length::ZERO };
        let natural = line.width.at(form.size);
        let measure = slot.width - indent;
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
            paragraph,
            text: line.start..line.start + text.len(),
            x: slot.x + indent + shift - hung,
            top,
            baseline: top + form.baseline(),
            width: natural + widened,
            measure,
            hung,
            widened,
            blanks: line.blanks,
            leading: form.leading,
            hyphen: line.hyphen,
            over: !(top + form.leading).fits(self.room.live().foot()),
            too_wide: line.too_wide,
        }
    }
}

/// Where a line goes.
struct Place {
    slot: LineSlot,
    top: Length,
    indent: Length,
}

/// A line before it has its place.
#[derive(Clone, Copy)]
struct Line {
    /// Its bytes in the text, hanging blanks included.
    start: usize,
    end: usize,
    width: Em,
    /// What a justified line may widen.
    blanks: Em,
    /// The quotation mark that it begins with.
    opening: Em,
    hyphen: bool,
    too_wide: bool,
    /// A paragraph, or a part of it that the author ended, ends with it.
    ends: bool,
}

/// How wide a line of these pieces is, hanging blanks aside.
fn width_of(first: &Piece, behind: &[Piece]) -> Em {
    let last = behind.last().unwrap_or(first);
    let full: Em = std::iter::once(first).chain(behind).map(|piece| piece.full).sum();
    first.at_line_start + full - last.full + last.inked + last.at_line_end
}

impl Piece {
    pub(super) fn fits_alone(&self, room: Em) -> bool {
        self.at_line_start + self.inked + self.at_line_end <= room
    }
}

/// Takes pieces while they go into `room`; the first, which stands for `rest[0]` or its tail, is known to.
pub(super) fn fill_line(first: Piece, rest: &[Piece], room: Em) -> Filled {
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

/// The text of a line as it is printed, its end's hyphen included.
pub fn printed(line: &SetLine, paragraph: &ShapedBlock<'_>) -> String {
    let mut text = paragraph.block.text()[line.text.clone()].replace('\u{ad}', "");
    if line.hyphen {
        text.push('-');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::Typography;
    use crate::brief::lengths::Unit;
    use crate::brief::panel::{Binding, KeepOut, KeepOutOrigin, Margins, Panel};
    use crate::brief::typography::{BlockType, Font, Leading};
    use crate::draft::Draft;
    use crate::setting::Faces;
    use crate::units::{Rect, Size};

    /// Sets a draft in the built-in serif at 12 pt on 15 pt, 200 pt wide and 90 pt deep, round a box at the foot
    /// right corner of `keep_out` (width and height in pt), and draws it: one row a line, `|` after what is over.
    fn drawn(source: &str, keep_out: Option<(f64, f64)>) -> Vec<String> {
        let draft = Draft::read(source);
        let faces = Faces::built_in();
        let copy = ShapedCopy::shape(&draft, &typography(), &faces);
        let room = Room::of(&panel(keep_out));
        let setting = Setting::new(&copy, copy.forms(), &room);
        let row = |line: &SetLine| {
            let text = printed(line, &copy.paragraphs[line.paragraph]);
            let mark = if line.over { "|" } else { "" };
            format!("{:.0} {text}{mark}", line.measure.to_pt())
        };
        setting.lines.iter().map(row).collect()
    }

    fn typography() -> Typography {
        let blurb = BlockType {
            font: Font::Serif,
            size: Length::pt(12.0),
            own_size: true,
            leading: Leading::Fixed(Length::pt(15.0)),
            bold: false,
            italic: false,
            align: Align::Left,
            space_above: Length::ZERO,
            own_space: false,
            indent: Length::ZERO,
            breaks: Breaks::FirstFit,
            hyphenate: None,
            hang_quotes: false,
        };
        Typography { blurb, others: Vec::new(), stack: Stack::Head }
    }

    fn panel(keep_out: Option<(f64, f64)>) -> Panel {
        let size = |width, height| Size { width: Length::pt(width), height: Length::pt(height) };
        let boxed = keep_out.map(|(width, height)| KeepOut {
            origin: KeepOutOrigin::Named,
            name: "box".to_owned(),
            rect: Rect {
                x: Length::pt(200.0 - width),
                y: Length::pt(90.0 - height),
                width: Length::pt(width),
                height: Length::pt(height),
            },
            clearance: Length::ZERO,
            unit: Unit::Points,
        });
        Panel {
            trim: size(200.0, 90.0),
            binding: Binding::Paperback,
            square: Length::ZERO,
            bleed: Length::ZERO,
            round_corners: Length::ZERO,
            margins: Margins::default(),
            keep_outs: boxed.into_iter().collect(),
        }
    }

    #[test]
    fn lines_are_shorter_beside_a_keep_out_and_whole_below_the_live_area() {
        let copy = "Oona keeps the lamp. When the fog comes down and no boat answers, she lights it by herself and \
                    waits for the one voice on the water that she knows better than her own, and then she sings it \
                    all the way home.";
        assert_eq!(
            drawn(copy, Some((80.0, 40.0))),
            [
                "200 Oona keeps the lamp. When the fog",
                "200 comes down and no boat answers, she",
                "200 lights it by herself and waits for the one",
                "120 voice on the water that",
                "120 she knows better than",
                "120 her own, and then she",
                "200 sings it all the way home.|",
            ]
        );
    }

    #[test]
    fn what_does_not_go_in_beside_a_keep_out_moves_below_it() {
        let rows = drawn(
            "One two three. One two three. One two three. Lighthouses stand by us, lighthouses.",
            Some((180.0, 60.0)),
        );
        assert_eq!(
            rows,
            ["200 One two three. One two three. One two", "200 three. Lighthouses stand by us,", "200 lighthouses.|"]
        );
    }

    #[test]
    fn a_word_wider_than_the_measure_is_divided_and_reported() {
        let rows = drawn(&"lamp".repeat(12), None);
        assert_eq!(rows, ["200 lamplamplamplamplamplamplamplamp", "200 lamplamplamplamp"]);
    }
}
