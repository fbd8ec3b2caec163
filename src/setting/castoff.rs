//! The room that copy takes: lines used and left, what is over, and the largest size at which it fits.

use super::copy::{BlockMetrics, Forms, ShapedBlock, ShapedCopy};
use super::lines::{SetLine, SetPlace, Setting};
use super::room::{LineSlot, Room};
use super::rooms::Rooms;
use super::set::HeldBlocks;
use crate::brief::typography::Align;
use crate::draft::BlockKind;
use crate::units::{Em, Length};

/// The sizes that are tried, in tenths of a point: from 4 to 40 pt.
const TRIED_TENTHS: std::ops::RangeInclusive<i64> = 40..=400;

/// Lines may be wider than their measures by the tolerance; a thousandth is far more.
const WITHIN_ROUNDING: f64 = 1.001;

/// A place narrower than this many ems of the blurb takes no line.
const NARROWEST_LINE_EMS: i64 = 3;

/// What the copy of a place takes and leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Castoff {
    /// Lines set, those over included.
    pub lines: usize,
    /// Lines that the place holds: those of the copy that stand in it, and those that are left.
    pub lines_available: usize,
    /// Lines that do not fit.
    pub lines_over: usize,
    /// Lines that could still be added.
    pub lines_spare: usize,
    /// From the head of the place to the lower edge of the last line.
    pub depth_used: Length,
    /// The depth of the place, all its columns together.
    pub depth_available: Length,
    /// The room left on the last line and the lengths of all lines that could be added, in one sum; zero where
    /// something is over.
    pub spare: Length,
}

impl Castoff {
    /// Casts the copy of a place off. The lines that could be added are of the blurb's type where the blurb stands or
    /// no copy does, and elsewhere of the type of the place's last block.
    pub fn of(setting: &Setting, place: usize, (copy, forms, rooms): (&ShapedCopy<'_>, &Forms, &Rooms)) -> Self {
        let SetPlace { room, depth, .. } = &setting.places[place];
        let (lines, lines_over) =
            setting.lines_in(place).fold((0, 0), |(lines, over), line| (lines + 1, over + usize::from(line.over)));
        let last = setting.lines_in(place).next_back();
        let kind = last.filter(|_| place != rooms.blurb()).map(|line| copy.paragraphs[line.paragraph].block.kind);
        let form = forms.form(kind.unwrap_or(BlockKind::Blurb));
        // Spare room is counted from the depth that the copy takes at the head, wherever the stack stands. A line more
        // moves what follows down, so there is no more room than is left below that.
        let end = room.live().y + *depth;
        let foot = rooms.followers(place).into_iter().fold(room.foot(), |foot, follower| {
            let SetPlace { room, depth, .. } = &setting.places[follower];
            foot.min(end + room.depth() - *depth)
        });
        let (lines_spare, mut spare) = match lines_over {
            0 => left_above(foot, end, form, room),
            _ => (0, Length::ZERO),
        };
        if let Some(line) = last.filter(|_| lines_over == 0) {
            spare += (line.measure - line.width).or_zero();
        }
        Self {
            lines,
            lines_available: lines - lines_over + lines_spare,
            lines_over,
            lines_spare,
            depth_used: *depth,
            depth_available: room.depth(),
            spare,
        }
    }

    /// Casts the whole copy off: the lines of all places, with what the blurb's place takes and leaves.
    pub fn of_all(setting: &Setting, on: (&ShapedCopy<'_>, &Forms, &Rooms)) -> Self {
        let (lines, lines_over) = (setting.lines.len(), setting.lines_over());
        let blurb = Self::of(setting, on.2.blurb(), on);
        let spare = if lines_over > 0 { 0 } else { blurb.lines_spare };
        Self { lines, lines_over, lines_available: lines - lines_over + spare, ..blurb }
    }
}

/// The lines of a type, and their length in all, that go in between a depth and a foot.
fn left_above(foot: Length, mut depth: Length, form: &BlockMetrics, room: &Room) -> (usize, Length) {
    let (mut lines, mut length) = (0, Length::ZERO);
    let takes = |slot: LineSlot| slot.width >= form.size * NARROWEST_LINE_EMS;
    while form.leading > Length::TOLERANCE && (depth + form.leading).fits(foot) {
        let slot = room.at(depth, form.leading);
        // Beside keep-outs that leave no room for a line, the next one is tried where the first of them ends.
        if takes(slot) {
            lines += 1;
            length += slot.width;
            depth += form.leading;
        } else if let Some(lower) = room.next_change(depth, form.leading, takes) {
            depth = lower;
        } else {
            break;
        }
    }
    (lines, length)
}

/// The largest size of the blurb, to a tenth of a point from 4 to 40, at which the copy fits; every size is tried,
/// since beside some keep-outs a larger size fits where a smaller one does not. Places of which no block changes with
/// the blurb, and which follow none that does, are left out: a fault of theirs is no matter of size.
pub fn largest_size(copy: &ShapedCopy<'_>, rooms: &Rooms) -> Option<Length> {
    let mut trials = Trials::new(copy, rooms);
    let sizes: Vec<Length> = tried().collect();
    // The least depth never shrinks as the size grows, so all sizes that it rules out come after one position.
    let possible = sizes.partition_point(|size| trials.may_fit(&copy.forms().at(*size)));
    sizes[..possible].iter().copied().rev().find(|size| trials.fits_at(*size))
}

/// For each place the largest size of the blurb at which it holds its copy, whatever the other places do; none where it
/// does at no size.
pub fn largest_sizes(copy: &ShapedCopy<'_>, rooms: &Rooms) -> Vec<Option<Length>> {
    let mut trials = Trials::new(copy, rooms);
    let mut largest = vec![None; rooms.places().len()];
    for size in tried().rev() {
        let forms = copy.forms().at(size);
        let open: Vec<usize> =
            (0..largest.len()).filter(|place| largest[*place].is_none() && trials.may_hold(*place, &forms)).collect();
        if open.is_empty() {
            continue;
        }
        trials.set_at(size);
        for place in open {
            largest[place] = trials.setting.lines_in(place).all(SetLine::fits).then_some(size);
        }
    }
    largest
}

/// The places that keep a larger size from fitting: those that do not hold their copy a tenth of a point above the
/// largest size, or at the smallest size where none fits.
pub fn held_by(largest: Option<Length>, copy: &ShapedCopy<'_>, rooms: &Rooms) -> Vec<usize> {
    let next = largest.map_or(tried().next(), |largest| tried().find(|size| *size > largest));
    let Some(next) = next else { return Vec::new() };
    let mut trials = Trials::new(copy, rooms);
    trials.set_at(next);
    (0..rooms.places().len()).filter(|place| trials.is_over(*place)).collect()
}

/// The sizes below `largest` at which the copy does not fit.
pub fn sizes_over_below(largest: Length, copy: &ShapedCopy<'_>, rooms: &Rooms) -> Vec<Length> {
    let mut trials = Trials::new(copy, rooms);
    tried().take_while(|size| *size < largest).filter(|size| !trials.fits_at(*size)).collect()
}

fn tried() -> impl DoubleEndedIterator<Item = Length> {
    TRIED_TENTHS.map(|tenths| Length::pt(0.1) * tenths)
}

/// One copy tried at many sizes.
struct Trials<'a> {
    copy: &'a ShapedCopy<'a>,
    rooms: &'a Rooms,
    /// For each place, whether its copy, or where that begins, changes with the size of the blurb.
    changes: Vec<bool>,
    /// For each paragraph, the least that is known of it.
    least: Vec<LeastOf>,
    /// The blocks of each place.
    held: HeldBlocks<'a>,
    setting: Setting,
}

/// What no setting of a paragraph can go below.
struct LeastOf {
    /// The number of its place.
    place: usize,
    /// The least width of all its lines together.
    width: Em,
    /// The blanks after its pieces in all, and the widest of them.
    blanks: Em,
    widest_blank: Em,
    /// How many lines the author has ended.
    forced: usize,
}

impl<'a> Trials<'a> {
    fn new(copy: &'a ShapedCopy<'a>, rooms: &'a Rooms) -> Self {
        let least = |paragraph: &ShapedBlock<'_>| LeastOf {
            place: rooms.place_of(paragraph.block.kind, paragraph.part),
            width: paragraph.shaped.least_width(),
            blanks: paragraph.shaped.pieces.iter().map(|piece| piece.blanks_after).sum(),
            widest_blank: paragraph.shaped.pieces.iter().map(|piece| piece.blanks_after).max().unwrap_or(Em::ZERO),
            forced: paragraph.shaped.pieces.iter().filter(|piece| piece.forced).count(),
        };
        // A panel without places is one place, and whatever is wrong there keeps every size from fitting.
        let mut changes = vec![!rooms.has_places(); rooms.places().len()];
        for place in (0..changes.len()).filter(|place| !copy.keeps_its_sizes(*place, rooms)) {
            changes[place] = true;
            rooms.followers(place).into_iter().for_each(|follower| changes[follower] = true);
        }
        let least = copy.paragraphs.iter().map(least).collect();
        Self { copy, rooms, changes, least, held: HeldBlocks::of(copy, rooms), setting: Setting::default() }
    }

    fn set_at(&mut self, size: Length) {
        self.setting.set_at_head(&self.held, self.copy.stack, &self.copy.forms().at(size), self.rooms);
    }

    fn fits_at(&mut self, size: Length) -> bool {
        if let Some(fits) = self.held.fit_in(&self.copy.forms().at(size), self.rooms, &self.changes) {
            return fits;
        }
        self.set_at(size);
        self.setting.lines.iter().all(|line| line.fits() || !self.changes[line.place])
    }

    /// Whether a place whose copy changes with the size does not hold its copy.
    fn is_over(&self, place: usize) -> bool {
        self.changes[place] && !self.setting.lines_in(place).all(SetLine::fits)
    }

    fn may_fit(&self, forms: &Forms) -> bool {
        (0..self.rooms.places().len()).filter(|place| self.changes[*place]).all(|place| self.may_hold(place, forms))
    }

    fn may_hold(&self, place: usize, forms: &Forms) -> bool {
        let room = &self.rooms.places()[place].room;
        let has_area =
            room.line_area().is_none_or(|area| self.least_area(place, room, forms) <= area * WITHIN_ROUNDING);
        has_area && self.least_depth(place, room, forms).fits(room.depth())
    }

    /// What the copy of a place takes of the area for lines at the least: its letters, and the blanks
    /// between words but for those at the ends of lines. The blanks of justified copy shrink and are not counted.
    fn least_area(&self, place: usize, room: &Room, forms: &Forms) -> f64 {
        let (mut area, mut blanks, mut widest) = (0.0, 0.0, 0.0_f64);
        let mut lowest = room.depth();
        let is_justified = self.rooms.places()[place].align == Some(Align::Justified);
        for (paragraph, least) in self.copy.paragraphs.iter().zip(&self.least).filter(|(_, least)| least.place == place)
        {
            let form = forms.form(paragraph.block.kind);
            area += least.width.at(form.size).to_pt() * room.height_for_area(form.leading);
            lowest = lowest.min(form.leading);
            if !is_justified && form.align != Align::Justified {
                blanks += least.blanks.at(form.size).to_pt();
                widest = widest.max(least.widest_blank.at(form.size).to_pt());
            }
        }
        let at_ends = widest * room.depth().count_of(lowest.max(Length::TOLERANCE)) as f64;
        area + (blanks - at_ends).max(0.0) * room.height_for_area(lowest)
    }

    /// A depth that no setting of a place can go below: each paragraph in as few lines of the whole measure as its
    /// letters would fill without the blanks between words. With this bound hardly any size that is too large has to be
    /// set. Spaces fall away at the heads of columns, so they are not counted where there are several.
    fn least_depth(&self, place: usize, room: &Room, forms: &Forms) -> Length {
        let (mut before, mut depth) = (None, Length::ZERO);
        for (paragraph, least) in self.copy.paragraphs.iter().zip(&self.least).filter(|(_, least)| least.place == place)
        {
            let kind = paragraph.block.kind;
            let form = forms.form(kind);
            let lines = least.width.at(form.size).count_of(room.width()).max(least.forced).max(1) as i64;
            let above = if room.is_parted() { Length::ZERO } else { form.above(before, kind) };
            depth += above + form.leading * lines;
            before = Some(kind);
        }
        depth
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;
    use crate::draft::Draft;
    use crate::setting::{Faces, SettingMemory};

    /// Skipping the sizes that cannot fit changes no answer.
    #[test]
    fn the_largest_size_is_that_of_trying_each() {
        let copies = [
            "Home.",
            "The boats are out, and the lamp is dark. Who goes up?\n\nOona does.",
            "well-worn-out-and-over AVAVAVAV",
        ];
        for (width, height) in [(90, 60), (200, 150), (300, 40), (120, 400)] {
            let text = format!(
                "panel: {{ trim: {width} x {height} pt, margins: 0 pt, keep_out: [{{ name: box, size: 30 x 20 pt, at: \
                 {{ spine: 0 pt, head: 5 pt }} }}] }}"
            );
            let brief = Brief::read(
                &text.replace(&format!("{width} x {height}"), &format!("{} x {}", width + 72, height + 72)),
                Path::new(""),
            )
            .unwrap();
            for source in copies {
                let (draft, faces) = (Draft::read(source), Faces::built_in());
                let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
                let room = Rooms::of(&brief);
                let fits = |size: &Length| Setting::new(&copy, &copy.forms().at(*size), &room).fits();
                assert_eq!(largest_size(&copy, &room), tried().rev().find(fits), "{width} x {height}: {source}");
            }
        }
    }

    /// Wherever the keep-outs stand, and whatever follows the copy: what is told of an area and of places by
    /// themselves changes no answer.
    #[test]
    fn the_largest_size_beside_boxes_and_above_other_copy_is_that_of_trying_each() {
        let source = "# A lamp\n\n\"The boats are out,\" says Oona, and the lamp is dark. Who goes up the ninety-nine \
                      stairs? Oona does.\n\nUp there it is cold.\n\n> A lamp of a book.\n\nAnd then it is morning.\n";
        let boxes = [
            "{ name: foot, size: 70 x 40 pt, at: { spine: 0 pt, foot: 0 pt } }",
            "{ name: middle, size: 60 x 30 pt, at: { spine: 80 pt, head: 50 pt } }, { name: by it, size: 40 x 50 pt, \
             at: { spine: 110 pt, head: 40 pt } }",
            "{ name: thin, size: 200 x 1 pt, at: { spine: 0 pt, head: 70 pt } }",
        ];
        let places = [
            "",
            "places: [{ name: top, holds: [headline, blurb], size: 190 x 120 pt, at: { head: 0 pt, spine: 0 pt } }, { \
             name: below, holds: quote, follows: top, space: 3 pt }]",
            "places: [{ name: top, holds: headline, size: 190 x 90 pt, at: { head: 0 pt, spine: 0 pt } }, { name: \
             below, holds: quote, follows: top, space: 3 pt }]",
        ];
        let types =
            ["align: left", "align: justified, breaks: first-fit", "align: left, hang_quotes: true, indent: 12 pt"];
        let faces = Faces::built_in();
        let draft = Draft::read(source);
        for (keep_out, places, form) in boxes.into_iter().flat_map(|keep_out| {
            places.into_iter().flat_map(move |places| types.into_iter().map(move |form| (keep_out, places, form)))
        }) {
            let text = format!(
                "panel: {{ trim: 272 x 232 pt, margins: 0 pt, keep_out: [{keep_out}]{}{places} }}\ntype: {{ {form} }}",
                if places.is_empty() { "" } else { ", " }
            );
            let brief = Brief::read(&text, Path::new("")).unwrap();
            let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
            let rooms = Rooms::of(&brief);
            let trials = Trials::new(&copy, &rooms);
            let mut setting = Setting::default();
            let tried_each = tried().rev().find(|size| {
                setting.set_at_head(&HeldBlocks::of(&copy, &rooms), copy.stack, &copy.forms().at(*size), &rooms);
                setting.lines.iter().all(|line| line.fits() || !trials.changes[line.place])
            });
            assert!(tried_each.is_some(), "{text}");
            assert_eq!(largest_size(&copy, &rooms), tried_each, "{text}");
        }
    }

    #[test]
    fn the_largest_size_in_a_shape_is_that_of_trying_each() {
        let source = "The boats are out, and the lamp is dark. Who goes up the ninety-nine stairs? Oona does.";
        let bubble = "{ polygon: [10% 0%, 90% 5%, 100% 60%, 55% 70%, 20% 100%, 30% 70%, 0% 40%] }";
        let settings = [("ellipse", "centre", "breaks: first-fit"), (bubble, "foot", "align: justified")];
        for (shape, stack, form) in settings {
            let text = format!(
                "panel: {{ trim: 400 x 400 pt, margins: 0 pt, keep_out: [{{ name: box, size: 30 x 20 pt, at: {{ spine: \
                 150 pt, head: 90 pt }} }}], places: [{{ name: it, holds: blurb, shape: {shape}, size: 220 x 180 pt, \
                 at: {{ head: 40 pt, fore-edge: 50 pt }}, inset: 5 pt, stack: {stack} }}] }}\ntype: {{ {form} }}\n"
            );
            let brief = Brief::read(&text, Path::new("")).unwrap();
            let (draft, faces) = (Draft::read(source), Faces::built_in());
            let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
            let rooms = Rooms::of(&brief);
            let mut setting = Setting::default();
            // Each size is set as the search sets it.
            let tried_each = tried().rev().find(|size| {
                setting.set_at_head(&HeldBlocks::of(&copy, &rooms), copy.stack, &copy.forms().at(*size), &rooms);
                setting.fits()
            });
            assert!(tried_each.is_some(), "{shape}");
            assert_eq!(largest_size(&copy, &rooms), tried_each, "{shape}");
        }
    }
}
