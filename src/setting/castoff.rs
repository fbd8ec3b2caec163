//! The room that copy takes: lines used and left, what is over, and the largest size at which it fits.

use super::copy::{Copy, Forms};
use super::lines::Setting;
use super::room::Room;
use crate::draft::BlockKind;
use crate::units::Length;

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
    /// What is left on the last line and on all that could be added, in one length; zero where something is over.
    pub spare: Length,
}

impl Castoff {
    /// Casts a setting off.
    pub fn of(setting: &Setting, forms: &Forms, room: &Room) -> Self {
        let live = room.live();
        let lines_over = setting.lines_over();
        let last = setting.lines.last();
        let end = last.map_or(live.y, |line| line.foot());
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
            depth_used: end - live.y,
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

/// The largest size of the blurb, to a tenth of a point from 4 to 40, at which the copy fits; every size is tried, since
/// beside some keep-outs a larger size fits where a smaller one does not.
pub fn largest_size(copy: &Copy<'_>, room: &Room) -> Option<Length> {
    let mut trial = Setting::default();
    tried().rev().find(|size| fits_at(*size, copy, room, &mut trial))
}

/// The sizes below `largest` at which the copy does not fit.
pub fn sizes_over_below(largest: Length, copy: &Copy<'_>, room: &Room) -> Vec<Length> {
    let mut trial = Setting::default();
    tried().take_while(|size| *size < largest).filter(|size| !fits_at(*size, copy, room, &mut trial)).collect()
}

fn tried() -> impl DoubleEndedIterator<Item = Length> {
    TRIED_TENTHS.map(|tenths| Length::pt(0.1) * tenths)
}

fn fits_at(size: Length, copy: &Copy<'_>, room: &Room, trial: &mut Setting) -> bool {
    trial.set_again(copy, &copy.forms().at(size), room);
    trial.fits()
}
