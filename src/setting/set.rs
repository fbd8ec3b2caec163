//! Sets the copy: paragraph after paragraph from the head of the live area, each by first fit or by total fit, and the
//! whole stack at the head, in the middle or at the foot.

use super::copy::{BlockMetrics, Forms, ShapedCopy};
use super::filler::Filler;
use super::lines::{SetLine, Setting};
use super::room::Room;
use super::shaped::Shaped;
use super::{first_fit, total_fit};
use crate::brief::typography::{Breaks, Stack};
use crate::draft::Block;
use crate::units::Length;

/// The most places that a stack is tried at before it stands.
const MOST_STANDS: usize = 12;

/// The steps of work that it takes to choose where the lines of a block end.
pub(super) fn steps(form: &BlockMetrics, shaped: &Shaped) -> usize {
    let times = match form.breaks {
        Breaks::FirstFit => 1,
        Breaks::TotalFit => total_fit::STEPS,
    };
    shaped.steps() * times
}

impl Setting {
    /// The steps of work that it takes to set the copy once.
    pub fn steps(copy: &ShapedCopy<'_>) -> usize {
        let paragraphs = copy.paragraphs.iter();
        paragraphs.map(|paragraph| steps(copy.forms().form(paragraph.block.kind), &paragraph.shaped)).sum()
    }

    /// The part of [`Setting::steps`] that goes into blocks set by total fit.
    pub fn steps_together(copy: &ShapedCopy<'_>) -> usize {
        let paragraphs = copy.paragraphs.iter().map(|block| (copy.forms().form(block.block.kind), &block.shaped));
        let together = paragraphs.filter(|(form, _)| form.breaks == Breaks::TotalFit);
        together.map(|(form, shaped)| steps(form, shaped)).sum()
    }

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

    /// Moves a stack that fits to the middle or the foot of the live area. Lower down other lines stand beside
    /// keep-outs, so the stack may take another depth there: places are tried until one is right, and the nearest one
    /// stands.
    fn stand(&mut self, copy: &ShapedCopy<'_>, forms: &Forms, room: &Room) {
        let (head, foot) = (room.live().y, room.live().foot());
        // At the head the stack is known to fit, so that is where it stands if no other place turns out nearer to the
        // right one.
        let mut nearest = (foot - head, head);
        let mut top = head;
        for _ in 0..MOST_STANDS {
            // `next` is right if the stack keeps its depth there: it does where no line changes its measure, and nearly
            // does elsewhere.
            let left = foot - self.lines.last().map_or(top, SetLine::foot);
            let next = match copy.stack {
                Stack::Head => head,
                Stack::Centre => (top + head + left) / 2,
                Stack::Foot => top + left,
            };
            let off = (next - top).or_zero() + (top - next).or_zero();
            // `off` is how far the stack stands from where its own depth says that it should.
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
            let (pieces, glyphs, text) = (&*shaped.pieces, &*shaped.glyphs, block.text());
            let filler = Filler { paragraph: index, form, room, pieces, glyphs, text };
            top = set(&filler, top, form.indent_after(before, block.kind), &mut self.lines);
            before = Some(block.kind);
        }
    }

    /// Sets the copy at the head of the live area, with blocks in another wording in the place of its own: each with
    /// its number, in the order of the copy, and shaped by [`ShapedCopy::shape_other`].
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
}

/// Sets one paragraph from `top` down by the breaks that its type asks for, and gives the depth at which it ends.
pub(super) fn set(filler: &Filler<'_>, top: Length, indent: Length, lines: &mut Vec<SetLine>) -> Length {
    let end = match filler.form.breaks {
        Breaks::FirstFit => None,
        Breaks::TotalFit => total_fit::set(filler, top, indent, lines),
    };
    // A word that is wider than its measure has to be divided between letters, which first fit alone does.
    end.unwrap_or_else(|| first_fit::set(filler, top, indent, lines))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::Typography;
    use crate::brief::lengths::Unit;
    use crate::brief::panel::{Binding, KeepOut, KeepOutOrigin, Margins, Panel};
    use crate::brief::place::Shape;
    use crate::brief::typography::{Align, BlockType, Font, Leading};
    use crate::draft::Draft;
    use crate::setting::lines::printed;
    use crate::setting::{Faces, SettingMemory};
    use crate::units::{Rect, Size};

    /// Sets a draft in the built-in serif at 12 pt on 15 pt, 200 pt wide and 90 pt deep, round a box at the foot
    /// right corner of `keep_out` (width and height in pt), and draws it: one row a line, `|` after what is over.
    fn drawn(source: &str, keep_out: Option<(f64, f64)>) -> Vec<String> {
        let draft = Draft::read(source);
        let faces = Faces::built_in();
        let copy = ShapedCopy::shape(&draft, &typography(), &faces, &mut SettingMemory::default());
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
            shape: Shape::Box,
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
            places: Vec::new(),
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
