//! The room that copy takes: lines used and left, what is over, and the largest size at which it fits.

use super::copy::{Forms, ShapedBlock, ShapedCopy};
use super::lines::Setting;
use super::room::Room;
use crate::draft::BlockKind;
use crate::units::{Em, Length};

/// The sizes that are tried, in tenths of a point: from 4 to 40 pt.
const TRIED_TENTHS: std::ops::RangeInclusive<i64> = 40..=400;

/// A place narrower than this many ems of the blurb takes no line.
const NARROWEST_LINE_EMS: i64 = 3;

/// What a setting takes and leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Castoff {
    /// Lines set, those over included.
    pub lines: usize,
    /// Lines that the live area holds: those of the copy that stand in it, and those of the blurb's type that are left.
    pub lines_available: usize,
    /// Lines that do not fit.
    pub lines_over: usize,
    /// Lines of the blurb's type that could still be added.
    pub lines_spare: usize,
    /// From the head of the live area to the lower edge of the last line.
    pub depth_used: Length,
    /// The height of the live area.
    pub depth_available: Length,
    /// The room left on the last line and the lengths of all lines that could be added, in one sum; zero where
    /// something is over.
    pub spare: Length,
}

impl Castoff {
    /// Casts a setting off.
    pub fn of(setting: &Setting, forms: &Forms, room: &Room) -> Self {
        let live = room.live();
        let lines_over = setting.lines_over();
        let last = setting.lines.last();
        // Spare room is counted from the depth that the copy takes at the head, wherever the stack stands.
        let end = live.y + setting.depth;
        let (lines_spare, mut spare) = if lines_over > 0 { (0, Length::ZERO) } else { left_below(end, forms, room) };
        if let Some(line) = last.filter(|_| lines_over == 0) {
            spare += (line.measure - line.width).or_zero();
        }
        let lines = setting.lines.len();
        Self {
            lines,
            lines_available: lines - lines_over + lines_spare,
            lines_over,
            lines_spare,
            depth_used: setting.depth,
            depth_available: live.height,
            spare,
        }
    }
}

/// The lines of the blurb's type, and their length in all, that go in below `top`.
fn left_below(mut top: Length, forms: &Forms, room: &Room) -> (usize, Length) {
    let form = forms.form(BlockKind::Blurb);
    let (mut lines, mut length) = (0, Length::ZERO);
    while form.leading > Length::TOLERANCE && (top + form.leading).fits(room.live().foot()) {
        let slot = room.at(top, form.leading);
        // Beside keep-outs that leave no room for a line, the next one is tried where the first of them ends.
        if slot.width >= form.size * NARROWEST_LINE_EMS {
            lines += 1;
            length += slot.width;
            top += form.leading;
        } else if let Some(lower) = room.next_change(top, form.leading) {
            top = lower;
        } else {
            break;
        }
    }
    (lines, length)
}

/// The largest size of the blurb, to a tenth of a point from 4 to 40, at which the copy fits; every size is tried,
/// since beside some keep-outs a larger size fits where a smaller one does not.
pub fn largest_size(copy: &ShapedCopy<'_>, room: &Room) -> Option<Length> {
    let mut trials = Trials::new(copy, room);
    let sizes: Vec<Length> = tried().collect();
    // The least depth never shrinks as the size grows, so all sizes that it rules out come after one position.
    let possible = sizes.partition_point(|size| trials.may_fit(&copy.forms().at(*size)));
    sizes[..possible].iter().copied().rev().find(|size| trials.fits_at(*size))
}

/// The sizes below `largest` at which the copy does not fit.
pub fn sizes_over_below(largest: Length, copy: &ShapedCopy<'_>, room: &Room) -> Vec<Length> {
    let mut trials = Trials::new(copy, room);
    tried().take_while(|size| *size < largest).filter(|size| !trials.fits_at(*size)).collect()
}

fn tried() -> impl DoubleEndedIterator<Item = Length> {
    TRIED_TENTHS.map(|tenths| Length::pt(0.1) * tenths)
}

/// One copy tried at many sizes.
struct Trials<'a> {
    copy: &'a ShapedCopy<'a>,
    room: &'a Room,
    /// For each paragraph, the least width of all its lines together, and how many lines the author has ended.
    least: Vec<(Em, usize)>,
    setting: Setting,
}

impl<'a> Trials<'a> {
    fn new(copy: &'a ShapedCopy<'a>, room: &'a Room) -> Self {
        let least = |paragraph: &ShapedBlock<'_>| {
            let forced = paragraph.shaped.pieces.iter().filter(|piece| piece.forced).count();
            (paragraph.shaped.least_width(), forced)
        };
        Self { copy, room, least: copy.paragraphs.iter().map(least).collect(), setting: Setting::default() }
    }

    fn fits_at(&mut self, size: Length) -> bool {
        self.setting.set_at_head(self.copy, &self.copy.forms().at(size), self.room);
        self.setting.fits()
    }

    fn may_fit(&self, forms: &Forms) -> bool {
        self.least_depth(forms).fits(self.room.live().height)
    }

    /// A depth that no setting can go below: each paragraph in as few lines of the whole measure as its letters would
    /// fill without the blanks between words. With this bound hardly any size that is too large has to be set.
    fn least_depth(&self, forms: &Forms) -> Length {
        let measure = self.room.live().width;
        let paragraphs = self.copy.paragraphs.iter().zip(&self.least).enumerate();
        let depth = |(index, (paragraph, (width, forced))): (usize, (&ShapedBlock<'_>, &(Em, usize)))| {
            let form = forms.form(paragraph.block.kind);
            let lines = width.at(form.size).count_of(measure).max(*forced).max(1) as i64;
            let before = index.checked_sub(1).map(|before| self.copy.paragraphs[before].block.kind);
            let above = form.above(before, paragraph.block.kind);
            above + form.leading * lines
        };
        paragraphs.map(depth).sum()
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
                let room = Room::of(&brief.panel);
                let fits = |size: &Length| Setting::new(&copy, &copy.forms().at(*size), &room).fits();
                assert_eq!(largest_size(&copy, &room), tried().rev().find(fits), "{width} x {height}: {source}");
            }
        }
    }
}
