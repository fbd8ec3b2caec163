//! Sets the copy: place after place, in each paragraph after paragraph from its head, by first fit or by total fit, and
//! the whole stack of a place at its head, in its middle or at its foot.

use std::sync::Arc;

use super::copy::{BlockMetrics, Forms, ShapedCopy};
use super::filler::Filler;
use super::lines::{SetLine, SetPlace, Setting};
use super::room::Room;
use super::rooms::{PlaceRoom, Rooms};
use super::shaped::Shaped;
use super::{first_fit, total_fit};
use crate::brief::typography::{Align, Breaks, Stack};
use crate::draft::Block;
use crate::units::{Length, Rect};

/// The most depths that a stack is tried at before it stands.
const MOST_STANDS: usize = 12;

/// How many starts within one leading a stack in a shape is tried at. Of 400 ellipses a lower start let a larger size
/// fit in 312, and eight starts gave all of it.
const STARTS: i64 = 8;

/// The steps of work that it takes to choose where the lines of a block end.
pub(super) fn steps(form: &BlockMetrics, shaped: &Shaped) -> usize {
    let times = match form.breaks {
        Breaks::FirstFit => 1,
        Breaks::TotalFit => total_fit::STEPS,
    };
    shaped.steps() * times
}

/// A block that is set: its number among the draft's, from 0, its words and its shape.
#[derive(Clone, Copy)]
struct SetBlock<'a> {
    number: usize,
    block: &'a Block,
    shaped: &'a Shaped,
}

/// Which stacks stand where they are asked to. To know what fits, each may stay at the head of its place, but for those
/// whose foot says where other copy begins.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stands {
    All,
    Followed,
}

impl Setting {
    /// The steps of work that it takes to set the copy once.
    pub fn steps(copy: &ShapedCopy<'_>, rooms: &Rooms) -> usize {
        let paragraphs = copy.paragraphs.iter();
        paragraphs.map(|paragraph| steps(&copy.form_of(paragraph, copy.forms(), rooms), &paragraph.shaped)).sum()
    }

    /// The part of [`Setting::steps`] that goes into blocks set by total fit.
    pub fn steps_together(copy: &ShapedCopy<'_>, rooms: &Rooms) -> usize {
        let paragraphs = copy.paragraphs.iter();
        let blocks = paragraphs.map(|block| (copy.form_of(block, copy.forms(), rooms), &block.shaped));
        let together = blocks.filter(|(form, _)| form.breaks == Breaks::TotalFit);
        together.map(|(form, shaped)| steps(&form, shaped)).sum()
    }

    /// Sets the copy in its places.
    pub fn new(copy: &ShapedCopy<'_>, forms: &Forms, rooms: &Rooms) -> Self {
        let mut setting = Self::default();
        setting.set_again(copy, forms, rooms);
        setting
    }

    /// Sets the copy anew in the place of this setting.
    pub fn set_again(&mut self, copy: &ShapedCopy<'_>, forms: &Forms, rooms: &Rooms) {
        self.set_blocks((forms, rooms), copy.stack, &HeldBlocks::of(copy, rooms), Stands::All);
    }

    /// Sets the copy from the heads of its places, wherever its stacks are to stand.
    pub(super) fn set_at_head(&mut self, held: &HeldBlocks<'_>, stack: Stack, forms: &Forms, rooms: &Rooms) {
        self.set_blocks((forms, rooms), stack, held, Stands::Followed);
    }

    /// Sets the copy from the heads of its places, with blocks in another wording in the place of its own: each with
    /// its number, in the order of the copy, and shaped by [`ShapedCopy::shape_other`].
    pub fn set_with(&mut self, copy: &ShapedCopy<'_>, others: &[(usize, &Block, &Shaped)], rooms: &Rooms) {
        let blocks = own_blocks(copy).map(|own| {
            let other = others.binary_search_by_key(&own.number, |(number, ..)| *number);
            other.map_or(own, |at| SetBlock { number: own.number, block: others[at].1, shaped: others[at].2 })
        });
        self.set_blocks((copy.forms(), rooms), copy.stack, &HeldBlocks::with(copy, blocks, rooms), Stands::Followed);
    }

    fn set_blocks(
        &mut self,
        (forms, rooms): (&Forms, &Rooms),
        own_stack: Stack,
        held: &HeldBlocks<'_>,
        stands: Stands,
    ) {
        self.lines.clear();
        self.places.clear();
        for (place, blocks) in held.0.iter().enumerate() {
            let known = &rooms.places()[place];
            let room = self.room_of(place, rooms);
            let asked = known.stack.unwrap_or(own_stack);
            let stack = if stands == Stands::All || rooms.is_followed(place) { asked } else { Stack::Head };
            let first = self.lines.len();
            let (align, may_stand) = (known.align, asked != Stack::Head);
            let setter =
                PlaceSetter { place: PlaceBlocks { place, room: &room, blocks, forms, align }, may_stand, first };
            let depth = setter.set(stack, &mut self.lines);
            let end = self.lines[first..].iter().map(SetLine::foot).max();
            self.places.push(SetPlace { room, depth, end });
        }
        // Lines are told in the order of the draft, wherever they stand.
        if rooms.has_places() {
            self.lines.sort_by_key(|line| line.paragraph);
        }
    }

    /// The room of a place once the places before it are set: below the copy that it follows. The live area leaves out
    /// what such places turned out to take.
    fn room_of(&self, place: usize, rooms: &Rooms) -> Arc<Room> {
        let known = &rooms.places()[place];
        if let Some(follows) = known.follows {
            let before = &self.places[follows.place];
            let head = before.end.map_or(before.room.live().y, |end| end + follows.space);
            return Arc::new(Room::clone(&known.room).begun_at(head));
        }
        let is_live_area = place + 1 == rooms.places().len();
        let on_face = rooms.places()[..place].iter().zip(&self.places);
        let taken = on_face.filter(|(other, _)| other.follows.is_some() && other.face == known.face);
        let taken: Vec<Rect> = taken.map(|(_, set)| set.room.live()).collect();
        if !is_live_area || taken.is_empty() {
            return Arc::clone(&known.room);
        }
        let mut room = Room::clone(&known.room);
        room.keep_out_of(taken.into_iter());
        Arc::new(room)
    }
}

fn own_blocks<'a>(copy: &'a ShapedCopy<'_>) -> impl Iterator<Item = SetBlock<'a>> {
    let blocks = copy.paragraphs.iter().enumerate();
    blocks.map(|(number, paragraph)| SetBlock { number, block: paragraph.block, shaped: &paragraph.shaped })
}

/// The blocks of each place, by its number; in a place, blocks keep their order.
pub(super) struct HeldBlocks<'a>(Vec<Vec<SetBlock<'a>>>);

impl<'a> HeldBlocks<'a> {
    pub(super) fn of(copy: &'a ShapedCopy<'_>, rooms: &Rooms) -> Self {
        Self::with(copy, own_blocks(copy), rooms)
    }

    fn with(copy: &ShapedCopy<'_>, blocks: impl Iterator<Item = SetBlock<'a>>, rooms: &Rooms) -> Self {
        let mut held = vec![Vec::new(); rooms.places().len()];
        for block in blocks {
            held[copy.place_of(block.number, rooms)].push(block);
        }
        Self(held)
    }

    /// Whether the places that are asked about hold their blocks, told without making a line. One that does not is
    /// enough for a no; none where the others hold theirs and only lines tell of the rest: among shapes, by total fit,
    /// and where the room depends on what another place takes.
    pub(super) fn fit_in(&self, forms: &Forms, rooms: &Rooms, asked: &[bool]) -> Option<bool> {
        let mut is_told = true;
        for (place, blocks) in self.0.iter().enumerate().filter(|(place, _)| asked[*place]) {
            let PlaceRoom { room, align, .. } = &rooms.places()[place];
            let by_first_fit =
                |block: &SetBlock<'_>| forms.form(block.block.kind).aligned(*align).breaks == Breaks::FirstFit;
            if rooms.depends(place) || room.is_shaped() || !blocks.iter().all(by_first_fit) {
                is_told = false;
                continue;
            }
            let (mut fits, blocks) = (true, PlaceBlocks { place, room, blocks, forms, align: *align });
            blocks.go_down(room.live().y, |filler, depth, indent| {
                let (foot, all_fit) = first_fit::cast_off(filler, depth, indent);
                fits &= all_fit;
                foot
            });
            if !fits {
                return Some(false);
            }
        }
        is_told.then_some(true)
    }
}

/// The blocks of one place.
struct PlaceBlocks<'a> {
    place: usize,
    room: &'a Room,
    blocks: &'a [SetBlock<'a>],
    forms: &'a Forms,
    align: Option<Align>,
}

impl PlaceBlocks<'_> {
    /// Goes from block to block, the first of them at a depth; `set` is given each with its depth and its indent, and
    /// gives the depth at which it ends.
    fn go_down(&self, mut depth: Length, mut set: impl FnMut(&Filler<'_>, Length, Length) -> Length) {
        let mut before = None;
        for SetBlock { number, block, shaped } in self.blocks {
            let form = self.forms.form(block.kind).aligned(self.align);
            depth = self.room.below(depth, form.above(before, block.kind), form.leading);
            let (pieces, glyphs, text) = (&*shaped.pieces, &*shaped.glyphs, block.text());
            let (paragraph, room) = (*number, self.room);
            let filler = Filler { paragraph, place: self.place, form: &form, room, pieces, glyphs, text };
            depth = set(&filler, depth, form.indent_after(before, block.kind));
            before = Some(block.kind);
        }
    }
}

/// The blocks of one place, which are set behind the lines of other places.
struct PlaceSetter<'a> {
    place: PlaceBlocks<'a>,
    /// Whether the stack is asked to stand in the middle or at the foot.
    may_stand: bool,
    /// The number of the place's first line among all.
    first: usize,
}

impl PlaceSetter<'_> {
    /// Sets the blocks from the head of the place and then where the stack is to stand; gives the depth that they take
    /// from the head.
    fn set(&self, stack: Stack, lines: &mut Vec<SetLine>) -> Length {
        let head = self.place.room.live().y;
        let mut base = head;
        self.set_from(head, lines);
        // In a shape a stack that need not begin at the head may fit a little lower, where lines are longer.
        if self.place.room.is_shaped() && self.may_stand && !self.fits(lines) {
            let leading =
                self.place.blocks.first().map_or(Length::ZERO, |first| self.place.forms.form(first.block.kind).leading);
            let lower = (1..STARTS).map(|start| head + leading * start / STARTS);
            let found = lower.into_iter().find(|start| {
                self.set_from(*start, lines);
                self.fits(lines)
            });
            base = found.unwrap_or(head);
            if found.is_none() {
                self.set_from(head, lines);
            }
        }
        let depth = self.foot(lines).map_or(Length::ZERO, |foot| foot - head);
        if stack != Stack::Head && self.fits(lines) {
            self.stand(stack, base, lines);
        }
        depth
    }

    /// Moves a stack that fits to the middle or the foot of its place. Lower down other lines stand beside keep-outs,
    /// so the stack may take another depth there: depths are tried until one is right, and the nearest one stands.
    fn stand(&self, stack: Stack, base: Length, lines: &mut Vec<SetLine>) {
        let (head, foot) = (self.place.room.live().y, self.place.room.foot());
        // From `base` the stack is known to fit, so that is where it stands if no other depth turns out nearer to the
        // right one.
        let mut nearest = (foot - head, base);
        let mut top = base;
        for _ in 0..MOST_STANDS {
            // `next` is right if the stack keeps its depth there: it does where no line changes its measure, and nearly
            // does elsewhere.
            let left = foot - self.foot(lines).unwrap_or(top);
            let next = match stack {
                Stack::Head => head,
                Stack::Centre => (top + head + left) / 2,
                Stack::Foot => top + left,
            };
            let off = (next - top).or_zero() + (top - next).or_zero();
            // `off` is how far the stack stands from where its own depth says that it should.
            if self.fits(lines) && off < nearest.0 {
                nearest = (off, top);
            }
            if off <= Length::TOLERANCE {
                break;
            }
            top = next.max(head);
            self.set_from(top, lines);
        }
        self.set_from(nearest.1, lines);
    }

    /// Whether every line of the place stands in it and no word is wider than its measure.
    fn fits(&self, lines: &[SetLine]) -> bool {
        lines[self.first..].iter().all(SetLine::fits)
    }

    /// The depth at which the last line ends; none where the place has no line.
    fn foot(&self, lines: &[SetLine]) -> Option<Length> {
        lines[self.first..].last().map(|line| self.place.room.depth_of(line.top, line.slot_x) + line.leading)
    }

    /// Sets the blocks from a depth down.
    fn set_from(&self, depth: Length, lines: &mut Vec<SetLine>) {
        lines.truncate(self.first);
        self.place.go_down(depth, |filler, depth, indent| set(filler, depth, indent, lines));
    }
}

/// Sets one paragraph from a depth down by the breaks that its type asks for, and gives the depth at which it ends.
pub(super) fn set(filler: &Filler<'_>, depth: Length, indent: Length, lines: &mut Vec<SetLine>) -> Length {
    let end = match filler.form.breaks {
        Breaks::FirstFit => None,
        Breaks::TotalFit => total_fit::set(filler, depth, indent, lines),
    };
    // A word that is wider than its measure has to be divided between letters, which first fit alone does.
    end.unwrap_or_else(|| first_fit::set(filler, depth, indent, lines))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::Typography;
    use crate::brief::colour::Colour;
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
        let panel = panel(keep_out);
        let room = Rooms::on([panel.layout()].into_iter());
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
            own_align: false,
            space_above: Length::ZERO,
            own_space: false,
            indent: Length::ZERO,
            breaks: Breaks::FirstFit,
            own_breaks: false,
            hyphenate: None,
            hang_quotes: false,
            ink: Colour::Black,
            own_ink: false,
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
            art: None,
            tint: None,
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
